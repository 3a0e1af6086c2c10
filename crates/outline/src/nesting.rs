//! Which outline lies in which, and which of them meet. Pairs whose boxes come near each other are found through a tree.

use crate::boxes::{Boxes, along_the_plane};
use crate::meeting::{Meeting, meeting};
use crate::validity::TOUCH;
use crate::{Bounds, Outline, Piece, Point};

/// For each outline the one directly around it, if there is one. Meant for outlines that do not meet (see
/// [`meeting_pairs`]); of two that do, neither need be said to lie in the other.
pub fn nesting(outlines: &[Outline]) -> Vec<Option<usize>> {
    let areas: Vec<f64> = outlines.iter().map(Outline::area).collect();
    let mut around: Vec<Option<usize>> = vec![None; outlines.len()];
    for (i, j) in near_pairs(outlines) {
        let (inner, outer) = if areas[i] < areas[j] { (i, j) } else { (j, i) };
        let nearer = around[inner].is_none_or(|known| (areas[outer], outer) < (areas[known], known));
        if nearer && areas[inner] < areas[outer] && lies_in(&outlines[inner], &outlines[outer]) {
            around[inner] = Some(outer);
        }
    }
    around
}

/// Every pair of outlines (i < j) whose edges cross or touch, with a place where they do.
pub fn meeting_pairs(outlines: &[Outline]) -> Vec<(usize, usize, Point)> {
    let met = |(i, j): (usize, usize)| edges_meet(&outlines[i], &outlines[j]).map(|place| (i, j, place));
    near_pairs(outlines).into_iter().filter_map(met).collect()
}

/// Every pair of outlines (i < j) whose boxes come near enough to touch, in order.
fn near_pairs(outlines: &[Outline]) -> Vec<(usize, usize)> {
    let bounds: Vec<Bounds> = outlines.iter().map(Outline::bounds).collect();
    let order = along_the_plane(&bounds);
    let boxes = Boxes::new(order.iter().map(|&i| bounds[i]).collect());
    let mut pairs = Vec::new();
    boxes.pairs(TOUCH, |a, b| {
        pairs.push((order[a].min(order[b]), order[a].max(order[b])));
        true
    });
    pairs.sort_unstable();
    pairs
}

fn lies_in(inner: &Outline, outer: &Outline) -> bool {
    let (i, o) = (inner.bounds(), outer.bounds());
    let within = o.min.x <= i.min.x && o.min.y <= i.min.y && i.max.x <= o.max.x && i.max.y <= o.max.y;
    within && inner.vertices().iter().all(|v| outer.contains(v.point))
}

fn edges_meet(a: &Outline, b: &Outline) -> Option<Point> {
    let mut place = None;
    a.tree().visit(
        |piece| piece.comes_within(&b.bounds(), TOUCH),
        |_, piece| place = place.or_else(|| meets(piece, b)),
    );
    place
}

fn meets(piece: &Piece, outline: &Outline) -> Option<Point> {
    let bounds = piece.bounds();
    let mut place = None;
    outline.tree().visit(
        |other| bounds.comes_within(other, TOUCH),
        |_, other| place = place.or_else(|| meeting(piece, other, TOUCH, |_| true)),
    );
    place.map(|(Meeting::Crossing(at) | Meeting::Touching(at))| at)
}
