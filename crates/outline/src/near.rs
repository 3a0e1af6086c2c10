//! The pieces of an outline near one place, made ready to be asked for distances from places about it, again and again.

use crate::{Bounds, Outline, Piece, Point, Segment};

/// Rounding of two distances, mm: pieces as much farther off are looked at all the same.
const ROUNDING: f64 = 1e-9;

/// Pieces near a place, the nearest first.
#[derive(Debug)]
pub struct Near {
    pieces: Vec<(f64, Piece)>,
}

impl Near {
    /// Of the pieces that come within `radius` of a place.
    pub fn new(outline: &Outline, place: Point, radius: f64) -> Self {
        let mut pieces = Vec::new();
        let near = |b: &Bounds| b.distance_squared(place) <= radius * radius;
        outline.tree().visit(near, |_, piece| {
            let distance = piece.foot(place).distance;
            if distance <= radius {
                pieces.push((distance, *piece));
            }
        });
        pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self { pieces }
    }

    /// The pieces, nearest first.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        self.pieces.iter().map(|(_, piece)| piece.segment)
    }

    /// What can be nearest to places that lie no farther than `off` from the place: nothing else is nearer to them.
    pub fn about(&self, off: f64) -> About<'_> {
        // Moving by `off` brings no piece nearer by more, and takes the nearest no farther away than that.
        let reach = self.pieces.first().map_or(0.0, |first| first.0 + 2.0 * off + ROUNDING);
        About { pieces: &self.pieces[..self.pieces.partition_point(|(distance, _)| *distance <= reach)] }
    }
}

/// The pieces that can be nearest to some places.
#[derive(Debug, Clone, Copy)]
pub struct About<'a> {
    pieces: &'a [(f64, Piece)],
}

impl About<'_> {
    /// How many they are.
    pub fn count(&self) -> usize {
        self.pieces.len()
    }

    /// Distance from one of the places to the nearest piece, mm; infinite if there is none.
    pub fn distance(&self, place: Point) -> f64 {
        self.pieces.iter().map(|(_, piece)| piece.foot(place).distance).fold(f64::INFINITY, f64::min)
    }
}
