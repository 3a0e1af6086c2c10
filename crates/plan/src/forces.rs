//! The forces of one stroke over the cutting edges of a section: cutting, stripping, pushing slugs through, work.
//!
//! Stages: each edge by itself, from the length that it cuts; then sums over the edges, in job order.

use crate::figure::Figure;
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, What, what};
use crate::rule::Rule;
use crate::rules::{force as rules, stroke as stroke_rules};
use crate::section::World;
use crate::sheet::{metal, shear_strength, thickness};
use job::{Contour, Cut, Edge, Facts, ForceShare, Job, Known, Section, Sheet, StrippingForm};
use package::Forces;

/// Where neither job nor facts say how deep the punch goes before the slug breaks out.
const PENETRATION: f64 = 0.5;

/// What the forces of all edges hang on.
#[derive(Debug, Clone, Copy)]
struct Stroke<'a> {
    job: &'a Job,
    facts: &'a Facts,
    sheet: &'a Sheet,
    /// The row of the table of shares that the sheet falls under.
    row: &'a ForceShare,
    thickness: Figure,
    tau: Figure,
    slugs: Figure,
}

/// The forces of one edge.
#[derive(Debug, Clone, Copy)]
struct EdgeForces {
    cutting: Figure,
    stripping: Figure,
    push_through: Figure,
    work: Figure,
}

/// Forces over the edges of a section that pierce or blank. Null where there is no such edge, or where the sheet's
/// strength is not known. An opening comes with its land.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    openings: &[(&Opening, Figure)],
) -> Forces {
    let edges = section
        .edges
        .iter()
        .zip(openings)
        .filter(|(edge, _)| edge.cut.value != Cut::Finished && edge.side == Contour::Inside);
    let edges: Vec<(&Edge, &(&Opening, Figure))> = edges.collect();
    let longest =
        edges.iter().map(|(_, (_, land))| *land).reduce(|a, b| if b.value > a.value { b } else { a });
    let Some(land) = longest else { return Forces::default() };
    let Some(stroke) = stroke(reckoning, world, section, land) else {
        return Forces::default();
    };
    let found: Vec<(&str, EdgeForces)> = (edges.into_iter())
        .map(|(edge, (opening, own))| {
            let head = format!("{}.{}.forces.", section.id, edge.id);
            let slugs = match own.value < land.value {
                true => reckoning.rule(At(&head, "slugs_held"), &rules::SLUGS, [*own, stroke.thickness]),
                false => stroke.slugs,
            };
            (edge.id.as_str(), of_edge(reckoning, &head, Stroke { slugs, ..stroke }, (edge, opening)))
        })
        .collect();
    let head = format!("{}.forces.", section.id);
    let mut sum = |name, pick: fn(&EdgeForces) -> Figure, rule, total| {
        let parts: Vec<(&str, Figure)> = found.iter().map(|(id, forces)| (*id, pick(forces))).collect();
        summed(reckoning, (&head, name), &parts, rule, total)
    };
    let newtons = |meaning, symbol| what(meaning, symbol, "N");
    let cutting = sum("cutting_n", |f| f.cutting, &rules::TOGETHER, newtons("cutting force", "F"));
    let stripping = sum("stripping_n", |f| f.stripping, &rules::TOGETHER, newtons("stripping force", "S"));
    let pushing = newtons("force that pushes slugs through the land", "Q");
    let push_through = sum("push_through_n", |f| f.push_through, &rules::TOGETHER, pushing);
    let work = sum("work_j", |f| f.work, &rules::WORK_TOGETHER, what("work of one stroke", "W", "J"));
    let value = |figure: Option<Figure>| figure.map(|figure| figure.value);
    Forces {
        cutting_n: value(cutting),
        stripping_n: value(stripping),
        push_through_n: value(push_through),
        work_j: value(work),
    }
}

