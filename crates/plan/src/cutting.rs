//! What one wire of the shop would do in one opening: what it reaches, what it misses, how long it takes.

use crate::candidate::Setting;
use crate::figure::Figure;
use crate::lead_in::{self, LeadIn};
use crate::opening::Opening;
use crate::passes::Passes;
use crate::reckoning::{At, Reckoning, what};
use crate::relief::Relief;
use crate::rules::time as rules;
use crate::tilted::Tilted;
use job::{Shop, Wire};
use outline::{Miss, Outline, ParallelError, Point};

/// Programmed corners are rounded by this much more than the register, mm, so that rounding to the program's
/// decimals never makes one tighter than its register.
pub const CORNER_MARGIN: f64 = 2e-4;
/// A joint of the wire's way that turns more than this is a corner, radians (2 degrees).
const CORNER_TURN: f64 = 2.0 * std::f64::consts::PI / 180.0;

/// The largest offset at which an opening is one piece is known to this, mm.
const HALVED_TO: f64 = 1e-5;

/// One wire in one opening.
#[derive(Debug, Clone)]
pub struct Cutting {
    /// Its passes.
    pub passes: Passes,
    /// For each pass, the way of the wire's centre: one loop if the wire gets everywhere.
    pub centres: Vec<Vec<Outline>>,
    /// For each pass, the edge it programs: the target with corners rounded to the pass's offset.
    pub edges: Vec<Vec<Outline>>,
    /// What the wire does tilted, before the passes, where a relief is asked.
    pub tilted: Option<Tilted>,
    /// What the last pass leaves in corners.
    pub missed: Vec<Miss>,
    /// How much deeper the widest way stays out of a bay or corner than the next one: around a piece the main cut and the last
    /// pass, in an opening the tilted wire at the face and the main cut, mm.
    pub shut: f64,
    /// By how much the offsets of those two differ, mm.
    pub apart: f64,
    /// The largest offset at which the opening is one piece, mm, where some pass does not get everywhere.
    pub whole_to: Option<f64>,
    /// Stretches of the main cut's edge that a lead-in may meet, best first.
    pub stretches: Vec<usize>,
}

impl Cutting {
    /// What these passes do in this opening.
    pub fn of(
        opening: &Opening,
        passes: Passes,
        (head, relief): (&str, Option<Relief>),
    ) -> Result<Self, ParallelError> {
        let free = opening.free();
        let missed = free.missed(passes.last())?;
        let mut centres = Vec::new();
        let mut edges = Vec::new();
        for pass in &passes.passes {
            centres.push(free.beside(pass.offset.value)?);
            edges.push(free.reached(pass.offset.value + CORNER_MARGIN)?);
        }
        let tilted = relief.map(|relief| Tilted::of(head, relief, opening, &passes)).transpose()?;
        let most = tilted.as_ref().map_or(0.0, |tilted| tilted.at_face.value).max(passes.main());
        let stretches = Vec::new();
        let (wide, narrow) = match opening.is_outside() {
            true => (passes.main(), passes.last()),
            false => (most, passes.main()),
        };
        let (shut, apart) = match wide > narrow {
            true => (deepest(&free.missed(wide)?) - deepest(&free.missed(narrow)?), wide - narrow),
            false => (0.0, 0.0),
        };
        let mut cutting =
            Self { passes, centres, edges, tilted, missed, shut, apart, whole_to: None, stretches };
        match cutting.in_one_piece() {
            true => cutting.stretches = lead_in::stretches(opening.free(), &cutting.edges[0][0]),
            false => cutting.whole_to = Some(whole_to(opening, most)),
        }
        Ok(cutting)
    }

    /// Whether the main cut gets everywhere from one start.
    pub fn in_one_piece(&self) -> bool {
        self.centres.iter().chain(&self.edges).all(|loops| loops.len() == 1)
            && self.tilted.as_ref().is_none_or(Tilted::in_one_piece)
    }

    /// The largest offset at which the wire runs anywhere: the main cut's, or the tilted wire's at the face.
    pub fn most_offset(&self, reckoning: &mut Reckoning, setting: Setting) -> Figure {
        let main = self.passes.passes[0].offset;
        let (Some(tilted), Some(relief)) = (&self.tilted, setting.relief) else { return main };
        let at_face = tilted.recorded(reckoning, setting.head, &self.passes, relief).at_face;
        if at_face.value > main.value { at_face } else { main }
    }

    /// Depth of the deepest corner left.
    pub fn deepest_miss(&self) -> f64 {
        deepest(&self.missed)
    }

    /// The way in from a hole.
    pub fn lead_in(&self, opening: &Opening, hole: Point, overlap: f64) -> Option<LeadIn> {
        let edge = self.edges.first()?.first()?;
        lead_in::find(opening.free(), (edge, &self.stretches), hole, self.passes.main(), overlap)
    }
}

fn deepest(missed: &[Miss]) -> f64 {
    missed.iter().map(|miss| miss.depth).fold(0.0, f64::max)
}

