//! The joint of a section in two halves: that every opening over it starts on it, that it sets no metal loose, and that nothing
//! which holds the halves comes into an opening.

use crate::absurd;
use crate::engine::{Shape, counter_clockwise, difference, grown, union};
use crate::fault::Spot;
use crate::flatten::{Place, closed, sane};
use crate::region::area;
use package::{Along, Contour, Fault, Halves, JointHole, PlanSection, Side, Start, StartKind};

/// Half the width of the slit that stands for a joint, mm: no metal goes with it.
const SLIT: f64 = 1e-5;
/// A start may lie this far off the joint, mm.
const OFF: f64 = 1e-4;
/// Less area than this is nothing, mm2.
const NOTHING: f64 = 1e-4;
/// Sizes closer than this are the same, mm.
const SAME: f64 = 1e-6;

/// What is cleared, and the joint through the start hole, which parts metal as well. It runs on beyond the opening, where it
/// sets loose whatever it should not.
pub fn parted(cleared: &[Shape], contour: &Contour) -> Vec<Shape> {
    let Some((start, half)) = contour.start.as_ref().and_then(|start| Some((start, start.half_round?)))
    else {
        return cleared.to_vec();
    };
    let far = contour.target.iter().map(|vertex| vertex[0].abs().max(vertex[1].abs())).fold(1.0, f64::max);
    let at = match half.along {
        Along::X => start.y_mm,
        Along::Y => start.x_mm,
    };
    union(cleared, &[slit(half.along, at, 2.0 * far)])
}

fn slit(along: Along, at: f64, far: f64) -> Shape {
    rectangle(along, [-far, far], [at - SLIT, at + SLIT])
}

/// A rectangle by its extent along a joint and across it.
fn rectangle(along: Along, [from, to]: [f64; 2], [low, high]: [f64; 2]) -> Shape {
    let place = |s: f64, t: f64| match along {
        Along::X => [s, t],
        Along::Y => [t, s],
    };
    vec![counter_clockwise(vec![place(from, low), place(to, low), place(to, high), place(from, high)])]
}

/// Faults of a section's joint.
pub fn faults(section: &PlanSection) -> Vec<Fault> {
    let fine = || section.contours.iter().filter(|contour| absurd::of(contour).is_empty());
    let fault =
        |message: String| Spot::default().fault("joint", format!("section `{}`: {message}", section.id));
    let Some(halves) = &section.halves else {
        let ground = fine().filter(|contour| is_ground(contour));
        let told = |contour: &Contour| {
            fault(format!("contour `{}` starts in half-rounds, and the section is in one piece", contour.id))
        };
        return ground.map(told).collect();
    };
    let numbers = halves.holes.iter().flat_map(|hole| {
        [hole.along_mm, hole.diameter_mm, hole.clear_mm.unwrap_or(0.0), hole.into_mm[0], hole.into_mm[1]]
    });
    if numbers.chain([halves.at_mm]).any(|value| !sane([value, 0.0])) {
        return vec![fault("a number of its joint is beyond any block".to_owned())];
    }
    let mut messages: Vec<String> = fine().flat_map(|contour| starts(contour, halves)).collect();
    messages.extend(loose(section, halves));
    let openings: Vec<Shape> =
        fine().filter(|one| one.side == Side::Inside).flat_map(|one| wide(section, one)).collect();
    messages.extend(halves.holes.iter().filter_map(|hole| enters(section, halves, hole, &openings)));
    messages.into_iter().map(fault).collect()
}

fn is_ground(contour: &Contour) -> bool {
    contour.start.as_ref().is_some_and(|start| start.kind == StartKind::HalfGround)
}

/// Whether a contour starts as its place to the joint asks.
fn starts(contour: &Contour, halves: &Halves) -> Option<String> {
    let start = contour.start.as_ref().filter(|_| contour.wire.is_some())?;
    let id = &contour.id;
    let across = |place: Place| match halves.along {
        Along::X => place[1],
        Along::Y => place[0],
    };
    let sides: Vec<f64> = closed(&contour.target).iter().map(|place| across(*place) - halves.at_mm).collect();
    let over = sides.iter().any(|side| *side > OFF) && sides.iter().any(|side| *side < -OFF);
    match (over, is_ground(contour)) {
        (false, false) => None,
        (true, false) => {
            Some(format!("contour `{id}` lies over the joint, and does not start in half-rounds"))
        }
        (false, true) => {
            Some(format!("contour `{id}` starts in half-rounds, and does not lie over the joint"))
        }
        (true, true) => half_rounds(start, halves, across).map(|wrong| format!("contour `{id}`: {wrong}")),
    }
}

