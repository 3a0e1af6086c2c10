//! Openings beside each other in one block: none reaches into another or out of the block. What each of them clears
//! stays in its own finished edge; so nothing of one is cut with another.

use crate::absurd;
use crate::fault::Spot;
use crate::flatten::{Place, closed};
use crate::region::Region;
use package::{Contour, Fault, PlanSection, Side, StartKind};
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
    let half = [section.size_mm[0] / 2.0 + ON_EDGE, section.size_mm[1] / 2.0 + ON_EDGE];
    for one in &openings {
        let outside = (0..2).any(|k| one.low[k] < -half[k] || one.high[k] > half[k]);
        let from_outside =
            one.contour.start.as_ref().is_some_and(|start| start.kind == StartKind::FromOutside);
        if outside && !from_outside {
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
    faults
}

fn opening(contour: &Contour) -> Opening<'_> {
    let points = closed(&contour.target);
    let bound =
        |k: usize, least: f64, pick: fn(f64, f64) -> f64| points.iter().map(|p| p[k]).fold(least, pick);
    let low = [0, 1].map(|k| bound(k, f64::INFINITY, f64::min));
    let high = [0, 1].map(|k| bound(k, f64::NEG_INFINITY, f64::max));
    Opening { contour, low, high, points, region: OnceCell::new() }
}
