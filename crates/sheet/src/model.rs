//! The neutral drawing: views at a scale, holding paths, filled shapes and texts that know nothing of a file format.

use package::BulgeVertex;

/// A drawing on paper, y up from the lower left corner, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What it is called.
    pub name: String,
    /// Width and height of the paper, mm.
    pub size_mm: [f64; 2],
    /// Its views, in drawing order.
    pub views: Vec<View>,
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

/// One thing drawn in a view.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line of a kind along a path.
    Stroke(LineKind, Path),
    /// A solid black shape.
    Fill(Path),
    /// A text whose letters are `size_mm` of paper high; `at` is the left end of its baseline.
    Text {
        /// Left end of the baseline, in the view's millimetres.
        at: [f64; 2],
        /// Height of capitals and figures on paper.
        size_mm: f64,
        /// The words.
        words: String,
    },
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

    /// A full circle.
    pub fn circle(x: f64, y: f64, radius: f64) -> Self {
        Self::outline(&[[x + radius, y, 1.0], [x - radius, y, 1.0]])
    }

    /// A rectangle by two opposite corners.
    pub fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Self::outline(&[[x0, y0, 0.0], [x1, y0, 0.0], [x1, y1, 0.0], [x0, y1, 0.0]])
    }
}

/// What a line means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// Frames, the block, scale bars.
    Plain,
    /// What the part has.
    PrintEdge,
    /// The edge of the section.
    FinishedEdge,
    /// The start hole and its cross.
    StartHole,
    /// Where its rim may lie.
    MayLie,
    /// The way of the wire's centre.
    WireCentre,
    /// The way from the hole to the edge.
    LeadIn,
    /// Metal that the wire frees.
    Core,
}

impl LineKind {
    /// Width on paper, mm.
    pub fn width_mm(self) -> f64 {
        match self {
            Self::FinishedEdge => 0.7,
            Self::StartHole | Self::LeadIn => 0.35,
            _ => 0.25,
        }
    }

    /// Lengths of dash and space on paper, mm; empty for a continuous line.
    pub fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::PrintEdge => &[8.0, 1.5, 0.3, 1.5, 0.3, 1.5],
            Self::MayLie => &[0.25, 1.0],
            Self::WireCentre => &[4.0, 1.5],
            _ => &[],
        }
    }
}