fn half_rounds(start: &Start, halves: &Halves, across: impl Fn(Place) -> f64) -> Option<String> {
    let off = (across([start.x_mm, start.y_mm]) - halves.at_mm).abs();
    let Some(half) = start.half_round else { return Some("its half-rounds are not stated".to_owned()) };
    if off > OFF {
        return Some(format!("its start lies {off:.4} beside the joint"));
    }
    if half.along != halves.along {
        return Some("its half-rounds lie on a joint that runs another way".to_owned());
    }
    let made = 2.0 * half.wheel_radius_mm;
    let sizes = half.wheel_radius_mm > 0.0 && half.depth_mm > 0.0;
    let wide = (start.hole_diameter_mm.entry - made).abs() <= SAME;
    let open = start.hole_diameter_mm.exit <= crate::rim::open(start) + SAME;
    (!(sizes && wide && open)).then(|| {
        format!(
            "half-rounds of radius {} do not make a hole of {} that leaves {} open",
            half.wheel_radius_mm, start.hole_diameter_mm.entry, start.hole_diameter_mm.exit
        )
    })
}

/// A finished opening with what its relief adds at the back.
fn wide(section: &PlanSection, contour: &Contour) -> Vec<Shape> {
    let target = vec![vec![counter_clockwise(closed(&contour.target))]];
    let below = (section.size_mm[2] - contour.land_mm).max(0.0);
    let by = below * contour.relief_deg.clamp(0.0, 89.0).to_radians().tan();
    if by > 0.0 { grown(&target, by) } else { target }
}

/// The finished block, less openings and joint, is two pieces.
fn loose(section: &PlanSection, halves: &Halves) -> Option<String> {
    let [x, y] = [section.size_mm[0] / 2.0, section.size_mm[1] / 2.0];
    let block = vec![rectangle(Along::X, [-x, x], [-y, y])];
    let inside = section.contours.iter().filter(|one| one.side == Side::Inside && absurd::of(one).is_empty());
    let openings: Vec<Shape> = inside.map(|one| vec![counter_clockwise(closed(&one.target))]).collect();
    let cut = union(&openings, &[slit(halves.along, halves.at_mm, 2.0 * (x + y))]);
    let pieces = difference(&block, &cut);
    let real =
        pieces.iter().filter(|piece| piece.iter().map(|points| area(points)).sum::<f64>().abs() > NOTHING);
    let count = real.count();
    (count != 2).then(|| format!("its joint and openings part it in {count} pieces, not in two halves"))
}

/// A screw or dowel that comes into an opening.
fn enters(section: &PlanSection, halves: &Halves, hole: &JointHole, openings: &[Shape]) -> Option<String> {
    let radius = hole.diameter_mm.max(hole.clear_mm.unwrap_or(0.0)) / 2.0;
    let width = match halves.along {
        Along::X => section.size_mm[1],
        Along::Y => section.size_mm[0],
    } / 2.0;
    let [from, to] = hole.into_mm;
    let (lower, upper) = if hole.from_lower { (from, to) } else { (to, from) };
    let at = halves.at_mm;
    let along = [hole.along_mm - radius, hole.along_mm + radius];
    let mut whole = vec![rectangle(halves.along, along, [at - lower, at + upper])];
    if let Some([wide, deep]) = hole.sink_mm {
        let sunk = if hole.from_lower { [-width, deep - width] } else { [width - deep, width] };
        let along = [hole.along_mm - wide / 2.0, hole.along_mm + wide / 2.0];
        whole = union(&whole, &[rectangle(halves.along, along, sunk)]);
    }
    let total = |shapes: &[Shape]| -> f64 { shapes.iter().flatten().map(|points| area(points)).sum() };
    let bitten = total(&whole) - total(&difference(&whole, openings));
    (bitten > NOTHING).then(|| {
        format!("what holds the halves at {:.3} along the joint comes into an opening", hole.along_mm)
    })
}
