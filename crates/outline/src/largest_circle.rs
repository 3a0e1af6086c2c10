//! The largest circle in an outline that stays out of the islands in it, proven.
//!
//! 1. Squares cover the outline's bounds. The depth at a square's middle, and at every step that looks deepest from there,
//!    bounds the best from below; the bounds of `soundings` bound the square from above. A few are enough: each next one
//!    comes from the place that the others still allow to be deepest.
//! 2. The square that could be deepest is split until none could beat the best by more than `GAP`. Before and after, the
//!    best climbs: it takes the step that looks deepest, a longer one after each that helps, a shorter one otherwise.
//! 3. Other places as deep as the best, to within `TIE`, are looked for in what squares are left. If one lies apart, the
//!    place of least x is searched for among all of them, then the one of least y: squares are cut down to what their
//!    bounds leave and taken in order of that coordinate.
//!
//! Between parallel sides the bounds of two lines add up to exactly the width, so a slot costs no more than a triangle.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::fmt;

use crate::level_set::{Axis, least_along};
use crate::soundings::{Highest, Known, Room, Sounding};
use crate::told::Told;
use crate::{Outline, Point, Vector};

/// The search stops once nothing can be deeper than the best by this, mm.
const GAP: f64 = 2.5e-7;

/// Circles are equal if their radii differ by less than this, mm: together with `GAP` below the promised nanometre.
pub(crate) const TIE: f64 = 5e-7;

/// Equal circles tie if their centres lie this far apart, mm, or a tenth of the radius where that is less: between two
/// gently curved sides the depth is within a nanometre of its best over some micrometres, and that is one place.
const APART: f64 = 0.01;

/// Squares looked at before the search gives up; the hardest outlines of the tests take some thousands.
const MOST_SQUARES: usize = 200_000;

/// A climb ends with steps of this, mm, and a tie that reaches no farther than this is none.
const SHORTEST_STEP: f64 = 1e-8;

/// Steps of one climb: what it leaves undone the proof does, only slower.
const MOST_STEPS: usize = 500;

/// A step that gains less than this is no gain, mm: rounding alone must not keep a climb going.
const LEAST_GAIN: f64 = 1e-13;

/// The largest circle, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LargestCircle {
    /// Its centre. If several tie: of all centres whose circle is within 0.5 nm of the largest the one of least x, and
    /// among those within 1.5 nm of that x the one of least y; then the best within 1.5 nm of it.
    pub centre: Point,
    /// Its radius: the exact depth of that centre.
    pub radius: f64,
    /// No circle is larger than `radius` by more than this; always below 1e-6 mm.
    pub proven_within: f64,
    /// Whether another circle within 0.5 nm of the largest has its centre apart from the best one's, by 0.01 mm or a
    /// tenth of the radius, whichever is less.
    pub tied: bool,
}

/// Why there is no largest circle to give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LargestCircleError {
    /// An island, by its place in the list, does not lie inside the outline.
    IslandOutside(usize),
    /// The search was stopped before its proof was complete.
    Unproven {
        /// Best centre so far.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
    },
}

impl fmt::Display for LargestCircleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::IslandOutside(i) => {
                write!(f, "island {i} does not lie inside the outline; leave out what lies elsewhere")
            }
            Self::Unproven { centre, radius } => write!(
                f,
                "the largest circle found, radius {radius} mm at x {} y {}, could not be proven within 1 nm in {MOST_SQUARES} steps; simplify the outline",
                centre.x, centre.y
            ),
        }
    }
}

impl std::error::Error for LargestCircleError {}

/// The largest circle inside `outer` and outside every one of `islands`.
///
/// # Errors
/// An island that does not lie inside, or a proof that would take too long.
pub fn largest_circle(outer: &Outline, islands: &[Outline]) -> Result<LargestCircle, LargestCircleError> {
    match islands {
        [] => outer.circle(),
        _ => search(outer, islands),
    }
}

/// The search itself.
pub(crate) fn search(outer: &Outline, islands: &[Outline]) -> Result<LargestCircle, LargestCircleError> {
    let outside = |island: &Outline| island.vertices().iter().any(|v| !outer.contains(v.point));
    if let Some(i) = islands.iter().position(outside) {
        return Err(LargestCircleError::IslandOutside(i));
    }
    let mut search = Search::new(Room { outer, islands });
    let upper = search.prove()?;
    let best = search.best;
    let Some(other) = search.tie()? else {
        return Ok(search.answer(best, upper, false));
    };
    let leftmost = least_along(&mut search, Axis::X, &[best.place, other], f64::INFINITY)?;
    let lowest = least_along(&mut search, Axis::Y, &[leftmost], leftmost.x + 3.0 * TIE)?;
    let settled = search.settle(lowest)?;
    Ok(search.answer(settled, upper, true))
}

