//! One page: its frame, the cautions on top, the title block below, and the boxes left for views and figures.

use crate::letters::{LEADING, fit};
use crate::{End, Item, LineKind, Path, Text, View, figure};
use package::{Plan, PlanSection};

/// A4 across, mm.
pub const SIZE: [f64; 2] = [297.0, 210.0];
/// x0, y0, x1, y1 of the frame.
const FRAME: [f64; 4] = [8.0, 8.0, 289.0, 202.0];
/// Upper side of the title block, lower side of the cautions.
const TITLE: f64 = 24.0;
const CAUTIONS: f64 = 188.0;
/// For views.
pub const VIEWS: [f64; 4] = [10.0, 25.0, 184.0, 187.0];
/// For figures and lists.
pub const COLUMN: [f64; 4] = [190.0, 25.0, 287.0, 186.0];

/// A page being filled; coordinates from its own lower left corner, mm.
#[derive(Debug)]
pub struct Page {
    /// What it shows.
    pub name: String,
    /// What lies on it besides the windows.
    pub items: Vec<Item>,
    /// Its windows.
    pub views: Vec<View>,
}

impl Page {
    /// An empty page with its frame and its column.
    pub fn new(name: String) -> Self {
        Self::framed(name, TITLE)
    }

    /// The same with a box `high` over the whole width, below views and column.
    pub fn over_table(name: String, high: f64) -> Self {
        let low = VIEWS[1] + high + 1.0;
        let mut page = Self::framed(name, low);
        page.line([[FRAME[0], low], [FRAME[2], low]]);
        page
    }

    fn framed(name: String, low: f64) -> Self {
        let mut page = Self { name, items: Vec::new(), views: Vec::new() };
        let [x0, y0, x1, y1] = FRAME;
        page.items.push(Item::Stroke(LineKind::Plain, Path::rectangle(x0, y0, x1, y1)));
        for y in [TITLE, CAUTIONS] {
            page.line([[x0, y], [x1, y]]);
        }
        page.line([[COLUMN[0] - 3.0, low], [COLUMN[0] - 3.0, CAUTIONS]]);
        page
    }

    fn line(&mut self, ends: [[f64; 2]; 2]) {
        self.items.push(Item::Stroke(LineKind::Plain, Path::open(&ends)));
    }

    /// Words on up to `lines` lines, the first baseline `size` below the top of the box.
    pub fn words(&mut self, words: &str, [x0, x1, top]: [f64; 3], [size, least]: [f64; 2], lines: usize) {
        let fitted = fit(words, x1 - x0, size, least, lines);
        let mut y = top - fitted.size;
        for words in fitted.lines {
            self.items.push(Item::Text(Text { at: [x0, y], from: End::Left, size_mm: fitted.size, words }));
            y -= fitted.size * LEADING;
        }
    }

    /// The gravest first, at arm's length.
    fn cautions(&mut self, starting_values: u32) {
        let [x0, _, x1, y1] = FRAME;
        let (x0, x1) = (x0 + 2.0, x1 - 2.0);
        self.words(
            "FIRE WATCH: oil dielectric burns. Stay by the machine. ISO 28881.",
            [x0, x1, y1 - 1.6],
            [5.0, 3.0],
            1,
        );
        let rest =
            "Sharp edges; cores fall. Local codes and the qualified person on site decide. Lengths in mm.";
        let values = match starting_values {
            0 => String::new(),
            n => format!(" Rests on {n} starting values."),
        };
        self.words(&format!("{rest}{values}"), [x0, x1, y1 - 9.0], [3.0, 2.0], 1);
    }

    /// The cautions and the title block; `number` of `count` pages.
    pub fn title(&mut self, plan: &Plan, section: &PlanSection, number: usize, count: usize) {
        let [x, y, z] = section.size_mm.map(|s| figure::size(s, 4));
        let hardness = figure::size(section.hardness_hrc, 1);
        self.cautions(plan.shop.starting_values);
        let cells = [
            (60.0, "job", plan.job.name.clone()),
            (46.0, "section", section.id.clone()),
            (42.0, "steel, hardness", format!("{} {hardness} HRC", section.steel)),
            (
                46.0,
                if section.cut_from_mm.is_some() { "piece x, y, height" } else { "block x, y, height" },
                format!("{x} \u{00D7} {y} \u{00D7} {z}"),
            ),
            (38.0, "shop", plan.shop.name.clone()),
            (29.0, "date", plan.job.date.clone()),
            (20.0, "page", format!("{number} / {count}")),
        ];
        let mut left = FRAME[0];
        for (wide, label, value) in cells {
            if left > FRAME[0] {
                self.line([[left, FRAME[1]], [left, TITLE]]);
            }
            let [x0, x1] = [left + 1.5, left + wide - 1.5];
            self.words(label, [x0, x1, TITLE - 1.2], [2.0, 2.0], 1);
            self.words(&value, [x0, x1, TITLE - 5.4], [5.0, 2.4], 3);
            left += wide;
        }
    }

    /// The views of the page on a sheet, its lower left corner at a height.
    pub fn views(self, base: f64) -> Vec<View> {
        let lift = |v: View| View {
            origin_mm: [v.origin_mm[0], v.origin_mm[1] + base],
            window_mm: v.window_mm.map(|[x0, y0, x1, y1]| [x0, y0 + base, x1, y1 + base]),
            ..v
        };
        let page =
            View { name: self.name, scale: 1.0, origin_mm: [0.0, base], window_mm: None, items: self.items };
        self.views.into_iter().map(lift).chain([page]).collect()
    }
}
