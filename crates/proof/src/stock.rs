//! Whether a pass before the last keeps to its own edge, so that it leaves the stock that the next one expects.
//!
//! The places where a disc of the pass's offset fits in the target are the target shrunk by that offset. The wire's
//! centre must stay in that region, and must follow its whole edge; both are measured, to the pass's own limit.

use crate::engine::{counter_clockwise, grown};
use crate::flatten::Place;
use crate::region::Region;

/// How far a path leaves its own edge, and where: into the stock, or away from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strayed {
    /// Deepest into the stock that should be left, mm.
    pub into: (f64, Place),
    /// Farthest place of its edge from the path, mm: no thicker metal is left than that.
    pub short: (f64, Place),
}

/// Measures the wire's path of a pass against its edge; none where its offset fits nowhere in the target.
pub fn strayed(target: &[Place], path: &[Place], offset: f64) -> Option<Strayed> {
    let opening = vec![vec![counter_clockwise(target.to_vec())]];
    let room: Vec<Vec<Place>> = grown(&opening, -offset).into_iter().flatten().collect();
    if room.is_empty() {
        return None;
    }
    // There and back, so that no chord closes a path that does not close itself.
    let there_and_back: Vec<Place> = path.iter().chain(path.iter().rev()).copied().collect();
    let into = Region::new(&room).deepest([there_and_back].iter());
    let short = Region::new(&[path.to_vec()]).farthest(room.iter());
    Some(Strayed { into, short })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Place; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];

    #[test]
    fn a_path_beside_its_edge_has_not_strayed() {
        let path = [[0.5, 0.5], [0.5, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9], [0.1, 0.1], [0.5, 0.1]];
        let found = strayed(&SQUARE, &path, 0.1).map(|s| s.into.0.max(s.short.0));
        assert!(found.is_some_and(|by| by < 1e-6), "{found:?}");
    }

    #[test]
    fn a_corner_cut_off_and_one_overrun_are_found() {
        let path = [[0.5, 0.1], [0.9, 0.1], [0.9, 0.8], [0.8, 0.9], [0.05, 0.9], [0.1, 0.9], [0.1, 0.1]];
        let found = strayed(&SQUARE, &path, 0.1);
        let (into, short) = found.map_or((0.0, 0.0), |s| (s.into.0, s.short.0));
        assert!((into - 0.05).abs() < 1e-5 && (short - 0.1 / f64::sqrt(2.0)).abs() < 1e-4, "{into} {short}");
        assert_eq!(strayed(&SQUARE, &path, 0.6), None);
    }
}
