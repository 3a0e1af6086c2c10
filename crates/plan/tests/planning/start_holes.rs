//! Six start holes worked by hand in `docs/start-holes.md`, against the planner.

use crate::bench::{Bench, rounded_rectangle};
use package::Contour;

/// Paper carries five decimals.
const PAPER: f64 = 6e-6;

fn shop(electrode: f64, wire: f64, allowance: &str) -> String {
    format!(
        "name = \"Paper\"\nunits = \"mm\"\ncurrency = \"EUR\"\n[[electrode]]\ndiameter = {electrode}\novercut = {}\n\
         [[wire]]\ndiameter = {wire}\ngap = {}\noffsets = {}\n{allowance}",
        overcut(electrode),
        wire / 10.0,
        offsets(wire)
    )
}

fn overcut(electrode: f64) -> f64 {
    match electrode {
        0.10 | 0.15 => 0.015,
        0.20 => 0.02,
        0.25 => 0.025,
        _ => 0.035,
    }
}

fn offsets(wire: f64) -> &'static str {
    if wire == 0.05 { "[0.039, 0.031, 0.028, 0.027]" } else { "[0.075, 0.059, 0.0545, 0.053]" }
}

fn line(contours: &Bench, key: &str) -> f64 {
    let plan = contours.plan();
    let found = plan.reckoning.iter().find(|line| line.key == format!("s.e.{key}"));
    found.unwrap_or_else(|| panic!("no line {key}")).value
}

fn near(what: &str, ours: f64, paper: f64) {
    assert!((ours - paper).abs() <= PAPER, "{what}: ours {ours}, on paper {paper}");
}

struct Paper {
    entry: f64,
    exit: f64,
    takes: [f64; 3],
    room: f64,
    largest: f64,
    shorts: bool,
}

fn check(bench: Bench, paper: Paper) -> Contour {
    near("entry", line(&bench, "start.hole_diameter_mm.entry"), paper.entry);
    near("exit", line(&bench, "start.hole_diameter_mm.exit"), paper.exit);
    let heights = ["at_face", "below_bellmouth", "at_bottom"];
    for (height, takes) in heights.iter().zip(paper.takes) {
        let ours = line(&bench, &format!("start.terms.{height}_mm"));
        assert!((ours - takes).abs() <= 6e-5, "{height}: ours {ours}, on paper {takes}");
    }
    near("room", line(&bench, "start.room_mm"), paper.room);
    near("largest", line(&bench, "start_limits.largest_hole_mm"), paper.largest);
    let contour = bench.plan().sections[0].contours[0].clone();
    let starts = paper.room >= 0.0 && !paper.shorts;
    assert_eq!(contour.start.is_some(), starts);
    contour
}

#[test]
fn hole_1_a_slot_that_only_just_can() {
    let bench = Bench::new(rounded_rectangle(2.22, 0.33, 0.06), 20.0).shop(&shop(0.20, 0.10, ""));
    let paper = Paper {
        entry: 0.260,
        exit: 0.220,
        takes: [0.1450, 0.1353, 0.1446],
        room: 0.00676,
        largest: 0.27352,
        shorts: false,
    };
    let contour = check(bench, paper);
    let need = |name: &str| contour.start_limits.bounds.iter().find(|b| b.bound == name).unwrap().need_mm;
    near("threading", need("threading"), 0.14);
    near("short", need("short"), 0.1792);
    near("linear", contour.start.unwrap().room_linear_mm, 0.165 - 0.145 - 0.015);
}

#[test]
fn hole_2_in_a_round_opening() {
    let bench = Bench::new(rounded_rectangle(1.22, 1.22, 0.61), 20.0).shop(&shop(0.50, 0.10, ""));
    let takes = [0.3230, 0.3053, 0.3118];
    check(bench, Paper { entry: 0.606, exit: 0.550, takes, room: 0.27376, largest: 1.15353, shorts: false });
}

#[test]
fn hole_3_is_refused() {
    let bench = Bench::new(rounded_rectangle(2.12, 0.23, 0.06), 20.0).shop(&shop(0.15, 0.05, ""));
    let takes = [0.1110, 0.1034, 0.1210];
    let contour = check(
        bench,
        Paper { entry: 0.196, exit: 0.160, takes, room: -0.01924, largest: 0.15753, shorts: false },
    );
    assert!(!contour.start_limits.cures.is_empty());
}

#[test]
fn hole_4_in_a_low_block() {
    let bench = Bench::new(rounded_rectangle(2.0, 0.20, 0.06), 8.0).shop(&shop(0.10, 0.05, ""));
    let takes = [0.0820, 0.0766, 0.0828];
    let contour = check(
        bench,
        Paper { entry: 0.142, exit: 0.110, takes, room: 0.00396, largest: 0.14993, shorts: true },
    );
    let short = contour.start_limits.bounds.iter().find(|b| b.bound == "short").unwrap();
    near("short", short.need_mm, 0.1136);
    assert!(!short.holds);
}

#[test]
fn hole_5_with_the_shops_own_allowances() {
    let own = "[allowance]\nposition = 0.003\nstand_off = 0.0\ndrift_per_mm = 0.001\nrecast = 0.010\n";
    let bench = Bench::new(rounded_rectangle(2.0, 0.40, 0.06), 20.0).shop(&shop(0.25, 0.10, own));
    let takes = [0.1770, 0.1653, 0.1750];
    check(bench, Paper { entry: 0.324, exit: 0.280, takes, room: 0.01679, largest: 0.35759, shorts: false });
}

#[test]
fn hole_6_in_inches() {
    let slot = rounded_rectangle(0.0712 * 25.4, 0.0332 * 25.4, 0.1524);
    let bench = Bench::new(slot, 19.05).shop(&shop(0.50, 0.10, ""));
    let takes = [0.3230, 0.3053, 0.3110];
    check(bench, Paper { entry: 0.606, exit: 0.550, takes, room: 0.08540, largest: 0.77681, shorts: false });
}
