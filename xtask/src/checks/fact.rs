//! The facts of the trade: every value of the data files by name, and what the job room says it is.

use super::expected::Ours;
use super::quantity::Answer;
use super::row::Row;
use job::{ClearanceForm, Facts, Family, Fit, Known, StrippingForm};
use std::collections::BTreeMap;
use std::path::Path;
use toml::{Table, Value};

/// Names of all values of the data files, as in `fact.metal.Al 1100-O.clearance`, with what they rest on.
pub fn names(root: &Path) -> Result<BTreeMap<String, String>, String> {
    let folder = root.join("crates/job/facts");
    let listing = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut found = BTreeMap::new();
    for path in listing.filter_map(|entry| Some(entry.ok()?.path())) {
        let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        let table: Table = text.parse().map_err(|e| format!("{}: {e}", path.display()))?;
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        // What stands above the rows goes by the file's name.
        let mut values: BTreeMap<String, String> = cited(&format!("fact.{stem}"), &table).collect();
        for (kind, rows) in &table {
            for row in rows.as_array().into_iter().flatten().filter_map(Value::as_table) {
                values.extend(cited(&format!("fact.{kind}.{}", name_of(row)), row));
            }
        }
        // A file of another shape counts as one entry.
        if values.is_empty() {
            values.insert(format!("fact.{stem}"), "a table of the facts".to_owned());
        }
        found.extend(values);
    }
    Ok(found)
}

/// The values of a table that name their source.
fn cited(head: &str, table: &Table) -> impl Iterator<Item = (String, String)> {
    let cites = |value: &Value| Some(value.as_table()?.get("cite")?.as_str()?.to_owned());
    table.iter().filter_map(move |(key, value)| Some((format!("{head}.{key}"), cites(value)?)))
}

/// A row's name; without one its own plain values, as in `steel-2.5`.
fn name_of(row: &Table) -> String {
    let plain = |value: &Value| match value {
        Value::String(text) => Some(text.clone()),
        Value::Float(number) => Some(number.to_string()),
        _ => None,
    };
    match row.get("name").and_then(plain) {
        Some(name) => name,
        None => row.values().filter_map(plain).collect::<Vec<_>>().join("-"),
    }
}

/// What the job room says a fact is.
pub fn ask(row: &Row, what: &str) -> Result<Answer, String> {
    let facts = Facts::load().map_err(super::bench::said)?;
    if let Some(deviation) = what.strip_prefix("fits.") {
        let number = fit(&facts, deviation, row.number("size")?)?;
        return Ok(Answer { ours: Ours::Number(number), covers: vec!["fact.fits".to_owned()] });
    }
    let (kind, rest) = what.split_once('.').unwrap_or((what, ""));
    let (name, key) = rest.rsplit_once('.').unwrap_or((rest, ""));
    let value = match kind {
        "metal" => metal(&facts, name, key),
        "rule" => clearance_rule(&facts, name),
        "shear_rule" => facts.shear_rule(Some(name)).map(|rule| rule.share.value),
        "stripping_rule" => stripping_rule(&facts, name),
        "share" => share(&facts, name, key, row.number("thickness")?),
        "steel" => steel(&facts, name, key, row),
        "punch" => punch_limit(&facts, rest),
        "strength" => strength_limit(&facts, rest, row),
        "thread" => thread(&facts, name, key),
        "guiding" => facts.punch().guiding(Some(name)).map(|guiding| guiding.factor.value),
        _ => return Err(format!("facts of kind `{kind}` have no arm in xtask/src/checks/fact.rs: add one")),
    };
    let number = value.ok_or_else(|| format!("the facts have no `{what}`"))?;
    Ok(Answer { ours: Ours::Number(number), covers: vec![format!("fact.{what}")] })
}

fn metal(facts: &Facts, name: &str, key: &str) -> Option<f64> {
    let metal = facts.metal(name)?;
    let known = match key {
        "shear_strength_mpa" => &metal.shear_strength_mpa,
        "uts_mpa" => &metal.uts_mpa,
        "clearance" => &metal.clearance,
        "penetration" => &metal.penetration,
        "smallest_hole" => &metal.smallest_hole,
        _ => return None,
    };
    known.as_ref().map(|known| known.value)
}

