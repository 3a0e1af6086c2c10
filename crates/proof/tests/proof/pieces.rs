//! Pieces that are cut out of a block: the wire goes round them from outside, up to a tab; last, with somebody there, the
//! tab is cut and its place skimmed.

use crate::case::{Case, FEEDS, Opening, Style, TAB_FEED, Text, clears, fingerprint, passes};
use crate::shape::{P, Seg, Shape};
use package::{Contour, Cut, HoleDiameter, SectionKind, Side, StartKind};
use proof::{Evidence, prove};

const START: P = [0.0, 3.0];
const TAB: f64 = 0.8;
/// A bar with a step: its inside corner is round, so that every pass reaches it.
const STEP: f64 = 0.2;

fn line(places: &[P]) -> Shape {
    let n = places.len();
    Shape::of((0..n).map(|i| Seg::line(places[i], places[(i + 1) % n])).collect())
}

/// From (-3, -2) to (3, 2) with the upper right cut out from (1.5, 0.5) on, its inside corner of radius `STEP`.
fn stepped() -> Shape {
    let (a, b) = ([1.5 + STEP, 0.5], [1.5, 0.5 + STEP]);
    let arc = Seg { a, b, arc: Some(([1.5 + STEP, 0.5 + STEP], -std::f64::consts::FRAC_PI_2)) };
    let segs = vec![
        Seg::line([-3.0, 2.0], [-3.0, -2.0]),
        Seg::line([-3.0, -2.0], [3.0, -2.0]),
        Seg::line([3.0, -2.0], [3.0, 0.5]),
        Seg::line([3.0, 0.5], a),
        arc,
        Seg::line(b, [1.5, 2.0]),
        Seg::line([1.5, 2.0], [-3.0, 2.0]),
    ];
    Shape::of(segs)
}

fn area() -> f64 {
    // The step takes a rectangle less what its round corner leaves standing.
    6.0 * 4.0 - (1.5 * 1.5 - (1.0 - std::f64::consts::FRAC_PI_4) * STEP * STEP)
}

/// How a program is damaged.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Wrong {
    Nothing,
    NotFixed,
    NoSkim,
    NoTab,
    NotDressed,
    NoStop,
    NoWireCut,
    SkimLast,
    OtherSide,
    IntoThePiece,
    OffThePiece,
    TabShort,
    TabIntoThePiece,
}

fn program(wrong: Wrong, centre: bool) -> Text {
    let mut text: Text = ["(WRITTEN BY HAND)", "G71", "G90", "G17", "G40"].map(str::to_owned).to_vec();
    let count = passes().len();
    let skims: Vec<usize> = (1..count).filter(|i| wrong != Wrong::NoSkim || *i != 1).collect();
    let last = skims[skims.len() - 1];
    let all_round = |text: &mut Text, i: usize| round(text, i, wrong, centre);
    all_round(&mut text, 0);
    for &i in skims.iter().filter(|i| wrong != Wrong::SkimLast || **i != last) {
        all_round(&mut text, i);
    }
    if wrong != Wrong::NotFixed {
        text.push("M00".to_owned());
    }
    let over: Vec<usize> = (0..count)
        .filter(|i| (wrong != Wrong::NoTab || *i != 0) && (wrong != Wrong::NotDressed || *i != 2))
        .collect();
    for i in over {
        tab(&mut text, i, wrong, centre);
    }
    if wrong == Wrong::NoWireCut {
        let at = text.iter().rposition(|block| block == "M50").expect("it is there");
        text.remove(at);
    }
    if wrong != Wrong::NoStop {
        text.push("M00".to_owned());
    }
    if wrong == Wrong::SkimLast {
        all_round(&mut text, last);
    }
    text.push(format!("{}G00 X{:.4} Y{:.4}", if centre { "" } else { "G40 " }, START[0], START[1]));
    text.push("M02".to_owned());
    text
}

