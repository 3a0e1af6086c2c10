//! Size by the direction of wear, and the corners that the print allows.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use package::{Contour, Plan};

const SHEET: &str = "[sheet]\nshear_strength_mpa = 300\nthickness = 0.4\nclearance = 0.05\n";

fn polygon(corners: &[[f64; 2]]) -> Outline {
    Outline::new(corners.iter().map(|[x, y]| Vertex::new(*x, *y, 0.0)).collect()).unwrap()
}

fn sharp(width: f64, height: f64) -> Outline {
    let (x, y) = (width / 2.0, height / 2.0);
    polygon(&[[-x, -y], [x, -y], [x, y], [-x, y]])
}

fn plan(outline: Outline, words: &str) -> Plan {
    Bench::new(outline, 20.0).sheet(SHEET).edge(words).plan()
}

fn only(plan: &Plan) -> &Contour {
    &plan.sections[0].contours[0]
}

/// Width and height of the finished edge.
fn across(contour: &Contour) -> [f64; 2] {
    [0, 1].map(|k| {
        let all = contour.target.iter().map(|v| v[k]);
        all.clone().fold(f64::MIN, f64::max) - all.fold(f64::MAX, f64::min)
    })
}

#[track_caller]
fn near(ours: f64, wanted: f64) {
    assert!((ours - wanted).abs() < 1e-9, "ours {ours}, wanted {wanted}");
}

/// Worked by hand: a hole of 3 x 2, -0.02/+0.03, edge +-0.005. The punch starts at the largest hole less what the edge
/// may be off: 0.015 - 0.005 = 0.010 a side; the opening has 0.02 of clearance besides.
#[test]
fn a_pierced_hole_starts_large() {
    let words = "cut = \"pierce\"\ntolerance = 0.005\npart_tolerance = { minus = 0.02, plus = 0.03 }\n";
    let plan = plan(rounded_rectangle(3.0, 2.0, 0.4), words);
    let contour = only(&plan);
    near(contour.size_shift_per_side_mm.unwrap(), 0.010);
    near(contour.clearance_per_side_mm, 0.02);
    near(across(contour)[0], 3.0 + 2.0 * 0.03);
    near(across(contour)[1], 2.0 + 2.0 * 0.03);
}

/// A size that must be smaller than drawn by more than the clearance: the opening is shrunk, and clears the punch still.
#[test]
fn a_pierced_hole_may_end_below_its_drawing() {
    let words = "cut = \"pierce\"\ntolerance = 0.005\npart_tolerance = { minus = 0.08, plus = -0.05 }\n";
    let plan = plan(sharp(3.0, 2.0), &format!("{words}{ROOMY}"));
    near(only(&plan).size_shift_per_side_mm.unwrap(), -0.030);
    near(across(only(&plan))[0], 3.0 - 2.0 * 0.01);
}

/// Worked by hand: a blank of 3 x 2, -0.03/+0.02, edge +-0.005: the opening starts 0.015 - 0.005 = 0.010 a side below.
#[test]
fn a_blank_starts_small() {
    let words = "cut = \"blank\"\ntolerance = 0.005\npart_tolerance = { minus = 0.03, plus = 0.02 }\n";
    let plan = plan(rounded_rectangle(3.0, 2.0, 0.4), words);
    let contour = only(&plan);
    near(contour.size_shift_per_side_mm.unwrap(), -0.010);
    assert_eq!(contour.clearance_per_side_mm, 0.0);
    near(across(contour)[0], 3.0 - 0.02);
    near(across(contour)[1], 2.0 - 0.02);
}

#[test]
fn without_a_tolerance_the_size_is_as_drawn() {
    for words in ["cut = \"blank\"\n", "cut = \"finished\"\n"] {
        let plan = plan(rounded_rectangle(3.0, 2.0, 0.4), words);
        assert_eq!(only(&plan).size_shift_per_side_mm, Some(0.0));
        assert_eq!(only(&plan).target, only(&plan).drawn);
    }
}

/// Two sizes of one side: the hole may only be smaller, the blank only larger. And a tolerance that the edge alone uses
/// up: the middle of it, with a warning.
#[test]
fn limits_on_one_side_and_limits_too_tight() {
    let shift = |words: &str| {
        let plan = plan(rounded_rectangle(3.0, 2.0, 0.4), &format!("tolerance = 0.005\n{words}"));
        let tight = plan.remarks.iter().any(|remark| remark.code == "part-tolerance-tight");
        (only(&plan).size_shift_per_side_mm.unwrap(), tight)
    };
    let one = |words: &str, wanted: f64, warned: bool| {
        let (found, tight) = shift(words);
        near(found, wanted);
        assert_eq!(tight, warned, "{words}");
    };
    one("cut = \"pierce\"\npart_tolerance = { minus = 0.05, plus = 0 }\n", -0.005, false);
    one("cut = \"blank\"\npart_tolerance = { minus = 0, plus = 0.05 }\n", 0.005, false);
    one("cut = \"pierce\"\npart_tolerance = { minus = -0.02, plus = 0.05 }\n", 0.02, false);
    one("cut = \"pierce\"\npart_tolerance = { minus = 0, plus = 0.01 }\n", 0.0025, true);
    one("cut = \"blank\"\npart_tolerance = { minus = 0.004, plus = 0.004 }\n", 0.0, true);
}

