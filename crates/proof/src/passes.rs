//! A run of the machine cut into contours and rounds, by what happened and in which order; never by N words.
//!
//! A contour is what is cut from one threading place, however often the wire comes back to it. A round ends when the
//! wire is back where it was threaded, when it is cut, or when compensation is turned on again.

use crate::flatten::{Place, distance};
use crate::machine::{Event, Keep, Move, Run};

/// The wire is back where it was threaded within this, mm: what steps rounded to 0.1 um may add up to on the way, and
/// no more than a thread may be off its hole.
const BACK: f64 = 1e-3;

/// What the wire does from one place.
#[derive(Debug, Clone, Default)]
pub struct Threaded {
    /// Where it was threaded.
    pub place: Place,
    /// N word of the first threading.
    pub block: Option<u32>,
    /// What it does from there.
    pub rounds: Vec<Round>,
}

/// One way of the wire from its thread.
#[derive(Debug, Clone, Default)]
pub struct Round {
    /// Its moves.
    pub moves: Vec<Move>,
    /// Lines of the text where the first and the last of them stand.
    pub lines: [u32; 2],
    /// Whether the wire is cut at its end.
    pub cut: bool,
    /// Whether the program stops for the operator then, with the wire cut, before it moves on: with the wire in, nobody
    /// can take a core out, and what moves on may run into it.
    pub stop: bool,
    /// Whether the program stopped for the operator before it, with nothing cut in between.
    pub waited: bool,
}

impl Round {
    /// Whether compensation is on anywhere in it.
    pub fn compensated(&self) -> bool {
        self.moves.iter().any(|one| one.keep != Keep::On)
    }

    /// Whether the wire is tilted anywhere in it.
    pub fn tilted(&self) -> bool {
        self.moves.iter().any(Move::tilted)
    }
}

/// The contours while they are read.
#[derive(Default)]
struct Reading {
    found: Vec<Threaded>,
    /// The place where the wire was threaded last.
    here: usize,
    open: Round,
    wire_in: bool,
    /// Whether the machine has moved on since the wire was cut.
    moved_on: bool,
    /// Whether the program has stopped for the operator since anything was cut.
    stopped: bool,
    /// Whether the program uses registers at all.
    registers: bool,
}

/// Cuts a run into contours, in the order of their first threading.
pub fn contours(run: &Run) -> Vec<Threaded> {
    let compensated = |event: &Event| matches!(event, Event::Move(one) if one.keep != Keep::On);
    let mut reading = Reading { registers: run.events.iter().any(compensated), ..Reading::default() };
    for (event, line) in run.events.iter().zip(&run.lines) {
        reading.event(event, *line);
    }
    reading.close();
    reading.found
}

impl Reading {
    fn event(&mut self, event: &Event, line: u32) {
        match event {
            Event::Thread(place, block) => {
                self.close();
                (self.wire_in, self.moved_on) = (true, false);
                let known = self.found.iter().position(|one| distance(one.place, *place) <= BACK);
                self.here = known.unwrap_or(self.found.len());
                if known.is_none() {
                    self.found.push(Threaded { place: *place, block: *block, rounds: Vec::new() });
                }
            }
            Event::Cut => {
                self.close();
                let was_in = std::mem::take(&mut self.wire_in);
                if let Some(last) = self.last().filter(|_| was_in) {
                    last.cut = true;
                }
            }
            Event::Stop => {
                self.close();
                self.stopped = true;
                let at_once = !self.wire_in && !self.moved_on;
                if let Some(last) = self.last().filter(|_| at_once) {
                    last.stop = true;
                }
            }
            Event::Rapid(_) => self.moved_on = true,
            Event::Move(one) => self.moved(one, line),
            Event::Comment(_) => {}
        }
    }

    fn moved(&mut self, one: &Move, line: u32) {
        let was_on = self.open.moves.last().is_some_and(|last| last.keep != Keep::On);
        if one.keep != Keep::On && !was_on && self.open.compensated() {
            self.close();
        }
        if self.open.moves.is_empty() {
            self.open.lines[0] = line;
            self.open.waited = std::mem::take(&mut self.stopped);
        }
        self.open.lines[1] = line;
        self.open.moves.push(*one);
        let back = self.found.get(self.here).is_some_and(|here| distance(here.place, one.to) <= BACK);
        // With registers, what has not been beside the edge yet is still on its way there.
        let upright = one.aside[1] == [0.0, 0.0];
        let was_away = !self.registers || self.open.compensated() || self.open.tilted();
        if back && one.keep == Keep::On && upright && was_away {
            self.close();
        }
    }

    fn last(&mut self) -> Option<&mut Round> {
        self.found.get_mut(self.here)?.rounds.last_mut()
    }

    fn close(&mut self) {
        if let Some(here) = self.found.get_mut(self.here)
            && !self.open.moves.is_empty()
        {
            here.rounds.push(std::mem::take(&mut self.open));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn way(places: &[Place], keep: Keep) -> Vec<Event> {
        let one = |pair: &[Place]| {
            let (from, to, aside) = (pair[0], pair[1], [[0.0; 2]; 2]);
            Event::Move(Move { block: None, from, to, arc: None, keep, feed: 1.0, aside })
        };
        places.windows(2).map(one).collect()
    }

    fn rounds(moves: Vec<Event>) -> Vec<usize> {
        let events: Vec<Event> = std::iter::once(Event::Thread([0.0; 2], None)).chain(moves).collect();
        let run = Run { lines: (1..=events.len() as u32).collect(), events, ..Run::default() };
        let found = contours(&run);
        assert_eq!(found.len(), 1);
        found[0].rounds.iter().map(|round| round.moves.len()).collect()
    }

    /// With registers, a way in that comes by the thread again is not round yet; without them, being back is all there is.
    #[test]
    fn a_way_in_over_its_own_thread_ends_no_round_where_registers_are_used() {
        let (hook, out) = ([[0.0, 0.0], [0.1, 0.0], [0.0, 0.0]], [[0.0, 0.0], [0.0, 1.0]]);
        let round = [[0.0, 1.0], [1.0, 1.0], [0.0, 1.0]];
        let back = [[0.0, 1.0], [0.0, 0.0]];
        let whole = |keep: Keep| {
            let parts = [way(&hook, Keep::On), way(&out, Keep::On), way(&round, keep), way(&back, Keep::On)];
            rounds(parts.concat())
        };
        assert_eq!(whole(Keep::Left(1)), [6]);
        assert_eq!(whole(Keep::On), [2, 4]);
    }

    #[test]
    fn turning_compensation_on_again_begins_a_round() {
        let parts = [
            way(&[[0.0, 0.0], [0.0, 1.0]], Keep::Left(1)),
            way(&[[0.0, 1.0], [0.0, 0.9]], Keep::On),
            way(&[[0.0, 0.9], [0.0, 1.0], [1.0, 1.0]], Keep::Left(2)),
        ];
        assert_eq!(rounds(parts.concat()), [2, 2]);
    }
}
