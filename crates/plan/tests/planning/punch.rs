//! Punches: published worked examples, corners and clearances by hand, and what must not change.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Point, Vector, Vertex};
use package::{BucklingCase, Plan, Punch, PunchStrength};
use std::f64::consts::{PI, SQRT_2};

/// The planner rounds programmed corners by this much more than the last offset.
const MARGIN: f64 = 2e-4;

fn disk(diameter: f64) -> Outline {
    rounded_rectangle(diameter, diameter, diameter / 2.0)
}

fn polygon(corners: &[[f64; 2]]) -> Outline {
    Outline::new(corners.iter().map(|[x, y]| Vertex::new(*x, *y, 0.0)).collect()).unwrap()
}

fn rectangle(width: f64, height: f64) -> Outline {
    let (x, y) = (width / 2.0, height / 2.0);
    polygon(&[[-x, -y], [x, -y], [x, y], [-x, y]])
}

/// An L with one outside corner, at the origin.
fn ell() -> Outline {
    polygon(&[[-2.0, -2.0], [2.0, -2.0], [2.0, 0.0], [0.0, 0.0], [0.0, 2.0], [-2.0, 2.0]])
}

#[track_caller]
fn near(ours: f64, wanted: f64, by: f64) {
    assert!((ours - wanted).abs() <= by, "ours {ours}, wanted {wanted}");
}

fn sheet(tau: f64, t: f64, share: f64) -> String {
    format!("[sheet]\nshear_strength_mpa = {tau:?}\nthickness = {t:?}\nclearance = {share:?}\n")
}

/// The same without what the slugs add: worked examples leave that out.
fn cutting_alone(tau: f64, t: f64, share: f64) -> String {
    sheet(tau, t, share) + "[forces]\npush_through = 0\n"
}

fn plan(outline: Outline, sheet: &str, cut: &str, punch: &str) -> Plan {
    let edge = format!("cut = \"{cut}\"\ncorner_tolerance = 0.3\npunch = {{ {punch} }}\n");
    Bench::new(outline, 20.0).size([220.0, 220.0]).sheet(sheet).edge(&edge).plan()
}

/// A shop with one wire.
const ONE_WIRE: &str = "[[wire]]\ndiameter = 0.10\ngap = 0.010\noffsets = [0.075, 0.059, 0.0545, 0.053]\n";

/// The same in a shop with one wire, with a short punch that bears its load.
fn with_one_wire(outline: Outline, share: f64, cut: &str) -> Plan {
    let edge =
        format!("cut = \"{cut}\"\ncorner_tolerance = 0.3\npunch = {{ length = 5, guided = \"stripper\" }}\n");
    Bench::new(outline, 20.0).shop(ONE_WIRE).sheet(&cutting_alone(300.0, 0.5, share)).edge(&edge).plan()
}

fn punch(plan: &Plan) -> &Punch {
    plan.sections[0].contours[0].punch.as_ref().unwrap()
}

fn strength(plan: &Plan) -> PunchStrength {
    punch(plan).strength.unwrap()
}

fn codes(plan: &Plan) -> Vec<&str> {
    plan.remarks.iter().map(|remark| remark.code.as_str()).filter(|code| code.starts_with("punch")).collect()
}

/// Groover, Fundamentals of Modern Manufacturing: disk 150, t 3.2, a 0.075: punch 149.52. A textbook problem in the same
/// form: disk 200, t 3: punch 199.55. P. C. Sharma, Production Engineering, example 2.1: disk 50, c 0.2: punch 49.6.
#[test]
fn a_blanking_punch_is_smaller_by_the_clearance() {
    for (d, t, share, wanted) in
        [(150.0, 3.2, 0.075, 149.52), (200.0, 3.0, 0.075, 199.55), (50.0, 4.0, 0.05, 49.6)]
    {
        let plan = plan(disk(d), &sheet(310.0, t, share), "blank", "length = 60");
        let punch = punch(&plan);
        near(punch.size_mm[0], wanted, 1e-6);
        near(punch.size_mm[1], wanted, 1e-6);
        near(punch.clearance_least.value_mm, share * t, 1e-6);
        near(punch.clearance_most.value_mm, share * t, 1e-6);
    }
}

