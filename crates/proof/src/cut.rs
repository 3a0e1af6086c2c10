//! One contour as its program cuts it: each pass swept, and what that leaves of the target.

use crate::engine::{Shape, circle, difference, grown, stroke};
use crate::fault::Spot;
use crate::flatten::{Place, SAGITTA_MM, closed, distance};
use crate::follow::centre;
use crate::machine::{Keep, Move};
use crate::passes::Threaded;
use crate::region::{Region, area};
use crate::stock::{Strayed, strayed};
use package::{Contour, Fault, Pass, ProofContour, Side, Start, Wire};

/// Deepest cut beyond the edge, and thickest metal left, that still holds, mm.
pub const LIMIT: f64 = 0.001;
/// The wire may be threaded this far from the planned centre, mm.
const OFF_CENTRE: f64 = 0.001;
/// Pieces of metal smaller than this are dust, mm2; twice and half of it leave room for two engines to differ.
const DUST: f64 = 1e-4;
/// From this mass a core is taken out at a stop, g (common practice, no source).
const STOP_FROM_G: f64 = 0.02;
/// More chords than this in one pass are not swept: folded paths would take minutes.
const MOST_POINTS: usize = 400_000;
/// Feeds are written to so many mm/min.
const FEED_STEP: f64 = 0.002;

