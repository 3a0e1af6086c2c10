//! Says remarks to a person, on standard error.

use remark::{Remark, Severity};
use std::collections::BTreeMap;
use std::io::Write;

/// Texts of the files that remarks point into, by the name that the remarks use.
pub type Sources = BTreeMap<String, String>;

/// Writes remarks to standard error, the gravest first, in the order they came.
pub fn say(remarks: &[Remark], sources: &Sources) {
    let mut out = std::io::stderr().lock();
    for severity in [Severity::Error, Severity::Warning, Severity::Note] {
        for remark in remarks.iter().filter(|remark| remark.severity == severity) {
            // A closed terminal is no reason to stop planning.
            let _ = write!(out, "{}", text(remark, sources));
        }
    }
}

/// One remark as a person reads it.
pub fn text(remark: &Remark, sources: &Sources) -> String {
    let word = match remark.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let place = remark.place.to_string();
    let mut out = format!("{word} ({}): {}\n", remark.code, remark.message);
    if !place.is_empty() {
        out.push_str(&format!("    {place}\n"));
    }
    out.push_str(&excerpt(remark, sources).unwrap_or_default());
    for cure in &remark.cures {
        out.push_str(&format!("    would cure it: {cure}\n"));
    }
    out
}

/// The line that a remark points at, with a mark under the place.
fn excerpt(remark: &Remark, sources: &Sources) -> Option<String> {
    let text = sources.get(remark.place.file.as_ref()?)?;
    let (line, column) = (remark.place.line?, remark.place.column?);
    let shown = text.lines().nth(line.checked_sub(1)? as usize)?.trim_end();
    let blank: String = shown
        .chars()
        .take(column.checked_sub(1)? as usize)
        .map(|c| if c == '\t' { '\t' } else { ' ' })
        .collect();
    Some(format!("      | {shown}\n      | {blank}^\n"))
}
