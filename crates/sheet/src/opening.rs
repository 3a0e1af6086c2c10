//! The page of one opening: the opening enlarged, its start enlarged further, its figures and the key.

use crate::block::Lies;
use crate::ink::Ink;
use crate::key::{self, Mark};
use crate::page::{COLUMN, Page, VIEWS};
use crate::shape::{bounds, length, points};
use crate::window::{SCALES, Window};
use crate::{
    LineKind, Path, callout, column, cores, corner, figures, foot, hole, kerf, narrowest, peak, stock, tab,
    wire,
};
use package::{Contour, PlanSection, Side, Start};

/// For notes on each side of a window, mm.
const GUTTER: f64 = 42.0;
/// Heading above a window, mm.
const HEADING: f64 = 7.0;
/// For the key below, mm.
const KEY: f64 = 19.0;
/// 0.01 mm is drawn at least 1 mm.
const DETAIL: f64 = 100.0;
/// A room less than this on paper, mm, cannot be told from one that is short.
const READ: f64 = 1.5;
/// Share of the height that the whole opening has beside its start.
const WHOLE: f64 = 0.45;
/// The print edge is drawn where it lies at least this far from the finished edge on paper, mm.
const EDGES_APART: f64 = 0.8;

/// Draws the page.
pub fn page(section: &PlanSection, number: usize, contour: &Contour) -> Page {
    let mut page = Page::new(contour.id.clone());
    let [x0, y0, x1, y1] = VIEWS;
    let share = if contour.start.is_some() { WHOLE } else { 1.0 };
    let split = y1 - (y1 - y0 - KEY) * share;
    let face = foot::face(section, Some(&contour.id));
    let window = whole(contour, box_of(split, y1));
    let mut ink = window.ink();
    let mut heading = format!("{number}  {}", contour.id);
    heading += &left_out(&outlines(&mut ink, contour, number));
    side(&mut ink, section, contour);
    narrowest::narrowest(&mut ink, contour);
    corner::corners(&mut ink, contour);
    let strength = section.strength.as_ref().filter(|one| one.contour.as_ref() == Some(&contour.id));
    strength.iter().for_each(|one| peak::peak(&mut ink, one));
    stock::stock(&mut ink, contour);
    let mut marks = ink.marks.clone();
    place(&mut page, &window, ink, contour.id.clone(), &heading, &face);
    if let Some(start) = &contour.start {
        let window = near_start(start, box_of(y0 + KEY, split));
        let mut ink = window.ink();
        let unseen = detail(&mut ink, contour, start, number);
        side(&mut ink, section, contour);
        let heading = format!("{number}  start, enlarged{}", left_out(&unseen));
        marks.extend(&ink.marks);
        place(&mut page, &window, ink, format!("{}, start", contour.id), &heading, &face);
    }
    marks.push(Mark::DatumCorner);
    key::set(&mut page.items, &marks, [x0, y0, x1, y0 + KEY - 1.0], 3);
    let mut lines = figures::turned(section, Some(&contour.id));
    lines.extend(figures::lines(number, contour));
    column::set(&mut page.items, &lines, COLUMN);
    page
}

/// The side of the block, where the wire comes in by it.
fn side(ink: &mut Ink, section: &PlanSection, contour: &Contour) {
    if contour.start.as_ref().is_some_and(hole::from_outside) {
        let [x, y] = section.block_mm().map(|side| side / 2.0);
        ink.stroke(LineKind::Plain, Path::rectangle(-x, -y, x, y));
    }
}

/// The box of a window between gutters, heading and foot.
fn box_of(low: f64, high: f64) -> [f64; 4] {
    [VIEWS[0] + GUTTER, low + foot::HEIGHT, VIEWS[2] - GUTTER, high - HEADING]
}

fn left_out(passes: &[usize]) -> String {
    let numbers: Vec<String> = passes.iter().map(usize::to_string).collect();
    match numbers.as_slice() {
        [] => String::new(),
        [one] => format!("   (pass {one} too near to draw apart)"),
        many => format!("   (passes {} too near to draw apart)", many.join(", ")),
    }
}

