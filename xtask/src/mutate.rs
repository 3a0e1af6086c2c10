//! `cargo xtask mutate [SET] [again]`: changes the decisive functions one place at a time, with `cargo-mutants`, and sees whether a
//! test notices. What survives is written to `checks/mutants/last.toml`, and from there into `docs/checks.md`.
//!
//! Stages: the sets of `checks/mutants/sets.toml`; a copy of the tree, kept between runs so that only what a change
//! touches is built again; one run of cargo-mutants in it for each set; its outcomes; the file.

mod survived;
mod tree;

use crate::tidy::root;
use serde::{Deserialize, Serialize};
use std::io::Write;
use std::path::Path;
use std::process::Command;

pub use survived::page;

const SETS: &str = "checks/mutants/sets.toml";
const LAST: &str = "checks/mutants/last.toml";
/// Where a mutated copy of the tree is built, below the root.
const COPY: &str = "target/mutants/tree";

/// Decisive functions that are changed together, and the tests that should notice.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Set {
    name: String,
    package: String,
    files: Vec<String>,
    /// Expressions for the names of functions; none: all of the files.
    #[serde(default)]
    functions: Vec<String>,
    /// Every how many-th change is tried.
    #[serde(default = "every")]
    one_in: u32,
    /// Arguments of `cargo test`.
    tests: Vec<String>,
    /// Changes that change nothing that anybody could see, with the reason.
    #[serde(default)]
    equivalent: Vec<Equivalent>,
}

fn every() -> u32 {
    1
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Equivalent {
    change: String,
    why: String,
}

impl Set {
    fn is_equivalent(&self, change: &str) -> bool {
        self.equivalent.iter().any(|one| one.change == change)
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sets {
    set: Vec<Set>,
}

/// What became of a set. `survived` holds those too that change nothing: which they are, the sets say.
#[derive(Debug, Clone, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Tried {
    name: String,
    /// Every how many-th change was tried.
    #[serde(default = "every")]
    one_in: u32,
    caught: usize,
    survived: Vec<String>,
}

#[derive(Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Last {
    set: Vec<Tried>,
}

fn sets(root: &Path) -> Result<Vec<Set>, String> {
    let text = std::fs::read_to_string(root.join(SETS)).map_err(|e| format!("{SETS}: {e}"))?;
    let sets: Sets = toml::from_str(&text).map_err(|e| format!("{SETS}: {e}"))?;
    Ok(sets.set)
}

fn last(root: &Path) -> Result<Last, String> {
    match std::fs::read_to_string(root.join(LAST)) {
        Ok(text) => toml::from_str(&text).map_err(|e| format!("{LAST}: {e}")),
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(Last::default()),
        Err(e) => Err(format!("{LAST}: {e}")),
    }
}

/// What of a set is tried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// Every change of it.
    All,
    /// Those that survived last time: enough where tests alone were added since.
    Survivors,
}

/// Tries all sets, or the one of that name, and keeps what came out.
pub fn run(wanted: Option<&str>, which: Which, out: &mut impl Write) -> Result<(), String> {
    let root = root()?;
    let copy = root.join(COPY);
    tree::copied(&root, &copy)?;
    let sets: Vec<Set> =
        sets(&root)?.into_iter().filter(|set| wanted.is_none_or(|name| name == set.name)).collect();
    if sets.is_empty() {
        return Err(format!("{SETS} has no set of that name"));
    }
    for set in &sets {
        let mut kept = last(&root)?;
        let before = kept.set.iter().find(|old| old.name == set.name);
        let before = before.filter(|_| which == Which::Survivors);
        if which == Which::Survivors && before.is_none_or(|old| old.survived.is_empty()) {
            continue;
        }
        let tried = joined(before, attempt(&root, (&copy, set, which))?)?;
        let (same, survived): (Vec<&String>, Vec<&String>) =
            tried.survived.iter().partition(|change| set.is_equivalent(change));
        let ran = tried.caught + tried.survived.len();
        writeln!(
            out,
            "{}: {ran} changes, {} change nothing, {} survived",
            tried.name,
            same.len(),
            survived.len()
        )
        .map_err(|e| e.to_string())?;
        for change in survived {
            writeln!(out, "  {change}").map_err(|e| e.to_string())?;
        }
        kept.set.retain(|old| old.name != tried.name);
        kept.set.push(tried);
        kept.set.sort_by(|a, b| a.name.cmp(&b.name));
        let text = toml::to_string_pretty(&kept).map_err(|e| e.to_string())?;
        let head = "# What `cargo xtask mutate` found last. Written by it.\n\n";
        std::fs::write(root.join(LAST), format!("{head}{text}")).map_err(|e| format!("{LAST}: {e}"))?;
    }
    Ok(())
}

