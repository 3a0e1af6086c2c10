//! Hundreds of outlines: which lie in which and which meet, against plain comparisons of upright squares.

use std::time::Instant;

use outline::{Outline, Vertex, meeting_pairs, nesting};
use proptest::prelude::*;

/// Left, bottom, side.
type Square = (f64, f64, f64);

fn outline(&(x, y, side): &Square) -> Outline {
    let corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)];
    Outline::new(corners.map(|(x, y)| Vertex::new(x, y, 0.0)).to_vec()).expect("a square")
}

/// Whether one square lies in another and touches it nowhere.
fn inside(a: &Square, b: &Square) -> bool {
    b.0 < a.0 && b.1 < a.1 && a.0 + a.2 < b.0 + b.2 && a.1 + a.2 < b.1 + b.2
}

fn overlap(a: &Square, b: &Square) -> bool {
    a.0 <= b.0 + b.2 && b.0 <= a.0 + a.2 && a.1 <= b.1 + b.2 && b.1 <= a.1 + a.2
}

fn check(squares: &[Square]) {
    let outlines: Vec<Outline> = squares.iter().map(outline).collect();
    let n = squares.len();
    let pairs = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
    let meet = |&(i, j): &(usize, usize)| {
        let (a, b) = (&squares[i], &squares[j]);
        overlap(a, b) && !inside(a, b) && !inside(b, a)
    };
    let expected: Vec<(usize, usize)> = pairs.filter(meet).collect();
    let found = meeting_pairs(&outlines);
    assert_eq!(found.iter().map(|&(i, j, _)| (i, j)).collect::<Vec<_>>(), expected);
    for (i, j, place) in found {
        assert!(outlines[i].nearest(place).distance < 2e-9 && outlines[j].nearest(place).distance < 2e-9);
    }
    for (i, found) in nesting(&outlines).into_iter().enumerate() {
        let around = (0..n).filter(|&j| inside(&squares[i], &squares[j]));
        assert_eq!(found, around.min_by(|&a, &b| squares[a].2.total_cmp(&squares[b].2)), "square {i}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    /// Anywhere.
    #[test]
    fn scattered(squares in prop::collection::vec((0.0f64..100.0, 0.0f64..100.0, 0.01f64..30.0), 1..120)) {
        check(&squares);
    }

    /// One in the other, by more or less than nothing.
    #[test]
    fn nearly_the_same(steps in prop::collection::vec((-8.0f64..-1.0, any::<bool>()), 1..60)) {
        let mut edge = 0.0;
        let squares: Vec<Square> = steps.iter().map(|&(power, outward)| {
            edge += 10f64.powf(power) * if outward { 1.0 } else { -1.0 };
            (-edge, -edge, 10.0 + 2.0 * edge)
        }).collect();
        // Two that come within a touch of each other are not this test's business.
        let apart = |i: usize, j: usize| (squares[i].0 - squares[j].0).abs() > 2e-9;
        prop_assume!((0..squares.len()).all(|i| (0..i).all(|j| apart(i, j))));
        check(&squares);
    }
}

#[test]
fn none_and_one() {
    assert!(nesting(&[]).is_empty() && meeting_pairs(&[]).is_empty());
    check(&[(0.0, 0.0, 1.0)]);
}

/// Ten thousand pairs of outlines, all in a plate.
#[test]
fn a_plate_full() {
    let mut squares = vec![(-1.0, -1.0, 402.0)];
    for i in 0..10_000 {
        let (x, y) = (f64::from(i % 100) * 4.0, f64::from(i / 100) * 4.0);
        squares.extend([(x, y, 3.0), (x + 1.0, y + 1.0, 1.0)]);
    }
    let outlines: Vec<Outline> = squares.iter().map(outline).collect();
    let begun = Instant::now();
    let within = nesting(&outlines);
    assert!(meeting_pairs(&outlines).is_empty());
    println!("{} outlines: {:?}", outlines.len(), begun.elapsed());
    assert_eq!(within[0], None);
    assert!((0..10_000).all(|i| within[2 * i + 1] == Some(0) && within[2 * i + 2] == Some(2 * i + 1)));
}
