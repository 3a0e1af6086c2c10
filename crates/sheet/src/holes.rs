//! The pages of the burner: the block as it lies there with its holes by number, and the table of holes.

use crate::column::{self, FIGURE, Line, SMALL, WORD};
use crate::page::{COLUMN, Page, VIEWS};
use crate::table::{self, Row};
use crate::window::Window;
use crate::{LineKind, Path, block, figure, foot};
use package::{BurnDepth, BurnedHole, Burning, FaceUp, PlanSection};

/// Holes in the table of one page.
const ROWS: usize = 5;
/// The block is drawn no larger than this.
const SCALE: f64 = 10.0;

/// A page for every few holes; none where nothing is burned.
pub fn pages(section: &PlanSection) -> Vec<Page> {
    let Some(burning) = &section.burning else { return Vec::new() };
    burning.holes.chunks(ROWS).enumerate().map(|(i, holes)| page(section, burning, holes, i)).collect()
}

fn page(section: &PlanSection, burning: &Burning, holes: &[BurnedHole], part: usize) -> Page {
    let high = table::height(holes.len());
    let mut page = Page::over_table("holes".into(), high);
    let [x0, y0, x1, y1] = VIEWS;
    let [x, y] = section.block_mm().map(|s| s / 2.0);
    let (lies, lays) = lie(section, burning.from_face);
    let low = y0 + high + foot::HEIGHT + 2.0;
    let mut window = Window::around([x0, low, x1, y1], [-x, -y, x, y], 8.0);
    window.scale = window.scale.min(SCALE);
    let mut ink = window.ink();
    let unnumbered = block::block(&mut ink, &lies, &window, lays);
    for bore in lies.contours.iter().filter_map(|contour| contour.start.as_ref()?.back_bore) {
        ink.stroke(LineKind::Plain, Path::circle(bore.x_mm, bore.y_mm, bore.diameter_mm / 2.0));
    }
    page.views.push(window.view(format!("at the burner {}", part + 1), ink.items));
    let mut words = words(section, burning.from_face);
    if !unnumbered.is_empty() {
        words += &format!("; no place for the numbers of {} holes: see their X and Y", unnumbered.len());
    }
    foot::set(&mut page.items, &window, [x0, x1], (&words, lays));
    let column = [COLUMN[0], y0 + high + 2.0, COLUMN[2], COLUMN[3]];
    column::set(&mut page.items, &says(section, burning), column);
    let rows: Vec<Row> = holes.iter().map(|hole| row(section, hole)).collect();
    table::set(&mut page.items, &heads(), &rows, [x0, y0, COLUMN[2], y0 + high]);
    page
}

/// The block as it lies with a face up: turned over left to right, X changes its sign.
fn lie(section: &PlanSection, up: FaceUp) -> (PlanSection, block::Lies) {
    let mut lies = section.clone();
    if up == FaceUp::Cutting {
        return (lies, block::Lies::AsDrawn);
    }
    for contour in &mut lies.contours {
        contour.target.iter_mut().for_each(|v| (v[0], v[2]) = (-v[0], -v[2]));
        // The bulge belongs to the segment that leaves: only its turn changes.
        if let Some(start) = &mut contour.start {
            start.x_mm = -start.x_mm;
            start.back_bore.iter_mut().for_each(|bore| bore.x_mm = -bore.x_mm);
            start
                .measured
                .iter_mut()
                .flat_map(|hole| [&mut hole.face, &mut hole.back])
                .for_each(|rim| rim.x_mm = -rim.x_mm);
        }
    }
    (lies, block::Lies::TurnedOver)
}

fn words(section: &PlanSection, up: FaceUp) -> String {
    let [x, y] = section.block_mm();
    let low = figure::size(-y / 2.0, 4);
    match up {
        FaceUp::Cutting => {
            format!("cutting face up; datum corner X {} Y {low}", figure::size(-x / 2.0, 4))
        }
        FaceUp::Back => {
            format!("BACK UP, turned left to right; datum corner X {} Y {low}", figure::size(x / 2.0, 4))
        }
    }
}

/// What is said beside the block, the gravest first.
fn says(section: &PlanSection, burning: &Burning) -> Vec<Line> {
    let up = match burning.from_face {
        FaceUp::Cutting => "CUTTING FACE UP",
        FaceUp::Back => "BACK UP",
    };
    let mut lines = vec![(FIGURE, up.to_owned()), (WORD, format!("program {}", burning.program))];
    for one in &burning.electrodes {
        let holes = if one.holes == 1 { "1 hole".to_owned() } else { format!("{} holes", one.holes) };
        let size = figure::size(one.diameter_mm, 3);
        lines.push((WORD, format!("take {} of electrode {size}: {holes}", one.take)));
    }
    lines.push((WORD, format!("FREE BELOW {}", figure::size(burning.free_below_mm, 1))));
    let counts = match burning.depth {
        BurnDepth::Travel => "Z counts the travel of the head: wear is added.",
        BurnDepth::Tip => "Z counts the depth of the tip: the control makes up for wear.",
    };
    lines.push((SMALL, format!("Touch each hole: Z 0 there. {counts}")));
    lines.push((SMALL, "Hands off guide and turning tube while the spark is on. Burned metal and carbide leave dust: wipe it wet.".into()));
    lines.extend(bores(section));
    lines.push((
        SMALL,
        format!("{} min; attended {} with set-up", burning.minutes.ceil(), burning.attended_minutes.ceil()),
    ));
    lines
}

fn bores(section: &PlanSection) -> Vec<Line> {
    let bored = section.contours.iter().enumerate().filter_map(|(i, contour)| {
        let bore = contour.start.as_ref()?.back_bore?;
        let words = format!(
            "{}: back bore {}, {} deep, at X {} Y {}, made while soft",
            i + 1,
            figure::size(bore.diameter_mm, 3),
            figure::size(bore.depth_mm, 3),
            figure::signed(bore.x_mm, 3),
            figure::signed(bore.y_mm, 3)
        );
        Some((SMALL, words))
    });
    bored.collect()
}

fn heads() -> [(f64, &'static str); 7] {
    [
        (22.0, "hole"),
        (60.0, "X"),
        (60.0, "Y"),
        (38.0, "electrode"),
        (36.0, "deep"),
        (38.0, "Z"),
        (23.0, "min"),
    ]
}

fn row(section: &PlanSection, hole: &BurnedHole) -> Row {
    let number = section.contours.iter().position(|contour| contour.id == hole.contour);
    let x = if hole.from_face == FaceUp::Back { 0.0 - hole.x_mm } else { hole.x_mm };
    let after = if hole.dress_after { "then dress the tip" } else { "then take the electrode out" };
    Row {
        figures: vec![
            number.map_or("?".to_owned(), |i| (i + 1).to_string()),
            figure::signed(x, 4),
            figure::signed(hole.y_mm, 4),
            figure::size(hole.electrode_mm, 3),
            figure::size(hole.depth_mm, 2),
            figure::signed(-hole.travel_mm, 2),
            format!("{:.1}", hole.minutes),
        ],
        words: format!(
            "{}: electrode number {}; guide {} above the metal; {} through; wear {}; {after}",
            hole.contour,
            hole.electrode_number,
            figure::size(hole.stand_off_mm, 2),
            figure::size(hole.break_through_mm, 2),
            figure::size(hole.wear_mm, 1)
        ),
    }
}