fn stroke<'a>(
    reckoning: &mut Reckoning,
    world: World<'a>,
    section: &Section,
    land: Figure,
) -> Option<Stroke<'a>> {
    let sheet = world.job.sheet.as_ref()?;
    let tau = shear_strength(reckoning, sheet, world.facts)?;
    let thickness = thickness(reckoning, sheet);
    let head = format!("{}.forces.", section.id);
    let slugs = reckoning.rule(At(&head, "slugs_held"), &rules::SLUGS, [land, thickness]);
    let family = metal(sheet, world.facts).and_then(|metal| metal.family);
    let row = world.facts.force_share(family, thickness.value)?;
    Some(Stroke { job: world.job, facts: world.facts, sheet, row, thickness, tau, slugs })
}

fn of_edge(
    reckoning: &mut Reckoning,
    head: &str,
    stroke: Stroke,
    (edge, opening): (&Edge, &Opening),
) -> EdgeForces {
    let length = reckoning.measured(
        At(head, "length_mm"),
        what("length cut in the sheet", "L", "mm"),
        opening.drawn.perimeter(),
        "length of the drawn outline",
        &[],
    );
    let cutting =
        reckoning.rule(At(head, "cutting_n"), &rules::CUTTING, [length, stroke.thickness, stroke.tau]);
    let stripping = stripping(reckoning, head, stroke, opening, (length, cutting));
    let share = push_share(reckoning, stroke);
    let push_through =
        reckoning.rule(At(head, "push_through_n"), &rules::PUSH_THROUGH, [stroke.slugs, share, cutting]);
    let depth = penetration(reckoning, head, stroke);
    let cut_work =
        reckoning.rule(At(head, "cutting_work_j"), &rules::CUTTING_WORK, [cutting, depth, stroke.thickness]);
    let push_work =
        reckoning.rule(At(head, "push_work_j"), &rules::PUSH_WORK, [push_through, stroke.thickness]);
    let work = reckoning.rule(At(head, "work_j"), &rules::WORK, [cut_work, push_work]);
    over_its_way(reckoning, head, stroke, edge, (cutting, depth));
    EdgeForces { cutting, stripping, push_through, work }
}

/// When an edge enters, how long it cuts, and with which force: the lines that the whole die's stroke is made of.
fn over_its_way(
    reckoning: &mut Reckoning,
    head: &str,
    stroke: Stroke,
    edge: &Edge,
    (cutting, depth): (Figure, Figure),
) {
    let mut known = |name, meaning, symbol, known: &Option<Known<f64>>, why| match known {
        Some(known) => reckoning.known(At(head, name), what(meaning, symbol, "mm"), known),
        None => reckoning.chosen(At(head, name), what(meaning, symbol, "mm"), 0.0, why, &[]),
    };
    let meaning = "way of the press after the first punch touches, until this one does";
    known("enters_mm", meaning, "e", &edge.enters, "left out: it enters with the first");
    let shear = known("shear_mm", "shear ground on the face", "i", &edge.shear, "left out: a flat face");
    let t = stroke.thickness;
    reckoning.rule(At(head, "cuts_for_mm"), &stroke_rules::CUTS_FOR, [depth, t, shear]);
    let at = At(head, "peak_n");
    if shear.value > 0.0 {
        reckoning.rule(at, &stroke_rules::SHEARED, [cutting, depth, t, shear]);
    } else {
        let meaning = what("cutting force of this edge at its greatest", "F_i", "N");
        reckoning.measured(at, meaning, cutting.value, "a flat face: all of it at once", &[("F", cutting)]);
    }
}

