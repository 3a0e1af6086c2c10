//! Plates for the tests.

use outline::{Outline, Point, Vertex};
use strength::{Aim, Edge, Load, Material, Refusal, Region, Stresses, Support, stresses};

pub const NU: f64 = 0.3;

pub fn steel() -> Material {
    Material::new(210_000.0, NU).expect("steel")
}

pub fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
    Outline::new(vertices.iter().map(|&(x, y, bulge)| Vertex::new(x, y, bulge)).collect())
        .expect("a valid outline")
}

/// Segment 0 is the lower side, 1 the right one, 2 the upper one, 3 the left one.
pub fn rectangle(width: f64, height: f64) -> Outline {
    let (x, y) = (width / 2.0, height / 2.0);
    outline(&[(-x, -y, 0.0), (x, -y, 0.0), (x, y, 0.0), (-x, y, 0.0)])
}

pub fn circle(radius: f64) -> Outline {
    outline(&[(-radius, 0.0, 1.0), (radius, 0.0, 1.0)])
}

pub fn rounded(width: f64, height: f64, radius: f64) -> Outline {
    let (x, y, r) = (width / 2.0, height / 2.0, radius);
    let b = std::f64::consts::FRAC_PI_8.tan();
    outline(&[
        (r - x, -y, 0.0),
        (x - r, -y, b),
        (x, r - y, 0.0),
        (x, y - r, b),
        (x - r, y, 0.0),
        (r - x, y, b),
        (-x, y - r, 0.0),
        (-x, r - y, b),
    ])
}

/// An ellipse as so many arcs, each through two points of it and the one between.
pub fn ellipse(a: f64, b: f64, arcs: usize) -> Outline {
    let at = |i: f64| {
        let angle = std::f64::consts::TAU * i / arcs as f64;
        Point::new(a * angle.cos(), b * angle.sin())
    };
    let vertex = |i: usize| {
        let (from, between, to) = (at(i as f64), at(i as f64 + 0.5), at(i as f64 + 1.0));
        let (one, other) = (between - from, to - between);
        let turn = one.cross(other).atan2(one.dot(other));
        Vertex::new(from.x, from.y, (turn / 2.0).tan())
    };
    Outline::new((0..arcs).map(vertex).collect()).expect("a valid outline")
}

pub fn region(outer: Outline, openings: Vec<Outline>) -> Region {
    Region::new(outer, openings).expect("a plate")
}

pub fn pulled(mpa: f64) -> [Load; 2] {
    [Load::on(Edge::Outer, 1, -mpa), Load::on(Edge::Outer, 3, -mpa)]
}

pub fn aim(settle: f64) -> Aim {
    Aim { settle, most_elements: 20_000 }
}

pub fn solved(region: &Region, loads: &[Load], supports: &[Support], settle: f64) -> Stresses {
    stresses(region, loads, supports, &steel(), &aim(settle)).expect("a settled peak")
}

pub fn refused(region: &Region, loads: &[Load], supports: &[Support]) -> Refusal {
    stresses(region, loads, supports, &steel(), &aim(0.02)).expect_err("a refusal")
}

pub fn close(found: f64, expected: f64, share: f64, what: &str) {
    let off = (found - expected).abs() / expected.abs();
    assert!(off <= share, "{what}: {found} for {expected}, off by a share of {off}, at most {share}");
}

/// A polygon whose corners are rounded by tangent arcs, smaller where a side is too short.
pub fn filleted(corners: &[Point], radius: f64) -> Vec<Vertex> {
    let n = corners.len();
    let mut vertices = Vec::new();
    for i in 0..n {
        let (before, corner, after) = (corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
        let (back, on) = ((before - corner).unit().expect("a way"), (after - corner).unit().expect("a way"));
        let sweep = (-back).cross(on).atan2((-back).dot(on));
        let room = 0.45 * corner.distance(before).min(corner.distance(after));
        let cut = (radius * (sweep.abs() / 2.0).tan()).min(room);
        let (start, end) = (corner + back * cut, corner + on * cut);
        vertices.push(Vertex::new(start.x, start.y, (sweep / 4.0).tan()));
        vertices.push(Vertex::new(end.x, end.y, 0.0));
    }
    vertices
}
