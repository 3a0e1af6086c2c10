//! The world has one door: only the binary (and these chores) touches files, sockets, processes and the date.
//!
//! A library room that read a file or the clock on its own would no longer give the same bytes for the same input.
//! Tests may read files.

use super::Finding;

const DOORS: [(&str, &str); 6] = [
    ("std::fs", "files"),
    ("std::net", "sockets"),
    ("std::process", "processes"),
    ("std::env", "the environment"),
    ("SystemTime", "the date"),
    ("File::open", "files"),
];

/// Uses of the world in the source of a library room.
pub fn closed(path: &str, text: &str) -> Vec<Finding> {
    let library = path.strip_prefix("crates/").filter(|p| !p.starts_with("kerfwright/"));
    if library.is_none_or(|p| p.split('/').nth(1) != Some("src")) {
        return Vec::new();
    }
    // The tests of a file stand at its end.
    let shipped = text.split("#[cfg(test)]").next().unwrap_or(text);
    let mut findings = Vec::new();
    for (number, line) in shipped.lines().enumerate().filter(|(_, l)| !l.trim_start().starts_with("//")) {
        for (word, what) in DOORS.iter().filter(|(word, _)| line.contains(word)) {
            let place = format!("{path}:{}", number + 1);
            findings.push(Finding::new(place, format!("'{word}': only the binary touches {what}")));
        }
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    const READS: &str = "//! A room.\nuse std::fs;\n";

    #[test]
    fn a_library_that_opens_a_door_is_found() {
        assert_eq!(closed("crates/plan/src/hole.rs", READS).len(), 1);
        assert_eq!(closed("crates/plan/src/a/b.rs", "let now = std::time::SystemTime::now();").len(), 1);
    }

    #[test]
    fn the_binary_the_chores_tests_and_comments_may() {
        for path in ["crates/kerfwright/src/main.rs", "xtask/src/main.rs", "crates/plan/tests/all.rs"] {
            assert!(closed(path, READS).is_empty(), "{path}");
        }
        assert!(
            closed("crates/plan/src/a.rs", "// std::fs is not used here\n#[cfg(test)]\nuse std::fs;")
                .is_empty()
        );
    }
}
