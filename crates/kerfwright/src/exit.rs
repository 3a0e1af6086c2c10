//! How the program ends.

use std::process::ExitCode;

/// Exit codes, published.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// 0: done.
    Done,
    /// 1: anything else, such as a full disk.
    Other,
    /// 2: the input is wrong or contradicts itself.
    Input,
    /// 3: planned, but some section cannot be made in this shop.
    NotHere,
    /// 4: a proof failed.
    ProofFailed,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(match exit {
            Exit::Done => 0,
            Exit::Other => 1,
            Exit::Input => 2,
            Exit::NotHere => 3,
            Exit::ProofFailed => 4,
        })
    }
}
