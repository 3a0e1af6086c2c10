//! Strength of a section: a block of 24 by 16 mm with an opening of 20 segments, its corners rounded as by a wire, pressed from within and
//! held on all sides.

use super::Row;
use super::clock::{middle, text};
use crate::dice::Dice;
use crate::sections::{block, peaks, star};
use std::time::Instant;
use strength::{Aim, Region, Support};

/// Sections measured.
const SECTIONS: usize = 40;
/// Corners of an opening, each an arc between two lines.
const CORNERS: usize = 10;
/// Share of the peak that it may be wrong by.
const SETTLE: f64 = 0.02;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let mut dice = Dice::new(1);
    let block = block()?;
    let walls = [0, 1, 2, 3].map(Support::rigid);
    let (mut times, mut elements) = (Vec::new(), Vec::new());
    while times.len() < SECTIONS {
        let Some(opening) = star(&mut dice, CORNERS, 0.5, 6.0) else { continue };
        let Ok(region) = Region::new(block.clone(), vec![opening]) else { continue };
        let began = Instant::now();
        let found = peaks(&region, &walls, &Aim { settle: SETTLE, most_elements: 20_000 })?;
        times.push(began.elapsed().as_secs_f64());
        elements.push(found.elements as f64);
    }
    let worst = times.iter().copied().fold(0.0, f64::max);
    let what = format!("strength within {:.0} %, opening of {} segments", 100.0 * SETTLE, 2 * CORNERS);
    let size = format!("{:.0} triangles", middle(&mut elements));
    Ok(vec![
        Row::new(format!("{what}, median"), text(middle(&mut times)), format!("aim 300 ms; {size}")),
        Row::new(format!("{what}, worst of {SECTIONS}"), text(worst), "aim 300 ms"),
    ])
}
