//! `plan.json`: everything that was decided for every section of a job, with the reckoning behind it.

use crate::{
    BulgeVertex, Burning, Core, Fastening, Forces, Halves, Land, Line, MissedCorner, Narrowest, Press,
    Program, Punch, SectionStrength, Start, StartLimits, Stroke, Units, Wire,
};
use remark::Remark;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The plan of a whole job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Plan {
    /// Always [`PLAN_SCHEMA`](crate::PLAN_SCHEMA).
    pub schema: String,
    /// The job.
    pub job: PlanJob,
    /// The shop it was planned for.
    pub shop: PlanShop,
    /// The input files that stand in `inputs/`, with their fingerprints.
    #[serde(default)]
    pub inputs: Vec<InputFile>,
    /// The sections, in job order.
    pub sections: Vec<PlanSection>,
    /// The die in the press; left out where nothing is known to be cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub press: Option<Press>,
    /// The force of one stroke over its way; left out as `press` is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stroke: Option<Stroke>,
    /// Where every number came from.
    pub reckoning: Vec<Line>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// Head of the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlanJob {
    /// Name of the job.
    pub name: String,
    /// Day of planning, as 2026-11-25.
    pub date: String,
    /// Unit of the job file, and of drawings that state none.
    pub units: Units,
    /// Loose ends of a drawing closer than this were joined.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub join_limit_mm: Option<f64>,
}

/// The shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlanShop {
    /// Its name.
    pub name: String,
    /// How many starting values the plan rests on.
    pub starting_values: u32,
}

/// A file of `inputs/`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct InputFile {
    /// Path below `inputs/`, with forward slashes.
    pub path: String,
    /// SHA-256 of its bytes, lower-case hex.
    pub sha256: String,
}

/// What kind of member a section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SectionKind {
    /// A hardened block with openings.
    Die,
    /// What passes through an opening.
    Punch,
}

/// One section.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlanSection {
    /// Its id.
    pub id: String,
    /// Die section or punch.
    pub kind: SectionKind,
    /// Its steel.
    pub steel: String,
    /// Its hardness.
    pub hardness_hrc: f64,
    /// Finished block: x, y, height.
    pub size_mm: [f64; 3],
    /// The block that it is cut out of, x and y, its middle at the origin; left out: the finished block itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_from_mm: Option<[f64; 2]>,
    /// Whether this shop can make all of it.
    pub makeable: bool,
    /// Its edges.
    pub contours: Vec<Contour>,
    /// The programs that make it.
    pub programs: Vec<Program>,
    /// How it sits in the frame; left out: the job does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cavity: Option<Cavity>,
    /// How far its openings can come to lie off centre; left out: no edge has a clearance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub alignment: Option<Alignment>,
    /// Metal between its openings and to its sides, where it is thinnest.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub webs: Vec<Web>,
    /// What it bears; left out: no force is known, it cannot be cut, or the job leaves it out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<SectionStrength>,
    /// What holds it in its frame; left out: the job asks for nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fastening: Option<Fastening>,
    /// How it is made in two halves; left out: it is one piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halves: Option<Halves>,
    /// How long its land lasts; left out: it is as high as the block.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub land: Option<Land>,
    /// How its start holes are burned; null: none is to burn, or the section is not made here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub burning: Option<Burning>,
    /// What it takes in the press.
    pub forces: Forces,
}

impl PlanSection {
    /// The block as it lies on the machines, x and y.
    pub fn block_mm(&self) -> [f64; 2] {
        self.cut_from_mm.unwrap_or([self.size_mm[0], self.size_mm[1]])
    }
}

/// How a section sits in the cavity of its frame.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cavity {
    /// The ISO 286-1 fit, as in `H7/k6`; null: ground to a cavity that was measured.
    pub fit: Option<String>,
    /// Along x, then along y.
    pub sides: Vec<CavitySide>,
    /// Force of pressing it in, at most; 0 where it always clears.
    pub press_force_n: f64,
}

/// A section in its cavity along one axis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CavitySide {
    /// `x` or `y`.
    pub axis: String,
    /// Least and greatest size of the cavity.
    pub cavity_mm: [f64; 2],
    /// Least and greatest size that the section is ground to.
    pub section_mm: [f64; 2],
    /// Least and most clearance in all; below 0 it is interference.
    pub clearance_mm: [f64; 2],
}

/// How far openings can come to lie off the centre of their punches.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Alignment {
    /// What the tightest clearance allows, along one axis.
    pub allowed_mm: f64,
    /// The ways of making the section.
    pub ways: Vec<AlignmentWay>,
}

