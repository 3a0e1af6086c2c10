//! The sheet that is stamped: its thickness, and its shear strength as stated or by rule.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::force as rules;
use job::{Facts, Metal, Sheet};

/// The sheet's thickness.
pub fn thickness(reckoning: &mut Reckoning, sheet: &Sheet) -> Figure {
    reckoning.known(
        At("job:sheet.", "thickness_mm"),
        what("thickness of the sheet", "t", "mm"),
        &sheet.thickness,
    )
}

/// The metal of the facts that the sheet names.
pub fn metal<'a>(sheet: &Sheet, facts: &'a Facts) -> Option<&'a Metal> {
    facts.metal(&sheet.metal.as_ref()?.value)
}

/// The sheet's shear strength, where it is known: the job's own, by rule from a tensile strength that the job gives or
/// where it names the rule, else the metal's.
pub fn shear_strength(reckoning: &mut Reckoning, sheet: &Sheet, facts: &Facts) -> Option<Figure> {
    let tau = what("shear strength of the sheet", "tau", "N/mm2");
    if let Some(given) = &sheet.shear_strength_mpa {
        return Some(reckoning.known(At("job:sheet.", "shear_strength_mpa"), tau, given));
    }
    let own = metal(sheet, facts).and_then(|metal| metal.shear_strength_mpa.as_ref());
    match own {
        Some(known) if sheet.tensile_strength_mpa.is_none() && sheet.shear_rule.is_none() => {
            Some(reckoning.known(At("fact:metal.", "shear_strength_mpa"), tau, known))
        }
        _ => by_rule(reckoning, sheet, facts),
    }
}

/// Shear strength by the named rule from the tensile strength.
fn by_rule(reckoning: &mut Reckoning, sheet: &Sheet, facts: &Facts) -> Option<Figure> {
    let rm = what("tensile strength of the sheet", "Rm", "N/mm2");
    let tensile = match &sheet.tensile_strength_mpa {
        Some(given) => reckoning.known(At("job:sheet.", "tensile_strength_mpa"), rm, given),
        None => reckoning.known(At("fact:metal.", "uts_mpa"), rm, metal(sheet, facts)?.uts_mpa.as_ref()?),
    };
    let rule = facts.shear_rule(sheet.shear_rule.as_ref().map(|name| name.value.as_str()))?;
    let share = what("shear strength as a share of the tensile strength", "x", "");
    let share = reckoning.known(At("fact:shear_rule.", "share"), share, &rule.share);
    Some(reckoning.rule(At("job:sheet.", "shear_by_rule_mpa"), &rules::SHEAR_FROM_TENSILE, [share, tensile]))
}