fn clearance_rule(facts: &Facts, name: &str) -> Option<f64> {
    match &facts.clearance_rule(name)?.form {
        ClearanceForm::ByMetal => None,
        ClearanceForm::Share(Known { value, .. }) | ClearanceForm::RootOfShear(Known { value, .. }) => {
            Some(*value)
        }
    }
}

/// The lower or upper deviation of a zone at a size, micrometres: `k6.upper`.
fn fit(facts: &Facts, deviation: &str, size: f64) -> Result<f64, String> {
    let fail = || format!("`fact.fits.{deviation}` is no zone with an end, as in `fact.fits.k6.upper`");
    let (zone, end) = deviation.split_once('.').ok_or_else(fail)?;
    let zone = match zone.starts_with(char::is_uppercase) {
        true => Fit::of(&format!("{zone}/h6"))?.hole,
        false => Fit::of(&format!("H7/{zone}"))?.shaft,
    };
    let [lower, upper] =
        facts.deviations(zone, size).ok_or_else(|| format!("no fits for a size of {size}"))?;
    match end {
        "lower" => Ok(1000.0 * lower.value),
        "upper" => Ok(1000.0 * upper.value),
        _ => Err(fail()),
    }
}

fn stripping_rule(facts: &Facts, name: &str) -> Option<f64> {
    match &facts.stripping_rule(Some(name))?.form {
        StrippingForm::BySize | StrippingForm::ByTable => None,
        StrippingForm::Share(Known { value, .. }) | StrippingForm::Pressure(Known { value, .. }) => {
            Some(*value)
        }
    }
}

/// What the table of shares gives a sheet of this family and thickness.
fn share(facts: &Facts, name: &str, key: &str, thickness: f64) -> Option<f64> {
    let family = match name.split('-').next()? {
        "steel" => Family::Steel,
        "aluminium" => Family::Aluminium,
        "copper" => Family::Copper,
        _ => return None,
    };
    let share = facts.force_share(Some(family), thickness)?;
    match key {
        "stripping" => Some(share.stripping.value),
        "push_through" => Some(share.push_through.value),
        _ => None,
    }
}

/// What punches may bear, whatever their steel.
fn punch_limit(facts: &Facts, key: &str) -> Option<f64> {
    let limits = facts.punch();
    match key {
        "work_stress_mpa" => Some(limits.work_stress_mpa.value),
        "head_pressure_mpa" => Some(limits.head_pressure_mpa.value),
        "smallest_hole" => Some(limits.smallest_hole.value),
        "buckling_reserve" => Some(limits.buckling_reserve.value),
        _ => None,
    }
}

fn thread(facts: &Facts, name: &str, key: &str) -> Option<f64> {
    let thread = facts.thread(name)?;
    match key {
        "pitch" => Some(thread.pitch.value),
        "clear" => Some(thread.clear.value),
        _ => None,
    }
}

/// What spreads openings, and what steels bear.
fn strength_limit(facts: &Facts, key: &str, row: &Row) -> Option<f64> {
    let limits = facts.strength();
    match key {
        "spreading" => Some(limits.spreading.value),
        "poisson" => Some(limits.poisson.value),
        "flaw_um" => Some(limits.flaw_um.value),
        "reserve" => Some(limits.reserve.value),
        "vickers" => Some(limits.vickers(row.number("hrc").ok()?)?.value),
        _ => None,
    }
}

fn steel(facts: &Facts, name: &str, key: &str, row: &Row) -> Option<f64> {
    let steel = facts.steel(name)?;
    match key {
        "density_g_cm3" => Some(steel.density_g_cm3.value),
        "modulus_mpa" => Some(steel.modulus_mpa.value),
        "hardness_hrc" => {
            let at = row.number("at").map_or(0, |at| at as usize);
            steel.hardness_hrc.as_ref()?.value.get(at).copied()
        }
        "compressive_yield_mpa" => Some(steel.compressive_yield(row.number("hrc").ok()?)?.value),
        "wire_rate_factor" => steel.wire_rate_factor.as_ref().map(|known| known.value),
        _ => None,
    }
}
