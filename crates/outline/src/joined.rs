//! Neighbouring pieces of one line or one circle joined again: before a program is written, and after a curve was fitted.

use crate::{Outline, Piece, Point, Segment, Vertex};

/// What is joined stays within this of what it replaces, mm: a thousandth of the finest step a program resolves.
pub(crate) const JOINED_WITHIN: f64 = 1e-9;

impl Outline {
    /// The same edge with neighbouring collinear lines and co-circular arcs joined, as long as arcs stay at most half a
    /// circle. The first vertex stays where it is. Nothing moves by more than 1e-9 mm; should that make the outline touch
    /// itself it is given back as it was.
    pub fn joined(&self) -> Outline {
        let segments: Vec<Segment> = self.segments().collect();
        let joined = joined_run(&segments);
        let vertices = joined.iter().map(|piece| Vertex { point: piece.from, bulge: piece.bulge }).collect();
        Outline::new(vertices).unwrap_or_else(|_| self.clone())
    }
}

/// Segments of which each begins where the one before ends, with those of one line or circle joined.
pub(crate) fn joined_run(segments: &[Segment]) -> Vec<Segment> {
    let mut run = Vec::new();
    let mut first = 0;
    while first < segments.len() {
        let (joined, count) = longest_run(&segments[first..]);
        run.push(joined);
        first += count;
    }
    run
}

/// The longest single piece that stands for the first few of these, and for how many.
fn longest_run(segments: &[Segment]) -> (Segment, usize) {
    let mut best = (segments[0], 1);
    let mut marks: Vec<Point> = vec![segments[0].at(0.5)];
    for (i, next) in segments.iter().enumerate().skip(1) {
        marks.extend([next.from, next.at(0.5)]);
        match together(&best.0, next).filter(|whole| stands_for(whole, &marks)) {
            Some(whole) => best = (whole, i + 1),
            None => break,
        }
    }
    best
}

fn together(before: &Segment, after: &Segment) -> Option<Segment> {
    let forward = before.direction(1.0).dot(after.direction(0.0)) > 0.0;
    let alike = before.is_line() == after.is_line() && before.bulge * after.bulge >= 0.0;
    let bulge = ((before.sweep() + after.sweep()) / 4.0).tan();
    // Rounding may take two quarters a hair beyond the half circle that they are.
    let bulge = if (bulge.abs() - 1.0).abs() < 1e-12 { bulge.signum() } else { bulge };
    (forward && alike && bulge.abs() <= 1.0).then_some(Segment { from: before.from, to: after.to, bulge })
}

fn stands_for(whole: &Segment, marks: &[Point]) -> bool {
    let piece = Piece::new(*whole);
    whole.from != whole.to && marks.iter().all(|mark| piece.foot(*mark).distance <= JOINED_WITHIN)
}
