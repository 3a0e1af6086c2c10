//! The punch that passes through an opening, from the same print edge, and the clearance really left all round.
//!
//! Stages: the punch's edge lies the clearance inside what the last pass makes of the opening, so its outside corners
//! follow the opening's; a wire of the shop goes round it from outside and rounds its inside corners; then the distance
//! from the finished opening to the finished punch, all the way round.

use crate::clearance;
use crate::contour::{Studied, bulges};
use crate::cutting::{CORNER_MARGIN, Cutting};
use crate::figure::Figure;
use crate::free::Free;
use crate::passes::Passes;
use crate::punch_strength;
use crate::reckoning::{At, Reckoning, What, what};
use crate::rules::punch as rules;
use crate::section::World;
use job::{Contour, Edge, Punch, Section, Wire};
use outline::{Apart, ApartAt, Outline, ParallelError, apart, apart_run, parallel};
use package as published;
use remark::Remark;

/// A clearance that is no farther than this from what is asked for counts as even, mm: what a missed corner must exceed to
/// be listed.
const EVEN: f64 = outline::LEAST_MISS;
/// The plot of the clearance is right to this share of the clearance asked for, and at best to `FINEST`.
const PLOTTED: f64 = 0.005;
/// Finer than this no plot is read, mm.
const FINEST: f64 = 2e-5;

/// A punch as one wire leaves it.
struct Made {
    edge: Outline,
    passes: Passes,
    apart: Apart,
}

/// Plans the punch that an edge asks for; none, with the reason, where it cannot be planned.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (edge, studied, cutting): (&Edge, &Studied, &Cutting),
) -> (Option<published::Punch>, Vec<Remark>) {
    let Some(asked) = &edge.punch else { return (None, Vec::new()) };
    match planned(reckoning, world, section, (edge, asked), (studied, cutting)) {
        Ok((punch, remarks)) => (Some(punch), remarks),
        Err((reason, cure)) => {
            let message = format!("edge `{}`: its punch cannot be planned: {reason}", edge.id);
            let remark = Remark::warning("punch-not-planned", message).place(edge.place.clone()).cure(cure);
            (None, vec![remark])
        }
    }
}

