//! Rules of the start hole: how wide it is at each height, how much room it needs, and what must pass through it.
//!
//! The hole enters wide (bellmouth), runs at electrode + overcut below it, and tapers to the exit. It drifts with
//! depth. The worst height decides; between the heights named here every term is linear.

use crate::rule::Rule;
use package::Basis;

/// Depth of the bellmouth, mm.
pub const BELLMOUTH_DEPTH: f64 = 0.3;

const BURNING: &str = "burning practice, no source";

/// Diameter at the face.
pub const ENTRY: Rule<3> = Rule {
    meaning: "diameter of the hole where the electrode enters, bellmouth counted",
    symbol: "D_in",
    unit: "mm",
    formula: "e + 2*o + 2*b",
    inputs: ["e", "o", "b"],
    basis: Basis::CommonPractice,
    cite: BURNING,
    range: None,
    of: |[e, o, b]| e + 2.0 * o + 2.0 * b,
};

/// Diameter where the electrode leaves.
pub const EXIT: Rule<2> = Rule {
    meaning: "diameter of the hole where the electrode leaves",
    symbol: "D_out",
    unit: "mm",
    formula: "e + 2*o - 0.02",
    inputs: ["e", "o"],
    basis: Basis::CommonPractice,
    cite: BURNING,
    range: None,
    of: |[e, o]| e + 2.0 * o - 0.02,
};

/// Drift at the bottom.
pub const DRIFT: Rule<3> = Rule {
    meaning: "drift of the hole at the bottom",
    symbol: "w",
    unit: "mm",
    formula: "k*z*(1 + s/5)",
    inputs: ["k", "z", "s"],
    basis: Basis::CommonPractice,
    cite: "drift grows with depth and with the stand-off of the electrode's guide, no source",
    range: None,
    of: |[k, z, s]| k * z * (1.0 + s / 5.0),
};

/// What the hole takes at the face, chance apart.
pub const TAKES_AT_FACE: Rule<3> = Rule {
    meaning: "metal that the hole takes at the face: radius, recast, clean-up stock",
    symbol: "n_f",
    unit: "mm",
    formula: "D_in/2 + r + u",
    inputs: ["D_in", "r", "u"],
    basis: Basis::OwnDerivation,
    cite: "fixed terms at the face, where the hole has not drifted yet",
    range: None,
    of: |[entry, recast, stock]| entry / 2.0 + recast + stock,
};

/// What the hole takes just below the bellmouth, chance apart.
pub const TAKES_BELOW_BELLMOUTH: Rule<6> = Rule {
    meaning: "metal that the hole takes below the bellmouth (0.3 deep): radius, drift, recast, clean-up stock",
    symbol: "n_b",
    unit: "mm",
    formula: "e/2 + o + k*min(z, 0.3)*(1 + s/5) + c",
    inputs: ["e", "o", "k", "z", "s", "c"],
    basis: Basis::OwnDerivation,
    cite: "fixed terms at the bellmouth's end",
    range: None,
    of: |[e, o, k, z, s, rest]| e / 2.0 + o + k * z.min(BELLMOUTH_DEPTH) * (1.0 + s / 5.0) + rest,
};

/// Recast and clean-up stock together.
pub const RECAST_AND_STOCK: Rule<2> = Rule {
    meaning: "recast, cracks and clean-up stock together",
    symbol: "c",
    unit: "mm",
    formula: "r + u",
    inputs: ["r", "u"],
    basis: Basis::OwnDerivation,
    cite: "both lie outside the burned rim",
    range: None,
    of: |[recast, stock]| recast + stock,
};

/// What the hole takes at the bottom, chance apart.
pub const TAKES_AT_BOTTOM: Rule<4> = Rule {
    meaning: "metal that the hole takes at the bottom: radius, drift, recast, clean-up stock",
    symbol: "n_z",
    unit: "mm",
    formula: "D_out/2 + w + r + u",
    inputs: ["D_out", "w", "r", "u"],
    basis: Basis::OwnDerivation,
    cite: "fixed terms at the bottom, where the hole is narrowest and has drifted furthest",
    range: None,
    of: |[exit, drift, recast, stock]| exit / 2.0 + drift + recast + stock,
};

/// What the hole takes at its worst height.
pub const TAKES: Rule<3> = Rule {
    meaning: "metal that the hole takes at its worst height, chance apart",
    symbol: "n",
    unit: "mm",
    formula: "max(n_f, n_b, n_z)",
    inputs: ["n_f", "n_b", "n_z"],
    basis: Basis::OwnDerivation,
    cite: "between these heights every term is linear, so the worst is at one of them",
    range: None,
    of: |[face, below, bottom]| face.max(below).max(bottom),
};

/// What the hole takes where the relief begins, chance apart.
pub const TAKES_AT_LAND: Rule<7> = Rule {
    meaning: "metal that the hole takes where the relief begins: radius, drift, recast, clean-up stock",
    symbol: "n_l",
    unit: "mm",
    formula: "e/2 + o + k*min(z, l_max)*(1 + s/5) + c",
    inputs: ["e", "o", "k", "z", "l_max", "s", "c"],
    basis: Basis::OwnDerivation,
    cite: "as below the bellmouth, its taper left out",
    range: None,
    of: |[e, o, k, z, land, s, rest]| e / 2.0 + o + k * z.min(land) * (1.0 + s / 5.0) + rest,
};

