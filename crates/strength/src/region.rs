//! A plate: what lies within an outer edge and outside its openings, with no sharp corner that cuts into it.

use crate::Refusal;
use outline::{Outline, Segment, meeting_pairs};

/// A joint that cuts in and turns by no more than this is smooth, degrees: it raises the stress next to it by about (distance to
/// it)^(-0.005), a few percent at the size of the smallest triangles. (Williams, J. Appl. Mech. 19, 1952; from memory.)
const SMOOTH_DEGREES: f64 = 0.5;

/// One edge of a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// The outer one.
    Outer,
    /// That of an opening, counted from 0.
    Opening(usize),
}

/// A plate with openings. Every corner that cuts into it is round.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    outer: Outline,
    openings: Vec<Outline>,
}

/// A segment of an edge, travelled with the plate on its left.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Side {
    pub(crate) edge: Edge,
    /// Its number in the outline.
    pub(crate) number: usize,
    pub(crate) segment: Segment,
}

impl Region {
    /// The plate within `outer` and outside the openings.
    ///
    /// # Errors
    /// Every opening that is not wholly inside, that meets another or lies in it, and every sharp corner that cuts into the
    /// plate: an opening's corners as a wire sees them, or a notch of the outer edge. There the stress has no limit; a radius,
    /// however small, gives it one.
    pub fn new(outer: Outline, openings: Vec<Outline>) -> Result<Self, Vec<Refusal>> {
        let region = Self { outer, openings };
        let mut found = region.misplaced();
        found.extend(region.sharp());
        if found.is_empty() { Ok(region) } else { Err(found) }
    }

    /// Its outer edge.
    pub fn outer(&self) -> &Outline {
        &self.outer
    }

    /// Its openings.
    pub fn openings(&self) -> &[Outline] {
        &self.openings
    }

    /// The outline of an edge.
    pub(crate) fn outline(&self, edge: Edge) -> Option<&Outline> {
        match edge {
            Edge::Outer => Some(&self.outer),
            Edge::Opening(i) => self.openings.get(i),
        }
    }

    /// Its edges.
    fn edges(&self) -> impl Iterator<Item = (Edge, &Outline)> {
        let openings = self.openings.iter().enumerate().map(|(i, o)| (Edge::Opening(i), o));
        std::iter::once((Edge::Outer, &self.outer)).chain(openings)
    }

    /// The segments of each edge in the order of travel.
    pub(crate) fn loops(&self) -> Vec<Vec<Side>> {
        let of = |(edge, outline): (Edge, &Outline)| {
            let mut sides: Vec<Side> = outline
                .segments()
                .enumerate()
                .map(|(number, segment)| Side { edge, number, segment })
                .collect();
            if edge != Edge::Outer {
                sides.reverse();
                sides.iter_mut().for_each(|side| side.segment = side.segment.reversed());
            }
            sides
        };
        self.edges().map(of).collect()
    }

    fn misplaced(&self) -> Vec<Refusal> {
        let all: Vec<Outline> = self.edges().map(|(_, outline)| outline.clone()).collect();
        let edge = |i: usize| if i == 0 { Edge::Outer } else { Edge::Opening(i - 1) };
        let mut found: Vec<Refusal> = meeting_pairs(&all)
            .into_iter()
            .map(|(i, j, at)| Refusal::Meeting { one: edge(i), other: edge(j), at })
            .collect();
        if !found.is_empty() {
            return found;
        }
        for (i, opening) in self.openings.iter().enumerate() {
            let at = opening.vertices()[0].point;
            if !self.outer.contains(at) {
                found.push(Refusal::Outside { opening: i, at });
            }
            let around = |j: &usize| *j != i && self.openings[*j].contains(at);
            if let Some(j) = (0..self.openings.len()).find(around) {
                found.push(Refusal::Within { opening: i, around: j, at });
            }
        }
        found
    }

    fn sharp(&self) -> Vec<Refusal> {
        let mut found = Vec::new();
        for (edge, outline) in self.edges() {
            let segments: Vec<Segment> = outline.segments().collect();
            let cuts_in = if edge == Edge::Outer { -1.0 } else { 1.0 };
            for (before, after) in segments.iter().zip(segments.iter().cycle().skip(1)) {
                let (one, other) = (before.direction(1.0), after.direction(0.0));
                let turn = one.cross(other).atan2(one.dot(other));
                if cuts_in * turn > SMOOTH_DEGREES.to_radians() {
                    found.push(Refusal::Sharp { edge, at: after.from });
                }
            }
        }
        found
    }
}
