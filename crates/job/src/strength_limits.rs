//! What spreads the openings of a section and what its steel bears stroke after stroke, from the facts.

use crate::facts::{Sourced, sourced};
use crate::known::Known;
use crate::steel::along;
use remark::Remark;
use serde::Deserialize;

/// What spreads openings, and what steels bear.
#[derive(Debug, Clone, PartialEq)]
pub struct StrengthLimits {
    /// Force that spreads an opening as a share of its cutting force, where the job does not say.
    pub spreading: Known<f64>,
    /// Poisson's ratio of tool steels.
    pub poisson: Known<f64>,
    /// Root of the area of the largest flaw, um.
    pub flaw_um: Known<f64>,
    /// What the steel bears over the peak, at least.
    pub reserve: Known<f64>,
    /// HRC and HV, rising.
    vickers: Known<Vec<[f64; 2]>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rows {
    spreading: Sourced<f64>,
    poisson: Sourced<f64>,
    flaw_um: Sourced<f64>,
    reserve: Sourced<f64>,
    vickers: Sourced<Vec<[f64; 2]>>,
}

impl Rows {
    /// The limits, each value with its source.
    pub fn limits(self, faults: &mut Vec<Remark>) -> StrengthLimits {
        let vickers = sourced(self.vickers, "strength.vickers".to_owned(), faults);
        let mut known = |value, name: &str| sourced(value, format!("strength.{name}"), faults);
        StrengthLimits {
            spreading: known(self.spreading, "spreading"),
            poisson: known(self.poisson, "poisson"),
            flaw_um: known(self.flaw_um, "flaw_um"),
            reserve: known(self.reserve, "reserve"),
            vickers,
        }
    }
}

impl StrengthLimits {
    /// Vickers hardness of a steel of this hardness, HRC; none where the table is too short.
    pub fn vickers(&self, hardness_hrc: f64) -> Option<Known<f64>> {
        along(&self.vickers, hardness_hrc)
    }
}
