//! Which wire cuts which edge of a section, so that minutes, risk and wire changes together are least.
//!
//! Edges that share a wire share a set-up, in whatever order the job names them: only the number of different wires
//! costs. Every set of wires is looked at, each edge taking the cheapest of the set.

use crate::candidate::Candidate;
use crate::contour::Studied;
use job::Shop;

/// Sets of more wires than this are not looked at: each further one costs another change.
const MOST_WIRES: usize = 3;

/// For each edge the way with its wire; none where no wire keeps every bound.
pub fn choose<'a>(shop: &Shop, studied: &'a [Studied]) -> Vec<Option<&'a Candidate>> {
    let ways: Vec<Vec<(usize, &Candidate)>> = studied.iter().map(holding).collect();
    let mut rows: Vec<usize> = ways.iter().flatten().map(|(row, _)| *row).collect();
    rows.sort_unstable();
    rows.dedup();
    let change = shop.cutting.wire_change_minutes.value;
    let cost = |set: &[usize]| -> Option<(f64, usize)> {
        let mut minutes = change * (set.len() - 1) as f64;
        for ways in ways.iter().filter(|ways| !ways.is_empty()) {
            minutes += cheapest(ways, set)?.minutes;
        }
        Some((minutes, set.len()))
    };
    let best = sets(&rows)
        .into_iter()
        .filter_map(|set| Some((cost(&set)?, set)))
        .min_by(|a, b| a.0.0.total_cmp(&b.0.0).then(a.0.1.cmp(&b.0.1)));
    // Where no small set will do, each edge takes its own cheapest.
    let set = best.map_or(rows, |(_, set)| set);
    ways.iter().map(|ways| cheapest(ways, &set)).collect()
}

fn holding(one: &Studied) -> Vec<(usize, &Candidate)> {
    let holds = one.looked.best.iter().filter(|way| way.holds());
    holds.map(|way| (one.cuttings[way.cutting].passes.row, way)).collect()
}

fn cheapest<'a>(ways: &[(usize, &'a Candidate)], set: &[usize]) -> Option<&'a Candidate> {
    let allowed = ways.iter().filter(|(row, _)| set.contains(row)).map(|(_, way)| *way);
    allowed.min_by(|a, b| a.minutes.total_cmp(&b.minutes))
}

/// All sets of one to [`MOST_WIRES`] of these.
fn sets(rows: &[usize]) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> = rows.iter().map(|row| vec![*row]).collect();
    let mut from = 0;
    for _ in 1..MOST_WIRES {
        let to = found.len();
        for i in from..to {
            let last = found[i].last().copied().unwrap_or(0);
            let more = rows.iter().filter(|row| **row > last);
            let larger: Vec<Vec<usize>> = more.map(|row| [found[i].as_slice(), &[*row]].concat()).collect();
            found.extend(larger);
        }
        from = to;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_of_four_rows() {
        let found = sets(&[2, 3, 5, 8]);
        assert_eq!(found.len(), 4 + 6 + 4);
        assert!(found.contains(&vec![2, 5, 8]) && found.contains(&vec![8]));
    }
}
