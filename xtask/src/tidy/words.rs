//! Words that must not be committed: unfinished work, silenced tests and lints, paths of one person's machine.

use super::Finding;

/// What must not stand in a tracked file. Written in halves so that this list does not find itself.
const FORBIDDEN: [(&str, &str); 11] = [
    (concat!("todo", "!("), "unfinished work"),
    (concat!("unimplemented", "!("), "unfinished work"),
    (concat!("FIX", "ME"), "unfinished work"),
    (concat!("XX", "X:"), "unfinished work"),
    (concat!("#[", "ignore"), "a test that does not run"),
    (concat!("allow(", "dead_code"), "dead code: drop it"),
    (concat!("allow(", "unused"), "dead code: drop it"),
    (concat!("/wo", "rk/"), "a path of one machine"),
    (concat!("/ro", "ot/"), "a path of one machine"),
    (concat!("/ho", "me/"), "a path of one machine"),
    (concat!("/t", "mp/"), "a path of one machine"),
];

/// Forbidden words in one file, with their lines.
pub fn forbidden(path: &str, text: &str) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (number, line) in text.lines().enumerate() {
        for (word, why) in FORBIDDEN.iter().filter(|(word, _)| line.contains(word)) {
            findings.push(Finding::new(format!("{path}:{}", number + 1), format!("'{word}': {why}")));
        }
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_forbidden_word_is_found_with_its_line() {
        for (word, _) in FORBIDDEN {
            let findings = forbidden("a.rs", &format!("fine\nlet x = {word};\n"));
            assert_eq!(findings.len(), 1, "{word}");
            assert_eq!(findings[0].place, "a.rs:2");
        }
    }

    #[test]
    fn ordinary_text_passes() {
        assert!(forbidden("a.rs", "//! Work to do, at home.\nlet network = root / home;").is_empty());
    }
}
