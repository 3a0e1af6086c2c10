//! The proof: what the programs of a package do to the block, read back by somebody who shares nothing with the planner.
//!
//! Stages: the inputs are the ones that were planned from; the target is the drawing with its clearance; each program
//! is run as a machine would run it, cut into contours and passes, and every pass swept through the block; what the
//! wire and the start hole leave is held against the target. Own runner, own flattening, own compensation, and a
//! polygon engine that the planner does not use. Lengths in mm, every length good to the stated sagitta.

mod absurd;
mod burner;
#[cfg(test)]
mod by_hand;
mod curve;
mod cut;
mod dropped;
mod engine;
mod erosion;
mod fault;
mod flatten;
mod follow;
mod freed;
mod from_outside;
mod joint;
mod leaning;
mod machine;
mod neighbours;
mod offsets;
mod one_pass;
mod passes;
mod phases;
mod placed;
mod raw;
mod region;
mod relief;
mod rim;
mod room;
mod rounds;
mod stock;
mod tab;
mod tangle;
mod target;
mod weight;

use cut::{Cut, Proven};
use fault::Spot;
use flatten::Place;
use machine::Run;
use package::{
    Contour, FaceUp, Fault, Machine, MachineFunctions, PROOF_SCHEMA, Plan, PlanSection, Program, Proof,
    ProofContour, Side,
};
use phases::Phases;
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use target::Drawings;
use weight::Block;

/// Functions of a machine whose package does not state them: common practice, no source.
const FUNCTIONS: MachineFunctions = MachineFunctions { thread: 60, cut: 50, stop: 0, end: 2 };

/// A package as it was read.
#[derive(Debug, Clone)]
pub struct Evidence {
    /// Its plan.
    pub plan: Plan,
    /// Files of `inputs/`, by path below it.
    pub inputs: BTreeMap<String, Vec<u8>>,
    /// Program texts, by path in the package.
    pub programs: BTreeMap<String, Vec<u8>>,
}

/// Proves a package, or says what is wrong with it. Never fails otherwise.
pub fn prove(evidence: &Evidence) -> Proof {
    prove_counted(evidence, &|| ())
}

/// The same; `done` is told of every section that is proven, from whichever thread proved it.
pub fn prove_counted(evidence: &Evidence, done: &(dyn Fn() + Sync)) -> Proof {
    let plan = &evidence.plan;
    let mut faults = changed_inputs(evidence);
    let drawings = Drawings::of(plan, &evidence.inputs);
    let sections: Vec<(Vec<ProofContour>, Vec<Fault>)> = plan
        .sections
        .par_iter()
        .map(|section| {
            let proven = prove_section(section, Block::of(plan, section), &evidence.programs, &drawings);
            done();
            proven
        })
        .collect();
    let mut contours = Vec::new();
    for (proven, found) in sections {
        contours.extend(proven);
        faults.extend(found);
    }
    let holds = faults.is_empty() && contours.iter().all(|one| one.holds);
    Proof { schema: PROOF_SCHEMA.to_owned(), sagitta_mm: flatten::SAGITTA_MM, contours, faults, holds }
}

fn changed_inputs(evidence: &Evidence) -> Vec<Fault> {
    let spot = Spot::default();
    let check = |file: &package::InputFile| {
        let message = match evidence.inputs.get(&file.path) {
            None => format!("inputs/{} is missing", file.path),
            Some(bytes) => {
                let found: String = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
                if found.eq_ignore_ascii_case(&file.sha256) {
                    return None;
                }
                format!("inputs/{} is not the file that was planned from", file.path)
            }
        };
        Some(spot.fault("inputs-changed", message))
    };
    let mut faults: Vec<Fault> = evidence.plan.inputs.iter().filter_map(check).collect();
    // A drawing without a fingerprint could be any drawing.
    let listed: BTreeSet<&str> = evidence.plan.inputs.iter().map(|file| file.path.as_str()).collect();
    let contours = evidence.plan.sections.iter().flat_map(|section| &section.contours);
    let drawings: BTreeSet<&str> = contours.map(|one| one.drawing.file.as_str()).collect();
    faults.extend(drawings.difference(&listed).map(|path| {
        spot.fault("inputs-changed", format!("the plan has no fingerprint of its drawing inputs/{path}"))
    }));
    faults
}

fn prove_section(
    section: &PlanSection,
    block: Block,
    programs: &BTreeMap<String, Vec<u8>>,
    drawings: &Drawings,
) -> (Vec<ProofContour>, Vec<Fault>) {
    let mut faults = block.faults(section);
    faults.extend(neighbours::faults(section));
    faults.extend(burner::faults(section, programs));
    faults.extend(joint::faults(section));
    let mut proven: BTreeMap<&str, ProofContour> = BTreeMap::new();
    for program in &section.programs {
        let what = match (program.machine, program.face_up) {
            (Machine::Wire, FaceUp::Cutting) | (Machine::Burner, _) => continue,
            (Machine::Wire, FaceUp::Back) => "programs with the back up",
        };
        faults.push(Spot::program(&program.id).fault("not-proven", format!("{what} cannot be followed yet")));
    }
    let mut around = Vec::new();
    for program in section.programs.iter().filter(|program| program.machine == Machine::Wire) {
        let (found, ways, wrong) = prove_program(section, block, program, programs);
        faults.extend(wrong);
        around.extend(ways);
        for (id, proof) in found {
            if proven.insert(id, proof).is_some() {
                let message = format!("contour `{id}` is cut by more than one program");
                faults.push(Spot::program(&program.id).fault("pass-count", message));
            }
        }
    }
    faults.extend(from_outside::frame(section, &around));
    let mut contours = Vec::new();
    for contour in &section.contours {
        let absurd = absurd::of(contour);
        if !absurd.is_empty() {
            faults.extend(absurd);
            continue;
        }
        let moved = drawings.target_moved(contour, section.kind);
        faults.extend(offsets::of_plan(contour));
        faults.extend(relief::of_plan(section, contour));
        let moved_holds = matches!(moved, Ok(moved) if moved <= drawings.moved_limit(contour));
        match (&moved, moved_holds) {
            (Err(fault), _) => faults.push(fault.clone()),
            (Ok(moved), false) => {
                let message = format!(
                    "the target of contour `{}` lies {moved:.4} from the drawing with its clearance",
                    contour.id
                );
                faults.push(Spot::default().fault("target-moved", message));
            }
            _ => {}
        }
        match proven.remove(contour.id.as_str()) {
            Some(mut proof) => {
                proof.target_moved_mm = moved.unwrap_or(f64::MAX);
                proof.holds &= moved_holds;
                contours.push(proof);
            }
            None if contour.wire.is_some() || section.makeable => {
                let message = format!("no program of section `{}` cuts contour `{}`", section.id, contour.id);
                faults.push(Spot::default().fault("contour-without-program", message));
            }
            None => {}
        }
    }
    (contours, faults)
}

