//! What becomes an outline, what is only remarked on, and that order and direction of the entities do not matter.

#![allow(clippy::unwrap_used)]

use drawing::{Drawing, Options, Units, UnitsFrom, outlines};
use dxf::{Dxf, Entity, InsUnits, Shape};
use outline::Point;
use std::collections::BTreeMap;
use std::f64::consts::PI;

const OPTIONS: Options = Options { units: Some(Units::Mm), units_if_unstated: None, join_limit_mm: 0.001 };

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Shape {
    Shape::Line { from: [x0, y0], to: [x1, y1] }
}

fn arc(x: f64, y: f64, radius: f64, start_deg: f64, end_deg: f64) -> Shape {
    Shape::Arc { centre: [x, y], radius, start_deg, end_deg, clockwise: false }
}

fn circle(x: f64, y: f64, radius: f64) -> Shape {
    Shape::Circle { centre: [x, y], radius }
}

fn polyline(vertices: &[[f64; 3]], closed: bool) -> Shape {
    Shape::Polyline { vertices: vertices.to_vec(), closed }
}

fn square(x: f64, y: f64, side: f64) -> Vec<Shape> {
    let (a, b) = (x + side, y + side);
    vec![line(x, y, a, y), line(a, y, a, b), line(a, b, x, b), line(x, b, x, y)]
}

/// A slot of straight length 2 and width 1: lines and half circles.
fn slot() -> Vec<Shape> {
    vec![
        line(0.0, 0.0, 2.0, 0.0),
        arc(2.0, 0.5, 0.5, 270.0, 90.0),
        line(2.0, 1.0, 0.0, 1.0),
        arc(0.0, 0.5, 0.5, 90.0, 270.0),
    ]
}

/// The entities stand on lines 10, 20, 30, ...
fn drawing_of(shapes: Vec<Shape>) -> Dxf {
    let entities = shapes
        .into_iter()
        .enumerate()
        .map(|(i, shape)| Entity { line: 10 * (i as u32 + 1), layer: format!("l{i}"), shape })
        .collect();
    Dxf {
        file: "a.dxf".into(),
        units: None,
        entities,
        blocks: BTreeMap::new(),
        skipped: BTreeMap::new(),
        remarks: Vec::new(),
    }
}

fn found(shapes: Vec<Shape>) -> Drawing {
    outlines(&drawing_of(shapes), &OPTIONS)
}

/// Areas of the outlines, and the codes of the remarks with their lines.
fn seen(drawing: &Drawing) -> (Vec<f64>, Vec<(&str, u32)>) {
    let areas = drawing.outlines.iter().map(|o| o.outline.area()).collect();
    (areas, drawing.remarks.iter().map(|r| (r.code.as_str(), r.place.line.unwrap_or(0))).collect())
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (1.0 + b.abs())
}

/// The areas and remarks that are expected; every remark of an entity has a place in mm.
#[track_caller]
fn check(shapes: Vec<Shape>, areas: &[f64], remarks: &[(&str, u32)]) -> Drawing {
    let drawing = found(shapes);
    let (found_areas, found_remarks) = seen(&drawing);
    assert_eq!(found_remarks, remarks, "{:#?}", drawing.remarks);
    assert!(
        found_areas.len() == areas.len() && found_areas.iter().zip(areas).all(|(a, b)| near(*a, *b)),
        "{found_areas:?}"
    );
    assert!(drawing.remarks.iter().all(|r| r.place.x_mm.is_some()), "{:?}", drawing.remarks);
    drawing
}

