//! Pieces that are cut out of a block: where they are started, what holds them, and in which order they are cut.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use package::{Contour, Machine, PhaseKind, Plan, Side, StartKind};

const OUTSIDE: &str = "cut = \"finished\"\nside = \"outside\"\n";

fn polygon(corners: &[[f64; 2]]) -> Outline {
    Outline::new(corners.iter().map(|c| Vertex::new(c[0], c[1], 0.0)).collect()).unwrap()
}

fn rectangle(x: f64, y: f64) -> Outline {
    polygon(&[[-x / 2.0, -y / 2.0], [x / 2.0, -y / 2.0], [x / 2.0, y / 2.0], [-x / 2.0, y / 2.0]])
}

fn cut_out(outline: Outline, edge: &str) -> Bench {
    Bench::new(outline, 20.0)
        .edge(&format!("{OUTSIDE}{edge}"))
        .section("cut_from = [40.0, 30.0]\n")
        .size([16.0, 12.0])
}

fn piece(plan: &Plan) -> &Contour {
    plan.sections[0].contours.iter().find(|one| one.side == Side::Outside).unwrap()
}

fn near(what: &str, found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{what}: {found} is not {expected}");
}

#[test]
fn a_block_is_started_beside_it_and_hangs_on_a_tab() {
    let bench = cut_out(rectangle(16.0, 12.0), "");
    let plan = bench.plan();
    let (section, one) = (&plan.sections[0], piece(&plan));
    assert!(section.makeable && section.cut_from_mm == Some([40.0, 30.0]), "{:#?}", plan.remarks);
    let (start, wire) = (one.start.as_ref().unwrap(), one.wire.as_ref().unwrap());
    // Beside the middle of a long side, with room to spare.
    assert!(
        start.x_mm.abs() < 1e-9 && start.y_mm.abs() > 6.0 + start.hole_diameter_mm.entry / 2.0,
        "{start:?}"
    );
    near("room", start.room_mm, 0.3, 1e-9);
    let tab = wire.tab.as_ref().unwrap();
    assert_eq!((tab.width_mm, tab.dress.len()), (3.5, wire.passes.len() - 1));
    // The wire's way around a rectangle: its sides, and a full circle at the corners.
    let centre = &wire.passes[0].centre;
    let long: f64 = (0..centre.len())
        .map(|i| {
            let (a, b) = (centre[i], centre[(i + 1) % centre.len()]);
            let chord = (b[0] - a[0]).hypot(b[1] - a[1]);
            let half = 2.0 * a[2].abs().atan();
            if a[2] == 0.0 { chord } else { chord / half.sin() * half }
        })
        .sum();
    near("way", long, 56.0 + std::f64::consts::TAU * wire.passes[0].offset_mm, 1e-9);
    let core = &one.cores[0];
    assert!(core.held && one.cores.len() == 1);
    near("area", core.area_mm2, 192.0, 1e-6);
    near("mass", core.mass_g, 192.0 * 20.0 * 7.7 / 1000.0, 0.3);
}

#[test]
fn it_is_skimmed_while_it_hangs_and_cut_out_last() {
    let bench = cut_out(rectangle(16.0, 12.0), "").and(
        rounded_rectangle(8.0, 4.0, 0.5),
        [0.0, 0.0],
        "cut = \"finished\"\n",
    );
    let planned = bench.planned().unwrap();
    let wires: Vec<_> =
        planned.plan.sections[0].programs.iter().filter(|one| one.machine == Machine::Wire).collect();
    assert_eq!(wires.len(), 1, "one wire does both");
    assert_eq!(wires[0].contours, ["e2", "e"], "the opening comes first");
    let kinds: Vec<(PhaseKind, bool, usize)> =
        wires[0].phases.iter().map(|phase| (phase.kind, phase.attended, phase.contours.len())).collect();
    assert_eq!(
        kinds,
        [
            (PhaseKind::Mains, false, 2),
            (PhaseKind::Cores, true, 1),
            (PhaseKind::Skims, false, 2),
            (PhaseKind::Pieces, true, 1)
        ]
    );
    let text = &planned.programs[&wires[0].path];
    let (before, after) = text.split_once("FIX THE PIECE TO ITS BLOCK").unwrap();
    assert!(!before.contains("EDGE e: CUT THE TAB") && after.contains("EDGE e: CUT THE TAB"));
    assert!(after.contains("WHERE THE TAB STOOD") && after.contains("TAKE THE PIECE OUT"));
    // With the wire left of its way, an outside is gone round clockwise: to the right along the upper side.
    assert!(after.contains("G42 D"), "{after}");
}

