//! Stretches of constant width: where two walls keep their distance along a way.
//!
//! 1. Two walls face each other from where the first of them begins to where one ends. If the disc between them changes by
//!    no more than `CONSTANT` all along, what other walls leave free of that way are the stretches.
//! 2. Stretches that go on from each other are one: a chain, open or closed (see `chain`).

use crate::curve::Curve;
use crate::wall::Wall;
use crate::walls::Walls;
use crate::{Bounds, Point, Segment, Vector};

/// A width that changes by no more than this is constant, mm: coordinates with four decimals leave parallel sides that much.
pub(crate) const CONSTANT: f64 = 3e-4;

/// Looks at the disc from one end of a way to the other.
const LOOKS: i32 = 8;

/// Rounding, mm.
const TOUCH: f64 = 1e-9;

/// A way along two walls on which the disc between them hardly changes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stretch {
    pub wall: usize,
    pub other: usize,
    /// From and to which share of `wall`.
    pub low: f64,
    pub high: f64,
    /// Centres of the discs at both ends.
    pub ends: [Point; 2],
    /// Least and greatest radius.
    pub least: f64,
    pub most: f64,
    /// Length of the way of the centre.
    pub length: f64,
}

impl Walls<'_> {
    /// The stretches of constant width between two walls, if they are not wider than this.
    pub fn stretches(&self, a: usize, b: usize, widest: f64) -> Vec<Stretch> {
        let whole = self.overlap(a, b).and_then(|(low, high)| self.stretch(a, b, low, high));
        let constant = |one: &Stretch| 2.0 * (one.most - one.least) <= CONSTANT && one.length > TOUCH;
        let Some(whole) = whole.filter(|one| constant(one) && 2.0 * one.least <= widest) else {
            return Vec::new();
        };
        let free = self.free(&whole).into_iter();
        let some = free.filter_map(|(low, high)| self.stretch(a, b, low, high));
        some.filter(|one| one.length > TOUCH).collect()
    }

    /// From which to which share of `a` a disc can touch both.
    fn overlap(&self, a: usize, b: usize) -> Option<(f64, f64)> {
        // What is ahead on one side is back on the other. No disc at an end: the first wall ends before.
        let low = self.end_of(b, 1.0, a).map_or(-1.0, |end| end.max(-1.0));
        let high = self.end_of(b, -1.0, a).map_or(1.0, |end| end.min(1.0));
        (low < high).then_some((low, high))
    }

    fn stretch(&self, wall: usize, other: usize, low: f64, high: f64) -> Option<Stretch> {
        let (first, last) = (self.disc(wall, low, other)?, self.disc(wall, high, other)?);
        let (mut least, mut most) = (first.radius.min(last.radius), first.radius.max(last.radius));
        for k in 1..LOOKS {
            let share = low + (high - low) * f64::from(k) / f64::from(LOOKS);
            let radius = self.disc(wall, share, other)?.radius;
            (least, most) = (least.min(radius), most.max(radius));
        }
        let length = 0.5 * (high - low) * self.walls[wall].way(0.5 * (least + most));
        Some(Stretch { wall, other, low, high, ends: [first.centre, last.centre], least, most, length })
    }

    /// The shares between which no wall reaches into the disc.
    fn free(&self, whole: &Stretch) -> Vec<(f64, f64)> {
        let Some(way) = self.way(whole) else { return Vec::new() };
        let reach = whole.least - (whole.most - whole.least) - TOUCH;
        let mut cuts = vec![0.0, 1.0];
        self.near(&bounds(&way), reach, |i| {
            // What is near a corner is near the ends of its segments.
            if let Wall::Edge(piece) = &self.walls[i]
                && i != whole.wall
                && i != whole.other
            {
                let around = Curve::new(&piece.segment);
                cuts.extend(way.cuts(&around, reach).stops(0.0, 1.0).stretches().map(|(low, _)| low));
            }
        });
        cuts.sort_by(f64::total_cmp);
        let share = |t: f64| whole.low + (whole.high - whole.low) * t;
        let mut free: Vec<(f64, f64)> = Vec::new();
        for pair in cuts.windows(2).filter(|pair| pair[0] < pair[1]) {
            let (low, high) = (share(pair[0]), share(pair[1]));
            // The disc itself, not the way: the centre of a flat arc is too far away to tell it from.
            let middle = self.disc(whole.wall, 0.5 * (low + high), whole.other);
            if middle.is_none_or(|disc| !self.is_clear(disc.centre, reach)) {
                continue;
            }
            match free.last_mut() {
                Some(last) if last.1 == low => last.1 = high,
                _ => free.push((low, high)),
            }
        }
        free
    }

    /// The way of the centre: the first wall moved into the room.
    fn way(&self, whole: &Stretch) -> Option<Curve> {
        let wall = &self.walls[whole.wall];
        let ((from, _), (to, _)) = (wall.at(whole.low), wall.at(whole.high));
        let radius = 0.5 * (whole.least + whole.most);
        let share = 0.5 * (whole.high - whole.low);
        match wall {
            Wall::Corner(tip) => {
                let middle = wall.at(0.5 * (whole.low + whole.high)).1;
                Some(Curve::around(tip.place, radius, middle, tip.half * share, -1.0))
            }
            Wall::Edge(piece) => {
                let bulge = (0.25 * piece.segment.sweep() * share).tan();
                Curve::new(&Segment { from, to, bulge }).shifted(radius)
            }
        }
    }
}

/// A box around a way.
fn bounds(way: &Curve) -> Bounds {
    let middle = way.at(0.5);
    let ends = Bounds::of(way.from).union(Bounds::of(way.to));
    // No point of an arc of at most half a circle lies farther from its ends' box than its middle does.
    let around = ends.union(Bounds::of(middle));
    let bow = middle.distance(way.from.towards(way.to, 0.5));
    let by = Vector::new(bow, bow);
    Bounds { min: around.min - by, max: around.max + by }
}
