//! How well the shop brings an opening to its place, and which share of the clearance may be used up.

use crate::field::{ALLOWANCE, Field, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// Limits, plus or minus, 3 sigma of each, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Alignment {
    /// Picking up a finished block on the wire machine.
    pub pick_up: Known<f64>,
    /// The wire machine's own positioning.
    pub positioning: Known<f64>,
    /// Squareness of the cut to the face, per mm of block height, mm/mm.
    pub squareness_per_mm: Known<f64>,
    /// Grinding one side to its measure.
    pub grinding: Known<f64>,
    /// Measuring an opening to a side.
    pub measuring: Known<f64>,
    /// Punch in its holder and guide.
    pub punch: Known<f64>,
    /// Share of the clearance per side by which punch and opening may be off centre.
    pub share: Known<f64>,
}

const PICK_UP: Field = Field::new(
    "pick_up",
    Want::Length(ALLOWANCE),
    "picking up a finished block on the wire machine, plus or minus",
);
const POSITIONING: Field =
    Field::new("positioning", Want::Length(ALLOWANCE), "positioning of the wire machine, plus or minus");
const SQUARENESS: Field = Field::new(
    "squareness_per_mm",
    Want::Number(limits(0.0, 0.1), "mm/mm"),
    "squareness of the cut to the face, per mm of height, plus or minus",
);
const GRINDING: Field =
    Field::new("grinding", Want::Length(ALLOWANCE), "grinding one side to its measure, plus or minus");
const MEASURING: Field =
    Field::new("measuring", Want::Length(ALLOWANCE), "measuring an opening to a side, plus or minus");
const PUNCH: Field =
    Field::new("punch", Want::Length(ALLOWANCE), "punch in its holder and guide, plus or minus");
const SHARE: Field = Field::new(
    "share_of_clearance",
    Want::Number(limits(0.01, 1.0), ""),
    "share of the clearance per side by which punch and opening may be off centre",
);

pub(crate) const FIELDS: &[Field] = &[PICK_UP, POSITIONING, SQUARENESS, GRINDING, MEASURING, PUNCH, SHARE];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Alignment) -> Alignment {
    Alignment {
        pick_up: reader.length(part, &PICK_UP).unwrap_or(built_in.pick_up),
        positioning: reader.length(part, &POSITIONING).unwrap_or(built_in.positioning),
        squareness_per_mm: reader.number(part, &SQUARENESS).unwrap_or(built_in.squareness_per_mm),
        grinding: reader.length(part, &GRINDING).unwrap_or(built_in.grinding),
        measuring: reader.length(part, &MEASURING).unwrap_or(built_in.measuring),
        punch: reader.length(part, &PUNCH).unwrap_or(built_in.punch),
        share: reader.number(part, &SHARE).unwrap_or(built_in.share),
    }
}
