//! Pieces of many shapes and sizes, as sections and as punches: whatever is planned, the proof agrees with.

use crate::bench::{Bench, lwpolyline};
use serde_json::Value;

type Corners = Vec<(f64, f64, f64)>;

/// Outlines about as wide as `s`.
fn shapes(s: f64) -> Vec<(&'static str, Corners)> {
    let (h, q) = (s / 2.0, (std::f64::consts::PI / 8.0).tan());
    let (r, w, c) = (0.08 * s, 0.06 * s, 0.1 * s);
    let line = |places: &[(f64, f64)]| places.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Corners>();
    vec![
        ("bar", line(&[(-h, -0.3 * s), (h, -0.3 * s), (h, 0.3 * s), (-h, 0.3 * s)])),
        ("disk", vec![(h, 0.0, 1.0), (-h, 0.0, 1.0)]),
        (
            "round",
            vec![
                (-h + r, -h, 0.0),
                (h - r, -h, q),
                (h, -h + r, 0.0),
                (h, h - r, q),
                (h - r, h, 0.0),
                (-h + r, h, q),
                (-h, h - r, 0.0),
                (-h, -h + r, q),
            ],
        ),
        ("ell", line(&[(-h, -h), (h, -h), (h, -0.1 * s), (0.0, 0.0), (0.0, h), (-h, h)])),
        ("bay", line(&[(-h, -h), (h, -h), (h, h), (w, h), (w, 0.0), (-w, 0.0), (-w, h), (-h, h)])),
        ("chamfer", line(&[(-h, -h), (h - c, -h), (h, -h + c), (h, h), (-h, h)])),
        ("star", (0..5).map(|k| arm(k, h)).collect()),
    ]
}

/// A corner of a star with bent sides.
fn arm(k: i32, h: f64) -> (f64, f64, f64) {
    let (sin, cos) = (1.3 + 1.256_637 * f64::from(k)).sin_cos();
    let far = h * [1.0, 0.7, 0.9, 0.65, 0.8][k as usize % 5];
    (far * cos, far * sin, [0.0, 0.2, -0.2, 0.0, 0.1][k as usize % 5])
}

#[test]
fn whatever_piece_is_planned_the_proof_agrees_with() {
    agree("");
}

/// The same pieces begun at the edge of their block: no hole is burned.
#[test]
fn whatever_piece_is_begun_at_the_edge_the_proof_agrees_with() {
    let bench = agree("start = { from = \"edge\" }\n");
    let plan: Value = serde_json::from_str(&bench.read("p/plan.json")).unwrap();
    for section in plan["sections"].as_array().unwrap() {
        assert!(section["burning"].is_null(), "{section}");
        let start = &section["contours"][0]["start"];
        assert!(start.is_null() || start["kind"] == "from outside", "{start}");
    }
    let why = bench.run(&["why", "p", "ell-5.e.start.room_mm"]);
    assert!(why.code == 0 && why.out.contains("beside the block"), "{} {}", why.out, why.err);
}

/// Plans and proves all shapes in all sizes with these words about the edge.
fn agree(words: &str) -> Bench {
    let bench = Bench::new();
    let mut job =
        "name = \"many\"\nunits = \"mm\"\n[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\nclearance = 0.05\n"
            .to_owned();
    for (i, s) in [0.6, 1.1, 1.7, 2.3, 5.0, 23.0, 140.0].into_iter().enumerate() {
        for (k, (name, corners)) in shapes(s).into_iter().enumerate() {
            bench.write(&format!("{name}{i}.dxf"), lwpolyline(&corners));
            let kind = if (i + k) % 2 == 0 { "die" } else { "punch" };
            let cut = ["finished", "pierce", "blank"][(i + 2 * k) % 3];
            let from = 1.2 * s + 12.0;
            job += &format!(
                "[[section]]\nid = \"{name}-{i}\"\nkind = \"{kind}\"\nsteel = \"D2\"\nhardness_hrc = 60\nrelief_deg = 0\n\
                 size = [{:.3}, {:.3}, 20.0]\ncut_from = [{from:.3}, {from:.3}]\n[[section.edge]]\nid = \"e\"\nside = \"outside\"\n\
                 drawing = \"{name}{i}.dxf\"\ncut = \"{cut}\"\nat = \"centred\"\ncorner_tolerance = 0.2\n{words}",
                1.05 * s,
                1.05 * s
            );
        }
    }
    bench.write("job.toml", job);
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert!(run.code == 0 || run.code == 3, "{}: {}\n{}", run.code, run.out, run.err);
    let plan: Value = serde_json::from_str(&bench.read("p/plan.json")).unwrap();
    let sections = plan["sections"].as_array().unwrap();
    let made = sections.iter().filter(|section| section["makeable"] == true).count();
    assert!(made > 35 && sections.len() == 49, "{made} of {} are made", sections.len());
    bench
}
