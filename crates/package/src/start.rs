//! How the cut of an edge is started in `plan.json`, and how far a start is possible.

use crate::Along;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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

/// How a cut is started. From outside there is no hole: its diameters and its depth are 0, and room is the distance from the wire,
/// where it stands beside the block, to the finished edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Start {
    /// Way of starting.
    pub kind: StartKind,
    /// Centre of the hole, or where the wire stands beside the block.
    pub x_mm: f64,
    /// Centre of the hole, or where the wire stands beside the block.
    pub y_mm: f64,
    /// The hole's diameters.
    pub hole_diameter_mm: HoleDiameter,
    /// Electrode that burns it; left out where nothing is burned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub electrode_mm: Option<f64>,
    /// Depth of the hole; of a burned one, overtravel excluded.
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
    /// How the wire machine knows where the hole is; left out: by a shared datum.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub position: Option<Position>,
    /// The hole as it was measured; then place, diameters and room are those of the hole that is there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<MeasuredHole>,
    /// Bore from the back, made while soft, that the hole breaks into.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back_bore: Option<BackBore>,
    /// The half-rounds that make it; left out where it is not ground into two halves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub half_round: Option<HalfRound>,
}

/// A start hole that two halves make together: the same half-round ground into each.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HalfRound {
    /// The way that the joint of the halves runs through the hole's centre.
    pub along: Along,
    /// Radius that the wheel is dressed to.
    pub wheel_radius_mm: f64,
    /// How deep it is fed into each half, from the joint's face.
    pub depth_mm: f64,
    /// Plus or minus on that depth.
    pub depth_error_mm: f64,
    /// How far one half may stand beside the other along the joint.
    pub mismatch_mm: f64,
}

/// How a hole's place is known to the wire machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Position {
    /// Burner and wire machine share a datum.
    #[serde(rename = "shared datum")]
    SharedDatum,
    /// The wire machine finds the hole's centre, and the program shifts with it.
    Following,
    /// The block was set up again without a common datum.
    Remounted,
}

/// A hole as it was measured at both ends, seen on the cutting face.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MeasuredHole {
    /// At the cutting face.
    pub face: Rim,
    /// At the back, or at the floor of the back bore.
    pub back: Rim,
    /// The widest straight wire that goes through.
    pub light_mm: f64,
    /// How far its axis leans from one end to the other.
    pub lean_mm: f64,
}

/// One end of a hole.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rim {
    /// Its centre.
    pub x_mm: f64,
    /// Its centre.
    pub y_mm: f64,
    /// Its diameter.
    pub diameter_mm: f64,
}

/// A bore from the back.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BackBore {
    /// Its centre.
    pub x_mm: f64,
    /// Its centre.
    pub y_mm: f64,
    /// Its diameter.
    pub diameter_mm: f64,
    /// Its depth from the back.
    pub depth_mm: f64,
    /// Whether all of the opening lies over it, so that the land is what it leaves.
    pub clears: bool,
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
    /// Entry diameter that would leave room 0 with the best candidate's allowances; 0 where the cut starts from outside.
    pub largest_hole_mm: f64,
    /// The bounds of the best candidate.
    pub bounds: Vec<Bound>,
    /// What would make it possible.
    pub cures: Vec<Cure>,
}

impl StartLimits {
    /// Whether they are those of a start hole, and not of a start from outside.
    pub fn of_hole(&self) -> bool {
        self.largest_hole_mm > 0.0 || self.bounds.iter().any(|bound| bound.bound == "clean-up")
    }
}

/// One bound that a start must keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bound {
    /// `clean-up`, `threading`, `short`, `reach`, `one-piece`, `depth`, `corners`, `print-radius`, `tolerance`,
    /// `wire-height`, `lead-in`, `electrode-length`, `bore`, `frame`, `bay`, `piece`.
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
