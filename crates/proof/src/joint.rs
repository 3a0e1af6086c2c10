//! The joint of a section in two halves: that every opening over it starts on it, that it sets no metal loose, and that nothing
//! which holds the halves comes into an opening.

use crate::absurd;
use crate::engine::{Shape, counter_clockwise, difference, grown, union};
use crate::fault::Spot;
use crate::flatten::{Place, closed, sane};
use crate::region::area;
use package::{Along, Contour, FasteningHole, Fault, Halves, JointHole, PlanSection, Side, Start, StartKind};
use std::collections::BTreeSet;

/// Half the width of the slit that stands for a joint, mm: no metal goes with it.
const SLIT: f64 = 1e-5;
/// The slit ends this far beyond what it parts, mm: how far is all the same.
const BEYOND: f64 = 1.0;
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
    let far = contour.target.iter().map(|vertex| vertex[0].abs().max(vertex[1].abs())).fold(0.0, f64::max);
    let at = match half.along {
        Along::X => start.y_mm,
        Along::Y => start.x_mm,
    };
    union(cleared, &[slit(half.along, at, far)])
}

/// What stands for a joint, beyond places that lie this far off the middle.
fn slit(along: Along, at: f64, far: f64) -> Shape {
    let far = far + BEYOND;
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
        [
            hole.along_mm,
            hole.diameter_mm,
            hole.clear_mm.unwrap_or(0.0),
            hole.sink_mm.map_or(0.0, |sink| sink[0]),
            hole.sink_mm.map_or(0.0, |sink| sink[1]),
            hole.into_mm[0],
            hole.into_mm[1],
            hole.below_face_mm,
        ]
    });
    if numbers.chain([halves.at_mm]).any(|value| !sane([value, 0.0])) {
        return vec![fault("a number of its joint is beyond any block".to_owned())];
    }
    let mut messages: Vec<String> = fine().flat_map(|contour| starts(contour, halves)).collect();
    messages.extend(fine().filter_map(|contour| below(section, contour, halves)));
    messages.extend(named(section, halves));
    messages.extend(loose(section, halves));
    let openings: Vec<Shape> =
        fine().filter(|one| one.side == Side::Inside).flat_map(|one| wide(section, one)).collect();
    messages.extend(halves.holes.iter().filter_map(|hole| enters(section, halves, hole, &openings)));
    messages.extend(halves.holes.iter().filter_map(|hole| leaves(section, halves, hole)));
    messages.extend(meet(section, halves));
    messages.into_iter().map(fault).collect()
}

fn is_ground(contour: &Contour) -> bool {
    contour.start.as_ref().is_some_and(|start| start.kind == StartKind::HalfGround)
}

/// Whether a contour starts as its place to the joint asks.
fn starts(contour: &Contour, halves: &Halves) -> Option<String> {
    let start = contour.start.as_ref().filter(|_| contour.wire.is_some())?;
    let id = &contour.id;
    match (over(halves, &closed(&contour.target)), is_ground(contour)) {
        (false, false) => None,
        (true, false) => {
            Some(format!("contour `{id}` lies over the joint, and does not start in half-rounds"))
        }
        (false, true) => {
            Some(format!("contour `{id}` starts in half-rounds, and does not lie over the joint"))
        }
        (true, true) => half_rounds(start, halves).map(|wrong| format!("contour `{id}`: {wrong}")),
    }
}

fn half_rounds(start: &Start, halves: &Halves) -> Option<String> {
    let off = across(halves, [start.x_mm, start.y_mm]).abs();
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
    if by <= 0.0 { target } else { grown(&target, by) }
}

/// A relief or a back bore beside the joint that goes through it on its way down.
fn below(section: &PlanSection, contour: &Contour, halves: &Halves) -> Option<String> {
    if let Some(bore) = contour.start.as_ref().and_then(|start| start.back_bore)
        && across(halves, [bore.x_mm, bore.y_mm]).abs() <= bore.diameter_mm / 2.0
    {
        return Some(format!("the back bore of contour `{}` goes through the joint", contour.id));
    }
    if contour.wire.is_none() || is_ground(contour) || contour.side == Side::Outside {
        return None;
    }
    let edges: Vec<Place> = wide(section, contour).into_iter().flatten().flatten().collect();
    over(halves, &edges).then(|| {
        format!("contour `{}` or its relief goes through the joint and does not start there", contour.id)
    })
}

/// How far a place lies beyond the joint.
fn across(halves: &Halves, place: Place) -> f64 {
    match halves.along {
        Along::X => place[1] - halves.at_mm,
        Along::Y => place[0] - halves.at_mm,
    }
}

/// Whether there are places on either side of the joint.
fn over(halves: &Halves, places: &[Place]) -> bool {
    let any = |side: fn(f64) -> bool| places.iter().any(|place| side(across(halves, *place)));
    any(|side| side >= OFF) && any(|side| side <= -OFF)
}

