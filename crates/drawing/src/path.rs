//! One entity as a path of lines and arcs in mm.
//!
//! Stages: its lines and arcs in drawing units, arcs of more than half a circle split in two, or its curves; put where they come to lie, and
//! fitted where arcs do not stay arcs; segments of no length dropped.

use crate::curves;
use crate::inserts::Placed;
use crate::map::{Map, direction};
use dxf::Shape;
use outline::{Effort, Point, Segment, Vertex};

/// A segment this short has no length, mm: the rounding of coordinates, far below what any drawing means.
pub(crate) const NOTHING: f64 = 1e-9;
/// Curves, and what inserts place, reach no farther from the origin than this, mm: as far as an outline may.
const FARTHEST: f64 = 1e6;

/// The path of one entity.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    /// Line of the entity.
    pub(crate) line: u32,
    pub(crate) layer: String,
    /// Its points; each bulge is that of the segment that leaves the point. The last one's counts only when closed.
    pub(crate) vertices: Vec<Vertex>,
    pub(crate) closed: bool,
    /// What was fitted in it, and how far that lies from the path at most, mm.
    pub(crate) fitted: Option<(Curve, f64)>,
}

/// What was fitted with arcs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Curve {
    /// A spline.
    Spline,
    /// An ellipse, a piece of one, or a circle that an insert has stretched.
    Ellipse,
    /// Chords that stood for an arc.
    Facets,
}

/// Why an entity has no path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum NoPath {
    /// It has no length; it lies at the point.
    ZeroLength(Point),
    /// An arc that ends where it begins, at the point.
    NoSweep(Point),
    /// It lies this far out, mm.
    Absurd(f64),
    /// It takes too many arcs; here it was given up.
    TooWinding(Point),
}

/// Vertices in mm, whether they close, and what was fitted.
pub(crate) type Made = (Vec<Vertex>, bool, Option<(Curve, f64)>);

