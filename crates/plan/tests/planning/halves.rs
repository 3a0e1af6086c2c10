//! Sections in two halves: the room of half-rounds by hand, joints that must not be, and what holds the halves.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use package::{Along, Contour, Halves, JointKind, Plan, StartKind};

/// A slot 1.2 long and 0.23 wide, round at both ends.
fn slot() -> Outline {
    rounded_rectangle(1.2, 0.23, 0.115)
}

fn polygon(corners: &[(f64, f64)]) -> Outline {
    Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
}

fn split(outline: Outline, words: &str) -> Bench {
    Bench::new(outline, 20.0).section(&format!("halves = {{ {words} }}\n")).edge("cut = \"finished\"\n")
}

fn contour(plan: &Plan) -> &Contour {
    &plan.sections[0].contours[0]
}

fn halves(plan: &Plan) -> &Halves {
    plan.sections[0].halves.as_ref().unwrap()
}

fn line(plan: &Plan, key: &str) -> f64 {
    plan.reckoning.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("no line {key}")).value
}

#[track_caller]
fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
}

/// By hand, wheel 0.08: centres may lie sqrt(0.003^2 + 0.002^2) = 0.0036056 off; lean 0.0002 x 20 = 0.004; stock 0.005; position
/// 0.005/2.4477 and size 0.001 make 3 x 0.0022742 = 0.0068225. Needed 0.08 + 0.0036056 + 0.004 + 0.005 + 0.0068225 = 0.0994281.
#[test]
fn the_room_of_half_rounds_by_hand() {
    let plan = split(slot(), "along = \"x\", at = 0").plan();
    let start = contour(&plan).start.as_ref().unwrap();
    assert_eq!(start.kind, StartKind::HalfGround);
    assert_eq!((start.electrode_mm, start.position), (None, None));
    let half = start.half_round.unwrap();
    assert_eq!((half.wheel_radius_mm, half.depth_mm, half.along), (0.08, 0.08, Along::X));
    near(line(&plan, "s.e.start.terms.need_mm"), 0.099_428_1, 1e-6);
    near(start.room_mm, 0.115 - 0.099_428_1, 1e-6);
    near(start.room_linear_mm, 0.115 - 0.08 - 0.003_605_6 - 0.004 - 0.005 - 0.005 - 0.003, 1e-6);
    near(start.hole_diameter_mm.entry, 0.16, 1e-12);
    near(start.hole_diameter_mm.exit, 0.16 - 2.0 * 0.003_605_55 - 2.0 * 0.003, 1e-7);
    // A pin loses the lean as well, and one that must stop is wider than both may reach.
    near(half.pin_mm, 0.146_788_9 - 0.004, 1e-7);
    near(half.no_go_mm, 0.16 + 0.007_211_1 + 0.006, 1e-7);
    assert!(plan.sections[0].burning.is_none() && start.y_mm == 0.0);
}

/// The same opening in one piece cannot be started, and the cure names this room with the wheel that leaves most.
#[test]
fn one_piece_names_halves_as_a_cure_with_their_room() {
    let plan = Bench::new(slot(), 20.0).plan();
    assert!(contour(&plan).start.is_none());
    let cures = &contour(&plan).start_limits.cures;
    let named = cures.iter().find(|cure| cure.change.contains("two halves")).unwrap();
    assert!(named.change.contains("along = \"x\"") && named.change.contains("radius 0.06"), "{named:?}");
    let made = split(slot(), "along = \"x\"")
        .shop("name = \"Example\"\nunits = \"mm\"\n[half_round]\nradii = [0.06]\n")
        .plan();
    near(named.room_mm.unwrap(), contour(&made).start.as_ref().unwrap().room_mm, 1e-9);
}

