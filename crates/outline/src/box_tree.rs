//! Pieces under boxes, so that questions about places do not walk every piece.
//!
//! Neighbours along an outline are neighbours in the plane, so the pieces stand in the tree as they come.

use crate::boxes::Boxes;
use crate::{Bounds, Piece, Point, Segment, piece::Foot};

#[derive(Debug, Clone)]
pub(crate) struct BoxTree {
    pieces: Vec<Piece>,
    boxes: Boxes,
}

impl BoxTree {
    pub fn new(segments: impl Iterator<Item = Segment>) -> Self {
        let pieces: Vec<Piece> = segments.map(Piece::new).collect();
        let boxes = Boxes::new(pieces.iter().map(Piece::bounds).collect());
        Self { pieces, boxes }
    }

    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    pub fn bounds(&self) -> Bounds {
        *self.boxes.node(1)
    }

    /// The nearest piece and its nearest point; of several equally near, the first met. Pieces at `below` or farther are not
    /// looked at, so none may come back.
    pub fn nearest(&self, place: Point, below: f64) -> Option<(usize, Foot)> {
        let mut best: Option<(usize, Foot)> = None;
        let mut reach = below;
        let far_off = |node: usize| self.boxes.node(node).distance_squared(place);
        let mut stack = Stack::default();
        stack.push((far_off(1), 1));
        while let Some((far, node)) = stack.pop() {
            if far > reach * reach {
                continue;
            }
            if let Some(members) = self.boxes.leaf(node) {
                for i in members {
                    if self.boxes.of(i).distance_squared(place) > reach * reach {
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
            let (da, db) = (far_off(a), far_off(b));
            let nodes = if da <= db { [(db, b), (da, a)] } else { [(da, a), (db, b)] };
            nodes.into_iter().for_each(|node| stack.push(node));
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
        self.boxes.visit(accepts, |i| found(i, &self.pieces[i]));
    }

    /// Every pair of pieces (i < j) whose boxes come within `by`, until `found` says stop by returning false.
    pub fn pairs(&self, by: f64, found: impl FnMut(usize, usize) -> bool) {
        self.boxes.pairs(by, found);
    }
}

/// Nodes still to be looked at, without a heap: each level of the tree leaves at most one behind, and no memory holds a tree of
/// more levels.
struct Stack {
    nodes: [(f64, usize); 40],
    count: usize,
}

impl Default for Stack {
    fn default() -> Self {
        Self { nodes: [(0.0, 0); 40], count: 0 }
    }
}

impl Stack {
    fn push(&mut self, node: (f64, usize)) {
        self.nodes[self.count] = node;
        self.count += 1;
    }

    fn pop(&mut self) -> Option<(f64, usize)> {
        self.count = self.count.checked_sub(1)?;
        Some(self.nodes[self.count])
    }
}
