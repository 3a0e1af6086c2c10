//! The holes that a job asks for to fasten a section: threads, dowels, their drills and depths, and the metal they want round them.

use crate::fastening_places::Wanted;
use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::fastening as rules;
use crate::section::World;
use job::{Dowels, Known, Section, Thread, Threaded};

/// Screws of this thread in a block below this width, mm (common practice, no source).
const BY_WIDTH: [(f64, &str); 2] = [(16.0, "M3"), (30.0, "M4")];
/// Screws of wider blocks.
const WIDER: &str = "M5";
/// Screws and dowels, where the job does not say how many.
const PAIR: u32 = 2;

/// What a hole is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A screw from below.
    Screw,
    /// A dowel.
    Dowel,
    /// A screw from the cutting face that lifts the section.
    JackOut,
}

/// Holes of one kind.
#[derive(Debug, Clone)]
pub struct Hole {
    /// What they are for.
    pub kind: Kind,
    /// How many.
    pub count: u32,
    /// Name of their thread.
    pub thread: Option<String>,
    /// Nominal diameter.
    pub diameter: Figure,
    /// Drill.
    pub drill: Figure,
    /// Minor diameter of the thread.
    pub minor: Option<Figure>,
    /// Full thread, or dowel.
    pub depth: Figure,
    /// To the drill's point.
    pub drill_depth: Figure,
    /// Metal between the drill's point and the cutting face, and what is asked for; none: through.
    pub over: Option<[Figure; 2]>,
    /// Bored from the back up to the thread; none: blind.
    pub clear: Option<Figure>,
    /// The widest that it is anywhere.
    pub wide: Figure,
    /// Centre to a side.
    pub to_side: Figure,
    /// Metal to an opening.
    pub to_opening: Figure,
    /// The same for the search.
    pub wanted: Wanted,
}

impl Hole {
    /// As `2 x M3`, with what they are for.
    pub fn words(&self) -> String {
        let what = self.thread.clone().unwrap_or_else(|| format!("{}", self.diameter.value));
        match self.kind {
            Kind::Screw => format!("{} screws {what}", self.count),
            Kind::Dowel => format!("{} dowels {what}", self.count),
            Kind::JackOut => format!("{} x {what} to jack it out by", self.count),
        }
    }
}

/// All that a job asks for: screws, dowels, jack-out threads.
pub fn asked(reckoning: &mut Reckoning, world: World, section: &Section, height: Figure) -> Vec<Hole> {
    let of = |name: &str| format!("{}.fastening.{name}.", section.id);
    let asked = &section.fastening;
    let mut holes = Vec::new();
    if let Some(screws) = &asked.screws
        && let Some(thread) = thread(world, section, screws)
    {
        holes.push(blind(reckoning, &of("screws"), (screws, thread), height));
    }
    if let Some(dowels) = &asked.dowels {
        holes.push(reamed(reckoning, &of("dowels"), dowels, height));
    }
    if let Some(jack_out) = &asked.jack_out
        && let Some(thread) = thread(world, section, jack_out)
    {
        holes.push(through(reckoning, &of("jack_out"), (jack_out, thread), height));
    }
    holes
}

/// The thread that is named, or the one by the width of the block.
fn thread<'a>(world: World<'a>, section: &Section, asked: &Threaded) -> Option<&'a Thread> {
    world.facts.thread(asked.thread.as_ref().map_or(by_width(section), |name| name.value.as_str()))
}

/// Name of the thread by the width of the block.
pub fn by_width(section: &Section) -> &'static str {
    let width = section.size[0].value.min(section.size[1].value);
    BY_WIDTH.iter().find(|(below, _)| width < *below).map_or(WIDER, |row| row.1)
}

/// What a thread is, whatever it is for.
struct Tapped {
    diameter: Figure,
    pitch: Figure,
    minor: Figure,
    drill: Figure,
    depth: Figure,
}

fn tapped(reckoning: &mut Reckoning, head: &str, (asked, thread): (&Threaded, &Thread)) -> Tapped {
    let meaning = what("nominal diameter of the thread", "d", "mm");
    let named = Known { value: thread.diameter, from: thread.pitch.from.clone() };
    let diameter = reckoning.known(At(head, "diameter_mm"), meaning, &named);
    let pitch = reckoning.known(At(head, "pitch_mm"), what("pitch", "P", "mm"), &thread.pitch);
    let minor = reckoning.rule(At(head, "minor_mm"), &rules::MINOR, [diameter, pitch]);
    let drill = reckoning.rule(At(head, "drill_mm"), &rules::TAP_DRILL, [diameter, pitch]);
    let depth = depth(reckoning, head, asked.depth.as_ref(), diameter);
    Tapped { diameter, pitch, minor, drill, depth }
}