/// A blank that is shrunk keeps its sharp convex corners, and gets round ones where the part is concave.
#[test]
fn a_shrunk_ell_has_its_area_by_hand() {
    let ell = polygon(&[[-2.0, -2.0], [2.0, -2.0], [2.0, 0.0], [0.0, 0.0], [0.0, 2.0], [-2.0, 2.0]]);
    let words = "cut = \"blank\"\ntolerance = 0.005\npart_tolerance = { minus = 0.09, plus = 0 }\ncorner_tolerance = 0.2\n";
    let plan = plan(ell, words);
    let s = 0.04;
    near(only(&plan).size_shift_per_side_mm.unwrap(), -s);
    let vertices = only(&plan).target.iter().map(|v| Vertex::new(v[0], v[1], v[2])).collect();
    // Twelve less a strip along 16, five corners counted twice, and the quarter disc of the concave corner for its square.
    let by_hand = 12.0 - 16.0 * s + 5.0 * s * s - (std::f64::consts::FRAC_PI_4) * s * s;
    near(Outline::new(vertices).unwrap().area(), by_hand);
}

#[test]
fn a_blank_that_is_taken_away_or_falls_apart_contradicts_the_job() {
    let bar = |half: f64| {
        polygon(&[
            [-2.0, -1.0],
            [-1.0, -1.0],
            [-1.0, -half],
            [1.0, -half],
            [1.0, -1.0],
            [2.0, -1.0],
            [2.0, 1.0],
            [1.0, 1.0],
            [1.0, half],
            [-1.0, half],
            [-1.0, 1.0],
            [-2.0, 1.0],
        ])
    };
    let words =
        |minus: f64| format!("cut = \"blank\"\npart_tolerance = {{ minus = {minus:?}, plus = 0.0 }}\n");
    for (outline, minus, code) in [(sharp(3.0, 0.04), 0.06, "size-vanishes"), (bar(0.02), 0.06, "size-parts")]
    {
        let faults = Bench::new(outline, 20.0).sheet(SHEET).edge(&words(minus)).planned().unwrap_err();
        assert_eq!(faults[0].code, code, "{faults:?}");
    }
}

fn bound<'a>(contour: &'a Contour, name: &str) -> Option<&'a package::Bound> {
    contour.start_limits.bounds.iter().find(|bound| bound.bound == name)
}

const ROOMY: &str = "corner_tolerance = 0.2\n";

/// The opening's corner has the radius of the last pass, R. A pierced part's is the punch's: R less the clearance.
#[test]
fn the_part_s_corner_is_the_opening_s_or_the_punch_s() {
    for (cut, clearance) in [("pierce", 0.02), ("blank", 0.0), ("finished", 0.0)] {
        let words = format!("cut = \"{cut}\"\n{ROOMY}corner_radius = 0.3\n");
        let plan = plan(sharp(3.0, 2.0), &words);
        let contour = only(&plan);
        let last = contour.wire.as_ref().unwrap().passes.last().unwrap().offset_mm;
        let bound = bound(contour, "print-radius").unwrap();
        near(bound.need_mm, last - clearance);
        assert_eq!((bound.have_mm, bound.holds, contour.corner_radius_mm), (0.3, true, Some(0.3)));
    }
}

#[test]
fn the_print_s_radius_decides_the_wire_beside_the_metal_left() {
    let made = |radius: &str| {
        let plan = plan(sharp(3.0, 2.0), &format!("cut = \"pierce\"\n{ROOMY}{radius}"));
        let contour = only(&plan).clone();
        let wire =
            contour.wire.as_ref().map(|wire| (wire.diameter_mm, wire.passes.last().unwrap().offset_mm));
        (wire, contour, plan)
    };
    let (free, contour, _) = made("");
    let (wide, r) = free.unwrap();
    assert!(bound(&contour, "print-radius").is_none() && contour.corner_radius_mm.is_none());
    let (held, ..) = made(&format!("corner_radius = {:?}\n", r - 0.02 + 1e-6));
    assert_eq!(held, free, "a radius that just allows the wire changes nothing");
    let (finer, ..) = made(&format!("corner_radius = {:?}\n", r - 0.02 - 1e-3));
    let (diameter, offset) = finer.unwrap();
    assert!(diameter < wide && offset - 0.02 <= r - 0.02 - 1e-3);
    let (none, contour, plan) = made("corner_radius = 0.001\n");
    assert!(none.is_none() && !plan.sections[0].makeable);
    let bound = bound(&contour, "print-radius").unwrap();
    assert!(!bound.holds);
    let cures: Vec<&str> = contour.start_limits.cures.iter().map(|cure| cure.change.as_str()).collect();
    assert!(cures.iter().any(|cure| cure.contains("finer than")), "{cures:?}");
    let larger = format!("corner_radius of {:.3} or more", (bound.need_mm * 1000.0).ceil() / 1000.0);
    assert!(cures.iter().any(|cure| cure.contains(&larger)), "{cures:?} {larger}");
    assert!(plan.remarks.iter().any(|remark| remark.message.contains("on the part's corners")));
}

/// Corners that the wire reaches stay as drawn, however round: the print drew them so.
#[test]
fn corners_that_are_reached_are_the_print_s_own() {
    let plan = plan(rounded_rectangle(3.0, 2.0, 0.4), "cut = \"blank\"\ncorner_radius = 0.0\n");
    let bound = bound(only(&plan), "print-radius").unwrap();
    assert_eq!((bound.need_mm, bound.holds), (0.0, true));
}
