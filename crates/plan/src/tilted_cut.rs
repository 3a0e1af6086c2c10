//! The cut of a relief written down: its lead-in, minutes, and where lower and upper guide stand along its way.
//!
//! Lines stay lines: both guides run side by side. Arcs are said in chords, because no word of ISO 6983-1 turns two guides
//! on two radii at once; none stands off its arc by more than a twentieth of a micrometre at any height of the block.

use crate::candidate::{self, Setting};
use crate::contour::bulges;
use crate::cutting::Feeds;
use crate::figure::Figure;
use crate::lead_in::{LeadIn, past};
use crate::passes::Passes;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::relief as rules;
use crate::tilted::Tilted;
use crate::tour;
use outline::{Point, Segment, Vector};
use package as published;

/// Chords stand off their arcs by no more than this, mm.
const CHORD: f64 = 5e-5;
/// Pieces of the way shorter than this are left to the next one, mm: rounding leaves them no direction to tilt in.
const LEAST: f64 = 2e-4;

/// The cut of a relief.
#[derive(Debug, Clone)]
pub struct TiltedCut {
    /// What the wire does.
    pub tilted: Tilted,
    /// The way in.
    pub lead_in: LeadIn,
}

/// A place of the lower guide, and the upper one seen from it.
pub type Guided = ([f64; 2], [f64; 2]);

impl TiltedCut {
    /// Upright at a place of the wire.
    pub fn upright(place: Point) -> Guided {
        ([place.x, place.y], [0.0, 0.0])
    }

    /// Where the guides stand when the wire is at a place of its way at the land's end.
    fn leaning(&self, place: Point, inward: Vector) -> Guided {
        let relief = &self.tilted.relief;
        let tangent = relief.tangent.value;
        let lower = place - inward * relief.aside(-relief.guides.lower.value);
        let aside = inward * (tangent * relief.guides.apart());
        ([lower.x, lower.y], [aside.x, aside.y])
    }

    /// Where the wire first comes beside the edge.
    pub fn arrives(&self) -> Guided {
        let (meets, inward) = self.meets();
        self.leaning(meets + inward * self.tilted.offset.value, inward)
    }

    fn meets(&self) -> (Point, Vector) {
        self.beside(0.0)
    }

    /// The place of the edge so far from where the lead-in meets it.
    fn beside(&self, length: f64) -> (Point, Vector) {
        let edge: Vec<Segment> = self.tilted.edges.iter().flat_map(|edge| edge.segments()).collect();
        past(&edge, self.lead_in.segment, self.lead_in.share, length)
    }

    /// Once round and over its beginning, from where it arrives.
    pub fn round(&self) -> Vec<Guided> {
        let (meets, inward) = self.meets();
        let arrives = meets + inward * self.tilted.offset.value;
        let pieces: Vec<Segment> = self.tilted.centres.iter().flat_map(|centre| centre.segments()).collect();
        // The overlap is a length of edge: in a narrow opening the wire's centre has much less to go.
        let (leaves, inward) = self.beside(self.lead_in.overlap);
        let tour = tour::over(&pieces, arrives, leaves + inward * self.tilted.offset.value);
        let mut way = Vec::new();
        for piece in tour.iter().filter(|piece| piece.length() >= LEAST) {
            let chords = self.chords(piece);
            way.extend((0..=chords).map(|k| {
                let t = k as f64 / chords as f64;
                self.leaning(piece.at(t), piece.direction(t).left())
            }));
        }
        way
    }

    /// In how many chords an arc is said, for the height of the block where it is widest.
    fn chords(&self, piece: &Segment) -> usize {
        let relief = &self.tilted.relief;
        let ends = [relief.aside(0.0), relief.aside(relief.height.value)];
        let radius = piece.radius();
        let widest = ends
            .map(|aside| (radius + aside * piece.bulge.signum()).abs())
            .into_iter()
            .fold(radius, f64::max);
        match piece.is_line() {
            true => 1,
            false => (piece.sweep().abs() / (8.0 * CHORD / widest).sqrt()).ceil().max(1.0) as usize,
        }
    }

    /// Its entry in the plan; program and blocks are not known yet.
    pub fn entry(
        &self,
        reckoning: &mut Reckoning,
        setting: Setting,
        feeds: Feeds,
        passes: &Passes,
    ) -> published::Relief {
        let key = format!("{}wire.relief.", setting.head);
        let (tilted, relief) = (&self.tilted, &self.tilted.relief);
        let minutes = minutes(reckoning, setting, tilted, (feeds, &self.lead_in, passes.wire));
        let longest = reckoning.rule(
            At(&key, "land_longest_mm"),
            &rules::LONGEST,
            [relief.land, relief.stock, relief.tangent, relief.height],
        );
        let mut same = |name, meaning, symbol, unit, of: Figure, how| {
            reckoning
                .measured(At(&key, name), what(meaning, symbol, unit), of.value, how, &[(symbol, of)])
                .value
        };
        published::Relief {
            offset_mm: tilted.offset.value,
            offset_at_face_mm: tilted.at_face.value,
            spark_gap_mm: same(
                "spark_gap_mm",
                "spark gap with the wire tilted",
                "g",
                "mm",
                passes.gap,
                "the main cut's",
            ),
            stock_left_mm: same(
                "stock_left_mm",
                "metal left on the relief",
                "k",
                "mm",
                relief.stock,
                "the shop's",
            ),
            land_longest_mm: longest.value,
            feed_mm_per_min: same(
                "feed_mm_per_min",
                "feed with the wire tilted",
                "f",
                "mm/min",
                feeds.main,
                "the main cut's: the metal is as high",
            ),
            minutes: minutes.value,
            lead_in: self.lead_in.way.iter().map(|p| [p.x, p.y]).collect(),
            program: String::new(),
            blocks: [0, 0],
            centre: tilted.centres.first().map(bulges).unwrap_or_default(),
        }
    }
}

/// Minutes of the tilted cut.
pub fn minutes(
    reckoning: &mut Reckoning,
    setting: Setting,
    tilted: &Tilted,
    (feeds, lead_in, wire): (Feeds, &LeadIn, Figure),
) -> Figure {
    let key = format!("{}wire.relief.", setting.head);
    let length = reckoning.measured(
        At(&key, "length_mm"),
        what("way of the tilted wire's centre at the land's end, with overlap", "L", "mm"),
        tilted.centres.iter().map(|centre| centre.perimeter()).sum::<f64>() + lead_in.overlap,
        "length of the lines and arcs",
        &[],
    );
    let lead = reckoning.measured(
        At(&key, "lead_in_and_back_mm"),
        what("lead-in and way back", "B", "mm"),
        2.0 * (lead_in.length() - tilted.offset.value).max(0.0),
        "length of the lead-in less the offset, twice",
        &[],
    );
    // Its way has no corners: they are rounded.
    let bends = reckoning.measured(
        At(&key, "corners"),
        what("corners on the wire's way", "n", ""),
        0.0,
        "corners are rounded, so that the tilt stays square to the edge",
        &[],
    );
    candidate::minutes(reckoning, (&key, setting), [length, lead, bends, wire, feeds.main])
}
