//! `cargo xtask tidy`: what ARCHITECTURE.md and CONTRIBUTING.md promise about the files of the repository, checked.
//!
//! Looks at tracked files only, so that build folders and half-written files do not count. Each check is a function
//! from file contents to findings, tested on contents that break its rule.

mod arrows;
mod doors;
mod files;
mod words;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// One broken rule: where, and what would be right.
#[derive(Debug, PartialEq)]
pub struct Finding {
    /// File, relative to the root of the repository, with a line where one applies.
    pub place: String,
    /// What was found and which rule it breaks.
    pub message: String,
}

impl Finding {
    fn new(place: impl Into<String>, message: impl Into<String>) -> Self {
        Self { place: place.into(), message: message.into() }
    }
}

/// A tracked file: its path from the root with `/`, and its text where it is text.
pub struct Tracked {
    path: String,
    text: Option<String>,
}

/// Runs every check, writes the findings to `out`; an error when there is one.
pub fn run(out: &mut impl Write) -> Result<(), String> {
    let files = tracked(&root()?)?;
    let mut findings = Vec::new();
    let mut rust_files = 0;
    let mut rooms = 0;
    for file in &files {
        findings.extend(files::name(&file.path));
        let Some(text) = &file.text else { continue };
        findings.extend(words::forbidden(&file.path, text));
        if file.path.ends_with(".rs") {
            rust_files += 1;
            findings.extend(files::head(&file.path, text));
            findings.extend(files::length(&file.path, text));
            findings.extend(doors::closed(&file.path, text));
        }
        if let Some(room) = room_of(&file.path) {
            rooms += 1;
            findings.extend(arrows::check(room, &file.path, text));
        }
    }
    if rust_files == 0 || rooms == 0 {
        return Err(format!(
            "tidy found {rust_files} source files and {rooms} rooms: it must run inside the repository"
        ));
    }
    for finding in &findings {
        writeln!(out, "{}: {}", finding.place, finding.message).map_err(|e| e.to_string())?;
    }
    writeln!(
        out,
        "tidy: {rooms} rooms, {rust_files} source files, {} files: {} findings",
        files.len(),
        findings.len()
    )
    .map_err(|e| e.to_string())?;
    match findings.len() {
        0 => Ok(()),
        n => Err(format!("tidy: {n} rules broken")),
    }
}

/// The room that a manifest belongs to.
fn room_of(path: &str) -> Option<&str> {
    let folder = path.strip_suffix("/Cargo.toml")?;
    folder
        .strip_prefix("crates/")
        .or((folder == "xtask").then_some(folder))
        .filter(|room| !room.contains('/'))
}

/// Root of the repository: the folder above this crate.
pub fn root() -> Result<PathBuf, String> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().map(Path::to_path_buf).ok_or_else(|| "xtask has no folder above it".to_owned())
}

fn tracked(root: &Path) -> Result<Vec<Tracked>, String> {
    let listing = Command::new("git")
        .args(["ls-files", "-z"])
        .current_dir(root)
        .output()
        .map_err(|e| format!("git ls-files: {e}"))?;
    if !listing.status.success() {
        return Err(format!("git ls-files: {}", String::from_utf8_lossy(&listing.stderr)));
    }
    let names = String::from_utf8(listing.stdout).map_err(|e| format!("a file name is not UTF-8: {e}"))?;
    let mut files = Vec::new();
    for path in names.split('\0').filter(|name| !name.is_empty()) {
        match std::fs::read(root.join(path)) {
            Ok(bytes) => files.push(Tracked { path: path.to_owned(), text: String::from_utf8(bytes).ok() }),
            // Deleted and not yet committed: nothing to look at.
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {}
            Err(e) => return Err(format!("{path}: {e}")),
        }
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn manifests_of_rooms_are_known() {
        assert_eq!(room_of("crates/plan/Cargo.toml"), Some("plan"));
        assert_eq!(room_of("xtask/Cargo.toml"), Some("xtask"));
        assert_eq!(room_of("Cargo.toml"), None);
        assert_eq!(room_of("crates/plan/src/lib.rs"), None);
        assert_eq!(room_of("crates/plan/inner/Cargo.toml"), None);
    }
}
