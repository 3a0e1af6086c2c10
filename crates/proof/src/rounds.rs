//! What each round of a contour is: the main cut, the cut of the tab that it left standing, or a skim. Told by what the
//! wire does alone: a main cut that does not come round has left a tab, and the next round that does not come round
//! either takes it away.

use crate::cut::LIMIT;
use crate::engine::{Shape, counter_clockwise, grown};
use crate::flatten::{Place, distance};
use crate::machine::{Keep, Move};
use crate::passes::{Round, Threaded};
use crate::region::{Region, to_segment};
use package::Wire;

/// A place that lies on a pass's own edge within this is taken for one of its places, mm: any farther, and the pass
/// does not keep to its edge.
const BESIDE: f64 = 2.0 * LIMIT;
/// Ends of moves on its own edge from which a pass without register may begin: the lead-in may touch that edge.
const STARTS: usize = 4;

/// A frame around a piece lies this far from it, mm: farther than anything that is asked of it.
const FRAME: f64 = 2000.0;

/// The finished edge of a contour.
#[derive(Debug)]
pub struct Edge {
    /// As a polygon with the free side to its left: counter-clockwise for an opening, clockwise for a piece.
    pub points: Vec<Place>,
    /// The free side as a region: what is inside an opening, or between a piece and a frame far off.
    pub region: Region,
    /// Its length.
    pub perimeter: f64,
    /// The frame around a piece; none around an opening.
    frame: Option<Vec<Place>>,
}

impl Edge {
    /// The edge of a counter-clockwise polygon.
    pub fn new(points: Vec<Place>) -> Self {
        let perimeter = round_length(&points);
        Self { region: Region::new(std::slice::from_ref(&points)), perimeter, points, frame: None }
    }

    /// The edge of a piece whose outline is this counter-clockwise polygon.
    pub fn around(mut points: Vec<Place>) -> Self {
        points.reverse();
        let bound =
            |k: usize, pick: fn(f64, f64) -> f64| points.iter().map(|p| p[k]).reduce(pick).unwrap_or(0.0);
        let (low, high) =
            ([bound(0, f64::min), bound(1, f64::min)], [bound(0, f64::max), bound(1, f64::max)]);
        let (left, bottom, right, top) = (low[0] - FRAME, low[1] - FRAME, high[0] + FRAME, high[1] + FRAME);
        let frame = vec![[left, bottom], [right, bottom], [right, top], [left, top]];
        let region = Region::new(&[frame.clone(), points.clone()]);
        Self { region, frame: Some(frame), ..Self::new(points) }
    }

    /// Length of the way so far inside an opening; none where there is none.
    fn way_inside(&self, offset: f64) -> Option<f64> {
        if self.is_piece() {
            return None;
        }
        let inside = grown(&[vec![self.points.clone()]], -offset);
        let way: f64 = inside.iter().flatten().map(|points| round_length(points)).sum();
        (way > 0.0).then_some(way)
    }

    /// Whether it is the outside of a piece.
    pub fn is_piece(&self) -> bool {
        self.frame.is_some()
    }

    /// The free side as a shape.
    pub fn shape(&self) -> Shape {
        self.frame.iter().chain([&self.points]).cloned().collect()
    }

    /// What lies on the free side of a way all round: inside it in an opening, outside it around a piece.
    pub fn beyond(&self, way: &[Place]) -> Region {
        match &self.frame {
            None => Region::new(&[way.to_vec()]),
            Some(frame) => {
                let mut around = counter_clockwise(way.to_vec());
                around.reverse();
                Region::new(&[frame.clone(), around])
            }
        }
    }

    /// Whether a place lies inside, this far from the edge.
    pub fn beside(&self, place: Place, offset: f64) -> bool {
        (self.region.to_edge(place) - offset).abs() <= BESIDE && self.region.contains(place)
    }
}

/// The rounds of a contour by what they are.
#[derive(Debug, Default)]
pub struct Rounds {
    /// The main cut, and what goes before it from the same thread.
    pub main: Option<Round>,
    /// Whether the main cut does not come round, so that something holds what it goes round.
    pub holds: bool,
    /// Place of the tab's cut among the rounds after the main cut, and the cut.
    pub tab: Option<(usize, Round)>,
    /// Places of the skims among the rounds after the main cut, and the skims.
    pub skims: Vec<(usize, Round)>,
    /// The same of the skims over the place of a piece's tab.
    pub dress: Vec<(usize, Round)>,
}