/// The same companion: hole 24, c 0.2: opening 24.4, and the punch has the part's size.
#[test]
fn a_piercing_punch_has_the_part_s_size() {
    let plan = plan(disk(24.0), &sheet(360.0, 4.0, 0.05), "pierce", "length = 60");
    near(punch(&plan).size_mm[0], 24.0, 1e-6);
    near(punch(&plan).clearance_mm, 0.2, 1e-12);
}

/// Press-tool notes on punch buckling: 5 x 5 x 60 in brass of 1 mm, tau 320: cuts at 6.4 kN, hinged it buckles at 29.98 kN.
#[test]
fn a_square_punch_buckles() {
    let plan = plan(
        rectangle(5.0, 5.0),
        &cutting_alone(320.0, 1.0, 0.2),
        "pierce",
        "length = 60, guided = \"hinged\"",
    );
    let found = strength(&plan);
    near(found.load_n, 6400.0, 1e-6);
    near(found.buckling.second_moment_mm4, 625.0 / 12.0, 1e-4);
    assert_eq!(
        found.buckling.case,
        BucklingCase::Johnson,
        "at 41.6 it is stouter than the transition of 43.9"
    );
    let euler = PI.powi(2) * 210_000.0 * found.buckling.second_moment_mm4 / 3600.0;
    near(euler, 29_980.0, 10.0);
    assert!(found.buckling.load_n < euler && found.buckling.reserve > 4.0);
}

/// Venkataraman, Design of Jigs, Fixtures and Press Tools: round punch d 5, t 2, tau 300: longest 82.1; punch design notes:
/// its point stress is 4 t tau/d.
#[test]
fn a_round_punch_at_its_longest() {
    let at = |length: f64| {
        let words = format!("length = {length:?}, guided = \"hinged\"");
        strength(&plan(disk(5.0), &cutting_alone(300.0, 2.0, 0.05), "pierce", &words))
    };
    let found = at(40.0);
    near(found.buckling.longest_mm, 82.1, 0.05);
    near(found.stress_mpa, 4.0 * 2.0 * 300.0 / 5.0, 1e-3);
    near(found.cutting_stress_mpa, found.stress_mpa, 1e-9);
    let longest = at(found.buckling.longest_mm);
    assert_eq!(longest.buckling.case, BucklingCase::Euler);
    near(longest.buckling.reserve, 1.0, 1e-9);
}

/// At the length that is called the longest the reserve is 1, for slender and for stout punches, however they are guided.
#[test]
fn the_longest_punch_just_bears_its_load() {
    let mut cases = Vec::new();
    for (d, tau) in [(1.0, 500.0), (1.0, 1500.0), (0.7, 1500.0), (4.0, 300.0)] {
        for guided in ["free", "stripper", "hinged"] {
            let at = |length: f64| {
                let words = format!("length = {length:?}, guided = \"{guided}\"");
                strength(&plan(disk(d), &cutting_alone(tau, 0.25, 0.05), "pierce", &words)).buckling
            };
            let found = at(at(10.0).longest_mm);
            near(found.reserve, 1.0, 1e-9);
            cases.push(found.case);
        }
    }
    assert!(cases.contains(&BucklingCase::Euler) && cases.contains(&BucklingCase::Johnson), "{cases:?}");
}

/// The two formulas meet at half of the yield: nothing jumps, and a longer punch never bears more.
#[test]
fn euler_and_johnson_meet() {
    let at = |length: f64| {
        let words = format!("length = {length:?}, guided = \"hinged\"");
        strength(&plan(disk(5.0), &cutting_alone(300.0, 2.0, 0.05), "pierce", &words)).buckling
    };
    // Radius of gyration d/4, transition sqrt(2 pi^2 E/s_y) for D2 at 60.
    let transition = 1.25 * (2.0 * PI.powi(2) * 210_000.0 / 2150.0).sqrt();
    let found = [0.5, 0.9, 1.0 - 1e-9, 1.0 + 1e-9, 1.1, 2.0].map(|share| at(share * transition));
    let cases = found.map(|one| one.case == BucklingCase::Euler);
    assert_eq!(cases, [false, false, false, true, true, true]);
    assert!(found.windows(2).all(|pair| pair[0].load_n >= pair[1].load_n - 1e-3), "{found:?}");
    near(found[2].load_n, found[3].load_n, 1e-2);
    near(found[2].load_n, 2150.0 / 2.0 * PI * 6.25, 0.5);
}

