//! Land and relief: closed forms of round openings, what belongs together, and that moving and turning change nothing.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use package::{Contour, Plan};

const WIRE: &str = "name = \"One\"\nunits = \"mm\"\n[[wire]]\ndiameter = 0.25\ngap = 0.025\noffsets = [0.190, 0.142, 0.134, 0.131]\n";
const HALF_DEGREE: f64 = 0.008_726_867_790_758_79;

fn circle(radius: f64) -> Outline {
    rounded_rectangle(2.0 * radius, 2.0 * radius, radius)
}

fn relieved(outline: Outline, words: &str) -> Bench {
    Bench::new(outline, 20.0).relief(words).shop(WIRE)
}

fn contour(plan: &Plan) -> &Contour {
    &plan.sections[0].contours[0]
}

fn near(what: &str, ours: f64, wanted: f64, by: f64) {
    assert!((ours - wanted).abs() <= by, "{what}: {ours}, by hand {wanted}");
}

#[test]
fn a_round_opening_by_hand() {
    let plan = relieved(circle(1.0), "land = 3\nrelief_deg = 0.5\n").plan();
    let one = contour(&plan);
    assert_eq!((one.land_mm, one.relief_deg), (3.0, 0.5));
    let relief = one.wire.as_ref().and_then(|wire| wire.relief.as_ref()).expect("its relief is cut");
    near("offset", relief.offset_mm, 0.15 * (1.0 + HALF_DEGREE * HALF_DEGREE / 2.0) + 0.005, 1e-8);
    near("at the face", relief.offset_at_face_mm - relief.offset_mm, 3.0 * HALF_DEGREE, 1e-8);
    near("longest land", relief.land_longest_mm, 3.0 + 0.005 / HALF_DEGREE, 1e-6);
    let guides = plan.sections[0].programs[0].guides.expect("the wire is tilted");
    assert_eq!((guides.upper_z_mm, guides.lower_z_mm), (10.0, -30.0));
    let land = plan.sections[0].land.expect("it is shorter than the block");
    assert_eq!((land.land_mm, land.regrind_mm, land.regrinds, land.strokes), (3.0, 0.05, 60, 6_100_000.0));
    // The land's passes are those of a straight cut.
    let straight = Bench::new(circle(1.0), 20.0).shop(WIRE).plan();
    let offsets = |one: &Contour| {
        one.wire.iter().flat_map(|wire| &wire.passes).map(|pass| pass.offset_mm).collect::<Vec<_>>()
    };
    assert_eq!(offsets(one), offsets(contour(&straight)));
    assert_eq!(
        one.start.as_ref().map(|start| start.room_mm),
        contour(&straight).start.as_ref().map(|start| start.room_mm)
    );
}

/// A core of round sections by summing thin slices: less the start hole and the way in.
#[test]
fn a_round_core_by_slices() {
    let plan = relieved(circle(1.0), "land = 3\nrelief_deg = 0.5\n")
        .edge("cut = \"finished\"\nstart = { at = [0.0, 0.0] }\n")
        .plan();
    let one = contour(&plan);
    let hole = one.start.as_ref().map(|start| start.hole_diameter_mm.exit / 2.0).expect("it has a hole");
    let relief = one.wire.as_ref().and_then(|wire| wire.relief.as_ref()).expect("its relief is cut");
    let clears = relief.offset_mm - 0.005;
    let slice = |depth: f64| {
        let r: f64 = 1.0 - relief.offset_mm + (depth - 3.0) * HALF_DEGREE - clears;
        let strip = |y: f64| (r * r - y * y).sqrt() - (hole * hole - y * y).sqrt();
        let strips: f64 = (0..400).map(|i| strip((f64::from(i) + 0.5) / 400.0 * clears)).sum();
        std::f64::consts::PI * (r * r - hole * hole) - 2.0 * strips * clears / 400.0
    };
    let slices: Vec<f64> = (0..200).map(|i| slice((f64::from(i) + 0.5) * 0.1)).collect();
    let mean = slices.iter().sum::<f64>() / 200.0;
    assert_eq!(one.cores.len(), 1);
    near("area", one.cores[0].area_mm2, slice(20.0), 2e-4);
    near("mass", one.cores[0].mass_g / (20.0 * 7.7 / 1000.0), mean, 3e-4);
    assert!(!one.cores[0].held);
}

