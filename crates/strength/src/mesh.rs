//! Six-node triangles over a plate: corners, and the middle of each side; on an edge of the plate that middle lies on the true arc.

use crate::Refusal;
use crate::region::Region;
use crate::rim::Division;
use crate::size::Size;
use crate::triangles::{Filled, filled, position};
use outline::Point;
use spade::Triangulation;

/// A triangle: three corners counter-clockwise, then the middle of the side after each.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Triangle {
    pub(crate) nodes: [usize; 6],
    /// Whether one of its sides bends.
    pub(crate) curved: bool,
}

/// A side of a triangle on an edge of the plate, which lies to its left.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RimSide {
    /// Where it begins, ends, and its middle.
    pub(crate) nodes: [usize; 3],
    pub(crate) triangle: usize,
    pub(crate) division: Division,
}

/// A plate in triangles.
#[derive(Debug)]
pub(crate) struct Mesh {
    pub(crate) nodes: Vec<Point>,
    pub(crate) triangles: Vec<Triangle>,
    /// The sides along each edge, in order of travel.
    pub(crate) rims: Vec<Vec<RimSide>>,
}

impl Mesh {
    /// Triangles over a plate, no larger than asked for.
    ///
    /// # Errors
    /// A wall too thin to be divided.
    pub(crate) fn new(region: &Region, size: &Size, most: usize) -> Result<Self, Refusal> {
        Ok(Self::of(&filled(region, size, most)?))
    }

    fn of(filled: &Filled) -> Self {
        let net = &filled.net;
        let inside = filled.inside();
        let mut nodes: Vec<Point> = net.vertices().map(|v| position(v.data())).collect();
        let mut middles: Vec<Option<usize>> = vec![None; net.num_undirected_edges()];
        let mut owners: Vec<Option<usize>> = vec![None; net.num_directed_edges()];
        let mut triangles = Vec::new();
        for face in net.inner_faces().filter(|face| inside[face.index()]) {
            let mut own = [0; 6];
            for (i, edge) in face.adjacent_edges().into_iter().enumerate() {
                own[i] = edge.from().index();
                let middle = &mut middles[edge.as_undirected().index()];
                own[3 + i] = *middle.get_or_insert_with(|| {
                    let [a, b] = edge.positions();
                    nodes.push(Point::new(0.5 * (a.x + b.x), 0.5 * (a.y + b.y)));
                    nodes.len() - 1
                });
                owners[edge.index()] = Some(triangles.len());
            }
            triangles.push(Triangle { nodes: own, curved: false });
        }
        let mut mesh = Self { nodes, triangles, rims: Vec::new() };
        for &start in &filled.starts {
            let rim = mesh.rim(filled, start, &middles, &owners);
            mesh.rims.push(rim);
        }
        mesh
    }

    /// The sides along one edge; their middles are moved onto the true arcs.
    fn rim(
        &mut self,
        filled: &Filled,
        start: usize,
        middles: &[Option<usize>],
        owners: &[Option<usize>],
    ) -> Vec<RimSide> {
        let mut sides = Vec::new();
        let mut from = start;
        while let Some(&(to, division)) = filled.rim.get(&from) {
            let ends = [from, to].map(spade::handles::FixedVertexHandle::from_index);
            let edge = filled.net.get_edge_from_neighbors(ends[0], ends[1]);
            let found = edge.and_then(|e| Some((owners[e.index()]?, middles[e.as_undirected().index()]?)));
            if let Some((triangle, middle)) = found {
                if !division.side.segment.is_line() {
                    self.nodes[middle] = division.middle();
                    self.triangles[triangle].curved = true;
                }
                sides.push(RimSide { nodes: [from, to, middle], triangle, division });
            }
            from = to;
            if from == start {
                break;
            }
        }
        sides
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Edge;
    use outline::{Outline, Vertex};

    fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
        Outline::new(vertices.iter().map(|&(x, y, bulge)| Vertex::new(x, y, bulge)).collect()).unwrap()
    }

    fn area(mesh: &Mesh) -> f64 {
        let of = |t: &Triangle| {
            let [a, b, c, ..] = t.nodes.map(|node| mesh.nodes[node]);
            0.5 * (b - a).cross(c - a)
        };
        let whole: f64 = mesh.triangles.iter().map(of).sum();
        // Between chord and parabola of a bent side: two thirds of the triangle over its middle.
        let cap = |side: &RimSide| {
            let [from, to, middle] = side.nodes.map(|node| mesh.nodes[node]);
            2.0 / 3.0 * (middle - from).cross(to - from)
        };
        whole + mesh.rims.iter().flatten().map(cap).sum::<f64>()
    }

    fn least_degrees(mesh: &Mesh) -> f64 {
        let of = |t: &Triangle| {
            let corners = t.nodes.map(|node| mesh.nodes[node]);
            let angle = |i: usize| {
                let (one, other) = (corners[(i + 1) % 3] - corners[i], corners[(i + 2) % 3] - corners[i]);
                one.cross(other).atan2(one.dot(other)).to_degrees()
            };
            (0..3).map(angle).fold(f64::INFINITY, f64::min)
        };
        mesh.triangles.iter().map(of).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn triangles_cover_the_plate_and_none_is_slender() {
        let block = outline(&[(-12.0, -8.0, 0.0), (12.0, -8.0, 0.0), (12.0, 8.0, 0.0), (-12.0, 8.0, 0.0)]);
        let slot = outline(&[(-1.0, -0.1, 0.0), (1.0, -0.1, 1.0), (1.0, 0.1, 0.0), (-1.0, 0.1, 1.0)]);
        let hole = outline(&[(3.0, 6.5, 1.0), (5.0, 6.5, 1.0)]);
        let hollow = slot.area() + hole.area();
        let region = Region::new(block, vec![slot, hole]).unwrap();
        let mesh = Mesh::new(&region, &Size::of(&region), 20_000).unwrap();
        assert!((area(&mesh) - (384.0 - hollow)).abs() < 1e-3 * hollow, "{}", area(&mesh));
        assert!(least_degrees(&mesh) > 20.0, "{}", least_degrees(&mesh));
        // Euler's formula for a plate with two openings: corners - sides + triangles = 1 - 2; a middle is a side.
        let corners = mesh
            .triangles
            .iter()
            .flat_map(|t| t.nodes[..3].to_vec())
            .collect::<std::collections::BTreeSet<_>>()
            .len();
        let sides = mesh.nodes.len() - corners;
        assert_eq!((corners + mesh.triangles.len()) as i64 - sides as i64, -1);
    }

    #[test]
    fn each_edge_is_travelled_round_with_the_plate_on_the_left() {
        let ring = outline(&[(-3.0, 0.0, 1.0), (3.0, 0.0, 1.0)]);
        let region = Region::new(ring.scaled(Point::new(0.0, 0.0), 2.0).unwrap(), vec![ring]).unwrap();
        let mesh = Mesh::new(&region, &Size::of(&region), 20_000).unwrap();
        for (rim, edge, radius) in [(&mesh.rims[0], Edge::Outer, 6.0), (&mesh.rims[1], Edge::Opening(0), 3.0)]
        {
            for (side, next) in rim.iter().zip(rim.iter().cycle().skip(1)) {
                assert_eq!(side.nodes[1], next.nodes[0]);
                assert_eq!(side.division.side.edge, edge);
                let middle = mesh.nodes[side.nodes[2]];
                assert!((middle.distance(Point::new(0.0, 0.0)) - radius).abs() < 1e-12);
                let corners = mesh.triangles[side.triangle].nodes;
                assert!(side.nodes.iter().all(|node| corners.contains(node)));
            }
        }
    }
}
