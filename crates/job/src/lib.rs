//! Job and shop files, the built-in example shop, and the facts of the trade, each value with where it came from.
//!
//! A file is read in one pass over its places: every value keeps its line and column, every fault of a run is
//! reported at once, and a key that nobody knows is a fault. What the reader accepts, what the schema says and
//! what the effective shop file writes all come from the same tables of [`field`]s.

mod alignment;
mod allowance;
mod back_bore;
mod burner;
mod clearance_rule;
mod core;
mod cutting;
mod dialect;
mod edge;
mod effective;
mod electrode;
mod example;
mod facts;
mod field;
mod fit;
mod force_rule;
mod forces;
mod job;
mod known;
mod measured;
mod metal;
mod near;
mod order;
mod position;
mod press;
mod punch;
mod punch_limits;
mod reader;
mod schema;
mod section;
mod sheet;
mod shop;
mod source;
mod start;
mod steel;
mod strength_limits;
mod units;
mod wire;

pub use alignment::Alignment;
pub use allowance::Allowance;
pub use back_bore::BackBore;
pub use burner::{Burner, Depth};
pub use clearance_rule::{ClearanceForm, ClearanceRule};
pub use core::Core;
pub use cutting::Cutting;
pub use dialect::{Dialect, Output, UnitsWords};
pub use edge::{At, Contour, Cut, Edge, Grind, PartTolerance};
pub use electrode::Electrode;
pub use example::example_shop;
pub use facts::Facts;
pub use fit::{Fit, Zone};
pub use force_rule::{Family, ForceShare, ShearRule, StrippingForm, StrippingRule};
pub use forces::{Forces, Stripper};
pub use job::{Job, read_job};
pub use known::{Basis, From, Known};
pub use measured::{Measured, Rim};
pub use metal::Metal;
pub use order::{Order, Side};
pub use position::Position;
pub use press::Press;
pub use punch::{Head, Punch};
pub use punch_limits::{Guiding, PunchLimits};
pub use schema::{Which, schema};
pub use section::{Cavity, Face, Kind, Section, Strength, WallRule};
pub use sheet::Sheet;
pub use shop::{Shop, read_shop};
pub use start::Start;
pub use steel::{Material, Steel};
pub use strength_limits::StrengthLimits;
pub use units::Units;
pub use wire::Wire;
