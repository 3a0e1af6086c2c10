//! What would bring a section's peak stress under what its steel bears: a radius in the corners of the edge that has it, or a
//! larger block or piece. Each is found by halving and reckoned once more as it is given.

use crate::kept::Kept;
use crate::outside::Outside;
use crate::spread::Spread;
use outline::{Outline, largest_circle, reach};
use strength::Edge;

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

/// Inside corners of a piece are rounded up to this share of its shorter side, where its sides are long enough.
const ROUNDEST_OUTSIDE: f64 = 0.5;
/// Halvings on the way to the roundest that its sides are long enough for.
const ROUNDEST_HALVINGS: usize = 10;

/// What would be enough.
#[derive(Debug, Default)]
pub struct Cured {
    /// Radius in the corners of the edge, mm.
    pub radius: Option<f64>,
    /// A larger block, or a piece that is larger all round.
    pub larger: Option<Larger>,
}

/// A section with more metal around its openings.
#[derive(Debug)]
pub struct Larger {
    /// Growth on each side, mm.
    pub by: f64,
    /// The section then.
    pub spread: Spread,
}

/// What would bring the peak, its error added, down to a stress; `edge` has the peak.
pub fn of(kept: &Kept, spread: &Spread, edge: Option<Edge>, allowed: f64) -> Cured {
    let bears = |one: Option<Spread>| {
        one.and_then(|one| kept.worst(&one, SETTLE).ok()).is_some_and(|worst| worst.at_most() <= allowed)
    };
    let radius =
        edge.and_then(|edge| least(radii(spread, edge)?, RADIUS_STEP, |r| bears(rounded(spread, edge, r))));
    let [x, y] = spread.outside.size();
    let most = (LARGEST - 1.0) / 2.0 * x.min(y);
    let growth = least((0.0, most), BLOCK_STEP, |by| bears(grown(spread, by)));
    let larger = growth.and_then(|by| Some(Larger { by, spread: grown(spread, by)? }));
    Cured { radius, larger }
}

/// The tightest radius that an edge has in its corners, and the greatest that is looked at.
fn radii(spread: &Spread, edge: Edge) -> Option<(f64, f64)> {
    let own = |outline: &Outline, inside| outline.tightest_corner(inside).map_or(0.0, |corner| corner.radius);
    match (edge, &spread.outside) {
        (Edge::Opening(i), _) => {
            let opening = &spread.openings[i];
            let circle = largest_circle(opening, &[]).ok()?;
            Some((own(opening, true), ROUNDEST * circle.radius))
        }
        (Edge::Outer, Outside::Piece(piece)) => {
            let own = own(piece, false);
            Some((own, roundest(&spread.outside, own)))
        }
        (Edge::Outer, Outside::Block(_)) => None,
    }
}

/// The greatest radius that fits a piece's inside corners.
fn roundest(outside: &Outside, own: f64) -> f64 {
    let [x, y] = outside.size();
    let (mut fits, mut most) = (own, ROUNDEST_OUTSIDE * x.min(y));
    if outside.rounded(most).is_some() {
        return most;
    }
    for _ in 0..ROUNDEST_HALVINGS {
        let middle = 0.5 * (fits + most);
        if outside.rounded(middle).is_some() {
            fits = middle;
        } else {
            most = middle;
        }
    }
    fits
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

/// With the corners of one edge rounded; none where that parts it.
fn rounded(spread: &Spread, edge: Edge, radius: f64) -> Option<Spread> {
    let mut other = spread.clone();
    match edge {
        Edge::Outer => other.outside = spread.outside.rounded(radius)?,
        Edge::Opening(i) => {
            let mut edges = reach(&spread.openings[i], radius).ok()?.edges;
            if edges.len() != 1 {
                return None;
            }
            other.openings[i] = edges.remove(0);
        }
    }
    Some(other)
}

/// In a block or a piece that is larger all round.
fn grown(spread: &Spread, by: f64) -> Option<Spread> {
    Some(Spread { outside: spread.outside.grown(by)?, ..spread.clone() })
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
