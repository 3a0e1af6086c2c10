//! A named rule for the cutting clearance.

use crate::known::Known;

/// A named clearance rule of the facts.
#[derive(Debug, Clone, PartialEq)]
pub struct ClearanceRule {
    /// Its name, as jobs write it.
    pub name: String,
    /// How it gives the clearance.
    pub form: ClearanceForm,
}

/// How a rule gives the clearance c per side from the thickness t, both in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum ClearanceForm {
    /// c = a t, with a from the sheet metal ([`crate::Metal::clearance`]).
    ByMetal,
    /// c = a t, with this a for every metal.
    Share(Known<f64>),
    /// c = k t sqrt(tau / 10) for t <= 3 mm, else (1.5 k t - 0.015) sqrt(tau / 10); tau in N/mm2, this k in mm/N^0.5.
    RootOfShear(Known<f64>),
}

impl ClearanceRule {
    /// Whether it takes the metal's textbook allowance.
    pub fn needs_allowance(&self) -> bool {
        self.form == ClearanceForm::ByMetal
    }

    /// Whether it takes the shear strength.
    pub fn needs_strength(&self) -> bool {
        matches!(self.form, ClearanceForm::RootOfShear(_))
    }
}