#[test]
fn land_and_relief_that_are_left_out() {
    let sheet = "[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.4\n";
    let of = |words: &str, sheet: &str| {
        let plan = relieved(circle(1.0), words).sheet(sheet).plan();
        (contour(&plan).land_mm, contour(&plan).relief_deg)
    };
    assert_eq!(of("relief_deg = 0.5\n", sheet), (2.0, 0.5));
    assert_eq!(of("relief_deg = 0.5\n", &sheet.replace("0.4", "0.1")), (1.0, 0.5));
    assert_eq!(of("relief_deg = 0.5\n", &sheet.replace("0.4", "0.9")), (3.0, 0.5));
    assert_eq!(of("land = 4\n", ""), (4.0, 0.5));
    assert_eq!(of("", sheet), (20.0, 0.0));
    let plan = relieved(circle(1.0), "").plan();
    assert_eq!(plan.sections[0].land, None);
    assert_eq!(plan.sections[0].programs[0].guides, None);
}

#[test]
fn what_contradicts_itself_is_refused() {
    let code = |bench: Bench| bench.planned().map(|_| ()).map_err(|faults| faults[0].code.clone());
    let bored = |diameter: f64, depth: f64| {
        format!(
            "cut = \"finished\"\nstart = {{ back_bore = {{ diameter = {diameter:?}, depth = {depth:?} }} }}\n"
        )
    };
    assert_eq!(code(relieved(circle(1.0), "relief_deg = 0.5\n")), Err("no-land".to_owned()));
    assert_eq!(code(relieved(circle(1.0), "land = 3\nrelief_deg = 0\n")), Err("land-not-made".to_owned()));
    let over = |diameter, words| relieved(circle(1.0), words).edge(&bored(diameter, 14.0));
    assert_eq!(code(over(4.0, "land = 6\nrelief_deg = 0\n")), Ok(()));
    assert_eq!(code(over(4.0, "land = 6\n")), Ok(()));
    assert_eq!(code(over(1.0, "land = 6\nrelief_deg = 0\n")), Err("land-not-made".to_owned()));
    assert_eq!(code(over(4.0, "land = 6\nrelief_deg = 0.5\n")), Err("no-room-for-relief".to_owned()));
    assert_eq!(code(over(4.0, "land = 2\nrelief_deg = 0.5\n")), Ok(()));
}

/// A land that a bore ends is the one that the bore leaves anyway; above a relief both shorten what is cut.
#[test]
fn a_bore_that_ends_the_land_changes_nothing_else() {
    let bored = "cut = \"finished\"\nstart = { back_bore = { diameter = 4.0, depth = 14.0 } }\n";
    let of = |words: &str| relieved(circle(1.0), words).edge(bored).planned().expect("it is planned");
    let (stated, left_out) = (of("land = 6\nrelief_deg = 0\n"), of("relief_deg = 0\n"));
    assert_eq!(stated.programs, left_out.programs);
    assert_eq!(contour(&stated.plan).land_mm, 6.0);
    let both = of("land = 2\nrelief_deg = 1\n");
    let one = contour(&both.plan);
    assert_eq!((one.land_mm, one.relief_deg), (2.0, 1.0));
    assert!(
        one.cores[0].mass_g
            < contour(&relieved(circle(1.0), "land = 2\nrelief_deg = 1\n").plan()).cores[0].mass_g
    );
    // The lower guide stands under the block, bored or not.
    assert_eq!(both.plan.sections[0].programs[0].guides.map(|guides| guides.lower_z_mm), Some(-30.0));
}

#[test]
fn a_wedge_too_thick_and_guides_too_short_are_bounds() {
    let broken = |words: &str, shop: &str| {
        let plan = Bench::new(rounded_rectangle(6.0, 6.0, 1.0), 20.0)
            .relief(words)
            .shop(&format!("{WIRE}{shop}"))
            .plan();
        let bounds = contour(&plan).start_limits.bounds.iter().filter(|bound| !bound.holds);
        bounds.map(|bound| bound.bound.clone()).collect::<Vec<_>>()
    };
    assert_eq!(broken("land = 6\nrelief_deg = 1.7\n", ""), [""; 0]);
    assert_eq!(broken("land = 6\nrelief_deg = 1.8\n", ""), ["wedge"]);
    assert_eq!(broken("land = 3\nrelief_deg = 1\n", "[guides]\ntravel = 0.7\n"), [""; 0]);
    assert_eq!(broken("land = 3\nrelief_deg = 1\n", "[guides]\ntravel = 0.69\n"), ["guide-travel"]);
}

