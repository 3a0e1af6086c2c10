//! Screws and dowels that hold two halves together: which thread finds room, in which half its head lies, and what there is no room for.

use crate::contour::{Frame, Studied};
use crate::figure::Figure;
use crate::joint_places::{Asks, End, Short, Stands, stood, tightest};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::{fastening as own, joint as rules};
use crate::section::World;
use crate::split::{Split, extent};
use crate::threads::by_width;
use job::{Known, Section, Thread};
use package::{JointHole, JointKind, JointRefused};
use remark::Remark;

/// Larger blocks are looked at in steps of so much, mm.
const STEP: f64 = 0.5;
/// Steps that are looked at.
const LARGER: u32 = 60;

/// What holds the halves.
#[derive(Debug)]
pub struct Held {
    /// Screws, then dowels.
    pub holes: Vec<JointHole>,
    /// What there is no room for.
    pub refused: Vec<JointRefused>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// A screw with its dowel, and the half that its head lies in.
#[derive(Debug, Clone, Copy)]
struct Pair<'a> {
    thread: &'a Thread,
    from_lower: bool,
}

/// Sizes of a screw and of a dowel of the same diameter.
struct Sizes {
    diameter: Figure,
    pitch: Figure,
    clear: Figure,
    tap: Figure,
    ream: Figure,
    sink: [Figure; 2],
    screw: [Figure; 2],
    dowel: [Figure; 2],
    halves: [Figure; 2],
}

/// Places for two screws and two dowels: the widest thread up to the one by the block's width that finds room.
pub fn held(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (split, studied): (&Split, &[Studied]),
    frame: Frame,
) -> Held {
    let joint = Joint::of(section, split, studied, frame);
    let widest = by_width(section);
    let threads: Vec<&Thread> = world.facts.threads().iter().collect();
    let upto = threads.iter().position(|thread| thread.name == widest).map_or(threads.len(), |i| i + 1);
    let pairs = threads[..upto].iter().rev().flat_map(|thread| {
        let [lower, upper] = joint.thick;
        // The head in the thicker half, where there is metal under it.
        let first = lower >= upper;
        [first, !first].map(|from_lower| Pair { thread, from_lower })
    });
    let pairs: Vec<Pair> = pairs.collect();
    let silent = &mut Reckoning::silent();
    let room = |silent: &mut Reckoning, pair: &Pair| joint.room(&Sizes::of(silent, "", *pair), *pair);
    let fitting = pairs.iter().find(|pair| room(silent, pair) >= 0.0);
    // The finest comes nearest where none fits.
    let nearest = pairs
        .iter()
        .max_by(|a, b| room(&mut Reckoning::silent(), a).total_cmp(&room(&mut Reckoning::silent(), b)));
    let Some(pair) = fitting.or(nearest) else {
        return Held { holes: Vec::new(), refused: Vec::new(), remarks: Vec::new() };
    };
    let head = format!("{}.halves.", section.id);
    let sizes = Sizes::of(reckoning, &head, *pair);
    if fitting.is_some() {
        return Held {
            holes: joint.holes(reckoning, &head, *pair, &sizes),
            refused: Vec::new(),
            remarks: Vec::new(),
        };
    }
    let (refused, remark) = joint.refused(reckoning, section, (&head, *pair), &sizes);
    Held { holes: Vec::new(), refused: vec![refused], remarks: vec![remark] }
}

impl Sizes {
    fn of(reckoning: &mut Reckoning, head: &str, pair: Pair) -> Self {
        let named = Known { value: pair.thread.diameter, from: pair.thread.pitch.from.clone() };
        let mut known = |name: &str, meaning, symbol, of: &Known<f64>| {
            reckoning.known(At(head, name), what(meaning, symbol, "mm"), of)
        };
        let diameter =
            known("diameter_mm", "nominal diameter of screws and dowels through the joint", "d", &named);
        let pitch = known("pitch_mm", "pitch of the screws through the joint", "P", &pair.thread.pitch);
        let clear = known("clear_mm", "hole that the screw passes", "d_h", &pair.thread.clear);
        let tap = reckoning.rule(At(head, "tap_drill_mm"), &own::TAP_DRILL, [diameter, pitch]);
        let ream = reckoning.rule(At(head, "ream_drill_mm"), &own::REAM_DRILL, [diameter]);
        let sink = reckoning.rule(At(head, "sink_mm"), &rules::SINK, [diameter]);
        let deep = reckoning.rule(At(head, "sink_depth_mm"), &rules::SINK_DEPTH, [diameter]);
        let to_opening = reckoning.rule(At(head, "to_opening_mm"), &own::TO_OPENING, [diameter]);
        let head_half = reckoning.rule(At(head, "head_half_mm"), &rules::HEAD_HALF, [deep, diameter]);
        let thread_half = reckoning.rule(At(head, "thread_half_mm"), &rules::THREAD_HALF, [diameter]);
        Self {
            diameter,
            pitch,
            clear,
            tap,
            ream,
            sink: [sink, deep],
            screw: [
                reckoning.rule(At(head, "screw_to_side_mm"), &rules::TO_SIDE, [diameter, sink]),
                to_opening,
            ],
            dowel: [
                reckoning.rule(At(head, "dowel_to_side_mm"), &rules::TO_SIDE, [diameter, diameter]),
                to_opening,
            ],
            halves: [head_half, thread_half],
        }
    }

