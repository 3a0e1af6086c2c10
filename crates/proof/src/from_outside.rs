//! Cuts that begin beside the block, with no hole: where the wire stands, and what its ways leave of the block around the pieces.

use crate::engine::{Shape, difference, stroke};
use crate::fault::Spot;
use crate::flatten::Place;
use crate::passes::Threaded;
use crate::region::area;
use package::{Contour, Fault, PlanSection, Side, Start, StartKind, Wire};

/// The wire may stand this much nearer to the block than it sparks, mm: what rounding in inches does.
const NEARER: f64 = 1e-4;
/// A place this near to the block's side is on it, mm: two steps of the polygon engine in the largest block.
const ON_SIDE: f64 = 1e-5;
/// Pieces of metal smaller than this are none, mm2.
const DUST: f64 = 1e-4;

/// Whether the cut of a contour begins beside the block.
pub fn is(contour: &Contour) -> bool {
    contour.start.as_ref().is_some_and(begins_there)
}

/// Whether a cut begins beside the block.
pub fn begins_there(start: &Start) -> bool {
    start.kind == StartKind::FromOutside
}

/// The wire stands off the block by half of itself and its spark, beside a piece that is cut out, and nothing is said of a hole.
pub fn stands(
    block: [f64; 2],
    contour: &Contour,
    wire: &Wire,
    threaded: &Threaded,
    spot: &Spot,
) -> Vec<Fault> {
    let Some(start) = contour.start.as_ref().filter(|start| begins_there(start)) else { return Vec::new() };
    let spot = spot.block(threaded.block).at(threaded.place);
    let mut faults = Vec::new();
    let mut fault = |message: String| {
        faults.push(spot.fault("from-outside", format!("contour `{}`: {message}", contour.id)));
    };
    if contour.side == Side::Inside {
        fault("an opening is begun beside the block".to_owned());
    }
    let hole = start.hole_diameter_mm;
    let said = [hole.entry, hole.exit, start.depth_mm].iter().any(|said| *said != 0.0);
    if said || start.electrode_mm.is_some() || start.measured.is_some() || start.back_bore.is_some() {
        fault("it is begun beside the block, and the plan says something of a hole".to_owned());
    }
    let gap = wire.passes.iter().map(|pass| pass.spark_gap_mm).fold(0.0, f64::max);
    let (off, need) = (off_block(block, threaded.place), wire.diameter_mm / 2.0 + gap);
    if off < need - NEARER {
        fault(format!("the wire stands {off:.4} off the block, and sparks from {need:.4} on"));
    }
    faults
}

/// How far a place lies outside the block, mm; below 0: in it.
fn off_block(block: [f64; 2], place: Place) -> f64 {
    let beyond = [0, 1].map(|k| place[k].abs() - block[k] / 2.0);
    match beyond {
        [x, y] if x >= 0.0 && y >= 0.0 => x.hypot(y),
        [x, y] => x.max(y),
    }
}

/// What stands around the pieces of a block hangs together when all are cut, where some way comes in from outside: `ways` of the
/// wire's centre along the outsides of pieces, each with what it clears.
pub fn frame(section: &PlanSection, ways: &[(Vec<Place>, f64)]) -> Option<Fault> {
    if !section.contours.iter().any(is) {
        return None;
    }
    let [x, y] = section.block_mm().map(|side| side / 2.0);
    let block: Shape = vec![vec![[-x, -y], [x, -y], [x, y], [-x, y]]];
    let mut left = vec![block];
    for (way, clears) in ways {
        left = difference(&left, &stroke(way, *clears));
    }
    let on_side = |place: &Place| off_block(section.block_mm(), *place) >= -ON_SIDE;
    let large = |shape: &&Shape| shape.first().is_some_and(|outer| area(outer).abs() >= DUST);
    let of_block = |shape: &&Shape| shape.first().is_some_and(|outer| outer.iter().any(on_side));
    let parts: Vec<&Shape> = left.iter().filter(large).filter(of_block).collect();
    if parts.len() == 1 {
        return None;
    }
    let size = |shape: &&&Shape| shape.first().map_or(0.0, |outer| area(outer).abs());
    let least = parts.iter().min_by(|a, b| size(a).total_cmp(&size(b)));
    let place = least.and_then(|shape| shape.first()?.first().copied()).unwrap_or_default();
    let message = format!(
        "section `{}`: what stands around its pieces comes to lie in {} parts when they are cut",
        section.id,
        parts.len()
    );
    Some(Spot::default().at(place).fault("frame-parts", message))
}

#[cfg(test)]
mod tests;
