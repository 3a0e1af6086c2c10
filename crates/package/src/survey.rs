//! What `kerfwright survey --json` prints: every closed outline of a drawing, measured.

use crate::BulgeVertex;
use remark::Remark;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The measures of a drawing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Survey {
    /// Always [`SURVEY_SCHEMA`](crate::SURVEY_SCHEMA).
    pub schema: String,
    /// Unit of the drawing's numbers.
    pub units: Units,
    /// Who said so.
    pub units_from: UnitsFrom,
    /// Loose ends closer than this were joined.
    pub join_limit_mm: f64,
    /// The closed outlines, numbered by the line of their first entity.
    pub outlines: Vec<SurveyOutline>,
    /// Curves that became arcs.
    pub fitted: Vec<Fitted>,
    /// Entities that were passed over, by type.
    pub skipped: BTreeMap<String, u64>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// Unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Millimetres.
    Mm,
    /// Inches of 25.4 mm.
    In,
}

impl Units {
    /// Millimetres in one unit.
    pub fn in_mm(self) -> f64 {
        match self {
            Units::Mm => 1.0,
            Units::In => 25.4,
        }
    }

    /// As it is written in files.
    pub fn as_str(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::In => "in",
        }
    }
}

/// Who said which unit a drawing is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum UnitsFrom {
    /// The drawing itself.
    Drawing,
    /// The command line or the job file.
    Option,
    /// Nobody: millimetres were assumed.
    Assumed,
}

/// One closed outline.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SurveyOutline {
    /// `o1`, `o2`, ...
    pub id: String,
    /// Layer of its first entity.
    pub layer: String,
    /// The outline directly around it.
    pub inside_of: Option<String>,
    /// Counter-clockwise; clockwise when it is a hole in another outline. In mm.
    pub vertices: Vec<BulgeVertex>,
    /// Area of this loop alone.
    pub area_mm2: f64,
    /// Length of this loop alone.
    pub perimeter_mm: f64,
    /// Centroid of this loop alone.
    pub centroid_mm: [f64; 2],
    /// Least x, least y, greatest x, greatest y.
    pub bounds_mm: [f64; 4],
    /// About the centroid, this loop alone.
    pub second_moments_mm4: SecondMoments,
    /// Largest circle inside it, clear of the outlines directly inside.
    pub largest_circle: LargestCircle,
    /// The tightest corner that is convex seen from inside; null when it has none.
    pub tightest_inside_corner: Option<TightestCorner>,
    /// The tightest corner that is concave seen from inside; null when it has none.
    pub tightest_outside_corner: Option<TightestCorner>,
    /// Narrowest place between its sides and outlines directly inside; null where nothing is narrower than what is
    /// beside it, as in a circle.
    pub narrowest: Option<Narrowest>,
    /// Local thickness at the middle of each of its segments, in their order, outlines directly inside counted.
    #[serde(default)]
    pub thickness: Vec<Thickness>,
    /// Largest distance between the raw entities and this outline.
    pub moved_mm: f64,
}

/// Second moments of area.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SecondMoments {
    /// Integral of y squared.
    pub ixx: f64,
    /// Integral of x squared.
    pub iyy: f64,
    /// Integral of x times y.
    pub ixy: f64,
    /// The smaller principal moment.
    pub least: f64,
}

/// The largest circle inside an outline.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LargestCircle {
    /// Centre, mm.
    pub x_mm: f64,
    /// Centre, mm.
    pub y_mm: f64,
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// No circle is larger than this diameter by more than twice this.
    pub proven_within_mm: f64,
    /// Whether other places hold a circle as large; the least x, then y, is given.
    pub tied: bool,
}

/// A corner, sharp (radius 0) or rounded.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TightestCorner {
    /// Middle of the corner, mm.
    pub x_mm: f64,
    /// Middle of the corner, mm.
    pub y_mm: f64,
    /// 0 for a sharp corner.
    pub radius_mm: f64,
    /// 180 less the turn of the direction.
    pub angle_deg: f64,
}

/// The narrowest place of an outline.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Narrowest {
    /// Middle of the place, mm; of a stretch of constant width the middle of that.
    pub x_mm: f64,
    /// Middle of the place, mm.
    pub y_mm: f64,
    /// Width there.
    pub width_mm: f64,
    /// The points of the edge that face each other there.
    pub sides: [SidePoint; 2],
}

/// How thick the room inside an outline is at a place of its edge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Thickness {
    /// On the edge, mm.
    pub x_mm: f64,
    /// On the edge, mm.
    pub y_mm: f64,
    /// Diameter of the largest circle that touches there and stays inside.
    pub width_mm: f64,
}

/// A point of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SidePoint {
    /// To the right.
    pub x_mm: f64,
    /// Up.
    pub y_mm: f64,
}

/// A curve that became arcs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fitted {
    /// What it was.
    pub kind: FittedKind,
    /// Largest distance between the curve and the arcs.
    pub deviation_mm: f64,
    /// Line of the drawing where it begins.
    pub at_line: u32,
}

/// What was fitted with arcs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FittedKind {
    /// A spline.
    Spline,
    /// An ellipse or a piece of one.
    Ellipse,
    /// Facets of a polyline that lie on an arc.
    Facets,
}
