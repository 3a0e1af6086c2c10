//! The finished edge rebuilt from the drawing and the stated clearance, and how far the plan's target lies from it.

use crate::engine::{counter_clockwise, grown};
use crate::fault::Spot;
use crate::flatten::{Place, closed};
use crate::raw::{Loop, loops};
use crate::region::Region;
use package::{Contour, Cut, Fault, Plan, Side, Units};
use std::collections::BTreeMap;

/// Where a join limit is not stated, mm.
const JOIN_LIMIT: f64 = 0.001;
/// A target may lie this far from the drawing, mm, beyond what closing up has moved.
pub const MOVED_LIMIT: f64 = 0.001;

/// The loops of every drawing of a package.
#[derive(Debug)]
pub struct Drawings {
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
        let mut read = BTreeMap::new();
        for contour in plan.sections.iter().flat_map(|section| &section.contours) {
            let file = &contour.drawing.file;
            if read.contains_key(file) {
                continue;
            }
            let loops = match inputs.get(file) {
                None => Err("the drawing is not in the package".to_owned()),
                Some(bytes) => dxf::read(bytes, file, &dxf::Limits::default())
                    .map(|dxf| loops(&dxf, dxf.units.map_or(unit, |units| units.in_mm()), join))
                    .map_err(|found| {
                        found.first().map_or("cannot be read".to_owned(), |remark| remark.message.clone())
                    }),
            };
            read.insert(file.clone(), loops);
        }
        Self { read }
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
        let wanted = match (contour.cut, contour.side) {
            (Cut::Pierce, Side::Inside) if clearance > 0.0 => {
                let shapes = grown(&[vec![counter_clockwise(placed)]], clearance);
                shapes.into_iter().next().and_then(|shape| shape.into_iter().next()).unwrap_or_default()
            }
            (Cut::Pierce, Side::Outside) => {
                return Err(fail("pierced edges of bodies are not checked yet".to_owned()));
            }
            (Cut::Blank | Cut::Finished, _) if clearance != 0.0 => {
                return Err(fail(format!(
                    "this kind of cut has no clearance, and the plan adds {clearance}"
                )));
            }
            _ => placed,
        };
        Ok(apart(&wanted, &closed(&contour.target)))
    }
}

/// Largest distance of either edge from the other.
fn apart(a: &[Place], b: &[Place]) -> f64 {
    let one_way =
        |from: &[Place], to: &[Place]| Region::new(&[to.to_vec()]).farthest([from.to_vec()].iter()).0;
    match a.len() > 2 && b.len() > 2 {
        true => one_way(a, b).max(one_way(b, a)),
        false => f64::MAX,
    }
}
