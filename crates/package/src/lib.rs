//! The published JSON types: `plan.json`, `proof.json`, `survey --json` and the reckoning.
//!
//! Names, units and meanings here are a promise to other people's programs. They may gain companions; a
//! name or a meaning changes only with a new `schema` number. Every field says its unit in its name.

mod burning;
mod fastening;
mod halves;
mod plan;
mod press;
mod program;
mod proof;
mod punch;
mod reckoning;
mod relief;
mod start;
mod strength;
mod stroke;
mod survey;
mod wire;

pub use burning::*;
pub use fastening::*;
pub use halves::*;
pub use plan::*;
pub use press::*;
pub use program::*;
pub use proof::*;
pub use punch::*;
pub use reckoning::*;
pub use relief::*;
pub use start::*;
pub use strength::*;
pub use stroke::*;
pub use survey::*;
pub use wire::*;

/// A vertex of a published outline: x and y in mm, and the bulge of the segment that leaves it.
///
/// bulge = tan(sweep / 4), positive when the segment turns counter-clockwise, at most 1 in size.
pub type BulgeVertex = [f64; 3];

/// Name and number of the survey's format.
pub const SURVEY_SCHEMA: &str = "kerfwright.survey/1";
/// Name and number of the plan's format.
pub const PLAN_SCHEMA: &str = "kerfwright.plan/1";
/// Name and number of the proof's format.
pub const PROOF_SCHEMA: &str = "kerfwright.proof/1";
