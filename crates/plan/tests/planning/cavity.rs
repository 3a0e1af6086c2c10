//! A section in its cavity: limits by ISO 286-1, clearance, pressing force, and grinding to a measured cavity.

use crate::bench::{Bench, rounded_rectangle};
use package::Cavity;

fn cavity(words: &str, radius: f64) -> (Cavity, Vec<String>) {
    let bench = Bench::new(rounded_rectangle(3.0, 2.0, radius), 20.0).section(&format!("cavity = {words}\n"));
    let plan = bench.plan();
    let codes = plan.remarks.iter().map(|remark| remark.code.clone()).collect();
    (plan.sections[0].cavity.clone().unwrap(), codes)
}

/// ISO 286-1: 24 H7 is 24.000 to 24.021, 24 k6 is 24.002 to 24.015; 16 H7 to 16.018, 16 k6 is 16.001 to 16.012.
#[test]
fn limits_of_a_published_fit() {
    let (found, codes) = cavity("{ fit = \"H7/k6\" }", 0.5);
    let close = |a: [f64; 2], b: [f64; 2]| {
        assert!((a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9, "{a:?} {b:?}")
    };
    close(found.sides[0].cavity_mm, [24.0, 24.021]);
    close(found.sides[0].section_mm, [24.002, 24.015]);
    close(found.sides[0].clearance_mm, [-0.015, 0.019]);
    close(found.sides[1].section_mm, [16.001, 16.012]);
    close(found.sides[1].clearance_mm, [-0.012, 0.017]);
    // By hand: 210000 * (0.015/24 * 16 + 0.012/16 * 24) * 20 * 2 * 0.15, E from memory.
    let force = 210_000.0 * (0.015 / 24.0 * 16.0 + 0.012 / 16.0 * 24.0) * 20.0 * 0.3;
    assert!((found.press_force_n - force).abs() < 1e-6 * force, "{} {force}", found.press_force_n);
    assert!(!codes.contains(&"interference-at-sharp-corners".to_owned()));
}

#[test]
fn interference_around_sharp_corners_is_warned_of_and_clearance_is_not() {
    let sharp = "interference-at-sharp-corners".to_owned();
    assert!(cavity("{ fit = \"H7/k6\" }", 0.15).1.contains(&sharp));
    let (clears, codes) = cavity("{ fit = \"H7/g6\" }", 0.15);
    assert!(!codes.contains(&sharp) && clears.press_force_n == 0.0, "{clears:?}");
}

/// A block of 24 x 16 is neither ground up to a wider cavity nor down by a millimetre without a word.
#[test]
fn a_measured_cavity_of_another_size_is_warned_of() {
    let off = "cavity-off-size".to_owned();
    for (measured, warned) in
        [("24.05, 16.0", false), ("24.2, 16.0", true), ("24.0, 15.0", true), ("23.95, 16.05", false)]
    {
        let (_, codes) = cavity(&format!("{{ measured = [{measured}] }}"), 0.5);
        assert_eq!(codes.contains(&off), warned, "{measured}");
    }
}

#[test]
fn a_measured_cavity_is_ground_to() {
    let (found, _) = cavity("{ measured = [24.012, 16.007], clearance = 0.004 }", 0.5);
    assert!((found.sides[0].section_mm[0] - 24.008).abs() < 1e-9 && found.fit.is_none());
    assert!((found.sides[1].clearance_mm[0] - 0.004).abs() < 1e-9);
    let (found, _) = cavity("{ measured = [24.012, 16.007] }", 0.5);
    assert!((found.sides[1].section_mm[1] - 16.004).abs() < 1e-9);
}

#[test]
fn a_block_beyond_the_table_of_fits_is_refused_with_a_cure() {
    let faults = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 20.0)
        .size([200.0, 100.0])
        .section("cavity = { fit = \"H7/h6\" }\n")
        .planned()
        .unwrap_err();
    assert!(
        faults.iter().any(|fault| fault.code == "fit" && fault.message.contains("ends at 180")),
        "{faults:?}"
    );
}