/// A refusal of halves names a finer wheel with the room that it leaves.
#[test]
fn a_wheel_that_is_too_wide_names_a_finer_one() {
    let bench = |radius: &str| {
        split(slot(), "along = \"x\"")
            .shop(&format!("name = \"Example\"\nunits = \"mm\"\n[half_round]\nradii = [{radius}]\n"))
            .plan()
    };
    let refused = bench("0.2");
    let cures = &contour(&refused).start_limits.cures;
    let finer = cures.iter().find(|cure| cure.change.starts_with("a finer wheel")).unwrap();
    assert_eq!(finer.change, "a finer wheel: half-rounds of radius 0.09");
    near(finer.room_mm.unwrap(), contour(&bench("0.09")).start.as_ref().unwrap().room_mm, 1e-9);
    assert!(cures.iter().all(|cure| !cure.change.contains("two halves")), "{cures:?}");
}

/// Turned by a quarter, mirrored or moved along, the room stays the same.
#[test]
fn the_room_does_not_hang_on_how_it_lies() {
    let ell = [(-0.7, -0.3), (0.9, -0.3), (0.9, 0.1), (0.0, 0.1), (0.0, 0.5), (-0.7, 0.5)];
    let of = |map: fn((f64, f64)) -> (f64, f64), words: &str| {
        let corners: Vec<(f64, f64)> = ell.iter().map(|c| map(*c)).collect();
        let plan = split(polygon(&corners), words)
            .edge("cut = \"finished\"\ncorner_tolerance = 0.2\n")
            .size([24.0, 24.0])
            .plan();
        let start = contour(&plan).start.clone().unwrap();
        (start.room_mm, start.half_round.unwrap().wheel_radius_mm, start.clean_up_probability)
    };
    let as_it_is = of(|c| c, "along = \"x\", at = 0");
    for other in [
        of(|(x, y)| (-y, x), "along = \"y\", at = 0"),
        of(|(x, y)| (-x, y), "along = \"x\", at = 0"),
        of(|(x, y)| (x, -y), "along = \"x\", at = 0"),
        of(|(x, y)| (x + 1.5, y + 0.25), "along = \"x\", at = 0.25"),
    ] {
        near(other.0, as_it_is.0, 1e-6);
        assert_eq!(other.1, as_it_is.1);
        near(other.2, as_it_is.2, 1e-6);
    }
}

#[track_caller]
fn refused(bench: &Bench, code: &str) {
    let remarks = bench.planned().map(|_| ()).unwrap_err();
    assert!(
        remarks.iter().any(|remark| remark.code == code && !remark.cures.is_empty()),
        "{code}: {remarks:?}"
    );
}

#[test]
fn joints_that_must_not_be() {
    // A U whose tongue the joint would set loose.
    let u = [
        (-2.0, -1.0),
        (2.0, -1.0),
        (2.0, 2.0),
        (1.0, 2.0),
        (1.0, 0.0),
        (-1.0, 0.0),
        (-1.0, 2.0),
        (-2.0, 2.0),
    ];
    refused(&split(polygon(&u), "along = \"x\", at = 1"), "joint-parts-metal");
    assert!(split(polygon(&u), "along = \"x\", at = -0.5").planned().is_ok());
    refused(&split(slot(), "along = \"x\", at = 3"), "joint-beside");
    refused(&split(slot(), "along = \"x\", at = 9"), "joint-outside");
    refused(&split(slot(), "along = \"x\", at = 0.115"), "joint-touches");
    // Beside an opening: less than half a millimetre of metal breaks out, at the face, below a relief, beside a back bore.
    let beside = |at: f64, words: &str| {
        split(slot(), &format!("along = \"x\", at = {at}")).size([24.0, 20.0]).and(
            rounded_rectangle(2.0, 1.0, 0.4),
            [0.0, 1.5],
            words,
        )
    };
    let plain = "cut = \"finished\"\n";
    assert!(beside(0.0, plain).planned().is_ok());
    refused(
        &beside(0.0, "cut = \"finished\"\nstart = { back_bore = { diameter = 2.4, depth = 10 } }\n"),
        "joint-touches",
    );
    let over = |at: f64| {
        split(rounded_rectangle(2.0, 1.2, 0.4), &format!("along = \"x\", at = {at}")).and(
            slot(),
            [0.0, 1.0],
            plain,
        )
    };
    refused(&over(0.4), "joint-touches");
    assert!(over(0.3).planned().is_ok());
    refused(&over(0.3).relief("land = 3\nrelief_deg = 0.5\n"), "joint-touches");
    refused(
        &split(slot(), "along = \"x\", at = 0").edge("cut = \"finished\"\nstart = { at = [0, 0.01] }\n"),
        "start-off-joint",
    );
    refused(
        &split(slot(), "along = \"x\", at = 0").edge("cut = \"finished\"\nstart = { electrode = 0.2 }\n"),
        "burned-over-joint",
    );
}

