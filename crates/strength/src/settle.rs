//! The peak stress, on finer and finer triangles until it no longer changes.
//!
//! Each round makes all triangles somewhat smaller, and halves those on the edge wherever the stress comes near the peak. What
//! the peak changed by from the round before is one estimate of its error; it can be small by chance. The other is by how much
//! the triangles behind the edge miss the stress across it, which is known, near the peak: the stress along the edge is better than
//! that as a rule. The greater of both counts.

use crate::edge_stress::{Case, Sample, along_edge};
use crate::element::Stress;
use crate::hold::joints;
use crate::load::Load;
use crate::mesh::Mesh;
use crate::peak::{Peak, inside, peak};
use crate::plate::Plate;
use crate::reaction::held;
use crate::region::Region;
use crate::request::check;
use crate::size::Size;
use crate::solve::displacements;
use crate::support::{Held, Support};
use crate::unjudged::{Unjudged, unjudged};
use crate::{Material, Refusal};

/// Each round makes sides this share of what they were, everywhere.
const FINER: f64 = 0.8;

/// Where the stress is at least this share of the peak, sides are halved instead: the peak may move there.
const NEAR_PEAK: f64 = 0.6;

/// Where the stress is at least this share of the peak, what the triangles miss counts as an error of the peak.
const AT_PEAK: f64 = 0.9;

/// A tension that is a smaller share of the equivalent stress than this need only be as sure as if it were that large: it does
/// not decide.
const SLIGHT: f64 = 0.1;

/// How well the peak must be known, and what it may take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// Share of the peak that its error may be as it is estimated, before the quarter more that is published.
    pub settle: f64,
    /// Triangles at most.
    pub most_elements: usize,
}

/// What an estimate from one refinement to the next is taken times (Roache's factor of safety for three grids and more, from memory):
/// in random plates the bare one fell short by a thousandth of itself now and then.
const SAFETY: f64 = 1.25;

/// The peaks, how sure they are and what it took.
#[derive(Debug, Clone, PartialEq)]
pub struct Stresses {
    /// Greatest principal stress; negative where all is pressed.
    pub tension: Peak,
    /// Greatest equivalent stress of von Mises.
    pub equivalent: Peak,
    /// Estimated error of either, as a share: the greater of what the last round changed it by and of what the triangles at the
    /// peak miss the known stress across the edge by, and a quarter more. An estimate, no bound.
    pub error_share: f64,
    /// Triangles of the last round.
    pub elements: usize,
    /// Rounds that it took.
    pub rounds: usize,
    /// What each support does, in the order given.
    pub supports: Vec<Held>,
    /// Where the peak was not looked for: ends of rigid supports.
    pub unjudged: Vec<Unjudged>,
}

/// One round: triangles and the stress on them.
struct Round {
    mesh: Mesh,
    edges: Vec<Vec<Sample>>,
    tension: Peak,
    equivalent: Peak,
    held: Vec<Held>,
}

/// The peak stresses of a plate.
///
/// # Errors
/// A request that cannot be (see [`Refusal`]), a wall too thin to be divided, a peak that had not settled when the elements ran
/// out: then with what was found so far.
pub fn stresses(
    region: &Region,
    loads: &[Load],
    supports: &[Support],
    material: &Material,
    aim: &Aim,
) -> Result<Stresses, Refusal> {
    check(region, loads, supports, aim)?;
    let case = Case { loads, supports, material };
    let leave_out = unjudged(region, supports);
    let mut size = Size::of(region);
    let mut last: Option<Round> = None;
    let mut found: Option<Stresses> = None;
    for rounds in 1.. {
        let mesh = Mesh::new(region, &size, aim.most_elements)?;
        if mesh.triangles.len() > aim.most_elements {
            break;
        }
        let round = Round::new(mesh, &case, &leave_out)?;
        if let Some(before) = last {
            let estimate = round.change(&before).max(round.miss(material.nu()));
            let stresses = Stresses {
                tension: round.tension,
                equivalent: round.equivalent,
                error_share: SAFETY * estimate,
                elements: round.mesh.triangles.len(),
                rounds,
                supports: round.held.clone(),
                unjudged: leave_out.clone(),
            };
            if estimate <= aim.settle {
                return Ok(stresses);
            }
            found = Some(stresses);
        }
        size = round.finer(&size, material.nu());
        last = Some(round);
    }
    Err(match found {
        Some(last) => Refusal::Unsettled { last: Box::new(last) },
        None => Refusal::TooFine { most: aim.most_elements },
    })
}

