//! One start hole: how wide it is, how far it drifts, how much metal it takes; burned with one electrode, measured, or ground.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::relief::Relief;
use crate::rules::hole as rules;
use job::{Allowance, Electrode, Known, Position};
use outline::Point;

/// What the shop allows for burning with one electrode, as figures.
#[derive(Debug, Clone, Copy)]
pub struct Terms {
    /// Electrode's diameter, mm.
    pub electrode: Figure,
    /// Overcut per side, mm.
    pub overcut: Figure,
    /// Bellmouth per side, mm.
    pub bellmouth: Figure,
    /// Greatest depth, mm.
    pub max_depth: Figure,
    /// Rate, mm/min.
    pub rate: Figure,
    /// Wear, percent of the depth burned.
    pub wear: Figure,
    /// Drift, mm per mm of depth.
    pub drift: Figure,
    /// Recast and cracks, mm.
    pub recast: Figure,
    /// Position, 95 % radial, mm.
    pub position: Figure,
    /// Size, 3 sigma on the radius, mm.
    pub size: Figure,
    /// Stock for cleaning up, mm.
    pub stock: Figure,
    /// Threading room in all, mm.
    pub threading_room: Figure,
    /// Stand-off of the electrode's guide, mm.
    pub stand_off: Figure,
}

impl Terms {
    /// Writes down what the shop allows for its electrode number `row`, with the hole's place known by a method.
    pub fn of(
        reckoning: &mut Reckoning,
        row: usize,
        electrode: &Electrode,
        (allowance, method): (&Allowance, Position),
    ) -> Self {
        let head = format!("shop:electrode.{row}.");
        let mut of_row = |name, meaning, symbol, unit, known: &Known<f64>| {
            reckoning.known(At(&head, name), what(meaning, symbol, unit), known)
        };
        let electrode_mm = of_row("diameter_mm", "diameter of the electrode", "e", "mm", &electrode.diameter);
        let overcut = of_row("overcut_mm", "overcut per side", "o", "mm", &electrode.overcut);
        let bellmouth = of_row("bellmouth_mm", "bellmouth per side", "b", "mm", &electrode.bellmouth);
        let max_depth =
            of_row("max_depth_mm", "greatest depth of this electrode", "z_max", "mm", &electrode.max_depth);
        let rate = of_row("rate_mm_per_min", "burning rate", "v", "mm/min", &electrode.rate_mm_per_min);
        let wear = of_row(
            "wear_percent",
            "wear of the electrode per depth burned",
            "W",
            "%",
            &electrode.wear_percent,
        );
        let own_drift = allowance.drift_per_mm.is_none();
        let own_recast = allowance.recast.is_none();
        let drift = match own_drift {
            true => Some(of_row("drift_per_mm", "drift per depth", "k", "mm/mm", &electrode.drift_per_mm)),
            false => None,
        };
        let recast = match own_recast {
            true => Some(of_row("recast_mm", "recast and cracks", "r", "mm", &electrode.recast)),
            false => None,
        };
        let mut of_all = |name, meaning, symbol, unit, known: &Known<f64>| {
            reckoning.known(At("shop:allowance.", name), what(meaning, symbol, unit), known)
        };
        let drift = drift.unwrap_or_else(|| {
            let known = allowance.drift_per_mm.as_ref().unwrap_or(&electrode.drift_per_mm);
            of_all("drift_per_mm", "drift per depth", "k", "mm/mm", known)
        });
        let recast = recast.unwrap_or_else(|| {
            let known = allowance.recast.as_ref().unwrap_or(&electrode.recast);
            of_all("recast_mm", "recast and cracks", "r", "mm", known)
        });
        let by_method = allowance.position_by(method);
        let position = match method {
            Position::SharedDatum => "position_mm",
            Position::Following => "position_following_mm",
            Position::Remounted => "position_remounted_mm",
        };
        Self {
            electrode: electrode_mm,
            overcut,
            bellmouth,
            max_depth,
            rate,
            wear,
            drift,
            recast,
            position: of_all(position, "position of the hole, 95 % radial", "p", "mm", by_method),
            size: of_all("size_mm", "size, 3 sigma on the radius", "q", "mm", &allowance.size),
            stock: of_all("clean_up_stock_mm", "clean-up stock", "u", "mm", &allowance.clean_up_stock),
            threading_room: of_all(
                "threading_room_mm",
                "threading room in all",
                "h",
                "mm",
                &allowance.threading_room,
            ),
            stand_off: of_all("stand_off_mm", "stand-off of the guide", "s", "mm", &allowance.stand_off),
        }
    }