/// A stated place on the joint is kept; an opening beside the joint is burned as ever.
#[test]
fn what_lies_beside_the_joint_is_burned() {
    let plan = split(slot(), "along = \"x\", at = 0")
        .edge("cut = \"finished\"\nstart = { at = [0.2, 0] }\n")
        .and(rounded_rectangle(2.0, 1.0, 0.4), [0.0, 5.0], "cut = \"finished\"\n")
        .plan();
    let contours = &plan.sections[0].contours;
    let kinds: Vec<StartKind> = contours.iter().map(|one| one.start.as_ref().unwrap().kind).collect();
    assert_eq!(kinds, [StartKind::HalfGround, StartKind::Burned]);
    assert_eq!(contours[0].start.as_ref().unwrap().x_mm, 0.2);
    assert_eq!(plan.sections[0].burning.as_ref().unwrap().holes.len(), 1);
    assert_eq!(halves(&plan).edges, ["e"]);
    assert!(halves(&plan).order_of_work.iter().any(|step| step.contains("Burn the start holes of e2")));
}

/// Every screw and dowel keeps its distances, measured here from outside: 1.5 diameters or a millimetre round the sink to faces
/// and sides, max(3, 1.5 diameters) to the opening, the larger diameter between two.
#[test]
fn what_holds_the_halves_keeps_its_distances() {
    for (long, high) in [(24.0, 20.0), (30.0, 20.0), (40.0, 10.0), (60.0, 35.0)] {
        let plan = Bench::new(slot(), high).section("halves = { along = \"x\" }\n").size([long, 20.0]).plan();
        let found = halves(&plan);
        assert!(found.refused.is_empty(), "{found:?}");
        let kinds: Vec<JointKind> = found.holes.iter().map(|hole| hole.kind).collect();
        assert_eq!(kinds, [JointKind::Screw, JointKind::Screw, JointKind::Dowel, JointKind::Dowel]);
        for (i, hole) in found.holes.iter().enumerate() {
            let d = hole.diameter_mm;
            let wide = hole.sink_mm.map_or(d, |[wide, _]| wide);
            let through = if hole.sink_mm.is_some() {
                hole.clear_mm.unwrap() > d
            } else {
                hole.push_out_mm == Some(d / 2.0)
            };
            assert!(
                through && hole.into_mm[0] == 10.0 + found.at_mm * if hole.from_lower { 1.0 } else { -1.0 },
                "{hole:?}"
            );
            let side = (1.5 * d).max(wide / 2.0 + 1.0);
            let faces = [hole.below_face_mm, high - hole.below_face_mm, long / 2.0 - hole.along_mm.abs()];
            let to_opening =
                hole.along_mm.abs() - 0.6 - hole.clear_mm.unwrap_or(d) / 2.0 - (1.5 * d).max(3.0);
            let others = found.holes.iter().enumerate().filter(|(k, _)| *k != i).map(|(_, other)| {
                let away = (hole.along_mm - other.along_mm).hypot(hole.below_face_mm - other.below_face_mm);
                let (a, b) = (hole.clear_mm.unwrap_or(d), other.clear_mm.unwrap_or(other.diameter_mm));
                away - (a + b) / 2.0 - a.max(b)
            });
            let least = faces
                .into_iter()
                .map(|have| have - side)
                .chain([to_opening])
                .chain(others)
                .fold(f64::INFINITY, f64::min);
            assert!(hole.room_mm >= 0.0 && least >= -1e-9, "{long} {high}: {hole:?} {least}");
            assert!(hole.room_mm <= least + 1e-9, "{long} {high}: {hole:?} {least}");
        }
    }
}

