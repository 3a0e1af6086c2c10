//! How far the edge of one outline lies from that of another, all along it: the least, the most, and the whole run.
//! Distances are positive outside the other outline and negative inside it.
//!
//! 1. Least and most by branch and bound: the distance changes no faster than the way along the edge.
//! 2. A stretch outside lies no farther from the other outline than from any one piece of it; one inside has its least
//!    distance from pairs of pieces. Both bounds are taken at the few places where the distance of a line or arc from
//!    another can be extreme, so that a stretch of even distance is settled at one look.
//! 3. The run is cut in halves until straight lines between its places hold it, and thinned out again.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::fmt;

use crate::{Outline, Piece, Point, Segment, Vector};

/// Least and most are right to this, mm.
pub const APART_TOLERANCE: f64 = 1e-7;

/// Looks before a distance counts as beyond settling; outlines from drawings take some thousands.
const MOST_LOOKS: usize = 1_000_000;

/// A stretch of the run is cut in halves at most this often.
const HALVINGS: u32 = 12;

/// A place on the edge of the first outline, and how far the other one lies from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ApartAt {
    /// The place.
    pub place: Point,
    /// The distance, mm; negative inside the other outline.
    pub distance: f64,
}

/// The least and the most along the edge of the first outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apart {
    /// Where it is least.
    pub least: ApartAt,
    /// Where it is most.
    pub most: ApartAt,
}

/// A distance that could not be settled within the looks allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unsettled {
    /// Where the search stood, mm.
    pub place: Point,
}

impl fmt::Display for Unsettled {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "how far two edges lie apart near x {:.6} y {:.6} could not be settled; redrawing the outline there with \
             fewer segments usually cures it",
            self.place.x, self.place.y
        )
    }
}

impl std::error::Error for Unsettled {}

/// Least and most distance of the edge of `from` from that of `to`.
///
/// # Errors
/// A distance that could not be settled, with a place.
pub fn apart(from: &Outline, to: &Outline) -> Result<Apart, Unsettled> {
    let inside = |place| to.signed_distance(place);
    let deepest = highest(from, to, inside)?;
    let least = ApartAt { place: deepest.place, distance: -deepest.distance };
    let most = highest(from, to, |place| -inside(place))?;
    Ok(Apart { least, most })
}

/// The distance along `from`: way from its first vertex and distance, mm. Straight lines between the places given are right
/// to `tolerance` at the places that were looked at.
pub fn apart_run(from: &Outline, to: &Outline, tolerance: f64) -> Vec<[f64; 2]> {
    let outside = |place| -to.signed_distance(place);
    let mut run = Vec::new();
    let mut way = 0.0;
    for segment in from.segments() {
        let start = [way, outside(segment.from)];
        way += segment.length();
        let end = [way, outside(segment.to)];
        run.push(start);
        halved(&segment, [start, end], &outside, tolerance, HALVINGS, &mut run);
    }
    run.push([way, outside(from.vertices()[0].point)]);
    thinned(&run, tolerance)
}

/// Puts down what lies between the ends of a stretch.
fn halved(
    segment: &Segment,
    [start, end]: [[f64; 2]; 2],
    outside: &impl Fn(Point) -> f64,
    tolerance: f64,
    left: u32,
    run: &mut Vec<[f64; 2]>,
) {
    let halves = halves(segment);
    let middle = [0.5 * (start[0] + end[0]), outside(halves[0].to)];
    let quarters = halves.map(|half| outside(self::halves(&half)[0].to));
    let bends = [(middle[1], 0.5), (quarters[0], 0.25), (quarters[1], 0.75)]
        .into_iter()
        .any(|(distance, share)| (distance - (start[1] + share * (end[1] - start[1]))).abs() > tolerance);
    if !bends || left == 0 {
        return;
    }
    halved(&halves[0], [start, middle], outside, tolerance, left - 1, run);
    run.push(middle);
    halved(&halves[1], [middle, end], outside, tolerance, left - 1, run);
}

/// Leaves out places that straight lines between their neighbours hold.
fn thinned(run: &[[f64; 2]], tolerance: f64) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::new();
    let mut last = 0;
    for next in 1..run.len() {
        let (start, end) = (run[last], run[next]);
        let off = |[at, distance]: [f64; 2]| {
            let share = if end[0] > start[0] { (at - start[0]) / (end[0] - start[0]) } else { 0.0 };
            (distance - (start[1] + share * (end[1] - start[1]))).abs()
        };
        if kept.is_empty() {
            kept.push(start);
        }
        if run[last + 1..next].iter().any(|place| off(*place) > tolerance) {
            last = next - 1;
            kept.push(run[last]);
        }
    }
    kept.extend(run.last());
    kept
}

/// A stretch that may hold the highest place, and the most that it can be.
struct Open {
    most: f64,
    segment: Segment,
    ends: [f64; 2],
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        let place = |one: &Self| one.segment.from;
        let (one, two) = (place(self), place(other));
        self.most.total_cmp(&other.most).then(two.x.total_cmp(&one.x)).then(two.y.total_cmp(&one.y))
    }
}

