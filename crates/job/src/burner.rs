//! The machine that burns start holes: its electrodes' length, its times, and how its programs are written.
//!
//! Units and decimals of its programs are those of the dialect table.

use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// The table of the burner. Lengths in mm, times in minutes.
#[derive(Debug, Clone, PartialEq)]
pub struct Burner {
    /// Length of a new electrode that can be used: what holder and guide keep is not counted.
    pub electrode_length: Known<f64>,
    /// Length lost when a tip is burned square.
    pub dress_length: Known<f64>,
    /// What a Z in a program means.
    pub depth: Known<Depth>,
    /// How far above the face the tip is drawn before the next place.
    pub retract: Known<f64>,
    /// Burning a tip square and touching the block.
    pub dress_minutes: Known<f64>,
    /// Putting another electrode and its guide in.
    pub change_minutes: Known<f64>,
    /// M number that turns spark and rotation on.
    pub spark_on: Known<u32>,
    /// M number that turns them off.
    pub spark_off: Known<u32>,
    /// M number that stops for the operator.
    pub stop: Known<u32>,
    /// M number that ends the program.
    pub end: Known<u32>,
}

/// What the depth in a burning program counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// Travel of the head: the program adds the length by which the electrode wears.
    Travel,
    /// Depth of the tip: the control makes up for wear by itself.
    Tip,
}

impl Depth {
    const WORDS: &'static [&'static str] = &["travel", "tip"];

    /// As written in files.
    pub fn word(self) -> &'static str {
        match self {
            Depth::Travel => "travel",
            Depth::Tip => "tip",
        }
    }
}

const MINUTES: Want = Want::Number(limits(0.0, 100_000.0), "minutes");

const LENGTH: Field = Field::new(
    "electrode_length",
    Want::Length(SIZE),
    "usable length of a new electrode, less what holder and guide keep",
);
const DRESS: Field =
    Field::new("dress_length", Want::Length(limits(0.0, 100.0)), "length lost when a tip is burned square");
const DEPTH: Field = Field::new(
    "depth",
    Want::Word(Depth::WORDS),
    "what Z means in a program: travel of the head, wear added by the program; or tip: the control makes up for wear",
);
const RETRACT: Field = Field::new(
    "retract",
    Want::Length(SIZE),
    "how far above the face the tip is drawn before the next place",
);
const DRESS_MINUTES: Field =
    Field::new("dress_minutes", MINUTES, "burning a tip square and touching the block");
const CHANGE_MINUTES: Field =
    Field::new("change_minutes", MINUTES, "putting another electrode and its guide in");
const SPARK_ON: Field =
    Field::new("spark_on", Want::Whole(0, 999), "M number that turns spark and rotation on");
const SPARK_OFF: Field = Field::new("spark_off", Want::Whole(0, 999), "M number that turns them off");
const STOP: Field = Field::new("stop", Want::Whole(0, 999), "M number that stops for the operator");
const END: Field = Field::new("end", Want::Whole(0, 999), "M number that ends the program");

pub(crate) const FIELDS: &[Field] =
    &[LENGTH, DRESS, DEPTH, RETRACT, DRESS_MINUTES, CHANGE_MINUTES, SPARK_ON, SPARK_OFF, STOP, END];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Burner) -> Burner {
    let depth = |word: Known<String>| word.map(|word| if word == "tip" { Depth::Tip } else { Depth::Travel });
    let burner = Burner {
        electrode_length: reader.length(part, &LENGTH).unwrap_or(built_in.electrode_length),
        dress_length: reader.length(part, &DRESS).unwrap_or(built_in.dress_length),
        depth: reader.text(part, &DEPTH).map_or(built_in.depth, depth),
        retract: reader.length(part, &RETRACT).unwrap_or(built_in.retract),
        dress_minutes: reader.number(part, &DRESS_MINUTES).unwrap_or(built_in.dress_minutes),
        change_minutes: reader.number(part, &CHANGE_MINUTES).unwrap_or(built_in.change_minutes),
        spark_on: reader.whole(part, &SPARK_ON).unwrap_or(built_in.spark_on),
        spark_off: reader.whole(part, &SPARK_OFF).unwrap_or(built_in.spark_off),
        stop: reader.whole(part, &STOP).unwrap_or(built_in.stop),
        end: reader.whole(part, &END).unwrap_or(built_in.end),
    };
    let functions = [
        (&SPARK_ON, &burner.spark_on),
        (&SPARK_OFF, &burner.spark_off),
        (&STOP, &burner.stop),
        (&END, &burner.end),
    ];
    reader.check_functions(part, &functions);
    burner
}