/// No room is told with what is short and a larger block that has room.
#[test]
fn halves_that_nothing_holds_say_how_short() {
    let of =
        |size: [f64; 2]| Bench::new(slot(), 20.0).section("halves = { along = \"x\" }\n").size(size).plan();
    let plan = of([12.0, 16.0]);
    let refused = &halves(&plan).refused[0];
    assert!(halves(&plan).holes.is_empty() && refused.need_mm > refused.have_mm, "{refused:?}");
    let longer = refused
        .cures
        .iter()
        .find_map(|cure| cure.strip_prefix("a block ")?.strip_suffix(" long along the joint"));
    let longer: f64 = longer.unwrap().parse().unwrap();
    assert!(halves(&of([longer, 16.0])).refused.is_empty());
    assert!(!halves(&of([longer - 0.6, 16.0])).refused.is_empty());
    assert!(plan.sections[0].makeable);
    let steps = &halves(&plan).order_of_work;
    assert!(
        steps.iter().all(|step| !step.contains("screws home"))
            && steps.iter().any(|step| step.contains("clamped for good"))
    );
}

/// Screws and jack-out threads of the section itself keep off the joint and off what goes through it.
#[test]
fn what_holds_the_section_keeps_off_the_joint() {
    let words = "halves = { along = \"x\" }\nfastening = { screws = { thread = \"M3\" } }\n";
    let plan = Bench::new(slot(), 20.0).section(words).size([40.0, 30.0]).plan();
    let own = plan.sections[0].fastening.as_ref().unwrap();
    assert_eq!(own.holes.len(), 2);
    for hole in &own.holes {
        assert!(hole.y_mm.abs() >= 4.5 - 1e-9, "{hole:?}");
        for through in &halves(&plan).holes {
            let wide = through.clear_mm.unwrap_or(through.diameter_mm);
            let metal = (hole.x_mm - through.along_mm).abs() - (wide + 3.0) / 2.0;
            assert!(metal >= wide.max(3.0) - 1e-9, "{hole:?} {through:?}");
        }
    }
}

/// What would stand beside an opening in the middle, on the joint, stands off it.
#[test]
fn a_lone_thread_does_not_stand_on_the_joint() {
    let upright = rounded_rectangle(2.0, 6.0, 0.5);
    let jack_out = |halves: &str| {
        let words = format!("{halves}fastening = {{ jack_out = {{ thread = \"M3\" }} }}\n");
        let plan = Bench::new(upright.clone(), 20.0).section(&words).size([60.0, 50.0]).plan();
        plan.sections[0].fastening.as_ref().unwrap().holes[0].y_mm.abs()
    };
    assert!(jack_out("") < 0.2, "{}", jack_out(""));
    let off = jack_out("halves = { along = \"x\", at = 0 }\n");
    assert!(off >= 4.5 - 1e-9, "{off}");
}

