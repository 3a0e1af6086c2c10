//! A section in two halves on a few lines of the answer: its joint, what holds it, and the order of work.

use package::{Along, Halves, JointKind};

/// The lines of a section.
pub fn lines(section: &str, halves: &Halves) -> String {
    let (along, across) = match halves.along {
        Along::X => ("X", "Y"),
        Along::Y => ("Y", "X"),
    };
    let holes = |kind: JointKind| -> Vec<&package::JointHole> {
        halves.holes.iter().filter(|hole| hole.kind == kind).collect()
    };
    let held: Vec<String> = [JointKind::Screw, JointKind::Dowel]
        .into_iter()
        .filter_map(|kind| {
            let holes = holes(kind);
            let first = holes.first()?;
            let at: Vec<String> = holes.iter().map(|hole| format!("{:+.1}", hole.along_mm)).collect();
            let what = first.thread.clone().unwrap_or_else(|| format!("dowels {}", first.diameter_mm));
            Some(format!("{what} at {along} {}", at.join(", ")))
        })
        .collect();
    let held = if held.is_empty() { "nothing to hold it by".to_owned() } else { held.join("; ") };
    let load = halves.opens_n.map_or(String::new(), |n| format!("; pushed apart by up to {:.0} N", n.ceil()));
    let mut out =
        format!("halves {section}: joint along {along} at {across} {:+.3}; {held}{load}\n", halves.at_mm);
    for caution in &halves.cautions {
        out.push_str(&format!("    {caution}\n"));
    }
    for (i, step) in halves.order_of_work.iter().enumerate() {
        out.push_str(&format!("    {} {step}\n", i + 1));
    }
    out
}
