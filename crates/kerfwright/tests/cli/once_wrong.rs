//! Openings that planner and proof once disagreed about, found by planning thousands of random ones.

use crate::bench::{Bench, JOB, lwpolyline};

fn agree(vertices: &[(f64, f64, f64)], height: f64, tolerance: f64) {
    agree_leaving(vertices, height, tolerance, 0.03);
}

fn agree_leaving(vertices: &[(f64, f64, f64)], height: f64, tolerance: f64, corner: f64) {
    let bench = Bench::new();
    let job = JOB.replacen("16.0, 20.0]", &format!("16.0, {height:?}]"), 1);
    bench.write("job.toml", format!("{job}  tolerance = {tolerance}\n  corner_tolerance = {corner}\n"));
    bench.write("slot.dxf", lwpolyline(vertices));
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    assert!(run.out.contains("1 of 1 agree"), "{}", run.out);
}

/// The hole leaves the core a neck of 17 nm: one flattening sees one core, another two.
#[test]
fn a_neck_thinner_than_anything_that_can_be_cut() {
    let l = [(0.0, 0.0), (1.372298, 0.0), (1.372, 0.512), (0.8072, 0.5118), (0.807, 0.923041), (0.0, 0.923)];
    agree(&l.map(|(x, y)| (x, y, 0.0)), 12.0, 0.003);
}

/// The lead-in met the edge so near to a corner that rounding turned the first move off square.
#[test]
fn a_first_move_too_short_to_be_square() {
    let patch = [
        (-0.116, -0.264, -0.07843007351713105),
        (0.136336, -0.2431, 0.0),
        (0.206519, -0.05, 0.0),
        (0.1451, 0.123265, 0.24670266875487107),
        (-0.014, 0.196, 0.0),
        (-0.242, 0.158339, 0.0),
        (-0.170782, -0.102958, 0.0),
    ];
    agree(&patch, 30.0, 0.005);
}

/// A corner of 16 degrees: rounded a little more than the register, it kept the wire 1.1 um off. The program says the wire's
/// centre instead.
#[test]
fn a_corner_too_sharp_for_a_register() {
    agree_leaving(&[(-3.0, -1.0, 0.0), (3.0, -1.0, 0.0), (-2.0, 0.6, 0.0)], 20.0, 0.005, 0.8);
}

/// A line of a micrometre between two arcs: rounding turned it, and beside it the control's offset pieces missed each other.
/// The program says the wire's centre instead.
#[test]
fn a_line_too_short_for_a_register() {
    let corner = [
        (-1.5, -0.6, 0.0),
        (1.5, -0.6, 0.0),
        (1.5, 0.3, 0.2093663),
        (1.4034479, 0.5204744, 0.0),
        (1.402713, 0.5211525, 0.1885001),
        (1.1992651, 0.6006782, 0.0),
        (-1.5, 0.6006782, 0.0),
    ];
    agree(&corner, 20.0, 0.008);
}