/// One time round from the start, clockwise, up to the tab.
fn round(text: &mut Text, i: usize, wrong: Wrong, centre: bool) {
    let offset = if centre { passes()[i][0] } else { 0.0 };
    let short = TAB + 2.0 * clears();
    // The lower side is where the damage is.
    let low = match wrong {
        Wrong::IntoThePiece if i == 0 => -1.997,
        Wrong::OffThePiece if i == 2 => -2.003,
        _ => -2.0,
    };
    let step = [1.5 + STEP, 0.5 + STEP];
    let corners = [([1.5, 2.0], [0.0, 1.0], [1.0, 0.0]), ([3.0, 0.5], [0.0, 1.0], [1.0, 0.0])];
    let lower = [([3.0, low], [1.0, 0.0], [0.0, -1.0]), ([-3.0, low], [0.0, -1.0], [-1.0, 0.0])];
    let upper = ([-3.0, 2.0], [-1.0, 0.0], [0.0, 1.0]);
    let blocks = |(at, from, to): (P, P, P)| corner(at, from, to, offset);
    let mut all = blocks(corners[0]);
    let r = STEP - offset;
    all.push(format!("G01 X{:.4} Y{:.4}", 1.5 + offset, step[1]));
    all.push(format!("G03 X{:.4} Y{:.4} I{r:.4} J0.0", step[0], step[1] - r));
    all.extend([corners[1], lower[0], lower[1], upper].into_iter().flat_map(blocks));
    let end = if wrong == Wrong::TabShort && i == 0 { short + 0.05 } else { short };
    all.push(format!("G01 X{:.4} Y{:.4}", -end, 2.0 + offset));
    begin(text, i, FEEDS[i], if wrong == Wrong::OtherSide { "G42" } else { "G41" }, centre);
    text.extend(all);
    finish(text);
}

/// To an outside corner, and about it where the wire's centre is said: from one side's normal to the other's.
fn corner(at: P, from: P, to: P, offset: f64) -> Vec<String> {
    let beside = |normal: P| [0, 1].map(|k| at[k] + offset * normal[k]);
    let (a, b) = (beside(from), beside(to));
    let mut blocks = vec![format!("G01 X{:.4} Y{:.4}", a[0], a[1])];
    if offset > 0.0 {
        let (i, j) = (at[0] - a[0], at[1] - a[1]);
        blocks.push(format!("G02 X{:.4} Y{:.4} I{i:.4} J{j:.4}", b[0], b[1]));
    }
    blocks
}

/// Over the place of the tab, against the way round.
fn tab(text: &mut Text, i: usize, wrong: Wrong, centre: bool) {
    let out = if centre { passes()[i][0] } else { 0.0 };
    begin(text, i, if i == 0 { TAB_FEED } else { FEEDS[i] }, "G42", centre);
    let far = TAB + 2.0 * clears() + 0.02;
    let far = if wrong == Wrong::TabShort && i == 1 { far - 0.1 } else { far };
    let into = if wrong == Wrong::TabIntoThePiece && i == 0 { 0.01 } else { 0.0 };
    text.push(format!("G01 X{:.4} Y{:.4}", -far, 2.0 + out - into));
    finish(text);
}

fn begin(text: &mut Text, i: usize, feed: f64, side: &str, centre: bool) {
    let (offset, half) = (passes()[i][0], feed / 2.0);
    let off = if centre { "" } else { "G40 " };
    text.push(format!("{off}G00 X{:.4} Y{:.4}", START[0], START[1]));
    text.push("M60".to_owned());
    match centre {
        true => text.push(format!("G01 X0.0 Y{:.4} F{half:.4}", 2.0 + offset)),
        false => text.push(format!("{side} D{} G01 X0.0 Y2.0 F{half:.4}", i + 1)),
    }
    text.push(format!("F{feed:.4}"));
}

fn finish(text: &mut Text) {
    text.push("M50".to_owned());
}

fn evidence(text: &Text, centre: bool) -> Evidence {
    let opening = Opening {
        id: "piece",
        target: stepped(),
        drawn: stepped(),
        at: [0.0, 0.0],
        clearance: 0.0,
        start: START,
        hole: 0.4,
        tab: Some(TAB),
        rings: Vec::new(),
        cores: vec![area()],
    };
    let style = Style { centre_output: centre, ..Style::default() };
    let case = Case { name: "piece".to_owned(), style, height: 20.0, openings: vec![opening] };
    let mut evidence = case.evidence(text);
    let section = &mut evidence.plan.sections[0];
    section.cut_from_mm = Some([12.0, 12.0]);
    section.contours[0].side = Side::Outside;
    evidence
}

