//! One section: all its edges, the wires that make them in the least whole time, and the programs.
//!
//! Stages: every edge studied; a wire for each, in job order, so that cutting, risk and wire changes together are
//! least; every edge written down; a program for each run of edges that share a wire.

use crate::burn::Burn;
use crate::burning::{self, ToBurn};
use crate::candidate::Candidate;
use crate::contour::{self, Decided, Frame, Studied};
use crate::cutting::Cutting;
use crate::figure::Figure;
use crate::forces;
use crate::lead_in::LeadIn;
use crate::opening::{DrawnEdge, Opening};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::time as time_rules;
use crate::setup::{self, Cut, Head, Placed};
use crate::size;
use job::{Facts, Job, Section, Shop};
use outline::{Outline, meeting_pairs, nesting};
use package::{self as published, Line};
use remark::Remark;
use std::collections::BTreeMap;

/// A planned section.
#[derive(Debug)]
pub struct PlannedSection {
    /// Its entry.
    pub section: published::PlanSection,
    /// Texts of its programs by path in the package.
    pub programs: BTreeMap<String, String>,
    /// Its reckoning.
    pub lines: Vec<Line>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// What a section is planned in.
#[derive(Debug, Clone, Copy)]
pub struct World<'a> {
    /// The job.
    pub job: &'a Job,
    /// The shop.
    pub shop: &'a Shop,
    /// The facts.
    pub facts: &'a Facts,
}

/// Plans one section; `drawn` holds the outline of each edge.
pub fn plan(world: World, section: &Section, drawn: &[DrawnEdge]) -> Result<PlannedSection, Vec<Remark>> {
    let reckoning = &mut Reckoning::new();
    let frame = frame(reckoning, world, section)?;
    let studied = study_all(reckoning, world, section, drawn, frame)?;
    apart(section, &studied)?;
    let chosen = choose(world.shop, &studied);
    let mut decided = Vec::new();
    for (i, edge) in section.edges.iter().enumerate() {
        let head = head(section, &edge.id);
        let mut one =
            contour::decide(reckoning, &head, world.shop, (section, edge), &studied[i], chosen[i], frame)?;
        one.contour.drawing.file = drawn[i].file.clone();
        one.contour.drawing.outline = drawn[i].outline_id.clone();
        one.contour.moved_mm = Some(moved(reckoning, &head, drawn[i].moved_mm));
        decided.push(one);
    }
    let (mut programs, mut texts) = programs(reckoning, world, section, &mut decided)?;
    let holes = to_burn(reckoning, world, section, &studied, &chosen);
    let burned = burning::of(reckoning, world, section, &holes, programs.len())?;
    let burning = burned.map(|(burning, program, text)| {
        texts.insert(program.path.clone(), text);
        programs.push(program);
        burning
    });
    let openings: Vec<(&Opening, Figure)> =
        studied.iter().map(|one| (&one.opening, one.burn.frame(frame).land)).collect();
    let forces = forces::of(reckoning, world, section, &openings);
    let makeable = decided.iter().all(|one| one.cut.is_some());
    let mut remarks: Vec<Remark> =
        decided.iter_mut().flat_map(|one| std::mem::take(&mut one.remarks)).collect();
    remarks.extend(section.edges.iter().filter_map(size::tight));
    let section = published::PlanSection {
        id: section.id.clone(),
        kind: published::SectionKind::Die,
        steel: section.steel.value.clone(),
        hardness_hrc: section.hardness_hrc.value,
        size_mm: [0, 1, 2].map(|i| section.size[i].value),
        makeable,
        contours: decided.into_iter().map(|one| one.contour).collect(),
        programs,
        burning,
        forces,
    };
    Ok(PlannedSection { section, programs: texts, lines: std::mem::take(reckoning).into_lines(), remarks })
}

/// The holes to burn; none where some edge cannot be cut.
fn to_burn<'a>(
    reckoning: &mut Reckoning,
    world: World,
    section: &'a Section,
    studied: &'a [Studied],
    chosen: &[Option<&Candidate>],
) -> Vec<ToBurn<'a>> {
    let Some(ways) = chosen.iter().copied().collect::<Option<Vec<&Candidate>>>() else { return Vec::new() };
    let of = |(i, way): (usize, &Candidate)| {
        let edge = &section.edges[i];
        let hole = (i + 1, edge.id.as_str(), way.place);
        ToBurn::of(reckoning, &head(section, &edge.id), world.shop, hole, (&studied[i].burn, way.electrode))
    };
    ways.into_iter().enumerate().filter_map(of).collect()
}

