//! Reads ASCII DXF drawings, R12 to R2018, into raw entities with the lines they stand on. Nothing is joined, fitted or converted.
//!
//! Only lines, arcs, circles, ellipses, splines, flat polylines and inserts of the model space are taken, and of the blocks that it reaches;
//! everything else is skipped and counted. Inserts are not carried out here. A bad entity is an error remark by line and does not hide the
//! good ones. A file that cannot be trusted as a whole is refused.
//!
//! | code | severity | about |
//! |---|---|---|
//! | `file-too-large`, `too-many-entities`, `too-many-vertices` | refusal | beyond [`Limits`] |
//! | `file-empty`, `binary-dxf`, `dwg-file`, `utf16-text`, `not-dxf`, `no-entities` | refusal | not an ASCII DXF drawing |
//! | `unit-unknown` | refusal | `$INSUNITS` holds a code that stands for no length unit |
//! | `group-code-bad`, `group-missing`, `number-bad`, `number-absurd` | error | an entity that cannot be read |
//! | `radius-bad`, `ellipse-bad`, `spline-bad`, `scale-bad`, `extrusion-bad`, `polyline-short`, `polyline-unended`, `vertex-alone` | error | an entity that makes no sense |
//! | `block-twice` | error | two blocks of one name |
//! | `faults-many` | error | more bad entities than are listed one by one |
//! | `truncated` | warning | no end-of-file mark |
//! | `geometry-skipped` | warning | entities that could be geometry were passed over |
//! | `extrusion-tilted`, `line-tilted`, `spline-tilted` | warning | an entity outside the drawing plane was passed over |
//! | `polyline-count`, `polyline-fitted` | warning | a polyline to look at before use |
//! | `layer-hidden`, `entity-hidden`, `paper-space` | note | what a person may not see on the screen, or this reader passed over |

mod block;
mod budget;
mod entity;
mod fault;
mod group;
mod ins_units;
mod layers;
mod limits;
mod number;
mod reader;
mod refusal;
mod said;
mod shape;
mod space;
mod spline;

pub use block::{Block, Insert};
pub use entity::{Dxf, Entity, Shape};
pub use ins_units::InsUnits;
pub use limits::Limits;
pub use reader::read;
pub use spline::Spline;
