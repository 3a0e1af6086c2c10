//! What the reader takes, passes over and refuses, on small drawings written by hand.

#![allow(clippy::unwrap_used)]

use dxf::{Dxf, InsUnits, Insert, Limits, Shape, Spline, read};

/// A drawing of these ENTITIES records, in lines parted by spaces and semicolons: `0 LINE; 8 cut; 10 1.5`.
fn drawing(entities: &str) -> String {
    let groups = |text: &str| -> String {
        let pairs = text.split(';').map(str::trim).filter(|pair| !pair.is_empty());
        pairs
            .map(|pair| pair.split_once(' ').map(|(code, value)| format!("{code}\n{value}\n")).unwrap())
            .collect()
    };
    groups(&format!("0 SECTION; 2 ENTITIES; {entities}; 0 ENDSEC; 0 EOF"))
}

fn good(text: &str) -> Dxf {
    read(text.as_bytes(), "a.dxf", &Limits::default()).unwrap()
}

fn refusal(bytes: &[u8]) -> String {
    let remarks = read(bytes, "a.dxf", &Limits::default()).unwrap_err();
    assert!(remarks.iter().all(|r| r.is_error() && !r.cures.is_empty()), "{remarks:?}");
    remarks[0].code.clone()
}

fn shapes(entities: &str) -> Vec<Shape> {
    let dxf = good(&drawing(entities));
    assert!(dxf.remarks.is_empty(), "{:?}", dxf.remarks);
    dxf.entities.into_iter().map(|entity| entity.shape).collect()
}

fn codes(dxf: &Dxf) -> Vec<(&str, Option<u32>)> {
    dxf.remarks.iter().map(|r| (r.code.as_str(), r.place.line)).collect()
}

const LINE: &str = "0 LINE; 8 cut; 10 1.5; 20 -2; 11 3; 21 4e-1";

#[test]
fn every_kind_is_read_with_its_line_and_layer() {
    let dxf = good(&drawing(&format!("{LINE}; 0 CIRCLE; 10 1; 20 2; 40 0.5")));
    let line = Shape::Line { from: [1.5, -2.0], to: [3.0, 0.4] };
    assert_eq!(
        (dxf.entities[0].line, dxf.entities[0].layer.as_str(), &dxf.entities[0].shape),
        (6, "cut", &line)
    );
    assert_eq!(dxf.entities[1].shape, Shape::Circle { centre: [1.0, 2.0], radius: 0.5 });
    assert_eq!((dxf.entities[1].line, dxf.entities[1].layer.as_str()), (18, "0"));
    let arc =
        Shape::Arc { centre: [1.0, 2.0], radius: 3.0, start_deg: 350.0, end_deg: 20.0, clockwise: false };
    assert_eq!(shapes("0 ARC; 10 1; 20 2; 40 3; 50 350; 51 20"), [arc]);
    let vertices = vec![[0.0, 0.0, 0.0], [1.0, 0.0, 2.5], [1.0, 1.0, 0.0]];
    let polyline = Shape::Polyline { vertices, closed: true };
    assert_eq!(
        shapes("0 LWPOLYLINE; 90 3; 70 1; 10 0; 20 0; 10 1; 20 0; 42 2.5; 10 1; 20 1"),
        std::slice::from_ref(&polyline)
    );
    let old = "0 POLYLINE; 66 1; 70 1; 0 VERTEX; 10 0; 20 0; 0 VERTEX; 10 1; 20 0; 42 2.5; 0 VERTEX; 10 1; 20 1; 0 SEQEND";
    assert_eq!(shapes(old), [polyline]);
}

#[test]
fn an_extrusion_down_mirrors_all_but_lines() {
    let down = "210 0; 220 0; 230 -1";
    assert_eq!(shapes(&format!("{LINE}; {down}")), shapes(LINE));
    let circle = Shape::Circle { centre: [-1.0, 2.0], radius: 0.5 };
    assert_eq!(shapes(&format!("0 CIRCLE; 10 1; 20 2; 40 0.5; {down}")), [circle]);
    let arc =
        Shape::Arc { centre: [-1.0, 2.0], radius: 3.0, start_deg: 170.0, end_deg: 100.0, clockwise: true };
    assert_eq!(shapes(&format!("0 ARC; 10 1; 20 2; 40 3; 50 10; 51 80; {down}")), [arc]);
    let polyline = Shape::Polyline { vertices: vec![[-1.0, 2.0, -0.5], [0.0, 3.0, 0.0]], closed: false };
    assert_eq!(
        shapes(&format!("0 LWPOLYLINE; 90 2; 70 0; 10 1; 20 2; 42 0.5; 10 0; 20 3; {down}")),
        [polyline]
    );
}

