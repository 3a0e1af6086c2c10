//! Pairs of boxes that come near each other, by a sweep along the axis on which they overlap least.

use crate::work::{Tangled, Work};
use outline::{Bounds, Point, Segment};

/// A box around a segment, with a margin. An arc lies within its sagitta of its chord.
pub(crate) fn around(segment: &Segment, margin: f64) -> Bounds {
    let Segment { from, to, bulge } = *segment;
    let reach = margin + from.distance(to) / 2.0 * bulge.abs();
    Bounds {
        min: Point::new(from.x.min(to.x) - reach, from.y.min(to.y) - reach),
        max: Point::new(from.x.max(to.x) + reach, from.y.max(to.y) + reach),
    }
}

/// Calls `visit` for every pair of boxes that meet, lower number first.
///
/// # Errors
/// When the drawing has cost too much work, here or in `visit`.
pub(crate) fn meeting_pairs(
    boxes: &[Bounds],
    work: &mut Work,
    mut visit: impl FnMut(usize, usize, &mut Work) -> Result<(), Tangled>,
) -> Result<(), Tangled> {
    let x = |b: &Bounds| [b.min.x, b.max.x];
    let y = |b: &Bounds| [b.min.y, b.max.y];
    let (along, across): (Span, Span) =
        if crowding(boxes, x) <= crowding(boxes, y) { (x, y) } else { (y, x) };
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|&a, &b| along(&boxes[a])[0].total_cmp(&along(&boxes[b])[0]));
    for (at, &a) in order.iter().enumerate() {
        let [_, end] = along(&boxes[a]);
        let [low, high] = across(&boxes[a]);
        for &b in order[at + 1..].iter().take_while(|&&b| along(&boxes[b])[0] <= end) {
            work.spend(1)?;
            let [other_low, other_high] = across(&boxes[b]);
            if low <= other_high && other_low <= high {
                visit(a.min(b), a.max(b), work)?;
            }
        }
    }
    Ok(())
}

/// What a box covers along an axis.
type Span = fn(&Bounds) -> [f64; 2];

/// How much the boxes overlap along an axis: the sum of their lengths over the length of all.
fn crowding(boxes: &[Bounds], span: Span) -> f64 {
    let whole = boxes.iter().fold(Bounds::EMPTY, |all, b| all.union(*b));
    let [low, high] = span(&whole);
    boxes.iter().map(|b| span(b)[1] - span(b)[0]).sum::<f64>() / (high - low)
}
