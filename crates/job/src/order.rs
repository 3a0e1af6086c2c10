//! In which order the openings of a section are cut.

use crate::field::{ALLOWANCE, Field, Want};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// The table of the order.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// Side of the block that the clamps hold: what is far from them is cut first.
    pub clamp: Known<Side>,
    /// Where an edge's tolerance is tighter than this, everything is roughed before anything is skimmed, mm.
    pub rough_all_below: Known<f64>,
}

/// A side of the block, seen on the cutting face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Least x.
    Left,
    /// Greatest x.
    Right,
    /// Least y.
    Bottom,
    /// Greatest y.
    Top,
}

impl Side {
    const WORDS: &'static [&'static str] = &["left", "right", "bottom", "top"];

    /// As written in files.
    pub fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
            Side::Bottom => "bottom",
            Side::Top => "top",
        }
    }

    fn of_word(word: &str) -> Self {
        match word {
            "right" => Side::Right,
            "bottom" => Side::Bottom,
            "top" => Side::Top,
            _ => Side::Left,
        }
    }
}

const CLAMP: Field = Field::new(
    "clamp",
    Want::Word(Side::WORDS),
    "side of the block that the clamps of the wire machine hold, seen on the cutting face",
);
const ROUGH_ALL: Field = Field::new(
    "rough_all_below",
    Want::Length(ALLOWANCE),
    "where an edge's tolerance is tighter than this, all openings are roughed before any is skimmed",
);

pub(crate) const FIELDS: &[Field] = &[CLAMP, ROUGH_ALL];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Order) -> Order {
    Order {
        clamp: reader.text(part, &CLAMP).map_or(built_in.clamp, |word| word.map(|word| Side::of_word(&word))),
        rough_all_below: reader.length(part, &ROUGH_ALL).unwrap_or(built_in.rough_all_below),
    }
}