    fn asks(&self) -> [Asks; 2] {
        let asks = |wide: Figure, [side, opening]: [Figure; 2]| Asks {
            wide: wide.value,
            to_side: side.value,
            to_opening: wide.value / 2.0 + opening.value,
        };
        [asks(self.clear, self.screw), asks(self.diameter, self.dowel)]
    }
}

/// The joint as holes through it see it.
struct Joint<'a> {
    split: &'a Split,
    /// Half the length of the joint.
    half: f64,
    height: f64,
    /// Thickness of the half at smaller coordinates, and of the other.
    thick: [f64; 2],
    /// Outlines of all openings with what they grow at the back, and bores as their bounds along and across.
    openings: Vec<(&'a outline::Outline, f64)>,
    bores: Vec<[[f64; 2]; 2]>,
}

impl<'a> Joint<'a> {
    fn of(section: &Section, split: &'a Split, studied: &'a [Studied], frame: Frame) -> Self {
        let [x, y] = [section.size[0].value, section.size[1].value];
        let (length, width) = match split.along {
            job::Along::X => (x, y),
            job::Along::Y => (y, x),
        };
        let grows = |one: &Studied| {
            let own = one.burn.frame(frame);
            (frame.height.value - own.land.value).max(0.0) * frame.relief.value.to_radians().tan()
        };
        let bore = |one: &Studied| {
            let bore = one.burn.bore.as_ref()?;
            let about =
                |middle: f64| [middle - bore.diameter.value / 2.0, middle + bore.diameter.value / 2.0];
            let (along, across) = split.both(bore.centre);
            Some([about(along), about(across)])
        };
        Self {
            split,
            half: length / 2.0,
            height: frame.height.value,
            thick: [width / 2.0 + split.at, width / 2.0 - split.at],
            openings: studied.iter().map(|one| (&one.opening.target, grows(one))).collect(),
            bores: studied.iter().filter_map(bore).collect(),
        }
    }

    /// How far openings and bores reach along the joint, between two places across it.
    fn taken(&self, band: [f64; 2]) -> Option<[f64; 2]> {
        let openings = self.openings.iter().filter_map(|(outline, grows)| {
            let [from, to] = extent(outline, self.split.along, [band[0] - grows, band[1] + grows])?;
            Some([from - grows, to + grows])
        });
        let bores = self.bores.iter().filter(|[_, across]| across[0] <= band[1] && across[1] >= band[0]);
        openings.chain(bores.map(|[along, _]| *along)).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
    }

    /// Both ends, from the block's sides inwards.
    fn ends(&self, sizes: &Sizes, pair: Pair) -> [End; 2] {
        let (outer, inner) = (-(self.thick[0] - self.split.at), self.thick[1] + self.split.at);
        let all = self.taken([outer, inner]).unwrap_or([0.0, 0.0]);
        // The head's sink is wider than the rest, and only as deep as it is.
        let reach = sizes.sink[1].value + sizes.screw[1].value;
        let band = if pair.from_lower { [outer, outer + reach] } else { [inner - reach, inner] };
        let wider = (sizes.sink[0].value - sizes.clear.value) / 2.0;
        let near = self.taken(band).map_or(all, |[from, to]| [from - wider, to + wider]);
        let end = |screw: f64, dowel: f64| End { screw: self.half + screw, dowel: self.half + dowel };
        [end(all[0].min(near[0]), all[0]), end(-all[1].max(near[1]), -all[1])]
    }

    /// What is left over in the thickness of the halves.
    fn in_thickness(&self, sizes: &Sizes, pair: Pair) -> f64 {
        let [head, thread] = self.thickness(pair);
        (head - sizes.halves[0].value).min(thread - sizes.halves[1].value)
    }

    /// Thickness of the half with the head, and of the other.
    fn thickness(&self, pair: Pair) -> [f64; 2] {
        let [lower, upper] = self.thick;
        if pair.from_lower { [lower, upper] } else { [upper, lower] }
    }

    fn places(&self, sizes: &Sizes, pair: Pair) -> [[Stands; 2]; 2] {
        let [screw, dowel] = sizes.asks();
        self.ends(sizes, pair).map(|end| stood(end, self.height, screw, dowel))
    }

