//! The tilted wire of a relief: where its centre runs at any height of the block, and what it clears there.
//!
//! The guides stand at stated heights, and the wire is straight between them. A move takes both guides evenly along, so
//! that at every height the centre goes straight as well.

use crate::cut::LIMIT;
use crate::engine::{Shape, grown, stroke};
use crate::fault::Spot;
use crate::flatten::Place;
use crate::machine::{Keep, Move};
use crate::one_pass::feeds;
use crate::passes::Round;
use crate::region::{Region, to_segment};
use crate::rounds::{Edge, comes_round};
use crate::tangle::tangled;
use package::{Contour, Fault, Guides, Relief, Wire};
use rayon::prelude::*;

/// Places that a thinned way may lie off, mm: a quarter of what flattening hides.
const THIN: f64 = 5e-6;
/// Places in a row that may be left out: each is held against the chord over it.
const MOST_LEFT_OUT: usize = 64;

/// Parts that the height is divided in, an even number.
pub const PARTS: usize = 32;

/// Of these, every so many are held against the relief's edge: between them all that matters runs straight.
const EVERY: usize = 4;

/// The cut of a relief to be proven.
#[derive(Debug, Clone, Copy)]
pub struct Leaning<'a> {
    /// Its contour.
    pub contour: &'a Contour,
    /// How the contour is cut.
    pub wire: &'a Wire,
    /// What is planned of it.
    pub relief: &'a Relief,
    /// Where the guides hold the wire.
    pub guides: Guides,
    /// What the program does.
    pub round: &'a Round,
    /// The finished edge.
    pub edge: &'a Edge,
    /// Height of the cut, mm.
    pub height: f64,
    /// The program.
    pub spot: &'a Spot,
}

/// One section through the block.
#[derive(Debug, Clone)]
pub struct Level {
    /// Depth below the cutting face, mm.
    pub depth: f64,
    /// What the wire clears there.
    pub kerf: Vec<Shape>,
    /// How far it goes beyond the edge of this depth, mm, and where.
    gouge: (f64, Place),
    /// Metal left on the relief beyond the stock, mm, and where.
    left: (f64, Place),
}

/// What the tilted wire does.
#[derive(Debug, Default)]
pub struct Leant {
    /// What is wrong with it.
    pub faults: Vec<Fault>,
    /// Sections from the face down, evenly; none where it cannot be followed.
    pub levels: Vec<Level>,
    /// Deepest cut beyond the edge of any depth, mm.
    pub gouge: f64,
    /// Thickest metal left on the relief beyond its stock, mm.
    pub left: f64,
    /// How far it stays off the land's edge at the face, mm.
    pub off_land: f64,
}

