//! `cargo xtask mutate [SET]`: changes the decisive functions one place at a time, with `cargo-mutants`, and sees whether a
//! test notices. What survives is written to `checks/mutants/last.toml`, and from there into `docs/checks.md`.
//!
//! Stages: the sets of `checks/mutants/sets.toml`; one run of cargo-mutants for each; its outcomes; the file.

use crate::tidy::root;
use serde::{Deserialize, Serialize};
use std::fmt::Write as _;
use std::io::Write;
use std::path::Path;
use std::process::Command;

const SETS: &str = "checks/mutants/sets.toml";
const LAST: &str = "checks/mutants/last.toml";

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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sets {
    set: Vec<Set>,
}

/// What became of a set.
#[derive(Debug, Clone, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Tried {
    name: String,
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

/// Tries all sets, or the one of that name, and keeps what came out.
pub fn run(wanted: Option<&str>, out: &mut impl Write) -> Result<(), String> {
    let root = root()?;
    let sets: Vec<Set> =
        sets(&root)?.into_iter().filter(|set| wanted.is_none_or(|name| name == set.name)).collect();
    if sets.is_empty() {
        return Err(format!("{SETS} has no set of that name"));
    }
    for set in &sets {
        let tried = attempt(&root, set)?;
        let ran = tried.caught + tried.survived.len();
        writeln!(out, "{}: {ran} changes, {} survived", tried.name, tried.survived.len())
            .map_err(|e| e.to_string())?;
        for change in &tried.survived {
            writeln!(out, "  {change}").map_err(|e| e.to_string())?;
        }
        let mut kept = last(&root)?;
        kept.set.retain(|old| old.name != tried.name);
        kept.set.push(tried);
        kept.set.sort_by(|a, b| a.name.cmp(&b.name));
        let text = toml::to_string_pretty(&kept).map_err(|e| e.to_string())?;
        let head = "# What `cargo xtask mutate` found last. Written by it.\n\n";
        std::fs::write(root.join(LAST), format!("{head}{text}")).map_err(|e| format!("{LAST}: {e}"))?;
    }
    Ok(())
}

fn attempt(root: &Path, set: &Set) -> Result<Tried, String> {
    let folder = root.join("target/mutants").join(set.name.replace(' ', "-"));
    std::fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut command = Command::new("cargo");
    command.current_dir(root).args(["mutants", "--no-times", "--colors", "never", "--package", &set.package]);
    set.files.iter().for_each(|file| {
        command.args(["--file", file]);
    });
    set.functions.iter().for_each(|name| {
        command.args(["--re", name]);
    });
    command.args(["--shard", &format!("0/{}", set.one_in), "--sharding", "round-robin", "--output"]);
    command.arg(&folder).arg("--").args(&set.tests);
    let status = command.status().map_err(|e| format!("cargo mutants: {e}"))?;
    // 0: all were noticed; 2: some were not; 3: a test ran out of time, which counts as noticed.
    if !matches!(status.code(), Some(0 | 2 | 3)) {
        return Err(format!("{status}: is it there? `cargo install --locked cargo-mutants`"));
    }
    let path = folder.join("mutants.out/outcomes.json");
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    outcomes(set, &text, &|file| std::fs::read_to_string(root.join(file)).unwrap_or_default())
}

/// What cargo-mutants says became of each change. Those that did not compile were none.
fn outcomes(set: &Set, text: &str, source: &dyn Fn(&str) -> String) -> Result<Tried, String> {
    let value: serde_json::Value = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let mut tried = Tried { name: set.name.clone(), caught: 0, survived: Vec::new() };
    for outcome in value["outcomes"].as_array().into_iter().flatten() {
        let name = outcome["scenario"]["Mutant"]["name"].as_str().map(|name| placed(name, source));
        match (outcome["summary"].as_str(), name) {
            (Some("CaughtMutant" | "Timeout"), Some(_)) => tried.caught += 1,
            (Some("MissedMutant"), Some(name)) if !set.equivalent.iter().any(|one| one.change == name) => {
                tried.survived.push(name);
            }
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

/// The part of `docs/checks.md` about changes that no test notices.
pub fn page(root: &Path) -> Result<String, String> {
    let last = last(root)?;
    let sets = sets(root)?;
    let mut text = String::from("## Changes that tests must notice\n\n");
    text.push_str(
        "`cargo xtask mutate` changes the decisive functions (`checks/mutants/sets.toml`) one place at a time and runs their tests. It takes \
         hours and is no part of `./check`. The last run of each set:\n\n",
    );
    text.push_str("| set | functions | tried | noticed | survived |\n|---|---|---|---|---|\n");
    let (mut ran, mut survived) = (0, 0);
    for tried in &last.set {
        let of = tried.caught + tried.survived.len();
        let set = sets.iter().find(|set| set.name == tried.name);
        let share = match set {
            Some(set) if set.one_in > 1 => format!("{of} (one in {})", set.one_in),
            _ => of.to_string(),
        };
        let files = set.map_or(String::new(), |set| set.files.join(", "));
        let _ = writeln!(
            text,
            "| {} | {files} | {share} | {} | {} |",
            tried.name,
            tried.caught,
            tried.survived.len()
        );
        ran += of;
        survived += tried.survived.len();
    }
    if ran > 0 {
        let percent = 100.0 * survived as f64 / ran as f64;
        let _ = writeln!(text, "\n{survived} of {ran} survived: {percent:.1} %.");
    }
    for change in last.set.iter().flat_map(|tried| &tried.survived) {
        let _ = write!(text, "\n- survived: `{change}`");
    }
    for set in &sets {
        for one in &set.equivalent {
            let _ = write!(text, "\n- changes nothing: `{}`: {}", one.change, one.why);
        }
    }
    text.push('\n');
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set() -> Set {
        let text = "[[set]]\nname = \"s\"\npackage = \"p\"\nfiles = []\ntests = []\n[[set.equivalent]]\nchange = \"a.rs: replace + with -, at + 0.0;\"\nwhy = \"adds 0\"\n";
        toml::from_str::<Sets>(text).unwrap().set.remove(0)
    }

    fn outcome(name: &str, summary: &str) -> serde_json::Value {
        serde_json::json!({ "scenario": { "Mutant": { "name": name } }, "summary": summary })
    }

    #[test]
    fn survivors_are_counted_and_equivalent_changes_are_not() {
        let source = |_: &str| "\n\nlet a = 3 + 0.0;\n".to_owned();
        let all = serde_json::json!({ "outcomes": [
            { "scenario": "Baseline", "summary": "Success" },
            outcome("a.rs:3:5: replace * with /", "CaughtMutant"),
            outcome("a.rs:3:11: replace + with -", "MissedMutant"),
            outcome("b.rs:3:1: replace f with ()", "MissedMutant"),
            outcome("b.rs:9:2: replace g with ()", "Timeout"),
            outcome("b.rs:9:3: replace h with ()", "Unviable"),
        ]});
        let tried = outcomes(&set(), &all.to_string(), &source).unwrap();
        assert_eq!(
            (tried.caught, tried.survived),
            (2, vec!["b.rs: replace f with (), at let a = 3 + 0.0;".to_owned()])
        );
        assert!(outcomes(&set(), "{\"outcomes\": []}", &source).is_err());
    }
}
