//! All walls of the room between an outline and its islands, and which of them face each other.
//!
//! Walls stand in a tree of boxes in their order along the loops. A node also knows the range of its walls' normals. Two
//! walls can hold a disc between opposite points only if some normal of one points against some normal of the other, along
//! the line between them; pairs of nodes for which no direction is left are passed over. What is left comes in order of the
//! least distance between the boxes, so that the search can stop at the first that is farther apart than its answer.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::f64::consts::{PI, TAU};

use crate::boxes::Boxes;
use crate::outline::segments_of;
use crate::wall::Wall;
use crate::{Bounds, Outline, Piece, Point, Segment, Vector};

/// Normals count as opposite up to this, radians: what still may be a stretch of constant width after rounding.
const OPPOSITE: f64 = 0.01;

/// The walls of a room.
pub(crate) struct Walls<'a> {
    pub walls: Vec<Wall>,
    /// For each wall the loop it belongs to: where that begins and ends in `walls`.
    loops: Vec<(usize, usize)>,
    boxes: Boxes,
    /// The normals of each node of the boxes, and of each wall.
    nodes: Vec<Turn>,
    normals: Vec<Turn>,
    outlines: Vec<&'a Outline>,
}

/// A range of directions, radians, from `low` to `high`; full when it is a whole turn or more.
#[derive(Debug, Clone, Copy)]
struct Turn {
    low: f64,
    high: f64,
}

impl Turn {
    const NONE: Turn = Turn { low: f64::INFINITY, high: f64::NEG_INFINITY };

