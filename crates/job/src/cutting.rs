//! Rates, factors and times of burning and cutting.

use crate::field::{ALLOWANCE, Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader, place_of};

/// Factors, limits and times. Lengths in mm, times in minutes.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// Rate of a main cut where flushing starves, as a share of the rate elsewhere.
    pub starved_factor: Known<f64>,
    /// Diameter of an opening's largest circle below which flushing starves.
    pub starved_below: Known<f64>,
    /// Feed of a skim over feed of the main cut.
    pub skim_feed_factor: Known<f64>,
    /// Greatest feed of a skim, mm/min.
    pub skim_feed_limit: Known<f64>,
    /// Feed in corners, as a share of the feed elsewhere.
    pub corner_feed_factor: Known<f64>,
    /// Feed of the lead-in, as a share of the feed of its pass.
    pub lead_in_feed_factor: Known<f64>,
    /// How far a pass goes on over its own beginning.
    pub overlap: Known<f64>,
    /// Threading the wire once.
    pub threading_minutes: Known<f64>,
    /// Changing to another wire.
    pub wire_change_minutes: Known<f64>,
    /// Setting a section up on the wire machine.
    pub setup_minutes: Known<f64>,
    /// Taking a core out at a stop.
    pub stop_minutes: Known<f64>,
    /// Mass of a core from which the program stops, g.
    pub core_stop_from_g: Known<f64>,
    /// Attended part of burning the first hole of a section.
    pub hole_minutes_attended: Known<f64>,
    /// Making a section again after scrap.
    pub remake_minutes: Known<f64>,
    /// Tolerance (plus or minus, mm) that a main cut with so many skims holds; finer with every skim.
    pub passes_for: Known<Vec<(f64, u32)>>,
}

impl Cutting {
    /// How many skims hold a tolerance (plus or minus, mm); none if no number of them does.
    pub fn skims_for(&self, tolerance: f64) -> Option<usize> {
        let row = self.passes_for.value.iter().find(|(holds, _)| *holds <= tolerance * (1.0 + 1e-9))?;
        usize::try_from(row.1).ok()
    }

    /// The tightest tolerance that the table holds, mm.
    pub fn tightest_tolerance(&self) -> f64 {
        self.passes_for.value.iter().map(|(holds, _)| *holds).fold(f64::INFINITY, f64::min)
    }
}

const FACTOR: Want = Want::Number(limits(0.01, 1.0), "");
const MINUTES: Want = Want::Number(limits(0.0, 100_000.0), "minutes");

const STARVED: Field = Field::new(
    "starved_factor",
    FACTOR,
    "rate of a main cut where flushing starves, as a share of the rate elsewhere",
);
const STARVED_BELOW: Field = Field::new(
    "starved_below",
    Want::Length(limits(0.0, 1000.0)),
    "diameter of an opening's largest circle below which flushing starves",
);
const SKIM_FACTOR: Field = Field::new(
    "skim_feed_factor",
    Want::Number(limits(0.01, 100.0), ""),
    "feed of a skim over feed of the main cut",
);
const SKIM_LIMIT: Field = Field::new(
    "skim_feed_limit_mm_per_min",
    Want::Number(limits(0.01, 1000.0), "mm/min"),
    "greatest feed of a skim",
);
const CORNER: Field =
    Field::new("corner_feed_factor", FACTOR, "feed in corners, as a share of the feed elsewhere");
const LEAD_IN: Field =
    Field::new("lead_in_feed_factor", FACTOR, "feed of the lead-in, as a share of the feed of its pass");
const OVERLAP: Field =
    Field::new("overlap", Want::Length(ALLOWANCE), "how far a pass goes on over its own beginning");
const THREADING: Field = Field::new("threading_minutes", MINUTES, "threading the wire once");
const WIRE_CHANGE: Field = Field::new("wire_change_minutes", MINUTES, "changing to another wire");
const SETUP: Field = Field::new("setup_minutes", MINUTES, "setting a section up on the wire machine");
const STOP: Field = Field::new("stop_minutes", MINUTES, "taking a core out at a stop");
const CORE_STOP: Field = Field::new(
    "core_stop_from_g",
    Want::Number(limits(0.0, 1000.0), "g"),
    "mass of a core from which the program stops",
);
const HOLE: Field =
    Field::new("hole_minutes_attended", MINUTES, "attended part of burning the first hole of a section");
