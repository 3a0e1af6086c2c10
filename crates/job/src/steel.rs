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
    /// Compressive yield strength by hardness, rising: HRC and N/mm2; none: not known.
    pub compressive_yield_mpa: Option<Known<Vec<[f64; 2]>>>,
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

    /// Compressive yield at a hardness, N/mm2.
    pub fn compressive_yield(&self, hardness_hrc: f64) -> Option<Known<f64>> {
        along(self.compressive_yield_mpa.as_ref()?, hardness_hrc)
    }
}

/// A value at a hardness: straight between the rows of a table, its end slopes carried on beyond.
pub(crate) fn along(table: &Known<Vec<[f64; 2]>>, hardness_hrc: f64) -> Option<Known<f64>> {
    let between = |pair: &&[[f64; 2]]| hardness_hrc <= pair[1][0];
    let pair = table.value.windows(2).find(between).or_else(|| table.value.windows(2).last())?;
    let ([h0, y0], [h1, y1]) = (pair[0], pair[1]);
    let value = y0 + (y1 - y0) * (hardness_hrc - h0) / (h1 - h0);
    Some(Known { value, from: table.from.clone() })
}
