//! A table at arm's length: a row of figures, and a line of words below each.

use crate::column::{FIGURE, LEAST, SMALL};
use crate::letters::fit;
use crate::{End, Item, LineKind, Path, Text};

/// Height of a row, mm.
const ROW: f64 = 16.0;
/// Height of the heads, mm.
const HEADS: f64 = 5.0;
/// Between columns, mm.
const GAP: f64 = 3.0;

/// A row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// A figure a column.
    pub figures: Vec<String>,
    /// What is said below.
    pub words: String,
}

/// Height of a table of so many rows, mm.
pub fn height(rows: usize) -> f64 {
    HEADS + ROW * rows as f64
}

/// Sets a table into a box; heads with the widths of their columns, mm.
pub fn set(page: &mut Vec<Item>, heads: &[(f64, &str)], rows: &[Row], [x0, _, x1, y1]: [f64; 4]) {
    let mut text = |x: f64, y: f64, wide: f64, words: &str, size: f64| {
        let fitted = fit(words, wide, size, LEAST, 1);
        page.push(Item::Text(Text {
            at: [x, y],
            from: End::Left,
            size_mm: fitted.size,
            words: fitted.lines.concat(),
        }));
    };
    let mut x = x0;
    for (wide, head) in heads {
        text(x, y1 - HEADS + 0.8, wide - GAP, head, SMALL);
        x += wide;
    }
    for (i, row) in rows.iter().enumerate() {
        let top = y1 - HEADS - ROW * i as f64;
        let mut x = x0;
        for ((wide, _), figure) in heads.iter().zip(&row.figures) {
            text(x, top - 1.4 - FIGURE, wide - GAP, figure, FIGURE);
            x += wide;
        }
        text(x0, top - ROW + 1.5, x1 - x0, &row.words, SMALL);
    }
    for i in 0..rows.len() {
        let y = y1 - HEADS - ROW * i as f64;
        page.push(Item::Stroke(LineKind::Plain, Path::open(&[[x0, y], [x1, y]])));
    }
}
