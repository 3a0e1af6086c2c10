//! The largest circle over random outlines, median and worst, and in a bent slot that a drawing holds as facets.

use super::Row;
use super::clock::{median, middle, text};
use crate::dice::Dice;
use crate::profile;
use outline::{Outline, Point, Vector, Vertex, largest_circle};
use std::f64::consts::FRAC_PI_2;

const OUTLINES: usize = 3000;
/// Facets of the bent slot.
const FACETS: usize = 5000;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let mut dice = Dice::new(1);
    let (mut times, mut refused) = (Vec::new(), 0);
    while times.len() < OUTLINES {
        let decimals = [None, Some(4), Some(6)][dice.below(3)];
        let Ok(outline) = Outline::new(profile::draw(&mut dice, decimals).vertices) else { continue };
        times.push(median(1, 1, || refused += usize::from(largest_circle(&outline, &[]).is_err())));
    }
    let worst = times.iter().copied().fold(0.0, f64::max);
    let what = format!("largest circle within 1 nm, {OUTLINES} outlines");
    let slot = bent_slot(FACETS)?;
    // An outline keeps its circle: it is asked of one that nobody has asked yet.
    let faceted = median(5, 1, || largest_circle(&slot.starting_at(0), &[]));
    Ok(vec![
        Row::new(format!("{what}, median"), text(middle(&mut times)), "aim 2 ms"),
        Row::new(format!("{what}, worst"), text(worst), format!("aim 100 ms; {refused} refused")),
        Row::new(format!("the same in a bent slot drawn as {FACETS} facets"), text(faceted), "aim 100 ms"),
    ])
}

/// A quarter of a ring between radii 9 and 10, both sides in facets.
pub fn bent_slot(facets: usize) -> Result<Outline, String> {
    let half = facets / 2;
    let at = |radius: f64, i: usize| {
        let place =
            Point::new(0.0, 0.0) + Vector::at_angle(FRAC_PI_2 * i as f64 / (half - 1) as f64) * radius;
        Vertex::new(place.x, place.y, 0.0)
    };
    let outer = (0..half).map(|i| at(10.0, i));
    let inner = (0..half).rev().map(|i| at(9.0, i));
    Outline::new(outer.chain(inner).collect())
        .map_err(|defects| format!("the bent slot: {}", defects[0].message))
}
