//! A closed outline: valid by construction, counter-clockwise, beginning at the vertex it was given first.

use std::sync::OnceLock;

use crate::box_tree::BoxTree;
use crate::measures::signed_area;
use crate::validity::defects;
use crate::{Defect, Segment, Vertex};

/// A closed outline of lines and arcs. Always counter-clockwise, never meeting itself; the last segment leads back to the
/// first vertex.
#[derive(Debug, Clone)]
pub struct Outline {
    vertices: Vec<Vertex>,
    tree: OnceLock<BoxTree>,
}

/// Two outlines are equal if they have the same vertices in the same order.
impl PartialEq for Outline {
    fn eq(&self, other: &Self) -> bool {
        self.vertices == other.vertices
    }
}

impl Outline {
    /// The outline through these vertices. Clockwise ones are turned round; the first vertex stays the first.
    ///
    /// # Errors
    /// Everything that is wrong, each with its place: numbers that are not finite or absurdly large, fewer than two
    /// vertices, arcs of more than half a circle, segments of no length, crossings, touches, nothing enclosed.
    /// Pieces that cross once more within 1e-7 mm of their own joint are taken: there they are tangent to within rounding,
    /// and a parallel is full of such joints.
    pub fn new(vertices: Vec<Vertex>) -> Result<Outline, Vec<Defect>> {
        let found = defects(&vertices);
        if !found.is_empty() {
            return Err(found);
        }
        Ok(Self::sound(match signed_area(&vertices) < 0.0 {
            true => other_way_round(&vertices),
            false => vertices,
        }))
    }

    /// An outline whose validity follows from that of another one.
    pub(crate) fn sound(vertices: Vec<Vertex>) -> Outline {
        Self { vertices, tree: OnceLock::new() }
    }

    /// Its vertices, counter-clockwise.
    pub fn vertices(&self) -> &[Vertex] {
        &self.vertices
    }

    /// The same loop and the same first vertex, clockwise: what the edge of a hole looks like.
    pub fn clockwise_vertices(&self) -> Vec<Vertex> {
        other_way_round(&self.vertices)
    }

    /// Its segments, in order.
    pub fn segments(&self) -> impl ExactSizeIterator<Item = Segment> + Clone + '_ {
        segments_of(&self.vertices)
    }

    /// Its pieces under boxes, built when first asked for.
    pub(crate) fn tree(&self) -> &BoxTree {
        self.tree.get_or_init(|| BoxTree::new(self.segments()))
    }
}

/// The segments of a closed run of vertices.
pub(crate) fn segments_of(vertices: &[Vertex]) -> impl ExactSizeIterator<Item = Segment> + Clone + '_ {
    let n = vertices.len();
    (0..n).map(move |i| Segment {
        from: vertices[i].point,
        to: vertices[(i + 1) % n].point,
        bulge: vertices[i].bulge,
    })
}

/// The same loop travelled the other way, from the same first vertex.
pub(crate) fn other_way_round(vertices: &[Vertex]) -> Vec<Vertex> {
    let n = vertices.len();
    (0..n)
        .map(|i| Vertex { point: vertices[(n - i) % n].point, bulge: -vertices[(2 * n - i - 1) % n].bulge })
        .collect()
}