#[test]
fn loose_entities_chain_to_outlines_numbered_by_line() {
    let mut shapes = square(5.0, 0.0, 1.0);
    shapes.insert(1, circle(0.0, 0.0, 2.0));
    shapes.extend(slot().into_iter().map(|shape| match shape {
        Shape::Line { from, to } => line(from[0], from[1] + 10.0, to[0], to[1] + 10.0),
        Shape::Arc { centre, radius, start_deg, end_deg, .. } => {
            arc(centre[0], centre[1] + 10.0, radius, start_deg, end_deg)
        }
        other => other,
    }));
    let drawing = check(shapes, &[1.0, 4.0 * PI, 2.0 + PI / 4.0], &[]);
    let heads: Vec<_> =
        drawing.outlines.iter().map(|o| (o.id.as_str(), o.first_line, o.layer.as_str())).collect();
    assert_eq!(heads, [("o1", 10, "l0"), ("o2", 20, "l1"), ("o3", 60, "l5")]);
    assert!(drawing.outlines.iter().all(|o| o.moved_mm < 1e-12 && o.inside_of.is_none()));
}

#[test]
fn an_outline_begins_at_the_first_point_of_its_first_entity() {
    let begins = |shapes| found(shapes).outlines[0].outline.vertices()[0].point;
    assert_eq!(begins(square(1.0, 2.0, 3.0)), Point::new(1.0, 2.0));
    let mut backwards = square(1.0, 2.0, 3.0);
    backwards[0] = line(4.0, 2.0, 1.0, 2.0);
    assert_eq!(begins(backwards), Point::new(4.0, 2.0));
    assert_eq!(begins(vec![circle(1.0, 1.0, 0.5)]), Point::new(1.5, 1.0));
    assert_eq!(begins(slot().into_iter().rev().collect()), Point::new(0.0, 1.0));
    let clockwise = polyline(&[[0.0, 0.0, 0.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]], true);
    let drawing = found(vec![clockwise]);
    let points: Vec<Point> = drawing.outlines[0].outline.vertices().iter().map(|v| v.point).collect();
    assert_eq!(points, [Point::new(0.0, 0.0), Point::new(1.0, 0.0), Point::new(0.0, 1.0)]);
}

#[test]
fn mirrored_arcs_run_clockwise_from_their_start() {
    let half =
        Shape::Arc { centre: [0.0, 0.0], radius: 1.0, start_deg: 180.0, end_deg: 0.0, clockwise: true };
    let drawing = check(vec![half, line(1.0, 0.0, -1.0, 0.0)], &[PI / 2.0], &[]);
    assert_eq!(drawing.outlines[0].outline.vertices()[0].point, Point::new(-1.0, 0.0));
    let bounds = drawing.outlines[0].outline.bounds();
    assert!(near(bounds.max.y, 1.0) && bounds.min.y.abs() < 1e-12, "{bounds:?}");
}

#[test]
fn large_arcs_and_bulges_are_split() {
    let whole = found(vec![arc(0.0, 0.0, 1.0, 30.0, 390.0)]);
    assert!(near(whole.outlines[0].outline.area(), PI), "{:?}", whole.remarks);
    let three_quarters = vec![arc(0.0, 0.0, 1.0, 0.0, 270.0), line(0.0, -1.0, 1.0, 0.0)];
    check(three_quarters, &[0.75 * PI + 0.5], &[]);
    // Three quarters of a circle: bulge tan(270/4 deg).
    let bulge = 67.5f64.to_radians().tan();
    let drawing =
        check(vec![polyline(&[[1.0, 0.0, bulge], [0.0, -1.0, 0.0]], true)], &[0.75 * PI + 0.5], &[]);
    assert!(drawing.outlines[0].outline.vertices().iter().all(|v| v.bulge.abs() <= 1.0));
}

#[test]
fn an_outline_inside_another_knows_it() {
    let shapes = [
        vec![circle(0.0, 0.0, 0.5)],
        square(-3.0, -3.0, 6.0),
        vec![circle(0.0, 0.0, 1.0), circle(9.0, 0.0, 1.0)],
    ]
    .concat();
    let drawing = check(shapes, &[0.25 * PI, 36.0, PI, PI], &[]);
    let around: Vec<_> = drawing.outlines.iter().map(|o| o.inside_of).collect();
    assert_eq!(around, [Some(2), None, Some(1), None]);
}