fn moved(reckoning: &mut Reckoning, head: &str, moved_mm: f64) -> f64 {
    let meaning = what("how far closing up moved the drawn outline", "u", "mm");
    let how = "largest distance between the raw entities of the drawing and the closed outline, a bound";
    reckoning.measured(At(head, "moved_mm"), meaning, moved_mm, how, &[]).value
}

fn head(section: &Section, edge: &str) -> String {
    format!("{}.{edge}.", section.id)
}

fn frame(reckoning: &mut Reckoning, world: World, section: &Section) -> Result<Frame, Vec<Remark>> {
    let head = format!("{}.", section.id);
    let mut known = |name, meaning, symbol, unit, known| {
        reckoning.known(At(&head, name), what(meaning, symbol, unit), known)
    };
    known("hardness_hrc", "hardness", "HRC", "HRC", &section.hardness_hrc);
    known("size_mm.0", "finished block, x", "B_x", "mm", &section.size[0]);
    known("size_mm.1", "finished block, y", "B_y", "mm", &section.size[1]);
    let height = known("size_mm.2", "finished block, height", "h", "mm", &section.size[2]);
    let steel = world.facts.steel(&section.steel.value).ok_or_else(|| {
        vec![
            Remark::error("steel", format!("steel `{}` is not in the facts", section.steel.value))
                .place(section.place.clone()),
        ]
    })?;
    let key = format!("fact:steel.{}.", section.steel.value);
    let density = reckoning.known(
        At(&key, "density_g_cm3"),
        what("density of the steel", "rho", "g/cm3"),
        &steel.density_g_cm3,
    );
    let land = match &section.land {
        Some(land) => reckoning.known(At(&head, "land_mm"), what("straight cutting height", "l", "mm"), land),
        None => reckoning.chosen(
            At(&head, "land_mm"),
            what("straight cutting height", "l", "mm"),
            height.value,
            "land left out while straight through: the block's height",
            &[("h", height)],
        ),
    };
    let relief = match &section.relief_deg {
        Some(relief) => {
            reckoning.known(At(&head, "relief_deg"), what("relief per side", "beta", "deg"), relief)
        }
        None => reckoning.chosen(
            At(&head, "relief_deg"),
            what("relief per side", "beta", "deg"),
            0.0,
            "relief left out: straight through",
            &[],
        ),
    };
    Ok(Frame { height, density, land, relief })
}

