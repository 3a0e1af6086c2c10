//! A section in two halves: its joint across the block, and the page of whoever makes the halves, seen on the joint.

use crate::column::{self, FIGURE, Line, SMALL, WORD};
use crate::ink::Ink;
use crate::key::{self, Mark};
use crate::letters::wrap;
use crate::page::{COLUMN, Page, VIEWS};
use crate::shape::points;
use crate::window::Window;
use crate::{End, Item, LineKind, Path, Text, fastening, figure, foot};
use package::{Along, Contour, Halves, JointHole, JointKind, PlanSection, Start};

/// How far the joint's line stands out of the block, mm of paper.
const OUT: f64 = 6.0;
/// The joint is drawn no larger than this.
const SCALE: f64 = 10.0;
/// Paper for the order of work, mm.
const STEPS: f64 = 78.0;

/// Draws the joint across the block, with what goes through it.
pub fn joint(ink: &mut Ink, section: &PlanSection) {
    let Some(halves) = &section.halves else { return };
    let half = half_length(section, halves) + ink.paper(OUT);
    let at = halves.at_mm;
    ink.stroke(LineKind::Joint, Path::open(&[place(halves, -half, at), place(halves, half, at)]));
    ink.mark(Mark::Joint);
    for hole in &halves.holes {
        let radius = hole.clear_mm.unwrap_or(hole.diameter_mm) / 2.0;
        let [from, to] = hole.into_mm;
        let (lower, upper) = if hole.from_lower { (from, to) } else { (to, from) };
        for along in [hole.along_mm - radius, hole.along_mm + radius] {
            let ends = [place(halves, along, at - lower), place(halves, along, at + upper)];
            ink.stroke(LineKind::Asked, Path::open(&ends));
        }
    }
}

fn place(halves: &Halves, along: f64, across: f64) -> [f64; 2] {
    match halves.along {
        Along::X => [along, across],
        Along::Y => [across, along],
    }
}

fn half_length(section: &PlanSection, halves: &Halves) -> f64 {
    match halves.along {
        Along::X => section.size_mm[0] / 2.0,
        Along::Y => section.size_mm[1] / 2.0,
    }
}

/// The page of the halves; none for a section in one piece.
pub fn page(section: &PlanSection) -> Option<Page> {
    let halves = section.halves.as_ref()?;
    let mut page = Page::new("the halves".into());
    let [x0, y0, x1, y1] = VIEWS;
    let (half, high) = (half_length(section, halves), section.size_mm[2]);
    let paper = [x0, y0 + STEPS + foot::HEIGHT + 2.0, x1, y1];
    let mut window = Window::around(paper, [-half, -high, half, 0.0], 14.0);
    window.scale = window.scale.min(SCALE);
    let mut ink = window.ink();
    face(&mut ink, section, halves);
    let marks = ink.marks.clone();
    page.views.push(window.view("on the joint".into(), ink.items));
    let axis = name(halves.along);
    let words = format!("{}; cutting face on top; 0 is {axis} 0", seen(halves.along));
    foot::plain(&mut page.items, &window, &words);
    steps(&mut page, halves, [x0, y0, x1, y0 + STEPS]);
    let high = key::height(&marks) + 1.0;
    let [left, low, right, top] = COLUMN;
    key::set(&mut page.items, &marks, [left, low, right, low + high], 1);
    column::set(&mut page.items, &says(section, halves), [left, low + high + 2.0, right, top]);
    Some(page)
}

/// Which half's face is seen: with X to the right one looks towards greater Y, with Y to the right towards smaller X.
fn seen(along: Along) -> &'static str {
    match along {
        Along::X => "face of the half at greater Y",
        Along::Y => "face of the half at smaller X",
    }
}

/// The joint's face: half-rounds, openings, screws and dowels.
fn face(ink: &mut Ink, section: &PlanSection, halves: &Halves) {
    let (half, high) = (half_length(section, halves), section.size_mm[2]);
    ink.stroke(LineKind::Plain, Path::rectangle(-half, -high, half, 0.0));
    let tick = ink.paper(3.0);
    ink.stroke(LineKind::Plain, Path::open(&[[0.0, tick / 3.0], [0.0, tick]]));
    for contour in section.contours.iter().filter(|contour| halves.edges.contains(&contour.id)) {
        for along in crossings(contour, halves, ink.scale) {
            ink.stroke(
                LineKind::FinishedEdge,
                Path::open(&[[along, 0.0], [along, -contour.land_mm.min(high)]]),
            );
            ink.mark(Mark::FinishedEdge);
        }
        if let Some((start, half_round)) = ground(contour) {
            let at = lengthwise(halves.along, start);
            for along in [at - half_round, at + half_round] {
                ink.stroke(LineKind::StartHole, Path::open(&[[along, 0.0], [along, -high]]));
            }
            ink.mark(Mark::StartHole);
        }
    }
    for hole in &halves.holes {
        let at = [hole.along_mm, -hole.below_face_mm];
        let radius = hole.diameter_mm / 2.0;
        match hole.kind {
            JointKind::Screw => fastening::thread(&mut ink.items, at, [hole.drill_mm / 2.0, radius]),
            JointKind::Dowel => fastening::dowel(&mut ink.items, at, radius),
        }
        ink.mark(if hole.kind == JointKind::Screw { Mark::Thread } else { Mark::Dowel });
    }
}

