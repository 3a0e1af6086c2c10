//! The alignment budget, by hand.

use crate::bench::{Bench, rounded_rectangle};
use package::Alignment;

/// 0.5 mm sheet with 8 % clearance: 0.04 a side, of which a fifth may be used: 0.008.
fn alignment(cavity: &str) -> Option<Alignment> {
    let bench = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 20.0)
        .sheet("[sheet]\nshear_strength_mpa = 300\nthickness = 0.5\nclearance = 0.08\n")
        .edge("cut = \"pierce\"\n")
        .section(cavity);
    bench.plan().sections[0].alignment.clone()
}

#[test]
fn limits_add_and_add_in_squares() {
    let found = alignment("").unwrap();
    assert!((found.allowed_mm - 0.008).abs() < 1e-12);
    // Example shop: pick-up 3, positioning 2, squareness 2 over 20 mm, punch 2 um.
    let first = &found.ways[0];
    assert!((first.worst_mm - 0.009).abs() < 1e-12 && (first.root_mm - 21f64.sqrt() / 1000.0).abs() < 1e-12);
    assert!(first.attack == "pick-up" && first.holds);
    // One set-up drops the pick-up, grinding afterwards brings a measuring error.
    assert!((found.ways[1].root_mm - 12f64.sqrt() / 1000.0).abs() < 1e-12);
    assert!((found.ways[2].root_mm - 0.004).abs() < 1e-12);
    // Radial and Rayleigh with a sigma of sqrt(21)/3 um: P = 1 - exp(-64 / (2 * 21/9)), here within 0.4 %.
    let exact = 1.0 - (-64.0 / (2.0 * 21.0 / 9.0_f64)).exp();
    assert!((first.within_share - exact).abs() < 0.004, "{} {exact}", first.within_share);
}

#[test]
fn play_in_the_cavity_is_the_term_to_attack_where_it_is_largest() {
    // 24 H7/g6: at most 0.021 + 0.020 = 0.041 in all, 0.0205 to either side.
    let found = alignment("cavity = { fit = \"H7/g6\" }\n").unwrap();
    let one_set_up = &found.ways[1];
    assert_eq!(one_set_up.attack, "play in the cavity");
    assert!((one_set_up.terms[3].limit_mm - 0.0205).abs() < 1e-12 && !one_set_up.holds, "{one_set_up:?}");
    assert!(one_set_up.within_share < 0.5);
}

#[test]
fn a_finished_edge_has_no_clearance_to_share() {
    assert_eq!(Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 20.0).plan().sections[0].alignment, None);
}
