//! Where the guides of the wire machine hold the wire, and how far the upper one goes aside: what tilting it asks for.

use crate::field::{Field, SIZE, Want};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// The guides. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Guides {
    /// From the block's top up to where the upper guide holds the wire.
    pub above: Known<f64>,
    /// From the block's underside down to where the lower guide holds it.
    pub below: Known<f64>,
    /// How far the upper guide goes aside of the lower one, to each side.
    pub travel: Known<f64>,
}

const ABOVE: Field =
    Field::new("above", Want::Length(SIZE), "from the block's top to where the upper guide holds the wire");
const BELOW: Field = Field::new(
    "below",
    Want::Length(SIZE),
    "from the block's underside to where the lower guide holds the wire",
);
const TRAVEL: Field = Field::new(
    "travel",
    Want::Length(SIZE),
    "how far the upper guide goes aside of the lower one, to each side",
);

pub(crate) const FIELDS: &[Field] = &[ABOVE, BELOW, TRAVEL];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Guides) -> Guides {
    Guides {
        above: reader.length(part, &ABOVE).unwrap_or(built_in.above),
        below: reader.length(part, &BELOW).unwrap_or(built_in.below),
        travel: reader.length(part, &TRAVEL).unwrap_or(built_in.travel),
    }
}