#[test]
fn an_inside_corner_of_a_piece_is_measured_and_may_be_too_much() {
    let ell = polygon(&[[-8.0, -6.0], [8.0, -6.0], [8.0, 0.0], [0.0, 0.0], [0.0, 6.0], [-8.0, 6.0]]);
    let plan = cut_out(ell, "corner_tolerance = 0.1\n").plan();
    let one = piece(&plan);
    let last = one.wire.as_ref().unwrap().passes.last().unwrap().offset_mm;
    assert_eq!(one.missed_corners.len(), 1, "{:?}", one.missed_corners);
    near("depth", one.missed_corners[0].depth_mm, last * (2f64.sqrt() - 1.0), 1e-6);
}

/// A bay half as wide as 0.1857 lets the last pass in and not the main cut.
#[test]
fn a_bay_that_only_the_last_pass_enters_is_refused_for_that_wire() {
    let (x, s) = (0.1857, 4.0);
    let bay = polygon(&[[-s, -s], [s, -s], [s, s], [x, s], [x, 0.0], [-x, 0.0], [-x, s], [-s, s]]);
    let thick = "[[wire]]\ndiameter = 0.25\ngap = 0.025\n";
    let plan = cut_out(bay.clone(), "corner_tolerance = 5\n").shop(thick).plan();
    let one = piece(&plan);
    let bound = one.start_limits.bounds.iter().find(|bound| bound.bound == "bay").unwrap();
    assert!(one.wire.is_none() && !bound.holds && bound.need_mm > 3.0, "{bound:?}");
    // A finer wire gets in with every pass.
    let plan = cut_out(bay, "corner_tolerance = 0.1\n").plan();
    assert!(piece(&plan).wire.as_ref().unwrap().diameter_mm < 0.25);
}

/// Where the tab would end on a turn about a corner, it goes on to the corner's other side.
#[test]
fn a_tab_does_not_end_on_a_turn_about_a_corner() {
    for side in [1.15, 1.2, 1.25, 1.3, 1.33, 1.6, 1.9, 2.4] {
        let plan = cut_out(rectangle(side, 0.66 * side), "").plan();
        let one = piece(&plan);
        let tab = one.wire.as_ref().unwrap().tab.as_ref().unwrap();
        let (x, y) = (side / 2.0, 0.33 * side);
        let wire = one.wire.as_ref().unwrap();
        let (main, half) = (&wire.passes[0], wire.diameter_mm / 2.0);
        let on_side = (tab.from_mm[0].abs() - x).abs() < 1e-9 || (tab.from_mm[1].abs() - y).abs() < 1e-9;
        assert!(on_side && tab.width_mm >= side * 3.32 / 12.0 - 1e-9, "{side}: {tab:?}");
        // What stands, by where the control ends: square beside the end on that side, seen from square beside the start.
        let ([fx, fy], out) = (tab.from_mm.map(f64::abs), main.offset_mm);
        let beside_end = if fx > x - 1e-9 { [x + out, fy] } else { [fx, y + out] };
        let apart = beside_end[0].hypot(y + out - beside_end[1]);
        near("tab", tab.width_mm, apart - 2.0 * (half + main.spark_gap_mm), 1e-6);
    }
}