#[test]
fn what_is_tilted_is_passed_over_with_a_warning() {
    let dxf = good(&drawing(
        "0 CIRCLE; 10 1; 20 2; 40 1; 210 1; 220 0; 230 0; 0 LINE; 10 0; 20 0; 11 1; 21 0; 31 1",
    ));
    assert!(dxf.entities.is_empty());
    assert_eq!(codes(&dxf), [("extrusion-tilted", Some(6)), ("line-tilted", Some(20))]);
    assert_eq!(dxf.skipped["CIRCLE"] + dxf.skipped["LINE"], 2);
}

#[test]
fn a_bad_entity_does_not_hide_the_good_ones() {
    for (bad, code) in [
        ("0 CIRCLE; 10 1; 20 2", "group-missing"),
        ("0 CIRCLE; 10 1; 20 2; 40 0", "radius-bad"),
        ("0 CIRCLE; 10 1; 20 2; 40 -1", "radius-bad"),
        ("0 CIRCLE; 10 1; 20 2; 40 nan", "number-bad"),
        ("0 CIRCLE; 10 1; 20 inf; 40 1", "number-bad"),
        ("0 CIRCLE; 10 1,5; 20 2; 40 1", "number-bad"),
        ("0 CIRCLE; 10 1; 20 2e7; 40 1", "number-absurd"),
        ("0 CIRCLE; 10 1; 20 2e300; 40 1", "number-absurd"),
        ("0 CIRCLE; 10 1; 20 2; 40 1; 210 0; 220 0; 230 0", "extrusion-bad"),
        ("0 LWPOLYLINE; 90 1; 10 1; 20 2", "polyline-short"),
        ("0 LWPOLYLINE; 90 2; 10 1; 10 3; 20 2", "group-missing"),
        ("0 POLYLINE; 70 0; 0 VERTEX; 10 0; 20 0; 0 VERTEX; 10 1; 20 1", "polyline-unended"),
        ("0 POLYLINE; 70 0; 0 VERTEX; 10 0; 20 0; 0 VERTEX; 10 1; 20 x; 0 SEQEND", "number-bad"),
        ("0 VERTEX; 10 0; 20 0", "vertex-alone"),
        ("0 CIRCLE; 10 1; 2o 2; 40 1", "group-code-bad"),
    ] {
        let dxf = good(&drawing(&format!("{LINE}; {bad}; {LINE}")));
        assert_eq!(dxf.entities.len(), 2, "{bad}");
        assert_eq!(dxf.remarks.iter().map(|r| r.code.as_str()).collect::<Vec<_>>(), [code], "{bad}");
        assert!(
            dxf.remarks[0].is_error() && dxf.remarks[0].place.line >= Some(18),
            "{bad}: {:?}",
            dxf.remarks
        );
    }
}

#[test]
fn a_lost_line_costs_one_entity() {
    let whole = drawing(&format!("{LINE}; {LINE}; {LINE}"));
    let lines: Vec<&str> = whole.lines().collect();
    for lost in 18..30 {
        let text = [&lines[..lost], &lines[lost + 1..]].concat().join("\n") + "\n";
        let dxf = good(&text);
        assert!(dxf.entities.len() >= 2 || lost < 20 && !dxf.remarks.is_empty(), "line {lost}: {dxf:?}");
    }
}

#[test]
fn units_are_read_and_unknown_ones_refused() {
    let with = |code: &str| {
        format!("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n 70\n {code}\n0\nENDSEC\n{}", drawing(LINE))
    };
    assert_eq!(good(&with("4")).units, Some(InsUnits::MM));
    assert_eq!(good(&with("1")).units, Some(InsUnits::INCH));
    assert_eq!(good(&with("0")).units, None);
    assert_eq!(good(&drawing(LINE)).units, None);
    assert_eq!(good(&with("13")).units.unwrap().in_mm(), 0.001);
    for unknown in ["99", "-1", "mm"] {
        assert_eq!(refusal(with(unknown).as_bytes()), "unit-unknown");
    }
}

