//! The start hole: where it is burned, where its rim may lie, and the room between rim and finished edge; or where the wire stands
//! beside the block, where there is no hole.

use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::length;
use crate::{Item, LineKind, Path, figure};
use package::{Start, StartKind};

/// The cross stands out this far beyond the hole, mm of paper.
const CROSS: f64 = 2.0;
/// Half a bar of the room, mm of paper.
const ARM: f64 = 4.0;

/// A mid circle as large as the entry, with its cross; a measured hole by both its ends, the cross where the wire goes.
pub fn hole(ink: &mut Ink, start: &Start) {
    let (x, y, r) = (start.x_mm, start.y_mm, start.hole_diameter_mm.entry / 2.0);
    let arm = r + ink.paper(CROSS);
    match start.measured {
        _ if from_outside(start) => {}
        Some(measured) => {
            for rim in [measured.face, measured.back] {
                ink.stroke(LineKind::StartHole, Path::circle(rim.x_mm, rim.y_mm, rim.diameter_mm / 2.0));
            }
        }
        None => ink.stroke(LineKind::StartHole, Path::circle(x, y, r)),
    }
    ink.stroke(LineKind::StartHole, Path::open(&[[x - arm, y], [x + arm, y]]));
    ink.stroke(LineKind::StartHole, Path::open(&[[x, y - arm], [x, y + arm]]));
    ink.mark(if from_outside(start) { Mark::Stands } else { Mark::StartHole });
}

/// Whether there is no hole.
pub fn from_outside(start: &Start) -> bool {
    start.kind == StartKind::FromOutside
}

/// The way from where the wire stands beside the block to the edge.
pub fn way_in(ink: &mut Ink, start: &Start) {
    if let Some(edge) = start.nearest_edge_mm.filter(|_| from_outside(start)) {
        ink.stroke(LineKind::LeadIn, Path::open(&[[start.x_mm, start.y_mm], edge]));
        ink.mark(Mark::WayIn);
    }
}

/// Names the hole by its number at the upper right of its rim.
pub fn name(ink: &mut Ink, start: &Start, number: usize) {
    let r = start.hole_diameter_mm.entry / 2.0 * 0.5_f64.sqrt();
    let what = if from_outside(start) { "start" } else { "hole" };
    ink.note([start.x_mm + r, start.y_mm + r], format!("{what} {number}"));
}

/// Thin dots around the circle that holds the rim with 95 % confidence.
pub fn may_lie(ink: &mut Ink, start: &Start) {
    if let Some(radius) = start.may_lie_radius_mm {
        ink.stroke(LineKind::MayLie, Path::circle(start.x_mm, start.y_mm, radius));
        ink.mark(Mark::MayLie);
    }
}

/// Two facing bars from the worst rim to the nearest edge with the room between them; short: solid, and "SHORT".
pub fn room(ink: &mut Ink, start: &Start) {
    let Some(edge) = start.nearest_edge_mm.filter(|_| !from_outside(start)) else { return };
    let toward = [edge[0] - start.x_mm, edge[1] - start.y_mm];
    let far = length(toward);
    if far <= 0.0 {
        return;
    }
    let rim_at = (far - start.room_mm) / far;
    let rim = [start.x_mm + toward[0] * rim_at, start.y_mm + toward[1] * rim_at];
    let short = start.room_mm < 0.0;
    let arm = ink.paper(ARM);
    facing_bars(&mut ink.items, rim, edge, arm, short);
    // The note points at an end of the bars, so that its dot hides nothing between them.
    let side = arm / far;
    let middle = [(rim[0] + edge[0]) / 2.0, (rim[1] + edge[1]) / 2.0];
    let place = [middle[0] - toward[1] * side, middle[1] + toward[0] * side];
    if short {
        ink.mark(Mark::Short);
        ink.note(place, format!("SHORT {}", figure::size(-start.room_mm, 3)));
    } else {
        ink.mark(Mark::Room);
        ink.note(place, format!("room {}", figure::signed(start.room_mm, 3)));
    }
}

/// Bars across the way from rim to edge, hooked toward each other; the overlap solid when the rim lies beyond.
///
/// `rim` and `edge` may coincide: then only one bar is seen, drawn upright.
pub fn facing_bars(items: &mut Vec<Item>, rim: [f64; 2], edge: [f64; 2], arm: f64, short: bool) {
    let (dx, dy) = (edge[0] - rim[0], edge[1] - rim[1]);
    let far = length([dx, dy]);
    let (u, v) = if far > 0.0 { (dx / far, dy / far) } else { (1.0, 0.0) };
    let point =
        |p: [f64; 2], along: f64, across: f64| [p[0] + u * along - v * across, p[1] + v * along + u * across];
    if short {
        let overlap =
            [point(rim, 0.0, -arm), point(rim, 0.0, arm), point(edge, 0.0, arm), point(edge, 0.0, -arm)];
        items.push(Item::Fill(Path::polygon(&overlap)));
    }
    items.push(Item::Stroke(LineKind::Plain, Path::open(&[rim, edge])));
    let hook = (arm * 0.35).min(far * 0.35);
    for (p, inward) in [(rim, hook), (edge, -hook)] {
        let bar = [point(p, inward, -arm), point(p, 0.0, -arm), point(p, 0.0, arm), point(p, inward, arm)];
        items.push(Item::Stroke(LineKind::Room, Path::open(&bar)));
    }
}
