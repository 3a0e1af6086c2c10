//! Measures against closed forms (areas, centroids and second moments of plane figures as tabled in any handbook of
//! mechanics, for example Gere, Mechanics of Materials, appendix on properties of plane areas; from memory).

use std::f64::consts::{FRAC_PI_8, PI};

use outline::{Outline, Point, SecondMoments, Vector, Vertex};

fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
    Outline::new(vertices.iter().map(|&(x, y, b)| Vertex::new(x, y, b)).collect()).expect("a valid outline")
}

struct Expected {
    area: f64,
    perimeter: f64,
    centroid: Point,
    ixx: f64,
    iyy: f64,
    ixy: f64,
}

fn near(found: f64, expected: f64, size: f64, what: &str) {
    assert!((found - expected).abs() <= 1e-12 * size, "{what}: {found} against {expected}");
}

/// The figure from every start vertex, reversed, moved, turned, scaled and mirrored.
fn check(vertices: &[(f64, f64, f64)], e: &Expected) {
    let base = outline(vertices);
    let about = Point::new(3.0, -1.0);
    for start in 0..vertices.len() {
        let o = Outline::new(base.starting_at(start).clockwise_vertices()).expect("a valid outline");
        check_one(&o, e, 1.0);
        let m = o.mirrored_x();
        check_one(
            &m,
            &Expected { centroid: Point::new(-e.centroid.x, e.centroid.y), ixy: -e.ixy, ..*e },
            1.0,
        );
        let by = Vector::new(5.5, -7.25);
        check_one(&o.moved(by), &Expected { centroid: e.centroid + by, ..*e }, 1.0);
        let k = 0.125;
        let scaled = Expected {
            area: e.area * k * k,
            perimeter: e.perimeter * k,
            centroid: about + (e.centroid - about) * k,
            ixx: e.ixx * k.powi(4),
            iyy: e.iyy * k.powi(4),
            ixy: e.ixy * k.powi(4),
        };
        check_one(&o.scaled(about, k).expect("still valid"), &scaled, k);
        check_turned(&o, e, about, 0.8);
    }
}

fn check_turned(o: &Outline, e: &Expected, about: Point, turn: f64) {
    let (sin, cos) = turn.sin_cos();
    let out = e.centroid - about;
    let centroid = about + Vector::new(out.x * cos - out.y * sin, out.x * sin + out.y * cos);
    let (sin2, cos2) = (2.0 * turn).sin_cos();
    let (mean, half) = ((e.ixx + e.iyy) / 2.0, (e.ixx - e.iyy) / 2.0);
    // With x' along the turned figure's own axis: ixx = integral of y^2, so turning by t subtracts sin(2t)*ixy... signs
    // follow from y = x' sin t + y' cos t.
    let ixx = mean + half * cos2 + e.ixy * sin2;
    let iyy = mean - half * cos2 - e.ixy * sin2;
    let ixy = e.ixy * cos2 - half * sin2;
    check_one(&o.turned(about, turn), &Expected { centroid, ixx, iyy, ixy, ..*e }, 1.0);
}

fn check_one(o: &Outline, e: &Expected, size: f64) {
    let m: SecondMoments = o.second_moments();
    near(o.area(), e.area, 10.0 * size * size, "area");
    near(o.perimeter(), e.perimeter, 10.0 * size, "perimeter");
    near(o.centroid().x, e.centroid.x, 10.0, "x of centroid");
    near(o.centroid().y, e.centroid.y, 10.0, "y of centroid");
    let fourth = 100.0 * size.powi(4);
    near(m.ixx, e.ixx, fourth, "ixx");
    near(m.iyy, e.iyy, fourth, "iyy");
    near(m.ixy, e.ixy, fourth, "ixy");
    let least = (e.ixx + e.iyy) / 2.0 - ((e.ixx - e.iyy) / 2.0).hypot(e.ixy);
    near(m.least, least, fourth, "least");
}

#[test]
fn rectangle() {
    let (b, h) = (3.0, 2.0);
    let e = Expected {
        area: b * h,
        perimeter: 2.0 * (b + h),
        centroid: Point::new(1.5, 1.0),
        ixx: b * h.powi(3) / 12.0,
        iyy: h * b.powi(3) / 12.0,
        ixy: 0.0,
    };
    check(&[(0.0, 0.0, 0.0), (b, 0.0, 0.0), (b, h, 0.0), (0.0, h, 0.0)], &e);
}