/// A round piece turns all the way: its tab is as wide as asked, a twelfth of the edge, and each skim of its place takes
/// the tab's minutes at its own feed.
#[test]
fn a_round_piece_hangs_on_a_tab_as_wide_as_asked() {
    let round = Outline::new(vec![Vertex::new(6.0, 0.0, 1.0), Vertex::new(-6.0, 0.0, 1.0)]).unwrap();
    let plan = cut_out(round, "").plan();
    let wire = piece(&plan).wire.as_ref().unwrap();
    let tab = wire.tab.as_ref().unwrap();
    near("width", tab.width_mm, std::f64::consts::PI, 1e-12);
    assert!(!tab.dress.is_empty());
    // The wire comes in at half the feed of a skim, which came in there before it, and cuts at its own.
    let line = |name: &str| {
        plan.reckoning.iter().find(|line| line.key == format!("s.e.wire.tab.{name}")).unwrap().value
    };
    let (way, lead) = (line("length_mm") + 0.1, line("lead_in_mm") / 0.5);
    let [main, skim] = [0, 1].map(|pass| wire.passes[pass].feed_mm_per_min);
    assert!(lead > 0.2 && skim > main);
    near("minutes", tab.minutes, way / main + lead / skim, 1e-9);
    for dress in &tab.dress {
        near("minutes", dress.minutes, (way + lead) / skim, 1e-9);
    }
    // With the wire cut where it ends, no pass of a piece goes back.
    let lead =
        wire.lead_in.windows(2).map(|leg| (leg[1][0] - leg[0][0]).hypot(leg[1][1] - leg[0][1])).sum::<f64>();
    for (pass, planned) in wire.passes.iter().enumerate() {
        let key = format!("s.e.wire.passes.{pass}.lead_in_and_back_mm");
        let gone = plan.reckoning.iter().find(|line| line.key == key).unwrap().value;
        near("once", gone, lead - planned.offset_mm, 1e-9);
    }
}

/// Beside a piece stands what its kerf leaves of the block, between two pieces what both kerfs leave.
#[test]
fn kerfs_are_taken_off_the_metal_around_pieces() {
    let other = rectangle(6.0, 4.0).moved(outline::Vector::new(0.0, 11.0));
    let punches = cut_out(rectangle(16.0, 12.0), "").section("cut_from = [40.0, 32.0]\n").punch();
    let plan = punches.and(other, [0.0, 0.0], OUTSIDE).plan();
    let main = &piece(&plan).wire.as_ref().unwrap().passes[0];
    let kerf = main.offset_mm + piece(&plan).wire.as_ref().unwrap().diameter_mm / 2.0 + main.spark_gap_mm;
    let web = |a: &str, b: &str| {
        let webs = &plan.sections[0].webs;
        webs.iter()
            .find(|web| web.between == [a.to_owned(), b.to_owned()])
            .unwrap_or_else(|| panic!("{webs:?}"))
    };
    near("block below", web("e", "side").width_mm, 10.0 - kerf, 1e-9);
    near("block above", web("e2", "side").width_mm, 3.0 - kerf, 1e-9);
    near("between", web("e", "e2").width_mm, 3.0 - 2.0 * kerf, 1e-9);
    near("its place", web("e", "e2").y_mm, 7.5, 1e-9);
    assert!(
        plan.sections[0]
            .webs
            .iter()
            .all(|web| web.rule == "frame" && web.holds == (web.width_mm >= web.need_mm))
    );
    assert_eq!(plan.sections[0].webs.len(), 3, "one web lies between two pieces");
    // What is thinner than the shop asks for is said, with what is on its other side.
    let asks = |frame: f64| {
        let shop = format!("name = \"One\"\nunits = \"mm\"\n[core]\nframe = {frame:?}\n");
        let other = rectangle(6.0, 4.0).moved(outline::Vector::new(0.0, 11.0));
        let punches = cut_out(rectangle(16.0, 12.0), "").section("cut_from = [40.0, 32.0]\n").punch();
        let plan = punches.shop(&shop).and(other, [0.0, 0.0], OUTSIDE).plan();
        let thin = plan.remarks.into_iter().filter(|remark| remark.code == "thin-frame");
        thin.map(|remark| remark.message).collect::<Vec<_>>()
    };
    let (between, above) = (3.0 - 2.0 * kerf, 3.0 - kerf);
    assert_eq!(asks(between - 1e-3), Vec::<String>::new());
    let said = asks(between + 1e-3);
    assert!(said.len() == 1 && said[0].contains(&format!("the kerf of `e2` {between:.3}")), "{said:?}");
    let said = asks(above + 1e-3);
    assert!(said.len() == 2 && said.iter().any(|one| one.contains("`e2` and the block's side")), "{said:?}");
}

