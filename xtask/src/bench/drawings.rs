//! The drawing reader on a drawing of many loose lines and arcs.

use super::Row;
use super::clock::{median, text};
use drawing::{Options, outlines};
use dxf::{Limits, read};
use std::fmt::Write;

/// Slots in the drawing, four loose entities each.
const SLOTS: usize = 5000;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let drawing = slots(SLOTS);
    let limits = Limits::default();
    let raw = read(drawing.as_bytes(), "slots.dxf", &limits).map_err(|r| format!("{r:?}"))?;
    let options = Options { units: None, units_if_unstated: None, join_limit_mm: 0.001 };
    let found = outlines(&raw, &options).outlines.len();
    if found != SLOTS {
        return Err(format!("{SLOTS} slots were drawn and {found} read"));
    }
    let reading = median(5, 1, || read(drawing.as_bytes(), "slots.dxf", &limits));
    let chaining = median(5, 1, || outlines(&raw, &options));
    let megabytes = drawing.len() as f64 / 1e6;
    let row = |what: &str, seconds: f64| {
        let what = format!("{what}, {} loose entities, {megabytes:.1} MB", 4 * SLOTS);
        Row::new(what, format!("{:.0} MB/s", megabytes / seconds), text(seconds))
    };
    Ok(vec![row("read", reading), row("read and chained", reading + chaining)])
}

fn slots(count: usize) -> String {
    let mut text =
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n".to_owned();
    for i in 0..count {
        let (x, y) = (3.0 * (i % 100) as f64, (i / 100) as f64);
        for side in [y, y + 0.5] {
            let end = x + 1.5;
            let _ = write!(text, "0\nLINE\n8\nEDGE\n10\n{x}\n20\n{side}\n11\n{end}\n21\n{side}\n");
        }
        for (at, from, to) in [(x + 1.5, 270, 90), (x, 90, 270)] {
            let middle = y + 0.25;
            let _ = write!(text, "0\nARC\n8\nEDGE\n10\n{at}\n20\n{middle}\n40\n0.25\n50\n{from}\n51\n{to}\n");
        }
    }
    text + "0\nENDSEC\n0\nEOF\n"
}
