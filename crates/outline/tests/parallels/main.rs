//! Parallels, reach and leftovers: one test program, so that they share their profiles.

mod broken;
mod engine;
mod leftover;
mod parallel;
mod profiles;
mod reach;
