//! Allowances for start holes.

use crate::electrode::{DRIFT, RECAST};
use crate::field::{ALLOWANCE, Field, Want, limits};
use crate::known::Known;
use crate::position::Position;
use crate::reader::{Part, Reader};

/// What a start hole may be off by, and what must stay around it. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowance {
    /// Radius that holds the hole's true place in 95 of 100 cases, where burner and wire machine share a datum: random,
    /// sigma per axis = value / 2.4477.
    pub position: Known<f64>,
    /// The same where the wire machine finds the hole's centre and follows it.
    pub position_following: Known<f64>,
    /// The same where the block was set up again without a common datum.
    pub position_remounted: Known<f64>,
    /// Plus or minus on a measured centre and diameter, two sigma: random.
    pub measuring: Known<f64>,
    /// A hole with less room than this is measured before the wire cuts.
    pub measure_below: Known<f64>,
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
    "radius that holds the hole's true place in 95 of 100 cases, by a shared datum; random",
);
const FOLLOWING: Field = Field::new(
    "position_following",
    Want::Length(ALLOWANCE),
    "the same where the wire machine finds the hole's centre and follows it",
);
const REMOUNTED: Field = Field::new(
    "position_remounted",
    Want::Length(ALLOWANCE),
    "the same where the block was set up again without a common datum",
);
const MEASURING: Field = Field::new(
    "measuring",
    Want::Length(ALLOWANCE),
    "plus or minus on a measured centre and diameter, two sigma; random",
);
const MEASURE_BELOW: Field = Field::new(
    "measure_below",
    Want::Length(ALLOWANCE),
    "a hole with less room than this is measured before the wire cuts",
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

pub(crate) const FIELDS: &[Field] = &[
    POSITION,
    FOLLOWING,
    REMOUNTED,
    MEASURING,
    MEASURE_BELOW,
    SIZE_OFF,
    DRIFT,
    RECAST,
    CLEAN_UP,
    THREADING,
    STAND_OFF,
];

impl Allowance {
    /// Radius that holds the hole's true place in 95 of 100 cases, by the way its place is known.
    pub fn position_by(&self, method: Position) -> &Known<f64> {
        match method {
            Position::SharedDatum => &self.position,
            Position::Following => &self.position_following,
            Position::Remounted => &self.position_remounted,
        }
    }
}

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Allowance) -> Allowance {
    Allowance {
        position: reader.length(part, &POSITION).unwrap_or(built_in.position),
        position_following: reader.length(part, &FOLLOWING).unwrap_or(built_in.position_following),
        position_remounted: reader.length(part, &REMOUNTED).unwrap_or(built_in.position_remounted),
        measuring: reader.length(part, &MEASURING).unwrap_or(built_in.measuring),
        measure_below: reader.length(part, &MEASURE_BELOW).unwrap_or(built_in.measure_below),
        size: reader.length(part, &SIZE_OFF).unwrap_or(built_in.size),
        drift_per_mm: reader.number(part, &DRIFT).or(built_in.drift_per_mm),
        recast: reader.length(part, &RECAST).or(built_in.recast),
        clean_up_stock: reader.length(part, &CLEAN_UP).unwrap_or(built_in.clean_up_stock),
        threading_room: reader.length(part, &THREADING).unwrap_or(built_in.threading_room),
        stand_off: reader.length(part, &STAND_OFF).unwrap_or(built_in.stand_off),
    }
}
