//! The rules of the trade that the planner applies, by subject.

pub mod burning;
pub mod cut;
pub mod force;
pub mod hole;
pub mod size;
pub mod time;
pub mod wire;

#[cfg(test)]
mod agree;
