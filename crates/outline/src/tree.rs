//! Curves of a chain under bounds, so that near ones are found without looking at all of them.
//!
//! Neighbours on a chain lie near each other, so bounds of runs of the chain serve, and nothing has to be sorted.

use crate::curve::Curve;
use crate::{Bounds, Point};

/// Members under one bound. Eight keeps the tree flat and still skips most of a long chain.
const FAN: usize = 8;

/// Curves, and bounds of runs of them at every level; the last level has one bound.
#[derive(Debug)]
pub(crate) struct Tree {
    curves: Vec<Curve>,
    levels: Vec<Vec<Bounds>>,
}

impl Tree {
    /// A tree over these curves, in their order.
    pub(crate) fn new(curves: Vec<Curve>) -> Self {
        let mut levels: Vec<Vec<Bounds>> = vec![curves.iter().map(Curve::bounds).collect()];
        while let Some(last) = levels.last().filter(|last| last.len() > 1) {
            let above = last.chunks(FAN).map(|run| run.iter().fold(Bounds::EMPTY, |all, b| all.union(*b)));
            levels.push(above.collect());
        }
        Self { curves, levels }
    }

    /// Its curves.
    pub(crate) fn curves(&self) -> &[Curve] {
        &self.curves
    }

    /// Calls `found` with every curve nearer than `reach` to a place, by index, with its distance.
    pub(crate) fn within(&self, place: Point, reach: f64, found: &mut impl FnMut(usize, f64)) {
        self.descend(self.levels.len() - 1, 0, place, &mut { reach }, &mut |index, distance, _| {
            found(index, distance);
        });
    }

    /// The curve nearest to a place, with its distance; `guess` is looked at first because a good guess spares the rest.
    pub(crate) fn nearest(&self, place: Point, guess: usize) -> (usize, f64) {
        let mut best = (guess, self.curves[guess].distance(place));
        let mut reach = best.1;
        self.descend(self.levels.len() - 1, 0, place, &mut reach, &mut |index, distance, reach| {
            best = (index, distance);
            *reach = distance;
        });
        best
    }

    fn descend(
        &self,
        level: usize,
        first: usize,
        place: Point,
        reach: &mut f64,
        found: &mut impl FnMut(usize, f64, &mut f64),
    ) {
        let bounds = &self.levels[level];
        let end = bounds.len().min(first + FAN);
        for (offset, bound) in bounds[first..end].iter().enumerate() {
            if bound.distance_squared(place) >= *reach * *reach {
                continue;
            }
            let index = first + offset;
            if level > 0 {
                self.descend(level - 1, index * FAN, place, reach, found);
                continue;
            }
            let distance = self.curves[index].distance(place);
            if distance < *reach {
                found(index, distance, reach);
            }
        }
    }
}