#[test]
fn without_metal_around_it_there_is_no_start() {
    let plan = cut_out(rectangle(16.0, 12.0), "").section("cut_from = [18.0, 14.0]\n").plan();
    let (section, one) = (&plan.sections[0], piece(&plan));
    assert!(!section.makeable && one.wire.is_none());
    let frame = one.start_limits.bounds.iter().find(|bound| bound.bound == "frame").unwrap();
    assert!(!frame.holds && frame.have_mm < frame.need_mm);
    assert!(one.start_limits.cures.iter().any(|cure| cure.change.contains("cut_from")));
}

#[test]
fn stock_is_left_on_the_faces_that_are_ground() {
    let plan = cut_out(rectangle(16.0, 12.0), "grind = { left = 0.05, top = 0.08 }\n").plan();
    let one = piece(&plan);
    let bound = |k: usize, pick: fn(f64, f64) -> f64| one.target.iter().map(|v| v[k]).reduce(pick).unwrap();
    let found = [bound(0, f64::min), bound(0, f64::max), bound(1, f64::min), bound(1, f64::max)];
    for (found, expected) in found.into_iter().zip([-8.05, 8.0, -6.0, 6.08]) {
        near("face", found, expected, 1e-12);
    }
    assert_eq!(one.grind_stock_mm, Some([0.05, 0.0, 0.0, 0.08]));
    let refused =
        cut_out(rounded_rectangle(16.0, 12.0, 1.0), "grind = { left = 0.05 }\n").planned().unwrap_err();
    assert!(refused[0].message.contains("square corners"), "{refused:?}");
}

/// The face of a punch looks down, so it is cut mirrored; it is smaller by the clearance where the die has the size.
#[test]
fn a_punch_is_mirrored_and_takes_the_clearance() {
    let wedge = polygon(&[[-4.0, -3.0], [4.0, -3.0], [-4.0, 3.0]]);
    let sheet = "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.4\nclearance = 0.05\n";
    let punch = |edge: &str| {
        cut_out(wedge.clone(), "").edge(&format!("side = \"outside\"\n{edge}")).sheet(sheet).punch().plan()
    };
    let pierce = punch("cut = \"pierce\"\n");
    let one = piece(&pierce);
    assert_eq!(one.clearance_per_side_mm, 0.0);
    let mut corners: Vec<[f64; 2]> = one.target.iter().map(|v| [v[0], v[1]]).collect();
    corners.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(corners, [[-4.0, -3.0], [4.0, -3.0], [4.0, 3.0]]);
    let blank = punch("cut = \"blank\"\n");
    let one = piece(&blank);
    near("clearance", one.clearance_per_side_mm, -0.02, 1e-12);
    near("right side", one.target.iter().map(|v| v[0]).fold(f64::MIN, f64::max), 3.98, 1e-9);
    assert!(pierce.sections[0].forces.cutting_n.is_none(), "the opening's force is counted with the opening");
    let rounded = punch("cut = \"pierce\"\noutside_radius = 0.1\n");
    let arcs = piece(&rounded).target.iter().filter(|v| v[2] != 0.0).count();
    assert_eq!(arcs, 3, "{:?}", piece(&rounded).target);
}

