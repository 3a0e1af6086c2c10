//! How far a place is from the edge of an outline, and on which side.
//!
//! The distance is exact over lines and arcs. The side comes from the winding number, not from the nearest segment, so it
//! is right next to vertices and cusps too: the polygon of the chords by a ray to the right, then the cap between each arc
//! and its chord. Both take the side of the chord from the same number, so that they cannot contradict each other, and a
//! place level with a vertex or on a chord counts as moved right and up by nothing.

use crate::{Bounds, Outline, Piece, Point};

/// The point of an outline that is nearest to a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// Where on the edge.
    pub point: Point,
    /// On which segment, counted from the first vertex.
    pub segment: usize,
    /// At which share of that segment's length, 0 to 1.
    pub share: f64,
    /// How far away, mm.
    pub distance: f64,
}

impl Outline {
    /// Distance to the edge, mm: positive inside, negative outside; -infinity for a place that is not finite.
    pub fn signed_distance(&self, place: Point) -> f64 {
        let Some((_, foot)) = self.tree().nearest(place, f64::INFINITY) else {
            return f64::NEG_INFINITY;
        };
        match self.contains(place) {
            true => foot.distance,
            false => -foot.distance,
        }
    }

    /// Whether the edge comes nearer than this to a place, mm.
    pub fn comes_within(&self, place: Point, distance: f64) -> bool {
        self.tree().nearest(place, distance).is_some()
    }

    /// The nearest point of the edge; of several equally near, any one, always the same one. A place that is not finite is
    /// answered with the first vertex at an infinite distance.
    pub fn nearest(&self, place: Point) -> Nearest {
        let tree = self.tree();
        match tree.nearest(place, f64::INFINITY) {
            Some((segment, foot)) => {
                let share = tree.pieces()[segment].share(&foot);
                Nearest { point: foot.point, segment, share, distance: foot.distance }
            }
            None => {
                Nearest { point: self.vertices()[0].point, segment: 0, share: 0.0, distance: f64::INFINITY }
            }
        }
    }

    /// Whether a place lies inside. On the edge itself the answer is either.
    pub fn contains(&self, place: Point) -> bool {
        let mut winding = 0;
        // A ray to the right meets only what reaches the place's height and does not end left of it.
        let met = |b: &Bounds| b.min.y <= place.y && place.y <= b.max.y && place.x <= b.max.x;
        self.tree().visit(met, |_, piece| winding += turns(piece, place));
        winding != 0
    }
}

/// What a piece adds to the winding number about a place.
fn turns(piece: &Piece, place: Point) -> i32 {
    let (from, to) = (piece.segment.from, piece.segment.to);
    let on_left = left_of(from, to, place);
    let chord = match (from.y <= place.y, to.y <= place.y) {
        (true, false) if on_left => 1,
        (false, true) if !on_left => -1,
        _ => 0,
    };
    let over_arc = piece.turn != 0.0 && on_left == (piece.turn < 0.0);
    match over_arc && piece.beyond_circle(piece.local(place)) < 0.0 {
        true => chord + piece.turn as i32,
        false => chord,
    }
}

/// Whether a place lies left of a chord; one on its line counts as moved right, or up for a level chord.
fn left_of(from: Point, to: Point, place: Point) -> bool {
    let chord = to - from;
    let side = chord.cross(place - from);
    if side != 0.0 {
        return side > 0.0;
    }
    if chord.y != 0.0 { chord.y < 0.0 } else { chord.x > 0.0 }
}
