//! Cores and tabs in the order in which they are cut: what is wrong in that order is named by its own fault.

use crate::case::{Case, HEAVY, Style, Text, clears, passes};
use crate::damages::{letter, with};
use crate::holds::{cases, elsewhere, one};
use crate::oracle::trace;
use crate::shape::{along, far};
use package::{Contour, Core, Fault, Tab};
use proof::{Evidence, prove};
use std::collections::BTreeMap;

fn held(accept: impl Fn(&Style) -> bool) -> Vec<Case> {
    let plain = |case: &Case| case.openings.len() == 1 && case.openings[0].tab.is_some();
    let found: Vec<Case> = cases().into_iter().filter(|case| plain(case) && accept(&case.style)).collect();
    assert!(!found.is_empty());
    found
}

fn phased() -> Vec<Case> {
    cases().into_iter().filter(|case| case.style.phases).collect()
}

fn contour(evidence: &mut Evidence) -> &mut Contour {
    &mut evidence.plan.sections[0].contours[0]
}

fn tab(evidence: &mut Evidence) -> &mut Tab {
    let wire = contour(evidence).wire.as_mut().expect("it is cut");
    wire.tab.as_mut().expect("it is held")
}

/// Damages that were refused by the fault that names them.
#[derive(Default)]
struct Refusals(BTreeMap<&'static str, usize>);

impl Refusals {
    #[track_caller]
    fn refused(&mut self, evidence: &Evidence, code: &'static str) {
        let proof = prove(evidence);
        assert!(!proof.holds);
        let has = |fault: &Fault| fault.code == code;
        assert!(proof.faults.iter().any(has), "{code} is not among {:?}", proof.faults);
        *self.0.entry(code).or_default() += 1;
    }

    fn told(&self, at_least: usize) {
        let all: usize = self.0.values().sum();
        println!("{all} damages, each refused by its own fault: {:?}", self.0);
        assert!(all >= at_least, "only {all} damages");
    }
}

/// Where the blocks of a kind stand, in order.
fn places(text: &Text, block: &str) -> Vec<usize> {
    (0..text.len()).filter(|i| text[*i] == block).collect()
}

/// The blocks from one threading to the wire's next cut, the rapid move before it among them.
fn visits(text: &Text) -> Vec<[usize; 2]> {
    let threads = places(text, "M60");
    let rapid = |at: usize| if text[at - 1].contains("G00") { at - 1 } else { at };
    let cut = |at: usize| (at..text.len()).find(|i| text[*i] == "M50").expect("the wire is cut");
    threads.into_iter().map(|at| [rapid(at), cut(at)]).collect()
}

/// A start hole as wide as the core, 0.8 less what the wire clears on both sides; the way in has taken the neck on its own side.
/// Whether the other neck stands nobody can tell within a thousandth, and the plan may say one core or two; with a few thousandths
/// more or less it must say what there is.
#[test]
fn a_neck_thinner_than_the_limit_may_stand_or_not() {
    let off = passes()[0][0] + clears();
    let (long, wide) = (1.0 - 2.0 * off, 0.8 - 2.0 * off);
    let holds = |by: f64, count: usize| {
        let style = Style { takes_out: true, ..Style::default() };
        // Open as far as it is at its exit.
        let mut case = one("neck", 5, style, 0.0, |one| one.hole = wide + by + 0.02);
        let r = (wide + by) / 2.0;
        let all = long * wide - std::f64::consts::PI * r * r - clears().powi(3) / (3.0 * r);
        case.openings[0].cores = vec![all / count as f64; count];
        prove(&case.evidence(&case.program())).holds
    };
    for (by, one, two) in
        [(-0.006, true, false), (-0.0006, true, true), (0.0006, true, true), (0.006, false, true)]
    {
        assert_eq!([holds(by, 1), holds(by, 2)], [one, two], "{by}");
    }
}

#[test]
fn a_tab_of_another_width_is_found() {
    let mut seen = Refusals::default();
    for case in held(|_| true) {
        let program = case.program();
        for (by, holds) in [(0.009, true), (-0.009, true), (0.012, false), (-0.012, false)] {
            let mut evidence = case.evidence(&program);
            tab(&mut evidence).width_mm += by;
            let proof = prove(&evidence);
            assert_eq!(proof.holds, holds, "{} {by}: {:?}", case.name, proof.faults);
            assert!(holds || proof.faults.iter().all(|fault| fault.code == "tab"));
        }
        // Cut as planned for a tab that is wider by half: the plan is wrong then.
        let mut wide = case.clone();
        wide.openings[0].tab = case.openings[0].tab.map(|width| 1.5 * width);
        seen.refused(&case.evidence(&wide.program()), "tab");
    }
    seen.told(30);
}

/// What is left standing is measured, not read: from where the wire's centre ends, as the oracle follows it, straight
/// to where it began, on lines and on arcs.
#[test]
fn a_tab_is_as_wide_as_the_ends_of_the_main_cut_are_apart() {
    for case in held(|_| true) {
        let opening = &case.openings[0];
        let text = case.program();
        let trace = trace(&text, &[opening.start]).expect("it is understood");
        let last = trace.passes[0][trace.passes[0].len() - 1];
        let offset = passes()[0][0];
        let end = along(last.seg().b, last.seg().left(1.0), last.side * offset);
        let width = far(end, opening.target.parallel(offset)[0].a) - 2.0 * clears();
        for (by, holds) in [(0.0, true), (0.0098, true), (-0.0098, true), (0.0102, false), (-0.0102, false)] {
            let mut evidence = case.evidence(&text);
            tab(&mut evidence).width_mm = width + by;
            assert_eq!(prove(&evidence).holds, holds, "{} {by}", case.name);
        }
    }
}

#[test]
fn a_plan_without_the_tab_or_with_one_too_many_is_refused() {
    let mut seen = Refusals::default();
    for case in held(|_| true) {
        let mut evidence = case.evidence(&case.program());
        contour(&mut evidence).wire.iter_mut().for_each(|wire| wire.tab = None);
        seen.refused(&evidence, "tab");
        let mut evidence = case.evidence(&case.program());
        contour(&mut evidence).cores.iter_mut().for_each(|core| core.held = false);
        seen.refused(&evidence, "cores");
        // Cut all round at once.
        let mut loose = case.clone();
        loose.openings[0].tab = None;
        seen.refused(&case.evidence(&loose.program()), "tab");
        seen.refused(&case.evidence(&loose.program()), "cores");
        // Never cut.
        let text = case.program();
        let [from, to] = visits(&text)[1];
        let uncut: Text = text
            .iter()
            .enumerate()
            .filter(|(i, _)| !(from..=to).contains(i))
            .map(|(_, b)| b.clone())
            .collect();
        seen.refused(&case.evidence(&uncut), "not-closed");
    }
    seen.told(100);
}

#[test]
fn a_tab_must_be_cut_from_end_to_end() {
    let mut seen = Refusals::default();
    for case in held(|style| !style.inches) {
        let text = case.program();
        let [_, cut] = visits(&text)[1];
        // The tab's cut stops before it comes to the main cut's end.
        for (short, code) in [(0.03, "not-closed"), (0.2, "not-closed")] {
            let from = [letter(&text[cut - 2], 'X'), letter(&text[cut - 2], 'Y')];
            let entry =
                text[..cut].iter().rev().skip(1).find(|block| block.contains(" X")).expect("an entry");
            let foot = ['X', 'Y'].map(|axis| letter(entry, axis).unwrap_or(f64::NAN));
            assert!(from[0].is_none(), "only a feed stands between entry and edge");
            let end = ['X', 'Y'].map(|axis| letter(&text[cut - 1], axis).unwrap_or(f64::NAN));
            let share = 1.0 - short / far(foot, end);
            if text[cut - 1].contains(" I") {
                continue;
            }
            let mut damaged = text.clone();
            for (k, axis) in ['X', 'Y'].into_iter().enumerate() {
                let to = foot[k] + share * (end[k] - foot[k]);
                damaged[cut - 1] = with(&damaged[cut - 1], axis, |_| format!("{to:.4}"));
            }
            seen.refused(&case.evidence(&damaged), code);
        }
    }
    seen.told(20);
}

#[test]
fn registers_feeds_and_sides_of_a_tabs_cut_are_its_own() {
    let mut seen = Refusals::default();
    for case in held(|style| !style.centre_output) {
        let text = case.program();
        let [from, to] = visits(&text)[1];
        let entry = (from..to).find(|i| text[*i].contains(" D1")).expect("an entry");
        let feed = (from..to).find(|i| text[*i].starts_with('F')).expect("a feed");
        let changed = |i: usize, block: String| {
            let mut damaged = text.clone();
            damaged[i] = block;
            case.evidence(&damaged)
        };
        seen.refused(&changed(entry, text[entry].replace(" D1", " D2")), "register-other");
        let double = with(&text[feed], 'F', |feed| format!("{:.6}", 2.0 * feed));
        seen.refused(&changed(feed, double), "feed");
        let other = if text[entry].contains("G41") { ["G41", "G42"] } else { ["G42", "G41"] };
        assert!(!prove(&changed(entry, text[entry].replace(other[0], other[1]))).holds);
        let next = (to..text.len()).find(|i| text[*i].starts_with("G40 G00")).expect("a rapid move");
        seen.refused(&changed(next, text[next].replace("G40 ", "")), "compensation");
    }
    seen.told(30);
}

#[test]
fn skims_wait_for_the_core() {
    let mut seen = Refusals::default();
    for case in held(|_| true) {
        let text = case.program();
        // The tab's visit after the skims' one.
        let [tab, skims] = [visits(&text)[1], visits(&text)[2]];
        let mut swapped: Text = text[..tab[0]].to_vec();
        swapped.extend_from_slice(&text[skims[0]..=skims[1]]);
        swapped.extend_from_slice(&text[tab[0]..skims[0]]);
        swapped.extend_from_slice(&text[skims[1] + 1..]);
        let restated: Text = swapped.iter().map(|block| block.replace("G40 G00", "G00")).collect();
        let restated: Text = restated.iter().map(|block| block.replacen("G00", "G40 G00", 1)).collect();
        seen.refused(&case.evidence(&restated), "skim-before-core");
        assert!(case.mass(case.openings[0].cores[0]) > HEAVY);
        // The core falls, and the wire is threaded beside it.
        let unstopped: Text = text.iter().filter(|block| *block != "M00").cloned().collect();
        seen.refused(&case.evidence(&unstopped), "no-stop");
        seen.refused(&case.evidence(&unstopped), "skim-before-core");
        // Whatever the plan says that it weighs.
        let mut light = case.evidence(&unstopped);
        contour(&mut light).cores.iter_mut().for_each(|core: &mut Core| core.mass_g = 0.001);
        seen.refused(&light, "no-stop");
    }
    let out =
        cases().into_iter().find(|case| case.style.takes_out && case.name.starts_with("rect")).expect("one");
    let unstopped: Text = out.program().iter().filter(|block| *block != "M00").cloned().collect();
    seen.refused(&out.evidence(&unstopped), "skim-before-core");
    seen.told(60);
}

/// The plan may call a core light; the proof weighs it.
#[test]
fn a_core_is_as_heavy_as_it_is() {
    let mut seen = Refusals::default();
    let case = cases().into_iter().find(|case| case.name == "rectangle 0").expect("it is there");
    let mut evidence = case.evidence(&case.program());
    assert!(prove(&evidence).holds);
    evidence.plan.sections[0].size_mm[2] = 4.0;
    seen.refused(&evidence, "cores");
    seen.refused(&evidence, "no-stop");
    let scaled = |evidence: &mut Evidence, by: f64| {
        contour(evidence).cores.iter_mut().for_each(|core: &mut Core| core.mass_g *= by);
    };
    scaled(&mut evidence, 2.0);
    seen.refused(&evidence, "no-stop");
    // Lighter metal, said in the reckoning.
    let mut evidence = case.evidence(&case.program());
    let line = |key: &str, value: f64| package::Line {
        key: key.to_owned(),
        meaning: String::new(),
        symbol: "rho".to_owned(),
        value,
        unit: "g/cm3".to_owned(),
        origin: package::Origin::Fact,
        formula: None,
        inputs: Vec::new(),
        source: package::Source { basis: package::Basis::Memory, cite: String::new() },
        range: None,
    };
    scaled(&mut evidence, 7.0 / 7.7);
    seen.refused(&evidence, "cores");
    evidence.plan.reckoning = vec![line("fact:steel.A2.density_g_cm3", 7.0)];
    seen.refused(&evidence, "cores");
    for key in ["s.density_g_cm3", "fact:steel.D2.density_g_cm3"] {
        evidence.plan.reckoning = vec![line(key, 7.0)];
        assert!(prove(&evidence).holds);
        evidence.plan.reckoning = vec![line(key, 0.0)];
        seen.refused(&evidence, "absurd");
    }
    seen.told(4);
}

/// Ways that part a piece from the rest on the way, though nothing is left of it in the end.
#[test]
fn nothing_lies_free_at_any_moment_of_a_coreless_cut() {
    let mut seen = Refusals::default();
    for case in cases().into_iter().filter(|case| case.name == "eroded") {
        let program = case.program();
        let mut none = case.clone();
        none.openings[0].rings.clear();
        seen.refused(&case.evidence(&none.program()), "cores");
        let mut small = case.clone();
        small.openings[0].rings[0].iter_mut().for_each(|p| p[0] *= 0.1);
        seen.refused(&case.evidence(&small.program()), "cores");
        // Another ring outside the hole first: a ring of metal lies free until the next ones take it away.
        let ring = |x: f64, y: f64| vec![[x, -y], [x, y], [-x, y], [-x, -y]];
        let mut wide = case.clone();
        let opening = &mut wide.openings[0];
        let target = crate::shape::Shape::rectangle(1.0, 0.9, 0.1);
        (opening.target, opening.drawn) = (target.clone(), target);
        opening.hole = 0.14;
        opening.rings = vec![ring(0.1, 0.06), ring(0.2, 0.15), ring(0.3, 0.25), ring(0.36, 0.31)];
        let good = wide.program();
        let proof = prove(&wide.evidence(&good));
        assert!(proof.holds, "{:?}\n{}", proof.faults, good.join("\n"));
        let rings = &mut wide.openings[0].rings;
        rings.swap(0, 2);
        seen.refused(&wide.evidence(&wide.program()), "cores");
        assert!(prove(&case.evidence(&program)).holds);
    }
    seen.told(10);
}

#[test]
fn openings_lie_beside_each_other_in_the_block() {
    let mut seen = Refusals::default();
    let case = cases().into_iter().find(|case| case.name == "rectangle 0").expect("it is there");
    let first = &case.openings[0];
    for (by, code) in [
        ([1.41, 0.0], None),
        ([0.0, -1.01], None),
        ([1.39, 0.0], Some("openings-meet")),
        ([0.9, 0.9], Some("openings-meet")),
        ([0.0, 0.0], Some("openings-meet")),
        ([9.2, 9.7], None),
        ([9.4, 0.0], Some("outside-block")),
        ([0.0, -9.3], Some("outside-block")),
    ] {
        let second = elsewhere(first, "e2", by);
        let alone = Case { openings: vec![second.clone()], ..case.clone() };
        assert!(code == Some("outside-block") || prove(&alone.evidence(&alone.program())).holds, "{by:?}");
        let both = Case { openings: vec![first.clone(), second], ..case.clone() };
        let evidence = both.evidence(&both.program());
        match code {
            None => assert!(prove(&evidence).holds, "{by:?}: {:?}", prove(&evidence).faults),
            Some(code) => seen.refused(&evidence, code),
        }
    }
    // One inside the other: no edges cross.
    let inner = cases().into_iter().find(|case| case.name == "eroded").expect("it is there");
    let both = Case {
        openings: vec![elsewhere(first, "e2", [0.0, 0.25]), inner.openings[0].clone()],
        ..case.clone()
    };
    seen.refused(&both.evidence(&both.program()), "openings-meet");
    seen.told(6);
}

#[test]
fn a_phase_can_be_started() {
    let mut seen = Refusals::default();
    for case in phased() {
        let text = case.program();
        let begins: Vec<usize> = (0..text.len()).filter(|i| text[*i].starts_with("(PHASE")).collect();
        for &begin in &begins {
            for (word, code) in [("unit", "phase-start"), ("G90", "phase-start"), ("G40", "phase-start")] {
                let at = match word {
                    "unit" => begin + 1,
                    word => (begin..text.len()).find(|i| text[*i] == word).expect("it is there"),
                };
                let mut damaged = text.clone();
                damaged.remove(at);
                // The first phase says its unit to all: without it the whole program cannot be run.
                let whole = begin == begins[0] && word != "G40";
                let code =
                    if whole { ["unit-unknown", "mode-unknown"][usize::from(word == "G90")] } else { code };
                seen.refused(&case.evidence(&damaged), code);
            }
            let rapid = (begin..text.len()).find(|i| text[*i].starts_with("G00")).expect("a rapid move");
            let mut damaged = text.clone();
            damaged.remove(rapid);
            assert!(!prove(&case.evidence(&damaged)).holds);
        }
    }
    seen.told(30);
}

#[test]
fn what_needs_a_person_happens_where_one_is() {
    let mut seen = Refusals::default();
    for case in phased() {
        let text = case.program();
        let phases = |e: &mut Evidence, change: &dyn Fn(&mut Vec<package::Phase>)| {
            change(&mut e.plan.sections[0].programs[0].phases);
        };
        let with_phases = |change: &dyn Fn(&mut Vec<package::Phase>)| {
            let mut evidence = case.evidence(&text);
            phases(&mut evidence, change);
            evidence
        };
        let evidence = case.evidence(&text);
        assert!(prove(&evidence).holds, "{:?}", prove(&evidence).faults);
        seen.refused(&with_phases(&|phases| phases[1].attended = false), "unattended-fall");
        seen.refused(&with_phases(&|phases| phases[1].kind = package::PhaseKind::Skims), "phases");
        seen.refused(&with_phases(&|phases| phases[0].kind = package::PhaseKind::Skims), "phases");
        seen.refused(&with_phases(&|phases| phases[2].contours.swap(0, 1)), "phases");
        seen.refused(&with_phases(&|phases| phases[0].contours.clear()), "phases");
        seen.refused(&with_phases(&|phases| phases[1].blocks[0] += 1), "phases");
        seen.refused(&with_phases(&|phases| phases[1].blocks[0] = phases[0].blocks[1]), "phases");
        seen.refused(&with_phases(&|phases| phases[2].blocks[1] = phases[2].blocks[0] + 100), "phases");
        seen.refused(&with_phases(&|phases| drop(phases.remove(1))), "phases");
        // The mains run on into the cores, or stop where nobody is.
        let stops = places(&text, "M00");
        let mut on = text.clone();
        on.remove(stops[0]);
        seen.refused(&case.evidence(&on), "phases");
        let mut stop = text.clone();
        let cut = places(&text, "M50")[0];
        stop.insert(cut + 1, "M00".to_owned());
        seen.refused(&case.evidence(&stop), "phases");
        // The heavy core is cut free among the mains.
        let mut heavy = text.clone();
        let cores = text.iter().position(|block| block.starts_with("(PHASE Cores")).expect("a phase");
        let [from, to] = *visits(&text)
            .iter()
            .rfind(|visit| {
                visit[0] < text.len() && {
                    let skims =
                        text.iter().position(|block| block.starts_with("(PHASE Skims")).expect("a phase");
                    visit[1] < skims
                }
            })
            .expect("a visit");
        let moved: Text = heavy.drain(from..=to + 1).take(to - from + 1).collect();
        let at = places(&heavy, "M00")[0];
        assert!(at < cores);
        heavy.splice(at..at, moved);
        seen.refused(&case.evidence(&heavy), "unattended-fall");
    }
    seen.told(40);
}
