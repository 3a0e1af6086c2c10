//! Splines, ellipses, facets and inserts of a drawing: what becomes of them, in which order, and how far from what was drawn.

#![allow(clippy::unwrap_used)]

use drawing::{Curve, Drawing, Options, Units, outlines};
use dxf::{Dxf, Limits, read};
use outline::Point;
use std::f64::consts::{PI, TAU};

const OPTIONS: Options = Options { units: Some(Units::Mm), units_if_unstated: None, join_limit_mm: 0.001 };

/// Groups in lines parted by spaces and semicolons as a drawing's text.
fn text(groups: &str) -> String {
    let pairs = groups.split(';').map(str::trim).filter(|pair| !pair.is_empty());
    pairs
        .map(|pair| pair.split_once(' ').map(|(code, value)| format!("{code}\n{value}\n")).unwrap())
        .collect()
}

fn whole(blocks: &str, entities: &str) -> String {
    text(&format!(
        "0 SECTION; 2 BLOCKS; {blocks}; 0 ENDSEC; 0 SECTION; 2 ENTITIES; {entities}; 0 ENDSEC; 0 EOF"
    ))
}

fn dxf(blocks: &str, entities: &str) -> Dxf {
    let dxf = read(whole(blocks, entities).as_bytes(), "a.dxf", &Limits::default()).unwrap();
    assert!(dxf.remarks.is_empty(), "{:?}", dxf.remarks);
    dxf
}

fn found(blocks: &str, entities: &str) -> Drawing {
    outlines(&dxf(blocks, entities), &OPTIONS)
}

fn codes(drawing: &Drawing) -> Vec<&str> {
    drawing.remarks.iter().map(|r| r.code.as_str()).collect()
}

#[track_caller]
fn areas(drawing: &Drawing, expected: &[f64]) {
    let seen: Vec<f64> = drawing.outlines.iter().map(|o| o.outline.area()).collect();
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * (1.0 + b.abs());
    assert!(
        seen.len() == expected.len() && seen.iter().zip(expected).all(|(a, b)| near(*a, *b)),
        "{seen:?} {:?}",
        drawing.remarks
    );
}

/// An ellipse of 3 x 1.5 about the origin, whole, or a piece of it.
const ELLIPSE: &str = "0 ELLIPSE; 8 cut; 10 0; 20 0; 11 3; 21 0; 40 0.5";

#[test]
fn an_ellipse_is_one_outline_near_its_area() {
    // Whole, as eight digits or six write a full turn, and seen from behind.
    for end in ["", "; 41 0; 42 6.2831853", "; 41 1; 42 7.28319", "; 41 0; 42 6.283185307179586; 230 -1"] {
        let drawing = found("", &format!("{ELLIPSE}{end}"));
        let one = &drawing.outlines[0];
        assert_eq!(codes(&drawing), ["curves-fitted"], "{end}");
        assert!((one.outline.area() - PI * 4.5).abs() < 0.0005 * 15.0, "{end}");
        assert_eq!(
            (drawing.fitted.len(), drawing.fitted[0].kind, drawing.fitted[0].line),
            (1, Curve::Ellipse, 12)
        );
        assert!(
            one.moved_mm == one.fitted_mm
                && one.fitted_mm == drawing.fitted[0].deviation_mm
                && one.fitted_mm <= 0.0005
        );
    }
}

#[test]
fn a_round_ellipse_is_a_circle_and_its_pieces_are_arcs() {
    let round = "0 ELLIPSE; 10 1; 20 2; 11 0; 21 3; 40 1";
    let drawing = found("", round);
    areas(&drawing, &[9.0 * PI]);
    assert!(drawing.remarks.is_empty() && drawing.fitted.is_empty());
    assert_eq!(drawing.outlines[0].outline.vertices()[0].point, Point::new(1.0, 5.0));
    // Three quarters from the top by the left, and a quarter of the pie cut out by lines; the same from behind by the right.
    let lines = "0 LINE; 10 4; 20 2; 11 1; 21 2; 0 LINE; 10 1; 20 2; 11 1; 21 5";
    areas(&found("", &format!("{round}; 41 0; 42 4.71238898038469; {lines}")), &[9.0 * PI * 0.75]);
    let lines = "0 LINE; 10 4; 20 2; 11 1; 21 2; 0 LINE; 10 1; 20 2; 11 1; 21 5";
    areas(&found("", &format!("{round}; 41 0; 42 1.5707963267948966; 230 -1; {lines}")), &[9.0 * PI * 0.25]);
    let drawing = found("", &format!("{round}; 41 1; 42 1"));
    assert_eq!(codes(&drawing), ["arc-without-sweep"]);
}

