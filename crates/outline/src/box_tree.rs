//! The pieces of an outline under a tree of boxes, so that questions about places do not walk every piece.
//!
//! Neighbours along an outline are neighbours in the plane, so the tree simply halves the run of pieces: leaf k holds the
//! pieces [k*LEAF, (k+1)*LEAF), node i stands over nodes 2i and 2i+1.

use crate::{Bounds, Piece, Point, Segment, piece::Foot};

/// Pieces in a leaf: few enough to look at each, enough to keep the tree shallow.
const LEAF: usize = 4;

#[derive(Debug, Clone)]
pub(crate) struct BoxTree {
    pieces: Vec<Piece>,
    bounds: Vec<Bounds>,
    nodes: Vec<Bounds>,
    leaves: usize,
}

impl BoxTree {
    pub fn new(segments: impl Iterator<Item = Segment>) -> Self {
        let pieces: Vec<Piece> = segments.map(Piece::new).collect();
        let bounds: Vec<Bounds> = pieces.iter().map(Piece::bounds).collect();
        let leaves = pieces.len().div_ceil(LEAF).next_power_of_two();
        let mut nodes = vec![Bounds::EMPTY; 2 * leaves];
        for (i, b) in bounds.iter().enumerate() {
            nodes[leaves + i / LEAF] = nodes[leaves + i / LEAF].union(*b);
        }
        for i in (1..leaves).rev() {
            nodes[i] = nodes[2 * i].union(nodes[2 * i + 1]);
        }
        Self { pieces, bounds, nodes, leaves }
    }

    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    pub fn bounds(&self) -> Bounds {
        self.nodes[1]
    }

    fn leaf(&self, node: usize) -> std::ops::Range<usize> {
        let first = (node - self.leaves) * LEAF;
        first.min(self.pieces.len())..(first + LEAF).min(self.pieces.len())
    }

    /// The nearest piece and its nearest point; of several equally near, the first met. Pieces at `below` or farther are not
    /// looked at, so none may come back.
    pub fn nearest(&self, place: Point, below: f64) -> Option<(usize, Foot)> {
        let mut best: Option<(usize, Foot)> = None;
        let mut reach = below;
        let mut stack = vec![(self.nodes[1].distance_squared(place), 1)];
        while let Some((far, node)) = stack.pop() {
            if far > reach * reach {
                continue;
            }
            if node >= self.leaves {
                for i in self.leaf(node) {
                    if self.bounds[i].distance_squared(place) > reach * reach {
                        continue;
                    }
                    let foot = self.pieces[i].foot(place);
                    if foot.distance < reach {
                        reach = foot.distance;
                        best = Some((i, foot));
                    }
                }
                continue;
            }
            let (a, b) = (2 * node, 2 * node + 1);
            let (da, db) = (self.nodes[a].distance_squared(place), self.nodes[b].distance_squared(place));
            match da <= db {
                true => stack.extend([(db, b), (da, a)]),
                false => stack.extend([(da, a), (db, b)]),
            }
        }
        best
    }

    /// The nearest piece with its distance; `guess` is looked at first because a good guess spares the rest.
    pub fn nearest_from(&self, place: Point, guess: usize) -> (usize, f64) {
        let distance = self.pieces[guess].foot(place).distance;
        self.nearest(place, distance).map_or((guess, distance), |(i, foot)| (i, foot.distance))
    }

    /// Calls `found` with every piece nearer than `reach` to a place, in order along the outline, with its distance.
    pub fn within(&self, place: Point, reach: f64, mut found: impl FnMut(usize, f64)) {
        let near = |b: &Bounds| b.distance_squared(place) < reach * reach;
        self.visit(near, |i, piece| {
            let distance = piece.foot(place).distance;
            if distance < reach {
                found(i, distance);
            }
        });
    }

    /// Every piece whose box the test accepts, in order along the outline; the test is asked for boxes of whole runs too.
    pub fn visit(&self, accepts: impl Fn(&Bounds) -> bool, mut found: impl FnMut(usize, &Piece)) {
        let mut stack = vec![1];
        while let Some(node) = stack.pop() {
            if !accepts(&self.nodes[node]) {
                continue;
            }
            if node >= self.leaves {
                for i in self.leaf(node) {
                    if accepts(&self.bounds[i]) {
                        found(i, &self.pieces[i]);
                    }
                }
                continue;
            }
            stack.extend([2 * node + 1, 2 * node]);
        }
    }

    /// Every pair of pieces (i < j) whose boxes come within `by`, until `found` says stop by returning false.
    pub fn pairs(&self, by: f64, mut found: impl FnMut(usize, usize) -> bool) {
        let mut stack = vec![(1, 1)];
        while let Some((a, b)) = stack.pop() {
            if !self.nodes[a].comes_within(&self.nodes[b], by) {
                continue;
            }
            if a < self.leaves {
                match a == b {
                    true => stack.extend([(2 * a, 2 * a), (2 * a, 2 * a + 1), (2 * a + 1, 2 * a + 1)]),
                    false => stack.extend([
                        (2 * a, 2 * b),
                        (2 * a, 2 * b + 1),
                        (2 * a + 1, 2 * b),
                        (2 * a + 1, 2 * b + 1),
                    ]),
                }
                continue;
            }
            for i in self.leaf(a) {
                for j in self.leaf(b) {
                    let near = i < j && self.bounds[i].comes_within(&self.bounds[j], by);
                    if near && !found(i, j) {
                        return;
                    }
                }
            }
        }
    }
}
