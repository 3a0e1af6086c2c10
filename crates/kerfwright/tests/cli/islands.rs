//! Metal that stands inside an opening, and outlines inside outlines that are no such metal.

use crate::bench::{Bench, JOB, lwpolyline};
use serde_json::Value;

/// A square window of 6 with a square of 2 in it, a little off its middle, and a round hole in that.
fn nested() -> String {
    let square = |s: f64, x: f64| [(x - s, -s, 0.0), (x + s, -s, 0.0), (x + s, s, 0.0), (x - s, s, 0.0)];
    let whole = lwpolyline(&square(3.0, 0.0));
    let entity =
        |text: String| text[text.find("0\nLWPOLYLINE").unwrap()..text.rfind("0\nENDSEC").unwrap()].to_owned();
    let inner =
        entity(lwpolyline(&square(1.0, 0.25))) + &entity(lwpolyline(&[(0.0, 0.0, 1.0), (0.5, 0.0, 1.0)]));
    whole.replacen("0\nENDSEC\n0\nEOF", &(inner + "0\nENDSEC\n0\nEOF"), 1)
}

fn bench(job: &str) -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", job);
    bench.write("nested.dxf", nested());
    bench
}

/// The job with one edge of this outline and cut.
fn job(outline: &str, cut: &str) -> String {
    JOB.replacen("\"slot.dxf\"", &format!("\"nested.dxf\"\n  outline = \"{outline}\""), 1)
        .replacen("\"finished\"", &format!("\"{cut}\"\n  corner_tolerance = 0.2"), 1)
        .replacen("[[section]]", "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\n\n[[section]]", 1)
}

fn plan(bench: &Bench) -> Value {
    serde_json::from_str(&bench.read("p/plan.json")).unwrap()
}

#[test]
fn metal_inside_an_opening_is_planned_and_refused_with_its_place_and_cures() {
    for cut in ["finished", "pierce"] {
        let bench = bench(&job("o1", cut));
        let run = bench.run(&["plan", "job.toml", "--out", "p"]);
        assert_eq!(run.code, 3, "{}\n{}", run.out, run.err);
        assert!(run.out.contains("NOT IN THIS SHOP: e"), "{}", run.out);
        assert!(
            run.out.contains("metal standing inside, o2 at x -0.7500 y -1.0000, would fall with the core"),
            "{}",
            run.out
        );
        assert!(run.err.contains("a wire cannot leave an island in an opening"), "{}", run.err);
        assert!(run.err.contains("a section of its own for o2"), "{}", run.err);
        let plan = plan(&bench);
        let contour = &plan["sections"][0]["contours"][0];
        assert_eq!(plan["sections"][0]["makeable"], false);
        assert!(contour["start"].is_null() && contour["wire"].is_null());
        assert_eq!(contour["islands"].as_array().unwrap().len(), 1, "the hole in the metal is none");
        assert_eq!(contour["islands"][0]["drawn_as"], "o2");
        assert!(plan["sections"][0]["programs"].as_array().unwrap().is_empty());
        // Between the finished edge and the metal: right of it, clearance counted.
        let clearance = contour["clearance_per_side_mm"].as_f64().unwrap();
        let width = contour["narrowest"]["width_mm"].as_f64().unwrap();
        assert!((width - 1.75 - clearance).abs() < 1e-6, "{width} with {clearance}");
        let svg = bench.read("p/drawings/s.svg");
        assert!(svg.contains("metal inside, o2, would FALL") && svg.contains("metal o2"));
        assert_eq!(bench.run(&["prove", "p"]).code, 0, "what is not cut is not wrong");
    }
}

#[test]
fn the_cures_cure() {
    // A section of its own for the metal: an edge names it.
    let insert = r#"
[[section]]
id = "insert"
kind = "die"
steel = "D2"
hardness_hrc = 60
size = [24.0, 16.0, 20.0]
relief_deg = 0

  [[section.edge]]
  id = "core"
  drawing = "nested.dxf"
  outline = "o2"
  cut = "finished"
  corner_tolerance = 0.2
  at = "centred"

  [[section.edge]]
  id = "hole"
  drawing = "nested.dxf"
  outline = "o3"
  cut = "finished"
  at = [6.0, 5.0]
"#;
    let bench_with = bench(&(job("o1", "finished") + insert));
    let run = bench_with.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    // The innermost outline has nothing inside.
    let inner = bench(&job("o3", "finished"));
    let run = inner.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
}

/// What lies inside a blank's outline is a hole in the part: the opening that blanks it has none.
#[test]
fn a_blank_with_holes_is_cut() {
    let bench = bench(&job("o1", "blank"));
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    let contour = &plan(&bench)["sections"][0]["contours"][0];
    assert!(
        contour["islands"].is_null() && contour["narrowest"].is_null(),
        "a square has no narrow place: {contour}"
    );
}

#[test]
fn an_opening_inside_an_opening_of_its_section_contradicts_itself() {
    let second = r#"
  [[section.edge]]
  id = "second"
  drawing = "nested.dxf"
  outline = "o2"
  cut = "finished"
  at = [0.0, 0.0]
"#;
    let inside = bench(&(job("o1", "finished").replacen("\"centred\"", "[0.0, 0.0]", 1) + second));
    let run = inside.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 2, "{}\n{}", run.out, run.err);
    let said =
        "inside the opening of edge `e` there is no metal: the opening of edge `second` lies wholly in it";
    assert!(run.err.contains(said), "{}", run.err);
    // Side by side they are two openings.
    let beside = second.replacen("[0.0, 0.0]", "[8.0, 0.0]", 1).replacen(
        "\"finished\"",
        "\"blank\"\n  corner_tolerance = 0.2",
        1,
    );
    let apart = bench(&(job("o1", "finished") + &beside));
    let run = apart.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
}

/// The survey's own words and names.
#[test]
fn the_survey_says_where_each_outline_is_narrowest() {
    let bench = bench(JOB);
    let run = bench.run(&["survey", "nested.dxf", "--json"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let survey: Value = serde_json::from_str(&run.out).unwrap();
    let near = |found: &Value, expected: f64| (found.as_f64().unwrap() - expected).abs() < 1e-9;
    let frame = &survey["outlines"][0]["narrowest"];
    assert!(
        near(&frame["width_mm"], 1.75) && near(&frame["x_mm"], 2.125) && near(&frame["y_mm"], 0.0),
        "{frame}"
    );
    assert!(near(&frame["sides"][0]["y_mm"], 0.0) && near(&frame["sides"][1]["y_mm"], 0.0), "{frame}");
    // Two stretches of the same width beside the hole, and two above and below it: the least x.
    let round = &survey["outlines"][1]["narrowest"];
    assert!(near(&round["width_mm"], 0.75) && near(&round["x_mm"], -0.375), "{round}");
    assert!(survey["outlines"][2]["narrowest"].is_null(), "a circle has none");
    let slot: Value = serde_json::from_str(&bench.run(&["survey", "slot.dxf", "--json"]).out).unwrap();
    let narrowest = &slot["outlines"][0]["narrowest"];
    assert!(near(&narrowest["width_mm"], 0.5) && near(&narrowest["x_mm"], 0.0), "{narrowest}");
    let spoken = bench.run(&["survey", "nested.dxf"]).out;
    assert!(spoken.contains("1.7500") && spoken.contains("none"), "{spoken}");
}
