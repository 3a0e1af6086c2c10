//! What the plans of one job keep for the next, besides what each drawn outline keeps itself: peaks of plates, by the very plate
//! that was asked about. Moving a start hole changes none of them.

use crate::spread::{Spread, Worst};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Peaks that are kept at most: a few for each section of a long job.
const MOST: usize = 4096;

/// A plate, how well its peak was to be known, and what was found.
type Peak = (Spread, f64, Result<Worst, String>);

/// Kept by whoever plans a job again and again.
#[derive(Debug, Default)]
pub struct Kept {
    peaks: Mutex<Vec<Peak>>,
}

impl Kept {
    /// As [`Spread::worst`].
    pub(crate) fn worst(&self, spread: &Spread, settle: f64) -> Result<Worst, String> {
        let same = |peak: &&Peak| peak.1 == settle && peak.0 == *spread;
        if let Some((.., found)) = self.peaks().iter().find(same) {
            return found.clone();
        }
        // Nobody waits while it is looked for.
        let found = spread.worst(settle);
        let mut peaks = self.peaks();
        if peaks.len() == MOST {
            drop(peaks.remove(0));
        }
        peaks.push((spread.clone(), settle, found.clone()));
        found
    }

    fn peaks(&self) -> MutexGuard<'_, Vec<Peak>> {
        self.peaks.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
