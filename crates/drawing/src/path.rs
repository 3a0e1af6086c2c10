//! One entity as a path of lines and arcs in mm.
//!
//! Stages: points and bulges in mm; arcs of more than half a circle split in two; segments of no length dropped.

use dxf::{Entity, Shape};
use outline::{Point, Segment, Vector, Vertex};

/// A segment this short has no length, mm: the rounding of coordinates, far below what any drawing means.
pub(crate) const NOTHING: f64 = 1e-9;

/// The path of one entity.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    /// Line of the entity.
    pub(crate) line: u32,
    pub(crate) layer: String,
    /// Its points; each bulge is that of the segment that leaves the point. The last one's counts only when closed.
    pub(crate) vertices: Vec<Vertex>,
    pub(crate) closed: bool,
}

/// Why an entity has no path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum NoPath {
    /// It has no length; it lies at the point.
    ZeroLength(Point),
    /// An arc that ends where it begins, at the point.
    NoSweep(Point),
    /// It is of a kind that is not followed yet.
    NotYet,
}

impl Path {
    /// The path of an entity, and how many of its segments had no length.
    ///
    /// # Errors
    /// When nothing is left of it.
    pub(crate) fn new(entity: &Entity, in_mm: f64) -> Result<(Path, usize), NoPath> {
        let (vertices, closed) = match &entity.shape {
            Shape::Line { from, to } => (vec![vertex(*from, 0.0, in_mm), vertex(*to, 0.0, in_mm)], false),
            Shape::Circle { centre, radius } => (circle(*centre, *radius, in_mm), true),
            Shape::Arc { centre, radius, start_deg, end_deg, clockwise } => {
                let way = if *clockwise { -1.0 } else { 1.0 };
                arc(point(*centre, in_mm), radius * in_mm, *start_deg, (end_deg - start_deg) * way, way)?
            }
            Shape::Polyline { vertices, closed } => (polyline(vertices, *closed, in_mm), *closed),
            Shape::Ellipse { .. } | Shape::Spline(_) | Shape::Through { .. } | Shape::Insert(_) => {
                return Err(NoPath::NotYet);
            }
        };
        let first = vertices[0].point;
        let (vertices, dropped) = without_zero_lengths(vertices, closed);
        if vertices.len() < 2 {
            return Err(NoPath::ZeroLength(first));
        }
        Ok((Path { line: entity.line, layer: entity.layer.clone(), vertices, closed }, dropped))
    }

    /// Its segments, in order.
    pub(crate) fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        let n = self.vertices.len();
        (0..if self.closed { n } else { n - 1 }).map(move |i| {
            let (from, to) = (self.vertices[i], self.vertices[(i + 1) % n]);
            Segment { from: from.point, to: to.point, bulge: from.bulge }
        })
    }

    /// Its first point.
    pub(crate) fn first(&self) -> Point {
        self.vertices[0].point
    }

    /// Its last point; the first again when closed.
    pub(crate) fn last(&self) -> Point {
        match self.closed {
            true => self.first(),
            false => self.vertices[self.vertices.len() - 1].point,
        }
    }

    /// Its length.
    pub(crate) fn length(&self) -> f64 {
        self.segments().map(|s| s.length()).sum()
    }

    /// An open path travelled the other way.
    pub(crate) fn reversed(&self) -> Vec<Vertex> {
        let n = self.vertices.len();
        let bulge = |i: usize| if i + 1 < n { 0.0 - self.vertices[n - 2 - i].bulge } else { 0.0 };
        (0..n).map(|i| Vertex { point: self.vertices[n - 1 - i].point, bulge: bulge(i) }).collect()
    }
}

fn point(raw: [f64; 2], in_mm: f64) -> Point {
    Point::new(raw[0] * in_mm, raw[1] * in_mm)
}

fn vertex(raw: [f64; 2], bulge: f64, in_mm: f64) -> Vertex {
    Vertex { point: point(raw, in_mm), bulge }
}

/// Two half circles from angle 0.
fn circle(centre: [f64; 2], radius: f64, in_mm: f64) -> Vec<Vertex> {
    [1.0, -1.0].map(|side| vertex([centre[0] + side * radius, centre[1]], 1.0, in_mm)).to_vec()
}

/// An arc from its start angle over a swept angle, taken modulo a full turn, on the side of `way`; closed for the full turn.
fn arc(
    centre: Point,
    radius: f64,
    start_deg: f64,
    swept_deg: f64,
    way: f64,
) -> Result<(Vec<Vertex>, bool), NoPath> {
    let at = |deg: f64| centre + direction(deg) * radius;
    if swept_deg == 0.0 {
        return Err(NoPath::NoSweep(at(start_deg)));
    }
    let modulo = swept_deg.rem_euclid(360.0);
    let closed = modulo == 0.0 || modulo == 360.0;
    let sweep = if closed { 360.0 } else { modulo };
    let pieces = if sweep > 180.0 { 2 } else { 1 };
    let each = sweep / f64::from(pieces);
    let bulge = way * (each.to_radians() / 4.0).tan().min(1.0);
    let mut vertices: Vec<Vertex> =
        (0..pieces).map(|i| Vertex { point: at(start_deg + way * each * f64::from(i)), bulge }).collect();
    if !closed {
        vertices.push(Vertex { point: at(start_deg + way * sweep), bulge: 0.0 });
    }
    Ok((vertices, closed))
}

/// The unit direction at an angle in degrees, exact at quarter turns.
fn direction(deg: f64) -> Vector {
    let turn = deg.rem_euclid(360.0);
    let quarter = (turn / 90.0).floor();
    let within = Vector::at_angle((turn - quarter * 90.0).to_radians());
    (0..quarter as u32 % 4).fold(within, |direction, _| direction.left())
}

fn polyline(raw: &[[f64; 3]], closed: bool, in_mm: f64) -> Vec<Vertex> {
    let mut vertices = Vec::with_capacity(raw.len());
    for (i, &[x, y, bulge]) in raw.iter().enumerate() {
        let from = vertex([x, y], bulge, in_mm);
        if bulge.abs() <= 1.0 || (i + 1 == raw.len() && !closed) {
            vertices.push(from);
            continue;
        }
        let [x, y, _] = raw[(i + 1) % raw.len()];
        let chord = point([x, y], in_mm) - from.point;
        let half = (bulge.atan() / 2.0).tan();
        let apex = from.point + chord * 0.5 - chord.left() * (bulge / 2.0);
        vertices.extend([Vertex { bulge: half, ..from }, Vertex { point: apex, bulge: half }]);
    }
    vertices
}

/// Drops the points after which nothing follows; a chain's first point stays.
fn without_zero_lengths(vertices: Vec<Vertex>, closed: bool) -> (Vec<Vertex>, usize) {
    let before = vertices.len();
    let mut kept: Vec<Vertex> = Vec::with_capacity(before);
    for vertex in vertices {
        match kept.last_mut() {
            Some(last) if last.point.distance(vertex.point) <= NOTHING => last.bulge = vertex.bulge,
            _ => kept.push(vertex),
        }
    }
    while closed && kept.len() > 1 && kept[0].point.distance(kept[kept.len() - 1].point) <= NOTHING {
        kept.pop();
    }
    let dropped = before - kept.len();
    (kept, dropped)
}
