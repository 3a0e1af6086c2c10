//! What a round wire reaches inside an outline, and which corners it misses by how much.
//!
//! 1. The centre paths are the certified inward parallel at the wire's radius.
//! 2. The edges it reaches are those paths grown again by the radius, certified too.
//! 3. The certificate of 1 tells which share of the outline casts the paths: that share is touched by the wire. What lies
//!    between is missed, and its depth is found by branch and bound: along the edge, the distance to the paths changes
//!    no faster than the way along it, and is nowhere more than that to the feet of places near by.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use crate::box_tree::BoxTree;
use crate::curve::Curve;
use crate::parallel::{Traced, trace};
use crate::{Outline, ParallelError, Point, parallel};

/// Misses no deeper than this are not listed, mm.
pub const LEAST_MISS: f64 = 1e-4;

/// Depths are right to this, mm.
pub const DEPTH_TOLERANCE: f64 = 1e-6;

/// Looks at a stretch before its depth counts as beyond settling; a flat one takes some thousands.
const MOST_LOOKS: usize = 200_000;

/// What a wire reaches.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    /// Where its centre can run: the inward parallels at its radius. Several when narrow places part them.
    pub centre_paths: Vec<Outline>,
    /// The edge it makes along each path: the outline's own but for rounded corners.
    pub edges: Vec<Outline>,
    /// Where it leaves metal, in order along the outline from its first vertex.
    pub missed: Vec<Miss>,
}

/// A stretch of the outline that the wire does not touch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Miss {
    /// The point of the outline that is missed by most.
    pub place: Point,
    /// By how much, mm.
    pub depth: f64,
}

/// What a round wire of this radius, mm, reaches inside an outline.
///
/// A wire that does not fit anywhere (radius not below the inscribed radius) reaches nothing: no paths, no edges, and no
/// misses either, since there is nothing to measure them from.
///
/// # Errors
/// A radius that is not above 0, a parallel that cannot be proved, a depth that cannot be settled to 1 nm.
pub fn reach(outline: &Outline, radius: f64) -> Result<Reach, ParallelError> {
    if radius.is_nan() || radius <= 0.0 {
        return Err(ParallelError::Distance(radius));
    }
    outline.reach_or(radius, || look_at(outline, radius))
}

fn look_at(outline: &Outline, radius: f64) -> Result<Reach, ParallelError> {
    let traced = trace(outline, radius)?;
    let mut edges = Vec::with_capacity(traced.outlines.len());
    for path in &traced.outlines {
        // Grown by its own radius a path closes off no pockets: the outline has no holes for them to hide in.
        edges.extend(parallel(path, -radius)?.into_iter().next());
    }
    let missed = misses(outline, radius, &traced)?;
    Ok(Reach { centre_paths: traced.outlines.clone(), edges, missed })
}

/// A stretch of one segment, as shares of its length.
type Stretch = (usize, f64, f64);

fn misses(outline: &Outline, radius: f64, traced: &Traced) -> Result<Vec<Miss>, ParallelError> {
    if traced.outlines.is_empty() {
        return Ok(Vec::new());
    }
    let segments: Vec<Curve> = outline.segments().map(|segment| Curve::new(&segment)).collect();
    let paths = BoxTree::new(traced.outlines.iter().flat_map(Outline::segments));
    let mut missed = Vec::new();
    for run in runs(&segments, traced) {
        let length: f64 = run.iter().map(|&(i, low, high)| (high - low) * segments[i].length).sum();
        // Both ends of a run are touched, so it is at most half its length deep.
        if 0.5 * length > LEAST_MISS {
            let deepest = deepest(&segments, &run, &paths, radius)?;
            missed.extend((deepest.depth > LEAST_MISS).then_some(deepest));
        }
    }
    Ok(missed)
}

/// The maximal runs of stretches that no path is cast by, in order along the outline.
fn runs(segments: &[Curve], traced: &Traced) -> Vec<Vec<Stretch>> {
    let mut runs: Vec<Vec<Stretch>> = Vec::new();
    let mut joined = false;
    for index in 0..segments.len() {
        for (low, high) in traced.coverage.segments[index].gaps() {
            match runs.last_mut() {
                Some(run) if joined && low == 0.0 => run.push((index, low, high)),
                _ => runs.push(vec![(index, low, high)]),
            }
            joined = high == 1.0;
        }
        joined &= traced.coverage.corners[index].is_empty() && !ends_covered(traced, index);
    }
    let around = joined && runs.len() > 1 && runs[0][0].0 == 0 && runs[0][0].1 == 0.0;
    if around {
        // What runs through the first vertex is one run, and stands first.
        let first = runs.remove(0);
        if let Some(mut last) = runs.pop() {
            last.extend(first);
            runs.insert(0, last);
        }
    }
    runs
}

