//! Rules of burning: how deep, how much electrode, how long, and what a measured hole leaves of all that.

use crate::rule::Rule;
use package::Basis;

const PRACTICE: &str = "burning practice, no source";

/// Metal left over a back bore.
pub const FLOOR: Rule<2> = Rule {
    meaning: "metal left over the back bore",
    symbol: "z",
    unit: "mm",
    formula: "h - B",
    inputs: ["h", "B"],
    basis: Basis::OwnDerivation,
    cite: "the bore shortens what must be burned",
    range: None,
    of: |[height, bore]| height - bore,
};

/// Stand-off of a guide that stays outside the back bore it burns through.
pub const STAND_OFF_BORED: Rule<2> = Rule {
    meaning: "stand-off of the guide above the metal, burned through the back bore",
    symbol: "s",
    unit: "mm",
    formula: "s_0 + B",
    inputs: ["s_0", "B"],
    basis: Basis::CommonPractice,
    cite: "the guide does not go into the bore, no source",
    range: None,
    of: |[stand_off, bore]| stand_off + bore,
};

/// How far the tip goes on beyond the metal.
pub const BREAK_THROUGH: Rule<2> = Rule {
    meaning: "how far the tip goes on beyond the metal, so that the exit is round",
    symbol: "y",
    unit: "mm",
    formula: "max(2, 8*(e + 2*o))",
    inputs: ["e", "o"],
    basis: Basis::CommonPractice,
    cite: PRACTICE,
    range: None,
    of: |[e, o]| (8.0 * (e + 2.0 * o)).max(2.0),
};

/// Depth and break-through.
pub const BURN_DEPTH: Rule<2> = Rule {
    meaning: "depth that the tip burns, break-through counted",
    symbol: "z_b",
    unit: "mm",
    formula: "z + y",
    inputs: ["z", "y"],
    basis: Basis::OwnDerivation,
    cite: "metal and break-through",
    range: None,
    of: |[depth, through]| depth + through,
};

/// Length of electrode used up by one hole.
pub const WEAR: Rule<2> = Rule {
    meaning: "length of electrode that this hole uses up",
    symbol: "w_e",
    unit: "mm",
    formula: "W/100*z_b",
    inputs: ["W", "z_b"],
    basis: Basis::CommonPractice,
    cite: "wear is a share of the depth burned, no source",
    range: None,
    of: |[percent, depth]| percent / 100.0 * depth,
};

/// Length of electrode that one hole asks for.
pub const ELECTRODE_NEED: Rule<3> = Rule {
    meaning: "length of electrode that one hole asks for",
    symbol: "L_n",
    unit: "mm",
    formula: "w_e + z_b + s",
    inputs: ["w_e", "z_b", "s"],
    basis: Basis::OwnDerivation,
    cite: "what wears off, and what then still reaches from the guide through the metal",
    range: None,
    of: |[wear, depth, stand_off]| wear + depth + stand_off,
};

/// Travel of the head over one hole.
pub const TRAVEL: Rule<2> = Rule {
    meaning: "travel of the head from where the tip touches",
    symbol: "Z",
    unit: "mm",
    formula: "z_b + w_e",
    inputs: ["z_b", "w_e"],
    basis: Basis::OwnDerivation,
    cite: "the head goes after the tip by what wears off",
    range: None,
    of: |[depth, wear]| depth + wear,
};

/// Minutes of a burning program.
pub const PROGRAM_MINUTES: Rule<3> = Rule {
    meaning: "minutes of burning this section, set-up excluded",
    symbol: "T_p",
    unit: "min",
    formula: "T_b + T_d + T_e",
    inputs: ["T_b", "T_d", "T_e"],
    basis: Basis::OwnDerivation,
    cite: "burning, dressing and touching, changes of electrode",
    range: None,
    of: |[burning, dressing, changing]| burning + dressing + changing,
};

/// Minutes with somebody at the burner.
pub const ATTENDED_MINUTES: Rule<3> = Rule {
    meaning: "minutes with somebody at the burner, set-up counted",
    symbol: "T_a",
    unit: "min",
    formula: "T_0 + T_d + T_e",
    inputs: ["T_0", "T_d", "T_e"],
    basis: Basis::OwnDerivation,
    cite: "set-up, dressing and touching, changes of electrode",
    range: None,
    of: |[setup, dressing, changing]| setup + dressing + changing,
};

/// What can be seen through a measured hole.
pub const LIGHT: Rule<3> = Rule {
    meaning: "widest straight wire that goes through the measured hole",
    symbol: "D_l",
    unit: "mm",
    formula: "max(0, min(D_1, D_2, (D_1 + D_2)/2 - l))",
    inputs: ["D_1", "D_2", "l"],
    basis: Basis::OwnDerivation,
    cite: "largest circle in what two circles have in common, their centres l apart",
    range: None,
    of: |[one, other, apart]| one.min(other).min((one + other) / 2.0 - apart).max(0.0),
};

/// What a measured hole takes where it comes nearest to the edge.
pub const TAKES_MEASURED: Rule<3> = Rule {
    meaning: "metal that the measured hole takes where it comes nearest to the edge: radius, recast, clean-up stock",
    symbol: "n",
    unit: "mm",
    formula: "D/2 + r + u",
    inputs: ["D", "r", "u"],
    basis: Basis::OwnDerivation,
    cite: "as for a predicted hole, without drift: it is measured where it is",
    range: None,
    of: |[diameter, recast, stock]| diameter / 2.0 + recast + stock,
};

/// Plus or minus on a measured radius.
pub const MEASURED_RADIUS: Rule<1> = Rule {
    meaning: "plus or minus on a measured radius, two sigma",
    symbol: "q",
    unit: "mm",
    formula: "m/2",
    inputs: ["m"],
    basis: Basis::OwnDerivation,
    cite: "half of what a measured diameter may be off by",
    range: None,
    of: |[measuring]| measuring / 2.0,
};

/// Standard deviation of what was measured.
pub const SIGMA_MEASURED: Rule<1> = Rule {
    meaning: "standard deviation of what was measured",
    symbol: "s",
    unit: "mm",
    formula: "m/2",
    inputs: ["m"],
    basis: Basis::OwnDerivation,
    cite: "the shop states two sigma",
    range: None,
    of: |[measuring]| measuring / 2.0,
};

/// What a hole takes of the bore that it breaks into.
pub const IN_BORE: Rule<3> = Rule {
    meaning: "radius of the back bore that the hole's end asks for, from the hole's centre",
    symbol: "b_n",
    unit: "mm",
    formula: "D_out/2 + w + p + 0.05",
    inputs: ["D_out", "w", "p"],
    basis: Basis::CommonPractice,
    cite: "radius, drift and position of the hole; a bore drilled soft lies within 0.05, no source",
    range: None,
    of: |[exit, drift, position]| exit / 2.0 + drift + position + 0.05,
};
