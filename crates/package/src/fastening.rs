//! How a section is held in its frame in `plan.json`: proposed places of screws, dowels and the thread to jack it out by.

use crate::FaceUp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What holds a section.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fastening {
    /// In which state of the block all of it is made.
    pub made: FasteningMade,
    /// The holes: screws, then dowels, then jack-out threads.
    pub holes: Vec<FasteningHole>,
    /// What there is no room for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub refused: Vec<FasteningRefused>,
}

/// State of the block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FasteningMade {
    /// Before hardening.
    Soft,
}

/// What a hole is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FasteningKind {
    /// A screw from below.
    Screw,
    /// A dowel.
    Dowel,
    /// A screw from the cutting face that lifts the section out of its cavity.
    JackOut,
}

/// One hole, square to the face.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FasteningHole {
    /// What it is for.
    pub kind: FasteningKind,
    /// Its thread; null: none.
    pub thread: Option<String>,
    /// The face that thread or dowel go in from.
    pub from_face: FaceUp,
    /// Its centre, section coordinates.
    pub x_mm: f64,
    /// Its centre, section coordinates.
    pub y_mm: f64,
    /// Nominal diameter of thread or dowel.
    pub diameter_mm: f64,
    /// Drill before tapping or reaming.
    pub drill_mm: f64,
    /// Minor diameter of the thread; null: none.
    pub minor_mm: Option<f64>,
    /// Depth of full thread, or how deep the dowel goes in.
    pub depth_mm: f64,
    /// Depth that the drill's point reaches; the block's height where it goes through.
    pub drill_depth_mm: f64,
    /// Diameter bored from the back up to the thread, for the screw to pass; null: blind.
    pub clear_mm: Option<f64>,
    /// Metal beyond what is asked for where it is tightest.
    pub room_mm: f64,
}

/// Holes of one kind for which there is no room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FasteningRefused {
    /// What they were for.
    pub kind: FasteningKind,
    /// What is too tight at the best places that there are.
    pub bound: String,
    /// What there is.
    pub have_mm: f64,
    /// What is asked for.
    pub need_mm: f64,
    /// What would help.
    pub cures: Vec<String>,
}