fn contour(evidence: &mut Evidence) -> &mut Contour {
    &mut evidence.plan.sections[0].contours[0]
}

fn codes(evidence: &Evidence) -> Vec<String> {
    let proof = prove(evidence);
    assert_eq!(proof.holds, proof.faults.is_empty() && proof.contours.iter().all(|one| one.holds));
    proof.faults.into_iter().map(|fault| fault.code).collect()
}

#[test]
fn a_piece_that_is_cut_out_in_order_holds() {
    for centre in [false, true] {
        let proof = prove(&evidence(&program(Wrong::Nothing, centre), centre));
        assert!(proof.holds, "{centre}: {:?} {:?}", proof.faults, proof.contours);
        let one = &proof.contours[0];
        assert!(one.gouge_mm < 2e-4 && one.left_mm < 2e-4 && one.hole_scar_mm == 0.0, "{one:?}");
        assert_eq!((one.cores_found, one.tabs_found), (1, 1));
    }
}

#[test]
fn each_damage_is_named() {
    let damages = [
        (Wrong::NotFixed, "piece-not-fixed"),
        (Wrong::NoSkim, "pass-count"),
        (Wrong::NoTab, "not-closed"),
        (Wrong::NotDressed, "pass-count"),
        (Wrong::NoStop, "no-stop"),
        (Wrong::NoWireCut, "no-stop"),
        (Wrong::SkimLast, "skim-of-loose-piece"),
        (Wrong::IntoThePiece, "off-edge"),
        (Wrong::TabShort, "not-closed"),
        (Wrong::TabIntoThePiece, "off-edge"),
    ];
    for centre in [false, true] {
        for (wrong, code) in damages {
            let found = codes(&evidence(&program(wrong, centre), centre));
            assert!(found.iter().any(|one| one == code), "{wrong:?} {centre}: {found:?}");
        }
    }
    // It says which cut it speaks of.
    for (wrong, says) in [(Wrong::TabIntoThePiece, "the tab's cut: "), (Wrong::IntoThePiece, "pass 1: ")] {
        let proof = prove(&evidence(&program(wrong, true), true));
        assert!(proof.faults.iter().any(|fault| fault.message.contains(says)), "{:?}", proof.faults);
    }
    // A piece that the plan does not name falls all the same.
    let mut unnamed = evidence(&program(Wrong::NoStop, false), false);
    contour(&mut unnamed).cores.clear();
    let found = codes(&unnamed);
    assert!(found.iter().any(|one| one == "no-stop"), "{found:?}");
    let found = codes(&evidence(&program(Wrong::OtherSide, false), false));
    assert!(found.iter().any(|one| one == "not-closed"), "{found:?}");
    for centre in [false, true] {
        let proof = prove(&evidence(&program(Wrong::OffThePiece, centre), centre));
        assert!(!proof.holds && proof.contours[0].left_mm > 0.002, "{:?}", proof.contours[0]);
    }
}

