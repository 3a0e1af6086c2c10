//! Pieces of ellipses as rational Bezier curves, which they are exactly.

use crate::{Bezier, Point, Vector};
use std::f64::consts::FRAC_PI_2;

/// Pieces shorter than this are left to their neighbours, radians: what rounding leaves of a sweep of whole quarters.
const SLIVER: f64 = 1e-9;

/// The points centre + first * cos(t) + second * sin(t) for t from `from` over `sweep`, radians, at most a few turns, cut where t is a whole
/// number of quarters: at the ends of the axes. The two half diameters need not be square to each other: any affine image of a circular arc
/// is such a piece.
pub fn ellipse(centre: Point, [first, second]: [Vector; 2], from: f64, sweep: f64) -> Vec<Bezier> {
    let out = |t: f64| first * t.cos() + second * t.sin();
    let between = |a: f64, b: f64| {
        let half = (b - a) / 2.0;
        let middle = centre + out(a + half) * (1.0 / half.cos());
        Bezier::new([(centre + out(a), 1.0), (middle, half.cos()), (centre + out(b), 1.0)])
    };
    let cuts = cuts(from, from + sweep);
    cuts.windows(2).map(|pair| between(pair[0], pair[1])).collect()
}

/// Both ends and the whole quarters between them, in order.
fn cuts(from: f64, to: f64) -> Vec<f64> {
    let (low, high) = (from.min(to), from.max(to));
    let (first, last) = ((low / FRAC_PI_2).ceil(), (high / FRAC_PI_2).floor());
    let count = (last - first + 1.0).max(0.0) as usize;
    let quarters = (0..count).map(|i| (first + i as f64) * FRAC_PI_2);
    let mut cuts = vec![low];
    cuts.extend(quarters.filter(|t| t - low > SLIVER && high - t > SLIVER));
    cuts.push(high);
    if to < from {
        cuts.reverse();
    }
    cuts
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
