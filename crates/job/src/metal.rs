//! A sheet metal of the facts.

use crate::force_rule::Family;
use crate::known::Known;

/// A sheet metal.
#[derive(Debug, Clone, PartialEq)]
pub struct Metal {
    /// Its name, as jobs write it.
    pub name: String,
    /// Its family, where the table of force shares knows it.
    pub family: Option<Family>,
    /// Shear strength, N/mm2.
    pub shear_strength_mpa: Option<Known<f64>>,
    /// Ultimate tensile strength, N/mm2.
    pub uts_mpa: Option<Known<f64>>,
    /// Textbook clearance allowance: clearance per side as a share of the thickness.
    pub clearance: Option<Known<f64>>,
    /// How deep the punch goes before the slug breaks out, as a share of the thickness.
    pub penetration: Option<Known<f64>>,
    /// Smallest hole over the thickness, where the metal asks for more than others.
    pub smallest_hole: Option<Known<f64>>,
}
