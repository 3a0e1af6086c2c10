//! What holds the halves: that it stays in the block, keeps off openings and meets no other hole.

use super::*;
use package::FasteningHole;

const LEAVES: &str = "leaves the block";
const ENTERS: &str = "comes into an opening";
const MEETS: &str = "meets another hole";

/// A section held by these alone, without its opening beside the joint.
fn held(along: Along, holes: &[JointHole]) -> PlanSection {
    let mut section = split(along);
    section.contours.truncate(1);
    halves(&mut section).holes = holes.to_vec();
    section
}

/// Whether a hole is told so, and nothing else is.
#[track_caller]
fn told(section: &PlanSection, says: &str) -> bool {
    let said = said(section);
    assert!(said.len() <= 1 && said.iter().all(|one| one.contains(says)), "{says} is not all of {said:?}");
    !said.is_empty()
}

/// Both ways, whether a hole leaves the block.
#[track_caller]
fn leaves_block(hole: JointHole) -> bool {
    let [x, y] = WAYS.map(|along| told(&held(along, std::slice::from_ref(&hole)), LEAVES));
    assert_eq!(x, y, "{hole:?}");
    x
}

/// The sink is 6 wide: 3 to every side, of 15 along the joint and of 24 down.
#[test]
fn a_hole_stays_in_the_block_along_its_joint_and_down() {
    for side in [-1.0, 1.0] {
        let at = |along: f64| leaves_block(JointHole { along_mm: side * along, ..screw() });
        assert_eq!([at(11.99), at(12.0), at(12.01), at(14.0), at(16.0)], [false, true, true, true, true]);
    }
    let down = |below: f64| leaves_block(JointHole { below_face_mm: below, ..screw() });
    assert_eq!([down(3.01), down(3.0), down(2.0), down(-4.0)], [false, true, true, true]);
    assert_eq!([down(20.99), down(21.0), down(22.0)], [false, true, true]);
}

/// Its widest part counts: what the screw passes, its thread, or the dowel.
#[test]
fn the_widest_part_of_a_hole_stays_in_the_block() {
    let plain = JointHole { sink_mm: None, ..screw() };
    let widths = [
        (plain.clone(), 1.7),
        (JointHole { diameter_mm: 5.0, ..plain.clone() }, 2.5),
        (JointHole { clear_mm: None, ..plain.clone() }, 1.5),
        (JointHole { sink_mm: Some([5.0, 1.0]), ..plain }, 2.5),
    ];
    for (hole, radius) in widths {
        let down = |below: f64| leaves_block(JointHole { below_face_mm: below, ..hole.clone() });
        assert_eq!([down(radius + 0.01), down(radius - 0.01)], [false, true], "{hole:?}");
    }
}

/// 11.5 stand on the lower side of the joint and 8.5 on the upper one.
#[test]
fn a_hole_goes_no_deeper_than_its_halves() {
    for from_lower in [true, false] {
        let thick = if from_lower { [11.5, 8.5] } else { [8.5, 11.5] };
        let fine = JointHole { from_lower, into_mm: [3.0, 3.0], ..screw() };
        assert!(!leaves_block(fine.clone()));
        for (i, thick) in thick.into_iter().enumerate() {
            let into = |deep: f64| {
                let mut hole = fine.clone();
                hole.into_mm[i] = deep;
                leaves_block(hole)
            };
            let found = [thick, thick + 1e-6, thick + 0.01, 0.01, 0.0, -0.01].map(into);
            assert_eq!(found, [false, false, true, false, true, true], "{from_lower} {i}");
        }
        let sunk = |deep: f64| leaves_block(JointHole { sink_mm: Some([6.0, deep]), ..fine.clone() });
        assert_eq!([thick[0] - 0.01, thick[0], thick[0] + 1.0].map(sunk), [false, true, true]);
    }
}

/// Both ways, whether an opening between two corners is entered.
#[track_caller]
fn entered(hole: &JointHole, low: Place, high: Place) -> bool {
    let [x, y] = WAYS.map(|along| {
        let mut section = held(along, std::slice::from_ref(hole));
        section.contours.push(opening(along, "near", low, high, None));
        let found = told(&section, ENTERS);
        // What stands is not entered.
        section.contours[1].side = Side::Outside;
        assert!(!told(&section, ENTERS));
        found
    });
    assert_eq!(x, y, "{hole:?}");
    x
}

/// The hole is 3.4 wide about -9: from -10.7 to -7.3, and goes from 1.5 - 5 = -3.5 to 1.5 + 6 = 7.5.
#[test]
fn a_hole_keeps_off_openings() {
    let lower = JointHole { into_mm: [5.0, 6.0], sink_mm: None, ..screw() };
    let upper = JointHole { into_mm: [6.0, 5.0], from_lower: false, ..lower.clone() };
    for hole in [lower, upper] {
        for (by, into) in [(0.01, true), (-0.01, false)] {
            assert_eq!(entered(&hole, [-7.3 - by, 4.0], [-6.0, 6.0]), into, "to the right");
            assert_eq!(entered(&hole, [-13.0, 4.0], [-10.7 + by, 6.0]), into, "to the left");
            assert_eq!(entered(&hole, [-10.0, 7.5 - by], [-8.0, 9.0]), into, "above");
            assert_eq!(entered(&hole, [-10.0, -8.0], [-8.0, -3.5 + by]), into, "below");
        }
        // 2 x 0.00004 are nothing, 2 x 0.00006 are not.
        assert!(!entered(&hole, [-10.0, 7.49996], [-8.0, 9.0]));
        assert!(entered(&hole, [-10.0, 7.49994], [-8.0, 9.0]));
    }
    let wide = JointHole { diameter_mm: 4.0, sink_mm: None, ..screw() };
    assert_eq!([-7.01, -6.99].map(|left| entered(&wide, [left, 4.0], [-6.0, 6.0])), [true, false]);
    let dowel = JointHole { along_mm: -9.0, ..dowel() };
    assert_eq!([-8.01, -7.99].map(|left| entered(&dowel, [left, 4.0], [-6.0, 6.0])), [true, false]);
}

