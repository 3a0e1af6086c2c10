//! The force of a stroke over its way: punches of different lengths, shear on faces, and what would spread the load.

use crate::bench::{Bench, rounded_rectangle};
use outline::Outline;
use package::{Plan, Stroke};

const SCALE: f64 = 0.1;

fn disk(diameter: f64) -> Outline {
    rounded_rectangle(SCALE * diameter, SCALE * diameter, SCALE * diameter / 2.0)
}

#[track_caller]
fn near(ours: f64, wanted: f64, by: f64) {
    assert!((ours - wanted).abs() <= by, "ours {ours}, wanted {wanted}");
}

fn stroke(plan: &Plan) -> &Stroke {
    plan.stroke.as_ref().unwrap()
}

/// Nothing but cutting: a fixed stripper, slugs that fall freely.
fn sheet(tau: f64, t: f64, penetration: f64) -> String {
    format!(
        "[sheet]\nshear_strength_mpa = {tau:?}\nthickness = {t:?}\nclearance = 0.05\n[forces]\nstripper = \"fixed\"\npush_through = 0\npenetration = {penetration:?}\n"
    )
}

/// P. C. Sharma, Production Engineering, chapter 2: washer 25.4/12.7, t 1.5, tau 280: together 50.27 kN, staggered 33.51.
#[test]
fn a_staggered_washer() {
    let plan = |enters: f64| {
        let bench = Bench::new(disk(25.4), 20.0).sheet(&sheet(280.0, 1.5, 0.5)).edge("cut = \"blank\"\n");
        bench.and(disk(12.7), [6.0, 0.0], &format!("cut = \"pierce\"\nenters = {enters:?}\n")).plan()
    };
    let most = |enters: f64| plan(enters).press.unwrap().needed_n / SCALE;
    near(most(0.0), 50_270.0, 5.0);
    near(most(1.5), 33_510.0, 5.0);
    near(most(0.749), 50_270.0, 5.0);
    near(most(0.75), 33_510.0, 5.0);
    let staggered = plan(1.5);
    assert_eq!(stroke(&staggered).peak_at_mm, 0.0);
    assert_eq!(stroke(&staggered).entries[1].edge, "s.e2");
    // The sums of the section stay what all edges take together.
    near(staggered.press.unwrap().forces.cutting_n.unwrap() / SCALE, 50_270.0, 5.0);
}

/// The same companion: disk 60, t 2.5, tau 450, penetration 0.4: shear of 1 halves the force.
#[test]
fn shear_that_halves_the_force() {
    let most = |shear: f64| {
        let edge = format!("cut = \"blank\"\nshear = {shear:?}\n");
        Bench::new(disk(60.0), 20.0).sheet(&sheet(450.0, 2.5, 0.4)).edge(&edge).plan()
    };
    let flat = most(0.0);
    near(stroke(&flat).peak_n / SCALE, 212_058.0, 1.0);
    let half = most(1.0);
    near(stroke(&half).peak_n / SCALE, 106_029.0, 1.0);
    near(stroke(&half).entries[0].cuts_for_mm, 2.0, 1e-12);
    assert_eq!(half.sections[0].forces.cutting_n, flat.sections[0].forces.cutting_n);
}

/// Area below the force: the work of cutting, whatever is staggered or ground.
fn work(stroke: &Stroke) -> f64 {
    stroke.force_plot.windows(2).map(|pair| (pair[1][0] - pair[0][0]) * (pair[0][1] + pair[1][1]) / 2.0).sum()
}

#[test]
fn staggering_and_shear_keep_the_work() {
    let plan = |words: [&str; 3]| {
        let edge = |i: usize| format!("cut = \"pierce\"\n{}", words[i]);
        Bench::new(disk(30.0), 20.0)
            .sheet(&sheet(375.0, 0.8, 0.4))
            .edge(&edge(0))
            .and(disk(20.0), [6.0, 0.0], &edge(1))
            .and(disk(10.0), [-6.0, 0.0], &edge(2))
            .plan()
    };
    let flat = plan(["", "", ""]);
    let all: f64 = flat.press.unwrap().forces.cutting_n.unwrap();
    near(work(stroke(&flat)), all * 0.32, 1e-6);
    near(stroke(&flat).peak_n, all, 1e-6);
    for words in [
        ["", "enters = 0.1\n", "enters = 0.9\n"],
        ["enters = 0.5\n", "shear = 0.3\n", "enters = 0.32\n"],
        ["shear = 0.1\n", "shear = 0.1\nenters = 0.2\n", "shear = 2.0\n"],
    ] {
        let found = plan(words);
        near(work(stroke(&found)), all * 0.32, 1e-6);
        let highest = stroke(&found).force_plot.iter().map(|step| step[1]).fold(0.0, f64::max);
        near(stroke(&found).peak_n, highest, 1e-6);
        assert!(highest < all);
        assert!(stroke(&found).force_plot.last().unwrap()[1].abs() < 1e-6);
        assert!(stroke(&found).entries.windows(2).all(|pair| pair[0].enters_mm <= pair[1].enters_mm));
    }
}

