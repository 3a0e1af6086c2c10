//! Smooth curves of a drawing as chords: the proof's own way of following splines, ellipses and curves through points.
//!
//! A spline is followed by de Boor's own rule, place by place; an ellipse by its angle; a curve through points by its
//! second derivatives there. Where chords are halved is decided by places between their ends, never by a formula that
//! somebody else might use.

use crate::flatten::{Place, SAGITTA_MM, distance};
use crate::region::to_segment;
use dxf::Spline;
use std::f64::consts::TAU;

/// Pieces between two knots that are looked at anyway: fewer could hide a wave between the places that are tried.
const PIECES: usize = 8;
/// A chord is halved no more often than this.
const HALVINGS: usize = 24;
/// Chords of a curve end here: it is not followed any further.
const MOST: usize = 1_000_000;
/// What goes farther than this is no part of a block, wherever it is put, mm.
const FAR: f64 = 1e7;
/// A span that misses a full turn by no more than this, radians, is one: rounding of what wrote the file.
const FULL: f64 = 1e-6;
/// Points closer than this are one, mm.
const SAME: f64 = 1e-9;
/// Rounds of the search for second derivatives; each one leaves a quarter of the error at most.
const ROUNDS: usize = 60;

/// The chords of a rational B-spline.
pub fn spline(spline: &Spline, scale: f64) -> Vec<Place> {
    let (p, n) = (spline.degree, spline.controls.len());
    let breaks: Vec<f64> = spline.knots[p..=n].to_vec();
    chords(&breaks, |t| de_boor(spline, t).map(|v| v * scale))
}

/// A place of a spline: control points are drawn together until one is left.
fn de_boor(spline: &Spline, t: f64) -> Place {
    let (p, n) = (spline.degree, spline.controls.len());
    let knots = &spline.knots;
    // The last span that has a length and begins no later.
    let span = (p..n).rev().find(|k| knots[*k] <= t && knots[*k] < knots[*k + 1]).unwrap_or(p);
    let mut drawn: Vec<[f64; 3]> = spline.controls[span - p..=span]
        .iter()
        .map(|[x, y, weight]| [x * weight, y * weight, *weight])
        .collect();
    for round in 1..=p {
        for j in (round..=p).rev() {
            let (low, high) = (knots[span - p + j], knots[span + 1 + j - round]);
            let share = if high > low { (t - low) / (high - low) } else { 0.0 };
            let before = drawn[j - 1];
            drawn[j].iter_mut().zip(before).for_each(|(v, w)| *v = (1.0 - share) * w + share * *v);
        }
    }
    [drawn[p][0] / drawn[p][2], drawn[p][1] / drawn[p][2]]
}

/// The chords of an ellipse or a piece of one, and whether it is a whole one.
pub fn ellipse(centre: Place, major: Place, minor: Place, [from, to]: [f64; 2]) -> (Vec<Place>, bool) {
    let span = to - from;
    let whole = (span.abs() - TAU).abs() <= FULL;
    let sweep = if whole { TAU } else { span.rem_euclid(TAU) };
    // No second derivative is larger than the longer axis, and a chord's sagitta is an eighth of it by the step's square.
    let longest = distance(major, [0.0, 0.0]).max(distance(minor, [0.0, 0.0])).max(SAGITTA_MM);
    let steps = (sweep / (8.0 * SAGITTA_MM / longest).sqrt()).ceil().clamp(1.0, MOST as f64) as usize;
    let at = |k: usize| {
        let (sin, cos) = (from + sweep * k as f64 / steps as f64).sin_cos();
        [0, 1].map(|i| centre[i] + major[i] * cos + minor[i] * sin)
    };
    ((0..if whole { steps } else { steps + 1 }).map(at).collect(), whole)
}

/// The chords of the curve through points, cubic between each two of them and bent evenly on both sides of each, over the
/// length of the straight ways between them. Its ends go in the given directions, or are not bent.
pub fn through(points: &[Place], directions: [Option<Place>; 2], closed: bool) -> Vec<Place> {
    let mut points = points.to_vec();
    points.dedup_by(|a, b| distance(*a, *b) <= SAME);
    if closed && points.len() > 1 && distance(points[0], points[points.len() - 1]) > SAME {
        points.push(points[0]);
    }
    if points.len() < 2 {
        return points;
    }
    let round = closed && points.len() > 2;
    let bends = bends(&points, directions, round);
    let mut along = vec![0.0];
    points.windows(2).for_each(|pair| along.push(along[along.len() - 1] + distance(pair[0], pair[1])));
    chords(&along, |t| {
        let i = along.partition_point(|at| *at <= t).clamp(1, along.len() - 1) - 1;
        let h = along[i + 1] - along[i];
        let (b, a) = ((t - along[i]) / h, (along[i + 1] - t) / h);
        let lift = |k: usize| (a * a * a - a) * bends[i][k] + (b * b * b - b) * bends[i + 1][k];
        [0, 1].map(|k| a * points[i][k] + b * points[i + 1][k] + lift(k) * h * h / 6.0)
    })
}

