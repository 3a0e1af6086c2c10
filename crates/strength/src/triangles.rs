//! The plate filled with triangles, none longer than asked for and none slender.
//!
//! Stages: the divisions of the edges as a constrained triangulation; then passes over all triangles inside. The middle of
//! the circle round a triangle that is too large or too slender becomes a vertex, unless an edge lies between or is too near: then
//! that division of the edge is halved instead, on the true arc. (After Ruppert, "A Delaunay refinement algorithm for
//! quality 2-dimensional mesh generation", 1995; from memory.)

use crate::Refusal;
use crate::region::Region;
use crate::rim::{Division, divided};
use crate::size::Size;
use outline::Point;
use spade::handles::{FixedVertexHandle, VertexHandle};
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, PositionInTriangulation, Triangulation};
use std::collections::BTreeMap;

/// Radius of the circle round a triangle, as a share of the length asked for: with equal sides of that length 0.577; random ones
/// of this radius have them on average.
const LARGEST_RADIUS: f64 = 0.7;

/// Radius over shortest side above which a triangle is slender: its least angle is then below 20.7 degrees, and filling is
/// known to end.
const SLENDER: f64 = std::f64::consts::SQRT_2;

/// A new vertex keeps this share of its circle's radius from others, so that two of one pass are not side by side.
const APART: f64 = 0.8;

/// A division of an edge is halved for the sake of shape down to this share of the length asked for there: a wall thinner than
/// that gets slender triangles, and an acute corner does not go on for ever.
const SHORTEST_SHARE: f64 = 1.0 / 64.0;

/// Passes over all triangles; each brings the largest down by about a third.
const MOST_PASSES: usize = 60;

pub(crate) type Net = ConstrainedDelaunayTriangulation<Point2<f64>>;

/// A filled plate.
#[derive(Debug)]
pub(crate) struct Filled {
    pub(crate) net: Net,
    /// For each vertex on an edge the next one and the division between them.
    pub(crate) rim: BTreeMap<usize, (usize, Division)>,
    /// The first vertex of each edge.
    pub(crate) starts: Vec<usize>,
}

/// A triangle that will not do.
struct Poor {
    /// The middle of its circle, and its own.
    circle: Point,
    centre: Point,
    radius: f64,
    near: FixedVertexHandle,
}

/// Fills a plate with triangles no larger than asked for.
///
/// # Errors
/// A wall thinner than the sagitta of what bounds it, and more than about `most` triangles.
pub(crate) fn filled(region: &Region, size: &Size, most: usize) -> Result<Filled, Refusal> {
    let mut filled = Filled::edges(&divided(region, size))?;
    for _ in 0..MOST_PASSES {
        let poor = filled.poor(size);
        let before = filled.net.num_vertices();
        for triangle in poor {
            filled.mend(&triangle, size)?;
        }
        let after = filled.net.num_vertices();
        if after == before || after > most {
            break;
        }
    }
    Ok(filled)
}

impl Filled {
    /// Only the edges.
    fn edges(loops: &[Vec<Division>]) -> Result<Self, Refusal> {
        let mut points = Vec::new();
        let (mut rim, mut starts) = (BTreeMap::new(), Vec::new());
        for divisions in loops {
            let start = points.len();
            starts.push(start);
            for (i, division) in divisions.iter().enumerate() {
                points.push(placed(division.at(0.0)));
                rim.insert(start + i, (start + (i + 1) % divisions.len(), *division));
            }
        }
        let sides = rim.iter().map(|(from, (to, _))| [*from, *to]).collect();
        let mut crossing = None;
        let count = points.len();
        let made = Net::try_bulk_load_cdt(points, sides, |side| crossing = crossing.or(Some(side[0])));
        let thin = |vertex: usize| {
            let at = rim.get(&vertex).map_or(Point::new(0.0, 0.0), |(_, division)| division.at(0.0));
            Refusal::TooThin { at }
        };
        let net = made.map_err(|_| thin(0))?;
        if let Some(vertex) = crossing {
            return Err(thin(vertex));
        }
        if net.num_vertices() != count {
            return Err(thin(0));
        }
        Ok(Self { net, rim, starts })
    }

