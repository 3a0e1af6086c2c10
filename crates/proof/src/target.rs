//! The finished edge rebuilt from the drawing, the stated clearance and shift of size, and how far the plan's target lies from it.

use crate::engine::{counter_clockwise, grown};
use crate::fault::Spot;
use crate::flatten::{Place, closed};
use crate::raw::{Loop, MOST_JOIN, loops};
use crate::region::apart;
use crate::tangle::tangled;
use package::{Contour, Cut, Fault, Plan, Side, Units};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Where a join limit is not stated, mm.
const JOIN_LIMIT: f64 = 0.001;
/// A target may lie this far from the drawing, mm, beyond what closing up has moved and arcs have replaced.
const MOVED_LIMIT: f64 = 0.001;
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

    /// Distance between a contour's target and its rebuilding; faults where there is none.
    pub fn target_moved(&self, contour: &Contour) -> Result<f64, Fault> {
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
        let placed: Vec<Place> = drawn.points.iter().map(|p| [p[0] + dx, p[1] + dy]).collect();
        let clearance = contour.clearance_per_side_mm;
        let shift = contour.size_shift_per_side_mm.unwrap_or(0.0);
        match (contour.cut, contour.side) {
            (Cut::Pierce, Side::Outside) => {
                return Err(fail("pierced edges of bodies are not checked yet".to_owned()));
            }
            (Cut::Blank | Cut::Finished, _) if clearance != 0.0 => {
                return Err(fail(format!(
                    "this kind of cut has no clearance, and the plan adds {clearance}"
                )));
            }
            (Cut::Finished, _) | (Cut::Blank, Side::Outside) if shift != 0.0 => {
                return Err(fail(format!(
                    "this kind of cut is not shifted for size, and the plan adds {shift}"
                )));
            }
            (Cut::Pierce, Side::Inside) if clearance < 0.0 => {
                return Err(fail(format!("the clearance is {clearance}, below 0")));
            }
            _ => {}
        }
        let growth = clearance + shift;
        if growth == 0.0 {
            return Ok(apart(&placed, &closed(&contour.target)));
        }
        if tangled(&placed, growth.abs()) {
            return Err(fail("the outline lies on itself again and again".to_owned()));
        }
        let shapes = grown(&[vec![counter_clockwise(placed)]], growth);
        let wanted = shapes.into_iter().next().and_then(|shape| shape.into_iter().next()).unwrap_or_default();
        Ok(apart(&wanted, &closed(&contour.target)))
    }
}
