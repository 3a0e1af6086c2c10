//! A region of the plane bounded by polygons: how far a place lies inside or outside, by an index over its edges.

use crate::flatten::{Place, distance};
use std::collections::HashMap;

/// A region with an index. Loops in any order; inside is where the winding number is not 0.
#[derive(Debug)]
pub struct Region {
    edges: Vec<(Place, Place)>,
    cells: HashMap<(i64, i64), Vec<u32>>,
    rows: HashMap<i64, Vec<u32>>,
    cell: f64,
    reach: i64,
}

impl Region {
    /// The region that these loops bound.
    pub fn new(loops: &[Vec<Place>]) -> Self {
        let mut edges = Vec::new();
        for points in loops {
            edges.extend((0..points.len()).map(|i| (points[i], points[(i + 1) % points.len()])));
        }
        let length: f64 = edges.iter().map(|(a, b)| distance(*a, *b)).sum();
        let cell = (length / edges.len().max(1) as f64 * 2.0).max(1e-4);
        let mut region = Self { edges, cells: HashMap::new(), rows: HashMap::new(), cell, reach: 0 };
        region.index();
        region
    }

    fn key(&self, place: Place) -> (i64, i64) {
        ((place[0] / self.cell).floor() as i64, (place[1] / self.cell).floor() as i64)
    }

    fn index(&mut self) {
        for i in 0..self.edges.len() {
            let (a, b) = self.edges[i];
            // Long edges are put in by pieces, so that each stands in few cells that it does not cross.
            let pieces = (distance(a, b) / self.cell).ceil().max(1.0) as usize;
            for k in 0..pieces {
                let at = |t: f64| [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
                let (p, q) =
                    (self.key(at(k as f64 / pieces as f64)), self.key(at((k + 1) as f64 / pieces as f64)));
                for x in p.0.min(q.0)..=p.0.max(q.0) {
                    for y in p.1.min(q.1)..=p.1.max(q.1) {
                        let list = self.cells.entry((x, y)).or_default();
                        if list.last() != Some(&(i as u32)) {
                            list.push(i as u32);
                        }
                        self.reach = self.reach.max(x.abs()).max(y.abs());
                    }
                }
            }
            let (low, high) = (self.key(a).1.min(self.key(b).1), self.key(a).1.max(self.key(b).1));
            for row in low..=high {
                self.rows.entry(row).or_default().push(i as u32);
            }
        }
    }

    /// Distance from a place to the region's edge.
    pub fn to_edge(&self, place: Place) -> f64 {
        let (cx, cy) = self.key(place);
        let mut best = f64::INFINITY;
        let last = self.reach + cx.abs().max(cy.abs()) + 1;
        for ring in 0..=last {
            if best <= (ring - 1) as f64 * self.cell {
                break;
            }
            self.on_ring((cx, cy), ring, |list| {
                for &i in list {
                    let (a, b) = self.edges[i as usize];
                    best = best.min(to_segment(place, a, b));
                }
            });
        }
        best
    }

    fn on_ring(&self, (cx, cy): (i64, i64), ring: i64, mut f: impl FnMut(&[u32])) {
        let mut look = |x: i64, y: i64| {
            if let Some(list) = self.cells.get(&(x, y)) {
                f(list);
            }
        };
        for x in cx - ring..=cx + ring {
            look(x, cy - ring);
            if ring > 0 {
                look(x, cy + ring);
            }
        }
        for y in cy - ring + 1..cy + ring {
            look(cx - ring, y);
            look(cx + ring, y);
        }
    }

    /// Whether a place lies inside.
    pub fn contains(&self, place: Place) -> bool {
        let row = self.key(place).1;
        let mut winding = 0;
        for &i in self.rows.get(&row).map_or(&[][..], |list| list) {
            let (a, b) = self.edges[i as usize];
            let side = (b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0]);
            if a[1] <= place[1] && b[1] > place[1] && side > 0.0 {
                winding += 1;
            } else if a[1] > place[1] && b[1] <= place[1] && side < 0.0 {
                winding -= 1;
            }
        }
        winding != 0
    }

    /// How far outside the region a place lies; 0 inside.
    pub fn outside(&self, place: Place) -> f64 {
        if self.contains(place) { 0.0 } else { self.to_edge(place) }
    }

    /// The place of these polygons' edges that lies deepest outside the region, and how deep. Edges are looked at
    /// in steps, because the deepest place need not be a corner.
    pub fn deepest<'a>(&self, polygons: impl Iterator<Item = &'a Vec<Place>>, step: f64) -> (f64, Place) {
        let mut deepest = (0.0, [0.0, 0.0]);
        for points in polygons {
            for (i, a) in points.iter().enumerate() {
                let b = points[(i + 1) % points.len()];
                let steps = (distance(*a, b) / step).ceil().clamp(1.0, 1e5) as usize;
                for k in 0..steps {
                    let t = k as f64 / steps as f64;
                    let place = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
                    let depth = self.outside(place);
                    if depth > deepest.0 {
                        deepest = (depth, place);
                    }
                }
            }
        }
        deepest
    }
}

/// Distance from a place to a segment.
pub fn to_segment(place: Place, a: Place, b: Place) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let t = match square > 0.0 {
        true => (((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / square).clamp(0.0, 1.0),
        false => 0.0,
    };
    distance(place, [a[0] + t * dx, a[1] + t * dy])
}

/// Signed area of a polygon, counter-clockwise positive.
pub fn area(points: &[Place]) -> f64 {
    let n = points.len();
    0.5 * (0..n)
        .map(|i| points[i][0] * points[(i + 1) % n][1] - points[(i + 1) % n][0] * points[i][1])
        .sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_knows_how_far() {
        let square = Region::new(&[vec![[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]]);
        assert!(square.contains([1.0, 1.0]) && !square.contains([3.0, 1.0]) && !square.contains([1.0, -0.1]));
        assert!((square.to_edge([1.0, 1.0]) - 1.0).abs() < 1e-12);
        assert!((square.outside([5.0, 6.0]) - 5.0).abs() < 1e-12);
        assert_eq!(square.outside([0.5, 0.5]), 0.0);
        let hit = [vec![[1.0, 1.0], [2.5, 1.0], [1.0, 1.5]]];
        assert!((square.deepest(hit.iter(), 0.05).0 - 0.5).abs() < 1e-12);
    }
}