fn study_all(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    drawn: &[DrawnEdge],
    frame: Frame,
) -> Result<Vec<Studied>, Vec<Remark>> {
    let mut studied = Vec::new();
    let mut faults = Vec::new();
    for (edge, drawn) in section.edges.iter().zip(drawn) {
        let head = head(section, &edge.id);
        let one = Opening::of(reckoning, &head, (world.job, world.facts), section, (edge, drawn)).and_then(
            |opening| {
                let burn = Burn::of(reckoning, &head, (section, edge), &opening, frame.height)?;
                contour::study((opening, burn), &head, world.shop, (section, edge))
            },
        );
        match one {
            Ok(one) => studied.push(one),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() { Ok(studied) } else { Err(faults) }
}

/// Openings that run into each other contradict the job.
fn apart(section: &Section, studied: &[Studied]) -> Result<(), Vec<Remark>> {
    let targets: Vec<Outline> = studied.iter().map(|one| one.opening.target.clone()).collect();
    let within = nesting(&targets).into_iter().enumerate().filter_map(|(i, around)| Some((around?, i)));
    let clash = |(i, j): (usize, usize)| {
        let message = format!(
            "the openings of edges `{}` and `{}` run into each other",
            section.edges[i].id, section.edges[j].id
        );
        let middle = targets[j].bounds().middle();
        let place = section.edges[j].place.clone().at(middle.x, middle.y);
        Remark::error("openings-meet", message).place(place).cure("another `at`")
    };
    let faults: Vec<Remark> =
        meeting_pairs(&targets).into_iter().map(|(i, j, _)| (i, j)).chain(within).map(clash).collect();
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// For each edge the way with its wire, so that minutes and wire changes over the section are least; none where no
/// wire keeps every bound. In job order: a wire change is paid wherever the wire differs from the edge before.
fn choose<'a>(shop: &Shop, studied: &'a [Studied]) -> Vec<Option<&'a Candidate>> {
    let change = shop.cutting.wire_change_minutes.value;
    // Cheapest sum so far for each wire row that the last cut edge could have, with the choices that lead there.
    let mut so_far: BTreeMap<usize, (f64, Vec<Option<&Candidate>>)> = BTreeMap::new();
    for (i, one) in studied.iter().enumerate() {
        let ways: Vec<&Candidate> = one.looked.best.iter().filter(|way| way.holds()).collect();
        if ways.is_empty() {
            so_far.values_mut().for_each(|(_, choices)| choices.push(None));
            continue;
        }
        let mut next = BTreeMap::new();
        for way in ways {
            let row = one.cuttings[way.cutting].passes.row;
            let before = so_far
                .iter()
                .map(|(last, (sum, choices))| {
                    (sum + if *last == row { 0.0 } else { change }, choices.clone())
                })
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .unwrap_or_else(|| (0.0, vec![None; i]));
            let mut choices = before.1;
            choices.push(Some(way));
            next.insert(row, (before.0 + way.minutes, choices));
        }
        so_far = next;
    }
    so_far
        .into_values()
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map_or_else(|| vec![None; studied.len()], |(_, choices)| choices)
}

type Texts = BTreeMap<String, String>;

/// A program for each run of edges that share a wire. A section with an edge that cannot be cut has none.
fn programs(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    decided: &mut [Decided],
) -> Result<(Vec<published::Program>, Texts), Vec<Remark>> {
    let mut found = Vec::new();
    let mut texts = BTreeMap::new();
    if decided.iter().any(|one| one.cut.is_none()) {
        decided.iter_mut().for_each(|one| one.contour.wire = None);
        return Ok((found, texts));
    }
    let wire_of = |one: &Decided| one.cut.as_ref().map(|cut| cut.cutting.passes.row);
    let mut from = 0;
    while from < decided.len() {
        let run = decided[from..].iter().take_while(|one| wire_of(one) == wire_of(&decided[from])).count();
        let (program, text) =
            program(reckoning, world, section, &mut decided[from..from + run], found.len())?;
        texts.insert(program.path.clone(), text);
        found.push(program);
        from += run;
    }
    Ok((found, texts))
}

fn program(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    run: &mut [Decided],
    number: usize,
) -> Result<(published::Program, String), Vec<Remark>> {
    let id = format!("{}-wire-{}", section.id, number + 1);
    let written = {
        let cuts: Vec<Cut> = run.iter().filter_map(cut_of).collect();
        let pairs: Vec<(&Cutting, &LeadIn)> = cuts.iter().map(|cut| (cut.cutting, cut.lead_in)).collect();
        let dialect = setup::dialect(world.shop, setup::output(world.shop, &pairs));
        let head = Head {
            texts: texts(world, section, &id, &cuts),
            dialect: &dialect,
            lead_in_share: world.shop.cutting.lead_in_feed_factor.value,
        };
        setup::write(&head, &cuts).map_err(|fault| {
            vec![Remark::error("program", format!("program {id}: {fault}")).place(section.place.clone())]
        })?
    };
    for (one, passes) in run.iter_mut().zip(&written.passes) {
        name_passes(reckoning, section, one, passes, &id);
    }
    let key = format!("{}.programs.{number}.", section.id);
    let wire = run[0].cut.as_ref().map(|cut| cut.cutting.passes.wire);
    let wire_mm = wire.map(|wire| {
        let meaning = what("wire of this set-up", "d", "mm");
        reckoning
            .measured(At(&key, "wire_mm"), meaning, wire.value, "the wire of its contours", &[("d", wire)])
            .value
    });
    let minutes = minutes(reckoning, world.shop, &key, run);
    let program = published::Program {
        path: format!("programs/{id}.nc"),
        id,
        machine: published::Machine::Wire,
        face_up: published::FaceUp::Cutting,
        wire_mm,
        contours: run.iter().map(|one| one.contour.id.clone()).collect(),
        minutes: minutes.value,
        functions: Some(functions(reckoning, world.shop, &key)),
        transform: None,
        phases: Vec::new(),
    };
    Ok((program, written.text))
}

/// The machine's own functions, as the shop's dialect states them.
fn functions(reckoning: &mut Reckoning, shop: &Shop, key: &str) -> published::MachineFunctions {
    let dialect = &shop.dialect;
    let mut said = |name, meaning, known: &job::Known<u32>| {
        let number = job::Known { value: f64::from(known.value), from: known.from.clone() };
        reckoning.known(At(key, name), what(meaning, "M", ""), &number);
        known.value
    };
    published::MachineFunctions {
        thread: said("functions.thread", "machine function that threads the wire", &dialect.thread),
        cut: said("functions.cut", "machine function that cuts the wire", &dialect.cut),
        stop: said("functions.stop", "machine function that stops for the operator", &dialect.stop),
        end: said("functions.end", "machine function that ends the program", &dialect.end),
    }
}

fn cut_of(one: &Decided) -> Option<Cut<'_>> {
    let cut = one.cut.as_ref()?;
    Some(Cut {
        id: &one.contour.id,
        target: &cut.target,
        cutting: &cut.cutting,
        feeds: cut.feeds,
        lead_in: &cut.lead_in,
        stops: cut.stops,
    })
}

