//! The rules of the trade that the planner applies, by subject.

pub mod alignment;
pub mod book;
pub mod burning;
pub mod cavity;
pub mod core;
pub mod cut;
pub mod fastening;
pub mod force;
pub mod half_round;
pub mod hole;
pub mod joint;
pub mod punch;
pub mod relief;
pub mod size;
pub mod strength;
pub mod stroke;
pub mod time;
pub mod web;
pub mod wire;

#[cfg(test)]
mod agree;