fn ground(contour: &Contour) -> Option<(&Start, f64)> {
    let start = contour.start.as_ref()?;
    Some((start, start.half_round?.wheel_radius_mm))
}

fn lengthwise(along: Along, start: &Start) -> f64 {
    match along {
        Along::X => start.x_mm,
        Along::Y => start.y_mm,
    }
}

/// Where the finished edge crosses the joint, as far as a drawing shows it.
fn crossings(contour: &Contour, halves: &Halves, scale: f64) -> Vec<f64> {
    let split = |p: [f64; 2]| match halves.along {
        Along::X => (p[0], p[1] - halves.at_mm),
        Along::Y => (p[1], p[0] - halves.at_mm),
    };
    let all: Vec<(f64, f64)> = points(&contour.target, scale).into_iter().map(split).collect();
    let pairs = (0..all.len()).map(|i| (all[i], all[(i + 1) % all.len()]));
    let meets = pairs.filter(|(a, b)| (a.1 > 0.0) != (b.1 > 0.0));
    meets.map(|(a, b)| a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1)).collect()
}

fn name(along: Along) -> &'static str {
    if along == Along::X { "X" } else { "Y" }
}

fn across(along: Along) -> &'static str {
    if along == Along::X { "Y" } else { "X" }
}

/// The order of work, numbered, as large as there is paper.
fn steps(page: &mut Page, halves: &Halves, [x0, y0, x1, y1]: [f64; 4]) {
    let lines = |size: f64| -> Vec<String> {
        let numbered = halves.order_of_work.iter().enumerate();
        numbered.flat_map(|(i, step)| wrap(&format!("{}  {step}", i + 1), x1 - x0 - 2.0, size)).collect()
    };
    let fits = |size: &f64| lines(*size).len() as f64 * size * 1.5 <= y1 - y0;
    let size = [3.5, 3.0, 2.5, 2.2].into_iter().find(fits).unwrap_or(2.0);
    let mut y = y1 - size;
    for words in lines(size) {
        page.items.push(Item::Text(Text { at: [x0 + 1.0, y], from: End::Left, size_mm: size, words }));
        y -= 1.5 * size;
    }
}

/// What is said beside the joint, the gravest first.
fn says(section: &PlanSection, halves: &Halves) -> Vec<Line> {
    let axis = name(halves.along);
    let mut lines: Vec<Line> = halves.cautions.iter().map(|caution| (SMALL, caution.clone())).collect();
    lines.push((FIGURE, "TWO HALVES".into()));
    lines.push((
        WORD,
        format!("joint along {axis}, at {} {}", across(halves.along), figure::signed(halves.at_mm, 3)),
    ));
    for (contour, (start, radius)) in section.contours.iter().filter_map(|one| Some((one, ground(one)?))) {
        let at = figure::signed(lengthwise(halves.along, start), 4);
        lines.push((WORD, format!("{}: half-round at {axis} {at}", contour.id)));
        lines.push((
            SMALL,
            format!("wheel radius {}, as deep, in each half, through", figure::size(radius, 3)),
        ));
    }
    for (i, hole) in halves.holes.iter().enumerate() {
        if i == 0 || halves.holes[i - 1].kind != hole.kind {
            lines.push((WORD, format!("SOFT: {}", words(hole))));
            lines.extend(drilled(halves, hole).into_iter().map(|words| (SMALL, words)));
        }
        let (at, deep) = (figure::signed(hole.along_mm, 1), figure::size(hole.below_face_mm, 1));
        lines.push((SMALL, format!("{axis} {at}, {deep} below the cutting face")));
    }
    for refused in &halves.refused {
        let short = figure::size(refused.need_mm - refused.have_mm, 2);
        lines.push((WORD, "NO ROOM: screws and dowels".into()));
        lines.push((SMALL, format!("{}: short {short}", refused.bound)));
    }
    lines
}

fn words(hole: &JointHole) -> String {
    match &hole.thread {
        Some(thread) => format!("{thread} through the joint"),
        None => format!("dowel {} through the joint", figure::size(hole.diameter_mm, 2)),
    }
}

fn drilled(halves: &Halves, hole: &JointHole) -> Vec<String> {
    let axis = across(halves.along);
    let (own, other) = if hole.from_lower { ("smaller", "greater") } else { ("greater", "smaller") };
    let drill = figure::size(hole.drill_mm, 2);
    let [from, to] = hole.into_mm.map(|deep| figure::size(deep, 2));
    match (hole.clear_mm, hole.sink_mm) {
        (Some(clear), Some([wide, deep])) => vec![
            format!(
                "half at {own} {axis}: {} through, sink {} x {}",
                figure::size(clear, 2),
                figure::size(wide, 2),
                figure::size(deep, 2)
            ),
            format!("half at {other} {axis}: drill {drill}, tap {to} from the joint"),
        ],
        _ => vec![format!("drill {drill}, ream {from} and {to} from the joint")],
    }
}
