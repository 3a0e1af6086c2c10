//! What a wire reaches and misses, against closed forms.

use std::f64::consts::PI;

use crate::profiles::{area, outline, profile};
use outline::{DEPTH_TOLERANCE, Outline, Vertex, reach};

fn polygon(n: usize, radius: f64) -> Outline {
    let corner = |i: usize| {
        let angle = std::f64::consts::TAU * i as f64 / n as f64;
        (radius * angle.cos(), radius * angle.sin(), 0.0)
    };
    outline(&(0..n).map(corner).collect::<Vec<_>>())
}

/// Every corner of angle theta is missed by R (1 / sin(theta / 2) - 1).
#[test]
fn regular_polygons() {
    for n in 3..24 {
        let o = polygon(n, 3.0);
        for radius in [0.01, 0.1, 0.5] {
            let half = 0.5 * PI * (1.0 - 2.0 / n as f64);
            let depth = radius * (1.0 / half.sin() - 1.0);
            let found = reach(&o, radius).unwrap();
            assert_eq!((found.centre_paths.len(), found.edges.len()), (1, 1));
            assert_eq!(found.missed.len(), if depth > 1e-4 { n } else { 0 }, "{n} {radius}");
            for (miss, vertex) in found.missed.iter().zip(o.vertices()) {
                assert!((miss.depth - depth).abs() < 1e-6, "{n} {radius}: {} for {depth}", miss.depth);
                let nearest =
                    o.vertices().iter().map(|v| v.point.distance(miss.place)).fold(f64::INFINITY, f64::min);
                assert!(nearest < 1e-5, "{n} {radius} {vertex:?}");
            }
            let turn = 2.0 * PI / n as f64;
            let rounding = n as f64 * radius * radius * ((0.5 * turn).tan() - 0.5 * turn);
            assert!((area(&found.edges[0]) - (area(&o) - rounding)).abs() < 1e-8, "{n} {radius}");
        }
    }
}

/// A corner of radius r < R between long sides is missed by (R - r) (1 / sin(theta / 2) - 1); one of r >= R by nothing.
#[test]
fn rounded_corners() {
    let (w, h, r, b) = (4.0, 3.0, 0.2, (PI / 8.0).tan());
    let o = outline(&[
        (r, 0.0, 0.0),
        (w - r, 0.0, b),
        (w, r, 0.0),
        (w, h - r, b),
        (w - r, h, 0.0),
        (r, h, b),
        (0.0, h - r, 0.0),
        (0.0, r, b),
    ]);
    for radius in [0.1, 0.19, 0.2] {
        let found = reach(&o, radius).unwrap();
        assert_eq!(found.missed, [], "{radius}");
        assert!((area(&found.edges[0]) - area(&o)).abs() < 1e-8, "{radius}");
    }
    for radius in [0.21, 0.5, 1.2] {
        let found = reach(&o, radius).unwrap();
        let depth = (radius - r) * (2f64.sqrt() - 1.0);
        assert_eq!(found.missed.len(), 4, "{radius}");
        assert!(
            found.missed.iter().all(|miss| (miss.depth - depth).abs() < 1e-6),
            "{radius} {:?}",
            found.missed
        );
    }
}

/// A room behind a neck that the wire cannot pass is one miss, as deep as its farthest place.
#[test]
fn a_room_out_of_reach() {
    let o = outline(&[
        (0.0, 0.0, 0.0),
        (4.0, 0.0, 0.0),
        (4.0, 1.9, 0.0),
        (4.6, 1.9, 0.0),
        (4.6, 1.8, 0.0),
        (5.0, 1.8, 0.0),
        (5.0, 2.2, 0.0),
        (4.6, 2.2, 0.0),
        (4.6, 2.1, 0.0),
        (4.0, 2.1, 0.0),
        (4.0, 4.0, 0.0),
        (0.0, 4.0, 0.0),
    ]);
    let found = reach(&o, 0.3).unwrap();
    assert_eq!(found.centre_paths.len(), 1);
    let corner = 0.3 * (2f64.sqrt() - 1.0);
    assert_eq!(found.missed.len(), 5, "{:?}", found.missed);
    let room = found.missed.iter().find(|miss| miss.depth > 2.0 * corner).unwrap();
    // The wire's centre comes to where both lips of the neck are 0.3 away; from there to a corner of the room.
    let centre = 4.0 - (0.3f64 * 0.3 - 0.1 * 0.1).sqrt();
    assert!((room.depth - ((5.0 - centre).hypot(0.2) - 0.3)).abs() < 1e-6, "{room:?}");
    let others = found.missed.iter().filter(|miss| (miss.depth - corner).abs() < 1e-6);
    assert_eq!(others.count(), 4);
}

