//! Necks: places where the disc between two walls is smaller than its neighbours along the way of its centre.
//!
//! There the two touched places are opposite ends of a diameter. For a line and a centre, or two centres, the line through
//! both is unique, so there is one place to look at. Between a bend into the room and one away from it that place is the
//! nearer of two; between two bends away, or a line and one, the disc is largest there and there is no neck.
//!
//! A disc that grows and then meets a third wall, or shrinks again, is no neck however small the rise; `RISE` says what
//! counts as growing. The disc is followed from wall to wall until it has grown by that, both ways.

use crate::Point;
use crate::wall::Bend;
use crate::walls::Walls;

/// A disc that has not grown by this has not grown, mm on the radius.
const RISE: f64 = 5e-7;

/// A disc is clear of a wall that reaches into it by less, and no smaller disc is one, mm: rounding.
const TOUCH: f64 = 1e-9;

/// Walls that a disc is followed over while it grows by less than `RISE`. A longer way is a stretch of constant width.
const MOST_WALLS: usize = 24;

/// A disc is across if it touches both walls within this share of its radius, so many radii from each other.
const OFF: f64 = 1e-6;
const ACROSS: f64 = 1.9;

/// Looks at a disc on its way along one pair of walls.
const LOOKS: i32 = 8;

/// A disc that touches two walls.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Disc {
    pub centre: Point,
    pub radius: f64,
    /// The wall it is told by, and where it touches that.
    pub wall: usize,
    pub share: f64,
    /// The wall on the other side.
    pub other: usize,
}

impl Walls<'_> {
    /// The disc that touches `wall` at a share of it, and the whole line, circle or point of `other`.
    pub fn disc(&self, wall: usize, share: f64, other: usize) -> Option<Disc> {
        let (place, normal) = self.walls[wall].at(share);
        let radius = self.walls[other].touching(place, normal)?;
        Some(Disc { centre: place + normal * radius, radius, wall, share, other })
    }

    /// Where the disc that touches `other` at its start (-1) or end (1) touches `wall`.
    pub fn end_of(&self, other: usize, end: f64, wall: usize) -> Option<f64> {
        let disc = self.disc(other, end, wall)?;
        Some(self.walls[wall].share_of(disc.centre))
    }

    /// Whether a disc touches its two walls at opposite places. At a tangent joint of two walls every disc touches both, at
    /// the joint.
    pub fn is_across(&self, disc: &Disc) -> bool {
        let other = &self.walls[disc.other];
        let touched = other.at(other.share_of(disc.centre).clamp(-1.0, 1.0)).0;
        let off = touched.distance(disc.centre) - disc.radius;
        off <= TOUCH + OFF * disc.radius
            && touched.distance(self.walls[disc.wall].at(disc.share).0) >= ACROSS * disc.radius
    }

    /// Whether no wall reaches into a disc.
    pub fn holds(&self, disc: &Disc) -> bool {
        self.reaching(disc.centre, disc.radius - TOUCH).is_none()
    }

    /// The neck between two walls, if there is one and the disc lies in the room.
    pub fn neck(&self, a: usize, b: usize) -> Option<Disc> {
        let disc = self.between(a, b).or_else(|| self.between(b, a))?;
        let other = &self.walls[disc.other];
        let stands = disc.radius > TOUCH
            && self.walls[disc.wall].holds(disc.share, disc.radius)
            && other.holds(other.share_of(disc.centre), disc.radius);
        (stands
            && self.is_across(&disc)
            && self.holds(&disc)
            && self.grows(&disc, 1.0)
            && self.grows(&disc, -1.0))
        .then_some(disc)
    }

    /// The disc on the shortest line between two walls, whether or not it touches them between their ends.
    fn between(&self, a: usize, b: usize) -> Option<Disc> {
        let share = match (self.walls[a].bend(), self.walls[b].bend()) {
            (Bend::Straight, Bend::Into(centre, _)) => self.walls[a].share_of(centre),
            (Bend::Into(one, _), Bend::Into(other, _)) => self.walls[a].share_facing(other - one),
            (Bend::Into(one, _), Bend::Away(other, _)) => self.walls[a].share_facing(one - other),
            _ => return None,
        };
        self.disc(a, share, b)
    }

    /// Whether a disc grows on its way along its wall, ahead (1) or back (-1), before anything else happens.
    fn grows(&self, from: &Disc, way: f64) -> bool {
        let enough = from.radius + RISE;
        let mut disc = *from;
        for _ in 0..MOST_WALLS {
            let run = self.run(&disc, way);
            let mut last = disc;
            for k in 1..=LOOKS {
                let share = disc.share + (run.end - disc.share) * (f64::from(k) / f64::from(LOOKS));
                match self.disc(disc.wall, share, disc.other) {
                    Some(next) if next.radius < from.radius - TOUCH => return false,
                    Some(next) if next.radius < enough => last = next,
                    // Grown enough, or beyond all measure.
                    _ => return self.holds(&self.grown_to(last, share, enough)),
                }
            }
            if !self.holds(&last) {
                return false;
            }
            disc = self.beyond(&last, &run, way);
        }
        false
    }

    /// How far the touched places run until one of them comes to the end of its wall.
    fn run(&self, disc: &Disc, way: f64) -> Run {
        let other_end = self.end_of(disc.other, -way, disc.wall).map_or(f64::INFINITY, |end| way * end);
        let share = way * disc.share;
        // A wall that has ended already, by rounding, ends here.
        let other_end = other_end.max(share);
        let end = other_end.min(share.max(1.0));
        Run { end: way * end, wall_ends: end >= 1.0, other_ends: other_end <= end }
    }

    /// The disc that has all but grown to a radius, between one that has not and a share of its wall by which it has.
    fn grown_to(&self, smaller: Disc, share: f64, radius: f64) -> Disc {
        let (mut low, mut high) = (smaller, share);
        for _ in 0..60 {
            let middle = 0.5 * (low.share + high);
            match self.disc(low.wall, middle, low.other).filter(|disc| disc.radius < radius) {
                Some(disc) => low = disc,
                None => high = middle,
            }
        }
        low
    }

    /// The same disc told by the walls that its way goes on along.
    fn beyond(&self, disc: &Disc, run: &Run, way: f64) -> Disc {
        let (wall, share) = match run.wall_ends {
            true => (self.beside(disc.wall, way > 0.0), -way),
            false => (disc.wall, disc.share),
        };
        let other = if run.other_ends { self.beside(disc.other, way < 0.0) } else { disc.other };
        Disc { wall, share, other, ..*disc }
    }
}

/// A way along a pair of walls, and which of them ends with it.
struct Run {
    end: f64,
    wall_ends: bool,
    other_ends: bool,
}
