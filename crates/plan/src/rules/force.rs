//! Rules of the stroke: cutting, stripping, pushing slugs through the land, work, and what the press gives.

use crate::rule::Rule;
use package::Basis;

/// Shear strength from tensile strength.
pub const SHEAR_FROM_TENSILE: Rule<2> = Rule {
    meaning: "shear strength of the sheet, from its tensile strength",
    symbol: "tau",
    unit: "N/mm2",
    formula: "x*Rm",
    inputs: ["x", "Rm"],
    basis: Basis::Handbook,
    cite: "textbooks take 0.7 or 0.8 of the tensile strength; the share says which",
    range: None,
    of: |[share, tensile]| share * tensile,
};

/// Cutting force of one edge.
pub const CUTTING: Rule<3> = Rule {
    meaning: "cutting force of this edge",
    symbol: "F",
    unit: "N",
    formula: "L*t*tau",
    inputs: ["L", "t", "tau"],
    basis: Basis::Handbook,
    cite: "Groover, Fundamentals of Modern Manufacturing, cutting force",
    range: None,
    of: |[length, t, tau]| length * t * tau,
};

/// Width across an opening, of any shape.
pub const ACROSS: Rule<2> = Rule {
    meaning: "width across: diameter of the circle that has as much area for its length",
    symbol: "D",
    unit: "mm",
    formula: "4*A/L",
    inputs: ["A", "L"],
    basis: Basis::OwnDerivation,
    cite: "the sheet grips a punch along its outline: area over length stands for the diameter of a round one",
    range: None,
    of: |[area, length]| 4.0 * area / length,
};

/// Stripping force as a share of the cutting force, by size.
pub const STRIPPING_BY_SIZE: Rule<2> = Rule {
    meaning: "stripping force as a share of the cutting force",
    symbol: "s",
    unit: "",
    formula: "max(0.05, min(0.2, 0.2 - 0.15*(D/t - 2)/8))",
    inputs: ["D", "t"],
    basis: Basis::Handbook,
    cite: "Schuler, Metal Forming Handbook, 1998: 10 to 20 % at two thicknesses across, 3 to 5 % at about ten; upper ends, straight between them",
    range: None,
    of: |[across, t]| (0.2 - 0.15 * (across / t - 2.0) / 8.0).clamp(0.05, 0.2),
};

/// Stripping force by a share.
pub const STRIPPING: Rule<2> = Rule {
    meaning: "force that strips the sheet off the punch of this edge",
    symbol: "S",
    unit: "N",
    formula: "s*F",
    inputs: ["s", "F"],
    basis: Basis::Handbook,
    cite: "textbooks take stripping as a share of the cutting force; the share says whose",
    range: None,
    of: |[share, force]| share * force,
};

/// Stripping force by the sheared area.
pub const STRIPPING_BY_AREA: Rule<3> = Rule {
    meaning: "force that strips the sheet off the punch of this edge",
    symbol: "S",
    unit: "N",
    formula: "p*L*t",
    inputs: ["p", "L", "t"],
    basis: Basis::Memory,
    cite: "from memory: ASTME and Paquin take a pressure on the sheared edge",
    range: None,
    of: |[pressure, length, t]| pressure * length * t,
};