#[test]
fn other_files_are_refused_each_by_its_name() {
    let utf16: Vec<u8> = drawing(LINE).bytes().flat_map(|b| [b, 0]).collect();
    for (bytes, code) in [
        (&b""[..], "file-empty"),
        (b" \r\n\n", "file-empty"),
        (b"1234567 Binary DXF\r\n\x1a\0\0\0SECTION\0", "binary-dxf"),
        (b"AC1032\0\0\0\0\0\0", "dwg-file"),
        (&utf16, "utf16-text"),
        (b"%PDF-1.7\n%....\n", "not-dxf"),
        (b"0\nLINE\n10\n1\n", "not-dxf"),
        (b"\x89PNG\r\n\x1a\n", "not-dxf"),
        (b"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nEOF\n", "no-entities"),
    ] {
        assert_eq!(refusal(bytes), code);
    }
}

#[test]
fn limits_refuse() {
    let text = drawing(&format!("{LINE}; {LINE}; 0 LWPOLYLINE; 90 2; 10 0; 20 0; 10 1; 20 0"));
    let exact = Limits { bytes: text.len(), entities: 3, vertices: 2 };
    assert_eq!(read(text.as_bytes(), "a.dxf", &exact).unwrap().entities.len(), 3);
    for (limits, code) in [
        (Limits { bytes: text.len() - 1, ..exact }, "file-too-large"),
        (Limits { entities: 2, ..exact }, "too-many-entities"),
        (Limits { vertices: 1, ..exact }, "too-many-vertices"),
    ] {
        assert_eq!(read(text.as_bytes(), "a.dxf", &limits).unwrap_err()[0].code, code);
    }
}

#[test]
fn what_could_be_geometry_is_warned_of_once_a_type() {
    let dxf =
        good(&drawing(&format!("0 HATCH; 10 1; 0 TEXT; 1 hello; 0 HATCH; 10 1; 0 SOLID; 10 1; {LINE}")));
    assert_eq!(codes(&dxf), [("geometry-skipped", Some(6)), ("geometry-skipped", Some(18))]);
    assert_eq!(
        dxf.skipped.into_iter().collect::<Vec<_>>(),
        [("HATCH".into(), 2), ("SOLID".into(), 1), ("TEXT".into(), 1)]
    );
    let mesh = good(&drawing("0 POLYLINE; 70 9; 0 VERTEX; 10 0; 20 0; 0 SEQEND"));
    assert_eq!((codes(&mesh), mesh.entities.len()), (vec![("geometry-skipped", Some(6))], 0));
}

#[test]
fn paper_space_blocks_and_hidden_layers() {
    let dxf = good(&drawing(&format!(
        "{LINE}; 67 1; {LINE}; 0 ENDSEC; 0 SECTION; 2 BLOCKS; 0 BLOCK; 8 0; {LINE}; 0 ENDBLK"
    )));
    assert_eq!((dxf.entities.len(), dxf.skipped["LINE"]), (1, 1));
    assert_eq!(codes(&dxf), [("paper-space", Some(6))]);
    let layers =
        "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\ncut\n70\n1\n62\n7\n0\nENDTAB\n0\nENDSEC\n";
    let dxf = good(&format!("{layers}{}", drawing(LINE)));
    assert_eq!(dxf.entities.len(), 1);
    assert_eq!(dxf.remarks[0].code, "layer-hidden");
}

#[test]
fn a_cut_off_file_is_warned_of_and_its_last_entity_lost_when_a_value_may_be() {
    let whole = drawing(&format!("{LINE}; {LINE}"));
    let without_end = whole.strip_suffix("0\nENDSEC\n0\nEOF\n").unwrap();
    let dxf = good(without_end);
    assert_eq!((dxf.entities.len(), codes(&dxf)[0].0), (2, "truncated"));
    let dxf = good(without_end.strip_suffix("-1\n").unwrap_or(without_end.trim_end()));
    assert_eq!(dxf.entities.len(), 1);
    assert!(dxf.remarks.iter().any(|r| r.is_error()) && dxf.remarks.iter().any(|r| r.code == "truncated"));
}

