//! The wire programs of one section: one for each wire, its edges in the order of cutting, in phases.

use crate::contour::Decided;
use crate::figure::Figure;
use crate::hold_point;
use crate::order;
use crate::phases::{self, Phase, Step};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::time as rules;
use crate::section::{World, head};
use crate::setup::{self, Cut, Head, Placed, Written};
use crate::wiring::Wired;
use job::{Edge, Section, Shop};
use outline::Point;
use package::{self as published, PhaseKind};
use remark::Remark;
use std::collections::BTreeMap;

type Texts = BTreeMap<String, String>;

/// The programs with their texts by path. A section with an edge that cannot be cut has none.
pub fn of(
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
    for edges in set_ups(world.shop, section, decided) {
        let (program, text) = program(reckoning, world, section, decided, &edges, found.len())?;
        texts.insert(program.path.clone(), text);
        found.push(program);
    }
    Ok((found, texts))
}

/// Edges that share a wire, in the order of cutting; the thickest wire first, which takes away most.
fn set_ups(shop: &Shop, section: &Section, decided: &[Decided]) -> Vec<Vec<usize>> {
    let mut by_wire: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, one) in decided.iter().enumerate() {
        if let Some(cut) = &one.cut {
            by_wire.entry(cut.cutting.passes.row).or_default().push(i);
        }
    }
    let mut wires: Vec<(usize, Vec<usize>)> = by_wire.into_iter().collect();
    let is_piece = |i: usize| decided[i].cut.as_ref().is_some_and(Wired::is_piece);
    let has_piece = |edges: &[usize]| edges.iter().any(|&i| is_piece(i));
    let thinness = |row: usize| -shop.wires[row].diameter.value;
    wires.sort_by(|a, b| has_piece(&a.1).cmp(&has_piece(&b.1)).then(thinness(a.0).total_cmp(&thinness(b.0))));
    let size = section.block();
    let hole = |i: usize| decided[i].cut.as_ref().map_or(Point::new(0.0, 0.0), |cut| cut.lead_in.way[0]);
    wires
        .into_iter()
        .map(|(_, mut edges)| {
            let places: Vec<Point> = edges.iter().map(|&i| hole(i)).collect();
            edges = order::of(&places, size, shop.order.clamp.value).into_iter().map(|k| edges[k]).collect();
            // What holds everything else is cut out last.
            edges.sort_by_key(|&i| is_piece(i));
            edges
        })
        .collect()
}

fn program(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    decided: &mut [Decided],
    edges: &[usize],
    number: usize,
) -> Result<(published::Program, String), Vec<Remark>> {
    let id = format!("{}-wire-{}", section.id, number + 1);
    let tightest = edges.iter().map(|&i| section.edges[i].tolerance.value).fold(f64::INFINITY, f64::min);
    let rough_all = tightest < world.shop.order.rough_all_below.value;
    let (written, phases) = write(world, section, decided, edges, (&id, rough_all))?;
    for (stands, &i) in written.cuts.iter().zip(edges) {
        name_passes(reckoning, section, &mut decided[i], &stands.passes, &id);
        name_tab(reckoning, section, &mut decided[i], &stands.tab, &id);
        name_relief(reckoning, section, &mut decided[i], stands.relief, &id);
    }
    let key = format!("{}.programs.{number}.", section.id);
    let wire = decided[edges[0]].cut.as_ref().map(|cut| cut.cutting.passes.wire);
    let wire_mm = wire.map(|wire| {
        let meaning = what("wire of this set-up", "d", "mm");
        reckoning
            .measured(At(&key, "wire_mm"), meaning, wire.value, "the wire of its contours", &[("d", wire)])
            .value
    });
    let entries: Vec<published::Phase> = phases
        .iter()
        .zip(&written.phases)
        .enumerate()
        .map(|(k, (phase, blocks))| {
            let key = format!("{key}phases.{k}.");
            entry(reckoning, (world.shop, section), (&key, phase, *blocks), decided, edges)
        })
        .collect();
    let minutes = reckoning.sum(
        At(&key, "minutes"),
        what("minutes of this program, set-up excluded", "T_p", "min"),
        entries.iter().map(|phase| phase.minutes).sum(),
        "sum over its phases",
        &(0..entries.len()).map(|k| format!("{key}phases.{k}.minutes")).collect::<Vec<_>>(),
    );
    let guides = guides(reckoning, &key, decided, edges);
    let program = published::Program {
        guides,
        path: format!("programs/{id}.nc"),
        id,
        machine: published::Machine::Wire,
        face_up: published::FaceUp::Cutting,
        wire_mm,
        contours: threaded(&phases, decided, edges),
        minutes: minutes.value,
        functions: Some(functions(reckoning, world.shop, &key)),
        phases: entries,
        transform: None,
    };
    Ok((program, written.text))
}

