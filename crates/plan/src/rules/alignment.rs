//! Rules of the alignment budget.

use crate::rule::Rule;
use package::Basis;

/// How far punch and opening may be off centre.
pub const ALLOWED: Rule<2> = Rule {
    meaning: "how far punch and opening may be off centre",
    symbol: "u",
    unit: "mm",
    formula: "b*c",
    inputs: ["b", "c"],
    basis: Basis::CommonPractice,
    cite: "10 to 25 % of the clearance per side, common practice, no source",
    range: None,
    of: |[share, clearance]| share * clearance,
};

/// Squareness over the block's height.
pub const SQUARENESS: Rule<2> = Rule {
    meaning: "squareness of the cut over the block's height",
    symbol: "u_s",
    unit: "mm",
    formula: "k*h",
    inputs: ["k", "h"],
    basis: Basis::OwnDerivation,
    cite: "per mm of height, times height",
    range: None,
    of: |[per_mm, height]| per_mm * height,
};

/// Play of the section in its cavity.
pub const PLAY: Rule<1> = Rule {
    meaning: "play of the section in its cavity, plus or minus",
    symbol: "u_c",
    unit: "mm",
    formula: "max(0, s)/2",
    inputs: ["s"],
    basis: Basis::OwnDerivation,
    cite: "half of the most clearance: the section lies somewhere in it",
    range: None,
    of: |[most]| most.max(0.0) / 2.0,
};

/// One more term at its limit.
pub const WORST: Rule<2> = Rule {
    meaning: "every term so far at its limit, along one axis",
    symbol: "u_w",
    unit: "mm",
    formula: "w + u",
    inputs: ["w", "u"],
    basis: Basis::OwnDerivation,
    cite: "worst case: limits add",
    range: None,
    of: |[sum, term]| sum + term,
};

/// One more term in the root of squares.
pub const ROOT: Rule<2> = Rule {
    meaning: "root of the squares of the terms so far, along one axis",
    symbol: "u_r",
    unit: "mm",
    formula: "sqrt(r*r + u*u)",
    inputs: ["r", "u"],
    basis: Basis::Handbook,
    cite: "root sum square of independent terms; Evans, Statistical tolerancing: the state of the art, 1975, from memory",
    range: None,
    of: |[root, term]| (root * root + term * term).sqrt(),
};
