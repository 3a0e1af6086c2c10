//! A start hole that is there: as it was measured at both ends, instead of as it would be burned.
//!
//! Its axis runs straight from one measured centre to the other, and its radius evenly from one end to the other: a
//! burned hole is no wider between its ends than that, since the bellmouth is gone after a fraction of a millimetre.

use crate::figure::Figure;
use crate::free::Free;
use crate::hole::{Hole, Terms};
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::burning as rules;
use crate::rules::hole as hole_rules;
use job::{Allowance, Face};
use outline::{Point, Vector};
use package as published;

/// Places looked at along the axis; between them the distance to an edge bends by less than a nanometre.
const ALONG: usize = 64;

/// One end.
#[derive(Debug, Clone, Copy)]
pub struct Rim {
    /// Its centre.
    pub centre: Point,
    /// Its diameter, mm.
    pub diameter: Figure,
}

/// A measured hole.
#[derive(Debug, Clone, Copy)]
pub struct Measured {
    /// At the cutting face.
    pub face: Rim,
    /// At the back, or at the floor of the back bore.
    pub back: Rim,
    /// The widest straight wire that goes through, mm.
    pub light: Figure,
    /// Where such a wire stands.
    pub threads: Point,
    /// Where it comes nearest to the edge: centre, and share of the depth from the face.
    worst: (Point, f64),
}

impl Measured {
    /// The hole that the job states.
    pub fn of(reckoning: &mut Reckoning, head: &str, stated: &job::Measured, opening: &Opening) -> Self {
        let mut rim = |end: &str, rim: &job::Rim| {
            let mut known = |name, meaning, symbol, known| {
                let key = format!("start.measured.{end}.{name}");
                reckoning.known(At(head, &key), what(meaning, symbol, "mm"), known)
            };
            let x = known("x_mm", "measured centre, x", "x_m", &rim.x);
            let y = known("y_mm", "measured centre, y", "y_m", &rim.y);
            let diameter = known("diameter_mm", "measured diameter", "D_m", &rim.diameter);
            Rim { centre: Point::new(x.value, y.value), diameter }
        };
        let (face, back) = (rim("face", &stated.face), rim("back", &stated.back));
        let apart = reckoning.measured(
            At(head, "start.measured.lean_mm"),
            what("how far the measured hole leans", "l", "mm"),
            face.centre.distance(back.centre),
            "distance between the two measured centres",
            &[],
        );
        let at = At(head, "start.measured.light_mm");
        let light = reckoning.rule(at, &rules::LIGHT, [face.diameter, back.diameter, apart]);
        let threads = threads(face, back);
        let worst = worst(opening.free(), face, back, Vector::new(0.0, 0.0));
        Self { face, back, light, threads, worst: (worst.0, worst.1) }
    }

    /// The narrower of its ends, mm.
    pub fn narrow(&self) -> f64 {
        self.face.diameter.value.min(self.back.diameter.value)
    }

    /// The shop's terms for a hole that was measured: measuring instead of position and size, and no drift.
    pub fn terms(reckoning: &mut Reckoning, head: &str, terms: Terms, allowance: &Allowance) -> Terms {
        let measuring = reckoning.known(
            At("shop:allowance.", "measuring_mm"),
            what("plus or minus on a measured centre and diameter, two sigma", "m", "mm"),
            &allowance.measuring,
        );
        let at = At(head, "start.terms.measured_radius_mm");
        let radius = reckoning.rule(at, &rules::MEASURED_RADIUS, [measuring]);
        Terms { position: measuring, size: radius, ..terms }
    }

