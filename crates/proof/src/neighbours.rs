//! Openings beside each other in one block: none reaches into another or out of the block. What each of them clears
//! stays in its own finished edge; so nothing of one is cut with another.

use crate::absurd;
use crate::fault::Spot;
use crate::flatten::{Place, closed};
use crate::region::Region;
use crate::rim::rims;
use package::{Contour, Fault, PlanSection, Side};
use std::cell::OnceCell;

/// An edge on the block's own edge is inside, mm: rounding of numbers.
const ON_EDGE: f64 = 1e-6;

struct Opening<'a> {
    contour: &'a Contour,
    points: Vec<Place>,
    low: Place,
    high: Place,
    region: OnceCell<Region>,
}

impl Opening<'_> {
    fn region(&self) -> &Region {
        self.region.get_or_init(|| Region::new(std::slice::from_ref(&self.points)))
    }

    fn beside(&self, other: &Self) -> bool {
        (0..2).any(|k| self.high[k] < other.low[k] || other.high[k] < self.low[k])
    }

    /// A place that both have, of the other's edge or its own.
    fn shared(&self, other: &Self) -> Option<Place> {
        let n = other.points.len();
        let crossing = (0..n).find(|i| {
            let (a, b) = (other.points[*i], other.points[(i + 1) % n]);
            self.region().to_edge_from(a, b, f64::INFINITY) <= 0.0
        });
        let inside = |of: &Self, place: Place| of.region().contains(place).then_some(place);
        crossing
            .map(|i| other.points[i])
            .or_else(|| inside(self, other.points[0]))
            .or_else(|| inside(other, self.points[0]))
    }
}

/// Openings of a section that meet, and edges that leave its block.
pub fn faults(section: &PlanSection) -> Vec<Fault> {
    let mut faults = Vec::new();
    let fine = section.contours.iter().filter(|contour| absurd::of(contour).is_empty());
    let openings: Vec<Opening> = fine.map(opening).collect();
    let half = section.block_mm().map(|side| side / 2.0 + ON_EDGE);
    for one in &openings {
        let outside = (0..2).any(|k| one.low[k] < -half[k] || one.high[k] > half[k]);
        if outside {
            let message = format!("contour `{}` reaches out of its block", one.contour.id);
            let out = |place: &&Place| (0..2).any(|k| place[k].abs() > half[k]);
            let place = one.points.iter().find(out).copied().unwrap_or(one.high);
            faults.push(Spot::default().at(place).fault("outside-block", message));
        }
    }
    let inside: Vec<&Opening> = openings.iter().filter(|one| one.contour.side == Side::Inside).collect();
    for (i, one) in inside.iter().enumerate() {
        for other in inside[i + 1..].iter().filter(|other| !one.beside(other)) {
            if let Some(place) = one.shared(other) {
                let message =
                    format!("contours `{}` and `{}` have metal in common", one.contour.id, other.contour.id);
                faults.push(Spot::default().at(place).fault("openings-meet", message));
            }
        }
    }
    faults.extend(reliefs(section, &inside, half));
    faults.extend(outsides(&openings, half));
    faults
}

/// Reliefs that meet each other or leave the block on their way down to the back.
fn reliefs(section: &PlanSection, inside: &[&Opening], half: Place) -> Vec<Fault> {
    let widens = |one: &Opening| {
        let below = (section.size_mm[2] - one.contour.land_mm).max(0.0);
        below * one.contour.relief_deg.clamp(0.0, 89.0).to_radians().tan()
    };
    let mut faults = Vec::new();
    for (i, one) in inside.iter().enumerate().filter(|(_, one)| widens(one) > 0.0) {
        let by = widens(one);
        if (0..2).any(|k| one.low[k] - by < -half[k] || one.high[k] + by > half[k]) {
            let message = format!("the relief of `{}` leaves its block at the back", one.contour.id);
            faults.push(Spot::default().at(one.low).fault("outside-block", message));
        }
        for other in inside.iter().enumerate().filter(|(k, _)| *k != i).map(|(_, other)| other) {
            let both = by + widens(other);
            let n = other.points.len();
            let near = |k: &usize| {
                let (a, b) = (other.points[*k], other.points[(k + 1) % n]);
                one.region().to_edge_from(a, b, both) < both
            };
            // Two that widen are told once.
            let told = widens(other) > 0.0 && other.contour.id < one.contour.id;
            if let Some(k) = (0..n).find(near).filter(|_| !told) {
                let (a, b) = (&one.contour.id, &other.contour.id);
                let message = format!("the reliefs of `{a}` and `{b}` meet before the back");
                faults.push(Spot::default().at(other.points[k]).fault("reliefs-meet", message));
            }
        }
    }
    faults
}