    /// Room where all of it is tightest.
    fn room(&self, sizes: &Sizes, pair: Pair) -> f64 {
        let places = self.places(sizes, pair);
        places.iter().flatten().map(|one| one.room).fold(self.in_thickness(sizes, pair), f64::min)
    }

    fn holes(&self, reckoning: &mut Reckoning, head: &str, pair: Pair, sizes: &Sizes) -> Vec<JointHole> {
        let places = self.places(sizes, pair);
        let [lower, upper] = places;
        let along = |end: usize, stands: Stands| match end {
            0 => stands.out - self.half,
            _ => self.half - stands.out,
        };
        let each = [lower[0], upper[0], lower[1], upper[1]];
        let room = self.in_thickness(sizes, pair);
        each.into_iter()
            .enumerate()
            .map(|(i, stands)| {
                let key = format!("{head}holes.{i}.");
                let kind = if i < 2 { JointKind::Screw } else { JointKind::Dowel };
                let at = along(i % 2, stands);
                self.written(
                    reckoning,
                    (&key, kind),
                    (pair, sizes),
                    (at, Stands { room: stands.room.min(room), ..stands }),
                )
            })
            .collect()
    }

    fn written(
        &self,
        reckoning: &mut Reckoning,
        (key, kind): (&str, JointKind),
        (pair, sizes): (Pair, &Sizes),
        (along, stands): (f64, Stands),
    ) -> JointHole {
        let screw = kind == JointKind::Screw;
        let mut say = |name: &str, meaning, value, how: &str, of: &[(&str, Figure)]| {
            reckoning.measured(At(key, name), what(meaning, "b", "mm"), value, how, of).value
        };
        let d = ("d", sizes.diameter);
        let stood = "beyond the openings of this end, round tenths, room shared evenly up to 1";
        let along_mm = say("along_mm", "place of the axis along the joint", along, stood, &[d]);
        let below_face_mm = say("below_face_mm", "axis below the cutting face", stands.below, stood, &[d]);
        let same = "as for all holes of its kind";
        let diameter_mm = say("diameter_mm", "nominal diameter", sizes.diameter.value, same, &[d]);
        let drill = if screw { sizes.tap } else { sizes.ream };
        let drill_mm = say("drill_mm", "drill before tapping or reaming", drill.value, same, &[("b", drill)]);
        let mut of_screw =
            |name: &str, meaning, of: Figure| screw.then(|| say(name, meaning, of.value, same, &[("b", of)]));
        let clear_mm = of_screw("clear_mm", "hole that the screw passes", sizes.clear);
        let wide = of_screw("sink_mm.0", "diameter of the sink", sizes.sink[0]);
        let deep = of_screw("sink_mm.1", "depth of the sink", sizes.sink[1]);
        let [head, other] = self.thickness(pair);
        let into = [head, (2.0 * sizes.diameter.value).min(other)];
        let how = "through the half that it goes in from; two diameters into the other, or through it";
        let into_mm = [0, 1].map(|i| {
            let name = format!("into_mm.{i}");
            say(&name, "how deep it goes into this half from the joint", into[i], how, &[d])
        });
        let under = match screw {
            true => (own::TAPPED_DRILLED.of)([into[1], sizes.pitch.value, drill.value]),
            false => (own::REAMED_DRILLED.of)([into[1], drill.value]),
        };
        let how = "as under any blind thread or dowel, or through";
        let point = under.min(other);
        let drill_depth_mm =
            say("drill_depth_mm", "to the drill's point from the joint", point, how, &[d, ("b", drill)]);
        let how = "half the dowel's diameter";
        let half = sizes.diameter.value / 2.0;
        let push_out_mm =
            (!screw).then(|| say("push_out_mm", "drilled on to push it out by", half, how, &[d]));
        let longest = head - sizes.sink[1].value + into[1];
        let how = "half with the head less the sink, and what is tapped";
        let longest_mm = screw.then(|| {
            say("longest_mm", "longest screw, from under its head", longest, how, &[("z_s", sizes.sink[1])])
        });
        let how = "exact distances to faces, sides, openings and the next hole, and thickness of the halves, less what each asks for";
        let asks = if screw { sizes.screw } else { sizes.dowel };
        let of = [("a_j", asks[0]), ("a_o", asks[1]), ("t_h", sizes.halves[0]), ("t_t", sizes.halves[1])];
        let room_mm =
            say("room_mm", "metal beyond what is asked for where it is tightest", stands.room, how, &of);
        JointHole {
            kind,
            thread: screw.then(|| pair.thread.name.clone()),
            along_mm,
            below_face_mm,
            diameter_mm,
            from_lower: pair.from_lower,
            drill_mm,
            clear_mm,
            sink_mm: wide.zip(deep).map(|(wide, deep)| [wide, deep]),
            into_mm,
            drill_depth_mm,
            push_out_mm,
            longest_mm,
            room_mm,
        }
    }