    fn union(self, other: Turn) -> Turn {
        Turn { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    fn opposite(self) -> Turn {
        Turn { low: self.low + PI, high: self.high + PI }
    }

    /// Whether both hold a direction that differs by no more than `OPPOSITE`.
    fn meets(self, other: Turn) -> bool {
        let room = 0.5 * ((self.high - self.low) + (other.high - other.low)) + OPPOSITE;
        let apart = 0.5 * ((self.low + self.high) - (other.low + other.high));
        (apart - TAU * (apart / TAU).round()).abs() <= room
    }
}

/// Two nodes and how near each other their boxes come.
struct Pair {
    apart: f64,
    nodes: (usize, usize),
}

impl PartialEq for Pair {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Pair {}
impl PartialOrd for Pair {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
/// The pair that comes nearest is first; the numbers decide between equals so that every run is the same.
impl Ord for Pair {
    fn cmp(&self, other: &Self) -> Ordering {
        other.apart.total_cmp(&self.apart).then(other.nodes.cmp(&self.nodes))
    }
}

impl<'a> Walls<'a> {
    /// The walls of the room inside `outer` and outside every one of `islands`.
    pub fn new(outer: &'a Outline, islands: &'a [Outline]) -> Self {
        let (mut walls, mut loops, mut normals) = (Vec::new(), Vec::new(), Vec::new());
        let ways = islands.iter().map(|island| island.clockwise_vertices());
        for way in std::iter::once(outer.vertices().to_vec()).chain(ways) {
            let first = walls.len();
            walls.extend(around(&segments_of(&way).collect::<Vec<_>>()));
            normals.extend(turns(&walls[first..]));
            loops.extend(std::iter::repeat_n((first, walls.len()), walls.len() - first));
        }
        let boxes = Boxes::new(walls.iter().map(Wall::bounds).collect());
        let nodes = node_turns(&boxes, &normals);
        let outlines = std::iter::once(outer).chain(islands).collect();
        Self { walls, loops, boxes, nodes, normals, outlines }
    }

    /// The wall that follows along its loop, or with `ahead` false the one before.
    pub fn beside(&self, wall: usize, ahead: bool) -> usize {
        let (first, end) = self.loops[wall];
        match ahead {
            true if wall + 1 == end => first,
            true => wall + 1,
            false if wall == first => end - 1,
            false => wall - 1,
        }
    }

    /// Distance to the nearest wall.
    pub fn depth(&self, place: Point) -> f64 {
        let nearest = |reach: f64, outline: &&Outline| {
            outline.tree().nearest(place, reach).map_or(reach, |(_, foot)| foot.distance)
        };
        self.outlines.iter().fold(f64::INFINITY, nearest)
    }

    /// A segment that comes nearer to a place than this; the nearest of its loop.
    pub fn reaching(&self, place: Point, radius: f64) -> Option<Piece> {
        self.outlines.iter().find_map(|outline| {
            let (i, _) = outline.tree().nearest(place, radius)?;
            Some(outline.tree().pieces()[i])
        })
    }

    /// Every wall whose box comes nearer to another box than `by`.
    pub fn near(&self, bounds: &Bounds, by: f64, found: impl FnMut(usize)) {
        self.boxes.visit(|other| apart(bounds, other) < by, found);
    }

    /// Calls `found` with pairs of walls that may face each other, nearest first, until they are farther apart than it
    /// allows: it gives back that distance.
    ///
    /// # Errors
    /// The number of pairs looked at, if it comes above `most`.
    pub fn facing(&self, most: usize, mut found: impl FnMut(usize, usize) -> f64) -> Result<(), usize> {
        let mut open = BinaryHeap::from([Pair { apart: 0.0, nodes: (1, 1) }]);
        let (mut limit, mut looked) = (f64::INFINITY, 0);
        while let Some(Pair { apart, nodes: (a, b) }) = open.pop().filter(|pair| pair.apart <= limit) {
            let (Some(first), Some(second)) = (self.boxes.leaf(a), self.boxes.leaf(b)) else {
                for nodes in halves(a, b) {
                    open.extend(self.open(nodes).filter(|pair| pair.apart.max(apart) <= limit));
                }
                continue;
            };
            looked += first.len() * second.len();
            if looked > most {
                return Err(looked);
            }
            for i in first {
                for j in second.clone().filter(|&j| i < j && self.may_face(i, j)) {
                    limit = limit.min(found(i, j));
                }
            }
        }
        Ok(())
    }

    /// A pair of nodes, if any of their walls may face each other.
    fn open(&self, (a, b): (usize, usize)) -> Option<Pair> {
        let (first, second) = (self.boxes.node(a), self.boxes.node(b));
        let may = opposed(first, self.nodes[a], second, self.nodes[b]);
        may.then(|| Pair { apart: apart(first, second), nodes: (a, b) })
    }

    fn may_face(&self, i: usize, j: usize) -> bool {
        opposed(self.boxes.of(i), self.normals[i], self.boxes.of(j), self.normals[j])
    }
}

/// The walls of a loop, corners between the segments that they stand between.
fn around(segments: &[Segment]) -> Vec<Wall> {
    let mut walls = Vec::with_capacity(segments.len());
    for (i, segment) in segments.iter().enumerate() {
        let (edge, corner) = Wall::of(*segment, segments[(i + 1) % segments.len()]);
        walls.push(edge);
        walls.extend(corner);
    }
    walls
}

/// The normals of the walls of a loop, told on from each other without a jump, so that neighbours make short ranges.
fn turns(walls: &[Wall]) -> Vec<Turn> {
    let mut last = 0.0;
    let told = |wall: &Wall| {
        let start = wall.at(-1.0).1.angle();
        let start = start + TAU * ((last - start) / TAU).round();
        let end = start + wall.turn();
        last = end;
        Turn { low: start.min(end), high: start.max(end) }
    };
    walls.iter().map(told).collect()
}

fn node_turns(boxes: &Boxes, normals: &[Turn]) -> Vec<Turn> {
    let mut nodes = vec![Turn::NONE; boxes.nodes()];
    for node in (1..nodes.len()).rev() {
        nodes[node] = match boxes.leaf(node) {
            Some(members) => normals[members].iter().fold(Turn::NONE, |all, one| all.union(*one)),
            None => nodes[2 * node].union(nodes[2 * node + 1]),
        };
    }
    nodes
}

/// The pairs that a pair of nodes falls into.
fn halves(a: usize, b: usize) -> impl Iterator<Item = (usize, usize)> {
    let (a0, a1, b0, b1) = (2 * a, 2 * a + 1, 2 * b, 2 * b + 1);
    let same = a == b;
    [(a0, b0), (a0, b1), (a1, b0), (a1, b1)].into_iter().filter(move |&pair| !(same && pair == (a1, b0)))
}

/// Distance between two boxes.
fn apart(a: &Bounds, b: &Bounds) -> f64 {
    let x = (b.min.x - a.max.x).max(a.min.x - b.max.x).max(0.0);
    let y = (b.min.y - a.max.y).max(a.min.y - b.max.y).max(0.0);
    Vector::new(x, y).length()
}

/// Whether a wall in one box may face a wall in another: a normal of the first against a normal of the second, along a line
/// from box to box.
fn opposed(a: &Bounds, normals_a: Turn, b: &Bounds, normals_b: Turn) -> bool {
    if !normals_a.meets(normals_b.opposite()) {
        return false;
    }
    towards(a, b).is_none_or(|way| normals_a.meets(way) && normals_b.opposite().meets(way))
}

/// The directions in which one box is seen from another; none when they overlap.
fn towards(a: &Bounds, b: &Bounds) -> Option<Turn> {
    let (low, high) = (b.min - a.max, b.max - a.min);
    if low.x <= 0.0 && high.x >= 0.0 && low.y <= 0.0 && high.y >= 0.0 {
        return None;
    }
    let middle = Vector::new(0.5 * (low.x + high.x), 0.5 * (low.y + high.y));
    let corners = [(low.x, low.y), (high.x, low.y), (low.x, high.y), (high.x, high.y)];
    let off = corners.map(|(x, y)| {
        let corner = Vector::new(x, y);
        middle.cross(corner).atan2(middle.dot(corner))
    });
    let least = off.into_iter().fold(f64::INFINITY, f64::min);
    let most = off.into_iter().fold(f64::NEG_INFINITY, f64::max);
    Some(Turn { low: middle.angle() + least, high: middle.angle() + most })
}