#[test]
fn pieces_of_ellipses_and_splines_chain_with_lines() {
    // Half an ellipse and a spline that is a parabola from (-3, 0) over (0, -4) to (3, 0): area 2/3 of the box, which is 6 x 2.
    let half = format!("{ELLIPSE}; 41 0; 42 3.141592653589793");
    let parabola =
        "0 SPLINE; 8 cut; 71 2; 40 0; 40 0; 40 0; 40 1; 40 1; 40 1; 10 3; 20 0; 10 0; 20 -4; 10 -3; 20 0";
    let drawing = found("", &format!("{half}; {parabola}"));
    let one = &drawing.outlines[0];
    assert!((one.outline.area() - (PI * 4.5 / 2.0 + 8.0)).abs() < 0.0005 * 16.0, "{:?}", drawing.remarks);
    assert_eq!(codes(&drawing), ["curves-fitted", "curves-fitted"]);
    let kinds: Vec<Curve> = drawing.fitted.iter().map(|one| one.kind).collect();
    assert_eq!(kinds, [Curve::Ellipse, Curve::Spline]);
    assert_eq!(one.outline.vertices()[0].point, Point::new(3.0, 0.0));
}

#[test]
fn a_spline_by_points_is_warned_of() {
    let points = "0 SPLINE; 70 1; 71 3; 11 0; 21 0; 11 4; 21 0; 11 4; 21 4; 11 0; 21 4";
    let drawing = found("", points);
    assert_eq!(codes(&drawing), ["curves-fitted", "spline-by-points"]);
    assert!(!drawing.remarks[1].cures.is_empty());
    // By symmetry its middle is that of the square, and it bulges beyond it.
    let one = &drawing.outlines[0].outline;
    assert!(one.centroid().distance(Point::new(2.0, 2.0)) < 0.0005 && one.area() > 16.0);
    let nothing = found("", "0 SPLINE; 71 3; 11 1; 21 1; 11 1; 21 1");
    assert_eq!(codes(&nothing), ["spline-by-points", "zero-length"]);
    assert_eq!(nothing.remarks[1].place.x_mm, Some(1.0));
}

#[test]
fn facets_become_arcs_and_coarse_ones_are_named() {
    let ring = |radius: f64, x: f64| {
        let point = |i: i32| {
            let (sin, cos) = (f64::from(i) * TAU / 90.0).sin_cos();
            format!("; 10 {:.6}; 20 {:.6}", x + radius * cos, radius * sin)
        };
        format!("0 LWPOLYLINE; 8 cut; 70 1{}", (0..90).map(point).collect::<String>())
    };
    let drawing = found("", &format!("{}; {}", ring(2.0, 0.0), ring(20.0, 50.0)));
    assert_eq!(codes(&drawing), ["facets-fitted", "facets-coarse"]);
    assert_eq!(
        (drawing.outlines[0].outline.vertices().len(), drawing.outlines[1].outline.vertices().len()),
        (2, 90)
    );
    assert_eq!(
        (drawing.fitted.len(), drawing.fitted[0].kind, drawing.fitted[0].line),
        (1, Curve::Facets, 12)
    );
    let sagitta = 2.0 * (1.0 - 2f64.to_radians().cos());
    assert!((drawing.outlines[0].fitted_mm - sagitta).abs() < 2e-6 && drawing.outlines[1].fitted_mm == 0.0);
    // The same as loose lines; the line that is named is that of the first of them.
    let mut lines = String::new();
    for i in 0..90 {
        let at = |i: i32| (f64::from(i) * TAU / 90.0).sin_cos();
        let ((s0, c0), (s1, c1)) = (at(i), at(i + 1));
        lines.push_str(&format!(
            "0 LINE; 10 {:.5}; 20 {:.5}; 11 {:.5}; 21 {:.5}; ",
            2.0 * c0,
            2.0 * s0,
            2.0 * c1,
            2.0 * s1
        ));
    }
    let loose = found("", &lines);
    assert_eq!(codes(&loose), ["facets-fitted"]);
    assert_eq!((loose.outlines[0].outline.vertices().len(), loose.fitted[0].line), (2, 12));
}

/// A right-angled triangle of 4 x 2 with its right angle at (1, 1), on layer 0, and a circle of radius 0.5 on a layer of its own.
const PLATE: &str = "0 BLOCK; 8 0; 2 PLATE; 10 1; 20 1; 0 LWPOLYLINE; 8 0; 70 1; 10 1; 20 1; 10 5; 20 1; 10 1; 20 3; \
                     0 CIRCLE; 8 holes; 10 2; 20 1.5; 40 0.25; 0 ENDBLK";