/// Pieces that meet, openings beside the piece that is cut out, and start holes that leave the block or reach into another
/// piece.
fn outsides(openings: &[Opening], half: Place) -> Vec<Fault> {
    let (pieces, inside): (Vec<&Opening>, Vec<&Opening>) =
        openings.iter().partition(|one| one.contour.side == Side::Outside);
    let mut faults = Vec::new();
    let mut fault = |code: &str, place: Place, message: String| {
        faults.push(Spot::default().at(place).fault(code, message));
    };
    for (i, one) in pieces.iter().enumerate() {
        for other in pieces[i + 1..].iter().filter(|other| !one.beside(other)) {
            if let Some(place) = one.shared(other) {
                let message = format!(
                    "the pieces `{}` and `{}` have metal in common",
                    one.contour.id, other.contour.id
                );
                fault("pieces-meet", place, message);
            }
        }
        for (place, radius) in one.contour.start.iter().flat_map(rims) {
            let out = (0..2).any(|k| place[k].abs() + radius > half[k]);
            let other = pieces.iter().filter(|other| other.contour.id != one.contour.id);
            let mut into = other
                .filter(|other| other.region().contains(place) || other.region().to_edge(place) < radius);
            if out {
                fault(
                    "outside-block",
                    place,
                    format!("the start hole of `{}` leaves its block", one.contour.id),
                );
            } else if let Some(other) = into.next() {
                let message =
                    format!("the start hole of `{}` reaches into `{}`", one.contour.id, other.contour.id);
                fault("cut-into-piece", place, message);
            }
        }
    }
    for one in inside.iter().filter(|_| !pieces.is_empty()) {
        let n = one.points.len();
        let within = |piece: &&&Opening| {
            piece.region().contains(one.points[0])
                && (0..n).all(|i| {
                    piece.region().to_edge_from(one.points[i], one.points[(i + 1) % n], f64::INFINITY) > 0.0
                })
        };
        if !pieces.iter().any(|piece| within(&piece)) {
            let message = format!("the opening `{}` does not lie in a piece that is cut out", one.contour.id);
            fault("beside-the-piece", one.points[0], message);
        }
    }
    faults
}

/// The pieces that are cut out of a block, by their contours.
pub fn pieces(section: &PlanSection) -> Vec<(&Contour, Region)> {
    let fine = section
        .contours
        .iter()
        .filter(|contour| contour.side == Side::Outside && absurd::of(contour).is_empty());
    fine.map(|contour| (contour, Region::new(&[closed(&contour.target)]))).collect()
}

/// Pieces that the wire runs into on its way along another contour. An opening of a piece is cut within it.
pub fn cut_into(
    pieces: &[(&Contour, Region)],
    contour: &Contour,
    ways: &[(Vec<Place>, f64)],
    spot: &Spot,
) -> Vec<Fault> {
    let others = pieces.iter().filter(|(piece, region)| {
        piece.id != contour.id
            && !(contour.side == Side::Inside
                && closed(&contour.target).first().is_some_and(|place| region.contains(*place)))
    });
    let met = |(piece, region): &(&Contour, Region)| {
        ways.iter().find_map(|(way, reach)| {
            let mut chords = way.windows(2);
            let near = chords.find(|pair| region.to_edge_from(pair[0], pair[1], f64::INFINITY) < *reach)?;
            let message = format!("cutting `{}` the wire runs into the piece `{}`", contour.id, piece.id);
            Some(spot.at(near[0]).fault("cut-into-piece", message))
        })
    };
    others.filter_map(met).collect()
}

fn opening(contour: &Contour) -> Opening<'_> {
    let points = closed(&contour.target);
    let bound =
        |k: usize, least: f64, pick: fn(f64, f64) -> f64| points.iter().map(|p| p[k]).fold(least, pick);
    let low = [0, 1].map(|k| bound(k, f64::INFINITY, f64::min));
    let high = [0, 1].map(|k| bound(k, f64::NEG_INFINITY, f64::max));
    Opening { contour, low, high, points, region: OnceCell::new() }
}
