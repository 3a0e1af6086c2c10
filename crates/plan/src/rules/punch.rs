//! Rules of the punch: corners that keep the clearance even, stress, buckling, the smallest one, the head.

use super::wire::to_picometre;
use crate::rule::Rule;
use package::Basis;

/// Outside corner of the punch that keeps the clearance even.
pub const OUTSIDE_CORNER: Rule<2> = Rule {
    meaning: "radius on the punch's outside corners that keeps the clearance even where the wire rounds the opening",
    symbol: "r_p",
    unit: "mm",
    formula: "max(0, H - c)",
    inputs: ["H", "c"],
    basis: Basis::OwnDerivation,
    cite: "both corners about one centre: the opening's radius less the clearance",
    range: None,
    of: |[offset, clearance]| to_picometre((offset - clearance).max(0.0)),
};

/// Outside corner of the opening that keeps the clearance even.
pub const OPENING_CORNER: Rule<2> = Rule {
    meaning: "radius on the opening's outside corners that keeps the clearance even where the wire rounds the punch",
    symbol: "r_o",
    unit: "mm",
    formula: "max(0, H - c)",
    inputs: ["H", "c"],
    basis: Basis::OwnDerivation,
    cite: "both corners about one centre: the punch's radius less the clearance",
    range: None,
    of: |[offset, clearance]| to_picometre((offset - clearance).max(0.0)),
};

/// Load on the punch.
pub const LOAD: Rule<2> = Rule {
    meaning: "load on the punch: cutting, and pushing the slugs of the land through",
    symbol: "N",
    unit: "N",
    formula: "F + Q",
    inputs: ["F", "Q"],
    basis: Basis::OwnDerivation,
    cite: "the punch carries what it cuts and what it pushes; a stripper's springs bear on the plate",
    range: None,
    of: |[cutting, pushing]| cutting + pushing,
};

/// Compressive stress.
pub const STRESS: Rule<2> = Rule {
    meaning: "compressive stress in the punch",
    symbol: "s",
    unit: "N/mm2",
    formula: "N/A",
    inputs: ["N", "A"],
    basis: Basis::Handbook,
    cite: "punch design notes (title not recorded): point stress 4 t tau/d for a round, which is force over area",
    range: None,
    of: |[load, area]| load / area,
};

/// What a punch is worked to.
pub const STRESS_LIMIT: Rule<2> = Rule {
    meaning: "stress that the punch is worked to: the working stress, and no more than its steel yields at",
    symbol: "s_max",
    unit: "N/mm2",
    formula: "min(s_w, s_y)",
    inputs: ["s_w", "s_y"],
    basis: Basis::OwnDerivation,
    cite: "the smaller of the two",
    range: None,
    of: |[work, yielding]| work.min(yielding),
};

/// Slenderness.
pub const SLENDERNESS: Rule<4> = Rule {
    meaning: "slenderness: buckling length over radius of gyration",
    symbol: "x",
    unit: "",
    formula: "K*l/sqrt(I/A)",
    inputs: ["K", "l", "I", "A"],
    basis: Basis::Memory,
    cite: "from memory: textbooks of mechanics",
    range: None,
    of: |[factor, length, moment, area]| factor * length / (moment / area).sqrt(),
};

/// Where Euler and Johnson meet.
pub const TRANSITION: Rule<2> = Rule {
    meaning: "slenderness at which Euler and Johnson meet, at half of the yield",
    symbol: "x_t",
    unit: "",
    formula: "sqrt(2*pi^2*E/s_y)",
    inputs: ["E", "s_y"],
    basis: Basis::Memory,
    cite: "from memory: textbooks of machine design, Johnson's parabola",
    range: None,
    of: |[modulus, yielding]| (2.0 * std::f64::consts::PI.powi(2) * modulus / yielding).sqrt(),
};

/// Euler's load.
pub const EULER: Rule<4> = Rule {
    meaning: "load that buckles the punch, by Euler",
    symbol: "N_b",
    unit: "N",
    formula: "pi^2*E*I/(K*l)^2",
    inputs: ["E", "I", "K", "l"],
    basis: Basis::Handbook,
    cite: "press-tool notes on punch buckling (title not recorded): Euler's load, with the factor of the ends' hold",
    range: None,
    of: |[modulus, moment, factor, length]| {
        std::f64::consts::PI.powi(2) * modulus * moment / (factor * length).powi(2)
    },
};

