//! One opening as it stands in its section: the drawn outline in place, and the finished edge that clearance makes of it.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::cut as rules;
use job::{At as Placing, Cut, Edge, Facts, Job, Section, Sheet};
use outline::{LargestCircle, Outline, Vector, largest_circle, parallel};
use remark::{Place, Remark};

/// An outline of a drawing that an edge asks for, in mm, where it was drawn.
#[derive(Debug, Clone)]
pub struct DrawnEdge {
    /// Path below the job's folder, with forward slashes.
    pub file: String,
    /// `o1`, `o2`, ...
    pub outline_id: String,
    /// The outline.
    pub outline: Outline,
    /// How far closing up has moved it, mm.
    pub moved_mm: f64,
}

/// An opening in its place.
#[derive(Debug, Clone)]
pub struct Opening {
    /// The drawn outline, section coordinates.
    pub drawn: Outline,
    /// The finished edge.
    pub target: Outline,
    /// Where the drawing's origin lies.
    pub at: [f64; 2],
    /// What was added all round.
    pub clearance: Figure,
    /// The largest circle in the finished edge.
    pub circle: LargestCircle,
    /// Distance from the circle's centre to the finished edge.
    pub inscribed: Figure,
}

impl Opening {
    /// Puts an edge in its place and adds the clearance.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        (job, facts): (&Job, &Facts),
        section: &Section,
        (edge, drawn): (&Edge, &DrawnEdge),
    ) -> Result<Self, Vec<Remark>> {
        let at = match &edge.at {
            Placing::Origin([x, y]) => [x.value, y.value],
            Placing::Centred => {
                let middle = drawn.outline.bounds().middle();
                [0.0 - middle.x, 0.0 - middle.y]
            }
        };
        let placed = drawn.outline.moved(Vector::new(at[0], at[1]));
        let clearance = clearance(reckoning, head, (job, facts), edge)?;
        let target = match clearance.value > 0.0 {
            false => placed.clone(),
            true => grown(&placed, clearance.value, edge)?,
        };
        inside_block(&target, section, edge)?;
        let circle = largest_circle(&target, &[]).map_err(|error| {
            vec![Remark::error("circle", format!("edge `{}`: {error}", edge.id)).place(edge.place.clone())]
        })?;
        let inscribed = reckoning.measured(
            At(head, "start.terms.inscribed_mm"),
            what("radius of the largest circle in the finished edge", "x", "mm"),
            circle.radius,
            "largest inscribed circle by branch and bound, proven within 1 nm",
            &[],
        );
        Ok(Self { drawn: placed, target, at, clearance, circle, inscribed })
    }
}

fn grown(placed: &Outline, clearance: f64, edge: &Edge) -> Result<Outline, Vec<Remark>> {
    let closes = || {
        let message = format!(
            "edge `{}`: with a clearance of {clearance:.4} all round the outline closes on itself in a narrow bay",
            edge.id
        );
        vec![Remark::error("clearance-closes", message).place(edge.place.clone()).cure("less clearance")]
    };
    let mut loops = parallel(placed, -clearance).map_err(|error| {
        vec![Remark::error("clearance", format!("edge `{}`: {error}", edge.id)).place(edge.place.clone())]
    })?;
    match loops.len() {
        1 => Ok(loops.remove(0)),
        _ => Err(closes()),
    }
}

/// The clearance per side that this edge asks for.
fn clearance(
    reckoning: &mut Reckoning,
    head: &str,
    (job, facts): (&Job, &Facts),
    edge: &Edge,
) -> Result<Figure, Vec<Remark>> {
    let at = At(head, "clearance_per_side_mm");
    let none = |reckoning: &mut Reckoning, why| {
        Ok(reckoning.chosen(at, what("clearance added to the drawn outline", "c", "mm"), 0.0, why, &[]))
    };
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

/// The sheet's thickness.
pub fn thickness(reckoning: &mut Reckoning, sheet: &Sheet) -> Figure {
    reckoning.known(
        At("job:sheet.", "thickness_mm"),
        what("thickness of the sheet", "t", "mm"),
        &sheet.thickness,
    )
}

/// The sheet's shear strength, where it is known.
pub fn shear_strength(reckoning: &mut Reckoning, sheet: &Sheet, facts: &Facts) -> Option<Figure> {
    let tau = what("shear strength of the sheet", "tau", "N/mm2");
    if let Some(given) = &sheet.shear_strength_mpa {
        return Some(reckoning.known(At("job:sheet.", "shear_strength_mpa"), tau, given));
    }
    let metal = facts.metal(&sheet.metal.as_ref()?.value)?;
    let known = metal.shear_strength_mpa.as_ref()?;
    Some(reckoning.known(At("fact:metal.", "shear_strength_mpa"), tau, known))
}

/// An opening that leaves its block contradicts the job.
fn inside_block(target: &Outline, section: &Section, edge: &Edge) -> Result<(), Vec<Remark>> {
    let bounds = target.bounds();
    let (half_x, half_y) = (section.size[0].value / 2.0, section.size[1].value / 2.0);
    let out = [half_x + bounds.min.x, half_x - bounds.max.x, half_y + bounds.min.y, half_y - bounds.max.y]
        .into_iter()
        .fold(f64::INFINITY, f64::min);
    if out > 0.0 {
        return Ok(());
    }
    let message = format!(
        "the opening of edge `{}` reaches {:.4} beyond its block of {} x {}: x {:.4} to {:.4}, y {:.4} to {:.4}",
        edge.id,
        -out,
        section.size[0].value,
        section.size[1].value,
        bounds.min.x,
        bounds.max.x,
        bounds.min.y,
        bounds.max.y
    );
    let place: Place = edge.place.clone().at(bounds.middle().x, bounds.middle().y);
    Err(vec![
        Remark::error("outside-block", message)
            .place(place)
            .cure("a larger `size`")
            .cure("another `at`")
            .cure("check the drawing's units"),
    ])
}
