//! A closed run of vertices as an offset leaves it: of either sense, and nothing about it checked yet.

use crate::curve::Curve;
use crate::{Point, Segment, Vertex};

/// Pieces shorter than this are joints, mm: the offset of an arc that shrank to nothing. Ten times the finest step at
/// which the offset library takes two places as one.
const JOINT: f64 = 1e-8;

/// A ring whose area is less than half its length times this encloses nothing a wire could tell from a line, mm.
const LINE_WIDTH: f64 = 1e-9;

/// Squares of bulges below this go by the series, whose next term is then below the last bit.
const FLAT: f64 = 1e-4;

/// Bulges may pass a half circle by this much through rounding.
const HALF_CIRCLE_SLACK: f64 = 1e-9;

/// Vertices of a closed run; positive area when counter-clockwise.
#[derive(Debug, Clone)]
pub(crate) struct Ring {
    pub(crate) vertices: Vec<Vertex>,
}

impl Ring {
    /// The run without joints and with no arc above half a circle; none if no area is left.
    pub(crate) fn cleaned(raw: Vec<Vertex>) -> Option<Self> {
        let ring = Self { vertices: halved(&without_joints(raw)) };
        let vertices = &ring.vertices;
        let is_line = vertices.len() == 2 && vertices.iter().all(|v| v.bulge == 0.0);
        if vertices.len() < 2 || is_line || 2.0 * ring.area().abs() < LINE_WIDTH * ring.perimeter() {
            return None;
        }
        Some(ring)
    }

    /// Its pieces, in order.
    pub(crate) fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        let n = self.vertices.len();
        (0..n).map(move |i| {
            let (vertex, next) = (self.vertices[i], self.vertices[(i + 1) % n]);
            Segment { from: vertex.point, to: next.point, bulge: vertex.bulge }
        })
    }

    /// Its pieces made ready for questions.
    pub(crate) fn curves(&self) -> impl Iterator<Item = Curve> + '_ {
        self.segments().map(|segment| Curve::new(&segment))
    }

    /// Area enclosed, mm2, positive when counter-clockwise; taken about its first vertex so that little is lost far from
    /// the origin.
    pub(crate) fn area(&self) -> f64 {
        let Some(first) = self.vertices.first() else { return 0.0 };
        let mut twice = 0.0;
        for segment in self.segments() {
            twice += (segment.from - first.point).cross(segment.to - first.point);
            if !segment.is_line() {
                twice += twice_cap(segment.from.distance(segment.to), segment.bulge);
            }
        }
        0.5 * twice
    }

    /// Its length, mm.
    pub(crate) fn perimeter(&self) -> f64 {
        self.segments().map(|segment| segment.length()).sum()
    }

    /// Its vertex with the least x, then y.
    pub(crate) fn leftmost(&self) -> Point {
        let places = self.vertices.iter().map(|vertex| vertex.point);
        places
            .min_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)))
            .unwrap_or(Point::new(f64::NAN, f64::NAN))
    }
}

/// Twice the area between an arc and its chord, positive for a counter-clockwise arc: of a flat one from the series in its
/// bulge, because the difference of its sweep and the sine of that would leave no digits.
fn twice_cap(chord: f64, bulge: f64) -> f64 {
    let b = bulge * bulge;
    if b < FLAT {
        return chord
            * chord
            * bulge
            * (2.0 / 3.0 + b * (2.0 / 15.0 - b * (2.0 / 105.0 - b * (2.0 / 315.0))));
    }
    let (sweep, radius) = (4.0 * bulge.atan(), chord * (1.0 + b) / (4.0 * bulge));
    radius * radius * (sweep - sweep.sin())
}

/// Drops the vertices whose segment is only a joint.
fn without_joints(raw: Vec<Vertex>) -> Vec<Vertex> {
    let n = raw.len();
    let is_joint = |i: usize| raw[i].point.distance(raw[(i + 1) % n].point) < JOINT;
    if !(0..n).any(is_joint) {
        return raw;
    }
    let mut kept: Vec<Vertex> = Vec::with_capacity(n);
    for &vertex in &raw {
        match kept.last_mut() {
            Some(last) if last.point.distance(vertex.point) < JOINT => *last = vertex,
            _ => kept.push(vertex),
        }
    }
    while kept.len() > 1 && kept[kept.len() - 1].point.distance(kept[0].point) < JOINT {
        kept.pop();
    }
    kept
}

/// Splits arcs above half a circle at their middle.
fn halved(vertices: &[Vertex]) -> Vec<Vertex> {
    let n = vertices.len();
    let mut halves = Vec::with_capacity(n + 2);
    for (i, &vertex) in vertices.iter().enumerate() {
        let bulge = vertex.bulge;
        if bulge.abs() <= 1.0 {
            halves.push(vertex);
        } else if bulge.abs() <= 1.0 + HALF_CIRCLE_SLACK {
            halves.push(Vertex { bulge: bulge.signum(), ..vertex });
        } else {
            let segment = Segment { from: vertex.point, to: vertices[(i + 1) % n].point, bulge };
            let half = (0.5 * bulge.atan()).tan();
            halves.push(Vertex { bulge: half, ..vertex });
            halves.push(Vertex { point: segment.at(0.5), bulge: half });
        }
    }
    halves
}