/// To its tab the wire comes in as fast as a skim did, on the way that the main cut opened; no faster, on no other way, and through
/// the tab at the tab's own feed.
#[test]
fn the_way_to_the_tab_is_as_fast_as_a_skim_where_it_is_open() {
    for centre in [false, true] {
        let plain = program(Wrong::Nothing, centre);
        let threads: Vec<usize> = (0..plain.len()).filter(|i| plain[*i] == "M60").collect();
        // The way in and the feed after it, once the piece is fixed.
        let way_in = threads[passes().len()] + 1;
        assert!(
            plain[way_in + 1].starts_with(&format!("F{TAB_FEED:.4}")),
            "{:?}",
            &plain[way_in..way_in + 2]
        );
        let at = |feed: f64, aside: bool, through: bool| {
            let mut text = plain.clone();
            let (to, _) = text[way_in].split_once(" F").expect("a feed");
            let to = format!("{to} F{feed:.4}");
            text[way_in] = to;
            if through {
                text[way_in + 1] = format!("F{feed:.4}");
            }
            if aside {
                let bend = format!("G01 X0.6000 Y{:.4} F{feed:.4}", START[1]);
                text.insert(way_in, bend);
            }
            let proof = prove(&evidence(&text, centre));
            let feeds = proof.faults.iter().filter(|fault| fault.code == "feed");
            (proof.holds, feeds.map(|fault| fault.message.clone()).collect::<Vec<_>>())
        };
        let skim = FEEDS[1].max(FEEDS[2]);
        assert!(skim > 1.5 * TAB_FEED);
        assert_eq!(at(skim, false, false), (true, Vec::new()), "{centre}");
        // At the pace of the tab's own cut it may come in through metal.
        let (_, feeds) = at(TAB_FEED, true, false);
        assert!(feeds.is_empty(), "{centre}: {feeds:?}");
        for (feed, aside, through, says) in [
            (1.05 * skim, false, false, "where the plan has"),
            (skim, true, false, "through metal"),
            (skim, false, true, "where the plan has"),
        ] {
            let (holds, feeds) = at(feed, aside, through);
            assert!(!holds, "{centre} {says}");
            // By a register, a way in that is not square to the edge has no way of the wire to look at.
            let other = aside && !centre;
            assert!(other || feeds.iter().any(|one| one.contains(says)), "{centre} {says}: {feeds:?}");
        }
    }
}

#[test]
fn the_plan_is_held_against_what_is_cut() {
    let text = program(Wrong::Nothing, false);
    let fresh = || evidence(&text, false);
    let refused = |code: &str, evidence: &Evidence| {
        let found = codes(evidence);
        assert!(found.iter().any(|one| one == code), "{code}: {found:?}");
    };
    let mut lighter = fresh();
    contour(&mut lighter).cores[0].area_mm2 *= 0.97;
    refused("cores", &lighter);
    let mut wider = fresh();
    contour(&mut wider).wire.as_mut().unwrap().tab.as_mut().unwrap().width_mm += 0.02;
    refused("tab", &wider);
    let mut scarred = fresh();
    contour(&mut scarred).start.as_mut().unwrap().hole_diameter_mm.entry = 2.01;
    let proof = prove(&scarred);
    assert!(!proof.holds && (proof.contours[0].hole_scar_mm - 0.005).abs() < 1e-4, "{:?}", proof.contours);
    let mut small = fresh();
    small.plan.sections[0].cut_from_mm = Some([12.0, 6.2]);
    refused("outside-block", &small);
}

/// The face of a punch looks down: what is drawn from behind it is mirrored.
#[test]
fn a_punch_is_its_drawing_mirrored() {
    let text = program(Wrong::Nothing, false);
    let mut punch = evidence(&text, false);
    punch.plan.sections[0].kind = SectionKind::Punch;
    assert!(codes(&punch).iter().any(|code| code == "target-moved"));
    // Drawn the other way round it is right.
    let mirrored: Vec<Seg> = stepped()
        .segs
        .iter()
        .map(|s| Seg {
            a: [-s.a[0], s.a[1]],
            b: [-s.b[0], s.b[1]],
            arc: s.arc.map(|(c, w)| ([-c[0], c[1]], -w)),
        })
        .map(|s| s.reversed())
        .rev()
        .collect();
    let bytes = crate::case::dxf(&Shape::of(mirrored), false).into_bytes();
    punch.plan.inputs = vec![fingerprint("piece.dxf", &bytes)];
    punch.inputs.insert("piece.dxf".to_owned(), bytes);
    assert_eq!(codes(&punch), Vec::<String>::new());
}

/// What is added to the drawing: nothing for a pierced hole's punch, less for a blank's, stock on faces, round corners.
#[test]
fn the_finished_edge_of_a_piece_is_rebuilt() {
    let text = program(Wrong::Nothing, false);
    let moved = |change: &dyn Fn(&mut Contour)| {
        let mut evidence = evidence(&text, false);
        change(contour(&mut evidence));
        codes(&evidence).iter().any(|code| code == "target-moved" || code == "drawing")
    };
    assert!(!moved(&|_| ()) && !moved(&|one| one.cut = Cut::Pierce) && !moved(&|one| one.cut = Cut::Blank));
    assert!(moved(&|one| (one.cut, one.clearance_per_side_mm) = (Cut::Blank, -0.01)));
    assert!(moved(&|one| (one.cut, one.clearance_per_side_mm) = (Cut::Blank, 0.01)));
    assert!(moved(&|one| (one.cut, one.clearance_per_side_mm) = (Cut::Pierce, -0.01)));
    assert!(moved(&|one| one.outside_radius_mm = Some(0.1)));
    for side in 0..4 {
        let mut stock = [0.0; 4];
        stock[side] = 0.05;
        assert!(moved(&|one| one.grind_stock_mm = Some(stock)), "{side}");
    }
}

