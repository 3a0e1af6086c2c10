//! The starting values of the built-in example shop, by the keys of a shop file.

use super::expected::Ours;
use super::quantity::Answer;
use super::row::{Row, numeric};
use std::collections::BTreeSet;
use toml::{Table, Value};

fn shop() -> Result<Table, String> {
    job::example_shop().to_toml().parse().map_err(|e| format!("the example shop is no TOML: {e}"))
}

/// Names of all starting values, as in `shop.wire.gap`.
pub fn names() -> Result<BTreeSet<String>, String> {
    let mut found = BTreeSet::new();
    for (kind, value) in &shop()? {
        let rows: Vec<&Table> = match value {
            Value::Table(table) => vec![table],
            Value::Array(rows) => rows.iter().filter_map(Value::as_table).collect(),
            // Name, units, currency.
            _ => continue,
        };
        found.extend(rows.iter().flat_map(|row| row.keys()).map(|key| format!("shop.{kind}.{key}")));
    }
    Ok(found)
}

/// A starting value: of the row of a `diameter` where there are several, `at` a place in it where it is a list.
pub fn ask(row: &Row, what: &str) -> Result<Answer, String> {
    let fail = |why: &str| format!("`shop.{what}`: {why}");
    let (kind, key) = what.split_once('.').ok_or_else(|| fail("as in `shop.wire.gap`"))?;
    let shop = shop()?;
    let table = match shop.get(kind) {
        Some(Value::Table(table)) => table,
        Some(Value::Array(rows)) => {
            let diameter = row.number("diameter")?;
            let of = |one: &&Table| one.get("diameter").and_then(numeric) == Some(diameter);
            rows.iter().filter_map(Value::as_table).find(of).ok_or_else(|| fail("no row of that diameter"))?
        }
        _ => return Err(fail("the example shop has no such table")),
    };
    let mut value = table.get(key).ok_or_else(|| fail("no such key"))?;
    for at in row.given.get("at").and_then(Value::as_array).into_iter().flatten() {
        let at = at.as_integer().ok_or_else(|| fail("`at` is a list of whole numbers"))?;
        value =
            value.as_array().and_then(|list| list.get(at as usize)).ok_or_else(|| fail("`at` is nowhere"))?;
    }
    let number = numeric(value).ok_or_else(|| fail("not a number; `at` picks one of a list"))?;
    Ok(Answer { ours: Ours::Number(number), covers: vec![format!("shop.{what}")] })
}
