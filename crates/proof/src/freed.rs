//! Metal that the wire frees, in the order in which it does: after the main cut, after the tab is cut, and, where the
//! main cut clears metal from the hole outward first, at every moment of it. What falls is weighed here, held against
//! the plan's cores, and must find the wire cut and somebody there.

use crate::cut::LIMIT;
use crate::engine::{Shape, circle, counter_clockwise, difference, union};
use crate::erosion::moments;
use crate::fault::Spot;
use crate::flatten::distance;
use crate::joint::parted;
use crate::one_pass::Done;
use crate::passes::Round;
use crate::region::area;
use crate::rim::open;
use crate::rounds::{Edge, Rounds};
use crate::weight::Block;
use package::{Contour, Core, Fault, Wire};
use rayon::prelude::*;

/// Pieces of metal smaller than this are dust, mm2; twice and half of it leave room for two engines to differ.
pub const DUST: f64 = 1e-4;
/// From this mass a core is taken out at a stop, g (common practice, no source).
pub const STOP_FROM_G: f64 = 0.02;
/// The plan may weigh a core this much lighter or heavier, as a share.
pub const WEIGHS: f64 = 0.01;
/// Two flattenings and rounding to 0.1 um may put an edge this far apart, mm: it counts on small pieces.
pub const EDGE_APART: f64 = 2e-4;

/// One contour whose cores are looked at.
#[derive(Clone, Copy)]
pub struct Freed<'a> {
    /// The contour.
    pub contour: &'a Contour,
    /// How it is cut.
    pub wire: &'a Wire,
    /// Its finished edge.
    pub edge: &'a Edge,
    /// Its rounds.
    pub rounds: &'a Rounds,
    /// Its block.
    pub block: Block,
    /// Whether somebody is there while a line of the program runs.
    pub attended: &'a (dyn Fn(u32) -> bool + Sync),
    /// The program.
    pub spot: &'a Spot,
}

/// What was found at one moment.
struct Found {
    /// Pieces, heaviest first.
    pieces: Vec<Shape>,
    faults: Vec<Fault>,
}

