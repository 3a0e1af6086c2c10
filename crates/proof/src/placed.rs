//! Entities where inserts put them: the proof's own walk through the blocks of a drawing.
//!
//! Stages: how much each block stands for is added up once, so that blocks within blocks cannot explode; then each insert
//! that fits into what may still be followed is carried out. One that names no block, or one that lies elsewhere, or that
//! goes on for ever, puts nothing anywhere.

use crate::flatten::Place;
use dxf::{Block, Dxf, Insert, Shape};
use std::collections::{HashMap, HashSet};

/// Inserts within each other that are followed.
const DEEPEST: usize = 32;
/// Entities that all inserts of a drawing may stand for.
const MOST_ENTITIES: u64 = 200_000;
/// Points that they may have.
const MOST_POINTS: u64 = 1_000_000;

/// A flat way of putting places elsewhere: x * `across` + y * `up` + `at`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Put {
    across: Place,
    up: Place,
    at: Place,
}

impl Put {
    /// Larger or smaller about the origin.
    pub fn scaled(by: f64) -> Self {
        Self { across: [by, 0.0], up: [0.0, by], at: [0.0, 0.0] }
    }

    /// Where it puts a place.
    pub fn place(&self, p: Place) -> Place {
        [0, 1].map(|k| p[0] * self.across[k] + p[1] * self.up[k] + self.at[k])
    }

    fn way(&self, p: Place) -> Place {
        [0, 1].map(|k| p[0] * self.across[k] + p[1] * self.up[k])
    }

    /// First another, then this.
    fn of(&self, inner: &Self) -> Self {
        Self { across: self.way(inner.across), up: self.way(inner.up), at: self.place(inner.at) }
    }

    /// How much longer it makes what it makes longest.
    pub fn stretch(&self) -> f64 {
        let ([a, b], [c, d]) = (self.across, self.up);
        let (sum, det) = (a * a + b * b + c * c + d * d, a * d - b * c);
        ((sum + (sum * sum - 4.0 * det * det).max(0.0).sqrt()) / 2.0).sqrt()
    }

    /// One copy of a block.
    fn insert(insert: &Insert, block: &Block, column: u32, row: u32) -> Self {
        let (sin, cos) = match insert.turn_deg.rem_euclid(360.0) {
            // Right angles are exact.
            0.0 => (0.0, 1.0),
            90.0 => (1.0, 0.0),
            180.0 => (0.0, -1.0),
            270.0 => (-1.0, 0.0),
            turn => turn.to_radians().sin_cos(),
        };
        let turned = |p: Place| [cos * p[0] - sin * p[1], sin * p[0] + cos * p[1]];
        let [x, y] = insert.scale;
        let step = [f64::from(column) * insert.spacing[0], f64::from(row) * insert.spacing[1]];
        let base = turned([step[0] - x * block.base[0], step[1] - y * block.base[1]]);
        let at = [insert.at[0] + base[0], insert.at[1] + base[1]];
        let mirror = |p: Place| if insert.from_behind { [-p[0], p[1]] } else { p };
        Self { across: mirror(turned([x, 0.0])), up: mirror(turned([0.0, y])), at: mirror(at) }
    }
}

/// A shape, and where it is put.
pub type Placed<'a> = (&'a Shape, Put);

/// How much something stands for.
#[derive(Debug, Clone, Copy, Default)]
struct Bulk {
    entities: u64,
    points: u64,
    deep: usize,
}

/// Blocks by their lines, as far as they were looked at.
struct Walk<'a> {
    dxf: &'a Dxf,
    /// What each stands for; nothing while it is being looked at.
    known: HashMap<u32, Option<Bulk>>,
    /// Lines of inserts that cannot be carried out.
    refused: HashSet<u32>,
}

/// All shapes of a drawing but inserts, in order; `scale` is mm in a drawing unit.
pub fn placed(dxf: &Dxf, scale: f64) -> Vec<Placed<'_>> {
    let mut walk = Walk { dxf, known: HashMap::new(), refused: HashSet::new() };
    let mut left = (MOST_ENTITIES, MOST_POINTS);
    let mut found = Vec::new();
    for entity in &dxf.entities {
        let Shape::Insert(insert) = &entity.shape else {
            found.push((&entity.shape, Put::scaled(scale)));
            continue;
        };
        let bulk = walk.bulk(entity.line, insert, 1);
        let less = (left.0.checked_sub(bulk.entities), left.1.checked_sub(bulk.points));
        if let (Some(entities), Some(points)) = less {
            left = (entities, points);
            walk.carry_out(entity.line, insert, &Put::scaled(scale), &mut found);
        }
    }
    found
}

