//! Points in square cells, so that the points near a place are found without looking at all of them.

use crate::work::{Tangled, Work};
use outline::Point;
use std::collections::HashMap;

/// Numbered points, by cell.
#[derive(Debug)]
pub(crate) struct Cells {
    within: f64,
    cells: HashMap<(i64, i64), Vec<(usize, Point)>>,
}

impl Cells {
    /// For questions about what lies within this distance, above 0.
    pub(crate) fn new(within: f64) -> Self {
        Self { within, cells: HashMap::new() }
    }

    /// Adds a point.
    pub(crate) fn put(&mut self, number: usize, point: Point) {
        self.cells.entry(self.cell(point)).or_default().push((number, point));
    }

    /// The points within the distance, each with its distance, in order of their numbers; at most `most` of them.
    ///
    /// # Errors
    /// When the drawing has cost too much work.
    pub(crate) fn near(
        &self,
        place: Point,
        most: usize,
        work: &mut Work,
    ) -> Result<Vec<(usize, f64)>, Tangled> {
        let (x, y) = self.cell(place);
        let mut found = Vec::new();
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (x.saturating_add(i), y.saturating_add(j))));
        for (number, point) in around.filter_map(|cell| self.cells.get(&cell)).flatten() {
            work.spend(1)?;
            let distance = place.distance(*point);
            if distance <= self.within {
                found.push((*number, distance));
                if found.len() >= most {
                    break;
                }
            }
        }
        found.sort_by_key(|(number, _)| *number);
        Ok(found)
    }

    fn cell(&self, point: Point) -> (i64, i64) {
        ((point.x / self.within).floor() as i64, (point.y / self.within).floor() as i64)
    }
}
