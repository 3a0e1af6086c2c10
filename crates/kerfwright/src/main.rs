//! The command line: the only room with a clock, files and a terminal.

mod answer;
mod args;
mod bar;
mod date;
mod drawings;
mod evidence;
mod exit;
mod fastening;
mod gather;
mod halves;
mod punch;
mod remarks;
mod schema;
mod store;
mod survey;
mod work;

use args::{Args, Command};
use clap::Parser;
use exit::Exit;
use std::process::ExitCode;

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            let code = if error.use_stderr() { Exit::Input } else { Exit::Done };
            // Nothing is left to do when the terminal itself is gone.
            let _ = error.print();
            return code.into();
        }
    };
    let done = match &args.command {
        Command::Survey(args) => survey::run(args),
        Command::Plan(args) => work::plan(args),
        Command::Prove(args) => work::prove(args),
        Command::Why(args) => work::why(args),
        Command::Schema(args) => schema::run(args),
    };
    done.into()
}
