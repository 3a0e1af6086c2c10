//! Rules of size: where in the part's tolerance an edge starts, and the corners that it forces on the part.

use crate::rule::Rule;
use package::Basis;

const AGAINST_WEAR: &str = "common practice, no source: start at the limit that wear moves away from; what the edge itself may be off is left before the limit (own derivation), and in a tolerance narrower than twice that the middle is taken";

/// Where a piercing edge starts.
pub const PIERCE_SHIFT: Rule<3> = Rule {
    meaning: "added to the drawn outline for size, per side: the piercing punch wears smaller, so it starts near the largest hole",
    symbol: "v",
    unit: "mm",
    formula: "max(P/2 - T, (P - M)/4)",
    inputs: ["P", "M", "T"],
    basis: Basis::CommonPractice,
    cite: AGAINST_WEAR,
    range: None,
    of: |[plus, minus, edge]| (plus / 2.0 - edge).max((plus - minus) / 4.0),
};

/// Where a blanking edge starts.
pub const BLANK_SHIFT: Rule<3> = Rule {
    meaning: "added to the drawn outline for size, per side: the blanking opening wears larger, so it starts near the smallest blank",
    symbol: "v",
    unit: "mm",
    formula: "min(T - M/2, (P - M)/4)",
    inputs: ["P", "M", "T"],
    basis: Basis::CommonPractice,
    cite: AGAINST_WEAR,
    range: None,
    of: |[plus, minus, edge]| (edge - minus / 2.0).min((plus - minus) / 4.0),
};

/// What clearance and size together add to the drawn outline.
pub const GROWTH: Rule<2> = Rule {
    meaning: "added to the drawn outline in all, per side",
    symbol: "c_v",
    unit: "mm",
    formula: "c + v",
    inputs: ["c", "v"],
    basis: Basis::OwnDerivation,
    cite: "clearance and shift for size act on the same outline",
    range: None,
    of: |[clearance, shift]| clearance + shift,
};

/// Radius on the corners of a pierced part.
pub const PIERCED_CORNER: Rule<2> = Rule {
    meaning: "radius that this wire forces on the part's corners, through the punch that keeps the clearance even",
    symbol: "r",
    unit: "mm",
    formula: "max(0, H - c)",
    inputs: ["H", "c"],
    basis: Basis::OwnDerivation,
    cite: "the last pass leaves every corner of the opening with its offset as radius; a punch with even clearance has that less the clearance",
    range: None,
    of: |[offset, clearance]| (offset - clearance).max(0.0),
};
