//! The place of the greatest tension in the section: an open diamond round it, with the figure.

use crate::column::{Line, SMALL, WORD};
use crate::ink::Ink;
use crate::key::Mark;
use crate::{Item, LineKind, Path, figure};
use package::{PlanSection, SectionStrength};

/// From the place to a corner of the diamond, mm of paper.
const ARM: f64 = 2.2;

/// Draws the diamond where the place is seen.
pub fn peak(ink: &mut Ink, strength: &SectionStrength) {
    let at = [strength.x_mm, strength.y_mm];
    if !ink.sees(at) {
        return;
    }
    let arm = ink.paper(ARM);
    diamond(&mut ink.items, at, arm);
    ink.mark(Mark::Peak);
    ink.note(at, words(strength));
}

/// A diamond about a place.
pub fn diamond(items: &mut Vec<Item>, [x, y]: [f64; 2], arm: f64) {
    let corners = [[x + arm, y], [x, y + arm], [x - arm, y], [x, y - arm], [x + arm, y]];
    items.push(Item::Stroke(LineKind::Plain, Path::open(&corners)));
}

fn words(strength: &SectionStrength) -> String {
    format!("tension {:.0} of {:.0}", strength.peak_mpa, strength.limit_mpa)
}

/// Lines for the section's list: stress over what the steel bears, and what would be enough where it does not.
pub fn lines(section: &PlanSection) -> Vec<Line> {
    let Some(strength) = &section.strength else { return Vec::new() };
    let word = if strength.holds { "" } else { "TOO MUCH: " };
    let mut lines = vec![
        (WORD, format!("{word}{} N/mm2", words(strength))),
        (SMALL, format!("holds {:.2} times, {} wanted", strength.safety, strength.safety_wanted)),
        (SMALL, format!("its error, {:.0} %, counted", 100.0 * strength.error_share)),
    ];
    let needed = [("corner radius", strength.radius_needed_mm), ("wall", strength.wall_needed_mm)];
    for (what, mm) in needed {
        lines.extend(mm.map(|mm| (SMALL, format!("\u{2013} {what} {} would do", figure::size(mm, 2)))));
    }
    lines
}