/// A drawing of the bar without the stock on its left, and a plan that says so.
#[test]
fn stock_on_a_face_is_where_the_plan_says() {
    let text = program(Wrong::Nothing, false);
    let drawn: Vec<Seg> = stepped()
        .segs
        .iter()
        .map(|s| {
            let at = |p: P| if p[0] == -3.0 { [-2.95, p[1]] } else { p };
            Seg { a: at(s.a), b: at(s.b), arc: s.arc }
        })
        .collect();
    let bytes = crate::case::dxf(&Shape::of(drawn), false).into_bytes();
    let mut evidence = evidence(&text, false);
    evidence.plan.inputs = vec![fingerprint("piece.dxf", &bytes)];
    evidence.inputs.insert("piece.dxf".to_owned(), bytes);
    assert!(codes(&evidence).iter().any(|code| code == "target-moved"));
    contour(&mut evidence).grind_stock_mm = Some([0.05, 0.0, 0.0, 0.0]);
    assert_eq!(codes(&evidence), Vec::<String>::new());
}

/// Two openings 0.5 apart: a relief of 1 degree below a land of 3 widens each by 0.2967 down to the back at 20.
#[test]
fn reliefs_of_neighbours_stay_apart_to_the_back() {
    let text = program(Wrong::Nothing, false);
    let each = |reliefs: [f64; 2], land: f64| {
        let mut evidence = evidence(&text, false);
        for ((id, x), relief) in [("left", -0.75), ("right", 0.75)].into_iter().zip(reliefs) {
            let mut other = contour(&mut evidence).clone();
            (other.id, other.side, other.start, other.wire) = (id.to_owned(), Side::Inside, None, None);
            other.target =
                line(&[[x - 0.5, -0.5], [x + 0.5, -0.5], [x + 0.5, 0.5], [x - 0.5, 0.5]]).vertices();
            (other.relief_deg, other.land_mm) = (relief, land);
            evidence.plan.sections[0].contours.push(other);
        }
        codes(&evidence).iter().filter(|code| *code == "reliefs-meet").count()
    };
    let at = |relief: f64, land: f64| each([relief; 2], land);
    assert_eq!([at(0.0, 20.0), at(0.8, 3.0), at(1.0, 3.0), at(1.0, 6.0)], [0, 0, 1, 0]);
    // One that widens alone is told too, whichever it is.
    assert_eq!([each([2.0, 0.0], 3.0), each([0.0, 2.0], 3.0), each([0.0, 1.0], 3.0)], [1, 1, 0]);
}

/// A relief of 1 degree below a land of 3 widens an opening by 0.2967 at the back, 20 down: 0.25 from any side of the block it
/// leaves it there, 0.35 from it it stays.
#[test]
fn a_relief_stays_in_its_block_on_every_side() {
    let text = program(Wrong::Nothing, false);
    let leaves = |to_side: f64, [x, y]: P| {
        let mut evidence = evidence(&text, false);
        let half = evidence.plan.sections[0].block_mm().map(|side| side / 2.0 - to_side - 0.5);
        let at = [x * half[0], y * half[1]];
        let mut other = contour(&mut evidence).clone();
        (other.id, other.side, other.start, other.wire) = ("other".to_owned(), Side::Inside, None, None);
        let corner = |dx: f64, dy: f64| [at[0] + 0.5 * dx, at[1] + 0.5 * dy];
        other.target =
            line(&[corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]).vertices();
        (other.relief_deg, other.land_mm) = (1.0, 3.0);
        evidence.plan.sections[0].contours.push(other);
        codes(&evidence).iter().any(|code| code == "outside-block")
    };
    for side in [[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]] {
        assert!(leaves(0.25, side) && !leaves(0.35, side), "{side:?}");
    }
}

