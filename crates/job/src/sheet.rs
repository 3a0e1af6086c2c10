//! What is stamped: the sheet metal.

use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader, place_of};

/// The sheet metal.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Name of the metal, one that the facts hold.
    pub metal: Option<Known<String>>,
    /// Its shear strength, N/mm2, where the job gives one; it then holds instead of the metal's in the facts.
    pub shear_strength_mpa: Option<Known<f64>>,
    /// Its tensile strength, N/mm2, where the job gives one; the shear strength then follows by a rule.
    pub tensile_strength_mpa: Option<Known<f64>>,
    /// Name of the rule for shear from tensile strength, one that the facts hold.
    pub shear_rule: Option<Known<String>>,
    /// Thickness, mm.
    pub thickness: Known<f64>,
    /// Clearance per side as a share of the thickness.
    pub clearance: Option<Known<f64>>,
    /// Name of a clearance rule, one that the facts hold.
    pub clearance_rule: Option<Known<String>>,
}

const METAL: Field = Field::new("metal", Want::Text, "name of the sheet metal, from the facts");
const SHEAR: Field = Field::new(
    "shear_strength_mpa",
    Want::Number(limits(1.0, 5000.0), "N/mm2"),
    "shear strength of the sheet",
);
const TENSILE: Field = Field::new(
    "tensile_strength_mpa",
    Want::Number(limits(1.0, 5000.0), "N/mm2"),
    "tensile strength of the sheet; its shear strength follows by `shear_rule`",
);
const SHEAR_RULE: Field = Field::new(
    "shear_rule",
    Want::Text,
    "name of the rule for shear from tensile strength; left out: the metal's own shear strength, else eight-tenths",
);
const THICKNESS: Field = Field::required("thickness", Want::Length(SIZE), "thickness of the sheet");
const CLEARANCE: Field = Field::new(
    "clearance",
    Want::Number(limits(0.0, 0.5), ""),
    "cutting clearance per side as a share of the thickness: 5 % is 0.05",
);
const RULE: Field = Field::new("clearance_rule", Want::Text, "name of the rule that gives the clearance");

pub(crate) const FIELDS: &[Field] = &[METAL, SHEAR, TENSILE, SHEAR_RULE, THICKNESS, CLEARANCE, RULE];

/// Reads the table.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Option<Sheet> {
    let metal = reader.text(part, &METAL);
    let shear_strength_mpa = reader.number(part, &SHEAR);
    let tensile_strength_mpa = reader.number(part, &TENSILE);
    let shear_rule = reader.text(part, &SHEAR_RULE);
    let thickness = reader.length(part, &THICKNESS);
    let clearance = reader.number(part, &CLEARANCE);
    let clearance_rule = reader.text(part, &RULE);
    if let (Some(_), Some(rule)) = (&clearance, &clearance_rule) {
        let message = "`clearance` and `clearance_rule` are both given; only one can hold".to_owned();
        reader.fault("clearance-twice", place_of(&rule.from), message, "leave one of them out");
    }
    let twice = tensile_strength_mpa.as_ref().map(|known| &known.from);
    let twice = twice.or(shear_rule.as_ref().map(|known| &known.from));
    if let (Some(_), Some(from)) = (&shear_strength_mpa, twice) {
        let message =
            "`shear_strength_mpa` is given, and a shear strength by rule asked for too; only one can hold"
                .to_owned();
        let cure = "leave out `shear_strength_mpa`, or `tensile_strength_mpa` and `shear_rule`";
        reader.fault("strength-twice", place_of(from), message, cure);
    }
    Some(Sheet {
        metal,
        shear_strength_mpa,
        tensile_strength_mpa,
        shear_rule,
        thickness: thickness?,
        clearance,
        clearance_rule,
    })
}
