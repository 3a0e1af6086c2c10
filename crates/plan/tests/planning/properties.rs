//! What must hold of every plan: moved, turned, mirrored and scaled openings give the same answer; every number has
//! its line; nothing starts where it may not.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Point, Vector};
use package::Plan;
use serde_json::Value;
use std::collections::BTreeMap;

/// The room and the minutes of the only opening.
fn answer(outline: Outline) -> (f64, f64, f64) {
    let plan = Bench::new(outline, 20.0).plan();
    let contour = &plan.sections[0].contours[0];
    let (start, wire) = (contour.start.as_ref().unwrap(), contour.wire.as_ref().unwrap());
    (start.room_mm, start.clean_up_probability, wire.passes.iter().map(|pass| pass.minutes).sum())
}

#[test]
fn moving_turning_and_mirroring_change_nothing() {
    // No two stretches are equally long and no two places have equal room, so that the choice has no ties.
    let shape = |x: f64| {
        Outline::new(vec![
            outline::Vertex::new(-0.9, -0.6, 0.0),
            outline::Vertex::new(1.1, -0.6, 0.3),
            outline::Vertex::new(0.9 + x, 0.5, 0.35),
            outline::Vertex::new(-0.8, 0.4, 0.3),
        ])
    };
    let base = shape(0.0).unwrap();
    let expected = answer(base.clone());
    let origin = Point::new(0.0, 0.0);
    let cases = [
        base.moved(Vector::new(3.0, -2.0)),
        base.turned(origin, 1.0),
        base.turned(origin, -2.2).moved(Vector::new(-4.0, 1.0)),
        base.mirrored_x(),
        base.starting_at(2),
    ];
    for (i, case) in cases.into_iter().enumerate() {
        let found = answer(case);
        for (a, b) in [(found.0, expected.0), (found.1, expected.1), (found.2, expected.2)] {
            assert!((a - b).abs() < 2e-6 * (1.0 + b.abs()), "case {i}: {found:?} against {expected:?}");
        }
    }
}

/// Keys of numbers that are coordinates, or stand inside one.
const COORDINATES: [&str; 17] = [
    "x_mm",
    "y_mm",
    "at_mm",
    "target",
    "drawn",
    "centre",
    "lead_in",
    "outline",
    "nearest_edge_mm",
    "from_mm",
    "to_mm",
    "place",
    "edge",
    "opening",
    "clearance_from",
    // Points of a curve; its greatest and least have lines of their own.
    "clearance_plot",
    "force_plot",
];

/// Every number that is not a coordinate, by its published key.
fn numbers(plan: &Plan) -> BTreeMap<String, f64> {
    let mut found = BTreeMap::new();
    for section in serde_json::to_value(&plan.sections).unwrap().as_array().unwrap() {
        let id = section["id"].as_str().unwrap();
        for (name, value) in section.as_object().unwrap() {
            match name.as_str() {
                "contours" => value.as_array().unwrap().iter().for_each(|contour| {
                    let key = format!("{id}.{}", contour["id"].as_str().unwrap());
                    contour
                        .as_object()
                        .unwrap()
                        .iter()
                        .for_each(|(name, value)| walk(&key, name, value, &mut found));
                }),
                _ => walk(id, name, value, &mut found),
            }
        }
    }
    walk("", "press", &serde_json::to_value(plan.press).unwrap(), &mut found);
    walk("", "stroke", &serde_json::to_value(&plan.stroke).unwrap(), &mut found);
    found.insert("shop.starting_values".to_owned(), f64::from(plan.shop.starting_values));
    found
}

fn walk(head: &str, name: &str, value: &Value, found: &mut BTreeMap<String, f64>) {
    if COORDINATES.contains(&name) {
        return;
    }
    let key = if head.is_empty() { name.to_owned() } else { format!("{head}.{name}") };
    match value {
        Value::Number(number) => drop(found.insert(key, number.as_f64().unwrap())),
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(i, value)| walk(&key, &i.to_string(), value, found))
        }
        Value::Object(fields) => fields.iter().for_each(|(name, value)| walk(&key, name, value, found)),
        _ => {}
    }
}