/// Slugs that the land holds.
pub const SLUGS: Rule<2> = Rule {
    meaning: "slugs that the land holds",
    symbol: "n",
    unit: "",
    formula: "ceil(l/t - 0.000000001)",
    inputs: ["l", "t"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: land over thickness; a slug that is partly in is held too",
    range: None,
    of: |[land, t]| (land / t - 0.000_000_001).ceil(),
};

/// Force that pushes the slugs through.
pub const PUSH_THROUGH: Rule<3> = Rule {
    meaning: "force that pushes the slugs of this edge through the land",
    symbol: "Q",
    unit: "N",
    formula: "n*k*F",
    inputs: ["n", "k", "F"],
    basis: Basis::Handbook,
    cite: "Chinese course notes on stamping (two copies read): slugs held, share for one slug, cutting force",
    range: None,
    of: |[slugs, share, force]| slugs * share * force,
};

/// Work of cutting one edge.
pub const CUTTING_WORK: Rule<3> = Rule {
    meaning: "work of cutting this edge",
    symbol: "W_F",
    unit: "J",
    formula: "F*q*t/1000",
    inputs: ["F", "q", "t"],
    basis: Basis::Handbook,
    cite: "P. C. Sharma, Production Engineering, chapter 2: force, penetration as a share, thickness",
    range: None,
    of: |[force, penetration, t]| force * penetration * t / 1000.0,
};

/// Work of pushing the slugs on.
pub const PUSH_WORK: Rule<2> = Rule {
    meaning: "work of pushing the slugs of this edge on by one thickness",
    symbol: "W_Q",
    unit: "J",
    formula: "Q*t/1000",
    inputs: ["Q", "t"],
    basis: Basis::OwnDerivation,
    cite: "every stroke moves the slugs in the land by one thickness",
    range: None,
    of: |[push, t]| push * t / 1000.0,
};

/// Work of one edge.
pub const WORK: Rule<2> = Rule {
    meaning: "work of one stroke at this edge, stripping apart",
    symbol: "W",
    unit: "J",
    formula: "W_F + W_Q",
    inputs: ["W_F", "W_Q"],
    basis: Basis::OwnDerivation,
    cite: "cutting, then pushing the slugs on",
    range: None,
    of: |[cutting, pushing]| cutting + pushing,
};

/// Forces that act together.
pub const TOGETHER: Rule<2> = Rule {
    meaning: "forces so far, acting together",
    symbol: "F",
    unit: "N",
    formula: "F0 + F1",
    inputs: ["F0", "F1"],
    basis: Basis::OwnDerivation,
    cite: "forces of edges that enter together add",
    range: None,
    of: |[sum, next]| sum + next,
};

/// Work of edges together.
pub const WORK_TOGETHER: Rule<2> = Rule {
    meaning: "work so far",
    symbol: "W",
    unit: "J",
    formula: "W0 + W1",
    inputs: ["W0", "W1"],
    basis: Basis::OwnDerivation,
    cite: "works add",
    range: None,
    of: |[sum, next]| sum + next,
};

/// Rating of the press in newtons.
pub const RATING: Rule<1> = Rule {
    meaning: "rating of the press",
    symbol: "R",
    unit: "N",
    formula: "1000*P",
    inputs: ["P"],
    basis: Basis::OwnDerivation,
    cite: "kilonewtons to newtons",
    range: None,
    of: |[kilonewtons]| 1000.0 * kilonewtons,
};

/// What the press must give when springs strip.
pub const NEEDED_WITH_SPRINGS: Rule<3> = Rule {
    meaning: "force that the press must give where it gives most, the stripper's springs loaded",
    symbol: "N",
    unit: "N",
    formula: "F + S + Q",
    inputs: ["F", "S", "Q"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: springs are loaded on the way down, and their force adds to cutting and pushing through",
    range: None,
    of: |[cutting, stripping, pushing]| cutting + stripping + pushing,
};

/// What the press must give when a fixed plate strips.
pub const NEEDED_WITH_PLATE: Rule<2> = Rule {
    meaning: "force that the press must give where it gives most; a fixed plate strips on the way up",
    symbol: "N",
    unit: "N",
    formula: "F + Q",
    inputs: ["F", "Q"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: a fixed plate strips when cutting is over",
    range: None,
    of: |[cutting, pushing]| cutting + pushing,
};

/// Share of the rating.
pub const SHARE_OF_RATING: Rule<2> = Rule {
    meaning: "share of the press's rating that the die takes",
    symbol: "v",
    unit: "",
    formula: "N/R",
    inputs: ["N", "R"],
    basis: Basis::OwnDerivation,
    cite: "what is needed over what there is",
    range: None,
    of: |[needed, rating]| needed / rating,
};

/// What is left of what a die may take.
pub const RESERVE: Rule<3> = Rule {
    meaning: "force that is left of what a die may take of the press; below 0: missing",
    symbol: "M",
    unit: "N",
    formula: "u*R - N",
    inputs: ["u", "R", "N"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: a die takes 70 to 80 % of the rating at most; blunt edges alone take 15 to 30 % more",
    range: None,
    of: |[use_at_most, rating, needed]| use_at_most * rating - needed,
};
