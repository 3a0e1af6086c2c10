//! Metric threads of the facts.

use crate::facts::{Sourced, sourced};
use crate::known::Known;
use remark::Remark;
use serde::Deserialize;

/// A metric thread of coarse pitch. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// Its name, as jobs write it: `M3`.
    pub name: String,
    /// Nominal diameter: what the name says.
    pub diameter: f64,
    /// Pitch.
    pub pitch: Known<f64>,
    /// Diameter of the hole that its screw passes through freely.
    pub clear: Known<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rows {
    thread: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    diameter: f64,
    pitch: Sourced<f64>,
    clear: Sourced<f64>,
}

impl Rows {
    /// The threads, finest first, each value with its source.
    pub fn threads(self, faults: &mut Vec<Remark>) -> Vec<Thread> {
        let thread = |row: Row| Thread {
            pitch: sourced(row.pitch, format!("thread.{}.pitch", row.name), faults),
            clear: sourced(row.clear, format!("thread.{}.clear", row.name), faults),
            diameter: row.diameter,
            name: row.name,
        };
        self.thread.into_iter().map(thread).collect()
    }
}