/// The highest value along `from`; `value` is the distance from `to` with a sign.
fn highest(from: &Outline, to: &Outline, value: impl Fn(Point) -> f64) -> Result<ApartAt, Unsettled> {
    let start = from.vertices()[0].point;
    let mut best = ApartAt { place: start, distance: value(start) };
    let mut look = |place| {
        let distance = value(place);
        if distance > best.distance {
            best = ApartAt { place, distance };
        }
        (distance, best)
    };
    let mut open = BinaryHeap::new();
    for segment in from.segments() {
        let ends = [look(segment.from).0, look(segment.to).0];
        open.push(opened(segment, ends, to));
    }
    for _ in 0..MOST_LOOKS {
        let Some(one) = open.pop() else { return Ok(look(start).1) };
        let [first, second] = halves(&one.segment);
        let (middle, best) = look(first.to);
        if one.most <= best.distance + APART_TOLERANCE {
            return Ok(best);
        }
        open.push(opened(first, [one.ends[0], middle], to));
        open.push(opened(second, [middle, one.ends[1]], to));
    }
    Err(Unsettled { place: look(start).1.place })
}

/// A stretch with the most that it can be.
fn opened(segment: Segment, ends: [f64; 2], to: &Outline) -> Open {
    let by_way = 0.5 * (ends[0] + ends[1] + segment.length());
    let piece = Piece::new(segment);
    let by_pieces = match by_way < 0.0 {
        // All of it counts below nothing, so the value is the distance the other way.
        true => -least(&piece, -ends[0].max(ends[1]), to),
        false => {
            let nearest = to.nearest(halves(&segment)[0].to).segment;
            let other = &to.tree().pieces()[nearest];
            let far = |place: Point| other.foot(place).distance;
            extremes(&piece, other).into_iter().map(far).fold(0.0, f64::max)
        }
    };
    Open { most: by_way.min(by_pieces), segment, ends }
}

/// The least distance of a piece that does not meet `to`, where that is below what is known already.
fn least(piece: &Piece, known: f64, to: &Outline) -> f64 {
    let bounds = piece.bounds();
    let mut least = known;
    to.tree().visit(
        |near| near.comes_within(&bounds, known),
        |_, other| {
            let near = extremes(piece, other).into_iter().map(|place| other.foot(place).distance);
            least = near.fold(least, f64::min);
        },
    );
    least
}

/// The halves of a segment, exact however flat its arc is.
fn halves(segment: &Segment) -> [Segment; 2] {
    let (from, to, b) = (segment.from, segment.to, segment.bulge);
    let half = (to - from) * 0.5;
    let middle = from + half - half.left() * b;
    let bulge = b / (1.0 + (1.0 + b * b).sqrt());
    [Segment { from, to: middle, bulge }, Segment { from: middle, to, bulge }]
}

/// The places of one piece where its distance from another can be least or most: its ends; what lies nearest to and farthest
/// from the other's ends and centre; where it runs along the other's line; where it crosses the line on which both ends of
/// the other are equally far.
fn extremes(piece: &Piece, other: &Piece) -> Vec<Point> {
    let mut places = vec![piece.segment.from, piece.segment.to];
    let mut seen = vec![other.segment.from, other.segment.to];
    if !other.is_line() {
        seen.push(other.centre());
        places.extend(crossings(piece, other.middle, other.along.left()));
    }
    places.extend(seen.iter().map(|place| piece.foot(*place).point));
    if !piece.is_line() {
        let centre = piece.centre();
        let across = match other.is_line() {
            true => vec![other.along.left(), -other.along.left()],
            false => Vec::new(),
        };
        let away = seen.iter().filter_map(|place| (centre - *place).unit());
        places.extend(away.chain(across).filter_map(|way| on_arc(piece, centre + way * piece.radius)));
    }
    places
}

/// The place of an arc that lies nearest to a place of its circle, if that is on the arc at all.
fn on_arc(arc: &Piece, place: Point) -> Option<Point> {
    arc.arc_holds(arc.local(place)).then(|| arc.foot(place).point)
}

/// Where a piece crosses the line through a place.
fn crossings(piece: &Piece, through: Point, way: Vector) -> Vec<Point> {
    if piece.is_line() {
        let rise = piece.along.cross(way);
        let at = (through - piece.middle).cross(way) / rise;
        let crosses = rise != 0.0 && at.abs() <= piece.half;
        return crosses.then(|| piece.middle + piece.along * at).into_iter().collect();
    }
    let centre = piece.centre();
    let along = (centre - through).dot(way);
    let off = (centre - through).cross(way);
    let half = (piece.radius * piece.radius - off * off).max(0.0).sqrt();
    [along - half, along + half].into_iter().filter_map(|at| on_arc(piece, through + way * at)).collect()
}
