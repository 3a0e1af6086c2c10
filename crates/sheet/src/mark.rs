//! The marks that lie on an enlarged opening: room bars, ticks of the wire's passes, ends of the lead-in, cores, corners.

use crate::{Item, LineKind, Path};
use package::{Contour, Core, MissedCorner, Start, Wire};

/// Two facing bars from the worst rim to the nearest edge; solid between them when the room is short.
pub fn room(items: &mut Vec<Item>, start: &Start, scale: f64) {
    let Some([ex, ey]) = start.nearest_edge_mm else { return };
    let (dx, dy) = (ex - start.x_mm, ey - start.y_mm);
    let far = dx.hypot(dy);
    if far == 0.0 {
        return;
    }
    let (u, v) = (dx / far, dy / far);
    let arm = 2.5 / scale;
    let bar = |r: f64, side: f64| [start.x_mm + u * r - v * arm * side, start.y_mm + v * r + u * arm * side];
    let rim = far - start.room_mm;
    for r in [rim, far] {
        items.push(Item::Stroke(LineKind::LeadIn, Path::open(&[bar(r, -1.0), bar(r, 1.0)])));
    }
    if start.room_mm < 0.0 {
        let corners = [bar(far, -1.0), bar(far, 1.0), bar(rim, 1.0), bar(rim, -1.0)];
        items.push(Item::Fill(Path::outline(&corners.map(|p| [p[0], p[1], 0.0]))));
    }
}

/// n ticks across the straights of pass n, each pass at its own place along them so that they stay apart.
pub fn ticks(items: &mut Vec<Item>, wire: &Wire, scale: f64) {
    let passes = wire.passes.len() as f64;
    for (i, pass) in wire.passes.iter().enumerate() {
        for (k, a) in pass.centre.iter().enumerate() {
            let b = pass.centre[(k + 1) % pass.centre.len()];
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let length = dx.hypot(dy);
            if a[2] != 0.0 || length * scale < 6.0 * passes {
                continue;
            }
            let (u, v, arm) = (dx / length, dy / length, 0.7 / scale);
            for n in 0..=i {
                let s =
                    length * (i as f64 + 1.0) / (passes + 1.0) + (n as f64 - i as f64 / 2.0) * 0.9 / scale;
                let (x, y) = (a[0] + u * s, a[1] + v * s);
                let across = [[x - v * arm, y + u * arm], [x + v * arm, y - u * arm]];
                items.push(Item::Stroke(LineKind::Plain, Path::open(&across)));
            }
        }
    }
}

/// Ring where the wire is threaded, half an arrowhead where the lead-in meets the edge.
pub fn lead_in(items: &mut Vec<Item>, wire: &Wire, scale: f64) {
    let [.., before, end] = wire.lead_in.as_slice() else { return };
    let first = wire.lead_in[0];
    items.push(Item::Stroke(LineKind::LeadIn, Path::circle(first[0], first[1], 0.8 / scale)));
    let (dx, dy) = (end[0] - before[0], end[1] - before[1]);
    let length = dx.hypot(dy);
    if length > 0.0 {
        let (u, v, l) = (dx / length, dy / length, 2.5 / scale);
        let barb = [end[0] - u * l - v * l * 0.4, end[1] - v * l + u * l * 0.4];
        items.push(Item::Stroke(LineKind::LeadIn, Path::open(&[*end, barb])));
    }
}

/// A triangle pointing down, with a bar over it when the core is held.
pub fn core(items: &mut Vec<Item>, core: &Core, scale: f64) {
    let n = core.outline.len() as f64;
    let x = core.outline.iter().map(|v| v[0]).sum::<f64>() / n;
    let y = core.outline.iter().map(|v| v[1]).sum::<f64>() / n;
    let a = 2.0 / scale;
    items.push(Item::Fill(Path::outline(&[[x - a, y + a, 0.0], [x, y - a, 0.0], [x + a, y + a, 0.0]])));
    if core.held {
        let bar = [[x - a, y + 1.5 * a], [x + a, y + 1.5 * a]];
        items.push(Item::Stroke(LineKind::FinishedEdge, Path::open(&bar)));
    }
}

/// A flag at a corner that the wire leaves, planted away from the middle of the opening.
pub fn corner(items: &mut Vec<Item>, missed: &MissedCorner, contour: &Contour, scale: f64) {
    let n = contour.target.len().max(1) as f64;
    let side = |at: f64, axis: usize| {
        let middle = contour.target.iter().map(|v| v[axis]).sum::<f64>() / n;
        if at < middle { -4.0 / scale } else { 4.0 / scale }
    };
    let (x, y) = (missed.x_mm, missed.y_mm);
    let (sx, sy) = (side(x, 0), side(y, 1));
    items.push(Item::Stroke(LineKind::Plain, Path::open(&[[x, y], [x + sx, y + sy]])));
    let flag =
        [[x + sx, y + sy, 0.0], [x + 1.5 * sx, y + 0.75 * sy, 0.0], [x + 0.75 * sx, y + 0.75 * sy, 0.0]];
    items.push(Item::Fill(Path::outline(&flag)));
}
