//! What pushes on the plate.

use crate::Edge;

/// A pressure square to an edge; below 0 it pulls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// The edge that it acts on.
    pub edge: Edge,
    /// The segment of it, counted from the outline's first vertex; none: all the way round.
    pub segment: Option<usize>,
    /// MPa: of a force spread over a length and a height, N/(mm*mm).
    pub pressure_mpa: f64,
}

impl Load {
    /// The same pressure all the way round.
    pub const fn around(edge: Edge, pressure_mpa: f64) -> Self {
        Self { edge, segment: None, pressure_mpa }
    }

    /// A pressure on one segment.
    pub const fn on(edge: Edge, segment: usize, pressure_mpa: f64) -> Self {
        Self { edge, segment: Some(segment), pressure_mpa }
    }

    /// What it brings to a segment, MPa.
    fn at(&self, edge: Edge, segment: usize) -> f64 {
        match self.edge == edge && self.segment.is_none_or(|s| s == segment) {
            true => self.pressure_mpa,
            false => 0.0,
        }
    }
}

/// The pressure on a segment from all loads together, MPa.
pub(crate) fn pressure(loads: &[Load], edge: Edge, segment: usize) -> f64 {
    loads.iter().map(|load| load.at(edge, segment)).sum()
}
