//! Numbers of a plan that nothing can have: found before anything is computed with them.

use crate::fault::Spot;
use crate::flatten::{Place, sane};
use crate::rim::rims;
use package::{Contour, Fault};

/// Largest wire, offset, gap or clearance, mm.
const LARGEST: f64 = 10.0;
/// Largest shift for size, mm.
const LARGEST_SHIFT: f64 = 1.0;

/// Faults of a contour's numbers; with any of them it cannot be proven.
pub fn of(contour: &Contour) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut wrong = |what: &str, found: String| {
        let message = format!("contour `{}`: {what} is {found}, which nothing can have", contour.id);
        faults.push(Spot::default().fault("absurd", message));
    };
    let vertex = |v: &&[f64; 3]| !sane([v[0], v[1]]) || v[2].is_nan() || v[2].abs() > 1.0 + 1e-9;
    if contour.target.len() < 2 {
        wrong("the number of vertices of the target", contour.target.len().to_string());
    }
    if let Some(v) = contour.target.iter().find(vertex) {
        wrong("a vertex of the target", format!("{v:?}"));
    }
    let shift = contour.size_shift_per_side_mm.unwrap_or(0.0);
    if shift.is_nan() || shift.abs() > LARGEST_SHIFT {
        wrong("the shift for size", shift.to_string());
    }
    let mut length = |what: &str, value: f64, least: f64| {
        if !(least..=LARGEST).contains(&value) {
            wrong(what, value.to_string());
        }
    };
    length("the clearance", contour.clearance_per_side_mm, -LARGEST);
    length("the radius of outside corners", contour.outside_radius_mm.unwrap_or(0.0), 0.0);
    for stock in contour.grind_stock_mm.unwrap_or_default() {
        length("the stock on a face", stock, 0.0);
    }
    if let Some(wire) = &contour.wire {
        length("the wire", wire.diameter_mm, 1e-3);
        if let Some(relief) = &wire.relief {
            length("the relief's offset", relief.offset_mm, 1e-3);
            length("the relief's offset at the face", relief.offset_at_face_mm, 1e-3);
            length("the relief's spark gap", relief.spark_gap_mm, 0.0);
            length("the stock on the relief", relief.stock_left_mm, 0.0);
        }
        for pass in &wire.passes {
            length("an offset", pass.offset_mm, 1e-3);
            length("a spark gap", pass.spark_gap_mm, 0.0);
            length("the stock left", pass.stock_left_mm, -1e-6);
        }
    }
    let mut place = |what: &str, value: Place| {
        if !sane(value) {
            wrong(what, format!("{value:?}"));
        }
    };
    place("the place of the drawing", contour.drawing.at_mm);
    if let Some(start) = &contour.start {
        place("the start", [start.x_mm, start.y_mm]);
        for (rim, radius) in rims(start) {
            place("a rim of the hole", rim);
            place("a radius of the hole", [radius, 0.0]);
        }
        place("the hole", [start.hole_diameter_mm.entry, start.hole_diameter_mm.exit]);
    }
    faults
}