/// The edges that are named, against those that lie over the joint: all of them, cut or not, and no other.
fn named(section: &PlanSection, halves: &Halves) -> Option<String> {
    let over = |contour: &&Contour| absurd::of(contour).is_empty() && over(halves, &closed(&contour.target));
    let over: BTreeSet<&str> = section.contours.iter().filter(over).map(|one| one.id.as_str()).collect();
    let named: BTreeSet<&str> = halves.edges.iter().map(String::as_str).collect();
    if let Some(id) = over.difference(&named).next() {
        return Some(format!("contour `{id}` lies over the joint and is not named with it"));
    }
    let other = named.difference(&over).next()?;
    Some(format!("`{other}` is named with the joint, and is no contour that lies over it"))
}

/// What holds the halves and does not stay in the block.
fn leaves(section: &PlanSection, halves: &Halves, hole: &JointHole) -> Option<String> {
    let (half, width) = half_sides(section, halves);
    let radius = widest(hole) / 2.0;
    let at = halves.at_mm;
    let thick = if hole.from_lower { [width + at, width - at] } else { [width - at, width + at] };
    let aside = hole.along_mm.abs() + radius >= half;
    let deep = hole.below_face_mm - radius <= 0.0 || hole.below_face_mm + radius >= section.size_mm[2];
    let through = (0..2).any(|i| hole.into_mm[i] > thick[i] + SAME || hole.into_mm[i] <= 0.0);
    let sunk = hole.sink_mm.is_some_and(|[_, sink]| sink >= thick[0]);
    (aside || deep || through || sunk)
        .then(|| format!("what holds the halves at {:.3} along the joint leaves the block", hole.along_mm))
}

fn widest(hole: &JointHole) -> f64 {
    let sink = hole.sink_mm.map_or(0.0, |[wide, _]| wide);
    hole.diameter_mm.max(hole.clear_mm.unwrap_or(0.0)).max(sink)
}

/// Half the length of the joint, and half the block's width across it.
fn half_sides(section: &PlanSection, halves: &Halves) -> (f64, f64) {
    let [x, y] = [section.size_mm[0] / 2.0, section.size_mm[1] / 2.0];
    if halves.along == Along::X { (x, y) } else { (y, x) }
}

/// Two holes through the joint that meet, or one that meets a hole of the section's own fastening.
fn meet(section: &PlanSection, halves: &Halves) -> Option<String> {
    let wide = |hole: &JointHole| hole.diameter_mm.max(hole.clear_mm.unwrap_or(0.0));
    for (i, one) in halves.holes.iter().enumerate() {
        let apart = |other: &JointHole| {
            (one.along_mm - other.along_mm).hypot(one.below_face_mm - other.below_face_mm)
                - (wide(one) + wide(other)) / 2.0
        };
        let mut own = section.fastening.iter().flat_map(|fastening| &fastening.holes);
        let beside = |x: f64, y: f64| if halves.along == Along::X { x } else { y };
        let crosses = |hole: &FasteningHole| {
            let far = (beside(hole.x_mm, hole.y_mm) - one.along_mm).abs();
            far <= (wide(one) + hole.diameter_mm.max(hole.clear_mm.unwrap_or(0.0))) / 2.0
        };
        if halves.holes[i + 1..].iter().any(|other| apart(other) <= 0.0) || own.any(crosses) {
            return Some(format!(
                "what holds the halves at {:.3} along the joint meets another hole",
                one.along_mm
            ));
        }
    }
    None
}

/// The finished block, less openings and joint, is two pieces.
fn loose(section: &PlanSection, halves: &Halves) -> Option<String> {
    let [x, y] = [section.size_mm[0] / 2.0, section.size_mm[1] / 2.0];
    let block = vec![rectangle(Along::X, [-x, x], [-y, y])];
    let inside = section.contours.iter().filter(|one| one.side == Side::Inside && absurd::of(one).is_empty());
    let openings: Vec<Shape> = inside.map(|one| vec![counter_clockwise(closed(&one.target))]).collect();
    let cut = union(&openings, &[slit(halves.along, halves.at_mm, x.max(y))]);
    let pieces = difference(&block, &cut);
    let real =
        pieces.iter().filter(|piece| piece.iter().map(|points| area(points)).sum::<f64>().abs() >= NOTHING);
    let count = real.count();
    (count != 2).then(|| format!("its joint and openings part it in {count} pieces, not in two halves"))
}

/// A screw or dowel that comes into an opening.
fn enters(section: &PlanSection, halves: &Halves, hole: &JointHole, openings: &[Shape]) -> Option<String> {
    let radius = hole.diameter_mm.max(hole.clear_mm.unwrap_or(0.0)) / 2.0;
    let (_, width) = half_sides(section, halves);
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
    (bitten >= NOTHING).then(|| {
        format!("what holds the halves at {:.3} along the joint comes into an opening", hole.along_mm)
    })
}

#[cfg(test)]
mod tests;
