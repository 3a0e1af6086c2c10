//! Joints of small blocks by numbers reckoned on paper, along X and along Y: each bound just kept and just broken.
//!
//! The block is 30 long along its joint, 20 wide across it and 24 high; the joint lies at 1.5, so that 11.5 stand on its lower side
//! and 8.5 on its upper one.

use super::*;
use crate::by_hand::{contour, half_round, section, start};
use package::{
    BackBore, FaceUp, Fastening, FasteningKind, FasteningMade, HalfRound, HoleDiameter, JointKind,
};
use std::f64::consts::PI;

mod holes;
mod parting;

const AT: f64 = 1.5;
const WAYS: [Along; 2] = [Along::X, Along::Y];

/// A place by how far it lies along the joint and across the block.
fn place(along: Along, [s, t]: Place) -> Place {
    if along == Along::X { [s, t] } else { [t, s] }
}

/// An opening by two corners, along the joint and across it; cut where it starts.
fn opening(along: Along, id: &str, low: Place, high: Place, start: Option<Start>) -> Contour {
    contour(id, place(along, low), place(along, high), start)
}

/// Half-rounds of radius 0.5, this far along the joint.
fn ground(along: Along, at: Place) -> Start {
    let [x, y] = place(along, at);
    Start { kind: StartKind::HalfGround, half_round: Some(half_round(along, 0.5)), ..start(x, y, 1.0) }
}

fn burned(along: Along, at: Place) -> Start {
    let [x, y] = place(along, at);
    start(x, y, 0.4)
}

/// One opening over the joint and one beside it, on its upper side.
fn split(along: Along) -> PlanSection {
    let over = opening(along, "over", [-4.0, -1.0], [3.0, 5.0], Some(ground(along, [-0.5, AT])));
    let beside = opening(along, "beside", [6.0, 6.0], [9.0, 8.0], Some(burned(along, [7.0, 7.0])));
    let [x, y] = place(along, [30.0, 20.0]);
    let mut section = section([x, y, 24.0], vec![over, beside]);
    section.halves = Some(Halves {
        along,
        at_mm: AT,
        edges: vec!["over".to_owned()],
        holes: Vec::new(),
        refused: Vec::new(),
        opens_n: None,
        cautions: Vec::new(),
        order_of_work: Vec::new(),
    });
    section
}

/// A screw in a sink, from the lower side.
fn screw() -> JointHole {
    JointHole {
        kind: JointKind::Screw,
        thread: Some("M3".to_owned()),
        along_mm: -9.0,
        below_face_mm: 8.0,
        diameter_mm: 3.0,
        from_lower: true,
        drill_mm: 2.5,
        clear_mm: Some(3.4),
        sink_mm: Some([6.0, 3.0]),
        into_mm: [11.5, 6.0],
        drill_depth_mm: 7.0,
        push_out_mm: None,
        longest_mm: Some(14.0),
        room_mm: 0.1,
    }
}

/// A dowel from the upper side.
fn dowel() -> JointHole {
    JointHole {
        kind: JointKind::Dowel,
        thread: None,
        along_mm: 11.0,
        below_face_mm: 14.0,
        diameter_mm: 2.0,
        from_lower: false,
        clear_mm: None,
        sink_mm: None,
        into_mm: [8.5, 5.0],
        longest_mm: None,
        ..screw()
    }
}

fn said(section: &PlanSection) -> Vec<String> {
    let faults = faults(section);
    assert!(faults.iter().all(|fault| fault.code == "joint" && fault.message.starts_with("section `s`: ")));
    faults.into_iter().map(|fault| fault.message).collect()
}

/// Nothing is told of a section but this, once.
#[track_caller]
fn only(section: &PlanSection, says: &str) {
    let said = said(section);
    assert!(said.len() == 1 && said[0].contains(says), "{says} is not all of {said:?}");
}

#[track_caller]
fn nothing(section: &PlanSection) {
    assert_eq!(said(section), Vec::<String>::new());
}

fn halves(section: &mut PlanSection) -> &mut Halves {
    section.halves.as_mut().expect("it is split")
}

/// The start of the opening over the joint.
fn start_of(section: &mut PlanSection) -> &mut Start {
    section.contours[0].start.as_mut().expect("it starts")
}

#[test]
fn a_split_section_has_no_fault() {
    for along in WAYS {
        let mut section = split(along);
        nothing(&section);
        halves(&mut section).holes = vec![screw(), dowel()];
        nothing(&section);
    }
}

#[test]
fn half_rounds_in_one_piece_are_told() {
    for along in WAYS {
        let mut whole = split(along);
        whole.halves = None;
        only(&whole, "contour `over` starts in half-rounds, and the section is in one piece");
        // What nothing can have is told elsewhere.
        whole.contours[0].clearance_per_side_mm = 11.0;
        nothing(&whole);
        whole.contours.remove(0);
        nothing(&whole);
    }
}

