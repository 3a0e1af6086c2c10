//! What stands in a package, when one is replaced, and what happens when somebody changes it.

use crate::bench::{Bench, JOB};
use std::fs;
use std::path::PathBuf;

fn planned() -> Bench {
    let bench = Bench::new();
    let run = bench.run(&["plan", "job.toml", "--out", "p", "--date", "2026-11-25"]);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    bench
}

#[test]
fn the_same_input_gives_the_same_bytes_wherever_it_lies() {
    let (a, b) = (planned(), planned());
    for name in
        ["p/plan.json", "p/proof.json", "p/programs/s-wire-1.nc", "p/drawings/s.svg", "p/inputs/shop.toml"]
    {
        assert_eq!(a.read(name), b.read(name), "{name}");
    }
    let outside =
        b.run(&["plan", b.path().join("job.toml").to_str().unwrap(), "--out", "q", "--date", "2026-11-25"]);
    assert_eq!(outside.code, 0);
    assert_eq!(b.read("p/plan.json"), b.read("q/plan.json"));
}

#[test]
fn inputs_are_kept_byte_for_byte() {
    let bench = planned();
    assert_eq!(bench.read("p/inputs/job.toml"), bench.read("job.toml"));
    assert_eq!(bench.read("p/inputs/slot.dxf"), bench.read("slot.dxf"));
    let again = bench.run(&["plan", "p/inputs/job.toml", "--shop", "p/inputs/shop.toml", "--out", "again"]);
    assert_eq!(again.code, 0, "a package's inputs plan again: {}", again.err);
    assert_eq!(bench.read("p/programs/s-wire-1.nc"), bench.read("again/programs/s-wire-1.nc"));
}

#[test]
fn only_a_package_of_ours_is_replaced() {
    let bench = planned();
    assert_eq!(bench.run(&["plan", "job.toml", "--out", "p"]).code, 0, "ours is replaced");
    fs::create_dir(bench.path().join("empty")).unwrap();
    assert_eq!(bench.run(&["plan", "job.toml", "--out", "empty"]).code, 0, "an empty folder is filled");
    bench.write("mine/letter.txt", "keep me");
    assert_eq!(bench.run(&["plan", "job.toml", "--out", "mine"]).code, 2);
    assert_eq!(bench.read("mine/letter.txt"), "keep me");
    bench.write("file", "keep me too");
    assert_eq!(bench.run(&["plan", "job.toml", "--out", "file"]).code, 2);
    assert_eq!(bench.run(&["plan", "job.toml", "--out", "."]).code, 2);
    assert_eq!(
        bench.names(),
        ["empty", "file", "job.toml", "mine", "p", "slot.dxf"],
        "nothing left beside them"
    );
}

#[test]
fn a_changed_package_fails_its_proof() {
    let change = |name: &str, from: &str, to: &str| {
        let bench = planned();
        let text = bench.read(name);
        assert!(text.contains(from), "{name} has no {from}");
        bench.write(name, text.replacen(from, to, 1));
        let run = bench.run(&["prove", "p"]);
        assert_eq!(run.code, 4, "{name}: {from} -> {to}\n{}", run.out);
    };
    change("p/inputs/slot.dxf", "-1.25", "-1.26");
    change("p/inputs/job.toml", "60", "61");
    change("p/programs/s-wire-1.nc", "G41", "G42");
    change("p/programs/s-wire-1.nc", "M60", "M50");
    change("p/programs/s-burn-1.nc", "G01 Z-", "G01 Z-0.");
    change("p/programs/s-burn-1.nc", "G00 X", "G00 X1");
    let bench = planned();
    fs::remove_file(bench.path().join("p/programs/s-wire-1.nc")).unwrap();
    assert_eq!(bench.run(&["prove", "p"]).code, 4);
    assert_eq!(bench.run(&["prove", "nothing-there"]).code, 2);
}

/// As at the bench: plan, burn, measure, feed it in, plan again.
#[test]
fn a_hole_is_measured_and_the_plan_says_whether_the_cut_may_go_on() {
    let bench = planned();
    assert!(bench.read("p/programs/s-burn-1.nc").contains("EDGE e ELECTRODE"));
    let again = |y: f64| {
        let rim = format!("{{ x = 0.1, y = {y:?}, diameter = 0.30 }}");
        let start = format!("  start = {{ measured = {{ face = {rim}, back = {rim} }} }}\n");
        bench.write("job.toml", crate::bench::JOB.to_owned() + &start);
        bench.run(&["plan", "job.toml", "--out", "q", "--date", "2026-11-25"])
    };
    let run = again(0.01);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    assert!(run.err.contains("THE CUT MAY GO ON"), "{}", run.err);
    assert!(!run.out.contains("burn:") && run.out.contains("1 of 1 agree"), "{}", run.out);
    assert!(!bench.path().join("q/programs/s-burn-1.nc").exists());
    let run = again(0.10);
    assert_eq!(run.code, 3, "{}{}", run.out, run.err);
    assert!(run.err.contains("may-not-go-on") && run.err.contains("move the opening"), "{}", run.err);
}

