//! Hand-made plans through the drawing model and the SVG writer.

mod apart;
mod burned;
mod drawn;
mod kit;
mod snapshots;
