//! Where in the part's tolerance an edge starts, so that wear finds the most of it, and the corners that the wire forces
//! on the part.

use crate::candidate::{BoundCheck, Setting};
use crate::cutting::Cutting;
use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::size as rules;
use job::{Cut, Edge};
use remark::Remark;

/// What is added to the drawn outline, per side, for the size that the edge starts with.
pub fn shift(reckoning: &mut Reckoning, head: &str, edge: &Edge) -> Figure {
    let at = At(head, "size_shift_per_side_mm");
    let Some(part) = &edge.part_tolerance else {
        let meaning = what("added to the drawn outline for size, per side", "v", "mm");
        return reckoning.chosen(
            at,
            meaning,
            0.0,
            "no tolerance of the part is given: the size as drawn",
            &[],
        );
    };
    let mut known =
        |name, meaning, symbol, known| reckoning.known(At(head, name), what(meaning, symbol, "mm"), known);
    let plus =
        known("part_tolerance.plus_mm", "how much larger than drawn the part's size may be", "P", &part.plus);
    let minus = known(
        "part_tolerance.minus_mm",
        "how much smaller than drawn the part's size may be",
        "M",
        &part.minus,
    );
    let own = known("tolerance_mm", "plus or minus on the finished edge", "T", &edge.tolerance);
    let rule = match edge.cut.value {
        Cut::Blank => &rules::BLANK_SHIFT,
        Cut::Pierce | Cut::Finished => &rules::PIERCE_SHIFT,
    };
    reckoning.rule(at, rule, [plus, minus, own])
}

/// The remark on a tolerance of the part that the edge alone may use up.
pub fn tight(edge: &Edge) -> Option<Remark> {
    let part = edge.part_tolerance.as_ref()?;
    let (width, own) = (part.plus.value + part.minus.value, edge.tolerance.value);
    let message = format!(
        "edge `{}`: its part may vary by {width:.4} across, and the edge itself by {:.4}: nothing is left for wear, and it starts in the middle",
        edge.id,
        4.0 * own
    );
    (width < 4.0 * own).then(|| {
        Remark::warning("part-tolerance-tight", message)
            .place(edge.place.clone())
            .cure(format!("a `tolerance` of the edge below {:.4}", width / 4.0))
    })
}

/// The bound on the part's corners, where the print limits them: what it allows, what this wire forces.
pub fn print_radius(reckoning: &mut Reckoning, setting: Setting, cutting: &Cutting) -> Option<BoundCheck> {
    let allowed = setting.edge.corner_radius.as_ref()?;
    let meaning = what("greatest radius that the print allows on the part's corners", "r_max", "mm");
    let have = reckoning.known(At(setting.head, "corner_radius_mm"), meaning, allowed);
    let at = At(setting.head, "wire.part_corner_radius_mm");
    let forced = what("radius that this wire forces on the part's corners", "r", "mm");
    let last = cutting.passes.passes[cutting.passes.passes.len() - 1].offset;
    let need = match setting.edge.cut.value {
        _ if cutting.missed.is_empty() => {
            let how = "the last pass reaches every corner to 0.0001: the corners stay as drawn";
            reckoning.measured(at, forced, 0.0, how, &[("H", last)])
        }
        Cut::Pierce => reckoning.rule(at, &rules::PIERCED_CORNER, [last, setting.opening.clearance]),
        Cut::Blank | Cut::Finished => {
            let how =
                "the part's corner is the opening's, and the last pass leaves that its offset as radius";
            reckoning.measured(at, forced, last.value, how, &[("H", last)])
        }
    };
    Some(BoundCheck { name: "print-radius", have, need })
}
