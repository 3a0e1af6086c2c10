//! A section in two halves as it is published: its joint, what holds the halves, and the order of work with its cautions.

use crate::contour::{Decided, Frame, Studied};
use crate::joint;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::joint as rules;
use crate::section::World;
use crate::section_strength;
use crate::split::{self, Below, Split};
use job::{Along, Cut, Edge, Section};
use package::{self as published, Core, HalfRound, Halves, JointHole, JointKind, StartKind};
use remark::Remark;

/// What grinding asks for.
const CAUTIONS: [&str; 2] = [
    "Grinding: ring-test each wheel before it is mounted (29 CFR 1910.215), keep its guard on and your eyes covered.",
    "Half-rounds have sharp edges. Local rules and the qualified person on site decide.",
];

/// The entry, and what a person should know.
///
/// # Errors
/// A joint that comes too near to an opening beside it.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    split: Option<&Split>,
    (studied, decided): (&[Studied], &[Decided]),
    frame: Frame,
) -> Result<(Option<Halves>, Vec<Remark>), Vec<Remark>> {
    let Some(split) = split else { return Ok((None, Vec::new())) };
    let held = joint::held(reckoning, world, section, (split, studied), frame);
    let below = |one: &Studied| {
        let own = one.burn.frame(frame);
        let grown = (frame.height.value - own.land.value).max(0.0) * frame.relief.value.to_radians().tan();
        Below { grown, bore: one.burn.bore.map(|bore| (bore.centre, bore.diameter.value / 2.0)) }
    };
    let openings: Vec<_> = studied.iter().map(|one| (&one.opening, below(one))).collect();
    let mut remarks = held.remarks;
    remarks.extend(split.beside(section, &openings)?);
    let opens_n = opens(reckoning, world, section, (split, studied), frame);
    remarks.push(line_on_the_edge(section, split, opens_n));
    remarks.extend(decided.iter().filter_map(|one| parted(section, one)));
    let over = |i: &usize| split.over(*i).is_some();
    let edges = (0..section.edges.len()).filter(over).map(|i| section.edges[i].id.clone()).collect();
    let work = Work { world, section, split, decided, holes: &held.holes };
    let order_of_work = work.order();
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
    Ok((Some(halves), remarks))
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
fn comes_loose(one: &Decided) -> Option<f64> {
    one.contour.start.as_ref()?.half_round?;
    let loose = one.contour.cores.iter().filter(|core| !core.held && core.mass_g >= Core::FALLS_FROM_G);
    loose.map(|core| core.mass_g).reduce(f64::max)
}

fn parted(section: &Section, one: &Decided) -> Option<Remark> {
    let heaviest = comes_loose(one)?;
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

/// What the order of work speaks of.
struct Work<'a> {
    world: World<'a>,
    section: &'a Section,
    split: &'a Split,
    decided: &'a [Decided],
    holes: &'a [JointHole],
}

impl Work<'_> {
    /// What is done after what; nothing where an opening cannot be made.
    fn order(&self) -> Vec<String> {
        if self.decided.iter().any(|one| one.cut.is_none()) {
            return Vec::new();
        }
        let hardness = self.section.hardness_hrc.value;
        let mut steps = vec![self.soft()];
        steps.extend(self.drilled());
        steps.push(format!(
            "Harden and temper both halves in one charge, apart from each other, to {hardness} HRC."
        ));
        steps.push(format!(
            "Grind on each half the cutting face, and square to it the end at smaller {}: from these both halves are measured.",
            self.along()
        ));
        steps.push(format!(
            "Grind both faces of the joint flat, square to cutting face and end; joined they meet at {} {:.3}.",
            self.across(),
            self.split.at
        ));
        steps.extend(self.each(|half, start, id| self.ground(half, start, id)));
        steps.push("Demagnetise and clean; stone burrs off the joint's faces, never off the edges of the half-rounds.".to_owned());
        steps.push(self.joined());
        steps.extend(self.each(|half, _, id| Some(gauged(half, id))));
        steps.push(self.fixed());
        steps.push(self.outside());
        steps.extend(self.burned());
        steps.extend(self.each(|_, start, id| self.hold(start, id)));
        steps.push("Earth both halves on the wire machine, thread the wire through the half-rounds and run the wire program.".to_owned());
        steps.extend(self.decided.iter().filter_map(stopped));
        steps
    }

    fn along(&self) -> &'static str {
        names(self.split).0
    }

    fn across(&self) -> &'static str {
        names(self.split).1
    }

    /// A step for each hole that is ground.
    fn each(&self, step: impl Fn(&HalfRound, &published::Start, &str) -> Option<String>) -> Vec<String> {
        let of = |one: &Decided| {
            let start = one.contour.start.as_ref()?;
            step(start.half_round.as_ref()?, start, &one.contour.id)
        };
        self.decided.iter().filter_map(of).collect()
    }

    /// Sides of the finished block: along the joint and across it.
    fn sides(&self) -> [f64; 2] {
        let [x, y] = [self.section.size[0].value, self.section.size[1].value];
        if self.split.along == Along::X { [x, y] } else { [y, x] }
    }

    fn soft(&self) -> String {
        let stock = self.world.shop.half_round.stock.value;
        format!(
            "Soft: make both halves with {stock} of stock on every face, the joint's too. Places and depths here are those of the finished block: to each that is counted from a face or from the joint add its stock. Drill and tap what holds the section in its frame as well."
        )
    }

    fn drilled(&self) -> Vec<String> {
        let half = |lower: bool| {
            format!("the half at {} {}", if lower { "smaller" } else { "greater" }, self.across())
        };
        let places = |kind: JointKind| {
            let at = |hole: &JointHole| {
                format!("{} {:+.1}, {:.1} below the face", self.along(), hole.along_mm, hole.below_face_mm)
            };
            self.holes.iter().filter(|hole| hole.kind == kind).map(at).collect::<Vec<_>>().join("; ")
        };
        let step = |kind: JointKind| {
            let hole = self.holes.iter().find(|hole| hole.kind == kind)?;
            let (own, other) = (half(hole.from_lower), half(!hole.from_lower));
            let at = places(kind);
            Some(match (&hole.thread, hole.clear_mm.zip(hole.sink_mm)) {
                (Some(thread), Some((clear, [wide, deep]))) => format!(
                    "Clamp the halves. Screws {thread} at {at}: in {own} drill {clear} through and sink {wide} wide, {deep} below the finished side; in {other} drill {} to {:.1} from the joint, tap {:.1}. Take a screw of {:.1} or the next shorter.",
                    hole.drill_mm,
                    hole.drill_depth_mm,
                    hole.into_mm[1],
                    hole.longest_mm.unwrap_or(0.0)
                ),
                _ => format!(
                    "Clamped still: dowels {} at {at}: from {own} drill {} through it and {:.1} into {other}, with {} on through to push them out by; ream under size, for honing after hardening.",
                    hole.diameter_mm,
                    hole.drill_mm,
                    hole.drill_depth_mm,
                    hole.push_out_mm.unwrap_or(0.0)
                ),
            })
        };
        [JointKind::Screw, JointKind::Dowel].into_iter().filter_map(step).collect()
    }

    fn ground(&self, half: &HalfRound, start: &published::Start, id: &str) -> Option<String> {
        let at = self.place(start);
        let from = at + self.sides()[0] / 2.0;
        Some(format!(
            "Edge {id}: dress a wheel to radius {} and grind a half-round {} deep (plus or minus {}) into the joint's face of each half through the whole height, its middle {from:.4} from the finished end at smaller {} ({} {at:+.4}; add the stock that is still on that end), both halves from that same end. Measure each depth before joining.",
            half.wheel_radius_mm,
            half.depth_mm,
            half.depth_error_mm,
            self.along(),
            self.along()
        ))
    }

    fn place(&self, start: &published::Start) -> f64 {
        if self.split.along == Along::X { start.x_mm } else { start.y_mm }
    }

    fn joined(&self) -> String {
        let by = match self.holes.is_empty() {
            true => "clamp them",
            false => "draw the screws home",
        };
        format!("Set the halves to each other by a pin in the half-round of edge {} and {by}.", self.first())
    }

    /// Once the gauge is content.
    fn fixed(&self) -> String {
        let by = match self.holes.is_empty() {
            true => "Leave the halves clamped for good, by the pocket or a clamp of their own",
            false => "Hone the dowel holes together and fit the dowels",
        };
        format!(
            "{by}. Do not take the halves apart from here on: every later face and opening is true to this joint."
        )
    }

    /// The first edge over the joint.
    fn first(&self) -> &str {
        let ground =
            |one: &&Decided| one.contour.start.as_ref().is_some_and(|start| start.half_round.is_some());
        self.decided.iter().find(ground).map_or("", |one| one.contour.id.as_str())
    }

    /// Grinding the outside from the joint and from a pin in the first half-round.
    fn outside(&self) -> String {
        let [long, wide] = self.sides();
        let at = self.split.at;
        let across = self.across();
        let first = self.decided.iter().find_map(|one| {
            let start = one.contour.start.as_ref().filter(|start| start.half_round.is_some())?;
            Some((self.place(start), &one.contour.id))
        });
        let ends = first.map_or(String::new(), |(place, id)| {
            format!(
                ", and from a pin in the hole of edge {id} to {:.4} at smaller and {:.4} at greater {}",
                long / 2.0 + place,
                long / 2.0 - place,
                self.along()
            )
        });
        format!(
            "Grind the outside: from the joint's line to {:.3} at smaller and {:.3} at greater {across}{ends}, faces square. Mark the datum corner.",
            wide / 2.0 + at,
            wide / 2.0 - at
        )
    }

    fn burned(&self) -> Option<String> {
        let burned =
            |one: &&Decided| one.contour.start.as_ref().is_some_and(|start| start.kind == StartKind::Burned);
        let ids: Vec<&str> = self.decided.iter().filter(burned).map(|one| one.contour.id.as_str()).collect();
        (!ids.is_empty())
            .then(|| format!("Burn the start holes of {}, which do not lie over the joint.", ids.join(", ")))
    }

    fn hold(&self, start: &published::Start, id: &str) -> Option<String> {
        let tight = start.room_mm < self.world.shop.allowance.measure_below.value;
        tight.then(|| format!("HOLD, edge {id}: measure the joined hole at both faces before the wire cuts, as its remark says."))
    }
}

fn gauged(half: &HalfRound, id: &str) -> String {
    // Rounded so that neither pin contradicts its limit.
    let go = (half.pin_mm * 1e3 + 1e-9).floor() / 1e3;
    let no_go = (half.no_go_mm * 1e3 - 1e-9).ceil() / 1e3;
    format!(
        "Edge {id}: a pin of {go:.3} must go through the joined hole, one of {no_go:.3} must not; the halves stand no more than {} beside each other. If not, clean, join and gauge again.",
        half.mismatch_mm
    )
}

/// Where somebody must stop the wire for a part of a core.
fn stopped(one: &Decided) -> Option<String> {
    comes_loose(one).map(|heaviest| {
        format!(
            "STAY, edge {}: a part of its core, up to {heaviest:.2} g, is loose once the wire has crossed the joint for the second time: stop there and take it out by a magnet, never by hand.",
            one.contour.id
        )
    })
}
