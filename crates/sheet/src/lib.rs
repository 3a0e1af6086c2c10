//! One neutral drawing model of a section, and the writer that turns it into SVG.
//!
//! Only ink carries meaning: black on white, widths in millimetres of paper that never zoom.

mod mark;
mod model;
mod section;
mod svg;

pub use model::{Item, LineKind, Path, Sheet, View};
pub use section::section_sheet;
