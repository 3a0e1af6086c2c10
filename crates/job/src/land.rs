//! What a shop takes for land and relief where a job leaves them open, and how it regrinds.

use crate::field::{ALLOWANCE, Field, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// The table of land and relief.
#[derive(Debug, Clone, PartialEq)]
pub struct Land {
    /// Relief per side where a job states a short land alone, degrees.
    pub relief_deg: Known<f64>,
    /// Metal that the tilted wire leaves on the relief, so that its roughness stays off the land, mm.
    pub relief_stock: Known<f64>,
    /// What one regrind takes off the face, mm.
    pub regrind: Known<f64>,
    /// Strokes between two regrinds.
    pub strokes_per_regrind: Known<f64>,
}

const RELIEF: Field = Field::new(
    "relief_deg",
    Want::Number(limits(0.05, 15.0), "degrees"),
    "relief per side where a job states a land shorter than the block and no relief",
);
const STOCK: Field = Field::new(
    "relief_stock",
    Want::Length(ALLOWANCE),
    "metal that the tilted wire leaves on the relief, so that its roughness stays off the land",
);
const REGRIND: Field =
    Field::new("regrind", Want::Length(limits(0.001, 5.0)), "what one regrind takes off the cutting face");
const STROKES: Field = Field::new(
    "strokes_per_regrind",
    Want::Number(limits(1.0, 1e9), "strokes"),
    "strokes between two regrinds",
);

pub(crate) const FIELDS: &[Field] = &[RELIEF, STOCK, REGRIND, STROKES];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Land) -> Land {
    Land {
        relief_deg: reader.number(part, &RELIEF).unwrap_or(built_in.relief_deg),
        relief_stock: reader.length(part, &STOCK).unwrap_or(built_in.relief_stock),
        regrind: reader.length(part, &REGRIND).unwrap_or(built_in.regrind),
        strokes_per_regrind: reader.number(part, &STROKES).unwrap_or(built_in.strokes_per_regrind),
    }
}