/// What was noticed before stays so; what survived then is what was tried now.
fn joined(before: Option<&Tried>, mut now: Tried) -> Result<Tried, String> {
    let Some(before) = before else { return Ok(now) };
    if before.survived.len() != now.caught + now.survived.len() {
        return Err(format!("set `{}`: its functions have changed since: run all of it", now.name));
    }
    now.caught += before.caught;
    now.one_in = before.one_in;
    Ok(now)
}

fn attempt(root: &Path, (copy, set, which): (&Path, &Set, Which)) -> Result<Tried, String> {
    let folder = root.join("target/mutants").join(set.name.replace(' ', "-"));
    std::fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let path = folder.join("mutants.out/outcomes.json");
    let read = || std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()));
    let mut command = Command::new("cargo");
    command.current_dir(copy).args(["mutants", "--in-place", "--no-times", "--colors", "never"]);
    command.args(["--package", &set.package]);
    set.files.iter().for_each(|file| {
        command.args(["--file", file]);
    });
    let again = match which {
        Which::All => None,
        Which::Survivors => Some(missed(&read()?)?),
    };
    let names = match &again {
        None => set.functions.clone(),
        Some(names) => names.iter().map(|name| exactly(name)).collect(),
    };
    names.iter().for_each(|name| {
        command.args(["--re", name]);
    });
    if which == Which::All {
        command.args(["--shard", &format!("0/{}", set.one_in), "--sharding", "round-robin"]);
    }
    command.arg("--output").arg(&folder).arg("--").args(&set.tests);
    let status = command.status().map_err(|e| format!("cargo mutants: {e}"))?;
    // 0: all were noticed; 2: some were not; 3: a test ran out of time, which counts as noticed.
    if !matches!(status.code(), Some(0 | 2 | 3)) {
        return Err(format!("{status}: is it there? `cargo install --locked cargo-mutants`"));
    }
    let source = |file: &str| std::fs::read_to_string(root.join(file)).unwrap_or_default();
    outcomes(set, &read()?, again.as_deref(), &source)
}

/// The changes that survived a run, as cargo-mutants names them.
fn missed(text: &str) -> Result<Vec<String>, String> {
    let value: serde_json::Value = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let outcomes = value["outcomes"].as_array().into_iter().flatten();
    let survived = outcomes.filter(|outcome| outcome["summary"] == "MissedMutant");
    Ok(survived.filter_map(|one| Some(one["scenario"]["Mutant"]["name"].as_str()?.to_owned())).collect())
}

/// An expression that means this name and no other.
fn exactly(name: &str) -> String {
    let mut text = String::from("^");
    for c in name.chars() {
        if r"\.+*?()|[]{}^$&-~#".contains(c) {
            text.push('\\');
        }
        text.push(c);
    }
    text + "$"
}

/// What cargo-mutants says became of each change; where only some were asked for, of those. What did not compile was none.
fn outcomes(
    set: &Set,
    text: &str,
    asked: Option<&[String]>,
    source: &dyn Fn(&str) -> String,
) -> Result<Tried, String> {
    let value: serde_json::Value = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let mut tried = Tried { name: set.name.clone(), one_in: set.one_in, caught: 0, survived: Vec::new() };
    for outcome in value["outcomes"].as_array().into_iter().flatten() {
        let name = outcome["scenario"]["Mutant"]["name"].as_str();
        let name = name.filter(|name| asked.is_none_or(|all| all.iter().any(|one| one == name)));
        let name = name.map(|name| placed(name, source));
        match (outcome["summary"].as_str(), name) {
            (Some("CaughtMutant" | "Timeout"), Some(_)) => tried.caught += 1,
            (Some("MissedMutant"), Some(name)) => tried.survived.push(name),
            _ => {}
        }
    }
    match tried.caught + tried.survived.len() {
        0 => Err(format!("set `{}`: nothing was tried", set.name)),
        _ => Ok(tried),
    }
}

