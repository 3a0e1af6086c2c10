//! Where the wire stands beside small blocks, and what its ways leave of them.

use super::*;
use crate::by_hand::{contour, section, start, wire};
use package::{BackBore, HoleDiameter, MeasuredHole, Rim};

const BLOCK: [f64; 2] = [8.0, 4.0];

#[test]
fn a_place_lies_off_the_block_by_its_nearest_side_or_corner() {
    for (place, expected) in [
        ([0.0, 2.5], 0.5),
        ([-5.0, 1.0], 1.0),
        ([7.0, -6.0], 5.0),
        ([-4.3, 2.4], 0.5),
        ([4.0, 2.5], 0.5),
        ([4.5, -2.0], 0.5),
        ([3.0, 0.0], -1.0),
        ([0.0, 0.0], -2.0),
    ] {
        assert!((off_block(BLOCK, place) - expected).abs() < 1e-12, "{place:?}");
    }
}

/// The way a piece is begun beside the block, with nothing said of a hole.
fn beside() -> Contour {
    let start = Start { kind: StartKind::FromOutside, depth_mm: 0.0, ..start(0.0, 2.5, 0.0) };
    let mut contour = contour("c", [-1.0, -1.0], [1.0, 1.0], Some(start));
    contour.side = Side::Outside;
    contour
}

fn told(contour: &Contour, wire: &Wire, place: Place) -> Vec<String> {
    let threaded = Threaded { place, block: Some(30), ..Threaded::default() };
    let spot = Spot::program("p");
    let faults = stands(BLOCK, contour, wire, &threaded, &spot);
    for fault in &faults {
        assert_eq!((fault.code.as_str(), fault.block), ("from-outside", Some(30)));
        assert_eq!((fault.x_mm, fault.y_mm), (Some(place[0]), Some(place[1])));
    }
    faults.into_iter().map(|fault| fault.message).collect()
}

/// A wire of 0.2 that sparks 0.05 in one pass and 0.02 in another needs 0.15 from the block.
#[test]
fn the_wire_stands_off_by_half_of_itself_and_its_widest_spark() {
    let mut wire = wire(0.2, 0.05);
    wire.passes.push(crate::by_hand::wire(0.2, 0.02).passes[0].clone());
    let near = |off: f64| told(&beside(), &wire, [1.0, -2.0 - off]).len();
    assert_eq!([near(0.16), near(0.15), near(0.14)], [0, 0, 1]);
    // What rounding does, and no more.
    assert_eq!([near(0.14995), near(0.14985)], [0, 1]);
    wire.passes.reverse();
    assert!(
        told(&beside(), &wire, [1.0, -2.14])[0]
            .contains("stands 0.1400 off the block, and sparks from 0.1500 on")
    );
    // Exactly what rounding may do is not too near: 0.2501 less 0.0001.
    let exact = crate::by_hand::wire(0.5002, 0.0);
    assert_eq!(told(&beside(), &exact, [4.25, 0.0]), Vec::<String>::new());
}

#[test]
fn what_begins_in_a_hole_does_not_stand_beside_the_block() {
    let mut burned = beside();
    for start in burned.start.iter_mut() {
        (start.kind, start.hole_diameter_mm.entry) = (StartKind::Burned, 0.4);
    }
    assert_eq!(told(&burned, &wire(0.2, 0.05), [0.0, 0.0]), Vec::<String>::new());
    assert!(is(&beside()) && !is(&burned));
    burned.start = None;
    assert_eq!(told(&burned, &wire(0.2, 0.05), [0.0, 0.0]), Vec::<String>::new());
    assert!(!is(&burned));
}

#[test]
fn an_opening_is_never_begun_beside_the_block() {
    let mut opening = beside();
    opening.side = Side::Inside;
    let said = told(&opening, &wire(0.2, 0.05), [0.0, 2.5]);
    assert!(said.len() == 1 && said[0].contains("an opening"), "{said:?}");
}

#[test]
fn nothing_is_said_of_a_hole_beside_the_block() {
    let rim = Rim { x_mm: 0.0, y_mm: 2.5, diameter_mm: 0.4 };
    let hole = MeasuredHole { face: rim, back: rim, light_mm: 0.4, lean_mm: 0.0 };
    let bore = BackBore { x_mm: 0.0, y_mm: 2.5, diameter_mm: 1.0, depth_mm: 5.0, clears: false };
    let changes: [&dyn Fn(&mut Start); 6] = [
        &|start| start.hole_diameter_mm.entry = 0.01,
        &|start| start.hole_diameter_mm = HoleDiameter { entry: 0.0, exit: 0.01 },
        &|start| start.depth_mm = 0.01,
        &|start| start.electrode_mm = Some(0.2),
        &|start| start.measured = Some(hole),
        &|start| start.back_bore = Some(bore),
    ];
    for (i, change) in changes.into_iter().enumerate() {
        let mut contour = beside();
        contour.start.iter_mut().for_each(change);
        let said = told(&contour, &wire(0.2, 0.05), [0.0, 2.5]);
        assert!(said.len() == 1 && said[0].contains("something of a hole"), "{i}: {said:?}");
    }
    assert_eq!(told(&beside(), &wire(0.2, 0.05), [0.0, 2.5]), Vec::<String>::new());
}

