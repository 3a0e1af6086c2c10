//! Start holes that the job states: taken where they are stated, held against every bound all the same.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vector};
use package::{Contour, Origin, Plan};

/// The slot of the first hole worked by hand: room 0.00676 in its middle with electrode 0.20.
fn slot() -> Outline {
    rounded_rectangle(2.22, 0.33, 0.06)
}

const SHOP: &str = "[[electrode]]\ndiameter = 0.20\novercut = 0.02\nbellmouth = 0.010\n\
     [[electrode]]\ndiameter = 0.10\novercut = 0.015\nbellmouth = 0.006\n\
     [[wire]]\ndiameter = 0.10\ngap = 0.010\noffsets = [0.075, 0.059, 0.0545, 0.053]\n";

fn stated(outline: Outline, start: &str) -> Bench {
    Bench::new(outline, 20.0).shop(SHOP).edge(&format!("cut = \"finished\"\nstart = {start}\n"))
}

fn contour(plan: &Plan) -> &Contour {
    &plan.sections[0].contours[0]
}

fn origin(plan: &Plan, key: &str) -> Option<Origin> {
    plan.reckoning.iter().find(|line| line.key == format!("s.e.{key}")).map(|line| line.origin)
}

#[test]
fn stating_the_place_and_electrode_that_were_chosen_changes_nothing_but_who_says_so() {
    let chosen = Bench::new(slot(), 20.0).shop(SHOP).planned().unwrap();
    let start = contour(&chosen.plan).start.clone().unwrap();
    let words = format!(
        "{{ at = [{:?}, {:?}], electrode = {:?} }}",
        start.x_mm,
        start.y_mm,
        start.electrode_mm.unwrap()
    );
    let given = stated(slot(), &words).planned().unwrap();
    assert_eq!(contour(&given.plan), contour(&chosen.plan));
    assert_eq!(given.programs, chosen.programs);
    for key in ["start.x_mm", "start.y_mm"] {
        assert_eq!(
            (origin(&chosen.plan, key), origin(&given.plan, key)),
            (None, Some(Origin::Given)),
            "{key}"
        );
    }
    let key = "start.electrode_mm";
    assert_eq!(
        (origin(&chosen.plan, key), origin(&given.plan, key)),
        (Some(Origin::Chosen), Some(Origin::Given))
    );
}

/// Off the middle of a slot by b, along it by any length, the room is less by exactly b.
#[test]
fn the_room_is_that_of_the_stated_place() {
    let room = |at: &str| {
        let plan = stated(slot(), &format!("{{ at = {at}, electrode = 0.2 }}")).plan();
        contour(&plan).start.as_ref().unwrap().room_mm
    };
    let middle = room("[0.0, 0.0]");
    assert!((middle - 0.00676).abs() < 6e-5, "{middle}");
    for (at, b) in [("[0.4, 0.003]", 0.003), ("[-0.8, -0.005]", 0.005), ("[0.7, 0.0]", 0.0)] {
        assert!((room(at) - (middle - b)).abs() < 1e-9, "{at}");
    }
}

#[test]
fn a_stated_place_moves_with_its_opening() {
    let by = Vector::new(1.5, -0.75);
    let one = stated(slot(), "{ at = [0.25, 0.001] }").plan();
    let moved = stated(slot().moved(by), "{ at = [1.75, -0.749] }").plan();
    let (one, moved) = (contour(&one).start.as_ref().unwrap(), contour(&moved).start.as_ref().unwrap());
    assert!((one.room_mm - moved.room_mm).abs() < 1e-9);
    assert_eq!(one.electrode_mm, moved.electrode_mm);
    assert!((one.clean_up_probability - moved.clean_up_probability).abs() < 1e-9);
}

/// What is wrong with the stated place alone is no fault of the wire, and nothing asks for halves.
#[test]
fn a_stated_place_on_the_edge_is_cured_by_another_place_alone() {
    let plan = stated(slot(), "{ at = [0.0, -0.155], electrode = 0.2 }").plan();
    let cures: Vec<&str> =
        contour(&plan).start_limits.cures.iter().map(|cure| cure.change.as_str()).collect();
    assert!(cures.iter().any(|cure| cure.contains("instead of the stated place")), "{cures:?}");
    assert!(!cures.iter().any(|cure| cure.contains("finer") || cure.contains("halves")), "{cures:?}");
}

/// With the electrode stated the larger one may not be avoided, nor the stated place left.
#[test]
fn a_stated_place_that_leaves_a_scar_is_refused_and_the_cure_says_where_room_is() {
    let plan = stated(slot(), "{ at = [0.0, 0.02], electrode = 0.2 }").plan();
    let contour = contour(&plan);
    assert!(contour.start.is_none() && !plan.sections[0].makeable);
    let bound = contour.start_limits.bounds.iter().find(|bound| bound.bound == "clean-up").unwrap();
    assert!((bound.have_mm - 0.145).abs() < 1e-9 && !bound.holds);
    let cure = contour.start_limits.cures.iter().find(|cure| cure.change.contains("most room")).unwrap();
    assert!((cure.room_mm.unwrap() - 0.00676).abs() < 6e-5, "{cure:?}");
}

#[test]
fn a_place_outside_the_opening_or_the_block_is_refused_by_its_bounds() {
    for at in ["[0.0, 0.5]", "[5.0, 0.0]", "[900.0, -900.0]", "[1.11, 0.0]"] {
        let plan = stated(slot(), &format!("{{ at = {at} }}")).plan();
        let contour = contour(&plan);
        assert!(contour.start.is_none() && contour.wire.is_none(), "{at}");
        assert!(contour.start_limits.bounds.iter().any(|b| b.bound == "clean-up" && !b.holds), "{at}");
    }
}

#[test]
fn an_electrode_alone_may_be_stated_and_must_be_in_the_shop() {
    // The thin one breaks other bounds at this height; its line says that it was the one looked at.
    let electrode = |words: &str| {
        stated(slot(), words).planned().map(|planned| {
            let lines = &planned.plan.reckoning;
            lines.iter().find(|line| line.key == "s.e.start.electrode_mm").unwrap().value
        })
    };
    assert_eq!(electrode("{ electrode = 0.1 }").ok(), Some(0.1));
    assert_eq!(electrode("{ electrode = \"0.2 mm\" }").ok(), Some(0.2));
    let refused = electrode("{ electrode = 0.3 }").unwrap_err();
    assert_eq!(refused[0].code, "no-such-electrode");
    assert!(refused[0].cures[0].contains("0.2, 0.1"), "{refused:?}");
}
