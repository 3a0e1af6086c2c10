//! Two arcs that lead from one place and direction to another, tangent to each other.
//!
//! Of all such pairs the one whose two legs from the ends to the corners are equally long: it is nearly the best where the curvature
//! changes evenly, and it is the same whichever way the curve is travelled.

use crate::{Point, Segment, Vector};

/// Arcs of a pair turn by no more than this, as a bulge: a quarter of a circle, and a hair for one that is exactly that.
const MOST_BULGE: f64 = std::f64::consts::SQRT_2 - 1.0 + 1e-9;

/// An arc of less than this bulge is a line, if it rises by less than `FLAT_RISE`: its radius would be a hundred metres and more, of which
/// nothing is gained and in which later reckoning loses digits. The direction breaks by twice this at most.
const FLAT_BULGE: f64 = 1e-5;
/// See `FLAT_BULGE`, mm: a tenth of what a fit may deviate.
const FLAT_RISE: f64 = 5e-5;

/// A pair of arcs and the direction in which they meet.
pub(crate) struct Biarc {
    pub(crate) arcs: [Segment; 2],
    pub(crate) joint: Vector,
}

/// The pair between two places with unit directions of travel; none where it would have to turn back, or by more than a quarter of a circle
/// in one arc.
pub(crate) fn biarc(from: Point, leaving: Vector, to: Point, arriving: Vector) -> Option<Biarc> {
    let leg = leg(to - from, leaving, arriving)?;
    let (a, b) = (from + leaving * leg, to - arriving * leg);
    let joint = (b - a).unit()?;
    let middle = a.towards(b, 0.5);
    let first = Segment { from, to: middle, bulge: bulge(leaving, middle - from) };
    let second = Segment { from: middle, to, bulge: bulge(to - middle, arriving) };
    let arcs = [first, second];
    arcs.iter().all(|arc| arc.bulge.abs() <= MOST_BULGE).then_some(Biarc { arcs, joint })
}

/// The length of both legs: |v - leg * (t0 + t1)| = 2 * leg, positive.
fn leg(chord: Vector, leaving: Vector, arriving: Vector) -> Option<f64> {
    let both = leaving + arriving;
    let (square, along) = (chord.dot(chord), chord.dot(both));
    // 4 - |t0 + t1|^2 without the difference of nearly equal numbers.
    let apart = leaving - arriving;
    let spread = apart.dot(apart);
    let root = (along * along + spread * square).sqrt();
    let leg = square / (along + root);
    (leg > 0.0 && leg.is_finite()).then_some(leg)
}

/// The bulge of an arc by its tangent and its chord, in the order of travel: they are half the sweep apart.
fn bulge(from: Vector, to: Vector) -> f64 {
    let (sine, cosine) = (from.cross(to), from.dot(to));
    sine / (cosine + (sine * sine + cosine * cosine).sqrt())
}

/// The same segment as a line, where it bends so little that it is one.
pub(crate) fn straightened(segment: Segment) -> Segment {
    let bulge = segment.bulge.abs();
    let rise = segment.from.distance(segment.to) / 2.0 * bulge;
    match bulge <= FLAT_BULGE && rise <= FLAT_RISE {
        true => Segment::line(segment.from, segment.to),
        false => segment,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(from: Point, leaving: f64, to: Point, arriving: f64) -> Biarc {
        let pair = biarc(from, Vector::at_angle(leaving), to, Vector::at_angle(arriving)).unwrap();
        let [first, second] = pair.arcs;
        let near = |a: Vector, b: Vector| assert!((a - b).length() < 1e-12, "{a:?} {b:?}");
        near(first.direction(0.0), Vector::at_angle(leaving));
        near(first.direction(1.0), pair.joint);
        near(second.direction(0.0), pair.joint);
        near(second.direction(1.0), Vector::at_angle(arriving));
        assert!(first.from == from && second.to == to && first.to == second.from);
        pair
    }

    #[test]
    fn both_arcs_are_tangent_to_each_other_and_to_what_is_asked() {
        let o = Point::new(1.0, -2.0);
        check(o, 0.3, Point::new(2.0, -1.8), 0.5);
        check(o, 0.5, Point::new(2.0, -2.0), 0.5);
        check(o, 0.5, Point::new(3.0, -2.0), -0.4);
        check(o, 0.0, Point::new(1.0 + 1e-3, -2.0 + 1e-6), 2e-3);
    }

    #[test]
    fn ends_of_one_circle_give_that_circle() {
        let at = |angle: f64| Point::new(3.0 * angle.cos(), 3.0 * angle.sin());
        let pair =
            check(at(0.2), 0.2 + std::f64::consts::FRAC_PI_2, at(1.7), 1.7 + std::f64::consts::FRAC_PI_2);
        for arc in pair.arcs {
            assert!((arc.radius() - 3.0).abs() < 1e-12 && (arc.sweep() - 0.75).abs() < 1e-12, "{arc:?}");
        }
    }

    #[test]
    fn no_pair_turns_back_or_far() {
        let (o, right, up) = (Point::new(0.0, 0.0), Vector::new(1.0, 0.0), Vector::new(0.0, 1.0));
        assert!(biarc(o, right, o, right).is_none());
        assert!(biarc(o, right, Point::new(-1.0, 0.0), right).is_none());
        assert!(biarc(o, up, Point::new(1.0, 0.0), -right).is_none());
    }
}
