//! The tab: two brackets across the kerf, turned away from the metal that stands between them, and its width.

use crate::ink::Ink;
use crate::key::Mark;
use crate::{Item, LineKind, Path, figure};
use package::Wire;

/// Feet of a bracket, mm of paper; half as much on a narrow tab.
const FOOT: f64 = 1.5;

/// Edge and inner side of the metal that a tab leaves standing: along the edge, then back along the core.
pub fn metal(wire: &Wire) -> Option<[[f64; 2]; 4]> {
    let tab = wire.tab.as_ref()?;
    let main = wire.passes.first()?;
    let clears = wire.diameter_mm / 2.0 + main.spark_gap_mm;
    let (from, to) = (tab.from_mm, tab.to_mm);
    let way = [to[0] - from[0], to[1] - from[1]];
    let length = way[0].hypot(way[1]);
    if length <= 2.0 * clears {
        return None;
    }
    let along = [way[0] / length, way[1] / length];
    // Metal lies right of the main cut's way around an opening: the core lies left.
    let across = [-along[1] * (main.offset_mm + clears), along[0] * (main.offset_mm + clears)];
    let at = |place: [f64; 2], by: f64| [place[0] + along[0] * by, place[1] + along[1] * by];
    let (a, b) = (at(from, clears), at(to, -clears));
    let inner = |place: [f64; 2]| [place[0] + across[0], place[1] + across[1]];
    Some([a, b, inner(b), inner(a)])
}

/// Draws the brackets of a tab with its width.
pub fn tab(ink: &mut Ink, wire: &Wire) {
    let (Some([a, b, inner_b, inner_a]), Some(tab)) = (metal(wire), &wire.tab) else { return };
    let width = (b[0] - a[0]).hypot(b[1] - a[1]);
    let foot = ink.paper(FOOT).min(width / 2.0);
    bracket(&mut ink.items, [a, inner_a], [(a[0] - b[0]) / width * foot, (a[1] - b[1]) / width * foot]);
    bracket(&mut ink.items, [b, inner_b], [(b[0] - a[0]) / width * foot, (b[1] - a[1]) / width * foot]);
    ink.mark(Mark::Tab);
    let place = [(inner_a[0] + inner_b[0]) / 2.0, (inner_a[1] + inner_b[1]) / 2.0];
    ink.note(place, format!("tab {}", figure::size(tab.width_mm, 2)));
}

/// A line across the kerf with feet at both ends.
pub fn bracket(items: &mut Vec<Item>, [edge, inner]: [[f64; 2]; 2], foot: [f64; 2]) {
    let out = |place: [f64; 2]| [place[0] + foot[0], place[1] + foot[1]];
    items.push(Item::Stroke(LineKind::Tab, Path::open(&[out(edge), edge, inner, out(inner)])));
}

#[cfg(test)]
mod tests {
    use super::*;
    use package::{Pass, Tab};

    #[test]
    fn the_metal_is_as_wide_as_the_tab_and_lies_towards_the_core() {
        let pass = Pass {
            offset_mm: 0.18,
            spark_gap_mm: 0.025,
            stock_left_mm: 0.03,
            register: None,
            feed_mm_per_min: 3.0,
            minutes: 1.0,
            program: String::new(),
            blocks: [0, 0],
            centre: Vec::new(),
        };
        let tab = Tab {
            width_mm: 1.2,
            from_mm: [-1.5, -2.0],
            to_mm: [0.0, -2.0],
            feed_mm_per_min: 3.0,
            minutes: 1.0,
            program: String::new(),
            blocks: [0, 0],
            dress: Vec::new(),
        };
        let wire = Wire {
            diameter_mm: 0.25,
            passes: vec![pass],
            lead_in: Vec::new(),
            tab: Some(tab),
            erosion: Vec::new(),
            relief: None,
        };
        let [a, b, c, _] = metal(&wire).unwrap();
        assert!((b[0] - a[0] - 1.2).abs() < 1e-12 && a[1] == -2.0);
        assert!((c[1] + 2.0 - 0.33).abs() < 1e-12, "{c:?}");
    }
}
