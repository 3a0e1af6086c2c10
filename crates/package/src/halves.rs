//! A section in two halves in `plan.json`: the joint, what holds the halves, and in which order all of it is made.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a section is split.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Halves {
    /// The way that the joint runs on the face.
    pub along: Along,
    /// Where it lies across that way: y where it runs along x, x where it runs along y.
    pub at_mm: f64,
    /// The edges that lie over it; each starts in half-rounds.
    pub edges: Vec<String>,
    /// Screws and dowels that hold the halves, square to the joint; all made soft.
    pub holes: Vec<JointHole>,
    /// What there is no room for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub refused: Vec<JointRefused>,
    /// Force that pushes the halves apart while the die works, an upper bound; left out where the sheet gives none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opens_n: Option<f64>,
    /// The cautions of making them.
    pub cautions: Vec<String>,
    /// What is done after what.
    pub order_of_work: Vec<String>,
}

/// The way that a joint runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Along {
    /// Along X.
    X,
    /// Along Y.
    Y,
}

/// What a hole through the joint is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum JointKind {
    /// A screw that pulls the halves together.
    Screw,
    /// A dowel that keeps them from sliding.
    Dowel,
}

/// One hole through the joint.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct JointHole {
    /// What it is for.
    pub kind: JointKind,
    /// Its thread; null: none.
    pub thread: Option<String>,
    /// Where its axis lies along the joint, section coordinates.
    pub along_mm: f64,
    /// How far its axis lies below the cutting face.
    pub below_face_mm: f64,
    /// Nominal diameter of screw or dowel.
    pub diameter_mm: f64,
    /// Whether it goes in from the half at smaller coordinates; the thread is in the other.
    pub from_lower: bool,
    /// Drill: before tapping in the half with the thread, or before reaming.
    pub drill_mm: f64,
    /// Diameter of the hole that the screw passes in the half with its head; null: a dowel.
    pub clear_mm: Option<f64>,
    /// Diameter and depth of the sink for the head; null: a dowel.
    pub sink_mm: Option<[f64; 2]>,
    /// How deep it goes into the half that it goes in from, and into the other, counted from the joint.
    pub into_mm: [f64; 2],
    /// Metal beyond what is asked for where it is tightest.
    pub room_mm: f64,
}

/// Holes of one kind through the joint for which there is no room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct JointRefused {
    /// What they were for.
    pub kind: JointKind,
    /// What is too tight at the best places that there are.
    pub bound: String,
    /// What there is.
    pub have_mm: f64,
    /// What is asked for.
    pub need_mm: f64,
    /// What would help.
    pub cures: Vec<String>,
}
