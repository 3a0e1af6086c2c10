//! Burning the start holes of a section in `plan.json`: holes in their order, electrodes, minutes, and how the block lies.

use crate::FaceUp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// All that is burned in one section, in one set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Burning {
    /// The program that burns it.
    pub program: String,
    /// The face that is up.
    pub from_face: FaceUp,
    /// The holes, in the order of burning; one that was measured is burned already and is not here.
    pub holes: Vec<BurnedHole>,
    /// The electrodes to take along, in the order of use.
    pub electrodes: Vec<ElectrodeUse>,
    /// What a depth in the program counts.
    pub depth: BurnDepth,
    /// Length of electrode that may stand below the block when the last metal is through.
    pub free_below_mm: f64,
    /// Minutes, set-up excluded.
    pub minutes: f64,
    /// Minutes of these with somebody at the machine, and the set-up.
    pub attended_minutes: f64,
    /// The machine's own functions.
    pub functions: BurnerFunctions,
}

/// One hole to burn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BurnedHole {
    /// The contour that it starts.
    pub contour: String,
    /// Its centre, section coordinates.
    pub x_mm: f64,
    /// Its centre, section coordinates.
    pub y_mm: f64,
    /// Electrode.
    pub electrode_mm: f64,
    /// The face that it is burned from.
    pub from_face: FaceUp,
    /// Metal to go through.
    pub depth_mm: f64,
    /// The electrode's guide above the metal.
    pub stand_off_mm: f64,
    /// How far the tip goes on beyond the metal.
    pub break_through_mm: f64,
    /// Depth and break-through.
    pub burn_depth_mm: f64,
    /// Length of electrode used up.
    pub wear_mm: f64,
    /// What the program's Z goes down from where the tip touches.
    pub travel_mm: f64,
    /// Minutes of burning.
    pub minutes: f64,
    /// Which electrode of its diameter, from 1.
    pub electrode_number: u32,
    /// Whether the tip is burned square afterwards, for the next hole.
    pub dress_after: bool,
    /// First and last N word.
    pub blocks: [u32; 2],
}

/// Electrodes of one diameter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ElectrodeUse {
    /// Their diameter.
    pub diameter_mm: f64,
    /// Holes that they burn.
    pub holes: u32,
    /// Length that burning uses up.
    pub wear_mm: f64,
    /// Length that dressing uses up.
    pub dressed_mm: f64,
    /// How many are used.
    pub used: u32,
    /// How many to take along: one more.
    pub take: u32,
}

/// What a depth in a burning program counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum BurnDepth {
    /// Travel of the head, wear added.
    Travel,
    /// Depth of the tip; the control makes up for wear.
    Tip,
}

/// M numbers of a burner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BurnerFunctions {
    /// Turns spark and rotation on.
    pub spark_on: u32,
    /// Turns them off.
    pub spark_off: u32,
    /// Stops for the operator.
    pub stop: u32,
    /// Ends the program.
    pub end: u32,
}

/// How a program's coordinates come from section coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Transform {
    /// What the program's X is.
    pub x: Axis,
    /// What the program's Y is.
    pub y: Axis,
}

/// An axis of the section, with its sense.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Axis {
    /// x.
    #[serde(rename = "x")]
    X,
    /// x, turned round.
    #[serde(rename = "-x")]
    MinusX,
    /// y.
    #[serde(rename = "y")]
    Y,
    /// y, turned round.
    #[serde(rename = "-y")]
    MinusY,
}