impl Freed<'_> {
    /// How many pieces the wire frees in the end, and what is wrong with that.
    pub fn prove(&self, main: &Done, tab: Option<&Done>) -> (u32, Vec<Fault>) {
        let (Some(round), Some(kerf)) = (&self.rounds.main, &main.kerf) else { return (0, Vec::new()) };
        let (loose, held): (Vec<&Core>, Vec<&Core>) = self.contour.cores.iter().partition(|core| !core.held);
        let after = self.at(kerf, &loose, round, "its main cut");
        let heavy = self.heavy(&after.pieces);
        let mut faults = after.faults;
        faults.extend(self.on_the_way(main, &loose));
        let falls = heavy > 0 || loose.iter().any(|core| core.mass_g >= STOP_FROM_G);
        faults.extend(self.falls(falls, round, "its main cut", 0));
        let mut count = dust_free(&after.pieces);
        if let (Some((i, round)), Some(cut)) = (&self.rounds.tab, tab.and_then(|tab| tab.kerf.as_ref())) {
            let all: Vec<&Core> = self.contour.cores.iter().collect();
            let after = self.at(&union(kerf, cut), &all, round, "its tab is cut");
            let falls =
                self.heavy(&after.pieces) > heavy || held.iter().any(|core| core.mass_g >= STOP_FROM_G);
            count = dust_free(&after.pieces);
            faults.extend(after.faults);
            faults.extend(self.falls(falls, round, "its tab is cut", *i));
            faults.extend(self.skimmed_before(*i));
        }
        (count, faults)
    }

    /// The same for a piece that is cut out: it must hang on its tab until everything else of it is cut, be fixed before
    /// the tab is cut, and be taken out before anything moves on.
    pub fn prove_piece(
        &self,
        main: &Done,
        [skims, dress]: [&[Done]; 2],
        tab: Option<&Done>,
    ) -> (u32, Vec<Fault>) {
        let (Some(round), Some(kerf)) = (&self.rounds.main, &main.kerf) else { return (0, Vec::new()) };
        let (loose, held): (Vec<&Core>, Vec<&Core>) = self.contour.cores.iter().partition(|core| !core.held);
        let after = self.at(kerf, &loose, round, "its main cut");
        let heavy = self.heavy(&after.pieces);
        let mut faults = after.faults;
        faults.extend(self.falls(heavy > 0, round, "its main cut", 0));
        let (Some((i, round)), Some(cut)) = (&self.rounds.tab, tab.and_then(|tab| tab.kerf.as_ref())) else {
            let message = "nothing cuts the tab that holds the piece".to_owned();
            faults.push(self.fault(round, "piece-not-cut-out", message));
            return (dust_free(&after.pieces), faults);
        };
        let with = |cleared: &[Shape], passes: &[Done]| {
            let kerfs = passes.iter().filter_map(|pass| pass.kerf.as_ref());
            kerfs.fold(cleared.to_vec(), |all, one| union(&all, one))
        };
        let before = with(kerf, skims);
        let still = self.at(&before, &loose, round, "its skims");
        faults.extend(still.faults);
        let all: Vec<&Core> = self.contour.cores.iter().collect();
        let loose = union(&before, cut);
        let last = self.rounds.dress.last().map_or(round, |(_, last)| last);
        // The piece is weighed when the place of its tab is skimmed as well; it is free from the tab's cut on.
        let after = self.at(&with(&loose, dress), &all, last, "it is cut out");
        faults.extend(after.faults);
        if dust_free(&self.pieces(&loose, 0.0)) != dust_free(&after.pieces) {
            let message = "the cut of its tab does not free the piece".to_owned();
            faults.push(self.fault(round, "piece-not-cut-out", message));
        }
        let falls = !held.is_empty() || self.heavy(&after.pieces) > heavy;
        faults.extend(self.falls(falls, last, "its tab is cut", usize::MAX));
        let loose_rounds = self.rounds.tab.iter().chain(&self.rounds.dress);
        for (_, one) in loose_rounds.filter(|(_, one)| !(self.attended)(one.lines[1])) {
            let message = "the place of its tab is cut with nobody there".to_owned();
            faults.push(self.fault(one, "unattended-fall", message));
        }
        if !round.waited {
            let message =
                "its tab is cut and the program has not stopped for somebody to fix the piece".to_owned();
            faults.push(self.fault(round, "piece-not-fixed", message));
        }
        if let Some((_, skim)) = self.rounds.skims.iter().find(|(k, _)| k > i) {
            let message = "it is skimmed after its tab is cut, with nothing to hold it".to_owned();
            faults.push(self.fault(skim, "skim-of-loose-piece", message));
        }
        (dust_free(&after.pieces), faults)
    }

    fn fault(&self, round: &Round, code: &str, message: String) -> Fault {
        let block = round.moves.first().and_then(|one| one.block);
        self.spot.block(block).fault(code, format!("contour `{}`: {message}", self.contour.id))
    }

    /// Pieces that lie free once this much is cleared, with the start hole so much larger.
    fn pieces(&self, cleared: &[Shape], grown: f64) -> Vec<Shape> {
        let islands: Vec<Shape> = parted(cleared, self.contour)
            .iter()
            .flat_map(|shape| shape.iter().skip(1))
            .map(|hole| vec![counter_clockwise(hole.clone())])
            .collect();
        if islands.is_empty() {
            return islands;
        }
        let hole: Vec<Shape> = (self.contour.start.iter())
            .map(|start| vec![circle([start.x_mm, start.y_mm], open(start) / 2.0 + grown)])
            .collect();
        difference(&islands, &hole)
    }

    /// What lies free at a moment, held against what the plan frees by then.
    fn at(&self, cleared: &[Shape], planned: &[&Core], round: &Round, when: &str) -> Found {
        let mut pieces = self.pieces(cleared, 0.0);
        pieces.sort_by(|a, b| size(b).total_cmp(&size(a)));
        let mut faults = Vec::new();
        let named = |than: f64| planned.iter().filter(|core| core.area_mm2 > than).count();
        let (least, most) = (named(2.0 * DUST), named(0.0));
        let fits = |found: &[Shape]| larger(found, 2.0 * DUST) <= most && least <= larger(found, DUST);
        // A neck thinner than the limit is one that two flattenings may see or not: either count is right then.
        if fits(&pieces) {
            faults.extend(self.weighed(&pieces, planned, round, when));
        } else if [-LIMIT, LIMIT].into_iter().any(|grown| fits(&self.pieces(cleared, grown))) {
            faults.extend(self.weighed_together(&pieces, planned, round, when));
        } else {
            let message = format!(
                "{} pieces of metal lie free after {when}, the plan names {}",
                dust_free(&pieces),
                named(DUST)
            );
            faults.push(self.fault(round, "cores", message));
        }
        Found { pieces, faults }
    }

    /// The first piece whose area or mass is not the plan's.
    fn weighed(&self, found: &[Shape], planned: &[&Core], round: &Round, when: &str) -> Option<Fault> {
        let mut planned = planned.to_vec();
        planned.sort_by(|a, b| b.area_mm2.total_cmp(&a.area_mm2));
        let pairs = found.iter().zip(planned).filter(|(piece, _)| size(piece) > 2.0 * DUST);
        let mut wrong = pairs.filter_map(|(piece, core)| {
            self.other(size(piece), rim(piece), core.area_mm2, core.mass_g).then_some((piece, core))
        });
        let (piece, core) = wrong.next()?;
        let message = format!(
            "a piece of {:.4} mm2 and {:.4} g lies free after {when}, where the plan has {:.4} mm2 and {:.4} g",
            size(piece),
            self.block.mass(size(piece)),
            core.area_mm2,
            core.mass_g
        );
        Some(self.fault(round, "cores", message))
    }

    /// The same for all pieces together, where a neck leaves open how many there are.
    fn weighed_together(
        &self,
        found: &[Shape],
        planned: &[&Core],
        round: &Round,
        when: &str,
    ) -> Option<Fault> {
        let area: f64 = found.iter().map(size).sum();
        let rim: f64 = found.iter().map(rim).sum();
        let planned_area: f64 = planned.iter().map(|core| core.area_mm2).sum();
        let planned_mass: f64 = planned.iter().map(|core| core.mass_g).sum();
        let message = format!(
            "{:.4} g lie free after {when}, where the plan has {planned_mass:.4} g",
            self.block.mass(area)
        );
        let other = self.other(area, rim, planned_area, planned_mass);
        other.then(|| self.fault(round, "cores", message))
    }

    fn other(&self, area: f64, rim: f64, planned_area: f64, planned_mass: f64) -> bool {
        let slack = WEIGHS * area + EDGE_APART * rim;
        (planned_area - area).abs() > slack
            || (planned_mass - self.block.mass(area)).abs() > self.block.mass(slack)
    }

    /// How many pieces are too heavy to be left to the flushing, whatever rounding makes of their mass.
    fn heavy(&self, pieces: &[Shape]) -> usize {
        let than = STOP_FROM_G * (1.0 + WEIGHS);
        pieces.iter().filter(|piece| self.block.mass(size(piece)) >= than).count()
    }

    /// What falls needs the wire cut, a stop, and somebody there, before any skim.
    fn falls(&self, falls: bool, round: &Round, when: &str, since: usize) -> Vec<Fault> {
        let mut faults = Vec::new();
        if !falls {
            return faults;
        }
        if !(round.cut && round.stop) {
            let message =
                format!("a core falls after {when}, and the wire is not cut and the program does not stop");
            faults.push(self.fault(round, "no-stop", message));
            if let Some((_, skim)) = self.rounds.skims.iter().find(|(i, _)| *i >= since) {
                let message = format!("it is skimmed while the core that fell after {when} lies in it");
                faults.push(self.fault(skim, "skim-before-core", message));
            }
        }
        if !(self.attended)(round.lines[1]) {
            let message = format!("a core falls after {when}, in a phase that nobody attends");
            faults.push(self.fault(round, "unattended-fall", message));
        }
        faults
    }

    /// Skims while the tab still stands.
    fn skimmed_before(&self, tab: usize) -> Option<Fault> {
        let (_, skim) = self.rounds.skims.iter().find(|(i, _)| *i < tab)?;
        let message = "it is skimmed while the tab still holds the core".to_owned();
        Some(self.fault(skim, "skim-before-core", message))
    }

    /// What lies free at some moment of a main cut that clears metal from the hole outward, and no longer at its end.
    fn on_the_way(&self, main: &Done, planned: &[&Core]) -> Option<Fault> {
        let pass = self.wire.passes.first()?;
        let reach = self.wire.diameter_mm / 2.0 + pass.spark_gap_mm;
        let moments = moments(&main.path, self.edge, pass.offset_mm, reach);
        let most = planned.iter().filter(|core| core.area_mm2 > 0.0).count();
        // A joint sets loose what is cleared away a moment later: what is light enough is flushed out as it comes.
        let joined = self.contour.start.as_ref().is_some_and(|start| start.half_round.is_some());
        let least = if joined { STOP_FROM_G / self.block.mass(1.0) } else { 2.0 * DUST };
        let worst = moments.par_iter().find_map_first(|cleared| {
            let pieces = self.pieces(cleared, 0.0);
            (larger(&pieces, least) > most).then_some(pieces)
        })?;
        let round = self.rounds.main.as_ref()?;
        let largest = worst.iter().map(size).fold(0.0, f64::max);
        let message =
            format!("on the way of its main cut a piece of {largest:.4} mm2 lies free, planned are {most}");
        Some(self.fault(round, "cores", message))
    }
}

fn size(shape: &Shape) -> f64 {
    shape.iter().map(|points| area(points)).sum::<f64>().abs()
}

/// Length of a shape's edges.
fn rim(shape: &Shape) -> f64 {
    let round = |points: &Vec<[f64; 2]>| -> f64 {
        (0..points.len()).map(|i| distance(points[i], points[(i + 1) % points.len()])).sum()
    };
    shape.iter().map(round).sum()
}

fn larger(pieces: &[Shape], than: f64) -> usize {
    pieces.iter().filter(|piece| size(piece) > than).count()
}

fn dust_free(pieces: &[Shape]) -> u32 {
    larger(pieces, DUST) as u32
}
