//! Rules of the screws and dowels that hold two halves together: their sinks, what they go into, and the metal round them.

use crate::rule::Rule;
use package::Basis;

/// Diameter of the sink for a screw's head.
pub const SINK: Rule<1> = Rule {
    meaning: "diameter of the sink for the screw's head",
    symbol: "d_s",
    unit: "mm",
    formula: "1.5*d + 2",
    inputs: ["d"],
    basis: Basis::Memory,
    cite: "from memory: heads of ISO 4762 are 1.5*d + 1 wide (M3 5.5 to M8 13), and a millimetre more is sunk",
    range: None,
    of: |[diameter]| 1.5 * diameter + 2.0,
};

/// Depth of the sink.
pub const SINK_DEPTH: Rule<1> = Rule {
    meaning: "depth of the sink, the head below the ground face",
    symbol: "z_s",
    unit: "mm",
    formula: "d + 0.5",
    inputs: ["d"],
    basis: Basis::Memory,
    cite: "from memory: heads of ISO 4762 are as high as the screw's diameter, and stay half a millimetre below what is ground",
    range: None,
    of: |[diameter]| diameter + 0.5,
};

/// Thickness of the half with the head.
pub const HEAD_HALF: Rule<2> = Rule {
    meaning: "thickness of the half that the head lies in, at least",
    symbol: "t_h",
    unit: "mm",
    formula: "z_s + d",
    inputs: ["z_s", "d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: a diameter of metal under the head",
    range: None,
    of: |[sink, diameter]| sink + diameter,
};

/// Thickness of the half with the thread.
pub const THREAD_HALF: Rule<1> = Rule {
    meaning: "thickness of the half with the thread, or of either for a dowel, at least",
    symbol: "t_t",
    unit: "mm",
    formula: "1.5*d",
    inputs: ["d"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: a screw or dowel goes in by 1.5 to 2 diameters, the lower end",
    range: None,
    of: |[diameter]| 1.5 * diameter,
};

/// What opens the joint at one opening.
pub const OPENS: Rule<4> = Rule {
    meaning: "force that pushes the halves apart at this opening",
    symbol: "F_o",
    unit: "N",
    formula: "q/t*l*b",
    inputs: ["q", "t", "l", "b"],
    basis: Basis::OwnDerivation,
    cite: "what spreads the opening, as a pressure over its land packed with slugs, on the length of joint that lies in it: an upper bound",
    range: None,
    of: |[spreading, thickness, land, length]| spreading / thickness * land * length,
};

/// From an axis to a face or side.
pub const TO_SIDE: Rule<2> = Rule {
    meaning: "from the axis to a side or face of the block, at least",
    symbol: "a_j",
    unit: "mm",
    formula: "max(1.5*d, w/2 + 1)",
    inputs: ["d", "w"],
    basis: Basis::CommonPractice,
    cite: "common practice, no source: centre to edge 1.5 diameters, and a millimetre round the widest place",
    range: None,
    of: |[diameter, wide]| (1.5 * diameter).max(wide / 2.0 + 1.0),
};