#[test]
fn units_are_demanded_stated_otherwise_or_assumed() {
    let stated = |code| Dxf { units: InsUnits::of_code(code), ..drawing_of(vec![circle(0.0, 0.0, 1.0)]) };
    let with =
        |dxf: &Dxf, units, units_if_unstated| outlines(dxf, &Options { units, units_if_unstated, ..OPTIONS });
    for (code, demanded, otherwise, units, from, mm, remark) in [
        (0, None, None, Units::Mm, UnitsFrom::Assumed, 1.0, Some("units-assumed")),
        (0, None, Some(Units::In), Units::In, UnitsFrom::Option, 25.4, None),
        (0, Some(Units::In), None, Units::In, UnitsFrom::Option, 25.4, None),
        (1, None, Some(Units::Mm), Units::In, UnitsFrom::Drawing, 25.4, None),
        (1, Some(Units::Mm), None, Units::Mm, UnitsFrom::Option, 1.0, Some("units-overridden")),
        (4, Some(Units::Mm), None, Units::Mm, UnitsFrom::Option, 1.0, None),
        (5, None, None, Units::Mm, UnitsFrom::Drawing, 10.0, Some("units-converted")),
    ] {
        let drawing = with(&stated(code), demanded, otherwise);
        assert_eq!((drawing.units, drawing.units_from), (units, from), "{code}");
        assert!(near(drawing.outlines[0].outline.area(), PI * mm * mm), "{code}");
        assert_eq!(drawing.remarks.first().map(|r| r.code.as_str()), remark, "{code}");
    }
}

#[test]
fn ends_within_the_limit_are_closed_up_and_the_movement_is_bounded() {
    let mut shapes = square(0.0, 0.0, 1.0);
    shapes[1] = line(1.0006, 0.0, 1.0, 1.0);
    let drawing = found(shapes);
    assert!(drawing.remarks.is_empty(), "{:?}", drawing.remarks);
    let moved = drawing.outlines[0].moved_mm;
    assert!((0.0002999..0.0006).contains(&moved), "{moved}");
}

#[test]
fn short_entities_are_kept_though_their_ends_are_near() {
    let mut shapes = square(0.0, 0.0, 1.0);
    shapes[0] = line(0.0, 0.0, 0.9995, 0.0);
    shapes.push(line(0.9995, 0.0, 1.0, 0.0));
    check(shapes, &[1.0], &[]);
}

#[test]
fn open_chains_name_both_ends_and_the_limit_that_would_do() {
    let mut shapes = square(0.0, 0.0, 1.0);
    shapes[1] = line(1.0023, 0.0, 1.0, 1.0);
    shapes.push(circle(5.0, 0.0, 1.0));
    let drawing = check(shapes, &[PI], &[("open-chain", 10)]);
    let remark = &drawing.remarks[0];
    for part in ["x 1.0023 y 0.0000", "x 1.0000 y 0.0000", "0.0023 mm apart"] {
        assert!(remark.message.contains(part), "{}", remark.message);
    }
    assert_eq!(remark.cures[0], "raise join_limit to 0.0023 mm");
    let mut far = square(0.0, 0.0, 1.0);
    far.remove(3);
    let drawing = check(far, &[], &[("open-chain", 10)]);
    assert!(
        drawing.remarks[0].message.contains("1.0000 mm apart")
            && !drawing.remarks[0].cures[0].contains("join_limit")
    );
}

#[test]
fn the_limit_that_is_named_does_close_the_chain() {
    let mut shapes = square(0.0, 0.0, 1.0);
    shapes[1] = line(1.00231, 0.00117, 1.0, 1.0);
    let cure = found(shapes.clone()).remarks[0].cures[0].clone();
    let limit: f64 = cure.split_whitespace().nth(3).unwrap().parse().unwrap();
    let drawing = outlines(&drawing_of(shapes), &Options { join_limit_mm: limit, ..OPTIONS });
    assert_eq!(drawing.outlines.len(), 1, "{limit} {:?}", drawing.remarks);
}

