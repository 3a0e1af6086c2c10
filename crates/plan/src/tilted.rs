//! The tilted wire in one opening: how far off the edge it runs, and the way of its centre at the land's end.
//!
//! It runs beside the target with its corners rounded so far that the wire's centre still has a way at the face, where it
//! leans away from the edge. Then its tilt is the same everywhere, square to the edge, and at every height the centre
//! runs on a parallel of that one way: nearer to the middle above the land's end, farther out below.

use crate::figure::Figure;
use crate::lead_in::{self, LeadIn, past, stays_inside};
use crate::opening::Opening;
use crate::passes::Passes;
use crate::reckoning::{At, Reckoning};
use crate::relief::Relief;
use crate::rules::relief as rules;
use outline::{Outline, ParallelError, Point, Segment, parallel, reach};

/// One wire, tilted, in one opening.
#[derive(Debug, Clone)]
pub struct Tilted {
    /// How it tilts.
    pub relief: Relief,
    /// Wire centre to finished edge at the land's end.
    pub offset: Figure,
    /// The same at the face.
    pub at_face: Figure,
    /// The edge beside which it runs: the target with rounded corners; one loop where the wire gets everywhere.
    pub edges: Vec<Outline>,
    /// The way of its centre at the land's end.
    pub centres: Vec<Outline>,
}

impl Tilted {
    /// What a wire does that is tilted for this relief.
    pub fn of(head: &str, relief: Relief, opening: &Opening, passes: &Passes) -> Result<Self, ParallelError> {
        let (offset, at_face) = offsets(&mut Reckoning::silent(), head, &relief, passes);
        let edges = reach(&opening.target, at_face.value)?.edges;
        let centres = match &edges[..] {
            [edge] => parallel(edge, offset.value)?,
            _ => Vec::new(),
        };
        Ok(Self { relief, offset, at_face, edges, centres })
    }

    /// The same, written down.
    pub fn recorded(&self, reckoning: &mut Reckoning, head: &str, passes: &Passes, relief: Relief) -> Self {
        let (offset, at_face) = offsets(reckoning, head, &relief, passes);
        Self { relief, offset, at_face, ..self.clone() }
    }

    /// Whether it gets everywhere from one start.
    pub fn in_one_piece(&self) -> bool {
        self.edges.len() == 1 && self.centres.len() == 1
    }

    /// What the wire clears to each side of its centre, across, mm.
    pub fn clears(&self) -> f64 {
        self.offset.value - self.relief.stock.value
    }

    /// Wire centre to finished edge at a depth below the face, mm; below 0 where it lies outside of it.
    pub fn offset_at(&self, depth: f64) -> f64 {
        self.offset.value - self.relief.aside(depth)
    }

    /// The way in from a hole, upright, with the tilt taken up on the leg that meets the edge.
    pub fn lead_in(&self, opening: &Opening, hole: Point, overlap: f64) -> Option<LeadIn> {
        let edge = self.edges.first()?;
        let free = opening.free();
        let stretches = lead_in::stretches(free, edge);
        let mut found = lead_in::find(free, (edge, &stretches), hole, self.at_face.value, overlap)?;
        let pieces: Vec<Segment> = edge.segments().collect();
        let offset = self.offset.value;
        let back = found.way[found.way.len() - 2];
        // At the land's end the wire comes nearer to the edge than at the face, which was looked at.
        let keeps = |length: f64| {
            let (meets, inward) = past(&pieces, found.segment, found.share, length);
            stays_inside(free, back, meets + inward * offset, offset)
        };
        if !keeps(0.0) {
            return None;
        }
        if !keeps(found.overlap) {
            found.overlap = 0.0;
        }
        Some(found)
    }
}

/// Offsets at the land's end and at the face.
fn offsets(reckoning: &mut Reckoning, head: &str, relief: &Relief, passes: &Passes) -> (Figure, Figure) {
    let key = format!("{head}wire.relief.");
    let offset = reckoning.rule(
        At(&key, "offset_mm"),
        &rules::OFFSET,
        [passes.wire, passes.gap, relief.secant, relief.stock],
    );
    let at_face =
        reckoning.rule(At(&key, "offset_at_face_mm"), &rules::AT_FACE, [offset, relief.land, relief.tangent]);
    (offset, at_face)
}
