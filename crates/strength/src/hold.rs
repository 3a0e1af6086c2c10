//! What keeps the plate from floating: rigid supports along their normals, and, where loads balance by themselves, as few fixed
//! directions more as it takes.

use crate::Refusal;
use crate::mesh::Mesh;
use crate::plate::{Plate, along_side, support_of};
use crate::support::{Stiffness, Support};
use outline::{Point, Vector};

/// Two normals at a node that differ by less are one, radians: an arc's neighbouring sides meet to within rounding.
const SAME_NORMAL: f64 = 1e-6;

/// A rigid motion of which less than this is left over by what is held already counts as held.
const HELD: f64 = 1e-6;

/// Share of the loads that may push against nothing: rounding of sums over a closed edge.
const BALANCED: f64 = 1e-9;

/// How one node may move: along its own two axes, each free or fixed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joint {
    /// The first axis; the second lies to its left.
    pub(crate) axis: Vector,
    pub(crate) fixed: [bool; 2],
}

impl Joint {
    const FREE: Joint = Joint { axis: Vector::new(1.0, 0.0), fixed: [false, false] };

    /// Fixes the motion along a normal as well.
    fn fix(&mut self, normal: Vector) {
        match self.fixed {
            [false, false] => *self = Joint { axis: normal, fixed: [true, false] },
            _ => self.fixed[1] |= self.axis.cross(normal).abs() > SAME_NORMAL,
        }
    }

    /// Its axes.
    pub(crate) fn axes(&self) -> [Vector; 2] {
        [self.axis, self.axis.left()]
    }
}

/// The three rigid motions seen from a node in a direction: along x, along y, and turning.
type Row = [f64; 3];

/// Rigid motions that are held already, as perpendicular rows.
struct Blocked {
    rows: Vec<Row>,
    middle: Point,
    scale: f64,
}

/// How each node is held.
///
/// # Errors
/// Loads that push the plate where no support stands.
pub(crate) fn joints(mesh: &Mesh, plate: &Plate, supports: &[Support]) -> Result<Vec<Joint>, Refusal> {
    let mut joints = vec![Joint::FREE; mesh.nodes.len()];
    let mut blocked = Blocked::none(mesh);
    for side in mesh.rims.iter().flatten() {
        let Some(stiffness) = support_of(side, supports) else { continue };
        for (node, at) in side.nodes.into_iter().zip([-1.0, 1.0, 0.0]) {
            let Some(normal) = along_side(mesh, side, at).left().unit() else { continue };
            blocked.block(mesh.nodes[node], normal);
            if stiffness == Stiffness::Rigid {
                joints[node].fix(normal);
            }
        }
    }
    blocked.balanced(mesh, plate)?;
    while blocked.rows.len() < 3 {
        let Some((node, axis)) = blocked.best(mesh, &joints) else { break };
        blocked.block(mesh.nodes[node], joints[node].axes()[axis]);
        joints[node].fixed[axis] = true;
    }
    Ok(joints)
}

impl Blocked {
    fn none(mesh: &Mesh) -> Self {
        let count = mesh.nodes.len().max(1) as f64;
        let origin = Point::new(0.0, 0.0);
        let sum = mesh.nodes.iter().fold(Vector::new(0.0, 0.0), |sum, p| sum + (*p - origin));
        let middle = origin + sum * (1.0 / count);
        let scale = mesh.nodes.iter().map(|p| p.distance(middle)).fold(0.0, f64::max);
        Self { rows: Vec::new(), middle, scale }
    }

    fn row(&self, at: Point, direction: Vector) -> Row {
        [direction.x, direction.y, (at - self.middle).cross(direction) / self.scale]
    }

    /// What is left of a row beside the motions that are held.
    fn rest(&self, mut row: Row) -> (Row, f64) {
        for held in &self.rows {
            let part = dot(held, &row);
            row = std::array::from_fn(|i| row[i] - part * held[i]);
        }
        (row, dot(&row, &row).sqrt())
    }

    fn block(&mut self, at: Point, direction: Vector) {
        if self.rows.len() == 3 {
            return;
        }
        let (rest, size) = self.rest(self.row(at, direction));
        if size > HELD {
            self.rows.push(rest.map(|part| part / size));
        }
    }

    /// Loads must not work on a motion that nothing holds.
    fn balanced(&self, mesh: &Mesh, plate: &Plate) -> Result<(), Refusal> {
        let (mut pushes, mut all) = ([0.0; 3], 0.0);
        for (node, at) in mesh.nodes.iter().enumerate() {
            let force = plate.forces[plate.rank[node]];
            let row = self.row(*at, force);
            pushes = std::array::from_fn(|i| pushes[i] + row[i]);
            all += force.length();
        }
        let (_, left) = self.rest(pushes);
        match left <= BALANCED * all {
            true => Ok(()),
            false => Err(Refusal::Unheld { share: left / all }),
        }
    }

    /// The free axis of a node that holds most of what is not held yet.
    fn best(&self, mesh: &Mesh, joints: &[Joint]) -> Option<(usize, usize)> {
        let mut best = (HELD, None);
        for (node, joint) in joints.iter().enumerate() {
            for (axis, direction) in
                joint.axes().into_iter().enumerate().filter(|(axis, _)| !joint.fixed[*axis])
            {
                let (_, size) = self.rest(self.row(mesh.nodes[node], direction));
                if size > best.0 {
                    best = (size, Some((node, axis)));
                }
            }
        }
        best.1
    }
}

fn dot(a: &Row, b: &Row) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
