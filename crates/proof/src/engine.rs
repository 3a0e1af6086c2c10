//! The polygon engine, i_overlay, behind the few questions that the proof asks.

use crate::flatten::{Place, distance};
use crate::region::area;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use i_overlay::mesh::float::outline::offset::OutlineOffset;
use i_overlay::mesh::float::stroke::offset::StrokeOffset;
use i_overlay::mesh::float::style::{LineCap, LineJoin, OutlineStyle, StrokeStyle};

/// A shape: its outer loop first, then its holes.
pub type Shape = Vec<Vec<Place>>;

/// Finest step of round joins that the engine takes, radians: with wire radii up to 0.2 mm their sagitta is 0.025 um.
const ROUND: f64 = 0.01 * std::f64::consts::PI;

/// Whole numbers that swept shapes are reckoned in, half the time of longer ones. A span of 500 mm has a billion steps, and the
/// widest that a block can have (`FARTHEST`) steps of a sagitta: what is asked of these shapes is pieces and their areas, and depths
/// only where a pass is wrong.
type Grid = i32;

/// Points closer than this along a path are one, mm: below the finest program step.
const SAME: f64 = 1e-9;

/// Chords that are swept at once: the engine takes longer for a chord, the more of them there are.
const AT_ONCE: usize = 48;

/// What a disc of this radius sweeps along an open path.
pub fn stroke(path: &[Place], radius: f64) -> Vec<Shape> {
    let mut points: Vec<Place> = Vec::with_capacity(path.len());
    for &place in path {
        if points.last().is_none_or(|last| distance(*last, place) > SAME) {
            points.push(place);
        }
    }
    let mut swept: Vec<Shape> = Vec::new();
    let mut first = 0;
    loop {
        // Each run begins with the last chord of the one before, so that every corner lies within a run.
        let last = (first + AT_ONCE).min(points.len().saturating_sub(1));
        let end = |whole: bool| if whole { LineCap::Round(ROUND) } else { LineCap::Butt };
        let mut style = StrokeStyle::new(2.0 * radius);
        style.start_cap = end(first == 0);
        style.end_cap = end(last + 1 >= points.len());
        style.join = LineJoin::Round(ROUND);
        swept.extend(points.get(first..=last).unwrap_or_default().stroke_as::<Grid>(style, false));
        if last + 1 >= points.len() {
            break;
        }
        first = last - 1;
    }
    match points.len() > AT_ONCE + 1 {
        true => union(&swept, &[]),
        false => swept,
    }
}

/// A polygon grown (or shrunk, when negative) all round, corners rounded.
pub fn grown(shapes: &[Shape], by: f64) -> Vec<Shape> {
    let mut style = OutlineStyle::new(by);
    style.join = LineJoin::Round(ROUND);
    shapes.to_vec().outline_as::<i64>(&style)
}

/// Both together.
pub fn union(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    a.to_vec().overlay_as::<Grid>(&b.to_vec(), OverlayRule::Union, FillRule::NonZero)
}

/// What is left of `a` when `b` is taken away.
pub fn difference(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    a.to_vec().overlay_as::<Grid>(&b.to_vec(), OverlayRule::Difference, FillRule::NonZero)
}

/// A polygon counter-clockwise.
pub fn counter_clockwise(mut points: Vec<Place>) -> Vec<Place> {
    if area(&points) < 0.0 {
        points.reverse();
    }
    points
}

/// A circle as a polygon.
pub fn circle(centre: Place, radius: f64) -> Vec<Place> {
    let mut points = Vec::new();
    let from = [centre[0] + radius, centre[1]];
    crate::flatten::arc(&mut points, from, from, centre, std::f64::consts::TAU);
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stroke_has_its_width() {
        let shapes = stroke(&[[0.0, 0.0], [1.0, 0.0]], 0.1);
        let expected = 0.2 + std::f64::consts::PI * 0.01;
        assert_eq!(shapes.len(), 1);
        assert!((area(&shapes[0][0]) - expected).abs() < 1e-4 * expected);
    }

    #[test]
    fn shrinking_and_growing_rounds_corners() {
        let square = vec![vec![vec![[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]]];
        let back = grown(&grown(&square, -0.1), 0.1);
        let expected = 1.0 - (4.0 - std::f64::consts::PI) * 0.01;
        assert!((area(&back[0][0]) - expected).abs() < 1e-5, "{}", area(&back[0][0]));
    }
}
