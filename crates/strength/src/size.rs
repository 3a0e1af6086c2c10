//! How long the sides of triangles may be at a place: short at spots that ask for it, growing steadily away from them.

use crate::region::Region;
use crate::rim::Division;
use crate::spots::{Spot, Spots};
use outline::{Point, Segment};

/// Greatest angle of an arc that one triangle side spans at first, radians: a quarter of a right angle. Quadratic sides then
/// follow the arc to 1e-4 of its radius.
const ARC_STEP: f64 = std::f64::consts::FRAC_PI_8;

/// Sides of triangles that an arc has at least, however flat: a peak on it needs a place on either side.
const LEAST_ARC_SIDES: f64 = 2.0;

/// Share of the plate's diagonal that no side is longer than.
const LONGEST_SHARE: f64 = 1.0 / 8.0;

/// How much longer a side may be for each mm of distance from a spot.
const GROWTH: f64 = 0.4;

/// Length of sides over the plate.
#[derive(Debug, Clone)]
pub(crate) struct Size {
    longest: f64,
    growth: f64,
    spots: Spots,
}

impl Size {
    /// What the edges of a plate ask for by themselves: each arc so many sides.
    pub(crate) fn of(region: &Region) -> Self {
        let bounds = region.outer().bounds();
        let longest = LONGEST_SHARE * bounds.min.distance(bounds.max);
        let loops = region.loops();
        let spots = loops.iter().flatten().flat_map(|side| along(&side.segment)).collect();
        Self { longest, growth: GROWTH, spots: Spots::new(spots) }
    }

    /// Finer by a factor everywhere, and sides of such a length at the middle of each of these divisions of an edge.
    pub(crate) fn finer<'a>(&self, factor: f64, at: impl Iterator<Item = (&'a Division, f64)>) -> Self {
        let old = self.spots.clone().into_spots().into_iter();
        let mut spots: Vec<Spot> = old.map(|spot| Spot { side: factor * spot.side, ..spot }).collect();
        spots.extend(at.map(|(division, side)| Spot { at: division.middle(), side }));
        // Growth is a ratio of lengths: half of the step goes into it, or far triangles would hardly change.
        Self { longest: factor * self.longest, growth: factor.sqrt() * self.growth, spots: Spots::new(spots) }
    }

    /// The greatest length of a side at a place, mm.
    pub(crate) fn at(&self, place: Point) -> f64 {
        self.spots.least(place, self.growth, self.longest)
    }
}

/// An arc asks for so many sides along it, a line for none longer than itself: a run of short ones would get slender triangles.
fn along(segment: &Segment) -> impl Iterator<Item = Spot> + '_ {
    let count = match segment.is_line() {
        true => 1.0,
        false => (segment.sweep().abs() / ARC_STEP).ceil().max(LEAST_ARC_SIDES),
    };
    let side = segment.length() / count;
    (0..count as usize).map(move |i| Spot { at: segment.at((i as f64 + 0.5) / count), side })
}
