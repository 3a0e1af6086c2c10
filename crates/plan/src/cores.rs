//! The metal that the wire frees: what lies inside the main cut's kerf, less the start hole and the ways in and out.

use crate::cutting::Cutting;
use crate::figure::Figure;
use crate::lead_in::{LeadIn, past};
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::wire as rules;
use outline::{Outline, Point, Segment, Vertex, leftover, parallel};

/// One piece of metal that falls.
#[derive(Debug, Clone)]
pub struct FreedCore {
    /// Its area, mm2.
    pub area: Figure,
    /// Its mass, g.
    pub mass: Figure,
    /// Its edge.
    pub polygon: Vec<Point>,
}

/// The cores of one opening. `width` is what the main cut clears to each side of the wire's centre.
pub fn freed(
    reckoning: &mut Reckoning,
    head: &str,
    opening: &Opening,
    cutting: &Cutting,
    (hole, exit): (Point, f64),
    lead_in: &LeadIn,
    (height, density): (Figure, Figure),
) -> Result<Vec<FreedCore>, String> {
    let clears = cutting.passes.wire.value / 2.0 + cutting.passes.gap.value;
    let inner =
        parallel(&opening.target, cutting.passes.main() + clears).map_err(|error| error.to_string())?;
    let mut removed = vec![round(hole, exit / 2.0)];
    removed.extend(ways(cutting, lead_in).into_iter().filter_map(|(a, b)| slot(a, b, clears)));
    let removed: Vec<Outline> =
        removed.into_iter().filter_map(|vertices| Outline::new(vertices).ok()).collect();
    let pieces = leftover(&inner, &removed).map_err(|error| error.to_string())?;
    let cores = pieces.into_iter().enumerate().map(|(i, piece)| {
        let key = format!("{head}cores.{i}.");
        let area = reckoning.measured(
            At(&key, "area_mm2"),
            what("area of this core", "A", "mm2"),
            piece.area,
            "opening shrunk by the main cut's offset and what it clears, less hole and lead-in, arcs as chords",
            &[],
        );
        let mass = reckoning.rule(At(&key, "mass_g"), &rules::CORE_MASS, [area, height, density]);
        FreedCore { area, mass, polygon: piece.outline }
    });
    Ok(cores.collect())
}

/// The ways of the wire's centre between hole and edge: in, and back where that is another way.
fn ways(cutting: &Cutting, lead_in: &LeadIn) -> Vec<(Point, Point)> {
    let mut found: Vec<(Point, Point)> = lead_in.way.windows(2).map(|leg| (leg[0], leg[1])).collect();
    let pieces: Vec<Segment> = cutting.edges[0][0].segments().collect();
    let (leaves, inward) = past(&pieces, lead_in.segment, lead_in.share, lead_in.overlap);
    let back = lead_in.way[lead_in.way.len() - 2];
    found.push((leaves + inward * cutting.passes.main(), back));
    found
}

/// A circle as an outline.
fn round(centre: Point, radius: f64) -> Vec<Vertex> {
    vec![Vertex::new(centre.x + radius, centre.y, 1.0), Vertex::new(centre.x - radius, centre.y, 1.0)]
}

/// A slot of this half-width about a leg.
fn slot(from: Point, to: Point, half: f64) -> Option<Vec<Vertex>> {
    let side = (to - from).unit()?.left() * half;
    let at = |point: Point, bulge| Vertex { point, bulge };
    Some(vec![at(from - side, 0.0), at(to - side, 1.0), at(to + side, 0.0), at(from + side, 1.0)])
}
