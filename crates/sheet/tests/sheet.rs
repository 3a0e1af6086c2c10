//! A hand-made plan through the model and the SVG writer.

use package::Plan;
use sheet::{Item, LineKind, section_sheet};

fn plan() -> Plan {
    serde_json::from_str(include_str!("slot.json")).expect("the fixture is a plan")
}

#[test]
fn the_svg_is_well_formed_repeatable_and_escapes_user_text() {
    let mut plan = plan();
    plan.job.name = "a<b>&\"\u{1}".into();
    let svg = section_sheet(&plan, &plan.sections[0]).to_svg();
    assert_eq!(svg, section_sheet(&plan, &plan.sections[0]).to_svg());
    let document = roxmltree::Document::parse(&svg).unwrap();
    let title = document.descendants().find(|n| n.has_tag_name("title")).unwrap();
    assert_eq!(title.text(), Some("a<b>&\"\u{FFFD} vane"));
}

#[test]
fn the_opening_is_drawn_at_the_largest_round_scale_that_fits() {
    let plan = plan();
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let view = sheet.views.iter().find(|v| v.name == "vane-slot").unwrap();
    assert_eq!(view.scale, 20.0);
    assert!(view.items.iter().any(|i| matches!(i, Item::Stroke(LineKind::FinishedEdge, _))));
}

#[test]
fn a_contour_without_a_way_says_so_with_what_is_short() {
    let mut plan = plan();
    plan.sections[0].contours[0].start = None;
    let svg = section_sheet(&plan, &plan.sections[0]).to_svg();
    assert!(svg.contains("NOT IN THIS SHOP"));
    assert!(svg.contains("clean-up: have 0.176, need 0.190, SHORT 0.014"));
}

#[test]
fn the_start_is_drawn_where_a_hundredth_is_at_least_a_millimetre() {
    let plan = plan();
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let view = sheet.views.iter().find(|v| v.name == "vane-slot, start").unwrap();
    assert!(view.scale >= 100.0 && view.window_mm.is_some());
}
