//! The sheet of one section: pages with the whole block and the list of its openings, then a page for each opening, and one for its punch.

use crate::block::Lies;
use crate::column::{self, Line, SMALL, WORD};
use crate::key::{self, Mark};
use crate::page::{COLUMN, Page, SIZE, VIEWS};
use crate::shape::bounds;
use crate::window::Window;
use crate::{Sheet, block, fastening, figure, figures, foot, hole, holes, joint, opening, peak, punch, side};
use package::{Contour, FaceUp, Machine, Plan, PlanSection};

/// Openings in the list of one page.
const LISTED: usize = 10;

/// Draws a section on A4 pages.
pub fn section_sheet(plan: &Plan, section: &PlanSection) -> Sheet {
    let numbered: Vec<(usize, &Contour)> =
        section.contours.iter().enumerate().map(|(i, c)| (i + 1, c)).collect();
    let mut pages: Vec<Page> = numbered.chunks(LISTED).map(|listed| overview(section, listed)).collect();
    if pages.is_empty() {
        pages.push(overview(section, &[]));
    }
    pages.extend(joint::page(section));
    pages.extend(holes::pages(section));
    for (number, contour) in &numbered {
        pages.push(opening::page(section, *number, contour));
        pages.extend(contour.punch.as_ref().map(|punch| punch::page(*number, contour, punch)));
    }
    let count = pages.len();
    let mut views = Vec::new();
    for (i, mut page) in pages.into_iter().enumerate() {
        page.title(plan, section, i + 1, count);
        views.extend(page.views(SIZE[1] * (count - 1 - i) as f64));
    }
    Sheet { name: format!("{} {}", plan.job.name, section.id), page_mm: SIZE, pages: count, views }
}

/// The block from above and from the front, with a list of openings.
fn overview(section: &PlanSection, listed: &[(usize, &Contour)]) -> Page {
    let mut page = Page::new("the block".into());
    let [x0, y0, x1, y1] = VIEWS;
    let ([x, y], z) = (section.block_mm(), section.size_mm[2]);
    let beside = section.contours.iter().filter_map(|contour| contour.start.as_ref());
    let mut seen = vec![[-x / 2.0, -y / 2.0], [x / 2.0, y / 2.0]];
    seen.extend(beside.filter(|start| hole::from_outside(start)).map(|start| [start.x_mm, start.y_mm]));
    let mut above = Window::around([x0, y1 - 97.0, x1, y1], bounds(&seen), 8.0);
    above.scale = above.scale.min(10.0);
    let mut ink = above.ink();
    let unnumbered = block::block(&mut ink, section, &above, Lies::AsDrawn);
    section.strength.iter().for_each(|strength| peak::peak(&mut ink, strength));
    fastening::fastening(&mut ink, section);
    joint::joint(&mut ink, section);
    let mut marks = ink.marks;
    page.views.push(above.view("from above".into(), ink.items));
    let mut words = foot::face(section, None);
    if !unnumbered.is_empty() {
        words += &format!("; no place for the numbers of {} openings: see their X and Y", unnumbered.len());
    }
    foot::set(&mut page.items, &above, [x0, x1], (&words, Lies::AsDrawn));
    let front = front(&mut page, section, [x0, y0 + foot::HEIGHT, x0 + 118.0, y1 - 107.0], [x, z]);
    marks.extend(front);
    let high = key::height(&marks) + 1.0;
    key::set(&mut page.items, &marks, [x0 + 122.0, y0, x1, y0 + high], 1);
    column::set(&mut page.items, &programs(section), [x0 + 122.0, y0 + high + 2.0, x1, y1 - 108.0]);
    column::set(&mut page.items, &list(section, listed), COLUMN);
    page
}

fn front(page: &mut Page, section: &PlanSection, paper: [f64; 4], [x, z]: [f64; 2]) -> Vec<Mark> {
    // Dimensions and the names of the faces stand left and right of the block.
    let (left, right) = (25.0, 37.0);
    let inner = [paper[0] + left, paper[1], paper[2] - right, paper[3]];
    let mut window = Window::around(inner, [-x / 2.0, -z, x / 2.0, 0.0], 3.0);
    window.paper = paper;
    window.scale = window.scale.min(10.0);
    window.middle[0] += (right - left) / 2.0 / window.scale;
    let mut ink = window.ink();
    side::side(&mut ink, section);
    page.views.push(window.view("from the front".into(), ink.items));
    foot::plain(&mut page.items, &window, "from the front");
    ink.marks
}

fn programs(section: &PlanSection) -> Vec<Line> {
    let line = |p: &package::Program| {
        let machine = match p.machine {
            Machine::Burner => "burner",
            Machine::Wire => "wire",
        };
        let up = match p.face_up {
            FaceUp::Cutting => "cutting face up",
            FaceUp::Back => "BACK UP",
        };
        let wire = p.wire_mm.map_or(String::new(), |d| format!(" {}", figure::size(d, 3)));
        (SMALL, format!("{}: {machine}{wire}, {up}, {} min", p.id, p.minutes.ceil()))
    };
    section.programs.iter().map(line).collect()
}

fn list(section: &PlanSection, listed: &[(usize, &Contour)]) -> Vec<Line> {
    let mut lines = figures::turned(section, None);
    lines.extend(peak::lines(section));
    for (number, contour) in listed {
        lines.push((WORD, format!("{number}  {}", contour.id)));
        let (Some(start), Some(wire)) = (&contour.start, &contour.wire) else {
            lines.push((WORD, "NOT IN THIS SHOP".into()));
            continue;
        };
        let (x, y) = (figure::signed(start.x_mm, 4), figure::signed(start.y_mm, 4));
        lines.push((SMALL, format!("X {x}  Y {y}  wire {}", figure::size(wire.diameter_mm, 3))));
    }
    // Once is enough, where the openings take several pages.
    if listed.first().is_none_or(|(number, _)| *number == 1) {
        lines.extend(fastening::lines(section));
    }
    lines
}
