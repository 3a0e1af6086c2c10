//! The outline whose parallel is asked for, taken apart: its segments, and the corners that a parallel rounds.

use crate::box_tree::BoxTree;
use crate::curve::Curve;
use crate::{Outline, Point, Vector};

/// A corner whose arc would be shorter than this has none, mm: it is as good as tangent.
const SHORTEST_CORNER: f64 = 1e-9;

/// An outline and the distance of its parallel, mm, positive to the left, which is inward.
#[derive(Debug)]
pub(crate) struct Source<'a> {
    /// Its pieces under boxes.
    pub(crate) tree: &'a BoxTree,
    pub(crate) distance: f64,
    curves: Vec<Curve>,
    /// For each segment, the corner at its end.
    corners: Vec<Option<Corner>>,
}

/// A vertex around which the parallel runs as an arc.
#[derive(Debug, Clone, Copy)]
struct Corner {
    place: Point,
    /// Unit direction to the middle of its arc.
    middle: Vector,
    /// Half the angle of its arc, radians.
    half: f64,
}

impl<'a> Source<'a> {
    /// Takes an outline apart.
    pub(crate) fn new(outline: &'a Outline, distance: f64) -> Self {
        let curves: Vec<Curve> = outline.segments().map(|segment| Curve::new(&segment)).collect();
        let n = curves.len();
        let directions: Vec<(Vector, Vector)> = curves.iter().map(Curve::end_directions).collect();
        let corner =
            |i: usize| Corner::new(curves[i].to, directions[i].1, directions[(i + 1) % n].0, distance);
        let corners = (0..n).map(corner).collect();
        Self { tree: outline.tree(), distance, curves, corners }
    }

    /// What distance and cuts a segment gives.
    pub(crate) fn curve(&self, index: usize) -> &Curve {
        &self.curves[index]
    }

    /// How many segments it has.
    pub(crate) fn len(&self) -> usize {
        self.corners.len()
    }

    /// What segment `index` casts at a distance of the same side; none once it has shrunk to nothing.
    pub(crate) fn cast_of_segment(&self, index: usize, distance: f64) -> Option<Curve> {
        self.curves[index].shifted(distance)
    }

    /// What the corner at the end of segment `index` casts; none if the parallel does not round it.
    pub(crate) fn cast_of_corner(&self, index: usize, distance: f64) -> Option<Curve> {
        let corner = self.corners[index]?;
        Some(Curve::around(corner.place, distance.abs(), corner.middle, corner.half, -distance.signum()))
    }
}

impl Corner {
    fn new(place: Point, before: Vector, after: Vector, distance: f64) -> Option<Self> {
        let side = distance.signum();
        let turn = before.cross(after).atan2(before.dot(after));
        if turn * side >= 0.0 || turn.abs() * distance.abs() < SHORTEST_CORNER {
            return None;
        }
        // Straight ahead serves where the two normals cancel: the tip of a spike.
        let normals = (before.left() + after.left()) * side;
        let ahead = before - after;
        let middle = if normals.length() > ahead.length() { normals.unit() } else { ahead.unit() }?;
        Some(Self { place, middle, half: 0.5 * turn.abs() })
    }
}