/// Heading, notes, foot and the window itself.
fn place(page: &mut Page, window: &Window, ink: Ink, name: String, heading: &str, face: &str) {
    let [x0, _, x1, _] = VIEWS;
    let unsaid = callout::set(&mut page.items, &ink.notes, window, GUTTER);
    let heading = match unsaid {
        0 => heading.to_string(),
        n => format!("{heading}   (and {n} notes more)"),
    };
    page.words(&heading, [x0, x1, window.paper[3] + HEADING - 1.2], [4.0, 2.5], 1);
    foot::set(&mut page.items, window, [x0, x1], (face, Lies::AsDrawn));
    page.views.push(window.view(name, ink.items));
}

fn whole(contour: &Contour, paper: [f64; 4]) -> Window {
    // Divided as finely as the largest scale asks for.
    let mut seen = points(&contour.target, 1000.0);
    // A piece is started beside it.
    let start = contour.start.as_ref().filter(|_| contour.side == Side::Outside);
    seen.extend(start.iter().flat_map(|start| {
        let r = start.hole_diameter_mm.entry / 2.0;
        [[start.x_mm - r, start.y_mm - r], [start.x_mm + r, start.y_mm + r]]
    }));
    Window::around(paper, bounds(&seen), 4.0)
}

/// The largest round scale that shows hole and nearest edge, if the room can be read there; else the room alone.
fn near_start(start: &Start, paper: [f64; 4]) -> Window {
    let (x, y) = (start.x_mm, start.y_mm);
    let r = start.may_lie_radius_mm.unwrap_or(0.0).max(start.hole_diameter_mm.entry / 2.0);
    let edge = start.nearest_edge_mm.unwrap_or([x, y]);
    let all = Window::around(paper, bounds(&[[x - r, y - r], [x + r, y + r], edge]), 3.0);
    let room = start.room_mm.abs();
    let toward = [edge[0] - x, edge[1] - y];
    let far = length(toward);
    let read = all.scale >= DETAIL && room * all.scale >= READ;
    let wide = room * DETAIL > 0.6 * (paper[3] - paper[1]);
    if read || wide || far <= 0.0 {
        return all;
    }
    let scale = SCALES.into_iter().rev().find(|s| *s >= DETAIL && room * s >= READ).unwrap_or(SCALES[0]);
    let along = 1.0 - start.room_mm / 2.0 / far;
    Window { scale, middle: [x + toward[0] * along, y + toward[1] * along], ..all }
}

/// What both views show; gives back the passes that cannot be told apart.
fn outlines(ink: &mut Ink, contour: &Contour, number: usize) -> Vec<usize> {
    let pieces = cores::outlines(contour, ink.scale);
    let tab = contour.wire.as_ref().and_then(tab::metal).map(Vec::from);
    kerf::kerf(ink, contour, &[pieces.as_slice(), tab.as_slice()].concat());
    cores::cores(ink, contour, &pieces);
    ink.stroke(LineKind::FinishedEdge, Path::outline(&contour.target));
    ink.mark(Mark::FinishedEdge);
    for island in &contour.islands {
        ink.stroke(LineKind::FinishedEdge, Path::outline(&island.outline));
        ink.note([island.x_mm, island.y_mm], format!("metal {}", island.drawn_as));
    }
    let added = contour.clearance_per_side_mm + contour.size_shift_per_side_mm.unwrap_or(0.0);
    if added.abs() * ink.scale >= EDGES_APART && !contour.drawn.is_empty() {
        ink.stroke(LineKind::PrintEdge, Path::outline(&contour.drawn));
        ink.mark(Mark::PrintEdge);
    }
    let mut unseen = Vec::new();
    if let Some(way) = &contour.wire {
        unseen = wire::passes(ink, way);
        wire::lead_in(ink, way, !contour.start.as_ref().is_some_and(hole::from_outside));
        tab::tab(ink, way);
    }
    if let Some(start) = &contour.start {
        hole::hole(ink, start);
        hole::name(ink, start, number);
    }
    unseen
}

/// The start at the larger scale: where the rim may lie, and the room; the gravest note first.
fn detail(ink: &mut Ink, contour: &Contour, start: &Start, number: usize) -> Vec<usize> {
    let unseen = outlines(ink, contour, number);
    let others = std::mem::take(&mut ink.notes);
    hole::may_lie(ink, start);
    hole::room(ink, start);
    ink.notes.extend(others);
    corner::corners(ink, contour);
    unseen
}