impl Path {
    /// The path of an entity, and how many of its segments had no length.
    ///
    /// # Errors
    /// When nothing is left of it.
    pub(crate) fn new(placed: &Placed, effort: &mut Effort) -> Result<(Path, usize), NoPath> {
        let map = &placed.map;
        let (vertices, closed, fitted) = match placed.shape {
            Shape::Line { from, to } => {
                chain(&[[from[0], from[1], 0.0], [to[0], to[1], 0.0]], false, map, effort)?
            }
            Shape::Circle { centre, radius } => chain(&circle(*centre, *radius), true, map, effort)?,
            Shape::Arc { centre, radius, start_deg, end_deg, clockwise } => {
                let way = if *clockwise { -1.0 } else { 1.0 };
                let swept = (end_deg - start_deg) * way;
                let (vertices, closed) = arc(*centre, *radius, *start_deg, swept, way)
                    .ok_or_else(|| NoPath::NoSweep(map.place(on_circle(*centre, *radius, *start_deg))))?;
                chain(&vertices, closed, map, effort)?
            }
            Shape::Polyline { vertices, closed } => chain(&halved(vertices, *closed), *closed, map, effort)?,
            Shape::Ellipse { centre, major, minor, from, to } => {
                curves::ellipse(*centre, [*major, *minor], *from, *to, map, effort)?
            }
            Shape::Spline(spline) => curves::spline(spline, map, effort)?,
            Shape::Through { points, directions, closed } => {
                curves::through(points, *directions, *closed, map, effort)?
            }
            // Inserts are carried out before.
            Shape::Insert(insert) => return Err(NoPath::ZeroLength(map.place(insert.at))),
        };
        let Some(first) = vertices.first().map(|vertex| vertex.point) else {
            return Err(NoPath::ZeroLength(map.at));
        };
        let (vertices, dropped) = without_zero_lengths(vertices, closed);
        if vertices.len() < 2 {
            return Err(NoPath::ZeroLength(first));
        }
        Ok((Path { line: placed.line, layer: placed.layer.to_owned(), vertices, closed, fitted }, dropped))
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

/// How far out places may lie, and that they are places.
///
/// # Errors
/// The farthest coordinate, when it is too far.
pub(crate) fn within_reach(places: impl Iterator<Item = Point>) -> Result<(), NoPath> {
    let far = places.fold(0.0, |most: f64, place| match place.is_finite() {
        true => most.max(place.x.abs()).max(place.y.abs()),
        false => f64::INFINITY,
    });
    if far > FARTHEST { Err(NoPath::Absurd(far)) } else { Ok(()) }
}

/// Lines and arcs of at most half a circle put where they come to lie. Arcs that do not stay arcs are fitted.
fn chain(raw: &[[f64; 3]], closed: bool, map: &Map, effort: &mut Effort) -> Result<Made, NoPath> {
    let place = |i: usize| map.place([raw[i][0], raw[i][1]]);
    let bends = raw.iter().any(|vertex| vertex[2] != 0.0);
    if let Some(sense) = map.sense().or((!bends).then_some(1.0)) {
        // A bulge of 0 stays 0 and does not become -0.
        let bulge = |i: usize| if raw[i][2] == 0.0 { 0.0 } else { sense * raw[i][2] };
        let vertices = (0..raw.len()).map(|i| Vertex { point: place(i), bulge: bulge(i) });
        return Ok((vertices.collect(), closed, None));
    }
    within_reach((0..raw.len()).map(place))?;
    let mut vertices = Vec::new();
    let mut deviation = 0.0f64;
    let segments = if closed { raw.len() } else { raw.len() - 1 };
    for i in 0..segments {
        let next = raw[(i + 1) % raw.len()];
        let from = Vertex { point: place(i), bulge: 0.0 };
        match raw[i][2] == 0.0 || raw[i][..2] == next[..2] {
            true => vertices.push(from),
            false => {
                let (fitted, by) = curves::stretched_arc(raw[i], [next[0], next[1]], map, effort)?;
                deviation = deviation.max(by);
                vertices.extend(fitted);
            }
        }
    }
    if !closed {
        vertices.push(Vertex { point: place(raw.len() - 1), bulge: 0.0 });
    }
    Ok((vertices, closed, Some((Curve::Ellipse, deviation))))
}

/// Two half circles from angle 0.
fn circle([x, y]: [f64; 2], radius: f64) -> [[f64; 3]; 2] {
    [1.0, -1.0].map(|side| [x + side * radius, y, 1.0])
}

fn on_circle(centre: [f64; 2], radius: f64, deg: f64) -> [f64; 2] {
    let out = direction(deg) * radius;
    [centre[0] + out.x, centre[1] + out.y]
}

/// An arc from its start angle over a swept angle, taken modulo a full turn, on the side of `way`; closed for the full turn. None if it
/// ends where it begins.
fn arc(
    centre: [f64; 2],
    radius: f64,
    start_deg: f64,
    swept_deg: f64,
    way: f64,
) -> Option<(Vec<[f64; 3]>, bool)> {
    if swept_deg == 0.0 {
        return None;
    }
    let modulo = swept_deg.rem_euclid(360.0);
    let closed = modulo == 0.0 || modulo == 360.0;
    let sweep = if closed { 360.0 } else { modulo };
    let pieces = if sweep > 180.0 { 2 } else { 1 };
    let each = sweep / f64::from(pieces);
    let at = |deg: f64, bulge: f64| {
        let [x, y] = on_circle(centre, radius, deg);
        [x, y, bulge]
    };
    let bulge = way * (each.to_radians() / 4.0).tan().min(1.0);
    let mut vertices: Vec<[f64; 3]> =
        (0..pieces).map(|i| at(start_deg + way * each * f64::from(i), bulge)).collect();
    if !closed {
        vertices.push(at(start_deg + way * sweep, 0.0));
    }
    Some((vertices, closed))
}

/// The vertices of a polyline with arcs of more than half a circle split at their middles.
fn halved(raw: &[[f64; 3]], closed: bool) -> Vec<[f64; 3]> {
    let mut vertices = Vec::with_capacity(raw.len());
    for (i, &[x, y, bulge]) in raw.iter().enumerate() {
        if bulge.abs() <= 1.0 || (i + 1 == raw.len() && !closed) {
            vertices.push([x, y, bulge]);
            continue;
        }
        let from = Point::new(x, y);
        let [x, y, _] = raw[(i + 1) % raw.len()];
        let chord = Point::new(x, y) - from;
        let half = (bulge.atan() / 2.0).tan();
        let apex = from + chord * 0.5 - chord.left() * (bulge / 2.0);
        vertices.extend([[from.x, from.y, half], [apex.x, apex.y, half]]);
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
