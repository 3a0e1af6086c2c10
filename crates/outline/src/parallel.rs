//! The certified parallel of an outline: what is left when it shrinks, or what it becomes when it grows.
//!
//! 1. An offset library makes a candidate, at its finest setting first.
//! 2. Joints and lines of no area are cleaned away.
//! 3. The certifier proves the candidate (see `certify`); if it cannot, the next coarser setting has its turn, and after
//!    the coarsest a candidate put together in another way (see `survivors`).
//!
//! No setting of the library is right for every input, and when one is wrong it is wrong by millimetres, so a candidate
//! without its proof is worth nothing.

use std::fmt;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use cavalier_contours::polyline::{
    CoincidentSegmentBehavior, PlineCreation, PlineOffsetOptions, PlineSource, PlineSourceMut, Polyline,
    TouchingLoopBehavior,
};

use crate::certify::{Coverage, Fault, certify};
use crate::ring::Ring;
use crate::source::Source;
use crate::survivors::survivors;
use crate::{Outline, Point, Vertex};

/// What the library takes as one place, and how far off the distance it lets a piece be, mm; finest first.
const LADDER: [(f64, f64); 4] = [(1e-9, 1e-8), (1e-8, 1e-7), (1e-7, 1e-6), (1e-5, 1e-4)];

/// Largest distance taken, mm: a thousand times what any block needs, and far from where rounding would matter.
const FARTHEST: f64 = 1e5;

/// Why there is no parallel to give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ParallelError {
    /// The distance is no number, or absurdly large.
    Distance(f64),
    /// No candidate could be proved.
    Unproved {
        /// Distance asked for, mm, positive inward.
        distance: f64,
        /// Where the finest candidate fails, mm.
        place: Point,
        /// What is wrong with it there.
        fault: Fault,
    },
    /// A depth could not be settled within the steps allowed.
    Unsettled {
        /// Where, mm.
        place: Point,
    },
}

impl fmt::Display for ParallelError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Distance(distance) => {
                write!(
                    f,
                    "a parallel at {distance} mm was asked for; distances go from -{FARTHEST} to {FARTHEST} mm"
                )
            }
            Self::Unproved { distance, place, fault } => write!(
                f,
                "the parallel at {distance} mm could not be proved: near x {:.6} y {:.6} {fault}; a distance changed \
                 by 0.0001 mm or an outline redrawn there usually cures it",
                place.x, place.y
            ),
            Self::Unsettled { place } => write!(
                f,
                "how deep the corner near x {:.6} y {:.6} is missed could not be settled to 1 nm; another radius \
                 usually cures it",
                place.x, place.y
            ),
        }
    }
}

impl std::error::Error for ParallelError {}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Strays => write!(f, "it strays from the distance"),
            Self::TooNear(by) => write!(f, "it comes {by:.2e} mm too near to the outline"),
            Self::Twice => write!(f, "it runs over the same stretch twice"),
            Self::Missing => write!(f, "a stretch of it is missing"),
            Self::WrongWay => write!(f, "a loop of it runs the wrong way round"),
            Self::Invalid => write!(f, "it touches or crosses itself"),
            Self::Open => write!(f, "a loop of it is not closed"),
            Self::NoCandidate => write!(f, "the offset gave up"),
        }
    }
}

/// The parallel of an outline. A positive distance goes inward, a negative one outward, mm.
///
/// Inward: every piece that is left, by its leftmost vertex; none when nothing is left. Outward: the outer edge first,
/// then the pockets that it closes off (each as an outline of its own; no metal of the grown shape lies in them).
/// Proved: each piece within 1e-7 mm ([`crate::DISTANCE_TOLERANCE`]) of its true distance and nothing missing, except
/// that a piece in which no circle of the distance + 1 nm ([`crate::COLLAPSE_TOLERANCE`]) fits may be left out or given.
///
/// # Errors
/// A distance that is no number or absurd; no candidate that can be proved, with the place where it fails.
pub fn parallel(outline: &Outline, distance: f64) -> Result<Vec<Outline>, ParallelError> {
    if distance == 0.0 {
        return Ok(vec![outline.clone()]);
    }
    trace(outline, distance).map(|traced| traced.outlines.clone())
}

