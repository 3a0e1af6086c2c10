//! Outlines of a drawing are numbered by the line of their first entity, in whatever order and direction the pieces
//! of all of them stand.

use crate::case::{Case, dxf, entity, fingerprint};
use crate::damages::Dice;
use crate::holds::cases;
use crate::shape::{Seg, Shape};
use proof::prove;

/// A drawing of several shapes whose pieces stand in a random order; and where in it each shape begins.
fn shuffled(shapes: &[Shape], dice: &mut Dice) -> (String, Vec<usize>) {
    let mut pieces: Vec<(usize, Seg)> = shapes
        .iter()
        .enumerate()
        .flat_map(|(k, shape)| shape.segs.iter().map(move |seg| (k, *seg)))
        .collect();
    for i in (1..pieces.len()).rev() {
        pieces.swap(i, dice.below(i + 1));
    }
    let turned = |seg: &Seg, turn: bool| if turn { seg.reversed() } else { *seg };
    let entities: String =
        pieces.iter().map(|(_, seg)| entity(&turned(seg, dice.below(2) == 0), 1.0)).collect();
    let empty = dxf(&shapes[0], false);
    let head = empty.find("ENTITIES\n").map_or(0, |at| at + "ENTITIES\n".len());
    let text = format!("{}{entities}0\nENDSEC\n0\nEOF\n", &empty[..head]);
    let first = |k: usize| pieces.iter().position(|(shape, _)| *shape == k).unwrap_or(usize::MAX);
    (text, (0..shapes.len()).map(first).collect())
}

#[test]
fn outlines_are_numbered_by_their_first_entity() {
    let mut dice = Dice(31);
    let case: Case = cases().swap_remove(0);
    let right = case.openings[0].drawn.clone();
    let others = [
        Shape::circle(0.3).moved([3.0, 0.0]),
        Shape::rectangle(1.4, 1.0, 0.2).moved([-3.0, 0.5]),
        Shape::rectangle(0.6, 0.4, 0.0).moved([0.0, 4.0]),
    ];
    let mut seen = [0; 4];
    for _ in 0..40 {
        let shapes: Vec<Shape> = std::iter::once(right.clone()).chain(others.iter().cloned()).collect();
        let (text, begins) = shuffled(&shapes, &mut dice);
        let number = 1 + begins.iter().filter(|at| **at < begins[0]).count();
        seen[number - 1] += 1;
        for named in 1..=5 {
            let mut evidence = case.evidence(&case.program());
            evidence.plan.sections[0].contours[0].drawing.outline = format!("o{named}");
            evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
            evidence.inputs.insert("e1.dxf".to_owned(), text.clone().into_bytes());
            let proof = prove(&evidence);
            assert_eq!(proof.holds, named == number, "o{named}, {number} is right: {:?}", proof.faults);
        }
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
}

/// Ends that lie apart by less than the join limit are joined, wider ones are not.
#[test]
fn the_join_limit_decides() {
    let case: Case = cases().swap_remove(0);
    for (gap, joined) in [(0.0004, true), (0.0009, true), (0.0011, false), (0.01, false)] {
        let mut drawn = case.openings[0].drawn.clone();
        drawn.segs[0].a[0] += gap;
        let text = dxf(&drawn, false);
        let mut evidence = case.evidence(&case.program());
        evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
        evidence.inputs.insert("e1.dxf".to_owned(), text.into_bytes());
        let proof = prove(&evidence);
        assert_eq!(proof.holds, joined, "{gap}: {:?}", proof.faults);
    }
}
