//! What a run of lines says about the depth around a place where a single one of them says too little.
//!
//! A side that is drawn as facets bounds the depth as the curve would that it stands for, however short its facets are:
//! - where the neighbours of a line turn towards the room, they stand in the way of whoever looks at it beyond its ends: its
//!   distance bounds the depth there too;
//! - where they turn away, each place looks at one of them, so that one of their distances bounds the depth, or at a joint,
//!   which is farther by a share of half its turn squared at most.

use crate::Piece;
use crate::soundings::Bound;
use crate::{Point, Vector};

/// Most lines of a run.
const MOST_LINES: usize = 8;

/// The bounds of the run of lines around one piece within `rho` of `centre`: at every place one of them holds. None where the
/// run ends, or turns this way and that, before it is past all that can be looked at from there.
pub(crate) fn run_bounds(
    pieces: &[Piece],
    on: (usize, usize),
    centre: Point,
    rho: f64,
) -> Option<Vec<Bound>> {
    let run = Run { pieces, on, centre, rho, frame: Frame::new(&pieces[on.1], centre)? };
    let mut lines = vec![on.1];
    let mut sharpest: f64 = 1.0;
    for forward in [true, false] {
        sharpest = sharpest.min(run.walk(forward, &mut lines)?);
    }
    // Whoever looks at a joint is off the normal of one of its lines by half its turn at most.
    let joint = (2.0 / (1.0 + sharpest)).sqrt() - 1.0;
    lines.into_iter().map(|line| run.bound(line, joint)).collect()
}

/// A run while it is walked.
struct Run<'a> {
    pieces: &'a [Piece],
    on: (usize, usize),
    centre: Point,
    rho: f64,
    frame: Frame<'a>,
}

/// The frame of a line, with the looking place above it.
struct Frame<'a> {
    line: &'a Piece,
    side: f64,
    /// Of the looking place.
    along: f64,
    height: f64,
}

impl<'a> Frame<'a> {
    fn new(line: &'a Piece, centre: Point) -> Option<Self> {
        let at = line.local(centre);
        (line.is_line() && at.y != 0.0).then(|| Self {
            line,
            side: at.y.signum(),
            along: at.x,
            height: at.y.abs(),
        })
    }

    /// A place, x growing away from the line's middle on the side that is walked.
    fn of(&self, place: Point, way: f64) -> Vector {
        let at = self.line.local(place);
        Vector::new(at.x * way, at.y * self.side)
    }
}

impl Run<'_> {
    /// Walks from the line to one side until all feet are behind; lines that turn away join `lines`. The cosine of the sharpest
    /// turn.
    fn walk(&self, forward: bool, lines: &mut Vec<usize>) -> Option<f64> {
        let (n, way) = (self.pieces.len(), if forward { 1.0 } else { -1.0 });
        let last_foot = self.frame.along * way + self.rho;
        let mut reached = Vector::new(self.frame.line.half, 0.0);
        let (mut index, mut before, mut sharpest) = (self.on.1, Vector::new(1.0, 0.0), 1.0f64);
        let (mut towards, mut away) = (true, true);
        while reached.x < last_foot {
            index = if forward { (index + 1) % n } else { (index + n - 1) % n };
            let piece = &self.pieces[index];
            let end = if forward { piece.segment.to } else { piece.segment.from };
            let next = self.frame.of(end, way);
            let direction = (next - reached).unit()?;
            towards &= next.y >= 0.0 && next.y <= self.frame.height - self.rho;
            away &= before.cross(direction) <= 0.0;
            if !piece.is_line() || next.x <= reached.x || !(towards || away) || lines.len() >= MOST_LINES {
                return None;
            }
            if !towards {
                lines.push(index);
                sharpest = sharpest.min(before.dot(direction));
            }
            (reached, before) = (next, direction);
        }
        Some(sharpest)
    }

    /// The distance from one of the lines, a `joint` share of it more.
    fn bound(&self, line: usize, joint: f64) -> Option<Bound> {
        let frame = Frame::new(&self.pieces[line], self.centre)?;
        let rise = frame.line.along.left() * frame.side;
        let value = frame.height + joint * (frame.height + self.rho);
        (frame.side == self.frame.side).then(|| Bound::line(value, rise, (self.on.0, line)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Outline, Vertex};

    /// A closed run of facets whose radius waves about: hollow here, bulging there, smooth or jagged.
    fn wavy(n: usize, waves: f64, swing: f64, jag: f64) -> Outline {
        let corner = |i: usize| {
            let angle = std::f64::consts::TAU * i as f64 / n as f64;
            let r = 3.0 + swing * (waves * angle).sin() + jag * ((i * 7919) % 13) as f64;
            Vertex::new(r * angle.cos(), r * angle.sin(), 0.0)
        };
        Outline::new((0..n).map(corner).collect()).expect("simple")
    }

    /// At every place of a disc that is clear of the edge, one of the bounds of a run holds.
    #[test]
    fn one_of_a_run_holds_everywhere() {
        let (mut runs, mut choices) = (0, 0);
        for (n, waves, swing, jag) in [
            (60, 2.0, 1.0, 0.0),
            (400, 5.0, 0.6, 0.0),
            (400, 9.0, 0.3, 1e-5),
            (90, 3.0, 0.5, 1e-3),
            (12, 1.0, 0.1, 0.0),
        ] {
            let outline = wavy(n, waves, swing, jag);
            let pieces = outline.tree().pieces();
            for index in 0..pieces.len() {
                let inward = pieces[index].along.left();
                for (up, rho) in [(0.05, 0.04), (0.3, 0.02), (0.3, 0.15), (1.0, 0.1), (1.5, 0.4)] {
                    for along in [-0.9, 0.0, 0.4] {
                        let centre =
                            pieces[index].global(Vector::new(along * pieces[index].half, 0.0)) + inward * up;
                        if outline.signed_distance(centre) < rho {
                            continue;
                        }
                        let Some(run) = run_bounds(pieces, (0, index), centre, rho) else { continue };
                        runs += 1;
                        choices += usize::from(run.len() > 1);
                        for k in 0..60 {
                            let step =
                                Vector::at_angle(2.4 * f64::from(k)) * (rho * (f64::from(k) / 59.0).sqrt());
                            let depth = outline.signed_distance(centre + step);
                            let bound = run
                                .iter()
                                .map(|b| b.value + b.rise.dot(step))
                                .fold(f64::NEG_INFINITY, f64::max);
                            assert!(
                                depth <= bound + 1e-12,
                                "{n}, piece {index}, up {up}, rho {rho}: {depth} above {bound}"
                            );
                        }
                    }
                }
            }
        }
        assert!(runs > 1000 && choices > 300, "{runs} runs, {choices} choices");
    }
}
