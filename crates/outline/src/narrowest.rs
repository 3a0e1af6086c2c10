//! The narrowest place of a room: the least width between walls that face each other.
//!
//! The centres of all discs that touch the edge in two places make the medial axis; the disc's diameter is the width there.
//! Narrow is where that diameter is least among its neighbours along the axis, or stays the same over a stretch. The ends of
//! the axis, where it runs out into corners, are no narrow places: an oval has none, nor a triangle. A least diameter that is
//! not an end joins opposite points of two walls, so the axis itself need not be built:
//!
//! 1. Pairs of walls that face each other come nearest first (see `walls`).
//! 2. Each may have one neck, told in closed form and followed both ways (see `neck`), and stretches of constant width (see
//!    `stretch`).
//! 3. The search ends when what is left is farther apart than the least width found. Stretches that go on from each other
//!    become one, necks at their ends are part of them (see `chain`), and the least is taken.
//!
//! Nothing is flattened, no place is sampled: the width is the exact distance of the place from the nearest wall, twice.

use std::fmt;

use crate::chain::{Chain, chains};
use crate::neck::Disc;
use crate::stretch::{CONSTANT, Stretch};
use crate::wall::Bend;
use crate::walls::Walls;
use crate::{Outline, Point, Vector};

/// Widths and coordinates that differ by no more are equal, mm.
const SAME: f64 = 1e-6;

/// Pairs of walls looked at before the search gives up; 5,000 facets take some ten thousands.
const MOST_PAIRS: usize = 20_000_000;

/// The narrowest place, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Narrowest {
    /// Its middle; of a stretch of constant width the middle of that. Of several equally narrow ones the one of least x,
    /// then y; of a stretch that runs round in itself the place of least x, then y.
    pub centre: Point,
    /// How wide it is there: twice the distance to the nearest edge.
    pub width: f64,
    /// Where the edge is that near, on either side.
    pub sides: [Point; 2],
}

/// Why the narrowest place is not known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NarrowestError {
    /// An island, by its place in the list, does not lie inside the outline.
    IslandOutside(usize),
    /// The search was stopped.
    TooLong,
}

impl fmt::Display for NarrowestError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::IslandOutside(i) => {
                write!(f, "island {i} does not lie inside the outline; leave out what lies elsewhere")
            }
            Self::TooLong => write!(
                f,
                "the narrowest place was not found among {MOST_PAIRS} pairs of sides; simplify the outline"
            ),
        }
    }
}

impl std::error::Error for NarrowestError {}

/// The narrowest place inside `outer` and outside every one of `islands`; none where nothing is narrower than its
/// neighbourhood, as in a circle, an oval or a triangle.
///
/// # Errors
/// An island that does not lie inside, or a search that would take too long.
pub fn narrowest(outer: &Outline, islands: &[Outline]) -> Result<Option<Narrowest>, NarrowestError> {
    match islands {
        [] => outer.narrow(),
        _ => look(outer, islands),
    }
}

/// The search itself.
pub(crate) fn look(outer: &Outline, islands: &[Outline]) -> Result<Option<Narrowest>, NarrowestError> {
    let outside = |island: &Outline| island.vertices().iter().any(|v| !outer.contains(v.point));
    if let Some(i) = islands.iter().position(outside) {
        return Err(NarrowestError::IslandOutside(i));
    }
    let walls = Walls::new(outer, islands);
    let (mut necks, mut stretches, mut least) = (Vec::new(), Vec::new(), f64::INFINITY);
    let done = walls.facing(MOST_PAIRS, |a, b| {
        let neck = walls.neck(a, b).filter(|neck| 2.0 * neck.radius <= least + CONSTANT);
        let along = walls.stretches(a, b, least + CONSTANT);
        let alone = along.iter().filter(|stretch| stretch.stands_alone()).map(|stretch| stretch.most);
        let narrow = neck.iter().map(|neck| neck.radius).chain(alone).fold(f64::INFINITY, f64::min);
        least = least.min(2.0 * narrow);
        necks.extend(neck);
        stretches.extend(along);
        least + CONSTANT
    });
    done.map_err(|_| NarrowestError::TooLong)?;
    Ok(of_least(&places(&walls, &necks, stretches)))
}

/// Every narrow place found.
fn places(walls: &Walls<'_>, necks: &[Disc], stretches: Vec<Stretch>) -> Vec<Narrowest> {
    let chains = chains(stretches);
    let ways = chains.iter().filter_map(|chain| middle(walls, chain));
    let apart = necks.iter().filter(|neck| !chains.iter().any(|chain| chain.has(neck)));
    ways.chain(apart.map(|neck| place(walls, neck))).collect()
}

/// The narrowest of all, by width, then x, then y.
fn of_least(places: &[Narrowest]) -> Option<Narrowest> {
    let least = |of: &dyn Fn(&Narrowest) -> f64, among: &[Narrowest]| -> Vec<Narrowest> {
        let least = among.iter().map(of).fold(f64::INFINITY, f64::min);
        among.iter().filter(|one| of(one) <= least + SAME).copied().collect()
    };
    let narrow = least(&|one| one.width, places);
    let left = least(&|one| one.centre.x, &narrow);
    left.into_iter().min_by(|a, b| a.centre.y.total_cmp(&b.centre.y))
}

/// A disc as an answer: its width is what the distance to the walls says.
fn place(walls: &Walls<'_>, disc: &Disc) -> Narrowest {
    let side = walls.walls[disc.wall].at(disc.share).0;
    Narrowest {
        centre: disc.centre,
        width: 2.0 * walls.depth(disc.centre),
        sides: [side, disc.centre + (disc.centre - side)],
    }
}

/// The place that stands for a chain.
fn middle(walls: &Walls<'_>, chain: &Chain) -> Option<Narrowest> {
    if chain.closed {
        let discs = chain.links.iter().flat_map(|(link, _)| leftmost(walls, link));
        return of_least_x(discs.map(|disc| place(walls, &disc)).collect());
    }
    let (link, share) = chain.middle()?;
    Some(place(walls, &walls.disc(link.wall, share, link.other)?))
}

fn of_least_x(places: Vec<Narrowest>) -> Option<Narrowest> {
    let least = places.iter().map(|one| one.centre.x).fold(f64::INFINITY, f64::min);
    let left = places.into_iter().filter(|one| one.centre.x <= least + SAME);
    left.min_by(|a, b| a.centre.y.total_cmp(&b.centre.y))
}

/// The discs of a stretch among which that of least x is: those at its ends, and where its way turns back from x.
fn leftmost(walls: &Walls<'_>, link: &Stretch) -> Vec<Disc> {
    let wall = &walls.walls[link.wall];
    let turning = match wall.bend() {
        Bend::Straight => None,
        Bend::Into(..) => Some(wall.share_facing(Vector::new(-1.0, 0.0))),
        Bend::Away(..) => Some(wall.share_facing(Vector::new(1.0, 0.0))),
    };
    let between = turning.filter(|share| (link.low..=link.high).contains(share));
    let shares = [Some(link.low), Some(link.high), between].into_iter().flatten();
    shares.filter_map(|share| walls.disc(link.wall, share, link.other)).collect()
}
