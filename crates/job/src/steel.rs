//! A tool material of the facts.

use crate::known::Known;

/// What a section can be made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Steel {
    /// Its name, as jobs write it.
    pub name: String,
    /// Steel or carbide.
    pub material: Material,
    /// Density, g/cm3.
    pub density_g_cm3: Known<f64>,
    /// Young's modulus, N/mm2.
    pub modulus_mpa: Known<f64>,
    /// Least and greatest usual hardness, HRC.
    pub hardness_hrc: Option<Known<[f64; 2]>>,
    /// Rate of a main cut over that in D2; none: not known.
    pub wire_rate_factor: Option<Known<f64>>,
}

/// Kind of tool material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Material {
    /// Hardened tool steel.
    Steel,
    /// Sintered tungsten carbide.
    Carbide,
}

impl Steel {
    /// Whether it is sintered carbide.
    pub fn is_carbide(&self) -> bool {
        self.material == Material::Carbide
    }
}
