//! Whatever a plan holds, no words overlap and none leave the paper.

use crate::kit::{boxes, page_of, plan, punch};
use package::{Bound, Cure, FaceUp, Island, MissedCorner, Narrowest, Plan, SidePoint};
use sheet::section_sheet;

/// All texts keep apart and on their page; widths are the bound that the sheet itself reckons with.
fn check(name: &str, plan: &Plan) {
    for section in &plan.sections {
        let sheet = section_sheet(plan, section);
        roxmltree::Document::parse(&sheet.to_svg()).expect("well-formed XML");
        let [wide, high] = sheet.page_mm;
        let boxes = boxes(&sheet);
        assert!(boxes.len() > 20, "{name}: a sheet has words");
        for (i, (a, words)) in boxes.iter().enumerate() {
            let page = (a[1] / high).floor();
            let inside = a[0] >= 8.0
                && a[2] <= wide - 8.0
                && a[1] >= page * high + 8.0
                && a[3] <= (page + 1.0) * high - 8.0;
            assert!(inside, "{name}: '{words}' leaves the frame: {a:?}");
            for (b, other) in &boxes[i + 1..] {
                let over = (a[2].min(b[2]) - a[0].max(b[0])).min(a[3].min(b[3]) - a[1].max(b[1]));
                assert!(over <= 1e-6, "{name}: '{words}' and '{other}' overlap by {over} mm: {a:?} {b:?}");
            }
        }
        assert!(
            sheet.views.iter().all(|v| page_of(&sheet, v).is_some()),
            "{name}: a window lies across pages"
        );
    }
}

#[test]
fn the_plans_as_they_are() {
    for name in ["slot", "square", "short"] {
        check(name, &plan(name));
    }
}

#[test]
fn pages_of_the_burner() {
    for face in [FaceUp::Cutting, FaceUp::Back] {
        for count in [1, 5, 12] {
            let mut plan = crate::burned::burned(count, face);
            check("burner", &plan);
            for contour in &mut plan.sections[0].contours {
                contour.id = "opening_".repeat(30);
            }
            let burning = plan.sections[0].burning.as_mut().unwrap();
            burning.program = "program.".repeat(30);
            burning.electrodes = burning.electrodes.iter().cycle().take(30).cloned().collect();
            for hole in &mut burning.holes {
                (hole.contour, hole.x_mm, hole.y_mm) = ("opening_".repeat(30), -1234.5678, 987.6543);
                (hole.travel_mm, hole.depth_mm, hole.minutes) = (1234.567, 123.4567, 12_345.6);
            }
            check("burner, long", &plan);
        }
    }
}

#[test]
fn punches_with_every_kind_of_run() {
    for (height, runs) in [(0.03, 1usize), (3.0, 40), (1e-5, 3)] {
        let mut plan = plan("square");
        let contour = &mut plan.sections[0].contours[0];
        let mut punch = punch(contour);
        let turns = 2 * runs;
        let place =
            |i: usize| [20.0 * i as f64 / turns as f64, if i.is_multiple_of(2) { -height } else { height }];
        punch.clearance_plot = (0..=turns).map(place).collect();
        punch.clearance_least.value_mm = -height;
        contour.punch = Some(punch.clone());
        check("punch", &plan);
        punch.clearance_plot.clear();
        punch.steel = "a steel of a very long name ".repeat(5);
        punch.strength = None;
        plan.sections[0].contours[0].punch = Some(punch);
        check("bare punch", &plan);
    }
}

#[test]
fn long_names_of_everything() {
    let mut plan = plan("short");
    plan.job.name = "a job whose name says all there is to say about it ".repeat(4);
    plan.shop.name = "W".repeat(200);
    plan.shop.starting_values = 4_000_000_000;
    let section = &mut plan.sections[0];
    section.id = "section-".repeat(30);
    section.steel = "steel of a very long name ".repeat(5);
    section.size_mm = [1234.5678, 1134.5678, 987.654_321];
    for contour in &mut section.contours {
        contour.id = "opening_".repeat(30);
    }
    for program in &mut section.programs {
        program.id = "program.".repeat(30);
        program.contours = section.contours.iter().map(|c| c.id.clone()).collect();
        program.face_up = FaceUp::Back;
    }
    check("long names", &plan);
}