/// A start hole whose rim bites into another piece, its centre outside of it.
#[test]
fn a_start_hole_keeps_off_the_next_piece() {
    let text = program(Wrong::Nothing, false);
    let bites = |gap: f64| {
        let mut evidence = evidence(&text, false);
        let start = contour(&mut evidence).start.clone().expect("it starts");
        let radius = start.hole_diameter_mm.entry / 2.0;
        let x = start.x_mm + radius + gap;
        let mut other = contour(&mut evidence).clone();
        (other.id, other.start, other.wire) = ("other".to_owned(), None, None);
        other.target = line(&[[x, 2.9], [x + 0.4, 2.9], [x + 0.4, 3.1], [x, 3.1]]).vertices();
        evidence.plan.sections[0].contours.push(other);
        codes(&evidence)
    };
    let into = |gap: f64| bites(gap).len();
    assert!(into(-0.05) > into(0.05), "{:?} {:?}", bites(-0.05), bites(0.05));
}

/// Another piece in the same block must not be run into, and an opening lies in the piece or nowhere.
#[test]
fn what_lies_beside_the_piece_stays_whole() {
    let text = program(Wrong::Nothing, false);
    let beside = |places: &[P], side: Side, uncut: bool| {
        let mut evidence = evidence(&text, false);
        let mut other = contour(&mut evidence).clone();
        other.id = "other".to_owned();
        other.side = side;
        other.target = line(places).vertices();
        other.start = None;
        if uncut {
            other.wire = None;
        }
        evidence.plan.sections[0].contours.push(other);
        codes(&evidence)
    };
    let square = |x: f64, y: f64, h: f64| [[x - h, y - h], [x + h, y - h], [x + h, y + h], [x - h, y + h]];
    let has = |codes: &[String], code: &str| codes.iter().any(|one| one == code);
    assert!(has(&beside(&square(4.1, 0.0, 1.0), Side::Outside, true), "cut-into-piece"));
    assert!(!has(&beside(&square(4.3, 0.0, 1.0), Side::Outside, true), "cut-into-piece"));
    assert!(has(&beside(&square(3.5, 0.0, 1.0), Side::Outside, true), "pieces-meet"));
    assert!(has(&beside(&square(4.3, 0.0, 0.5), Side::Inside, true), "beside-the-piece"));
    assert!(!has(&beside(&square(0.0, 0.0, 0.5), Side::Inside, true), "beside-the-piece"));
}

/// The same program from a place beside the block of 12 x 12: in through the frame.
const BESIDE: P = [0.0, 6.2];

fn begun_beside(wrong: Wrong, centre: bool, change: &dyn Fn(&mut Text)) -> Evidence {
    let from = |text: Text, place: P| -> Text {
        let (old, new) = (format!("Y{:.4}", START[1]), format!("X{:.4} Y{:.4}", place[0], place[1]));
        text.into_iter().map(|block| block.replace(&format!("X{:.4} {old}", START[0]), &new)).collect()
    };
    let mut text = from(program(wrong, centre), BESIDE);
    change(&mut text);
    let mut evidence = evidence(&text, centre);
    let start = contour(&mut evidence).start.as_mut().unwrap();
    (start.kind, start.x_mm, start.y_mm) = (StartKind::FromOutside, BESIDE[0], BESIDE[1]);
    start.hole_diameter_mm = HoleDiameter { entry: 0.0, exit: 0.0 };
    (start.depth_mm, start.electrode_mm, start.position) = (0.0, None, None);
    evidence
}

#[test]
fn a_piece_that_is_begun_beside_its_block_holds() {
    for centre in [false, true] {
        let proof = prove(&begun_beside(Wrong::Nothing, centre, &|_| ()));
        assert!(proof.holds, "{centre}: {:?} {:?}", proof.faults, proof.contours);
        assert_eq!((proof.contours[0].cores_found, proof.contours[0].tabs_found), (1, 1));
        assert_eq!(proof.contours[0].hole_scar_mm, 0.0);
    }
}

