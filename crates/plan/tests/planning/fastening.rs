//! Screws, dowels and jack-out threads: published threads, distances that are kept, and refusals with figures.

use crate::bench::{Bench, rounded_rectangle};
use package::{FaceUp, Fastening, FasteningKind, FasteningMade, Plan};

fn bench(words: &str) -> Bench {
    Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 20.0).section(&format!("fastening = {{ {words} }}\n"))
}

fn fastening(plan: &Plan) -> Fastening {
    plan.sections[0].fastening.clone().unwrap()
}

/// Minor diameters of ISO coarse threads as a tap maker prints them; M3 and M4 tapped by the drills that every shop has.
#[test]
fn threads_have_their_published_diameters_and_drills() {
    for (thread, minor, drill) in [("M3", 2.459, 2.5), ("M4", 3.242, 3.3), ("M5", 4.134, 4.2)] {
        let plan =
            bench(&format!("screws = {{ thread = \"{thread}\", count = 1 }}")).size([60.0, 40.0]).plan();
        let found = fastening(&plan);
        assert_eq!(found.made, FasteningMade::Soft);
        let hole = &found.holes[0];
        assert!((hole.minor_mm.unwrap() - minor).abs() < 5e-4, "{hole:?}");
        assert!((hole.drill_mm - drill).abs() < 1e-9 && hole.from_face == FaceUp::Back);
    }
}

/// By hand for M3: 6 of thread, 4 x 0.5 of lead and 0.3 x 2.5 of point.
#[test]
fn depths_by_hand() {
    let hole = fastening(&bench("screws = { thread = \"M3\" }").plan()).holes[0].clone();
    assert!((hole.depth_mm - 6.0).abs() < 1e-9 && (hole.drill_depth_mm - 8.75).abs() < 1e-9, "{hole:?}");
    let plan = bench("jack_out = { thread = \"M4\" }").size([40.0, 30.0]).plan();
    let jack = fastening(&plan).holes[0].clone();
    assert_eq!(
        (jack.kind, jack.from_face, jack.clear_mm),
        (FasteningKind::JackOut, FaceUp::Cutting, Some(4.5))
    );
    assert_eq!(jack.drill_depth_mm, 20.0);
}

/// Every proposed place keeps 1.5 diameters to the sides, max(3, 1.5 diameters) of metal to the opening and the larger diameter
/// to the next hole, measured here from outside.
#[test]
fn proposed_places_keep_their_distances() {
    let words = "screws = { thread = \"M3\" }, jack_out = { thread = \"M3\" }, dowels = { diameter = 2 }";
    for size in [[30.0, 24.0], [36.0, 20.0]] {
        let plan = bench(words).size(size).plan();
        let found = fastening(&plan);
        assert!(found.refused.is_empty(), "{found:?}");
        assert_eq!(found.holes.len(), 5);
        let kinds: Vec<FasteningKind> = found.holes.iter().map(|hole| hole.kind).collect();
        assert!(kinds.is_sorted());
        for (i, hole) in found.holes.iter().enumerate() {
            let d = hole.diameter_mm;
            let wide = hole.clear_mm.unwrap_or(d);
            let side = (size[0] / 2.0 - hole.x_mm.abs()).min(size[1] / 2.0 - hole.y_mm.abs()) - 1.5 * d;
            // The opening's own middle is 2 x 1 with a radius of 0.5 around it.
            let (dx, dy) = ((hole.x_mm.abs() - 1.0).max(0.0), (hole.y_mm.abs() - 0.5).max(0.0));
            let opening = dx.hypot(dy) - 0.5 - wide / 2.0 - (1.5 * d).max(3.0);
            let apart = found.holes.iter().enumerate().filter(|(k, _)| *k != i).map(|(_, other)| {
                let other_wide = other.clear_mm.unwrap_or(other.diameter_mm);
                (hole.x_mm - other.x_mm).hypot(hole.y_mm - other.y_mm)
                    - (wide + other_wide) / 2.0
                    - wide.max(other_wide)
            });
            let least = apart.fold(side.min(opening), f64::min);
            assert!(least >= -1e-9, "{hole:?}");
            assert!(hole.room_mm >= least - 1e-9, "{hole:?} {least}: later holes may come nearer");
        }
    }
}

/// Beside a back bore of 8 an M3 thread keeps 4.5 of metal: 10 from its middle, and no more is asked for.
#[test]
fn a_back_bore_is_kept_off_by_its_radius() {
    let edge = "cut = \"finished\"\nstart = { back_bore = { diameter = 8.0, depth = 12.0 } }\n";
    let bored = |x: f64| {
        let block = bench("screws = { thread = \"M3\", count = 2 }").size([x, 10.0]).edge(edge);
        fastening(&block.plan())
    };
    // 10 beside the middle and 4.5 to the side: half of 29.
    let found = bored(29.2);
    assert!(found.refused.is_empty() && found.holes.len() == 2, "{found:?}");
    assert!(found.holes.iter().all(|hole| hole.x_mm.hypot(hole.y_mm) >= 10.0 - 1e-9), "{found:?}");
    assert!(bored(28.8).holes.is_empty());
}

