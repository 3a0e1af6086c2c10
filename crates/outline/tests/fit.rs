//! Curves as arcs: closed forms, what stays a line or a corner, and that the proved bound holds wherever one looks.

#![allow(clippy::unwrap_used)]

use outline::{
    Bezier, Effort, FIT_TOLERANCE, Fitted, Outline, Point, Segment, Vector, Vertex, b_spline, ellipse, fit,
    through,
};
use std::f64::consts::{FRAC_1_SQRT_2, PI, TAU};

/// What a drawing may cost.
fn effort() -> Effort {
    Effort::new(400_000_000)
}

fn fitted(curves: &[Bezier]) -> Fitted {
    fit(curves, &mut effort()).unwrap().unwrap()
}

fn segments(fitted: &Fitted) -> Vec<Segment> {
    let pair = |pair: &[Vertex]| Segment { from: pair[0].point, to: pair[1].point, bulge: pair[0].bulge };
    fitted.vertices.windows(2).map(pair).collect()
}

fn spline(degree: usize, knots: &[f64], points: &[[f64; 2]]) -> Vec<Bezier> {
    let controls: Vec<(Point, f64)> = points.iter().map(|p| (Point::new(p[0], p[1]), 1.0)).collect();
    let curves = b_spline(degree, knots, &controls);
    assert!(!curves.is_empty());
    curves
}

/// The largest angle between a segment and the next, radians.
fn sharpest(segments: &[Segment]) -> f64 {
    let turn = |pair: &[Segment]| {
        let (a, b) = (pair[0].direction(1.0), pair[1].direction(0.0));
        a.cross(b).atan2(a.dot(b)).abs()
    };
    segments.windows(2).map(turn).fold(0.0, f64::max)
}

/// Largest distance from points of the curves to the segments, and from points of the segments to the curves taken as fine chords.
fn apart(curves: &[Bezier], segments: &[Segment]) -> (f64, f64) {
    const STEPS: usize = 100;
    let mut places: Vec<Point> =
        curves.iter().flat_map(|curve| (0..STEPS).map(|i| curve.at(i as f64 / STEPS as f64))).collect();
    places.extend(curves.last().map(Bezier::last));
    let nearest = |p: Point| segments.iter().map(|s| s.distance(p)).fold(f64::INFINITY, f64::min);
    let there = places.iter().map(|p| nearest(*p)).fold(0.0, f64::max);
    let chords: Vec<Segment> = places.windows(2).map(|pair| Segment::line(pair[0], pair[1])).collect();
    let from_arcs = segments.iter().flat_map(|s| (0..=8).map(|i| s.at(f64::from(i) / 8.0)));
    let back = from_arcs.map(|p| chords.iter().map(|c| c.distance(p)).fold(f64::INFINITY, f64::min));
    (there, back.fold(0.0, f64::max))
}

/// How far the curves bulge beyond the chords that `apart` takes for them, at most.
fn sagitta(curves: &[Bezier]) -> f64 {
    curves
        .iter()
        .flat_map(|curve| {
            (0..100).map(move |i| [0.0, 0.5, 1.0].map(|k| curve.at((f64::from(i) + k) / 100.0)))
        })
        .map(|[a, m, b]| Segment::line(a, b).distance(m))
        .fold(0.0, f64::max)
        * 1.5
}

#[track_caller]
fn check(curves: &[Bezier]) -> Fitted {
    let found = fitted(curves);
    let run = segments(&found);
    assert!(found.deviation <= FIT_TOLERANCE, "{}", found.deviation);
    let (there, back) = apart(curves, &run);
    assert!(there <= found.deviation + 1e-11, "{there} beyond the bound {}", found.deviation);
    assert!(back <= found.deviation + sagitta(curves) + 1e-11, "{back} beyond the bound {}", found.deviation);
    assert_eq!(run[0].from, curves[0].first());
    assert_eq!(run[run.len() - 1].to, curves[curves.len() - 1].last());
    assert!(run.iter().all(|s| s.bulge.abs() <= 1.0 && s.from != s.to));
    found
}

