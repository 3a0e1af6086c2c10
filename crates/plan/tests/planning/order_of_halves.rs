//! The order of work of two halves: each sentence that carries a number, by hand, and which sentences there are when.

use crate::bench::{Bench, rounded_rectangle};
use crate::joint::{AS_DRAWN, Lies, three};
use outline::{Outline, Vertex};
use package::Plan;

fn order(plan: &Plan) -> &[String] {
    &plan.sections[0].halves.as_ref().unwrap().order_of_work
}

/// The only step that begins so.
#[track_caller]
fn step<'a>(plan: &'a Plan, begins: &str) -> &'a str {
    let found: Vec<&String> = order(plan).iter().filter(|step| step.starts_with(begins)).collect();
    assert_eq!(found.len(), 1, "{begins}: {:#?}", order(plan));
    found[0]
}

/// The block of three openings, 50 long, its holes as the joint's tests reckon them. A wheel of 0.15; the hole of `e` 0.5 from the
/// middle, 25 + 0.5 from the end. Halves 0.0036056 apart, sizes 0.003 off, a lean of 0.005: pins of 0.2817889 and 0.3132111.
#[test]
fn every_number_in_the_order_of_work_by_hand() {
    for lies in Lies::all() {
        let plan = three(lies, 50.0).plan();
        let (along, across) = if lies.turned { ("Y", "X") } else { ("X", "Y") };
        let (head, other) = if lies.across > 0.0 { ("smaller", "greater") } else { ("greater", "smaller") };
        assert!(step(&plan, "Soft").contains("make both halves with 0.3 of stock on every face"));
        assert_eq!(
            step(&plan, "Clamp the halves"),
            format!(
                "Clamp the halves. Screws M4 at {along} -18.5, 8.3 below the face; {along} +18.5, 8.3 below the face: in the half at {head} {across} drill 4.5 through and sink 8 wide, 4.5 below the finished side; in the half at {other} {across} drill 3.3 to 11.8 from the joint, tap 8.0. Take a screw of 20.5 or the next shorter."
            )
        );
        assert_eq!(
            step(&plan, "Clamped still"),
            format!(
                "Clamped still: dowels 4 at {along} -18.5, 18.0 below the face; {along} +18.5, 18.0 below the face: from the half at {head} {across} drill 3.8 through it and 10.1 into the half at {other} {across}, with 2 on through to push them out by; ream under size, for honing after hardening."
            )
        );
        assert!(step(&plan, "Harden").ends_with("to 60 HRC."));
        assert!(
            step(&plan, "Grind on each half").contains(&format!("square to it the end at smaller {along}:"))
        );
        assert!(
            step(&plan, "Grind both faces")
                .ends_with(&format!("they meet at {across} {:.3}.", 2.0 * lies.across))
        );
        for (edge, off) in [("e", 0.5 * lies.along), ("e2", 9.0 * lies.along)] {
            let ground = step(&plan, &format!("Edge {edge}: dress a wheel"));
            let said = [
                "to radius 0.15 and grind a half-round 0.15 deep (plus or minus 0.003)".to_owned(),
                format!(
                    "middle {:.4} from the finished end at smaller {along} ({along} {off:+.4};",
                    25.0 + off
                ),
            ];
            assert!(said.iter().all(|words| ground.contains(words)), "{ground}");
            let gauged = step(&plan, &format!("Edge {edge}: a pin of"));
            assert!(
                gauged.contains("a pin of 0.281 must go through the joined hole, one of 0.314 must not; the halves stand no more than 0.004 beside"),
                "{gauged}"
            );
        }
        let [low, high] = if lies.across > 0.0 { [17, 13] } else { [13, 17] };
        let [left, right] = if lies.along > 0.0 { ["25.5", "24.5"] } else { ["24.5", "25.5"] };
        assert_eq!(
            step(&plan, "Grind the outside"),
            format!(
                "Grind the outside: from the joint's line to {low}.000 at smaller and {high}.000 at greater {across}, and from a pin in the hole of edge e to {left}000 at smaller and {right}000 at greater {along}, faces square. Mark the datum corner."
            )
        );
        assert!(step(&plan, "Burn the start holes of e3,").contains("which do not lie over the joint"));
        assert_eq!(
            step(&plan, "Set the halves"),
            "Set the halves to each other by a pin in the half-round of edge e and draw the screws home."
        );
        step(&plan, "Hone the dowel holes together and fit the dowels.");
    }
}