#[test]
fn every_number_has_its_line_and_every_line_its_inputs() {
    let sheet = "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\n";
    let asks = "cut = \"pierce\"\ncorner_radius = 0.2\npart_tolerance = { minus = 0.01, plus = 0.03 }\n";
    let punch = "enters = 0.3\nshear = 0.1\npunch = { length = 30, head = [3, 2] }\n";
    let struck = format!("{asks}{punch}");
    let ell = [[-2.0, -1.5], [2.0, -1.5], [2.0, 0.0], [0.0, 0.0], [0.0, 1.5], [-2.0, 1.5]];
    let ell = Outline::new(ell.map(|[x, y]| outline::Vertex::new(x, y, 0.0)).to_vec()).unwrap();
    let punched = Bench::new(rounded_rectangle(3.0, 0.5, 0.03), 20.0).sheet(sheet).edge(&struck);
    let slender = "cut = \"blank\"\ncorner_tolerance = 0.2\npunch = { length = 60, head_area = 9, guided = \"stripper\", steel = \"M2\" }\n";
    let punched = punched.and(ell, [0.0, 5.0], slender);
    let makeable = Bench::new(rounded_rectangle(3.0, 0.5, 0.03), 20.0).sheet(sheet).edge(asks);
    let refused = Bench::new(rounded_rectangle(3.0, 0.2, 0.01), 20.0).sheet(sheet).edge("cut = \"pierce\"\n");
    let too_tight =
        Bench::new(rounded_rectangle(3.0, 0.5, 0.2), 20.0).edge("cut = \"finished\"\ntolerance = 0.0005\n");
    let torn = Bench::new(rounded_rectangle(6.0, 4.0, 0.6), 20.0).size([8.0, 5.0]).sheet(sheet);
    let torn = torn.edge("cut = \"pierce\"\n").section("cavity = { fit = \"H7/k6\" }\n");
    let held = "fastening = { screws = { thread = \"M2\" }, jack_out = { thread = \"M6\" }, dowels = { diameter = 2 } }\n";
    let held = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 20.0).section(held);
    assert!(torn.plan().sections[0].strength.as_ref().unwrap().wall_needed_mm.is_some());
    let relieved = Bench::new(rounded_rectangle(3.0, 1.0, 0.1), 20.0).sheet(sheet).edge(asks);
    let relieved = relieved.relief("relief_deg = 0.5\n");
    assert!(relieved.plan().sections[0].land.is_some());
    let joined = "halves = { along = \"x\" }\n";
    let halves = Bench::new(rounded_rectangle(1.2, 0.23, 0.115), 20.0).section(joined);
    let halves = halves.sheet(sheet).edge("cut = \"pierce\"\n");
    let unheld = halves.clone().size([12.0, 16.0]);
    let split = Bench::new(rounded_rectangle(1.2, 0.12, 0.06), 20.0).section(joined);
    let bar = [[-8.0, -6.0], [8.0, -6.0], [8.0, 6.0], [-8.0, 6.0]];
    let bar = Outline::new(bar.map(|[x, y]| outline::Vertex::new(x, y, 0.0)).to_vec()).unwrap();
    let words = "cut = \"finished\"\nside = \"outside\"\nstart = { from = \"edge\" }\n";
    let begun = |block: &str| Bench::new(bar.clone(), 20.0).sheet(sheet).edge(words).section(block);
    for (bench, makes) in [
        (begun("cut_from = [40.0, 30.0]\n"), true),
        (begun("cut_from = [18.0, 14.0]\n"), false),
        (makeable, true),
        (halves, true),
        (unheld, true),
        (split, false),
        (relieved, true),
        (punched, true),
        (refused, false),
        (too_tight, false),
        (torn, true),
        (held, true),
    ] {
        let plan = bench.plan();
        assert_eq!(plan.sections[0].makeable, makes);
        let lines: BTreeMap<&str, f64> =
            plan.reckoning.iter().map(|line| (line.key.as_str(), line.value)).collect();
        assert_eq!(lines.len(), plan.reckoning.len(), "a key stands twice");
        let numbers = numbers(&plan);
        assert!(numbers.len() > 10, "only {} numbers", numbers.len());
        for (key, value) in numbers {
            let line = lines.get(key.as_str()).unwrap_or_else(|| panic!("{key} has no line"));
            assert_eq!(*line, value, "{key}");
        }
        for line in &plan.reckoning {
            for input in &line.inputs {
                assert!(
                    lines.contains_key(input.key.as_str()),
                    "{} comes from {}, which has no line",
                    line.key,
                    input.key
                );
            }
            assert!(!line.source.cite.is_empty() && !line.meaning.is_empty(), "{line:?}");
        }
    }
}

#[test]
fn room_decides_alone_around_zero() {
    // The slot of hole 1 on paper needs 0.15824 on each side.
    for (half, makes) in [(0.1583, true), (0.1582, false)] {
        let shop = "name = \"x\"\nunits = \"mm\"\ncurrency = \"EUR\"\n[[electrode]]\ndiameter = 0.2\novercut = 0.02\n";
        let plan = Bench::new(rounded_rectangle(2.2, 2.0 * half, 0.06), 20.0).shop(shop).plan();
        assert_eq!(plan.sections[0].makeable, makes, "half width {half}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let text = || {
        let planned = Bench::new(rounded_rectangle(4.0, 1.5, 0.2), 20.0).planned().unwrap();
        (serde_json::to_string(&planned.plan).unwrap(), planned.programs)
    };
    assert_eq!(text(), text());
}

/// A number that is a sum names what it adds, and these add up to it.
#[test]
fn sums_add_up() {
    for height in [10.0, 20.0, 40.0] {
        let plan = Bench::new(rounded_rectangle(4.0, 3.0, 0.3), height).plan();
        let value = |key: &str| plan.reckoning.iter().find(|line| line.key == key).unwrap().value;
        let mut sums = 0;
        for line in &plan.reckoning {
            if !line.formula.as_ref().is_some_and(|how| how.starts_with("sum over") && !how.contains("axes"))
            {
                continue;
            }
            let sum: f64 = line.inputs.iter().map(|input| value(&input.key)).sum();
            assert!((sum - line.value).abs() < 1e-9, "{}: {sum} against {}", line.key, line.value);
            let names: std::collections::BTreeSet<_> = line.inputs.iter().map(|input| &input.name).collect();
            assert_eq!(names.len(), line.inputs.len(), "{}: a name twice", line.key);
            sums += 1;
        }
        assert!(sums >= 5, "{sums} sums in a block {height} high");
    }
}
