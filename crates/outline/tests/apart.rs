//! How far two edges lie apart: closed forms, a dense sampling, and what moving and turning must not change.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop there")]

use outline::{Apart, Outline, Point, Segment, Vector, Vertex, apart, apart_run, parallel};
use std::f64::consts::SQRT_2;

fn circle(x: f64, y: f64, r: f64) -> Outline {
    Outline::new(vec![Vertex::new(x + r, y, 1.0), Vertex::new(x - r, y, 1.0)]).unwrap()
}

fn polygon(corners: &[[f64; 2]]) -> Outline {
    Outline::new(corners.iter().map(|[x, y]| Vertex::new(*x, *y, 0.0)).collect()).unwrap()
}

fn square(half: f64) -> Outline {
    polygon(&[[-half, -half], [half, -half], [half, half], [-half, half]])
}

fn rounded(half: f64, r: f64) -> Outline {
    let (h, i, q) = (half, half - r, SQRT_2 - 1.0);
    let all = [
        (-i, -h, 0.0),
        (i, -h, q),
        (h, -i, 0.0),
        (h, i, q),
        (i, h, 0.0),
        (-i, h, q),
        (-h, i, 0.0),
        (-h, -i, q),
    ];
    Outline::new(all.map(|(x, y, b)| Vertex::new(x, y, b)).to_vec()).unwrap()
}

#[track_caller]
fn near(ours: f64, exact: f64) {
    assert!((ours - exact).abs() < 3e-7, "ours {ours}, exact {exact}");
}

fn ends(from: &Outline, to: &Outline) -> [f64; 2] {
    let Apart { least, most } = apart(from, to).unwrap();
    for one in [least, most] {
        near(from.nearest(one.place).distance, 0.0);
        near(-to.signed_distance(one.place), one.distance);
    }
    [least.distance, most.distance]
}

#[test]
fn circles_in_circles() {
    let [least, most] = ends(&circle(0.0, 0.0, 2.0), &circle(0.0, 0.0, 1.0));
    near(least, 1.0);
    near(most, 1.0);
    let Apart { least, most } = apart(&circle(0.0, 0.0, 2.0), &circle(0.3, 0.0, 1.0)).unwrap();
    near(least.distance, 0.7);
    near(most.distance, 1.3);
    near(least.place.distance(Point::new(2.0, 0.0)), 0.0);
    near(most.place.distance(Point::new(-2.0, 0.0)), 0.0);
}

/// A square opening about a square punch: a clearance along the sides, the diagonal at the corners.
#[test]
fn squares_in_squares() {
    let [least, most] = ends(&square(3.0), &square(2.0));
    near(least, 1.0);
    near(most, SQRT_2);
}

/// A corner of radius R about a sharp one at a clearance c from both sides: R - (R - c)*sqrt(2) at the diagonal, which is
/// the least where R is larger than c and the most where it is smaller; at R = c all is even.
#[test]
fn a_round_corner_about_a_sharp_one() {
    for (r, c) in [(0.2, 0.1), (0.15, 0.1), (0.1, 0.1), (0.05, 0.1)] {
        let [least, most] = ends(&rounded(2.0, r), &square(2.0 - c));
        let corner = r - (r - c) * SQRT_2;
        near(least, corner.min(c));
        near(most, corner.max(c));
    }
}

/// A round corner R about a round one r, both at c from the same sides: their centres lie R - r - c apart on both axes.
#[test]
fn a_round_corner_about_a_round_one() {
    for (big, small, c) in [(0.3, 0.2, 0.1), (0.3, 0.1, 0.1), (0.15, 0.12, 0.1)] {
        let [least, most] = ends(&rounded(2.0, big), &rounded(2.0 - c, small));
        let corner = big - small - (big - small - c) * SQRT_2;
        near(least, corner.min(c));
        near(most, corner.max(c));
    }
}

#[test]
fn what_lies_inside_counts_below_nothing() {
    let other = square(1.0).moved(Vector::new(1.5, 1.5));
    let Apart { least, most } = apart(&square(1.0), &other).unwrap();
    near(least.distance, -0.5);
    near(most.distance, (1.5f64 * 1.5 + 1.5 * 1.5).sqrt());
    near(least.place.distance(Point::new(1.0, 1.0)), 0.0);
    let [least, most] = ends(&circle(0.0, 0.0, 1.0), &circle(0.2, 0.0, 2.0));
    near(least, -1.2);
    near(most, -0.8);
}

