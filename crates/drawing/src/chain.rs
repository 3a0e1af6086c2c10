//! Entities in the order in which they follow each other.

use crate::joints::Joints;
use crate::path::Path;

/// A chain, begun at its entity that stands first in the file.
#[derive(Debug)]
pub(crate) struct Chain {
    /// Path numbers, each with whether it is travelled from its last point to its first.
    pub(crate) links: Vec<(usize, bool)>,
    /// The two ends that are not joined; none for a closed chain.
    pub(crate) open: Option<[usize; 2]>,
}

impl Chain {
    /// The number of the path that stands first in the file.
    pub(crate) fn first(&self) -> usize {
        self.links.iter().map(|link| link.0).min().unwrap_or(0)
    }
}

/// All chains, in order of their first entities. A closed one begins with its first entity, travelled forwards.
pub(crate) fn chains(paths: &[Path], joints: &Joints) -> Vec<Chain> {
    let mut used = vec![false; paths.len()];
    let mut chains = Vec::new();
    for first in 0..paths.len() {
        if used[first] {
            continue;
        }
        let chain = match paths[first].closed {
            true => Chain { links: vec![(first, false)], open: None },
            false => follow(first, joints),
        };
        chain.links.iter().for_each(|link| used[link.0] = true);
        chains.push(chain);
    }
    chains
}

fn follow(first: usize, joints: &Joints) -> Chain {
    let mut links = vec![(first, false)];
    let end = match walk(2 * first + 1, first, joints, &mut links) {
        None => return Chain { links, open: None },
        Some(end) => end,
    };
    let mut before = Vec::new();
    // A chain that is open after its first entity is open before it too.
    let begin = walk(2 * first, first, joints, &mut before).unwrap_or(2 * first);
    let mut whole: Vec<(usize, bool)> =
        before.into_iter().rev().map(|(path, backwards)| (path, !backwards)).collect();
    whole.extend(links);
    Chain { links: whole, open: Some([begin, end]) }
}

/// Follows the joints from an end until the chain is back at its first path (none) or at an end that is not joined.
fn walk(mut end: usize, first: usize, joints: &Joints, links: &mut Vec<(usize, bool)>) -> Option<usize> {
    while let Some(entry) = joints.partner[end] {
        if entry / 2 == first {
            return None;
        }
        links.push((entry / 2, entry % 2 == 1));
        end = entry ^ 1;
    }
    Some(end)
}
