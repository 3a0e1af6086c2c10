//! A limit on what fitting curves may cost, counted and not timed, so that the answer is the same on every machine.

use crate::Bezier;

/// What may still be spent, in products of two control points.
#[derive(Debug, Clone)]
pub struct Effort {
    left: u64,
}

impl Effort {
    /// Room for this many products.
    pub fn new(products: u64) -> Self {
        Self { left: products }
    }

    /// Whether nothing is left: what was not finished then is given up.
    pub fn is_spent(&self) -> bool {
        self.left == 0
    }

    /// At most so much of it, to be spent on one thing.
    pub(crate) fn at_most(&self, products: u64) -> Self {
        Self { left: self.left.min(products) }
    }

    /// Counts looking at all pairs of a curve's control points, so many times.
    pub(crate) fn spend(&mut self, curve: &Bezier, times: u64) {
        let count = curve.controls().len() as u64;
        self.left = self.left.saturating_sub(times * count * count);
    }

    /// Counts what was spent of a part of it.
    pub(crate) fn spend_all(&mut self, (before, after): (&Effort, &Effort)) {
        self.left = self.left.saturating_sub(before.left - after.left);
    }
}
