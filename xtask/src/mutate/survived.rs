//! The part of `docs/checks.md` about changes that no test notices.

use super::{Last, Set, Tried, last, sets};
use std::fmt::Write as _;
use std::path::Path;

const HEAD: &str = "## Changes that tests must notice\n\n`cargo xtask mutate` changes the decisive functions \
    (`checks/mutants/sets.toml`) one place at a time and runs their tests. It takes the better part of an hour and is no part of \
    `./check`. A change that makes the same program is listed with its reason and not counted. The last run of each set:\n\n";

/// Writes it from the last run of each set.
pub fn page(root: &Path) -> Result<String, String> {
    Ok(written(&sets(root)?, &last(root)?))
}

fn written(sets: &[Set], last: &Last) -> String {
    let mut text = HEAD.to_owned();
    text.push_str(
        "| set | functions | tried | change nothing | noticed | survived |\n|---|---|---|---|---|---|\n",
    );
    let (mut differ, mut survived) = (0, Vec::new());
    let mut equal = Vec::new();
    for set in sets {
        let Some(tried) = last.set.iter().find(|tried| tried.name == set.name) else {
            let _ = writeln!(text, "| {} | {} | not run yet | | | |", set.name, functions(set));
            continue;
        };
        let row = Row::of(set, tried);
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {} | {} |",
            set.name,
            functions(set),
            row.tried(tried.one_in),
            row.equal.len(),
            tried.caught,
            row.survived.len()
        );
        differ += tried.caught + row.survived.len();
        survived.extend(row.survived);
        equal.extend(row.equal);
    }
    if differ > 0 {
        let percent = 100.0 * survived.len() as f64 / differ as f64;
        let _ = writeln!(text, "\n{} of {differ} survived: {percent:.1} %.", survived.len());
    }
    for change in survived {
        let _ = write!(text, "\n- survived: `{change}`");
    }
    for (change, why) in equal {
        let _ = write!(text, "\n- changes nothing: `{change}`: {why}");
    }
    text.push('\n');
    text
}

/// The last run of a set, its survivors parted in those that differ and those that do not.
struct Row<'a> {
    caught: usize,
    survived: Vec<&'a str>,
    equal: Vec<(&'a str, &'a str)>,
}

impl<'a> Row<'a> {
    fn of(set: &'a Set, tried: &'a Tried) -> Self {
        let mut row = Self { caught: tried.caught, survived: Vec::new(), equal: Vec::new() };
        for change in &tried.survived {
            match set.equivalent.iter().find(|one| one.change == *change) {
                Some(one) => row.equal.push((change, &one.why)),
                None => row.survived.push(change),
            }
        }
        row
    }

    fn tried(&self, one_in: u32) -> String {
        let all = self.caught + self.survived.len() + self.equal.len();
        match one_in {
            1 => all.to_string(),
            n => format!("{all} (one in {n})"),
        }
    }
}

/// The files of a set, without the folder that all share.
fn functions(set: &Set) -> String {
    let folder = format!("crates/{}/src/", set.package);
    let names: Vec<&str> = set.files.iter().map(|file| file.strip_prefix(&folder).unwrap_or(file)).collect();
    format!("{}: {}", set.package, names.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mutate::Sets;

    #[test]
    fn what_changes_nothing_is_listed_and_not_counted() {
        let text = "[[set]]\nname = \"s\"\npackage = \"p\"\nfiles = [\"crates/p/src/a.rs\"]\none_in = 3\ntests = []\n\
            [[set.equivalent]]\nchange = \"a.rs: replace + with -, at + 0.0;\"\nwhy = \"adds 0\"\n\
            [[set.equivalent]]\nchange = \"a.rs: gone\"\nwhy = \"no longer tried\"\n";
        let sets = toml::from_str::<Sets>(text).unwrap().set;
        let survived =
            ["a.rs: replace + with -, at + 0.0;", "a.rs: replace f with ()"].map(str::to_owned).to_vec();
        let last = Last { set: vec![Tried { name: "s".to_owned(), one_in: 3, caught: 3, survived }] };
        let page = written(&sets, &last);
        assert!(page.contains("| s | p: a.rs | 5 (one in 3) | 1 | 3 | 1 |"), "{page}");
        assert!(page.contains("1 of 4 survived: 25.0 %."), "{page}");
        assert!(page.contains("- survived: `a.rs: replace f with ()`"), "{page}");
        assert!(page.contains("- changes nothing: `a.rs: replace + with -, at + 0.0;`: adds 0"), "{page}");
        assert!(!page.contains("no longer tried"), "{page}");
        let empty = written(&sets, &Last::default());
        assert!(empty.contains("not run yet") && !empty.contains('%'), "{empty}");
    }
}
