//! Local thickness: how wide a room is where one stands on its edge.
//!
//! At a place of the edge it is the diameter of the largest disc that touches there and lies in the room. The discs that touch at
//! one place lie in each other, so the largest is found by halving, with exact distances.

use crate::{Outline, Point};

/// A disc fits where its middle is nearer to the edge than its radius by no more than this, mm: rounding of distances.
const FITS: f64 = 1e-9;
/// Halvings: from metres to far below what rounding leaves.
const HALVINGS: usize = 60;

/// A place of an edge, and how thick the room is there, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thick {
    /// On the edge.
    pub place: Point,
    /// Diameter of the largest disc in the room that touches there.
    pub width: f64,
}

/// Local thickness inside `outer` and outside every one of `islands`, at the middle of each segment of `outer`.
pub fn thickness(outer: &Outline, islands: &[Outline]) -> Vec<Thick> {
    let depth = |place: Point| {
        let beside = islands.iter().map(|island| -island.signed_distance(place));
        beside.fold(outer.signed_distance(place), f64::min)
    };
    let bounds = outer.bounds();
    // No disc in it is larger than the narrower side of its bounds.
    let most = 0.5 * bounds.width().min(bounds.height());
    let at = |segment: crate::Segment| {
        let (place, inward) = (segment.at(0.5), segment.direction(0.5).left());
        let fits = |radius: f64| depth(place + inward * radius) >= radius - FITS;
        let (mut holds, mut fails) = (0.0, most);
        if fits(most) {
            holds = most;
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (holds + fails);
            if fits(middle) { holds = middle } else { fails = middle }
        }
        Thick { place, width: 2.0 * holds }
    };
    outer.segments().map(at).collect()
}
