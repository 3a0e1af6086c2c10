//! Program text by ISO 6983-1: words, blocks, a lexer, a writer and the dialect table of a wire machine.
//!
//! Knows nothing of outlines. The planner writes programs with [`Writer`]; the proof reads any program, ours or
//! not, with [`lex`]. Both agree on nothing but the text between them.

mod block;
mod comment;
mod dialect;
mod lexer;
mod writer;

pub use block::{Block, LexFault, Word};
pub use dialect::{Dialect, Output, Units, UnitsWords};
pub use lexer::lex;
pub use writer::{WriteFault, Writer};
