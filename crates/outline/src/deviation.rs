//! How far a curve lies from a line or an arc that stands for it: a bound that is proved and not sampled.
//!
//! In the frame of the chord the distance to a circle is x^2 + y^2 - half^2 - 2 * lift * y over something known. Over a rational curve that
//! is a quotient of two polynomials, and the quotients of their Bernstein coefficients enclose it. The part of the curve with the widest
//! enclosure is halved until enclosure and samples agree. That a curve leads from end to end of an arc, and stays between the radial lines
//! of its ends, makes the distance the same seen from the arc.

use crate::{Bezier, Effort, Piece, Point, Segment, Vector};

/// The enclosure may exceed what samples show by this share, or by `SLACK`.
const SHARE: f64 = 0.02;
/// See `SHARE`, mm: rounding at the size of a large block.
const SLACK: f64 = 1e-9;
/// The same as a share of the coordinates, where they are larger still.
const FAR_SLACK: f64 = 1e-14;
/// Halvings of one curve, one within the other. What is not settled by then keeps its enclosure.
const DEEPEST: u32 = 12;

/// A bound on the distance between curves, one joined to the other, and a segment from the beginning of the first to the end of the last;
/// infinite when it exceeds the limit, or when the effort is spent.
pub(crate) fn deviation(curves: &[Bezier], segment: &Segment, limit: f64, effort: &mut Effort) -> f64 {
    let ruler = Ruler::new(segment);
    // Within less than the radius nothing of the curve is at the centre, so that it passes every direction of the arc.
    let limit = if segment.is_line() { limit } else { limit.min(segment.radius() / 4.0) };
    let mut known = 0.0f64;
    for curve in curves {
        known = known.max(ruler.enclosed(curve, known, limit, effort));
        if known > limit {
            return f64::INFINITY;
        }
    }
    known
}

/// A segment as something to measure from.
struct Ruler {
    piece: Piece,
    /// Unit directions of travel at its ends, in its chord's frame.
    ends: [Vector; 2],
    /// What rounding may do to a distance, mm.
    slack: f64,
}

impl Ruler {
    fn new(segment: &Segment) -> Self {
        let half = segment.sweep() / 2.0;
        let (sin, cos) = half.sin_cos();
        let ends = [Vector::new(cos, -sin), Vector::new(cos, sin)];
        let far = segment.from.x.abs().max(segment.from.y.abs());
        Self { piece: Piece::new(*segment), ends, slack: SLACK.max(FAR_SLACK * far) }
    }

    /// A bound over one curve, if it is above what is already known.
    fn enclosed(&self, curve: &Bezier, known: f64, limit: f64, effort: &mut Effort) -> f64 {
        let mut seen = known.max(self.distance(curve.first())).max(self.distance(curve.last()));
        let mut bound = seen;
        let mut parts = vec![(curve.clone(), 0)];
        while let Some((part, depth)) = parts.pop() {
            effort.spend(&part, 2);
            if seen > limit || effort.is_spent() {
                return f64::INFINITY;
            }
            let hull = self.hull(&part);
            if hull <= seen * (1.0 + SHARE) + self.slack || depth == DEEPEST {
                bound = bound.max(hull);
                continue;
            }
            let (before, after) = part.split(0.5);
            seen = seen.max(self.distance(after.first()));
            parts.extend([(before, depth + 1), (after, depth + 1)]);
        }
        bound
    }

    fn distance(&self, place: Point) -> f64 {
        self.piece.foot(place).distance
    }

    /// An upper bound from the control points alone.
    fn hull(&self, part: &Bezier) -> f64 {
        let half = Vector::new(self.piece.half, 0.0);
        let controls: Vec<(Vector, f64)> =
            part.controls().map(|(point, weight)| (self.piece.local(point), weight)).collect();
        let beyond = |at: Vector| {
            let (first, last) = (self.ends[0].dot(at + half), self.ends[1].dot(at - half));
            (-first).max(last).max(0.0)
        };
        let outside = controls.iter().fold(0.0, |most: f64, (at, _)| most.max(beyond(*at)));
        let across = match self.piece.is_line() {
            true => controls.iter().fold(0.0, |most: f64, (at, _)| most.max(at.y.abs())),
            false => self.off_circle(&controls),
        };
        // A point beyond an end by o, and within d of the circle, lies within d + 2 o of that end.
        across + 2.0 * outside
    }

