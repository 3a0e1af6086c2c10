//! The passes of one wire: how many, at which offset, with which spark gap and what is left for the next.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::wire as rules;
use job::Wire;

/// One pass.
#[derive(Debug, Clone, Copy)]
pub struct PassOffset {
    /// Wire centre to finished edge, mm.
    pub offset: Figure,
    /// Spark gap, mm.
    pub gap: Figure,
    /// Stock left, mm.
    pub stock: Figure,
}

/// One wire of the shop with the passes that a tolerance asks for.
#[derive(Debug, Clone)]
pub struct Passes {
    /// Its row in the shop file.
    pub row: usize,
    /// Its diameter, mm.
    pub wire: Figure,
    /// Spark gap of the main cut, mm.
    pub gap: Figure,
    /// Main cut and skims.
    pub passes: Vec<PassOffset>,
}

impl Passes {
    /// The passes of wire number `row` with `skims` skims; none if its table has fewer.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        (row, wire): (usize, &Wire),
        skims: usize,
    ) -> Option<Self> {
        let listed = wire.offsets.value.get(..=skims)?;
        let of_row = format!("shop:wire.{row}.");
        let diameter = reckoning.known(
            At(&of_row, "diameter_mm"),
            what("diameter of the wire", "d", "mm"),
            &wire.diameter,
        );
        let main_gap = reckoning.known(
            At(&of_row, "gap_mm"),
            what("spark gap of the main cut, per side", "g", "mm"),
            &wire.gap,
        );
        let offsets: Vec<Figure> = (0..wire.offsets.value.len())
            .map(|i| {
                let value = job::Known { value: wire.offsets.value[i], from: wire.offsets.from.clone() };
                let name = format!("offsets.{i}");
                reckoning.known(
                    At(&of_row, &name),
                    what("offset by the shop's table", "H_table", "mm"),
                    &value,
                )
            })
            .collect();
        let last = *offsets.last()?;
        let skim_gap = reckoning.rule(At(&of_row, "skim_gap_mm"), &rules::SKIM_GAP, [last, diameter]);
        let gap_of = |i: usize| if i == 0 { main_gap } else { skim_gap };
        let unused = reckoning.rule(
            At(head, "wire.unused_stock_mm"),
            &rules::UNUSED_STOCK,
            [offsets[skims], diameter, gap_of(skims)],
        );
        let passes = (0..listed.len())
            .map(|i| {
                let name = format!("wire.passes.{i}.");
                let key = format!("{head}{name}");
                let offset = reckoning.rule(At(&key, "offset_mm"), &rules::OFFSET, [offsets[i], unused]);
                let gap = reckoning.measured(
                    At(&key, "spark_gap_mm"),
                    what("spark gap of this pass, per side", "g", "mm"),
                    gap_of(i).value,
                    "the wire's main or skim gap, by the kind of pass",
                    &[("g", gap_of(i))],
                );
                let stock = reckoning.rule(At(&key, "stock_left_mm"), &rules::STOCK, [offset, diameter, gap]);
                PassOffset { offset, gap, stock }
            })
            .collect();
        Some(Self { row, wire: diameter, gap: main_gap, passes })
    }

    /// The main cut's offset, mm.
    pub fn main(&self) -> f64 {
        self.passes[0].offset.value
    }

    /// The last pass's offset, mm.
    pub fn last(&self) -> f64 {
        self.passes[self.passes.len() - 1].offset.value
    }
}
