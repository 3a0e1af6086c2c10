//! The tab: metal that stands between the two ends of a main cut, measured, and what closes the ring when it is cut.
//!
//! The tab's cut runs beside the same edge as the main cut did. Where on its way the main cut began and where it ended
//! is looked for; what lies between is the way that the main cut did not go, whichever way round the tab is cut.

use crate::cut::LIMIT;
use crate::flatten::{Place, distance};
use crate::region::to_segment;
use crate::rounds::Edge;
use std::cmp::Ordering;

/// Vertices on its own edge from which a main cut may begin: the lead-in may touch that edge.
const STARTS: usize = 4;

/// A main cut and its tab's cut as one.
#[derive(Debug)]
pub struct Closed {
    /// The way of the wire's centre all round: the main cut's, and on to where it began.
    pub path: Vec<Place>,
    /// Straight distance of the wire's centre between the two ends of the main cut, mm: what it clears on both sides
    /// taken off, the metal that stands between them.
    pub apart: f64,
}

/// Closes a main cut by its tab's cut; none where they do not meet at both ends.
pub fn closed(main: &[Place], tab: &[Place], offset: f64, edge: &Edge) -> Option<Closed> {
    let end = along(tab, *main.last()?)?;
    // The hole itself may lie that far from the edge, and is not where the main cut meets it.
    let starts = main.iter().skip(1).filter(|place| edge.beside(**place, offset)).take(STARTS);
    let start = starts.filter_map(|place| along(tab, *place)).next()?;
    let mut between = stretch(tab, start, end);
    if order(start, end) == Ordering::Less {
        between.reverse();
    }
    Some(Closed { path: main.iter().copied().chain(between).collect(), apart: distance(start.2, end.2) })
}

/// A place on a way of chords: which chord, how far along it, and where.
type At = (usize, f64, Place);

/// Where a way passes a place, within what a pass may stray.
fn along(way: &[Place], place: Place) -> Option<At> {
    let far = |i: &usize| to_segment(place, way[*i], way[*i + 1]);
    let nearest = (0..way.len().saturating_sub(1)).min_by(|i, j| far(i).total_cmp(&far(j)))?;
    let (a, b) = (way[nearest], way[nearest + 1]);
    let square = distance(a, b).powi(2);
    let dot = (place[0] - a[0]) * (b[0] - a[0]) + (place[1] - a[1]) * (b[1] - a[1]);
    let t = if square > 0.0 { (dot / square).clamp(0.0, 1.0) } else { 0.0 };
    let at = [0, 1].map(|k| a[k] + t * (b[k] - a[k]));
    (far(&nearest) <= LIMIT).then_some((nearest, t, at))
}

fn order(a: At, b: At) -> Ordering {
    (a.0, a.1).partial_cmp(&(b.0, b.1)).unwrap_or(Ordering::Equal)
}

/// The part of a way between two places of it, in the direction of the way.
fn stretch(way: &[Place], a: At, b: At) -> Vec<Place> {
    let (first, last) = if order(a, b) == Ordering::Greater { (b, a) } else { (a, b) };
    let inner = way.iter().take(last.0 + 1).skip(first.0 + 1);
    std::iter::once(first.2).chain(inner.copied()).chain([last.2]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square of 1 mm cut 0.1 inside, from its middle: the main cut stops `short` before it is round.
    fn square(short: f64) -> (Edge, Vec<Place>) {
        let edge = Edge::new(vec![[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]);
        let corners = [[0.5, 0.5], [0.5, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9], [0.1, 0.1]];
        let mut main = corners.to_vec();
        main.push([0.5 - short, 0.1]);
        (edge, main)
    }

    #[test]
    fn the_ends_are_as_far_apart_as_the_main_cut_left_them() {
        let (edge, main) = square(0.3);
        for tab in [
            vec![[0.5, 0.5], [0.5, 0.1], [0.18, 0.1]],
            vec![[0.5, 0.5], [0.2, 0.1], [0.55, 0.1]],
            vec![[0.5, 0.5], [0.5, 0.1], [0.3, 0.1], [0.2, 0.1]],
        ] {
            let closed = closed(&main, &tab, 0.1, &edge).expect("it closes");
            assert!((closed.apart - 0.3).abs() < 1e-12, "{closed:?}");
            assert!(distance(closed.path[closed.path.len() - 1], [0.5, 0.1]) < 1e-12, "{closed:?}");
        }
    }

    #[test]
    fn what_does_not_meet_does_not_close() {
        let (edge, main) = square(0.3);
        for tab in [
            vec![[0.5, 0.5], [0.5, 0.1], [0.202, 0.1]],
            vec![[0.5, 0.5], [0.498, 0.1], [0.18, 0.1]],
            vec![[0.5, 0.5], [0.5, 0.102], [0.18, 0.102]],
            vec![[0.5, 0.5]],
        ] {
            assert!(closed(&main, &tab, 0.1, &edge).is_none(), "{tab:?}");
        }
    }

    /// Between two places of a way lie its own vertices, from whichever end it is asked for.
    #[test]
    fn between_two_places_lie_the_vertices_of_the_way() {
        let way = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [2.0, 1.0], [2.0, 3.0]];
        let at = |place: Place| along(&way, place).unwrap();
        let (a, b) = (at([0.4, 0.0]), at([2.0, 1.5]));
        let whole = vec![[0.4, 0.0], [1.0, 0.0], [1.0, 1.0], [2.0, 1.0], [2.0, 1.5]];
        assert_eq!((stretch(&way, a, b), stretch(&way, b, a)), (whole.clone(), whole));
        assert_eq!(stretch(&way, at([0.2, 0.0]), a), [[0.2, 0.0], [0.4, 0.0]]);
    }
}
