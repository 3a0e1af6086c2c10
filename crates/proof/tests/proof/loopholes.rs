//! Ways in which a package could agree with itself and still spoil the block: two changes that hide each other, and
//! things left out. Each is refused, by the fault that names it.

use crate::case::{Case, Style, WIRE, dxf, fingerprint};
use crate::damages::Dice;
use crate::holds::{cases, one};
use crate::shape::Shape;
use package::{Contour, Side};
use proof::{Evidence, prove};
use std::time::{Duration, Instant};

/// The tangle is refused before anything is swept; sweeping it takes minutes.
const SOON: Duration = Duration::from_secs(5);

fn case(accept: impl Fn(&Style) -> bool) -> Case {
    cases().into_iter().find(|case| accept(&case.style)).expect("a case of that style")
}

fn by_register() -> Case {
    case(|style| !style.centre_output && !style.takes_out)
}

fn contour(evidence: &mut Evidence) -> &mut Contour {
    &mut evidence.plan.sections[0].contours[0]
}

#[track_caller]
fn refused(evidence: &Evidence, code: &str) {
    let proof = prove(evidence);
    assert!(!proof.holds);
    assert!(proof.faults.iter().any(|fault| fault.code == code), "{:?}", proof.faults);
}

#[track_caller]
fn refused_after(code: &str, change: impl Fn(&mut Evidence)) {
    let case = by_register();
    let mut evidence = case.evidence(&case.program());
    assert!(prove(&evidence).holds);
    change(&mut evidence);
    refused(&evidence, code);
}

#[test]
fn what_a_plan_leaves_out_is_not_passed_over() {
    refused_after("start-off-hole", |e| contour(e).start = None);
    refused_after("inputs-changed", |e| e.plan.inputs.clear());
    refused_after("program-unknown-contour", |e| {
        contour(e).wire = None;
        e.plan.sections[0].makeable = false;
    });
    refused_after("off-edge", |e| contour(e).side = Side::Outside);
}

/// A program for an opening that is 0.006 narrower leaves 0.003 on two sides, and that is what the proof says is left.
#[test]
fn what_the_last_pass_leaves_is_told_by_its_thickness() {
    for centre_output in [false, true] {
        let style = Style { centre_output, ..Style::default() };
        let case = |long: f64| {
            one("narrow", 5, style, 0.0, |one| one.target = Shape::rectangle(long, 0.8, 0.0).moved(one.at))
        };
        let proof = prove(&case(1.0).evidence(&case(0.994).program()));
        let found = &proof.contours[0];
        assert!(!proof.holds && (found.left_mm - 0.003).abs() < 2e-4, "{found:?}");
        assert!(found.gouge_mm < 2e-4, "{found:?}");
    }
}

/// Said to be held by a tab, a core needs no stop; but the wire frees it.
#[test]
fn a_core_is_not_held_because_the_plan_says_so() {
    let case = case(|style| style.takes_out);
    let program: Vec<String> = case.program().into_iter().filter(|block| block != "M00").collect();
    let mut evidence = case.evidence(&program);
    contour(&mut evidence).cores.iter_mut().for_each(|core| core.held = true);
    refused(&evidence, "cores");
}

/// A control has one table of registers, whatever the plan says of each opening.
#[test]
fn one_register_has_one_value() {
    let case = cases().into_iter().find(|case| case.openings.len() == 2).expect("two openings");
    let mut evidence = case.evidence(&case.program());
    let second = evidence.plan.sections[0].contours[1].wire.as_mut().expect("it is cut");
    second.passes[0].offset_mm += 0.0005;
    second.passes[0].stock_left_mm += 0.0005;
    // The comments at the head would tell; they may be absent.
    let bare = |program: &Vec<u8>| {
        let text = String::from_utf8_lossy(program).into_owned();
        text.lines().filter(|line| !line.contains('(')).map(|line| format!("{line}\n")).collect::<String>()
    };
    evidence.programs.values_mut().for_each(|program| *program = bare(program).into_bytes());
    refused(&evidence, "register-twice");
}

/// The wire is cut on the edge: what the control does with the register then is nobody's to say.
#[test]
fn compensation_is_turned_off() {
    let case = by_register();
    let mut never = case.program();
    let last = never.iter().rposition(|block| block.starts_with("G40 ")).expect("an exit");
    never.drain(last..last + 2);
    refused(&case.evidence(&never), "compensation");
}

