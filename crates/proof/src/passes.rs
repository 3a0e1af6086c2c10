//! A run of the machine cut into contours and passes, by what happened and in which order; never by N words.
//!
//! A contour begins where the wire is threaded at another place. A pass ends when the wire is back where it was
//! threaded, when it is cut, or when compensation is turned on again.

use crate::flatten::{Place, distance};
use crate::machine::{Event, Keep, Move};

/// The wire is back where it was threaded within this, mm: what steps rounded to 0.1 um may add up to on the way, and
/// no more than a thread may be off its hole.
const BACK: f64 = 1e-3;

/// The passes from one threading place.
#[derive(Debug, Clone, Default)]
pub struct Threaded {
    /// Where the wire was threaded.
    pub place: Place,
    /// N word of the first threading.
    pub block: Option<u32>,
    /// Moves of each pass.
    pub passes: Vec<Vec<Move>>,
    /// For each pass, whether the program stops for the operator before the next one, or after the last, with the
    /// wire cut: with the wire in, nobody can take a core out.
    pub stops_after: Vec<bool>,
}

/// Cuts a run into contours.
pub fn contours(events: &[Event]) -> Vec<Threaded> {
    let mut found: Vec<Threaded> = Vec::new();
    let mut open: Vec<Move> = Vec::new();
    let mut wire_in = false;
    for event in events {
        match event {
            Event::Thread(place, block) => {
                close(&mut found, &mut open);
                wire_in = true;
                if found.last().is_none_or(|last| distance(last.place, *place) > BACK) {
                    found.push(Threaded { place: *place, block: *block, ..Threaded::default() });
                }
            }
            Event::Cut => {
                close(&mut found, &mut open);
                wire_in = false;
            }
            Event::Stop => {
                close(&mut found, &mut open);
                let stop = found.last_mut().and_then(|last| last.stops_after.last_mut());
                if let Some(stop) = stop.filter(|_| !wire_in) {
                    *stop = true;
                }
            }
            Event::Move(one) => {
                let was_on = open.last().is_some_and(|last| last.keep != Keep::On);
                let again = one.keep != Keep::On && !was_on && open.iter().any(|old| old.keep != Keep::On);
                if again {
                    close(&mut found, &mut open);
                }
                open.push(*one);
                let back = found.last().is_some_and(|last| distance(last.place, one.to) <= BACK);
                if back && one.keep == Keep::On {
                    close(&mut found, &mut open);
                }
            }
            Event::Comment(_) => {}
        }
    }
    close(&mut found, &mut open);
    found
}

fn close(found: &mut [Threaded], open: &mut Vec<Move>) {
    if let Some(last) = found.last_mut()
        && !open.is_empty()
    {
        last.passes.push(std::mem::take(open));
        last.stops_after.push(false);
    }
}
