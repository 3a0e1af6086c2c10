//! The punch that passes through an opening: its edge, the clearance really left, what it bears.

use crate::BulgeVertex;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A punch. Its outlines lie where they pass through the section, seen on the cutting face as the section is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Punch {
    /// Its steel.
    pub steel: String,
    /// Its hardness.
    pub hardness_hrc: f64,
    /// How long it stands out of its holder.
    pub length_mm: f64,
    /// How its ends are held: `free`, `stripper`, `hinged`.
    pub guided: String,
    /// Its finished edge as asked for: the clearance inside what the last pass makes of the opening.
    pub target: Vec<BulgeVertex>,
    /// Its finished edge as its own wire leaves it.
    pub edge: Vec<BulgeVertex>,
    /// Its size across x and y.
    pub size_mm: [f64; 2],
    /// The wire that cuts it, from outside.
    pub wire_mm: f64,
    /// Offset of the last pass around it.
    pub offset_mm: f64,
    /// Corner radii that wires force on punch and opening.
    pub corners: PunchCorners,
    /// The clearance per side that is asked for.
    pub clearance_mm: f64,
    /// Where least is left between finished punch and finished opening; below 0 where they run into each other.
    pub clearance_least: Clearance,
    /// Where most is left.
    pub clearance_most: Clearance,
    /// All round: way along the finished opening from `clearance_from`, and the clearance left there, mm.
    pub clearance_plot: Vec<[f64; 2]>,
    /// Where that way begins; it goes counter-clockwise.
    pub clearance_from: [f64; 2],
    /// The finished opening that the clearance was measured from.
    pub opening: Vec<BulgeVertex>,
    /// What it bears; null: the strength of the sheet is not known.
    pub strength: Option<PunchStrength>,
    /// Whether clearance and strength hold.
    pub holds: bool,
}

/// Corner radii that wires force.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PunchCorners {
    /// On the opening's inside corners; null: its wire reaches every one.
    pub opening_mm: Option<f64>,
    /// On the punch's outside corners, so that the clearance stays even there; null as above.
    pub punch_mm: Option<f64>,
    /// On the punch's inside corners; null: its wire reaches every one.
    pub punch_inside_mm: Option<f64>,
    /// On the opening's outside corners, so that the clearance stays even there; null as above.
    pub opening_outside_mm: Option<f64>,
}

/// The clearance left at a place of the opening.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Clearance {
    /// How much.
    pub value_mm: f64,
    /// Where.
    pub x_mm: f64,
    /// Where.
    pub y_mm: f64,
}

/// What a punch bears.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PunchStrength {
    /// Cutting and pushing slugs through.
    pub load_n: f64,
    /// Compressive stress under it.
    pub stress_mpa: f64,
    /// Compressive stress of cutting alone, as textbooks reckon.
    pub cutting_stress_mpa: f64,
    /// What its steel is worked to.
    pub stress_limit_mpa: f64,
    /// Where it would buckle.
    pub buckling: Buckling,
    /// The smallest punch that can do this.
    pub smallest: SmallestPunch,
    /// Area that bears on the backing.
    pub head_area_mm2: f64,
    /// Pressure under the head.
    pub head_pressure_mpa: f64,
    /// Whether the backing must be a hardened plate.
    pub backing_needed: bool,
    /// Whether stress, buckling and size hold.
    pub holds: bool,
}

/// Which formula gives the buckling load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum BucklingCase {
    /// A slender punch.
    Euler,
    /// A stout one, below the transition.
    Johnson,
}

/// Where a punch would buckle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Buckling {
    /// Which formula holds.
    pub case: BucklingCase,
    /// Buckling length over free length.
    pub length_factor: f64,
    /// The least second moment of area about an axis through its centroid.
    pub second_moment_mm4: f64,
    /// The load that buckles it.
    pub load_n: f64,
    /// That over what it bears.
    pub reserve: f64,
    /// The greatest length at which it would just bear its load.
    pub longest_mm: f64,
}

/// The smallest punch that can do this.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SmallestPunch {
    /// Diameter of the largest circle in it.
    pub width_mm: f64,
    /// What the sheet asks of that, by its metal.
    pub width_by_metal_mm: f64,
    /// Its width across: four times its area over the length that it cuts.
    pub across_mm: f64,
    /// What its stress limit asks of that, cutting alone.
    pub across_by_stress_mm: f64,
}
