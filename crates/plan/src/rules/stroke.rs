//! Rules of the stroke over its way: how long a punch cuts, and what ground shear takes off.

use crate::rule::Rule;
use package::Basis;

/// How long a punch cuts.
pub const CUTS_FOR: Rule<3> = Rule {
    meaning: "way over which this punch cuts: until the slug breaks out, and as much longer as its shear is high",
    symbol: "z",
    unit: "mm",
    formula: "q*t + i",
    inputs: ["q", "t", "i"],
    basis: Basis::Handbook,
    cite: "P. C. Sharma, Production Engineering, chapter 2: penetration as a share of the thickness, shear ground on the face",
    range: None,
    of: |[penetration, t, shear]| penetration * t + shear,
};

/// Cutting force with shear.
pub const SHEARED: Rule<4> = Rule {
    meaning: "cutting force of this edge with the shear ground on its face",
    symbol: "F_i",
    unit: "N",
    formula: "F*q*t/(q*t + i)",
    inputs: ["F", "q", "t", "i"],
    basis: Basis::Handbook,
    cite: "P. C. Sharma, Production Engineering, chapter 2: F k t/(k t + i), which keeps the work; other texts take F k t/i",
    range: None,
    of: |[force, penetration, t, shear]| force * penetration * t / (penetration * t + shear),
};
