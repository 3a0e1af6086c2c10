//! A column of lines in a box: they shrink together until all fit, and never leave the box.

use crate::letters::{Fitted, LEADING, fit};
use crate::{End, Item, Text};

/// Figures that an operator reads at arm's length, mm.
pub const FIGURE: f64 = 7.0;
/// Words that an operator reads at arm's length, mm.
pub const WORD: f64 = 5.0;
/// What is read from close by, mm.
pub const SMALL: f64 = 3.5;
/// The smallest capital on a sheet, mm.
pub const LEAST: f64 = 2.0;

/// A line of a column: height of a capital in mm, and the words.
pub type Line = (f64, String);

/// Sets lines into a box from its top; gives back the height used. What finds no place even at the smallest size is
/// counted in a last line.
pub fn set(page: &mut Vec<Item>, lines: &[Line], [x0, y0, x1, y1]: [f64; 4]) -> f64 {
    let (wide, high) = (x1 - x0, y1 - y0);
    let shrinks = [1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.45];
    let sets = shrinks.map(|shrink| lines.iter().map(|l| fitted(l, wide, shrink)).collect::<Vec<_>>());
    let set = sets.iter().find(|s| height(s) <= high).unwrap_or(&sets[shrinks.len() - 1]);
    let set = shortened(set, wide, high);
    let mut y = y1;
    for Fitted { size, lines } in &set {
        for words in lines {
            y -= size * LEADING;
            page.push(Item::Text(Text {
                at: [x0, y],
                from: End::Left,
                size_mm: *size,
                words: words.clone(),
            }));
        }
        y -= size * 0.1;
    }
    y1 - y
}

/// As many lines as fit, and how many do not.
fn shortened(set: &[Fitted], wide: f64, high: f64) -> Vec<Fitted> {
    if height(set) <= high {
        return set.to_vec();
    }
    let kept = (0..set.len()).rev().find(|k| height(&set[..*k]) + LEAST * 2.0 <= high).unwrap_or(0);
    let more = format!("and {} lines more in plan.json", set.len() - kept);
    let mut short = set[..kept].to_vec();
    short.push(fit(&more, wide, LEAST, LEAST / 2.0, 1));
    short
}

fn fitted((size, words): &Line, wide: f64, shrink: f64) -> Fitted {
    let small = *size <= SMALL;
    let size = (size * shrink).max(LEAST);
    // Figures and names rather shrink than break; sentences rather break.
    let least = if small { size } else { (size * 0.75).max(LEAST) };
    fit(words, wide, size, least, 4)
}

fn height(set: &[Fitted]) -> f64 {
    // The last baseline leaves room for what hangs below it.
    set.iter().map(|f| f.size * (LEADING * f.lines.len() as f64 + 0.1)).sum::<f64>() + 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(items: &[Item]) -> Vec<&Text> {
        items.iter().filter_map(|i| if let Item::Text(t) = i { Some(t) } else { None }).collect()
    }

    #[test]
    fn few_lines_keep_their_size_and_many_stay_in_the_box_and_say_how_many_are_missing() {
        for count in [1, 4, 12, 40, 400] {
            let lines: Vec<Line> = (0..count).map(|i| (FIGURE, format!("D{i} +0.1095"))).collect();
            let mut page = Vec::new();
            let used = set(&mut page, &lines, [10.0, 20.0, 100.0, 120.0]);
            assert!(used <= 100.0);
            let texts = texts(&page);
            assert!(texts.iter().all(|t| t.at[1] >= 20.0 && t.at[1] + t.size_mm <= 120.0));
            match count {
                1 | 4 => assert!(texts.iter().all(|t| t.size_mm == FIGURE)),
                400 => {
                    let shown = texts.len() - 1;
                    assert_eq!(texts[shown].words, format!("and {} lines more in plan.json", 400 - shown));
                }
                _ => {}
            }
        }
    }
}
