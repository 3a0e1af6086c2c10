//! Corners: which there are, how tight, on which side; and which outline lies in which.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_8, PI};

use outline::{Corner, Outline, Point, Vector, Vertex, meeting_pairs, nesting};

fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
    Outline::new(vertices.iter().map(|&(x, y, b)| Vertex::new(x, y, b)).collect()).expect("a valid outline")
}

fn square(x: f64, y: f64, side: f64) -> Outline {
    outline(&[(x, y, 0.0), (x + side, y, 0.0), (x + side, y + side, 0.0), (x, y + side, 0.0)])
}

/// Expected corners (radius, angle, inside), sorted, from every start, reversed, moved, turned, scaled and mirrored.
fn check(o: &Outline, expected: &[(f64, f64, bool)]) {
    for start in 0..o.vertices().len() {
        let begun = o.starting_at(start);
        same(&begun, expected, 1.0);
        same(&Outline::new(begun.clockwise_vertices()).expect("valid"), expected, 1.0);
        same(&begun.moved(Vector::new(3.0, -8.0)), expected, 1.0);
        same(&begun.turned(Point::new(1.0, 1.0), 1.3), expected, 1.0);
        same(&begun.mirrored_x(), expected, 1.0);
        same(&begun.scaled(Point::new(0.0, 0.0), 7.0).expect("valid"), expected, 7.0);
    }
}

fn same(o: &Outline, expected: &[(f64, f64, bool)], scale: f64) {
    let mut found: Vec<Corner> = o.corners();
    found.sort_by(|a, b| {
        a.inside.cmp(&b.inside).then(a.radius.total_cmp(&b.radius)).then(a.angle.total_cmp(&b.angle))
    });
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for (f, e) in found.iter().zip(expected) {
        assert!((f.radius - scale * e.0).abs() < 1e-9 * scale, "{f:?} against {e:?}");
        assert!((f.angle - e.1).abs() < 1e-7, "{f:?} against {e:?}");
        assert_eq!(f.inside, e.2, "{f:?} against {e:?}");
        assert!(o.nearest(f.middle).distance < 1e-9 * scale, "the middle lies on the edge");
    }
}

#[test]
fn sharp_corners() {
    check(&square(0.0, 0.0, 2.0), &[(0.0, FRAC_PI_2, true); 4]);
    let ell = outline(&[
        (0.0, 0.0, 0.0),
        (3.0, 0.0, 0.0),
        (3.0, 1.0, 0.0),
        (1.0, 1.0, 0.0),
        (1.0, 3.0, 0.0),
        (0.0, 3.0, 0.0),
    ]);
    let r = FRAC_PI_2;
    check(
        &ell,
        &[(0.0, r, false), (0.0, r, true), (0.0, r, true), (0.0, r, true), (0.0, r, true), (0.0, r, true)],
    );
    assert_eq!(ell.tightest_corner(false).map(|c| c.middle), Some(Point::new(1.0, 1.0)));
    assert_eq!(ell.tightest_corner(true).map(|c| c.middle), Some(Point::new(0.0, 0.0)), "least x, then y");
}

#[test]
fn two_degrees_make_a_corner() {
    let bend = |degrees: f64| {
        let rise = degrees.to_radians().tan();
        outline(&[
            (0.0, 0.0, 0.0),
            (5.0, 0.0, 0.0),
            (10.0, 5.0 * rise, 0.0),
            (10.0, 9.0, 0.0),
            (0.0, 9.0, 0.0),
        ])
    };
    assert_eq!(bend(1.99).corners().len(), 4);
    assert_eq!(bend(2.01).corners().len(), 5);
}

#[test]
fn round_corners_count_once_however_they_are_cut() {
    let (q, e) = (FRAC_PI_8.tan(), (PI / 16.0).tan());
    // A rounded square of side 4, one corner of radius 1 in two pieces, one outside notch of radius 0.5.
    let (s, d) = ((PI / 4.0).sin(), 1.0 - (PI / 4.0).cos());
    let o = outline(&[
        (1.0, 0.0, 0.0),
        (3.0, 0.0, e),
        (3.0 + s, d, e),
        (4.0, 1.0, 0.0),
        (4.0, 3.0, q),
        (3.0, 4.0, 0.0),
        (2.5, 4.0, -1.0),
        (1.5, 4.0, 0.0),
        (1.0, 4.0, q),
        (0.0, 3.0, 0.0),
        (0.0, 1.0, q),
    ]);
    let h = FRAC_PI_2;
    check(
        &o,
        &[
            (0.5, 0.0, false),
            (0.0, h, true),
            (0.0, h, true),
            (1.0, h, true),
            (1.0, h, true),
            (1.0, h, true),
            (1.0, h, true),
        ],
    );
    let tight = o.tightest_corner(false).expect("the notch");
    assert!(tight.middle.distance(Point::new(2.0, 3.5)) < 1e-12, "{tight:?}");
}

#[test]
fn a_circle_is_one_corner_and_a_slot_has_two() {
    let circle = outline(&[(1.0, 0.0, FRAC_PI_8.tan()), (0.0, 1.0, FRAC_PI_8.tan()), (-1.0, 0.0, 1.0)]);
    check(&circle, &[(1.0, 0.0, true)]);
    assert_eq!(circle.corners()[0].middle, Point::new(1.0, 0.0));
    check(
        &outline(&[(-2.0, -1.0, 0.0), (2.0, -1.0, 1.0), (2.0, 1.0, 0.0), (-2.0, 1.0, 1.0)]),
        &[(1.0, 0.0, true), (1.0, 0.0, true)],
    );
}

#[test]
fn outlines_in_outlines() {
    let all = [
        square(2.0, 2.0, 1.0),
        square(0.0, 0.0, 10.0),
        outline(&[(1.0, 3.0, 1.0), (5.0, 3.0, 1.0)]),
        square(20.0, 0.0, 3.0),
        square(6.0, 6.0, 2.0),
    ];
    assert_eq!(nesting(&all), [Some(2), None, Some(1), None, Some(1)]);
    assert_eq!(meeting_pairs(&all), []);
    assert_eq!(nesting(&[]), []);
}

#[test]
fn crossing_and_touching_pairs_are_named() {
    let all = [square(0.0, 0.0, 2.0), square(1.0, 1.0, 2.0), square(2.0, 0.0, 0.5), square(50.0, 0.0, 1.0)];
    let pairs: Vec<(usize, usize)> = meeting_pairs(&all).iter().map(|&(i, j, _)| (i, j)).collect();
    assert_eq!(pairs, [(0, 1), (0, 2)]);
    for (i, j, place) in meeting_pairs(&all) {
        assert!(all[i].nearest(place).distance < 1e-9 && all[j].nearest(place).distance < 1e-9);
    }
}
