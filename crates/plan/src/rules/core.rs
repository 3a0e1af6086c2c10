//! Rules of cores: what wedges, how wide a tab is, how long it takes to cut.

use crate::rule::Rule;
use package::Basis;

/// Width from which a core can wedge in its kerf.
pub const WEDGES_FROM: Rule<2> = Rule {
    meaning: "width from which a core can tilt and wedge",
    symbol: "w_w",
    unit: "mm",
    formula: "h/mu",
    inputs: ["h", "mu"],
    basis: Basis::Memory,
    cite: "a peg wedges in its hole while less of it is in than friction times its width; Whitney, Quasi-static assembly of compliantly supported rigid parts, 1982, from memory",
    range: None,
    of: |[height, friction]| height / friction,
};

/// Width of the tab of a whole piece: as much as the shop asks for, but no more than a share of a small piece's edge.
pub const PIECE_TAB: Rule<2> = Rule {
    meaning: "width of a tab that holds a whole piece",
    symbol: "b_0",
    unit: "mm",
    formula: "min(b_p, P/12)",
    inputs: ["b_p", "P"],
    basis: Basis::CommonPractice,
    cite: "3 to 4 mm for a section, no source; a twelfth of the edge where it is short, own choice",
    range: None,
    of: |[stated, perimeter]| stated.min(perimeter / 12.0),
};

/// Where the wire stands that begins a cut beside the block.
pub const STANDS_OFF: Rule<3> = Rule {
    meaning: "distance of the wire's centre from the block's side, where the cut begins beside it",
    symbol: "W_b",
    unit: "mm",
    formula: "d/2 + g + c",
    inputs: ["d", "g", "c"],
    basis: Basis::CommonPractice,
    cite: "half the wire, the spark gap and free space beside them, no source: the wire is not to burn before it moves",
    range: None,
    of: |[wire, gap, free]| wire / 2.0 + gap + free,
};

/// Width of a tab: by the shop's table, and wide enough for the core's weight.
pub const TAB_WIDTH: Rule<5> = Rule {
    meaning: "width of the tab that holds the core",
    symbol: "b",
    unit: "mm",
    formula: "max(b_0, 6*G*0.00980665*a/(h^2*s))",
    inputs: ["b_0", "G", "a", "h", "s"],
    basis: Basis::OwnDerivation,
    cite: "by the shop's table; the weight of the core bends the tab, whose section is width by block height",
    range: None,
    of: |[table, mass, arm, height, stress]| {
        table.max(6.0 * mass * 0.00980665 * arm / (height * height * stress))
    },
};

/// What the wire's centre goes to cut a tab.
pub const TAB_WAY: Rule<3> = Rule {
    meaning: "distance of the wire's centre over the tab",
    symbol: "W",
    unit: "mm",
    formula: "b + d + 2*g",
    inputs: ["b", "d", "g"],
    basis: Basis::OwnDerivation,
    cite: "the kerf ends half a wire and a spark gap before and behind the wire's centre",
    range: None,
    of: |[width, wire, gap]| width + wire + 2.0 * gap,
};

/// Minutes of cutting a tab.
pub const TAB_MINUTES: Rule<6> = Rule {
    meaning: "minutes of cutting the tab, lead-in counted",
    symbol: "T_tab",
    unit: "min",
    formula: "(L + o)/f + B/(y*g)",
    inputs: ["L", "o", "B", "y", "f", "g"],
    basis: Basis::CommonPractice,
    cite: "way over the tab and overlap at their feed, lead-in at a share of the feed of the pass that came in there last, no source",
    range: None,
    of: |[way, overlap, lead, share, feed, last]| (way + overlap) / feed + lead / (share * last),
};
