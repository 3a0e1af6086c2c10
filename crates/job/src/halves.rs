//! A section that is made in two halves, where one piece cannot be started.

use crate::field::{Field, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};
use remark::Place;

/// How a section is split. Lengths in mm, section coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct Halves {
    /// The way that the joint runs on the face.
    pub along: Known<Along>,
    /// Where the joint lies across that way; none: where the tightest opening has most room.
    pub at: Option<Known<f64>>,
    /// Where it stands in the job file.
    pub place: Place,
}

/// The way that a joint runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// Along X: the halves lie at smaller and at greater y.
    X,
    /// Along Y: the halves lie at smaller and at greater x.
    Y,
}

const ALONG: Field = Field::required(
    "along",
    Want::Word(&["x", "y"]),
    "way that the joint runs on the face; x: one half at smaller y, one at greater",
);
const AT: Field = Field::new(
    "at",
    Want::Length(limits(-1000.0, 1000.0)),
    "where the joint lies, y for a joint along x, x for one along y; left out: where the tightest opening has most room",
);

pub(crate) const HALVES: Field = Field::new(
    "halves",
    Want::Table(&[ALONG, AT]),
    "the section is made in two halves, and openings that lie over the joint start in half-rounds ground into both; left out: one piece",
);

/// Reads the table of a section.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Option<Halves> {
    let table = reader.table(part, &HALVES)?;
    let along = reader.text(&table, &ALONG);
    let at = reader.length(&table, &AT);
    let along = along?.map(|word| if word == "x" { Along::X } else { Along::Y });
    Some(Halves { along, at, place: reader.place(&table) })
}