/// A blade buckles about its weak axis: I = l w^3/12, whichever way it lies.
#[test]
fn the_weakest_axis_counts_whichever_way_the_punch_lies() {
    let blade = rounded_rectangle(6.0, 1.0, 0.2);
    let words = "length = 30, guided = \"stripper\"";
    let find = |outline: Outline| plan(outline, &sheet(320.0, 0.5, 0.05), "pierce", words);
    let base = find(blade.clone());
    let weak = 6.0 / 12.0 - strength(&base).buckling.second_moment_mm4;
    // Four corners of 0.2 are missing (1 - pi/4) r^2 each, about 0.45 from the axis.
    near(weak, 4.0 * (1.0 - PI / 4.0) * 0.04 * 0.45 * 0.45, 5e-4);
    let about = Point::new(0.0, 0.0);
    for other in [
        blade.turned(about, 0.7),
        blade.mirrored_x(),
        blade.moved(Vector::new(3.0, 2.0)),
        blade.starting_at(3),
    ] {
        let other = find(other);
        let (one, two) = (strength(&base), strength(&other));
        near(one.stress_mpa, two.stress_mpa, 1e-4 * one.stress_mpa);
        near(one.buckling.load_n, two.buckling.load_n, 1e-5 * one.buckling.load_n);
        near(punch(&base).clearance_least.value_mm, punch(&other).clearance_least.value_mm, 1e-6);
        near(punch(&base).clearance_most.value_mm, punch(&other).clearance_most.value_mm, 1e-6);
    }
}

/// The opening's corner keeps the last offset as radius; the punch's is that less the clearance, and all is even.
#[test]
fn rounded_corners_of_opening_and_punch_have_one_centre() {
    for cut in ["pierce", "blank"] {
        let words = "length = 10, guided = \"stripper\"";
        let plan = plan(rectangle(3.0, 2.0), &cutting_alone(400.0, 0.5, 0.1), cut, words);
        let contour = &plan.sections[0].contours[0];
        let last = contour.wire.as_ref().unwrap().passes.last().unwrap().offset_mm;
        let punch = punch(&plan);
        assert_eq!(punch.corners.opening_mm, Some(last));
        near(punch.corners.punch_mm.unwrap(), last - 0.05, 1e-9);
        assert_eq!((punch.corners.punch_inside_mm, punch.corners.opening_outside_mm), (None, None));
        near(punch.clearance_least.value_mm, 0.05, 1e-6);
        near(punch.clearance_most.value_mm, 0.05, 1e-6);
        let vertices = punch.edge.iter().map(|v| Vertex::new(v[0], v[1], v[2])).collect();
        let corner = Outline::new(vertices).unwrap().tightest_corner(true).unwrap();
        near(corner.radius, last + MARGIN - 0.05, 1e-6);
        assert_eq!(punch.clearance_plot.len(), 2, "{:?}", punch.clearance_plot);
        assert!(codes(&plan).is_empty(), "{:?}", plan.remarks);
    }
}

/// A clearance wider than the wire's offset leaves the punch sharp: at its corners sqrt(2)(c - R) + R is left.
#[test]
fn a_punch_is_sharp_where_the_clearance_is_wider_than_the_wire_s_corner() {
    let plan = plan(rectangle(5.0, 4.0), &sheet(100.0, 3.0, 0.1), "blank", "length = 30");
    let contour = &plan.sections[0].contours[0];
    let r = contour.wire.as_ref().unwrap().passes.last().unwrap().offset_mm + MARGIN;
    assert!(r < 0.3);
    assert_eq!(punch(&plan).corners.punch_mm, Some(0.0));
    near(punch(&plan).clearance_least.value_mm, 0.3, 1e-6);
    near(punch(&plan).clearance_most.value_mm, r + SQRT_2 * (0.3 - r), 1e-6);
}