#[test]
fn moving_turning_and_mirroring_change_no_relief() {
    let ell = [[-2.0, -1.5], [2.0, -1.5], [2.0, 0.0], [0.0, 0.0], [0.0, 1.5], [-2.0, 1.5]];
    let figures = |places: Vec<[f64; 2]>| {
        let outline =
            Outline::new(places.iter().map(|p| Vertex::new(p[0], p[1], 0.0)).collect()).expect("it is valid");
        let edge = "cut = \"finished\"\ncorner_tolerance = 0.2\n";
        let plan = relieved(outline, "land = 3\nrelief_deg = 1\n").edge(edge).plan();
        let one = contour(&plan);
        let relief = one.wire.as_ref().and_then(|wire| wire.relief.as_ref()).expect("its relief is cut");
        (relief.minutes, one.cores[0].area_mm2, one.cores[0].mass_g)
    };
    let plain = figures(ell.to_vec());
    let (sin, cos) = 0.4_f64.sin_cos();
    let moved = ell.map(|[x, y]| [x + 0.7, y - 0.3]).to_vec();
    let turned = ell.map(|[x, y]| [cos * x - sin * y, sin * x + cos * y]).to_vec();
    let mirrored: Vec<[f64; 2]> = ell.iter().rev().map(|[x, y]| [-x, *y]).collect();
    let from_elsewhere: Vec<[f64; 2]> = (0..6).map(|i| ell[(i + 4) % 6]).collect();
    for (name, places) in
        [("moved", moved), ("turned", turned), ("mirrored", mirrored), ("begun elsewhere", from_elsewhere)]
    {
        let (minutes, area, mass) = figures(places);
        near(&format!("minutes, {name}"), minutes, plain.0, 0.02 * plain.0);
        near(&format!("area, {name}"), area, plain.1, 0.02 * plain.1);
        near(&format!("mass, {name}"), mass, plain.2, 0.02 * plain.2);
    }
}

/// What the machine is told: tilted between threading and the land's passes alone, and both guides in every block of it.
#[test]
fn the_program_says_both_guides_where_the_wire_is_tilted() {
    let planned = relieved(rounded_rectangle(3.0, 2.0, 0.3), "land = 3\nrelief_deg = 1\n")
        .planned()
        .expect("it is planned");
    let text = planned.programs.get("programs/s-wire-1.nc").expect("it is cut");
    let lines: Vec<&str> = text.lines().collect();
    let at = |words: &str| {
        lines.iter().position(|line| line.contains(words)).unwrap_or_else(|| panic!("no {words}"))
    };
    let (relief, pass) = (at("EDGE e RELIEF)"), at("EDGE e PASS 1)"));
    assert!(relief < pass);
    for (i, line) in lines.iter().enumerate() {
        let both = line.contains(" U") && line.contains(" V");
        let cuts = line.contains("G01");
        if i > relief && i < pass && cuts {
            assert!(both, "{line}");
        }
        if i > pass {
            assert!(!(both && cuts), "{line}");
        }
        if line.contains("G00 X") {
            assert!(line.contains("U0.0000 V0.0000"), "{line}");
        }
    }
    let blocks =
        contour(&planned.plan).wire.as_ref().and_then(|wire| wire.relief.as_ref()).map(|one| one.blocks);
    let first = lines[relief].split_whitespace().next().map(|n| n.trim_start_matches('N').parse::<u32>());
    assert_eq!(first, blocks.map(|blocks| Ok(blocks[0])));
}

/// Two slots 1.2 apart; 0.5 degrees below a land of 3 take 0.148 from each side down to the back at 20, 3 degrees 0.891.
#[test]
fn a_relief_leaves_metal_between_neighbours_down_to_the_back() {
    let with = |relief: f64| {
        Bench::new(rounded_rectangle(3.0, 1.0, 0.2), 20.0)
            .relief(&format!("land = 3.0\nrelief_deg = {relief}\n"))
            .and(
                rounded_rectangle(3.0, 1.0, 0.2).moved(outline::Vector::new(0.0, 2.2)),
                [0.0, 0.0],
                "cut = \"finished\"\n",
            )
            .planned()
    };
    let codes = |remarks: &[remark::Remark]| remarks.iter().map(|one| one.code.clone()).collect::<Vec<_>>();
    let thin = with(0.5).unwrap().plan;
    assert!(codes(&thin.remarks).contains(&"thin-at-the-back".to_owned()), "{:?}", codes(&thin.remarks));
    assert_eq!(codes(&with(3.0).unwrap_err()), ["reliefs-meet"]);
}

