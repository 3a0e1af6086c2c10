//! Closed outlines of lines and circular arcs: validity, measures, parallels, circles, reach.
//!
//! Lengths are millimetres in plain f64, angles radians. Knows nothing of dies.

mod bounds;
mod box_tree;
mod boxes;
mod certify;
mod close_up;
mod corners;
mod curve;
mod defect;
mod joined;
mod largest_circle;
mod leftover;
mod level_set;
mod measures;
mod meeting;
mod moves;
mod nearest;
mod nesting;
mod outline;
mod parallel;
mod piece;
mod point;
mod reach;
mod ring;
mod runs;
mod segment;
mod soundings;
mod source;
mod spans;
mod survivors;
mod told;
mod validity;
mod vertex;

pub use bounds::Bounds;
pub use certify::{COLLAPSE_TOLERANCE, DISTANCE_TOLERANCE, Fault};
pub use close_up::{ClosedUp, close_up};
pub use corners::Corner;
pub use defect::{Defect, DefectKind};
pub use largest_circle::{LargestCircle, LargestCircleError, largest_circle};
pub use leftover::{DUST_AREA, LEFTOVER_SAGITTA, Leftover, TooFar, leftover};
pub use measures::SecondMoments;
pub use nearest::Nearest;
pub use nesting::{meeting_pairs, nesting};
pub use outline::Outline;
pub use parallel::{ParallelError, parallel};
pub(crate) use piece::Piece;
pub use point::{Point, Vector};
pub use reach::{DEPTH_TOLERANCE, LEAST_MISS, Miss, Reach, reach};
pub use segment::Segment;
pub use vertex::Vertex;
