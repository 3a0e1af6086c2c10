//! Rules for the forces of a stroke, from the facts: shear from tensile strength, stripping, pushing slugs through.

use crate::facts::{Sourced, sourced};
use crate::known::Known;
use remark::Remark;
use serde::Deserialize;

/// A named rule for the shear strength of a metal of which only the tensile strength is known.
#[derive(Debug, Clone, PartialEq)]
pub struct ShearRule {
    /// Its name, as jobs write it.
    pub name: String,
    /// Shear strength as a share of the tensile strength.
    pub share: Known<f64>,
}

/// A named rule for the force that strips the sheet off the punch.
#[derive(Debug, Clone, PartialEq)]
pub struct StrippingRule {
    /// Its name, as jobs write it.
    pub name: String,
    /// How it gives the force.
    pub form: StrippingForm,
}

/// How a rule gives the stripping force.
#[derive(Debug, Clone, PartialEq)]
pub enum StrippingForm {
    /// A share of the cutting force that falls with the size of the opening over the thickness.
    BySize,
    /// A share of the cutting force, from the table of shares ([`ForceShare::stripping`]).
    ByTable,
    /// This share of the cutting force.
    Share(Known<f64>),
    /// This pressure on the sheared edge, N/mm2.
    Pressure(Known<f64>),
}

/// Families of sheet metals that the table of shares knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Family {
    /// Steels.
    Steel,
    /// Aluminium and its alloys.
    Aluminium,
    /// Copper and its alloys.
    Copper,
}

/// A row of the table of shares.
#[derive(Debug, Clone, PartialEq)]
pub struct ForceShare {
    /// The family it holds for.
    pub family: Family,
    /// The greatest thickness it holds for, mm; none: all above the rows before it.
    pub up_to_mm: Option<f64>,
    /// Stripping, as a share of the cutting force.
    pub stripping: Known<f64>,
    /// Pushing one slug through the land, as a share of the cutting force.
    pub push_through: Known<f64>,
}

/// All rules for forces.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct ForceRules {
    pub shear: Vec<ShearRule>,
    pub stripping: Vec<StrippingRule>,
    pub shares: Vec<ForceShare>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rows {
    shear_rule: Vec<ShearRow>,
    stripping_rule: Vec<StrippingRow>,
    share: Vec<ShareRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ShearRow {
    name: String,
    share: Sourced<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StrippingRow {
    name: String,
    by_size: Option<bool>,
    by_table: Option<bool>,
    share: Option<Sourced<f64>>,
    pressure_mpa: Option<Sourced<f64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ShareRow {
    family: Family,
    up_to_mm: Option<f64>,
    stripping: Sourced<f64>,
    push_through: Sourced<f64>,
}

impl Rows {
    /// The rules, each value with its source.
    pub fn rules(self, faults: &mut Vec<Remark>) -> ForceRules {
        let shear = self.shear_rule.into_iter().map(|row| ShearRule {
            share: sourced(row.share, format!("shear_rule.{}.share", row.name), faults),
            name: row.name,
        });
        let shear = shear.collect();
        let stripping = self.stripping_rule.into_iter().filter_map(|row| stripping(row, faults)).collect();
        let shares = self.share.into_iter().map(|row| share(row, faults)).collect();
        ForceRules { shear, stripping, shares }
    }
}

fn stripping(row: StrippingRow, faults: &mut Vec<Remark>) -> Option<StrippingRule> {
    let name = row.name;
    let form = match (row.by_size, row.by_table, row.share, row.pressure_mpa) {
        (Some(true), None, None, None) => StrippingForm::BySize,
        (None, Some(true), None, None) => StrippingForm::ByTable,
        (None, None, Some(share), None) => {
            StrippingForm::Share(sourced(share, format!("stripping_rule.{name}.share"), faults))
        }
        (None, None, None, Some(pressure)) => {
            StrippingForm::Pressure(sourced(pressure, format!("stripping_rule.{name}.pressure_mpa"), faults))
        }
        _ => {
            let message = format!(
                "the stripping rule {name} must have one of by_size = true, by_table = true, share, pressure_mpa"
            );
            faults.push(Remark::error("bad-fact", message));
            return None;
        }
    };
    Some(StrippingRule { name, form })
}

fn share(row: ShareRow, faults: &mut Vec<Remark>) -> ForceShare {
    let family = format!("{:?}", row.family).to_lowercase();
    let to = row.up_to_mm.map_or(String::new(), |mm| format!(".{mm}"));
    ForceShare {
        stripping: sourced(row.stripping, format!("share.{family}{to}.stripping"), faults),
        push_through: sourced(row.push_through, format!("share.{family}{to}.push_through"), faults),
        family: row.family,
        up_to_mm: row.up_to_mm,
    }
}