/// `file:line:column: change` with the text that stands there instead of line and column: lines move with every commit.
fn placed(name: &str, source: &dyn Fn(&str) -> String) -> String {
    let parts = name.split_once(": ").and_then(|(place, change)| {
        let mut place = place.split(':');
        let (file, line, column) = (place.next()?, place.next()?.parse().ok()?, place.next()?.parse().ok()?);
        Some((file, change, text_at(&source(file), line, column)?))
    });
    match parts {
        Some((file, change, text)) => format!("{file}: {change}, at {text}"),
        None => name.to_owned(),
    }
}

/// What stands from this column on, both counted from 1; only so much of it as tells it from its neighbours.
fn text_at(source: &str, line: usize, column: usize) -> Option<String> {
    let line = source.lines().nth(line.checked_sub(1)?)?;
    let text: String = line.chars().skip(column.checked_sub(1)?).take(40).collect();
    Some(text.trim_end().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outcome(name: &str, summary: &str) -> serde_json::Value {
        serde_json::json!({ "scenario": { "Mutant": { "name": name } }, "summary": summary })
    }

    #[test]
    fn what_survived_is_tried_again_and_no_more() {
        let tried = |caught: usize, survived: &[&str]| Tried {
            name: "s".to_owned(),
            one_in: 1,
            caught,
            survived: survived.iter().map(|one| (*one).to_owned()).collect(),
        };
        let before = tried(7, &["a", "b", "c"]);
        let now = joined(Some(&before), tried(2, &["b"])).unwrap();
        assert_eq!((now.caught, now.survived), (9, vec!["b".to_owned()]));
        assert!(joined(Some(&before), tried(2, &[])).is_err());
        assert_eq!(joined(None, tried(2, &["b"])).unwrap().caught, 2);
        let all = serde_json::json!({ "outcomes": [
            outcome("a.rs:3:5: replace * with /", "CaughtMutant"),
            outcome("a.rs:3:11: replace + with - in f", "MissedMutant"),
        ]});
        let names = missed(&all.to_string()).unwrap();
        assert_eq!(exactly(&names[0]), "^a\\.rs:3:11: replace \\+ with \\- in f$");
        assert_eq!(names.len(), 1);
    }

    #[test]
    fn noticed_and_surviving_changes_are_counted_and_what_does_not_build_is_not() {
        let text = "[[set]]\nname = \"s\"\npackage = \"p\"\nfiles = []\ntests = []\n";
        let set = toml::from_str::<Sets>(text).unwrap().set.remove(0);
        let source = |_: &str| "\n\nlet a = 3 + 0.0;\n".to_owned();
        let all = serde_json::json!({ "outcomes": [
            { "scenario": "Baseline", "summary": "Success" },
            outcome("a.rs:3:5: replace * with /", "CaughtMutant"),
            outcome("a.rs:3:11: replace + with -", "MissedMutant"),
            outcome("b.rs:3:1: replace f with ()", "MissedMutant"),
            outcome("b.rs:9:2: replace g with ()", "Timeout"),
            outcome("b.rs:9:3: replace h with ()", "Unviable"),
        ]});
        let tried = outcomes(&set, &all.to_string(), None, &source).unwrap();
        let survived = ["a.rs: replace + with -, at + 0.0;", "b.rs: replace f with (), at let a = 3 + 0.0;"];
        assert_eq!((tried.caught, tried.survived), (2, survived.map(str::to_owned).to_vec()));
        // cargo-mutants tries deleted fields beside what it is asked for.
        let asked = ["a.rs:3:11: replace + with -".to_owned()];
        let again = outcomes(&set, &all.to_string(), Some(&asked), &source).unwrap();
        assert_eq!((again.caught, again.survived.len()), (0, 1));
        assert!(outcomes(&set, "{\"outcomes\": []}", None, &source).is_err());
    }
}