#[test]
fn an_insert_places_its_block_and_lends_its_layer() {
    let drawing = found(PLATE, "0 INSERT; 8 steel; 2 plate; 10 10; 20 20; 50 90; 41 2; 42 2");
    areas(&drawing, &[16.0, 0.25 * PI]);
    assert!(drawing.remarks.is_empty() && drawing.fitted.is_empty(), "{:?}", drawing.remarks);
    let layers: Vec<&str> = drawing.outlines.iter().map(|o| o.layer.as_str()).collect();
    assert_eq!(layers, ["steel", "holes"]);
    // Both stand on the line of the insert, in the order of the block, and the base lies at the insert's place.
    assert_eq!(drawing.outlines[0].first_line, drawing.outlines[1].first_line);
    let points: Vec<Point> = drawing.outlines[0].outline.vertices().iter().map(|v| v.point).collect();
    assert_eq!(points, [Point::new(10.0, 20.0), Point::new(10.0, 28.0), Point::new(6.0, 20.0)]);
    assert!(drawing.outlines[1].outline.centroid().distance(Point::new(9.0, 22.0)) < 1e-12);
}

#[test]
fn mirrored_inserts_turn_round_and_stay_arcs() {
    let place = |entities: &str| found(PLATE, entities).outlines[1].outline.centroid();
    for (how, x, y) in
        [("41 -1", -1.0, 0.5), ("42 -1", 1.0, -0.5), ("230 -1", -1.0, 0.5), ("41 -1; 42 -1", -1.0, -0.5)]
    {
        let drawing = found(PLATE, &format!("0 INSERT; 2 plate; 10 0; 20 0; {how}"));
        areas(&drawing, &[4.0, PI / 16.0]);
        assert!(drawing.fitted.is_empty());
        assert!(
            place(&format!("0 INSERT; 2 plate; 10 0; 20 0; {how}")).distance(Point::new(x, y)) < 1e-12,
            "{how}"
        );
    }
}

#[test]
fn uneven_scales_make_ellipses_of_circles() {
    let bulged = "0 BLOCK; 2 B; 0 LWPOLYLINE; 70 1; 10 0; 20 0; 10 2; 20 0; 42 1; 10 2; 20 2; 10 0; 20 2; 42 1; 0 CIRCLE; 10 1; 20 1; 40 0.5; 0 ENDBLK";
    let drawing = found(bulged, "0 INSERT; 2 B; 10 0; 20 0; 41 3; 42 0.5; 50 17");
    let exact = [1.5 * (4.0 + PI), 1.5 * PI / 4.0];
    for (one, area) in drawing.outlines.iter().zip(exact) {
        assert!(
            (one.outline.area() - area).abs() < 0.0005 * one.outline.perimeter(),
            "{} {area}",
            one.outline.area()
        );
    }
    let kinds: Vec<Curve> = drawing.fitted.iter().map(|one| one.kind).collect();
    assert_eq!((drawing.outlines.len(), kinds), (2, vec![Curve::Ellipse, Curve::Ellipse]));
    // A straight polyline needs no fitting, and an ellipse may become round.
    let straight = found(PLATE, "0 INSERT; 2 plate; 10 0; 20 0; 41 3; 42 0.5");
    assert_eq!((straight.fitted.len(), straight.outlines[0].fitted_mm), (1, 0.0));
    let ellipse = format!("0 BLOCK; 2 E; {ELLIPSE}; 0 ENDBLK");
    let round = found(&ellipse, "0 INSERT; 2 E; 10 0; 20 0; 41 1; 42 2");
    areas(&round, &[9.0 * PI]);
    assert!(round.fitted.is_empty());
}

