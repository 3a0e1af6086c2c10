//! Where the metal that a start hole takes away lies: as planned, at both ends as it was measured, or in both halves of a block.

use crate::flatten::Place;
use crate::from_outside::begins_there;
use package::{Along, Start};

/// Centres and radii of the circles that must lie in what is cut away; none where there is no hole.
pub fn rims(start: &Start) -> Vec<(Place, f64)> {
    if begins_there(start) {
        return Vec::new();
    }
    if let Some(half) = start.half_round {
        // Each half beside the other by the mismatch, either way, and its half-round as deep as it may be.
        let aside = half.mismatch_mm.abs() / 2.0;
        let deep = half.depth_mm - half.wheel_radius_mm + half.depth_error_mm.abs();
        let of = |[x, y]: Place| match half.along {
            Along::X => [start.x_mm + x, start.y_mm + y],
            Along::Y => [start.x_mm + y, start.y_mm + x],
        };
        let corners = [[aside, deep], [-aside, deep], [aside, -deep], [-aside, -deep]];
        return corners.into_iter().map(|by| (of(by), half.wheel_radius_mm)).collect();
    }
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
        None => match start.half_round {
            // What lies in both half-rounds, each too shallow and half the mismatch aside.
            Some(half) => {
                let shallow = half.wheel_radius_mm - half.depth_mm + half.depth_error_mm.abs();
                let fine = half.wheel_radius_mm - half.radius_error_mm.abs();
                2.0 * (fine - shallow.hypot(half.mismatch_mm / 2.0))
            }
            None => start.hole_diameter_mm.exit,
        },
    }
}

#[cfg(test)]
mod tests;
