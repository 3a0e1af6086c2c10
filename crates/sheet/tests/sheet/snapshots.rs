//! The whole model of three sheets, view by view: what is drawn and what is said.

use crate::kit::plan;
use sheet::{Item, Sheet, section_sheet};
use std::collections::BTreeMap;
use std::fmt::Write;

/// Each view with its scale and place, how much of what it holds, and its words.
fn listing(sheet: &Sheet) -> String {
    let mut out = format!("{}: {} pages of {:?} mm\n", sheet.name, sheet.pages, sheet.page_mm);
    for view in &sheet.views {
        let _ = writeln!(out, "{} {}:1 window {:?}", view.name, view.scale, view.window_mm);
        let mut held: BTreeMap<String, usize> = BTreeMap::new();
        let mut words = Vec::new();
        for item in &view.items {
            let (name, count) = match item {
                Item::Stroke(kind, _) => (format!("{kind:?}"), 1),
                Item::Fill(_) => ("solid".into(), 1),
                Item::Dots(dots) => ("dots".into(), dots.len()),
                Item::Text(text) => {
                    words.push(format!("  {:.2} '{}'", text.size_mm, text.words));
                    continue;
                }
            };
            *held.entry(name).or_default() += count;
        }
        let held: Vec<String> = held.into_iter().map(|(name, count)| format!("{count} {name}")).collect();
        let _ = writeln!(out, "  {}", held.join(", "));
        words.iter().for_each(|w| out = format!("{out}{w}\n"));
    }
    out
}

fn check(name: &str) {
    let plan = plan(name);
    insta::assert_snapshot!(name, listing(&section_sheet(&plan, &plan.sections[0])));
}

#[test]
fn a_rounded_slot_with_two_cores() {
    check("slot");
}

#[test]
fn a_window_with_a_held_core_and_corners_left() {
    check("square");
}

#[test]
fn a_rhombus_that_is_short_and_a_slot_too_fine() {
    check("short");
}
