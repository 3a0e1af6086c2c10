//! The pages of the burner and holes as they were measured.

use crate::kit::{plan, texts};
use package::{
    BackBore, BurnDepth, BurnedHole, BurnerFunctions, Burning, ElectrodeUse, FaceUp, MeasuredHole, Plan, Rim,
};
use sheet::{Item, LineKind, section_sheet};

/// The slot's plan with so many openings beside each other, all burned from a face.
pub fn burned(count: usize, face: FaceUp) -> Plan {
    let mut plan = plan("slot");
    let section = &mut plan.sections[0];
    let first = section.contours[0].clone();
    section.contours = (0..count)
        .map(|i| {
            let (mut contour, by) = (first.clone(), 0.7 * i as f64);
            contour.id = format!("slot-{i}");
            contour.target.iter_mut().for_each(|v| v[1] += by);
            if let Some(start) = &mut contour.start {
                (start.x_mm, start.y_mm) = (1.25, start.y_mm + by);
                let (x_mm, y_mm) = (start.x_mm, start.y_mm);
                start.back_bore = (i == 0).then_some(BackBore {
                    x_mm,
                    y_mm,
                    diameter_mm: 3.0,
                    depth_mm: 12.0,
                    clears: true,
                });
            }
            contour
        })
        .collect();
    let hole = |(i, contour): (usize, &package::Contour)| {
        let start = contour.start.as_ref().expect("the slot has a start");
        BurnedHole {
            contour: contour.id.clone(),
            x_mm: start.x_mm,
            y_mm: start.y_mm,
            electrode_mm: 0.2,
            from_face: face,
            depth_mm: 20.0,
            stand_off_mm: 2.0,
            break_through_mm: 2.0,
            burn_depth_mm: 22.0,
            wear_mm: 26.4,
            travel_mm: 48.4,
            minutes: 2.75,
            electrode_number: 1,
            dress_after: i + 1 < count,
            blocks: [10, 20],
        }
    };
    section.burning = Some(Burning {
        program: "vane-burn-1".into(),
        from_face: face,
        holes: section.contours.iter().enumerate().map(hole).collect(),
        electrodes: vec![ElectrodeUse {
            diameter_mm: 0.2,
            holes: count as u32,
            wear_mm: 26.4,
            dressed_mm: 0.5,
            used: 1,
            take: 2,
        }],
        depth: BurnDepth::Travel,
        free_below_mm: 28.4,
        minutes: 5.2,
        attended_minutes: 20.0,
        functions: BurnerFunctions { spark_on: 3, spark_off: 5, stop: 0, end: 2 },
    });
    plan
}

#[test]
fn the_table_says_what_the_operator_enters_as_the_block_lies_there() {
    for (face, x, up, corner) in [
        (
            FaceUp::Cutting,
            "+1.2500",
            "CUTTING FACE UP",
            "cutting face up; datum corner X \u{2212}12 Y \u{2212}8",
        ),
        (
            FaceUp::Back,
            "\u{2212}1.2500",
            "BACK UP",
            "BACK UP, turned left to right; datum corner X 12 Y \u{2212}8",
        ),
    ] {
        let plan = burned(1, face);
        let words = texts(&section_sheet(&plan, &plan.sections[0]));
        let said = [
            x,
            up,
            corner,
            "0.2",
            "\u{2212}48.40",
            "2.8",
            "take 2 of electrode 0.2: 1 hole",
            "FREE BELOW 28.4",
            "1: back bore 3, 12 deep, at X",
        ];
        for said in said {
            assert!(words.iter().any(|w| w.starts_with(said)), "{face:?}: {said} is missing in {words:?}");
        }
    }
}

/// With the back up the drawing is the mirror image, the datum corner at its lower right.
#[test]
fn the_block_is_drawn_as_it_lies() {
    let drawn = |face: FaceUp| {
        let plan = burned(1, face);
        let sheet = section_sheet(&plan, &plan.sections[0]);
        let view = sheet.views.into_iter().find(|v| v.name == "at the burner 1").unwrap();
        let xs = |kind: fn(&Item) -> Option<&sheet::Path>| -> Vec<f64> {
            view.items.iter().filter_map(kind).flat_map(|path| path.vertices.iter().map(|v| v[0])).collect()
        };
        let edge = xs(|item| match item {
            Item::Stroke(LineKind::FinishedEdge, path) => Some(path),
            _ => None,
        });
        let corner = xs(|item| if let Item::Fill(path) = item { Some(path) } else { None });
        (edge, corner)
    };
    let (face, back) = (drawn(FaceUp::Cutting), drawn(FaceUp::Back));
    assert_eq!(face.0.iter().map(|x| -x).collect::<Vec<_>>(), back.0);
    assert!(
        face.1.iter().all(|x| *x < -11.0) && back.1.iter().all(|x| *x > 11.0),
        "{:?} {:?}",
        face.1,
        back.1
    );
}

#[test]
fn many_holes_go_over_several_pages() {
    for (count, pages) in [(1, 1), (5, 1), (6, 2), (11, 3)] {
        let plan = burned(count, FaceUp::Back);
        let sheet = section_sheet(&plan, &plan.sections[0]);
        let burner = sheet.views.iter().filter(|v| v.name.starts_with("at the burner")).count();
        assert_eq!(burner, pages, "{count} holes");
        assert_eq!(texts(&sheet).iter().filter(|w| w.ends_with("then take the electrode out")).count(), 1);
    }
}

#[test]
fn a_measured_hole_is_drawn_by_both_its_ends() {
    let mut plan = plan("slot");
    let start = plan.sections[0].contours[0].start.as_mut().expect("the slot has a start");
    let rim = |x_mm: f64, diameter_mm: f64| Rim { x_mm, y_mm: 0.0, diameter_mm };
    start.measured =
        Some(MeasuredHole { face: rim(0.01, 0.25), back: rim(0.04, 0.22), light_mm: 0.205, lean_mm: 0.03 });
    start.may_lie_radius_mm = None;
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let view = sheet.views.iter().find(|v| v.name == "vane-slot, start").unwrap();
    let circles: Vec<f64> = view
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Stroke(LineKind::StartHole, path) if path.closed => Some(path.vertices[0][0]),
            _ => None,
        })
        .collect();
    assert_eq!(circles, [0.01 + 0.125, 0.04 + 0.11]);
    assert!(texts(&sheet).iter().any(|w| w == "MEASURED: open straight 0.205"));
}
