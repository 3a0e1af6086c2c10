//! Where an outline crosses or touches itself, with numbers that are nearly but not quite the same.

use std::f64::consts::PI;

use outline::{Defect, DefectKind, Outline, Point, Vector, Vertex};
use proptest::prelude::*;

/// What is wrong with these vertices turned and moved, from every start, both ways round: the same each time.
fn verdicts(raw: &[(f64, f64, f64)], turn: f64) -> Vec<Vec<DefectKind>> {
    let n = raw.len();
    let (sin, cos) = turn.sin_cos();
    let placed: Vec<Vertex> = raw
        .iter()
        .map(|&(x, y, b)| Vertex::new(3.0 + x * cos - y * sin, x * sin + y * cos - 2.0, b))
        .collect();
    let reversed: Vec<Vertex> = (0..n)
        .map(|i| Vertex { point: placed[(n - i) % n].point, bulge: -placed[(2 * n - i - 1) % n].bulge })
        .collect();
    let kinds = |defects: Vec<Defect>| defects.iter().map(|d| d.kind).collect();
    let mut found = Vec::new();
    for vertices in [placed, reversed] {
        for start in 0..n {
            let mut begun = vertices.clone();
            begun.rotate_left(start);
            found.push(Outline::new(begun).map_or_else(kinds, |_| Vec::new()));
        }
    }
    found
}

/// Asserts that every verdict names a defect of one of these kinds, or none if none are given.
#[track_caller]
fn all(raw: &[(f64, f64, f64)], turn: f64, kinds: &[DefectKind]) {
    for found in verdicts(raw, turn) {
        assert_eq!(found.is_empty(), kinds.is_empty(), "{found:?} for {raw:?}");
        assert!(found.iter().all(|kind| kinds.contains(kind)), "{found:?} for {raw:?}");
    }
}

/// What two stretches that are `gap` apart, negative when they overlap, are told to do.
fn by_gap(gap: f64) -> &'static [DefectKind] {
    match gap {
        gap if gap > 1.1e-9 => &[],
        gap if gap >= -0.9e-9 => &[DefectKind::Touching],
        _ => &[DefectKind::Crossing, DefectKind::Touching],
    }
}

/// A signed number whose size is spread evenly over the powers of ten, away from the limit of touching itself.
fn gaps() -> impl Strategy<Value = f64> {
    (-13.0f64..-2.0, any::<bool>())
        .prop_map(|(power, over)| 10f64.powf(power) * if over { -1.0 } else { 1.0 })
        .prop_filter("near the limit either answer is right", |gap| !(0.9e-9..1.1e-9).contains(&gap.abs()))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// The tip of a wedge near the opposite side.
    #[test]
    fn a_tip_near_a_side(gap in gaps(), turn in 0.0f64..6.3) {
        all(&[(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 5.0, 0.0), (5.0, gap, 0.0), (0.0, 5.0, 0.0)], turn, by_gap(gap));
    }

    /// The crest of an arc near the opposite side.
    #[test]
    fn a_crest_near_a_side(gap in gaps(), bulge in 0.01f64..1.0, turn in 0.0f64..6.3) {
        let h = gap + bulge;
        let raw = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 5.0, 0.0), (6.0, h, -bulge), (4.0, h, 0.0), (0.0, 5.0, 0.0)];
        all(&raw, turn, by_gap(gap));
    }

    /// The crests of two arcs near each other, one above the other.
    #[test]
    fn two_crests(gap in gaps(), above in 0.01f64..1.0, below in 0.01f64..1.0, turn in 0.0f64..6.3) {
        let h = gap + above;
        let raw = [
            (0.0, -below, 0.0), (4.0, -below, -below), (6.0, -below, 0.0), (10.0, -below, 0.0),
            (10.0, 5.0, 0.0), (6.0, h, -above), (4.0, h, 0.0), (0.0, 5.0, 0.0),
        ];
        all(&raw, turn, by_gap(gap));
    }

    /// A line and an arc that runs back over it: they cross again `back` from their joint. Up to 1e-7 mm that is a joint.
    #[test]
    fn an_arc_that_crosses_beside_its_joint(power in -9.0f64..-3.0, radius in 0.5f64..50.0, turn in 0.0f64..6.3) {
        let back = 10f64.powf(power);
        prop_assume!(!(0.9e-7..1.1e-7).contains(&back));
        let lean = (back / (2.0 * radius)).asin();
        let sweep = 1.0f64;
        let way = Vector::at_angle(PI - lean + 0.5 * sweep);
        let end = Point::new(0.0, 0.0) + way * (2.0 * radius * (0.5 * sweep).sin());
        let far = -3.0 * radius;
        let raw = [
            (far, 0.0, 0.0), (0.0, 0.0, (sweep / 4.0).tan()), (end.x, end.y, 0.0), (far, end.y, 0.0),
        ];
        all(&raw, turn, if back > 1e-7 { &[DefectKind::Crossing] } else { &[] });
    }
}