/// Whether the end of a segment is touched.
fn ends_covered(traced: &Traced, index: usize) -> bool {
    traced.coverage.segments[index].gaps().last().is_none_or(|(_, high)| high < 1.0)
}

/// A place of the outline and how the paths lie from it.
#[derive(Debug, Clone, Copy)]
struct Look {
    place: Point,
    /// The nearest point of the paths.
    foot: Point,
    distance: f64,
}

/// A stretch that may hold the deepest place, its ends, and the farthest from the paths that it can be.
struct Candidate {
    most: f64,
    stretch: Stretch,
    ends: [Look; 2],
}

impl PartialEq for Candidate {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Candidate {}

impl PartialOrd for Candidate {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Candidate {
    fn cmp(&self, other: &Self) -> Ordering {
        let key = |c: &Self| (c.stretch.0, c.stretch.1);
        let ((a, low), (b, other_low)) = (key(self), key(other));
        self.most.total_cmp(&other.most).then(b.cmp(&a)).then(other_low.total_cmp(&low))
    }
}

/// The deepest place of a run, by branch and bound.
fn deepest(segments: &[Curve], run: &[Stretch], paths: &BoxTree, radius: f64) -> Result<Miss, ParallelError> {
    let mut best: Option<Look> = None;
    let mut open = BinaryHeap::new();
    for &(index, low, high) in run {
        let ends = [look(&segments[index], low, paths), look(&segments[index], high, paths)];
        best = deeper(best, ends[0]);
        best = deeper(best, ends[1]);
        open.push(Candidate::new(&segments[index], (index, low, high), ends));
    }
    for _ in 0..MOST_LOOKS {
        let Some(Candidate { most, stretch: (index, low, high), ends }) = open.pop() else { break };
        let middle = look(&segments[index], 0.5 * (low + high), paths);
        best = deeper(best, middle);
        // What cannot come above the least miss listed need not be known any better; a fillet of just the wire's radius
        // is touched all along and would never be settled to 1 nm.
        let settled = |best: &Look| most <= (best.distance + DEPTH_TOLERANCE).max(radius + LEAST_MISS);
        if let Some(best) = best.filter(settled) {
            return Ok(Miss { place: best.place, depth: best.distance - radius });
        }
        let [first, last] = ends;
        let share = 0.5 * (low + high);
        open.push(Candidate::new(&segments[index], (index, low, share), [first, middle]));
        open.push(Candidate::new(&segments[index], (index, share, high), [middle, last]));
    }
    Err(ParallelError::Unsettled { place: best.map_or(segments[run[0].0].from, |best| best.place) })
}

fn look(curve: &Curve, share: f64, paths: &BoxTree) -> Look {
    // The ends themselves, not what the circle's formula makes of them.
    let place = match share {
        0.0 => curve.from,
        1.0 => curve.to,
        share => curve.at(share),
    };
    match paths.nearest(place, f64::INFINITY) {
        Some((_, foot)) => Look { place, foot: foot.point, distance: foot.distance },
        None => Look { place, foot: place, distance: f64::INFINITY },
    }
}

fn deeper(best: Option<Look>, other: Look) -> Option<Look> {
    Some(best.filter(|best| best.distance >= other.distance).unwrap_or(other))
}

impl Candidate {
    fn new(curve: &Curve, stretch: Stretch, ends: [Look; 2]) -> Self {
        let length = (stretch.2 - stretch.1) * curve.length;
        let [a, b] = ends;
        // Half the stretch beyond the place between that both of its ends allow.
        let by_length = 0.5 * (a.distance + b.distance + length);
        let rise = curve.at(0.5 * (stretch.1 + stretch.2)).distance(a.place.towards(b.place, 0.5));
        Self { most: by_length.min(by_feet(&a, &b) + rise), stretch, ends }
    }
}

/// The farthest from the paths that a place on the chord between two others can be: no farther than from the feet of both.
/// Along a line the distance to a point is convex, so it is greatest at an end or where both feet are equally far.
fn by_feet(a: &Look, b: &Look) -> f64 {
    let nearer_a = |place: Point| {
        let (to_a, to_b) = (place - a.foot, place - b.foot);
        to_a.dot(to_a) - to_b.dot(to_b)
    };
    let (first, last) = (nearer_a(a.place), nearer_a(b.place));
    let ends = a.distance.max(b.distance);
    match first < last {
        true => {
            let between = a.place.towards(b.place, (first / (first - last)).clamp(0.0, 1.0));
            ends.max(between.distance(a.foot))
        }
        // One foot for both.
        false => ends,
    }
}
