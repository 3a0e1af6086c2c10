//! `cargo xtask checks`: the book of outside checks, run: prints the table, writes `docs/checks.md` and the table of rules
//! in `docs/method.md`. Fails if none ran, if one is off, if a known difference is gone, or if something that decides
//! is neither checked nor on the list of what is not.

mod bench;
mod coverage;
mod expected;
mod fact;
mod measure;
mod page;
mod planning;
mod quantity;
mod row;
mod starting;
mod stress;
mod verdict;

use crate::mutate;
use crate::tidy::root;
use coverage::Coverage;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use verdict::Checked;

/// The book, run.
struct Book {
    checks: Vec<Checked>,
    coverage: Coverage,
    entries: BTreeMap<String, String>,
    /// Checks that the page on the method names and the book does not have.
    unknown: Vec<String>,
    /// Rules in the planner's files that its list does not have.
    unlisted: Vec<String>,
}

impl Book {
    fn run(root: &Path) -> Result<Self, String> {
        let rows = row::rows(root)?;
        let entries = coverage::entries(root, &rows)?;
        let checks: Vec<Checked> = rows.into_iter().map(Checked::of).collect();
        let coverage = Coverage::of(&entries, &checks, &coverage::unchecked(root)?);
        let unknown = page::unknown(root, &checks)?;
        Ok(Self { checks, coverage, entries, unknown, unlisted: coverage::unlisted(root)? })
    }

    /// Everything that is wrong.
    fn faults(&self) -> Vec<String> {
        let mut found: Vec<String> = self.checks.iter().filter_map(Checked::fault).collect();
        if self.checks.is_empty() {
            found.push("no check ran: checks/book/rows holds none".to_owned());
        }
        found.extend(self.coverage.faults.iter().cloned());
        found.extend(
            self.unknown.iter().map(|named| format!("{named}, which is in no file of checks/book/rows")),
        );
        let unlisted = self.unlisted.iter();
        found.extend(unlisted.map(|id| format!("rule `{id}` is missing in crates/plan/src/rules/book.rs")));
        found
    }

    /// The pages of this book, by their paths.
    fn pages(&self, root: &Path) -> Result<Vec<(PathBuf, String)>, String> {
        let checks = page::checks(&self.checks, &self.coverage, &self.entries, &mutate::page(root)?);
        Ok(vec![
            (root.join("docs/checks.md"), checks),
            (root.join("docs/method.md"), page::method(root, &self.coverage)?),
        ])
    }
}

/// Runs the book, prints its table and writes its pages.
pub fn run(out: &mut impl Write) -> Result<(), String> {
    let root = root()?;
    let book = Book::run(&root)?;
    for check in &book.checks {
        let (row, ours) = (&check.row, check.ours());
        writeln!(
            out,
            "{:40} {:>18} {:>18} {:>12}  {}",
            row.id,
            row.printed,
            ours,
            check.difference(),
            row.cite()
        )
        .map_err(|e| e.to_string())?;
    }
    for (path, text) in book.pages(&root)? {
        std::fs::write(&path, text).map_err(|e| format!("{}: {e}", path.display()))?;
    }
    closed(out, &book)
}

/// Runs the book and writes each row with ours as JSON, for `checks/book/again.py`; no page is written.
pub fn export(path: &str, out: &mut impl Write) -> Result<(), String> {
    let book = Book::run(&root()?)?;
    let rows: Vec<Value> = book
        .checks
        .iter()
        .map(|check| {
            let row = &check.row;
            json!({
                "id": row.id, "given": row.given, "expected": row.printed, "again": row.again, "divide_by": row.divide_by,
                "known_difference": row.known_difference, "ours": check.ours(),
            })
        })
        .collect();
    std::fs::write(path, Value::from(rows).to_string()).map_err(|e| format!("{path}: {e}"))?;
    closed(out, &book)
}

/// The last lines: what is wrong, and how many ran.
fn closed(out: &mut impl Write, book: &Book) -> Result<(), String> {
    let faults = book.faults();
    for fault in &faults {
        writeln!(out, "{fault}").map_err(|e| e.to_string())?;
    }
    let (ran, covered) = (book.checks.len(), book.coverage.checked.len());
    let entries = book.entries.len();
    writeln!(
        out,
        "reference: book, {ran} checks, {covered} of {entries} entries covered, {} faults",
        faults.len()
    )
    .map_err(|e| e.to_string())?;
    match faults.len() {
        0 => Ok(()),
        n => Err(format!("the book of checks: {n} faults")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_book_holds_and_its_pages_are_fresh() {
        let root = root().unwrap();
        let book = Book::run(&root).unwrap();
        assert_eq!(book.faults(), Vec::<String>::new());
        for (path, text) in book.pages(&root).unwrap() {
            let written = std::fs::read_to_string(&path).unwrap();
            assert!(
                written == text,
                "{} is not what the book says: run `cargo xtask checks`",
                path.display()
            );
        }
    }
}
