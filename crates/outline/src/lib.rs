//! Closed outlines of lines and circular arcs: validity, measures, parallels, circles, reach.
//!
//! Lengths are millimetres in plain f64, angles radians. Knows nothing of dies.

mod bounds;
mod box_tree;
mod defect;
mod measures;
mod meeting;
mod moves;
mod nearest;
mod outline;
mod piece;
mod point;
mod segment;
mod validity;
mod vertex;

pub use bounds::Bounds;
pub use defect::{Defect, DefectKind};
pub use measures::SecondMoments;
pub use nearest::Nearest;
pub use outline::Outline;
pub(crate) use piece::Piece;
pub use point::{Point, Vector};
pub use segment::Segment;
pub use vertex::Vertex;
