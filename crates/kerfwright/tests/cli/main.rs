//! The binary as a person or a script meets it: exit codes, what is written, what is refused.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop there")]

mod bad_input;
mod bench;
mod curves;
mod examples;
mod halves;
mod islands;
mod once_wrong;
mod openings;
mod package;
mod pieces;
mod sizes;
