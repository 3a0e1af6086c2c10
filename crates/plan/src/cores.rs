//! The metal that the wire frees, and what becomes of each piece: held by a tab, taken out at a stop, or flushed out.
//!
//! What is freed lies inside the main cut's kerf, less the start hole and the wire's ways between hole and edge.

use crate::candidate::Setting;
use crate::cutting::Cutting;
use crate::figure::Figure;
use crate::lead_in::{LeadIn, past};
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::{core as core_rules, wire as rules};
use crate::split::Over;
use outline::{Leftover, Outline, Point, Segment, Vector, Vertex, leftover, parallel};

/// Directions in which a core's width is looked at: every degree, which misses less than 4e-5 of it.
const DIRECTIONS: usize = 180;

/// How far beyond the opening at the face a joint is followed, mm.
const BEYOND: f64 = 50.0;
/// Half the width of the slot that stands for a joint, mm.
const JOINT: f64 = 1e-5;

/// One piece of metal that is freed.
#[derive(Debug, Clone)]
pub struct FreedCore {
    /// Its area, mm2.
    pub area: Figure,
    /// Its mass, g.
    pub mass: Figure,
    /// What becomes of it.
    pub fate: Fate,
    /// Its shape.
    pub piece: Leftover,
}

/// What becomes of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// Light enough for the flushing.
    Flushed,
    /// Falls; the program stops for it.
    Falls,
    /// Heavy, or wide enough to wedge: wants a tab.
    Hold,
}

/// The hole that a cut starts in, and the way in.
#[derive(Debug, Clone, Copy)]
pub struct Entrance<'a> {
    /// Centre of the hole.
    pub hole: Point,
    /// Its diameter where it is narrowest, mm.
    pub exit: f64,
    /// The way in.
    pub lead_in: &'a LeadIn,
    /// The way in of the tilted wire.
    pub tilted_in: Option<&'a LeadIn>,
    /// The joint of two halves, where it parts what is freed.
    pub joint: Option<Over>,
}

/// What the main cut clears to each side of the wire's centre, mm.
pub fn clears(cutting: &Cutting) -> f64 {
    cutting.passes.wire.value / 2.0 + cutting.passes.gap.value
}

/// The pieces that the main cut frees. `returns`: the wire goes back to the hole after it came round.
pub fn pieces(
    opening: &Opening,
    cutting: &Cutting,
    entrance: Entrance,
    returns: bool,
) -> Result<Vec<Leftover>, String> {
    if opening.is_outside() {
        // The piece itself, and what stands in bays that the kerf closes.
        let kerf = parallel(&opening.target, -(cutting.passes.main() + clears(cutting)));
        let bays = kerf.map_err(|error| error.to_string())?.into_iter().skip(1);
        let piece = cutting.edges.last().and_then(|edges| edges.first()).unwrap_or(&opening.target);
        let loops: Vec<Outline> = std::iter::once(piece.clone()).chain(bays).collect();
        let each = loops.iter().map(|one| leftover(std::slice::from_ref(one), &[]));
        let found = each.collect::<Result<Vec<_>, _>>().map_err(|error| error.to_string())?;
        return Ok(found.concat());
    }
    let inner = parallel(&opening.target, cutting.passes.main() + clears(cutting))
        .map_err(|error| error.to_string())?;
    leftover(&inner, &removed(cutting, entrance, returns)).map_err(|error| error.to_string())
}

/// What is gone besides the kerf around the edge.
pub fn removed(cutting: &Cutting, entrance: Entrance, returns: bool) -> Vec<Outline> {
    let hole = round(entrance.hole, entrance.exit / 2.0);
    let ways = ways(cutting, entrance.lead_in, returns).into_iter();
    let slots = ways.filter_map(|(from, to)| slot(from, to, clears(cutting)));
    std::iter::once(hole)
        .chain(slots)
        .chain(entrance.joint.and_then(joint))
        .filter_map(|vertices| Outline::new(vertices).ok())
        .collect()
}