impl Round {
    fn new(mesh: Mesh, case: &Case, leave_out: &[Unjudged]) -> Result<Self, Refusal> {
        let plate = Plate::new(&mesh, case.loads, case.supports, case.material)?;
        let joints = joints(&mesh, &plate, case.supports)?;
        let moved = displacements(&plate, &joints)?;
        let edges: Vec<Vec<Sample>> =
            mesh.rims.iter().map(|rim| along_edge(&mesh, &moved, rim, case)).collect();
        let inside = inside(&mesh, &moved, case);
        let nu = case.material.nu();
        let none = || Refusal::Unsolved { left: f64::NAN };
        let tension = peak(&mesh, &edges, &inside, leave_out, &Stress::tension).ok_or_else(none)?;
        let equivalent = peak(&mesh, &edges, &inside, leave_out, &|s| s.equivalent(nu)).ok_or_else(none)?;
        let held = held(&mesh, &plate, &moved, &edges[0], case);
        Ok(Self { mesh, edges, tension, equivalent, held })
    }

    /// What a share of either peak is taken of, MPa.
    fn scales(&self) -> (f64, f64) {
        let equivalent = self.equivalent.mpa;
        (self.tension.mpa.abs().max(SLIGHT * equivalent), equivalent)
    }

    /// Share that the peaks have changed by.
    fn change(&self, before: &Round) -> f64 {
        let (tension, equivalent) = self.scales();
        let changed = [
            (self.tension.mpa - before.tension.mpa, tension),
            (self.equivalent.mpa - before.equivalent.mpa, equivalent),
        ];
        changed
            .into_iter()
            .filter(|(_, scale)| *scale > 0.0)
            .map(|(by, scale)| by.abs() / scale)
            .fold(0.0, f64::max)
    }

    /// Share that the triangles miss what is known by, where the stress is near either peak: the root of the mean square.
    fn miss(&self, nu: f64) -> f64 {
        let (tension, equivalent) = self.scales();
        let at_tension = |s: &Stress| s.tension() > AT_PEAK * self.tension.mpa;
        let at_equivalent = |s: &Stress| s.equivalent(nu) > AT_PEAK * self.equivalent.mpa;
        let miss = |near: &dyn Fn(&Stress) -> bool, scale: f64| {
            let near: Vec<f64> = self
                .edges
                .iter()
                .flatten()
                .filter(|s| near(&s.stress))
                .map(|s| s.miss_mpa * s.miss_mpa)
                .collect();
            let mean = near.iter().sum::<f64>() / near.len().max(1) as f64;
            if scale > 0.0 { mean.sqrt() / scale } else { 0.0 }
        };
        miss(&at_tension, tension).max(miss(&at_equivalent, equivalent))
    }

    /// Smaller triangles: a little everywhere, much near the peak.
    fn finer(&self, size: &Size, nu: f64) -> Size {
        let (tension, equivalent) = (NEAR_PEAK * self.tension.mpa, NEAR_PEAK * self.equivalent.mpa);
        let near = |s: &Stress| (tension > 0.0 && s.tension() > tension) || s.equivalent(nu) > equivalent;
        let edges = self.mesh.rims.iter().zip(&self.edges);
        let near_peak = edges.flat_map(|(rim, samples)| {
            samples.iter().filter(|sample| near(&sample.stress)).map(|sample| &rim[sample.side].division)
        });
        size.finer(FINER, near_peak.map(|division| (division, 0.5 * division.length())))
    }
}
