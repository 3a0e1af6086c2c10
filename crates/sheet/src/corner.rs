//! Corners that the wire leaves: a black wedge as large as it is, and a flag with its depth.

use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::{bounds, length, points};
use crate::{Item, LineKind, Path, figure};
use package::{BulgeVertex, Contour, MissedCorner};

/// A wedge less deep than this on paper, mm, is also flagged.
const SEEN: f64 = 1.5;

/// Draws the missed corners, deepest first.
pub fn corners(ink: &mut Ink, contour: &Contour) {
    let mut missed: Vec<&MissedCorner> = contour.missed_corners.iter().collect();
    missed.sort_by(|a, b| b.depth_mm.total_cmp(&a.depth_mm));
    let [x0, y0, x1, y1] = bounds(&points(&contour.target, ink.scale));
    for corner in missed {
        let at = [corner.x_mm, corner.y_mm];
        if let Some(wedge) = wedge(contour, corner) {
            ink.items.push(Item::Fill(Path::outline(&wedge)));
        }
        if corner.depth_mm * ink.scale < SEEN {
            let away = |p: f64, low: f64, high: f64| if p < (low + high) / 2.0 { -1.0 } else { 1.0 };
            let size = ink.paper(0.8);
            flag(&mut ink.items, at, [away(at[0], x0, x1), away(at[1], y0, y1)], size);
        }
        ink.mark(Mark::MissedCorner);
        ink.note(at, format!("left {}", figure::size(corner.depth_mm, 4)));
    }
}

/// The metal between the corner and the wire's round: two tangents from the corner and the arc between them.
///
/// The round is that of the last pass, its offset about the nearest place of its centre. Where the corner itself is
/// rounded, the wedge stays within the metal that is really left.
fn wedge(contour: &Contour, corner: &MissedCorner) -> Option<[BulgeVertex; 3]> {
    let pass = contour.wire.as_ref()?.passes.last()?;
    let radius = pass.offset_mm;
    let far = radius + corner.depth_mm;
    let at = [corner.x_mm, corner.y_mm];
    let nearest = pass.centre.iter().min_by(|a, b| from(at, **a).total_cmp(&from(at, **b)))?;
    let distance = from(at, *nearest);
    // A centre that lies elsewhere than where the corner's depth asks for it belongs to another corner.
    if distance <= 0.0 || (distance - far).abs() > 0.1 * far || corner.depth_mm <= 0.0 {
        return None;
    }
    let (u, v) = ((at[0] - nearest[0]) / distance, (at[1] - nearest[1]) / distance);
    let (along, across) = (radius * radius / far, radius * (1.0 - (radius / far).powi(2)).sqrt());
    let centre = [at[0] - u * far, at[1] - v * far];
    let touch =
        |side: f64| [centre[0] + u * along - v * across * side, centre[1] + v * along + u * across * side];
    let ([lx, ly], [rx, ry]) = (touch(1.0), touch(-1.0));
    // tan of a quarter of the sweep, from sine and cosine of the half.
    let (sine, cosine) = (across / radius, along / radius);
    Some([[at[0], at[1], 0.0], [lx, ly, -sine / (1.0 + cosine)], [rx, ry, 0.0]])
}

fn from(at: [f64; 2], v: BulgeVertex) -> f64 {
    length([v[0] - at[0], v[1] - at[1]])
}

/// A small flag planted at a place, leaning away; `size` is a millimetre of paper.
pub fn flag(items: &mut Vec<Item>, [x, y]: [f64; 2], away: [f64; 2], size: f64) {
    let (sx, sy) = (away[0] * size, away[1] * size);
    items.push(Item::Stroke(LineKind::Plain, Path::open(&[[x, y], [x + 2.5 * sx, y + 4.0 * sy]])));
    let cloth = [[x + 2.5 * sx, y + 4.0 * sy], [x + 5.5 * sx, y + 3.2 * sy], [x + 1.5 * sx, y + 2.4 * sy]];
    items.push(Item::Fill(Path::polygon(&cloth)));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::row;

    fn square() -> Contour {
        let plan: package::Plan = serde_json::from_str(include_str!("../tests/plans/square.json")).unwrap();
        plan.sections[0].contours[0].clone()
    }

    #[test]
    fn the_wedge_of_a_square_corner_touches_both_sides_one_radius_back_and_is_as_deep_as_stated() {
        let contour = square();
        let corner = contour.missed_corners.iter().find(|c| c.x_mm > 0.0 && c.y_mm > 0.0).unwrap();
        let radius = contour.wire.as_ref().unwrap().passes.last().unwrap().offset_mm;
        let [apex, left, right] = wedge(&contour, corner).unwrap();
        assert_eq!([apex[0], apex[1]], [corner.x_mm, corner.y_mm]);
        let touches = [[apex[0] - radius, apex[1]], [apex[0], apex[1] - radius]];
        for (found, wanted) in [(left, touches[0]), (right, touches[1])] {
            assert!(from(wanted, found) < 2e-4, "{found:?} {wanted:?}");
        }
        // On the diagonal the metal ends where the depth says.
        let outline = points(&[apex, left, right], 1e5);
        let inside = |t: f64| {
            let (x, y) = (apex[0] - t * 0.5_f64.sqrt(), apex[1] - t * 0.5_f64.sqrt());
            row(&outline, y).iter().any(|[a, b]| (*a..=*b).contains(&x))
        };
        assert!(inside(corner.depth_mm * 0.98) && !inside(corner.depth_mm * 1.02));
    }

    #[test]
    fn a_corner_far_from_the_wire_has_no_wedge() {
        let contour = square();
        let corner = MissedCorner { x_mm: 0.0, y_mm: 0.0, depth_mm: 0.01 };
        assert!(wedge(&contour, &corner).is_none());
    }
}