#[test]
fn a_circle_comes_back_as_a_circle() {
    // The nine control points and the weights of a circle as a rational quadratic (Piegl and Tiller, The NURBS Book; from memory).
    let w = FRAC_1_SQRT_2;
    let points = [
        (1.0, 0.0, 1.0),
        (1.0, 1.0, w),
        (0.0, 1.0, 1.0),
        (-1.0, 1.0, w),
        (-1.0, 0.0, 1.0),
        (-1.0, -1.0, w),
        (0.0, -1.0, 1.0),
        (1.0, -1.0, w),
        (1.0, 0.0, 1.0),
    ];
    let controls: Vec<(Point, f64)> =
        points.iter().map(|&(x, y, w)| (Point::new(2.5 * x + 7.0, 2.5 * y - 3.0), w)).collect();
    let knots = [0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0];
    let found = check(&b_spline(2, &knots, &controls));
    let run = segments(&found);
    assert_eq!(run.len(), 2, "{run:?}");
    for arc in run {
        assert!(
            (arc.radius() - 2.5).abs() < 1e-12
                && arc.centre().unwrap().distance(Point::new(7.0, -3.0)) < 1e-12
        );
    }
    assert!(found.deviation < 3e-9, "{}", found.deviation);
}

fn closed_outline(found: &Fitted) -> Outline {
    let n = found.vertices.len() - 1;
    assert!(found.vertices[0].point.distance(found.vertices[n].point) < 1e-12);
    Outline::new(found.vertices[..n].to_vec()).unwrap()
}

/// Perimeter of an ellipse by the arithmetic-geometric mean (Gauss; Abramowitz and Stegun 17.6; from memory).
fn ellipse_perimeter(a: f64, b: f64) -> f64 {
    let (mut x, mut y, mut power, mut sum) = (a, b, 0.5, 0.0);
    sum += power * (a * a - b * b);
    for _ in 0..40 {
        let half = (x - y) / 2.0;
        (x, y) = ((x + y) / 2.0, (x * y).sqrt());
        power *= 2.0;
        sum += power * half * half;
    }
    TAU * (a * a - sum) / x
}

#[test]
fn an_ellipse_keeps_its_area_and_perimeter() {
    assert!((ellipse_perimeter(1.0, 1.0) - TAU).abs() < 1e-14);
    for (a, b) in [(3.0, 2.0), (20.0, 0.4), (0.05, 0.03), (1.0, 0.999_99), (150.0, 90.0)] {
        let axes = [Vector::new(0.0, a), Vector::new(-b, 0.0)];
        let found = check(&ellipse(Point::new(-4.0, 9.0), axes, 0.0, TAU));
        let outline = closed_outline(&found);
        let slack = found.deviation;
        assert!((outline.area() - PI * a * b).abs() <= slack * outline.perimeter(), "{a} {b}");
        assert!((outline.perimeter() - ellipse_perimeter(a, b)).abs() <= TAU * slack, "{a} {b}");
        assert!(sharpest(&segments(&found)) < 1e-4, "{a} {b}");
    }
}

#[test]
fn arcs_are_few() {
    // Arcs of a pair whose curvature changes by k' along h deviate by k' h^3 / 324 at best, so that half an ellipse takes no less than the
    // integral of (k' / (324 tolerance))^(1/3), here by quadrature; twice that plus a pair for each quarter is few.
    let (a, b) = (20.0f64, 8.0f64);
    let least: f64 = (0..100_000)
        .map(|i| {
            let t = (f64::from(i) + 0.5) * TAU / 100_000.0;
            let speed = (a * a * t.sin().powi(2) + b * b * t.cos().powi(2)).sqrt();
            let by_t = 3.0 * a * b * (b * b - a * a) * t.sin() * t.cos() / speed.powi(5);
            (by_t.abs() / speed / (324.0 * FIT_TOLERANCE)).cbrt() * speed * TAU / 100_000.0
        })
        .sum();
    let axes = [Vector::new(a, 0.0), Vector::new(0.0, b)];
    let count = segments(&check(&ellipse(Point::new(0.0, 0.0), axes, 0.0, TAU))).len() as f64;
    println!("ellipse 40 x 16: {count} arcs, {:.1} at least", 2.0 * least);
    assert!(count <= 2.0 * (1.3 * least + 4.0), "{count} arcs, {}", 2.0 * least);
}

