//! What is wrong with a run of vertices that should have been an outline.

use std::fmt;

use crate::Point;

/// The rule that was broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DefectKind {
    /// A coordinate or bulge is not a finite number.
    NotFinite,
    /// A coordinate lies beyond the largest that still resolves a nanometre.
    TooFar,
    /// Fewer than two vertices.
    TooFewVertices,
    /// An arc of more than half a circle.
    BulgeTooLarge,
    /// A segment of no length.
    ZeroLength,
    /// Two segments pass through each other.
    Crossing,
    /// Two segments meet where they should stay apart.
    Touching,
    /// The outline encloses nothing.
    NoArea,
    /// Closing up would have to move an edge farther than the join limit.
    BeyondJoinLimit,
}

/// One fault, where it is and what would cure it.
#[derive(Debug, Clone, PartialEq)]
pub struct Defect {
    /// The rule that was broken.
    pub kind: DefectKind,
    /// Where, mm; may hold the number that is not finite.
    pub place: Point,
    /// For people: what was found, which rule it breaks, what would cure it.
    pub message: String,
}

impl Defect {
    pub(crate) fn new(kind: DefectKind, place: Point, message: impl Into<String>) -> Self {
        Self { kind, place, message: message.into() }
    }
}

impl fmt::Display for Defect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "at x {} y {}: {}", self.place.x, self.place.y, self.message)
    }
}

impl std::error::Error for Defect {}
