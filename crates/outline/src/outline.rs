//! A closed outline: valid by construction, counter-clockwise, beginning at the vertex it was given first.

use crate::{Segment, Vertex};

/// A closed outline of lines and arcs. Always counter-clockwise; the last segment leads back to the first vertex.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    vertices: Vec<Vertex>,
}

impl Outline {
    /// Its vertices, counter-clockwise.
    pub fn vertices(&self) -> &[Vertex] {
        &self.vertices
    }

    /// Its segments, in order.
    pub fn segments(&self) -> impl ExactSizeIterator<Item = Segment> + Clone + '_ {
        let n = self.vertices.len();
        (0..n).map(move |i| Segment {
            from: self.vertices[i].point,
            to: self.vertices[(i + 1) % n].point,
            bulge: self.vertices[i].bulge,
        })
    }
}
