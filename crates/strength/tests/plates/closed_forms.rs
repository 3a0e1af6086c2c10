//! Peaks against closed forms and published values.

use crate::shapes::{NU, circle, close, ellipse, pulled, rectangle, region, rounded, solved, steel};
use strength::{Edge, Load, Place, Support};

/// Lame's thick ring: textbook problem of bore 40, outside 60, pressed by 120 inside and 40 outside: hoop 168 at the bore.
#[test]
fn a_thick_ring() {
    let ring = region(circle(60.0), vec![circle(40.0)]);
    let loads = [Load::around(Edge::Opening(0), 120.0), Load::around(Edge::Outer, 40.0)];
    for (settle, share) in [(0.02, 0.01), (0.002, 0.001)] {
        let found = solved(&ring, &loads, &[], settle);
        close(found.tension.mpa, 168.0, share, "hoop at the bore");
        // Von Mises of hoop 168, radial -120, axial nu (168 - 120).
        let axial = NU * 48.0;
        let squares = (168.0f64 + 120.0).powi(2) + (168.0 - axial).powi(2) + (-120.0 - axial).powi(2);
        close(found.equivalent.mpa, (squares / 2.0).sqrt(), share, "equivalent at the bore");
        assert!(matches!(found.tension.place, Place::Edge { edge: Edge::Opening(0), .. }), "{found:?}");
        assert!((found.tension.at.x.hypot(found.tension.at.y) - 40.0).abs() < 1e-9);
    }
}

/// The same ring in a wall that gives way by so much, or not at all: sr = A - B/r2, u = (1+nu)/E ((1-2nu) A r + B/r), and at the
/// outside sr = -k u.
#[test]
fn a_thick_ring_in_a_wall() {
    let (a, b, p) = (40.0, 60.0, 100.0);
    let ring = region(circle(b), vec![circle(a)]);
    let give = (1.0 + NU) / steel().e_mpa();
    for k in [500.0, 5_000.0, 1e5, f64::INFINITY] {
        let support =
            |segment| if k.is_finite() { Support::springy(segment, k) } else { Support::rigid(segment) };
        let found = solved(&ring, &[Load::around(Edge::Opening(0), p)], &[support(0), support(1)], 0.005);
        // B = ratio * A from the wall, then A from sr(a) = -p.
        let ratio = match k.is_finite() {
            true => (1.0 + k * give * (1.0 - 2.0 * NU) * b) / (1.0 / (b * b) - k * give / b),
            false => -(1.0 - 2.0 * NU) * b * b,
        };
        let whole = -p / (1.0 - ratio / (a * a));
        let (hoop, wall) = (whole + whole * ratio / (a * a), -(whole - whole * ratio / (b * b)));
        // Where the wall holds firmly the hoop is pressed, and the peak is how little.
        let share = 0.005 * p / hoop.abs().max(0.1 * p);
        close(found.tension.mpa, hoop, share, &format!("hoop at the bore, wall of {k} MPa/mm"));
        let force: f64 = found.supports.iter().map(|held| held.force_n_per_mm).sum();
        close(force, wall * std::f64::consts::TAU * b, 0.005, "force of the wall");
        assert!(found.supports.iter().all(|held| held.pulling_mm == 0.0), "{found:?}");
    }
}

/// Kirsch: 3 for a round hole in a wide plate that is pulled, 2 when pulled both ways alike, 4 when pulled and pressed.
#[test]
fn a_round_hole_in_a_wide_plate() {
    let plate = region(rectangle(200.0, 200.0), vec![circle(1.0)]);
    let both =
        |x: f64, y: f64| [0, 1, 2, 3].map(|i| Load::on(Edge::Outer, i, if i % 2 == 1 { -x } else { -y }));
    for (x, y, factor) in [(100.0, 0.0, 3.0), (100.0, 100.0, 2.0), (100.0, -100.0, 4.0)] {
        let found = solved(&plate, &both(x, y), &[], 0.005);
        close(found.tension.mpa, factor * 100.0, 0.005, &format!("pulled {x} and {y}"));
    }
    let pressed = solved(&plate, &[Load::around(Edge::Opening(0), 100.0)], &[], 0.005);
    close(pressed.tension.mpa, 100.0, 0.005, "pressed from within");
}

/// Howland's values for a hole in a strip, of the stress far away (1930; from memory, three digits), and Heywood's formula for
/// the same, (2 + (1 - d/w)^3) / (1 - d/w) (1952; from memory), which is good to about 2 %. The integral equation of
/// `checks/strength` gives 3.036, 3.153, 3.374 and 4.348 for shares of 0.1, 0.2, 0.3 and 0.5.
#[test]
fn a_round_hole_in_a_strip() {
    for (share, howland, integral) in
        [(0.1, 303.0, 303.62), (0.2, 314.0, 315.26), (0.3, 336.0, 337.44), (0.5, 432.0, 434.76)]
    {
        let strip = region(rectangle(80.0, 10.0), vec![circle(5.0 * share)]);
        let found = solved(&strip, &pulled(100.0), &[], 0.002).tension.mpa;
        close(found, howland, 0.008, &format!("Howland, {share}"));
        close(found, integral, 0.001, &format!("integral equation, {share}"));
        let left: f64 = 1.0 - share;
        close(found, 100.0 * (2.0 + left.powi(3)) / left, 0.025, &format!("Heywood, {share}"));
    }
}

/// Inglis: 1 + 2 a/b at the ends of an ellipse across the pull.
#[test]
fn an_elliptic_hole() {
    for ratio in [1.5, 2.0, 3.0, 5.0] {
        let plate = region(rectangle(200.0, 200.0), vec![ellipse(1.0 / ratio, 1.0, 96)]);
        let found = solved(&plate, &pulled(100.0), &[], 0.01);
        close(found.tension.mpa, 100.0 * (1.0 + 2.0 * ratio), 0.01, &format!("ellipse {ratio} : 1"));
    }
}

/// A square hole with rounded corners in a wide plate that is pulled along one side; r over half the side. The values are those of
/// Peterson's chart of rectangular holes, as a polynomial that stands on a public page (amesweb.info, "Rectangular hole with round
/// corners in an infinite plate"); it misses Kirsch's 3 by 1.4 % itself. `checks/strength` holds rounded openings to an independent
/// method.
#[test]
fn a_square_hole_with_rounded_corners() {
    for ratio in [0.2f64, 0.3, 0.5, 1.0] {
        let root = ratio.sqrt();
        let chart = 14.815 - 15.774 * root + 8.149 * ratio - 11.201 - 9.750 * root
            + 9.600 * ratio
            + 0.202
            + 38.662 * root
            - 27.374 * ratio
            + 3.232
            - 23.002 * root
            + 15.482 * ratio;
        let hole = if ratio == 1.0 { circle(1.0) } else { rounded(2.0, 2.0, ratio) };
        let found = solved(&region(rectangle(200.0, 200.0), vec![hole]), &pulled(100.0), &[], 0.005);
        close(found.tension.mpa, 100.0 * chart, 0.05, &format!("square hole, r/b {ratio}"));
    }
}