impl<'a> Walk<'a> {
    fn block(&self, insert: &Insert) -> Option<&'a Block> {
        self.dxf.block(&insert.block).filter(|block| !block.outside)
    }

    /// How much an insert stands for; nothing, and it is refused, if it cannot be carried out.
    fn bulk(&mut self, line: u32, insert: &Insert, depth: usize) -> Bulk {
        let block = self.block(insert).filter(|_| depth <= DEEPEST);
        let bulk = block.and_then(|block| match self.known.get(&block.line) {
            Some(known) => *known,
            None => Some(self.added_up(block, depth)),
        });
        let Some(bulk) = bulk.filter(|bulk| bulk.deep < DEEPEST) else {
            self.refused.insert(line);
            return Bulk::default();
        };
        let copies = u64::from(insert.columns) * u64::from(insert.rows);
        Bulk {
            entities: bulk.entities.saturating_mul(copies),
            points: bulk.points.saturating_mul(copies),
            deep: bulk.deep + 1,
        }
    }

    fn added_up(&mut self, block: &Block, depth: usize) -> Bulk {
        self.known.insert(block.line, None);
        let mut sum = Bulk::default();
        for entity in &block.entities {
            let more = match &entity.shape {
                Shape::Insert(inner) => self.bulk(entity.line, inner, depth + 1),
                shape => Bulk { entities: 1, points: points(shape), deep: 0 },
            };
            sum.entities = sum.entities.saturating_add(more.entities);
            sum.points = sum.points.saturating_add(more.points);
            sum.deep = sum.deep.max(more.deep);
        }
        self.known.insert(block.line, Some(sum));
        sum
    }

    fn carry_out(&self, line: u32, insert: &Insert, outer: &Put, found: &mut Vec<Placed<'a>>) {
        let Some(block) = self.block(insert).filter(|_| !self.refused.contains(&line)) else { return };
        // A block that stands for nothing may be repeated as often as an insert can say.
        if !matches!(self.known.get(&block.line), Some(Some(bulk)) if bulk.entities > 0) {
            return;
        }
        for row in 0..insert.rows {
            for column in 0..insert.columns {
                let put = outer.of(&Put::insert(insert, block, column, row));
                for entity in &block.entities {
                    match &entity.shape {
                        Shape::Insert(inner) => self.carry_out(entity.line, inner, &put, found),
                        shape => found.push((shape, put)),
                    }
                }
            }
        }
    }
}

fn points(shape: &Shape) -> u64 {
    match shape {
        Shape::Polyline { vertices, .. } => vertices.len() as u64,
        Shape::Spline(spline) => spline.controls.len() as u64,
        Shape::Through { points, .. } => points.len() as u64,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flatten::distance;

    fn insert(block: &str) -> Insert {
        Insert {
            block: block.to_owned(),
            at: [10.0, 20.0],
            scale: [2.0, -3.0],
            turn_deg: 30.0,
            columns: 2,
            rows: 3,
            spacing: [5.0, 7.0],
            from_behind: false,
        }
    }

    /// By hand: scaled about the base, put in its column and row, turned, moved, and mirrored where it is seen from behind.
    #[test]
    fn an_insert_puts_a_place_where_it_says() {
        let block =
            Block { line: 1, name: "B".to_owned(), base: [1.0, 1.0], outside: false, entities: Vec::new() };
        let (sin, cos) = 30.0_f64.to_radians().sin_cos();
        let [x, y] = [5.0 + 2.0 * 3.0, 14.0 - 3.0 * 4.0];
        let by_hand = [10.0 + cos * x - sin * y, 20.0 + sin * x + cos * y];
        let put = Put::insert(&insert("B"), &block, 1, 2);
        assert!(distance(put.place([4.0, 5.0]), by_hand) < 1e-12);
        let behind = Put::insert(&Insert { from_behind: true, ..insert("B") }, &block, 1, 2);
        assert!(distance(behind.place([4.0, 5.0]), [-by_hand[0], by_hand[1]]) < 1e-12);
        assert!((put.stretch() - 3.0).abs() < 1e-12);
        let twice = put.of(&Put::scaled(0.5));
        assert!(distance(twice.place([8.0, 10.0]), by_hand) < 1e-12);
    }
}
