//! The press that the die runs in.

use crate::field::{Field, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// A press.
#[derive(Debug, Clone, PartialEq)]
pub struct Press {
    /// Its rating, kN.
    pub force_kn: Known<f64>,
    /// Share of the rating that a die may take.
    pub use_at_most: Known<f64>,
}

const FORCE: Field =
    Field::new("force_kn", Want::Number(limits(0.1, 200_000.0), "kN"), "rating of the press");
const USE: Field = Field::new(
    "use_at_most",
    Want::Number(limits(0.05, 1.0), ""),
    "share of the rating that a die may take; the rest is for blunt edges and for what is not known",
);

pub(crate) const FIELDS: &[Field] = &[FORCE, USE];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Press) -> Press {
    Press {
        force_kn: reader.number(part, &FORCE).unwrap_or(built_in.force_kn),
        use_at_most: reader.number(part, &USE).unwrap_or(built_in.use_at_most),
    }
}