    /// A bound on the distance to the whole circle.
    fn off_circle(&self, controls: &[(Vector, f64)]) -> f64 {
        let (half, lift, radius) = (self.piece.half, self.piece.lift, self.piece.radius);
        let degree = controls.len() - 1;
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let choose = binomials(degree);
        for k in 0..=2 * degree {
            let (mut above, mut below) = (0.0, 0.0);
            for i in k.saturating_sub(degree)..=k.min(degree) {
                let ((p, v), (q, w)) = (controls[i], controls[k - i]);
                let weight = choose[i] * choose[k - i] * v * w;
                // The power of a point, polarised: symmetric in both points.
                above += weight * (p.dot(q) - half * half - lift * (p.y + q.y));
                below += weight;
            }
            low = low.min(above / below);
            high = high.max(above / below);
        }
        // distance = power / (distance to the centre + radius), and the power is that distance squared less the radius squared.
        let inside = (radius * radius + low.min(0.0)).max(0.0).sqrt();
        (high.max(0.0) / (2.0 * radius)).max(-low.min(0.0) / (radius + inside))
    }
}

/// The binomial coefficients of a degree.
fn binomials(degree: usize) -> Vec<f64> {
    let mut row = vec![1.0];
    for k in 0..degree {
        row.push(row[k] * (degree - k) as f64 / (k + 1) as f64);
    }
    row
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ellipse;

    fn sampled(curves: &[Bezier], segment: &Segment) -> f64 {
        let at = |i: usize| curves[i / 1000].at(i as f64 % 1000.0 / 1000.0);
        (0..1000 * curves.len()).map(|i| segment.distance(at(i))).fold(0.0, f64::max)
    }

    #[test]
    fn a_circle_deviates_from_itself_by_nothing() {
        let axes = [Vector::new(2.0, 0.0), Vector::new(0.0, 2.0)];
        let curves = ellipse(Point::new(5.0, 1.0), axes, 0.3, 1.2);
        let (from, to) = (curves[0].first(), curves[0].last());
        let arc = Segment { from, to, bulge: 0.3f64.tan() };
        assert!(deviation(&curves, &arc, 1.0, &mut Effort::new(1_000_000)) < 1e-13);
    }

    #[test]
    fn the_bound_holds_and_is_tight() {
        for (bulge, degree) in [(0.2, 3), (0.0, 3), (-0.4, 3), (1e-4, 2), (0.3, 5)] {
            let (from, to) = (Point::new(1.0, 1.0), Point::new(4.0, 2.0));
            let segment = Segment { from, to, bulge };
            let inner = (1..degree).map(|i| {
                let share = f64::from(i) / f64::from(degree);
                (segment.at(share) + Vector::new(0.1 * share, 0.07), 1.0 + share)
            });
            let controls: Vec<(Point, f64)> =
                std::iter::once((from, 1.0)).chain(inner).chain([(to, 1.0)]).collect();
            let curve = [Bezier::new(controls)];
            let (bound, seen) =
                (deviation(&curve, &segment, 1.0, &mut Effort::new(1_000_000)), sampled(&curve, &segment));
            assert!(seen <= bound && bound <= seen * 1.03 + 1e-6, "{bulge}: {seen} {bound}");
            assert_eq!(deviation(&curve, &segment, 0.9 * seen, &mut Effort::new(1_000_000)), f64::INFINITY);
        }
    }

    #[test]
    fn a_curve_that_swings_past_an_end_is_not_near() {
        // It runs along the line and beyond its end, and comes back.
        let points = [(0.0, 0.0), (8.0, 0.0), (1.0, 0.0)].map(|(x, y)| (Point::new(x, y), 1.0));
        let line = Segment::line(Point::new(0.0, 0.0), Point::new(1.0, 0.0));
        let bound = deviation(&[Bezier::new(points)], &line, 10.0, &mut Effort::new(1_000_000));
        assert!(bound > 3.0, "{bound}");
    }
}
