//! Parallels, reach, leftovers and narrowest places: one test program, so that they share their profiles.

mod broken;
mod engine;
mod leftover;
mod narrowest;
mod parallel;
mod profiles;
mod reach;