/// Second derivatives at the points. Each is held fast by its neighbours' at half their weight or less, so that putting
/// one after the other right ends soon.
fn bends(points: &[Place], directions: [Option<Place>; 2], round: bool) -> Vec<Place> {
    let last = points.len() - 1;
    let h: Vec<f64> = points.windows(2).map(|pair| distance(pair[0], pair[1])).collect();
    let slope = |i: usize| [0, 1].map(|k| (points[i + 1][k] - points[i][k]) / h[i]);
    let unit = |d: Place| d.map(|v| v / distance(d, [0.0, 0.0]));
    let mut bends = vec![[0.0; 2]; points.len()];
    for _ in 0..ROUNDS {
        for i in 0..=last {
            // What lies before and after the point: length, slope and bend of the far end; none beyond an end.
            let before = match (i, round) {
                (0, true) => Some((h[last - 1], slope(last - 1), bends[last - 1])),
                (0, false) => None,
                _ => Some((h[i - 1], slope(i - 1), bends[i - 1])),
            };
            let after = match (i == last, round) {
                (true, true) => Some((h[0], slope(0), bends[1])),
                (true, false) => None,
                _ => Some((h[i], slope(i), bends[i + 1])),
            };
            bends[i] = [0, 1].map(|k| match (before, after) {
                (Some((h, s, m)), Some((next_h, next_s, next_m))) => {
                    (6.0 * (next_s[k] - s[k]) - h * m[k] - next_h * next_m[k]) / (2.0 * (h + next_h))
                }
                (None, Some((h, s, m))) => {
                    directions[0].map_or(0.0, |d| (6.0 * (s[k] - unit(d)[k]) - h * m[k]) / (2.0 * h))
                }
                (Some((h, s, m)), None) => {
                    directions[1].map_or(0.0, |d| (6.0 * (unit(d)[k] - s[k]) - h * m[k]) / (2.0 * h))
                }
                (None, None) => 0.0,
            });
        }
    }
    bends
}