/// A square; `upper` bounds the depth in it, `known` is what its mother knows of its middle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Square {
    pub middle: Point,
    pub half: f64,
    pub upper: f64,
    known: Known,
}

/// What bounds the depth in a square.
pub(crate) struct Bounded<'a> {
    /// No place of it is deeper.
    pub upper: f64,
    /// The bounds that say so; none where the edge runs through it.
    pub told: Told,
    /// The depth at its middle.
    here: Option<Sounding<'a>>,
}

impl Square {
    /// A square that nothing is known of.
    fn new(middle: Point, half: f64) -> Self {
        Self { middle, half, upper: f64::INFINITY, known: Known::default() }
    }

    /// Radius of the disc around it.
    pub fn rho(&self) -> f64 {
        self.half * std::f64::consts::SQRT_2
    }

    /// Its four quarters, each with the same bound.
    pub fn quarters(&self) -> [Square; 4] {
        let half = self.half / 2.0;
        [(-half, -half), (half, -half), (-half, half), (half, half)].map(|(x, y)| Square {
            middle: self.middle + Vector::new(x, y),
            half,
            ..*self
        })
    }

    /// The same after it was looked at: its quarters know what lies around its middle.
    pub fn bounded(&self, by: &Bounded) -> Square {
        let known = by.here.map_or(Known::default(), |here| here.known(self.rho() / 2.0));
        Square { upper: self.upper.min(by.upper), known, ..*self }
    }
}

impl PartialEq for Square {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Square {}
impl PartialOrd for Square {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
/// The square that could be deepest comes first; the place decides between equals so that every run is the same.
impl Ord for Square {
    fn cmp(&self, other: &Self) -> Ordering {
        self.upper
            .total_cmp(&other.upper)
            .then(other.middle.x.total_cmp(&self.middle.x))
            .then(other.middle.y.total_cmp(&self.middle.y))
    }
}

#[derive(Debug, Clone, Copy)]
pub(crate) struct Best {
    pub place: Point,
    pub depth: f64,
}

/// The state of a search.
pub(crate) struct Search<'a> {
    room: Room<'a>,
    pub best: Best,
    /// Squares that may still hold a circle within `TIE` of the best.
    pub open: BinaryHeap<Square>,
    squares: usize,
}

impl<'a> Search<'a> {
    fn new(room: Room<'a>) -> Self {
        let middle = room.outer.bounds().middle();
        Self {
            room,
            best: Best { place: middle, depth: f64::NEG_INFINITY },
            open: BinaryHeap::new(),
            squares: 0,
        }
    }

    fn answer(&self, at: Best, upper: f64, tied: bool) -> LargestCircle {
        let proven_within = (upper - at.depth).max(0.0);
        LargestCircle { centre: at.place, radius: at.depth, proven_within, tied }
    }

    /// Stages 1 and 2; what nothing is deeper than.
    fn prove(&mut self) -> Result<f64, LargestCircleError> {
        for square in self.cover() {
            self.take(square)?;
        }
        self.climb()?;
        loop {
            let Some(top) = self.open.peek().copied().filter(|top| top.upper > self.best.depth + GAP) else {
                self.climb()?;
                let left = self.open.peek().map_or(self.best.depth, |top| top.upper);
                return Ok(left.max(self.best.depth));
            };
            self.open.pop();
            for quarter in top.quarters() {
                self.take(quarter)?;
            }
        }
    }

    /// Moves the best uphill until no step longer than `SHORTEST_STEP` helps. A step that helped is doubled: a narrow ridge
    /// makes it short at first, and would hold it short for all its length.
    fn climb(&mut self) -> Result<(), LargestCircleError> {
        let longest = self.best.depth / 4.0;
        let mut half = longest;
        for _ in 0..MOST_STEPS {
            if half <= SHORTEST_STEP {
                break;
            }
            let before = self.best;
            let square = Square::new(before.place, half);
            let told = self.bounds(&square)?.told;
            if let Some(twin) = told.highest(square.rho()).twin {
                self.look(before.place + twin, Known::default());
            }
            half = match self.best.depth > before.depth + LEAST_GAIN {
                true => longest.min(half * 2.0),
                false => half / 4.0,
            };
        }
        Ok(())
    }

