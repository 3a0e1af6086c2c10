//! The block from the front: its height, and land and relief of each opening as if the block were clear.

use crate::column::{LEAST, SMALL};
use crate::ink::Ink;
use crate::key::Mark;
use crate::letters::fit;
use crate::shape::{bounds, points};
use crate::{End, Item, LineKind, Path, Text, figure};
use package::{Contour, PlanSection};

/// Between the lines of a land or a relief, mm of paper.
const PITCH: f64 = 1.5;
/// For the figure of a dimension, mm of paper.
const DIMENSION: f64 = 20.0;
/// tan 15 deg: how far the lines of a relief lean.
const LEAN: f64 = 0.267_949_192_431_122_7;

/// Draws the front view: x to the right, the cutting face on top at 0, the back at minus the height.
pub fn side(ink: &mut Ink, section: &PlanSection) {
    let ([wide, _], high) = (section.block_mm(), section.size_mm[2]);
    let x = wide / 2.0;
    ink.stroke(LineKind::Plain, Path::rectangle(-x, -high, x, 0.0));
    for contour in &section.contours {
        opening(ink, contour, high);
    }
    let aside = ink.paper(3.0);
    dimension(ink, [x + aside, 0.0, -high], figure::size(high, 3));
    let mut lands: Vec<f64> = section.contours.iter().map(|c| c.land_mm).collect();
    lands.dedup();
    if let [land] = lands.as_slice() {
        dimension(ink, [-x - aside, 0.0, -land], format!("land {}", figure::size(*land, 3)));
    }
    // The names of the faces stand clear of the height between them, however flat the block.
    let (right, low, clear) = (x + 2.0 * aside, ink.paper(SMALL / 2.0), ink.paper(SMALL * 1.5));
    let faces =
        [((-high / 2.0 + clear).max(0.0), "cutting face"), ((-high / 2.0 - clear).min(-high), "back")];
    for (y, words) in faces {
        ink.items.push(text([right, y - low], End::Left, SMALL, words.into()));
    }
}

fn text(at: [f64; 2], from: End, size_mm: f64, words: String) -> Item {
    Item::Text(Text { at, from, size_mm, words })
}

fn opening(ink: &mut Ink, contour: &Contour, high: f64) {
    let [x0, _, x1, _] = bounds(&points(&contour.target, ink.scale));
    let land = contour.land_mm.clamp(0.0, high);
    let steps = ((x1 - x0) / ink.paper(PITCH)).floor().max(1.0);
    let at = |k: f64| x0 + (x1 - x0) * k / steps;
    let lines: Vec<f64> = (0..=steps as usize).map(|k| at(k as f64)).collect();
    for x in &lines {
        ink.stroke(LineKind::Land, Path::open(&[[*x, 0.0], [*x, -land]]));
    }
    ink.mark(Mark::Land);
    let below = high - land;
    if below <= 0.0 {
        return;
    }
    let taper = contour.relief_deg.to_radians().tan();
    let walls = [[x0, -taper], [x1, taper]];
    for [x, lean] in walls {
        ink.stroke(LineKind::Plain, Path::open(&[[x, -land], [x + below * lean, -high]]));
    }
    let pitch = ink.paper(PITCH);
    let first = ((below * LEAN) / pitch).floor();
    for k in 1..(first + (x1 - x0) / pitch).ceil() as usize {
        // A leaning line begins at the land or at the one wall, and ends at the back or at the other.
        let x = x0 + (k as f64 - first) * pitch;
        let from = ((x0 - x) / (LEAN + taper)).max(0.0);
        let to = if taper < LEAN { below.min((x1 - x) / (LEAN - taper)) } else { below };
        if from < to {
            let ends = [from, to].map(|deep| [x + deep * LEAN, -land - deep]);
            ink.stroke(LineKind::Relief, Path::open(&ends));
        }
    }
    ink.mark(Mark::Relief);
}

/// A dimension line between two heights, its figure on the outer side.
fn dimension(ink: &mut Ink, [x, top, bottom]: [f64; 3], words: String) {
    let tick = ink.paper(1.2);
    ink.stroke(LineKind::Plain, Path::open(&[[x, top], [x, bottom]]));
    for y in [top, bottom] {
        ink.stroke(LineKind::Plain, Path::open(&[[x - tick, y], [x + tick, y]]));
    }
    let out = ink.paper(if x < 0.0 { -2.0 } else { 2.0 });
    let from = if x < 0.0 { End::Right } else { End::Left };
    let fitted = fit(&words, DIMENSION, SMALL, LEAST, 1);
    let y = (top + bottom) / 2.0 - ink.paper(fitted.size / 2.0);
    ink.items.push(text([x + out, y], from, fitted.size, fitted.lines.concat()));
}
