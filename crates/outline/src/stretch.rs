//! Stretches of constant width: where two walls keep their distance along a way.
//!
//! 1. Two walls face each other from where the first of them begins to where one ends. If the disc between them changes by
//!    no more than `CONSTANT` all along, what other walls leave free of that way are the stretches.
//! 2. Stretches that go on from each other are one: a chain, open or closed (see `chain`).

use crate::curve::Curve;
use crate::neck::Disc;
use crate::wall::Wall;
use crate::walls::Walls;
use crate::{Bounds, Piece, Point, Segment, Vector};

/// A width that changes by no more than this is constant, mm: coordinates with four decimals leave parallel sides that much.
pub(crate) const CONSTANT: f64 = 3e-4;

/// Looks at the disc from one end of a way to the other.
const LOOKS: i32 = 8;

/// Walls that are looked at to find where a stretch begins, one after the other.
const MOST_TRIMS: usize = 32;

/// What is shorter than this share of the radius is no part of a stretch: stretches are joined over wider gaps than that.
const SHORTEST: f64 = 1e-4;

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
        // Between neighbours that share a corner rounding sees discs of no size.
        let constant = |one: &Stretch| {
            let change = 2.0 * (one.most - one.least);
            one.least > TOUCH && change <= CONSTANT && one.length > SHORTEST * one.least && one.may_be_flat()
        };
        let across = |one: &Stretch| {
            let middle = self.disc(one.wall, 0.5 * (one.low + one.high), one.other);
            middle.is_some_and(|disc| self.is_across(&disc))
        };
        let Some(whole) = whole.filter(|one| constant(one) && 2.0 * one.least <= widest && across(one))
        else {
            return Vec::new();
        };
        self.free(&whole)
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

    /// What other walls leave free of a stretch.
    fn free(&self, whole: &Stretch) -> Vec<Stretch> {
        // Walls beside the touched ones first, since they are found without a search: in a wheel of facets every wall is
        // near, and those leave nothing.
        let beside = self.trimmed(whole, |disc| self.beside_reaching_into(disc));
        let Some(left) = beside.and_then(|left| self.trimmed(&left, |disc| self.reaching_into(disc))) else {
            return Vec::new();
        };
        let parts = self.parts(&left).into_iter();
        let parts = parts.filter_map(|(low, high)| self.stretch(whole.wall, whole.other, low, high));
        parts.filter_map(|part| self.trimmed(&part, |disc| self.reaching_into(disc))).collect()
    }

    /// A stretch without what walls reach into at its ends; none if nothing is left.
    fn trimmed(&self, whole: &Stretch, reaching: impl Fn(&Disc) -> Option<Piece>) -> Option<Stretch> {
        let low = self.first_free(whole, (whole.low, whole.high), &reaching)?;
        let high = self.first_free(whole, (whole.high, low), &reaching)?;
        self.stretch(whole.wall, whole.other, low, high).filter(|left| left.length > SHORTEST * left.least)
    }

    /// The first share from an end of a stretch towards another at which no wall reaches into the disc.
    fn first_free(
        &self,
        whole: &Stretch,
        (end, last): (f64, f64),
        reaching: impl Fn(&Disc) -> Option<Piece>,
    ) -> Option<f64> {
        let disc = |share: f64| self.disc(whole.wall, share, whole.other);
        let mut at = end;
        for _ in 0..MOST_TRIMS {
            let Some(wall) = reaching(&disc(at)?) else { return Some(at) };
            let free = |share: f64| {
                disc(share).is_some_and(|disc| wall.foot(disc.centre).distance >= disc.radius - TOUCH)
            };
            let beyond =
                (1..=LOOKS).map(|k| at + (last - at) * f64::from(k) / f64::from(LOOKS)).find(|s| free(*s))?;
            let (mut reached, mut clear) = (at, beyond);
            for _ in 0..60 {
                let middle = 0.5 * (reached + clear);
                match free(middle) {
                    true => clear = middle,
                    false => reached = middle,
                }
            }
            at = clear;
        }
        None
    }

    /// A wall that reaches into a disc.
    fn reaching_into(&self, disc: &Disc) -> Option<Piece> {
        self.reaching(disc.centre, disc.radius - TOUCH)
    }

    /// The same of the walls beside the two touched ones alone.
    fn beside_reaching_into(&self, disc: &Disc) -> Option<Piece> {
        let beside = |i: usize| [self.beside(i, true), self.beside(i, false)];
        let mut edges =
            [disc.wall, disc.other].into_iter().flat_map(beside).filter_map(|i| match self.walls[i] {
                Wall::Edge(piece) => Some(piece),
                Wall::Corner(_) => None,
            });
        edges.find(|piece| piece.foot(disc.centre).distance < disc.radius - TOUCH)
    }

    /// From which to which share no wall reaches into the disc, nearly.
    fn parts(&self, whole: &Stretch) -> Vec<(f64, f64)> {
        let Some(way) = self.way(whole) else { return Vec::new() };
        let mut cuts = vec![0.0, 1.0];
        self.near(&bounds(&way), whole.most, |i| {
            // What is near a corner is near the ends of its segments.
            if let Wall::Edge(piece) = &self.walls[i]
                && i != whole.wall
                && i != whole.other
            {
                let around = Curve::new(&piece.segment);
                cuts.extend(way.cuts(&around, whole.most).stops(0.0, 1.0).stretches().map(|(low, _)| low));
            }
        });
        cuts.sort_by(f64::total_cmp);
        let share = |along: f64| whole.low + (whole.high - whole.low) * along;
        let mut parts: Vec<(f64, f64)> = Vec::new();
        for pair in cuts.windows(2).filter(|pair| pair[0] < pair[1]) {
            let (low, high) = (share(pair[0]), share(pair[1]));
            // The disc itself, not the way: the centre of a flat arc is too far away to tell it from.
            let middle = self.disc(whole.wall, 0.5 * (low + high), whole.other);
            if middle.is_none_or(|disc| self.reaching_into(&disc).is_some()) {
                continue;
            }
            match parts.last_mut() {
                Some(last) if last.1 == low => last.1 = high,
                _ => parts.push((low, high)),
            }
        }
        parts
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