#[test]
fn line_ends_spaces_comments_and_codepages_do_not_matter() {
    let plain = drawing(&format!("{LINE}; 0 CIRCLE; 10 1; 20 2; 40 0.5"));
    let known: Vec<Shape> = good(&plain).entities.into_iter().map(|e| e.shape).collect();
    let spaced: String = plain.lines().map(|line| format!("  \t{line}  \n")).collect();
    let same = [
        plain.replace('\n', "\r\n").into_bytes(),
        plain.replace('\n', "\r").into_bytes(),
        plain.replace('\n', "\r\r\n").into_bytes(),
        spaced.into_bytes(),
        [b"\xEF\xBB\xBF", plain.as_bytes()].concat(),
        format!("999\na comment\n{}", plain.replace("20\n", "999\n0\n20\n")).into_bytes(),
        plain.trim_end().as_bytes().to_vec(),
    ];
    for bytes in same {
        let dxf = read(&bytes, "a.dxf", &Limits::default()).unwrap();
        assert!(dxf.remarks.is_empty(), "{:?}", dxf.remarks);
        assert_eq!(dxf.entities.into_iter().map(|e| e.shape).collect::<Vec<_>>(), known);
    }
    let latin = b"0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nfr\xE4s\n10\n0\n20\n0\n40\n1\n0\nENDSEC\n0\nEOF\n";
    assert_eq!(read(latin, "a.dxf", &Limits::default()).unwrap().entities[0].layer, "fr\u{fffd}s");
}

#[test]
fn ellipses_are_read_with_both_axes() {
    let ellipse = |minor, from, to| Shape::Ellipse { centre: [1.0, 2.0], major: [0.0, 4.0], minor, from, to };
    let text = "0 ELLIPSE; 10 1; 20 2; 11 0; 21 4; 40 0.5";
    assert_eq!(shapes(text), [ellipse([-2.0, 0.0], 0.0, std::f64::consts::TAU)]);
    assert_eq!(shapes(&format!("{text}; 41 1; 42 2; 230 1")), [ellipse([-2.0, 0.0], 1.0, 2.0)]);
    // Seen from behind no point moves, but it runs the other way round.
    assert_eq!(shapes(&format!("{text}; 41 1; 42 2; 230 -1")), [ellipse([2.0, 0.0], 1.0, 2.0)]);
}

const SPLINE: &str = "0 SPLINE; 70 8; 71 2; 72 6; 73 3; 40 0; 40 0; 40 0; 40 1; 40 1; 40 1; \
                      10 0; 20 0; 30 0; 10 1; 20 2; 30 0; 10 2; 20 0; 30 0";

#[test]
fn splines_are_read_with_their_weights() {
    let spline = |weights: [f64; 3]| {
        let controls = vec![[0.0, 0.0, weights[0]], [1.0, 2.0, weights[1]], [2.0, 0.0, weights[2]]];
        Shape::Spline(Spline { degree: 2, knots: vec![0.0, 0.0, 0.0, 1.0, 1.0, 1.0], controls })
    };
    assert_eq!(shapes(SPLINE), [spline([1.0; 3])]);
    assert_eq!(shapes(&format!("{SPLINE}; 41 1; 41 0.5; 41 1")), [spline([1.0, 0.5, 1.0])]);
    // Points to go through are of no account where there are control points.
    assert_eq!(shapes(&format!("{SPLINE}; 74 1; 11 5; 21 5; 31 0; 12 1; 22 0; 32 0")), [spline([1.0; 3])]);
}

#[test]
fn splines_of_points_alone_keep_their_directions() {
    let points = vec![[0.0, 0.0], [1.0, 2.0], [2.0, 0.0]];
    let text = "0 SPLINE; 71 3; 72 0; 73 0; 74 3; 11 0; 21 0; 31 0; 11 1; 21 2; 31 0; 11 2; 21 0; 31 0";
    let directions = [Some([0.0, 1.0]), None];
    assert_eq!(
        shapes(&format!("{text}; 70 1; 12 0; 22 1; 32 0; 13 0; 23 0; 33 0")),
        [Shape::Through { points: points.clone(), directions, closed: true }]
    );
    assert_eq!(shapes(text), [Shape::Through { points, directions: [None, None], closed: false }]);
}