/// An outside corner of the opening stands in an inside corner of the punch, which its wire rounds by r: left there is
/// r - sqrt(2)(r - c), below nothing when the clearance is small; the cure asks for less than the share of off-centre.
#[test]
fn the_wire_fills_the_punch_s_inside_corner() {
    for share in [0.02, 0.05, 0.08, 0.1] {
        let plan = with_one_wire(ell(), share, "blank");
        let (punch, c) = (punch(&plan), 0.5 * share);
        let r = punch.offset_mm + MARGIN;
        near(punch.clearance_least.value_mm, c.min(r - SQRT_2 * (r - c)), 1e-6);
        near(
            Point::new(punch.clearance_least.x_mm, punch.clearance_least.y_mm).distance(Point::new(0.0, 0.0)),
            0.0,
            1e-6,
        );
        assert_eq!(punch.corners.punch_inside_mm, Some(punch.offset_mm));
        near(punch.corners.opening_outside_mm.unwrap(), punch.offset_mm - c, 1e-9);
        let low = punch.clearance_plot.iter().map(|place| place[1]).fold(f64::INFINITY, f64::min);
        near(low, punch.clearance_least.value_mm, 2e-4);
        let tight = punch.clearance_least.value_mm < 0.8 * c - 1e-4;
        assert_eq!(codes(&plan).contains(&"punch-clearance"), tight, "{:?}", plan.remarks);
        assert_eq!(punch.holds, !tight);
    }
}

/// The cure that is offered cures it, for a part with a hole and for a part that is cut out.
#[test]
fn the_radius_that_is_offered_leaves_the_clearance_even() {
    for cut in ["blank", "pierce"] {
        let found = with_one_wire(ell(), 0.05, cut);
        let remark = found.remarks.iter().find(|remark| remark.code == "punch-clearance").unwrap();
        let words = remark.cures.iter().find_map(|cure| cure.strip_prefix("a radius of ")).unwrap();
        let radius: f64 = words.split(' ').next().unwrap().parse().unwrap();
        let q = SQRT_2 - 1.0;
        let round = [
            Vertex::new(-2.0, -2.0, 0.0),
            Vertex::new(2.0, -2.0, 0.0),
            Vertex::new(2.0, 0.0, 0.0),
            Vertex::new(radius, 0.0, -q),
            Vertex::new(0.0, radius, 0.0),
            Vertex::new(0.0, 2.0, 0.0),
            Vertex::new(-2.0, 2.0, 0.0),
        ];
        let cured = with_one_wire(Outline::new(round.to_vec()).unwrap(), 0.05, cut);
        near(punch(&cured).clearance_least.value_mm, 0.025, 1e-4);
        assert!(!codes(&cured).contains(&"punch-clearance"), "{:?}", cured.remarks);
    }
}

/// Compressive yield of D2 from its maker's sheet, and the working stress of 1500 above it all.
#[test]
fn stress_is_held_against_the_steel_at_its_hardness() {
    let limit = |more: &str| {
        let words = format!("length = 30{more}");
        strength(&plan(disk(5.0), &sheet(300.0, 1.0, 0.05), "pierce", &words)).stress_limit_mpa
    };
    assert_eq!(limit(""), 1500.0);
    assert_eq!(limit(", hardness_hrc = 62"), 1500.0);
    assert_eq!(limit(", hardness_hrc = 45"), 1400.0);
    assert_eq!(limit(", steel = \"M2\", hardness_hrc = 63"), 1500.0);
}

/// The shortest way from breaking to holding: 4 t tau/d against 1500.
#[test]
fn a_punch_that_is_too_thin_says_so() {
    let found = |d: f64| {
        plan(disk(d), &cutting_alone(750.0, 1.0, 0.05), "pierce", "length = 5, guided = \"stripper\"")
    };
    let (thin, thick) = (found(1.99), found(2.01));
    assert!(codes(&thin).contains(&"punch-stress") && !codes(&thick).contains(&"punch-stress"));
    assert!(!punch(&thin).holds && punch(&thick).holds);
    near(strength(&thin).smallest.across_by_stress_mm, 2.0, 1e-12);
    near(strength(&thin).smallest.across_mm, 1.99, 1e-6);
}

