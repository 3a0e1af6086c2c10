//! Entities of a drawing to closed outlines: units, inserts, arcs for curves, joining of loose ends, closing up, and what is wrong with the
//! rest.
//!
//! Nothing is guessed away: whatever is not one clear closed outline is a remark with its line and its place in mm, and does not hide the
//! outlines that are good.
//!
//! | code | severity | about |
//! |---|---|---|
//! | `units-assumed`, `units-overridden` | warning | which unit was taken |
//! | `units-converted` | note | a unit other than mm and inch was converted |
//! | `join-limit-bad` | error | the join limit is no length |
//! | `zero-length`, `duplicate`, `duplicate-outline` | warning | dropped |
//! | `arc-without-sweep` | error | an arc or ellipse that ends where it begins |
//! | `block-missing`, `block-outside`, `block-in-itself`, `insert-too-deep`, `insert-too-many` | error | an insert that cannot be carried out |
//! | `number-absurd`, `curve-too-winding` | error | a curve, or an entity in an insert, that cannot be followed |
//! | `curves-fitted`, `facets-fitted` | note | what became arcs, and how near they are |
//! | `facets-coarse` | note | chords too far from their arc to be taken for it |
//! | `spline-by-points` | warning | a spline that leaves open how it runs between its points |
//! | `overlap` | error | two entities run along each other for a stretch |
//! | `branch` | error | more than two ends at a point |
//! | `t-joint` | error | an end on the middle of another entity |
//! | `open-chain` | error | a chain that does not close |
//! | `outline-crosses-itself`, `outline-touches-itself`, `outline-no-area`, `outline-not-closed-up`, `outline-unusable` | error | a closed chain that is no valid outline |
//! | `outlines-meet` | error | two outlines that cross or touch |
//! | `drawing-tangled` | error | too much lies at the same place to be told apart in reasonable time |

mod boxes;
mod cells;
mod chain;
mod contacts;
mod curves;
mod fitted;
mod inserts;
mod joints;
mod map;
mod meet;
mod open;
mod outlines;
mod path;
mod ring;
mod twins;
mod units;
mod work;

pub use fitted::FittedCurve;
pub use outlines::{Drawing, DrawnOutline, Options, outlines};
pub use path::Curve;
pub use units::{Units, UnitsFrom};
