//! Targets that were shifted for size: grown or shrunk from the drawing, as the plan states it, and not otherwise.

use crate::case::Case;
use crate::holds::cases;
use crate::shape::Shape;
use package::{Contour, Cut};
use proof::{Evidence, prove};

fn contour(evidence: &mut Evidence) -> &mut Contour {
    &mut evidence.plan.sections[0].contours[0]
}

/// A package whose contour was changed.
fn changed(case: &Case, change: impl Fn(&mut Contour)) -> Evidence {
    let mut evidence = case.evidence(&case.program());
    change(contour(&mut evidence));
    evidence
}

#[track_caller]
fn refused(evidence: &Evidence, code: &str) {
    let proof = prove(evidence);
    assert!(!proof.holds && proof.faults.iter().any(|fault| fault.code == code), "{:?}", proof.faults);
}

/// Clearance and shift both act on the outline: what is added in all decides.
#[test]
fn a_pierced_edge_is_grown_by_clearance_and_shift() {
    for case in cases().iter().filter(|case| case.openings[0].clearance > 0.0).take(9) {
        let clearance = case.openings[0].clearance;
        for shift in [0.008, -0.005, -clearance] {
            let stated = |by: f64| {
                changed(case, |c| {
                    c.clearance_per_side_mm = clearance - shift;
                    c.size_shift_per_side_mm = Some(shift + by);
                })
            };
            let proof = prove(&stated(0.0));
            assert!(proof.holds, "{}: {:?}", case.name, proof.faults);
            refused(&stated(0.002), "target-moved");
            refused(&stated(-0.002), "target-moved");
        }
    }
}

/// A blanking opening drawn larger than it is cut. The rectangle's sharp corners stay sharp.
#[test]
fn a_blanked_edge_is_shrunk() {
    let target = Shape::rectangle(1.0, 0.8, 0.0);
    let [drawn, round] = [Shape::rectangle(1.02, 0.82, 0.0), Shape::rectangle(1.4, 1.0, 0.2)];
    let sharp = cases().into_iter().find(|case| case.name == "sharp 0");
    let rounded = cases().into_iter().find(|case| case.name == "rectangle 0");
    let mut shrunk = Vec::new();
    for (case, target, drawn) in
        [(sharp, target, drawn), (rounded, round, Shape::rectangle(1.42, 1.02, 0.21))]
    {
        let mut case = case.expect("a case of that name");
        let at = case.openings[0].at;
        assert!(case.openings[0].target.vertices().len() == target.vertices().len());
        case.openings[0].target = target.moved(at);
        case.openings[0].drawn = drawn;
        case.openings[0].clearance = 0.0;
        shrunk.push(case);
    }
    for case in &shrunk {
        let stated = |shift: Option<f64>| {
            changed(case, |c| {
                c.cut = Cut::Blank;
                c.size_shift_per_side_mm = shift;
            })
        };
        let proof = prove(&stated(Some(-0.01)));
        assert!(proof.holds, "{}: {:?} {:?}", case.name, proof.faults, proof.contours);
        for wrong in [None, Some(0.0), Some(0.01), Some(-0.012), Some(-0.008)] {
            refused(&stated(wrong), "target-moved");
        }
    }
}

#[test]
fn a_shift_must_make_sense() {
    let cases = cases();
    let pierced = &cases[0];
    for shift in [1.5, -1.5, f64::NAN, f64::INFINITY] {
        refused(&changed(pierced, |c| c.size_shift_per_side_mm = Some(shift)), "absurd");
    }
    // What one takes off the other must not hide: an edge that pierces has no clearance below nothing.
    let clearance = pierced.openings[0].clearance;
    let hidden = changed(pierced, |c| {
        c.clearance_per_side_mm = -0.01;
        c.size_shift_per_side_mm = Some(clearance + 0.01);
    });
    refused(&hidden, "drawing");
    let finished = cases.iter().find(|case| case.openings[0].clearance == 0.0).expect("a finished edge");
    refused(&changed(finished, |c| c.size_shift_per_side_mm = Some(0.005)), "drawing");
}
