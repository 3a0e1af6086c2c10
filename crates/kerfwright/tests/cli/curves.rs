//! Curves, inserts, facets and layers from the command line.

use crate::bench::{Bench, JOB};
use std::f64::consts::TAU;

/// An ellipse of 4 x 2 on layer OVAL, a slot in chords of 5 degrees on layer SLOT, and a block with a circle, inserted on layer PINS twice as
/// large and stretched.
fn drawing() -> String {
    let mut slot = String::new();
    for (x, from) in [(13.0, -0.25), (10.0, 0.25)] {
        for i in 0..=36 {
            let (sin, cos) = ((from + f64::from(i) / 72.0) * TAU).sin_cos();
            slot.push_str(&format!("10\n{:.4}\n20\n{:.4}\n", x + 0.5 * cos, 0.5 * sin));
        }
    }
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n\
         0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n8\n0\n2\nPIN\n10\n0\n20\n0\n0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n1\n0\nENDBLK\n0\nENDSEC\n\
         0\nSECTION\n2\nENTITIES\n0\nELLIPSE\n8\nOVAL\n10\n0\n20\n0\n11\n2\n21\n0\n40\n0.5\n\
         0\nLWPOLYLINE\n8\nSLOT\n90\n74\n70\n1\n{slot}\
         0\nINSERT\n8\nPINS\n2\npin\n10\n20\n20\n0\n41\n2\n42\n2\n0\nINSERT\n8\nPINS\n2\npin\n10\n30\n20\n0\n41\n2\n42\n1\n\
         0\nENDSEC\n0\nEOF\n"
    )
}

fn bench() -> Bench {
    let bench = Bench::new();
    bench.write("slot.dxf", drawing());
    bench
}

#[test]
fn a_survey_says_what_arcs_stand_for() {
    let bench = bench();
    let run = bench.run(&["survey", "slot.dxf"]);
    assert_eq!(run.code, 0, "{}", run.err);
    for said in
        ["arcs stand for: 2 ellipses, within 0.00", "arcs stand for: 2 arcs drawn in facets, within 0.0004"]
    {
        assert!(run.out.contains(said), "{said}\n{}", run.out);
    }
    assert!(run.err.contains("72 chords of 2 arcs, radius 0.5000"), "{}", run.err);
    let json: serde_json::Value =
        serde_json::from_str(&bench.run(&["survey", "slot.dxf", "--json"]).out).unwrap();
    let seen: Vec<(&str, u64)> = json["fitted"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["kind"].as_str().unwrap(), one["at_line"].as_u64().unwrap()))
        .collect();
    let text = drawing();
    let line = |what: &str, nth: usize| {
        text.lines().enumerate().filter(|(_, l)| *l == what).nth(nth).unwrap().0 as u64 + 1
    };
    let slot = line("LWPOLYLINE", 0);
    assert_eq!(
        seen,
        [("ellipse", line("ELLIPSE", 0)), ("facets", slot), ("facets", slot), ("ellipse", line("INSERT", 1))]
    );
    let layers: Vec<&str> =
        json["outlines"].as_array().unwrap().iter().map(|o| o["layer"].as_str().unwrap()).collect();
    assert_eq!(layers, ["OVAL", "SLOT", "PINS", "PINS"]);
    let moved = |i: usize| json["outlines"][i]["moved_mm"].as_f64().unwrap();
    assert!(
        moved(0) > 0.0 && moved(0) <= 0.0005 && moved(1) > 0.0003 && moved(2) == 0.0,
        "{} {}",
        moved(0),
        moved(1)
    );
    assert_eq!(json["skipped"], serde_json::json!({}));
}

#[test]
fn an_edge_names_its_outline_by_layer() {
    for (keys, outline) in
        [("layer = \"slot\"", "o2"), ("layer = \"OVAL\"\noutline = \"o1\"", "o1"), ("outline = \"o3\"", "o3")]
    {
        let bench = bench();
        bench.write("job.toml", JOB.replace("cut = \"finished\"", &format!("{keys}\n  cut = \"finished\"")));
        let run = bench.run(&["plan", "job.toml", "--out", "p"]);
        assert!(run.code != 2, "{keys}: {}", run.err);
        let plan: serde_json::Value = serde_json::from_str(&bench.read("p/plan.json")).unwrap();
        assert_eq!(plan["sections"][0]["contours"][0]["drawing"]["outline"], outline, "{keys}");
    }
}

#[test]
fn layers_that_leave_the_outline_open_are_refused_with_what_there_is() {
    for (keys, words) in [
        ("layer = \"PINS\"", ["holds 2 outlines on layer `PINS`", "o3 (layer PINS), o4 (layer PINS)"]),
        ("layer = \"NONE\"", ["no closed outline on layer `NONE`", "o1 (layer OVAL), o2 (layer SLOT)"]),
        ("layer = \"PINS\"\noutline = \"o1\"", ["lies on layer `OVAL`", "layer = \"OVAL\""]),
        ("layer = \"OVAL\"\noutline = \"o9\"", ["holds no outline `o9`", "o1 (layer OVAL)"]),
    ] {
        let bench = bench();
        bench.write("job.toml", JOB.replace("cut = \"finished\"", &format!("{keys}\n  cut = \"finished\"")));
        let run = bench.run(&["plan", "job.toml", "--out", "p"]);
        assert_eq!(run.code, 2, "{keys}: {}", run.err);
        assert!(words.iter().all(|word| run.err.contains(word)), "{keys}: {}", run.err);
    }
}

#[test]
fn a_slot_in_facets_is_planned_and_proven_as_the_slot_that_it_stands_for() {
    let bench = bench();
    bench.write("slot.dxf", drawing().replacen("0\nELLIPSE\n", "0\nTEXT\n", 1));
    bench.write("job.toml", JOB.replace("cut = \"finished\"", "layer = \"SLOT\"\n  cut = \"finished\""));
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    let plan: serde_json::Value = serde_json::from_str(&bench.read("p/plan.json")).unwrap();
    let contour = &plan["sections"][0]["contours"][0];
    assert_eq!(contour["target"].as_array().unwrap().len(), 4);
    // Sagitta of chords of 5 degrees at radius 0.5, and what four decimals leave.
    let fitted = contour["fitted_mm"].as_f64().unwrap();
    assert!((fitted - 0.5 * (1.0 - 2.5f64.to_radians().cos())).abs() < 1e-4, "{fitted}");
}
