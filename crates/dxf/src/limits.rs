//! How much of a drawing is read before it is refused, so that no file takes the memory or the hour.

/// The largest drawing that is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of the file.
    pub bytes: usize,
    /// Entities of the model space and of all blocks, skipped ones counted.
    pub entities: usize,
    /// Vertices of all polylines and points of all splines together.
    pub vertices: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self { bytes: 64 << 20, entities: 200_000, vertices: 1_000_000 }
    }
}
