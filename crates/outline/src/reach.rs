//! What a round wire reaches inside an outline, and which corners it misses by how much.
//!
//! 1. The centre paths are the certified inward parallel at the wire's radius.
//! 2. The edges it reaches are those paths grown again by the radius, certified too.
//! 3. The certificate of 1 tells which share of the outline casts the paths: that share is touched by the wire. What lies
//!    between is missed, and its depth is found by branch and bound: along the edge, the distance to the paths changes
//!    no faster than the way along it.

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
    let traced = trace(outline, radius)?;
    let mut edges = Vec::with_capacity(traced.outlines.len());
    for path in &traced.outlines {
        // Grown by its own radius a path closes off no pockets: the outline has no holes for them to hide in.
        edges.extend(parallel(path, -radius)?.into_iter().next());
    }
    let missed = misses(outline, radius, &traced)?;
    Ok(Reach { centre_paths: traced.outlines, edges, missed })
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

/// A stretch that may hold the deepest place, and the most that it can be.
struct Candidate {
    most: f64,
    stretch: Stretch,
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
    let mut best = Miss { place: segments[run[0].0].at(run[0].1), depth: f64::NEG_INFINITY };
    let mut look = |index: usize, share: f64| {
        let curve = &segments[index];
        // The ends themselves, not what the circle's formula makes of them.
        let place = if share == 0.0 {
            curve.from
        } else if share == 1.0 {
            curve.to
        } else {
            curve.at(share)
        };
        let depth = paths.nearest_from(place, 0).1 - radius;
        if depth > best.depth {
            best = Miss { place, depth };
        }
        (depth, best)
    };
    let mut open = BinaryHeap::new();
    for &(index, low, high) in run {
        let ends = look(index, low).0 + look(index, high).0;
        let most = 0.5 * (ends + (high - low) * segments[index].length);
        open.push(Candidate { most, stretch: (index, low, high) });
    }
    for _ in 0..MOST_LOOKS {
        let Some(Candidate { most, stretch: (index, low, high) }) = open.pop() else {
            return Ok(look(run[0].0, run[0].1).1);
        };
        let middle = 0.5 * (low + high);
        let (depth, best) = look(index, middle);
        // What cannot come above the least miss listed need not be known any better; a fillet of just the wire's radius
        // is touched all along and would never be settled to 1 nm.
        if most <= (best.depth + DEPTH_TOLERANCE).max(LEAST_MISS) {
            return Ok(best);
        }
        // Half a half-stretch beyond the place between that both of its ends allow.
        for (from, to) in [(low, middle), (middle, high)] {
            let half = (to - from) * segments[index].length;
            let end = if from == low { look(index, from).0 } else { look(index, to).0 };
            open.push(Candidate { most: 0.5 * (depth + end + half), stretch: (index, from, to) });
        }
    }
    Err(ParallelError::Unsettled { place: best.place })
}