#[test]
fn splines_that_make_no_sense_say_why() {
    let without = |part: &str| SPLINE.replacen(part, "", 1);
    for (bad, said) in [
        (without("40 0; "), "it states 6 knots, and 5 stand there"),
        (without("72 6; ").replacen("40 0; ", "", 1), "it has 5 knots; 3 control points of degree 2 take 6"),
        (without("10 1; 20 2; 30 0; "), "it states 3 control points, and 2 stand there"),
        (without("71 2; "), "group 71 (degree) is missing"),
        (SPLINE.replacen("71 2", "71 0", 1), "its degree is 0"),
        (SPLINE.replacen("71 2", "71 26", 1), "its degree is 26"),
        (SPLINE.replacen("71 2", "71 3", 1), "3 control points are too few for degree 3: it takes 4"),
        (SPLINE.replacen("40 1", "40 -1", 1), "its knots fall from 0 to -1"),
        (SPLINE.replace("40 1", "40 0"), "all its inner knots are 0"),
        (format!("{SPLINE}; 41 1; 41 0; 41 1"), "one of its weights is 0"),
        (format!("{SPLINE}; 41 1; 41 1"), "it has 2 weights for 3 control points"),
        (SPLINE.replacen("20 2; ", "", 1), "group 20 (y of a point) is missing"),
        ("0 SPLINE; 71 3; 11 0; 21 0".into(), "no control points and 1 points to go through"),
        (
            "0 SPLINE; 71 1; 40 0; 40 0; 40 1; 40 1; 40 2; 40 2; 10 0; 20 0; 10 1; 20 0; 10 1; 20 1; 10 0; 20 1".into(),
            "the knot 1 is repeated more than 1 times",
        ),
    ] {
        let dxf = good(&drawing(&format!("{LINE}; {bad}; {LINE}")));
        assert_eq!(dxf.entities.len(), 2, "{bad}");
        let remark = &dxf.remarks[0];
        assert!(remark.is_error() && !remark.cures.is_empty() && remark.place.line >= Some(18), "{remark:?}");
        assert!(remark.message.contains(said), "{bad}: {}", remark.message);
    }
}

/// A drawing with these blocks and entities.
fn with_blocks(blocks: &str, entities: &str) -> String {
    let whole = drawing(&format!("{blocks}; 0 ENDSEC; 0 SECTION; 2 ENTITIES; {entities}"));
    whole.replacen("2\nENTITIES\n", "2\nBLOCKS\n", 1)
}

const INSERT: &str = "0 INSERT; 8 holes; 2 KEY; 10 3; 20 4; 41 2; 42 -2; 50 30; 70 3; 71 2; 44 5; 45 6";

#[test]
fn inserts_and_their_blocks_are_kept_as_they_are_written() {
    let blocks = format!(
        "0 BLOCK; 8 0; 2 Key; 70 0; 10 1; 20 2; 30 0; {LINE}; 0 ENDBLK; 0 BLOCK; 2 other; {LINE}; 0 ENDBLK"
    );
    let dxf = good(&with_blocks(&blocks, &format!("{INSERT}; 0 INSERT; 2 key; 10 0; 20 0; 230 -1")));
    assert!(dxf.remarks.is_empty(), "{:?}", dxf.remarks);
    let block = dxf.block("KEY").unwrap();
    assert_eq!((block.name.as_str(), block.base, block.line), ("Key", [1.0, 2.0], 6));
    assert_eq!(block.entities[0].shape, Shape::Line { from: [1.5, -2.0], to: [3.0, 0.4] });
    // Nothing reaches the other one.
    assert!(dxf.block("other").is_none() && dxf.blocks.len() == 1);
    let insert = Insert {
        block: "KEY".into(),
        at: [3.0, 4.0],
        scale: [2.0, -2.0],
        turn_deg: 30.0,
        columns: 3,
        rows: 2,
        spacing: [5.0, 6.0],
        from_behind: false,
    };
    assert_eq!((&dxf.entities[0].shape, dxf.entities[0].layer.as_str()), (&Shape::Insert(insert), "holes"));
    let plain = Insert {
        block: "key".into(),
        at: [0.0, 0.0],
        scale: [1.0, 1.0],
        turn_deg: 0.0,
        columns: 1,
        rows: 1,
        spacing: [0.0, 0.0],
        from_behind: true,
    };
    assert_eq!(dxf.entities[1].shape, Shape::Insert(plain));
}

