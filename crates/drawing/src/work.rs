//! A limit on the comparisons made over one drawing, so that no drawing takes the hour.

/// Comparisons that one drawing may cost: a second or so, and far more than any sound drawing needs.
const MOST: u64 = 200_000_000;

/// What is left to spend.
#[derive(Debug)]
pub(crate) struct Work {
    left: u64,
}

/// The work ran out.
#[derive(Debug, PartialEq)]
pub(crate) struct Tangled;

impl Work {
    pub(crate) fn new() -> Self {
        Self { left: MOST }
    }

    /// Counts comparisons.
    ///
    /// # Errors
    /// When there were too many.
    pub(crate) fn spend(&mut self, count: usize) -> Result<(), Tangled> {
        self.left = self.left.checked_sub(count as u64).ok_or(Tangled)?;
        Ok(())
    }
}
