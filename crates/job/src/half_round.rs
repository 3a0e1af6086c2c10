//! What a shop holds when it grinds a half-round into each of two halves, so that they make a start hole.

use crate::field::{ALLOWANCE, Field, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader, place_of};

/// The table of half-rounds. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct HalfRound {
    /// Radii that a wheel is dressed to.
    pub radii: Known<Vec<f64>>,
    /// Size, 3 sigma on the radius.
    pub size: Known<f64>,
    /// Position of the joined half-rounds from the datum, 95 % radial.
    pub position: Known<f64>,
    /// Plus or minus on how deep the wheel goes into each half.
    pub depth: Known<f64>,
    /// How far one half may stand beside the other along the joint.
    pub mismatch: Known<f64>,
    /// How far a half-round leans over the block's height, mm per mm.
    pub lean_per_mm: Known<f64>,
}

const RADII: Field = Field::new(
    "radii",
    Want::Lengths(limits(0.02, 5.0), 1, 20),
    "radii that a wheel is dressed to for half-rounds",
);
const SIZE: Field = Field::new("size", Want::Length(ALLOWANCE), "half-round's size, 3 sigma on the radius");
const POSITION: Field = Field::new(
    "position",
    Want::Length(ALLOWANCE),
    "position of the joined half-rounds from the datum, 95 % radial",
);
const DEPTH: Field =
    Field::new("depth", Want::Length(ALLOWANCE), "plus or minus on how deep the wheel goes into each half");
const MISMATCH: Field = Field::new(
    "mismatch",
    Want::Length(ALLOWANCE),
    "how far one half may stand beside the other along the joint",
);
const LEAN: Field = Field::new(
    "lean_per_mm",
    Want::Number(limits(0.0, 0.1), "mm/mm"),
    "how far a half-round leans over the block's height",
);

pub(crate) const FIELDS: &[Field] = &[RADII, SIZE, POSITION, DEPTH, MISMATCH, LEAN];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: HalfRound) -> HalfRound {
    let radii = reader.length_list(part, &RADII).unwrap_or(built_in.radii);
    let mut sorted = radii.value.clone();
    sorted.sort_by(f64::total_cmp);
    if let Some(pair) = sorted.windows(2).find(|pair| pair[0] == pair[1]) {
        let message = format!("`radii` names {} mm twice", pair[0]);
        reader.fault("given-twice", place_of(&radii.from), message, "name each radius once");
    }
    HalfRound {
        radii,
        size: reader.length(part, &SIZE).unwrap_or(built_in.size),
        position: reader.length(part, &POSITION).unwrap_or(built_in.position),
        depth: reader.length(part, &DEPTH).unwrap_or(built_in.depth),
        mismatch: reader.length(part, &MISMATCH).unwrap_or(built_in.mismatch),
        lean_per_mm: reader.number(part, &LEAN).unwrap_or(built_in.lean_per_mm),
    }
}
