//! What a person states about the start hole of an edge; what is left out, the plan chooses.

use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// What is stated about a start hole. Lengths in mm, section coordinates.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Start {
    /// Where its centre lies; none: the plan looks for the place.
    pub at: Option<[Known<f64>; 2]>,
    /// Diameter of the electrode that burns it; none: the plan chooses one of the shop's.
    pub electrode: Option<Known<f64>>,
}

const AT: Field = Field::new(
    "at",
    Want::Lengths(limits(-1000.0, 1000.0), 2, 2),
    "centre of the start hole in section coordinates; left out: the plan looks for the best place",
);
const ELECTRODE: Field = Field::new(
    "electrode",
    Want::Length(SIZE),
    "diameter of the electrode that burns it, one of the shop's; left out: the plan chooses",
);

pub(crate) const FIELDS: &[Field] = &[AT, ELECTRODE];

/// Reads the table.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Start {
    Start {
        at: reader.lengths(part, &AT).and_then(|at| at.try_into().ok()),
        electrode: reader.length(part, &ELECTRODE),
    }
}