    /// Blocks that would have room: longer, wider or higher alone.
    fn larger(&self, sizes: &Sizes, pair: Pair) -> Vec<String> {
        let fits = |joint: &Joint| joint.room(sizes, pair) >= 0.0;
        let steps = || (1..=LARGER).map(|k| f64::from(k) * STEP);
        let grown = |half: f64, across: f64, high: f64| Joint {
            half: self.half + half,
            thick: self.thick.map(|one| one + across),
            height: self.height + high,
            openings: self.openings.clone(),
            bores: self.bores.clone(),
            ..*self
        };
        let long = steps().map(|by| grown(by / 2.0, 0.0, 0.0)).find(fits);
        let wide = steps().map(|by| grown(0.0, by / 2.0, 0.0)).find(fits);
        let high = steps().map(|by| grown(0.0, 0.0, by)).find(fits);
        let round = |by: f64| (by * 1e6).round() / 1e6;
        let said = |by: f64, way: &str| format!("a block {} {way}", round(by));
        let alone: Vec<String> = [
            long.map(|one| said(2.0 * one.half, "long along the joint")),
            wide.map(|one| said(one.thick[0] + one.thick[1], "wide across the joint")),
            high.map(|one| said(one.height, "high")),
        ]
        .into_iter()
        .flatten()
        .collect();
        // Where none alone does it, all together.
        let all = steps().map(|by| grown(by / 2.0, by / 2.0, by)).find(|one| alone.is_empty() && fits(one));
        let all = all.map(|one| {
            let wide = round(one.thick[0] + one.thick[1]);
            format!(
                "a block {} long along the joint, {wide} wide and {} high",
                round(2.0 * one.half),
                round(one.height)
            )
        });
        alone.into_iter().chain(all).collect()
    }

    /// The finest screws find no room: what is short, and what would help.
    fn refused(
        &self,
        reckoning: &mut Reckoning,
        section: &Section,
        (head, pair): (&str, Pair),
        sizes: &Sizes,
    ) -> (JointRefused, Remark) {
        let [head_half, thread_half] = self.thickness(pair);
        let [screw, dowel] = sizes.asks();
        let at_end = |end: &End| {
            let (short, have, need) = tightest(*end, self.height, screw, dowel);
            let bound = match short {
                Short::Length => "length of joint between the block's side and the openings",
                Short::Height => "height of the block",
            };
            (bound, have, need)
        };
        let thickness = [
            ("thickness of the half with the head", head_half, sizes.halves[0].value),
            ("thickness of the half with the thread", thread_half, sizes.halves[1].value),
        ];
        let all = self.ends(sizes, pair).iter().map(at_end).chain(thickness).collect::<Vec<_>>();
        let short = |(_, have, need): &(&str, f64, f64)| need - have;
        let worst = all.iter().copied().reduce(|a, b| if short(&b) > short(&a) { b } else { a });
        let (bound, have, need) = worst.unwrap_or(thickness[0]);
        let have = have.max(0.0);
        let key = format!("{head}refused.0.");
        let d = [
            ("d", sizes.diameter),
            ("a_j", sizes.screw[0]),
            ("a_d", sizes.dowel[0]),
            ("a_o", sizes.screw[1]),
            ("d_h", sizes.clear),
            ("t_h", sizes.halves[0]),
            ("t_t", sizes.halves[1]),
        ];
        let mut say = |name, meaning, value, how: &str| {
            reckoning.measured(At(&key, name), what(meaning, "a", "mm"), value, how, &d).value
        };
        let have_mm = say("have_mm", "what there is for the finest screws", have, "exact distance");
        let need_mm = say(
            "need_mm",
            "what is asked for",
            need,
            "distances to side, opening and the next hole, added for screw and dowel as they stand; or thickness",
        );
        let mut cures = self.larger(sizes, pair);
        cures.push(
            "hold the halves by the frame's pocket or a clamp of their own while the wire cuts".to_owned(),
        );
        let message = format!(
            "section `{}`: no room for screws and dowels through its joint, not even {}: {bound} has {have_mm:.2}, needs {need_mm:.2}: short {:.2}",
            section.id,
            pair.thread.name,
            need_mm - have_mm
        );
        let remark = Remark::warning("halves-not-held", message).place(section.place.clone());
        let remark = cures.iter().fold(remark, |remark, cure| remark.cure(cure.clone()));
        (JointRefused { kind: JointKind::Screw, bound: bound.to_owned(), have_mm, need_mm, cures }, remark)
    }
}
