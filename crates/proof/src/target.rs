//! The finished edge rebuilt from the drawing, the stated clearance and shift of size, and how far the plan's target lies from it.

use crate::engine::{counter_clockwise, grown};
use crate::fault::Spot;
use crate::flatten::{Place, closed};
use crate::raw::{Loop, MOST_JOIN, loops};
use crate::region::apart;
use crate::tangle::tangled;
use package::{Contour, Cut, Fault, Plan, SectionKind, Side, Units};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Where a join limit is not stated, mm.
const JOIN_LIMIT: f64 = 0.001;
/// A target may lie this far from the drawing, mm, beyond what closing up has moved and arcs have replaced.
const MOVED_LIMIT: f64 = 0.001;
/// A point is on a face of a piece within this, mm: what an engine's grid may move it.
const ON_FACE: f64 = 1e-5;
/// Arcs in the place of facets lie this far from them at most, mm: chords of 5 um, and half a micrometre for their ends. Those in the place of
/// curves lie nearer.
const MOST_FITTED: f64 = 0.0055;

/// The loops of every drawing of a package.
#[derive(Debug)]
pub struct Drawings {
    join: f64,
    read: BTreeMap<String, Result<Vec<Loop>, String>>,
}

impl Drawings {
    /// Reads every drawing that the plan names.
    pub fn of(plan: &Plan, inputs: &BTreeMap<String, Vec<u8>>) -> Self {
        let join = plan.job.join_limit_mm.unwrap_or(JOIN_LIMIT);
        let unit = match plan.job.units {
            Units::Mm => 1.0,
            Units::In => 25.4,
        };
        let contours = plan.sections.iter().flat_map(|section| &section.contours);
        let files: BTreeSet<&String> = contours.map(|contour| &contour.drawing.file).collect();
        let read = |file: &String| -> Result<Vec<Loop>, String> {
            let bytes = inputs.get(file).ok_or("the drawing is not in the package")?;
            let dxf = dxf::read(bytes, file, &dxf::Limits::default())
                .map_err(|found| found.first().map_or("cannot be read".to_owned(), |r| r.message.clone()))?;
            loops(&dxf, dxf.units.map_or(unit, |units| units.in_mm()), join)
        };
        let read = files.into_par_iter().map(|file| (file.clone(), read(file))).collect();
        Self { join, read }
    }

    /// How far a contour's target may lie from the drawing, mm: closing up moves it, but no farther than ends may be
    /// apart, and arcs stand for curves and facets, but no farther from them than such arcs may lie.
    pub fn moved_limit(&self, contour: &Contour) -> f64 {
        let fitted = contour.fitted_mm.unwrap_or(0.0);
        let closed_up = contour.moved_mm.unwrap_or(0.0) - fitted;
        MOVED_LIMIT + fitted.clamp(0.0, MOST_FITTED) + closed_up.clamp(0.0, self.join.clamp(0.0, MOST_JOIN))
    }

    /// Distance between a contour's target and its rebuilding; faults where there is none. A punch is drawn as seen from
    /// behind its face.
    pub fn target_moved(&self, contour: &Contour, kind: SectionKind) -> Result<f64, Fault> {
        let spot = Spot::default();
        let file = &contour.drawing.file;
        let fail = |message: String| {
            spot.fault("drawing", format!("contour `{}`, drawing `{file}`: {message}", contour.id))
        };
        let loops = match self.read.get(file) {
            Some(Ok(loops)) => loops,
            Some(Err(message)) => return Err(fail(message.clone())),
            None => return Err(fail("not read".to_owned())),
        };
        let number = contour.drawing.outline.strip_prefix('o').and_then(|n| n.parse::<usize>().ok());
        let drawn = number
            .and_then(|n| loops.get(n.checked_sub(1)?))
            .ok_or_else(|| fail(format!("there is no closed outline `{}`", contour.drawing.outline)))?;
        let [dx, dy] = contour.drawing.at_mm;
        let mirror = if kind == SectionKind::Punch { -1.0 } else { 1.0 };
        let placed: Vec<Place> = drawn.points.iter().map(|p| [mirror * p[0] + dx, p[1] + dy]).collect();
        let clearance = contour.clearance_per_side_mm;
        let shift = contour.size_shift_per_side_mm.unwrap_or(0.0);
        match (contour.cut, contour.side) {
            (Cut::Finished, _) | (Cut::Pierce, Side::Outside) | (Cut::Blank, Side::Inside)
                if clearance != 0.0 =>
            {
                return Err(fail(format!(
                    "this kind of cut has no clearance, and the plan adds {clearance}"
                )));
            }
            (Cut::Finished, _) if shift != 0.0 => {
                return Err(fail(format!(
                    "this kind of cut is not shifted for size, and the plan adds {shift}"
                )));
            }
            (Cut::Pierce, Side::Inside) if clearance < 0.0 => {
                return Err(fail(format!("the clearance is {clearance}, below 0")));
            }
            (Cut::Blank, Side::Outside) if clearance > 0.0 => {
                return Err(fail(format!("the punch of a blank is {clearance} larger than it, not smaller")));
            }
            _ => {}
        }
        let growth = clearance + shift;
        let radius = contour.outside_radius_mm.unwrap_or(0.0);
        let stock = contour.grind_stock_mm.unwrap_or_default();
        if contour.side == Side::Inside && (radius != 0.0 || stock != [0.0; 4]) {
            return Err(fail("an opening has neither outside corners nor faces to grind".to_owned()));
        }
        if tangled(&placed, growth.abs().max(radius)) {
            return Err(fail("the outline lies on itself again and again".to_owned()));
        }
        // Whatever the engine gives back beside the outer edge, the target has only one.
        let by = |points: Vec<Place>, by: f64| match by {
            0.0 => points,
            _ => {
                let shapes = grown(&[vec![counter_clockwise(points)]], by);
                shapes.into_iter().next().and_then(|shape| shape.into_iter().next()).unwrap_or_default()
            }
        };
        let rounded = by(by(by(placed, growth), -radius), radius);
        Ok(apart(&faces_moved(rounded, stock), &closed(&contour.target)))
    }
}

/// The faces of least x, greatest x, least y and greatest y moved outwards by what is left on them for grinding.
fn faces_moved(mut points: Vec<Place>, stock: [f64; 4]) -> Vec<Place> {
    for (side, by) in stock.into_iter().enumerate().filter(|(_, by)| *by != 0.0) {
        let (k, out) = (side / 2, if side % 2 == 0 { -1.0 } else { 1.0 });
        let most = points.iter().map(|p| out * p[k]).fold(f64::NEG_INFINITY, f64::max);
        for point in points.iter_mut().filter(|p| most - out * p[k] <= ON_FACE) {
            point[k] += out * by;
        }
    }
    points
}