/// A cut of 0.2 wide across a block of 8 x 4, right of its middle.
fn across(at: f64) -> (Vec<Place>, f64) {
    (vec![[at, -3.0], [at, 3.0]], 0.1)
}

#[test]
fn a_way_across_parts_what_stands_around() {
    let mut section = section([6.0, 3.0, 20.0], vec![beside()]);
    section.cut_from_mm = Some(BLOCK);
    let parts = |ways: &[(Vec<Place>, f64)]| frame(&section, ways);
    assert_eq!(parts(&[]), None);
    // In from above and below, stopping short of each other; along a side, taking nothing but an edge off.
    assert_eq!(parts(&[(vec![[1.0, -3.0], [1.0, -0.5]], 0.1), (vec![[1.0, 3.0], [1.0, 0.5]], 0.1)]), None);
    assert_eq!(parts(&[(vec![[-5.0, 2.0], [5.0, 2.0]], 0.1)]), None);
    let fault = parts(&[across(1.5)]).expect("it parts");
    assert_eq!(fault.code, "frame-parts");
    assert!(fault.message.contains("in 2 parts"), "{}", fault.message);
    // It is told at the smaller part, which lies right of 1.6, and left of -1.6 the other way round.
    assert!(fault.x_mm.is_some_and(|x| x > 1.59), "{fault:?}");
    let fault = parts(&[across(-1.5)]).expect("it parts");
    assert!(fault.x_mm.is_some_and(|x| x < -1.59), "{fault:?}");
    let fault = parts(&[across(1.5), across(-2.0)]).expect("it parts");
    assert!(fault.message.contains("in 3 parts"), "{}", fault.message);
    let along = parts(&[(vec![[-5.0, 0.5], [5.0, 0.5]], 0.1)]).expect("it parts");
    assert!(along.message.contains("in 2 parts") && along.y_mm.is_some_and(|y| y > 0.59), "{along:?}");
    // All of the block cut away: nothing stands.
    let gone = parts(&[(vec![[-5.0, 0.0], [5.0, 0.0]], 3.0)]).expect("nothing stands");
    assert!(gone.message.contains("in 0 parts"), "{}", gone.message);
}

/// A piece that a way goes round is no part of what stands around it, whole block or not.
#[test]
fn a_piece_that_is_cut_out_does_not_stand_around() {
    let section = section([8.0, 4.0, 20.0], vec![beside()]);
    let round = |left: f64| vec![[left, -1.0], [2.0, -1.0], [2.0, 1.0], [left, 1.0], [left, -1.0]];
    assert_eq!(frame(&section, &[(round(-2.0), 0.1)]), None);
    // So near to the left side that nothing is left there: what stands hangs together on the right.
    assert_eq!(frame(&section, &[(round(-3.95), 0.1)]), None);
}

/// A corner that a way takes off is a part when it is more than dust: legs of 0.5, and of 0.01 (5e-5 mm2).
#[test]
fn dust_at_a_corner_is_no_part() {
    let section = section([8.0, 4.0, 20.0], vec![beside()]);
    // The lower right side of a way of 0.1 each way lies `leg` from the corner on both sides.
    let off = |leg: f64| {
        let by = leg + 0.1 * 2.0_f64.sqrt();
        let way = vec![[4.0 - by - 1.0, 2.0 + 1.0], [4.0 + 1.0, 2.0 - by - 1.0]];
        frame(&section, &[(way, 0.1)]).is_some()
    };
    assert_eq!([off(0.5), off(0.02), off(0.01)], [true, true, false]);
}

/// Where everything begins in holes, what a way parts is judged elsewhere.
#[test]
fn a_frame_around_holes_is_not_asked() {
    let mut burned = beside();
    burned.start = Some(start(0.0, 1.5, 0.4));
    assert_eq!(frame(&section([8.0, 4.0, 20.0], vec![burned.clone()]), &[across(1.5)]), None);
    assert!(frame(&section([8.0, 4.0, 20.0], vec![burned, beside()]), &[across(1.5)]).is_some());
}