    /// Which faces lie in the plate: from outside in, each edge of the plate that is crossed changes sides.
    pub(crate) fn inside(&self) -> Vec<bool> {
        let mut known: Vec<Option<bool>> = vec![None; self.net.num_all_faces()];
        let mut next = Vec::new();
        for edge in self.net.convex_hull() {
            let faces = [edge, edge.rev()].into_iter().filter_map(|e| e.face().as_inner());
            next.extend(faces.map(|face| (face, edge.is_constraint_edge())));
        }
        while let Some((face, inside)) = next.pop() {
            if known[face.index()].is_some() {
                continue;
            }
            known[face.index()] = Some(inside);
            for edge in face.adjacent_edges() {
                let beyond = edge.rev().face().as_inner();
                next.extend(beyond.map(|face| (face, inside ^ edge.is_constraint_edge())));
            }
        }
        known.into_iter().map(|inside| inside == Some(true)).collect()
    }

    fn poor(&self, size: &Size) -> Vec<Poor> {
        let inside = self.inside();
        let mut poor = Vec::new();
        for face in self.net.inner_faces().filter(|face| inside[face.index()]) {
            let centre = read(face.center());
            let asked = size.at(centre);
            let (middle, square) = face.circumcircle();
            let (circle, radius) = (read(middle), square.sqrt());
            let sides = face.adjacent_edges().map(|edge| edge.length_2().sqrt());
            let shortest = sides.into_iter().fold(f64::INFINITY, f64::min);
            let slender = radius > SLENDER * shortest;
            if radius > LARGEST_RADIUS * asked || slender {
                let [vertex, ..] = face.vertices();
                poor.push(Poor { circle, centre, radius, near: vertex.fix() });
            }
        }
        poor.sort_by(|a, b| b.radius.total_cmp(&a.radius));
        poor
    }

    /// Puts a vertex in the middle of a poor triangle's circle, or halves the division of an edge that is in the way.
    fn mend(&mut self, poor: &Poor, size: &Size) -> Result<(), Refusal> {
        if let Some(between) = self.between(poor.centre, poor.circle) {
            return self.split(between, size);
        }
        let PositionInTriangulation::OnFace(face) = self.net.locate_with_hint(placed(poor.circle), poor.near)
        else {
            return Ok(());
        };
        let face = self.net.face(face);
        let near = |v: &VertexHandle<'_, Point2<f64>, (), _, ()>| read(v.position()).distance(poor.circle);
        if face.vertices().iter().any(|v| near(v) < APART * poor.radius) {
            return Ok(());
        }
        let encroached = face.adjacent_edges().into_iter().find(|edge| {
            let [a, b] = edge.positions().map(read);
            edge.is_constraint_edge() && (a - poor.circle).dot(b - poor.circle) < 0.0
        });
        if let Some(edge) = encroached {
            let [a, b] = edge.vertices().map(|v| v.fix().index());
            return self.split((a, b), size);
        }
        // Coordinates that spade does not take were refused with the edges already.
        let _ = self.net.insert_with_hint(placed(poor.circle), poor.near);
        Ok(())
    }

    /// The first side of an edge between two places.
    fn between(&self, from: Point, to: Point) -> Option<(usize, usize)> {
        let edge = self.net.get_conflicting_edges_between_points(placed(from), placed(to)).next()?;
        let [a, b] = edge.vertices().map(|v| v.fix().index());
        Some((a, b))
    }

    /// Halves the division between two vertices of an edge, unless it is short enough.
    fn split(&mut self, (a, b): (usize, usize), size: &Size) -> Result<(), Refusal> {
        let from = if self.rim.get(&a).is_some_and(|(next, _)| *next == b) { a } else { b };
        let Some(&(to, division)) = self.rim.get(&from) else { return Ok(()) };
        let middle = division.middle();
        if division.length() < 2.0 * SHORTEST_SHARE * size.at(middle) {
            return Ok(());
        }
        let thin = || Refusal::TooThin { at: middle };
        let ends = [from, to].map(FixedVertexHandle::from_index);
        let edge = self.net.get_edge_from_neighbors(ends[0], ends[1]).ok_or_else(thin)?;
        let edge = edge.as_undirected().fix();
        self.net.remove_constraint_edge(edge);
        let new = self.net.insert_with_hint(placed(middle), ends[0]).map_err(|_| thin())?;
        for (one, other) in [(ends[0], new), (new, ends[1])] {
            if one == other || !self.net.can_add_constraint(one, other) {
                return Err(thin());
            }
            self.net.add_constraint(one, other);
        }
        let [first, second] = division.halves();
        self.rim.insert(from, (new.index(), first));
        self.rim.insert(new.index(), (to, second));
        Ok(())
    }
}

fn placed(point: Point) -> Point2<f64> {
    Point2::new(point.x, point.y)
}

fn read(point: Point2<f64>) -> Point {
    Point::new(point.x, point.y)
}

/// The position of a vertex.
pub(crate) fn position(vertex: &impl HasPosition<Scalar = f64>) -> Point {
    read(vertex.position())
}