impl Leaning<'_> {
    /// Proves it.
    pub fn prove(&self) -> Leant {
        let mut leant = Leant { faults: self.words(), ..Leant::default() };
        let at_end = self.path(self.contour.land_mm);
        let upright = |pair: &[Place]| Move {
            block: self.head(),
            from: pair[0],
            to: pair[1],
            arc: None,
            keep: Keep::On,
            feed: 1.0,
            aside: [[0.0; 2]; 2],
        };
        let moves: Vec<Move> = at_end.windows(2).map(upright).collect();
        if tangled(&at_end, self.reach()) {
            leant.faults.push(self.fault(
                [0.0; 2],
                "too-large",
                "chords that lie on each other again and again are not swept",
            ));
            return leant;
        }
        if !comes_round(&moves, self.relief.offset_mm, self.edge) {
            let at = at_end.first().copied().unwrap_or_default();
            leant.faults.push(self.fault(at, "not-closed", "it does not come round at the land's end"));
        }
        let even = (0..=PARTS).map(|i| (self.height * i as f64 / PARTS as f64, i % EVERY == 0));
        let depths: Vec<(f64, bool)> = even.chain([(self.contour.land_mm, true)]).collect();
        let mut levels: Vec<Level> = depths.par_iter().map(|depth| self.level(*depth)).collect();
        let worst = |of: fn(&Level) -> (f64, Place)| {
            levels
                .iter()
                .max_by(|a, b| of(a).0.total_cmp(&of(b).0))
                .map_or((0.0, 0.0, [0.0; 2]), |level| (of(level).0, level.depth, of(level).1))
        };
        let (gouge, left) = (worst(|level| level.gouge), worst(|level| level.left));
        leant.gouge = gouge.0.max(0.0);
        leant.left = left.0.max(0.0);
        let mut off = |(by, depth, at): (f64, f64, Place), what: &str| {
            if by > LIMIT {
                let message = format!("at depth {depth:.3} it {what} {by:.4}");
                leant.faults.push(self.fault(at, "off-relief", &message));
            }
        };
        off(gouge, "cuts beyond the edge by");
        off(left, "leaves metal beyond its stock:");
        leant.off_land = self.off_land();
        levels.truncate(PARTS + 1);
        leant.levels = levels;
        leant
    }

    /// A section; `looked`: its edge is held against the relief's.
    fn level(&self, (depth, looked): (f64, bool)) -> Level {
        let kerf = stroke(&thinned(&self.path(depth)), self.reach());
        let outer = || kerf.iter().filter_map(|shape| shape.first());
        let below = (depth - self.contour.land_mm) * self.tangent();
        let target = vec![vec![self.edge.points.clone()]];
        let nothing = (0.0, [0.0; 2]);
        let gouge = match below > 0.0 {
            true if !looked => nothing,
            true => {
                let wider: Vec<Vec<Place>> =
                    grown(&target, below).into_iter().filter_map(|shape| shape.into_iter().next()).collect();
                Region::new(&wider).deepest(outer())
            }
            false => self.edge.region.deepest(outer()),
        };
        let left = if below >= 0.0 && looked { self.left(&target, below, &kerf) } else { nothing };
        Level { depth, kerf, gouge, left }
    }

    /// Metal left on the relief at a depth, beyond the planned stock and what the wire cannot reach.
    fn left(&self, target: &[Shape], below: f64, kerf: &[Shape]) -> (f64, Place) {
        let round = self.relief.offset_at_face_mm;
        // Never grown by nothing: shrunk by less than the corners are rounded, it is the same in one step.
        let wanted = grown(&grown(target, -round), round + below - self.relief.stock_left_mm);
        let cleared: Vec<Vec<Place>> = kerf.iter().filter_map(|shape| shape.first().cloned()).collect();
        if wanted.is_empty() || cleared.is_empty() {
            return (round, self.edge.points[0]);
        }
        Region::new(&cleared).deepest(wanted.iter().filter_map(|shape| shape.first()))
    }

    /// Distance between what the wire clears at the face and the land's edge there.
    fn off_land(&self) -> f64 {
        let path = self.path(0.0);
        let gap = |pair: &[Place]| self.edge.region.to_edge_from(pair[0], pair[1], f64::INFINITY);
        path.windows(2).map(gap).fold(f64::INFINITY, f64::min) - self.reach()
    }

    /// The way of the wire's centre at a depth.
    pub fn path(&self, depth: f64) -> Vec<Place> {
        let Guides { upper_z_mm: upper, lower_z_mm: lower } = self.guides;
        let share = (-depth - lower) / (upper - lower);
        let at = |guide: Place, aside: Place| [0, 1].map(|k| guide[k] + share * aside[k]);
        let moves = &self.round.moves;
        let first = moves.first().map(|one| at(one.from, one.aside[0]));
        first.into_iter().chain(moves.iter().map(|one| at(one.to, one.aside[1]))).collect()
    }

    fn tangent(&self) -> f64 {
        self.contour.relief_deg.to_radians().tan()
    }

    /// What the wire clears across, to each side of its centre, mm.
    pub fn reach(&self) -> f64 {
        let secant = 1.0 / self.contour.relief_deg.to_radians().cos();
        (self.wire.diameter_mm / 2.0 + self.relief.spark_gap_mm) * secant
    }

    /// What is wrong with its words and its numbers.
    fn words(&self) -> Vec<Fault> {
        let (contour, relief) = (self.contour, self.relief);
        let mut faults = Vec::new();
        if let Some(one) = self.round.moves.iter().find(|one| one.keep != Keep::On) {
            faults.push(self.fault(one.from, "register-other", "a register is used with the wire tilted"));
        }
        faults.extend(feeds(contour, (relief.feed_mm_per_min, (0, 0.0)), &self.round.moves, self.spot));
        let offset = self.reach() + relief.stock_left_mm;
        let at_face = offset + contour.land_mm * self.tangent();
        for (what, planned, found) in [
            ("at the land's end", relief.offset_mm, offset),
            ("at the face", relief.offset_at_face_mm, at_face),
        ] {
            if (planned - found).abs() > 1e-6 {
                let message = format!(
                    "its offset {what} is planned as {planned:.5}, and wire, gap, tilt and stock give {found:.5}"
                );
                faults.push(self.fault([0.0; 2], "offset", &message));
            }
        }
        faults
    }

    /// N word of its first move.
    fn head(&self) -> Option<u32> {
        self.round.moves.first().and_then(|one| one.block)
    }

    fn fault(&self, place: Place, code: &str, message: &str) -> Fault {
        let message = format!("contour `{}`, the tilted wire: {message}", self.contour.id);
        self.spot.block(self.head()).at(place).fault(code, message)
    }
}

/// The same way without the places that chords over them pass by: where an arc shrinks to a corner, hundreds of them lie on
/// one spot, and the engine would round each of them off.
fn thinned(path: &[Place]) -> Vec<Place> {
    let mut kept: Vec<Place> = path.first().copied().into_iter().collect();
    let mut at = 0;
    while at + 1 < path.len() {
        let mut next = at + 1;
        let passes =
            |to: usize| path[at + 1..to].iter().all(|place| to_segment(*place, path[at], path[to]) <= THIN);
        while next + 1 < path.len() && next - at < MOST_LEFT_OUT && passes(next + 1) {
            next += 1;
        }
        kept.push(path[next]);
        at = next;
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thinned_way_passes_all_its_places_and_turns_where_it_did() {
        let spot = |k: u32| [1.0 + 1e-6 * f64::from(k % 7), 1e-6 * f64::from(k % 5)];
        let mut way = vec![[0.0, 0.0]];
        way.extend((0..200).map(spot));
        way.extend([[1.0, 1.0], [1.0, 0.5], [1.0, 2.0]]);
        let thin = thinned(&way);
        assert!(thin.len() < 12, "{}", thin.len());
        let off = |place: &Place| {
            thin.windows(2).map(|pair| to_segment(*place, pair[0], pair[1])).fold(f64::INFINITY, f64::min)
        };
        assert!(way.iter().all(|place| off(place) <= THIN));
    }
}