/// Whatever is damaged in a program from a hole is found in one from beside the block.
#[test]
fn damages_are_found_where_it_is_begun_beside_the_block() {
    for centre in [false, true] {
        for wrong in [
            Wrong::NotFixed,
            Wrong::NoSkim,
            Wrong::NoTab,
            Wrong::NotDressed,
            Wrong::NoStop,
            Wrong::NoWireCut,
            Wrong::SkimLast,
            Wrong::IntoThePiece,
            Wrong::OffThePiece,
            Wrong::TabShort,
        ] {
            assert!(!prove(&begun_beside(wrong, centre, &|_| ())).holds, "{wrong:?} {centre}");
        }
    }
}

/// In the block without a hole, nearer to it than the wire sparks, elsewhere than planned, as a hole or an opening.
#[test]
fn where_the_wire_stands_beside_the_block_is_held_against_the_plan() {
    let has = |evidence: &Evidence, code: &str| {
        let found = codes(evidence);
        assert!(found.iter().any(|one| one == code), "{code}: {found:?}");
    };
    let fresh = || begun_beside(Wrong::Nothing, false, &|_| ());
    // The wire sparks 0.05 + the gap from its centre: as planned it stands 0.2 off.
    for (to, code) in [(4.0, "from-outside"), (6.04, "from-outside")] {
        let moved = |text: &mut Text| {
            for block in text.iter_mut() {
                *block = block.replace("Y6.2000", &format!("Y{to:.4}"));
            }
        };
        let mut inside = begun_beside(Wrong::Nothing, false, &moved);
        has(&inside, "start-off-hole");
        contour(&mut inside).start.as_mut().unwrap().y_mm = to;
        has(&inside, code);
    }
    let mut hole = fresh();
    contour(&mut hole).start.as_mut().unwrap().hole_diameter_mm.entry = 0.4;
    has(&hole, "from-outside");
    let mut opening = fresh();
    contour(&mut opening).side = Side::Inside;
    has(&opening, "from-outside");
    let mut burned = fresh();
    contour(&mut burned).start.as_mut().unwrap().kind = StartKind::Burned;
    assert!(!prove(&burned).holds);
    // A block that the piece reaches out of is none, wherever it is begun.
    let mut small = fresh();
    small.plan.sections[0].cut_from_mm = Some([5.9, 12.0]);
    has(&small, "outside-block");
}

/// A way in that cuts a corner off the block, and a block so narrow that the kerf around the piece parts what stands around it.
#[test]
fn what_stands_around_the_piece_hangs_together() {
    let way = |text: &mut Text| {
        let at = text.iter().position(|block| block.contains("G41 D1")).expect("it begins");
        // From above the block out over its right side, back in, and on to where it was: a corner falls.
        let corner =
            ["G01 X5.0000 Y6.2000 F1.0", "G01 X6.3000 Y4.0000", "G01 X5.5000 Y4.0000", "G01 X0.0000 Y4.0000"];
        for (i, block) in corner.into_iter().enumerate() {
            text.insert(at + i, block.to_owned());
        }
    };
    let found = codes(&begun_beside(Wrong::Nothing, false, &way));
    assert!(found.iter().any(|one| one == "frame-parts"), "{found:?}");
    let mut narrow = begun_beside(Wrong::Nothing, false, &|_| ());
    narrow.plan.sections[0].cut_from_mm = Some([6.2, 12.0]);
    let found = codes(&narrow);
    assert!(found.iter().any(|one| one == "frame-parts"), "{found:?}");
}

/// Another piece in the way of the wire through the frame.
#[test]
fn the_way_in_does_not_run_into_another_piece() {
    for (x, into) in [(0.5, true), (1.7, false)] {
        let mut evidence = begun_beside(Wrong::Nothing, false, &|_| ());
        let mut other = contour(&mut evidence).clone();
        (other.id, other.start, other.wire) = ("other".to_owned(), None, None);
        other.target = line(&[[x - 0.5, 3.5], [x + 0.5, 3.5], [x + 0.5, 4.5], [x - 0.5, 4.5]]).vertices();
        evidence.plan.sections[0].contours.push(other);
        let found = codes(&evidence).iter().any(|one| one == "cut-into-piece");
        assert_eq!(found, into, "{x}");
    }
}