/// Where the guides of a tilted cut stand, block by block: lower guide, and upper one seen from it.
fn tilted_blocks(text: &str) -> Vec<([f64; 2], [f64; 2])> {
    let after = text.split_once("EDGE e RELIEF)").expect("its relief is cut").1;
    let part = after.split_once("EDGE e PASS 1)").expect("the land is cut").0;
    let number = |line: &str, letter: char| {
        line.split_whitespace().find_map(|word| word.strip_prefix(letter)?.parse::<f64>().ok())
    };
    let block = |line: &str| {
        let [x, y, u, v] = ['X', 'Y', 'U', 'V'].map(|letter| number(line, letter));
        Some(([x?, y?], [u?, v?]))
    };
    part.lines().filter(|line| line.contains("G01")).filter_map(block).collect()
}

/// In a round opening both guides run on circles about its middle, the wire leaning outwards below: radii by the tangent, chords
/// that stand off their arcs by a twentieth of a micrometre at the bottom, and hardly less.
#[test]
fn the_guides_of_a_round_relief_run_on_circles_by_hand() {
    let planned = relieved(circle(1.0), "land = 3\nrelief_deg = 0.5\n").planned().expect("it is planned");
    let one = contour(&planned.plan);
    let offset =
        one.wire.as_ref().and_then(|wire| wire.relief.as_ref()).expect("its relief is cut").offset_mm;
    let blocks = tilted_blocks(&planned.programs["programs/s-wire-1.nc"]);
    // Guides at 10 above and 10 below a block of 20; the pivot is 3 below the face.
    let (at_pivot, lower_radius) = (1.0 - offset, 1.0 - offset + 27.0 * HALF_DEGREE);
    let leaning: Vec<_> = blocks.iter().filter(|(_, uv)| uv[0].hypot(uv[1]) > 1e-3).collect();
    assert!(leaning.len() > 100, "{}", leaning.len());
    for (xy, uv) in &leaning {
        near("lower guide", xy[0].hypot(xy[1]), lower_radius, 2e-4);
        near("aside", uv[0].hypot(uv[1]), 40.0 * HALF_DEGREE, 2e-4);
        // Square to the edge: the upper guide lies straight inwards of the lower one.
        near("square", (xy[0] * uv[1] - xy[1] * uv[0]) / lower_radius, 0.0, 2e-4);
        assert!(xy[0] * uv[0] + xy[1] * uv[1] < 0.0, "{xy:?} {uv:?}");
    }
    let bottom = at_pivot + 17.0 * HALF_DEGREE;
    let turn = |pair: &[&([f64; 2], [f64; 2])]| {
        let [a, b] = [pair[0].0, pair[1].0];
        (a[0] * b[1] - a[1] * b[0]).atan2(a[0] * b[0] + a[1] * b[1]).abs()
    };
    let widest = leaning.windows(2).map(turn).fold(0.0, f64::max);
    let sagitta = bottom * (1.0 - (widest / 2.0).cos());
    assert!(sagitta < 5.1e-5 && sagitta > 4.7e-5, "{sagitta}");
}

/// Light metal goes with the flushing; what is heavier asks for a stop with somebody there.
#[test]
fn what_drops_below_a_land_is_stopped_for_from_its_weight_on() {
    let kinds = |radius: f64| {
        let plan = relieved(circle(radius), "land = 3\nrelief_deg = 0.5\n").plan();
        let grams: Vec<f64> = contour(&plan).cores.iter().map(|core| core.mass_g).collect();
        let wires =
            plan.sections[0].programs.iter().filter(|program| program.machine == package::Machine::Wire);
        let attended = wires.flat_map(|program| &program.phases).any(|phase| phase.attended);
        (grams.iter().copied().fold(0.0, f64::max), attended)
    };
    let (heavy, with_somebody) = kinds(1.0);
    assert!(heavy > 0.02 && with_somebody, "{heavy}");
    let (light, alone) = kinds(0.5);
    assert!(light > 0.0 && light < 0.02 && !alone, "{light} {alone}");
}

/// The reach is asked for the offset at the face, and the reckoning says so by that very line.
#[test]
fn the_offset_at_the_face_is_what_the_hole_must_reach() {
    let plan = relieved(circle(1.0), "land = 3\nrelief_deg = 1\n").plan();
    let limits = &contour(&plan).start_limits.bounds;
    let i = limits.iter().position(|bound| bound.bound == "reach").expect("the reach is a bound");
    let key = format!("s.e.start_limits.bounds.{i}.need_mm");
    let line = plan.reckoning.iter().find(|line| line.key == key).expect("the bound has its line");
    let at_face = "s.e.wire.relief.offset_at_face_mm";
    assert!(line.inputs.iter().any(|input| input.key == at_face), "{line:?}");
}

