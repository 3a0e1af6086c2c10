//! What metal of a section weighs.

use crate::fault::Spot;
use crate::flatten::{closed, distance};
use package::{BackBore, Contour, Fault, Plan, PlanSection};
use std::ops::RangeInclusive;

/// Density of tool steel where the reckoning does not say it, g/cm3 (common practice, no source).
const STEEL: f64 = 7.7;

/// What sections are made of weighs no less and no more than this, g/cm3.
const DENSITIES: RangeInclusive<f64> = 2.0..=25.0;
/// Heights that a block can have, mm.
const HEIGHTS: RangeInclusive<f64> = 0.1..=1000.0;

/// A section's block.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Its height, mm.
    pub height: f64,
    /// Density of its steel, g/cm3.
    pub density: f64,
}

impl Block {
    /// The block of a section of a plan.
    pub fn of(plan: &Plan, section: &PlanSection) -> Self {
        let keys = [section.id.clone(), format!("fact:steel.{}", section.steel)]
            .map(|of| format!("{of}.density_g_cm3"));
        let line = plan.reckoning.iter().find(|line| keys.contains(&line.key));
        Self { height: section.size_mm[2], density: line.map_or(STEEL, |line| line.value) }
    }

    /// What is wrong with its numbers: a core of a block that weighs nothing would never be too heavy.
    pub fn faults(&self, section: &PlanSection) -> Vec<Fault> {
        let fault = |what: &str, found: f64| {
            let message = format!("section `{}`: {what} is {found}, which no block can have", section.id);
            Spot::default().fault("absurd", message)
        };
        let height = (!HEIGHTS.contains(&self.height)).then(|| fault("the height", self.height));
        let density = (!DENSITIES.contains(&self.density)).then(|| fault("the density", self.density));
        height.into_iter().chain(density).collect()
    }

    /// What of it stands above an edge: the floor of a back bore that lies under all of the finished edge, by the
    /// proof's own measure of that.
    pub fn over(&self, contour: &Contour) -> Self {
        let bore = contour.start.as_ref().and_then(|start| start.back_bore);
        let under_all = |bore: &BackBore| {
            let middle = [bore.x_mm, bore.y_mm];
            let farthest =
                closed(&contour.target).iter().map(|place| distance(*place, middle)).fold(0.0, f64::max);
            farthest <= bore.diameter_mm / 2.0
        };
        match bore.filter(under_all) {
            Some(bore) => Self { height: self.height - bore.depth_mm, ..*self },
            None => *self,
        }
    }

    /// Mass of a piece of it, g, by its area seen from above, mm2.
    pub fn mass(&self, area: f64) -> f64 {
        area * self.height * self.density / 1000.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_centimetre_weighs_its_density() {
        let block = Block { height: 10.0, density: STEEL };
        assert!((block.mass(100.0) - 7.7).abs() < 1e-12);
    }
}
