//! Rules of the wire: offsets, spark gaps, stock.

use crate::rule::Rule;
use package::Basis;

/// Spark gap of skims, from the table's last offset.
pub const SKIM_GAP: Rule<2> = Rule {
    meaning: "spark gap of the skims",
    symbol: "g_s",
    unit: "mm",
    formula: "H_last - d/2",
    inputs: ["H_last", "d"],
    basis: Basis::OwnDerivation,
    cite: "the last pass of the table leaves nothing: what it clears beyond the wire is its gap",
    range: None,
    of: |[last, wire]| to_picometre(last - wire / 2.0),
};

/// What the last pass that is used would leave by the table.
pub const UNUSED_STOCK: Rule<3> = Rule {
    meaning: "stock that the last pass used would leave for skims that are not used",
    symbol: "k",
    unit: "mm",
    formula: "H_used - d/2 - g",
    inputs: ["H_used", "d", "g"],
    basis: Basis::OwnDerivation,
    cite: "with fewer passes than the table, the last one used must leave nothing",
    range: None,
    of: |[used, wire, gap]| to_picometre(used - wire / 2.0 - gap),
};

/// Offset of a pass.
pub const OFFSET: Rule<2> = Rule {
    meaning: "offset of this pass: wire centre to finished edge",
    symbol: "H",
    unit: "mm",
    formula: "H_table - k",
    inputs: ["H_table", "k"],
    basis: Basis::OwnDerivation,
    cite: "the stock for skims that are not used is taken off every pass",
    range: None,
    of: |[listed, unused]| to_picometre(listed - unused),
};

/// Stock that a pass leaves.
pub const STOCK: Rule<3> = Rule {
    meaning: "metal that this pass leaves for those after it",
    symbol: "k_i",
    unit: "mm",
    formula: "H - d/2 - g",
    inputs: ["H", "d", "g"],
    basis: Basis::OwnDerivation,
    cite: "offset less half the wire and the spark gap",
    range: None,
    of: |[offset, wire, gap]| to_picometre(offset - wire / 2.0 - gap),
};

/// Differences of table values carry the table's own decimals, not what binary subtraction leaves of 1e-17.
pub(super) fn to_picometre(mm: f64) -> f64 {
    // Adding 0 turns -0 into 0.
    (mm * 1e9).round() / 1e9 + 0.0
}

/// Mass of a core.
pub const CORE_MASS: Rule<3> = Rule {
    meaning: "mass of a core",
    symbol: "G",
    unit: "g",
    formula: "A*h*rho/1000",
    inputs: ["A", "h", "rho"],
    basis: Basis::OwnDerivation,
    cite: "area, height and density in g/cm3",
    range: None,
    of: |[area, height, density]| area * height * density / 1000.0,
};
