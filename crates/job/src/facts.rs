//! The facts of the trade: sheet metals, rules for clearances and forces, tool materials. Data files, each value with its source.
//!
//! A value without basis or source does not load.

use crate::clearance_rule::{ClearanceForm, ClearanceRule};
use crate::fit::{FitTable, Zone};
use crate::force_rule::{self, Family, ForceRules, ForceShare, ShearRule, StrippingRule};
use crate::known::{Basis, From, Known};
use crate::metal::Metal;
use crate::punch_limits::{self, PunchLimits};
use crate::source::Source;
use crate::steel::{Material, Steel};
use crate::strength_limits::{self, StrengthLimits};
use crate::thread::{self, Thread};
use remark::Remark;
use serde::Deserialize;

const METALS: (&str, &str) = ("facts/metals.toml", include_str!("../facts/metals.toml"));
const RULES: (&str, &str) = ("facts/clearance-rules.toml", include_str!("../facts/clearance-rules.toml"));
const FITS: (&str, &str) = ("facts/fits.toml", include_str!("../facts/fits.toml"));
const FORCES: (&str, &str) = ("facts/forces.toml", include_str!("../facts/forces.toml"));
const PUNCH: (&str, &str) = ("facts/punch.toml", include_str!("../facts/punch.toml"));
const STRENGTH: (&str, &str) = ("facts/strength.toml", include_str!("../facts/strength.toml"));
const THREADS: (&str, &str) = ("facts/threads.toml", include_str!("../facts/threads.toml"));
const STEELS: (&str, &str) = ("facts/steels.toml", include_str!("../facts/steels.toml"));

/// All facts.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    metals: Vec<Metal>,
    rules: Vec<ClearanceRule>,
    forces: ForceRules,
    steels: Vec<Steel>,
    fits: FitTable,
    punch: PunchLimits,
    strength: StrengthLimits,
    threads: Vec<Thread>,
}

