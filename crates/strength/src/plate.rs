//! The whole plate: stiffness between all pairs of nodes that share a triangle, in the order in which they will be eliminated, and the
//! forces on them.

use crate::element::{Block, stiffness};
use crate::load::{Load, pressure};
use crate::mesh::{Mesh, RimSide};
use crate::region::Edge;
use crate::support::{Stiffness, Support, along};
use crate::{Material, Refusal};
use outline::{Point, Vector};

/// Places and weights of Gauss's rule with three places on -1 to 1: exact up to degree 5.
const ALONG: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// Stiffness and forces of a plate that nothing rigid holds yet.
#[derive(Debug)]
pub(crate) struct Plate {
    /// Where each node stands in the order of elimination.
    pub(crate) rank: Vec<usize>,
    /// For each rank, where its blocks begin.
    pub(crate) starts: Vec<usize>,
    /// The ranks, up to its own and rising, that each rank has a block with: row of the block the other, column its own.
    pub(crate) others: Vec<usize>,
    pub(crate) blocks: Vec<Block>,
    /// Force on each rank, N for each mm of thickness.
    pub(crate) forces: Vec<Vector>,
}

impl Plate {
    /// The plate with its loads and springy supports.
    ///
    /// # Errors
    /// A triangle that its bent side folds over: the plate is thinner there than the arc is deep.
    pub(crate) fn new(
        mesh: &Mesh,
        loads: &[Load],
        supports: &[Support],
        material: &Material,
    ) -> Result<Self, Refusal> {
        let mut plate = Self::empty(mesh);
        for triangle in &mesh.triangles {
            let corners = triangle.nodes.map(|node| mesh.nodes[node]);
            let thin = || Refusal::TooThin { at: corners[0] };
            let own = stiffness(&corners, triangle.curved, material).ok_or_else(thin)?;
            for (row, a) in own.iter().zip(triangle.nodes) {
                for (block, b) in row.iter().zip(triangle.nodes) {
                    plate.add(a, b, *block);
                }
            }
        }
        for side in mesh.rims.iter().flatten() {
            plate.load(mesh, side, loads);
            plate.spring(mesh, side, supports);
        }
        Ok(plate)
    }

    fn empty(mesh: &Mesh) -> Self {
        let count = mesh.nodes.len();
        let mut touching: Vec<Vec<usize>> = vec![Vec::with_capacity(20); count];
        for triangle in &mesh.triangles {
            for a in triangle.nodes {
                touching[a].extend(triangle.nodes);
            }
        }
        for nodes in &mut touching {
            nodes.sort_unstable();
            nodes.dedup();
        }
        let rank = ranks(&touching);
        let mut upper: Vec<Vec<usize>> = vec![Vec::new(); count];
        for (node, others) in touching.iter().enumerate() {
            let own = rank[node];
            upper[own].extend(others.iter().map(|&other| rank[other]).filter(|&other| other <= own));
            upper[own].sort_unstable();
        }
        let mut starts = vec![0];
        let mut others = Vec::new();
        for column in &upper {
            others.extend(column);
            starts.push(others.len());
        }
        let blocks = vec![[0.0; 4]; others.len()];
        Self { rank, starts, others, blocks, forces: vec![Vector::new(0.0, 0.0); count] }
    }

    /// Adds to the block of two nodes, row `a`; each pair is kept once, so one of the two ways round is passed over.
    fn add(&mut self, a: usize, b: usize, block: Block) {
        let (row, column) = (self.rank[a], self.rank[b]);
        if row > column {
            return;
        }
        let start = self.starts[column];
        if let Ok(at) = self.others[start..self.starts[column + 1]].binary_search(&row) {
            for (sum, part) in self.blocks[start + at].iter_mut().zip(block) {
                *sum += part;
            }
        }
    }

    fn load(&mut self, mesh: &Mesh, side: &RimSide, loads: &[Load]) {
        let pressure = pressure(loads, side.division.side.edge, side.division.side.number);
        if pressure == 0.0 {
            return;
        }
        for (at, weight) in ALONG {
            // The plate lies to the left: inward, and as long as the way.
            let inward = along_side(mesh, side, at).left();
            for (node, share) in side.nodes.into_iter().zip(shares(at)) {
                let rank = self.rank[node];
                self.forces[rank] = self.forces[rank] + inward * (weight * share * pressure);
            }
        }
    }

    fn spring(&mut self, mesh: &Mesh, side: &RimSide, supports: &[Support]) {
        let Some(Stiffness::Springy(stiffness)) = support_of(side, supports) else { return };
        for (at, weight) in ALONG {
            let way = along_side(mesh, side, at);
            let normal = way.left();
            let length = way.length();
            for (a, share) in side.nodes.into_iter().zip(shares(at)) {
                for (b, other) in side.nodes.into_iter().zip(shares(at)) {
                    let by = weight * stiffness * share * other / length;
                    let (x, y) = (normal.x, normal.y);
                    self.add(a, b, [by * x * x, by * x * y, by * x * y, by * y * y]);
                }
            }
        }
    }
}

/// The support that a side leans on.
pub(crate) fn support_of(side: &RimSide, supports: &[Support]) -> Option<Stiffness> {
    let of = side.division.side;
    (of.edge == Edge::Outer).then(|| along(supports, of.number)).flatten()
}

/// What each node of a side counts for at a place from -1 to 1 along it.
pub(crate) fn shares(at: f64) -> [f64; 3] {
    [0.5 * at * (at - 1.0), 0.5 * at * (at + 1.0), 1.0 - at * at]
}

/// How that changes along the side.
pub(crate) fn share_slopes(at: f64) -> [f64; 3] {
    [at - 0.5, at + 0.5, -2.0 * at]
}

/// The way along a side for each unit of the place along it.
pub(crate) fn along_side(mesh: &Mesh, side: &RimSide, at: f64) -> Vector {
    let [from, to, middle]: [Point; 3] = side.nodes.map(|node| mesh.nodes[node]);
    let [_, by_to, by_middle] = share_slopes(at);
    (to - from) * by_to + (middle - from) * by_middle
}

/// The order of elimination that fills in least, by approximate minimum degree.
fn ranks(touching: &[Vec<usize>]) -> Vec<usize> {
    let mut starts = vec![0];
    let mut others = Vec::new();
    for nodes in touching {
        others.extend(nodes);
        starts.push(others.len());
    }
    match amd::order(touching.len(), &starts, &others, &amd::Control::default()) {
        Ok((_, ranks, _)) => ranks,
        // Only a graph that is not one is refused; any order gives the same answer, more slowly.
        Err(_) => (0..touching.len()).collect(),
    }
}
