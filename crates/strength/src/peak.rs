//! The worst place: along the edges, where it nearly always is, and inside.
//!
//! Between the places where the stress along an edge is best known runs a parabola through the greatest and its neighbours.

use crate::Edge;
use crate::edge_stress::{Case, Sample};
use crate::element::{Stress, stress};
use crate::mesh::{Mesh, RimSide};
use crate::unjudged::{Unjudged, middle};
use outline::{Point, Vector};

/// Where something was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// On a segment of an edge.
    Edge {
        /// Which edge.
        edge: Edge,
        /// Which segment of it, counted from the outline's first vertex.
        segment: usize,
    },
    /// Inside the plate.
    Inside,
}

/// A greatest stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// The stress, MPa.
    pub mpa: f64,
    /// Where it is, to half a triangle's side.
    pub at: Point,
    /// On which edge, if on one.
    pub place: Place,
}

/// The greatest of a measure along the edges and inside.
pub(crate) fn peak(
    mesh: &Mesh,
    edges: &[Vec<Sample>],
    inside: &[Stress],
    leave_out: &[Unjudged],
    measure: &dyn Fn(&Stress) -> f64,
) -> Option<Peak> {
    let mut best: Option<Peak> = None;
    let mut offer = |peak: Peak| {
        if best.is_none_or(|known| peak.mpa > known.mpa) {
            best = Some(peak);
        }
    };
    let judged = |at: Point| !leave_out.iter().any(|place| place.holds(at));
    for (rim, samples) in mesh.rims.iter().zip(edges) {
        let values: Vec<f64> = samples.iter().map(|sample| measure(&sample.stress)).collect();
        for (i, sample) in samples.iter().enumerate().filter(|(_, sample)| judged(sample.at)) {
            let of = rim[sample.side].division.side;
            let place = Place::Edge { edge: of.edge, segment: of.number };
            offer(Peak { mpa: crest(rim, samples, &values, i), at: sample.at, place });
        }
    }
    for (triangle, stress) in inside.iter().enumerate() {
        let at = middle(mesh, triangle);
        if judged(at) {
            offer(Peak { mpa: measure(stress), at, place: Place::Inside });
        }
    }
    best
}

/// The stress in the middle of each triangle.
pub(crate) fn inside(mesh: &Mesh, moved: &[Vector], case: &Case) -> Vec<Stress> {
    let at_middle = |nodes: [usize; 6]| {
        let corners = nodes.map(|node| mesh.nodes[node]);
        let third = 1.0 / 3.0;
        // Assembly has refused every folded triangle already.
        stress(&corners, &nodes.map(|node| moved[node]), [third, third], case.material)
            .unwrap_or(Stress::along(0.0, 0.0))
    };
    mesh.triangles.iter().map(|triangle| at_middle(triangle.nodes)).collect()
}

/// The top of the parabola through a place of an edge and its neighbours, if it is the greatest of them; else its own value.
fn crest(rim: &[RimSide], samples: &[Sample], values: &[f64], at: usize) -> f64 {
    let count = samples.len();
    let (before, after) = ((at + count - 1) % count, (at + 1) % count);
    let (low, top, high) = (values[before], values[at], values[after]);
    if top < low || top < high || count < 3 {
        return top;
    }
    let round: f64 = rim.iter().map(|side| side.division.length()).sum();
    let back = (samples[at].way - samples[before].way).rem_euclid(round);
    let forth = (samples[after].way - samples[at].way).rem_euclid(round);
    // top + slope s - bend s^2 through (-back, low) and (forth, high).
    let (fall_back, fall_forth) = ((top - low) / back, (top - high) / forth);
    let bend = (fall_back + fall_forth) / (back + forth);
    let slope = (fall_back * forth - fall_forth * back) / (back + forth);
    if bend > 0.0 { top + slope * slope / (4.0 * bend) } else { top }
}
