//! What would bring a section's peak stress under what its steel bears: a radius in the corners of the opening that has it, or a
//! larger block. Each is found by halving and reckoned once more as it is given.

use crate::kept::Kept;
use crate::spread::Spread;
use outline::{largest_circle, reach};

/// A cure need be no better known than this: it is rounded up afterwards.
const SETTLE: f64 = 0.05;
/// Halvings between what is not enough and what is.
const HALVINGS: usize = 5;
/// Radii are given in steps of this, mm.
const RADIUS_STEP: f64 = 0.01;
/// Blocks are given in steps of this on each side, mm.
const BLOCK_STEP: f64 = 0.5;
/// Greatest block looked at, as a share of what it is.
const LARGEST: f64 = 3.0;
/// Corners are rounded up to this share of the largest circle: more would leave no more of the opening than that.
const ROUNDEST: f64 = 0.95;

/// What would be enough.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Cured {
    /// Radius in the corners of the opening, mm.
    pub radius: Option<f64>,
    /// Growth on each side of the block, mm.
    pub growth: Option<f64>,
}

/// What would bring the peak, its error added, down to a stress; `opening` has the peak.
pub fn of(kept: &Kept, spread: &Spread, opening: Option<usize>, allowed: f64) -> Cured {
    let bears = |one: Option<Spread>| {
        one.and_then(|one| kept.worst(&one, SETTLE).ok()).is_some_and(|worst| worst.at_most() <= allowed)
    };
    let radius = opening.and_then(|i| {
        let circle = largest_circle(&spread.openings[i], &[]).ok()?;
        let own = spread.openings[i].tightest_corner(true).map_or(0.0, |corner| corner.radius);
        least((own, ROUNDEST * circle.radius), RADIUS_STEP, |r| bears(rounded(spread, i, r)))
    });
    let most = (LARGEST - 1.0) / 2.0 * spread.size[0].min(spread.size[1]);
    let growth = least((0.0, most), BLOCK_STEP, |by| bears(Some(grown(spread, by))));
    Cured { radius, growth }
}

/// The least value between two that is enough, rounded up to a step; none if the greater is not enough.
fn least((mut short, most): (f64, f64), step: f64, enough: impl Fn(f64) -> bool) -> Option<f64> {
    if most <= short || !enough(most) {
        return None;
    }
    let mut found = most;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (short + found);
        if enough(middle) {
            found = middle;
        } else {
            short = middle;
        }
    }
    let round = (found / step).ceil() * step;
    Some(if round <= most && enough(round) { round } else { found })
}

/// With the corners of one opening rounded; none where that parts it.
fn rounded(spread: &Spread, opening: usize, radius: f64) -> Option<Spread> {
    let mut edges = reach(&spread.openings[opening], radius).ok()?.edges;
    if edges.len() != 1 {
        return None;
    }
    let mut other = spread.clone();
    other.openings[opening] = edges.remove(0);
    Some(other)
}

/// In a block that is larger on each side.
pub fn grown(spread: &Spread, by: f64) -> Spread {
    Spread { size: spread.size.map(|side| side + 2.0 * by), ..spread.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_that_is_enough_is_found_from_above_and_rounded_up() {
        let found = least((0.0, 1.0), 0.01, |x| x >= 0.4567).unwrap();
        assert!((0.4567..0.50).contains(&found) && (found / 0.01).fract() < 1e-6, "{found}");
        assert_eq!(least((0.0, 1.0), 0.01, |x| x > 1.5), None);
        assert_eq!(least((1.0, 1.0), 0.01, |_| true), None);
    }
}
