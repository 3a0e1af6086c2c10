//! Where the metal that a start hole takes away lies: as planned, or at both ends as it was measured.

use crate::flatten::Place;
use package::Start;

/// Centres and radii of the circles that must lie in what is cut away.
pub fn rims(start: &Start) -> Vec<(Place, f64)> {
    match start.measured {
        Some(measured) => [measured.face, measured.back]
            .into_iter()
            .map(|rim| ([rim.x_mm, rim.y_mm], rim.diameter_mm / 2.0))
            .collect(),
        None => {
            let widest = start.hole_diameter_mm.entry.max(start.hole_diameter_mm.exit);
            vec![([start.x_mm, start.y_mm], widest / 2.0)]
        }
    }
}

/// Diameter that is open straight through, by the proof's own reckoning of two measured ends.
pub fn open(start: &Start) -> f64 {
    match start.measured {
        Some(measured) => {
            let (a, b) = (measured.face, measured.back);
            let apart = (a.x_mm - b.x_mm).hypot(a.y_mm - b.y_mm);
            let both = (a.diameter_mm + b.diameter_mm) / 2.0 - apart;
            both.min(a.diameter_mm).min(b.diameter_mm)
        }
        None => start.hole_diameter_mm.exit,
    }
}
