//! Cutting design against published worked examples.

use crate::bench::{Bench, rounded_rectangle};
use package::Plan;

fn disk(diameter: f64) -> outline::Outline {
    rounded_rectangle(diameter, diameter, diameter / 2.0)
}

fn value(plan: &Plan, key: &str) -> f64 {
    plan.reckoning.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("no line {key}")).value
}

/// The bench's block is too small for these disks: their forces are read off disks scaled to a tenth, whose
/// perimeter is a tenth; the formula is linear in it.
const SCALE: f64 = 0.1;

/// Groover, Fundamentals of Modern Manufacturing, example on blanking clearance and force: disk 150 mm, 3.2 mm
/// half-hard cold-rolled steel, shear strength 310 MPa, allowance 0.075: clearance 0.24, F = 467 469 N.
#[test]
fn groovers_disk() {
    let sheet = "[sheet]\nshear_strength_mpa = 310\nthickness = 3.2\nclearance = 0.075\n";
    let pierce = Bench::new(disk(150.0 * SCALE), 20.0).sheet(sheet).edge("cut = \"pierce\"\n").plan();
    let contour = &pierce.sections[0].contours[0];
    assert!((contour.clearance_per_side_mm - 0.24).abs() < 1e-12);
    let force = pierce.sections[0].forces.cutting_n.unwrap() / SCALE;
    assert!((force - 467_469.0).abs() < 1.0, "{force}");
    // Die opening 150.00 when the part carries the size; the blanking punch would be 149.52.
    let blank = Bench::new(disk(150.0 * SCALE), 20.0).sheet(sheet).edge("cut = \"blank\"\n").plan();
    let blank = &blank.sections[0].contours[0];
    assert_eq!(blank.clearance_per_side_mm, 0.0);
    let width = |c: &package::Contour| {
        let xs = c.target.iter().map(|v| v[0]);
        xs.clone().fold(f64::MIN, f64::max) - xs.fold(f64::MAX, f64::min)
    };
    assert!((width(blank) - 15.0).abs() < 1e-9);
    assert!(
        (width(contour) - (15.0 + 2.0 * 0.24)).abs() < 1e-9,
        "the pierced hole's opening is larger by c all round"
    );
}

/// Textbook problem in Groover's form: disk 200, t 3, tau 300: F = 565 487 N.
#[test]
fn disk_of_200() {
    let sheet = "[sheet]\nshear_strength_mpa = 300\nthickness = 3\nclearance = 0.075\n";
    // A twentieth fits the block.
    let plan = Bench::new(disk(10.0), 20.0).sheet(sheet).edge("cut = \"blank\"\n").plan();
    let force = 20.0 * plan.sections[0].forces.cutting_n.unwrap();
    assert!((force - 565_487.0).abs() < 1.0, "{force}");
}

/// VDI 3368 / Oehler-Kaiser, from memory: c = k t sqrt(tau/10) with k 0.01; t 1, tau 360 gives 0.06. The source was
/// not read: this holds the formula to its own text, no more.
#[test]
fn clearance_by_the_root_of_shear() {
    let sheet = "[sheet]\nshear_strength_mpa = 360\nthickness = 1\nclearance_rule = \"root-of-shear\"\n";
    let plan = Bench::new(disk(8.0), 20.0).sheet(sheet).edge("cut = \"pierce\"\n").plan();
    assert!((value(&plan, "s.e.clearance_per_side_mm") - 0.06).abs() < 1e-12);
}

/// Trade notes on wire cutting: A2 is cut 5 to 10 % faster than D2.
#[test]
fn a2_is_cut_faster_than_d2() {
    let feed = |steel: &str| {
        let plan = Bench::new(disk(3.0), 20.0).steel(steel).plan();
        plan.sections[0].contours[0].wire.as_ref().unwrap().passes[0].feed_mm_per_min
    };
    let faster = feed("A2") / feed("D2");
    assert!((1.05..=1.10).contains(&faster), "{faster}");
}