    /// Squares over the bounds, at most 64 in a row.
    fn cover(&self) -> Vec<Square> {
        let b = self.room.outer.bounds();
        let side = b.width().min(b.height()).max(b.width().max(b.height()) / 64.0);
        let (columns, rows) = ((b.width() / side).ceil().max(1.0), (b.height() / side).ceil().max(1.0));
        let first = b.middle() - Vector::new(columns - 1.0, rows - 1.0) * (side / 2.0);
        let mut squares = Vec::new();
        for i in 0..columns as usize {
            for j in 0..rows as usize {
                let middle = first + Vector::new(i as f64, j as f64) * side;
                // A hair wider than its share, so that rounding leaves no seam.
                squares.push(Square::new(middle, side * (0.5 + 1e-9)));
            }
        }
        squares
    }

    /// Bounds a square and keeps it if it may matter.
    fn take(&mut self, square: Square) -> Result<(), LargestCircleError> {
        let square = square.bounded(&self.bounds(&square)?);
        if square.upper >= self.best.depth - TIE {
            self.open.push(square);
        }
        Ok(())
    }

    /// The depth at a place, remembered if it is the best so far.
    pub fn look(&mut self, place: Point, known: Known) -> Option<Sounding<'a>> {
        let sounding = self.room.sound(place, known)?;
        if sounding.depth > self.best.depth {
            self.best = Best { place, depth: sounding.depth };
        }
        Some(sounding)
    }

    /// What bounds the depth in a square from above.
    pub fn bounds(&mut self, square: &Square) -> Result<Bounded<'a>, LargestCircleError> {
        self.squares += 1;
        if self.squares > MOST_SQUARES {
            return Err(LargestCircleError::Unproven { centre: self.best.place, radius: self.best.depth });
        }
        let rho = square.rho();
        let mut told = Told::default();
        let Some(here) = self.look(square.middle, square.known) else {
            return Ok(Bounded { upper: f64::NEG_INFINITY, told, here: None });
        };
        let mut upper = here.depth + rho;
        if here.depth < rho || upper < self.best.depth - TIE {
            return Ok(Bounded { upper, told, here: Some(here) });
        }
        let known = here.known(rho);
        told.add(self.room, &here, square.middle, rho);
        while !told.is_full() {
            let Highest { value, step, .. } = told.highest(rho);
            upper = upper.min(value).min(told.mean(step, rho));
            if upper < self.best.depth - TIE {
                break;
            }
            let Some(there) = self.look(square.middle + step, known) else { break };
            if upper - there.depth <= GAP / 4.0 || !told.add(self.room, &there, square.middle, rho) {
                break;
            }
        }
        Ok(Bounded { upper, told, here: Some(here) })
    }

    /// The deeper of a place and the step from it, at most 1.5 nm long, that looks deepest.
    fn settle(&mut self, place: Point) -> Result<Best, LargestCircleError> {
        let square = Square::new(place, 2.0 * TIE);
        let step = self.bounds(&square)?.told.highest(square.rho()).step;
        let [here, there] = [place, place + step]
            .map(|place| Best { place, depth: self.look(place, Known::default()).map_or(0.0, |s| s.depth) });
        Ok(if there.depth > here.depth { there } else { here })
    }

    /// Stage 3: a place as deep as the best, and apart from it, if there is one.
    fn tie(&mut self) -> Result<Option<Point>, LargestCircleError> {
        let best = self.best;
        let apart = APART.min(best.depth / 10.0);
        let mut left: Vec<Square> = self.open.iter().copied().collect();
        left.sort_by(|a, b| b.cmp(a));
        while let Some(square) = left.pop() {
            // Where what is deep ends just at this distance, squares would be split for ever.
            if square.middle.distance(best.place) + square.rho() <= apart || square.rho() < SHORTEST_STEP {
                continue;
            }
            let bounded = self.bounds(&square)?;
            if bounded.upper < best.depth - TIE {
                continue;
            }
            let step = bounded.told.highest(square.rho()).step;
            for place in [square.middle, square.middle + step] {
                let deep = self.look(place, Known::default()).is_some_and(|s| s.depth >= best.depth - TIE);
                if deep && place.distance(best.place) > apart {
                    return Ok(Some(place));
                }
            }
            left.extend(square.bounded(&bounded).quarters());
        }
        Ok(None)
    }
}
