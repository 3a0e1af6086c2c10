//! Strength of a plate with openings: plane-strain linear elasticity over outlines of lines and arcs, to a peak stress that has
//! settled, with an estimate of its error.
//!
//! Stages: the edge is divided, finely at arcs (`rim`); the plate between is filled with triangles that grow with the
//! distance from what is fine (`size`, `spots`, `triangles`, `mesh`); six-node triangles give the stiffness (`element`, `plate`), supports
//! and what little else keeps the plate from floating are put in (`hold`), and the displacements follow from one sparse
//! factorization (`solve`). The stress along the edge (`edge_stress`) tells where the peak is; there everything is made finer
//! until the peak no longer changes (`settle`).
//!
//! Lengths are mm, forces N, stresses and pressures N/mm2 = MPa. Tension is positive. Knows nothing of dies.

mod edge_stress;
mod element;
mod hold;
mod load;
mod material;
mod mesh;
mod peak;
mod plate;
mod reaction;
mod refusal;
mod region;
mod request;
mod rim;
mod settle;
mod size;
mod solve;
mod spots;
mod support;
mod triangles;
mod unjudged;

pub use load::Load;
pub use material::Material;
pub use peak::{Peak, Place};
pub use refusal::Refusal;
pub use region::{Edge, Region};
pub use settle::{Aim, Stresses, stresses};
pub use support::{Held, Stiffness, Support};
pub use unjudged::Unjudged;
