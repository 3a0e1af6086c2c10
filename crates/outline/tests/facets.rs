//! Which chords are taken for an arc, which stay sides of a polygon, and how far that moves anything.

#![allow(clippy::unwrap_used)]

use outline::{Faceted, Outline, Point, Segment, Vertex, close_up, recognised};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn arc(x: f64, y: f64, radius: f64, from: f64, sweep: f64, chords: usize) -> Vec<(f64, f64)> {
    (0..=chords)
        .map(|i| from + sweep * i as f64 / chords as f64)
        .map(|angle| (x + radius * angle.cos(), y + radius * angle.sin()))
        .collect()
}

fn ring(points: impl IntoIterator<Item = (f64, f64)>, decimals: i32) -> Vec<Vertex> {
    let round = |v: f64| (v * 10f64.powi(decimals)).round() / 10f64.powi(decimals);
    let mut ring: Vec<Vertex> =
        points.into_iter().map(|(x, y)| Vertex::new(round(x), round(y), 0.0)).collect();
    ring.dedup_by(|a, b| a.point == b.point);
    if ring.len() > 1 && ring[0].point == ring[ring.len() - 1].point {
        ring.pop();
    }
    ring
}

/// A slot of straight length 2 and radius 0.5, both ends in chords.
fn slot(chords: usize) -> Vec<(f64, f64)> {
    [arc(2.0, 0.0, 0.5, -FRAC_PI_2, PI, chords), arc(0.0, 0.0, 0.5, FRAC_PI_2, PI, chords)].concat()
}

/// Distances between what was drawn and what is left of it, both ways.
fn apart(drawn: &[Vertex], found: &[Vertex]) -> f64 {
    let outline = |vertices: &[Vertex]| close_up(vertices.to_vec(), 0.001).unwrap().outline;
    let one_way = |a: &Outline, b: &Outline| {
        let places = a.segments().flat_map(|s| (0..20).map(move |i| s.at(f64::from(i) / 20.0)));
        places.map(|p| b.nearest(p).distance).fold(0.0, f64::max)
    };
    let (a, b) = (outline(drawn), outline(found));
    one_way(&a, &b).max(one_way(&b, &a))
}

#[track_caller]
fn check(drawn: &[Vertex], arcs: &[(f64, usize)]) -> Faceted {
    let found = recognised(drawn);
    let seen: Vec<(f64, usize)> =
        found.arcs.iter().map(|one| ((one.radius * 1e3).round() / 1e3, one.count)).collect();
    assert_eq!(seen, arcs, "{found:?}");
    let bound = found.arcs.iter().map(|one| one.deviation).fold(0.0, f64::max);
    assert!(apart(drawn, &found.vertices) <= bound + 1e-9, "{} {bound}", apart(drawn, &found.vertices));
    assert!(bound <= 0.0055);
    found
}

#[test]
fn a_slot_in_facets_is_a_slot_again() {
    for decimals in [4, 6, 12] {
        let found = check(&ring(slot(36), decimals), &[(0.5, 36), (0.5, 36)]);
        assert_eq!(found.vertices.len(), 4);
        // Sagitta of the chords: r (1 - cos(2.5 deg)).
        let sagitta = 0.5 * (1.0 - 2.5f64.to_radians().cos());
        assert!(
            found
                .arcs
                .iter()
                .all(|one| (one.deviation - sagitta).abs() < 2e-4 && one.deviation > 0.8 * sagitta)
        );
        assert!(found.vertices.iter().all(|v| v.bulge == 0.0 || v.bulge == 1.0), "{found:?}");
        let closed = close_up(found.vertices, 0.001).unwrap().outline;
        assert!((closed.area() - (2.0 + PI / 4.0)).abs() < 5e-4);
        // The straight sides go on tangent into the ends, as they did.
        let run: Vec<Segment> = closed.segments().collect();
        for (i, before) in run.iter().enumerate() {
            let after = run[(i + 1) % run.len()];
            let turn = before.direction(1.0).cross(after.direction(0.0)).abs();
            assert!(turn < if decimals > 4 { 1e-5 } else { 2e-3 }, "{decimals}: {turn}");
        }
    }
}

#[test]
fn faceted_fillets_are_tangent_to_their_lines_again() {
    // A rectangle of 6 x 4 with corners of 1.2 in chords of 3 degrees, four decimals.
    let corner = |x: f64, y: f64, from: f64| arc(x, y, 1.2, from, FRAC_PI_2, 30);
    let points = [
        corner(4.8, 1.2, -FRAC_PI_2),
        corner(4.8, 2.8, 0.0),
        corner(1.2, 2.8, FRAC_PI_2),
        corner(1.2, 1.2, PI),
    ];
    let found = check(&ring(points.concat(), 4), &[(1.2, 30); 4]);
    let closed = close_up(found.vertices, 0.001).unwrap();
    let run: Vec<Segment> = closed.outline.segments().collect();
    assert_eq!(run.len(), 8);
    assert!(closed.moved_mm <= 1e-4 * 1.5, "{}", closed.moved_mm);
    for (i, before) in run.iter().enumerate() {
        let turn = before.direction(1.0).cross(run[(i + 1) % 8].direction(0.0));
        assert!(turn.abs() < 1e-9, "{i}: {turn}");
    }
}