#[test]
fn pieces_and_openings_lie_where_they_can() {
    let faults = |bench: Bench| -> Vec<String> {
        bench
            .planned()
            .map_or_else(|faults| faults.into_iter().map(|fault| fault.code).collect(), |_| Vec::new())
    };
    let opening = "cut = \"finished\"\n";
    let small = || rectangle(2.0, 1.0);
    let beside = cut_out(rectangle(16.0, 12.0), "").and(
        small().moved(outline::Vector::new(12.0, 0.0)),
        [0.0, 0.0],
        opening,
    );
    assert_eq!(faults(beside), ["beside-the-piece"]);
    let across = cut_out(rectangle(16.0, 12.0), "").and(
        small().moved(outline::Vector::new(8.0, 0.0)),
        [0.0, 0.0],
        opening,
    );
    assert!(faults(across).contains(&"openings-meet".to_owned()));
    let out = cut_out(rectangle(41.0, 12.0), "");
    assert_eq!(faults(out), ["outside-block"]);
    let unsaid = Bench::new(rectangle(16.0, 12.0), 20.0).edge(OUTSIDE);
    assert_eq!(faults(unsaid), ["no-block"]);
    let open = Bench::new(rectangle(16.0, 12.0), 20.0).punch();
    assert_eq!(faults(open), ["punch-opening"]);
}

const FROM_EDGE: &str = "start = { from = \"edge\" }\n";

/// In from the nearest side that is not clamped, square to the middle of the longest face: half the block, half the wire, the gap
/// and 1 of free space.
#[test]
fn a_piece_may_be_begun_beside_its_block() {
    let planned = cut_out(rectangle(16.0, 12.0), FROM_EDGE).planned().unwrap();
    let plan = &planned.plan;
    let (section, one) = (&plan.sections[0], piece(plan));
    assert!(section.makeable, "{:#?}", plan.remarks);
    let (start, wire) = (one.start.as_ref().unwrap(), one.wire.as_ref().unwrap());
    assert_eq!(start.kind, StartKind::FromOutside);
    let off = wire.diameter_mm / 2.0 + wire.passes[0].spark_gap_mm + 1.0;
    near("x", start.x_mm, 0.0, 1e-9);
    near("y", start.y_mm.abs(), 15.0 + off, 1e-9);
    near("room is the way", start.room_mm, 9.0 + off, 1e-9);
    assert_eq!((start.hole_diameter_mm.entry, start.depth_mm, start.electrode_mm), (0.0, 0.0, None));
    assert_eq!(wire.lead_in.len(), 2);
    // Nothing to burn; the tab, the skims and its dressing as ever; the way in counts with the main cut, and is gone once.
    assert!(section.burning.is_none() && section.programs.len() == 1);
    assert!(wire.tab.as_ref().is_some_and(|tab| tab.dress.len() + 1 == wire.passes.len()));
    let line = |key: &str| plan.reckoning.iter().find(|line| line.key == key).unwrap().value;
    near("way in", line("s.e.wire.passes.0.lead_in_and_back_mm"), 9.0 + off - wire.passes[0].offset_mm, 1e-9);
    let open = plan.remarks.iter().find(|remark| remark.code == "open-frame").unwrap();
    assert!(open.cures[0].contains("both sides of the gap"), "{open:?}");
    let way = format!("from X 0.000 Y {:.3} to X 0.000 Y {:.3} opens", start.y_mm, 6.0 * start.y_mm.signum());
    assert!(open.message.contains(&way), "{way} is not in {}", open.message);
    let text = &planned.programs[&section.programs[0].path];
    assert!(text.contains("BESIDE THE BLOCK: NO HOLE") && !text.contains("START HOLE"), "{text}");
}

/// The clamps' side is not cut open; where another way is shorter that one is taken.
#[test]
fn the_way_in_is_the_shortest_but_not_through_the_clamps() {
    let place = |clamp: &str, at: [f64; 2]| {
        let shop = format!("[order]\nclamp = \"{clamp}\"\n");
        let shop = format!("name = \"Example\"\nunits = \"mm\"\n{shop}");
        let plan = cut_out(rectangle(8.0, 8.0).moved(outline::Vector::new(at[0], at[1])), FROM_EDGE)
            .shop(&shop)
            .plan();
        let start = piece(&plan).start.clone().unwrap_or_else(|| panic!("{:#?}", plan.remarks));
        [start.x_mm, start.y_mm]
    };
    // The block reaches to 20 and 15, this piece from 8 to 16 and from -4 to 4: to the right 4, up and down 11.
    let [x, y] = place("left", [12.0, 0.0]);
    assert!(x > 20.0 && y.abs() < 1e-9, "{x} {y}");
    let [x, y] = place("right", [12.0, 0.0]);
    assert!(y.abs() > 15.0 && (x - 12.0).abs() < 1e-9, "{x} {y}");
    let [x, y] = place("right", [-12.0, 0.0]);
    assert!(x < -20.0 && y.abs() < 1e-9, "{x} {y}");
    let [x, y] = place("top", [0.0, 6.0]);
    assert!(y < -15.0 || x.abs() > 20.0, "{x} {y}");
}

