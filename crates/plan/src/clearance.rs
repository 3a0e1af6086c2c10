//! The cutting clearance that an edge asks for, by the job's own share or a named rule.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::cut as rules;
use crate::sheet::{shear_strength, thickness};
use job::{Contour, Cut, Edge, Facts, Job, Sheet};
use remark::Remark;

/// The clearance per side that this edge asks for.
pub fn clearance(
    reckoning: &mut Reckoning,
    head: &str,
    (job, facts): (&Job, &Facts),
    edge: &Edge,
) -> Result<Figure, Vec<Remark>> {
    let at = At(head, "clearance_per_side_mm");
    let none = |reckoning: &mut Reckoning, why| {
        Ok(reckoning.chosen(at, what("clearance added to the drawn outline", "c", "mm"), 0.0, why, &[]))
    };
    if edge.side == Contour::Outside && edge.cut.value != Cut::Finished {
        return punch_clearance(reckoning, head, (job, facts), edge);
    }
    match (edge.cut.value, &job.sheet) {
        (Cut::Finished, _) => {
            none(reckoning, "the drawn outline is the finished edge itself: nothing is added")
        }
        (Cut::Blank, _) => none(reckoning, "blanking: the opening has the part's size, the punch is smaller"),
        (Cut::Pierce, Some(sheet)) => pierce_clearance(reckoning, at, sheet, facts, edge),
        (Cut::Pierce, None) => Err(vec![
            Remark::error("no-sheet", format!("edge `{}` pierces, and the job names no sheet", edge.id))
                .place(edge.place.clone())
                .cure("add [sheet] with metal and thickness"),
        ]),
    }
}

/// What is added to the drawn outline of a punch.
fn punch_clearance(
    reckoning: &mut Reckoning,
    head: &str,
    (job, facts): (&Job, &Facts),
    edge: &Edge,
) -> Result<Figure, Vec<Remark>> {
    let at = At(head, "clearance_per_side_mm");
    let what = what("clearance added to the drawn outline", "c", "mm");
    match (edge.cut.value, &job.sheet) {
        (Cut::Blank, Some(sheet)) => {
            let own = pierce_clearance(reckoning, At(head, "punch_clearance_mm"), sheet, facts, edge)?;
            Ok(reckoning.rule(at, &rules::BLANKING_PUNCH, [own]))
        }
        _ => Ok(reckoning.chosen(at, what, 0.0, "piercing: the punch has the size of the part's hole", &[])),
    }
}

/// The clearance per side between punch and opening, whoever carries it; none where nothing is stamped.
pub fn cutting(
    reckoning: &mut Reckoning,
    head: &str,
    (job, facts): (&Job, &Facts),
    edge: &Edge,
) -> Option<Figure> {
    let sheet = job.sheet.as_ref()?;
    let at = match edge.cut.value {
        Cut::Finished => return None,
        Cut::Pierce => At(head, "clearance_per_side_mm"),
        Cut::Blank => At(head, "punch_clearance_mm"),
    };
    pierce_clearance(reckoning, at, sheet, facts, edge).ok()
}

fn pierce_clearance(
    reckoning: &mut Reckoning,
    at: At,
    sheet: &Sheet,
    facts: &Facts,
    edge: &Edge,
) -> Result<Figure, Vec<Remark>> {
    let thickness = thickness(reckoning, sheet);
    let metal = sheet.metal.as_ref().and_then(|name| facts.metal(&name.value));
    let fail = |message: String| vec![Remark::error("clearance", message).place(edge.place.clone())];
    if let Some(share) = &sheet.clearance {
        let share = reckoning.known(At("job:sheet.", "clearance"), CLEARANCE_SHARE, share);
        return Ok(reckoning.rule(at, &rules::CLEARANCE_SHARE, [share, thickness]));
    }
    let rule = match &sheet.clearance_rule {
        None => None,
        Some(name) => Some(
            facts
                .clearance_rule(&name.value)
                .ok_or_else(|| fail(format!("clearance rule `{}` is not in the facts", name.value)))?,
        ),
    };
    match rule.map(|rule| &rule.form) {
        None | Some(job::ClearanceForm::ByMetal) => {
            let known = metal.and_then(|metal| metal.clearance.as_ref()).ok_or_else(|| {
                fail(format!("edge `{}` pierces, and the sheet's metal has no textbook clearance", edge.id))
            })?;
            let share = reckoning.known(At("fact:metal.", "clearance"), CLEARANCE_SHARE, known);
            Ok(reckoning.rule(at, &rules::CLEARANCE_SHARE, [share, thickness]))
        }
        Some(job::ClearanceForm::Share(known)) => {
            let share = reckoning.known(At("fact:clearance_rule.", "share"), CLEARANCE_SHARE, known);
            Ok(reckoning.rule(at, &rules::CLEARANCE_SHARE, [share, thickness]))
        }
        Some(job::ClearanceForm::RootOfShear(known)) => {
            let k = reckoning.known(
                At("fact:clearance_rule.", "k"),
                what("coefficient of the clearance rule", "k", "mm/N^0.5"),
                known,
            );
            let tau = shear_strength(reckoning, sheet, facts)
                .ok_or_else(|| fail("this clearance rule needs the sheet's shear strength".to_owned()))?;
            reckoning
                .apply(at, &rules::CLEARANCE_ROOT, [k, thickness, tau])
                .map_err(|error| fail(format!("{} asked outside its range: {}", error.meaning, error.range)))
        }
    }
}

const CLEARANCE_SHARE: crate::reckoning::What =
    what("clearance per side as a share of the thickness", "a", "");
