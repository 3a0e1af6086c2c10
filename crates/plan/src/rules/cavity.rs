//! Rules of a section in its cavity: limits, clearance, the force of pressing it in.

use crate::rule::Rule;
use package::Basis;

/// A limit of size.
pub const LIMIT: Rule<2> = Rule {
    meaning: "limit of size",
    symbol: "B",
    unit: "mm",
    formula: "B_0 + e",
    inputs: ["B_0", "e"],
    basis: Basis::Standard,
    cite: "ISO 286-1: nominal size and deviation",
    range: None,
    of: |[nominal, deviation]| nominal + deviation,
};

/// Clearance between a cavity and what sits in it.
pub const CLEARANCE: Rule<2> = Rule {
    meaning: "clearance in all; below 0 it is interference",
    symbol: "s",
    unit: "mm",
    formula: "C - B",
    inputs: ["C", "B"],
    basis: Basis::Standard,
    cite: "ISO 286-1: size of the hole less size of the shaft",
    range: None,
    of: |[cavity, section]| cavity - section,
};

/// What a section is ground to in a measured cavity.
pub const GROUND_TO: Rule<2> = Rule {
    meaning: "size to grind to in the measured cavity",
    symbol: "B",
    unit: "mm",
    formula: "C - s",
    inputs: ["C", "s"],
    basis: Basis::CommonPractice,
    cite: "0.002 to 0.005 in all where a bought cavity's tolerance is larger than the alignment allows, common practice, no source",
    range: None,
    of: |[cavity, clearance]| cavity - clearance,
};

/// Force of pressing a section in, by the interference of one side.
pub const PRESS_FORCE: Rule<5> = Rule {
    meaning: "force of pressing it in by the interference on this side, at most",
    symbol: "F_p",
    unit: "N",
    formula: "max(0, 0 - s)*E/B*2*0.15*W*h",
    inputs: ["s", "E", "B", "W", "h"],
    basis: Basis::OwnDerivation,
    cite: "the block is squeezed by all of the interference, as if the frame were rigid: an upper bound; friction 0.15 from memory",
    range: None,
    of: |[clearance, e, size, width, height]| {
        (0.0 - clearance).max(0.0) * e / size * 2.0 * 0.15 * width * height
    },
};
