//! What can be wrong with a package, by code.
//!
//! | code | what it is about |
//! |---|---|
//! | `inputs-changed` | an input file is missing, is not the one that was planned from, or has no fingerprint |
//! | `program-missing`, `program-unknown-contour`, `contour-without-program` | programs and plan do not belong together |
//! | `text` | a line that is no program text |
//! | `unknown-word` | a word that this reader does not know |
//! | `unit-unknown` | a move, a place or a feed before the unit of length is stated |
//! | `mode-unknown` | a move before G90 or G91 |
//! | `start-unknown` | a move in steps before any place is known |
//! | `arc` | an arc without centre, or with two radii |
//! | `rapid-with-wire`, `cutting-without-wire`, `wire-twice`, `no-wire-to-cut`, `wire-left-in` | the wire's state |
//! | `register-missing`, `register-unknown`, `register-other` | compensation without a register, or with another pass's |
//! | `compensation` | compensation begins or ends where it may not, or not square to the edge, or is on while the wire is threaded |
//! | `tilt` | the wire is tilted where it must not be: while it is threaded, in a pass, on an arc, at the end |
//! | `guides`, `relief` | guides or relief that the plan does not state, or states otherwise than the program |
//! | `off-relief` | the tilted wire leaves the relief's edge, at some height |
//! | `register-twice` | the plan gives one register of a program two values |
//! | `corner-too-tight` | an inside corner tighter than its register |
//! | `wrong-side` | the wire runs on the metal's side of the edge |
//! | `feed-missing`, `feed` | no feed, or not the pass's |
//! | `pass-count` | a pass too few or too many; the tab's cut is none |
//! | `off-edge` | a pass before the last does not keep to its own edge, so that its stock is wrong |
//! | `not-closed` | a pass that does not come round, or not with the cut of the tab that it leaves standing |
//! | `start-off-hole`, `wire-too-thick` | the wire is threaded where its hole is not, or there is none |
//! | `from-outside` | a cut that begins beside the block: of an opening, with a hole, or with the wire nearer than it sparks |
//! | `frame-parts` | what stands around pieces falls apart, where the wire comes in from outside |
//! | `offset` | a pass's offset is not d/2 + spark gap + stock, or the head of the program says another |
//! | `wire-other` | program and plan name different wires |
//! | `tab` | a tab that the plan does not have, or of another width, or none where it has one |
//! | `cores` | other cores fall than were planned, heavier or lighter ones, or at another moment |
//! | `no-stop` | a core falls and nobody is asked to take it out |
//! | `unattended-fall` | a core falls in a phase that nobody attends |
//! | `skim-before-core` | a skim while the core is held, or lies in the opening |
//! | `phases` | the plan's phases are not the program's, or one that runs alone stops, or one that does not is not waited for |
//! | `phase-start` | a phase that does something else when a person starts it than in the whole program |
//! | `openings-meet`, `outside-block` | finished edges that reach into each other, or out of the block |
//! | `not-ended`, `after-end` | the end of the program |
//! | `burning`, `face` | plan and burner program do not belong together, or say different faces |
//! | `hole-count`, `hole-elsewhere` | a start hole not burned, burned twice or out of order, or one that nobody planned |
//! | `electrode` | a hole burned with another electrode than planned |
//! | `not-through`, `free-below` | a hole that does not come out, or goes further below than is kept free |
//! | `electrode-in-block`, `not-touched`, `spark` | the tip goes aside or fast in the metal, down without touching, or the spark's state |
//! | `drawing` | the drawing no longer gives the outline |
//! | `joint` | a joint of two halves with an opening over it that does not start there, a start that does not lie on it, metal that it sets loose, or a screw in an opening |
//! | `target-moved` | the target is not the drawing with its clearance |
//! | `absurd` | a number of the plan that no block, steel, wire or hole can have |
//! | `not-proven` | a program, face or side that this proof cannot follow yet |
//! | `too-large` | more points than the proof takes on, places beyond any block, or a line that lies on itself again and again |

use package::Fault;

/// Where a fault was found.
#[derive(Debug, Clone, Default)]
pub struct Spot {
    /// Program's id.
    pub program: Option<String>,
    /// N word.
    pub block: Option<u32>,
    /// Place, section coordinates.
    pub place: Option<[f64; 2]>,
}

impl Spot {
    /// A whole program.
    pub fn program(id: &str) -> Self {
        Self { program: Some(id.to_owned()), ..Self::default() }
    }

    /// The same, at a block.
    pub fn block(&self, block: Option<u32>) -> Self {
        Self { block, ..self.clone() }
    }

    /// The same, at a place.
    pub fn at(&self, place: [f64; 2]) -> Self {
        Self { place: Some(place), ..self.clone() }
    }

    /// A fault there.
    pub fn fault(&self, code: &str, message: impl Into<String>) -> Fault {
        Fault {
            code: code.to_owned(),
            program: self.program.clone(),
            block: self.block,
            x_mm: self.place.map(|p| p[0]),
            y_mm: self.place.map(|p| p[1]),
            message: message.into(),
        }
    }
}