impl Rounds {
    /// The rounds from one threading place.
    pub fn of(threaded: &Threaded, wire: &Wire, edge: &Edge) -> Self {
        let mut rounds = threaded.rounds.iter().cloned();
        let (Some(mut main), Some(first)) = (rounds.next(), wire.passes.first()) else {
            return Self::default();
        };
        // Ways back through the thread that never come to the edge only clear metal before the main cut.
        while !main.cut && !main.compensated() && !touches_own_edge(&main.moves, first.offset_mm, edge) {
            let Some(next) = rounds.next() else { break };
            main.moves.extend(next.moves);
            main = Round { moves: main.moves, lines: [main.lines[0], next.lines[1]], ..next };
        }
        let holds = !comes_round(&main.moves, first.offset_mm, edge);
        let mut found = Self { main: Some(main), holds, ..Self::default() };
        for (i, round) in rounds.enumerate() {
            if edge.is_piece() {
                match (goes_far(&round.moves, wire, edge), &found.tab) {
                    (true, _) => found.skims.push((i, round)),
                    (false, None) => found.tab = Some((i, round)),
                    (false, Some(_)) => found.dress.push((i, round)),
                }
                continue;
            }
            let pass = wire.passes.get(found.skims.len() + 1).unwrap_or(first);
            if holds && found.tab.is_none() && !comes_round(&round.moves, pass.offset_mm, edge) {
                found.tab = Some((i, round));
            } else {
                found.skims.push((i, round));
            }
        }
        found
    }

    /// The same rounds behind the cut of a relief, which then is what comes first; all others wait for it.
    pub fn behind(self, relief: Option<Round>) -> Self {
        let Some(relief) = relief else { return self };
        let first = self.main.into_iter().map(|main| (0, main));
        let later = first.chain(self.tab).chain(self.skims).chain(self.dress);
        Self { skims: later.collect(), main: Some(relief), holds: false, tab: None, dress: Vec::new() }
    }

    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = &Round> {
        let later = self.tab.iter().chain(&self.skims).chain(&self.dress).map(|(_, round)| round);
        self.main.iter().chain(later)
    }
}

/// Whether a round goes along more than half of a piece, beside it. The way there does not count.
fn goes_far(moves: &[Move], wire: &Wire, edge: &Edge) -> bool {
    let keeps = |one: &Move| one.keep != Keep::On;
    let along: f64 = match moves.iter().position(keeps) {
        Some(entry) => moves[entry + 1..].iter().filter(|one| keeps(one)).map(length).sum(),
        None => {
            let on_edge = |place: Place| wire.passes.iter().any(|pass| edge.beside(place, pass.offset_mm));
            let arrives = moves.iter().position(|one| on_edge(one.to)).map_or(moves.len(), |i| i + 1);
            moves[arrives..].iter().map(length).sum()
        }
    };
    along > 0.5 * edge.perimeter
}

fn length(one: &Move) -> f64 {
    match one.arc {
        None => distance(one.from, one.to),
        Some((centre, sweep)) => distance(one.from, centre) * sweep.abs(),
    }
}

/// Length of a closed polygon.
fn round_length(points: &[Place]) -> f64 {
    (0..points.len()).map(|i| distance(points[i], points[(i + 1) % points.len()])).sum()
}

fn touches_own_edge(moves: &[Move], offset: f64, edge: &Edge) -> bool {
    moves.iter().any(|one| edge.beside(one.to, offset))
}

/// Whether a pass comes back to a place of its own edge, after going at least half way round.
pub fn comes_round(moves: &[Move], offset: f64, edge: &Edge) -> bool {
    let on = moves.iter().position(|one| one.keep != Keep::On);
    let (along, starts): (&[Move], Vec<usize>) = match on {
        // With a register the edge begins at the first move after the entry.
        Some(entry) => {
            let run = moves[entry + 1..].iter().take_while(|one| one.keep != Keep::On).count();
            (&moves[entry + 1..entry + 1 + run], if run > 0 { vec![0] } else { Vec::new() })
        }
        None => {
            let beside = |i: &usize| edge.beside(moves[*i].from, offset);
            (moves, (0..moves.len()).filter(beside).take(STARTS).collect())
        }
    };
    let comes_back = |after: f64| {
        starts.iter().any(|&first| {
            let place = along[first].from;
            let mut way = 0.0;
            along[first..].iter().enumerate().any(|(i, one)| {
                // The first move begins there, which is not coming back.
                let near = if i == 0 { distance(one.to, place) <= LIMIT } else { touches(one, place) };
                way += length(one);
                near && way > after
            })
        })
    };
    // In a narrow opening the wire's centre has much less to go than the edge is long.
    comes_back(0.5 * edge.perimeter)
        || on.is_none() && edge.way_inside(offset).is_some_and(|way| comes_back(0.5 * way))
}

/// Whether a move passes a place within what rounding moves it.
fn touches(one: &Move, place: Place) -> bool {
    let mut points = vec![one.from];
    match one.arc {
        None => points.push(one.to),
        Some((centre, sweep)) => crate::flatten::arc(&mut points, one.from, one.to, centre, sweep),
    }
    points.windows(2).any(|pair| to_segment(place, pair[0], pair[1]) <= LIMIT)
}
