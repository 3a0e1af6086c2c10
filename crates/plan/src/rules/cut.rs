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

/// What a blanking punch is smaller by, per side.
pub const BLANKING_PUNCH: Rule<1> = Rule {
    meaning: "added to the drawn outline: the punch of a blank is smaller by the clearance",
    symbol: "c",
    unit: "mm",
    formula: "0 - c",
    inputs: ["c"],
    basis: Basis::Memory,
    cite: "textbooks of press tools: the die has the blank's size and the punch is smaller by the clearance, from memory",
    range: None,
    of: |[clearance]| -clearance,
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
