//! `cargo xtask bench`: how fast we are, beside other libraries in the same run. Reported, not gated.
//!
//! Stages: itself again as a release build, if this is not one; geometry; strength; the drawing reader; the program itself on job
//! folders made for the purpose. Times are medians; a ratio is ours over theirs, below 1 is ahead.

mod circles;
mod clock;
mod drawings;
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

/// Measures everything and writes a table to `out`.
pub fn run(out: &mut impl Write) -> Result<(), String> {
    if cfg!(debug_assertions) {
        return again_in_release();
    }
    let parts: [(&str, Part); 6] = [
        ("parallel", parallels::rows),
        ("largest circle", circles::rows),
        ("narrowest place", narrowest::rows),
        ("strength", sections::rows),
        ("drawings", drawings::rows),
        ("packages", packages::rows),
    ];
    for (name, rows) in parts {
        let lines: String =
            rows()?.iter().map(|r| format!("{:<58} {:>12}  {}\n", r.what, r.figure, r.beside)).collect();
        write!(out, "{name}\n{lines}\n").map_err(|e| e.to_string())?;
    }
    Ok(())
}

/// A debug build would measure the compiler's patience.
fn again_in_release() -> Result<(), String> {
    let words = ["run", "--release", "--quiet", "--package", "xtask", "--", "bench"];
    let status = Command::new("cargo").args(words).status().map_err(|e| format!("cargo: {e}"))?;
    match status.success() {
        true => Ok(()),
        false => Err(format!("the release build of the benches ended with {status}")),
    }
}
