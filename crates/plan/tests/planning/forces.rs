//! Forces of a stroke against published worked examples, and what must hold of sums and of the press.
//!
//! The bench's block is too small for most of the published parts: they are scaled to a tenth in the plane. Forces and
//! works are then a tenth, since they are linear in the length that is cut.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Point, Vector, Vertex};
use package::{Plan, Press};

const SCALE: f64 = 0.1;

fn disk(diameter: f64) -> Outline {
    rounded_rectangle(SCALE * diameter, SCALE * diameter, SCALE * diameter / 2.0)
}

fn sharp(width: f64, height: f64) -> Outline {
    let (x, y) = (width / 2.0, height / 2.0);
    Outline::new([[-x, -y], [x, -y], [x, y], [-x, y]].map(|[x, y]| Vertex::new(x, y, 0.0)).to_vec()).unwrap()
}

fn value(plan: &Plan, key: &str) -> f64 {
    plan.reckoning.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("no line {key}")).value
}

fn press(plan: &Plan) -> Press {
    plan.press.unwrap()
}

#[track_caller]
fn near(ours: f64, published: f64, by: f64) {
    assert!((ours - published).abs() <= by, "ours {ours}, published {published}");
}

const PIERCE: &str = "cut = \"pierce\"\n";
const BLANK: &str = "cut = \"blank\"\n";

/// P. C. Sharma, Production Engineering, example 2.1 (textbook companion): washer 50/24, t 4, tau 360: blanking
/// 226.2 kN and piercing 108.6 kN, together 334.8 kN.
#[test]
fn a_washer_blanked_and_pierced() {
    let sheet = "[sheet]\nshear_strength_mpa = 360\nthickness = 4\nclearance = 0.05\n";
    let bench = Bench::new(disk(50.0), 20.0).sheet(sheet).edge(BLANK);
    let plan = bench.and(disk(24.0), [6.0, 0.0], PIERCE).plan();
    near(value(&plan, "s.e.forces.cutting_n") / SCALE, 226_195.0, 1.0);
    near(value(&plan, "s.e2.forces.cutting_n") / SCALE, 108_573.0, 1.0);
    near(plan.sections[0].forces.cutting_n.unwrap() / SCALE, 334_768.0, 1.0);
    near(press(&plan).forces.cutting_n.unwrap() / SCALE, 334_768.0, 1.0);
}

/// The same companion, chapter 2: washer 25.4/12.7, t 1.5, tau 280: both at once 50.27 kN.
#[test]
fn a_small_washer() {
    let sheet = "[sheet]\nshear_strength_mpa = 280\nthickness = 1.5\nclearance = 0.05\n";
    let bench = Bench::new(disk(25.4), 20.0).sheet(sheet).edge(BLANK);
    let plan = bench.and(disk(12.7), [6.0, 0.0], PIERCE).plan();
    near(press(&plan).forces.cutting_n.unwrap() / SCALE, 50_270.0, 5.0);
}

/// The same companion, chapter 2: disk 60, t 2.5, tau 450, penetration 0.4: F 212.1 kN, work 212 J.
#[test]
fn work_of_a_disk() {
    let sheet =
        "[sheet]\nshear_strength_mpa = 450\nthickness = 2.5\nclearance = 0.05\n[forces]\npenetration = 0.4\n";
    let plan = Bench::new(disk(60.0), 20.0).sheet(sheet).edge(BLANK).plan();
    near(value(&plan, "s.e.forces.cutting_n") / SCALE, 212_058.0, 1.0);
    near(value(&plan, "s.e.forces.cutting_work_j") / SCALE, 212.0, 0.1);
}

/// Kalpakjian and Schmid, Manufacturing Engineering and Technology, punching: hole 25, t 3.2, UTS 1000:
/// 0.7 t L UTS = 175.9 kN.
#[test]
fn from_the_tensile_strength() {
    let sheet = "[sheet]\ntensile_strength_mpa = 1000\nshear_rule = \"seven-tenths\"\nthickness = 3.2\nclearance = 0.05\n";
    let plan = Bench::new(disk(25.0), 20.0).sheet(sheet).edge(PIERCE).plan();
    near(plan.sections[0].forces.cutting_n.unwrap() / SCALE, 175_929.0, 1.0);
}