/// A value as the data files write it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Sourced<T> {
    value: T,
    basis: Basis,
    cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalRows {
    metal: Vec<MetalRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalRow {
    name: String,
    shear_strength_mpa: Option<Sourced<f64>>,
    uts_mpa: Option<Sourced<f64>>,
    clearance: Option<Sourced<f64>>,
    penetration: Option<Sourced<f64>>,
    smallest_hole: Option<Sourced<f64>>,
    family: Option<Family>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleRows {
    rule: Vec<RuleRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleRow {
    name: String,
    by_metal: Option<bool>,
    share: Option<Sourced<f64>>,
    root_of_shear_k: Option<Sourced<f64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SteelRows {
    steel: Vec<SteelRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SteelRow {
    name: String,
    material: Material,
    density_g_cm3: Sourced<f64>,
    modulus_mpa: Sourced<f64>,
    hardness_hrc: Option<Sourced<[f64; 2]>>,
    wire_rate_factor: Option<Sourced<f64>>,
    compressive_yield_mpa: Option<Sourced<Vec<[f64; 2]>>>,
}

impl Facts {
    /// The facts that are built in.
    ///
    /// # Errors
    /// A value without basis or source, or any other fault of the data files.
    pub fn load() -> Result<Self, Vec<Remark>> {
        Self::read(METALS, RULES, FORCES, STEELS)
    }

    fn read(
        metals: (&str, &str),
        rules: (&str, &str),
        forces: (&str, &str),
        steels: (&str, &str),
    ) -> Result<Self, Vec<Remark>> {
        let mut faults = Vec::new();
        let metals = rows::<MetalRows>(metals, &mut faults).map_or(Vec::new(), |rows| rows.metal);
        let rules = rows::<RuleRows>(rules, &mut faults).map_or(Vec::new(), |rows| rows.rule);
        let forces = rows::<force_rule::Rows>(forces, &mut faults);
        let steels = rows::<SteelRows>(steels, &mut faults).map_or(Vec::new(), |rows| rows.steel);
        let Some(fits) = rows::<FitTable>(FITS, &mut faults) else { return Err(faults) };
        let Some(punch) = rows::<punch_limits::Rows>(PUNCH, &mut faults) else { return Err(faults) };
        let Some(strength) = rows::<strength_limits::Rows>(STRENGTH, &mut faults) else { return Err(faults) };
        let threads = rows::<thread::Rows>(THREADS, &mut faults);
        let facts = Self {
            metals: metals.into_iter().map(|row| metal(row, &mut faults)).collect(),
            rules: rules.into_iter().filter_map(|row| rule(row, &mut faults)).collect(),
            forces: forces.map_or(ForceRules::default(), |rows| rows.rules(&mut faults)),
            steels: steels.into_iter().map(|row| steel(row, &mut faults)).collect(),
            fits,
            punch: punch.limits(&mut faults),
            strength: strength.limits(&mut faults),
            threads: threads.map_or(Vec::new(), |rows| rows.threads(&mut faults)),
        };
        if faults.is_empty() { Ok(facts) } else { Err(faults) }
    }

    /// The sheet metal of that name.
    pub fn metal(&self, name: &str) -> Option<&Metal> {
        self.metals.iter().find(|metal| metal.name == name)
    }

    /// The clearance rule of that name.
    pub fn clearance_rule(&self, name: &str) -> Option<&ClearanceRule> {
        self.rules.iter().find(|rule| rule.name == name)
    }

    /// The rule of that name for shear from tensile strength; without a name the first, which gives most.
    pub fn shear_rule(&self, name: Option<&str>) -> Option<&ShearRule> {
        self.forces.shear.iter().find(|rule| name.is_none_or(|name| rule.name == name))
    }

    /// The stripping rule of that name; without a name the first.
    pub fn stripping_rule(&self, name: Option<&str>) -> Option<&StrippingRule> {
        self.forces.stripping.iter().find(|rule| name.is_none_or(|name| rule.name == name))
    }

    /// Shares of the cutting force for a sheet of this family and thickness, mm; a metal of no family counts as steel.
    pub fn force_share(&self, family: Option<Family>, thickness: f64) -> Option<&ForceShare> {
        let family = family.unwrap_or(Family::Steel);
        let holds = |row: &&ForceShare| row.family == family && row.up_to_mm.is_none_or(|to| thickness <= to);
        self.forces.shares.iter().find(holds)
    }

    /// The tool material of that name.
    pub fn steel(&self, name: &str) -> Option<&Steel> {
        self.steels.iter().find(|steel| steel.name == name)
    }

    /// What punches may bear.
    pub fn punch(&self) -> &PunchLimits {
        &self.punch
    }

    /// What spreads openings, and what steels bear.
    pub fn strength(&self) -> &StrengthLimits {
        &self.strength
    }

    /// Metric threads, finest first.
    pub fn threads(&self) -> &[Thread] {
        &self.threads
    }

    /// The thread of that name.
    pub fn thread(&self, name: &str) -> Option<&Thread> {
        self.threads.iter().find(|thread| thread.name == name)
    }

    /// Names of all threads.
    pub fn thread_names(&self) -> Vec<&str> {
        self.threads.iter().map(|thread| thread.name.as_str()).collect()
    }

    /// Lower and upper deviation of a zone of ISO 286-1 at a size, mm; none beyond the table.
    pub fn deviations(&self, zone: Zone, size_mm: f64) -> Option<[Known<f64>; 2]> {
        self.fits.deviations(zone, size_mm)
    }

    /// The greatest size in the table of fits, mm.
    pub fn largest_fit(&self) -> f64 {
        self.fits.largest()
    }

    /// Names of all sheet metals.
    pub fn metal_names(&self) -> Vec<&str> {
        self.metals.iter().map(|metal| metal.name.as_str()).collect()
    }

    /// Names of all clearance rules.
    pub fn clearance_rule_names(&self) -> Vec<&str> {
        self.rules.iter().map(|rule| rule.name.as_str()).collect()
    }

    /// Names of all rules for shear from tensile strength.
    pub fn shear_rule_names(&self) -> Vec<&str> {
        self.forces.shear.iter().map(|rule| rule.name.as_str()).collect()
    }

    /// Names of all stripping rules.
    pub fn stripping_rule_names(&self) -> Vec<&str> {
        self.forces.stripping.iter().map(|rule| rule.name.as_str()).collect()
    }

    /// Names of all tool materials that sections can be made of.
    pub fn steel_names(&self) -> Vec<&str> {
        self.steels.iter().filter(|steel| !steel.is_carbide()).map(|steel| steel.name.as_str()).collect()
    }
}

fn rows<R: for<'d> Deserialize<'d>>((file, text): (&str, &str), faults: &mut Vec<Remark>) -> Option<R> {
    toml::from_str(text)
        .map_err(|error| {
            let source = Source::new(file, text);
            let place = error.span().map_or(source.file(), |span| source.place(span.start));
            faults.push(Remark::error("bad-fact", error.message().trim_end()).place(place));
        })
        .ok()
}

/// The value with its origin; a source of no words is a fault.
pub(crate) fn sourced<T>(value: Sourced<T>, id: String, faults: &mut Vec<Remark>) -> Known<T> {
    if value.cite.trim().is_empty() {
        faults.push(Remark::error("bad-fact", format!("the fact {id} names no source")));
    }
    Known { value: value.value, from: From::Fact { id, basis: value.basis, cite: value.cite } }
}

fn metal(row: MetalRow, faults: &mut Vec<Remark>) -> Metal {
    let name = row.name;
    let mut known = |value: Option<Sourced<f64>>, key| {
        value.map(|value| sourced(value, format!("metal.{name}.{key}"), faults))
    };
    let shear_strength_mpa = known(row.shear_strength_mpa, "shear_strength_mpa");
    let uts_mpa = known(row.uts_mpa, "uts_mpa");
    let clearance = known(row.clearance, "clearance");
    let penetration = known(row.penetration, "penetration");
    let smallest_hole = known(row.smallest_hole, "smallest_hole");
    Metal { name, family: row.family, shear_strength_mpa, uts_mpa, clearance, penetration, smallest_hole }
}

fn rule(row: RuleRow, faults: &mut Vec<Remark>) -> Option<ClearanceRule> {
    let name = row.name;
    let form = match (row.by_metal, row.share, row.root_of_shear_k) {
        (Some(true), None, None) => ClearanceForm::ByMetal,
        (None, Some(share), None) => {
            ClearanceForm::Share(sourced(share, format!("clearance_rule.{name}.share"), faults))
        }
        (None, None, Some(k)) => {
            ClearanceForm::RootOfShear(sourced(k, format!("clearance_rule.{name}.k"), faults))
        }
        _ => {
            let message =
                format!("the clearance rule {name} must have one of by_metal = true, share, root_of_shear_k");
            faults.push(Remark::error("bad-fact", message));
            return None;
        }
    };
    Some(ClearanceRule { name, form })
}

fn steel(row: SteelRow, faults: &mut Vec<Remark>) -> Steel {
    let name = row.name;
    Steel {
        density_g_cm3: sourced(row.density_g_cm3, format!("steel.{name}.density_g_cm3"), faults),
        modulus_mpa: sourced(row.modulus_mpa, format!("steel.{name}.modulus_mpa"), faults),
        hardness_hrc: row
            .hardness_hrc
            .map(|value| sourced(value, format!("steel.{name}.hardness_hrc"), faults)),
        wire_rate_factor: row
            .wire_rate_factor
            .map(|value| sourced(value, format!("steel.{name}.wire_rate_factor"), faults)),
        compressive_yield_mpa: row
            .compressive_yield_mpa
            .map(|value| sourced(value, format!("steel.{name}.compressive_yield_mpa"), faults)),
        material: row.material,
        name,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str =
        "[[metal]]\nname = \"a\"\nclearance = { value = 0.06, basis = \"memory\", cite = \"from memory\" }\n";

    fn with_metals(text: &str) -> Result<Facts, Vec<Remark>> {
        Facts::read(("metals.toml", text), RULES, FORCES, STEELS)
    }

    #[test]
    fn a_value_without_basis_or_source_does_not_load() {
        assert!(with_metals(GOOD).is_ok());
        for (from, to) in [
            (", cite = \"from memory\"", ""),
            ("cite = \"from memory\"", "cite = \" \""),
            ("basis = \"memory\", ", ""),
            ("\"memory\"", "\"hearsay\""),
            ("{ value = 0.06, basis = \"memory\", cite = \"from memory\" }", "0.06"),
        ] {
            assert!(GOOD.contains(from));
            let faults = with_metals(&GOOD.replacen(from, to, 1)).unwrap_err();
            assert_eq!(faults[0].code, "bad-fact", "{to}");
        }
    }
}
