//! Holes that fasten the section: the drill's circle with three quarters of the thread round it, or a dowel's circle with its cross.

use crate::column::{Line, SMALL, WORD};
use crate::ink::Ink;
use crate::key::Mark;
use crate::{Item, LineKind, Path, figure};
use package::{FaceUp, FasteningHole, FasteningKind, PlanSection};

/// Draws the holes of a section.
pub fn fastening(ink: &mut Ink, section: &PlanSection) {
    for hole in section.fastening.iter().flat_map(|fastening| &fastening.holes) {
        let at = [hole.x_mm, hole.y_mm];
        let radius = hole.diameter_mm / 2.0;
        match hole.minor_mm {
            Some(minor) => {
                thread(&mut ink.items, at, [minor / 2.0, radius]);
                ink.mark(Mark::Thread);
            }
            None => {
                dowel(&mut ink.items, at, radius);
                ink.mark(Mark::Dowel);
            }
        }
    }
}

/// A thread seen along its axis: minor and nominal radius.
pub fn thread(items: &mut Vec<Item>, [x, y]: [f64; 2], [minor, nominal]: [f64; 2]) {
    items.push(Item::Stroke(LineKind::Plain, Path::circle(x, y, minor)));
    // Half a turn and a quarter; a bulge is the tangent of a quarter of the sweep.
    let quarter = (std::f64::consts::FRAC_PI_8).tan();
    let vertices = vec![[x + nominal, y, 1.0], [x - nominal, y, quarter], [x, y - nominal, 0.0]];
    items.push(Item::Stroke(LineKind::Plain, Path { vertices, closed: false }));
}

/// A dowel seen along its axis.
pub fn dowel(items: &mut Vec<Item>, [x, y]: [f64; 2], radius: f64) {
    items.push(Item::Stroke(LineKind::Plain, Path::circle(x, y, radius)));
    for [dx, dy] in [[radius, 0.0], [0.0, radius]] {
        items.push(Item::Stroke(LineKind::Plain, Path::open(&[[x - dx, y - dy], [x + dx, y + dy]])));
    }
}

/// Lines for the section's list: what is drilled and tapped, where, and what has no room.
pub fn lines(section: &PlanSection) -> Vec<Line> {
    let Some(fastening) = &section.fastening else { return Vec::new() };
    let mut lines = Vec::new();
    for (i, hole) in fastening.holes.iter().enumerate() {
        if i == 0 || fastening.holes[i - 1].kind != hole.kind {
            lines.push((WORD, format!("SOFT: {}", words(hole))));
            lines.push((SMALL, drilled(hole)));
        }
        lines
            .push((SMALL, format!("X {}  Y {}", figure::signed(hole.x_mm, 1), figure::signed(hole.y_mm, 1))));
    }
    for refused in &fastening.refused {
        let short = figure::size(refused.need_mm - refused.have_mm, 2);
        lines.push((WORD, format!("NO ROOM: {}", plural(refused.kind))));
        lines.push((SMALL, format!("{}: short {short}", refused.bound)));
    }
    lines
}

fn words(hole: &FasteningHole) -> String {
    let from = if hole.from_face == FaceUp::Back { "from the back" } else { "from the cutting face" };
    match (&hole.thread, hole.kind) {
        (Some(thread), FasteningKind::JackOut) => format!("jack out {thread}, {from}"),
        (Some(thread), _) => format!("{thread}, {from}"),
        (None, _) => format!("dowel {}, {from}", figure::size(hole.diameter_mm, 2)),
    }
}

fn drilled(hole: &FasteningHole) -> String {
    let (drill, deep) = (figure::size(hole.drill_mm, 2), figure::size(hole.depth_mm, 2));
    match hole.clear_mm {
        Some(clear) => format!("drill {drill} through, tap {deep}, below it {}", figure::size(clear, 2)),
        None => format!("drill {drill}, {} to its point, use {deep}", figure::size(hole.drill_depth_mm, 2)),
    }
}

fn plural(kind: FasteningKind) -> &'static str {
    match kind {
        FasteningKind::Screw => "screws",
        FasteningKind::Dowel => "dowels",
        FasteningKind::JackOut => "jack-out thread",
    }
}