/// A parallel, and which share of the outline casts it.
#[derive(Debug)]
pub(crate) struct Traced {
    pub(crate) outlines: Vec<Outline>,
    pub(crate) coverage: Coverage,
}

/// The parallel at a distance that is not 0, with its proof.
pub(crate) fn trace(outline: &Outline, distance: f64) -> Result<Arc<Traced>, ParallelError> {
    outline.parallel_or(distance, || find(outline, distance))
}

fn find(outline: &Outline, distance: f64) -> Result<Traced, ParallelError> {
    if distance.is_nan() || distance.abs() > FARTHEST {
        return Err(ParallelError::Distance(distance));
    }
    let source = Source::new(outline, distance);
    let polyline = polyline(outline);
    let mut first = None;
    for (place_step, distance_step) in LADDER {
        for apart in [true, false] {
            let options = options(place_step, distance_step, apart);
            match candidate(&polyline, distance, &options).and_then(|rings| proved(&source, rings)) {
                Ok(traced) => return Ok(traced),
                Err(fault) => first = first.or(Some(fault)),
            }
        }
    }
    if let Ok(traced) = proved(&source, survivors(&source)) {
        return Ok(traced);
    }
    let (place, fault) = first.unwrap_or((Point::new(f64::NAN, f64::NAN), Fault::Missing));
    Err(ParallelError::Unproved { distance, place, fault })
}

/// Stages 1 and 2 at one setting.
fn candidate(
    polyline: &Polyline,
    distance: f64,
    options: &PlineOffsetOptions<'_>,
) -> Result<Vec<Ring>, (Point, Fault)> {
    let place = polyline.vertex_data.first().map_or(Point::new(0.0, 0.0), |v| Point::new(v.x, v.y));
    // The library asserts what does not always hold near collapse; that is one more way to have no candidate.
    let found = catch_unwind(AssertUnwindSafe(|| polyline.parallel_offset_opt(distance, options)));
    let mut rings = Vec::new();
    for found in found.map_err(|_| (place, Fault::NoCandidate))? {
        let vertices: Vec<Vertex> = found.iter_vertexes().map(|v| Vertex::new(v.x, v.y, v.bulge)).collect();
        if !found.is_closed() {
            return Err((vertices.first().map_or(place, |vertex| vertex.point), Fault::Open));
        }
        rings.extend(Ring::cleaned(vertices));
    }
    Ok(rings)
}

/// Stage 3.
fn proved(source: &Source, mut rings: Vec<Ring>) -> Result<Traced, (Point, Fault)> {
    order(&mut rings);
    let coverage = certify(source, &rings)?;
    let outlines = rings.into_iter().map(outline_of).collect::<Result<_, _>>()?;
    Ok(Traced { outlines, coverage })
}

/// The outline of a certified ring.
fn outline_of(ring: Ring) -> Result<Outline, (Point, Fault)> {
    let leftmost = ring.leftmost();
    Outline::new(ring.vertices)
        .map_err(|defects| (defects.first().map_or(leftmost, |defect| defect.place), Fault::Invalid))
}

/// Counter-clockwise first, then by the leftmost vertex.
fn order(rings: &mut [Ring]) {
    rings.sort_by_cached_key(|ring| {
        let place = ring.leftmost();
        (ring.area() < 0.0, Ordered(place.x), Ordered(place.y))
    });
}

/// A number in its total order.
#[derive(PartialEq)]
struct Ordered(f64);

impl Eq for Ordered {}

impl PartialOrd for Ordered {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ordered {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

fn polyline(outline: &Outline) -> Polyline {
    let mut polyline = Polyline::with_capacity(outline.vertices().len(), true);
    for vertex in outline.vertices() {
        polyline.add(vertex.point.x, vertex.point.y, vertex.bulge);
    }
    polyline
}

/// `apart` keeps loops apart that touch and drops stretches that run back on themselves; the certifier decides whether
/// that was right, and the other way has its turn if not.
fn options(place_step: f64, distance_step: f64, apart: bool) -> PlineOffsetOptions<'static> {
    let mut options = PlineOffsetOptions::new();
    options.pos_equal_eps = place_step;
    options.offset_dist_eps = distance_step;
    if apart {
        options.touching_loop_behavior = TouchingLoopBehavior::Separate;
        options.coincident_segment_behavior = CoincidentSegmentBehavior::Discard;
    }
    options
}
