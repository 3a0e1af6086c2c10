//! Rubbish is a fault, never a panic and never held: random programs, random drawings, random numbers in a plan.

use crate::case::Case;
use crate::holds::cases;
use package::{Plan, Proof};
use proof::{Evidence, prove};
use proptest::prelude::*;

/// A number that a file may hold and a block may not.
fn wild() -> impl Strategy<Value = f64> {
    let fixed = vec![0.0, -0.0, 1e-320, 1e-12, -1e-6, 0.053, 1.0, -1.0, 1e4, 1e9, -1e300, f64::MAX];
    prop_oneof![
        prop::sample::select(fixed),
        -2.0..2.0f64,
        any::<f64>().prop_filter("JSON", |v| v.is_finite())
    ]
}

/// Every number of the first contour, in turn.
fn numbers(plan: &mut Plan) -> Vec<&mut f64> {
    let section = &mut plan.sections[0];
    let contour = &mut section.contours[0];
    let mut found = vec![&mut contour.clearance_per_side_mm];
    found.extend(&mut section.size_mm);
    found.extend(contour.target.iter_mut().flatten());
    found.extend(&mut contour.drawing.at_mm);
    found.extend(contour.cores.iter_mut().flat_map(|core| [&mut core.area_mm2, &mut core.mass_g]));
    if let Some(start) = &mut contour.start {
        let hole = &mut start.hole_diameter_mm;
        found.extend([&mut start.x_mm, &mut start.y_mm, &mut hole.entry, &mut hole.exit]);
    }
    if let Some(wire) = &mut contour.wire {
        found.push(&mut wire.diameter_mm);
        found.extend(wire.tab.iter_mut().flat_map(|tab| [&mut tab.width_mm, &mut tab.feed_mm_per_min]));
        for pass in &mut wire.passes {
            found.extend([&mut pass.offset_mm, &mut pass.spark_gap_mm, &mut pass.stock_left_mm]);
            found.push(&mut pass.feed_mm_per_min);
        }
    }
    found
}

fn case(k: usize) -> Case {
    let mut cases = cases();
    let k = k % cases.len();
    cases.swap_remove(k)
}

/// A proof can be written and read again: no number in it is infinite.
fn whole(proof: &Proof) -> Result<(), TestCaseError> {
    for one in &proof.contours {
        let all = [one.gouge_mm, one.left_mm, one.hole_scar_mm, one.target_moved_mm];
        prop_assert!(all.iter().all(|v| v.is_finite()), "{:?}", one);
    }
    Ok(())
}

fn with_program(k: usize, text: Vec<u8>) -> Evidence {
    let case = case(k);
    let mut evidence = case.evidence(&case.program());
    evidence.programs.values_mut().for_each(|program| program.clone_from(&text));
    evidence
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(150) })]

    #[test]
    fn random_bytes_are_no_program(k in 0usize..50, text in prop::collection::vec(any::<u8>(), 0..400)) {
        let proof = prove(&with_program(k, text));
        whole(&proof)?;
        prop_assert!(!proof.holds);
    }

    #[test]
    fn random_words_are_no_program(
        k in 0usize..50,
        words in prop::collection::vec((prop::sample::select(b"GGGXYIJDFMN".to_vec()), wild(), any::<bool>()), 0..120),
    ) {
        let mut text = String::from("G71 G90 G00 X0 Y0\nM60\nF4\n");
        for (letter, value, ends) in words {
            // Codes are mostly ones that mean something.
            let value = match letter {
                b'G' => [0.0, 1.0, 2.0, 3.0, 40.0, 41.0, 42.0, 70.0, 91.0, 92.0][(value.abs() * 7.0) as usize % 10],
                b'M' => [0.0, 2.0, 50.0, 60.0][(value.abs() * 7.0) as usize % 4],
                b'D' => (value.abs() * 7.0) % 5.0,
                _ => value,
            };
            text += &format!("{}{value}{}", letter as char, if ends { "\n" } else { " " });
        }
        let proof = prove(&with_program(k, text.into_bytes()));
        whole(&proof)?;
        prop_assert!(!proof.holds);
    }

    #[test]
    fn a_right_program_with_wild_numbers(k in 0usize..50, at in any::<prop::sample::Index>(), value in wild()) {
        let case = case(k);
        let mut program = case.program();
        let i = at.index(program.len());
        let axis = ['X', 'Y', 'I', 'J', 'F', 'D'][i % 6];
        program[i] = crate::damages::with(&program[i], axis, |_| format!("{value}"));
        whole(&prove(&case.evidence(&program)))?;
    }

    #[test]
    fn a_plan_with_wild_numbers(k in 0usize..50, at in any::<prop::sample::Index>(), value in wild()) {
        let case = case(k);
        let mut evidence = case.evidence(&case.program());
        let count = numbers(&mut evidence.plan).len();
        *numbers(&mut evidence.plan).swap_remove(at.index(count)) = value;
        whole(&prove(&evidence))?;
    }

    #[test]
    fn a_drawing_with_wild_bytes(k in 0usize..50, at in any::<prop::sample::Index>(), byte in any::<u8>()) {
        let case = case(k);
        let mut evidence = case.evidence(&case.program());
        for bytes in evidence.inputs.values_mut() {
            let i = at.index(bytes.len());
            bytes[i] = byte;
        }
        whole(&prove(&evidence))?;
    }
}

#[test]
fn an_empty_plan_holds_and_an_empty_contour_does_not() {
    let case = case(0);
    let mut evidence = case.evidence(&case.program());
    evidence.plan.sections[0].contours[0].target.clear();
    assert!(!prove(&evidence).holds);
    let mut evidence = case.evidence(&case.program());
    evidence.plan.sections[0].contours[0].wire.iter_mut().for_each(|wire| wire.passes.clear());
    assert!(!prove(&evidence).holds);
    let mut evidence = case.evidence(&case.program());
    evidence.plan.sections.clear();
    assert!(prove(&evidence).holds);
}
