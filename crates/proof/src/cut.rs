//! One contour as its program cuts it: each pass swept, and what that leaves of the target.

use crate::engine::{Shape, circle, counter_clockwise, difference};
use crate::fault::Spot;
use crate::flatten::{Place, SAGITTA_MM, closed, distance};
use crate::one_pass::{Done, OnePass};
use crate::passes::Threaded;
use crate::region::{Region, area};
use crate::rim::{open, rims};
use crate::tangle::tangled;
use package::{Contour, Fault, ProofContour, Side, Start, Wire};
use rayon::prelude::*;

/// Deepest cut beyond the edge, and thickest metal left, that still holds, mm.
pub const LIMIT: f64 = 0.001;
/// The wire may be threaded this far from the planned centre, mm.
const OFF_CENTRE: f64 = 0.001;
/// Pieces of metal smaller than this are dust, mm2; twice and half of it leave room for two engines to differ.
const DUST: f64 = 1e-4;
/// From this mass a core is taken out at a stop, g (common practice, no source).
const STOP_FROM_G: f64 = 0.02;

/// Proves one contour. The target's distance from the drawing comes from elsewhere.
pub fn prove(
    section: &str,
    contour: &Contour,
    wire: &Wire,
    threaded: &Threaded,
    spot: &Spot,
) -> (ProofContour, Vec<Fault>) {
    let mut faults = Vec::new();
    let target = counter_clockwise(closed(&contour.target));
    let region = Region::new(std::slice::from_ref(&target));
    let mut proof = ProofContour {
        section: section.to_owned(),
        contour: contour.id.clone(),
        gouge_mm: 0.0,
        left_mm: 0.0,
        hole_scar_mm: 0.0,
        target_moved_mm: 0.0,
        cores_found: 0,
        holds: false,
    };
    let widest = wire.passes.iter().map(|pass| pass.offset_mm).fold(0.0, f64::max);
    if tangled(&target, widest) {
        let message = format!("contour `{}`: the target lies on itself again and again", contour.id);
        proof.left_mm = wire.diameter_mm;
        return (proof, vec![spot.fault("too-large", message)]);
    }
    match &contour.start {
        Some(start) => {
            proof.hole_scar_mm = scar(&region, start);
            faults.extend(thread_faults(start, wire, threaded, spot));
        }
        None => {
            let message = format!("contour `{}` is cut and has no start hole", contour.id);
            faults.push(spot.block(threaded.block).fault("start-off-hole", message));
        }
    }
    if threaded.passes.len() != wire.passes.len() {
        let message = format!(
            "contour `{}` has {} passes, the plan {}",
            contour.id,
            threaded.passes.len(),
            wire.passes.len()
        );
        faults.push(spot.block(threaded.block).fault("pass-count", message));
    }
    let count = wire.passes.len();
    let done: Vec<Done> = threaded
        .passes
        .par_iter()
        .zip(&wire.passes)
        .enumerate()
        .map(|(i, (moves, _))| {
            OnePass { contour, wire, i, moves, target: &target, region: &region, spot }.prove()
        })
        .collect();
    proof.left_mm = done.get(count.wrapping_sub(1)).and_then(|last| last.left).unwrap_or(wire.diameter_mm);
    proof.gouge_mm = done.iter().map(|one| one.gouge).fold(0.0, f64::max);
    if done.len() == count
        && let Some(main) = done.first().and_then(|main| main.kerf.as_ref())
    {
        faults.extend(cores(&mut proof, contour, main, threaded, spot));
    }
    faults.extend(done.into_iter().flat_map(|one| one.faults));
    proof.holds = proof.gouge_mm <= LIMIT && proof.left_mm <= LIMIT && proof.hole_scar_mm <= 0.0;
    (proof, faults)
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
        faults.push(
            spot.fault(
                "start-off-hole",
                format!("the wire is threaded {off:.4} from the centre of its hole"),
            ),
        );
    }
    let open = open(start);
    if wire.diameter_mm >= open {
        let message = format!("a wire of {} does not go through an exit of {open:.3}", wire.diameter_mm);
        faults.push(spot.fault("wire-too-thick", message));
    }
    faults
}

/// Pieces of metal that the main cut frees, held against the plan's.
fn cores(
    proof: &mut ProofContour,
    contour: &Contour,
    main: &[Shape],
    threaded: &Threaded,
    spot: &Spot,
) -> Vec<Fault> {
    let islands: Vec<Shape> = main
        .iter()
        .flat_map(|shape| shape.iter().skip(1))
        .map(|hole| vec![counter_clockwise(hole.clone())])
        .collect();
    let free = |grown: f64| {
        let hole: Vec<Shape> = (contour.start.iter())
            .map(|start| vec![circle([start.x_mm, start.y_mm], open(start) / 2.0 + grown)])
            .collect();
        if contour.side == Side::Inside { difference(&islands, &hole) } else { islands.clone() }
    };
    let size = |shape: &Shape| shape.iter().map(|points| area(points)).sum::<f64>().abs();
    let larger = |free: &[Shape], than: f64| free.iter().filter(|shape| size(shape) > than).count();
    let found = free(0.0);
    proof.cores_found = larger(&found, DUST) as u32;
    // What a tab holds is not freed, and must not be found.
    let freed = |than: f64| contour.cores.iter().filter(|core| !core.held && core.area_mm2 > than).count();
    let planned = freed(DUST);
    let mut faults = Vec::new();
    let (least, most) = (freed(2.0 * DUST), freed(0.0));
    let fits = |found: &[Shape]| larger(found, 2.0 * DUST) <= most && least <= larger(found, DUST / 2.0);
    // A neck thinner than the limit is one that two flattenings may see or not: either count is right then.
    let agree = fits(&found) || [-LIMIT, LIMIT].into_iter().any(|grown| fits(&free(grown)));
    if !agree {
        let message = format!(
            "contour `{}` frees {} pieces of metal, the plan names {planned}",
            contour.id, proof.cores_found
        );
        faults.push(spot.block(threaded.block).fault("cores", message));
    }
    let falls = contour.cores.iter().any(|core| core.mass_g >= STOP_FROM_G && !core.held);
    if falls && !threaded.stops_after.first().copied().unwrap_or(false) {
        let message = format!(
            "contour `{}`: a core falls after the main cut and the program does not cut the wire and stop for it",
            contour.id
        );
        faults.push(spot.block(threaded.block).fault("no-stop", message));
    }
    faults
}
