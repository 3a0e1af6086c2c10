//! The narrowest place of an opening: two bars that face each other across it, with the figure.
//!
//! They stand back from the edges, in the metal: between the edges lie hole, wire and cores, and the room has bars of its own.

use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::length;
use crate::{Item, LineKind, Path, figure};
use package::Contour;

/// Half a bar, mm of paper.
const ARM: f64 = 2.5;
/// From edge to bar, mm of paper: clear of the cross of a hole that fills the place, and of the thick line of the edge.
const BACK: f64 = 2.1;
/// Length of the stem behind the bar, mm of paper; with `BACK` within the margin that the window leaves.
const STEM: f64 = 1.4;

/// Draws the bars and names the width.
pub fn narrowest(ink: &mut Ink, contour: &Contour) {
    let Some(place) = &contour.narrowest else { return };
    let [one, other] = place.sides.map(|side| [side.x_mm, side.y_mm]);
    let far = length([other[0] - one[0], other[1] - one[1]]);
    if far <= 0.0 {
        return;
    }
    let away = [(one[0] - other[0]) / far, (one[1] - other[1]) / far];
    bar(&mut ink.items, one, away, 1.0 / ink.scale);
    let end = bar(&mut ink.items, other, [-away[0], -away[1]], 1.0 / ink.scale);
    ink.mark(Mark::Narrowest);
    ink.note(end, format!("narrowest {}", figure::size(place.width_mm, 4)));
}

/// A bar beside an edge and a stem behind it; `paper` is a millimetre of paper. Gives back the end of the stem.
pub fn bar(items: &mut Vec<Item>, [x, y]: [f64; 2], [u, v]: [f64; 2], paper: f64) -> [f64; 2] {
    let at = |along: f64, across: f64| {
        let (along, across) = (along * paper, across * paper);
        [x + u * along - v * across, y + v * along + u * across]
    };
    items.push(Item::Stroke(LineKind::Room, Path::open(&[at(BACK, -ARM), at(BACK, ARM)])));
    items.push(Item::Stroke(LineKind::Plain, Path::open(&[at(BACK, 0.0), at(BACK + STEM, 0.0)])));
    at(BACK + STEM, 0.0)
}
