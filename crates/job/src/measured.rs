//! A start hole as it was measured after burning, at both of its ends.

use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// A measured hole. Both ends are seen on the cutting face, in section coordinates, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// At the cutting face.
    pub face: Rim,
    /// At the back, or at the floor of the back bore.
    pub back: Rim,
}

/// One end of a measured hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Rim {
    /// Centre, x.
    pub x: Known<f64>,
    /// Centre, y.
    pub y: Known<f64>,
    /// Diameter.
    pub diameter: Known<f64>,
}

const X: Field = Field::required(
    "x",
    Want::Length(limits(-1000.0, 1000.0)),
    "measured centre, x, seen on the cutting face",
);
const Y: Field = Field::required(
    "y",
    Want::Length(limits(-1000.0, 1000.0)),
    "measured centre, y, seen on the cutting face",
);
const DIAMETER: Field = Field::required("diameter", Want::Length(SIZE), "measured diameter");
const RIM: &[Field] = &[X, Y, DIAMETER];
const FACE: Field = Field::required("face", Want::Table(RIM), "the hole at the cutting face");
const BACK: Field =
    Field::required("back", Want::Table(RIM), "the hole at the back, or at the floor of the back bore");

pub(crate) const MEASURED: Field = Field::new(
    "measured",
    Want::Table(&[FACE, BACK]),
    "the burned hole as it was measured at both ends; taken instead of the predicted one",
);

/// Reads the table.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Option<Measured> {
    let table = reader.table(part, &MEASURED)?;
    let mut rim = |field| {
        let part = reader.table(&table, field)?;
        let (x, y) = (reader.length(&part, &X), reader.length(&part, &Y));
        let diameter = reader.length(&part, &DIAMETER);
        Some(Rim { x: x?, y: y?, diameter: diameter? })
    };
    let (face, back) = (rim(&FACE), rim(&BACK));
    Some(Measured { face: face?, back: back? })
}
