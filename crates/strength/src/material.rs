//! What the plate is made of: linear, the same in all directions.

use crate::Refusal;

/// Elastic constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    e_mpa: f64,
    nu: f64,
}

impl Material {
    /// A material of this Young's modulus, MPa, and Poisson's ratio.
    ///
    /// # Errors
    /// A modulus that is not positive, a ratio that is not from 0 up to below 0.49: nearer to 0.5 the plate keeps its volume and
    /// these elements lock.
    pub fn new(e_mpa: f64, nu: f64) -> Result<Self, Refusal> {
        match e_mpa > 0.0 && e_mpa.is_finite() && (0.0..0.49).contains(&nu) {
            true => Ok(Self { e_mpa, nu }),
            false => Err(Refusal::Material { e_mpa, nu }),
        }
    }

    /// Young's modulus, MPa.
    pub fn e_mpa(&self) -> f64 {
        self.e_mpa
    }

    /// Poisson's ratio.
    pub fn nu(&self) -> f64 {
        self.nu
    }

    /// Lame's constants, MPa: lambda and mu. In plane strain the stiffness consists of these.
    pub(crate) fn lame(&self) -> (f64, f64) {
        let shear = self.e_mpa / (2.0 * (1.0 + self.nu));
        (2.0 * shear * self.nu / (1.0 - 2.0 * self.nu), shear)
    }

    /// Stress along an edge, MPa, from the strain along it and the stress across it.
    pub(crate) fn along(&self, strain: f64, across: f64) -> f64 {
        (self.e_mpa * strain / (1.0 + self.nu) + self.nu * across) / (1.0 - self.nu)
    }
}