/// What a sheet of paper at the machine must say before the first move.
fn texts(world: World, section: &Section, id: &str, cuts: &[Cut]) -> Vec<String> {
    let [x, y, z] = [0, 1, 2].map(|i| section.size[i].value);
    let wire = cuts.first().map_or(0.0, |cut| cut.cutting.passes.wire.value);
    vec![
        format!("JOB {} SECTION {} PROGRAM {id}", world.job.name, section.id),
        format!("BLOCK {x} X {y} X {z} MM {} {} HRC", section.steel.value, section.hardness_hrc.value),
        "CUTTING FACE UP".to_owned(),
        "DATUM: MIDDLE OF THE BLOCK, X RIGHT, Y UP".to_owned(),
        format!("DATUM CORNER LOWER LEFT AT X-{} Y-{} MM", x / 2.0, y / 2.0),
        format!("WIRE {wire} MM"),
        "CHECK EVERY REGISTER AGAINST THE LINES BELOW BEFORE THE START".to_owned(),
    ]
}

fn name_passes(
    reckoning: &mut Reckoning,
    section: &Section,
    one: &mut Decided,
    passes: &[Placed],
    program: &str,
) {
    let head = head(section, &one.contour.id);
    let Some(wire) = &mut one.contour.wire else { return };
    for (i, (pass, placed)) in wire.passes.iter_mut().zip(passes).enumerate() {
        let Placed { register, blocks } = placed;
        let key = format!("{head}wire.passes.{i}.");
        pass.program = program.to_owned();
        pass.register = *register;
        pass.blocks = *blocks;
        let mut say = |name, meaning, value: u32, why: &str| {
            reckoning.chosen(At(&key, name), what(meaning, "N", ""), f64::from(value), why, &[]);
        };
        if let Some(register) = register {
            say(
                "register",
                "register that carries the offset",
                *register,
                "one register for each offset of the set-up, in order of use",
            );
        }
        say("blocks.0", "first N word of this pass", blocks[0], "N words count by tens");
        say("blocks.1", "last N word of this pass", blocks[1], "N words count by tens");
    }
}

/// Minutes of a program: its passes, a threading for each start and each stop, and the stops.
fn minutes(reckoning: &mut Reckoning, shop: &Shop, key: &str, run: &[Decided]) -> Figure {
    let passes = run.iter().filter_map(|one| one.contour.wire.as_ref()).flat_map(|wire| &wire.passes);
    let cutting: f64 = passes.map(|pass| pass.minutes).sum();
    let again =
        |one: &&Decided| one.cut.as_ref().is_some_and(|cut| cut.stops && cut.cutting.passes.passes.len() > 1);
    let stops = run.iter().filter(|one| one.cut.as_ref().is_some_and(|cut| cut.stops)).count();
    let threads = run.len() + run.iter().filter(again).count();
    let mut of_shop =
        |name, meaning, known| reckoning.known(At("shop:cutting.", name), what(meaning, "T_1", "min"), known);
    let one_thread =
        of_shop("threading_minutes", "minutes of one threading", &shop.cutting.threading_minutes);
    let one_stop = of_shop("stop_minutes", "minutes of taking a core out", &shop.cutting.stop_minutes);
    let mut times = |name, meaning, symbol, value, how, one: Figure| {
        reckoning.measured(At(key, name), what(meaning, symbol, "min"), value, how, &[("T_1", one)])
    };
    let threading = times(
        "threading_minutes",
        "threading",
        "T_t",
        threads as f64 * one_thread.value,
        "threadings counted in the program",
        one_thread,
    );
    let stopping = times(
        "stop_minutes",
        "stops",
        "T_c",
        stops as f64 * one_stop.value,
        "stops counted in the program",
        one_stop,
    );
    let cutting = reckoning.measured(
        At(key, "cutting_minutes"),
        what("passes", "T_s", "min"),
        cutting,
        "sum over the passes of this program",
        &[],
    );
    reckoning.rule(At(key, "minutes"), &time_rules::PROGRAM_MINUTES, [cutting, threading, stopping])
}