#[test]
fn touching_edges_are_nothing_apart() {
    let [least, most] = ends(&square(1.0), &square(1.0));
    near(least, 0.0);
    near(most, 0.0);
    let [least, _] = ends(&circle(0.0, 0.0, 2.0), &circle(1.0, 0.0, 1.0));
    near(least, 0.0);
}

/// An outline with lines, arcs both ways and corners both ways.
fn profile() -> Outline {
    Outline::new(vec![
        Vertex::new(-3.0, -1.0, 0.0),
        Vertex::new(-1.0, -1.0, -0.5),
        Vertex::new(0.5, -1.2, 0.0),
        Vertex::new(2.0, -1.5, 0.6),
        Vertex::new(2.4, 0.8, 0.0),
        Vertex::new(0.4, 0.9, 0.0),
        Vertex::new(0.2, 2.0, 0.2),
        Vertex::new(-2.5, 1.6, 0.0),
    ])
    .unwrap()
}

/// Another one, inside it and nowhere parallel to it.
fn inner() -> Outline {
    let shrunk = parallel(&profile(), 0.2).unwrap().remove(0);
    shrunk.turned(Point::new(0.0, 0.0), 0.03).moved(Vector::new(0.01, -0.02))
}

fn sampled(from: &Outline, to: &Outline) -> [f64; 2] {
    let at = |segment: &Segment, i: usize| -to.signed_distance(segment.at(i as f64 / 20_000.0));
    let all = from.segments().flat_map(|segment| (0..=20_000).map(move |i| at(&segment, i)));
    all.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], d| [low.min(d), high.max(d)])
}

/// Never beyond what a dense sampling finds, and at most its step away from it.
#[test]
fn a_dense_sampling_agrees() {
    for (from, to) in [(profile(), inner()), (inner(), profile()), (profile(), circle(0.0, 0.0, 1.7))] {
        let [least, most] = ends(&from, &to);
        let [low, high] = sampled(&from, &to);
        assert!(least <= low + 1e-7 && least > low - 2e-4, "{least} {low}");
        assert!(most >= high - 1e-7 && most < high + 2e-4, "{most} {high}");
    }
}

#[test]
fn moving_turning_mirroring_and_scaling_change_nothing() {
    let (from, to) = (profile(), inner());
    let base = ends(&from, &to);
    let origin = Point::new(0.0, 0.0);
    let both = |change: &dyn Fn(&Outline) -> Outline| ends(&change(&from), &change(&to));
    for (name, found, by) in [
        ("moved", both(&|o| o.moved(Vector::new(7.0, -3.0))), 1.0),
        ("turned", both(&|o| o.turned(origin, 1.1)), 1.0),
        ("mirrored", both(&|o| o.mirrored_x()), 1.0),
        ("begun elsewhere", both(&|o| o.starting_at(3)), 1.0),
        ("doubled", both(&|o| o.scaled(origin, 2.0).unwrap()), 2.0),
        ("a tenth", both(&|o| o.scaled(origin, 0.1).unwrap()), 0.1),
    ] {
        for (found, base) in found.into_iter().zip(base) {
            assert!((found - by * base).abs() < 3e-7, "{name}: {found} {base}");
        }
    }
}

#[test]
fn a_parallel_is_even_all_round() {
    for distance in [0.01, 0.05, 0.2] {
        let inner = parallel(&profile(), distance).unwrap().remove(0);
        let [least, most] = ends(&inner, &profile());
        // Inside the profile: the distance counts below nothing.
        near(least, -distance);
        near(most, -distance);
        assert_eq!(apart_run(&inner, &profile(), 1e-6).len(), 2);
    }
}

/// The run begins and ends at the first vertex, goes the whole way round, holds least and most, and lies on the edge.
#[test]
fn the_run_goes_all_round() {
    let (from, to) = (profile(), inner());
    let [least, most] = ends(&from, &to);
    let run = apart_run(&from, &to, 1e-5);
    near(run[0][0], 0.0);
    near(run[run.len() - 1][0], from.perimeter());
    assert_eq!(run[0][1], run[run.len() - 1][1]);
    assert!(run.windows(2).all(|pair| pair[0][0] < pair[1][0]));
    assert!(run.len() > 20 && run.len() < 2000, "{}", run.len());
    let low = run.iter().map(|place| place[1]).fold(f64::INFINITY, f64::min);
    let high = run.iter().map(|place| place[1]).fold(f64::NEG_INFINITY, f64::max);
    assert!((low - least).abs() < 1e-4 && (high - most).abs() < 1e-4, "{low} {least} {high} {most}");
}
