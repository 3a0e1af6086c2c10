//! What keeps the plate in place: walls that a segment of the outer edge leans on, square to it and without friction.

/// How far a wall gives way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stiffness {
    /// Not at all.
    Rigid,
    /// Pressure for each mm that it is pressed in, MPa/mm.
    Springy(f64),
}

/// A wall along one segment of the outer edge. It touches without clearance or force before the load, and pushes as well as
/// pulls: see [`Held::pulling_mm`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// The segment, counted from the outer outline's first vertex.
    pub segment: usize,
    /// How far it gives way.
    pub stiffness: Stiffness,
}

impl Support {
    /// A wall that does not give way.
    pub const fn rigid(segment: usize) -> Self {
        Self { segment, stiffness: Stiffness::Rigid }
    }

    /// A wall that gives way by 1 mm for each so many MPa.
    pub const fn springy(segment: usize, mpa_per_mm: f64) -> Self {
        Self { segment, stiffness: Stiffness::Springy(mpa_per_mm) }
    }
}

/// What a wall does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// The segment of the outer edge.
    pub segment: usize,
    /// Force that it pushes with, N for each mm of the plate's thickness.
    pub force_n_per_mm: f64,
    /// Length along which it would have to pull, mm. A real wall lets go there: where this is not small, leave the support out
    /// and reckon again.
    pub pulling_mm: f64,
}

/// The stiffness of the wall along a segment, if there is one.
pub(crate) fn along(supports: &[Support], segment: usize) -> Option<Stiffness> {
    supports.iter().find(|s| s.segment == segment).map(|s| s.stiffness)
}
