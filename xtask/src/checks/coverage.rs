//! Every rule, table and measured quantity of the program: checked from outside, or on the list of those that are not.

use super::row::{Basis, Row};
use super::verdict::{Checked, Verdict};
use super::{fact, measure, planning, starting};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

const LIST: &str = "checks/book/unchecked.toml";

/// What the program has that decides something, by name, with its meaning.
pub fn entries(root: &Path, rows: &[Row]) -> Result<BTreeMap<String, String>, String> {
    let mut found: BTreeMap<String, String> =
        plan::rulebook().iter().map(|rule| (format!("rule.{}", rule.id), rule.meaning.to_owned())).collect();
    found.extend(fact::names(root)?);
    found.extend(starting::names()?.into_iter().map(|name| (name, "starting value".to_owned())));
    found.extend(planning::names(root, rows)?);
    found.extend(measure::NAMES.map(|(name, meaning)| (name.to_owned(), meaning.to_owned())));
    found.insert("room.nc".to_owned(), "words and comments of a program's text".to_owned());
    found.insert("room.strength".to_owned(), "peak stresses of plates with openings".to_owned());
    found.insert("room.proof".to_owned(), "reading back: what programs do to the block".to_owned());
    Ok(found)
}

/// Rules that stand in the planner's files and not in its list, so that nobody would ask for a check.
pub fn unlisted(root: &Path) -> Result<Vec<String>, String> {
    let folder = root.join("crates/plan/src/rules");
    let listing = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let listed: BTreeSet<&str> = plan::rulebook().iter().map(|rule| rule.id).collect();
    let mut found = Vec::new();
    for path in listing.filter_map(|entry| Some(entry.ok()?.path())) {
        let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        found.extend(constants(&text).map(|name| format!("{stem}.{name}")));
    }
    if found.is_empty() {
        return Err(format!("{} holds no rule", folder.display()));
    }
    found.retain(|id| !listed.contains(id.as_str()));
    Ok(found)
}

/// Names of the rules of one file.
fn constants(text: &str) -> impl Iterator<Item = &str> {
    let lines = text.lines().filter(|line| line.contains(": Rule<"));
    lines.filter_map(|line| line.trim().strip_prefix("pub const ")?.split(':').next())
}

/// Names that stand together for one reason.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Group {
    /// Why nothing outside speaks for them.
    pub reason: String,
    /// Their names; `shop.wire.*` is every starting value of that table which no check names.
    pub names: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    group: Vec<Group>,
}

/// The list of what is not checked against anything outside.
pub fn unchecked(root: &Path) -> Result<Vec<Group>, String> {
    let text = std::fs::read_to_string(root.join(LIST)).map_err(|e| format!("{LIST}: {e}"))?;
    let list: List = toml::from_str(&text).map_err(|e| format!("{LIST}: {e}"))?;
    Ok(list.group)
}

/// Who speaks for what.
#[derive(Debug, Default)]
pub struct Coverage {
    /// Names that checks speak for, with the ids of these checks.
    pub checked: BTreeMap<String, Vec<String>>,
    /// Those among them for which only memory or common practice speaks.
    pub weakly: BTreeSet<String>,
    /// For each group of the list, the names that it stands for.
    pub groups: Vec<(String, Vec<String>)>,
    /// What is wrong.
    pub faults: Vec<String>,
}

impl Coverage {
    /// Holds the checks and the list against what there is.
    pub fn of(entries: &BTreeMap<String, String>, checks: &[Checked], groups: &[Group]) -> Self {
        let mut coverage = Self::default();
        coverage.take_checks(checks);
        coverage.take_list(entries, groups);
        let listed: BTreeSet<&String> = coverage.groups.iter().flat_map(|(_, names)| names).collect();
        for name in entries.keys() {
            if !coverage.checked.contains_key(name) && !listed.contains(name) {
                coverage.faults.push(format!(
                    "`{name}` ({}) is named by no check: add one with this quantity to a file in checks/book/rows, \
                     or put the name into a group of {LIST} with the reason",
                    entries[name]
                ));
            }
        }
        coverage
    }

