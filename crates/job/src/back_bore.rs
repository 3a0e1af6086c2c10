//! A bore from the back, made while the block is soft, that shortens what must be burned.

use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// A back bore. Lengths in mm, section coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct BackBore {
    /// Its diameter.
    pub diameter: Known<f64>,
    /// Its depth from the back.
    pub depth: Known<f64>,
    /// Its centre; none: the middle of the opening's bounds.
    pub at: Option<[Known<f64>; 2]>,
}

const DIAMETER: Field = Field::required("diameter", Want::Length(SIZE), "diameter of the bore");
const DEPTH: Field = Field::required(
    "depth",
    Want::Length(SIZE),
    "depth of the bore from the back; the floor is what is left",
);
const AT: Field = Field::new(
    "at",
    Want::Lengths(limits(-1000.0, 1000.0), 2, 2),
    "centre of the bore in section coordinates; left out: the middle of the opening",
);

pub(crate) const BACK_BORE: Field = Field::new(
    "back_bore",
    Want::Table(&[DIAMETER, DEPTH, AT]),
    "bore from the back, made while soft, that shortens what must be burned",
);

/// Reads the table.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Option<BackBore> {
    let table = reader.table(part, &BACK_BORE)?;
    let (diameter, depth) = (reader.length(&table, &DIAMETER), reader.length(&table, &DEPTH));
    let at = reader.lengths(&table, &AT).and_then(|at| at.try_into().ok());
    Some(BackBore { diameter: diameter?, depth: depth?, at })
}