#[test]
fn numbers_beyond_any_block_are_told_before_they_are_used() {
    const FAR: f64 = 2e4;
    let changes: [&dyn Fn(&mut Halves); 10] = [
        &|one| one.at_mm = -FAR,
        &|one| one.at_mm = f64::NAN,
        &|one| one.holes[0].along_mm = -FAR,
        &|one| one.holes[0].diameter_mm = FAR,
        &|one| one.holes[0].clear_mm = Some(FAR),
        &|one| one.holes[0].sink_mm = Some([FAR, 1.0]),
        &|one| one.holes[0].sink_mm = Some([6.0, f64::NAN]),
        &|one| one.holes[1].into_mm[0] = FAR,
        &|one| one.holes[1].into_mm[1] = FAR,
        &|one| one.holes[1].below_face_mm = FAR,
    ];
    for change in changes {
        let mut section = split(Along::X);
        halves(&mut section).holes = vec![screw(), dowel()];
        change(halves(&mut section));
        only(&section, "a number of its joint is beyond any block");
    }
}

/// An opening beside the joint that reaches up to it lies beside it; 0.01 beyond it it lies over it.
#[test]
fn what_lies_over_the_joint_starts_in_half_rounds() {
    for along in WAYS {
        for (low, high, over) in [
            ([6.0, 1.5], [9.0, 4.0], false),
            ([6.0, 1.49], [9.0, 4.0], true),
            ([6.0, -3.0], [9.0, 1.5], false),
            ([6.0, -3.0], [9.0, 1.51], true),
        ] {
            let mut section = split(along);
            section.contours[1] = opening(along, "beside", low, high, Some(burned(along, [7.0, 0.0])));
            if over {
                halves(&mut section).edges.push("beside".to_owned());
                let said = said(&section);
                let does_not = |of: &str| said.iter().filter(|one| one.contains(of)).count();
                assert_eq!(does_not("`beside` lies over the joint, and does not start in half-rounds"), 1);
                assert_eq!(does_not("goes through the joint and does not start there"), 1);
                assert_eq!(said.len(), 2, "{said:?}");
                // One that is not cut starts nowhere.
                section.contours[1].wire = None;
            }
            nothing(&section);
        }
    }
}

#[test]
fn half_rounds_lie_over_the_joint() {
    for along in WAYS {
        let mut section = split(along);
        section.contours[1].start = Some(ground(along, [7.0, AT]));
        only(&section, "`beside` starts in half-rounds, and does not lie over the joint");
        section.contours[1].wire = None;
        nothing(&section);
    }
}

/// In the middle of the block, so that 0.0001 beside the joint is just that.
#[test]
fn a_start_lies_on_its_joint() {
    for along in WAYS {
        for (beside, fine) in [(1e-4, true), (-1e-4, true), (1.1e-4, false), (-1.1e-4, false), (0.01, false)]
        {
            let mut section = split(along);
            halves(&mut section).at_mm = 0.0;
            *start_of(&mut section) = ground(along, [2.0, beside]);
            match fine {
                true => nothing(&section),
                false => only(&section, "beside the joint"),
            }
        }
        let mut section = split(along);
        *start_of(&mut section) = ground(along, [2.0, 1.47]);
        only(&section, "contour `over`: its start lies 0.0300 beside the joint");
    }
}

#[test]
fn half_rounds_are_stated_on_the_same_joint() {
    for along in WAYS {
        let mut section = split(along);
        let other = if along == Along::X { Along::Y } else { Along::X };
        start_of(&mut section).half_round = Some(half_round(other, 0.5));
        only(&section, "runs another way");
        start_of(&mut section).half_round = None;
        only(&section, "its half-rounds are not stated");
    }
}

/// A wheel of radius 0.5 makes a hole 1 wide; 0.02 too shallow and 0.02 more by its error, 0.06 beside each other and 0.01 finer
/// than said, 2 (0.49 - 0.05) = 0.88 of it is open.
#[test]
fn half_rounds_make_the_hole_that_is_said() {
    let made = |entry: f64, exit: f64, half: HalfRound| {
        let mut section = split(half.along);
        let start = start_of(&mut section);
        (start.hole_diameter_mm, start.half_round) = (HoleDiameter { entry, exit }, Some(half));
        let said = said(&section);
        assert!(said.iter().all(|one| one.contains("do not make a hole of")), "{said:?}");
        said.is_empty()
    };
    for along in WAYS {
        let fine = half_round(along, 0.5);
        assert!(made(1.0, 1.0, fine) && made(1.0, 0.9, fine));
        assert!(!made(1.0, 1.01, fine) && !made(1.01, 0.9, fine) && !made(0.99, 0.9, fine));
        let rough = HalfRound {
            depth_mm: 0.48,
            depth_error_mm: 0.02,
            mismatch_mm: 0.06,
            radius_error_mm: 0.01,
            ..fine
        };
        assert!(made(1.0, 0.88, rough) && !made(1.0, 0.89, rough));
        // Without radius or depth none is made, whatever is said to be open.
        assert!(!made(1.0, 0.0, HalfRound { depth_mm: 0.0, ..fine }));
        assert!(!made(0.0, -1.0, HalfRound { wheel_radius_mm: 0.0, ..fine }));
        assert!(!made(-1.0, -9.0, HalfRound { wheel_radius_mm: -0.5, ..fine }));
    }
}

