//! Whether a pass keeps to its own edge, so that it leaves the stock that the next one expects, and no more.
//!
//! The wire's centre must stay where a disc of the pass's offset has room in the target, and must follow the whole edge
//! of that room; both are measured, to the pass's own limit.

use crate::flatten::Place;
use crate::region::Region;
use crate::room::Room;
use crate::rounds::Edge;

/// How far a path leaves its own edge, and where: into the stock, or away from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strayed {
    /// Deepest into the stock that should be left, mm; negative where all of the path stays clear of it.
    pub into: (f64, Place),
    /// Farthest place of its edge that the path does not go round, mm: no thicker metal is left than that.
    pub short: (f64, Place),
}

/// Measures the wire's path of a pass against its edge; none where its offset fits nowhere beside it.
pub fn strayed(edge: &Edge, path: &[Place], offset: f64) -> Option<Strayed> {
    let short = Room::new(&edge.points, &edge.region, offset).deepest_outside(&edge.beyond(path))?;
    Some(Strayed { into: into(&edge.region, path, offset), short })
}

/// How deep a path goes into the stock that should be left, mm, and where; negative where it stays clear of it.
pub fn into(region: &Region, path: &[Place], offset: f64) -> (f64, Place) {
    let mut least = (f64::INFINITY, [0.0, 0.0]);
    // A single place is a chord of no length.
    for (from, to) in path.iter().zip(path.iter().skip(1).chain(path.last())) {
        let gap = region.to_edge_from(*from, *to, least.0);
        if gap < least.0 {
            least = (gap, *from);
        }
    }
    if least.0 > 0.0 && path.first().is_some_and(|place| region.contains(*place)) {
        return (offset - least.0, least.1);
    }
    // There and back, so that no chord closes a path that does not close itself.
    let there_and_back: Vec<Place> = path.iter().chain(path.iter().rev()).copied().collect();
    let (deep, place) = region.deepest([there_and_back].iter());
    (offset + deep, place)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Place; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];

    #[test]
    fn a_path_beside_its_edge_has_not_strayed() {
        let path = [[0.5, 0.5], [0.5, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9], [0.1, 0.1], [0.5, 0.1]];
        let found = strayed(&Edge::new(SQUARE.to_vec()), &path, 0.1).map(|s| s.into.0.max(s.short.0));
        assert!(found.is_some_and(|by| by < 1e-6), "{found:?}");
    }

    #[test]
    fn a_corner_cut_off_and_one_overrun_are_found() {
        let path = [[0.5, 0.1], [0.9, 0.1], [0.9, 0.8], [0.8, 0.9], [0.05, 0.9], [0.1, 0.9], [0.1, 0.1]];
        let found = strayed(&Edge::new(SQUARE.to_vec()), &path, 0.1);
        let (into, short) = found.map_or((0.0, 0.0), |s| (s.into.0, s.short.0));
        assert!((into - 0.05).abs() < 1e-5 && (short - 0.1 / f64::sqrt(2.0)).abs() < 1e-4, "{into} {short}");
        assert_eq!(strayed(&Edge::new(SQUARE.to_vec()), &path, 0.6), None);
    }
}
