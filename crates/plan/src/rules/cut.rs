//! Rules of cutting design: clearance and force.

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

/// Cutting force of one edge.
pub const CUTTING_FORCE: Rule<3> = Rule {
    meaning: "cutting force of this edge",
    symbol: "F",
    unit: "N",
    formula: "L*t*tau",
    inputs: ["L", "t", "tau"],
    basis: Basis::Handbook,
    cite: "Groover, Fundamentals of Modern Manufacturing, cutting force",
    range: None,
    of: |[length, t, tau]| length * t * tau,
};

/// Cutting forces of two edges that enter together.
pub const FORCE_TOGETHER: Rule<2> = Rule {
    meaning: "cutting force of the edges so far, entering together",
    symbol: "F",
    unit: "N",
    formula: "F0 + F1",
    inputs: ["F0", "F1"],
    basis: Basis::OwnDerivation,
    cite: "forces of edges that enter together add",
    range: None,
    of: |[sum, next]| sum + next,
};
