//! Why a stress is not given: what was found, where, and what would cure it.

use crate::{Edge, Stresses};
use outline::Point;
use std::fmt;

/// One reason.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// A sharp corner cuts into the plate.
    Sharp {
        /// The edge that has it.
        edge: Edge,
        /// Where.
        at: Point,
    },
    /// Two edges meet.
    Meeting {
        /// One of them.
        one: Edge,
        /// The other.
        other: Edge,
        /// Where.
        at: Point,
    },
    /// An opening lies outside the plate.
    Outside {
        /// Which.
        opening: usize,
        /// Its first vertex.
        at: Point,
    },
    /// An opening lies within another one.
    Within {
        /// Which.
        opening: usize,
        /// The one around it.
        around: usize,
        /// Its first vertex.
        at: Point,
    },
    /// Elastic constants that no plate has.
    Material {
        /// Young's modulus, MPa.
        e_mpa: f64,
        /// Poisson's ratio.
        nu: f64,
    },
    /// A load or support whose edge, segment or figure cannot be.
    Stray {
        /// What is wrong with it.
        what: String,
    },
    /// An aim that cannot be met by any number of elements.
    Aim {
        /// What is wrong with it.
        what: String,
    },
    /// The loads push the plate away and no support stands against it.
    Unheld {
        /// Share of the loads that nothing stands against.
        share: f64,
    },
    /// A wall so thin that its triangles cannot be made.
    TooThin {
        /// Where.
        at: Point,
    },
    /// The edges alone ask for more elements than are allowed.
    TooFine {
        /// Elements allowed.
        most: usize,
    },
    /// The equations were not solved to the accuracy that f64 allows.
    Unsolved {
        /// Share of the loads that the answer leaves over.
        left: f64,
    },
    /// The peak had not settled when the elements ran out.
    Unsettled {
        /// What was found so far: no answer, a hint.
        last: Box<Stresses>,
    },
}

impl fmt::Display for Edge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Edge::Outer => write!(f, "the outer edge"),
            Edge::Opening(i) => write!(f, "opening {i}"),
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::Sharp { edge, at } => {
                write!(
                    f,
                    "at x {} y {}: sharp corner of {edge}: stress has no limit; give it a radius",
                    at.x, at.y
                )
            }
            Refusal::Meeting { one, other, at } => {
                write!(
                    f,
                    "at x {} y {}: {one} and {other} meet; there must be metal between them",
                    at.x, at.y
                )
            }
            Refusal::Outside { opening, at } => {
                write!(
                    f,
                    "at x {} y {}: opening {opening} lies outside the outer edge; move it in",
                    at.x, at.y
                )
            }
            Refusal::Within { opening, around, at } => {
                write!(
                    f,
                    "at x {} y {}: opening {opening} lies within opening {around}; leave it out",
                    at.x, at.y
                )
            }
            Refusal::Material { e_mpa, nu } => write!(
                f,
                "Young's modulus {e_mpa} MPa, Poisson's ratio {nu}: the first must be above 0, the second from 0 up to below 0.49"
            ),
            Refusal::Stray { what } | Refusal::Aim { what } => f.write_str(what),
            Refusal::Unheld { share } => write!(
                f,
                "a share of {share:.2e} of the loads pushes the plate away and nothing stands against it; add a support"
            ),
            Refusal::TooThin { at } => {
                write!(f, "at x {} y {}: too thin to be divided into triangles; leave more metal", at.x, at.y)
            }
            Refusal::TooFine { most } => {
                write!(
                    f,
                    "two rounds take more than {most} elements; allow more, or draw the edges with fewer segments"
                )
            }
            Refusal::Unsolved { left } => {
                write!(
                    f,
                    "the equations were solved only to a share of {left:.1e} of the loads; is a wall far stiffer than the plate?"
                )
            }
            Refusal::Unsettled { last } => write!(
                f,
                "the peak, near {:.0} MPa, still changed by a share of {:.3} at {} elements; allow more elements or a coarser aim",
                last.tension.mpa, last.error_share, last.elements
            ),
        }
    }
}

impl std::error::Error for Refusal {}
