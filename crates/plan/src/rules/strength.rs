//! Rules of a section's strength: what spreads its openings, what squeezes it in its frame, what its steel bears.

use crate::rule::Rule;
use package::Basis;

/// Spreading force on each mm of edge.
pub const SPREADING: Rule<3> = Rule {
    meaning: "force that spreads the openings, square to each mm of their edges",
    symbol: "q",
    unit: "N/mm",
    formula: "a*t*tau",
    inputs: ["a", "t", "tau"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: a share of the cutting force, spread evenly along the edge",
    range: None,
    of: |[share, t, tau]| share * t * tau,
};

/// Pressure on the edge of one opening, as if it went on over the whole height.
pub const PRESSURE: Rule<5> = Rule {
    meaning: "pressure that spreads this opening, taken as going on over the whole height",
    symbol: "p",
    unit: "N/mm2",
    formula: "q/t*min(1, 4*l/min(h, b))",
    inputs: ["q", "t", "l", "h", "b"],
    basis: Basis::OwnDerivation,
    cite: "the force acts on a band as high as the sheet is thick, and slugs in the land go on pressing so; a land at one end of a wall as high as the opening is long, or the block, pulls the wall's face with four times its mean, as any bar that is pulled at its rim",
    range: None,
    of: |[spreading, t, land, height, length]| spreading / t * (4.0 * land / height.min(length)).min(1.0),
};

/// Pressure of the frame on the sides.
pub const SQUEEZE: Rule<3> = Rule {
    meaning: "pressure of the frame on the sides across this axis",
    symbol: "q_f",
    unit: "N/mm2",
    formula: "max(0, 0 - s)*E/B",
    inputs: ["s", "E", "B"],
    basis: Basis::OwnDerivation,
    cite: "the block is squeezed by all of the interference, as if the frame were rigid: an upper bound",
    range: None,
    of: |[clearance, e, size]| (0.0 - clearance).max(0.0) * e / size,
};

/// Tension that a hardened steel bears stroke after stroke.
pub const LIMIT: Rule<2> = Rule {
    meaning: "tension that the steel bears from nothing, stroke after stroke",
    symbol: "s_w",
    unit: "N/mm2",
    formula: "2*1.43*(HV + 120)/A^(1/6)*0.5^(0.226 + HV/10000)",
    inputs: ["HV", "A"],
    basis: Basis::Handbook,
    cite: "Murakami, Metal fatigue: effects of small defects and nonmetallic inclusions, 2002, as quoted in two later texts: fatigue limit of a flaw at the surface, ten million strokes, stress from nothing to its peak",
    range: None,
    of: |[hv, flaw]| 2.0 * 1.43 * (hv + 120.0) / flaw.powf(1.0 / 6.0) * 0.5f64.powf(0.226 + hv / 10_000.0),
};

/// What the steel bears over the peak.
pub const SAFETY: Rule<3> = Rule {
    meaning: "what the steel bears over the peak stress, its error added",
    symbol: "v",
    unit: "",
    formula: "s_w/(s*(1 + e))",
    inputs: ["s_w", "s", "e"],
    basis: Basis::OwnDerivation,
    cite: "limit over the peak and its estimated error",
    range: None,
    of: |[limit, peak, error]| limit / (peak * (1.0 + error)),
};
