//! `proof.json`: what the programs do to the block, read back by somebody who shares nothing with the planner.

use crate::ProofRelief;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The whole proof of a package.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Proof {
    /// Always [`PROOF_SCHEMA`](crate::PROOF_SCHEMA).
    pub schema: String,
    /// Largest distance between an arc and the chords that stood in for it: the bound of every length here.
    pub sagitta_mm: f64,
    /// One for each contour of the plan.
    pub contours: Vec<ProofContour>,
    /// Everything that was wrong.
    pub faults: Vec<Fault>,
    /// True when every contour holds and there is no fault.
    pub holds: bool,
}

/// What the wire and the hole left of one contour.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ProofContour {
    /// Section's id.
    pub section: String,
    /// Contour's id.
    pub contour: String,
    /// Deepest cut beyond the finished edge, over all passes.
    pub gouge_mm: f64,
    /// Thickest metal that the last pass alone leaves, beyond what its radius cannot reach.
    pub left_mm: f64,
    /// How far the start hole bites into the finished edge.
    pub hole_scar_mm: f64,
    /// Distance between the plan's target and the drawing with the stated clearance.
    pub target_moved_mm: f64,
    /// Pieces of metal that the wire frees.
    pub cores_found: u32,
    /// Tabs that the main cut leaves standing and a later cut takes away.
    #[serde(default)]
    pub tabs_found: u32,
    /// What the tilted wire did; left out: none was planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub relief: Option<ProofRelief>,
    /// Whether all of it is within limits.
    pub holds: bool,
}

/// One thing that is wrong with a package.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fault {
    /// Lower-case words joined by hyphens.
    pub code: String,
    /// Program's id, where one is to blame.
    pub program: Option<String>,
    /// N word of the block, where one is to blame.
    pub block: Option<u32>,
    /// Where, section coordinates.
    pub x_mm: Option<f64>,
    /// Where, section coordinates.
    pub y_mm: Option<f64>,
    /// What was found, against which rule.
    pub message: String,
}
