//! A section in two halves as it is published: its joint, what holds the halves, and the order of work with its cautions.

use crate::contour::{Decided, Frame, Studied};
use crate::joint;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::joint as rules;
use crate::section::World;
use crate::section_strength;
use crate::split::{self, Split};
use job::{Along, Cut, Edge, Section};
use package::{self as published, Core, Halves, StartKind};
use remark::Remark;

/// What grinding asks for.
const CAUTIONS: [&str; 2] = [
    "Grinding: ring-test each wheel before it is mounted (29 CFR 1910.215), keep its guard on and your eyes covered.",
    "Half-rounds have sharp edges. Local rules and the qualified person on site decide.",
];

/// The entry, and what a person should know.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    split: Option<&Split>,
    (studied, decided): (&[Studied], &[Decided]),
    frame: Frame,
) -> (Option<Halves>, Vec<Remark>) {
    let Some(split) = split else { return (None, Vec::new()) };
    let held = joint::held(reckoning, world, section, (split, studied), frame);
    let openings: Vec<_> = studied.iter().map(|one| &one.opening).collect();
    let mut remarks = held.remarks;
    remarks.extend(split.remarks(section, &openings));
    let opens_n = opens(reckoning, world, section, (split, studied), frame);
    remarks.push(line_on_the_edge(section, split, opens_n));
    remarks.extend(decided.iter().filter_map(|one| comes_loose(section, one)));
    let over = |i: &usize| split.over(*i).is_some();
    let edges = (0..section.edges.len()).filter(over).map(|i| section.edges[i].id.clone()).collect();
    let order_of_work = order_of_work(section, split, decided, &held.holes);
    let halves = Halves {
        along: split::published(split.along),
        at_mm: split.at,
        edges,
        holes: held.holes,
        refused: held.refused,
        opens_n,
        cautions: CAUTIONS.map(str::to_owned).to_vec(),
        order_of_work,
    };
    (Some(halves), remarks)
}

/// What pushes the halves apart at all openings over the joint; none where the sheet gives no force.
fn opens(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (split, studied): (&Split, &[Studied]),
    frame: Frame,
) -> Option<f64> {
    let over = |(i, edge): (usize, &Edge)| {
        split.over(i).filter(|_| edge.cut.value != Cut::Finished).map(|over| (i, over))
    };
    let stamps: Vec<_> = section.edges.iter().enumerate().filter_map(over).collect();
    if stamps.is_empty() {
        return None;
    }
    let [spreading, thickness] = section_strength::spreading(reckoning, world, section)?;
    let mut keys = Vec::new();
    let mut sum = 0.0;
    for (i, over) in stamps {
        let key = format!("{}.{}.joint.", section.id, section.edges[i].id);
        let meaning = what("length of joint that lies in the opening", "b", "mm");
        let how = "between the two places where the joint crosses the finished edge";
        let length = reckoning.measured(At(&key, "length_mm"), meaning, over.run[1] - over.run[0], how, &[]);
        let land = studied[i].burn.frame(frame).land;
        sum += reckoning.rule(At(&key, "opens_n"), &rules::OPENS, [spreading, thickness, land, length]).value;
        keys.push(format!("{key}opens_n"));
    }
    let meaning = what("force that pushes the halves apart while the die works", "F_o", "N");
    let at = At("", &format!("{}.halves.opens_n", section.id));
    Some(reckoning.sum(at, meaning, sum, "sum over the openings on the joint", &keys).value)
}

/// The joint runs through the cutting edge.
fn line_on_the_edge(section: &Section, split: &Split, opens_n: Option<f64>) -> Remark {
    let (along, across) = names(split);
    let load = opens_n.map_or(String::new(), |n| format!(", by up to {:.0} N", n.ceil()));
    let message = format!(
        "section `{}` is made in two halves, joined along {along} at {across} {:.3}: the joint crosses the cutting edge, where it may leave a fine line on the part's edge, and is pushed apart under load{load}; strength is not reckoned across a joint, the pocket must hold the halves together",
        section.id, split.at
    );
    Remark::warning("joint-in-edge", message).place(section.place.clone())
}

