//! Chores of the repository: `cargo xtask tidy`, `reference`, `strength`, `checks`, `mutate`, `bench`. Never part of what is shipped.

mod bench;
mod checks;
mod dice;
mod flatten;
mod mutate;
mod profile;
mod reference;
mod sections;
mod tidy;

use mutate::Which;
use std::process::ExitCode;

const USAGE: &str = "usage: cargo xtask tidy
       cargo xtask reference OUT_DIR SEED COUNT NEAR_COUNT
       cargo xtask checks [OUT_FILE]
       cargo xtask mutate [SET] [again]
       cargo xtask strength OUT_FILE SEED COUNT
       cargo xtask bench [PART]...";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["tidy"] => tidy::run(&mut std::io::stdout()),
        ["checks"] => checks::run(&mut std::io::stdout()),
        ["checks", path] => checks::export(path, &mut std::io::stdout()),
        ["mutate"] => mutate::run(None, Which::All, &mut std::io::stdout()),
        ["mutate", "again"] => mutate::run(None, Which::Survivors, &mut std::io::stdout()),
        ["mutate", set] => mutate::run(Some(set), Which::All, &mut std::io::stdout()),
        ["mutate", set, "again"] => mutate::run(Some(set), Which::Survivors, &mut std::io::stdout()),
        ["bench", parts @ ..] => bench::run(&mut std::io::stdout(), parts),
        ["reference", folder, seed, count, near] => numbers(seed, count, near)
            .and_then(|(seed, count, near)| reference::run(folder, seed, count, near)),
        ["strength", file, seed, count] => {
            numbers(seed, count, "0").and_then(|(seed, count, _)| sections::run(file, seed, count))
        }
        _ => Err(USAGE.to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => report(&message),
    }
}

fn numbers(seed: &str, count: &str, near: &str) -> Result<(u64, usize, usize), String> {
    match (seed.parse(), count.parse(), near.parse()) {
        (Ok(seed), Ok(count), Ok(near)) => Ok((seed, count, near)),
        _ => Err(format!(
            "SEED, COUNT and NEAR_COUNT are whole numbers; found {seed}, {count}, {near}\n{USAGE}"
        )),
    }
}

#[expect(clippy::print_stderr, reason = "a chore talks to the person at the terminal")]
fn report(message: &str) -> ExitCode {
    eprintln!("{message}");
    ExitCode::FAILURE
}
