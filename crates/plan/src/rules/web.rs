//! Rules of the metal between openings and to the block's sides.

use crate::rule::Rule;
use package::Basis;

/// Web between two openings, sheet known.
pub const WEB: Rule<1> = Rule {
    meaning: "web between openings that common practice asks for",
    symbol: "w",
    unit: "mm",
    formula: "max(1, 3*t)",
    inputs: ["t"],
    basis: Basis::CommonPractice,
    cite: "max(1.0, 3 t), common practice, no source",
    range: None,
    of: |[t]| (3.0 * t).max(1.0),
};

/// Wall from an opening to the block's side.
pub const WALL: Rule<1> = Rule {
    meaning: "wall from opening to the block's side that common practice asks for",
    symbol: "w",
    unit: "mm",
    formula: "max(3, l)",
    inputs: ["l"],
    basis: Basis::CommonPractice,
    cite: "max(3, length of the opening), for free-standing blocks, common practice, no source",
    range: None,
    of: |[length]| length.max(3.0),
};

/// Wall of a block that stands free.
pub const WALL_BY_HEIGHT: Rule<1> = Rule {
    meaning: "wall from opening to the block's side that textbooks ask for where a block stands free",
    symbol: "w",
    unit: "mm",
    formula: "1.25*h",
    inputs: ["h"],
    basis: Basis::Handbook,
    cite: "textbook notes on die design (title not recorded): opening to outer edge 1.25 heights",
    range: None,
    of: |[height]| 1.25 * height,
};

/// The same beside sharp corners.
pub const WALL_AT_SHARP: Rule<1> = Rule {
    meaning: "wall from opening to the block's side that textbooks ask for where a block stands free, its opening with sharp corners",
    symbol: "w",
    unit: "mm",
    formula: "2*h",
    inputs: ["h"],
    basis: Basis::Handbook,
    cite: "textbook notes on die design (title not recorded): 1.5 to 2 heights at large dies or sharp corners, the upper end",
    range: None,
    of: |[height]| 2.0 * height,
};
