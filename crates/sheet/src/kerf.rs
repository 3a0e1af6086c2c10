//! The kerf as light dots: all metal between finished edge, cores and start hole, which the wire burns away.

use crate::Item;
use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::{bounds, distance, points, row, thinned};
use package::{Contour, Side};

/// Between dots, mm of paper.
const PITCH: f64 = 1.2;
/// Kept free on both sides of a line, mm of paper.
const CLEAR: f64 = 0.6;

/// Dots the kerf of an opening, or around a piece. Nothing is dotted where it is not known: without wire, or with cores that have mass
/// but no outline. `standing`: cores and tabs.
pub fn kerf(ink: &mut Ink, contour: &Contour, standing: &[Vec<[f64; 2]>]) {
    let Some(wire) = contour.wire.as_ref().filter(|_| !standing.iter().any(Vec::is_empty)) else { return };
    let target = points(&contour.target, ink.scale);
    let main =
        wire.passes.first().map_or(0.0, |pass| pass.offset_mm + wire.diameter_mm / 2.0 + pass.spark_gap_mm);
    // Around a piece, what lies no farther from it than the main cut clears.
    let around = contour.side == Side::Outside;
    let [left, low, right, high] = bounds(&target);
    let coarse = thinned(&target, ink.paper(CLEAR));
    let burned = |place: [f64; 2]| !around || distance(&coarse, place) <= main - ink.paper(CLEAR) / 2.0;
    let [x0, y0, x1, y1] = ink.seen;
    let pitch = ink.paper(PITCH);
    let clear = ink.paper(CLEAR);
    let mut dots = Vec::new();
    let rows = ((y1 - y0) / pitch) as usize;
    for j in 0..=rows {
        let y = y0 + pitch * (j as f64 + 0.5);
        let mut kept = row(&target, y);
        if around {
            let band = [[left - main, right + main]];
            let outside = y < low - main || y > high + main;
            kept = if outside { Vec::new() } else { without(&band, &kept) };
        }
        for piece in standing {
            kept = without(&kept, &row(piece, y));
        }
        if let Some(start) = &contour.start {
            // The dots of the rim that may lie further out must not be lost among those of the kerf.
            let rim = start.may_lie_radius_mm.unwrap_or(0.0).max(start.hole_diameter_mm.entry / 2.0);
            let (r, dy) = (rim + clear, y - start.y_mm);
            let half = (r * r - dy * dy).max(0.0).sqrt();
            if half > 0.0 {
                kept = without(&kept, &[[start.x_mm - half, start.x_mm + half]]);
            }
        }
        // Every other row is shifted by half a pitch.
        let shift = if j % 2 == 0 { 0.0 } else { pitch / 2.0 };
        for [a, b] in kept {
            let (a, b) = ((a + clear).max(x0), (b - clear).min(x1));
            let first = ((a - x0 - shift) / pitch).ceil().max(0.0) as usize;
            dots.extend(
                (first..)
                    .map(|k| x0 + shift + k as f64 * pitch)
                    .take_while(|x| *x <= b)
                    .map(|x| [x, y])
                    .filter(|place| burned(*place)),
            );
        }
    }
    if !dots.is_empty() {
        ink.items.push(Item::Dots(dots));
        ink.mark(Mark::Kerf);
    }
}

/// What is left of some spans when others are taken out; both from left to right.
fn without(spans: &[[f64; 2]], holes: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut left = Vec::new();
    for [a, b] in spans {
        let mut from = *a;
        for [c, d] in holes.iter().filter(|h| h[1] > *a && h[0] < *b) {
            if *c > from {
                left.push([from, *c]);
            }
            from = from.max(*d);
        }
        if from < *b {
            left.push([from, *b]);
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_without_holes() {
        let check = |spans: &[[f64; 2]], holes: &[[f64; 2]], expected: &[[f64; 2]]| {
            assert_eq!(without(spans, holes), expected);
        };
        check(&[[0.0, 10.0]], &[[2.0, 3.0], [5.0, 6.0]], &[[0.0, 2.0], [3.0, 5.0], [6.0, 10.0]]);
        check(&[[0.0, 10.0]], &[[-1.0, 4.0], [9.0, 12.0]], &[[4.0, 9.0]]);
        check(&[[0.0, 1.0], [2.0, 3.0]], &[[0.5, 2.5]], &[[0.0, 0.5], [2.5, 3.0]]);
        check(&[[0.0, 1.0]], &[[-1.0, 2.0]], &[]);
    }
}
