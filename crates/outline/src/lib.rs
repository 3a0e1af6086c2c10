//! Closed outlines of lines and circular arcs: validity, measures, parallels, circles, reach.
//!
//! Lengths are millimetres in plain f64, angles radians. Knows nothing of dies.

mod outline;
mod point;
mod segment;
mod vertex;

pub use outline::Outline;
pub use point::{Point, Vector};
pub use segment::Segment;
pub use vertex::Vertex;