/// The largest offset at which an opening is one piece, by halving.
fn whole_to(opening: &Opening, fails_at: f64) -> f64 {
    let pieces = |offset: f64| opening.free().beside(offset).map_or(0, |loops| loops.len());
    let (mut holds, mut fails) = (0.0, fails_at.min(opening.circle.radius + opening.circle.proven_within));
    while fails - holds > HALVED_TO {
        let middle = 0.5 * (holds + fails);
        match pieces(middle) {
            1 => holds = middle,
            _ => fails = middle,
        }
    }
    holds
}

/// Feeds of main cut and skims.
#[derive(Debug, Clone, Copy)]
pub struct Feeds {
    /// Main cut, mm/min.
    pub main: Figure,
    /// Skims, mm/min.
    pub skim: Figure,
}

impl Feeds {
    /// The feeds of one wire in one block.
    pub fn of(reckoning: &mut Reckoning, setting: Setting, row: usize) -> Self {
        let Setting { head, shop, opening, height, steel_rate, .. } = setting;
        let wire = &shop.wires[row];
        let rate = rate(reckoning, head, row, wire, height);
        let starved = starved(reckoning, head, shop, opening);
        let main = reckoning.rule(
            At(head, "wire.main_feed_mm_per_min"),
            &rules::MAIN_FEED,
            [rate, steel_rate, starved, height],
        );
        let mut of_shop = |name, meaning, symbol, unit, known| {
            reckoning.known(At("shop:cutting.", name), what(meaning, symbol, unit), known)
        };
        let factor =
            of_shop("skim_feed_factor", "skim feed over main feed", "b", "", &shop.cutting.skim_feed_factor);
        let most = of_shop(
            "skim_feed_limit",
            "greatest feed of a skim",
            "f_max",
            "mm/min",
            &shop.cutting.skim_feed_limit,
        );
        let skim =
            reckoning.rule(At(head, "wire.skim_feed_mm_per_min"), &rules::SKIM_FEED, [factor, main, most]);
        Self { main, skim }
    }
}

/// Cutting rate at a height: straight between the rows of the shop's table, held beyond its ends.
fn rate(reckoning: &mut Reckoning, head: &str, row: usize, wire: &Wire, height: Figure) -> Figure {
    let table = &wire.rates.value;
    let above = table.iter().position(|[at, _]| *at >= height.value).unwrap_or(table.len());
    let pick = |i: usize| table[i.min(table.len() - 1)];
    let ([h0, r0], [h1, r1]) = match above {
        0 => (pick(0), pick(0)),
        n => (pick(n - 1), pick(n)),
    };
    let share = if h1 > h0 { (height.value - h0) / (h1 - h0) } else { 0.0 };
    let of_row = format!("shop:wire.{row}.");
    let mut given = |name: String, value: f64| {
        let known = job::Known { value, from: wire.rates.from.clone() };
        reckoning.known(At(&of_row, &name), what("cutting rate by the shop's table", "a", "mm2/min"), &known)
    };
    let low = given(format!("rate_at_{h0}"), r0);
    let high = given(format!("rate_at_{h1}"), r1);
    reckoning.measured(
        At(head, "wire.rate_mm2_per_min"),
        what("cutting rate at this height", "a", "mm2/min"),
        r0 + share * (r1 - r0),
        "straight between the heights of the shop's table, held beyond its ends",
        &[("a0", low), ("a1", high), ("h", height)],
    )
}

/// Factor on the rate where a small opening starves the flushing.
fn starved(reckoning: &mut Reckoning, head: &str, shop: &Shop, opening: &Opening) -> Figure {
    let cutting = &shop.cutting;
    let below = reckoning.known(
        At("shop:cutting.", "starved_below_mm"),
        what("circle below which flushing starves", "D_f", "mm"),
        &cutting.starved_below,
    );
    let factor = reckoning.known(
        At("shop:cutting.", "starved_factor"),
        what("factor on the rate where flushing starves", "s", ""),
        &cutting.starved_factor,
    );
    let small = 2.0 * opening.circle.radius < below.value;
    reckoning.chosen(
        At(head, "wire.starved_factor"),
        what("factor on the rate for flushing", "s", ""),
        if small { factor.value } else { 1.0 },
        if small {
            "the largest circle in the opening is below the limit: flushing starves"
        } else {
            "the opening is wide enough for flushing"
        },
        &[("D_f", below), ("s", factor), ("x", opening.inscribed)],
    )
}

/// Corners on the way of the wire's centre.
pub fn corners(centre: &Outline) -> usize {
    let pieces: Vec<_> = centre.segments().collect();
    let n = pieces.len();
    let turns = |i: usize| {
        let (before, after) = (pieces[i].direction(1.0), pieces[(i + 1) % n].direction(0.0));
        before.cross(after).atan2(before.dot(after)).abs() > CORNER_TURN
    };
    (0..n).filter(|&i| turns(i)).count()
}