/// A boss 2 wide is nearer to the block's side than its shoulders, and too short to begin on beside a face of 16.
#[test]
fn a_way_in_meets_a_long_face_rather_than_a_near_short_one() {
    let words = format!("{FROM_EDGE}corner_tolerance = 0.2\n");
    let boss = |width: f64| {
        let h = width / 2.0;
        let corners =
            [[-8.0, -2.0], [8.0, -2.0], [8.0, 2.0], [h, 2.0], [h, 6.0], [-h, 6.0], [-h, 2.0], [-8.0, 2.0]];
        let plan = cut_out(polygon(&corners).moved(outline::Vector::new(0.0, 4.0)), &words).plan();
        let wire = piece(&plan).wire.clone().unwrap_or_else(|| panic!("{:#?}", plan.remarks));
        wire.lead_in.last().map(|place| place[1]).unwrap_or_default()
    };
    near("on a shoulder", boss(2.0), 6.0, 1e-9);
    near("on the boss", boss(5.0), 10.0, 1e-9);
}

/// A round piece is met on its arc, square to the block's side.
#[test]
fn a_round_piece_is_met_square_to_a_side() {
    let plan = cut_out(rounded_rectangle(12.0, 12.0, 6.0), FROM_EDGE).plan();
    let start = piece(&plan).start.clone().unwrap();
    assert!(start.x_mm.abs() < 1e-6 && start.y_mm.abs() > 15.0, "{start:?}");
    let wedge = cut_out(polygon(&[[-6.0, -4.0], [6.0, -4.0], [0.0, 5.0]]), FROM_EDGE).plan();
    let way = &piece(&wedge).wire.as_ref().unwrap().lead_in;
    near("square to its long face", way[0][0] - way[1][0], 0.0, 1e-9);
}

/// Two pieces whose shortest ways would cross: the second keeps off what the first cuts, and off the first.
#[test]
fn ways_in_keep_off_each_other_and_off_the_next_piece() {
    let small = |x: f64, y: f64| rectangle(6.0, 4.0).moved(outline::Vector::new(x, y));
    let words = format!("side = \"outside\"\ncut = \"finished\"\n{FROM_EDGE}");
    let plan = Bench::new(small(-8.0, 7.0), 20.0)
        .edge(&words)
        .section("cut_from = [40.0, 30.0]\n")
        .punch()
        .and(small(-8.0, 0.0), [0.0, 0.0], &words)
        .and(small(-8.0, -7.0), [0.0, 0.0], &words)
        .plan();
    assert!(plan.sections[0].makeable, "{:#?}", plan.remarks);
    let ways: Vec<Vec<[f64; 2]>> =
        plan.sections[0].contours.iter().map(|one| one.wire.as_ref().unwrap().lead_in.clone()).collect();
    // Up, aside, down: the one in the middle has a piece above and one below.
    assert!(ways[0][0][1] > 15.0 && ways[2][0][1] < -15.0, "{ways:?}");
    assert!(ways[1][0][0] > 20.0, "{ways:?}");
}

