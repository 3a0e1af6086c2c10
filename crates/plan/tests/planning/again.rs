//! A section planned again from drawings that are kept: what was worked out about their outlines is used again, and nothing
//! of the plan may show it.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use plan::{Kept, Planned};

/// A plan to the byte.
fn bytes(planned: &Planned) -> String {
    format!("{}{:?}", serde_json::to_string(&planned.plan).unwrap(), planned.programs)
}

/// Openings whose holes can be burned, wires that do not get everywhere, and one that nothing can be made of.
fn openings() -> Vec<Outline> {
    let ell = [(-1.5, -1.0), (1.5, -1.0), (1.5, -0.3), (-0.6, -0.3), (-0.6, 1.2), (-1.5, 1.2)];
    let waist = [(-2.0, -0.6), (0.0, -0.12), (2.0, -0.6), (2.0, 0.6), (0.0, 0.12), (-2.0, 0.6)];
    let pointed = |corners: [(f64, f64); 6]| {
        Outline::new(corners.map(|(x, y)| Vertex::new(x, y, 0.0)).to_vec()).unwrap()
    };
    vec![
        rounded_rectangle(2.2, 0.6, 0.3),
        rounded_rectangle(3.0, 1.4, 0.2),
        pointed(ell),
        pointed(waist),
        rounded_rectangle(0.9, 0.09, 0.03),
    ]
}

/// Holes moved hither and thither, electrodes stated or not, in one drawing that is kept; each plan is the one that a
/// drawing of its own gives.
#[test]
fn a_hole_moved_gives_the_plan_made_from_nothing() {
    let (mut made, mut refused) = (0, 0);
    for opening in openings() {
        let (drawn, kept) = (opening.starting_at(0), Kept::default());
        for k in 0..14 {
            let (x, y) = (0.8 * (f64::from(k) * 1.7).sin(), 0.25 * (f64::from(k) * 2.3).cos());
            let start = match k % 7 {
                0 => String::new(),
                1 => "start = { electrode = 0.2 }\n".to_owned(),
                2 => format!("start = {{ at = [{x:?}, {y:?}], electrode = 0.25 }}\n"),
                _ => format!("start = {{ at = [{x:?}, {y:?}] }}\n"),
            };
            let bench = |outline: &Outline, kept: &Kept| {
                let edge = format!("cut = \"finished\"\n{start}");
                Bench::new(outline.clone(), 20.0).edge(&edge).planned_again(kept).unwrap()
            };
            let again = bench(&drawn, &kept);
            assert_eq!(bytes(&again), bytes(&bench(&opening.starting_at(0), &Kept::default())), "{start}");
            match again.plan.sections[0].makeable {
                true => made += 1,
                false => refused += 1,
            }
        }
    }
    assert!(made > 10 && refused > 10, "{made} made, {refused} refused");
}

/// The same with clearance, tolerance and height changed in between: nothing of another job is taken for this one's.
#[test]
fn another_job_over_the_same_drawing_is_planned_as_its_own() {
    let (drawn, kept) = (rounded_rectangle(2.2, 0.6, 0.3), Kept::default());
    let words = [
        ("cut = \"finished\"\n", 0.01),
        ("cut = \"pierce\"\n", 0.01),
        ("cut = \"pierce\"\n", 0.02),
        ("cut = \"finished\"\ntolerance = 0.02\n", 0.02),
        ("cut = \"finished\"\n", 0.02),
    ];
    for (words, clearance) in words {
        for height in [20.0, 12.0] {
            let bench = |outline: &Outline, kept: &Kept| {
                Bench::new(outline.clone(), height)
                    .edge(words)
                    .sheet(&format!(
                        "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\nclearance = {clearance}\n"
                    ))
                    .planned_again(kept)
                    .unwrap()
            };
            let again = bench(&drawn, &kept);
            assert_eq!(
                bytes(&again),
                bytes(&bench(&drawn.starting_at(0), &Kept::default())),
                "{words} {height}"
            );
            assert_eq!(again.plan.sections[0].strength.is_some(), words.contains("pierce"));
        }
    }
}
