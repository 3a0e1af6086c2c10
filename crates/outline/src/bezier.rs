//! A rational Bezier curve: the one form in which every smooth curve of a drawing is fitted.
//!
//! The curve lies in the hull of its control points, and so does every part of it in the hull of its own: that is what bounds are proved by.

use crate::{Point, Vector};

/// Control points that lie nearer to an end than this share of the curve's extent say nothing about its direction there.
const SAME: f64 = 1e-7;

/// A smooth curve by its control points and their weights.
#[derive(Debug, Clone, PartialEq)]
pub struct Bezier {
    /// x and y times weight, and the weight.
    controls: Vec<[f64; 3]>,
}

impl Bezier {
    /// The curve of these control points, two at least, each with its weight, above 0.
    pub(crate) fn new(controls: impl IntoIterator<Item = (Point, f64)>) -> Self {
        Self { controls: controls.into_iter().map(|(p, w)| [p.x * w, p.y * w, w]).collect() }
    }

    /// The curve of control points that are already multiplied by their weights.
    pub(crate) fn of_products(controls: Vec<[f64; 3]>) -> Self {
        Self { controls }
    }

    /// The same curve after an affine map of the plane; what is given must be one.
    pub fn mapped(&self, map: impl Fn(Point) -> Point) -> Self {
        Self::new(self.controls().map(|(point, weight)| (map(point), weight)))
    }

    /// Its control points and their weights.
    pub(crate) fn controls(&self) -> impl ExactSizeIterator<Item = (Point, f64)> + '_ {
        self.controls.iter().map(|[x, y, w]| (Point::new(x / w, y / w), *w))
    }

    /// Its first point.
    pub fn first(&self) -> Point {
        divided(self.controls[0])
    }

    /// Its last point.
    pub fn last(&self) -> Point {
        divided(self.controls[self.controls.len() - 1])
    }

    /// The point at a parameter from 0 to 1.
    pub fn at(&self, t: f64) -> Point {
        let mut controls = self.controls.clone();
        for count in (1..controls.len()).rev() {
            (0..count).for_each(|i| controls[i] = between(controls[i], controls[i + 1], t));
        }
        divided(controls[0])
    }

    /// What lies before a parameter and what lies after it, each with parameters from 0 to 1 of its own.
    pub(crate) fn split(&self, t: f64) -> (Bezier, Bezier) {
        let n = self.controls.len();
        let mut after = self.controls.clone();
        let mut before = Vec::with_capacity(n);
        for count in (0..n).rev() {
            before.push(after[0]);
            (0..count).for_each(|i| after[i] = between(after[i], after[i + 1], t));
        }
        // What is left in place has become the control points of the end, in order.
        (Self { controls: before }, Self { controls: after })
    }

    /// What lies between two parameters.
    pub(crate) fn part(&self, from: f64, to: f64) -> Bezier {
        let cut = |curve: Bezier, t: f64, first: bool| match (t, first) {
            (0.0, false) | (1.0, true) => curve,
            (t, true) => curve.split(t).0,
            (t, false) => curve.split(t).1,
        };
        let before = cut(self.clone(), to, true);
        if to <= 0.0 { before } else { cut(before, from / to, false) }
    }

    /// The greater side of the upright box around its control points.
    pub(crate) fn extent(&self) -> f64 {
        let first = self.first();
        let (mut low, mut high) = (first, first);
        for (point, _) in self.controls() {
            low = Point::new(low.x.min(point.x), low.y.min(point.y));
            high = Point::new(high.x.max(point.x), high.y.max(point.y));
        }
        (high.x - low.x).max(high.y - low.y)
    }

    /// Unit direction of travel at its beginning; none if it is a point.
    pub(crate) fn first_direction(&self) -> Option<Vector> {
        let least = SAME * self.extent();
        let first = self.first();
        self.controls().map(|(point, _)| point - first).find(|leg| leg.length() > least)?.unit()
    }

    /// Unit direction of travel at its end; none if it is a point.
    pub(crate) fn last_direction(&self) -> Option<Vector> {
        let least = SAME * self.extent();
        let last = self.last();
        let legs = self.controls.iter().rev().map(|control| last - divided(*control));
        legs.into_iter().find(|leg| leg.length() > least)?.unit()
    }
}

fn divided([x, y, w]: [f64; 3]) -> Point {
    Point::new(x / w, y / w)
}

fn between(a: [f64; 3], b: [f64; 3], t: f64) -> [f64; 3] {
    [0, 1, 2].map(|k| a[k] + (b[k] - a[k]) * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve() -> Bezier {
        let points = [(0.0, 0.0, 1.0), (1.0, 3.0, 2.0), (4.0, -1.0, 0.5), (5.0, 2.0, 1.5)];
        Bezier::new(points.map(|(x, y, w)| (Point::new(x, y), w)))
    }

    #[test]
    fn parts_run_along_the_whole() {
        let whole = curve();
        for (from, to) in [(0.0, 1.0), (0.0, 0.3), (0.3, 1.0), (0.2, 0.7), (0.999, 1.0)] {
            let part = whole.part(from, to);
            for step in 0..=10 {
                let t = f64::from(step) / 10.0;
                let expected = whole.at(from + (to - from) * t);
                assert!(part.at(t).distance(expected) < 1e-14, "{from} {to} {t}");
            }
        }
    }

    #[test]
    fn directions_are_those_of_the_legs_that_have_a_length() {
        let corner = Point::new(1.0, 1.0);
        let folded = Bezier::new([corner, corner, Point::new(1.0, 3.0), corner].map(|p| (p, 1.0)));
        assert_eq!(folded.first_direction(), Some(Vector::new(0.0, 1.0)));
        assert_eq!(folded.last_direction(), Some(Vector::new(0.0, -1.0)));
        assert_eq!(Bezier::new([corner, corner].map(|p| (p, 1.0))).first_direction(), None);
    }
}
