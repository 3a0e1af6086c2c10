//! Which ends of loose entities belong together.
//!
//! Stages: pairs of ends within the join limit, nearest first, are joined while both are free; then every pair of ends that is as near but
//! was not joined is a branch, unless the chain itself runs from one to the other over entities shorter than the limit.
//!
//! End 2p is the first point of path p, end 2p + 1 its last.

use crate::cells::Cells;
use crate::path::Path;
use crate::work::{Tangled, Work};
use outline::Point;

/// Ends at one place that are looked at: more than two are a branch, so counting on is of no use.
const CROWD: usize = 16;
/// Entities shorter than this many join limits cannot be told from the joint beside them.
const SHORT: f64 = 4.0;
/// Short entities that are followed one after the other when a joint is examined.
const MOST_STEPS: usize = 64;

/// Joined ends, and the places where joining would have been guessing.
#[derive(Debug)]
pub(crate) struct Joints {
    /// For each end the end that it is joined to.
    pub(crate) partner: Vec<Option<usize>>,
    pub(crate) branches: Vec<Branch>,
}

/// A place where more than two ends meet.
#[derive(Debug)]
pub(crate) struct Branch {
    pub(crate) place: Point,
    pub(crate) ends: Vec<usize>,
}

/// Where an end lies.
pub(crate) fn place(paths: &[Path], end: usize) -> Point {
    match end % 2 {
        0 => paths[end / 2].first(),
        _ => paths[end / 2].last(),
    }
}

impl Joints {
    /// Joins the ends of the open paths.
    ///
    /// # Errors
    /// When the drawing has cost too much work.
    pub(crate) fn new(paths: &[Path], limit: f64, work: &mut Work) -> Result<Joints, Tangled> {
        let mut cells = Cells::new(limit);
        let ends: Vec<usize> = (0..2 * paths.len()).filter(|end| !paths[end / 2].closed).collect();
        ends.iter().for_each(|&end| cells.put(end, place(paths, end)));
        let lengths: Vec<f64> = paths.iter().map(Path::length).collect();
        let mut near = vec![Vec::new(); 2 * paths.len()];
        for &end in &ends {
            near[end] = cells.near(place(paths, end), CROWD, work)?;
            let short = lengths[end / 2] <= SHORT * limit;
            near[end].retain(|&(other, _)| other != end && !(short && other == end ^ 1));
        }
        let mut joints = Joints { partner: partners(&near), branches: Vec::new() };
        joints.branches = joints.find_branches(paths, &near, &lengths, limit);
        Ok(joints)
    }

    fn find_branches(
        &self,
        paths: &[Path],
        near: &[Vec<(usize, f64)>],
        lengths: &[f64],
        limit: f64,
    ) -> Vec<Branch> {
        let mut reported = vec![false; near.len()];
        let mut branches = Vec::new();
        for (end, others) in near.iter().enumerate() {
            let guessed = |&(other, _): &(usize, f64)| !self.runs_to(end, other, lengths, SHORT * limit);
            if reported[end] || !others.iter().any(guessed) {
                continue;
            }
            let ends: Vec<usize> =
                std::iter::once(end).chain(others.iter().map(|&(other, _)| other)).collect();
            ends.iter().for_each(|&end| reported[end] = true);
            branches.push(Branch { place: place(paths, end), ends });
        }
        branches
    }

    /// Whether the chain runs from one end to another within a length, on either side.
    fn runs_to(&self, from: usize, to: usize, lengths: &[f64], within: f64) -> bool {
        [false, true].into_iter().any(|mut crossing| {
            let (mut end, mut travelled) = (from, 0.0);
            for _ in 0..MOST_STEPS {
                if crossing {
                    travelled += lengths[end / 2];
                    end ^= 1;
                } else if let Some(partner) = self.partner[end] {
                    end = partner;
                } else {
                    return false;
                }
                if end == to || travelled > within {
                    return travelled <= within;
                }
                crossing = !crossing;
            }
            false
        })
    }
}

/// Joins the nearest ends first.
fn partners(near: &[Vec<(usize, f64)>]) -> Vec<Option<usize>> {
    let pairs = near
        .iter()
        .enumerate()
        .flat_map(|(end, others)| others.iter().map(move |&(other, d)| (d, end, other)));
    let mut pairs: Vec<(f64, usize, usize)> = pairs.filter(|&(_, end, other)| end < other).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut partner = vec![None; near.len()];
    for (_, end, other) in pairs {
        if partner[end].is_none() && partner[other].is_none() {
            partner[end] = Some(other);
            partner[other] = Some(end);
        }
    }
    partner
}