#[test]
fn blocks_are_only_talked_of_where_they_are_used() {
    let bad = "0 CIRCLE; 10 1; 20 2; 0 TEXT; 1 hello";
    let nested =
        format!("0 BLOCK; 2 a; 0 INSERT; 2 b; 10 0; 20 0; 0 ENDBLK; 0 BLOCK; 2 b; {LINE}; {bad}; 0 ENDBLK");
    let unused = good(&with_blocks(&nested, LINE));
    assert!(unused.remarks.is_empty() && unused.skipped.is_empty(), "{:?}", unused.remarks);
    let used = good(&with_blocks(&nested, "0 INSERT; 2 A; 10 0; 20 0; 0 INSERT; 2 a; 10 9; 20 0"));
    assert_eq!((codes(&used), used.skipped["TEXT"]), (vec![("group-missing", Some(36))], 1));
    assert_eq!(used.blocks.len(), 2);
    let twice = format!("0 BLOCK; 2 a; {LINE}; 0 ENDBLK; 0 BLOCK; 2 A; 0 ENDBLK");
    let twice = good(&with_blocks(&twice, "0 INSERT; 2 a; 10 0; 20 0"));
    assert_eq!(
        (codes(&twice), twice.block("a").unwrap().entities.len()),
        (vec![("block-twice", Some(6))], 1)
    );
    let outside = good(&with_blocks("0 BLOCK; 2 a; 70 4; 0 ENDBLK", "0 INSERT; 2 a; 10 0; 20 0"));
    assert!(outside.block("a").unwrap().outside);
}

#[test]
fn a_bad_insert_does_not_hide_the_good_ones() {
    for (bad, code) in [
        ("0 INSERT; 10 0; 20 0", "group-missing"),
        ("0 INSERT; 2 a; 10 0", "group-missing"),
        ("0 INSERT; 2 a; 10 0; 20 0; 41 0", "scale-bad"),
        ("0 INSERT; 2 a; 10 0; 20 0; 70 -1", "number-bad"),
        ("0 INSERT; 2 a; 10 0; 20 0; 71 99999999999", "number-bad"),
        ("0 ELLIPSE; 10 0; 20 0; 11 0; 21 0; 40 1", "ellipse-bad"),
        ("0 ELLIPSE; 10 0; 20 0; 11 1; 21 0; 40 0", "ellipse-bad"),
        ("0 ELLIPSE; 10 0; 20 0; 11 1; 21 0", "group-missing"),
        ("0 INSERT; 2 a; 10 0; 20 0; 210 1; 220 0; 230 0", "extrusion-tilted"),
        ("0 ELLIPSE; 10 0; 20 0; 11 1; 21 0; 31 1; 40 1", "extrusion-tilted"),
        ("0 SPLINE; 71 1; 40 0; 40 0; 40 1; 40 1; 10 0; 20 0; 30 0; 10 0; 20 1; 30 1", "spline-tilted"),
    ] {
        let dxf = good(&drawing(&format!("{LINE}; {bad}; {LINE}")));
        assert_eq!(dxf.entities.len(), 2, "{bad}");
        assert_eq!(codes(&dxf).iter().map(|c| c.0).collect::<Vec<_>>(), [code], "{bad}");
    }
}

mod bytes {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
            let _ = read(&bytes, "a.dxf", &Limits::default());
        }

        #[test]
        fn no_damage_makes_it_panic_or_read_what_is_not_finite(
            changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12), cut in any::<prop::sample::Index>(),
        ) {
            let old = "0 POLYLINE; 66 1; 70 1; 0 VERTEX; 10 0; 20 0; 0 VERTEX; 10 1; 20 0; 42 2.5; 0 SEQEND";
            let light = "0 LWPOLYLINE; 90 2; 70 1; 10 0; 20 0; 10 1; 20 0; 42 2.5; 230 -1";
            let mut bytes = with_blocks(&format!("0 BLOCK; 2 KEY; {LINE}; {INSERT}; 0 ENDBLK"), &format!(
                "{LINE}; {old}; 0 ARC; 10 1; 20 2; 40 3; 50 350; 51 20; {light}; {SPLINE}; 41 1; 41 2; 41 1; {INSERT}; 0 ELLIPSE; 10 0; 20 0; 11 1; 21 0; 40 1"
            )).into_bytes();
            for (index, byte) in changes {
                let at = index.index(bytes.len());
                bytes[at] = byte;
            }
            bytes.truncate(cut.index(bytes.len()) + 1);
            if let Ok(dxf) = read(&bytes, "a.dxf", &Limits::default()) {
                for entity in dxf.entities.iter().chain(dxf.blocks.values().flat_map(|block| &block.entities)) {
                    let text = format!("{:?}", entity.shape);
                    prop_assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
                }
            }
        }
    }
}