#[test]
fn straight_stretches_stay_lines_and_tangent() {
    // The first two stretches are straight by their control points.
    let points = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [3.0, 0.0], [4.0, 0.0], [6.0, 1.0], [6.0, 4.0]];
    let knots = [0.0, 0.0, 0.0, 0.0, 1.0, 2.0, 3.0, 4.0, 4.0, 4.0, 4.0];
    let curves = spline(3, &knots, &points);
    let run = segments(&check(&curves));
    assert!(run[0].is_line() && run[0].to.distance(curves[1].last()) < 1e-12, "{run:?}");
    assert!(run[1..].iter().all(|s| !s.is_line()) && sharpest(&run) < 1e-9, "{run:?}");
    let line =
        segments(&check(&spline(1, &[0.0, 0.0, 1.0, 2.0, 2.0], &[[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]])));
    assert_eq!(line, [Segment::line(Point::new(0.0, 0.0), Point::new(2.0, 2.0))]);
}

#[test]
fn corners_of_a_spline_stay_corners() {
    // A knot as often as the degree: the curve passes through the control point at (3, 3), with a corner.
    let points = [[0.0, 0.0], [0.0, 2.0], [1.0, 3.0], [3.0, 3.0], [3.0, 2.0], [4.0, 0.0], [6.0, 0.0]];
    let knots = [0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 2.0];
    let found = check(&spline(3, &knots, &points));
    let corner = found.vertices.iter().position(|v| v.point == Point::new(3.0, 3.0)).unwrap();
    let run = segments(&found);
    assert!((sharpest(&run[corner - 1..=corner]) - PI / 2.0).abs() < 1e-9);
    assert!(sharpest(&run[..corner]) < 1e-9 && sharpest(&run[corner..]) < 1e-9);
}

