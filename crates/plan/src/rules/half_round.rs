//! Rules of a start hole that two halves make together, a half-round ground into each: how wide it is, how much room it needs.
//!
//! A half-round that is ground too deep has its centre in its own half, one that is too shallow in the other; the halves may
//! stand beside each other along the joint by the mismatch, half of it to either side of where they should be.

use crate::rule::Rule;
use package::Basis;

/// Diameter of the hole.
pub const DIAMETER: Rule<1> = Rule {
    meaning: "diameter of the hole that two half-rounds make",
    symbol: "D",
    unit: "mm",
    formula: "2*r_w",
    inputs: ["r_w"],
    basis: Basis::OwnDerivation,
    cite: "twice the radius that the wheel is dressed to, each half-round as deep as its radius",
    range: None,
    of: |[radius]| 2.0 * radius,
};

/// How far the centre of one half-round may lie from the hole's.
pub const APART: Rule<2> = Rule {
    meaning: "how far the centre of one half-round may lie from the hole's",
    symbol: "a",
    unit: "mm",
    formula: "sqrt(d_e^2 + (m_h/2)^2)",
    inputs: ["d_e", "m_h"],
    basis: Basis::OwnDerivation,
    cite: "error of depth square to the joint, half of the mismatch along it",
    range: None,
    of: |[depth_error, mismatch]| (depth_error * depth_error + mismatch * mismatch / 4.0).sqrt(),
};

/// The widest straight wire that is sure to go through.
pub const LIGHT: Rule<2> = Rule {
    meaning: "diameter that both half-rounds leave open, however they stand",
    symbol: "D_out",
    unit: "mm",
    formula: "max(0, D - 2*a)",
    inputs: ["D", "a"],
    basis: Basis::OwnDerivation,
    cite: "the circle about the hole's centre that lies in both half-rounds, each too shallow and half the mismatch aside",
    range: None,
    of: |[diameter, apart]| (diameter - 2.0 * apart).max(0.0),
};

/// How far it leans.
pub const LEAN: Rule<2> = Rule {
    meaning: "lean of the half-rounds over the block's height",
    symbol: "w",
    unit: "mm",
    formula: "k_h*z",
    inputs: ["k_h", "z"],
    basis: Basis::CommonPractice,
    cite: "ground square to the face within so much per height, no source",
    range: None,
    of: |[lean, height]| lean * height,
};

/// What the hole takes at its worst height, chance apart.
pub const TAKES: Rule<4> = Rule {
    meaning: "metal that both half-rounds take at their worst height: radius, depth and mismatch, lean, clean-up stock",
    symbol: "n",
    unit: "mm",
    formula: "D/2 + a + w + c",
    inputs: ["D", "a", "w", "c"],
    basis: Basis::OwnDerivation,
    cite: "the farthest point of a half-round whose centre lies aside; nothing is recast by grinding",
    range: None,
    of: |[diameter, apart, lean, rest]| diameter / 2.0 + apart + lean + rest,
};

/// What the hole takes where a relief begins, chance apart.
pub const TAKES_AT_LAND: Rule<6> = Rule {
    meaning: "metal that both half-rounds take where the relief begins",
    symbol: "n_l",
    unit: "mm",
    formula: "D/2 + a + k_h*min(z, l_max) + c",
    inputs: ["D", "a", "k_h", "z", "l_max", "c"],
    basis: Basis::OwnDerivation,
    cite: "as at the bottom, with the lean as far as the land goes",
    range: None,
    of: |[diameter, apart, lean, height, land, rest]| diameter / 2.0 + apart + lean * height.min(land) + rest,
};

/// What the hole takes of what the edge leaves, where a relief widens the opening below the land.
pub const TAKES_ABOVE_RELIEF: Rule<3> = Rule {
    meaning: "metal that both half-rounds take of what the edge leaves, the relief's width counted",
    symbol: "n",
    unit: "mm",
    formula: "max(n_l, n_z - g_z)",
    inputs: ["n_l", "n_z", "g_z"],
    basis: Basis::OwnDerivation,
    cite: "the lean grows evenly, so the worst is at the land's end or at the bottom",
    range: None,
    of: |[land, bottom, opens]| land.max(bottom - opens),
};

#[cfg(test)]
mod tests {
    use super::*;

    /// Half-rounds drawn as points: depth off by the error either way, half the mismatch to either side.
    #[test]
    fn farthest_and_nearest_points_of_displaced_half_rounds() {
        let (radius, error, mismatch) = (0.15, 0.004, 0.006);
        let apart = (APART.of)([error, mismatch]);
        let (mut farthest, mut nearest) = (0f64, f64::INFINITY);
        for deep in [-error, error] {
            for aside in [-mismatch / 2.0, mismatch / 2.0] {
                // The upper half: a half-circle about its own centre, with straight walls down to the joint where it is deep.
                for k in 0..=20_000 {
                    let angle = std::f64::consts::PI * f64::from(k) / 20_000.0;
                    let rim = [aside + radius * angle.cos(), deep + radius * angle.sin()];
                    if rim[1] >= 0.0 {
                        let away = rim[0].hypot(rim[1]);
                        farthest = farthest.max(away);
                        nearest = nearest.min(away);
                    }
                }
            }
        }
        let takes = (TAKES.of)([2.0 * radius, apart, 0.0, 0.0]);
        let light = (LIGHT.of)([2.0 * radius, apart]);
        assert!((takes - farthest).abs() < 1e-8, "{takes} {farthest}");
        assert!((light / 2.0 - nearest).abs() < 1e-6 && light / 2.0 <= nearest + 1e-12, "{light} {nearest}");
    }
}