    fn take_checks(&mut self, checks: &[Checked]) {
        let mut strong = BTreeSet::new();
        for check in checks.iter().filter(|check| !matches!(check.verdict, Verdict::Failed(_))) {
            for name in &check.covers {
                self.checked.entry(name.clone()).or_default().push(check.row.id.clone());
                if matches!(check.row.source.basis, Basis::Read | Basis::Computed) {
                    strong.insert(name.clone());
                }
            }
        }
        self.weakly = self.checked.keys().filter(|name| !strong.contains(*name)).cloned().collect();
    }

    fn take_list(&mut self, entries: &BTreeMap<String, String>, groups: &[Group]) {
        let mut known = BTreeSet::new();
        for group in groups {
            let mut names = Vec::new();
            for written in &group.names {
                let found = self.named(entries, written);
                if found.is_empty() {
                    self.faults.push(format!("{LIST} names `{written}`, which the program does not have"));
                }
                names.extend(found);
            }
            for name in &names {
                if let Some(ids) = self.checked.get(name) {
                    self.faults.push(format!(
                        "`{name}` stands in {LIST} and is checked by {}: take it out of the list",
                        ids.join(", ")
                    ));
                }
                if !known.insert(name.clone()) {
                    self.faults.push(format!("`{name}` stands twice in {LIST}"));
                }
            }
            self.groups.push((group.reason.clone(), names));
        }
    }

    /// The entries that a name of the list means.
    fn named(&self, entries: &BTreeMap<String, String>, written: &str) -> Vec<String> {
        match written.strip_suffix('*') {
            // Starting values alone come in heaps; a rule or a fact is named one by one.
            Some(head) if head.starts_with("shop.") => entries
                .keys()
                .filter(|name| name.starts_with(head) && !self.checked.contains_key(*name))
                .cloned()
                .collect(),
            _ => entries.keys().filter(|name| *name == written).cloned().collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(names: &[&str], listed: &[&str]) -> usize {
        let entries = names.iter().map(|name| ((*name).to_owned(), "meaning".to_owned())).collect();
        let names = listed.iter().map(|name| (*name).to_owned()).collect();
        let groups = [Group { reason: "r".to_owned(), names }];
        let mut coverage = Coverage::default();
        coverage.checked.insert("rule.a".to_owned(), vec!["i".to_owned()]);
        coverage.take_list(&entries, &groups);
        let listed: BTreeSet<&String> = coverage.groups.iter().flat_map(|(_, names)| names).collect();
        let missing =
            entries.keys().filter(|name| !coverage.checked.contains_key(*name) && !listed.contains(name));
        coverage.faults.len() + missing.count()
    }

    #[test]
    fn rules_are_found_in_a_file() {
        let text = "/// A.\npub const A_B: Rule<2> = Rule {\n};\npub const DEPTH: f64 = 0.3;\n";
        assert_eq!(constants(text).collect::<Vec<_>>(), ["A_B"]);
    }

    #[test]
    fn each_entry_is_checked_or_listed_and_never_both() {
        assert_eq!(faults(&["rule.a", "rule.b"], &["rule.b"]), 0);
        assert_eq!(faults(&["rule.a", "rule.b"], &[]), 1);
        assert_eq!(faults(&["rule.a", "rule.b"], &["rule.a", "rule.b"]), 1);
        assert_eq!(faults(&["rule.a", "rule.b"], &["rule.b", "rule.b"]), 1);
        assert_eq!(faults(&["rule.a"], &["rule.c"]), 1);
        // A heap is for starting values only.
        assert_eq!(faults(&["rule.a", "shop.x", "shop.y"], &["shop.*"]), 0);
        assert_eq!(faults(&["rule.a", "rule.b"], &["rule.*"]), 2);
    }
}