    /// The terms that a verdict may hang on, by name.
    pub fn named(&mut self) -> [(&'static str, &mut Figure); 9] {
        [
            ("overcut", &mut self.overcut),
            ("bellmouth", &mut self.bellmouth),
            ("drift per depth", &mut self.drift),
            ("recast and cracks", &mut self.recast),
            ("position", &mut self.position),
            ("size", &mut self.size),
            ("clean-up stock", &mut self.stock),
            ("threading room", &mut self.threading_room),
            ("stand-off", &mut self.stand_off),
        ]
    }
}

/// A start hole; one still to be made has no place yet.
#[derive(Debug, Clone, Copy)]
pub struct Hole {
    /// What the shop allows for the electrode that burns it; none: it is not burned.
    pub burned: Option<Terms>,
    /// Its depth, mm.
    pub depth: Figure,
    /// Diameter where the electrode enters, mm; the same at both ends where it is ground.
    pub entry: Figure,
    /// Diameter where it leaves, mm.
    pub exit: Figure,
    /// Position, 95 % radial, mm.
    pub position: Figure,
    /// Size, 3 sigma on the radius, mm.
    pub size: Figure,
    /// Recast and cracks, mm.
    pub recast: Figure,
    /// Stock for cleaning up, mm.
    pub stock: Figure,
    /// Room that threading wants beside the wire in all, mm.
    pub threading_room: Figure,
    /// The widest straight wire that goes through, mm: the exit, unless the hole was measured and leans.
    pub light: Figure,
    /// Drift at the bottom, mm.
    pub drift: Figure,
    /// Recast and clean-up stock, mm.
    pub rest: Figure,
    /// Fixed terms at the worst height, mm, the width of a relief there taken off.
    pub takes: Figure,
    /// The same with nothing taken off, mm: how far the rim may lie.
    pub spreads: Figure,
    /// Sigma of position along an axis, mm.
    pub sigma_position: Figure,
    /// Sigma of the radius, mm.
    pub sigma_size: Figure,
    /// 3 sigma together, mm.
    pub chance: Figure,
    /// What it needs from its centre to the finished edge, mm.
    pub need: Figure,
    /// Its centre where a measured hole comes nearest to the edge; none: the hole is not burned yet.
    pub worst: Option<Point>,
}

impl Hole {
    /// The hole that these terms burn to this depth; `head` is the contour's key with a dot behind it.
    /// `relief`: what the wire cuts below the land, where the hole is burned from the cutting face.
    pub fn burned(
        reckoning: &mut Reckoning,
        head: &str,
        terms: Terms,
        (depth, relief): (Figure, Option<&Relief>),
    ) -> Self {
        let t = terms;
        let entry = reckoning.rule(
            At(head, "start.hole_diameter_mm.entry"),
            &rules::ENTRY,
            [t.electrode, t.overcut, t.bellmouth],
        );
        let exit =
            reckoning.rule(At(head, "start.hole_diameter_mm.exit"), &rules::EXIT, [t.electrode, t.overcut]);
        let drift =
            reckoning.rule(At(head, "start.terms.drift_mm"), &rules::DRIFT, [t.drift, depth, t.stand_off]);
        let rest = reckoning.rule(
            At(head, "start.terms.recast_and_stock_mm"),
            &rules::RECAST_AND_STOCK,
            [t.recast, t.stock],
        );
        let [takes, spreads] = takes(reckoning, head, t, (depth, relief), [entry, exit, drift, rest]);
        let sigma_position =
            reckoning.rule(At(head, "start.terms.sigma_position_mm"), &rules::SIGMA_POSITION, [t.position]);
        let sigma_size = reckoning.rule(At(head, "start.terms.sigma_size_mm"), &rules::SIGMA_SIZE, [t.size]);
        let chance =
            reckoning.rule(At(head, "start.terms.chance_mm"), &rules::CHANCE, [sigma_position, sigma_size]);
        let need = reckoning.rule(At(head, "start.terms.need_mm"), &rules::NEED, [takes, chance]);
        Self {
            burned: Some(terms),
            depth,
            entry,
            exit,
            position: t.position,
            size: t.size,
            recast: t.recast,
            stock: t.stock,
            threading_room: t.threading_room,
            light: exit,
            drift,
            rest,
            takes,
            spreads,
            sigma_position,
            sigma_size,
            chance,
            need,
            worst: None,
        }
    }
}

/// What the hole takes at its worst height, chance apart: of what the edge leaves, and without regard to a relief.
fn takes(
    reckoning: &mut Reckoning,
    head: &str,
    t: Terms,
    (depth, relief): (Figure, Option<&Relief>),
    hole: [Figure; 4],
) -> [Figure; 2] {
    let [entry, exit, drift, rest] = hole;
    let face =
        reckoning.rule(At(head, "start.terms.at_face_mm"), &rules::TAKES_AT_FACE, [entry, t.recast, t.stock]);
    let below = reckoning.rule(
        At(head, "start.terms.below_bellmouth_mm"),
        &rules::TAKES_BELOW_BELLMOUTH,
        [t.electrode, t.overcut, t.drift, depth, t.stand_off, rest],
    );
    let bottom = reckoning.rule(
        At(head, "start.terms.at_bottom_mm"),
        &rules::TAKES_AT_BOTTOM,
        [exit, drift, t.recast, t.stock],
    );
    let Some(relief) = relief else {
        let takes = reckoning.rule(At(head, "start.terms.takes_mm"), &rules::TAKES, [face, below, bottom]);
        return [takes, takes];
    };
    let spreads = reckoning.rule(At(head, "start.terms.spreads_mm"), &rules::TAKES, [face, below, bottom]);
    let [from, opens] = relief.opens(reckoning, head, depth);
    let land = reckoning.rule(
        At(head, "start.terms.at_land_mm"),
        &rules::TAKES_AT_LAND,
        [t.electrode, t.overcut, t.drift, depth, from, t.stand_off, rest],
    );
    let at = At(head, "start.terms.takes_mm");
    [reckoning.rule(at, &rules::TAKES_ABOVE_RELIEF, [face, below, land, bottom, opens]), spreads]
}
