//! The planner from outside: holes worked by hand, published examples, and what must hold of every plan.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop there")]

mod again;
mod alignment;
mod bench;
mod bounds;
mod burning;
mod cavity;
mod fastening;
mod forces;
mod halves;
mod joint;
mod order_of_halves;
mod pieces;
mod properties;
mod published;
mod punch;
mod relief;
mod section_strength;
mod size;
mod start_holes;
mod stated;
mod stroke;
mod tabs;
mod wires;