/// Writes the pieces down with their masses.
pub fn freed(
    reckoning: &mut Reckoning,
    setting: Setting,
    pieces: Vec<Leftover>,
    density: Figure,
) -> Vec<FreedCore> {
    let core = |(i, piece): (usize, Leftover)| {
        let key = format!("{}cores.{i}.", setting.head);
        let area = reckoning.measured(
            At(&key, "area_mm2"),
            what("area of this core", "A", "mm2"),
            piece.area,
            match setting.opening.is_outside() && is_piece(setting, &piece) {
                true => "what the last pass makes of the piece's outline, openings in it not taken off, arcs as chords",
                false => "opening shrunk by the main cut's offset and what it clears, less hole and lead-in, arcs as chords",
            },
            &[],
        );
        let mass = reckoning.rule(At(&key, "mass_g"), &rules::CORE_MASS, [area, setting.height, density]);
        let fate = fate(reckoning, setting, &piece, mass);
        FreedCore { area, mass, fate, piece }
    };
    pieces.into_iter().enumerate().map(core).collect()
}

fn fate(reckoning: &mut Reckoning, setting: Setting, piece: &Leftover, mass: Figure) -> Fate {
    let shop = setting.shop;
    if setting.opening.is_outside() && is_piece(setting, piece) {
        return Fate::Hold;
    }
    if mass.value < shop.cutting.core_stop_from_g.value {
        return Fate::Flushed;
    }
    let friction = reckoning.known(
        At("shop:core.", "friction"),
        what("friction between core and kerf", "mu", ""),
        &shop.core.friction,
    );
    let wedges_from = reckoning.rule(
        At(setting.head, "wire.wedges_from_mm"),
        &core_rules::WEDGES_FROM,
        [setting.height, friction],
    );
    let heavy = mass.value >= shop.core.hold_from_g.value;
    if heavy || greatest_width(&piece.outline) >= wedges_from.value { Fate::Hold } else { Fate::Falls }
}

/// Whether this is the piece that is cut out, and not what stands in its bays.
fn is_piece(setting: Setting, piece: &Leftover) -> bool {
    piece.area > 0.5 * setting.opening.target.area()
}

/// The greatest extent of a polygon in any direction, mm.
fn greatest_width(polygon: &[Point]) -> f64 {
    let extent = |k: usize| {
        let along = Vector::at_angle(std::f64::consts::PI * k as f64 / DIRECTIONS as f64);
        let at = polygon.iter().map(|place| (*place - Point::new(0.0, 0.0)).dot(along));
        at.clone().fold(f64::NEG_INFINITY, f64::max) - at.fold(f64::INFINITY, f64::min)
    };
    (0..DIRECTIONS).map(extent).fold(0.0, f64::max)
}

/// The ways of the wire's centre between hole and edge: in, and back where that is another way.
fn ways(cutting: &Cutting, lead_in: &LeadIn, returns: bool) -> Vec<(Point, Point)> {
    let mut found: Vec<(Point, Point)> = lead_in.way.windows(2).map(|leg| (leg[0], leg[1])).collect();
    if returns {
        let pieces: Vec<Segment> = cutting.edges[0][0].segments().collect();
        let (leaves, inward) = past(&pieces, lead_in.segment, lead_in.share, lead_in.overlap);
        let back = lead_in.way[lead_in.way.len() - 2];
        found.push((leaves + inward * cutting.passes.main(), back));
    }
    found
}

/// A joint parts metal without taking any: a slot too thin to weigh.
pub fn joint(over: Over) -> Option<Vec<Vertex>> {
    // Below the land an opening is wider.
    let [from, to] = [over.run[0] - BEYOND, over.run[1] + BEYOND];
    slot(over.point(from), over.point(to), JOINT)
}

/// A circle as an outline.
pub fn round(centre: Point, radius: f64) -> Vec<Vertex> {
    vec![Vertex::new(centre.x + radius, centre.y, 1.0), Vertex::new(centre.x - radius, centre.y, 1.0)]
}

/// A slot of this half-width about a leg.
pub fn slot(from: Point, to: Point, half: f64) -> Option<Vec<Vertex>> {
    let side = (to - from).unit()?.left() * half;
    let at = |point: Point, bulge| Vertex { point, bulge };
    Some(vec![at(from - side, 0.0), at(to - side, 1.0), at(to + side, 0.0), at(from + side, 1.0)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_greatest_width_of_a_bar_is_its_diagonal() {
        let bar = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)].map(|(x, y)| Point::new(x, y));
        assert!((greatest_width(&bar) - 5.0).abs() < 5.0 * 4e-5);
    }
}
