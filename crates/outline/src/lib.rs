//! Closed outlines of lines and circular arcs: validity, measures, parallels, circles, reach.
//!
//! Lengths are millimetres in plain f64, angles radians. Knows nothing of dies.

mod bounds;
mod box_tree;
mod close_up;
mod corners;
mod defect;
mod joined;
mod largest_circle;
mod level_set;
mod measures;
mod meeting;
mod moves;
mod nearest;
mod nesting;
mod outline;
mod piece;
mod point;
mod segment;
mod soundings;
mod validity;
mod vertex;

pub use bounds::Bounds;
pub use close_up::{ClosedUp, close_up};
pub use corners::Corner;
pub use defect::{Defect, DefectKind};
pub use largest_circle::{LargestCircle, LargestCircleError, largest_circle};
pub use measures::SecondMoments;
pub use nearest::Nearest;
pub use nesting::{meeting_pairs, nesting};
pub use outline::Outline;
pub(crate) use piece::Piece;
pub use point::{Point, Vector};
pub use segment::Segment;
pub use vertex::Vertex;