#[test]
fn it_does_not_matter_where_the_run_begins_or_which_way_it_goes() {
    let drawn = ring(slot(24), 6);
    for start in 0..drawn.len() {
        let mut turned = drawn.clone();
        turned.rotate_left(start);
        let backwards: Vec<Vertex> = turned.iter().rev().copied().collect();
        let mirrored: Vec<Vertex> =
            turned.iter().map(|v| Vertex::new(-3.0 * v.point.y, 3.0 * v.point.x + 100.0, 0.0)).collect();
        for run in [turned, backwards, mirrored] {
            let found = recognised(&run);
            assert_eq!(found.arcs.iter().map(|one| one.count).collect::<Vec<_>>(), [24, 24], "{start}");
            assert!(found.vertices.len() <= 5 && found.vertices[0].point.distance(run[0].point) <= 0.0005);
            let bound = found.arcs.iter().map(|one| one.deviation).fold(0.0, f64::max);
            assert!(apart(&run, &found.vertices) <= bound + 1e-9, "{start}");
        }
    }
}

#[test]
fn a_whole_circle_is_a_circle() {
    let drawn = ring(arc(3.0, 1.0, 2.0, 0.3, TAU, 120), 5);
    let found = check(&drawn, &[(2.0, 120)]);
    assert_eq!((found.vertices.len(), found.vertices[0].point), (2, drawn[0].point));
    assert!(found.vertices.iter().all(|v| v.bulge == 1.0));
    let clockwise: Vec<Vertex> = drawn.iter().rev().copied().collect();
    assert!(recognised(&clockwise).vertices.iter().all(|v| v.bulge == -1.0));
}

#[test]
fn a_pie_with_most_of_its_rim_is_one_arc() {
    let mut points = arc(0.0, 0.0, 1.0, 0.2, 5.5, 100);
    points.push((0.0, 0.0));
    let found = check(&ring(points, 6), &[(1.0, 100)]);
    assert_eq!(found.vertices.len(), 3);
    assert!(found.vertices[0].bulge > 1.0);
}

#[test]
fn polygons_that_were_meant_stay() {
    for sides in [3, 6, 12, 24] {
        for radius in [0.05, 1.0, 20.0] {
            let drawn = ring(arc(0.0, 0.0, radius, 0.0, TAU, sides), 9);
            let found = check(&drawn, &[]);
            assert!(found.vertices == drawn && found.coarse.is_empty(), "{sides} {radius}");
        }
    }
    // Large and coarse: left as it is, and said.
    let drawn = ring(arc(0.0, 0.0, 20.0, 0.0, TAU, 72), 9);
    let found = check(&drawn, &[]);
    assert_eq!((found.vertices == drawn, found.coarse.len()), (true, 1));
    assert!((found.coarse[0].deviation - 20.0 * (1.0 - 2.5f64.to_radians().cos())).abs() < 1e-9);
    let mut half = arc(0.0, 0.0, 20.0, 0.0, PI, 36);
    half.push((0.0, -5.0));
    let found = check(&ring(half, 9), &[]);
    assert_eq!((found.coarse.len(), found.coarse[0].count), (1, 36));
}

#[test]
fn chords_that_lie_on_no_circle_stay() {
    // A zigzag, a staircase, five chords, uneven ones, and vertices 2 um off.
    let zigzag =
        (0..40).map(|i| (f64::from(i) * 0.1, 0.002 * f64::from(i % 2))).chain([(4.0, 3.0), (0.0, 3.0)]);
    check(&ring(zigzag, 9), &[]);
    let mut few = arc(0.0, 0.0, 1.0, 0.0, 0.3, 5);
    few.push((0.0, 0.0));
    check(&ring(few, 9), &[]);
    let off = arc(0.0, 0.0, 1.0, 0.0, 2.0, 40).into_iter().enumerate();
    let off =
        off.map(|(i, (x, y))| if i % 2 == 0 { (x, y) } else { (0.997 * x, 0.997 * y) }).chain([(0.0, 0.0)]);
    check(&ring(off, 9), &[]);
}

#[test]
fn a_drawn_arc_between_facets_is_left_alone() {
    let mut drawn = ring(slot(36), 6);
    let n = drawn.len();
    // The second end as one arc.
    drawn.truncate(n / 2 + 1);
    drawn.last_mut().unwrap().bulge = 1.0;
    let found = check(&drawn, &[(0.5, 36)]);
    assert_eq!((found.vertices.len(), found.vertices[2]), (3, drawn[n / 2]));
}

#[test]
fn a_long_run_is_found_in_reasonable_time() {
    let spiral = (0..100_000).map(|i| {
        let angle = f64::from(i) * 1e-4;
        ((10.0 + angle) * angle.cos(), (10.0 + angle) * angle.sin())
    });
    let drawn: Vec<Vertex> = spiral.map(|(x, y)| Vertex::new(x, y, 0.0)).collect();
    let found = recognised(&drawn);
    assert!(
        found.arcs.len() > 10 && found.vertices.len() < 2000,
        "{} {}",
        found.arcs.len(),
        found.vertices.len()
    );
    let places: Vec<Point> = found.vertices.iter().map(|v| v.point).collect();
    assert!(places.iter().all(|p| p.is_finite()));
}
