//! Stress along the edges, on the edge itself.
//!
//! The stress across an edge is known: what pushes on it. The stress along it follows from that and from how far the edge has
//! stretched, which is taken from the side's own three nodes at the two places where a quadratic side tells it best. That is
//! far better than the stress of the triangle behind it, whose own stress across the edge misses the known one by as much as its
//! stress along the edge is wrong. Only along a wall, where what pushes is not known, the triangle's is all there is.

use crate::Material;
use crate::element::{Stress, stress};
use crate::load::{Load, pressure};
use crate::mesh::{Mesh, RimSide};
use crate::plate::{along_side, share_slopes, support_of};
use crate::support::Support;
use outline::{Point, Vector};

/// Gauss's two places on -1 to 1.
const BEST: [f64; 2] = [-0.577_350_269_189_625_8, 0.577_350_269_189_625_8];

/// Stress at a place of an edge.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sample {
    pub(crate) at: Point,
    /// How far along the edge, mm.
    pub(crate) way: f64,
    /// Length of edge that it stands for, mm.
    pub(crate) length: f64,
    /// Stress along the edge and across it.
    pub(crate) stress: Stress,
    /// Which side of the loop it is on.
    pub(crate) side: usize,
    /// What a support brings to the stress across the edge: negative where it pushes.
    pub(crate) wall_mpa: f64,
    /// By how much the triangle behind misses what is known: the stress across a free edge, and the shear along any.
    pub(crate) miss_mpa: f64,
}

/// What acts on a plate and what it is made of.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Case<'a> {
    pub(crate) loads: &'a [Load],
    pub(crate) supports: &'a [Support],
    pub(crate) material: &'a Material,
}

/// Stress along one edge, in order of travel.
pub(crate) fn along_edge(mesh: &Mesh, moved: &[Vector], rim: &[RimSide], case: &Case) -> Vec<Sample> {
    let mut samples = Vec::with_capacity(2 * rim.len());
    let mut way = 0.0;
    for (number, side) in rim.iter().enumerate() {
        let length = side.division.length();
        for at in BEST {
            let share = 0.5 * (1.0 + at);
            let place = Sample {
                at: side.division.at(share),
                way: way + share * length,
                length: 0.5 * length,
                side: number,
                stress: Stress::along(0.0, 0.0),
                wall_mpa: 0.0,
                miss_mpa: 0.0,
            };
            samples.push(place.filled(mesh, moved, side, at, case));
        }
        way += length;
    }
    samples
}

impl Sample {
    /// With the stress at a place from -1 to 1 along its side.
    fn filled(self, mesh: &Mesh, moved: &[Vector], side: &RimSide, at: f64, case: &Case) -> Self {
        let way = along_side(mesh, side, at);
        let length = way.length();
        let along = way * (1.0 / length);
        let pushed = -pressure(case.loads, side.division.side.edge, side.division.side.number);
        let behind = behind(mesh, moved, side, at, case.material, along);
        if support_of(side, case.supports).is_some() {
            return Self { stress: behind, wall_mpa: behind.yy - pushed, miss_mpa: behind.xy.abs(), ..self };
        }
        let slopes = side.nodes.into_iter().zip(share_slopes(at));
        let stretched = slopes.map(|(node, slope)| moved[node].dot(along) * slope).sum::<f64>() / length;
        let stress = Stress::along(case.material.along(stretched, pushed), pushed);
        let (across, shear) = (behind.yy - pushed, behind.xy);
        Self { stress, miss_mpa: (across * across + shear * shear).sqrt(), ..self }
    }
}

/// The stress of the triangle behind a side, along it and across it.
fn behind(
    mesh: &Mesh,
    moved: &[Vector],
    side: &RimSide,
    at: f64,
    material: &Material,
    along: Vector,
) -> Stress {
    let nodes = mesh.triangles[side.triangle].nodes;
    let [begins, ends] = [0.5 * (1.0 - at), 0.5 * (1.0 + at)];
    let part = |corner: usize| match nodes[corner] {
        node if node == side.nodes[0] => begins,
        node if node == side.nodes[1] => ends,
        _ => 0.0,
    };
    let corners = nodes.map(|node| mesh.nodes[node]);
    let found = stress(&corners, &nodes.map(|node| moved[node]), [part(1), part(2)], material);
    // Assembly has refused every folded triangle already.
    found.map_or(Stress::along(0.0, 0.0), |s| Stress {
        xx: s.across(along),
        yy: s.across(along.left()),
        xy: s.shear(along),
    })
}