/// mechref.org, sheet-metal design: square of 8, t 2, UTS 500: 22.4 kN.
#[test]
fn a_square_from_the_tensile_strength() {
    let sheet = "[sheet]\ntensile_strength_mpa = 500\nshear_rule = \"seven-tenths\"\nthickness = 2\nclearance = 0.05\n";
    let plan = Bench::new(sharp(8.0, 8.0), 20.0).sheet(sheet).edge(BLANK).plan();
    near(plan.sections[0].forces.cutting_n.unwrap(), 22_400.0, 1e-9);
}

/// Press-tool lecture notes: length 126, t 2, tau 400: 100.8 kN, with 20 % stripping 120.96 kN.
#[test]
fn stripping_by_a_fifth() {
    let sheet = "[sheet]\nshear_strength_mpa = 400\nthickness = 2\nclearance = 0.05\n[forces]\nstripping_rule = \"fifth\"\npush_through = 0\n";
    let plan = Bench::new(sharp(4.3, 2.0), 20.0).sheet(sheet).edge(BLANK).plan();
    near(plan.sections[0].forces.cutting_n.unwrap() / SCALE, 100_800.0, 1e-6);
    near(press(&plan).needed_n / SCALE, 120_960.0, 1e-6);
}

/// A course design on a steel washer 3 mm thick, from course notes on stamping: cutting 78.325 kN, stripping 3.133 kN, pushing one
/// slug through 3.525 kN.
#[test]
fn shares_by_thickness() {
    let tau = 78_325.0 / (126.0 * 3.0);
    let sheet = format!(
        "[sheet]\nshear_strength_mpa = {tau}\nthickness = 3\nclearance = 0.05\n[forces]\nstripping_rule = \"by-thickness\"\n"
    );
    let plan = Bench::new(sharp(4.3, 2.0), 3.0).sheet(&sheet).edge(BLANK).plan();
    assert_eq!(value(&plan, "s.forces.slugs_held"), 1.0);
    near(plan.sections[0].forces.stripping_n.unwrap() / SCALE, 3133.0, 0.5);
    near(plan.sections[0].forces.push_through_n.unwrap() / SCALE, 3525.0, 0.5);
}

/// Schuler, Metal Forming Handbook: stripping to 20 % at two thicknesses across, to 5 % at ten, and less in between.
#[test]
fn stripping_by_size() {
    let share = |across: f64| {
        let sheet = "[sheet]\nshear_strength_mpa = 300\nthickness = 0.5\nclearance = 0.05\n";
        let plan = Bench::new(disk(across * 0.5 / SCALE), 20.0).sheet(sheet).edge(PIERCE).plan();
        let forces = plan.sections[0].forces;
        forces.stripping_n.unwrap() / forces.cutting_n.unwrap()
    };
    let found = [1.5, 2.0, 4.0, 6.0, 10.0, 20.0].map(share);
    for (ours, wanted) in found.into_iter().zip([0.2, 0.2, 0.1625, 0.125, 0.05, 0.05]) {
        near(ours, wanted, 1e-9);
    }
}

/// The land over the thickness: 3 at 0.2 holds 15.
#[test]
fn slugs_in_the_land() {
    for (height, t, held) in
        [(3.0, 0.2, 15.0), (20.0, 0.2, 100.0), (19.05, 0.254, 75.0), (20.0, 3.0, 7.0), (3.0, 0.7, 5.0)]
    {
        let sheet = format!(
            "[sheet]\nshear_strength_mpa = 300\nthickness = {t}\nclearance = 0.02\n[forces]\npush_through = 0.055\n"
        );
        let plan = Bench::new(disk(30.0), height).sheet(&sheet).edge(PIERCE).plan();
        assert_eq!(value(&plan, "s.forces.slugs_held"), held, "{height} of {t}");
        let forces = plan.sections[0].forces;
        near(forces.push_through_n.unwrap(), 0.055 * held * forces.cutting_n.unwrap(), 1e-9);
        let (pushing, cutting) =
            (forces.push_through_n.unwrap() * t / 1000.0, 0.5 * forces.cutting_n.unwrap() * t / 1000.0);
        near(forces.work_j.unwrap(), pushing + cutting, 1e-12);
        let packed = plan.remarks.iter().any(|remark| remark.code == "slugs-packed");
        assert_eq!(packed, forces.push_through_n > forces.cutting_n);
    }
}