/// Johnson's load.
pub const JOHNSON: Rule<4> = Rule {
    meaning: "load that buckles the punch, by Johnson",
    symbol: "N_b",
    unit: "N",
    formula: "A*s_y*(1 - (x/x_t)^2/2)",
    inputs: ["A", "s_y", "x", "x_t"],
    basis: Basis::Memory,
    cite: "from memory: textbooks of machine design, Johnson's parabola below the transition",
    range: None,
    of: |[area, yielding, slender, transition]| {
        area * yielding * (1.0 - (slender / transition).powi(2) / 2.0)
    },
};

/// Reserve against buckling.
pub const RESERVE: Rule<2> = Rule {
    meaning: "load that buckles over the load that is borne",
    symbol: "v",
    unit: "",
    formula: "N_b/N",
    inputs: ["N_b", "N"],
    basis: Basis::OwnDerivation,
    cite: "what there is over what is needed",
    range: None,
    of: |[buckles, load]| buckles / load,
};

/// Longest slender punch.
pub const LONGEST_BY_EULER: Rule<4> = Rule {
    meaning: "greatest length at which the punch just bears its load, by Euler",
    symbol: "l_max",
    unit: "mm",
    formula: "pi/K*sqrt(E*I/N)",
    inputs: ["K", "E", "I", "N"],
    basis: Basis::Handbook,
    cite: "Venkataraman, Design of Jigs, Fixtures and Press Tools: for a round hinged punch (pi d/8) sqrt(E d/(tau t))",
    range: None,
    of: |[factor, modulus, moment, load]| std::f64::consts::PI / factor * (modulus * moment / load).sqrt(),
};

/// Longest stout punch.
pub const LONGEST_BY_JOHNSON: Rule<6> = Rule {
    meaning: "greatest length at which the punch just bears its load, by Johnson; 0: it yields at any length",
    symbol: "l_max",
    unit: "mm",
    formula: "x_t*sqrt(2*max(0, 1 - N/(A*s_y)))*sqrt(I/A)/K",
    inputs: ["x_t", "N", "A", "s_y", "I", "K"],
    basis: Basis::OwnDerivation,
    cite: "Johnson's parabola solved for the length",
    range: None,
    of: |[transition, load, area, yielding, moment, factor]| {
        transition * (2.0 * (1.0 - load / (area * yielding)).max(0.0)).sqrt() * (moment / area).sqrt()
            / factor
    },
};

/// Smallest width by the metal.
pub const WIDTH_BY_METAL: Rule<2> = Rule {
    meaning: "smallest width of a punch in this metal",
    symbol: "w_min",
    unit: "mm",
    formula: "b*t",
    inputs: ["b", "t"],
    basis: Basis::Handbook,
    cite: "design notes for stamped parts (title not recorded): so many thicknesses; the factor says whose",
    range: None,
    of: |[factor, t]| factor * t,
};

/// Smallest width across by stress.
pub const ACROSS_BY_STRESS: Rule<3> = Rule {
    meaning: "smallest width across of a punch that its steel bears, cutting alone",
    symbol: "D_min",
    unit: "mm",
    formula: "4*t*tau/s_max",
    inputs: ["t", "tau", "s_max"],
    basis: Basis::Handbook,
    cite: "punch design notes (title not recorded): point stress 4 t tau/d, solved for d",
    range: None,
    of: |[t, tau, stress]| 4.0 * t * tau / stress,
};

/// Area of a head by its sides.
pub const HEAD_AREA: Rule<2> = Rule {
    meaning: "area that bears on the backing",
    symbol: "A_h",
    unit: "mm2",
    formula: "a*b",
    inputs: ["a", "b"],
    basis: Basis::OwnDerivation,
    cite: "a rectangle",
    range: None,
    of: |[a, b]| a * b,
};

/// Pressure under the head.
pub const HEAD_PRESSURE: Rule<2> = Rule {
    meaning: "pressure under the head",
    symbol: "p",
    unit: "N/mm2",
    formula: "N/A_h",
    inputs: ["N", "A_h"],
    basis: Basis::OwnDerivation,
    cite: "load over area",
    range: None,
    of: |[load, area]| load / area,
};
