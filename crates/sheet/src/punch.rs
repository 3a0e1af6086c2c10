//! The page of a punch: punch in opening, the clearance left all the way round as a strip chart, and what the punch bears.

use crate::chart::{self, Chart};
use crate::column::{self, FIGURE, Line, SMALL, WORD};
use crate::key::{self, Mark};
use crate::page::{COLUMN, Page, VIEWS};
use crate::shape::{bounds, points};
use crate::window::Window;
use crate::{Item, LineKind, Path, callout, figure, foot};
use package::{BucklingCase, Contour, Punch, PunchStrength};

/// For notes on each side of the window, mm.
const GUTTER: f64 = 42.0;
/// Heading above window and chart, mm.
const HEADING: f64 = 7.0;
/// For the key below the window, mm.
const KEY: f64 = 6.0;
/// The punch is drawn where its edge lies at least this far from the opening's on paper, mm.
const EDGES_APART: f64 = 0.8;

/// Draws the page.
pub fn page(number: usize, contour: &Contour, punch: &Punch) -> Page {
    let mut page = Page::new(format!("{}, punch", contour.id));
    let [x0, y0, x1, y1] = VIEWS;
    let split = (y0 + y1) / 2.0;
    place(&mut page, punch, [x0, split, x1, y1], &format!("{number}  {}: punch in its opening", contour.id));
    let words = "clearance left (thick) and asked for (dashed), over the way from 0, counter-clockwise; mm";
    page.words(words, [x0, x1, split - 1.5], [4.0, 2.5], 1);
    let run = Chart { run: &punch.clearance_plot, asked: punch.clearance_mm };
    chart::set(&mut page.items, &run, [x0, y0, x1, split - HEADING]);
    column::set(&mut page.items, &lines(number, contour, punch), COLUMN);
    page
}

/// The window with punch and opening, and the places where most and least is left.
fn place(page: &mut Page, punch: &Punch, [x0, y0, x1, y1]: [f64; 4], heading: &str) {
    let paper = [x0 + GUTTER, y0 + KEY + foot::HEIGHT, x1 - GUTTER, y1 - HEADING];
    let window = Window::around(paper, bounds(&points(&punch.opening, 1000.0)), 4.0);
    let mut ink = window.ink();
    ink.stroke(LineKind::FinishedEdge, Path::outline(&punch.opening));
    ink.mark(Mark::FinishedEdge);
    if punch.clearance_mm * ink.scale >= EDGES_APART {
        ink.stroke(LineKind::Punch, Path::outline(&punch.edge));
        ink.mark(Mark::Punch);
    }
    for (word, one) in [("least", &punch.clearance_least), ("most", &punch.clearance_most)] {
        let at = [one.x_mm, one.y_mm];
        ring(&mut ink.items, at, 1.0 / window.scale);
        ink.note(at, format!("{word} {}", figure::signed(one.value_mm, 4)));
    }
    ring(&mut ink.items, punch.clearance_from, 0.5 / window.scale);
    ink.note(punch.clearance_from, "0 of the way".into());
    callout::set(&mut page.items, &ink.notes, &window, GUTTER);
    page.words(heading, [x0, x1, y1 - 1.2], [4.0, 2.5], 1);
    foot::plain(&mut page.items, &window, "seen on the cutting face");
    key::set(&mut page.items, &ink.marks, [x0, y0, x1, y0 + KEY - 1.0], 3);
    page.views.push(window.view(heading.to_owned(), ink.items));
}

fn ring(items: &mut Vec<Item>, [x, y]: [f64; 2], radius: f64) {
    items.push(Item::Stroke(LineKind::Plain, Path::circle(x, y, radius)));
}

/// The figures, the gravest first.
fn lines(number: usize, contour: &Contour, punch: &Punch) -> Vec<Line> {
    let mut lines = vec![(WORD, format!("{number}  {}: punch", contour.id))];
    if punch.clearance_least.value_mm < 0.0 {
        lines.push((FIGURE, "RUNS INTO ITS OPENING".into()));
    }
    if let Some(strength) = &punch.strength {
        grave(&mut lines, strength);
    }
    lines.push((WORD, "clearance left, a side".into()));
    lines.push((FIGURE, format!("least {}", figure::signed(punch.clearance_least.value_mm, 4))));
    lines.push((FIGURE, format!("most {}", figure::signed(punch.clearance_most.value_mm, 4))));
    lines.push((WORD, format!("asked for {}", figure::size(punch.clearance_mm, 4))));
    let [x, y] = punch.size_mm.map(|side| figure::size(side, 4));
    lines.push((WORD, format!("{x} \u{00D7} {y}, long {}", figure::size(punch.length_mm, 2))));
    lines.push((
        SMALL,
        format!("{} {} HRC, guided: {}", punch.steel, figure::size(punch.hardness_hrc, 1), punch.guided),
    ));
    let wire = figure::size(punch.wire_mm, 3);
    lines.push((WORD, format!("wire {wire}, last {}", figure::signed(punch.offset_mm, 4))));
    corners(&mut lines, punch);
    if let Some(strength) = &punch.strength {
        bears(&mut lines, strength);
    }
    lines
}

/// What does not hold.
fn grave(lines: &mut Vec<Line>, strength: &PunchStrength) {
    if strength.stress_mpa > strength.stress_limit_mpa {
        lines.push((FIGURE, "TOO MUCH STRESS".into()));
    }
    if strength.buckling.reserve < 1.0 {
        lines.push((FIGURE, "BUCKLES".into()));
    }
    if strength.backing_needed {
        lines.push((WORD, "HARDENED BACKING".into()));
    }
}

fn corners(lines: &mut Vec<Line>, punch: &Punch) {
    let corners = &punch.corners;
    if let (Some(opening), Some(own)) = (corners.opening_mm, corners.punch_mm) {
        let (opening, own) = (figure::size(opening, 4), figure::size(own, 4));
        lines.push((SMALL, format!("corners: opening R{opening}, punch outside R{own}")));
    }
    if let (Some(own), Some(opening)) = (corners.punch_inside_mm, corners.opening_outside_mm) {
        let (opening, own) = (figure::size(opening, 4), figure::size(own, 4));
        lines.push((SMALL, format!("corners: punch inside R{own}, which wants R{opening} on the opening")));
    }
}

fn bears(lines: &mut Vec<Line>, strength: &PunchStrength) {
    lines.push((WORD, format!("bears {:.0} N", strength.load_n)));
    let (stress, limit) = (strength.stress_mpa, strength.stress_limit_mpa);
    lines.push((WORD, format!("{stress:.0} of {limit:.0} N/mm2")));
    lines.push((SMALL, format!("cutting alone {:.0} N/mm2", strength.cutting_stress_mpa)));
    let by = match strength.buckling.case {
        BucklingCase::Euler => "Euler",
        BucklingCase::Johnson => "Johnson",
    };
    let buckling = &strength.buckling;
    lines.push((WORD, format!("buckles at {:.2} times that", buckling.reserve)));
    lines.push((
        SMALL,
        format!(
            "{by}, I {} mm4, longest {:.1}",
            figure::size(buckling.second_moment_mm4, 5),
            buckling.longest_mm
        ),
    ));
    let smallest = &strength.smallest;
    lines.push((
        SMALL,
        format!("width {:.3}, sheet wants {:.3}", smallest.width_mm, smallest.width_by_metal_mm),
    ));
    lines.push((
        SMALL,
        format!(
            "head {:.0} N/mm2 on {} mm2",
            strength.head_pressure_mpa,
            figure::size(strength.head_area_mm2, 2)
        ),
    ));
}
