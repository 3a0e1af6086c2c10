//! Notes beside a window, left and right of it, each with a leader to its place; they keep apart whatever their number.

use crate::ink::Note;
use crate::letters::fit;
use crate::window::Window;
use crate::{End, Item, LineKind, Path, Text};

const SIZE: f64 = 3.5;
const LEAST: f64 = 2.0;
const PITCH: f64 = 6.0;
/// Between the window and the words: here the leaders run.
const LANE: f64 = 5.0;

/// Sets the notes, first come first served, in gutters `wide` broad; gives back how many found no place.
pub fn set(page: &mut Vec<Item>, notes: &[Note], window: &Window, wide: f64) -> usize {
    let [x0, y0, x1, y1] = window.paper;
    let most = ((y1 - y0) / PITCH).floor() as usize;
    let mut sides: [Vec<([f64; 2], &str)>; 2] = [Vec::new(), Vec::new()];
    let mut left_out = 0;
    for note in notes {
        let at = window.on_paper(note.at);
        let near = usize::from(at[0] > (x0 + x1) / 2.0);
        match [near, 1 - near].into_iter().find(|s| sides[*s].len() < most) {
            Some(side) => sides[side].push((at, &note.words)),
            None => left_out += 1,
        }
    }
    for (side, mut notes) in sides.into_iter().enumerate() {
        notes.sort_by(|a, b| b.0[1].total_cmp(&a.0[1]));
        let heights =
            apart(&notes.iter().map(|n| n.0[1]).collect::<Vec<_>>(), y0 + PITCH / 2.0, y1 - PITCH / 2.0);
        for ((at, words), y) in notes.into_iter().zip(heights) {
            let out = if side == 0 { -1.0 } else { 1.0 };
            let edge = if side == 0 { x0 } else { x1 };
            one(page, at, words, [edge + out * LANE, y], out, wide - LANE);
        }
    }
    left_out
}

/// Heights from top to bottom, as near as may be to the wished ones, a pitch apart and within the limits.
fn apart(wished: &[f64], low: f64, high: f64) -> Vec<f64> {
    let mut heights = wished.to_vec();
    let mut ceiling = high;
    for y in &mut heights {
        *y = y.min(ceiling);
        ceiling = *y - PITCH;
    }
    let mut floor = low;
    for y in heights.iter_mut().rev() {
        *y = y.max(floor);
        floor = *y + PITCH;
    }
    heights
}

fn one(page: &mut Vec<Item>, at: [f64; 2], words: &str, [x, y]: [f64; 2], out: f64, wide: f64) {
    let fitted = fit(words, wide - 1.0, SIZE, LEAST, 1);
    let text = Text {
        at: [x + out, y - fitted.size / 2.0],
        from: if out < 0.0 { End::Right } else { End::Left },
        size_mm: fitted.size,
        words: fitted.lines.concat(),
    };
    page.push(Item::Stroke(LineKind::Plain, Path::open(&[[x, y], [x - out * LANE * 0.6, y], at])));
    page.push(Item::Fill(Path::circle(at[0], at[1], 0.45)));
    page.push(Item::Text(text));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_keep_apart_and_inside() {
        for wished in [vec![], vec![5.0], vec![50.0, 49.0, 48.0], vec![3.0, 2.0, 1.0], vec![0.0; 9]] {
            let set = apart(&wished, 3.0, 57.0);
            assert!(set.iter().all(|y| (3.0 - 1e-9..=57.0 + 1e-9).contains(y)), "{set:?}");
            assert!(set.windows(2).all(|w| w[0] - w[1] >= PITCH - 1e-9), "{set:?}");
        }
    }
}