#[test]
fn a_wire_that_does_not_fit_reaches_nothing() {
    let found = reach(&polygon(4, 1.0), 0.8).unwrap();
    assert!(found.centre_paths.is_empty() && found.edges.is_empty() && found.missed.is_empty());
    for radius in [0.0, -1.0, f64::NAN] {
        assert!(reach(&polygon(4, 1.0), radius).is_err());
    }
}

/// No sampled place of any edge is missed by more than the list says, and each listed depth is found at its place.
#[test]
fn samples_find_nothing_deeper() {
    for index in 0..120 {
        let o = profile(index, 1e-6);
        let radius = 0.08 * area(&o).sqrt();
        let found = reach(&o, radius).unwrap();
        let paths: Vec<_> = found.centre_paths.iter().flat_map(|path| path.segments()).collect();
        if paths.is_empty() {
            continue;
        }
        let off = |place| paths.iter().map(|s| s.distance(place)).fold(f64::INFINITY, f64::min) - radius;
        for miss in &found.missed {
            assert!((off(miss.place) - miss.depth).abs() < 1e-8, "{index} {miss:?}");
        }
        let deepest = found.missed.iter().map(|miss| miss.depth).fold(1e-4, f64::max);
        for segment in o.segments() {
            for step in 0..=50 {
                let depth = off(segment.at(f64::from(step) / 50.0));
                assert!(depth <= deepest + 2e-6, "{index}: {depth} deeper than {deepest}");
            }
        }
    }
}

/// Two rooms and a neck that the wire cannot pass: of the far wall all but its middle is equally far from the path, which
/// no halving of the wall by its length alone would settle.
#[test]
fn a_wall_that_is_equally_deep_all_along() {
    let o = outline(&[
        (-3.0, -1.0, 0.0),
        (-1.0, -1.0, 0.0),
        (-1.0, -0.05, 0.0),
        (1.0, -0.05, 0.0),
        (1.0, -0.45, 0.0),
        (3.0, -0.45, 0.0),
        (3.0, 0.45, 0.0),
        (1.0, 0.45, 0.0),
        (1.0, 0.05, 0.0),
        (-1.0, 0.05, 0.0),
        (-1.0, 1.0, 0.0),
        (-3.0, 1.0, 0.0),
    ]);
    let found = reach(&o, 0.5).unwrap();
    let corner = 0.5 * (2.0f64.sqrt() - 1.0);
    let depths: Vec<f64> = found.missed.iter().map(|miss| miss.depth).collect();
    assert_eq!(depths.len(), 5, "{depths:?}");
    for (depth, expected) in depths.iter().zip([corner, corner, 4.0, corner, corner]) {
        assert!((depth - expected).abs() < 1e-6, "{depths:?}");
    }
}

/// A missed corner is found however short a part of its sides it is: 0.2 of 400.
#[test]
fn corners_of_long_sides_are_not_lost() {
    let side = 400.0;
    let corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)];
    let square = Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap();
    let missed = reach(&square, 0.2).unwrap().missed;
    assert_eq!(missed.len(), 4, "{missed:?}");
    for miss in missed {
        assert!((miss.depth - 0.2 * (2f64.sqrt() - 1.0)).abs() <= DEPTH_TOLERANCE + 1e-12, "{miss:?}");
    }
}
