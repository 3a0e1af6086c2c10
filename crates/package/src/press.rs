//! The forces of a stroke, of one section and of the whole die in its press.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A whole die, all its sections in one stroke, in the press.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Press {
    /// Rating of the press.
    pub rating_n: f64,
    /// Share of the rating that a die may take.
    pub use_at_most: f64,
    /// The forces over all sections.
    pub forces: Forces,
    /// What the press must give where it gives most: cutting and push-through, and stripping where springs strip.
    pub needed_n: f64,
    /// What is left of the share that a die may take; below 0: missing.
    pub reserve_n: f64,
    /// What is needed as a share of the rating.
    pub share: f64,
    /// Whether the die stays within the share that it may take.
    pub holds: bool,
}

/// Forces in the press over all edges of a section.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Forces {
    /// To cut.
    pub cutting_n: Option<f64>,
    /// To strip.
    pub stripping_n: Option<f64>,
    /// To push slugs through.
    pub push_through_n: Option<f64>,
    /// Work of one stroke: cutting, and pushing the slugs on.
    pub work_j: Option<f64>,
}