#[test]
fn many_passes_bounds_cures_and_corners() {
    let mut plan = plan("short");
    for contour in &mut plan.sections[0].contours {
        let bound = |i: usize| Bound {
            bound: format!("bound-{i}"),
            have_mm: 0.1,
            need_mm: 12.25,
            holds: i.is_multiple_of(2),
        };
        contour.start_limits.bounds = (0..60).map(bound).collect();
        let cure = |i: usize| Cure {
            change: format!("change {i} of many, in a sentence of some length"),
            room_mm: None,
        };
        contour.start_limits.cures = (0..40).map(cure).collect();
        if let Some(wire) = &mut contour.wire {
            wire.passes = wire.passes.iter().cycle().take(25).cloned().collect();
        }
        let corner = |i: usize| {
            let place = contour.target[i % contour.target.len()];
            MissedCorner { x_mm: place[0], y_mm: place[1], depth_mm: 0.0001 * (i + 1) as f64 }
        };
        contour.missed_corners = (0..50).map(corner).collect();
        contour.cores = plan_core(12);
        contour.narrowest = narrow(&contour.target);
        contour.islands = (0..5).map(|i| island(i, &contour.target)).collect();
    }
    check("many", &plan);
}

fn narrow(target: &[[f64; 3]]) -> Option<Narrowest> {
    let side = |i: usize| SidePoint { x_mm: target[i % target.len()][0], y_mm: target[i % target.len()][1] };
    Some(Narrowest { x_mm: 0.0, y_mm: 0.0, width_mm: 123.456_789, sides: [side(0), side(2)] })
}

fn island(i: usize, target: &[[f64; 3]]) -> Island {
    let [x_mm, y_mm, _] = target[i % target.len()];
    Island {
        drawn_as: format!("o{i}"),
        x_mm,
        y_mm,
        outline: target.to_vec(),
        cures: vec!["a cure in words".repeat(9); 3],
    }
}

fn plan_core(count: usize) -> Vec<package::Core> {
    let square = plan("square");
    (0..count).map(|_| square.sections[0].contours[0].cores[0].clone()).collect()
}

#[test]
fn forty_openings_in_rows_and_all_in_one_place() {
    for apart in [2.2, 0.9, 0.0] {
        let mut plan = plan("slot");
        let contour = plan.sections[0].contours[0].clone();
        plan.sections[0].contours = (0..40)
            .map(|i| {
                let mut contour = contour.clone();
                let (dx, dy) =
                    ((i % 5) as f64 * 2.0 * apart - 4.0 * apart, (i / 5) as f64 * apart - 3.5 * apart);
                for v in contour.target.iter_mut() {
                    (v[0], v[1]) = (v[0] + dx, v[1] + dy);
                }
                contour.id = format!("slot-{i}");
                contour.start.as_mut().unwrap().x_mm += dx;
                contour.start.as_mut().unwrap().y_mm += dy;
                contour
            })
            .collect();
        check("forty", &plan);
    }
}

#[test]
fn flat_high_and_tiny_blocks() {
    for size in [[400.0, 3.0, 2.0], [2.0, 300.0, 150.0], [0.5, 0.5, 0.5], [900.0, 900.0, 900.0]] {
        let mut plan = plan("slot");
        plan.sections[0].size_mm = size;
        for land in [0.4 * size[2], size[2]] {
            plan.sections[0].contours[0].land_mm = land;
            check("sizes", &plan);
        }
    }
}

#[test]
fn a_plan_without_companions_is_drawn_with_what_there_is() {
    let mut plan = plan("square");
    let contour = &mut plan.sections[0].contours[0];
    contour.drawn.clear();
    contour.cores[0].outline.clear();
    let wire = contour.wire.as_mut().unwrap();
    wire.lead_in.clear();
    wire.passes.iter_mut().for_each(|p| p.centre.clear());
    let start = contour.start.as_mut().unwrap();
    (start.nearest_edge_mm, start.may_lie_radius_mm) = (None, None);
    check("bare", &plan);
    plan.sections[0].contours[0].target.clear();
    check("no target", &plan);
}
