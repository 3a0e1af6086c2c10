//! Which outline lies in which, and which of them meet.

use crate::meeting::{Meeting, meeting};
use crate::validity::TOUCH;
use crate::{Bounds, Outline, Point};

/// For each outline the one directly around it, if there is one. Meant for outlines that do not meet (see
/// [`meeting_pairs`]); of two that do, neither need be said to lie in the other.
pub fn nesting(outlines: &[Outline]) -> Vec<Option<usize>> {
    let areas: Vec<f64> = outlines.iter().map(Outline::area).collect();
    let around = |i: usize| {
        (0..outlines.len())
            .filter(|&j| j != i && areas[j] > areas[i] && lies_in(&outlines[i], &outlines[j]))
            .min_by(|&a, &b| areas[a].total_cmp(&areas[b]))
    };
    (0..outlines.len()).map(around).collect()
}

/// Every pair of outlines (i < j) whose edges cross or touch, with a place where they do.
pub fn meeting_pairs(outlines: &[Outline]) -> Vec<(usize, usize, Point)> {
    let mut pairs = Vec::new();
    for (i, a) in outlines.iter().enumerate() {
        for (j, b) in outlines.iter().enumerate().skip(i + 1) {
            pairs.extend(edges_meet(a, b).map(|place| (i, j, place)));
        }
    }
    pairs
}

fn lies_in(inner: &Outline, outer: &Outline) -> bool {
    let (i, o) = (inner.bounds(), outer.bounds());
    let within = o.min.x <= i.min.x && o.min.y <= i.min.y && i.max.x <= o.max.x && i.max.y <= o.max.y;
    within && inner.vertices().iter().all(|v| outer.contains(v.point))
}

fn edges_meet(a: &Outline, b: &Outline) -> Option<Point> {
    if !a.bounds().comes_within(&b.bounds(), TOUCH) {
        return None;
    }
    a.tree().pieces().iter().find_map(|piece| {
        let bounds = piece.bounds();
        let mut place = None;
        let near = |other: &Bounds| bounds.comes_within(other, TOUCH);
        b.tree().visit(near, |_, other| {
            if let Some(Meeting::Crossing(at) | Meeting::Touching(at)) =
                meeting(piece, other, TOUCH, |_| true)
            {
                place = place.or(Some(at));
            }
        });
        place
    })
}
