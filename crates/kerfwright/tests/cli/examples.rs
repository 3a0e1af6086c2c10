//! The examples that README names.

use crate::bench::Bench;
use serde_json::Value;
use std::path::PathBuf;

fn example(name: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    path.to_str().unwrap().to_owned()
}

#[test]
fn relay_leaf_can_be_made_and_is_proven() {
    let bench = Bench::new();
    let run = bench.run(&["plan", &example("relay-leaf/job.toml"), "--date", "2026-11-25"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    insta::assert_snapshot!(run.out);
    let burned = bench.read("relay-leaf-package/programs/vane-burn-1.nc");
    assert!(burned.contains("HOLE 1 X0.0000 Y0.0000"), "no zero has a sign: {burned}");
    let again = bench.run(&["prove", "relay-leaf-package", "--json"]);
    assert_eq!(again.code, 0, "{}", again.out);
    let proof: Value = serde_json::from_str(&again.out).unwrap();
    assert_eq!(proof["contours"].as_array().unwrap().len(), 4);
    assert_eq!(serde_json::from_str::<Value>(&bench.read("relay-leaf-package/proof.json")).unwrap(), proof);
    let plan: Value = serde_json::from_str(&bench.read("relay-leaf-package/plan.json")).unwrap();
    let rooms = plan["sections"].as_array().unwrap().iter().flat_map(|s| s["contours"].as_array().unwrap());
    let least = rooms.map(|c| c["start"]["room_mm"].as_f64().unwrap()).fold(f64::INFINITY, f64::min);
    assert!((0.0..0.01).contains(&least), "one of them only just: {least}");
}

#[test]
fn too_fine_is_refused_with_cures() {
    let bench = Bench::new();
    let run = bench.run(&["plan", &example("too-fine/job.toml"), "--date", "2026-11-25"]);
    assert_eq!(run.code, 3, "{}\n{}", run.out, run.err);
    insta::assert_snapshot!(format!("{}--- remarks\n{}", run.out, run.err));
    assert_eq!(bench.run(&["prove", "too-fine-package"]).code, 0, "what can be made is proven");
}

#[test]
fn inch_contact_is_planned_and_programmed_in_inches() {
    let bench = Bench::new();
    let shop = example("inch-contact/shop.toml");
    let run = bench.run(&["plan", &example("inch-contact/job.toml"), "--shop", &shop, "--out", "p"]);
    assert_eq!(run.code, 0, "{}\n{}", run.out, run.err);
    let program = bench.read("p/programs/window-die-wire-1.nc");
    assert!(program.contains(" G20\n"), "{program}");
    assert!(bench.run(&["prove", "p"]).out.contains("1 of 1 agree"));
}

#[test]
fn json_is_one_document_and_nothing_else() {
    let bench = Bench::new();
    let run = bench.run(&["plan", &example("relay-leaf/job.toml"), "--json", "--date", "2026-11-25"]);
    assert_eq!(run.code, 0);
    assert_eq!(run.out, bench.read("relay-leaf-package/plan.json"));
}
