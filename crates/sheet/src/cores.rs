//! Cores: metal that the wire frees, white with a thin outline, a triangle and its mass.

use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::{deepest, points, thinned};
use crate::{Item, LineKind, Path};
use package::{BulgeVertex, Contour, Core, Side};

/// Half the width of a triangle, mm of paper; half as much in a narrow core.
const HALF: f64 = 2.0;
/// Vertices closer than this on paper, mm, are one: cores come with hundreds that no one sees.
const FINE: f64 = 0.3;

/// The cores as closed points, in plan order.
pub fn outlines(contour: &Contour, scale: f64) -> Vec<Vec<[f64; 2]>> {
    let close = |core: &Vec<BulgeVertex>| thinned(&points(core, scale), FINE / scale);
    contour.cores.iter().map(|c| close(&c.outline)).collect()
}

/// Draws the cores of a contour, `outlines` being their points.
pub fn cores(ink: &mut Ink, contour: &Contour, outlines: &[Vec<[f64; 2]>]) {
    for (core, outline) in contour.cores.iter().zip(outlines) {
        let Some((place, far)) = deepest(outline) else { continue };
        // A piece that is cut out has its finished edge there already.
        if contour.side == Side::Inside || !core.held {
            ink.stroke(LineKind::Core, Path::polygon(outline));
        }
        ink.mark(if core.held { Mark::HeldCore } else { Mark::Core });
        let half = ink.paper(HALF).min(far * 0.8).max(ink.paper(HALF / 2.0));
        triangle(&mut ink.items, place, half, core.held);
        ink.note(place, words(core));
    }
}

/// What happens to a core, and its mass.
pub fn words(core: &Core) -> String {
    let fate = match core.held {
        true => "held",
        false if core.flushes_out() => "flushes out",
        false => "FALLS",
    };
    match core.mass_g {
        g if g < 0.001 => format!("{fate} <0.001 g"),
        g => format!("{fate} {g:.3} g"),
    }
}

/// A triangle pointing down around a place; held: with a bar over it.
pub fn triangle(items: &mut Vec<Item>, [x, y]: [f64; 2], half: f64, held: bool) {
    let top = y + half * 0.6;
    items.push(Item::Fill(Path::polygon(&[[x - half, top], [x, y - half], [x + half, top]])));
    if held {
        let bar = Path::open(&[[x - half, top + half * 0.6], [x + half, top + half * 0.6]]);
        items.push(Item::Stroke(LineKind::HeldBar, bar));
    }
}