/// Chords of a curve that is smooth between the breaks; nothing where it leaves every block, or has no end of chords.
fn chords(breaks: &[f64], at: impl Fn(f64) -> Place) -> Vec<Place> {
    let mut points = vec![at(breaks[0])];
    for span in breaks.windows(2).filter(|span| span[1] > span[0]) {
        let mut open: Vec<(f64, f64, usize)> = Vec::new();
        let t = |k: usize| span[0] + (span[1] - span[0]) * k as f64 / PIECES as f64;
        open.extend((0..PIECES).rev().map(|k| (t(k), t(k + 1), 0)));
        while let Some((from, to, depth)) = open.pop() {
            let (a, b) = (points[points.len() - 1], at(to));
            if points.len() > MOST || b.iter().any(|v| v.is_nan() || v.abs() > FAR) {
                return Vec::new();
            }
            let off = |share: f64| to_segment(at(from + share * (to - from)), a, b) > SAGITTA_MM / 2.0;
            if depth < HALVINGS && [0.5, 0.25, 0.75].into_iter().any(off) {
                let middle = (from + to) / 2.0;
                open.extend([(middle, to, depth + 1), (from, middle, depth + 1)]);
            } else {
                points.push(b);
            }
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worst(points: &[Place], off: impl Fn(Place) -> f64) -> f64 {
        let middles = points.windows(2).map(|pair| [0, 1].map(|k| (pair[0][k] + pair[1][k]) / 2.0));
        points.iter().copied().chain(middles).map(off).fold(0.0, f64::max)
    }

    /// The full circle as a rational spline of degree 2 with nine control points (Piegl and Tiller, The NURBS Book; from memory).
    #[test]
    fn a_circle_is_a_rational_spline() {
        let w = f64::sqrt(0.5);
        let corners = [[1, 0], [1, 1], [0, 1], [-1, 1], [-1, 0], [-1, -1], [0, -1], [1, -1], [1, 0]];
        let controls = corners.iter().enumerate().map(|(i, [x, y])| {
            let weight = if i % 2 == 1 { w } else { 1.0 };
            [2.0 * f64::from(*x), 2.0 * f64::from(*y), weight]
        });
        let knots = [0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0].to_vec();
        let circle = Spline { degree: 2, knots, controls: controls.collect() };
        let points = spline(&circle, 1.0);
        assert!(worst(&points, |p| (distance(p, [0.0, 0.0]) - 2.0).abs()) <= SAGITTA_MM);
        assert!(distance(points[0], points[points.len() - 1]) < 1e-12);
        let length: f64 = points.windows(2).map(|pair| distance(pair[0], pair[1])).sum();
        assert!((length - 2.0 * TAU).abs() < 1e-4, "{length}");
    }

    /// A cubic of one span is Bernstein's sum.
    #[test]
    fn one_span_is_a_bezier_curve() {
        let p = [[0.0, 0.0], [1.0, 2.0], [3.0, -1.0], [4.0, 1.0]];
        let knots = [[0.0; 4], [1.0; 4]].concat();
        let one = Spline { degree: 3, knots, controls: p.iter().map(|q| [q[0], q[1], 1.0]).collect() };
        for k in 0..=20 {
            let t = f64::from(k) / 20.0;
            let s = 1.0 - t;
            let sum = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
            let by_hand = [0, 1].map(|i| (0..4).map(|j| sum[j] * p[j][i]).sum::<f64>());
            assert!(distance(de_boor(&one, t), by_hand) < 1e-14);
        }
    }

    #[test]
    fn an_ellipse_satisfies_its_equation() {
        let (points, whole) = ellipse([1.0, 2.0], [3.0, 0.0], [0.0, 0.5], [0.0, TAU]);
        assert!(whole);
        // Near the edge, the distance is the function's value by the length of its gradient.
        let off = |p: Place| {
            let [x, y] = [p[0] - 1.0, p[1] - 2.0];
            let value = (x / 3.0).powi(2) + (y / 0.5).powi(2) - 1.0;
            value.abs() / distance([2.0 * x / 9.0, 2.0 * y / 0.25], [0.0, 0.0])
        };
        assert!(worst(&points, off) <= 1.05 * SAGITTA_MM);
        let (quarter, whole) = ellipse([0.0, 0.0], [3.0, 0.0], [0.0, 0.5], [1.5 * std::f64::consts::PI, 0.0]);
        assert!(!whole);
        assert!(distance(quarter[0], [0.0, -0.5]) < 1e-12);
        assert!(distance(quarter[quarter.len() - 1], [3.0, 0.0]) < 1e-12);
    }

    /// With its end directions, the cubic through points of a cubic whose speed is even is that cubic: a straight line.
    /// And between three points by hand: M1 = 3 (s1 - s0) / (h0 + h1) with free ends.
    #[test]
    fn curves_through_points() {
        let line = [[0.0, 0.0], [1.0, 1.0], [4.0, 4.0]];
        let points = through(&line, [Some([2.0, 2.0]), None], false);
        assert!(worst(&points, |p| (p[0] - p[1]).abs()) < 1e-12);
        let three = [[0.0, 0.0], [1.0, 0.0], [1.0, 2.0]];
        let bend = bends(&three, [None, None], false)[1];
        let by_hand = [3.0 * (0.0 - 1.0) / 3.0, 3.0 * (1.0 - 0.0) / 3.0];
        assert!(distance(bend, by_hand) < 1e-14, "{bend:?}");
        // Many points of a circle, closed: the curve is the circle but for the fourth power of their distance.
        let n = 60;
        let of = |i: usize| {
            let (sin, cos) = (TAU * i as f64 / n as f64).sin_cos();
            [cos, sin]
        };
        let round: Vec<Place> = (0..n).map(of).collect();
        let points = through(&round, [None, None], true);
        assert!(worst(&points, |p| (distance(p, [0.0, 0.0]) - 1.0).abs()) < SAGITTA_MM + 1e-6);
        let open =
            through(&[round.clone(), vec![round[0]]].concat(), [Some([0.0, 1.0]), Some([0.0, 1.0])], false);
        assert!(worst(&open, |p| (distance(p, [0.0, 0.0]) - 1.0).abs()) < SAGITTA_MM + 2e-6);
    }
}