#[test]
fn a_cusp_stays_a_corner_in_its_place() {
    // x = t^2, y = t^3 about (1, 1): it turns back at t = 0, in the middle of the curve.
    let cusp = Point::new(1.0, 1.0);
    let points = [[1.0, -1.0], [-1.0 / 3.0, 1.0], [-1.0 / 3.0, -1.0], [1.0, 1.0]];
    let curves: Vec<Bezier> = spline(3, &[0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &points)
        .iter()
        .map(|curve| curve.mapped(|p| p + (cusp - Point::new(0.0, 0.0))))
        .collect();
    assert!(curves[0].at(0.5).distance(cusp) < 1e-15);
    let found = check(&curves);
    let run = segments(&found);
    let (at, nearest) = run
        .iter()
        .enumerate()
        .map(|(i, s)| (i, s.from.distance(cusp)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap();
    assert!(nearest < 1e-9, "{nearest}");
    assert!(run[at].direction(0.0).dot(run[at - 1].direction(1.0)) < -0.99);
    assert!(run.len() < 80, "{}", run.len());
}

#[test]
fn points_and_nothing_are_no_curve() {
    assert_eq!(fit(&[], &mut effort()), Ok(None));
    let here = [[1.0, 2.0]; 4];
    assert_eq!(fit(&spline(3, &[0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &here), &mut effort()), Ok(None));
}

#[test]
fn a_curve_smaller_than_the_tolerance_is_a_line() {
    let tiny = [[0.0, 0.0], [1e-4, 1e-4], [-1e-4, 1e-4], [1e-4, 0.0]];
    let found = check(&spline(3, &[0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &tiny));
    assert!(found.vertices.len() <= 4, "{found:?}");
}

#[test]
fn a_scribble_is_given_up() {
    // Half a million loops of a few micrometres.
    let points: Vec<[f64; 2]> =
        (0..400_000).map(|i| [f64::from(i) * 1e-3, if i % 2 == 0 { 0.0 } else { 0.5 }]).collect();
    let knots: Vec<f64> = (0..points.len() + 3).map(|i| i as f64).collect();
    assert!(fit(&spline(2, &knots, &points), &mut effort()).is_err());
}

mod random {
    use super::*;
    use proptest::prelude::*;

    prop_compose! {
        /// Clamped splines of any degree with weights, inner knots single or repeated, of the size of an opening.
        fn curves()(degree in 1usize..=5, count in 2usize..9)(
            degree in Just(degree),
            points in proptest::collection::vec((-5.0..5.0f64, -5.0..5.0f64, 0.2..4.0f64), degree + count),
            steps in proptest::collection::vec(0u8..4, count - 1),
            scale in prop_oneof![Just(1.0), Just(0.02), Just(30.0)],
        ) -> [Vec<Bezier>; 2] {
            let mut knots = vec![0.0; degree + 1];
            let mut repeated = 0;
            for step in steps {
                let before = knots[knots.len() - 1];
                let again = step == 0 && before > 0.0 && repeated + 1 < degree;
                repeated = if again { repeated + 1 } else { 0 };
                knots.push(if again { before } else { before + f64::from(step.max(1)) });
            }
            let end = knots[knots.len() - 1] + 1.0;
            knots.extend(vec![end; degree + 1]);
            let controls: Vec<(Point, f64)> =
                points.iter().map(|&(x, y, w)| (Point::new(scale * x, scale * y), w)).collect();
            let backwards: Vec<f64> = knots.iter().rev().map(|knot| end - knot).collect();
            let from_the_end: Vec<(Point, f64)> = controls.iter().rev().copied().collect();
            [b_spline(degree, &knots, &controls), b_spline(degree, &backwards, &from_the_end)]
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn the_bound_holds_wherever_the_curve_is_put(
            curves in curves(), turn in 0.0..TAU, x in -300.0..300.0f64, y in -300.0..300.0f64, mirrored in any::<bool>(),
        ) {
            let [curves, backwards] = curves;
            let (there, back) = (check(&curves), check(&backwards));
            // Both stand for one curve, so that they lie within both bounds of each other.
            let both = there.deviation + back.deviation + 1e-11;
            let other = segments(&back);
            for place in segments(&there).iter().flat_map(|s| [s.from, s.at(0.5)]) {
                prop_assert!(other.iter().any(|s| s.distance(place) <= both), "{place:?}");
            }
            let (sin, cos) = turn.sin_cos();
            let side = if mirrored { -1.0 } else { 1.0 };
            let put = |p: Point| Point::new(side * (cos * p.x - sin * p.y) + x, sin * p.x + cos * p.y + y);
            check(&curves.iter().map(|curve| curve.mapped(put)).collect::<Vec<_>>());
        }

        #[test]
        fn smooth_curves_give_tangent_arcs(
            points in proptest::collection::vec((-5.0..5.0f64, -5.0..5.0f64), 5..12), closed in any::<bool>(),
        ) {
            // Where a curve turns more tightly than the tolerance, nearly a cusp, a line shorter than that stands for the turn.
            let tip = |s: &Segment| s.is_line() && s.length() <= FIT_TOLERANCE;
            let points: Vec<Point> = points.iter().enumerate().map(|(i, &(x, y))| Point::new(x + 11.0 * i as f64, y)).collect();
            let found = check(&through(&points, [None, None], closed));
            for pair in segments(&found).windows(2) {
                prop_assert!(sharpest(pair) < 1e-4 || pair.iter().any(tip), "{pair:?}");
            }
        }

        #[test]
        fn extreme_weights_and_degrees_end_in_time(
            degree in 6usize..=25, weights in proptest::collection::vec(-8.0..8.0f64, 30), far in prop_oneof![Just(0.0), Just(9e5)],
            points in proptest::collection::vec((-5.0..5.0f64, -5.0..5.0f64), 30), scale in prop_oneof![Just(1.0), Just(1e4)],
        ) {
            let count = degree + 4;
            let mut knots = vec![0.0; degree + 1];
            knots.extend([1.0, 2.0, 3.0]);
            knots.extend(vec![4.0; degree + 1]);
            let controls: Vec<(Point, f64)> = (0..count)
                .map(|i| (Point::new(scale * points[i].0 + far, scale * points[i].1), 10f64.powf(weights[i])))
                .collect();
            let mut effort = effort();
            if let Ok(Some(found)) = fit(&b_spline(degree, &knots, &controls), &mut effort) {
                prop_assert!(found.deviation <= FIT_TOLERANCE && found.vertices.iter().all(|v| v.point.is_finite()));
            }
        }
    }
}