#[test]
fn right_triangle() {
    let (b, h) = (3.0, 2.0);
    let e = Expected {
        area: b * h / 2.0,
        perimeter: b + h + b.hypot(h),
        centroid: Point::new(1.0, h / 3.0),
        ixx: b * h.powi(3) / 36.0,
        iyy: h * b.powi(3) / 36.0,
        ixy: -b * b * h * h / 72.0,
    };
    check(&[(0.0, 0.0, 0.0), (b, 0.0, 0.0), (0.0, h, 0.0)], &e);
}

#[test]
fn circle_of_two_and_of_four_arcs() {
    let r: f64 = 1.5;
    let i = PI * r.powi(4) / 4.0;
    let e = Expected {
        area: PI * r * r,
        perimeter: 2.0 * PI * r,
        centroid: Point::new(0.0, 0.0),
        ixx: i,
        iyy: i,
        ixy: 0.0,
    };
    let q = FRAC_PI_8.tan();
    check(&[(-r, 0.0, 1.0), (r, 0.0, 1.0)], &e);
    check(&[(r, 0.0, q), (0.0, r, q), (-r, 0.0, q), (0.0, -r, q)], &e);
}

#[test]
fn half_disc() {
    let r: f64 = 2.0;
    let e = Expected {
        area: PI * r * r / 2.0,
        perimeter: PI * r + 2.0 * r,
        centroid: Point::new(0.0, 4.0 * r / (3.0 * PI)),
        ixx: r.powi(4) * (PI / 8.0 - 8.0 / (9.0 * PI)),
        iyy: PI * r.powi(4) / 8.0,
        ixy: 0.0,
    };
    check(&[(-r, 0.0, 0.0), (r, 0.0, 1.0)], &e);
}

/// Quarter of a ring between radii 1 and 2: quarter discs subtracted, with their textbook moments about the corner.
#[test]
fn quarter_ring() {
    let (r, s): (f64, f64) = (2.0, 1.0);
    let area = PI * (r * r - s * s) / 4.0;
    let c = (r.powi(3) - s.powi(3)) / 3.0 / area;
    let corner = PI * (r.powi(4) - s.powi(4)) / 16.0;
    let product = (r.powi(4) - s.powi(4)) / 8.0;
    let e = Expected {
        area,
        perimeter: PI * (r + s) / 2.0 + 2.0 * (r - s),
        centroid: Point::new(c, c),
        ixx: corner - area * c * c,
        iyy: corner - area * c * c,
        ixy: product - area * c * c,
    };
    let q = FRAC_PI_8.tan();
    check(&[(s, 0.0, 0.0), (r, 0.0, q), (0.0, r, 0.0), (0.0, s, -q)], &e);
}

#[test]
fn slot() {
    let (l, r): (f64, f64) = (4.0, 1.0);
    let e = Expected {
        area: 2.0 * l * r + PI * r * r,
        perimeter: 2.0 * l + 2.0 * PI * r,
        centroid: Point::new(0.0, 0.0),
        ixx: l * (2.0 * r).powi(3) / 12.0 + PI * r.powi(4) / 4.0,
        iyy: 2.0 * r * l.powi(3) / 12.0
            + 2.0
                * (r.powi(4) * (PI / 8.0 - 8.0 / (9.0 * PI))
                    + PI * r * r / 2.0 * (l / 2.0 + 4.0 * r / (3.0 * PI)).powi(2)),
        ixy: 0.0,
    };
    check(&[(-l / 2.0, -r, 0.0), (l / 2.0, -r, 1.0), (l / 2.0, r, 0.0), (-l / 2.0, r, 1.0)], &e);
}

/// A nearly flat arc: the cap is 2/3 of chord times height to first order, and nothing may cancel.
#[test]
fn a_nearly_flat_arc_loses_no_digits() {
    for bulge in [1e-3, 1e-6, 1e-9] {
        let o = outline(&[(0.0, 0.0, bulge), (10.0, 0.0, 0.0)]);
        let height = 5.0 * bulge;
        let first_order = 2.0 / 3.0 * 10.0 * height;
        let share = o.area() / first_order - 1.0;
        assert!((share - 0.2 * bulge * bulge).abs() < 1e-11, "bulge {bulge}: off by {share}");
    }
}

#[test]
fn bounds_are_exact_over_arcs() {
    let o = outline(&[(-1.0, 0.0, 0.0), (1.0, 0.0, 1.0)]).turned(Point::new(0.0, 0.0), PI / 6.0);
    let b = o.bounds();
    let (sin, cos) = (0.5, 3f64.sqrt() / 2.0);
    for (found, expected) in [(b.min.x, -1.0), (b.min.y, -sin), (b.max.x, cos), (b.max.y, 1.0)] {
        near(found, expected, 1.0, "bound");
    }
}