    /// The hole as the bounds see it.
    pub fn hole(
        &self,
        reckoning: &mut Reckoning,
        head: &str,
        terms: Terms,
        (from, depth): (Face, Figure),
    ) -> Hole {
        let (enters, leaves) = match from {
            Face::Cutting => (self.face, self.back),
            Face::Back => (self.back, self.face),
        };
        let mut same = |name, meaning, symbol, value, how, of: Figure| {
            reckoning.measured(At(head, name), what(meaning, symbol, "mm"), value, how, &[("D_m", of)])
        };
        let entry = same(
            "start.hole_diameter_mm.entry",
            "diameter of the hole where the electrode entered",
            "D_in",
            enters.diameter.value,
            "as it was measured",
            enters.diameter,
        );
        let exit = same(
            "start.hole_diameter_mm.exit",
            "diameter of the hole where the electrode left",
            "D_out",
            leaves.diameter.value,
            "as it was measured",
            leaves.diameter,
        );
        let (worst, share) = self.worst;
        let (one, other) = (self.face.diameter, self.back.diameter);
        let there = reckoning.measured(
            At(head, "start.terms.diameter_there_mm"),
            what("diameter of the hole where it comes nearest to the edge", "D", "mm"),
            one.value + share * (other.value - one.value),
            "along the straight axis, diameter evenly from one end to the other",
            &[("D_1", one), ("D_2", other)],
        );
        let drift = reckoning.chosen(
            At(head, "start.terms.drift_mm"),
            what("drift of the hole", "w", "mm"),
            0.0,
            "measured at both ends: what it leans is in the measured places",
            &[],
        );
        let rest = reckoning.rule(
            At(head, "start.terms.recast_and_stock_mm"),
            &hole_rules::RECAST_AND_STOCK,
            [terms.recast, terms.stock],
        );
        let at = At(head, "start.terms.takes_mm");
        let takes = reckoning.rule(at, &rules::TAKES_MEASURED, [there, terms.recast, terms.stock]);
        let at = At(head, "start.terms.sigma_position_mm");
        let sigma_position = reckoning.rule(at, &rules::SIGMA_MEASURED, [terms.position]);
        let at = At(head, "start.terms.sigma_size_mm");
        let sigma_size = reckoning.rule(at, &rules::SIGMA_MEASURED, [terms.size]);
        let at = At(head, "start.terms.chance_mm");
        let chance = reckoning.rule(at, &hole_rules::CHANCE, [sigma_position, sigma_size]);
        let need = reckoning.rule(At(head, "start.terms.need_mm"), &hole_rules::NEED, [takes, chance]);
        Hole {
            burned: Some(terms),
            depth,
            entry,
            exit,
            position: terms.position,
            size: terms.size,
            recast: terms.recast,
            stock: terms.stock,
            threading_room: terms.threading_room,
            light: self.light,
            drift,
            rest,
            takes,
            spreads: takes,
            sigma_position,
            sigma_size,
            chance,
            need,
            worst: Some(worst),
        }
    }

    /// Least distance from rim to edge along the axis, were the opening moved so that the hole stands where most room is;
    /// and by how much it would be moved.
    pub fn shifted(&self, opening: &Opening) -> (Vector, f64) {
        let by = self.threads - opening.circle.centre;
        let (.., spare) = worst(opening.free(), self.face, self.back, -by);
        (by, spare)
    }

    /// As it is published.
    pub fn entry(&self) -> published::MeasuredHole {
        let rim = |rim: Rim| published::Rim {
            x_mm: rim.centre.x,
            y_mm: rim.centre.y,
            diameter_mm: rim.diameter.value,
        };
        published::MeasuredHole {
            face: rim(self.face),
            back: rim(self.back),
            light_mm: self.light.value,
            lean_mm: self.face.centre.distance(self.back.centre),
        }
    }
}

/// Where the widest straight wire stands: the middle of what the two ends have in common.
fn threads(face: Rim, back: Rim) -> Point {
    let apart = face.centre.distance(back.centre);
    if apart <= 0.0 {
        return face.centre;
    }
    let along = (apart + face.diameter.value / 2.0 - back.diameter.value / 2.0) / 2.0;
    face.centre.towards(back.centre, (along / apart).clamp(0.0, 1.0))
}

/// Where the hole comes nearest to the edge once it is moved by `by`: centre, share of the way from the face, and
/// distance from rim to edge there. Looked at along the axis, then closer in around the least.
fn worst(target: Free, face: Rim, back: Rim, by: Vector) -> (Point, f64, f64) {
    let (from, to) = (face.centre + by, back.centre + by);
    let (r0, r1) = (face.diameter.value / 2.0, back.diameter.value / 2.0);
    let spare = |share: f64| target.clear(from.towards(to, share)) - (r0 + share * (r1 - r0));
    let step = 1.0 / ALONG as f64;
    let least = (0..=ALONG)
        .map(|k| k as f64 * step)
        .map(|share| (spare(share), share))
        .fold((f64::INFINITY, 0.0), |best, one| if one.0 < best.0 { one } else { best });
    let (mut low, mut high) = ((least.1 - step).max(0.0), (least.1 + step).min(1.0));
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if spare(a) <= spare(b) { high = b } else { low = a }
    }
    let middle = 0.5 * (low + high);
    let (found, share) = if spare(middle) < least.0 { (spare(middle), middle) } else { least };
    (from.towards(to, share), share, found)
}