/// What one way of making a section holds, along one axis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AlignmentWay {
    /// The way, in words.
    pub way: String,
    /// Its terms.
    pub terms: Vec<AlignmentTerm>,
    /// Every term at its limit.
    pub worst_mm: f64,
    /// Root of the squares.
    pub root_mm: f64,
    /// Share of seeded draws that lie within what is allowed.
    pub within_share: f64,
    /// The term to attack first.
    pub attack: String,
    /// Whether the root of squares is within what is allowed.
    pub holds: bool,
}

/// A term of the alignment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AlignmentTerm {
    /// In words.
    pub term: String,
    /// Plus or minus.
    pub limit_mm: f64,
}

/// Metal that stands between two edges.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Web {
    /// Ids of the edges; `side` for a side of the block.
    pub between: [String; 2],
    /// Where it is thinnest.
    pub width_mm: f64,
    /// What its rule asks for.
    pub need_mm: f64,
    /// Name of that rule: `sheet-thickness`, `opening-length` or `block-height`.
    #[serde(default)]
    pub rule: String,
    /// Middle of it.
    pub x_mm: f64,
    /// Middle of it.
    pub y_mm: f64,
    /// Whether it is as wide as that.
    pub holds: bool,
}

/// Which side of the edge is metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// An opening: metal outside.
    Inside,
    /// A body: metal inside.
    Outside,
}

/// What an edge does to the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Cut {
    /// The hole in the part has the drawn outline.
    Pierce,
    /// The part has the drawn outline.
    Blank,
    /// The drawn outline is the finished edge itself.
    Finished,
}

/// One edge of a section, and how it is cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Contour {
    /// The edge's id.
    pub id: String,
    /// Where its outline was drawn.
    pub drawing: ContourDrawing,
    /// Which side is metal.
    pub side: Side,
    /// What it does to the part.
    pub cut: Cut,
    /// The finished edge at the cutting face.
    pub target: Vec<BulgeVertex>,
    /// The drawn outline, before clearance.
    #[serde(default)]
    pub drawn: Vec<BulgeVertex>,
    /// What was added to the drawn outline all round.
    pub clearance_per_side_mm: f64,
    /// What was added besides, so that wear finds most of the part's tolerance; below 0 where it was taken off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size_shift_per_side_mm: Option<f64>,
    /// Radius that the outside corners of a piece were rounded to; left out: as drawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_radius_mm: Option<f64>,
    /// Stock left for grinding on the faces of least x, greatest x, least y, greatest y; left out: none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grind_stock_mm: Option<[f64; 4]>,
    /// Straight cutting height.
    pub land_mm: f64,
    /// Relief per side below the land.
    pub relief_deg: f64,
    /// Metal that may be left in a corner.
    pub corner_tolerance_mm: f64,
    /// Greatest radius that the print allows on the part's corners; left out where it sets no limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corner_radius_mm: Option<f64>,
    /// Plus or minus, on the finished edge.
    pub tolerance_mm: f64,
    /// How the cut is started; null: no way in this shop.
    pub start: Option<Start>,
    /// How far a start is possible here.
    pub start_limits: StartLimits,
    /// How it is cut; null: not in this shop.
    pub wire: Option<Wire>,
    /// Where the reached edge lies inside the target: every miss above 0.0001.
    pub missed_corners: Vec<MissedCorner>,
    /// Metal that the wire frees.
    pub cores: Vec<Core>,
    /// The narrowest place of the finished edge; null where nothing is narrower than what is beside it.
    #[serde(default)]
    pub narrowest: Option<Narrowest>,
    /// Metal that stands inside it on the drawing: what makes it impossible to cut by wire.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub islands: Vec<Island>,
    /// The punch that passes through; left out: the job asks for none, or none can be made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub punch: Option<Punch>,
    /// How far the drawn outline lies from the raw entities: by closing up, and by arcs in the place of curves and facets.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moved_mm: Option<f64>,
    /// How much of that is due to arcs in the place of curves and facets; left out: nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fitted_mm: Option<f64>,
}

/// Metal standing inside an opening: a wire would free it with the core.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Island {
    /// Which outline of the drawing: `o1`, `o2`, ...
    pub drawn_as: String,
    /// A point of its edge.
    pub x_mm: f64,
    /// A point of its edge.
    pub y_mm: f64,
    /// Its outline.
    pub outline: Vec<BulgeVertex>,
    /// What would help.
    pub cures: Vec<String>,
}

/// Where an outline was drawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ContourDrawing {
    /// Path below the job's folder, with forward slashes; the same below `inputs/`.
    pub file: String,
    /// Which outline: `o1`, `o2`, ...
    pub outline: String,
    /// Where the drawing's origin lies in section coordinates.
    pub at_mm: [f64; 2],
}
