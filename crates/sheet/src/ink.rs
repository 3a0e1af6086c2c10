//! What is drawn in one window, together with the marks that the key must explain and the notes that stand beside it.

use crate::key::Mark;
use crate::{Item, LineKind, Path};

/// Words about a place, to be set beside the window with a leader to the place.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// The place, real mm.
    pub at: [f64; 2],
    /// The words, short.
    pub words: String,
}

/// The ink of one window.
#[derive(Debug)]
pub struct Ink {
    /// Millimetres of paper for one real millimetre.
    pub scale: f64,
    /// What is seen, x0, y0, x1, y1 in real mm.
    pub seen: [f64; 4],
    /// What was drawn, in real mm.
    pub items: Vec<Item>,
    /// Marks that were used.
    pub marks: Vec<Mark>,
    /// Notes, the gravest first.
    pub notes: Vec<Note>,
}

impl Ink {
    /// Nothing drawn yet.
    pub fn new(scale: f64, seen: [f64; 4]) -> Self {
        Self { scale, seen, items: Vec::new(), marks: Vec::new(), notes: Vec::new() }
    }

    /// Millimetres of paper as real millimetres.
    pub fn paper(&self, mm: f64) -> f64 {
        mm / self.scale
    }

    /// Whether a place is seen.
    pub fn sees(&self, [x, y]: [f64; 2]) -> bool {
        let [x0, y0, x1, y1] = self.seen;
        (x0..=x1).contains(&x) && (y0..=y1).contains(&y)
    }

    /// Draws a line.
    pub fn stroke(&mut self, kind: LineKind, path: Path) {
        self.items.push(Item::Stroke(kind, path));
    }

    /// The key must explain this mark.
    pub fn mark(&mut self, mark: Mark) {
        if !self.marks.contains(&mark) {
            self.marks.push(mark);
        }
    }

    /// Says something about a place, if it is seen.
    pub fn note(&mut self, at: [f64; 2], words: String) {
        if self.sees(at) {
            self.notes.push(Note { at, words });
        }
    }
}