/// What the hole takes of what the edge leaves, at its worst height, where a relief widens the opening below the land.
pub const TAKES_ABOVE_RELIEF: Rule<5> = Rule {
    meaning: "metal that the hole takes of what the edge leaves at its worst height, the relief's width counted",
    symbol: "n",
    unit: "mm",
    formula: "max(n_f, n_b, n_l, n_z - g_z)",
    inputs: ["n_f", "n_b", "n_l", "n_z", "g_z"],
    basis: Basis::OwnDerivation,
    cite: "between face, bellmouth's end, land's end and bottom every term is linear, so the worst is at one of them",
    range: None,
    of: |[face, below, land, bottom, opens]| face.max(below).max(land).max(bottom - opens),
};

/// Standard deviation of position along one axis.
pub const SIGMA_POSITION: Rule<1> = Rule {
    meaning: "standard deviation of the hole's position along one axis",
    symbol: "s_p",
    unit: "mm",
    formula: "p/2.4477",
    inputs: ["p"],
    basis: Basis::OwnDerivation,
    cite: "95 % radius of a round normal distribution: sqrt(-2*ln 0.05) = 2.4477",
    range: None,
    of: |[p]| p / 2.4477,
};

/// Standard deviation of the radius.
pub const SIGMA_SIZE: Rule<1> = Rule {
    meaning: "standard deviation of the hole's radius",
    symbol: "s_q",
    unit: "mm",
    formula: "q/3",
    inputs: ["q"],
    basis: Basis::OwnDerivation,
    cite: "the shop states 3 sigma",
    range: None,
    of: |[q]| q / 3.0,
};

/// Three sigma of what varies.
pub const CHANCE: Rule<2> = Rule {
    meaning: "chance: 3 sigma of position and size together",
    symbol: "v",
    unit: "mm",
    formula: "3*sqrt(s_p^2 + s_q^2)",
    inputs: ["s_p", "s_q"],
    basis: Basis::OwnDerivation,
    cite: "independent variations add by squares",
    range: None,
    of: |[position, size]| 3.0 * (position * position + size * size).sqrt(),
};

/// Room, chance by squares: decides alone.
pub const ROOM: Rule<3> = Rule {
    meaning: "room of the start hole, at its worst height",
    symbol: "m",
    unit: "mm",
    formula: "x - n - v",
    inputs: ["x", "n", "v"],
    basis: Basis::OwnDerivation,
    cite: "distance to the finished edge less what the hole takes and 3 sigma of chance",
    range: None,
    of: |[distance, takes, chance]| distance - takes - chance,
};

/// Room, every term at its limit.
pub const ROOM_LINEAR: Rule<4> = Rule {
    meaning: "room of the start hole with every term at its limit, added",
    symbol: "m_l",
    unit: "mm",
    formula: "x - n - p - q",
    inputs: ["x", "n", "p", "q"],
    basis: Basis::OwnDerivation,
    cite: "the pessimist's sum",
    range: None,
    of: |[distance, takes, position, size]| distance - takes - position - size,
};

/// Metal that a start needs around its centre line.
pub const NEED: Rule<2> = Rule {
    meaning: "distance that the start needs from its centre to the finished edge",
    symbol: "x_n",
    unit: "mm",
    formula: "n + v",
    inputs: ["n", "v"],
    basis: Basis::OwnDerivation,
    cite: "what the hole takes at its worst height and 3 sigma of chance",
    range: None,
    of: |[takes, chance]| takes + chance,
};

/// Largest entry diameter that would leave room 0.
pub const LARGEST: Rule<4> = Rule {
    meaning: "largest hole (entry diameter) that can clean up here, with these allowances",
    symbol: "D_max",
    unit: "mm",
    formula: "max(0, D_in + 2*(x - n - v))",
    inputs: ["D_in", "x", "n", "v"],
    basis: Basis::OwnDerivation,
    cite: "the diameter at every height moves with the diameter at the face",
    range: None,
    of: |[entry, distance, takes, chance]| (entry + 2.0 * (distance - takes - chance)).max(0.0),
};

/// Width that threading needs.
pub const THREADING: Rule<2> = Rule {
    meaning: "exit diameter that threading needs",
    symbol: "D_t",
    unit: "mm",
    formula: "d + h",
    inputs: ["d", "h"],
    basis: Basis::CommonPractice,
    cite: "wire and threading room, no source",
    range: None,
    of: |[wire, room]| wire + room,
};

/// Width that keeps the wire from shorting on the way through.
pub const SHORT: Rule<4> = Rule {
    meaning: "exit diameter at which the wire does not short on the way",
    symbol: "D_s",
    unit: "mm",
    formula: "d + 2*(g + p + w)",
    inputs: ["d", "g", "p", "w"],
    basis: Basis::OwnDerivation,
    cite: "the wire stays a spark gap off the hole's wall, wherever the hole may lie",
    range: None,
    of: |[wire, gap, position, drift]| wire + 2.0 * (gap + position + drift),
};

/// Radius within which the rim lies with 95 % confidence.
pub const MAY_LIE: Rule<3> = Rule {
    meaning: "radius within which the rim lies, 95 % confidence, at its worst height",
    symbol: "r_95",
    unit: "mm",
    formula: "n - c + p",
    inputs: ["n", "c", "p"],
    basis: Basis::OwnDerivation,
    cite: "what the hole takes less recast and stock, moved by the 95 % radius of position",
    range: None,
    of: |[takes, rest, position]| takes - rest + position,
};
