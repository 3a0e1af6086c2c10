//! Metal that a main cut clears from the hole outward before it goes round: what is cleared at every moment of it.
//!
//! Stages: the way before the edge is looked at, and only where it closes on itself can it part anything from the rest;
//! then all of the cut is gone through in steps of half a kerf, and what is cleared after each is kept.

use crate::engine::{Shape, stroke, union};
use crate::flatten::{Place, distance};
use crate::rounds::Edge;

/// Most moments that are looked at: a longer way is gone through in longer steps.
const MOST: usize = 400;

/// What is cleared after each step of a main cut; nothing where its way to the edge does not close on itself.
pub fn moments(path: &[Place], edge: &Edge, offset: f64, reach: f64) -> Vec<Vec<Shape>> {
    let lead = path.iter().skip(1).position(|place| edge.beside(*place, offset)).map_or(0, |i| i + 1);
    if !closes(&path[..lead], reach) {
        return Vec::new();
    }
    let length: f64 = path.windows(2).map(|pair| distance(pair[0], pair[1])).sum();
    let step = reach.max(length / MOST as f64);
    let mut found: Vec<Vec<Shape>> = Vec::new();
    let mut open = vec![path[0]];
    let mut way = 0.0;
    for (i, pair) in path.windows(2).enumerate() {
        way += distance(pair[0], pair[1]);
        open.push(pair[1]);
        if way < step && i + 2 < path.len() {
            continue;
        }
        let cleared = stroke(&open, reach);
        found.push(found.last().map_or(cleared.clone(), |before| union(before, &cleared)));
        (open, way) = (vec![pair[1]], 0.0);
    }
    found
}

/// Whether a way comes back to itself after going farther than a disc that follows it is wide.
fn closes(way: &[Place], reach: f64) -> bool {
    let mut along = vec![0.0];
    for pair in way.windows(2) {
        along.push(along[along.len() - 1] + distance(pair[0], pair[1]));
    }
    let straight = |i: usize, j: usize| (along[j] - along[i], distance(way[i], way[j]));
    // Going there and back on a line parts nothing, and is found here as well: it only costs time.
    (0..way.len()).any(|i| {
        (i + 2..way.len()).any(|j| {
            let (gone, apart) = straight(i, j);
            gone > 2.0 * reach && apart < 2.0 * reach && apart < gone / 2.0
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room() -> Edge {
        Edge::new(vec![[-2.0, -2.0], [2.0, -2.0], [2.0, 2.0], [-2.0, 2.0]])
    }

    #[test]
    fn a_lead_in_has_no_moments_and_a_loop_has() {
        let straight = [[0.0, 0.0], [0.0, -1.0], [0.0, -1.9], [1.9, -1.9]];
        assert!(moments(&straight, &room(), 0.1, 0.06).is_empty());
        let bent = [[0.0, 0.0], [0.3, 0.0], [0.3, -1.9], [1.9, -1.9]];
        assert!(moments(&bent, &room(), 0.1, 0.06).is_empty());
        let looped = [[0.0, 0.0], [0.3, 0.0], [0.3, 0.5], [-0.3, 0.5], [0.3, 0.0], [0.3, -1.9], [1.9, -1.9]];
        let found = moments(&looped, &room(), 0.1, 0.06);
        let holes = |shapes: &Vec<Shape>| shapes.iter().map(|shape| shape.len() - 1).sum::<usize>();
        assert_eq!(holes(&found[0]), 0);
        assert_eq!(found.last().map(holes), Some(1), "the loop parts a piece from the rest");
    }
}
