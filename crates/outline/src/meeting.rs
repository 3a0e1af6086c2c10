//! Where two pieces meet: crossings of lines and arcs, and places where they come within a tolerance of each other.
//!
//! Stages for pieces that share no vertex: first the places where the distance between them can be least without being
//! nothing, which are their ends and the points where both have the same normal; then proper crossings. For neighbours: the one further
//! point in which their curves can meet again, found by mirroring the shared vertex; then the two far ends.

use crate::{Piece, Point, Vector};

/// How two pieces meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Meeting {
    Crossing(Point),
    Touching(Point),
}

/// Where two pieces that share no vertex come within `within` of each other, if they do at a place that counts.
pub(crate) fn meeting(a: &Piece, b: &Piece, within: f64, counts: impl Fn(&Point) -> bool) -> Option<Meeting> {
    let end_near = |a: &Piece, b: &Piece| {
        let ends = [a.segment.from, a.segment.to].into_iter();
        ends.filter(&counts).find(|end| b.foot(*end).distance <= within)
    };
    let at_an_end = end_near(a, b).or_else(|| end_near(b, a));
    if let Some(place) = at_an_end {
        return Some(Meeting::Touching(place));
    }
    let both_near = |q: &Point| counts(q) && a.foot(*q).distance <= within && b.foot(*q).distance <= within;
    if let Some(place) = common_normals(a, b).into_iter().flatten().find(both_near) {
        return Some(Meeting::Touching(place));
    }
    let crossings = match (a.is_line(), b.is_line()) {
        (true, true) => return lines_cross(a, b).filter(counts).map(Meeting::Crossing),
        (true, false) => line_and_circle(a.segment.from, a.along, b),
        (false, true) => line_and_circle(b.segment.from, b.along, a),
        (false, false) => circles(a, b),
    };
    let crosses = |q: &Point| counts(q) && holds(a, *q) && holds(b, *q);
    crossings.into_iter().flatten().find(crosses).map(Meeting::Crossing)
}

/// Where two neighbours, of which `a` ends where `b` begins, meet once more, if they do: a crossing counts only farther than
/// `joint` from the shared vertex.
pub(crate) fn neighbours_meet(a: &Piece, b: &Piece, within: f64, joint: f64) -> Option<Meeting> {
    let again = |q: &Point| q.distance(a.segment.to) > joint && holds(a, *q) && holds(b, *q);
    if let Some(place) = second_meeting(a, b).filter(again) {
        return Some(Meeting::Crossing(place));
    }
    if a.foot(b.segment.to).distance <= within {
        return Some(Meeting::Touching(b.segment.to));
    }
    (b.foot(a.segment.from).distance <= within).then_some(Meeting::Touching(a.segment.from))
}

/// Whether a point of the piece's whole line or circle lies on the piece.
fn holds(piece: &Piece, place: Point) -> bool {
    let at = piece.local(place);
    match piece.is_line() {
        true => at.x.abs() <= piece.half,
        false => piece.arc_holds(at),
    }
}

fn lines_cross(a: &Piece, b: &Piece) -> Option<Point> {
    let (p, q) = (a.local(b.segment.from), a.local(b.segment.to));
    if p.y * q.y >= 0.0 {
        return None;
    }
    let x = p.x + (q.x - p.x) * (p.y / (p.y - q.y));
    (x.abs() <= a.half).then(|| a.global(Vector::new(x, 0.0)))
}

/// Both points in which a line meets the circle of an arc.
fn line_and_circle(from: Point, way: Vector, arc: &Piece) -> [Option<Point>; 2] {
    let o = arc.local(from);
    let w = Vector::new(arc.along.dot(way), arc.along.cross(way));
    let b = o.dot(w) - arc.lift * w.y;
    let c = o.dot(o) - arc.half * arc.half - 2.0 * arc.lift * o.y;
    let d = b * b - c;
    if d < 0.0 {
        return [None, None];
    }
    // The larger root first and the other from the product of both, so that a flat arc loses no digits.
    let large = -(b + b.signum() * d.sqrt());
    let small = if large == 0.0 { 0.0 } else { c / large };
    [Some(from + way * large), Some(from + way * small)]
}

/// Both points in which the circles of two arcs meet.
fn circles(a: &Piece, b: &Piece) -> [Option<Point>; 2] {
    // In the frame of `a`, the difference of both circle equations is a line.
    let m = a.local(b.middle);
    let up = b.along.left();
    let n = Vector::new(a.along.dot(up), a.along.cross(up));
    let normal = m * -2.0 - n * (2.0 * b.lift) + Vector::new(0.0, 2.0 * a.lift);
    let constant = m.dot(m) + 2.0 * b.lift * n.dot(m) - b.half * b.half + a.half * a.half;
    let Some(unit) = normal.unit() else {
        return [None, None];
    };
    let on_it = unit * (-constant / normal.length());
    let way = unit.left();
    line_and_circle(a.global(on_it), a.along * way.x + a.along.left() * way.y, a)
}

/// Points of `a` at which its normal passes through the centre of the other: where the distance can be least.
fn common_normals(a: &Piece, b: &Piece) -> [Option<Point>; 2] {
    match (a.is_line(), b.is_line()) {
        (true, true) => [None, None],
        (true, false) => [Some(foot_of_centre(a, b)), None],
        (false, true) => [Some(foot_of_centre(b, a)), None],
        (false, false) => {
            let (centre, other) = (a.centre(), b.centre());
            match (other - centre).unit() {
                None => [None, None],
                Some(way) => [Some(centre + way * a.radius), Some(centre - way * a.radius)],
            }
        }
    }
}

fn foot_of_centre(line: &Piece, arc: &Piece) -> Point {
    line.global(Vector::new(line.local(arc.centre()).x, 0.0))
}

/// The second point in which the curves of two neighbours meet: the shared vertex mirrored in the line of their centres.
fn second_meeting(a: &Piece, b: &Piece) -> Option<Point> {
    let shared = a.segment.to;
    match (a.is_line(), b.is_line()) {
        (true, true) => None,
        (true, false) => Some(mirrored_on_line(shared, a.along, b)),
        (false, true) => Some(mirrored_on_line(shared, b.along, a)),
        (false, false) => {
            let way = (b.centre() - a.centre()).unit()?;
            let across = way.left();
            Some(shared - across * (2.0 * across.dot(shared - a.centre())))
        }
    }
}

fn mirrored_on_line(shared: Point, way: Vector, arc: &Piece) -> Point {
    let o = arc.local(shared);
    let w = Vector::new(arc.along.dot(way), arc.along.cross(way));
    shared - way * (2.0 * (o.dot(w) - arc.lift * w.y))
}
