//! Rims and what is open straight through, by numbers reckoned on paper.

use super::*;
use crate::by_hand::{half_round, start};
use package::{HalfRound, HoleDiameter, MeasuredHole, Rim, StartKind};

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
}

#[track_caller]
fn same(found: &[(Place, f64)], expected: &[(Place, f64)]) {
    let close = |(a, b): (&(Place, f64), &(Place, f64))| {
        (a.0[0] - b.0[0]).abs() + (a.0[1] - b.0[1]).abs() + (a.1 - b.1).abs() < 1e-12
    };
    let all = found.len() == expected.len() && found.iter().zip(expected).all(close);
    assert!(all, "{found:?} are not {expected:?}");
}

/// Half-rounds of radius 0.5 that may be ground 0.56 + 0.02 deep, the halves 0.06 beside each other: the middles of the circles
/// lie 0.08 from the joint and 0.03 along it, on all four sides.
fn ground(along: Along) -> Start {
    let half = HalfRound {
        depth_mm: 0.56,
        depth_error_mm: 0.02,
        mismatch_mm: 0.06,
        radius_error_mm: 0.01,
        ..half_round(along, 0.5)
    };
    Start { kind: StartKind::HalfGround, half_round: Some(half), ..start(3.0, -7.0, 1.0) }
}

#[test]
fn the_rims_of_half_rounds_lie_as_deep_and_as_far_aside_as_they_may() {
    let x = [[3.03, -6.92], [2.97, -6.92], [3.03, -7.08], [2.97, -7.08]].map(|place| (place, 0.5));
    same(&rims(&ground(Along::X)), &x);
    let y = [[3.08, -6.97], [3.08, -7.03], [2.92, -6.97], [2.92, -7.03]].map(|place| (place, 0.5));
    same(&rims(&ground(Along::Y)), &y);
}

/// The sign of an error says nothing: it is plus or minus.
#[test]
fn errors_of_half_rounds_count_either_way() {
    let mut other = ground(Along::X);
    for half in other.half_round.iter_mut() {
        half.depth_error_mm = -half.depth_error_mm;
        half.radius_error_mm = -half.radius_error_mm;
    }
    same(&rims(&other), &rims(&ground(Along::X)));
    near(open(&other), open(&ground(Along::X)));
    for half in other.half_round.iter_mut() {
        half.mismatch_mm = -half.mismatch_mm;
    }
    // Only the order in which they are told changes.
    let sorted = |mut rims: Vec<(Place, f64)>| {
        rims.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]).then(a.0[1].total_cmp(&b.0[1])));
        rims
    };
    same(&sorted(rims(&other)), &sorted(rims(&ground(Along::X))));
    near(open(&other), open(&ground(Along::X)));
}

/// Ground to 0.48 +- 0.02 with a wheel of 0.5 +- 0.01: up to 0.04 too shallow; with 0.06 of mismatch the middles of the half-rounds
/// lie 0.05 off the hole's (3-4-5), and 2 (0.49 - 0.05) is open.
#[test]
fn what_half_rounds_leave_open() {
    let mut start = ground(Along::Y);
    start.half_round.iter_mut().for_each(|half| half.depth_mm = 0.48);
    near(open(&start), 0.88);
    start.half_round = Some(half_round(Along::X, 0.5));
    near(open(&start), 1.0);
}

fn measured() -> Start {
    let (face, back) =
        (Rim { x_mm: 1.0, y_mm: -2.0, diameter_mm: 0.5 }, Rim { x_mm: 1.03, y_mm: -2.04, diameter_mm: 0.46 });
    let measured = MeasuredHole { face, back, light_mm: 0.0, lean_mm: 0.05 };
    Start { measured: Some(measured), ..start(9.0, 9.0, 0.7) }
}

/// 0.05 from end to end: what both circles share is (0.5 + 0.46) / 2 - 0.05 = 0.43 wide.
#[test]
fn a_measured_hole_has_two_rims_and_what_they_share() {
    same(&rims(&measured()), &[([1.0, -2.0], 0.25), ([1.03, -2.04], 0.23)]);
    near(open(&measured()), 0.43);
}

/// Where one end lies within the other, no more is open than the narrower one.
#[test]
fn no_more_is_open_than_the_narrower_end() {
    let mut start = measured();
    for (face, back) in [(0.3, 0.9), (0.9, 0.3)] {
        if let Some(hole) = &mut start.measured {
            (hole.face.diameter_mm, hole.back.diameter_mm) = (face, back);
        }
        near(open(&start), 0.3);
    }
}

#[test]
fn a_planned_hole_has_its_wider_rim_and_is_open_as_its_exit() {
    let mut start = start(1.5, -2.5, 0.0);
    for (entry, exit) in [(0.4, 0.34), (0.34, 0.4)] {
        start.hole_diameter_mm = HoleDiameter { entry, exit };
        same(&rims(&start), &[([1.5, -2.5], 0.2)]);
        near(open(&start), exit);
    }
}

#[test]
fn beside_the_block_there_is_no_rim() {
    let start = Start { kind: StartKind::FromOutside, ..start(1.5, -2.5, 0.4) };
    assert_eq!(rims(&start), Vec::new());
}