#[test]
fn why_walks_back_to_the_inputs() {
    let bench = planned();
    let run = bench.run(&["why", "p", "s.e.start.room_mm"]);
    assert_eq!(run.code, 0, "{}", run.err);
    for word in ["x - n - v", "starting value", "job.toml, line 9", "electrode"] {
        assert!(run.out.contains(word), "no `{word}` in\n{}", run.out);
    }
    let below = bench.run(&["why", "p", "s.e.start.terms"]);
    assert!(below.err.contains("the key s.e.start.terms."), "keys below it are offered: {}", below.err);
    let wrong = bench.run(&["why", "p", "s.e.room_mm"]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("s.e.start.room_mm"), "the near key is offered: {}", wrong.err);
}

/// A formula can be worked from what is printed: each number by the name that the formula has for it.
#[test]
fn why_calls_a_number_as_its_formula_does() {
    let bench = planned();
    let run = bench.run(&["why", "p", "s.e.start.terms.takes_mm"]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.out.contains("min(z, 0.3)") && run.out.contains("z = 20 mm"), "{}", run.out);
    assert!(run.out.contains("(above)  [shop:allowance.clean_up_stock_mm]"), "{}", run.out);
    let run = bench.run(&["why", "p", "s.programs.0.minutes"]);
    assert!(run.out.contains("[s.e.wire.passes.0.minutes]"), "sums name what they add: {}", run.out);
}

#[test]
fn schemas_are_printed() {
    let bench = Bench::new();
    for of in ["job", "shop", "plan", "survey", "proof"] {
        let run = bench.run(&["schema", of]);
        assert_eq!(run.code, 0);
        let schema: serde_json::Value = serde_json::from_str(&run.out).unwrap();
        assert!(schema["properties"].is_object(), "{of}");
    }
}

/// The size that an edge starts with is drawn from the part's tolerance, proven, and cannot be changed unseen.
#[test]
fn a_shifted_size_is_proven() {
    let bench = Bench::new();
    let sheet = "units = \"mm\"\n[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\n";
    for (cut, shift) in [("pierce", "0.01"), ("blank", "-0.02")] {
        let words = format!("cut = \"{cut}\"\n  part_tolerance = {{ minus = 0.05, plus = 0.03 }}");
        bench.write("job.toml", JOB.replace("units = \"mm\"\n", sheet).replace("cut = \"finished\"", &words));
        let run = bench.run(&["plan", "job.toml", "--out", "p"]);
        assert_eq!(run.code, 0, "{}{}", run.out, run.err);
        assert!(run.out.contains("press 250 kN"), "{}", run.out);
        let plan = bench.read("p/plan.json");
        let field = format!("\"size_shift_per_side_mm\": {shift}");
        assert!(plan.contains(&field), "{field} in {plan}");
        bench.write("p/plan.json", plan.replace(&field, "\"size_shift_per_side_mm\": 0.0"));
        let run = bench.run(&["prove", "p"]);
        assert_eq!(run.code, 4, "{}", run.out);
        assert!(run.out.contains("target-moved"), "{}", run.out);
    }
}

/// The forces of a die are those of its sections together, and those of a section those of its edges.
#[test]
fn forces_add_up_over_the_sections() {
    let bench = Bench::new();
    let job = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../examples/relay-leaf/job.toml");
    let run = bench.run(&["plan", job.to_str().unwrap(), "--json", "--out", "p"]);
    let plan: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let line = |key: &str| {
        let lines = plan["reckoning"].as_array().unwrap();
        lines.iter().find(|line| line["key"] == key).unwrap()["value"].as_f64().unwrap()
    };
    let sections = plan["sections"].as_array().unwrap();
    for name in ["cutting_n", "stripping_n", "push_through_n", "work_j"] {
        let mut total = 0.0;
        for section in sections {
            let id = section["id"].as_str().unwrap();
            let edges = section["contours"].as_array().unwrap().iter().map(|one| one["id"].as_str().unwrap());
            let sum: f64 = edges.map(|edge| line(&format!("{id}.{edge}.forces.{name}"))).sum();
            let stated = section["forces"][name].as_f64().unwrap();
            assert!(stated > 0.0 && (stated - sum).abs() < 1e-9 * sum, "{id} {name}: {stated} {sum}");
            total += stated;
        }
        let stated = plan["press"]["forces"][name].as_f64().unwrap();
        assert!((stated - total).abs() < 1e-9 * total, "{name}: {stated} {total}");
    }
}
