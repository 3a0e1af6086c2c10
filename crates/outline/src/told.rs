//! What several soundings tell about the depth in one square, taken together.

use crate::runs::run_bounds;
use crate::soundings::{Bound, Highest, Room, Sounding, highest, mean_bound};
use crate::{Point, Vector};

/// Bounds taken for one square.
const MOST_BOUNDS: usize = 6;

/// Ways of taking one bound of each choice.
const MOST_WAYS: usize = 64;

/// Bounds around one place.
#[derive(Debug, Default)]
pub(crate) struct Told {
    /// All of these hold.
    bounds: Vec<Bound>,
    /// Of each of these one holds at every place.
    choices: Vec<Choice>,
}

#[derive(Debug)]
struct Choice {
    one_of: Vec<Bound>,
    /// Holds too, though it says less.
    plain: Bound,
}

impl Told {
    /// Adds what a sounding tells about the disc; false if that is known already.
    pub fn add(&mut self, room: Room, sounding: &Sounding, centre: Point, rho: f64) -> bool {
        let in_choices = self.choices.iter().flat_map(|choice| &choice.one_of);
        if self.bounds.iter().chain(in_choices).any(|bound| bound.whole == Some(sounding.on)) {
            return false;
        }
        if let Some(whole) = sounding.whole_around(centre, rho) {
            self.bounds.push(whole);
            return true;
        }
        let plain = sounding.point_around(centre, rho);
        let ways: usize = self.choices.iter().map(|choice| choice.one_of.len()).product();
        match run_bounds(room.pieces(sounding.on.0), sounding.on, centre, rho) {
            Some(run) if run.len() == 1 => self.bounds.extend(run),
            Some(one_of) if ways * one_of.len() <= MOST_WAYS => self.choices.push(Choice { one_of, plain }),
            _ => self.bounds.push(plain),
        }
        true
    }

    /// Whether another bound would cost more than it could tell.
    pub fn is_full(&self) -> bool {
        self.bounds.len() + self.choices.len() > MOST_BOUNDS
    }

    /// Bounds that all hold.
    pub fn plain(&self) -> impl Iterator<Item = &Bound> {
        self.bounds.iter().chain(self.choices.iter().map(|choice| &choice.plain))
    }

    /// The greatest value that all of it allows, and where.
    pub fn highest(&self, rho: f64) -> Highest {
        highest_of(&mut self.bounds.clone(), &self.choices, rho)
    }

    /// What the bends of two bounds allow together.
    pub fn mean(&self, step: Vector, rho: f64) -> f64 {
        mean_bound(&self.bounds, step, rho)
    }
}

/// The greatest over all ways of taking one bound of each choice.
fn highest_of(bounds: &mut Vec<Bound>, choices: &[Choice], rho: f64) -> Highest {
    let Some((choice, rest)) = choices.split_first() else { return highest(bounds, rho) };
    let mut best = Highest { value: f64::NEG_INFINITY, step: Vector::new(0.0, 0.0), twin: None };
    for one in &choice.one_of {
        bounds.push(*one);
        let found = highest_of(bounds, rest, rho);
        bounds.pop();
        if found.value > best.value {
            best = found;
        }
    }
    best
}