/// 6 wide about -9 and 3 deep from the finished side: from -12 to -6, below -7 or above 7.
#[test]
fn a_sink_keeps_off_openings() {
    for from_lower in [true, false] {
        let hole = JointHole { from_lower, into_mm: [3.0, 3.0], ..screw() };
        let side = |a: f64, b: f64| if from_lower { [-b, -a] } else { [a, b] };
        for (by, into) in [(0.01, true), (-0.01, false)] {
            let [low, high] = side(8.0, 9.0);
            assert_eq!(entered(&hole, [-6.0 - by, low], [-5.0, high]), into, "to the right");
            assert_eq!(entered(&hole, [-14.0, low], [-12.0 + by, high]), into, "to the left");
            let [low, high] = side(6.0, 7.0 + by);
            assert_eq!(entered(&hole, [-10.0, low], [-8.0, high]), into, "towards the joint");
            // On the other side there is none.
            let [low, high] = side(-9.0, -8.0);
            assert!(!entered(&hole, [-10.0, low], [-8.0, high]));
        }
    }
}

/// 20 below a land of 4 a relief of 5 degrees widens an opening by 1.75: one 1.74 beside the hole is entered at the back.
#[test]
fn a_hole_keeps_off_the_relief() {
    for along in WAYS {
        for (apart, into) in [(1.74, true), (1.76, false)] {
            let mut section = held(along, &[JointHole { sink_mm: None, ..screw() }]);
            let mut one = opening(along, "near", [-7.3 + apart, 5.0], [-4.5, 6.0], None);
            (one.land_mm, one.relief_deg) = (4.0, 5.0);
            section.contours.push(one);
            assert_eq!(told(&section, ENTERS), into, "{apart}");
        }
    }
}

/// 3 along and 4 down is 5 apart: 3.4 and 6.6 wide they touch.
#[test]
fn holes_through_the_joint_stay_apart() {
    let one = JointHole { sink_mm: None, ..screw() };
    let far = JointHole { along_mm: 11.0, ..one.clone() };
    for along in WAYS {
        for [s, t] in [[3.0, 4.0], [-3.0, 4.0], [3.0, -4.0], [-3.0, -4.0]] {
            for (clear, diameter, meets) in [
                (Some(6.6), 1.0, true),
                (Some(6.62), 1.0, true),
                (Some(6.58), 1.0, false),
                (None, 6.62, true),
                (None, 6.58, false),
                (Some(1.0), 6.62, true),
            ] {
                let other = JointHole {
                    along_mm: one.along_mm + s,
                    below_face_mm: one.below_face_mm + t,
                    clear_mm: clear,
                    diameter_mm: diameter,
                    ..one.clone()
                };
                // In whichever order they are named.
                let orders = [
                    [one.clone(), other.clone(), far.clone()],
                    [far.clone(), other.clone(), one.clone()],
                    [other, far.clone(), one.clone()],
                ];
                for holes in orders {
                    let found = meet(&held(along, &holes), &split_of(along, &holes));
                    assert_eq!(found.is_some(), meets, "{s} {t} {clear:?} {diameter}");
                }
            }
        }
    }
}

fn split_of(along: Along, holes: &[JointHole]) -> Halves {
    held(along, holes).halves.expect("it is split")
}

fn fastened(along: Along, at: Place, diameter_mm: f64, clear_mm: Option<f64>) -> Fastening {
    let [x_mm, y_mm] = place(along, at);
    let hole = FasteningHole {
        kind: FasteningKind::Screw,
        thread: Some("M4".to_owned()),
        from_face: FaceUp::Back,
        x_mm,
        y_mm,
        diameter_mm,
        drill_mm: 3.0,
        minor_mm: None,
        depth_mm: 8.0,
        drill_depth_mm: 10.0,
        clear_mm,
        room_mm: 0.1,
    };
    Fastening { made: FasteningMade::Soft, holes: vec![hole], refused: Vec::new() }
}

/// 4 beside each other along the joint: 3.4 and 4.6 wide they touch, wherever across the block the other goes down.
#[test]
fn holes_through_the_joint_keep_off_those_that_hold_the_section() {
    let held = |along: Along| held(along, &[screw()]);
    for along in WAYS {
        for (diameter, clear, meets) in [
            (4.0, Some(4.6), true),
            (4.0, Some(4.62), true),
            (4.0, Some(4.58), false),
            (4.62, Some(1.0), true),
            (4.62, None, true),
            (4.58, None, false),
        ] {
            for at in [[-5.0, 9.0], [-13.0, -6.0]] {
                let mut section = held(along);
                section.fastening = Some(fastened(along, at, diameter, clear));
                assert_eq!(told(&section, MEETS), meets, "{at:?} {diameter} {clear:?}");
            }
        }
        let mut thick = held(along);
        for hole in &mut halves(&mut thick).holes {
            (hole.diameter_mm, hole.clear_mm) = (3.4, None);
        }
        thick.fastening = Some(fastened(along, [-5.0, 9.0], 4.62, None));
        assert!(told(&thick, MEETS));
    }
}
