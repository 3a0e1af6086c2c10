//! A part of the paper through which the section is seen at one round scale.

use crate::ink::Ink;
use crate::{Item, Path, View};

/// Round steps, largest first: millimetres of paper for one real millimetre.
pub const SCALES: [f64; 16] =
    [1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01];

/// A window on paper and what lies behind it.
#[derive(Debug, Clone, Copy)]
pub struct Window {
    /// x0, y0, x1, y1 on paper, mm.
    pub paper: [f64; 4],
    /// Millimetres of paper for one real millimetre.
    pub scale: f64,
    /// The real place in the middle of the window.
    pub middle: [f64; 2],
}

impl Window {
    /// Shows the bounds at the largest round scale that leaves `margin` of paper around them.
    pub fn around(paper: [f64; 4], bounds: [f64; 4], margin: f64) -> Self {
        let [wide, high] = [paper[2] - paper[0] - 2.0 * margin, paper[3] - paper[1] - 2.0 * margin];
        let (w, h) = (bounds[2] - bounds[0], bounds[3] - bounds[1]);
        let scale =
            SCALES.into_iter().find(|s| w * s <= wide && h * s <= high).unwrap_or(SCALES[SCALES.len() - 1]);
        let middle = [(bounds[0] + bounds[2]) / 2.0, (bounds[1] + bounds[3]) / 2.0];
        Self { paper, scale, middle }
    }

    /// What is seen, in real millimetres.
    pub fn seen(&self) -> [f64; 4] {
        let [x0, y0, x1, y1] = self.paper;
        let (w, h) = ((x1 - x0) / 2.0 / self.scale, (y1 - y0) / 2.0 / self.scale);
        [self.middle[0] - w, self.middle[1] - h, self.middle[0] + w, self.middle[1] + h]
    }

    /// Where a real place lies on paper.
    pub fn on_paper(&self, p: [f64; 2]) -> [f64; 2] {
        let o = self.origin();
        [o[0] + p[0] * self.scale, o[1] + p[1] * self.scale]
    }

    fn origin(&self) -> [f64; 2] {
        let [x0, y0, x1, y1] = self.paper;
        [(x0 + x1) / 2.0 - self.middle[0] * self.scale, (y0 + y1) / 2.0 - self.middle[1] * self.scale]
    }

    /// Ink for this window.
    pub fn ink(&self) -> Ink {
        Ink::new(self.scale, self.seen())
    }

    /// The view with what was drawn.
    pub fn view(&self, name: String, items: Vec<Item>) -> View {
        View { name, scale: self.scale, origin_mm: self.origin(), window_mm: Some(self.paper), items }
    }
}

/// A scale bar of a round length, 8 to 25 mm of paper, with its length and the scale beside it.
pub fn scale_bar(scale: f64) -> (f64, String) {
    let length = SCALES.into_iter().rev().find(|l| (8.0..=25.0).contains(&(l * scale)));
    let length = length.unwrap_or(10.0 / scale);
    let ratio = if scale >= 1.0 { format!("{scale}:1") } else { format!("1:{}", (1.0 / scale).round()) };
    (length * scale, format!("{length} mm   {ratio}"))
}

/// A black corner of the block: the datum corner.
pub fn datum_corner(x: f64, y: f64, side: f64) -> Item {
    Item::Fill(Path::polygon(&[[x, y], [x + side, y], [x, y + side]]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_round_scale_that_fits_is_taken_and_the_middle_lies_in_the_middle() {
        let window = Window::around([10.0, 10.0, 110.0, 60.0], [-1.6, -0.2, 1.6, 0.2], 5.0);
        assert_eq!(window.scale, 20.0);
        assert_eq!(window.on_paper([0.0, 0.0]), [60.0, 35.0]);
        let [x0, y0, x1, y1] = window.seen();
        assert_eq!([x0, y0, x1, y1], [-2.5, -1.25, 2.5, 1.25]);
    }

    #[test]
    fn every_scale_has_a_scale_bar_of_a_round_length() {
        for scale in SCALES {
            let (long, words) = scale_bar(scale);
            assert!((8.0..=25.0).contains(&long), "{scale} {long} {words}");
        }
    }
}
