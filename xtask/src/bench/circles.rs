//! The largest circle over random outlines: median and worst.

use super::Row;
use super::clock::{median, middle, text};
use crate::dice::Dice;
use crate::profile;
use outline::{Outline, largest_circle};

const OUTLINES: usize = 3000;

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
    Ok(vec![
        Row::new(format!("{what}, median"), text(middle(&mut times)), "aim 2 ms"),
        Row::new(format!("{what}, worst"), text(worst), format!("aim 100 ms; {refused} refused")),
    ])
}