/// What is done after what.
#[test]
fn steps_follow_each_other_as_halves_are_made() {
    let plan = three(AS_DRAWN, 50.0).plan();
    let begins = [
        "Soft",
        "Clamp the halves. Screws",
        "Clamped still: dowels",
        "Harden",
        "Grind on each half",
        "Grind both faces",
        "Edge e: dress",
        "Edge e2: dress",
        "Demagnetise",
        "Set the halves",
        "Edge e: a pin",
        "Edge e2: a pin",
        "Hone",
        "Grind the outside",
        "Burn the start holes",
        "Earth both halves",
        "STAY, edge e:",
    ];
    assert_eq!(order(&plan).len(), begins.len(), "{:#?}", order(&plan));
    for (step, begins) in order(&plan).iter().zip(begins) {
        assert!(step.starts_with(begins), "{step} is not {begins}");
    }
}

/// Halves that nothing holds, with no other opening: nothing is drilled, honed, burned or held up.
#[test]
fn steps_that_have_no_cause_are_left_out_of_the_halves_order() {
    let slot = || rounded_rectangle(1.2, 0.23, 0.115);
    let bench = Bench::new(slot(), 20.0).size([12.0, 16.0]).section("halves = { along = \"x\" }\n");
    let plan = bench.plan();
    for word in ["Screws", "dowel", "Burn", "HOLD", "STAY", "screws home"] {
        assert!(order(&plan).iter().all(|step| !step.contains(word)), "{word}: {:#?}", order(&plan));
    }
    assert!(step(&plan, "Set the halves").ends_with("half-round of edge e and clamp them."));
    step(&plan, "Leave the halves clamped for good");
    // Its room is 0.0156 by hand: held to be measured where a shop measures below more than that, and not below less.
    let shop = |below: &str| {
        let text = format!(
            "name = \"Example\"\nunits = \"mm\"\n[allowance]\nmeasure_below = {below}\n[half_round]\nradii = [0.08]\n"
        );
        bench.clone().shop(&text).plan()
    };
    assert!(order(&shop("0.0155")).iter().all(|step| !step.starts_with("HOLD")));
    assert!(step(&shop("0.0157"), "HOLD, edge e:").contains("measure the joined hole at both faces"));
    // An opening that cannot be cut has no order of work.
    let wide = "name = \"Example\"\nunits = \"mm\"\n[half_round]\nradii = [0.2]\n";
    assert!(order(&bench.clone().shop(wide).plan()).is_empty());
}

/// A joint that parts a core: the heaviest piece that nothing holds is told; pieces that fall with the water are not.
#[test]
fn a_part_of_a_core_that_comes_loose_is_told_with_the_halves() {
    let circle = Outline::new(vec![Vertex::new(4.0, 0.0, 1.0), Vertex::new(-4.0, 0.0, 1.0)]).unwrap();
    let plan = Bench::new(circle, 20.0)
        .size([40.0, 30.0])
        .section("halves = { along = \"x\", at = 0 }\n")
        .edge("cut = \"finished\"\nstart = { at = [0, 0] }\n")
        .plan();
    let cut = &plan.sections[0].contours[0];
    let loose: Vec<f64> = cut.cores.iter().filter(|core| !core.held).map(|core| core.mass_g).collect();
    let heaviest = loose.iter().copied().fold(0.0, f64::max);
    assert!(loose.len() == 2 && heaviest > 0.1 && heaviest > loose[0].min(loose[1]), "{loose:?}");
    assert!(step(&plan, "STAY, edge e:").contains(&format!("up to {heaviest:.2} g, is loose")));
    let remark = plan.remarks.iter().find(|remark| remark.code == "core-parted").unwrap();
    assert!(remark.message.contains(&format!("a piece of {heaviest:.2} g is loose")), "{}", remark.message);
    // `e2` falls in pieces of 3 mg, and `e3` is burned.
    let three = three(AS_DRAWN, 50.0).plan();
    assert_eq!(three.remarks.iter().filter(|remark| remark.code == "core-parted").count(), 1);
}
