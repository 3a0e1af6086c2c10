//! What punches may bear, from the facts: stress, pressure under the head, the smallest hole, how ends are held.

use crate::facts::{Sourced, sourced};
use crate::known::Known;
use remark::Remark;
use serde::Deserialize;

/// What punches may bear.
#[derive(Debug, Clone, PartialEq)]
pub struct PunchLimits {
    /// Stress that a point is worked to, N/mm2.
    pub work_stress_mpa: Known<f64>,
    /// Pressure under the head above which the backing is hardened, N/mm2.
    pub head_pressure_mpa: Known<f64>,
    /// Smallest hole over thickness, where the metal asks for nothing else.
    pub smallest_hole: Known<f64>,
    /// Load that buckles over the load that is borne, at least.
    pub buckling_reserve: Known<f64>,
    /// Ways of holding the ends.
    pub guidings: Vec<Guiding>,
}

/// A way of holding the ends of a punch.
#[derive(Debug, Clone, PartialEq)]
pub struct Guiding {
    /// Its name, as jobs write it.
    pub name: String,
    /// Buckling length over free length.
    pub factor: Known<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rows {
    work_stress_mpa: Sourced<f64>,
    head_pressure_mpa: Sourced<f64>,
    smallest_hole: Sourced<f64>,
    buckling_reserve: Sourced<f64>,
    guiding: Vec<GuidingRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GuidingRow {
    name: String,
    factor: Sourced<f64>,
}

impl Rows {
    /// The limits, each value with its source.
    pub fn limits(self, faults: &mut Vec<Remark>) -> PunchLimits {
        let guidings = self.guiding.into_iter().map(|row| Guiding {
            factor: sourced(row.factor, format!("punch.guiding.{}.factor", row.name), faults),
            name: row.name,
        });
        let guidings = guidings.collect();
        let mut known = |value, name: &str| sourced(value, format!("punch.{name}"), faults);
        PunchLimits {
            work_stress_mpa: known(self.work_stress_mpa, "work_stress_mpa"),
            head_pressure_mpa: known(self.head_pressure_mpa, "head_pressure_mpa"),
            smallest_hole: known(self.smallest_hole, "smallest_hole"),
            buckling_reserve: known(self.buckling_reserve, "buckling_reserve"),
            guidings,
        }
    }
}

impl PunchLimits {
    /// The way of that name; without a name the first, which is the weakest.
    pub fn guiding(&self, name: Option<&str>) -> Option<&Guiding> {
        self.guidings.iter().find(|one| name.is_none_or(|name| one.name == name))
    }

    /// Names of all ways.
    pub fn guiding_names(&self) -> Vec<&str> {
        self.guidings.iter().map(|one| one.name.as_str()).collect()
    }
}
