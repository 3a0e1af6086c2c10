//! Corners: sharp ones at joints, round ones along arcs, told apart by the side they are convex from.

use crate::{Outline, Point, Segment};

/// A joint that turns by more than this is a sharp corner, degrees (trade rule: common practice, no source).
const SHARP_DEGREES: f64 = 2.0;

/// Neighbouring arcs whose centres and radii agree to this are one arc, mm: a nanometre, far below what a drawing means.
const SAME_CIRCLE: f64 = 1e-6;

/// Radii and coordinates that differ by less are equal when corners are ranked, mm: rounding must not choose.
const SAME: f64 = 1e-9;

/// A corner of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// The middle of its arc; the vertex itself if sharp; the first vertex if the outline is one full circle.
    pub middle: Point,
    /// Its radius, mm; 0 if sharp.
    pub radius: f64,
    /// pi less what the direction turns by, radians; 0 where it turns by half a turn or more.
    pub angle: f64,
    /// Convex seen from inside the outline: a corner where a round wire cannot reach.
    pub inside: bool,
    /// The segment that begins at it (sharp) or its first arc (round), counted from the first vertex.
    pub segment: usize,
}

impl Outline {
    /// Every corner, in order along the outline; at a joint the sharp corner stands before the arc that begins there.
    pub fn corners(&self) -> Vec<Corner> {
        let segments: Vec<Segment> = self.segments().collect();
        let n = segments.len();
        let runs_on = |i: usize| same_circle(&segments[(i + n - 1) % n], &segments[i]);
        if (0..n).all(runs_on) {
            return vec![full_circle(&segments[0])];
        }
        let mut corners = Vec::new();
        for i in 0..n {
            corners.extend(sharp(&segments[(i + n - 1) % n], &segments[i], i));
            if segments[i].is_line() || runs_on(i) {
                continue;
            }
            let count = 1 + (1..n).take_while(|k| runs_on((i + k) % n)).count();
            let run: Vec<Segment> = (0..count).map(|k| segments[(i + k) % n]).collect();
            corners.push(round(&run, i));
        }
        corners
    }

    /// The tightest inside or outside corner; of equally tight ones that of least x, then y, of its middle.
    pub fn tightest_corner(&self, inside: bool) -> Option<Corner> {
        self.corners()
            .into_iter()
            .filter(|c| c.inside == inside)
            .reduce(|a, b| if ranks_before(&b, &a) { b } else { a })
    }
}

fn ranks_before(a: &Corner, b: &Corner) -> bool {
    let keys = [(a.radius, b.radius), (a.middle.x, b.middle.x), (a.middle.y, b.middle.y)];
    keys.into_iter().find(|(a, b)| (a - b).abs() > SAME).is_some_and(|(a, b)| a < b)
}

fn turn(before: &Segment, after: &Segment) -> f64 {
    let (one, other) = (before.direction(1.0), after.direction(0.0));
    one.cross(other).atan2(one.dot(other))
}

fn sharp(before: &Segment, after: &Segment, segment: usize) -> Option<Corner> {
    let turn = turn(before, after);
    (turn.abs() > SHARP_DEGREES.to_radians()).then(|| Corner {
        middle: after.from,
        radius: 0.0,
        angle: std::f64::consts::PI - turn.abs(),
        inside: turn > 0.0,
        segment,
    })
}

fn same_circle(before: &Segment, after: &Segment) -> bool {
    let (Some(one), Some(other)) = (before.centre(), after.centre()) else {
        return false;
    };
    before.bulge * after.bulge > 0.0
        && one.distance(other) <= SAME_CIRCLE
        && (before.radius() - after.radius()).abs() <= SAME_CIRCLE
        && turn(before, after).abs() <= SHARP_DEGREES.to_radians()
}

fn full_circle(first: &Segment) -> Corner {
    Corner { middle: first.from, radius: first.radius(), angle: 0.0, inside: first.bulge > 0.0, segment: 0 }
}

fn round(run: &[Segment], segment: usize) -> Corner {
    let whole: f64 = run.iter().map(|s| s.sweep()).sum();
    let mut rest = whole / 2.0;
    let mut middle = run[0].to;
    for arc in run {
        if rest.abs() <= arc.sweep().abs() {
            middle = arc.at(rest / arc.sweep());
            break;
        }
        rest -= arc.sweep();
    }
    Corner {
        middle,
        radius: run[0].radius(),
        angle: (std::f64::consts::PI - whole.abs()).max(0.0),
        inside: whole > 0.0,
        segment,
    }
}