#[test]
fn what_was_drawn_twice_is_dropped_with_a_warning() {
    let mut shapes = square(0.0, 0.0, 1.0);
    shapes.push(line(0.0, 1.0, 1.0, 1.0));
    shapes.push(line(0.0, 0.0, 1.0, 0.00001));
    check(shapes, &[1.0], &[("duplicate", 50), ("duplicate", 60)]);
    let twice = vec![circle(0.0, 0.0, 1.0), arc(0.0, 0.0, 1.0, 90.0, 270.0), arc(0.0, 0.0, 1.0, 270.0, 90.0)];
    check(twice, &[PI], &[("duplicate-outline", 20)]);
    let corners = polyline(&[[1.0, 1.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 0.0], [1.0, 0.0, 0.0]], true);
    check([square(0.0, 0.0, 1.0), vec![corners]].concat(), &[1.0], &[("duplicate-outline", 50)]);
}

#[test]
fn entities_of_no_length_are_dropped_with_a_warning() {
    let mut shapes = square(0.0, 0.0, 1.0);
    shapes.insert(2, line(0.3, 0.0, 0.3, 0.0));
    check(shapes, &[1.0], &[("zero-length", 30)]);
    let repeated = polyline(
        &[[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 0.0]],
        true,
    );
    check(vec![repeated], &[0.5], &[("zero-length", 10)]);
    check(vec![arc(0.0, 0.0, 1.0, 30.0, 30.0)], &[], &[("arc-without-sweep", 10)]);
}

#[test]
fn branches_t_joints_and_overlaps_are_errors_that_hide_nothing_else() {
    let beside = |shapes: Vec<Shape>| [shapes, vec![circle(9.0, 0.0, 1.0)]].concat();
    let with = |extra: Shape| beside([square(0.0, 0.0, 1.0), vec![extra]].concat());
    check(with(line(1.0, 1.0, 2.0, 2.0)), &[PI], &[("branch", 20)]);
    check(with(line(0.5, 1.0, 0.5, 2.0)), &[1.0, PI], &[("t-joint", 50)]);
    check(with(line(0.2, 1.0, 0.7, 1.0)), &[1.0, PI], &[("overlap", 50)]);
    // Two squares that share a corner: four ends at one point.
    let corner = [square(0.0, 0.0, 1.0), square(1.0, 1.0, 1.0)].concat();
    check(beside(corner), &[PI], &[("branch", 20)]);
    let arcs =
        vec![arc(0.0, 0.0, 1.0, 0.0, 180.0), line(-1.0, 0.0, 1.0, 0.0), arc(0.0, 0.0, 1.0, 40.0, 90.0)];
    check(beside(arcs), &[PI / 2.0, PI], &[("overlap", 30)]);
    let two = [square(0.0, 0.0, 1.0), square(1.0, 0.2, 0.5)].concat();
    check(beside(two), &[PI], &[("outlines-meet", 10), ("outlines-meet", 50)]);
}

#[test]
fn outlines_that_cross_themselves_or_each_other_are_errors() {
    let bow = polyline(&[[0.0, 0.0, 0.0], [1.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]], true);
    let drawing = check(vec![bow, circle(9.0, 0.0, 1.0)], &[PI], &[("outline-crosses-itself", 10)]);
    let place = &drawing.remarks[0].place;
    assert!(near(place.x_mm.unwrap(), 0.5) && near(place.y_mm.unwrap(), 0.5), "{place:?}");
    let three = vec![circle(0.0, 0.0, 1.0), circle(1.0, 0.0, 1.0), circle(9.0, 0.0, 1.0)];
    check(three, &[PI], &[("outlines-meet", 10), ("outlines-meet", 20)]);
    let tangent = vec![circle(0.0, 0.0, 1.0), circle(2.0, 0.0, 1.0)];
    check(tangent, &[], &[("outlines-meet", 10), ("outlines-meet", 20)]);
    let inside = vec![circle(0.0, 0.0, 1.0), circle(0.5, 0.0, 0.5)];
    check(inside, &[], &[("outlines-meet", 10), ("outlines-meet", 20)]);
}

