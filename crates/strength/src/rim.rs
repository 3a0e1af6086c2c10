//! The edges of a plate cut into the sides of triangles.

use crate::region::{Region, Side};
use crate::size::Size;
use outline::Point;

/// Halvings of one segment at most: a millionth of it is shorter than any size asked for.
const MOST_HALVINGS: u32 = 20;

/// Part of a segment of an edge: what one triangle has as its side. The plate lies to its left.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Division {
    pub(crate) side: Side,
    /// Shares of the segment's length where it begins and ends.
    pub(crate) from: f64,
    pub(crate) to: f64,
}

impl Division {
    /// The place at a share of its own length, on the true line or arc.
    pub(crate) fn at(&self, share: f64) -> Point {
        let segment = &self.side.segment;
        match self.from + share * (self.to - self.from) {
            0.0 => segment.from,
            1.0 => segment.to,
            t => segment.at(t),
        }
    }

    /// Its middle.
    pub(crate) fn middle(&self) -> Point {
        self.at(0.5)
    }

    /// Its length, mm.
    pub(crate) fn length(&self) -> f64 {
        self.side.segment.length() * (self.to - self.from)
    }

    /// Its two halves.
    pub(crate) fn halves(&self) -> [Division; 2] {
        let middle = 0.5 * (self.from + self.to);
        [Division { to: middle, ..*self }, Division { from: middle, ..*self }]
    }
}

/// Each edge of the plate, cut until no part is longer than asked for.
pub(crate) fn divided(region: &Region, size: &Size) -> Vec<Vec<Division>> {
    let cut = |side: Side| {
        let mut parts = Vec::new();
        halve(Division { side, from: 0.0, to: 1.0 }, size, MOST_HALVINGS, &mut parts);
        parts
    };
    region.loops().into_iter().map(|sides| sides.into_iter().flat_map(cut).collect()).collect()
}

fn halve(division: Division, size: &Size, left: u32, into: &mut Vec<Division>) {
    let asked = [0.0, 0.5, 1.0].map(|share| size.at(division.at(share)));
    let least = asked.into_iter().fold(f64::INFINITY, f64::min);
    // An end that asks for much less than the middle shows in a mean: half of the part is near it.
    let mean = asked.iter().sum::<f64>() / 3.0;
    if left == 0 || division.length() <= mean.min(2.0 * least) {
        into.push(division);
        return;
    }
    for half in division.halves() {
        halve(half, size, left - 1, into);
    }
}