/// Smallest hole 1.2 thicknesses, in stainless 2 (design notes for stamped parts).
#[test]
fn the_smallest_punch_hangs_on_the_metal() {
    for (metal, factor) in [("CuSn6 half hard", 1.2), ("304 stainless soft", 2.0)] {
        let sheet = format!(
            "[sheet]\nmetal = \"{metal}\"\nthickness = 0.5\nclearance = 0.05\n[forces]\npush_through = 0\n"
        );
        for (d, small) in [(0.5 * factor - 0.01, true), (0.5 * factor + 0.01, false)] {
            let plan = plan(disk(d), &sheet, "pierce", "length = 5, guided = \"stripper\"");
            near(strength(&plan).smallest.width_by_metal_mm, 0.5 * factor, 1e-12);
            near(strength(&plan).smallest.width_mm, d, 1e-6);
            assert_eq!(codes(&plan).contains(&"punch-small"), small, "{metal} {d}");
        }
    }
}

/// A hardened backing above 138 N/mm2 under the head.
#[test]
fn the_head_bears_on_its_area() {
    let load = PI * 5.0 * 2.0 * 300.0;
    for (head, area, needed) in [
        (String::new(), PI * 6.25, true),
        (format!(", head_area = {:?}", load / 137.0), load / 137.0, false),
        (format!(", head_area = {:?}", load / 139.0), load / 139.0, true),
        (", head = [9, 8]".to_owned(), 72.0, false),
    ] {
        let plan = plan(disk(5.0), &cutting_alone(300.0, 2.0, 0.05), "pierce", &format!("length = 20{head}"));
        let found = strength(&plan);
        near(found.head_area_mm2, area, 1e-4);
        near(found.head_pressure_mpa, load / area, 1e-2);
        assert_eq!(found.backing_needed, needed, "{head}");
    }
}

/// Slugs in a straight land load the punch too; the answer parts that from cutting.
#[test]
fn slugs_load_the_punch() {
    let plan = plan(disk(3.0), &sheet(375.0, 0.2, 0.05), "pierce", "length = 20, guided = \"stripper\"");
    let (found, forces) = (strength(&plan), plan.sections[0].forces);
    near(found.load_n, forces.cutting_n.unwrap() + forces.push_through_n.unwrap(), 1e-9);
    near(found.stress_mpa / found.cutting_stress_mpa, found.load_n / forces.cutting_n.unwrap(), 1e-9);
}

#[test]
fn a_reserve_below_a_quarter_names_a_length_that_holds() {
    let at = |length: f64, guided: &str| {
        let words = format!("length = {length:?}, guided = \"{guided}\"");
        plan(disk(1.0), &cutting_alone(400.0, 0.5, 0.05), "pierce", &words)
    };
    let short = at(40.0, "free");
    let remark = short.remarks.iter().find(|remark| remark.code == "punch-buckles").unwrap();
    let words = remark.cures.iter().find_map(|cure| cure.strip_prefix("a length of ")).unwrap();
    let length: f64 = words.split(' ').next().unwrap().parse().unwrap();
    assert!(remark.cures.iter().any(|cure| cure.contains("stripper")));
    let reserve = strength(&at(length, "free")).buckling.reserve;
    assert!((1.25..1.3).contains(&reserve), "{reserve}");
    assert!(!codes(&at(length, "free")).contains(&"punch-buckles"));
    assert!(codes(&at(length + 0.2, "free")).contains(&"punch-buckles"));
}

#[test]
fn a_punch_that_the_clearance_parts_is_left_out_with_its_reason() {
    let bone = polygon(&[
        [-2.0, -1.0],
        [-1.0, -1.0],
        [-1.0, -0.2],
        [1.0, -0.2],
        [1.0, -1.0],
        [2.0, -1.0],
        [2.0, 1.0],
        [1.0, 1.0],
        [1.0, 0.2],
        [-1.0, 0.2],
        [-1.0, 1.0],
        [-2.0, 1.0],
    ]);
    let plan = plan(bone, &sheet(100.0, 1.0, 0.3), "blank", "length = 30");
    assert!(plan.sections[0].contours[0].punch.is_none());
    assert!(codes(&plan).contains(&"punch-not-planned"), "{:?}", plan.remarks);
}

#[test]
fn no_punch_is_planned_unless_the_job_asks() {
    let plan = Bench::new(disk(3.0), 20.0).sheet(&sheet(375.0, 0.2, 0.05)).edge("cut = \"pierce\"\n").plan();
    assert!(plan.sections[0].contours[0].punch.is_none() && codes(&plan).is_empty());
}
