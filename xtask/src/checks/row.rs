//! The files of `checks/book/rows`: what is checked, against whom, and what is expected.

use super::expected::Expected;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use toml::Table;

/// How much a source is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub enum Basis {
    /// Somebody of this project has read the value in a copy of the source.
    #[serde(rename = "read")]
    Read,
    /// Computed afresh from the row's data by other means; `again` says how, and `./check` does it.
    #[serde(rename = "computed")]
    Computed,
    /// Nobody here has seen it printed.
    #[serde(rename = "from memory")]
    FromMemory,
    /// What the trade holds, without a source.
    #[serde(rename = "common practice")]
    CommonPractice,
}

impl Basis {
    /// As the page says it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Computed => "computed",
            Self::FromMemory => "from memory",
            Self::CommonPractice => "common practice, no source",
        }
    }
}

/// Who says so.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// How much it is worth.
    pub basis: Basis,
    /// Author or publisher.
    pub author: Option<String>,
    /// Title.
    pub title: Option<String>,
    /// Edition or year.
    pub edition: Option<String>,
}

/// One check as its file has it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    id: String,
    what: String,
    quantity: String,
    #[serde(default)]
    given: Table,
    expected: String,
    divide_by: Option<f64>,
    known_difference: Option<String>,
    again: Option<String>,
    source: String,
    place: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Page {
    subject: String,
    source: BTreeMap<String, Source>,
    check: Vec<Written>,
}

/// One check.
#[derive(Debug, Clone)]
pub struct Row {
    /// Its name, unique in the book.
    pub id: String,
    /// The subject that it stands under.
    pub subject: String,
    /// In words.
    pub what: String,
    /// Which number of ours it asks for.
    pub quantity: String,
    /// What that number needs.
    pub given: Table,
    /// As the source prints it.
    pub printed: String,
    /// The same, read.
    pub expected: Expected,
    /// What ours is divided by first, where the source counts in another unit.
    pub divide_by: Option<f64>,
    /// Why ours differs, where it is known to.
    pub known_difference: Option<String>,
    /// The expected value as an expression of Python.
    pub again: Option<String>,
    /// Who says so.
    pub source: Source,
    /// Page, table or example.
    pub place: Option<String>,
}

impl Row {
    /// Author, title, edition and place, and what that is worth.
    pub fn cite(&self) -> String {
        let source = &self.source;
        let parts = [&source.author, &source.title, &source.edition, &self.place];
        let cited: Vec<&str> = parts.into_iter().flatten().map(String::as_str).collect();
        match cited.is_empty() {
            true => source.basis.words().to_owned(),
            false => format!("{} ({})", cited.join(", "), source.basis.words()),
        }
    }

    /// A number among what is given.
    pub fn number(&self, key: &str) -> Result<f64, String> {
        let value = self.given.get(key).ok_or_else(|| format!("`given` lacks the number `{key}`"))?;
        numeric(value).ok_or_else(|| format!("`{key}` in `given` is not a number"))
    }

    /// A text among what is given.
    pub fn text(&self, key: &str) -> Result<&str, String> {
        let value = self.given.get(key).ok_or_else(|| format!("`given` lacks the text `{key}`"))?;
        value.as_str().ok_or_else(|| format!("`{key}` in `given` is not a text"))
    }
}

/// A TOML value as a number.
pub fn numeric(value: &toml::Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64))
}

/// Every row of the book, by file name.
pub fn rows(root: &Path) -> Result<Vec<Row>, String> {
    let folder = root.join("checks/book/rows");
    let listing = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut paths: Vec<_> = listing.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.retain(|path| path.extension().is_some_and(|end| end == "toml"));
    paths.sort();
    let mut found = Vec::new();
    for path in &paths {
        let text = std::fs::read_to_string(path).map_err(|e| format!("{}: {e}", path.display()))?;
        found.extend(page(&text).map_err(|e| format!("{}: {e}", path.display()))?);
    }
    let mut ids = BTreeSet::new();
    for row in &found {
        if !ids.insert(&row.id) {
            return Err(format!("two checks are called `{}`", row.id));
        }
    }
    Ok(found)
}

/// The rows of one file.
fn page(text: &str) -> Result<Vec<Row>, String> {
    let page: Page = toml::from_str(text).map_err(|e| e.to_string())?;
    page.check.into_iter().map(|written| settled(written, &page.subject, &page.source)).collect()
}

fn settled(written: Written, subject: &str, sources: &BTreeMap<String, Source>) -> Result<Row, String> {
    let id = written.id;
    let source = sources
        .get(&written.source)
        .ok_or_else(|| {
            format!("check `{id}` names the source `{}`, which the file does not have", written.source)
        })?
        .clone();
    let published = matches!(source.basis, Basis::Read | Basis::FromMemory);
    if published && source.title.is_none() {
        return Err(format!("check `{id}`: a source that is {} has a title", source.basis.words()));
    }
    if source.basis == Basis::Computed && written.again.is_none() {
        return Err(format!("check `{id}` is computed: `again` must say how, in Python"));
    }
    Ok(Row {
        id,
        subject: subject.to_owned(),
        what: written.what,
        quantity: written.quantity,
        given: written.given,
        expected: Expected::read(&written.expected),
        printed: written.expected,
        divide_by: written.divide_by,
        known_difference: written.known_difference,
        again: written.again,
        source,
        place: written.place,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "subject = \"s\"\n[source.a]\nbasis = \"read\"\ntitle = \"T\"\n[[check]]\nid = \"i\"\nwhat = \"w\"\n\
                        quantity = \"q\"\nexpected = \"1\"\nsource = \"a\"\n";

    #[test]
    fn a_row_without_a_proper_source_does_not_load() {
        assert_eq!(page(GOOD).unwrap().len(), 1);
        for (from, to) in [
            ("title = \"T\"\n", ""),
            ("\"read\"", "\"computed\""),
            ("\"read\"", "\"hearsay\""),
            ("source = \"a\"", "source = \"b\""),
            ("what = \"w\"", "what = \"w\"\nrounding = 3"),
        ] {
            assert!(GOOD.contains(from), "{from}");
            assert!(page(&GOOD.replacen(from, to, 1)).is_err(), "{to}");
        }
    }
}
