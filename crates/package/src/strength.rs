//! What a section bears in `plan.json`: the peak stress in plane strain, what its steel bears, and what would cure it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Strength of a section under the force that spreads its openings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SectionStrength {
    /// Greatest tension anywhere in the section.
    pub peak_mpa: f64,
    /// Where it is.
    pub x_mm: f64,
    /// Where it is.
    pub y_mm: f64,
    /// The edge that it is on, an opening or the outside of a piece; null: on a side of the block, or inside.
    pub contour: Option<String>,
    /// Estimated error of the peak, as a share of it.
    pub error_share: f64,
    /// What spreads its openings.
    pub pressures: Vec<SpreadingPressure>,
    /// Whether the frame was counted on.
    pub support: SectionSupport,
    /// Tension that the steel bears stroke after stroke.
    pub limit_mpa: f64,
    /// What the steel bears over the peak, its error added.
    pub safety: f64,
    /// What it is to be at least.
    pub safety_wanted: f64,
    /// Whether it is.
    pub holds: bool,
    /// Radius in the corners of that edge that would be enough; null: none is needed, or none is enough.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius_needed_mm: Option<f64>,
    /// Thinnest wall, opening to side, of the least block, or the least piece with an outline like this one's, that would be enough; null
    /// as above.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wall_needed_mm: Option<f64>,
}

/// What spreads one opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SpreadingPressure {
    /// Its edge.
    pub contour: String,
    /// Pressure on that edge, taken as going on over the whole height.
    pub pressure_mpa: f64,
}

/// Whether the frame holds a section together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SectionSupport {
    /// It may clear, so nothing is counted on.
    FreeStanding,
    /// It presses the section at every limit of the fit.
    Pressed,
}
