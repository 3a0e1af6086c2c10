//! Allowances for start holes.

use crate::electrode::{DRIFT, RECAST};
use crate::field::{ALLOWANCE, Field, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// What a start hole may be off by, and what must stay around it. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowance {
    /// Radius that holds the hole's true place in 95 of 100 cases: random, sigma per axis = value / 2.4477.
    pub position: Known<f64>,
    /// Three sigma of the hole's radius: random.
    pub size: Known<f64>,
    /// Drift per mm of depth, mm/mm; given, it holds for every electrode.
    pub drift_per_mm: Option<Known<f64>>,
    /// Recast metal and cracks; given, it holds for every electrode.
    pub recast: Option<Known<f64>>,
    /// Metal that must remain beyond all of it for the wire to clean up.
    pub clean_up_stock: Known<f64>,
    /// How much wider than the wire the exit must be to thread it, in all.
    pub threading_room: Known<f64>,
    /// Distance of the electrode's guide from the face; drift grows by 1 + stand_off / 5 mm.
    pub stand_off: Known<f64>,
}

const POSITION: Field = Field::new(
    "position",
    Want::Length(ALLOWANCE),
    "radius that holds the hole's true place in 95 of 100 cases; random",
);
const SIZE_OFF: Field = Field::new("size", Want::Length(ALLOWANCE), "3 sigma on the hole's radius; random");
const CLEAN_UP: Field = Field::new(
    "clean_up_stock",
    Want::Length(ALLOWANCE),
    "metal that must remain around the hole for the wire to clean up",
);
const THREADING: Field = Field::new(
    "threading_room",
    Want::Length(ALLOWANCE),
    "how much wider than the wire the exit must be, in all",
);
const STAND_OFF: Field = Field::new(
    "stand_off",
    Want::Length(limits(0.0, 1000.0)),
    "distance of the electrode's guide from the face",
);

pub(crate) const FIELDS: &[Field] = &[POSITION, SIZE_OFF, DRIFT, RECAST, CLEAN_UP, THREADING, STAND_OFF];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Allowance) -> Allowance {
    Allowance {
        position: reader.length(part, &POSITION).unwrap_or(built_in.position),
        size: reader.length(part, &SIZE_OFF).unwrap_or(built_in.size),
        drift_per_mm: reader.number(part, &DRIFT).or(built_in.drift_per_mm),
        recast: reader.length(part, &RECAST).or(built_in.recast),
        clean_up_stock: reader.length(part, &CLEAN_UP).unwrap_or(built_in.clean_up_stock),
        threading_room: reader.length(part, &THREADING).unwrap_or(built_in.threading_room),
        stand_off: reader.length(part, &STAND_OFF).unwrap_or(built_in.stand_off),
    }
}
