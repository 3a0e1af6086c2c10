//! Chores of the repository: `cargo xtask tidy`, `reference`, `bench`. Never part of what is shipped.

mod tidy;

use std::process::ExitCode;

const USAGE: &str = "usage: cargo xtask tidy";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["tidy"] => tidy::run(&mut std::io::stdout()),
        _ => Err(USAGE.to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => report(&message),
    }
}

#[expect(clippy::print_stderr, reason = "a chore talks to the person at the terminal")]
fn report(message: &str) -> ExitCode {
    eprintln!("{message}");
    ExitCode::FAILURE
}
