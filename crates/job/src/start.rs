//! What a person states about the start hole of an edge; what is left out, the plan chooses.

use crate::back_bore::{self, BACK_BORE, BackBore};
use crate::edge::Contour;
use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::measured::{self, MEASURED, Measured};
use crate::position::{self, POSITION, Position};
use crate::reader::{Part, Reader, place_of};

/// Where the cut of an edge begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Begins {
    /// In a start hole.
    InHole,
    /// At the edge of the block that a piece is cut out of: no hole.
    AtBlockEdge,
}

/// What is stated about a start hole. Lengths in mm, section coordinates.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Start {
    /// Where the cut begins; none: in a hole.
    pub from: Option<Known<Begins>>,
    /// Where its centre lies; none: the plan looks for the place.
    pub at: Option<[Known<f64>; 2]>,
    /// Diameter of the electrode that burns it; none: the plan chooses one of the shop's.
    pub electrode: Option<Known<f64>>,
    /// How the wire machine knows where it is; none: by a shared datum.
    pub position: Option<Known<Position>>,
    /// The hole as it was measured; none: it is not burned yet.
    pub measured: Option<Measured>,
    /// Bore from the back that shortens what must be burned.
    pub back_bore: Option<BackBore>,
}

const FROM: Field = Field::new(
    "from",
    Want::Word(&["hole", "edge"]),
    "hole: the cut begins in a start hole; edge: at the edge of the block that a piece is cut out of, with no hole; left out: hole",
);
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

pub(crate) const FIELDS: &[Field] = &[FROM, AT, ELECTRODE, POSITION, MEASURED, BACK_BORE];

/// What speaks of a hole.
const OF_HOLES: &[&Field] = &[&AT, &ELECTRODE, &POSITION, &MEASURED, &BACK_BORE];

/// What a section may state for all its edges.
pub(crate) const OF_SECTION: &[Field] = &[POSITION, BACK_BORE];

/// Reads the table of an edge.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Start {
    let from = reader
        .text(part, &FROM)
        .map(|word| word.map(|word| if word == "edge" { Begins::AtBlockEdge } else { Begins::InHole }));
    if from.as_ref().is_some_and(|from| from.value == Begins::AtBlockEdge) {
        for field in OF_HOLES.iter().filter(|field| part.has(field)) {
            let place = part.place(&reader.source, field);
            let message =
                format!("`{}` speaks of a start hole, and this cut begins at the block's edge", field.key);
            reader.fault("hole-of-edge-start", place, message, "leave it out, or write `from = \"hole\"`");
        }
    }
    Start {
        from,
        at: reader.lengths(part, &AT).and_then(|at| at.try_into().ok()),
        electrode: reader.length(part, &ELECTRODE),
        measured: measured::read(reader, part),
        ..of_section(reader, part)
    }
}

/// Reads the table of a section.
pub(crate) fn of_section(reader: &mut Reader, part: &Part) -> Start {
    Start {
        position: position::read(reader, part),
        back_bore: back_bore::read(reader, part),
        ..Start::default()
    }
}

impl Start {
    /// Takes what the section states where the edge states nothing.
    pub(crate) fn left_to(&mut self, section: &Start) {
        if self.at_block_edge() {
            return;
        }
        self.position = self.position.take().or_else(|| section.position.clone());
        self.back_bore = self.back_bore.take().or_else(|| section.back_bore.clone());
    }

    /// Whether the cut begins at the block's edge, with no hole.
    pub fn at_block_edge(&self) -> bool {
        self.from.as_ref().is_some_and(|from| from.value == Begins::AtBlockEdge)
    }

    /// How the wire machine knows where the hole is.
    pub fn method(&self) -> Position {
        self.position.as_ref().map_or(Position::SharedDatum, |position| position.value)
    }
}

/// Only a piece can be begun at the edge of the block that it is cut out of.
pub(crate) fn check_side(reader: &mut Reader, name: &str, start: &Start, side: Contour) {
    if let Some(from) = start.from.as_ref().filter(|_| start.at_block_edge() && side == Contour::Inside) {
        let message = format!("{name} is an opening, and its cut is to begin at the block's edge");
        let cure = "leave `from` out, or write `side = \"outside\"` if it is the outline of a piece";
        reader.fault("edge-start-of-opening", place_of(&from.from), message, cure);
    }
}

/// What cannot be together: two holes followed in one block, a followed hole with a measured place, a bore through the
/// block.
pub(crate) fn check<'s>(reader: &mut Reader, starts: impl Iterator<Item = &'s Start>, height: f64) {
    let mut followed = 0;
    for start in starts {
        if let Some(position) = &start.position
            && position.value == Position::Following
        {
            followed += 1;
            let place = place_of(&position.from);
            if followed == 2 {
                let message =
                    "a second hole is to be followed: the whole program shifts with the first".to_owned();
                let cure =
                    "follow the hole with the least room, at its own edge; the others keep \"shared datum\"";
                reader.fault("followed-twice", place.clone(), message, cure);
            }
            if start.measured.is_some() {
                let message = "this hole is to be followed, and its place is measured from the datum: with a datum that is fixed nothing shifts".to_owned();
                let cure = "take `position` out if the outside is finished, or `measured` if it is not";
                reader.fault("followed-and-measured", place, message, cure);
            }
        }
        if let Some(bore) = &start.back_bore
            && bore.depth.value >= height
        {
            let message = format!(
                "the back bore is {} mm deep, the block {height} mm high: no floor is left for the cutting edge",
                bore.depth.value
            );
            reader.fault(
                "bored-through",
                place_of(&bore.depth.from),
                message,
                "leave a floor of 5 mm or more",
            );
        }
    }
}