/// A path that goes to and fro over the same place thousands of times before it cuts.
#[test]
fn a_tangled_path_is_refused_at_once() {
    let case = by_register();
    let mut dice = Dice(5);
    let [x, y] = case.openings[0].start;
    let mut aside = || WIRE * (dice.below(4001) as f64 / 1000.0 - 2.0);
    let mut tangle = vec!["F4".to_owned()];
    tangle.extend((0..6_000).map(|_| format!("G01 X{:.4} Y{:.4}", x + aside(), y + aside())));
    let mut program = case.program();
    let thread = program.iter().position(|block| block == "M60").expect("a thread");
    program.splice(thread + 1..thread + 1, tangle);
    let begun = Instant::now();
    refused(&case.evidence(&program), "too-large");
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
}

/// An outline that is drawn twice has one number, as when it is planned.
#[test]
fn an_outline_drawn_twice_counts_once() {
    let case = by_register();
    let opening = &case.openings[0];
    let body = |text: &str| {
        let at = text.find("ENTITIES\n").map_or(0, |at| at + "ENTITIES\n".len());
        let end = text.find("0\nENDSEC\n0\nEOF").unwrap_or(text.len());
        text[at..end].to_owned()
    };
    let circle = "0\nCIRCLE\n8\n0\n10\n5\n20\n0\n40\n0.2\n";
    let own = dxf(&opening.drawn, false);
    let twice = own.replace(&body(&own), &(circle.repeat(2) + &body(&own)));
    for (outline, holds) in [("o1", false), ("o2", true), ("o3", false)] {
        let mut evidence = case.evidence(&case.program());
        contour(&mut evidence).drawing.outline = outline.to_owned();
        evidence.plan.inputs = vec![fingerprint("e1.dxf", twice.as_bytes())];
        evidence.inputs.insert("e1.dxf".to_owned(), twice.clone().into_bytes());
        let proof = prove(&evidence);
        assert_eq!(proof.holds, holds, "{outline}: {:?}", proof.faults);
    }
}

/// Closing up a wide gap may move the target by what the survey reported, and no more.
#[test]
fn what_closing_up_moved_is_allowed_for() {
    let case = by_register();
    let mut drawn = case.openings[0].drawn.clone();
    let i = drawn.segs.len() / 2;
    drawn.segs[i].a[0] += 0.004;
    drawn.segs[i].a[1] += 0.004;
    let text = dxf(&drawn, false);
    for (moved, join, holds) in [
        (Some(0.006), 0.01, true),
        (Some(0.001), 0.01, false),
        (None, 0.01, false),
        (Some(0.006), 0.001, false),
    ] {
        let mut evidence = case.evidence(&case.program());
        evidence.plan.job.join_limit_mm = Some(join);
        contour(&mut evidence).moved_mm = moved;
        evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
        evidence.inputs.insert("e1.dxf".to_owned(), text.clone().into_bytes());
        let proof = prove(&evidence);
        assert_eq!(proof.holds, holds, "{moved:?}, {join}: {:?} {:?}", proof.faults, proof.contours);
    }
}

/// Arcs in the place of facets may lie as far from them as such arcs can, whatever the plan says, and what they account for is no closing up.
#[test]
fn what_was_fitted_is_allowed_for() {
    let case = by_register();
    let drawn = &case.openings[0].drawn;
    let text = dxf(&drawn.moved([0.004, 0.004]), false);
    for (fitted, moved, holds) in [
        (Some(0.0055), 0.0055, true),
        (None, 0.0055, false),
        (Some(0.001), 0.0055, false),
        (Some(0.0055), 0.0, true),
        (Some(f64::NAN), 0.0055, false),
        (Some(-0.0055), 0.0, false),
    ] {
        let mut evidence = case.evidence(&case.program());
        evidence.plan.job.join_limit_mm = Some(0.001);
        contour(&mut evidence).moved_mm = Some(moved);
        contour(&mut evidence).fitted_mm = fitted;
        evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
        evidence.inputs.insert("e1.dxf".to_owned(), text.clone().into_bytes());
        let proof = prove(&evidence);
        assert_eq!(proof.holds, holds, "{fitted:?}, {moved}: {:?} {:?}", proof.faults, proof.contours);
    }
    // Ten micrometres are no facets.
    let text = dxf(&drawn.moved([0.008, 0.006]), false);
    let mut evidence = case.evidence(&case.program());
    contour(&mut evidence).moved_mm = Some(0.012);
    contour(&mut evidence).fitted_mm = Some(0.012);
    evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
    evidence.inputs.insert("e1.dxf".to_owned(), text.into_bytes());
    assert!(!prove(&evidence).holds);
}
