//! Inputs that break offset libraries as they come (the list of design/geometry.md), each by its number there.

use std::f64::consts::PI;
use std::slice::from_ref;

use crate::profiles::{area, outline, perimeter};
use outline::{Outline, Point, Segment, Vertex, leftover, parallel};

/// 1. At the finest setting the library gives an open run; the parallel must still be right.
#[test]
fn one_open_result() {
    let o = outline(&[
        (-0.705939, -1.54632, 0.0),
        (-0.617956, -3.9911, 0.0),
        (0.90325, -3.936355, 0.0),
        (0.815267, -1.491576, 0.791_176_575_039_026_9),
        (-0.061135, 1.698739, 0.791_176_575_039_026_9),
    ]);
    for d in [3.399_678_213_991_077_4, 0.15] {
        let grown = parallel(&o, -d).unwrap();
        assert_eq!(grown.len(), 1, "{d}");
        // The only corners that open inward are rounded away outside; two shallow ones remain, so Steiner is a bound.
        let most = area(&o) + perimeter(&o) * d + PI * d * d;
        assert!(area(&grown[0]) < most + 1e-9 && area(&grown[0]) > most * 0.5, "{d}");
        let back: f64 = parallel(&grown[0], d).unwrap().iter().map(area).sum();
        assert!(back >= area(&o) - 1e-6, "{d}: {back}");
    }
}

/// 2. A rhombus near collapse: repeated vertices that pass for a closed loop.
#[test]
fn two_rhombus() {
    let o = outline(&[(0.25, 0.0, 0.0), (0.0, 0.15, 0.0), (-0.25, 0.0, 0.0), (0.0, -0.15, 0.0)]);
    let inscribed = 0.25 * 0.15 / 0.25f64.hypot(0.15);
    for share in [0.99, 0.9999] {
        let left = parallel(&o, share * inscribed).unwrap();
        let expected = 0.075 * (1.0 - share) * (1.0 - share);
        assert!((area(&left[0]) - expected).abs() < 1e-11, "{share}");
        assert_eq!((left.len(), left[0].vertices().len()), (1, 4), "{share}");
    }
}

/// 3. An arc of more than half a circle: refused as it is, right when split in two.
#[test]
fn three_bulge_above_one() {
    let bulge: f64 = 8.156521606832257;
    let (a, b) = ((0.0918758075854587, -0.0605877417331472), (-0.006505377961953884, 0.10986227070916976));
    let whole = [(a.0, a.1, 0.0), (b.0, b.1, bulge), (-a.0, -a.1, 0.0), (-b.0, -b.1, bulge)];
    assert!(Outline::new(whole.iter().map(|&(x, y, b)| Vertex::new(x, y, b)).collect()).is_err());
    let half = (0.5 * bulge.atan()).tan();
    let middle = Segment { from: Point::new(b.0, b.1), to: Point::new(-a.0, -a.1), bulge }.at(0.5);
    let o = outline(&[
        (a.0, a.1, 0.0),
        (b.0, b.1, half),
        (middle.x, middle.y, half),
        (-a.0, -a.1, 0.0),
        (-b.0, -b.1, half),
        (-middle.x, -middle.y, half),
    ]);
    let grown = parallel(&o, -0.24612764).unwrap();
    assert!((area(&grown[0]) - 1.1287).abs() < 5e-5, "{}", area(&grown[0]));
}

/// 4. A slot by exactly half its width: nothing, not a loop of two vertices.
#[test]
fn four_slot_of_half_its_width() {
    let o = outline(&[(-2.0, -0.75, 0.0), (2.0, -0.75, 1.0), (2.0, 0.75, 0.0), (-2.0, 0.75, 1.0)]);
    assert_eq!(parallel(&o, 0.75).unwrap(), []);
    assert_eq!(parallel(&o, 0.75 - 1e-4).unwrap().len(), 1);
}

/// 5. A slot and itself moved by 1 nm: what one leaves of the other is dust, and both parallels are whole.
#[test]
fn five_near_coincident_slots() {
    let slot = |by: f64| {
        let (l, r) = (2.788268, 1.808830);
        outline(&[(-l + by, -r, 0.0), (l + by, -r, 1.0), (l + by, r, 0.0), (-l + by, r, 1.0)])
    };
    let (a, b) = (slot(0.0), slot(1e-6));
    assert_eq!(leftover(from_ref(&a), from_ref(&b)).unwrap(), []);
    let both = leftover(&[a.clone(), b], &[]).unwrap();
    assert_eq!(both.len(), 1);
    assert!((both[0].area - 30.45).abs() < 0.005, "{}", both[0].area);
    assert!((both[0].area - area(&a)).abs() < 1e-4);
}
