//! One neutral drawing model of a section, and the writer that turns it into SVG.
//!
//! Only ink carries meaning: black on white, widths in millimetres of paper that never zoom.

mod block;
mod callout;
mod chart;
mod column;
mod cores;
mod corner;
mod fastening;
mod figure;
mod figures;
mod foot;
mod hole;
mod holes;
mod ink;
mod joint;
mod kerf;
mod key;
mod letters;
mod line;
mod model;
mod narrowest;
mod opening;
mod page;
mod peak;
mod place;
mod punch;
mod section;
mod shape;
mod side;
mod stock;
mod svg;
mod tab;
mod table;
mod window;
mod wire;

pub use line::LineKind;
pub use model::{End, Item, Path, Sheet, Text, View};
pub use section::section_sheet;