#[test]
fn arrays_and_nests_count_rows_then_columns_then_the_block() {
    let nest = "0 BLOCK; 2 HOLE; 0 CIRCLE; 8 0; 10 0; 20 0; 40 0.5; 0 ENDBLK; \
                0 BLOCK; 2 PAIR; 0 INSERT; 8 0; 2 HOLE; 10 0; 20 0; 0 INSERT; 8 deep; 2 HOLE; 10 2; 20 0; 41 0.5; 42 0.5; 0 ENDBLK";
    let drawing = found(
        nest,
        "0 CIRCLE; 8 own; 10 -5; 20 0; 40 1; 0 INSERT; 8 out; 2 PAIR; 10 0; 20 0; 70 2; 71 2; 44 5; 45 3; 50 90",
    );
    let seen: Vec<(f64, f64, String)> = drawing
        .outlines
        .iter()
        .map(|o| (o.outline.centroid().x.round(), o.outline.centroid().y.round(), o.layer.clone()))
        .collect();
    let own = |x: f64, y: f64, layer: &str| (x, y, layer.to_owned());
    // Turned by a quarter: columns run up, rows to the left, the second hole of each pair above the first.
    let expected = [
        own(-5.0, 0.0, "own"),
        own(0.0, 0.0, "out"),
        own(0.0, 2.0, "deep"),
        own(0.0, 5.0, "out"),
        own(0.0, 7.0, "deep"),
        own(-3.0, 0.0, "out"),
        own(-3.0, 2.0, "deep"),
        own(-3.0, 5.0, "out"),
        own(-3.0, 7.0, "deep"),
    ];
    // 0 and -0 are the same number.
    assert_eq!(seen, expected);
    let ids: Vec<&str> = drawing.outlines.iter().map(|o| o.id.as_str()).collect();
    assert_eq!(ids, ["o1", "o2", "o3", "o4", "o5", "o6", "o7", "o8", "o9"]);
}

#[track_caller]
fn refused(blocks: &str, entities: &str, code: &str, said: &str) -> Drawing {
    let drawing = found(blocks, &format!("{entities}; 0 CIRCLE; 10 500; 20 0; 40 1"));
    let remark =
        drawing.remarks.iter().find(|r| r.code == code).unwrap_or_else(|| panic!("{:?}", drawing.remarks));
    assert!(remark.is_error() && !remark.cures.is_empty() && remark.place.line > Some(6), "{remark:?}");
    assert!(remark.message.contains(said), "{}", remark.message);
    assert!(
        drawing.outlines.iter().any(|o| (o.outline.area() - PI).abs() < 1e-12),
        "the circle is still there"
    );
    drawing
}

#[test]
fn inserts_that_cannot_be_carried_out_hide_nothing_else() {
    refused(PLATE, "0 INSERT; 2 NONE; 10 0; 20 0", "block-missing", "block 'NONE'");
    refused("0 BLOCK; 2 X; 70 4; 0 ENDBLK", "0 INSERT; 2 X; 10 0; 20 0", "block-outside", "another file");
    let itself = "0 BLOCK; 2 A; 0 CIRCLE; 10 0; 20 0; 40 2; 0 INSERT; 2 a; 10 9; 20 0; 0 ENDBLK";
    let drawing = refused(itself, "0 INSERT; 2 A; 10 0; 20 0", "block-in-itself", "never end");
    assert_eq!(drawing.outlines.len(), 2);
    let round = "0 BLOCK; 2 A; 0 INSERT; 2 B; 10 0; 20 0; 0 ENDBLK; 0 BLOCK; 2 B; 0 INSERT; 2 A; 10 0; 20 0; 0 ENDBLK";
    refused(round, "0 INSERT; 2 A; 10 0; 20 0; 0 INSERT; 2 B; 10 0; 20 0", "block-in-itself", "block 'A'");
    refused(PLATE, "0 INSERT; 2 PLATE; 10 0; 20 0; 41 1e9", "number-absurd", "beyond 1e6");
    refused(
        PLATE,
        "0 INSERT; 2 PLATE; 10 0; 20 0; 70 1000000; 71 1000000; 44 9",
        "insert-too-many",
        "2000000000000 entities",
    );
    // Nothing, as often as one likes.
    let empty = "0 BLOCK; 2 A; 0 ENDBLK; 0 BLOCK; 2 B; 0 INSERT; 2 A; 10 0; 20 0; 70 4000000000; 71 4000000000; 0 ENDBLK";
    let many = "0 INSERT; 2 B; 10 0; 20 0; 70 4000000000; 71 4000000000";
    assert!(found(empty, many).remarks.is_empty());
}

