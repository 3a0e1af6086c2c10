//! The whole block from above: its openings and start holes with their numbers, the datum corner, and where X and Y are 0.

use crate::column::SMALL;
use crate::ink::Ink;
use crate::key::Mark;
use crate::letters::width;
use crate::place::Places;
use crate::shape::{bounds, points};
use crate::window::{Window, datum_corner};
use crate::{End, Item, LineKind, Path, Text, hole};
use package::{Contour, PlanSection};

/// How the block lies under the view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// As it is drawn, the cutting face up.
    AsDrawn,
    /// Turned over left to right, the back up: its datum corner lies at the lower right.
    TurnedOver,
}

impl Lies {
    /// The datum corner of a rectangle between x0 and x1, its lower side at y.
    pub fn datum_corner(self, [x0, x1]: [f64; 2], y: f64, side: f64) -> Item {
        match self {
            Lies::AsDrawn => datum_corner(x0, y, side),
            Lies::TurnedOver => Item::Fill(Path::polygon(&[[x1, y], [x1, y + side], [x1 - side, y]])),
        }
    }
}

/// Draws the block; gives back the numbers that found no place.
pub fn block(ink: &mut Ink, section: &PlanSection, window: &Window, lies: Lies) -> Vec<usize> {
    let [x, y] = section.block_mm().map(|s| s / 2.0);
    ink.stroke(LineKind::Plain, Path::rectangle(-x, -y, x, y));
    let side = ink.paper(4.0);
    ink.items.push(lies.datum_corner([-x, x], -y, side));
    ink.mark(Mark::DatumCorner);
    zeros(ink, [x, y]);
    for contour in &section.contours {
        ink.stroke(LineKind::FinishedEdge, Path::outline(&contour.target));
        ink.mark(Mark::FinishedEdge);
        if let Some(start) = &contour.start {
            hole::way_in(ink, start);
            hole::hole(ink, start);
        }
    }
    numbers(ink, section, window, lies)
}

/// Where X and Y are 0: marks outside the edges, so that no opening hides them.
fn zeros(ink: &mut Ink, [x, y]: [f64; 2]) {
    let (gap, tick) = (ink.paper(1.0), ink.paper(5.0));
    ink.stroke(LineKind::Plain, Path::open(&[[0.0, -y - gap], [0.0, -y - tick]]));
    ink.stroke(LineKind::Plain, Path::open(&[[-x - gap, 0.0], [-x - tick, 0.0]]));
    let text = |at, from, words: &str| Item::Text(Text { at, from, size_mm: SMALL, words: words.into() });
    let (aside, low) = (ink.paper(1.2), ink.paper(SMALL / 2.0));
    ink.items.push(text([aside, -y - tick], End::Left, "X 0"));
    ink.items.push(text([-x - tick - aside, -low], End::Right, "Y 0"));
}

fn numbers(ink: &mut Ink, section: &PlanSection, window: &Window, lies: Lies) -> Vec<usize> {
    let [x, y] = section.block_mm().map(|s| s / 2.0);
    let on_paper = |[x0, y0, x1, y1]: [f64; 4]| {
        let ([x0, y0], [x1, y1]) = (window.on_paper([x0, y0]), window.on_paper([x1, y1]));
        [x0, y0, x1, y1]
    };
    let mut places = Places::new(on_paper([-x, -y, x, y]));
    let ([x0, y0], [x1, _]) = (window.on_paper([-x, -y]), window.on_paper([x, -y]));
    places.take(match lies {
        Lies::AsDrawn => [x0, y0, x0 + 4.5, y0 + 4.5],
        Lies::TurnedOver => [x1 - 4.5, y0, x1, y0 + 4.5],
    });
    let boxes: Vec<[f64; 4]> = section.contours.iter().map(|c| on_paper(around(c, ink.scale))).collect();
    for taken in &boxes {
        places.take(*taken);
    }
    for hole in section.fastening.iter().flat_map(|fastening| &fastening.holes) {
        let (x, y, r) = (hole.x_mm, hole.y_mm, hole.diameter_mm / 2.0);
        places.take(on_paper([x - r, y - r, x + r, y + r]));
    }
    let mut left_out = Vec::new();
    for (i, near) in boxes.iter().enumerate() {
        let words = format!("{}", i + 1);
        let size = if section.contours.len() > 12 { 2.5 } else { SMALL };
        // Below the baseline as much is kept free as letters may hang there.
        let hangs = 0.28 * size;
        match places.near(*near, [width(&words, size) + 0.6, size + hangs + 0.6]) {
            Some([px, py]) => number(ink, window, [px + 0.3, py + 0.3 + hangs], size, words, *near),
            None => left_out.push(i + 1),
        }
    }
    left_out
}

/// A number, with a leader where it stands away from its opening.
fn number(ink: &mut Ink, window: &Window, at: [f64; 2], size: f64, words: String, near: [f64; 4]) {
    let real = |p: [f64; 2]| {
        let o = window.on_paper([0.0, 0.0]);
        [(p[0] - o[0]) / window.scale, (p[1] - o[1]) / window.scale]
    };
    let middle = [at[0] + width(&words, size) / 2.0, at[1] + size / 2.0];
    let touch = [middle[0].clamp(near[0], near[2]), middle[1].clamp(near[1], near[3])];
    let far = (touch[0] - middle[0]).abs().max((touch[1] - middle[1]).abs());
    if far > 2.0 * size {
        let from = [(middle[0] + touch[0]) / 2.0, (middle[1] + touch[1]) / 2.0];
        ink.stroke(LineKind::Plain, Path::open(&[real(from), real(touch)]));
    }
    ink.items.push(Item::Text(Text { at: real(at), from: End::Left, size_mm: size, words }));
}

/// Bounds of an opening with the cross of its start hole, real mm.
fn around(contour: &Contour, scale: f64) -> [f64; 4] {
    let mut all = points(&contour.target, scale);
    if let Some(start) = &contour.start {
        let arm = start.hole_diameter_mm.entry / 2.0 + 2.5 / scale;
        all.push([start.x_mm - arm, start.y_mm - arm]);
        all.push([start.x_mm + arm, start.y_mm + arm]);
    }
    bounds(&all)
}
