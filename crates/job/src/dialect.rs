//! How the shop's machines want their programs written.

use crate::field::{ALLOWANCE, Field, Want};
use crate::known::Known;
use crate::reader::{Part, Reader, place_of};
use crate::units::Units;

/// The dialect table.
#[derive(Debug, Clone, PartialEq)]
pub struct Dialect {
    /// Unit of the coordinates.
    pub units: Known<Units>,
    /// The pair of words that says so.
    pub units_words: Known<UnitsWords>,
    /// Decimals of a coordinate; none: as many as its unit needs (4 in mm, 6 in inches).
    pub decimals: Option<Known<u32>>,
    /// Which path the program carries.
    pub output: Known<Output>,
    /// M number that threads the wire.
    pub thread: Known<u32>,
    /// M number that cuts the wire.
    pub cut: Known<u32>,
    /// M number that stops for the operator.
    pub stop: Known<u32>,
    /// M number that ends the program.
    pub end: Known<u32>,
    /// By how much a lead-in must be longer than the offset for a register to be taken up along it, mm.
    pub least_lead_in: Known<f64>,
}

/// The words for inches and millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitsWords {
    /// G70 inches, G71 millimetres (ISO 6983-1).
    G70G71,
    /// G20 inches, G21 millimetres (by convention).
    G20G21,
}

/// Which path a program carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Output {
    /// The finished edge; the control offsets it by register under G41 or G42.
    Register,
    /// The centre of the wire.
    Centre,
}

impl UnitsWords {
    const WORDS: &'static [&'static str] = &["G70/G71", "G20/G21"];

    /// As written in files.
    pub fn word(self) -> &'static str {
        match self {
            UnitsWords::G70G71 => "G70/G71",
            UnitsWords::G20G21 => "G20/G21",
        }
    }
}

impl Output {
    const WORDS: &'static [&'static str] = &["register", "centre"];

    /// As written in files.
    pub fn word(self) -> &'static str {
        match self {
            Output::Register => "register",
            Output::Centre => "centre",
        }
    }
}

const UNITS: Field = Field::new("units", Want::Word(Units::WORDS), "unit of the coordinates in programs");
const UNITS_WORDS: Field =
    Field::new("units_words", Want::Word(UnitsWords::WORDS), "words for inches and millimetres");
const DECIMALS: Field =
    Field::new("decimals", Want::Whole(4, 9), "decimals of a coordinate; left out: 4 in mm, 6 in inches");
const OUTPUT: Field = Field::new(
    "output",
    Want::Word(Output::WORDS),
    "finished edge with offset registers, or the wire's centre",
);
const THREAD: Field = Field::new("thread", Want::Whole(0, 999), "M number that threads the wire");
const CUT: Field = Field::new("cut", Want::Whole(0, 999), "M number that cuts the wire");
const STOP: Field = Field::new("stop", Want::Whole(0, 999), "M number that stops for the operator");
const END: Field = Field::new("end", Want::Whole(0, 999), "M number that ends the program");
const LEAD_IN: Field = Field::new(
    "least_lead_in",
    Want::Length(ALLOWANCE),
    "by how much a lead-in must be longer than the offset under register output",
);

pub(crate) const FIELDS: &[Field] = &[UNITS, UNITS_WORDS, DECIMALS, OUTPUT, THREAD, CUT, STOP, END, LEAD_IN];

/// Decimals that keep rounding in inches below 0.1 um.
const LEAST_DECIMALS_INCH: u32 = 6;

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Dialect) -> Dialect {
    let dialect = Dialect {
        units: reader
            .text(part, &UNITS)
            .map_or(built_in.units, |word| word.map(|word| Units::of_word(&word))),
        units_words: reader.text(part, &UNITS_WORDS).map_or(built_in.units_words, |word| {
            word.map(|word| if word == "G20/G21" { UnitsWords::G20G21 } else { UnitsWords::G70G71 })
        }),
        decimals: reader.whole(part, &DECIMALS).or(built_in.decimals),
        output: reader.text(part, &OUTPUT).map_or(built_in.output, |word| {
            word.map(|word| if word == "centre" { Output::Centre } else { Output::Register })
        }),
        thread: reader.whole(part, &THREAD).unwrap_or(built_in.thread),
        cut: reader.whole(part, &CUT).unwrap_or(built_in.cut),
        stop: reader.whole(part, &STOP).unwrap_or(built_in.stop),
        end: reader.whole(part, &END).unwrap_or(built_in.end),
        least_lead_in: reader.length(part, &LEAD_IN).unwrap_or(built_in.least_lead_in),
    };
    check_decimals(reader, &dialect);
    let functions =
        [(&THREAD, &dialect.thread), (&CUT, &dialect.cut), (&STOP, &dialect.stop), (&END, &dialect.end)];
    reader.check_functions(part, &functions);
    dialect
}

fn check_decimals(reader: &mut Reader, dialect: &Dialect) {
    if let Some(decimals) = &dialect.decimals
        && dialect.units.value == Units::In
        && decimals.value < LEAST_DECIMALS_INCH
    {
        let message = format!(
            "`decimals` is {}; programs in inches need at least {LEAST_DECIMALS_INCH} for rounding to stay below 0.1 um",
            decimals.value
        );
        reader.fault(
            "too-few-decimals",
            place_of(&decimals.from),
            message,
            "leave `decimals` out, or write 6",
        );
    }
}