fn write(
    world: World,
    section: &Section,
    decided: &[Decided],
    edges: &[usize],
    (id, rough_all): (&str, bool),
) -> Result<(Written, Vec<Phase>), Vec<Remark>> {
    let cut = |&i: &usize| Some(Cut { id: &decided[i].contour.id, wired: decided[i].cut.as_ref()? });
    let cuts: Vec<Cut> = edges.iter().filter_map(cut).collect();
    let wired: Vec<&Wired> = cuts.iter().map(|cut| cut.wired).collect();
    let phases = phases::of(&wired, rough_all);
    let dialect = setup::dialect(world.shop, setup::output(world.shop, &cuts));
    let head = Head {
        texts: texts(world, section, id, &cuts),
        dialect: &dialect,
        lead_in_share: world.shop.cutting.lead_in_feed_factor.value,
    };
    let written = setup::write(&head, &cuts, &phases).map_err(|fault| {
        vec![Remark::error("program", format!("program {id}: {fault}")).place(section.place.clone())]
    })?;
    Ok((written, phases))
}

/// Ids of the edges in the order of their first threading.
fn threaded(phases: &[Phase], decided: &[Decided], edges: &[usize]) -> Vec<String> {
    let mut ids: Vec<String> = Vec::new();
    for step in phases.iter().flat_map(|phase| &phase.steps) {
        let id = &decided[edges[step.edge()]].contour.id;
        if !ids.contains(id) {
            ids.push(id.clone());
        }
    }
    ids
}

