//! Pieces of ellipses as rational Bezier curves, which they are exactly.

use crate::{Bezier, Point, Vector};
use std::f64::consts::FRAC_PI_2;

/// The points centre + first * cos(t) + second * sin(t) for t from `from` over `sweep`, radians, at most a few turns. The two half
/// diameters need not be square to each other: any affine image of a circular arc is such a piece.
pub fn ellipse(centre: Point, [first, second]: [Vector; 2], from: f64, sweep: f64) -> Vec<Bezier> {
    // Nothing is lost by rounding down a sweep that is a hair above a whole number of quarters.
    let count = (sweep.abs() / FRAC_PI_2 - 1e-9).ceil().max(1.0);
    let half = sweep / count / 2.0;
    let out = |t: f64| first * t.cos() + second * t.sin();
    let at = |step: f64| centre + out(from + step * half);
    let quarter = |i: usize| {
        let step = 2.0 * i as f64;
        let middle = centre + out(from + (step + 1.0) * half) * (1.0 / half.cos());
        Bezier::new([(at(step), 1.0), (middle, half.cos()), (at(step + 2.0), 1.0)])
    };
    (0..count as usize).map(quarter).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_point_satisfies_the_equation_of_the_ellipse() {
        let centre = Point::new(3.0, -1.0);
        for (from, sweep) in [(0.0, std::f64::consts::TAU), (1.0, 2.0), (0.5, -4.0), (2.0, 0.01)] {
            let pieces = ellipse(centre, [Vector::new(4.0, 0.0), Vector::new(0.0, 1.5)], from, sweep);
            for piece in &pieces {
                for step in 0..=20 {
                    let out = piece.at(f64::from(step) / 20.0) - centre;
                    let one = (out.x / 4.0).powi(2) + (out.y / 1.5).powi(2);
                    assert!((one - 1.0).abs() < 1e-14, "{from} {sweep} {one}");
                }
            }
            let last = from + sweep;
            let end = centre + Vector::new(4.0 * last.cos(), 1.5 * last.sin());
            assert!(pieces[pieces.len() - 1].last().distance(end) < 1e-14);
        }
    }
}
