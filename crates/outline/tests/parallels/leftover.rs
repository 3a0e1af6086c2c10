//! Pieces left of a region, against closed forms.

use std::f64::consts::PI;
use std::slice::from_ref;

use crate::profiles::{area, outline, profile};
use outline::{Outline, Point, Vector, leftover};

fn square(side: f64) -> Outline {
    let h = 0.5 * side;
    outline(&[(-h, -h, 0.0), (h, -h, 0.0), (h, h, 0.0), (-h, h, 0.0)])
}

fn disk(x: f64, y: f64, r: f64) -> Outline {
    outline(&[(x - r, y, 1.0), (x + r, y, 1.0)])
}

#[test]
fn a_ring_is_one_piece_with_a_hole() {
    let left = leftover(&[disk(1.0, 2.0, 3.0)], &[disk(1.0, 2.0, 1.0)]).unwrap();
    assert_eq!((left.len(), left[0].holes.len()), (1, 1));
    assert!((left[0].area - 8.0 * PI).abs() < 3e-5, "{}", left[0].area);
    assert!((left[0].width - 2.0).abs() < 1e-5, "{}", left[0].width);
    assert!(left[0].centroid.distance(Point::new(1.0, 2.0)) < 1e-6);
}

#[test]
fn a_bar_parts_a_square_in_two() {
    let bar = outline(&[(-5.0, -0.5, 0.0), (5.0, -0.5, 0.0), (5.0, 0.5, 0.0), (-5.0, 0.5, 0.0)]);
    let left = leftover(&[square(4.0)], &[bar]).unwrap();
    assert_eq!(left.len(), 2);
    for (piece, y) in left.iter().zip([-1.25, 1.25]) {
        assert!((piece.area - 6.0).abs() < 1e-6);
        assert!(piece.centroid.distance(Point::new(0.0, y)) < 1e-6);
    }
}

#[test]
fn what_is_all_taken_leaves_nothing() {
    assert_eq!(leftover(&[disk(0.0, 0.0, 1.0)], &[disk(0.0, 0.0, 1.0)]).unwrap(), []);
    assert_eq!(leftover(&[disk(0.0, 0.0, 1.0)], &[square(2.0)]).unwrap(), []);
    assert_eq!(leftover(&[], &[square(2.0)]).unwrap(), []);
    // A shape and itself turned: one edge, two flattenings, only dust between them.
    let turned = disk(0.0, 0.0, 5.0).turned(Point::new(0.0, 0.0), 0.1234);
    assert_eq!(leftover(&[disk(0.0, 0.0, 5.0)], &[turned]).unwrap(), []);
}

#[test]
fn dust_is_dropped_and_more_is_kept() {
    let strip = |width: f64| {
        outline(&[(-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0 - width, 0.0), (-1.0, 1.0 - width, 0.0)])
    };
    assert_eq!(leftover(&[square(2.0)], &[strip(4e-6)]).unwrap().len(), 0);
    assert_eq!(leftover(&[square(2.0)], &[strip(6e-6)]).unwrap().len(), 1);
}

#[test]
fn areas_add_up() {
    for index in 0..60 {
        let o = profile(index, 1e-6);
        let away = o.moved(Vector::new(0.2 * area(&o).sqrt(), 0.0));
        let total = |loops: &[Outline], removed: &[Outline]| -> f64 {
            leftover(loops, removed).unwrap().iter().map(|piece| piece.area).sum()
        };
        let both = total(&[o.clone(), away.clone()], &[]);
        let parts = total(from_ref(&o), from_ref(&away)) + area(&away);
        assert!((both - parts).abs() < 1e-3 + 1e-5 * both, "{index}: {both} {parts}");
    }
}

#[test]
fn absurd_places_are_refused() {
    assert!(leftover(&[disk(2e5, 0.0, 1.0)], &[]).is_err());
}