const REMAKE: Field = Field::new("remake_minutes", MINUTES, "making a section again after scrap");
const PASSES_FOR: Field = Field::new(
    "passes_for",
    Want::Pairs(SIZE_OF_TOLERANCE, limits(0.0, 8.0), "skims"),
    "pairs of a tolerance, plus or minus, and the number of skims that holds it; tolerances falling, skims rising",
);

/// Tolerances that can be asked of a wire machine, mm.
pub(crate) const SIZE_OF_TOLERANCE: crate::field::Limits = limits(0.0001, SIZE.most);

pub(crate) const FIELDS: &[Field] = &[
    STARVED,
    STARVED_BELOW,
    SKIM_FACTOR,
    SKIM_LIMIT,
    CORNER,
    LEAD_IN,
    OVERLAP,
    THREADING,
    WIRE_CHANGE,
    SETUP,
    STOP,
    CORE_STOP,
    HOLE,
    REMAKE,
    PASSES_FOR,
];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Cutting) -> Cutting {
    Cutting {
        starved_factor: reader.number(part, &STARVED).unwrap_or(built_in.starved_factor),
        starved_below: reader.length(part, &STARVED_BELOW).unwrap_or(built_in.starved_below),
        skim_feed_factor: reader.number(part, &SKIM_FACTOR).unwrap_or(built_in.skim_feed_factor),
        skim_feed_limit: reader.number(part, &SKIM_LIMIT).unwrap_or(built_in.skim_feed_limit),
        corner_feed_factor: reader.number(part, &CORNER).unwrap_or(built_in.corner_feed_factor),
        lead_in_feed_factor: reader.number(part, &LEAD_IN).unwrap_or(built_in.lead_in_feed_factor),
        overlap: reader.length(part, &OVERLAP).unwrap_or(built_in.overlap),
        threading_minutes: reader.number(part, &THREADING).unwrap_or(built_in.threading_minutes),
        wire_change_minutes: reader.number(part, &WIRE_CHANGE).unwrap_or(built_in.wire_change_minutes),
        setup_minutes: reader.number(part, &SETUP).unwrap_or(built_in.setup_minutes),
        stop_minutes: reader.number(part, &STOP).unwrap_or(built_in.stop_minutes),
        core_stop_from_g: reader.number(part, &CORE_STOP).unwrap_or(built_in.core_stop_from_g),
        hole_minutes_attended: reader.number(part, &HOLE).unwrap_or(built_in.hole_minutes_attended),
        remake_minutes: reader.number(part, &REMAKE).unwrap_or(built_in.remake_minutes),
        passes_for: read_passes(reader, part).unwrap_or(built_in.passes_for),
    }
}

fn read_passes(reader: &mut Reader, part: &Part) -> Option<Known<Vec<(f64, u32)>>> {
    let pairs = reader.pairs(part, &PASSES_FOR)?;
    let place = place_of(&pairs.from);
    if let Some([tolerance, skims]) = pairs.value.iter().find(|[_, skims]| skims.fract() != 0.0) {
        let message =
            format!("`passes_for` asks for {skims} skims at {tolerance} mm; skims come in whole numbers");
        reader.fault("skims-not-whole", place, message, "");
        return None;
    }
    if let Some(pair) =
        pairs.value.windows(2).find(|pair| pair[0][0] <= pair[1][0] || pair[0][1] >= pair[1][1])
    {
        let message = format!(
            "`passes_for` goes from {} mm with {} skims to {} mm with {}; tolerances must fall and skims rise",
            pair[0][0], pair[0][1], pair[1][0], pair[1][1]
        );
        reader.fault("passes-order", place, message, "start with the widest tolerance");
        return None;
    }
    Some(pairs.map(|pairs| pairs.into_iter().map(|[tolerance, skims]| (tolerance, skims as u32)).collect()))
}