/// What a sheet of paper at the machine must say before the first move.
fn texts(world: World, section: &Section, id: &str, cuts: &[Cut]) -> Vec<String> {
    // Inches that were converted are not to be read to the fifteenth digit.
    let rounded = |mm: f64| (mm * 1e4).round() / 1e4;
    let ([x, y], z) = (section.block().map(rounded), rounded(section.size[2].value));
    let wire = cuts.first().map_or(0.0, |cut| cut.wired.cutting.passes.wire.value);
    let mut texts = vec![
        format!("JOB {} SECTION {} PROGRAM {id}", world.job.name, section.id),
        format!("BLOCK {x} X {y} X {z} MM {} {} HRC", section.steel.value, section.hardness_hrc.value),
        format!("CUTTING FACE UP, CLAMPED AT THE {}", world.shop.order.clamp.value.word().to_uppercase()),
        "DATUM: MIDDLE OF THE BLOCK, X RIGHT, Y UP".to_owned(),
        format!("DATUM CORNER LOWER LEFT AT X-{} Y-{} MM", rounded(x / 2.0), rounded(y / 2.0)),
        format!("WIRE {wire} MM"),
        "CHECK EVERY REGISTER AGAINST THE LINES BELOW BEFORE THE START".to_owned(),
    ];
    let cut_here = |edge: &&Edge| cuts.iter().any(|cut| cut.id == edge.id);
    texts.extend(hold_point::at_the_machine(section.edges.iter().filter(cut_here)));
    texts
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

fn say_blocks(reckoning: &mut Reckoning, key: &str, blocks: [u32; 2]) {
    let why = "N words count by tens";
    for (name, meaning, value) in [
        ("blocks.0", "first N word of this part", blocks[0]),
        ("blocks.1", "last N word of this part", blocks[1]),
    ] {
        reckoning.chosen(At(key, name), what(meaning, "N", ""), f64::from(value), why, &[]);
    }
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
    for (i, (pass, Placed { register, blocks })) in wire.passes.iter_mut().zip(passes).enumerate() {
        let key = format!("{head}wire.passes.{i}.");
        pass.program = program.to_owned();
        pass.register = *register;
        pass.blocks = *blocks;
        if let Some(register) = register {
            reckoning.chosen(
                At(&key, "register"),
                what("register that carries the offset", "N", ""),
                f64::from(*register),
                "one register for each offset of the set-up, in order of use",
                &[],
            );
        }
        say_blocks(reckoning, &key, *blocks);
    }
}

fn name_tab(
    reckoning: &mut Reckoning,
    section: &Section,
    one: &mut Decided,
    blocks: &[[u32; 2]],
    program: &str,
) {
    let head = head(section, &one.contour.id);
    let tab = one.contour.wire.as_mut().and_then(|wire| wire.tab.as_mut());
    if let (Some(tab), Some((cut, skims))) = (tab, blocks.split_first()) {
        tab.program = program.to_owned();
        tab.blocks = *cut;
        say_blocks(reckoning, &format!("{head}wire.tab."), *cut);
        for (i, (dress, blocks)) in tab.dress.iter_mut().zip(skims).enumerate() {
            dress.blocks = *blocks;
            say_blocks(reckoning, &format!("{head}wire.tab.dress.{i}."), *blocks);
        }
    }
}

fn name_relief(
    reckoning: &mut Reckoning,
    section: &Section,
    one: &mut Decided,
    blocks: Option<[u32; 2]>,
    program: &str,
) {
    let head = head(section, &one.contour.id);
    let relief = one.contour.wire.as_mut().and_then(|wire| wire.relief.as_mut());
    if let (Some(relief), Some(blocks)) = (relief, blocks) {
        relief.program = program.to_owned();
        relief.blocks = blocks;
        say_blocks(reckoning, &format!("{head}wire.relief."), blocks);
    }
}

/// Where the guides hold the wire, if some edge tilts it.
fn guides(
    reckoning: &mut Reckoning,
    key: &str,
    decided: &[Decided],
    edges: &[usize],
) -> Option<published::Guides> {
    let tilted = |i: &usize| decided[*i].cut.as_ref()?.tilted.as_ref();
    let guides = edges.iter().find_map(tilted)?.tilted.relief.guides;
    let mut same = |name, meaning, symbol, of: Figure| {
        let how = "where the shop's guides stand over and under this block";
        reckoning.measured(At(key, name), what(meaning, symbol, "mm"), of.value, how, &[(symbol, of)]).value
    };
    Some(published::Guides {
        upper_z_mm: same("guides.upper_z_mm", "height of the upper guide", "z_u", guides.upper),
        lower_z_mm: same("guides.lower_z_mm", "height of the lower guide", "z_l", guides.lower),
    })
}

/// A phase as it is published.
fn entry(
    reckoning: &mut Reckoning,
    about: (&Shop, &Section),
    (key, phase, blocks): (&str, &Phase, [u32; 2]),
    decided: &[Decided],
    edges: &[usize],
) -> published::Phase {
    say_blocks(reckoning, key, blocks);
    let minutes = minutes(reckoning, about, (key, phase), decided, edges);
    published::Phase {
        kind: phase.kind,
        attended: phase.attended(),
        contours: threaded(std::slice::from_ref(phase), decided, edges),
        blocks,
        minutes: minutes.value,
    }
}

/// Minutes of a phase: its passes and tabs, a threading for each step, and the stops.
fn minutes(
    reckoning: &mut Reckoning,
    (shop, section): (&Shop, &Section),
    (key, phase): (&str, &Phase),
    decided: &[Decided],
    edges: &[usize],
) -> Figure {
    fn tab(wire: Option<&published::Wire>) -> Option<&published::Tab> {
        wire.and_then(|wire| wire.tab.as_ref())
    }
    let cutting = |step: &Step| {
        let wire = decided[edges[step.edge()]].contour.wire.as_ref();
        let passes = wire.map_or(&[][..], |wire| &wire.passes);
        let relief = wire.and_then(|wire| wire.relief.as_ref());
        let first = if relief.is_some() { 0 } else { passes.len().min(1) };
        let tilted = relief.map_or(0.0, |relief| relief.minutes);
        let of = |passes: &[published::Pass]| passes.iter().map(|pass| pass.minutes).sum::<f64>();
        match step {
            Step::Whole(_) => tilted + of(passes),
            Step::Main(_) => tilted + of(&passes[..first]),
            Step::Skims(_) => of(&passes[first..]),
            Step::SkimToTab(_, pass) => passes.get(*pass).map_or(0.0, |pass| pass.minutes),
            Step::Tab(_) | Step::TabPass(_, 0) => tab(wire).map_or(0.0, |tab| tab.minutes),
            Step::TabPass(_, pass) => {
                tab(wire).and_then(|tab| tab.dress.get(pass - 1)).map_or(0.0, |dress| dress.minutes)
            }
        }
    };
    // A piece is fixed before its tab is cut and taken out at the end; a core is taken out each time.
    let stops = match phase.kind {
        PhaseKind::Pieces => 2 * threaded(std::slice::from_ref(phase), decided, edges).len(),
        _ if phase.attended() => phase.steps.len(),
        _ => 0,
    };
    let mut of_shop =
        |name, meaning, known| reckoning.known(At("shop:cutting.", name), what(meaning, "T_1", "min"), known);
    let one_thread =
        of_shop("threading_minutes", "minutes of one threading", &shop.cutting.threading_minutes);
    let one_stop = of_shop("stop_minutes", "minutes of taking a core out", &shop.cutting.stop_minutes);
    let mut times = |name, meaning, symbol, count: usize, how, one: Figure| {
        let value = count as f64 * one.value;
        reckoning.measured(At(key, name), what(meaning, symbol, "min"), value, how, &[("T_1", one)])
    };
    let threads = phase.steps.len();
    let threading = times(
        "threading_minutes",
        "threading",
        "T_t",
        threads,
        "threadings counted in this part",
        one_thread,
    );
    let stopping = times("stop_minutes", "stops", "T_c", stops, "stops counted in this part", one_stop);
    let cut: Vec<String> =
        phase.steps.iter().flat_map(|step| cut_keys(step, section, &decided[edges[step.edge()]])).collect();
    let cutting = reckoning.sum(
        At(key, "cutting_minutes"),
        what("passes and tabs", "T_s", "min"),
        phase.steps.iter().map(cutting).sum(),
        "sum over what this part cuts",
        &cut,
    );
    reckoning.rule(At(key, "minutes"), &rules::PHASE_MINUTES, [cutting, threading, stopping])
}

/// Keys of the minutes that a step cuts.
fn cut_keys(step: &Step, section: &Section, decided: &Decided) -> Vec<String> {
    let head = format!("{}.{}.wire.", section.id, decided.contour.id);
    let pass = |i: usize| format!("{head}passes.{i}.minutes");
    let passes = decided.contour.wire.as_ref().map_or(0, |wire| wire.passes.len());
    match step {
        Step::Whole(_) => (0..passes).map(pass).collect(),
        Step::Main(_) => (0..passes.min(1)).map(pass).collect(),
        Step::Skims(_) => (1..passes).map(pass).collect(),
        Step::SkimToTab(_, i) => vec![pass(*i)],
        Step::Tab(_) | Step::TabPass(_, 0) => vec![format!("{head}tab.minutes")],
        Step::TabPass(_, i) => vec![format!("{head}tab.dress.{}.minutes", i - 1)],
    }
}
