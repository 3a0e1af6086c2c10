//! One contour as its program cuts it: each pass swept, and what that leaves of the target.

use crate::dropped::Dropped;
use crate::engine::{Shape, counter_clockwise};
use crate::fault::Spot;
use crate::flatten::{Place, SAGITTA_MM, closed, distance};
use crate::freed::Freed;
use crate::from_outside::begins_there;
use crate::leaning::Leaning;
use crate::one_pass::{Done, Extent, OnePass};
use crate::passes::{Round, Threaded};
use crate::region::Region;
use crate::rim::{open, rims};
use crate::rounds::{Edge, Rounds};
use crate::tangle::tangled;
use crate::weight::Block;
use package::{Contour, Fault, Guides, ProofContour, ProofRelief, Relief, Side, Start, Wire};
use rayon::prelude::*;

/// Deepest cut beyond the edge, and thickest metal left, that still holds, mm.
pub const LIMIT: f64 = 0.001;
/// The wire may be threaded this far from the planned centre, mm.
const OFF_CENTRE: f64 = 0.001;
/// The plan may name the width of a tab this far off, mm.
const TAB_OFF: f64 = 0.01;

/// A contour to be proven.
#[derive(Clone, Copy)]
pub struct Cut<'a> {
    /// Its section's id.
    pub section: &'a str,
    /// The section's block.
    pub block: Block,
    /// The contour.
    pub contour: &'a Contour,
    /// How it is cut.
    pub wire: &'a Wire,
    /// Where the guides hold the wire, if the program says so.
    pub guides: Option<Guides>,
    /// Whether somebody is there while a line of the program runs.
    pub attended: &'a (dyn Fn(u32) -> bool + Sync),
    /// The program.
    pub spot: &'a Spot,
}

/// What came of it.
#[derive(Debug)]
pub struct Proven {
    /// The figures. The target's distance from the drawing comes from elsewhere.
    pub proof: ProofContour,
    /// What is wrong.
    pub faults: Vec<Fault>,
    /// Main cut, tab and skims.
    pub rounds: Rounds,
    /// Ways of the wire's centre, each with how far it clears to either side, mm.
    pub ways: Vec<(Vec<Place>, f64)>,
}

