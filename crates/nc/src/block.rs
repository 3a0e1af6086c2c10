//! What a line of program text holds: words, comments, an N word, and what was wrong with it.

/// One word: an address letter and its number.
#[derive(Debug, Clone, PartialEq)]
pub struct Word {
    /// The address, in upper case.
    pub letter: char,
    /// The number, in whatever unit the program is in.
    pub value: f64,
    /// The number as it was written, spaces taken out: how many decimals it carries says how far it was rounded.
    pub text: String,
}

/// One line that holds anything.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Block {
    /// Line of the text, from 1.
    pub line: u32,
    /// Its N word.
    pub number: Option<u32>,
    /// Whether it opens with `/`, so that a switch at the machine decides whether it runs.
    pub optional: bool,
    /// Its words in order, without the N word.
    pub words: Vec<Word>,
    /// Its comments in order, without their brackets.
    pub comments: Vec<String>,
}

/// Something on a line that is no program text. The rest of that line is still read where it can be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LexFault {
    /// Line of the text, from 1.
    pub line: u32,
    /// What was found there, and what was expected.
    pub message: String,
}
