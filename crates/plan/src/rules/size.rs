//! Rules of size: where in the part's tolerance an edge starts, and the corners that it forces on the part.

use super::wire::to_picometre;
use crate::rule::Rule;
use package::Basis;

const AGAINST_WEAR: &str = "common practice, no source: start at the limit that wear moves away from; what the edge itself may be off is left before the limit (own derivation), and in a tolerance narrower than twice that the middle is taken";

/// Where a piercing edge starts.
pub const PIERCE_SHIFT: Rule<3> = Rule {
    meaning: "added to the drawn outline for size, per side: the piercing punch wears smaller, so it starts near the largest hole",
    symbol: "v",
    unit: "mm",
    formula: "max(P/2 - T, (P - M)/4)",
    inputs: ["P", "M", "T"],
    basis: Basis::CommonPractice,
    cite: AGAINST_WEAR,
    range: None,
    of: |[plus, minus, edge]| to_picometre((plus / 2.0 - edge).max((plus - minus) / 4.0)),
};

/// Where a blanking edge starts.
pub const BLANK_SHIFT: Rule<3> = Rule {
    meaning: "added to the drawn outline for size, per side: the blanking opening wears larger, so it starts near the smallest blank",
    symbol: "v",
    unit: "mm",
    formula: "min(T - M/2, (P - M)/4)",
    inputs: ["P", "M", "T"],
    basis: Basis::CommonPractice,
    cite: AGAINST_WEAR,
    range: None,
    of: |[plus, minus, edge]| to_picometre((edge - minus / 2.0).min((plus - minus) / 4.0)),
};

/// What clearance and size together add to the drawn outline.
pub const GROWTH: Rule<2> = Rule {
    meaning: "added to the drawn outline in all, per side",
    symbol: "c_v",
    unit: "mm",
    formula: "c + v",
    inputs: ["c", "v"],
    basis: Basis::OwnDerivation,
    cite: "clearance and shift for size act on the same outline",
    range: None,
    of: |[clearance, shift]| to_picometre(clearance + shift),
};

/// Radius on the corners of a pierced part.
pub const PIERCED_CORNER: Rule<2> = Rule {
    meaning: "radius that this wire forces on the part's corners, through the punch that keeps the clearance even",
    symbol: "r",
    unit: "mm",
    formula: "max(0, H - c)",
    inputs: ["H", "c"],
    basis: Basis::OwnDerivation,
    cite: "the last pass leaves every corner of the opening with its offset as radius; a punch with even clearance has that less the clearance",
    range: None,
    of: |[offset, clearance]| to_picometre((offset - clearance).max(0.0)),
};

#[cfg(test)]
mod tests {
    use super::*;

    /// As far as the edge itself may be off, the part stays in its tolerance; and the start lies where wear finds most.
    #[test]
    fn the_start_is_the_last_place_from_which_wear_has_farthest_to_go() {
        let values = [0.0, 0.003, 0.01, 0.02, 0.05];
        let all = values.iter().flat_map(|p| values.iter().map(move |m| (*p, *m)));
        let mut wide = 0;
        for ((plus, minus), own) in all.flat_map(|sizes| [0.001, 0.0025, 0.005].map(|own| (sizes, own))) {
            let [pierce, blank] = [&PIERCE_SHIFT, &BLANK_SHIFT].map(|rule| (rule.of)([plus, minus, own]));
            if plus + minus < 4.0 * own {
                let middle = (plus - minus) / 4.0;
                assert!(
                    (pierce - middle).abs() < 1e-9 && (blank - middle).abs() < 1e-9,
                    "{plus} {minus} {own}"
                );
                continue;
            }
            wide += 1;
            for start in [pierce, blank] {
                assert!(start + own <= plus / 2.0 + 1e-9 && start - own >= -minus / 2.0 - 1e-9);
            }
            // A piercing punch gets smaller, a blanking opening larger: from either the way to the far limit is longest.
            assert!((pierce + own - plus / 2.0).abs() < 1e-9 && (blank - own + minus / 2.0).abs() < 1e-9);
        }
        assert!(wide > 30, "{wide}");
    }
}