/// Why there is no punch, and what would cure it.
type Reason = (String, &'static str);

fn planned(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (edge, asked): (&Edge, &Punch),
    (studied, cutting): (&Studied, &Cutting),
) -> Result<(published::Punch, Vec<Remark>), Reason> {
    let of_edge = format!("{}.{}.", section.id, edge.id);
    let head = format!("{of_edge}punch.");
    let clearance = clearance::cutting(reckoning, &of_edge, (world.job, world.facts), edge)
        .ok_or_else(|| ("the sheet gives no clearance".to_owned(), "`clearance` in [sheet]"))?;
    let opening = cutting.edges.last().and_then(|edges| edges.first());
    let opening = opening.ok_or_else(|| ("its opening has no finished edge".to_owned(), "a finer wire"))?;
    let target = inside(opening, clearance.value)?;
    let made = made(world, &of_edge, (edge, asked), (opening, &target), clearance.value)?;
    let steel = asked.steel.as_ref().unwrap_or(&section.steel).value.clone();
    let hardness = asked.hardness_hrc.as_ref().unwrap_or(&section.hardness_hrc);
    let hardness =
        reckoning.known(At(&head, "hardness_hrc"), what("hardness of the punch", "HRC", "HRC"), hardness);
    let meaning = what("how long the punch stands out of its holder", "l", "mm");
    let length = reckoning.known(At(&head, "length_mm"), meaning, &asked.length);
    let last = wire(reckoning, world, &head, &made);
    let corners = corners(reckoning, &head, (cutting, &target), (clearance, last));
    let asked_for = what("clearance per side between punch and opening", "c", "mm");
    let how = "what the sheet asks for";
    let clearance =
        reckoning.measured(At(&head, "clearance_mm"), asked_for, clearance.value, how, &[("c", clearance)]);
    let size = size(reckoning, &head, &made.edge);
    let [least, most] = extremes(reckoning, &head, made.apart);
    let subject = punch_strength::Subject {
        section,
        edge,
        asked,
        outline: &made.edge,
        steel: &steel,
        hardness,
        length,
    };
    let (strength, mut remarks) = punch_strength::of(reckoning, world, subject).unzip();
    let tight = tight(world, (edge, studied), &least, (clearance.value, &corners));
    let holds = tight.is_none() && strength.is_none_or(|strength| strength.holds);
    let mut said: Vec<Remark> = tight.into_iter().collect();
    said.append(remarks.get_or_insert_default());
    let start = opening.vertices()[0].point;
    let punch = published::Punch {
        steel,
        hardness_hrc: hardness.value,
        length_mm: length.value,
        guided: punch_strength::guiding(world, asked).map_or(String::new(), |way| way.name.clone()),
        target: bulges(&target),
        edge: bulges(&made.edge),
        size_mm: size,
        wire_mm: made.passes.wire.value,
        offset_mm: made.passes.last(),
        corners,
        clearance_mm: clearance.value,
        clearance_least: least,
        clearance_most: most,
        clearance_plot: apart_run(opening, &made.edge, (PLOTTED * clearance.value).max(FINEST)),
        clearance_from: [start.x, start.y],
        opening: bulges(opening),
        strength,
        holds,
    };
    Ok((punch, said))
}

/// What lies a clearance inside the finished opening.
fn inside(opening: &Outline, clearance: f64) -> Result<Outline, Reason> {
    let mut loops = parallel(opening, clearance).map_err(unproved)?;
    match loops.len() {
        1 => Ok(loops.remove(0)),
        0 => Err(("with the clearance taken off nothing is left of it".to_owned(), "less clearance")),
        n => Err((format!("with the clearance taken off it falls into {n} pieces"), "less clearance")),
    }
}

fn unproved(error: ParallelError) -> Reason {
    (error.to_string(), "another clearance or wire")
}

/// What a wire leaves of a punch: nothing of its offset fits into an inside corner that is tighter.
fn around(target: &Outline, offset: f64) -> Result<Option<Outline>, ParallelError> {
    let mut back = Free { edge: target, side: Contour::Outside }.reached(offset)?;
    Ok((back.len() == 1).then(|| back.remove(0)))
}

/// The thickest wire of the shop that leaves the clearance even, else the one that leaves most where it is least.
fn made(
    world: World,
    head: &str,
    (edge, asked): (&Edge, &Punch),
    (opening, target): (&Outline, &Outline),
    clearance: f64,
) -> Result<Made, Reason> {
    let none = || {
        (
            "no wire of the shop holds its tolerance and cuts its length".to_owned(),
            "a wider `tolerance`, or a shorter punch",
        )
    };
    let skims = world.shop.cutting.skims_for(edge.tolerance.value).ok_or_else(none)?;
    let silent = &mut Reckoning::silent();
    let high = |wire: &Wire| wire.max_height.as_ref().is_none_or(|most| asked.length.value <= most.value);
    let mut rows: Vec<Passes> = (world.shop.wires.iter().enumerate())
        .filter(|(_, wire)| high(wire))
        .filter_map(|(row, wire)| Passes::of(silent, head, (row, wire), skims))
        .collect();
    rows.sort_by(|a, b| b.wire.value.total_cmp(&a.wire.value));
    let mut best: Option<Made> = None;
    let mut reason = none();
    for passes in rows {
        let made = match around(target, passes.last() + CORNER_MARGIN) {
            Ok(Some(edge)) => apart(opening, &edge)
                .map(|apart| Made { edge, passes, apart })
                .map_err(|error| (error.to_string(), "a drawing with fewer segments")),
            Ok(None) => Err(("its wire does not get round it".to_owned(), "a finer wire")),
            Err(error) => Err(unproved(error)),
        };
        match made {
            Ok(made) if made.apart.least.distance >= clearance - EVEN => return Ok(made),
            Ok(made) => {
                let least = |made: &Made| made.apart.least.distance;
                if best.as_ref().is_none_or(|best| least(&made) > least(best)) {
                    best = Some(made);
                }
            }
            Err(why) => reason = why,
        }
    }
    best.ok_or(reason)
}

/// Writes down the wire that goes round the punch; gives back the offset of its last pass.
fn wire(reckoning: &mut Reckoning, world: World, head: &str, made: &Made) -> Figure {
    let row = made.passes.row;
    let skims = made.passes.passes.len() - 1;
    let passes = Passes::of(reckoning, head, (row, &world.shop.wires[row]), skims);
    let passes = passes.unwrap_or_else(|| made.passes.clone());
    let last = passes.passes[passes.passes.len() - 1].offset;
    let why = "the thickest wire of the shop that leaves the clearance even, else the one that leaves most where it is least";
    let meaning = what("wire that cuts the punch", "d", "mm");
    reckoning.chosen(At(head, "wire_mm"), meaning, passes.wire.value, why, &[("d", passes.wire)]);
    let meaning = what("offset of the last pass around the punch", "H", "mm");
    let how = "the wire's table, with the passes that the edge's tolerance asks for";
    reckoning.measured(At(head, "offset_mm"), meaning, last.value, how, &[("H", last)])
}

/// Corner radii that are forced, where any are.
fn corners(
    reckoning: &mut Reckoning,
    head: &str,
    (cutting, target): (&Cutting, &Outline),
    (clearance, around): (Figure, Figure),
) -> published::PunchCorners {
    let opening = cutting.passes.passes[cutting.passes.passes.len() - 1].offset;
    let rounds = !cutting.missed.is_empty();
    let tightest = target.tightest_corner(false).map_or(f64::INFINITY, |corner| corner.radius);
    let fills = tightest < around.value;
    let mut forced = |name: &str, meaning, of: Figure| {
        let how = "a round wire leaves the last pass's offset as radius";
        reckoning.measured(At(head, name), meaning, of.value, how, &[("H", of)]).value
    };
    const INSIDE: What = what("radius that the wire forces on the opening's inside corners", "R", "mm");
    const OUTSIDE: What = what("radius that the wire forces on the punch's inside corners", "r", "mm");
    let opening_mm = rounds.then(|| forced("corners.opening_mm", INSIDE, opening));
    let punch_inside_mm = fills.then(|| forced("corners.punch_inside_mm", OUTSIDE, around));
    let mut even = |name: &str, rule, of: Figure| reckoning.rule(At(head, name), rule, [of, clearance]).value;
    published::PunchCorners {
        opening_mm,
        punch_mm: rounds.then(|| even("corners.punch_mm", &rules::OUTSIDE_CORNER, opening)),
        punch_inside_mm,
        opening_outside_mm: fills.then(|| even("corners.opening_outside_mm", &rules::OPENING_CORNER, around)),
    }
}

fn size(reckoning: &mut Reckoning, head: &str, edge: &Outline) -> [f64; 2] {
    let bounds = edge.bounds();
    let mut side = |name: &str, meaning, symbol, value| {
        let how = "bounds of its finished edge, exact over arcs";
        reckoning.measured(At(head, name), what(meaning, symbol, "mm"), value, how, &[]).value
    };
    [
        side("size_mm.0", "finished punch across x", "w_x", bounds.width()),
        side("size_mm.1", "finished punch across y", "w_y", bounds.height()),
    ]
}

/// Least and most clearance left.
fn extremes(reckoning: &mut Reckoning, head: &str, apart: Apart) -> [published::Clearance; 2] {
    let mut one = |name: &str, meaning, symbol, at: ApartAt| {
        let how = "distance from the finished opening to the finished punch, found all along to 0.0000001";
        let value = reckoning.measured(At(head, name), what(meaning, symbol, "mm"), at.distance, how, &[]);
        published::Clearance { value_mm: value.value, x_mm: at.place.x, y_mm: at.place.y }
    };
    [
        one(
            "clearance_least.value_mm",
            "least clearance left between punch and opening",
            "c_min",
            apart.least,
        ),
        one("clearance_most.value_mm", "most clearance left between punch and opening", "c_max", apart.most),
    ]
}

/// The remark on a clearance that inside corners eat up.
fn tight(
    world: World,
    (edge, studied): (&Edge, &Studied),
    least: &published::Clearance,
    (clearance, corners): (f64, &published::PunchCorners),
) -> Option<Remark> {
    let share = world.shop.alignment.share.value;
    if least.value_mm >= (1.0 - share) * clearance - EVEN {
        return None;
    }
    let left = match least.value_mm < 0.0 {
        true => format!("punch and opening run {:.4} into each other", -least.value_mm),
        false => format!("only {:.4} of the clearance {clearance:.4} is left", least.value_mm),
    };
    let message = format!("edge `{}`: {left}, where the wire rounds an inside corner of the punch", edge.id);
    let place = edge.place.clone().at(least.x_mm, least.y_mm);
    let remark = Remark::warning("punch-clearance", message).place(place);
    let ground = "a finer last offset for the punch, or a punch ground to its profile";
    Some(match corners.opening_outside_mm {
        Some(radius) => {
            let drawn = radius + studied.opening.clearance.value + studied.opening.shift.value;
            remark.cure(format!("a radius of {:.3} there in the drawing", ceiled(drawn))).cure(ground)
        }
        None => remark.cure(ground),
    })
}

fn ceiled(radius: f64) -> f64 {
    (radius * 1000.0).ceil() / 1000.0
}
