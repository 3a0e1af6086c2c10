//! What the walls do: the forces on their nodes that balance what the plate's stress asks for there, which is far surer than a
//! sum of stresses over coarse triangles; and where they would have to pull.

use crate::edge_stress::{Case, Sample};
use crate::element::stiffness;
use crate::mesh::Mesh;
use crate::plate::{Plate, along_side, support_of};
use crate::support::{Held, Support};
use outline::Vector;
use std::collections::BTreeMap;

/// Two walls whose normals differ by less share the force on the node between them evenly, radians.
const ONE_WALL: f64 = 0.035;

/// The segments that a node leans on, each with its normal into the plate.
type Leaning = BTreeMap<usize, Vec<(usize, Vector)>>;

/// What each support does, in the order given.
pub(crate) fn held(mesh: &Mesh, plate: &Plate, moved: &[Vector], outer: &[Sample], case: &Case) -> Vec<Held> {
    let mut forces: BTreeMap<usize, f64> = BTreeMap::new();
    let pushes = pushes(mesh, plate, moved, case);
    for (node, walls) in leaning(mesh, case.supports) {
        for (segment, force) in shared(pushes[node], &walls) {
            *forces.entry(segment).or_insert(0.0) += force;
        }
    }
    let one = |support: &Support| {
        let on_it = |s: &&Sample| mesh.rims[0][s.side].division.side.number == support.segment;
        Held {
            segment: support.segment,
            force_n_per_mm: forces.get(&support.segment).copied().unwrap_or(0.0),
            pulling_mm: outer.iter().filter(on_it).filter(|s| s.wall_mpa > 0.0).map(|s| s.length).sum(),
        }
    };
    case.supports.iter().map(one).collect()
}

/// For each node what the triangles around it ask for beyond the loads.
fn pushes(mesh: &Mesh, plate: &Plate, moved: &[Vector], case: &Case) -> Vec<Vector> {
    let mut pushes: Vec<Vector> = (0..mesh.nodes.len()).map(|node| -plate.forces[plate.rank[node]]).collect();
    for triangle in &mesh.triangles {
        let corners = triangle.nodes.map(|node| mesh.nodes[node]);
        // Assembly has refused every folded triangle already.
        let Some(blocks) = stiffness(&corners, triangle.curved, case.material) else { continue };
        for (node, row) in triangle.nodes.into_iter().zip(&blocks) {
            for (other, block) in triangle.nodes.into_iter().zip(row) {
                let u = moved[other];
                let force = Vector::new(block[0] * u.x + block[1] * u.y, block[2] * u.x + block[3] * u.y);
                pushes[node] = pushes[node] + force;
            }
        }
    }
    pushes
}

fn leaning(mesh: &Mesh, supports: &[Support]) -> Leaning {
    let mut leaning = Leaning::new();
    for side in mesh.rims[0].iter().filter(|side| support_of(side, supports).is_some()) {
        let segment = side.division.side.number;
        for (node, at) in side.nodes.into_iter().zip([-1.0, 1.0, 0.0]) {
            let walls = leaning.entry(node).or_default();
            if let (Some(normal), true) =
                (along_side(mesh, side, at).left().unit(), walls.iter().all(|w| w.0 != segment))
            {
                walls.push((segment, normal));
            }
        }
    }
    leaning
}

/// The force on a node, taken apart along the normals of the walls that it leans on.
fn shared(push: Vector, walls: &[(usize, Vector)]) -> Vec<(usize, f64)> {
    match walls {
        [(one, n), (other, m)] if n.cross(*m).abs() > ONE_WALL => {
            let both = n.cross(*m);
            vec![(*one, push.cross(*m) / both), (*other, n.cross(push) / both)]
        }
        _ => walls.iter().map(|(segment, n)| (*segment, push.dot(*n) / walls.len() as f64)).collect(),
    }
}