#[test]
fn nests_that_double_at_every_step_are_counted_and_not_carried_out() {
    let mut blocks = "0 BLOCK; 2 B0; 0 CIRCLE; 10 0; 20 0; 40 1; 0 ENDBLK".to_owned();
    for i in 1..=30 {
        let two = format!("0 INSERT; 2 B{0}; 10 0; 20 0; 0 INSERT; 2 B{0}; 10 3; 20 0", i - 1);
        blocks.push_str(&format!("; 0 BLOCK; 2 B{i}; {two}; 0 ENDBLK"));
    }
    refused(&blocks, "0 INSERT; 2 B30; 10 0; 20 0", "insert-too-many", "1073741824 entities");
    // Beyond any counter.
    refused(
        &blocks,
        "0 INSERT; 2 B30; 10 0; 20 0; 70 4000000000; 71 4000000000",
        "insert-too-many",
        "entities",
    );
    let mut deep = "0 BLOCK; 2 B0; 0 CIRCLE; 10 0; 20 0; 40 1; 0 ENDBLK".to_owned();
    for i in 1..=2000 {
        deep.push_str(&format!("; 0 BLOCK; 2 B{i}; 0 INSERT; 2 B{}; 10 0; 20 0; 0 ENDBLK", i - 1));
    }
    refused(&deep, "0 INSERT; 2 B2000; 10 0; 20 0", "insert-too-deep", "32 deep");
    // The same where short nests are known before long ones.
    let upwards: String = (0..=2000).map(|i| format!("0 INSERT; 2 B{i}; 10 0; 20 {}; ", 3 * i)).collect();
    let drawing = refused(&deep, upwards.trim_end_matches("; "), "insert-too-deep", "32 deep");
    assert_eq!(drawing.outlines.len(), 33);
}

#[test]
fn curves_that_wind_beyond_reason_are_refused_in_time() {
    let mut scribble = "0 SPLINE; 71 2".to_owned();
    let count = 100_000;
    (0..count + 3).for_each(|i| scribble.push_str(&format!("; 40 {i}")));
    (0..count).for_each(|i| {
        scribble.push_str(&format!("; 10 {}; 20 {}", f64::from(i) * 1e-3, 0.5 * f64::from(i % 2)))
    });
    refused("", &scribble, "curve-too-winding", "20000 arcs");
}

#[test]
fn curves_that_cost_too_much_together_are_refused_in_time() {
    // A hundred thousand ellipses in a grid.
    let ellipse = format!("0 BLOCK; 2 E; {ELLIPSE}; 0 ENDBLK");
    let drawing = found(&ellipse, "0 INSERT; 2 E; 10 0; 20 0; 70 400; 71 250; 44 10; 45 10");
    assert_eq!(codes(&drawing).last(), Some(&"drawing-tangled"));
    assert!(drawing.outlines.is_empty());
    // Three thousand are fine.
    let drawing = found(&ellipse, "0 INSERT; 2 E; 10 0; 20 0; 70 60; 71 50; 44 10; 45 10");
    assert_eq!((codes(&drawing), drawing.outlines.len()), (vec!["curves-fitted"], 3000));
}

mod damage {
    use super::*;
    use proptest::prelude::*;

    const SPLINE: &str = "0 SPLINE; 8 cut; 71 3; 72 8; 73 4; 40 0; 40 0; 40 0; 40 0; 40 1; 40 1; 40 1; 40 1; 41 1; 41 2; 41 1; 41 1; \
                          10 0; 20 0; 10 3; 20 5; 10 6; 20 -5; 10 9; 20 0";

    fn sample() -> Vec<String> {
        let blocks = format!(
            "{PLATE}; 0 BLOCK; 2 PAIR; 0 INSERT; 2 PLATE; 10 0; 20 0; 42 2; 0 INSERT; 2 PLATE; 10 9; 20 0; 0 ENDBLK"
        );
        let entities = format!(
            "{ELLIPSE}; {SPLINE}; 0 LINE; 10 9; 20 0; 11 0; 21 0; 0 INSERT; 2 PAIR; 10 0; 20 9; 70 2; 71 2; 44 30; 45 9; 41 -1; \
             0 SPLINE; 70 1; 71 3; 11 20; 21 0; 11 24; 21 0; 11 22; 21 4"
        );
        whole(&blocks, &entities).lines().map(str::to_owned).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn lost_doubled_and_changed_lines_never_panic_or_hang(
            changes in proptest::collection::vec((any::<prop::sample::Index>(), 0u8..4, any::<prop::sample::Index>()), 1..6),
        ) {
            let mut lines = sample();
            for (at, how, other) in changes {
                let (at, other) = (at.index(lines.len()), lines[other.index(lines.len())].clone());
                match how {
                    0 => drop(lines.remove(at)),
                    1 => lines.insert(at, lines[at].clone()),
                    2 => lines[at] = other,
                    _ => lines[at] = format!("{other}e9"),
                }
            }
            let text = lines.join("\n") + "\n";
            if let Ok(dxf) = read(text.as_bytes(), "a.dxf", &Limits::default()) {
                let drawing = outlines(&dxf, &OPTIONS);
                for one in &drawing.outlines {
                    prop_assert!(one.outline.area() > 0.0 && one.moved_mm.is_finite());
                }
            }
        }
    }
}
