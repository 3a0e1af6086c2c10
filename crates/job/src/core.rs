//! When a core is held by a tab, how wide the tab is, and which metal is too thin to fall as a core.

use crate::field::{ALLOWANCE, Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader};

/// The table of cores.
#[derive(Debug, Clone, PartialEq)]
pub struct Core {
    /// Mass of a core from which a tab holds it, g.
    pub hold_from_g: Known<f64>,
    /// Friction between a core and the walls of its kerf: wide flat cores wedge.
    pub friction: Known<f64>,
    /// Bending stress that the weight of a core may put into its tab, N/mm2.
    pub tab_stress_mpa: Known<f64>,
    /// Width of the tab that holds a whole piece cut out of its block, mm.
    pub piece_tab: Known<f64>,
    /// Metal left between a piece cut out and the sides of its block or the next piece, mm.
    pub frame: Known<f64>,
    /// Free space between the wire's spark and the side of the block, where a cut begins beside the block, mm.
    pub beside: Known<f64>,
    /// What is nowhere wider than this is cut away instead of dropped, mm.
    pub sliver_below: Known<f64>,
}

const HOLD: Field = Field::new(
    "hold_from_g",
    Want::Number(limits(0.0, 1e6), "g"),
    "mass of a core from which a tab holds it until somebody is there",
);
const FRICTION: Field = Field::new(
    "friction",
    Want::Number(limits(0.01, 2.0), ""),
    "friction between core and kerf: a core wider than height / friction can wedge, and is held",
);
const STRESS: Field = Field::new(
    "tab_stress_mpa",
    Want::Number(limits(1.0, 2000.0), "N/mm2"),
    "bending stress that the weight of a core may put into its tab",
);
const SLIVER: Field = Field::new(
    "sliver_below",
    Want::Length(ALLOWANCE),
    "metal that is nowhere wider than this is cut away from the hole outward instead of dropped",
);
const PIECE_TAB: Field = Field::new(
    "piece_tab",
    Want::Length(SIZE),
    "width of the tab that holds a whole piece cut out of its block",
);
const FRAME: Field = Field::new(
    "frame",
    Want::Length(ALLOWANCE),
    "metal left between a piece cut out and the sides of its block or the next piece",
);
const BESIDE: Field = Field::new(
    "beside",
    Want::Length(ALLOWANCE),
    "free space between the wire's spark and the side of the block, where a cut begins beside the block",
);

pub(crate) const FIELDS: &[Field] = &[HOLD, FRICTION, STRESS, PIECE_TAB, FRAME, BESIDE, SLIVER];

/// Reads the table; what it leaves out stays as built in.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: Core) -> Core {
    Core {
        hold_from_g: reader.number(part, &HOLD).unwrap_or(built_in.hold_from_g),
        friction: reader.number(part, &FRICTION).unwrap_or(built_in.friction),
        tab_stress_mpa: reader.number(part, &STRESS).unwrap_or(built_in.tab_stress_mpa),
        piece_tab: reader.length(part, &PIECE_TAB).unwrap_or(built_in.piece_tab),
        frame: reader.length(part, &FRAME).unwrap_or(built_in.frame),
        beside: reader.length(part, &BESIDE).unwrap_or(built_in.beside),
        sliver_below: reader.length(part, &SLIVER).unwrap_or(built_in.sliver_below),
    }
}