/// Proves one contour. The target's distance from the drawing comes from elsewhere.
pub fn prove(
    section: &str,
    contour: &Contour,
    wire: &Wire,
    threaded: &Threaded,
    spot: &Spot,
) -> (ProofContour, Vec<Fault>) {
    let mut faults = Vec::new();
    let target = closed(&contour.target);
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
    if let Some(start) = &contour.start {
        proof.hole_scar_mm = scar(&region, start);
        faults.extend(thread_faults(start, wire, threaded, spot));
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
    let perimeter: f64 = (0..target.len()).map(|i| distance(target[i], target[(i + 1) % target.len()])).sum();
    let mut kerfs: Vec<Vec<Shape>> = Vec::new();
    for (i, (moves, pass)) in threaded.passes.iter().zip(&wire.passes).enumerate() {
        faults.extend(pass_faults(contour, pass, moves, spot));
        let last = i + 1 == wire.passes.len();
        match swept(wire, pass, moves, perimeter) {
            Err((code, block, place, message)) => {
                let message = format!("contour `{}`, pass {}: {message}", contour.id, i + 1);
                faults.push(spot.block(block).at(place).fault(code, message));
            }
            Ok((path, kerf)) => {
                if !last && let Some((place, message)) = off_edge(&target, &path, pass.offset_mm) {
                    let message = format!("contour `{}`, pass {}: {message}", contour.id, i + 1);
                    let block = moves.first().and_then(|one| one.block);
                    faults.push(spot.block(block).at(place).fault("off-edge", message));
                }
                let reach = wire.diameter_mm / 2.0 + pass.spark_gap_mm;
                let (depth, place) = region.deepest(kerf.iter().flatten());
                if depth > proof.gouge_mm {
                    proof.gouge_mm = depth;
                }
                if depth > reach {
                    let message = format!(
                        "contour `{}`, pass {}: the wire runs in the metal, {depth:.4} beyond the edge",
                        contour.id,
                        i + 1
                    );
                    faults.push(
                        spot.block(moves.first().and_then(|one| one.block))
                            .at(place)
                            .fault("wrong-side", message),
                    );
                }
                kerfs.push(kerf);
            }
        }
    }
    match kerfs.len() == wire.passes.len() && !kerfs.is_empty() {
        true => {
            let last = wire.passes[wire.passes.len() - 1].offset_mm;
            proof.left_mm = left(&target, &kerfs[kerfs.len() - 1], last);
            faults.extend(cores(&mut proof, contour, &kerfs[0], threaded, spot));
        }
        // Nothing can be said of what is left of a pass that could not be run: all of it is.
        false => proof.left_mm = wire.diameter_mm,
    }
    proof.holds = proof.gouge_mm <= LIMIT && proof.left_mm <= LIMIT && proof.hole_scar_mm <= 0.0;
    (proof, faults)
}

/// How far the hole reaches beyond the finished edge.
pub fn scar(region: &Region, start: &Start) -> f64 {
    let place = [start.x_mm, start.y_mm];
    let inside = if region.contains(place) { region.to_edge(place) } else { -region.to_edge(place) };
    let radius = start.hole_diameter_mm.entry.max(start.hole_diameter_mm.exit) / 2.0;
    let scar = radius - inside;
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
    if wire.diameter_mm >= start.hole_diameter_mm.exit {
        let message = format!(
            "a wire of {} does not go through an exit of {:.3}",
            wire.diameter_mm, start.hole_diameter_mm.exit
        );
        faults.push(spot.fault("wire-too-thick", message));
    }
    faults
}

/// Registers and feeds of one pass.
fn pass_faults(contour: &Contour, pass: &Pass, moves: &[Move], spot: &Spot) -> Vec<Fault> {
    let mut faults = Vec::new();
    let used = moves.iter().find_map(|one| match one.keep {
        Keep::Left(register) | Keep::Right(register) => Some((one, register)),
        Keep::On => None,
    });
    match (used, pass.register) {
        (Some((one, used)), Some(planned)) if used != planned => {
            let message =
                format!("contour `{}`: register {used} is used where the plan has {planned}", contour.id);
            faults.push(spot.block(one.block).at(one.from).fault("register-other", message));
        }
        (Some((one, used)), None) => {
            let message = format!(
                "contour `{}`: register {used} is used where the plan writes the wire's centre",
                contour.id
            );
            faults.push(spot.block(one.block).at(one.from).fault("register-other", message));
        }
        (None, Some(planned)) => {
            let message = format!("contour `{}`: a pass runs without its register {planned}", contour.id);
            faults
                .push(spot.block(moves.first().and_then(|one| one.block)).fault("register-missing", message));
        }
        _ => {}
    }
    let slack = FEED_STEP.max(0.005 * pass.feed_mm_per_min);
    let lead = |i: usize| moves[i].keep == Keep::On || (i > 0 && moves[i - 1].keep == Keep::On) || i == 0;
    for (i, one) in moves.iter().enumerate() {
        let least = if lead(i) { 0.1 * pass.feed_mm_per_min } else { pass.feed_mm_per_min - slack };
        if one.feed > pass.feed_mm_per_min + slack || one.feed < least {
            let message = format!(
                "contour `{}`: feed {:.4} where the plan has {:.4} mm/min",
                contour.id, one.feed, pass.feed_mm_per_min
            );
            faults.push(spot.block(one.block).at(one.from).fault("feed", message));
            break;
        }
    }
    faults
}

type Refused = (&'static str, Option<u32>, Place, String);

/// Where a pass before the last leaves its own edge, and how far.
fn off_edge(target: &[Place], path: &[Place], offset: f64) -> Option<(Place, String)> {
    let Some(strayed) = strayed(target, path, offset) else {
        return Some((path[0], format!("an offset of {offset:.4} fits nowhere in the target")));
    };
    let Strayed { into, short } = strayed;
    if into.0 > LIMIT {
        return Some((into.1, format!("it cuts {:.4} into the stock that it should leave", into.0)));
    }
    (short.0 > LIMIT).then(|| (short.1, format!("it stays {:.4} off its edge", short.0)))
}

/// The wire's path in one pass, and what it clears.
fn swept(
    wire: &Wire,
    pass: &Pass,
    moves: &[Move],
    perimeter: f64,
) -> Result<(Vec<Place>, Vec<Shape>), Refused> {
    let value = |register: u32| {
        wire.passes.iter().find(|one| one.register == Some(register)).map(|one| one.offset_mm)
    };
    let path =
        centre(moves, value).map_err(|cannot| (cannot.code, cannot.block, cannot.place, cannot.message))?;
    let head = moves.first().map_or((None, [0.0, 0.0]), |one| (one.block, one.from));
    if path.len() > MOST_POINTS {
        return Err((
            "too-large",
            head.0,
            head.1,
            format!("{} chords, at most {MOST_POINTS} are swept", path.len()),
        ));
    }
    if !comes_round(moves, perimeter) {
        return Err((
            "not-closed",
            head.0,
            head.1,
            "the pass does not come round to where it met the edge".to_owned(),
        ));
    }
    let kerf = stroke(&path, wire.diameter_mm / 2.0 + pass.spark_gap_mm);
    Ok((path, kerf))
}

/// Whether a pass comes back to a place where it has been, after going at least half way round.
fn comes_round(moves: &[Move], perimeter: f64) -> bool {
    let length = |one: &Move| match one.arc {
        None => distance(one.from, one.to),
        Some((centre, sweep)) => distance(one.from, centre) * sweep.abs(),
    };
    let on = moves.iter().position(|one| one.keep != Keep::On);
    let edge = match on {
        Some(entry) => {
            let run = moves[entry + 1..].iter().take_while(|one| one.keep != Keep::On).count();
            &moves[entry + 1..entry + 1 + run]
        }
        None => moves,
    };
    // With a register the edge begins at its first move; without one, the lead-in's first few ends come in question.
    let starts = if on.is_some() { 1 } else { 4 };
    (0..starts.min(edge.len())).any(|first| {
        let place = edge[first].from;
        let mut way = 0.0;
        edge[first..].iter().any(|one| {
            let near = touches(one, place);
            way += length(one);
            near && way > 0.5 * perimeter
        })
    })
}

/// Whether a move passes a place within what rounding moves it.
fn touches(one: &Move, place: Place) -> bool {
    let mut points = vec![one.from];
    match one.arc {
        None => points.push(one.to),
        Some((centre, sweep)) => crate::flatten::arc(&mut points, one.from, one.to, centre, sweep),
    }
    points.windows(2).any(|pair| crate::region::to_segment(place, pair[0], pair[1]) <= LIMIT)
}

/// Thickest metal that the last pass leaves of what its radius reaches.
fn left(target: &[Place], kerf: &[Shape], radius: f64) -> f64 {
    let opening = vec![vec![crate::engine::counter_clockwise(target.to_vec())]];
    let reached = grown(&grown(&opening, -radius), radius);
    let cleared: Vec<Vec<Place>> = kerf.iter().filter_map(|shape| shape.first().cloned()).collect();
    if cleared.is_empty() || reached.is_empty() {
        return radius;
    }
    Region::new(&cleared).deepest(reached.iter().filter_map(|shape| shape.first())).0
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
        .map(|hole| vec![crate::engine::counter_clockwise(hole.clone())])
        .collect();
    let hole: Vec<Shape> = contour
        .start
        .iter()
        .map(|start| vec![circle([start.x_mm, start.y_mm], start.hole_diameter_mm.exit / 2.0)])
        .collect();
    let free = if contour.side == Side::Inside { difference(&islands, &hole) } else { islands };
    let size = |shape: &Shape| shape.iter().map(|points| area(points)).sum::<f64>().abs();
    let larger = |than: f64| free.iter().filter(|shape| size(shape) > than).count();
    proof.cores_found = larger(DUST) as u32;
    let planned = contour.cores.iter().filter(|core| core.area_mm2 > DUST).count();
    let sure = contour.cores.iter().filter(|core| core.area_mm2 > 2.0 * DUST).count();
    let mut faults = Vec::new();
    let agree = larger(2.0 * DUST) <= planned.max(contour.cores.len()) && sure <= larger(DUST / 2.0);
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
            "contour `{}`: a core falls after the main cut and the program does not stop for it",
            contour.id
        );
        faults.push(spot.block(threaded.block).fault("no-stop", message));
    }
    faults
}
