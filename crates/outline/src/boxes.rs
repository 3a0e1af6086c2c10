//! A tree over boxes, so that what lies near is found without looking at all of them.
//!
//! The tree halves the run of boxes: leaf k holds the boxes [k*LEAF, (k+1)*LEAF), node i stands over nodes 2i and 2i+1. It
//! serves as well as neighbours in the run are neighbours in the plane; `along_the_plane` brings boxes into such an order.

use crate::Bounds;

/// Boxes in a leaf: few enough to look at each, enough to keep the tree shallow.
const LEAF: usize = 4;

#[derive(Debug, Clone)]
pub(crate) struct Boxes {
    bounds: Vec<Bounds>,
    nodes: Vec<Bounds>,
    leaves: usize,
}

impl Boxes {
    pub fn new(bounds: Vec<Bounds>) -> Self {
        let leaves = bounds.len().div_ceil(LEAF).next_power_of_two();
        let mut nodes = vec![Bounds::EMPTY; 2 * leaves];
        for (i, b) in bounds.iter().enumerate() {
            nodes[leaves + i / LEAF] = nodes[leaves + i / LEAF].union(*b);
        }
        for i in (1..leaves).rev() {
            nodes[i] = nodes[2 * i].union(nodes[2 * i + 1]);
        }
        Self { bounds, nodes, leaves }
    }

    /// The box of one member.
    pub fn of(&self, index: usize) -> &Bounds {
        &self.bounds[index]
    }

    /// The box of a node; node 1 stands over all.
    pub fn node(&self, node: usize) -> &Bounds {
        &self.nodes[node]
    }

    /// How many nodes there are, the unused number 0 included.
    pub fn nodes(&self) -> usize {
        self.nodes.len()
    }

    /// The members of a node if it is a leaf.
    pub fn leaf(&self, node: usize) -> Option<std::ops::Range<usize>> {
        let first = node.checked_sub(self.leaves)? * LEAF;
        Some(first.min(self.bounds.len())..(first + LEAF).min(self.bounds.len()))
    }

    /// Every member whose box the test accepts, in order; the test is asked for boxes of whole runs too.
    pub fn visit(&self, accepts: impl Fn(&Bounds) -> bool, mut found: impl FnMut(usize)) {
        let mut node = 1;
        loop {
            if accepts(&self.nodes[node]) {
                match self.leaf(node) {
                    Some(members) => members.filter(|&i| accepts(&self.bounds[i])).for_each(&mut found),
                    None => {
                        node *= 2;
                        continue;
                    }
                }
            }
            // Up from all that are last of their pair, and on to the next; from the last of all, up to the root.
            node = (node + 1) >> (node + 1).trailing_zeros();
            if node == 1 {
                return;
            }
        }
    }

    /// Every pair of members (i < j) whose boxes come within `by`, until `found` says stop by returning false.
    pub fn pairs(&self, by: f64, mut found: impl FnMut(usize, usize) -> bool) {
        let mut stack = vec![(1, 1)];
        while let Some((a, b)) = stack.pop() {
            if !self.nodes[a].comes_within(&self.nodes[b], by) {
                continue;
            }
            let (Some(first), Some(second)) = (self.leaf(a), self.leaf(b)) else {
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
            };
            for i in first {
                for j in second.clone() {
                    let near = i < j && self.bounds[i].comes_within(&self.bounds[j], by);
                    if near && !found(i, j) {
                        return;
                    }
                }
            }
        }
    }
}

/// The numbers of these boxes in an order in which neighbours lie near each other: halved across the longer way, again and
/// again.
pub(crate) fn along_the_plane(bounds: &[Bounds]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..bounds.len()).collect();
    let mut runs: Vec<&mut [usize]> = vec![&mut order];
    while let Some(run) = runs.pop() {
        if run.len() <= LEAF {
            continue;
        }
        let around = run.iter().fold(Bounds::EMPTY, |all, &i| all.union(Bounds::of(bounds[i].middle())));
        let key = |i: usize| match around.width() > around.height() {
            true => bounds[i].middle().x,
            false => bounds[i].middle().y,
        };
        let half = run.len() / 2;
        run.select_nth_unstable_by(half, |&a, &b| key(a).total_cmp(&key(b)).then(a.cmp(&b)));
        let (low, high) = run.split_at_mut(half);
        runs.extend([low, high]);
    }
    order
}
