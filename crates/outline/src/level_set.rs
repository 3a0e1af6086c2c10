//! The place of least x, or least y, among all that are as deep as the deepest to within a tie.
//!
//! Each square is cut down to what its bounds leave of it at that depth. Squares come in order of the least coordinate that
//! is left in them; the search ends when that is no less than the least one found, to within `STEP`.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use crate::largest_circle::{LargestCircleError, Search, Square, TIE};
use crate::soundings::Known;
use crate::told::Told;
use crate::{Point, Vector};

/// Coordinates are found to within this, mm.
const STEP: f64 = 1e-6;

/// The coordinate to be least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Axis {
    X,
    Y,
}

impl Axis {
    fn of(self, place: Point) -> f64 {
        match self {
            Axis::X => place.x,
            Axis::Y => place.y,
        }
    }
}

/// A square and the least coordinate that a deep place in it may have.
struct Cut {
    least: f64,
    square: Square,
}

impl PartialEq for Cut {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Cut {}
impl PartialOrd for Cut {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
/// The least coordinate comes first.
impl Ord for Cut {
    fn cmp(&self, other: &Self) -> Ordering {
        other.least.total_cmp(&self.least).then(other.square.cmp(&self.square))
    }
}

/// The place of least coordinate, of those that are as deep as the best and not right of `limit`. `known` are some of them.
pub(crate) fn least_along(
    search: &mut Search<'_>,
    axis: Axis,
    known: &[Point],
    limit: f64,
) -> Result<Point, LargestCircleError> {
    let floor = search.best.depth - TIE;
    let mut found = known[0];
    let keep = |search: &mut Search<'_>, place: Point, found: &mut Point| {
        let deep = place.x <= limit && search.look(place, Known::default()).is_some_and(|s| s.depth >= floor);
        if deep && axis.of(place) < axis.of(*found) {
            *found = place;
        }
    };
    known.iter().for_each(|place| keep(search, *place, &mut found));
    let start: Vec<Square> =
        search.open.iter().copied().filter(|square| square.middle.x - square.half <= limit).collect();
    let mut queue: BinaryHeap<Cut> =
        start.into_iter().map(|square| Cut { least: axis.of(square.middle) - square.half, square }).collect();
    while let Some(cut) = queue.pop() {
        if cut.least >= axis.of(found) - STEP {
            break;
        }
        let square = cut.square;
        let bounded = search.bounds(&square)?;
        let corners = remains(&square, &bounded.told, floor, limit);
        if bounded.upper < floor || corners.is_empty() {
            continue;
        }
        let least = corners.iter().map(|p| axis.of(*p)).fold(f64::INFINITY, f64::min);
        let step = bounded.told.highest(square.rho()).step;
        keep(search, square.middle, &mut found);
        keep(search, square.middle + step, &mut found);
        corners.iter().for_each(|corner| keep(search, *corner, &mut found));
        let quarters = square
            .bounded(&bounded)
            .quarters()
            .into_iter()
            .filter(|quarter| quarter.middle.x - quarter.half <= limit);
        queue.extend(quarters.map(|q| Cut { least: least.max(axis.of(q.middle) - q.half), square: q }));
    }
    Ok(found)
}

/// Corners of what the bounds leave of a square at depth `floor` and up to x = `limit`.
fn remains(square: &Square, told: &Told, floor: f64, limit: f64) -> Vec<Point> {
    let h = square.half;
    let mut corners = [(-h, -h), (h, -h), (h, h), (-h, h)].map(|(x, y)| Vector::new(x, y)).to_vec();
    for bound in told.plain() {
        corners = cut_by(&corners, |v| bound.value + bound.rise.dot(v) - floor);
    }
    if limit.is_finite() {
        corners = cut_by(&corners, |v| limit - (square.middle.x + v.x));
    }
    corners.into_iter().map(|v| square.middle + v).collect()
}

/// The part of a convex polygon in which a linear function is not negative.
fn cut_by(corners: &[Vector], height: impl Fn(Vector) -> f64) -> Vec<Vector> {
    let mut left = Vec::with_capacity(corners.len() + 1);
    for (i, &a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let (ha, hb) = (height(a), height(b));
        if ha >= 0.0 {
            left.push(a);
        }
        if (ha < 0.0) != (hb < 0.0) {
            left.push(a + (b - a) * (ha / (ha - hb)));
        }
    }
    left
}
