//! The force of one stroke of the whole die over its way.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One stroke: when which punch enters, and what the press must give.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stroke {
    /// The punches in the order in which they enter.
    pub entries: Vec<Entry>,
    /// The way after the first touch at which the press must give most.
    pub peak_at_mm: f64,
    /// What it must give there.
    pub peak_n: f64,
    /// Way after the first touch and force, at every step of the force.
    pub force_plot: Vec<[f64; 2]>,
}

/// A punch that enters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Entry {
    /// Section and edge, as in `vane.slot`.
    pub edge: String,
    /// When it touches.
    pub enters_mm: f64,
    /// How long it cuts.
    pub cuts_for_mm: f64,
    /// Its cutting force, with the shear that is ground on it.
    pub cutting_n: f64,
}
