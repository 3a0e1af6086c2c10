//! Programs in `plan.json`: machine, face, phases.

use crate::{Guides, Transform};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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
    /// Where its X and Y lie in section coordinates; left out: they are the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transform: Option<Transform>,
    /// Where the guides hold the wire; left out: it is never tilted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guides: Option<Guides>,
    /// Its parts, in order; each begins with every modal word, so that a person can start there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub phases: Vec<Phase>,
}

/// A part of a program between two stops.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Phase {
    /// What is done in it.
    pub kind: PhaseKind,
    /// Whether somebody must be there.
    pub attended: bool,
    /// Contours that it cuts, in order.
    pub contours: Vec<String>,
    /// First and last N word.
    pub blocks: [u32; 2],
    /// Minutes, threading and stops counted.
    pub minutes: f64,
}

/// What a part of a program does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum PhaseKind {
    /// Main cuts that free nothing that must be taken out.
    Mains,
    /// Tabs, and main cuts whose cores are taken out.
    Cores,
    /// Skims.
    Skims,
    /// Tabs of pieces that are cut out of a block, and the skims of the places where those stood.
    Pieces,
    /// Edges one after the other, each whole.
    Edges,
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
