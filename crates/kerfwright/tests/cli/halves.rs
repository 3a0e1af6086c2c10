//! Sections in two halves of many shapes and sizes: whatever is planned, the proof agrees with.

use crate::bench::{Bench, lwpolyline};
use serde_json::Value;

type Corners = Vec<(f64, f64, f64)>;

/// Outlines about as wide as `s`, each met twice by a line near its middle.
fn shapes(s: f64) -> Vec<(&'static str, Corners)> {
    let h = s / 2.0;
    let line = |places: &[(f64, f64)]| places.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Corners>();
    vec![
        ("bar", line(&[(-h, -0.3 * s), (h, -0.3 * s), (h, 0.3 * s), (-h, 0.3 * s)])),
        ("disk", vec![(h, 0.0, 1.0), (-h, 0.0, 1.0)]),
        ("slot", vec![(-h, -0.2 * s, 0.0), (h, -0.2 * s, 1.0), (h, 0.2 * s, 0.0), (-h, 0.2 * s, 1.0)]),
        ("ell", line(&[(-h, -h), (h, -h), (h, 0.1 * s), (0.1 * s, 0.1 * s), (0.1 * s, h), (-h, h)])),
        (
            "bent",
            vec![(-h, -0.4 * s, 0.2), (0.8 * h, -0.5 * s, -0.2), (h, 0.3 * s, 0.2), (-0.8 * h, 0.5 * s, 0.0)],
        ),
    ]
}

#[test]
fn whatever_is_planned_in_two_halves_the_proof_agrees_with() {
    let bench = Bench::new();
    let mut job =
        "name = \"many\"\nunits = \"mm\"\n[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\nclearance = 0.05\n"
            .to_owned();
    for (i, s) in [0.25, 0.34, 0.6, 1.3, 4.0, 17.0].into_iter().enumerate() {
        for (k, (name, corners)) in shapes(s).into_iter().enumerate() {
            bench.write(&format!("{name}{i}.dxf"), lwpolyline(&corners));
            let along = ["x", "y"][(i + k) % 2];
            let cut = ["finished", "pierce", "blank"][(i + 2 * k) % 3];
            let land = ["relief_deg = 0\n", "land = 3\nrelief_deg = 0.5\n", "land = 1.5\nrelief_deg = 1\n"]
                [(i + k) % 3];
            let block = 1.2 * s + 24.0;
            job += &format!(
                "[[section]]\nid = \"{name}-{i}\"\nkind = \"die\"\nsteel = \"D2\"\nhardness_hrc = 60\n{land}\
                 size = [{block:.3}, {block:.3}, 20.0]\nhalves = {{ along = \"{along}\" }}\n[[section.edge]]\nid = \"e\"\n\
                 drawing = \"{name}{i}.dxf\"\ncut = \"{cut}\"\nat = \"centred\"\ncorner_tolerance = 0.2\n"
            );
        }
    }
    bench.write("job.toml", job);
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert!(run.code == 0 || run.code == 3, "{}: {}\n{}", run.code, run.out, run.err);
    let plan: Value = serde_json::from_str(&bench.read("p/plan.json")).unwrap();
    let sections = plan["sections"].as_array().unwrap();
    let made = sections.iter().filter(|section| section["makeable"] == true).count();
    assert!(made >= 24 && sections.len() == 30, "{made} of {} are made", sections.len());
}

/// The answer says two halves, what holds them and the order of work with its cautions first.
#[test]
fn the_answer_names_the_halves() {
    let bench = Bench::new();
    let slot = vec![(-0.5, -0.115, 0.0), (0.5, -0.115, 1.0), (0.5, 0.115, 0.0), (-0.5, 0.115, 1.0)];
    bench.write("e.dxf", lwpolyline(&slot));
    let job = "name = \"one\"\nunits = \"mm\"\n[[section]]\nid = \"s\"\nkind = \"die\"\nsteel = \"D2\"\nhardness_hrc = 60\nrelief_deg = 0\n\
               size = [24.0, 16.0, 20.0]\nhalves = { along = \"x\" }\n[[section.edge]]\nid = \"e\"\ndrawing = \"e.dxf\"\ncut = \"finished\"\nat = \"centred\"\n";
    bench.write("job.toml", job);
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    for words in [
        "CAN BE MADE: 1 in two halves",
        "joint along X at Y +0.000",
        "ring-test",
        "wheel to radius 0.08",
        "read back: 1 of 1 agree",
    ] {
        assert!(run.out.contains(words), "{words} is not in\n{}", run.out);
    }
    let sheet = bench.read("p/drawings/s.svg");
    for words in ["TWO HALVES", "face of the half at greater Y", "joint of two halves"] {
        assert!(sheet.contains(words), "{words}");
    }
}
