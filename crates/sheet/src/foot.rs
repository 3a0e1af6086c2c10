//! The strip below a view: scale bar, the face that is up, and the datum corner.

use crate::block::Lies;
use crate::letters::{LEADING, fit};
use crate::window::{Window, scale_bar};
use crate::{End, Item, LineKind, Path, Text, figure};
use package::{FaceUp, PlanSection};

/// Height of the strip, mm.
pub const HEIGHT: f64 = 8.0;
/// For the scale bar and its words, mm.
const WORDS: f64 = 62.0;

/// Sets the strip below a window, from `x0` to `x1`: what is said, and how the block lies.
pub fn set(page: &mut Vec<Item>, window: &Window, [x0, x1]: [f64; 2], (words, lies): (&str, Lies)) {
    let y = bar(page, window, x0);
    let icon = [x0 + WORDS + 2.0, y - 2.0];
    page.push(Item::Stroke(LineKind::Plain, Path::rectangle(icon[0], icon[1], icon[0] + 6.0, icon[1] + 4.0)));
    page.push(lies.datum_corner([icon[0], icon[0] + 6.0], icon[1], 2.2));
    one(page, [x0 + WORDS + 10.0, y], words, x1 - x0 - WORDS - 10.0, 3.5);
}

/// A strip for a view that goes to no machine: scale bar and words, as wide as the window.
pub fn plain(page: &mut Vec<Item>, window: &Window, words: &str) {
    let [x0, _, x1, _] = window.paper;
    let y = bar(page, window, x0);
    one(page, [x0 + WORDS + 2.0, y], words, x1 - x0 - WORDS - 2.0, 3.5);
}

/// Draws the scale bar from `x0`; gives back the height of its line.
fn bar(page: &mut Vec<Item>, window: &Window, x0: f64) -> f64 {
    let (long, words) = scale_bar(window.scale);
    let y = window.paper[1] - HEIGHT * 0.6;
    page.push(Item::Stroke(LineKind::LeadIn, Path::open(&[[x0, y], [x0 + long, y]])));
    for end in [x0, x0 + long] {
        page.push(Item::Stroke(LineKind::LeadIn, Path::open(&[[end, y - 1.0], [end, y + 1.0]])));
    }
    one(page, [x0 + long + 2.0, y], &words, WORDS - long - 2.0, 3.5);
    y
}

/// One line, its middle at a height; two lines where it is too long for one.
fn one(page: &mut Vec<Item>, [x, y]: [f64; 2], words: &str, wide: f64, size: f64) {
    let fitted = fit(words, wide, size, 2.3, 2);
    let down = fitted.size * LEADING;
    let mut baseline = y - fitted.size / 2.0 + down / 2.0 * (fitted.lines.len() - 1) as f64;
    for words in fitted.lines {
        page.push(Item::Text(Text { at: [x, baseline], from: End::Left, size_mm: fitted.size, words }));
        baseline -= down;
    }
}

/// Which face is up, and where the datum corner lies: for the programs that cut the contour, or for all.
pub fn face(section: &PlanSection, contour: Option<&str>) -> String {
    let programs: Vec<_> = section
        .programs
        .iter()
        .filter(|p| contour.is_none_or(|c| p.contours.iter().any(|id| id == c)))
        .collect();
    let back: Vec<&str> =
        programs.iter().filter(|p| p.face_up == FaceUp::Back).map(|p| p.id.as_str()).collect();
    let up = match (programs.is_empty(), back.is_empty()) {
        (true, _) => "seen on the cutting face".to_string(),
        (false, true) => "cutting face up".to_string(),
        (false, false) if back.len() == programs.len() => "BACK UP; drawn cutting face up".to_string(),
        (false, false) => format!("cutting face up, but BACK UP in {}", back.join(", ")),
    };
    let [x, y] = section.block_mm();
    format!("{up}; datum corner X {} Y {}", corner(x), corner(y))
}

fn corner(side: f64) -> String {
    figure::size(-side / 2.0, 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_face_is_that_of_the_programs_of_the_opening() {
        let plan: package::Plan = serde_json::from_str(include_str!("../tests/plans/square.json")).unwrap();
        let mut section = plan.sections[0].clone();
        let datum = "datum corner X \u{2212}10 Y \u{2212}7";
        assert_eq!(face(&section, None), format!("cutting face up; {datum}"));
        assert_eq!(face(&section, Some("elsewhere")), format!("seen on the cutting face; {datum}"));
        section.programs[0].face_up = FaceUp::Back;
        assert!(face(&section, Some("window")).starts_with("BACK UP; drawn cutting face up"));
    }
}