/// The joint parts a core: what no tab holds is loose before the wire has come round.
fn comes_loose(section: &Section, one: &Decided) -> Option<Remark> {
    one.contour.start.as_ref()?.half_round?;
    let loose = one.contour.cores.iter().filter(|core| !core.held && core.mass_g >= Core::FALLS_FROM_G);
    let heaviest = loose.map(|core| core.mass_g).reduce(f64::max)?;
    let message = format!(
        "edge `{}`: the joint parts its core, and a piece of {heaviest:.2} g is loose before the main cut has come round: stay by the machine, and stop where the wire crosses the joint to take it out",
        one.contour.id
    );
    Some(Remark::warning("core-parted", message).place(section.place.clone()))
}

/// Letters of the axes along a joint and across it.
fn names(split: &Split) -> (&'static str, &'static str) {
    match split.along {
        Along::X => ("X", "Y"),
        Along::Y => ("Y", "X"),
    }
}

fn order_of_work(
    section: &Section,
    split: &Split,
    decided: &[Decided],
    holes: &[published::JointHole],
) -> Vec<String> {
    let (along, across) = names(split);
    let mut steps = vec![format!(
        "Soft: make both halves with stock on all faces, the joint's too. Clamp them together and drill, tap, sink and ream through the joint: {}. Screws, dowels and threads of the section itself as well.",
        said(holes, along)
    )];
    steps.push(format!("Harden and temper both halves together, to {} HRC.", section.hardness_hrc.value));
    steps.push(format!(
        "Grind both faces of the joint flat and square to the cutting face; joined they meet at {across} {:.3}.",
        split.at
    ));
    steps.extend(decided.iter().filter_map(|one| ground(one, along)));
    steps.push("Clean, pin and screw the halves together. Do not take them apart from here on: every later face and opening is true to this joint.".to_owned());
    steps.extend(decided.iter().filter_map(gauged));
    steps.push(
        "Grind the outside of the joined block to its size, faces square, and mark the datum corner."
            .to_owned(),
    );
    if decided
        .iter()
        .any(|one| one.contour.start.as_ref().is_some_and(|start| start.kind == StartKind::Burned))
    {
        steps.push("Burn the start holes of the openings that do not lie over the joint.".to_owned());
    }
    steps.push("Thread the wire through the half-rounds and run the wire program.".to_owned());
    steps
}

fn said(holes: &[published::JointHole], along: &str) -> String {
    if holes.is_empty() {
        return "no place found, see the remarks".to_owned();
    }
    let one = |hole: &published::JointHole| {
        let what = match &hole.thread {
            Some(thread) => format!("screw {thread}"),
            None => format!("dowel {}", hole.diameter_mm),
        };
        format!("{what} at {along} {:+.1}, {:.1} below the face", hole.along_mm, hole.below_face_mm)
    };
    holes.iter().map(one).collect::<Vec<_>>().join("; ")
}

/// Grinding the half-rounds of one opening.
fn ground(one: &Decided, along: &str) -> Option<String> {
    let start = one.contour.start.as_ref()?;
    let half = start.half_round?;
    let at = if along == "X" { start.x_mm } else { start.y_mm };
    Some(format!(
        "Edge {}: dress a wheel to radius {}, and grind a half-round {} deep (plus or minus {}) into the joint's face of each half through the whole height, at {along} {at:+.4}, both from the same stop.",
        one.contour.id, half.wheel_radius_mm, half.depth_mm, half.depth_error_mm
    ))
}

/// Checking the hole that they make.
fn gauged(one: &Decided) -> Option<String> {
    let start = one.contour.start.as_ref()?;
    let half = start.half_round?;
    // Rounded down: the pin must not be wider than what is sure to be open.
    let pin = (start.hole_diameter_mm.exit * 1e3 + 1e-9).floor() / 1e3;
    Some(format!(
        "Edge {}: a pin of {pin:.3} must go through the joined hole, and the halves stand no more than {} beside each other; if not, clean and join again.",
        one.contour.id, half.mismatch_mm
    ))
}
