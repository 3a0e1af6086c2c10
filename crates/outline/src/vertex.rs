//! A vertex of an outline: where a segment begins, and how that segment bends.

use crate::Point;

/// Start of a segment; bulge = tan(sweep / 4), positive when the segment turns counter-clockwise, 0 for a line.
/// At most half a circle: |bulge| <= 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    /// Where the segment begins.
    pub point: Point,
    /// How it bends.
    pub bulge: f64,
}

impl Vertex {
    /// A vertex at (x, y) whose segment has this bulge.
    pub const fn new(x: f64, y: f64, bulge: f64) -> Self {
        Self { point: Point::new(x, y), bulge }
    }
}
