//! Rules of screws, dowels and jack-out threads: their holes, and the metal that is left round them.

use crate::rule::Rule;
use package::Basis;

/// Minor diameter of a metric thread.
pub const MINOR: Rule<2> = Rule {
    meaning: "minor diameter of the thread",
    symbol: "D_1",
    unit: "mm",
    formula: "d - 5/8*sqrt(3)*P",
    inputs: ["d", "P"],
    basis: Basis::Standard,
    cite: "ISO 68-1, basic profile: five eighths of the triangle's height on either side",
    range: None,
    of: |[diameter, pitch]| diameter - 5.0 / 8.0 * 3f64.sqrt() * pitch,
};

/// Drill before tapping.
pub const TAP_DRILL: Rule<2> = Rule {
    meaning: "drill before tapping",
    symbol: "b",
    unit: "mm",
    formula: "d - P",
    inputs: ["d", "P"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: diameter less pitch",
    range: None,
    of: |[diameter, pitch]| diameter - pitch,
};

/// Drill before reaming.
pub const REAM_DRILL: Rule<1> = Rule {
    meaning: "drill before reaming for a dowel",
    symbol: "b",
    unit: "mm",
    formula: "d - 0.2",
    inputs: ["d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: 0.2 for the reamer",
    range: None,
    of: |[diameter]| diameter - 0.2,
};

/// How deep a screw or dowel goes in.
pub const DEPTH: Rule<1> = Rule {
    meaning: "depth of full thread, or how deep a dowel goes in",
    symbol: "l",
    unit: "mm",
    formula: "2*d",
    inputs: ["d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: 1.5 to 2 diameters, the upper end",
    range: None,
    of: |[diameter]| 2.0 * diameter,
};

/// How deep a blind tapped hole is drilled.
pub const TAPPED_DRILLED: Rule<3> = Rule {
    meaning: "depth that the drill's point reaches under a blind thread",
    symbol: "z",
    unit: "mm",
    formula: "l + 4*P + 0.3*b",
    inputs: ["l", "P", "b"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: four pitches for the tap's lead; the drill's point of 118 degrees is 0.3 of its diameter deep",
    range: None,
    of: |[depth, pitch, drill]| depth + 4.0 * pitch + 0.3 * drill,
};

/// How deep a blind hole for a dowel is drilled.
pub const REAMED_DRILLED: Rule<2> = Rule {
    meaning: "depth that the drill's point reaches under a dowel",
    symbol: "z",
    unit: "mm",
    formula: "l + 1 + 0.3*b",
    inputs: ["l", "b"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: 1 for the reamer's lead; the drill's point of 118 degrees is 0.3 of its diameter deep",
    range: None,
    of: |[depth, drill]| depth + 1.0 + 0.3 * drill,
};

/// From the centre of a hole to the block's side.
pub const TO_SIDE: Rule<1> = Rule {
    meaning: "from the hole's centre to the block's side, at least",
    symbol: "a_s",
    unit: "mm",
    formula: "1.5*d",
    inputs: ["d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: centre to edge 1.5 diameters",
    range: None,
    of: |[diameter]| 1.5 * diameter,
};

/// Metal between a hole and an opening or a bore.
pub const TO_OPENING: Rule<1> = Rule {
    meaning: "metal between the hole and an opening, at least",
    symbol: "a_o",
    unit: "mm",
    formula: "max(3, 1.5*d)",
    inputs: ["d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: opening to tapped hole max(3, 1.5 diameters)",
    range: None,
    of: |[diameter]| (1.5 * diameter).max(3.0),
};

/// Metal over a blind hole, at least.
pub const TO_FACE: Rule<1> = Rule {
    meaning: "metal between the drill's point and the cutting face, at least",
    symbol: "a_f",
    unit: "mm",
    formula: "max(3, d)",
    inputs: ["d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: a diameter, 3 at least, over a blind hole",
    range: None,
    of: |[diameter]| diameter.max(3.0),
};

/// Metal over a blind hole.
pub const OVER: Rule<2> = Rule {
    meaning: "metal between the drill's point and the cutting face",
    symbol: "w",
    unit: "mm",
    formula: "h - z",
    inputs: ["h", "z"],
    basis: Basis::OwnDerivation,
    cite: "height less depth",
    range: None,
    of: |[height, depth]| height - depth,
};