/// A frame that would be too thin to hang together on one side of the gap, and a piece with no straight way out.
#[test]
fn an_open_frame_must_be_wide_enough() {
    let plan = cut_out(rectangle(16.0, 12.0), FROM_EDGE).section("cut_from = [19.0, 15.0]\n").plan();
    let one = piece(&plan);
    let bound = one.start_limits.bounds.iter().find(|bound| bound.bound == "frame").unwrap();
    let kerf = 1.5 - bound.have_mm;
    assert!(!bound.holds && (0.05..0.5).contains(&kerf) && bound.need_mm == 2.0, "{bound:?}");
    // The frame is too thin around the piece itself: no other start would do.
    assert!(one.wire.is_none() && one.start_limits.cures[0].change.contains("cut_from"));
    assert!(one.start_limits.cures.iter().all(|cure| !cure.change.contains("hole")));
    assert_eq!(one.start_limits.largest_hole_mm, 0.0);
    // 2.05 of block beside the piece, and the kerf leaves less than 2 of it.
    let plan = cut_out(rectangle(16.0, 12.0), FROM_EDGE).section("cut_from = [20.1, 16.1]\n").plan();
    let one = piece(&plan);
    assert!(one.wire.is_none() && one.start_limits.cures[0].change.contains("cut_from"), "{one:?}");
    assert!(one.start_limits.cures.iter().all(|cure| !cure.change.contains("hole")));
}

/// A hole beside the piece has no room in a narrow block that is wide enough for an open frame.
#[test]
fn beginning_at_the_edge_is_named_where_no_hole_fits() {
    let tight = |edge: &str| cut_out(rectangle(16.0, 12.0), edge).section("cut_from = [20.3, 16.3]\n").plan();
    let plan = tight("");
    let one = piece(&plan);
    assert!(
        one.wire.is_none()
            && one.start_limits.cures.iter().any(|cure| cure.change.contains("from = \"edge\""))
    );
    assert!(tight(FROM_EDGE).sections[0].makeable);
    // In a block that no open frame is left of it is not named.
    let plan = cut_out(rectangle(16.0, 12.0), "").section("cut_from = [18.0, 14.0]\n").plan();
    assert!(piece(&plan).start_limits.cures.iter().all(|cure| !cure.change.contains("from = \"edge\"")));
}

/// With openings: their holes are burned, the piece has none.
#[test]
fn only_the_openings_of_a_piece_begun_at_the_edge_are_burned() {
    let opening = rounded_rectangle(4.0, 3.0, 0.5);
    let plan =
        cut_out(rectangle(16.0, 12.0), FROM_EDGE).and(opening, [0.0, 0.0], "cut = \"finished\"\n").plan();
    let burning = plan.sections[0].burning.as_ref().unwrap();
    let burned: Vec<&str> = burning.holes.iter().map(|hole| hole.contour.as_str()).collect();
    assert_eq!(burned, ["e2"]);
}

/// Wherever the clamps are, of ways as long a piece begun at the block's edge takes one that leaves it on the arm of the open frame
/// that they hold; where only a longer one would, the warning says that it hangs on the free one.
#[test]
fn a_piece_begun_at_the_edge_hangs_on_the_clamped_arm() {
    for (clamp, [x, y]) in
        [("left", [-1.0, 0.0]), ("right", [1.0, 0.0]), ("bottom", [0.0, -1.0]), ("top", [0.0, 1.0])]
    {
        let shop = format!("name = \"Example\"\nunits = \"mm\"\n[order]\nclamp = \"{clamp}\"\n");
        let plan = cut_out(rectangle(16.0, 12.0), "start = { from = \"edge\" }\n").shop(&shop).plan();
        let tab = piece(&plan).wire.as_ref().unwrap().tab.as_ref().unwrap();
        let towards = (tab.from_mm[0] - tab.to_mm[0]) * x + (tab.from_mm[1] - tab.to_mm[1]) * y;
        assert!(towards > -1e-6, "{clamp}: {tab:?}");
        let said = plan.remarks.iter().find(|remark| remark.code == "open-frame").unwrap();
        assert!(!said.message.contains("FREE"), "{}", said.message);
    }
    let off = |clamp: &str| {
        let shop = format!("name = \"Example\"\nunits = \"mm\"\n[order]\nclamp = \"{clamp}\"\n");
        let aside = rectangle(16.0, 12.0).moved(outline::Vector::new(0.0, 2.0));
        let plan = cut_out(aside, "start = { from = \"edge\" }\n").shop(&shop).plan();
        plan.remarks.iter().find(|remark| remark.code == "open-frame").unwrap().message.contains("FREE")
    };
    assert!(
        off("left") != off("right"),
        "up is the shortest way, and one of both clamps holds the other arm"
    );
}
