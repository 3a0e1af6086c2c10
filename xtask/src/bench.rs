//! `cargo xtask bench`: how fast we are, beside other libraries in the same run. Reported, not gated.
//!
//! Stages: itself again as a release build, if this is not one; geometry; strength; the drawing reader; plans made again; the program itself on job
//! folders made for the purpose. Times are medians; a ratio is ours over theirs, below 1 is ahead.

mod alignment;
mod circles;
mod clock;
mod drawings;
mod moved_holes;
mod narrowest;
mod packages;
mod parallels;
mod sections;

use std::io::Write;
use std::process::Command;

/// One line of the table.
struct Row {
    what: String,
    figure: String,
    beside: String,
}

/// Measures one part of the table.
type Part = fn() -> Result<Vec<Row>, String>;

impl Row {
    fn new(what: impl Into<String>, figure: impl Into<String>, beside: impl Into<String>) -> Self {
        Self { what: what.into(), figure: figure.into(), beside: beside.into() }
    }
}

/// Measures the parts that are named, or everything, and writes a table to `out`.
pub fn run(out: &mut impl Write, wanted: &[&str]) -> Result<(), String> {
    if cfg!(debug_assertions) {
        return again_in_release(wanted);
    }
    let parts: [(&str, Part); 8] = [
        ("parallel", parallels::rows),
        ("largest circle", circles::rows),
        ("narrowest place", narrowest::rows),
        ("strength", sections::rows),
        ("alignment", alignment::rows),
        ("drawings", drawings::rows),
        ("moved holes", moved_holes::rows),
        ("packages", packages::rows),
    ];
    if let Some(unknown) = wanted.iter().find(|name| parts.iter().all(|(part, _)| part != *name)) {
        let known: Vec<&str> = parts.iter().map(|(part, _)| *part).collect();
        return Err(format!("no part `{unknown}`; there are: {}", known.join(", ")));
    }
    for (name, rows) in parts {
        if !wanted.is_empty() && !wanted.contains(&name) {
            continue;
        }
        let lines: String =
            rows()?.iter().map(|r| format!("{:<58} {:>12}  {}\n", r.what, r.figure, r.beside)).collect();
        write!(out, "{name}\n{lines}\n").map_err(|e| e.to_string())?;
    }
    Ok(())
}

/// A debug build would measure the compiler's patience.
fn again_in_release(wanted: &[&str]) -> Result<(), String> {
    let words = ["run", "--release", "--quiet", "--package", "xtask", "--", "bench"];
    let status =
        Command::new("cargo").args(words).args(wanted).status().map_err(|e| format!("cargo: {e}"))?;
    match status.success() {
        true => Ok(()),
        false => Err(format!("the release build of the benches ended with {status}")),
    }
}
