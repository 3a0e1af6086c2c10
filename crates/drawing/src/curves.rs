//! Splines, ellipses and stretched circles as paths of arcs.

use crate::map::Map;
use crate::path::{Curve, Made, NOTHING, NoPath, within_reach};
use dxf::Spline;
use outline::{Bezier, Effort, Point, Vector, Vertex, b_spline};
use std::f64::consts::{PI, TAU};

/// Spans of parameters that exceed a full turn by no more than this are a whole ellipse whose numbers were rounded, radians; less than a
/// turn by no more than `SHORT_OF` too.
const BEYOND: f64 = 1e-4;
/// See `BEYOND`: what eight digits leave.
const SHORT_OF: f64 = 1e-8;
/// Half diameters that differ by less than this share, and are as square, are those of a circle.
const ROUND: f64 = 1e-12;

/// The path of an ellipse or of a piece of one. Where it is round it becomes arcs as they are.
pub(crate) fn ellipse(
    centre: [f64; 2],
    axes: [[f64; 2]; 2],
    from: f64,
    to: f64,
    map: &Map,
    effort: &mut Effort,
) -> Result<Made, NoPath> {
    let middle = map.place(centre);
    let [first, second] = axes.map(|axis| map.vector(Vector::new(axis[0], axis[1])));
    let at = |t: f64| middle + first * t.cos() + second * t.sin();
    let (sweep, closed) = swept(from, to).ok_or_else(|| NoPath::NoSweep(at(from)))?;
    within_reach([middle, middle + first, middle + second].into_iter())?;
    let (a, b) = (first.dot(first), second.dot(second));
    if (a - b).abs() <= ROUND * a && first.dot(second).abs() <= ROUND * a {
        return Ok(round(at, from, sweep, closed, first.cross(second).signum()));
    }
    by_quarters(&outline::ellipse(middle, [first, second], from, sweep), closed, effort)
}

/// The sweep of a piece of an ellipse and whether it is the whole; none if it has none.
fn swept(from: f64, to: f64) -> Option<(f64, bool)> {
    let span = to - from;
    if (TAU - SHORT_OF..=TAU + BEYOND).contains(&span.abs()) {
        return Some((TAU, true));
    }
    let sweep = span.rem_euclid(TAU);
    (sweep > 0.0).then_some((sweep, false))
}

/// Arcs of at most half a circle.
fn round(at: impl Fn(f64) -> Point, from: f64, sweep: f64, closed: bool, sense: f64) -> Made {
    let count = if sweep > PI { 2 } else { 1 };
    let each = sweep / f64::from(count);
    let bulge = sense * (each / 4.0).tan().min(1.0);
    let mut vertices: Vec<Vertex> =
        (0..count).map(|i| Vertex { point: at(from + each * f64::from(i)), bulge }).collect();
    if !closed {
        vertices.push(Vertex { point: at(from + sweep), bulge: 0.0 });
    }
    (vertices, closed, None)
}

/// The path of a spline.
pub(crate) fn spline(spline: &Spline, map: &Map, effort: &mut Effort) -> Result<Made, NoPath> {
    let controls: Vec<(Point, f64)> =
        spline.controls.iter().map(|[x, y, weight]| (map.place([*x, *y]), *weight)).collect();
    within_reach(controls.iter().map(|control| control.0))?;
    let curves = b_spline(spline.degree, &spline.knots, &controls);
    let closed = meets(&curves);
    fitted(&curves, closed, Curve::Spline, effort)
}

/// The path of the curve through points.
pub(crate) fn through(
    points: &[[f64; 2]],
    directions: [Option<[f64; 2]>; 2],
    closed: bool,
    map: &Map,
    effort: &mut Effort,
) -> Result<Made, NoPath> {
    let points: Vec<Point> = points.iter().map(|raw| Point::new(raw[0], raw[1])).collect();
    let directions = directions.map(|raw| raw.map(|raw| Vector::new(raw[0], raw[1])));
    // Its chords are those of the drawing, so that the curve is stretched with the rest by an insert.
    let mut curves: Vec<Bezier> = outline::through(&points, directions, closed)
        .iter()
        .map(|curve| curve.mapped(|place| map.place([place.x, place.y])))
        .collect();
    within_reach(curves.iter().flat_map(|curve| [curve.first(), curve.last()]))?;
    if let ([], [first, ..]) = (&curves[..], &points[..]) {
        // All of them are one: a curve that is a point.
        curves = b_spline(1, &[0.0, 0.0, 1.0, 1.0], &[(map.place([first.x, first.y]), 1.0); 2]);
    }
    let closed = meets(&curves);
    fitted(&curves, closed, Curve::Spline, effort)
}

/// What an arc from one place to another becomes, without its last point, and how far it was moved.
pub(crate) fn stretched_arc(
    [x, y, bulge]: [f64; 3],
    to: [f64; 2],
    map: &Map,
    effort: &mut Effort,
) -> Result<(Vec<Vertex>, f64), NoPath> {
    let (from, to) = (Point::new(x, y), Point::new(to[0], to[1]));
    let chord = to - from;
    let centre = from + chord * 0.5 + chord.left() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let arm = from - centre;
    let axes = [arm, arm.left()].map(|axis| map.vector(axis));
    let curves = outline::ellipse(map.place([centre.x, centre.y]), axes, 0.0, 4.0 * bulge.atan());
    let (mut vertices, _, fitted) = by_quarters(&curves, false, effort)?;
    vertices.pop();
    if let Some(first) = vertices.first_mut() {
        first.point = map.place([from.x, from.y]);
    }
    Ok((vertices, fitted.map_or(0.0, |(_, deviation)| deviation)))
}

/// Whether the last curve ends where the first one begins.
fn meets(curves: &[Bezier]) -> bool {
    let ends = curves.first().zip(curves.last());
    ends.is_some_and(|(first, last)| first.first().distance(last.last()) <= NOTHING)
}

/// An ellipse fitted quarter by quarter, so that it goes through the ends of its axes, and is as long and as wide as it was drawn.
fn by_quarters(curves: &[Bezier], closed: bool, effort: &mut Effort) -> Result<Made, NoPath> {
    let mut vertices: Vec<Vertex> = Vec::new();
    let mut most = 0.0f64;
    for curve in curves {
        let (quarter, _, by) = fitted(std::slice::from_ref(curve), false, Curve::Ellipse, effort)?;
        vertices.pop();
        vertices.extend(quarter);
        most = most.max(by.map_or(0.0, |(_, deviation)| deviation));
    }
    if closed {
        vertices.pop();
    }
    Ok((vertices, closed, Some((Curve::Ellipse, most))))
}

fn fitted(curves: &[Bezier], closed: bool, kind: Curve, effort: &mut Effort) -> Result<Made, NoPath> {
    let found = outline::fit(curves, effort).map_err(|outline::TooWinding(at)| NoPath::TooWinding(at))?;
    let Some(mut found) = found else {
        // A point: the caller says so, at its place.
        let point = curves.iter().take(1).map(|curve| Vertex { point: curve.first(), bulge: 0.0 });
        return Ok((point.collect(), false, None));
    };
    if closed {
        found.vertices.pop();
    }
    Ok((found.vertices, closed, Some((kind, found.deviation))))
}
