//! How long the sides of triangles may be at a place: short at spots that ask for it, growing steadily away from them.

use crate::region::Region;
use crate::rim::Division;
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

/// A spot is left out where others ask for sides no longer than this many times its own.
const ASKED: f64 = 1.1;

/// A place that asks for short sides.
#[derive(Debug, Clone, Copy)]
struct Spot {
    at: Point,
    /// mm.
    side: f64,
}

/// Length of sides over the plate.
#[derive(Debug, Clone)]
pub(crate) struct Size {
    longest: f64,
    growth: f64,
    /// Those that ask for the shortest first.
    spots: Vec<Spot>,
}

impl Size {
    /// What the edges of a plate ask for by themselves: each arc so many sides.
    pub(crate) fn of(region: &Region) -> Self {
        let bounds = region.outer().bounds();
        let longest = LONGEST_SHARE * bounds.min.distance(bounds.max);
        let mut size = Self { longest, growth: GROWTH, spots: Vec::new() };
        for side in region.loops().iter().flatten().filter(|side| !side.segment.is_line()) {
            size.spots.extend(along_arc(&side.segment));
        }
        size.sort();
        size
    }

    /// Finer by a factor everywhere: what it asked for, how fast it grows and its greatest.
    pub(crate) fn finer(&mut self, factor: f64) {
        self.longest *= factor;
        self.growth *= factor.sqrt();
        self.spots.iter_mut().for_each(|spot| spot.side *= factor);
    }

    /// Asks for sides of such a length at the middle of each of these divisions of an edge.
    pub(crate) fn refine<'a>(&mut self, at: impl Iterator<Item = (&'a Division, f64)>) {
        self.spots.extend(at.map(|(division, side)| Spot { at: division.middle(), side }));
        self.sort();
    }

    /// The greatest length of a side at a place, mm.
    pub(crate) fn at(&self, place: Point) -> f64 {
        let mut least = self.longest;
        for spot in &self.spots {
            if spot.side >= least {
                break;
            }
            let reach = (least - spot.side) / self.growth;
            let apart = place - spot.at;
            let square = apart.dot(apart);
            if square < reach * reach {
                least = spot.side + self.growth * square.sqrt();
            }
        }
        least
    }

    /// Brings the spots in order, without those that others ask for already.
    fn sort(&mut self) {
        let mut all = std::mem::take(&mut self.spots);
        all.sort_by(|a, b| a.side.total_cmp(&b.side));
        for spot in all {
            if self.at(spot.at) > ASKED * spot.side {
                self.spots.push(spot);
            }
        }
    }
}

fn along_arc(arc: &Segment) -> impl Iterator<Item = Spot> + '_ {
    let count = (arc.sweep().abs() / ARC_STEP).ceil().max(LEAST_ARC_SIDES);
    let side = arc.length() / count;
    (0..count as usize).map(move |i| Spot { at: arc.at((i as f64 + 0.5) / count), side })
}
