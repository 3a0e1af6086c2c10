//! Peak stresses of a plate that a row gives: its outline, an opening in it, what presses on either.

use super::bench::{opening, outline_of};
use super::expected::Ours;
use super::quantity::Answer;
use super::row::{Row, numeric};
use strength::{Aim, Edge, Load, Material, Region, stresses};

/// Young's modulus, N/mm2, and Poisson's ratio: with forces alone the peak hangs on neither.
const STEEL: (f64, f64) = (210_000.0, 0.3);
/// Share to which the peak settles: a tenth of what most sources print.
const SETTLE: f64 = 0.001;
/// Triangles at most.
const MOST: usize = 40_000;

/// `strength.tension_mpa` or `strength.equivalent_mpa` of the plate `vertices` with the opening `island`. `outer` and `inner` are
/// pressures, N/mm2: one all the way round, or one for each segment; below 0 they pull.
pub fn ask(row: &Row, what: &str) -> Result<Answer, String> {
    let region =
        Region::new(opening(row)?, vec![outline_of(row, "island")?]).map_err(|e| format!("{e:?}"))?;
    let mut loads = pressures(row, "outer", Edge::Outer)?;
    loads.extend(pressures(row, "inner", Edge::Opening(0))?);
    let steel = Material::new(STEEL.0, STEEL.1).map_err(|e| format!("{e:?}"))?;
    let aim = Aim { settle: SETTLE, most_elements: MOST };
    let found = stresses(&region, &loads, &[], &steel, &aim).map_err(|e| format!("{e:?}"))?;
    let number = match what {
        "tension_mpa" => found.tension.mpa,
        "equivalent_mpa" => found.equivalent.mpa,
        _ => return Err(format!("`strength.{what}` has no arm in xtask/src/checks/stress.rs: add one")),
    };
    Ok(Answer { ours: Ours::Number(number), covers: vec!["room.strength".to_owned()] })
}

fn pressures(row: &Row, key: &str, edge: Edge) -> Result<Vec<Load>, String> {
    let Some(value) = row.given.get(key) else { return Ok(Vec::new()) };
    if let Some(pressure) = numeric(value) {
        return Ok(vec![Load::around(edge, pressure)]);
    }
    let listed: Option<Vec<f64>> = value.as_array().and_then(|list| list.iter().map(numeric).collect());
    let listed =
        listed.ok_or_else(|| format!("`{key}` in `given` is neither a number nor a list of numbers"))?;
    Ok(listed.into_iter().enumerate().map(|(segment, pressure)| Load::on(edge, segment, pressure)).collect())
}
