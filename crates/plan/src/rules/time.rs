//! Rules of feeds and minutes.

use crate::rule::Rule;
use package::Basis;

/// Feed of the main cut.
pub const MAIN_FEED: Rule<4> = Rule {
    meaning: "feed of the main cut",
    symbol: "f",
    unit: "mm/min",
    formula: "a*q*s/h",
    inputs: ["a", "q", "s", "h"],
    basis: Basis::CommonPractice,
    cite: "cutting rate in D2 over height, by the steel, slowed where flushing starves, no source",
    range: None,
    of: |[rate, steel, starved, height]| rate * steel * starved / height,
};

/// Feed of a skim.
pub const SKIM_FEED: Rule<3> = Rule {
    meaning: "feed of the skims",
    symbol: "f_s",
    unit: "mm/min",
    formula: "min(b*f, f_max)",
    inputs: ["b", "f", "f_max"],
    basis: Basis::CommonPractice,
    cite: "skims run at a multiple of the main feed, up to a limit, no source",
    range: None,
    of: |[factor, main, most]| (factor * main).min(most),
};

/// Minutes of a pass.
pub const PASS_MINUTES: Rule<7> = Rule {
    meaning: "minutes of this pass, lead-in, way back and slower corners counted",
    symbol: "T",
    unit: "min",
    formula: "(L + B/y + n*2*d*(1/x - 1))/f",
    inputs: ["L", "B", "y", "n", "d", "x", "f"],
    basis: Basis::CommonPractice,
    cite: "length over feed; lead-in at a share of the feed; a wire's width before and after each corner at a share of it, no source",
    range: None,
    of: |[length, lead, lead_share, corners, wire, corner_share, feed]| {
        (length + lead / lead_share + corners * 2.0 * wire * (1.0 / corner_share - 1.0)) / feed
    },
};

/// Minutes of burning a hole.
pub const BURN_MINUTES: Rule<2> = Rule {
    meaning: "minutes of burning the start hole",
    symbol: "T_b",
    unit: "min",
    formula: "z/v",
    inputs: ["z", "v"],
    basis: Basis::CommonPractice,
    cite: "depth over the electrode's rate, no source",
    range: None,
    of: |[depth, rate]| depth / rate,
};

/// Minutes of a part of a program.
pub const PHASE_MINUTES: Rule<3> = Rule {
    meaning: "minutes of this part of the program",
    symbol: "T_p",
    unit: "min",
    formula: "T_s + T_t + T_c",
    inputs: ["T_s", "T_t", "T_c"],
    basis: Basis::OwnDerivation,
    cite: "cutting, threading and stops",
    range: None,
    of: |[cutting, threading, stops]| cutting + threading + stops,
};