type Contours<'a> = Vec<(&'a str, ProofContour)>;
/// Ways of the wire's centre, each with what it clears to either side.
type Ways = Vec<(Vec<Place>, f64)>;

fn prove_program<'a>(
    section: &'a PlanSection,
    block: Block,
    program: &'a Program,
    programs: &BTreeMap<String, Vec<u8>>,
) -> (Contours<'a>, Ways, Vec<Fault>) {
    let spot = Spot::program(&program.id);
    let mut faults = Vec::new();
    let Some(bytes) = programs.get(&program.path) else {
        return (
            Vec::new(),
            Vec::new(),
            vec![spot.fault("program-missing", format!("{} is missing", program.path))],
        );
    };
    let mut contours: Vec<&'a Contour> = Vec::new();
    for id in &program.contours {
        match section.contours.iter().find(|one| one.id == *id) {
            Some(contour) => contours.push(contour),
            None => {
                faults.push(spot.fault("program-unknown-contour", format!("the plan has no contour `{id}`")))
            }
        }
    }
    for contour in contours.iter().filter(|one| one.wire.is_none()) {
        let message = format!("the program cuts contour `{}`, which the plan does not cut", contour.id);
        faults.push(spot.fault("program-unknown-contour", message));
    }
    let functions = program.functions.unwrap_or(FUNCTIONS);
    let (blocks, run) = read(bytes, program, functions, &mut faults);
    faults.extend(offsets::of_registers(program, &contours));
    faults.extend(offsets::of_comments(&run, program, &contours));
    faults.extend(relief::of_head(&run, program, &contours));
    let (parts, wrong) = phases::parts(program, &blocks, &spot);
    faults.extend(wrong);
    let attended = |line| phases::attended(&parts, line);
    let threaded = passes::contours(&run);
    if threaded.len() != contours.len() {
        let message = format!(
            "the wire is threaded at {} places, the plan has {} contours",
            threaded.len(),
            contours.len()
        );
        faults.push(spot.fault("pass-count", message));
    }
    let pieces = neighbours::pieces(section);
    let pairs: Vec<_> = contours.into_iter().zip(&threaded).collect();
    let proven: Vec<_> = pairs
        .par_iter()
        .filter_map(|(contour, threaded)| {
            let wire = contour.wire.as_ref().filter(|_| absurd::of(contour).is_empty())?;
            let sides = section.block_mm();
            let block = block.over(contour);
            let (section, attended, spot) = (section.id.as_str(), &attended, &spot);
            let cut = Cut { section, block, contour, wire, guides: program.guides, attended, spot };
            let mut proven = cut.prove(threaded);
            proven.faults.extend(from_outside::stands(sides, contour, wire, threaded, spot));
            proven.faults.extend(neighbours::cut_into(&pieces, contour, &proven.ways, spot));
            if program.wire_mm.is_none_or(|mm| (mm - wire.diameter_mm).abs() > 1e-9) {
                let message =
                    format!("contour `{}` wants wire {}, the program another", contour.id, wire.diameter_mm);
                proven.faults.push(spot.fault("wire-other", message));
            }
            Some((*contour, proven))
        })
        .collect();
    if !program.phases.is_empty() {
        let rounds: Vec<_> =
            proven.iter().map(|(contour, proven)| (contour.id.as_str(), &proven.rounds)).collect();
        let phases = Phases { parts: &parts, blocks: &blocks, run: &run, functions, spot: &spot };
        faults.extend(phases.faults(&rounds));
    }
    let (mut found, mut around) = (Vec::new(), Vec::new());
    for (contour, Proven { proof, faults: wrong, ways, .. }) in proven {
        found.push((contour.id.as_str(), proof));
        faults.extend(wrong);
        if contour.side == Side::Outside {
            around.extend(ways);
        }
    }
    (found, around, faults)
}

/// Lexes and runs a program.
fn read(
    bytes: &[u8],
    program: &Program,
    functions: MachineFunctions,
    faults: &mut Vec<Fault>,
) -> (Vec<nc::Block>, Run) {
    let spot = Spot::program(&program.id);
    let text = String::from_utf8_lossy(bytes);
    let (blocks, wrong) = nc::lex(&text);
    faults.extend(wrong.into_iter().map(|fault| {
        let number = blocks.iter().find(|block| block.line == fault.line).and_then(|block| block.number);
        spot.block(number).fault("text", format!("line {}: {}", fault.line, fault.message))
    }));
    let mut run = machine::run(&blocks, &program.id, functions);
    faults.append(&mut run.faults);
    (blocks, run)
}
