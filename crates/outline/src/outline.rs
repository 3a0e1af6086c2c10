//! A closed outline: valid by construction, counter-clockwise, beginning at the vertex it was given first.

use std::sync::{Arc, OnceLock};

use crate::box_tree::BoxTree;
use crate::kept::Kept;
use crate::largest_circle::search;
use crate::measures::signed_area;
use crate::narrowest::look;
use crate::parallel::Traced;
use crate::validity::defects;
use crate::{
    Defect, LargestCircle, LargestCircleError, Narrowest, NarrowestError, ParallelError, Reach, Segment,
    Vector, Vertex,
};

/// A closed outline of lines and arcs. Always counter-clockwise, never meeting itself; the last segment leads back to the
/// first vertex. Copies share what has been worked out about it: a question that is asked again costs nothing.
#[derive(Debug, Clone)]
pub struct Outline(Arc<Known>);

/// An outline and what was worked out about it.
#[derive(Debug)]
struct Known {
    vertices: Vec<Vertex>,
    tree: OnceLock<BoxTree>,
    circle: OnceLock<Result<LargestCircle, LargestCircleError>>,
    narrowest: OnceLock<Result<Option<Narrowest>, NarrowestError>>,
    /// By the bits of the distance.
    parallels: Kept<u64, Result<Arc<Traced>, ParallelError>>,
    /// By the bits of the radius.
    reaches: Kept<u64, Result<Reach, ParallelError>>,
    /// By the bits of the way.
    moved: Kept<[u64; 2], Outline>,
}

/// Two outlines are equal if they have the same vertices in the same order.
impl PartialEq for Outline {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0.vertices == other.0.vertices
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
        Self(Arc::new(Known {
            vertices,
            tree: OnceLock::new(),
            circle: OnceLock::new(),
            narrowest: OnceLock::new(),
            parallels: Kept::default(),
            reaches: Kept::default(),
            moved: Kept::default(),
        }))
    }

    /// Its vertices, counter-clockwise.
    pub fn vertices(&self) -> &[Vertex] {
        &self.0.vertices
    }

    /// The same loop and the same first vertex, clockwise: what the edge of a hole looks like.
    pub fn clockwise_vertices(&self) -> Vec<Vertex> {
        other_way_round(&self.0.vertices)
    }

    /// Its segments, in order.
    pub fn segments(&self) -> impl ExactSizeIterator<Item = Segment> + Clone + '_ {
        segments_of(&self.0.vertices)
    }

    /// Its pieces under boxes, built when first asked for.
    pub(crate) fn tree(&self) -> &BoxTree {
        self.0.tree.get_or_init(|| BoxTree::new(self.segments()))
    }

    /// The largest circle in it.
    pub(crate) fn circle(&self) -> Result<LargestCircle, LargestCircleError> {
        *self.0.circle.get_or_init(|| search(self, &[]))
    }

    /// Its narrowest place.
    pub(crate) fn narrow(&self) -> Result<Option<Narrowest>, NarrowestError> {
        *self.0.narrowest.get_or_init(|| look(self, &[]))
    }

    /// Its parallel at a distance, unless `find` must look for it.
    pub(crate) fn parallel_or(
        &self,
        distance: f64,
        find: impl FnOnce() -> Result<Traced, ParallelError>,
    ) -> Result<Arc<Traced>, ParallelError> {
        self.0.parallels.or_found(distance.to_bits(), || find().map(Arc::new))
    }

    /// What a radius reaches in it, unless `find` must look for that.
    pub(crate) fn reach_or(
        &self,
        radius: f64,
        find: impl FnOnce() -> Result<Reach, ParallelError>,
    ) -> Result<Reach, ParallelError> {
        self.0.reaches.or_found(radius.to_bits(), find)
    }

    /// Itself elsewhere, unless `find` must make it.
    pub(crate) fn moved_or(&self, by: Vector, find: impl FnOnce() -> Outline) -> Outline {
        self.0.moved.or_found([by.x, by.y].map(f64::to_bits), find)
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
