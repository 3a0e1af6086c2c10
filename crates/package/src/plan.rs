//! `plan.json`: everything that was decided for every section of a job, with the reckoning behind it.

use crate::{
    BulgeVertex, Burning, Core, Forces, Line, MissedCorner, Press, Program, Start, StartLimits, Units, Wire,
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
    /// Whether this shop can make all of it.
    pub makeable: bool,
    /// Its edges.
    pub contours: Vec<Contour>,
    /// The programs that make it.
    pub programs: Vec<Program>,
    /// How its start holes are burned; null: none is to burn, or the section is not made here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub burning: Option<Burning>,
    /// What it takes in the press.
    pub forces: Forces,
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
    /// How far closing up moved the drawn outline.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moved_mm: Option<f64>,
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