#[test]
fn a_pair_of_screws_stands_through_the_middle() {
    let found = fastening(&bench("screws = { thread = \"M3\" }").size([30.0, 20.0]).plan());
    let [a, b] = &found.holes[..] else { panic!("{found:?}") };
    assert!((a.x_mm + b.x_mm).abs() < 1e-12 && (a.y_mm + b.y_mm).abs() < 1e-12);
}

/// Left out, the thread goes by the width: M3 below 16, M4 to 30, M5 above.
#[test]
fn the_thread_by_the_width_of_the_block() {
    let widths = [(15.99, "M3"), (16.0, "M4"), (29.99, "M4"), (30.0, "M5"), (40.0, "M5")];
    for (width, thread) in widths {
        for size in [[60.0, width], [width, 60.0]] {
            let plan = bench("screws = {}").size(size).plan();
            let found = fastening(&plan);
            let placed = found.holes.iter().filter_map(|hole| hole.thread.clone()).next();
            let said = || plan.remarks.iter().any(|one| one.message.contains(&format!("2 screws {thread}")));
            assert!(placed.map_or_else(said, |found| found == thread), "{size:?} {found:?}");
        }
    }
}

/// What the refusal names as a cure is planned again and has room.
#[test]
fn no_room_is_refused_with_its_figures_and_cures_that_cure() {
    let bench = |words: &str| {
        let high = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 30.0);
        high.section(&format!("fastening = {{ {words} }}\n"))
    };
    let plan = bench("screws = { thread = \"M6\", count = 4 }").plan();
    let found = fastening(&plan);
    assert!(found.holes.is_empty() && plan.sections[0].makeable);
    let refused = &found.refused[0];
    assert!(refused.have_mm < refused.need_mm, "{refused:?}");
    let said = plan.remarks.iter().find(|remark| remark.code == "no-room-to-fasten").unwrap();
    assert!(said.message.contains("4 screws M6") && said.cures == refused.cures, "{said:?}");
    let block = refused.cures.iter().find_map(|cure| cure.strip_prefix("a block of ")).unwrap();
    let (x, y) = block.split_once(" x ").unwrap();
    let size = [x.parse().unwrap(), y.parse().unwrap()];
    let again = bench("screws = { thread = \"M6\", count = 4 }").size(size).plan();
    assert_eq!(fastening(&again).holes.len(), 4);
    let finer = refused.cures.iter().find_map(|cure| cure.strip_prefix("`thread = \"")).unwrap();
    let finer = finer.split('"').next().unwrap();
    let again = bench(&format!("screws = {{ thread = \"{finer}\", count = 4 }}")).plan();
    assert_eq!(fastening(&again).holes.len(), 4, "{finer}");
}

#[test]
fn a_blind_hole_leaves_metal_under_the_cutting_face() {
    let low = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 10.0).size([40.0, 30.0]);
    let plan = low.section("fastening = { screws = { thread = \"M3\" } }\n").plan();
    let found = fastening(&plan);
    // 10 - 8.75 = 1.25 over the point, 3 asked for: 1.75 less of thread would do.
    assert_eq!(found.refused[0].bound, "metal to the cutting face", "{found:?}");
    assert!(
        (found.refused[0].have_mm - 1.25).abs() < 1e-9 && (found.refused[0].need_mm - 3.0).abs() < 1e-9,
        "{found:?}"
    );
    assert_eq!(found.refused[0].cures, ["`depth` of 4.2 or less"]);
    // Just the 3 that are asked for are enough.
    let just = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 11.75).size([40.0, 30.0]);
    let found = fastening(&just.section("fastening = { screws = { thread = \"M3\" } }\n").plan());
    assert!(found.refused.is_empty() && found.holes.len() == 2, "{found:?}");
}

#[test]
fn dowels_beside_a_cavity_locate_twice() {
    let dowels = "fastening = { dowels = { diameter = 2 } }\n";
    let codes = |words: &str| {
        let bench = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 20.0).size([40.0, 30.0]).section(words);
        bench.plan().remarks.iter().map(|remark| remark.code.clone()).collect::<Vec<_>>()
    };
    assert!(!codes(dowels).contains(&"located-twice".to_owned()));
    let both = format!("cavity = {{ fit = \"H7/g6\" }}\n{dowels}");
    assert!(codes(&both).contains(&"located-twice".to_owned()));
}