/// A bore of 4 whose middle lies 2 off the joint touches it.
#[test]
fn a_back_bore_keeps_off_the_joint() {
    for along in WAYS {
        for (i, off, diameter, through) in [
            (1, 2.0, 3.98, false),
            (1, 2.0, 4.0, true),
            (1, -2.0, 4.02, true),
            (0, -2.0, 3.98, false),
            (0, 0.0, 1.0, true),
        ] {
            let mut section = split(along);
            let [x_mm, y_mm] = place(along, [7.0, AT + off]);
            let bore = BackBore { x_mm, y_mm, diameter_mm: diameter, depth_mm: 5.0, clears: false };
            section.contours[i].start.as_mut().expect("it starts").back_bore = Some(bore);
            match through {
                true => only(&section, &format!("the back bore of contour `{}`", section.contours[i].id)),
                false => nothing(&section),
            }
        }
    }
}

/// 20 below a land of 4: 20 tan 12.6 = 4.47 and 20 tan 12.7 = 4.51, and the opening lies 4.5 above the joint; or below it.
#[test]
fn a_relief_keeps_off_the_joint_to_the_back() {
    for along in WAYS {
        for (low, high) in [([6.0, 6.0], [9.0, 8.0]), ([6.0, -6.0], [9.0, -3.0])] {
            let mut section = split(along);
            section.contours[1] = opening(along, "beside", low, high, Some(burned(along, [7.0, 7.0])));
            let one = &mut section.contours[1];
            (one.land_mm, one.relief_deg) = (4.0, 12.6);
            nothing(&section);
            section.contours[1].relief_deg = 12.7;
            only(&section, "contour `beside` or its relief goes through the joint");
            let mut uncut = section.clone();
            uncut.contours[1].wire = None;
            nothing(&uncut);
            section.contours[1].side = Side::Outside;
            nothing(&section);
        }
        // Below half-rounds it is the joint's own opening that widens.
        let mut section = split(along);
        (section.contours[0].land_mm, section.contours[0].relief_deg) = (4.0, 12.7);
        nothing(&section);
    }
}

/// A square of 2, 1 wider all round: 4 + 4 * 2 * 1 + pi.
#[test]
fn a_relief_widens_an_opening_by_what_lies_below_its_land() {
    let mut one = contour("c", [-1.0, -1.0], [1.0, 1.0], None);
    let block = section([9.0, 9.0, 24.0], Vec::new());
    let mut found = |land: f64, relief: f64| {
        (one.land_mm, one.relief_deg) = (land, relief);
        wide(&block, &one).iter().flatten().map(|points| area(points)).sum::<f64>()
    };
    assert!((found(23.0, 45.0) - (12.0 + PI)).abs() < 1e-2);
    // tan 26.565 = 1/2 below a land of 22.
    assert!((found(22.0, 26.565_051_177) - (12.0 + PI)).abs() < 1e-2);
    for (land, relief) in [(24.0, 45.0), (23.0, 0.0), (25.0, 45.0), (23.0, -45.0)] {
        assert!((found(land, relief) - 4.0).abs() < 1e-9, "{land} {relief}");
    }
}

#[test]
fn the_edges_over_a_joint_are_named_and_no_other() {
    for along in WAYS {
        let mut section = split(along);
        halves(&mut section).edges.clear();
        only(&section, "contour `over` lies over the joint and is not named with it");
        // One that is not cut lies there as well.
        let mut uncut = section.clone();
        (uncut.contours[0].start, uncut.contours[0].wire) = (None, None);
        only(&uncut, "contour `over` lies over the joint and is not named with it");
        halves(&mut uncut).edges.push("over".to_owned());
        nothing(&uncut);
        for other in ["beside", "nobody"] {
            halves(&mut section).edges = vec!["over".to_owned(), other.to_owned()];
            only(
                &section,
                &format!("`{other}` is named with the joint, and is no contour that lies over it"),
            );
        }
    }
}

/// What nothing can have is told elsewhere, and is not looked at here.
#[test]
fn contours_that_nothing_can_have_are_left_alone() {
    for along in WAYS {
        let mut section = split(along);
        let mut across = opening(along, "across", [-16.0, 1.0], [16.0, 2.0], Some(burned(along, [5.0, AT])));
        across.clearance_per_side_mm = 11.0;
        section.contours.push(across);
        halves(&mut section).holes = vec![screw(), dowel()];
        nothing(&section);
    }
}