impl Cut<'_> {
    /// Proves what is cut from one threading place.
    pub fn prove(&self, threaded: &Threaded) -> Proven {
        let (contour, wire, spot) = (self.contour, self.wire, self.spot);
        let mut faults = Vec::new();
        let mut proof = ProofContour {
            section: self.section.to_owned(),
            contour: contour.id.clone(),
            gouge_mm: 0.0,
            left_mm: 0.0,
            hole_scar_mm: 0.0,
            target_moved_mm: 0.0,
            cores_found: 0,
            tabs_found: 0,
            relief: None,
            holds: false,
        };
        let target = counter_clockwise(closed(&contour.target));
        let widest = wire.passes.iter().map(|pass| pass.offset_mm).fold(0.0, f64::max);
        if tangled(&target, widest) {
            let message = format!("contour `{}`: the target lies on itself again and again", contour.id);
            proof.left_mm = wire.diameter_mm;
            let faults = vec![spot.fault("too-large", message)];
            return Proven { proof, faults, rounds: Rounds::default(), ways: Vec::new() };
        }
        let edge = match contour.side {
            Side::Inside => Edge::new(target),
            Side::Outside => Edge::around(target),
        };
        match &contour.start {
            Some(start) => {
                proof.hole_scar_mm = scar(&edge.region, start);
                faults.extend(thread_faults(start, wire, threaded, spot));
            }
            None => {
                let message = format!("contour `{}` is cut and has no start hole", contour.id);
                faults.push(spot.block(threaded.block).fault("start-off-hole", message));
            }
        }
        let (tilted, upright) = by_tilt(threaded);
        let rounds = Rounds::of(&upright, wire, &edge);
        let passes = usize::from(rounds.main.is_some()) + rounds.skims.len();
        if passes != wire.passes.len() {
            let message =
                format!("contour `{}` has {passes} passes, the plan {}", contour.id, wire.passes.len());
            faults.push(spot.block(threaded.block).fault("pass-count", message));
        }
        let dress = self.dress(&rounds, &edge);
        let ((main, tab), skims) =
            rayon::join(|| self.main(&rounds, &edge), || self.skims(&rounds, &edge, &dress));
        let count = wire.passes.len();
        if edge.is_piece() && dress.len() + 1 != count {
            let message = format!(
                "contour `{}`: the place of its tab is skimmed {} times, the piece {}",
                contour.id,
                dress.len(),
                count - 1
            );
            faults.push(spot.block(threaded.block).fault("pass-count", message));
        }
        let last = skims.last().or(main.as_ref()).filter(|_| passes == count);
        proof.left_mm = last.and_then(|last| last.left).unwrap_or(wire.diameter_mm);
        let all = || main.iter().chain(&tab).chain(&skims).chain(&dress);
        proof.gouge_mm = all().map(|one| one.gouge).fold(0.0, f64::max);
        if wire.relief.is_some() || !tilted.is_empty() {
            let land = main.as_ref().and_then(|main| main.kerf.as_deref());
            let found = self.relief((&mut proof, &edge), &tilted, (land, threaded));
            faults.extend(found);
        } else if let Some(main) = main.as_ref().filter(|_| passes == count) {
            let freed = Freed {
                contour,
                wire,
                edge: &edge,
                rounds: &rounds,
                block: self.block,
                attended: self.attended,
                spot,
            };
            let (found, wrong) = match edge.is_piece() {
                true => freed.prove_piece(main, [&skims, &dress], tab.as_ref()),
                false => freed.prove(main, tab.as_ref()),
            };
            proof.cores_found = found;
            faults.extend(wrong);
            faults.extend(self.tab(&mut proof, main, tab.as_ref(), threaded));
        }
        faults.extend(all().flat_map(|one| one.faults.iter().cloned()));
        let relieved = proof.relief.is_none_or(|relief| relief.gouge_mm <= LIMIT && relief.left_mm <= LIMIT);
        proof.holds =
            relieved && proof.gouge_mm <= LIMIT && proof.left_mm <= LIMIT && proof.hole_scar_mm <= 0.0;
        let reach = |gap: f64| wire.diameter_mm / 2.0 + gap;
        let gap = |i: usize| wire.passes.get(i).map_or(0.0, |pass| pass.spark_gap_mm);
        let first = main.iter().chain(&tab).map(|one| (one.path.clone(), reach(gap(0))));
        let later = |of: &[Done]| -> Vec<(Vec<Place>, f64)> {
            of.iter().enumerate().map(|(i, one)| (one.path.clone(), reach(gap(i + 1)))).collect()
        };
        let ways = first.chain(later(&skims)).chain(later(&dress)).collect();
        Proven { proof, faults, rounds: rounds.behind(tilted.into_iter().next()), ways }
    }

    /// The relief's cut, and what it frees.
    fn relief(
        &self,
        (proof, edge): (&mut ProofContour, &Edge),
        tilted: &[Round],
        (land, threaded): (Option<&[Shape]>, &Threaded),
    ) -> Vec<Fault> {
        let fault = |block: Option<u32>, code: &str, message: String| {
            let message = format!("contour `{}`: {message}", self.contour.id);
            vec![self.spot.block(block).fault(code, message)]
        };
        let planned: Option<&Relief> = self.wire.relief.as_ref();
        let ([round], Some(relief)) = (tilted, planned) else {
            let block =
                tilted.first().and_then(|round| round.moves.first()).map_or(threaded.block, |one| one.block);
            let (count, planned) = (tilted.len(), usize::from(planned.is_some()));
            let message = format!("the wire goes round tilted {count} times, planned is {planned}");
            return fault(block, "relief", message);
        };
        let first = threaded.rounds.first().is_some_and(Round::tilted);
        let Some(guides) = self.guides else {
            let message = "its wire is tilted, and the plan does not say where the guides hold it".to_owned();
            return fault(threaded.block, "guides", message);
        };
        let (contour, wire, spot, height) = (self.contour, self.wire, self.spot, self.block.height);
        let leant = Leaning { contour, wire, relief, guides, round, edge, height, spot }.prove();
        proof.relief =
            Some(ProofRelief { gouge_mm: leant.gouge, left_mm: leant.left, off_land_mm: leant.off_land });
        let dropped = Dropped { contour, block: self.block, round, attended: self.attended, spot };
        let (found, mut faults) = dropped.prove(&leant, land);
        proof.cores_found = found;
        faults.extend(leant.faults);
        if !first {
            let block = round.moves.first().and_then(|one| one.block);
            faults.extend(fault(
                block,
                "relief",
                "the land is cut before the relief's core is out".to_owned(),
            ));
        }
        faults
    }

    fn one<'a>(&self, i: usize, round: &'a Round, extent: Extent<'a>, edge: &'a Edge) -> OnePass<'a>
    where
        Self: 'a,
    {
        OnePass { contour: self.contour, wire: self.wire, i, round, extent, edge, spot: self.spot }
    }

    fn pass(&self, i: usize, round: &Round, extent: Extent, edge: &Edge) -> Done {
        self.one(i, round, extent, edge).prove()
    }

    /// The main cut, and the cut of the tab that it leaves standing.
    fn main(&self, rounds: &Rounds, edge: &Edge) -> (Option<Done>, Option<Done>) {
        let Some(main) = &rounds.main else { return (None, None) };
        let mut tab = rounds.tab.as_ref().map(|(_, round)| self.pass(0, round, Extent::Tab, edge));
        let extent = match rounds.holds {
            true => Extent::ButTab(tab.as_ref().map(|tab| tab.path.as_slice())),
            false => Extent::Whole,
        };
        let main = self.pass(0, main, extent, edge);
        if let (Some(tab), Some((_, round))) = (&mut tab, &rounds.tab) {
            let cleared = main.kerf.as_deref().unwrap_or_default();
            let fault = self.one(0, round, Extent::Tab, edge).hurries(&tab.path, cleared);
            tab.faults.extend(fault);
        }
        (Some(main), tab)
    }

    /// The skims: all round an opening, up to the tab of a piece.
    fn skims(&self, rounds: &Rounds, edge: &Edge, dress: &[Done]) -> Vec<Done> {
        let known = 1..self.wire.passes.len();
        let pairs: Vec<_> = known.zip(&rounds.skims).collect();
        let extent = |i: usize| match edge.is_piece() {
            true => Extent::ButTab(dress.get(i - 1).map(|one| one.path.as_slice())),
            false => Extent::Whole,
        };
        pairs.into_par_iter().map(|(i, (_, round))| self.pass(i, round, extent(i), edge)).collect()
    }

    /// The skims over the place of a piece's tab.
    fn dress(&self, rounds: &Rounds, edge: &Edge) -> Vec<Done> {
        let known = 1..self.wire.passes.len();
        let pairs: Vec<_> = known.zip(&rounds.dress).collect();
        pairs.into_par_iter().map(|(i, (_, round))| self.pass(i, round, Extent::Tab, edge)).collect()
    }

    /// The tab that was found, against the plan's.
    fn tab(
        &self,
        proof: &mut ProofContour,
        main: &Done,
        tab: Option<&Done>,
        threaded: &Threaded,
    ) -> Option<Fault> {
        // What is not cut through holds for ever, and is a fault of its own.
        let found = main.tab.filter(|_| tab.is_some());
        proof.tabs_found = u32::from(found.is_some_and(|width| width > 0.0));
        let planned = self.wire.tab.as_ref().map(|tab| tab.width_mm);
        let message = match (found, planned) {
            (None, None) => return None,
            (Some(found), Some(planned)) if found > 0.0 && (found - planned).abs() <= TAB_OFF => return None,
            (Some(found), Some(planned)) => {
                format!("a tab of {found:.4} stands after the main cut, the plan has {planned:.4}")
            }
            (Some(found), None) => format!("the main cut stops {found:.4} short, and the plan has no tab"),
            (None, Some(planned)) => {
                format!("the plan has a tab of {planned:.4}, and none is left standing and cut")
            }
        };
        let message = format!("contour `{}`: {message}", self.contour.id);
        Some(self.spot.block(threaded.block).fault("tab", message))
    }
}

