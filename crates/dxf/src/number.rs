//! Numbers of groups: decimals and integers, finite and within reason.

use crate::fault::{Fault, shown};
use crate::group::Group;

/// The decimal that a group holds.
///
/// # Errors
/// A fault when it is no number or not finite.
pub(crate) fn decimal(group: &Group, kind: &str) -> Result<f64, Fault> {
    match std::str::from_utf8(group.value).ok().and_then(|text| text.parse::<f64>().ok()) {
        Some(number) if number.is_finite() => Ok(number),
        _ => Err(bad(group, kind, "a finite number")),
    }
}

/// The integer that a group holds; a decimal without a fraction is taken too.
///
/// # Errors
/// A fault when it is no integer.
pub(crate) fn integer(group: &Group, kind: &str) -> Result<i64, Fault> {
    if let Some(number) = std::str::from_utf8(group.value).ok().and_then(|text| text.parse().ok()) {
        return Ok(number);
    }
    let number = decimal(group, kind).map_err(|_| bad(group, kind, "an integer"))?;
    match number.fract() == 0.0 && number.abs() < 1e15 {
        true => Ok(number as i64),
        false => Err(bad(group, kind, "an integer")),
    }
}

fn bad(group: &Group, kind: &str, wanted: &str) -> Fault {
    let message =
        format!("{kind}: group {} holds '{}', which is not {wanted}", group.code, shown(group.value));
    Fault::new("number-bad", group.line, message, "write the drawing again, numbers with a decimal point")
}
