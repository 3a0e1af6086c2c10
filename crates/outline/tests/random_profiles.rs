//! Random profiles: measures against plain sums, distances and sides against samples, circles against a fine search, and
//! all of it from other start vertices, reversed, moved, turned, scaled and mirrored.

#[path = "parallels/profiles.rs"]
mod profiles;

use outline::{Near, Outline, Point, Vector, close_up, largest_circle};
use proptest::prelude::*;

/// Winding number by adding up the angles that a finely stepped edge turns through about a place.
fn winds_round(outline: &Outline, place: Point) -> bool {
    let mut sum = 0.0;
    for s in outline.segments() {
        let steps = 4 + (s.sweep().abs() * 200.0) as usize;
        for k in 0..steps {
            let a = s.at(k as f64 / steps as f64) - place;
            let b = s.at((k + 1) as f64 / steps as f64) - place;
            sum += a.cross(b).atan2(a.dot(b));
        }
    }
    sum > std::f64::consts::PI
}

/// Distance by the nearest of many points and a local search between them.
fn sampled_distance(outline: &Outline, place: Point) -> f64 {
    let mut least = f64::INFINITY;
    for s in outline.segments() {
        let at = |t: f64| s.at(t).distance(place);
        let best = (0..=64).min_by(|&a, &b| at(f64::from(a) / 64.0).total_cmp(&at(f64::from(b) / 64.0)));
        let mut t = f64::from(best.unwrap_or(0)) / 64.0;
        let mut step = 1.0 / 64.0;
        while step > 1e-14 {
            let next = [t - step, t, t + step].into_iter().map(|t| t.clamp(0.0, 1.0));
            let better = next.min_by(|&a, &b| at(a).total_cmp(&at(b))).unwrap_or(t);
            step = if better == t { step / 2.0 } else { step };
            t = better;
        }
        least = least.min(at(t));
    }
    least
}

fn check(outline: &Outline, place: Point) {
    let size = outline.bounds().width() + outline.bounds().height();
    let nearest = outline.nearest(place);
    let sampled = sampled_distance(outline, place);
    assert!((nearest.distance - sampled).abs() < 1e-9 * size, "{nearest:?} against {sampled}");
    let segment = outline.segments().nth(nearest.segment).expect("a segment");
    assert!(segment.at(nearest.share).distance(nearest.point) < 1e-9 * size, "{nearest:?}");
    assert!((segment.distance(place) - nearest.distance).abs() < 1e-12 * size);
    let signed = outline.signed_distance(place);
    assert_eq!(signed.abs(), nearest.distance);
    if nearest.distance > 1e-4 * size {
        assert_eq!(signed > 0.0, winds_round(outline, place), "side of {place:?}");
    }
    let near = Near::new(outline, place, nearest.distance * 1.5);
    let mut every: Vec<_> =
        outline.segments().filter(|s| s.distance(place) <= nearest.distance * 1.5).collect();
    every.sort_by(|a, b| a.distance(place).total_cmp(&b.distance(place)));
    assert_eq!(near.segments().collect::<Vec<_>>(), every);
    for k in 0..8 {
        let off = nearest.distance / 4.0;
        let beside = place + Vector::at_angle(f64::from(k)) * off;
        assert_eq!(near.about(off).distance(beside), outline.nearest(beside).distance);
    }
    assert!(near.about(0.0).count() <= near.about(nearest.distance / 4.0).count());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_places(index in 0u64..2000, x in -0.2f64..1.2, y in -0.2f64..1.2) {
        let o = profiles::profile(index, 1e-4);
        let b = o.bounds();
        check(&o, b.min + Vector::new(x * b.width(), y * b.height()));
    }

    /// Level with vertices, on chords, and beside vertices by a hair: where a ray test goes wrong first.
    #[test]
    fn awkward_places(index in 0u64..2000, pick in 0usize..1000, other in 0usize..1000, t in 0.0f64..1.0) {
        let o = profiles::profile(index, 1e-4);
        let v = o.vertices();
        let (p, q) = (v[pick % v.len()].point, v[other % v.len()].point);
        check(&o, Point::new(p.x, q.y));
        check(&o, p.towards(v[(pick + 1) % v.len()].point, t));
        check(&o, p.towards(q, t));
        check(&o, p + Vector::new(o.bounds().width() * (t - 0.5), 0.0));
    }

    /// A step off the edge to the left of travel is inside, to the right outside, by just that step.
    #[test]
    fn sides_of_the_edge(index in 0u64..2000, pick in 0usize..1000, t in 0.05f64..0.95, power in 3i32..11) {
        let o = profiles::profile(index, 1e-6);
        let segments: Vec<_> = o.segments().collect();
        let s = segments[pick % segments.len()];
        let step = o.bounds().width() * 10f64.powi(-power);
        let left = s.direction(t).left() * step;
        let room = o.signed_distance(s.at(t) + left);
        let beyond = o.signed_distance(s.at(t) - left);
        prop_assert!(room.abs() <= step * 1.000_001 + 1e-12 && beyond.abs() <= step * 1.000_001 + 1e-12);
        // Unless another stretch runs nearer than two steps, the answer is exactly the step.
        let alone = segments.iter().filter(|n| n.distance(s.at(t)) < 2.5 * step).count() == 1;
        if alone && s.radius() > 2.0 * step {
            prop_assert!((room - step).abs() < 1e-11 && (beyond + step).abs() < 1e-11, "{room} {beyond} {step}");
        }
    }
}