/// The rounds with the wire tilted, and the rest.
fn by_tilt(threaded: &Threaded) -> (Vec<Round>, Threaded) {
    let (tilted, rounds) = threaded.rounds.iter().cloned().partition(Round::tilted);
    (tilted, Threaded { rounds, ..threaded.clone() })
}

/// How far the hole reaches beyond the finished edge.
pub fn scar(region: &Region, start: &Start) -> f64 {
    let bites = |(place, radius): (Place, f64)| {
        let inside = if region.contains(place) { region.to_edge(place) } else { -region.to_edge(place) };
        radius - inside
    };
    let scar = rims(start).into_iter().map(bites).fold(f64::NEG_INFINITY, f64::max);
    // Within the chords' own error a hole that touches the edge does not bite.
    if scar <= 2.0 * SAGITTA_MM { 0.0 } else { scar }
}

fn thread_faults(start: &Start, wire: &Wire, threaded: &Threaded, spot: &Spot) -> Vec<Fault> {
    let spot = spot.block(threaded.block).at(threaded.place);
    let mut faults = Vec::new();
    let off = distance(threaded.place, [start.x_mm, start.y_mm]);
    if off > OFF_CENTRE {
        faults.push(spot.fault(
            "start-off-hole",
            format!(
                "the wire is threaded {off:.4} from the centre of its hole, or from where it is to stand"
            ),
        ));
    }
    let open = open(start);
    if !begins_there(start) && wire.diameter_mm >= open {
        let message = format!("a wire of {} does not go through an exit of {open:.3}", wire.diameter_mm);
        faults.push(spot.fault("wire-too-thick", message));
    }
    faults
}
