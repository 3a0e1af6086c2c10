//! B-splines taken apart into Bezier curves, one for each stretch between two knots.
//!
//! The control points of a stretch are the values of its blossom: de Boor's recursion with one parameter for each level, which is a
//! convex combination at every step, so that no digits are lost.

use crate::{Bezier, Point};

/// The stretches of a B-spline in order. There must be as many knots as control points and `degree` + 1 together, and they must not fall;
/// weights are above 0. Stretches of no length are left out.
pub fn b_spline(degree: usize, knots: &[f64], controls: &[(Point, f64)]) -> Vec<Bezier> {
    let products: Vec<[f64; 3]> = controls.iter().map(|(p, w)| [p.x * w, p.y * w, *w]).collect();
    let fits = degree >= 1 && products.len() > degree && knots.len() == products.len() + degree + 1;
    let spans = if fits { degree..products.len() } else { 0..0 };
    spans
        .filter(|&span| knots[span] < knots[span + 1])
        .map(|span| {
            let near = &products[span - degree..=span];
            Bezier::of_products((0..=degree).map(|late| blossom(degree, knots, near, span, late)).collect())
        })
        .collect()
}

/// The blossom of the stretch that begins at knot `span`, at its end `late` times and at its beginning for the rest.
fn blossom(degree: usize, knots: &[f64], near: &[[f64; 3]], span: usize, late: usize) -> [f64; 3] {
    let mut values = near.to_vec();
    for level in 1..=degree {
        let t = if level <= late { knots[span + 1] } else { knots[span] };
        for i in (level..=degree).rev() {
            let (low, high) = (knots[span + i - degree], knots[span + i + 1 - level]);
            let share = (t - low) / (high - low);
            values[i] = [0, 1, 2].map(|k| values[i - 1][k] * (1.0 - share) + values[i][k] * share);
        }
    }
    values[degree]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(points: &[(f64, f64)]) -> Vec<(Point, f64)> {
        points.iter().map(|&(x, y)| (Point::new(x, y), 1.0)).collect()
    }

    #[test]
    fn without_inner_knots_the_control_points_stay_what_they_are() {
        let controls = plain(&[(0.0, 0.0), (1.0, 2.0), (3.0, 2.0), (4.0, 0.0)]);
        let stretches = b_spline(3, &[0.0, 0.0, 0.0, 0.0, 2.0, 2.0, 2.0, 2.0], &controls);
        assert_eq!(stretches.len(), 1);
        assert!(stretches[0].controls().zip(&controls).all(|(a, b)| a.0.distance(b.0) < 1e-15));
    }

    #[test]
    fn a_uniform_quadratic_begins_half_way_between_its_points() {
        let controls = plain(&[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]);
        let stretches = b_spline(2, &[0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0], &controls);
        let ends: Vec<Point> = stretches.iter().flat_map(|one| [one.first(), one.last()]).collect();
        let expected = [(1.0, 0.0), (2.0, 1.0), (2.0, 1.0), (1.0, 2.0)].map(|(x, y)| Point::new(x, y));
        assert_eq!(ends, expected);
    }

    #[test]
    fn lists_that_do_not_fit_give_nothing() {
        assert!(b_spline(3, &[0.0, 1.0], &plain(&[(0.0, 0.0), (1.0, 1.0)])).is_empty());
        assert!(b_spline(0, &[0.0, 1.0, 2.0], &plain(&[(0.0, 0.0), (1.0, 1.0)])).is_empty());
    }
}