/// Too many slugs in a straight land ask for relief; below a relief for a shorter land; where both are had, for neither.
#[test]
fn slugs_that_pack_name_what_is_not_had_yet() {
    let cures = |words: &str| {
        let sheet = "[sheet]\nshear_strength_mpa = 300\nthickness = 0.2\nclearance = 0.02\n[forces]\npush_through = 0.9\n";
        let plan = Bench::new(disk(30.0), 20.0).sheet(sheet).edge(PIERCE).relief(words).plan();
        let packed = plan.remarks.into_iter().find(|remark| remark.code == "slugs-packed");
        packed.unwrap_or_else(|| panic!("not packed: {words}")).cures
    };
    assert!(cures("relief_deg = 0\n")[0].contains("relief below a land of about 1.0"));
    let long = cures("land = 5\nrelief_deg = 0.5\n");
    assert!(long[0].starts_with("a shorter land, about 1.0"), "{long:?}");
    let short = cures("land = 1\nrelief_deg = 0.5\n");
    assert!(short.len() == 1 && short[0].contains("push_through"), "{short:?}");
}

const SHEET: &str = "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\n";

#[test]
fn a_finished_edge_cuts_no_sheet() {
    let one = Bench::new(disk(20.0), 20.0).sheet(SHEET).edge(PIERCE);
    let two = one.clone().and(disk(10.0), [5.0, 0.0], "cut = \"finished\"\n").plan();
    assert_eq!(one.plan().sections[0].forces, two.sections[0].forces);
    let none = Bench::new(disk(20.0), 20.0).sheet(SHEET).plan();
    assert_eq!((none.sections[0].forces, none.press), (package::Forces::default(), None));
}

#[test]
fn placing_turning_and_mirroring_change_no_force() {
    let shape = sharp(2.0, 1.0).moved(Vector::new(0.3, -0.2));
    let all =
        |outline: Outline| Bench::new(outline, 20.0).sheet(SHEET).edge(PIERCE).plan().sections[0].forces;
    let base = all(shape.clone());
    let origin = Point::new(0.0, 0.0);
    for other in [
        shape.moved(Vector::new(4.0, 2.0)),
        shape.turned(origin, 0.7),
        shape.mirrored_x(),
        shape.starting_at(2),
    ] {
        let found = all(other);
        near(found.cutting_n.unwrap(), base.cutting_n.unwrap(), 1e-9);
        near(found.stripping_n.unwrap(), base.stripping_n.unwrap(), 1e-9);
        near(found.push_through_n.unwrap(), base.push_through_n.unwrap(), 1e-9);
        near(found.work_j.unwrap(), base.work_j.unwrap(), 1e-9);
    }
}

/// The force that decides: just within the share of the rating that a die may take, and just beyond.
#[test]
fn the_press_holds_up_to_its_share() {
    let load = |more: &str, kn: f64| {
        let shop = format!("[press]\nforce_kn = {kn:?}\nuse_at_most = 0.8\n");
        Bench::new(disk(20.0), 20.0).sheet(&format!("{SHEET}{more}")).edge(PIERCE).shop(&shop).plan()
    };
    let forces = press(&load("", 250.0)).forces;
    let [cutting, stripping, pushing] =
        [forces.cutting_n, forces.stripping_n, forces.push_through_n].map(Option::unwrap);
    for (more, needed) in
        [("", cutting + stripping + pushing), ("[forces]\nstripper = \"fixed\"\n", cutting + pushing)]
    {
        for (share, holds) in [(0.799, true), (0.801, false)] {
            let plan = load(more, needed / share / 1000.0);
            let press = press(&plan);
            near(press.needed_n, needed, 1e-9);
            near(press.share, share, 1e-12);
            near(press.reserve_n, needed * (0.8 / share - 1.0), 1e-6);
            assert_eq!(press.holds, holds);
            assert!(plan.sections[0].makeable, "the section can be made whatever press it runs in");
            let short = plan.remarks.iter().find(|remark| remark.code == "press-short");
            assert_eq!(short.is_some(), !holds);
            assert!(short.is_none_or(|remark| remark.cures.len() >= 3));
        }
    }
}
