//! How an edge is cut in `plan.json`: passes, tab, what falls and what stays.

use crate::{BulgeVertex, Relief};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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
    /// What holds the core until somebody is there; left out: nothing is held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tab: Option<Tab>,
    /// Ways of the wire's centre from the hole outward, so that nothing falls; part of the main cut.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub erosion: Vec<Vec<BulgeVertex>>,
    /// How the relief below the land is cut, before all passes; left out: straight through.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub relief: Option<Relief>,
}

/// Metal that the main cut leaves standing between core and block, cut last with somebody there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tab {
    /// Width of the metal that stands, along the edge.
    pub width_mm: f64,
    /// Where the main cut stops, on the finished edge.
    pub from_mm: [f64; 2],
    /// Where the lead-in meets the finished edge, and the tab ends.
    pub to_mm: [f64; 2],
    /// Feed through it.
    pub feed_mm_per_min: f64,
    /// Minutes for it, lead-in counted.
    pub minutes: f64,
    /// Program that cuts it.
    pub program: String,
    /// First and last N word.
    pub blocks: [u32; 2],
    /// Skims of the place where it stood, after a piece is cut out; left out: the skims go all round.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dress: Vec<Dress>,
}

/// A skim of the place where the tab of a piece stood, by the offset and feed of the pass of its number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Dress {
    /// Minutes for it, lead-in counted.
    pub minutes: f64,
    /// First and last N word.
    pub blocks: [u32; 2],
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

impl Core {
    /// Below this mass a loose core is flushed out; the plan's stops say what the shop asks for.
    pub const FALLS_FROM_G: f64 = 0.02;

    /// Whether it goes with the water, and nobody has to take it out.
    pub fn flushes_out(&self) -> bool {
        !self.held && self.mass_g < Self::FALLS_FROM_G
    }
}
