//! Land and relief in `plan.json` and `proof.json`: how a tilted wire cuts what lies below the land, and how often the land can be ground.

use crate::BulgeVertex;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How the relief below a land is cut: once round with the wire tilted by the relief, before the land is cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Relief {
    /// Wire centre to finished edge at the land's end, where the tilted wire has its pivot.
    pub offset_mm: f64,
    /// The same at the cutting face, where the wire leans away from the edge.
    pub offset_at_face_mm: f64,
    /// Width that the spark clears beyond the wire.
    pub spark_gap_mm: f64,
    /// Metal left on the relief.
    pub stock_left_mm: f64,
    /// How long the land is where all of that metal stays.
    pub land_longest_mm: f64,
    /// Feed on the path at the land's end.
    pub feed_mm_per_min: f64,
    /// Minutes for it, lead-in counted.
    pub minutes: f64,
    /// From the centre of the hole to the finished edge.
    #[serde(default)]
    pub lead_in: Vec<[f64; 2]>,
    /// Program that holds it.
    pub program: String,
    /// First and last N word.
    pub blocks: [u32; 2],
    /// The way of the wire's centre at the land's end, without lead-in.
    #[serde(default)]
    pub centre: Vec<BulgeVertex>,
}

/// Where the guides of a program hold the wire: X and Y are places of the lower guide, U and V the upper guide seen from it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Guides {
    /// Height of the upper guide, section coordinates.
    pub upper_z_mm: f64,
    /// Height of the lower guide, section coordinates.
    pub lower_z_mm: f64,
}

/// How long a land that is shorter than its block lasts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Land {
    /// Straight cutting height, new.
    pub land_mm: f64,
    /// What one regrind takes off the face.
    pub regrind_mm: f64,
    /// Regrinds until the land is gone.
    pub regrinds: u32,
    /// Strokes until then.
    pub strokes: f64,
}

/// What the tilted wire did to a contour.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ProofRelief {
    /// Deepest cut of the tilted wire beyond the edge of any height: of the land above its end, of the relief below it.
    pub gouge_mm: f64,
    /// Thickest metal that it leaves on the relief, beyond what its radius cannot reach.
    pub left_mm: f64,
    /// How far it stays off the land's edge at the cutting face, where it comes nearest to it.
    pub off_land_mm: f64,
}
