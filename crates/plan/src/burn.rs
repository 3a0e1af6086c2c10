//! How the start hole of one edge is made: burned from which face, how deep, its place known by which datum; or ground into halves.

use crate::bore::Bore;
use crate::candidate::Setting;
use crate::contour::Frame;
use crate::figure::Figure;
use crate::half_round;
use crate::hole::{Hole, Terms};
use crate::measured::Measured;
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::burning as rules;
use crate::split::Over;
use job::{Edge, Face, Position, Section, Shop};
use package as published;
use remark::Remark;

/// What is settled about a hole before its place and electrode are chosen.
#[derive(Debug, Clone)]
pub struct Burn {
    /// How its place is known.
    pub method: Position,
    /// The face that is up.
    pub from: Face,
    /// Metal to go through, mm.
    pub depth: Figure,
    /// The bore that it breaks into or goes through.
    pub bore: Option<Bore>,
    /// The hole, if it is there already.
    pub measured: Option<Measured>,
    /// The joint that it lies on, where it is ground into two halves.
    pub ground: Option<Over>,
    /// Height of the cut, mm.
    pub height: Figure,
    /// Whether it is the hole beside a piece, whose outside has no land.
    pub outside: bool,
}

impl Burn {
    /// What the job says about one edge's hole.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        (section, edge): (&Section, &Edge),
        (opening, ground): (&Opening, Option<Over>),
        height: Figure,
    ) -> Result<Self, Vec<Remark>> {
        let bore = match &edge.start.back_bore {
            Some(bore) => Some(Bore::of(reckoning, head, (section, edge, bore), opening, height)?),
            None => None,
        };
        let measured = edge.start.measured.as_ref().map(|hole| Measured::of(reckoning, head, hole, opening));
        Ok(Self {
            method: edge.start.method(),
            from: section.burn_from.value,
            depth: bore.map_or(height, |bore| bore.floor),
            height: bore.filter(|bore| bore.clears).map_or(height, |bore| bore.floor),
            bore,
            measured,
            ground,
            outside: opening.is_outside(),
        })
    }

    /// What the section's edges share, as this edge has it: over a bore that clears it, only the floor is cut;
    /// the outside of a piece is straight.
    pub fn frame(&self, frame: Frame) -> Frame {
        if self.outside {
            return Frame { land: frame.height, relief: Figure { value: 0.0, ..frame.relief }, ..frame };
        }
        match self.bore.filter(|bore| bore.clears) {
            Some(bore) => {
                let land = if frame.land.value < bore.floor.value { frame.land } else { bore.floor };
                Frame { height: bore.floor, land, ..frame }
            }
            None => frame,
        }
    }

    /// What the shop allows for its electrode number `row` here.
    pub fn terms(&self, reckoning: &mut Reckoning, head: &str, shop: &Shop, row: usize) -> Terms {
        let terms = Terms::of(reckoning, row, &shop.electrodes[row], (&shop.allowance, self.method));
        if self.measured.is_some() {
            return Measured::terms(reckoning, head, terms, &shop.allowance);
        }
        match (self.from, self.bore) {
            (Face::Back, Some(bore)) => {
                let at = At(head, "start.stand_off_mm");
                let stand_off = reckoning.rule(at, &rules::STAND_OFF_BORED, [terms.stand_off, bore.depth]);
                Terms { stand_off, ..terms }
            }
            _ => terms,
        }
    }

    /// The hole that a row of the shop makes: one of its electrodes, or of its wheels where it is ground.
    pub fn made(&self, reckoning: &mut Reckoning, setting: Setting, row: usize) -> Hole {
        let (head, shop) = (setting.head, setting.shop);
        if self.ground.is_some() {
            return half_round::hole(reckoning, head, (shop, row), (self.depth, setting.relief.as_ref()));
        }
        let terms = self.terms(reckoning, head, shop, row);
        self.hole(reckoning, setting, terms)
    }

    /// The hole that these terms give.
    pub fn hole(&self, reckoning: &mut Reckoning, setting: Setting, terms: Terms) -> Hole {
        let head = setting.head;
        // Burned from the back it is widest where the relief is: that is left as a margin.
        let relief = setting.relief.as_ref().filter(|_| self.from == Face::Cutting);
        match &self.measured {
            Some(measured) => measured.hole(reckoning, head, terms, (self.from, self.depth)),
            None => Hole::burned(reckoning, head, terms, (self.depth, relief)),
        }
    }

    /// The electrode row that a measured hole was burned with: the one stated, else the one that burns a hole nearest to it.
    pub fn burned_with(&self, setting: Setting, terms: &[Terms]) -> Option<usize> {
        let measured = self.measured.as_ref()?;
        let silent = &mut Reckoning::silent();
        let narrow = measured.narrow();
        let misses = |terms: &Terms| {
            (Hole::burned(silent, setting.head, *terms, (self.depth, None)).exit.value - narrow).abs()
        };
        let misses: Vec<f64> = terms.iter().map(misses).collect();
        let may = |row: &usize| setting.allows(terms[*row].electrode.value);
        (0..terms.len()).filter(may).min_by(|a, b| misses[*a].total_cmp(&misses[*b]))
    }

    /// The bore as it is published.
    pub fn entry(&self) -> Option<published::BackBore> {
        let bore = self.bore.as_ref()?;
        Some(published::BackBore {
            x_mm: bore.centre.x,
            y_mm: bore.centre.y,
            diameter_mm: bore.diameter.value,
            depth_mm: bore.depth.value,
            clears: bore.clears,
        })
    }
}

/// The face as it is published.
pub fn face(from: Face) -> published::FaceUp {
    match from {
        Face::Cutting => published::FaceUp::Cutting,
        Face::Back => published::FaceUp::Back,
    }
}

/// How a hole's place is known, as it is published.
pub fn position(method: Position) -> published::Position {
    match method {
        Position::SharedDatum => published::Position::SharedDatum,
        Position::Following => published::Position::Following,
        Position::Remounted => published::Position::Remounted,
    }
}

/// What one hole asks of its electrode.
#[derive(Debug, Clone, Copy)]
pub struct Asks {
    /// How far the tip goes on beyond the metal, mm.
    pub through: Figure,
    /// Depth and break-through, mm.
    pub depth: Figure,
    /// Length that it uses up, mm.
    pub wear: Figure,
    /// Length that it needs in all, mm.
    pub length: Figure,
}

/// What a hole asks of its electrode.
pub fn asks(reckoning: &mut Reckoning, head: &str, metal: Figure, t: Terms) -> Asks {
    let mut rule3 = |name, rule, of| reckoning.rule(At(head, name), rule, of);
    let through = rule3("start.burn.break_through_mm", &rules::BREAK_THROUGH, [t.electrode, t.overcut]);
    let depth = rule3("start.burn.burn_depth_mm", &rules::BURN_DEPTH, [metal, through]);
    let wear = rule3("start.burn.wear_mm", &rules::WEAR, [t.wear, depth]);
    let at = At(head, "start.burn.electrode_mm");
    let length = reckoning.rule(at, &rules::ELECTRODE_NEED, [wear, depth, t.stand_off]);
    Asks { through, depth, wear, length }
}

/// Length of a new electrode.
pub fn electrode_length(reckoning: &mut Reckoning, shop: &Shop) -> Figure {
    reckoning.known(
        At("shop:burner.", "electrode_length_mm"),
        what("usable length of a new electrode", "L", "mm"),
        &shop.burner.electrode_length,
    )
}