/// Force that strips the sheet off the punch of one edge: by the job's own share, or by a named rule.
fn stripping(
    reckoning: &mut Reckoning,
    head: &str,
    stroke: Stroke,
    opening: &Opening,
    (length, cutting): (Figure, Figure),
) -> Figure {
    let asked = &stroke.job.forces;
    let share = what("stripping force as a share of the cutting force", "s", "");
    let at = At(head, "stripping_n");
    let rule = asked.stripping_rule.as_ref().map(|name| name.value.as_str());
    let form = stroke.facts.stripping_rule(rule).map(|rule| &rule.form);
    let share = match (&asked.stripping, form) {
        (Some(given), _) => reckoning.known(At("job:forces.", "stripping"), share, given),
        (None, Some(StrippingForm::Share(known))) => {
            reckoning.known(At("fact:stripping_rule.", "share"), share, known)
        }
        (None, Some(StrippingForm::Pressure(known))) => {
            let meaning = what("stripping force over the sheared area", "p", "N/mm2");
            let pressure = reckoning.known(At("fact:stripping_rule.", "pressure_mpa"), meaning, known);
            return reckoning.rule(at, &rules::STRIPPING_BY_AREA, [pressure, length, stroke.thickness]);
        }
        (None, Some(StrippingForm::ByTable)) => {
            reckoning.known(At("fact:share.", "stripping"), share, &stroke.row.stripping)
        }
        (None, Some(StrippingForm::BySize) | None) => by_size(reckoning, head, stroke, opening, length),
    };
    reckoning.rule(at, &rules::STRIPPING, [share, cutting])
}

/// Stripping share by the width across the opening over the thickness.
fn by_size(
    reckoning: &mut Reckoning,
    head: &str,
    stroke: Stroke,
    opening: &Opening,
    length: Figure,
) -> Figure {
    let area = reckoning.measured(
        At(head, "area_mm2"),
        what("area cut out of the sheet", "A", "mm2"),
        opening.drawn.area(),
        "area of the drawn outline",
        &[],
    );
    let across = reckoning.rule(At(head, "across_mm"), &rules::ACROSS, [area, length]);
    reckoning.rule(At(head, "stripping_share"), &rules::STRIPPING_BY_SIZE, [across, stroke.thickness])
}

/// Share of the cutting force that pushes one slug through.
fn push_share(reckoning: &mut Reckoning, stroke: Stroke) -> Figure {
    let share = what("force that pushes one slug through, as a share of the cutting force", "k", "");
    match &stroke.job.forces.push_through {
        Some(given) => reckoning.known(At("job:forces.", "push_through"), share, given),
        None => reckoning.known(At("fact:share.", "push_through"), share, &stroke.row.push_through),
    }
}

/// How deep the punch goes before the slug breaks out, as a share of the thickness.
fn penetration(reckoning: &mut Reckoning, head: &str, stroke: Stroke) -> Figure {
    let share = what("depth at which the slug breaks out, as a share of the thickness", "q", "");
    let own = metal(stroke.sheet, stroke.facts).and_then(|metal| metal.penetration.as_ref());
    match (&stroke.job.forces.penetration, own) {
        (Some(given), _) => reckoning.known(At("job:forces.", "penetration"), share, given),
        (None, Some(known)) => reckoning.known(At("fact:metal.", "penetration"), share, known),
        (None, None) => {
            let why =
                "neither job nor facts say it: half of the thickness, as a machine dealer's formula takes it";
            reckoning.chosen(At(head, "penetration"), share, PENETRATION, why, &[])
        }
    }
}

/// Adds figures up, each step a line; the last one is the total.
pub fn summed(
    reckoning: &mut Reckoning,
    (head, name): (&str, &str),
    parts: &[(&str, Figure)],
    rule: &Rule<2>,
    total: What,
) -> Option<Figure> {
    let (&(_, first), rest) = parts.split_first()?;
    let Some((&(_, last), between)) = rest.split_last() else {
        let how = "of its only part";
        return Some(reckoning.measured(At(head, name), total, first.value, how, &[(total.symbol, first)]));
    };
    let mut sum = first;
    for (id, part) in between {
        sum = reckoning.rule(At(head, &format!("{name}_to_{id}")), rule, [sum, *part]);
    }
    Some(reckoning.rule(At(head, name), rule, [sum, last]))
}
