//! About a thousand damages, each confirmed by the oracle before it counts, and none may hold.

use crate::case::{Case, FEEDS, Text, dxf, fingerprint};
use crate::holds::cases;
use crate::oracle::{CHANGED, trace, worst};
use crate::shape::P;
use package::{Core, Plan};
use proof::{Evidence, prove};
use std::collections::BTreeMap;

/// A small generator of its own, so that the same damages come every time.
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        ((self.0 >> 33) as usize) % n.max(1)
    }
}

/// What became of the damages of a kind.
#[derive(Default)]
struct Tally {
    confirmed: usize,
    unconfirmed: usize,
    missed: Vec<String>,
}

pub fn letter(block: &str, letter: char) -> Option<f64> {
    block.split(' ').find_map(|word| word.strip_prefix(letter)).and_then(|number| number.parse().ok())
}

/// The same block with the words of a letter changed.
pub fn with(block: &str, letter: char, f: impl Fn(f64) -> String) -> String {
    let word = |word: &str| match word.strip_prefix(letter).and_then(|number| number.parse().ok()) {
        Some(value) => format!("{letter}{}", f(value)),
        None => word.to_owned(),
    };
    block.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

fn shifted(block: &str, axis: char, by: f64) -> String {
    with(block, axis, |value| format!("{:.6}", value + by))
}

type Damage = (&'static str, fn(&Case, &Text, &mut Dice) -> Option<Text>);

/// A block picked among those that a test accepts.
fn pick(text: &Text, dice: &mut Dice, accept: impl Fn(&str) -> bool) -> Option<usize> {
    let found: Vec<usize> = (0..text.len()).filter(|i| accept(&text[*i])).collect();
    (!found.is_empty()).then(|| found[dice.below(found.len())])
}

fn changed(text: &Text, i: usize, block: String) -> Option<Text> {
    let mut text = text.clone();
    text[i] = block;
    Some(text)
}

fn is_edge(block: &str) -> bool {
    ["G01", "G02", "G03"].iter().any(|g| block.starts_with(g)) && !block.contains('F')
}

fn is_word(block: &str) -> bool {
    !block.starts_with('(')
}

fn step(case: &Case) -> f64 {
    if case.style.inches { 1.0 / 25.4 } else { 1.0 }
}

fn nudged(case: &Case, text: &Text, dice: &mut Dice, by: f64) -> Option<Text> {
    let i = pick(text, dice, is_edge)?;
    let sign = if dice.below(2) == 0 { by } else { -by };
    changed(text, i, shifted(&text[i], ['X', 'Y'][dice.below(2)], sign * step(case)))
}

const DAMAGES: &[Damage] = &[
    ("finishing coordinate moved by 2 um", |case, text, dice| {
        // Both ends of a line of the last pass, across it.
        let n = text.len();
        let last = text.iter().rposition(|block| block.contains("F8") || block.starts_with("F0.3"))?;
        let i = (last + 1..n)
            .find(|i| i + 1 < n && text[*i].starts_with("G01") && is_edge(&text[*i]) && dice.below(3) == 0)?;
        let by = if dice.below(2) == 0 { 0.002 } else { -0.002 };
        changed(text, i, shifted(&text[i], ['X', 'Y'][dice.below(2)], by * step(case)))
    }),
    ("coordinate moved by 5 um", |case, text, dice| nudged(case, text, dice, 0.005)),
    ("coordinate moved by 50 um", |case, text, dice| nudged(case, text, dice, 0.05)),
    ("block dropped", |_, text, dice| {
        let i = pick(text, dice, is_word)?;
        let mut text = text.clone();
        text.remove(i);
        Some(text)
    }),
    ("block doubled", |_, text, dice| {
        let i = pick(text, dice, is_word)?;
        let mut text = text.clone();
        text.insert(i, text[i].clone());
        Some(text)
    }),
    ("blocks swapped", |_, text, dice| {
        let i = dice.below(text.len() - 1);
        let mut text = text.clone();
        text.swap(i, i + 1);
        Some(text)
    }),
    ("arc reversed", |_, text, dice| {
        let i = pick(text, dice, |block| block.starts_with("G02") || block.starts_with("G03"))?;
        let other = if text[i].starts_with("G02") { "G03" } else { "G02" };
        changed(text, i, text[i].replacen(&text[i][..3], other, 1))
    }),
    ("arc's centre moved", |case, text, dice| {
        let i = pick(text, dice, |block| block.contains(" I"))?;
        let by = [0.003, -0.003, 0.02, -0.02][dice.below(4)] * step(case);
        changed(text, i, shifted(&text[i], ['I', 'J'][dice.below(2)], by))
    }),
    ("arc made a line", |_, text, dice| {
        let i = pick(text, dice, |block| block.contains(" I"))?;
        let kept: Vec<&str> = text[i].split(' ').filter(|word| !word.starts_with(['I', 'J'])).collect();
        changed(text, i, kept.join(" ").replacen(&text[i][..3], "G01", 1))
    }),
    ("register words swapped", |_, text, dice| {
        let (i, j) = (pick(text, dice, |b| b.contains(" D"))?, pick(text, dice, |b| b.contains(" D"))?);
        let mut text = text.clone();
        let (a, b) = (letter(&text[i], 'D')?, letter(&text[j], 'D')?);
        text[i] = with(&text[i], 'D', |_| format!("{b}"));
        text[j] = with(&text[j], 'D', |_| format!("{a}"));
        Some(text)
    }),
    ("register unknown or missing", |_, text, dice| {
        let i = pick(text, dice, |b| b.contains(" D"))?;
        let block = match dice.below(2) {
            0 => with(&text[i], 'D', |_| "9".to_owned()),
            _ => text[i].split(' ').filter(|word| !word.starts_with('D')).collect::<Vec<_>>().join(" "),
        };
        changed(text, i, block)
    }),
    ("G41 for G42", |_, text, dice| {
        let i = pick(text, dice, |b| b.contains("G41") || b.contains("G42"))?;
        let block = match text[i].contains("G41") {
            true => text[i].replace("G41", "G42"),
            false => text[i].replace("G42", "G41"),
        };
        changed(text, i, block)
    }),
    ("compensation never turned off", |_, text, dice| {
        let i = pick(text, dice, |b| b.starts_with("G40 "))?;
        changed(text, i, text[i].replace("G40 ", ""))
    }),
    ("pass missing", |case, text, dice| {
        let home = home(case, text, dice)?;
        let mut text = text.clone();
        text.drain(home.0..home.1);
        Some(text)
    }),
    ("pass too many", |case, text, dice| {
        let home = home(case, text, dice)?;
        let mut text = text.clone();
        let again: Vec<String> = text[home.0..home.1].to_vec();
        text.splice(home.1..home.1, again);
        Some(text)
    }),
    ("machine function dropped", |_, text, dice| {
        let i = pick(text, dice, |b| b.starts_with('M'))?;
        let mut text = text.clone();
        text.remove(i);
        Some(text)
    }),
    ("G00 for G01", |_, text, dice| {
        let i = pick(text, dice, |b| b.contains("G01"))?;
        changed(text, i, text[i].replace("G01", "G00"))
    }),
    ("steps for places", |_, text, dice| {
        let i = pick(text, dice, is_edge)?;
        let mut text = text.clone();
        text.insert(i, "G91".to_owned());
        Some(text)
    }),
    ("other unit", |_, text, _| {
        let i = text.iter().position(|b| b == "G70" || b == "G71")?;
        changed(text, i, if text[i] == "G70" { "G71" } else { "G70" }.to_owned())
    }),
    ("digit dropped", |_, text, dice| {
        let i = pick(text, dice, |b| is_edge(b) && b.contains('.'))?;
        let dots: Vec<usize> = text[i].match_indices('.').map(|(at, _)| at).collect();
        let at = dots[dice.below(dots.len())] + 1 + dice.below(3);
        let mut block = text[i].clone();
        if !block.as_bytes().get(at)?.is_ascii_digit() {
            return None;
        }
        block.remove(at);
        changed(text, i, block)
    }),
    ("sign flipped", |_, text, dice| {
        let i = pick(text, dice, is_edge)?;
        let axis = ['X', 'Y', 'I', 'J'][dice.below(4)];
        letter(&text[i], axis)?;
        changed(text, i, with(&text[i], axis, |value| format!("{:.6}", -value)))
    }),
    ("thread moved", |case, text, dice| {
        let i = pick(text, dice, |b| b.starts_with("G00"))?;
        let by = [0.002, -0.002, 0.02][dice.below(3)] * step(case);
        changed(text, i, shifted(&text[i], ['X', 'Y'][dice.below(2)], by))
    }),
];

/// First and last block of a pass: from the thread back to it.
fn home(case: &Case, text: &Text, dice: &mut Dice) -> Option<(usize, usize)> {
    let start = text.iter().find(|b| b.starts_with("G00"))?.strip_prefix("G00 ")?.to_owned();
    let back = |b: &String| b.ends_with(&start) && b.starts_with("G");
    let homes: Vec<usize> = (0..text.len()).filter(|i| back(&text[*i])).map(|i| i + 1).collect();
    if homes.len() < 3 || case.openings.len() > 1 {
        return None;
    }
    let k = dice.below(homes.len() - 1);
    let skip = text[homes[k]..homes[k + 1]].iter().take_while(|b| b.starts_with('M')).count();
    Some((homes[k] + skip, homes[k + 1]))
}

fn starts(case: &Case) -> Vec<P> {
    case.openings.iter().map(|one| one.start).collect()
}

/// Whether the oracle says that this program cuts something else, or works the machine otherwise.
fn confirmed(case: &Case, right: &Text, damaged: &Text) -> bool {
    let Some(was) = trace(right, &starts(case)) else { return false };
    match trace(damaged, &starts(case)) {
        // A move before any unit.
        None => true,
        Some(is) => is.states != was.states || worst(case, &is) > CHANGED,
    }
}

#[test]
fn no_damage_to_a_program_holds() {
    let cases = cases();
    let mut dice = Dice(11);
    let mut tallies: BTreeMap<&str, Tally> = BTreeMap::new();
    for round in 0..1_700 {
        let case = &cases[dice.below(cases.len())];
        let (kind, damage) = DAMAGES[round % DAMAGES.len()];
        let right = case.program();
        let Some(damaged) = damage(case, &right, &mut dice).filter(|damaged| *damaged != right) else {
            continue;
        };
        let tally = tallies.entry(kind).or_default();
        if !confirmed(case, &right, &damaged) {
            tally.unconfirmed += 1;
            continue;
        }
        tally.confirmed += 1;
        if prove(&case.evidence(&damaged)).holds {
            let differing: Vec<_> = right.iter().zip(&damaged).filter(|(a, b)| a != b).take(2).collect();
            tally.missed.push(format!("{}: {differing:?}", case.name));
        }
    }
    told(&tallies, 900);
}

fn told(tallies: &BTreeMap<&str, Tally>, at_least: usize) {
    let mut missed = Vec::new();
    for (kind, tally) in tallies {
        println!(
            "{:4} confirmed, {:3} without effect, {:2} missed: {kind}",
            tally.confirmed,
            tally.unconfirmed,
            tally.missed.len()
        );
        missed.extend(tally.missed.iter().map(|one| format!("{kind}: {one}")));
        assert!(tally.confirmed > 0, "no damage of the kind '{kind}' was confirmed");
    }
    let all: usize = tallies.values().map(|tally| tally.confirmed).sum();
    println!("{all} damages, {} missed", missed.len());
    assert!(all >= at_least, "only {all} damages were confirmed");
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

type Edit = (&'static str, fn(&mut Evidence, &mut Dice));

fn wire(plan: &mut Plan) -> &mut package::Wire {
    plan.sections[0].contours[0].wire.as_mut().expect("every case is cut")
}

fn each_core(e: &mut Evidence, change: impl Fn(&mut Core)) {
    let contours = e.plan.sections[0].contours.iter_mut();
    contours.flat_map(|one| &mut one.cores).for_each(change);
}

/// Damages to the plan, the drawing and the files. Each is one by what it says: none needs an oracle.
const EDITS: &[Edit] = &[
    ("an offset alone", |e, dice| wire(&mut e.plan).passes[dice.below(3)].offset_mm += 0.003),
    ("last offset and spark gap", |e, dice| {
        let by = if dice.below(2) == 0 { 0.003 } else { -0.003 };
        let pass = &mut wire(&mut e.plan).passes[2];
        pass.offset_mm += by;
        pass.spark_gap_mm += by;
    }),
    ("last offset and stock", |e, _| {
        let pass = &mut wire(&mut e.plan).passes[2];
        pass.offset_mm += 0.003;
        pass.stock_left_mm += 0.003;
    }),
    ("spark gap alone", |e, dice| wire(&mut e.plan).passes[dice.below(3)].spark_gap_mm -= 0.003),
    ("wire's diameter", |e, _| wire(&mut e.plan).diameter_mm = 0.15),
    ("program's wire", |e, _| e.plan.sections[0].programs[0].wire_mm = Some(0.15)),
    ("hole moved", |e, dice| {
        let by = [0.002, -0.003, 0.05][dice.below(3)];
        if let Some(start) = &mut e.plan.sections[0].contours[0].start {
            start.x_mm += by;
        }
    }),
    ("hole too large", |e, _| {
        if let Some(start) = &mut e.plan.sections[0].contours[0].start {
            start.hole_diameter_mm.entry = 2.0;
        }
    }),
    ("wire does not go through", |e, _| {
        if let Some(start) = &mut e.plan.sections[0].contours[0].start {
            start.hole_diameter_mm.exit = 0.09;
        }
    }),
    ("target moved", |e, dice| {
        // All of it: one vertex may move along its own line.
        let k = dice.below(2);
        e.plan.sections[0].contours[0].target.iter_mut().for_each(|vertex| vertex[k] += 0.003);
    }),
    ("clearance on the other side", |e, _| {
        let contour = &mut e.plan.sections[0].contours[0];
        contour.clearance_per_side_mm = match contour.clearance_per_side_mm {
            0.0 => 0.004,
            clearance => -clearance,
        };
    }),
    ("clearance 2 um larger", |e, _| e.plan.sections[0].contours[0].clearance_per_side_mm += 0.002),
    ("place of the drawing", |e, _| e.plan.sections[0].contours[0].drawing.at_mm[1] += 0.0015),
    ("core not planned", |e, _| e.plan.sections[0].contours[0].cores.clear()),
    ("core that is none", |e, _| {
        let core = Core { area_mm2: 0.1, mass_g: 0.01, held: false, outline: Vec::new() };
        e.plan.sections[0].contours[0].cores.push(core);
    }),
    ("core of another area", |e, dice| {
        let by = [0.96, 1.04][dice.below(2)];
        each_core(e, |core| core.area_mm2 *= by);
    }),
    ("core of another mass", |e, dice| {
        let by = [0.5, 0.96, 1.04][dice.below(3)];
        each_core(e, |core| core.mass_g *= by);
    }),
    ("heavy core without a stop", |e, _| {
        let lightest = |e: &Evidence| {
            let cores = e.plan.sections[0].contours.iter().flat_map(|one| &one.cores);
            cores.map(|core| core.mass_g).fold(f64::INFINITY, f64::min)
        };
        let heavier = (0.03 / lightest(e)).max(1.0);
        e.plan.sections[0].size_mm[2] *= heavier;
        each_core(e, |core| core.mass_g *= heavier);
        let program = e.programs.values_mut().next().expect("one program");
        let text = String::from_utf8_lossy(program).replace("M00", "");
        *program = text.into_bytes();
    }),
    ("the head's offset", |e, dice| {
        let program = e.programs.values_mut().next().expect("one program");
        let mut text = String::from_utf8_lossy(program).into_owned();
        let n = 1 + dice.below(3);
        for said in [format!("(D{n} = 0.0"), format!("(PASS {n} OFFSET 0.0")] {
            text = text.replace(&said, &said.replace("0.0", "0.1"));
        }
        *program = text.into_bytes();
    }),
    ("other feed", |e, dice| {
        wire(&mut e.plan).passes[dice.below(3)].feed_mm_per_min = FEEDS[0] * 0.4;
    }),
    ("program gone", |e, _| e.programs.clear()),
    ("drawing gone", |e, _| e.inputs.clear()),
    ("drawing's bytes", |e, _| {
        e.inputs.values_mut().for_each(|bytes| bytes.push(b'\n'));
    }),
    ("program of nobody", |e, _| e.plan.sections[0].programs[0].contours[0] = "other".to_owned()),
    ("contour cut by nobody", |e, _| e.plan.sections[0].programs.clear()),
];

#[test]
fn no_damage_to_a_plan_or_its_files_holds() {
    let cases = cases();
    let mut dice = Dice(12);
    let mut tallies: BTreeMap<&str, Tally> = BTreeMap::new();
    for round in 0..390 {
        let case = &cases[dice.below(cases.len())];
        let (kind, edit) = EDITS[round % EDITS.len()];
        let mut evidence = case.evidence(&case.program());
        if case.openings[0].cores.is_empty() && kind.contains("core") && kind != "core that is none" {
            continue;
        }
        edit(&mut evidence, &mut dice);
        let tally = tallies.entry(kind).or_default();
        tally.confirmed += 1;
        if prove(&evidence).holds {
            tally.missed.push(case.name.clone());
        }
    }
    told(&tallies, 300);
}

#[test]
fn no_damage_to_a_drawing_holds() {
    let cases = cases();
    let mut dice = Dice(13);
    let mut tallies: BTreeMap<&str, Tally> = BTreeMap::new();
    for _ in 0..400 {
        let case = &cases[dice.below(cases.len())];
        let mut evidence = case.evidence(&case.program());
        let mut drawn = case.openings[0].drawn.clone();
        let i = dice.below(drawn.segs.len());
        let j = (i + drawn.segs.len() - 1) % drawn.segs.len();
        let by = [0.004, -0.004, 0.02][dice.below(3)];
        let k = dice.below(2);
        drawn.segs[i].a[k] += by;
        drawn.segs[j].b[k] += by;
        let tally = tallies.entry("a corner moved, its fingerprint made to fit").or_default();
        // A corner that moves along its own line is none.
        let moved = drawn.segs[i].a;
        if case.openings[0].drawn.to_edge(moved) < CHANGED || drawn.segs.iter().any(|s| s.arc.is_some()) {
            tally.unconfirmed += 1;
            continue;
        }
        tally.confirmed += 1;
        let path = format!("{}.dxf", case.openings[0].id);
        let bytes = dxf(&drawn, case.style.inches).into_bytes();
        evidence
            .plan
            .inputs
            .iter_mut()
            .filter(|one| one.path == path)
            .for_each(|one| *one = fingerprint(&path, &bytes));
        evidence.inputs.insert(path, bytes);
        if prove(&evidence).holds {
            tally.missed.push(case.name.clone());
        }
    }
    told(&tallies, 20);
}
