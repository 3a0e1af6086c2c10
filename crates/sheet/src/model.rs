//! The neutral drawing: views at a scale, holding paths, filled shapes and texts that know nothing of a file format.

use crate::LineKind;
use crate::letters::width;
use package::BulgeVertex;

/// A drawing on paper: pages of one size, one below the other; y up from the lower left corner of the last, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What it is called.
    pub name: String,
    /// Width and height of one page, mm.
    pub page_mm: [f64; 2],
    /// How many pages there are.
    pub pages: usize,
    /// Its views, in drawing order.
    pub views: Vec<View>,
}

impl Sheet {
    /// Width and height of all pages together, mm.
    pub fn size_mm(&self) -> [f64; 2] {
        [self.page_mm[0], self.page_mm[1] * self.pages as f64]
    }
}

/// A part of a sheet with one scale.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// What it shows.
    pub name: String,
    /// Millimetres of paper for one real millimetre.
    pub scale: f64,
    /// Where the view's own (0, 0) lies on the paper, mm.
    pub origin_mm: [f64; 2],
    /// What of the paper it may use, x0, y0, x1, y1 in mm; nothing is drawn beyond. None: all of it.
    pub window_mm: Option<[f64; 4]>,
    /// What it holds, in real millimetres.
    pub items: Vec<Item>,
}

/// One thing drawn in a view; later ones lie over earlier ones.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line of a kind along a path.
    Stroke(LineKind, Path),
    /// A solid black shape.
    Fill(Path),
    /// Round dots of 0.3 mm of paper, by their centres.
    Dots(Vec<[f64; 2]>),
    /// Words on one line.
    Text(Text),
}

/// Words on one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// A point of its baseline, in the view's millimetres.
    pub at: [f64; 2],
    /// Which end of the words lies there.
    pub from: End,
    /// Height of capitals and figures on paper, mm.
    pub size_mm: f64,
    /// The words.
    pub words: String,
}

impl Text {
    /// The most that the words are wide on paper, mm, whatever sans-serif face they are set in.
    pub fn wide_mm(&self) -> f64 {
        width(&self.words, self.size_mm)
    }
}

/// The end of a text that is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The words run to the right from here.
    Left,
    /// The words end here.
    Right,
}

/// A line of straights and arcs.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// x, y and the bulge of the segment that leaves.
    pub vertices: Vec<BulgeVertex>,
    /// Whether the last vertex leads back to the first.
    pub closed: bool,
}

impl Path {
    /// Straight from one point to the next.
    pub fn open(points: &[[f64; 2]]) -> Self {
        Self { vertices: points.iter().map(|p| [p[0], p[1], 0.0]).collect(), closed: false }
    }

    /// A closed outline of bulge vertices.
    pub fn outline(vertices: &[BulgeVertex]) -> Self {
        Self { vertices: vertices.to_vec(), closed: true }
    }

    /// A closed outline of straights.
    pub fn polygon(points: &[[f64; 2]]) -> Self {
        Self { closed: true, ..Self::open(points) }
    }

    /// A full circle.
    pub fn circle(x: f64, y: f64, radius: f64) -> Self {
        Self::outline(&[[x + radius, y, 1.0], [x - radius, y, 1.0]])
    }

    /// A rectangle by two opposite corners.
    pub fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Self::polygon(&[[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
    }
}