fn near(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found} against {expected}");
}

/// The same outline begun elsewhere, reversed, moved, turned, scaled, mirrored: with what its lengths are multiplied.
fn variants(o: &Outline, pick: usize) -> Vec<(Outline, f64)> {
    let begun = o.starting_at(pick);
    let about = Point::new(1.0, -2.0);
    vec![
        (begun.clone(), 1.0),
        (Outline::new(begun.clockwise_vertices()).expect("reversed"), 1.0),
        (begun.moved(Vector::new(-4.0, 9.0)), 1.0),
        (begun.turned(about, 2.1), 1.0),
        (begun.scaled(about, 2.5).expect("scaled"), 2.5),
        (begun.mirrored_x(), 1.0),
    ]
}

#[test]
fn measures_agree_with_plain_sums_and_with_their_variants() {
    for index in 0..300 {
        let o = profiles::profile(index, 1e-4);
        let size = o.bounds().width() + o.bounds().height();
        near(o.area(), profiles::area(&o), 1e-11 * size * size, "area");
        near(o.perimeter(), profiles::perimeter(&o), 1e-11 * size, "perimeter");
        let m = o.second_moments();
        let corners = o.tightest_corner(true);
        for (v, k) in variants(&o, index as usize) {
            near(v.area(), k * k * o.area(), 1e-10 * size * size, "area");
            near(v.perimeter(), k * o.perimeter(), 1e-10 * size, "perimeter");
            let n = v.second_moments();
            near(n.ixx + n.iyy, k.powi(4) * (m.ixx + m.iyy), 1e-9 * size.powi(4), "polar moment");
            near(n.least, k.powi(4) * m.least, 1e-9 * size.powi(4), "least moment");
            let c = v.tightest_corner(true);
            assert_eq!(c.is_some(), corners.is_some());
            if let (Some(c), Some(d)) = (c, corners) {
                near(c.radius, k * d.radius, 1e-7 * size, "tightest corner");
            }
        }
    }
}

/// Largest circles: the radius is what its centre says, a fine grid finds nothing larger than is promised, and every
/// variant agrees to the promise.
#[test]
fn largest_circles_beat_every_sample() {
    let mut times = Vec::new();
    for index in 0..profiles::cases("CIRCLE_CASES", 100) {
        let o = profiles::profile(index, if index % 2 == 0 { 1e-4 } else { 1e-6 });
        let begun = std::time::Instant::now();
        let circle = largest_circle(&o, &[]).expect("a circle");
        times.push(begun.elapsed());
        assert!(circle.proven_within < 1e-6);
        near(o.signed_distance(circle.centre), circle.radius, 1e-13, "radius");
        let b = o.bounds();
        for i in 0..40 {
            for j in 0..40 {
                let p =
                    b.min + Vector::new(b.width() * f64::from(i) / 39.0, b.height() * f64::from(j) / 39.0);
                assert!(
                    o.signed_distance(p) <= circle.radius + circle.proven_within,
                    "profile {index}: {p:?} {circle:?}"
                );
            }
        }
        for (v, k) in variants(&o, index as usize) {
            let other = largest_circle(&v, &[]).expect("a circle");
            near(other.radius, k * circle.radius, 1e-6 * k.max(1.0), "radius of a variant");
        }
    }
    times.sort();
    let (median, worst) = (times[times.len() / 2], times[times.len() - 1]);
    println!("largest circle of {} profiles: median {median:?}, worst {worst:?}", times.len());
}

#[test]
fn closing_up_stays_within_the_stated_movement() {
    for index in 0..300 {
        let o = profiles::profile(index, 1e-4);
        let closed = close_up(o.vertices().to_vec(), 0.001).expect("a valid outline closes");
        assert!(closed.moved_mm <= 0.001);
        let joined = closed.outline.joined();
        near(joined.area(), closed.outline.area(), 1e-8 * o.perimeter(), "area joined");
        for s in o.segments() {
            for k in 0..=20 {
                let p = s.at(f64::from(k) / 20.0);
                assert!(closed.outline.nearest(p).distance <= closed.moved_mm + 1e-11, "profile {index}");
                assert!(joined.nearest(p).distance <= closed.moved_mm + 1.1e-9, "profile {index}");
            }
        }
    }
}

/// A flat arc's centre lies far beyond anything: distances must not lose digits to it.
#[test]
fn flat_arcs_lose_no_digits() {
    for bulge in [1e-5, 1e-7, 1e-9, 1e-11] {
        let o = profiles::outline(&[(0.0, 0.0, bulge), (10.0, 0.0, 0.0), (10.0, 8.0, 0.0), (0.0, 8.0, 0.0)]);
        let depth = o.signed_distance(Point::new(5.0, 1.0));
        assert!((depth - (1.0 + 5.0 * bulge)).abs() < 1e-14, "bulge {bulge}: {depth}");
    }
}

#[test]
fn a_place_that_is_no_place() {
    let o = profiles::profile(3, 1e-4);
    let nowhere = Point::new(f64::NAN, 0.0);
    assert_eq!(o.signed_distance(nowhere), f64::NEG_INFINITY);
    assert_eq!(o.nearest(nowhere).distance, f64::INFINITY);
    assert!(Near::new(&o, nowhere, 1.0).segments().next().is_none());
}