fn term(plan: &Plan, name: &str) -> f64 {
    let key = format!("s.e.start.terms.{name}");
    plan.reckoning.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("no line {key}")).value
}

/// At every height the hole takes no more than is reckoned, looked at in 20,000 places: the relief of 0.5 degrees begins 3 + 0.005/tan
/// below the face and is 0.1434 wide at the bottom, by hand. Electrode 0.20: 0.02 overcut, 0.01 off the exit's radius, a hole that
/// drifts half as far again as the example shop's.
#[test]
fn the_room_of_a_hole_counts_the_relief_at_every_height() {
    let words = "cut = \"finished\"\nstart = { electrode = 0.20 }\n";
    let shop = "name = \"Example\"\nunits = \"mm\"\n[allowance]\ndrift_per_mm = 0.0015\n";
    let bench = Bench::new(rounded_rectangle(3.0, 0.6, 0.1), 20.0).edge(words).shop(shop);
    let straight = bench.clone().plan();
    let relieved = bench.relief("land = 3\nrelief_deg = 0.5\n").plan();
    let tangent = 0.5f64.to_radians().tan();
    let from = 3.0 + 0.005 / tangent;
    assert!((term(&relieved, "opens_mm") - (20.0 - from) * tangent).abs() < 1e-9);
    assert!((term(&relieved, "opens_mm") - 0.1434).abs() < 5e-5);
    let (drift, rest) = (term(&relieved, "drift_mm"), term(&relieved, "recast_and_stock_mm"));
    let start = relieved.sections[0].contours[0].start.as_ref().unwrap();
    let entry = start.hole_diameter_mm.entry / 2.0;
    let takes = |z: f64| {
        let radius = if z < 0.3 { entry + (0.12 - entry) * z / 0.3 } else { 0.12 - 0.01 * (z - 0.3) / 19.7 };
        radius + drift * z / 20.0 + rest - (tangent * (z - from)).max(0.0)
    };
    let most = (0..=20_000).map(|k| takes(20.0 * f64::from(k) / 20_000.0)).fold(0.0, f64::max);
    let reckoned = term(&relieved, "takes_mm");
    assert!(most <= reckoned + 1e-9 && reckoned < most + 0.002, "{most} {reckoned}");
    assert!(reckoned < term(&straight, "takes_mm"), "the relief gives nothing");
    // How far the rim may lie is as before.
    let lies = |plan: &Plan| plan.sections[0].contours[0].start.as_ref().unwrap().may_lie_radius_mm.unwrap();
    assert!((lies(&relieved) - lies(&straight)).abs() < 1e-12);
}

/// Burned from the back nothing is counted: there the hole is widest.
#[test]
fn a_hole_burned_from_the_back_counts_no_relief() {
    let words = "cut = \"finished\"\nstart = { electrode = 0.20 }\n";
    let bench =
        Bench::new(rounded_rectangle(3.0, 0.6, 0.1), 20.0).edge(words).section("burn_from = \"back\"\n");
    let straight = bench.clone().plan();
    let relieved = bench.relief("land = 3\nrelief_deg = 0.5\n").plan();
    assert_eq!(term(&relieved, "takes_mm"), term(&straight, "takes_mm"));
}

/// Half-rounds that lean: at the land's end, or at the bottom less what the relief is wider there.
#[test]
fn half_rounds_count_the_relief_too() {
    let shop = "name = \"Example\"\nunits = \"mm\"\n[half_round]\nradii = [0.08]\nlean_per_mm = 0.002\n";
    let bench = Bench::new(rounded_rectangle(1.2, 0.32, 0.1), 20.0)
        .section("halves = { along = \"x\" }\n")
        .shop(shop);
    let plan = bench.relief("land = 3\nrelief_deg = 0.5\n").plan();
    let apart = f64::hypot(0.003, 0.002);
    let tangent = 0.5f64.to_radians().tan();
    let from = 3.0 + 0.005 / tangent;
    let at_land = 0.08 + apart + 0.002 * from + 0.005;
    let bottom = 0.08 + apart + 0.04 + 0.005 - tangent * (20.0 - from);
    assert!((term(&plan, "takes_mm") - at_land.max(bottom)).abs() < 1e-9);
}