#[test]
fn a_join_limit_that_is_no_length_is_an_error() {
    for limit in [-0.1, f64::NAN, f64::INFINITY] {
        let drawing = outlines(&drawing_of(slot()), &Options { join_limit_mm: limit, ..OPTIONS });
        assert_eq!((drawing.outlines.len(), drawing.remarks[0].code.as_str()), (0, "join-limit-bad"));
    }
    let exact = outlines(&drawing_of(slot()), &Options { join_limit_mm: 0.0, ..OPTIONS });
    assert_eq!(exact.outlines.len(), 1, "{:?}", exact.remarks);
}

#[test]
fn what_lies_all_at_one_place_ends_in_time() {
    let spokes = (0..20_000).map(|i| {
        let angle = f64::from(i) * 1e-4;
        line(0.0, 0.0, angle.cos(), angle.sin())
    });
    let drawing = found(spokes.collect());
    assert!(drawing.outlines.is_empty() && drawing.remarks.iter().any(|r| r.is_error()));
}

mod orders {
    use super::*;
    use proptest::prelude::*;

    /// Another drawing of the same entities: in another order, some of them the other way round, ends moved a little.
    fn redrawn(shapes: &[Shape], order: &[usize], flips: &[bool], shift: &[f64]) -> Vec<Shape> {
        let mut shifts = shift.iter().cycle();
        let mut moved = |p: [f64; 2]| p.map(|c| c + shifts.next().unwrap());
        let redraw = |i: &usize| match shapes[*i].clone() {
            Shape::Line { from, to } => {
                let (from, to) = (moved(from), moved(to));
                if flips[*i] { Shape::Line { from: to, to: from } } else { Shape::Line { from, to } }
            }
            Shape::Arc { centre, radius, start_deg, end_deg, .. } => {
                let centre = moved(centre);
                match flips[*i] {
                    true => {
                        Shape::Arc { centre, radius, start_deg: end_deg, end_deg: start_deg, clockwise: true }
                    }
                    false => Shape::Arc { centre, radius, start_deg, end_deg, clockwise: false },
                }
            }
            other => other,
        };
        order.iter().map(redraw).collect()
    }

    proptest! {
        #[test]
        fn order_direction_and_small_movements_do_not_matter(
            order in Just((0..8).collect::<Vec<usize>>()).prop_shuffle(),
            flips in proptest::collection::vec(any::<bool>(), 8),
            shift in proptest::collection::vec(-0.0003..0.0003f64, 31),
        ) {
            let shapes = [slot(), square(0.6, 0.3, 0.4)].concat();
            let plain = found(shapes.clone());
            let drawing = found(redrawn(&shapes, &order, &flips, &shift));
            prop_assert!(drawing.remarks.is_empty(), "{:?}", drawing.remarks);
            prop_assert_eq!(drawing.outlines.len(), 2);
            for this in &drawing.outlines {
                prop_assert!(this.moved_mm <= 0.001, "{}", this.moved_mm);
                let same = plain.outlines.iter().any(|other| {
                    let ends = this.outline.segments().map(|s| s.at(0.5)).chain(this.outline.vertices().iter().map(|v| v.point));
                    ends.clone().all(|p| other.outline.nearest(p).distance <= 0.0015)
                });
                prop_assert!(same);
            }
        }

        #[test]
        fn moved_bounds_the_distance_to_the_raw_entities(shift in proptest::collection::vec(-0.0003..0.0003f64, 31)) {
            let shapes = redrawn(&slot(), &[0, 1, 2, 3], &[false; 4], &shift);
            let drawing = found(shapes.clone());
            let this = &drawing.outlines[0];
            for shape in &shapes {
                for step in 0..=50 {
                    let t = f64::from(step) / 50.0;
                    let raw = match *shape {
                        Shape::Line { from, to } => Point::new(from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])),
                        Shape::Arc { centre, radius, start_deg, .. } => {
                            let angle = (start_deg + 180.0 * t).to_radians();
                            Point::new(centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin())
                        }
                        _ => continue,
                    };
                    let distance = this.outline.nearest(raw).distance;
                    prop_assert!(distance <= this.moved_mm + 1e-12, "{distance} {}", this.moved_mm);
                }
            }
        }
    }
}
