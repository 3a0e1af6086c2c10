//! Sections in two halves: hand-written programs whose holes are half-rounds hold, and each damage of a joint is named.

use crate::case::Case;
use crate::holds::cases;
use package::{Along, HalfRound, Halves, JointHole, JointKind, StartKind};
use proof::{Evidence, prove};

/// Cases with one opening that stays in one piece when it is cut, and nothing that falls.
fn plain() -> Vec<Case> {
    let one = |case: &Case| {
        case.openings.len() == 1 && case.openings[0].tab.is_none() && case.openings[0].cores.is_empty()
    };
    cases().into_iter().filter(one).collect()
}

/// The same made in two halves along a joint through its start.
fn split(case: &Case, along: Along) -> Evidence {
    let mut evidence = case.evidence(&case.program());
    let section = &mut evidence.plan.sections[0];
    let contour = &mut section.contours[0];
    let start = contour.start.as_mut().expect("it starts");
    let radius = start.hole_diameter_mm.entry / 2.0;
    let half = HalfRound {
        along,
        wheel_radius_mm: radius,
        depth_mm: radius,
        depth_error_mm: 0.0,
        mismatch_mm: 0.0,
        radius_error_mm: 0.0,
        pin_mm: 0.1,
        no_go_mm: 0.3,
    };
    (start.kind, start.electrode_mm, start.half_round) = (StartKind::HalfGround, None, Some(half));
    let at = match along {
        Along::X => start.y_mm,
        Along::Y => start.x_mm,
    };
    let below_face_mm = section.size_mm[2] / 2.0;
    let hole = |along_mm: f64| JointHole {
        kind: JointKind::Screw,
        thread: Some("M3".to_owned()),
        along_mm,
        below_face_mm,
        diameter_mm: 1.0,
        from_lower: true,
        drill_mm: 0.8,
        clear_mm: Some(1.2),
        sink_mm: Some([1.6, 1.0]),
        into_mm: [6.0, 4.0],
        drill_depth_mm: 5.0,
        push_out_mm: None,
        longest_mm: Some(6.5),
        room_mm: 0.1,
    };
    section.halves = Some(Halves {
        along,
        at_mm: at,
        edges: vec![contour.id.clone()],
        holes: [-8.0, 8.0].map(hole).to_vec(),
        refused: Vec::new(),
        opens_n: None,
        cautions: Vec::new(),
        order_of_work: Vec::new(),
    });
    evidence
}

fn halves(evidence: &mut Evidence) -> &mut Halves {
    evidence.plan.sections[0].halves.as_mut().expect("it is split")
}

/// Openings that the joint meets twice hold as they did in one piece.
fn sound() -> Vec<Evidence> {
    let both = |case: &Case| [Along::X, Along::Y].map(|along| split(case, along));
    let found: Vec<Evidence> =
        plain().iter().flat_map(both).filter(|evidence| prove(evidence).holds).collect();
    assert!(found.len() >= 8, "only {} hold", found.len());
    found
}

#[test]
fn openings_over_a_joint_hold() {
    println!("{} openings over a joint hold", sound().len());
}

#[track_caller]
fn refused(evidence: &Evidence, says: &str) {
    let proof = prove(evidence);
    let named = proof.faults.iter().any(|fault| fault.code == "joint" && fault.message.contains(says));
    assert!(!proof.holds && named, "{says} is not among {:?}", proof.faults);
}

#[test]
fn every_damage_of_a_joint_is_named() {
    for evidence in sound() {
        let damaged = |damage: &dyn Fn(&mut Evidence)| {
            let mut evidence = Evidence {
                plan: evidence.plan.clone(),
                inputs: evidence.inputs.clone(),
                programs: evidence.programs.clone(),
            };
            damage(&mut evidence);
            evidence
        };
        let start = |evidence: &mut Evidence, change: &dyn Fn(&mut package::Start)| {
            change(evidence.plan.sections[0].contours[0].start.as_mut().expect("it starts"));
        };
        refused(&damaged(&|e| e.plan.sections[0].halves = None), "the section is in one piece");
        refused(&damaged(&|e| halves(e).at_mm += 0.01), "beside the joint");
        refused(&damaged(&|e| halves(e).at_mm += 9.0), "does not lie over the joint");
        refused(&damaged(&|e| start(e, &|s| s.kind = StartKind::Burned)), "does not start in half-rounds");
        refused(&damaged(&|e| start(e, &|s| s.half_round = None)), "not stated");
        refused(&damaged(&|e| start(e, &|s| s.hole_diameter_mm.entry -= 0.01)), "do not make a hole");
        refused(&damaged(&|e| start(e, &|s| s.hole_diameter_mm.exit += 0.05)), "do not make a hole");
        refused(
            &damaged(&|e| {
                halves(e).holes[0].along_mm = {
                    let along = halves(e).along;
                    let start = e.plan.sections[0].contours[0].start.as_ref().expect("it starts");
                    if along == Along::X { start.x_mm } else { start.y_mm }
                }
            }),
            "comes into an opening",
        );
        refused(
            &damaged(&|e| {
                let other = if halves(e).along == Along::X { Along::Y } else { Along::X };
                start(e, &|s| s.half_round.iter_mut().for_each(|half| half.along = other));
            }),
            "runs another way",
        );
        refused(&damaged(&|e| halves(e).holes[0].along_mm = -13.0), "leaves the block");
        refused(&damaged(&|e| halves(e).holes[1].below_face_mm = 25.0), "leaves the block");
        refused(&damaged(&|e| halves(e).holes[0].into_mm[1] = 100.0), "leaves the block");
        refused(&damaged(&|e| halves(e).holes[1].along_mm = -8.1), "meets another hole");
        refused(&damaged(&|e| halves(e).edges.clear()), "not named");
        refused(&damaged(&|e| halves(e).edges.push("nobody".to_owned())), "`nobody` is named with the joint");
        refused(&damaged(&|e| halves(e).holes[0].sink_mm = Some([1.6, 30.0])), "leaves the block");
        // Halves that stand so far beside each other bite into the finished edge.
        let scar =
            damaged(&|e| start(e, &|s| s.half_round.iter_mut().for_each(|half| half.mismatch_mm = 20.0)));
        assert!(prove(&scar).contours.iter().any(|one| one.hole_scar_mm > 1.0));
    }
}
