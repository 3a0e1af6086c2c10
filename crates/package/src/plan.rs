//! `plan.json`: everything that was decided for every section of a job, with the reckoning behind it.

use crate::{BulgeVertex, Line, Units};
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
    /// Straight cutting height.
    pub land_mm: f64,
    /// Relief per side below the land.
    pub relief_deg: f64,
    /// Metal that may be left in a corner.
    pub corner_tolerance_mm: f64,
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

/// Ways to start a cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum StartKind {
    /// A hole burned in the hardened block.
    Burned,
    /// A hole drilled while soft.
    Drilled,
    /// A half-round ground into each of two halves.
    #[serde(rename = "half-ground")]
    HalfGround,
    /// From the block's edge.
    #[serde(rename = "from outside")]
    FromOutside,
}

/// How a cut is started.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Start {
    /// Way of starting.
    pub kind: StartKind,
    /// Centre of the hole.
    pub x_mm: f64,
    /// Centre of the hole.
    pub y_mm: f64,
    /// The hole's diameters.
    pub hole_diameter_mm: HoleDiameter,
    /// Electrode that burns it.
    pub electrode_mm: f64,
    /// Depth burned, overtravel excluded.
    pub depth_mm: f64,
    /// Least over height of: distance to the finished edge - radius - fixed terms - 3 sigma of the random ones together.
    pub room_mm: f64,
    /// The same with every term at its limit, added.
    pub room_linear_mm: f64,
    /// Probability that the cut removes all of the hole.
    pub clean_up_probability: f64,
    /// Point of the finished edge nearest to the centre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nearest_edge_mm: Option<[f64; 2]>,
    /// Radius of the circle in which the rim lies with 95 % confidence, drift at the bottom included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub may_lie_radius_mm: Option<f64>,
}

/// Diameters of a hole where the electrode enters and where it leaves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HoleDiameter {
    /// Where the electrode enters, bellmouth counted.
    pub entry: f64,
    /// Where it leaves.
    pub exit: f64,
}

/// How far a start is possible at all.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StartLimits {
    /// Entry diameter that would leave room 0 with the best candidate's allowances.
    pub largest_hole_mm: f64,
    /// The bounds of the best candidate.
    pub bounds: Vec<Bound>,
    /// What would make it possible.
    pub cures: Vec<Cure>,
}

/// One bound that a start must keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bound {
    /// `clean-up`, `threading`, `short`, `reach`, `one-piece`, `depth`, `corners`, `tolerance`, `wire-height`.
    pub bound: String,
    /// What there is.
    pub have_mm: f64,
    /// What it takes.
    pub need_mm: f64,
    /// Whether it is kept.
    pub holds: bool,
}

/// Something that would make an opening possible.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cure {
    /// What to change.
    pub change: String,
    /// Room that the hole would have then; null where it is not computed yet.
    pub room_mm: Option<f64>,
}

/// How an edge is cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Wire {
    /// The wire.
    pub diameter_mm: f64,
    /// Main cut and skims, in order.
    pub passes: Vec<Pass>,
    /// From the centre of the hole to the finished edge: the points that the lead-in goes through.
    #[serde(default)]
    pub lead_in: Vec<[f64; 2]>,
}

/// One time round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pass {
    /// Wire centre to finished edge, as the register carries it.
    pub offset_mm: f64,
    /// Width that the spark clears beyond the wire.
    pub spark_gap_mm: f64,
    /// Metal left for the skims after it.
    pub stock_left_mm: f64,
    /// Register; null where the program writes the wire's centre.
    pub register: Option<u32>,
    /// Feed on the path.
    pub feed_mm_per_min: f64,
    /// Minutes for this pass, lead-in counted.
    pub minutes: f64,
    /// Program that holds it.
    pub program: String,
    /// First and last N word.
    pub blocks: [u32; 2],
    /// The way of the wire's centre around the edge, without lead-in.
    #[serde(default)]
    pub centre: Vec<BulgeVertex>,
}

/// A corner that the wire leaves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MissedCorner {
    /// The deepest point of it.
    pub x_mm: f64,
    /// The deepest point of it.
    pub y_mm: f64,
    /// Depth of the metal left there.
    pub depth_mm: f64,
}

/// A piece of metal that the wire frees.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Core {
    /// Its area seen from above.
    pub area_mm2: f64,
    /// Its mass.
    pub mass_g: f64,
    /// Whether a tab holds it.
    pub held: bool,
    /// Its outline.
    #[serde(default)]
    pub outline: Vec<BulgeVertex>,
}

/// Machines that programs are written for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Machine {
    /// Burns start holes.
    Burner,
    /// Cuts by wire.
    Wire,
}

/// Which face of the block is up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FaceUp {
    /// The cutting face.
    Cutting,
    /// The back.
    Back,
}

/// One program: one set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Program {
    /// Its id.
    pub id: String,
    /// Path in the package.
    pub path: String,
    /// What it runs on.
    pub machine: Machine,
    /// Which face is up.
    pub face_up: FaceUp,
    /// Wire that must be threaded; null on a burner.
    pub wire_mm: Option<f64>,
    /// Contours that it cuts, in order.
    pub contours: Vec<String>,
    /// Minutes, set-up excluded.
    pub minutes: f64,
    /// The machine's own functions; left out: M60, M50, M00, M02.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub functions: Option<MachineFunctions>,
}

/// M numbers of a machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct MachineFunctions {
    /// Threads the wire.
    pub thread: u32,
    /// Cuts the wire.
    pub cut: u32,
    /// Stops for the operator.
    pub stop: u32,
    /// Ends the program.
    pub end: u32,
}

/// Forces in the press over all edges of a section.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Forces {
    /// To cut.
    pub cutting_n: Option<f64>,
    /// To strip.
    pub stripping_n: Option<f64>,
    /// To push slugs through.
    pub push_through_n: Option<f64>,
    /// Work of one stroke.
    pub work_j: Option<f64>,
}
