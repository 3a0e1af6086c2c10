//! Rules of land and relief: how long a land, how the tilted wire runs, how often it can be ground.

use super::wire::to_picometre;
use crate::rule::Rule;
use package::Basis;

/// Land below which relief begins, where the job states none.
pub const LAND: Rule<1> = Rule {
    meaning: "straight cutting height above the relief",
    symbol: "l",
    unit: "mm",
    formula: "min(max(1, 5*t), 3)",
    inputs: ["t"],
    basis: Basis::CommonPractice,
    cite: "five sheets, at least 1 mm, at most 3 mm, no source",
    range: None,
    of: |[thickness]| (5.0 * thickness).clamp(1.0, 3.0),
};

/// Offset of the tilted wire at the land's end.
pub const OFFSET: Rule<4> = Rule {
    meaning: "offset of the tilted wire at the land's end: wire centre to finished edge",
    symbol: "H_b",
    unit: "mm",
    formula: "(d/2 + g)*c + k",
    inputs: ["d", "g", "c", "k"],
    basis: Basis::OwnDerivation,
    cite: "across, a tilted round wire is wider than straight by one over the cosine of its tilt",
    range: None,
    of: |[wire, gap, secant, stock]| to_picometre((wire / 2.0 + gap) * secant + stock),
};

/// Offset of the tilted wire at the cutting face.
pub const AT_FACE: Rule<3> = Rule {
    meaning: "offset of the tilted wire at the cutting face",
    symbol: "H_a",
    unit: "mm",
    formula: "H_b + l*m",
    inputs: ["H_b", "l", "m"],
    basis: Basis::OwnDerivation,
    cite: "above its pivot at the land's end the wire leans away from the edge",
    range: None,
    of: |[offset, land, tangent]| to_picometre(offset + land * tangent),
};

/// Metal that the tilted wire leaves on the land where it leaves most.
pub const WEDGE: Rule<3> = Rule {
    meaning: "metal that the tilted wire leaves on the land at the face",
    symbol: "w",
    unit: "mm",
    formula: "l*m + k",
    inputs: ["l", "m", "k"],
    basis: Basis::OwnDerivation,
    cite: "land by the tangent of the tilt, and the stock",
    range: None,
    of: |[land, tangent, stock]| land * tangent + stock,
};

/// How long the land becomes where the tilted wire leaves all of its stock.
pub const LONGEST: Rule<4> = Rule {
    meaning: "land where the tilted wire leaves all of its stock",
    symbol: "l_max",
    unit: "mm",
    formula: "min(l + k/m, h)",
    inputs: ["l", "k", "m", "h"],
    basis: Basis::OwnDerivation,
    cite: "the relief with its stock meets the land farther down by the stock over the tangent",
    range: None,
    of: |[land, stock, tangent, height]| (land + stock / tangent).min(height),
};

/// How much wider an opening is where the hole ends.
pub const OPENS: Rule<3> = Rule {
    meaning: "how much farther the relief's surface lies at the hole's lower end than the edge",
    symbol: "g_z",
    unit: "mm",
    formula: "max(0, m*(z - l_max))",
    inputs: ["m", "z", "l_max"],
    basis: Basis::OwnDerivation,
    cite: "the relief as its stock leaves it, at the depth of the hole",
    range: None,
    of: |[tangent, depth, longest]| (tangent * (depth - longest)).max(0.0),
};

/// How far the upper guide goes aside.
pub const ASIDE: Rule<4> = Rule {
    meaning: "how far the upper guide goes aside of the lower one",
    symbol: "U",
    unit: "mm",
    formula: "m*(h + a + b)",
    inputs: ["m", "h", "a", "b"],
    basis: Basis::OwnDerivation,
    cite: "distance of the guides by the tangent of the tilt",
    range: None,
    of: |[tangent, height, above, below]| tangent * (height + above + below),
};

/// Height of the lower guide.
pub const LOWER: Rule<2> = Rule {
    meaning: "height of the lower guide, from the cutting face",
    symbol: "z_l",
    unit: "mm",
    formula: "0 - h - b",
    inputs: ["h", "b"],
    basis: Basis::OwnDerivation,
    cite: "below the block's underside",
    range: None,
    of: |[height, below]| 0.0 - height - below,
};

/// Regrinds until the land is gone.
pub const REGRINDS: Rule<2> = Rule {
    meaning: "regrinds until the land is gone",
    symbol: "n",
    unit: "",
    formula: "0 - ceil(0 - l/r - 0.000001)",
    inputs: ["l", "r"],
    basis: Basis::OwnDerivation,
    cite: "whole regrinds in the land; a millionth more, for thicknesses that binary numbers miss by a hair",
    range: None,
    of: |[land, regrind]| 0.0 - (0.0 - land / regrind - 0.000_001).ceil(),
};

/// Strokes until the land is gone.
pub const STROKES: Rule<2> = Rule {
    meaning: "strokes until the land is gone",
    symbol: "N",
    unit: "strokes",
    formula: "(n + 1)*s",
    inputs: ["n", "s"],
    basis: Basis::OwnDerivation,
    cite: "new, and after each regrind",
    range: None,
    of: |[regrinds, strokes]| (regrinds + 1.0) * strokes,
};
