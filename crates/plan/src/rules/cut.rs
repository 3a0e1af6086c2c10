//! Rules of the cutting clearance.

use crate::rule::{Range, Rule};
use package::Basis;

/// Clearance as a share of the thickness.
pub const CLEARANCE_SHARE: Rule<2> = Rule {
    meaning: "cutting clearance per side",
    symbol: "c",
    unit: "mm",
    formula: "a*t",
    inputs: ["a", "t"],
    basis: Basis::Handbook,
    cite: "Groover, Fundamentals of Modern Manufacturing, blanking clearance",
    range: None,
    of: |[a, t]| a * t,
};

/// Clearance by the root of the shear strength.
pub const CLEARANCE_ROOT: Rule<3> = Rule {
    meaning: "cutting clearance per side",
    symbol: "c",
    unit: "mm",
    formula: "k*t*sqrt(tau/10)",
    inputs: ["k", "t", "tau"],
    basis: Basis::Memory,
    cite: "VDI 3368 / Oehler-Kaiser, from memory",
    range: Some(Range { text: "t up to 3 mm", holds: |[_, t, _]| t <= 3.0 }),
    of: |[k, t, tau]| k * t * (tau / 10.0).sqrt(),
};
