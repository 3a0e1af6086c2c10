//! Stock that is left on a face of a piece for grinding: a comb of teeth off the face, and its amount.

use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::{bounds, points};
use crate::{Item, LineKind, Path, figure};
use package::Contour;

/// Length of a tooth, mm of paper.
const TOOTH: f64 = 3.0;
/// Between teeth, mm of paper.
const PITCH: f64 = 3.0;

/// Draws the stock on the faces of a piece.
pub fn stock(ink: &mut Ink, contour: &Contour) {
    let [x0, y0, x1, y1] = bounds(&points(&contour.target, ink.scale));
    let faces = [
        ([x0, y0], [x0, y1], [-1.0, 0.0]),
        ([x1, y0], [x1, y1], [1.0, 0.0]),
        ([x0, y0], [x1, y0], [0.0, -1.0]),
        ([x0, y1], [x1, y1], [0.0, 1.0]),
    ];
    for ((from, to, out), by) in faces.into_iter().zip(contour.grind_stock_mm.unwrap_or_default()) {
        if by == 0.0 {
            continue;
        }
        let (tooth, pitch) = (ink.paper(TOOTH), ink.paper(PITCH));
        comb(&mut ink.items, [from, to], [out[0] * tooth, out[1] * tooth], pitch);
        ink.mark(Mark::GroundStock);
        // Beside the middle, where tab and start may be.
        let at = [0, 1].map(|k| from[k] + 0.25 * (to[k] - from[k]));
        ink.note(at, format!("grind {}", figure::size(by, 3)));
    }
}

/// Teeth along a face.
pub fn comb(items: &mut Vec<Item>, [from, to]: [[f64; 2]; 2], tooth: [f64; 2], pitch: f64) {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let count = ((dx * dx + dy * dy).sqrt() / pitch).floor().max(1.0);
    for k in 0..=count as usize {
        let share = k as f64 / count;
        let foot = [from[0] + share * dx, from[1] + share * dy];
        let path = Path::open(&[foot, [foot[0] + tooth[0], foot[1] + tooth[1]]]);
        items.push(Item::Stroke(LineKind::GroundStock, path));
    }
}