/// By hand: 100 per mm of edge times 0.5; punches of 9.42, 6.28 and 3.14 around; the middle one enters while the first cuts.
#[test]
fn a_peak_in_the_middle_of_the_stroke() {
    let edge = |enters: f64| format!("cut = \"pierce\"\nenters = {enters:?}\n");
    let plan = Bench::new(disk(10.0), 20.0)
        .sheet(&sheet(100.0, 0.5, 0.5))
        .edge(&edge(0.0))
        .and(disk(20.0), [6.0, 0.0], &edge(1.0))
        .and(disk(30.0), [-6.0, 0.0], &edge(1.2))
        .plan();
    let pi = std::f64::consts::PI;
    near(stroke(&plan).peak_at_mm, 1.2, 0.0);
    near(stroke(&plan).peak_n, 50.0 * (2.0 * pi + 3.0 * pi), 1e-6);
}

/// Slugs go on being pushed after their edge has cut, and springs bear all the way.
#[test]
fn slugs_and_springs_go_on() {
    let sheet = "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\n";
    let plan = Bench::new(disk(20.0), 20.0)
        .sheet(sheet)
        .edge("cut = \"pierce\"\n")
        .and(disk(10.0), [6.0, 0.0], "cut = \"pierce\"\nenters = 0.2\n")
        .plan();
    let value = |key: &str| plan.reckoning.iter().find(|line| line.key == key).unwrap().value;
    let press = plan.press.unwrap();
    let pushed = press.forces.push_through_n.unwrap();
    let springs = press.forces.stripping_n.unwrap();
    // When the second enters the first cuts no more, but both push.
    near(press.needed_n, value("s.e2.forces.cutting_n") + pushed + springs, 1e-6);
    near(stroke(&plan).force_plot.last().unwrap()[1], pushed + springs, 1e-6);
}

/// A press that is short: the lengths that are offered give the force that is promised.
#[test]
fn the_lengths_that_are_offered_keep_their_promise() {
    let words = |enters: f64| format!("cut = \"pierce\"\nenters = {enters:?}\n");
    let plan = |enters: [f64; 3]| {
        Bench::new(disk(30.0), 20.0)
            .sheet(&sheet(375.0, 0.8, 0.4))
            .edge(&words(enters[0]))
            .and(disk(20.0), [6.0, 0.0], &words(enters[1]))
            .and(disk(10.0), [-6.0, 0.0], &words(enters[2]))
            .shop("[press]\nforce_kn = 4.0\nuse_at_most = 0.8\n")
            .plan()
    };
    let short = plan([0.0, 0.0, 0.0]);
    let remark = short.remarks.iter().find(|remark| remark.code == "press-short").unwrap();
    let cure = remark.cures.iter().find(|cure| cure.starts_with("punches of ")).unwrap();
    assert!(
        cure.starts_with("punches of 2 lengths, each 0.80 shorter than the one before: s.e2, s.e3; then s.e"),
        "{cure}"
    );
    let promised: f64 = cure.split("gives ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    let cured = plan([0.8, 0.0, 0.0]);
    near(cured.press.unwrap().needed_n / 1000.0, promised, 0.05);
    assert!(cured.press.unwrap().holds && !cured.remarks.iter().any(|remark| remark.code == "press-short"));
    let shear = remark.cures.iter().find(|cure| cure.starts_with("shear of one thickness")).unwrap();
    let all = short.press.unwrap().needed_n;
    assert!(shear.contains(&format!("{:.1} kN", all * 0.32 / 1.12 / 1000.0)), "{shear} {all}");
}
