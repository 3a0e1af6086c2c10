//! Whether a line of chords lies on itself so often that the engine would take minutes, or all the memory, over it.
//! Found beforehand and by counting, so that the same package always gets the same answer.
//!
//! Stages: runs of chords get boxes; chords of runs whose boxes meet are held against each other; pairs that lie within
//! reach of each other, and far apart along the line, are counted until there are too many.

use crate::flatten::{Place, distance};

/// Pairs that any line may have: the engine takes about a second over them.
const PAIRS: usize = 200_000;
/// Pairs that each chord may have besides: both sides of a slot lie within reach of each other all along.
const PAIRS_EACH: usize = 40;
/// Chords in a run at least.
const RUN: usize = 8;
/// Runs at most: every two of them are held against each other.
const RUNS: usize = 4_000;

#[derive(Clone, Copy)]
struct Bounds {
    low: Place,
    high: Place,
}

impl Bounds {
    fn of(points: &[Place]) -> Self {
        let mut all = Self { low: [f64::INFINITY; 2], high: [f64::NEG_INFINITY; 2] };
        for [x, y] in points {
            all.low = [all.low[0].min(*x), all.low[1].min(*y)];
            all.high = [all.high[0].max(*x), all.high[1].max(*y)];
        }
        all
    }

    fn within(&self, reach: f64, other: &Self) -> bool {
        (0..2).all(|k| self.low[k] <= other.high[k] + reach && other.low[k] <= self.high[k] + reach)
    }
}

/// Whether a line is too tangled to sweep with a disc of this radius, or to move sideways by it.
pub fn tangled(line: &[Place], radius: f64) -> bool {
    let chords = line.len().saturating_sub(1);
    let most = PAIRS + PAIRS_EACH * chords;
    if chords * chords / 2 <= most {
        return false;
    }
    let reach = 2.0 * radius;
    let mut along = vec![0.0];
    for pair in line.windows(2) {
        along.push(along[along.len() - 1] + distance(pair[0], pair[1]));
    }
    let run = RUN.max(chords.div_ceil(RUNS));
    let runs: Vec<(usize, Bounds)> = (0..chords)
        .step_by(run)
        .map(|first| (first, Bounds::of(&line[first..=chords.min(first + run)])))
        .collect();
    let boxes: Vec<Bounds> = line.windows(2).map(Bounds::of).collect();
    let mut pairs = 0;
    for (n, (a, bounds)) in runs.iter().enumerate() {
        for (b, _) in runs[n..].iter().filter(|(_, other)| bounds.within(reach, other)) {
            for i in *a..chords.min(a + run) {
                // A line is always near itself: what follows within a turn about the disc does not count.
                let others = i.max(*b)..chords.min(b + run);
                let far = others.filter(|j| along[*j] - along[i + usize::from(*j > i)] > 2.0 * reach);
                pairs += far.filter(|j| boxes[i].within(reach, &boxes[*j])).count();
                if pairs > most {
                    return true;
                }
            }
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Turns of a circle of radius 1, each one a little larger than the last.
    fn coil(turns: usize, pitch: f64) -> Vec<Place> {
        (0..=500 * turns)
            .map(|k| {
                let t = k as f64 / 500.0;
                let (sin, cos) = (t * std::f64::consts::TAU).sin_cos();
                let radius = 1.0 + pitch * t;
                [radius * cos, radius * sin]
            })
            .collect()
    }

    #[test]
    fn once_round_is_plain_and_a_hundred_times_round_is_not() {
        assert!(!tangled(&coil(1, 0.0), 0.05));
        assert!(!tangled(&coil(100, 0.2), 0.05), "side by side");
        assert!(tangled(&coil(100, 0.0), 0.05));
        assert!(!tangled(&[], 0.05) && !tangled(&[[0.0, 0.0]], 0.05));
    }
}