/// A joint parts a core, and the lead-in the half that it runs through; the other is half a ring by closed form. One is held,
/// and that the others come loose on the way is told.
#[test]
fn a_core_is_parted_by_the_joint() {
    let circle = Outline::new(vec![Vertex::new(4.0, 0.0, 1.0), Vertex::new(-4.0, 0.0, 1.0)]).unwrap();
    let words = "cut = \"finished\"\nstart = { at = [0, 0] }\n";
    let plan = split(circle, "along = \"x\", at = 0").edge(words).size([40.0, 30.0]).plan();
    let cut = contour(&plan);
    let wire = cut.wire.as_ref().unwrap();
    let main = &wire.passes[0];
    let outer = 4.0 - main.offset_mm - wire.diameter_mm / 2.0 - main.spark_gap_mm;
    let hole = cut.start.as_ref().unwrap().hole_diameter_mm.exit / 2.0;
    let half_ring = std::f64::consts::PI * (outer * outer - hole * hole) / 2.0;
    let largest = cut.cores.iter().map(|core| core.area_mm2).fold(0.0, f64::max);
    near(largest, half_ring, 1e-4 * half_ring);
    assert_eq!(cut.cores.len(), 3, "{:?}", cut.cores);
    assert_eq!(cut.cores.iter().filter(|core| core.held).count(), 1);
    assert!(plan.remarks.iter().any(|remark| remark.code == "core-parted"));
}

/// By hand: sheet 0.2 of 380 N/mm2, a share of 0.3 spreads: 22.8 N on each mm of edge, as a pressure of 114 over the land, 20, and the
/// joint in the opening, 1.22. An edge that stamps nothing pushes nothing.
#[test]
fn what_pushes_the_halves_apart_by_hand() {
    let sheet =
        "[sheet]\nshear_strength_mpa = 380\nthickness = 0.2\nclearance = 0.05\n[forces]\nspreading = 0.3\n";
    let bench = split(slot(), "along = \"x\", at = 0").sheet(sheet).edge("cut = \"pierce\"\n");
    near(halves(&bench.plan()).opens_n.unwrap(), 0.3 * 380.0 * 20.0 * 1.22, 1e-6);
    let short = bench.relief("land = 3\nrelief_deg = 0.5\n").plan();
    near(halves(&short).opens_n.unwrap(), 0.3 * 380.0 * 3.0 * 1.22, 1e-6);
    assert!(halves(&split(slot(), "along = \"x\"").sheet(sheet).plan()).opens_n.is_none());
}

/// On a joint off the opening's middle a cure is reckoned where the hole would be: what it names goes, with the room that it names.
#[test]
fn cures_off_the_middle_do_what_they_say() {
    let outline = || rounded_rectangle(1.2, 0.3, 0.1);
    let of = |at: &str, radii: &str| {
        split(outline(), &format!("along = \"x\", at = {at}"))
            .shop(&format!("name = \"Example\"\nunits = \"mm\"\n[half_round]\nradii = [{radii}]\n"))
            .plan()
    };
    let mut named = 0;
    for at in ["0.02", "0.04", "0.06", "0.1"] {
        let plan = of(at, "0.2");
        assert!(contour(&plan).start.is_none());
        for cure in &contour(&plan).start_limits.cures {
            let Some(room) = cure.room_mm else { continue };
            let radius = cure.change.rsplit(' ').next().unwrap();
            let made = match cure.change.strip_prefix("`at = ") {
                Some(rest) => of(rest.split('`').next().unwrap(), radius),
                None => of(at, radius),
            };
            let start = contour(&made).start.as_ref().unwrap_or_else(|| panic!("{at}: {cure:?}"));
            near(start.room_mm, room, 1e-6);
            named += 1;
        }
    }
    assert!(named >= 2, "only {named}");
}

/// Where no side of the block alone does it, all three together are named, and have room.
#[test]
fn a_block_that_is_short_every_way_names_one_that_is_not() {
    let of = |[long, wide, high]: [f64; 3]| {
        Bench::new(slot(), high).section("halves = { along = \"x\" }\n").size([long, wide]).plan()
    };
    let plan = of([12.0, 6.0, 6.0]);
    let cures = &halves(&plan).refused[0].cures;
    let numbers: Vec<f64> = cures[0].split(' ').filter_map(|word| word.parse().ok()).collect();
    let block: [f64; 3] = numbers.try_into().unwrap_or_else(|_| panic!("{cures:?}"));
    assert!(halves(&of(block)).refused.is_empty(), "{block:?}");
}