fn depth(reckoning: &mut Reckoning, head: &str, asked: Option<&Known<f64>>, diameter: Figure) -> Figure {
    let at = At(head, "depth_mm");
    match asked {
        Some(given) => reckoning.known(at, what("depth that the job states", "l", "mm"), given),
        None => reckoning.rule(at, &rules::DEPTH, [diameter]),
    }
}

/// Metal over a blind hole, and what is asked for.
fn over(
    reckoning: &mut Reckoning,
    head: &str,
    diameter: Figure,
    (height, drill_depth): (Figure, Figure),
) -> [Figure; 2] {
    let have = reckoning.rule(At(head, "over_mm"), &rules::OVER, [height, drill_depth]);
    [have, reckoning.rule(At(head, "to_face_mm"), &rules::TO_FACE, [diameter])]
}

/// The metal that a hole wants round it.
fn round(reckoning: &mut Reckoning, head: &str, diameter: Figure, wide: Figure) -> (Figure, Figure, Wanted) {
    let to_side = reckoning.rule(At(head, "to_side_mm"), &rules::TO_SIDE, [diameter]);
    let to_opening = reckoning.rule(At(head, "to_opening_mm"), &rules::TO_OPENING, [diameter]);
    let wanted = Wanted { diameter: wide.value, to_side: to_side.value, to_opening: to_opening.value };
    (to_side, to_opening, wanted)
}

fn blind(reckoning: &mut Reckoning, head: &str, of: (&Threaded, &Thread), height: Figure) -> Hole {
    let Tapped { diameter, pitch, minor, drill, depth } = tapped(reckoning, head, of);
    let drill_depth =
        reckoning.rule(At(head, "drill_depth_mm"), &rules::TAPPED_DRILLED, [depth, pitch, drill]);
    let over = over(reckoning, head, diameter, (height, drill_depth));
    let (to_side, to_opening, wanted) = round(reckoning, head, diameter, diameter);
    Hole {
        kind: Kind::Screw,
        count: of.0.count.as_ref().map_or(PAIR, |count| count.value),
        thread: Some(of.1.name.clone()),
        diameter,
        drill,
        minor: Some(minor),
        depth,
        drill_depth,
        over: Some(over),
        clear: None,
        wide: diameter,
        to_side,
        to_opening,
        wanted,
    }
}

fn through(reckoning: &mut Reckoning, head: &str, of: (&Threaded, &Thread), height: Figure) -> Hole {
    let Tapped { diameter, minor, drill, depth, .. } = tapped(reckoning, head, of);
    let meaning = what("bored from the back up to the thread, for the screw to pass", "d_h", "mm");
    let clear = reckoning.known(At(head, "clear_mm"), meaning, &of.1.clear);
    let (to_side, to_opening, wanted) = round(reckoning, head, diameter, clear);
    Hole {
        kind: Kind::JackOut,
        count: of.0.count.as_ref().map_or(1, |count| count.value),
        thread: Some(of.1.name.clone()),
        diameter,
        drill,
        minor: Some(minor),
        depth,
        drill_depth: height,
        over: None,
        clear: Some(clear),
        wide: clear,
        to_side,
        to_opening,
        wanted,
    }
}

fn reamed(reckoning: &mut Reckoning, head: &str, asked: &Dowels, height: Figure) -> Hole {
    let meaning = what("diameter of the dowel", "d", "mm");
    let diameter = reckoning.known(At(head, "diameter_mm"), meaning, &asked.diameter);
    let drill = reckoning.rule(At(head, "drill_mm"), &rules::REAM_DRILL, [diameter]);
    let depth = depth(reckoning, head, asked.depth.as_ref(), diameter);
    let drill_depth = reckoning.rule(At(head, "drill_depth_mm"), &rules::REAMED_DRILLED, [depth, drill]);
    let over = over(reckoning, head, diameter, (height, drill_depth));
    let (to_side, to_opening, wanted) = round(reckoning, head, diameter, diameter);
    Hole {
        kind: Kind::Dowel,
        count: asked.count.as_ref().map_or(PAIR, |count| count.value),
        thread: None,
        diameter,
        drill,
        minor: None,
        depth,
        drill_depth,
        over: Some(over),
        clear: None,
        wide: diameter,
        to_side,
        to_opening,
        wanted,
    }
}
