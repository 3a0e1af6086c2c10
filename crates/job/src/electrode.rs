//! Electrodes for burning start holes.

use crate::field::{ALLOWANCE, Field, SIZE, Want, limits};
use crate::known::{From, Known};
use crate::reader::{Part, Reader, place_of};

/// A tube electrode and what a hole burned with it is like. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Electrode {
    /// Diameter of the tube.
    pub diameter: Known<f64>,
    /// Spark gap per side: the hole is wider by twice this.
    pub overcut: Known<f64>,
    /// Further widening of the entry, per side.
    pub bellmouth: Known<f64>,
    /// Deepest block that it can be burned through, overtravel not counted.
    pub max_depth: Known<f64>,
    /// Depth burned in a minute, mm/min.
    pub rate_mm_per_min: Known<f64>,
    /// Length of tube used up per depth burned, percent.
    pub wear_percent: Known<f64>,
    /// How far the hole leans from its axis per mm of depth, mm/mm.
    pub drift_per_mm: Known<f64>,
    /// Depth of recast metal and cracks around the hole.
    pub recast: Known<f64>,
}

const DIAMETER: Field =
    Field::required("diameter", Want::Length(limits(0.01, 20.0)), "diameter of the electrode");
const OVERCUT: Field = Field::required(
    "overcut",
    Want::Length(ALLOWANCE),
    "spark gap per side; the hole is wider than the electrode by twice this",
);
const BELLMOUTH: Field =
    Field::new("bellmouth", Want::Length(ALLOWANCE), "further widening of the entry, per side");
const MAX_DEPTH: Field =
    Field::new("max_depth", Want::Length(SIZE), "deepest block it can burn through, overtravel not counted");
const RATE: Field =
    Field::new("rate_mm_per_min", Want::Number(limits(0.001, 1000.0), "mm/min"), "depth burned in a minute");
const WEAR: Field = Field::new(
    "wear_percent",
    Want::Number(limits(0.0, 10_000.0), "percent"),
    "length of electrode used up per depth burned",
);
pub(crate) const DRIFT: Field = Field::new(
    "drift_per_mm",
    Want::Number(limits(0.0, 0.1), "mm per mm"),
    "how far the hole leans from its axis per length of depth",
);
pub(crate) const RECAST: Field =
    Field::new("recast", Want::Length(ALLOWANCE), "depth of recast metal and cracks around the hole");

pub(crate) const FIELDS: &[Field] = &[DIAMETER, OVERCUT, BELLMOUTH, MAX_DEPTH, RATE, WEAR, DRIFT, RECAST];

/// How much narrower than electrode and overcut a hole comes out at its exit, mm (interface: exit diameter).
const EXIT_NARROWER: f64 = 0.02;

/// Reads a row; what it leaves out comes from the nearest of the built-in rows.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: &[Electrode]) -> Option<Electrode> {
    let diameter = reader.length(part, &DIAMETER);
    let overcut = reader.length(part, &OVERCUT);
    let bellmouth = reader.length(part, &BELLMOUTH);
    let max_depth = reader.length(part, &MAX_DEPTH);
    let rate = reader.number(part, &RATE);
    let wear = reader.number(part, &WEAR);
    let drift = reader.number(part, &DRIFT);
    let recast = reader.length(part, &RECAST);
    let (diameter, overcut) = (diameter?, overcut?);
    let exit = diameter.value + 2.0 * overcut.value - EXIT_NARROWER;
    if exit <= 0.0 {
        let message = format!(
            "a hole of electrode {} and overcut {} per side narrows by {EXIT_NARROWER} to nothing at its exit",
            diameter.value, overcut.value
        );
        reader.fault(
            "no-exit",
            place_of(&diameter.from),
            message,
            "give a larger electrode or its true overcut",
        );
    }
    let near = nearest(built_in, diameter.value, |row| row.diameter.value)?;
    Some(Electrode {
        bellmouth: bellmouth.unwrap_or_else(|| taken(&near.bellmouth, near)),
        max_depth: max_depth.unwrap_or_else(|| taken(&near.max_depth, near)),
        rate_mm_per_min: rate.unwrap_or_else(|| taken(&near.rate_mm_per_min, near)),
        wear_percent: wear.unwrap_or_else(|| taken(&near.wear_percent, near)),
        drift_per_mm: drift.unwrap_or_else(|| taken(&near.drift_per_mm, near)),
        recast: recast.unwrap_or_else(|| taken(&near.recast, near)),
        diameter,
        overcut,
    })
}

fn taken(value: &Known<f64>, near: &Electrode) -> Known<f64> {
    let note = "as in the built-in row of the nearest diameter, a starting value".to_owned();
    Known { value: value.value, from: From::Nearest { diameter_mm: near.diameter.value, note } }
}

/// The row whose diameter is nearest; of two as near as each other, the smaller.
pub(crate) fn nearest<R>(rows: &[R], diameter: f64, of: impl Fn(&R) -> f64) -> Option<&R> {
    /// Distances closer than this, in mm, count as the same: 0.125 lies between 0.10 and 0.15 also in binary.
    const SAME: f64 = 1e-9;
    rows.iter().min_by(|a, b| {
        let (a, b) = (of(a), of(b));
        let (to_a, to_b) = ((a - diameter).abs(), (b - diameter).abs());
        if (to_a - to_b).abs() < SAME { a.total_cmp(&b) } else { to_a.total_cmp(&to_b) }
    })
}
