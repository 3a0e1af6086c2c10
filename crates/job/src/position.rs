//! How a start hole's place is known to the wire machine, and with it how far the hole may lie from where it is wanted.

use crate::field::{Field, Want};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// A way of knowing where the hole is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// Burner and wire machine pick the block up on the same datum.
    SharedDatum,
    /// The wire machine finds the burned hole's centre, and the program shifts with it.
    Following,
    /// The block was taken down and set up again without a common datum.
    Remounted,
}

impl Position {
    const WORDS: &'static [&'static str] = &["shared datum", "following", "remounted"];

    /// As written in files.
    pub fn word(self) -> &'static str {
        match self {
            Position::SharedDatum => "shared datum",
            Position::Following => "following",
            Position::Remounted => "remounted",
        }
    }

    fn of_word(word: &str) -> Self {
        match word {
            "following" => Position::Following,
            "remounted" => Position::Remounted,
            _ => Position::SharedDatum,
        }
    }
}

pub(crate) const POSITION: Field = Field::new(
    "position",
    Want::Word(Position::WORDS),
    "how the wire machine knows where the hole is: shared datum; following: it finds the hole's centre and shifts with it; remounted; left out: shared datum",
);

/// Reads the key.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Option<Known<Position>> {
    reader.text(part, &POSITION).map(|word| word.map(|word| Position::of_word(&word)))
}
