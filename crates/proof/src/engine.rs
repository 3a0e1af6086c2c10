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

/// Points closer than this along a path are one, mm: below the finest program step.
const SAME: f64 = 1e-9;

/// What a disc of this radius sweeps along an open path.
pub fn stroke(path: &[Place], radius: f64) -> Vec<Shape> {
    let mut points: Vec<Place> = Vec::with_capacity(path.len());
    for &place in path {
        if points.last().is_none_or(|last| distance(*last, place) > SAME) {
            points.push(place);
        }
    }
    let mut style = StrokeStyle::new(2.0 * radius);
    style.start_cap = LineCap::Round(ROUND);
    style.end_cap = LineCap::Round(ROUND);
    style.join = LineJoin::Round(ROUND);
    points.stroke_as::<i64>(style, false)
}

/// A polygon grown (or shrunk, when negative) all round, corners rounded.
pub fn grown(shapes: &[Shape], by: f64) -> Vec<Shape> {
    let mut style = OutlineStyle::new(by);
    style.join = LineJoin::Round(ROUND);
    shapes.to_vec().outline_as::<i64>(&style)
}

/// Both together.
pub fn union(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    a.to_vec().overlay_as::<i64>(&b.to_vec(), OverlayRule::Union, FillRule::NonZero)
}

/// What is left of `a` when `b` is taken away.
pub fn difference(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    a.to_vec().overlay_as::<i64>(&b.to_vec(), OverlayRule::Difference, FillRule::NonZero)
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
