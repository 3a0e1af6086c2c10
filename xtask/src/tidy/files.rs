//! Names, heads and lengths of source files.

use super::Finding;

/// Names that say nothing about what is inside.
const EMPTY_NAMES: [&str; 5] = ["utils", "types", "traits", "errors", "common"];

/// Lines above which a file is more than one noun.
const MOST_LINES: usize = 700;

/// A name that says nothing, or a leftover of a snapshot that nobody has looked at.
pub fn name(path: &str) -> Option<Finding> {
    let last = path.rsplit('/').next().unwrap_or(path);
    if last.ends_with(".snap.new") {
        return Some(Finding::new(path, "an unreviewed snapshot: look at it, then keep it or drop it"));
    }
    let says_nothing = |part: &str| EMPTY_NAMES.contains(&part.strip_suffix(".rs").unwrap_or(part));
    let source = path.ends_with(".rs");
    (source && path.split('/').any(says_nothing))
        .then(|| Finding::new(path, "the name says nothing: name the file after the one noun that it holds"))
}

/// A source file must open with what it is for.
pub fn head(path: &str, text: &str) -> Option<Finding> {
    let purpose = text.lines().next().and_then(|line| line.strip_prefix("//!")).map(str::trim);
    match purpose {
        Some("Placeholder.") => {
            Some(Finding::new(path, "a placeholder: say what the file is for, or drop the file"))
        }
        Some(words) if words.contains(' ') => None,
        _ => Some(Finding::new(path, "does not open with '//!' and a phrase that says what it is for")),
    }
}

/// A file that has grown beyond one noun.
pub fn length(path: &str, text: &str) -> Option<Finding> {
    let lines = text.lines().count();
    (lines > MOST_LINES)
        .then(|| Finding::new(path, format!("{lines} lines; at most {MOST_LINES}: split it by nouns")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn empty_names_are_found() {
        for path in ["crates/plan/src/utils.rs", "crates/plan/src/types/hole.rs", "xtask/src/errors.rs"] {
            assert!(name(path).is_some(), "{path}");
        }
        for path in ["crates/plan/src/hole.rs", "docs/types.md", "crates/plan/src/prototypes.rs"] {
            assert!(name(path).is_none(), "{path}");
        }
    }

    #[test]
    fn unreviewed_snapshots_are_found() {
        assert!(name("crates/nc/src/snapshots/a.snap.new").is_some());
        assert!(name("crates/nc/src/snapshots/a.snap").is_none());
    }

    #[test]
    fn a_missing_or_empty_head_is_found() {
        for text in [
            "",
            "use std::fmt;\n//! Late.",
            "//!\nfn a() {}",
            "// A comment only.",
            "//! Placeholder.",
            "//! Word",
        ] {
            assert!(head("a.rs", text).is_some(), "{text:?}");
        }
        assert!(head("a.rs", "//! What it is for.\n").is_none());
    }

    #[test]
    fn a_long_file_is_found() {
        assert!(length("a.rs", &"x\n".repeat(MOST_LINES)).is_none());
        assert!(length("a.rs", &"x\n".repeat(MOST_LINES + 1)).is_some());
    }
}
