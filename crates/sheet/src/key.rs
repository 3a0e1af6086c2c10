//! The key: every mark that a page uses, with a sample and what it means.

use crate::hole::facing_bars;
use crate::letters::fit;
use crate::window::datum_corner;
use crate::{End, Item, LineKind, Path, Text, cores, corner, fastening, narrowest, peak, stock, tab, wire};

/// A mark that a reader may have to look up, in the order of the key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// What the part has.
    PrintEdge,
    /// The edge of the section.
    FinishedEdge,
    /// The edge of the punch.
    Punch,
    /// The start hole.
    StartHole,
    /// Where the wire stands beside the block, where there is no hole.
    Stands,
    /// Where its rim may lie.
    MayLie,
    /// Rim to edge.
    Room,
    /// Rim beyond the edge.
    Short,
    /// The wire's centre.
    WireCentre,
    /// Metal that the wire burns away.
    Kerf,
    /// Metal that falls.
    Core,
    /// Metal that is held.
    HeldCore,
    /// Metal that holds a core.
    Tab,
    /// From the hole to the edge.
    LeadIn,
    /// From beside the block to the edge.
    WayIn,
    /// Metal left in a corner.
    MissedCorner,
    /// Where the opening is narrowest.
    Narrowest,
    /// Where the greatest tension is.
    Peak,
    /// Stock left on a face for grinding.
    GroundStock,
    /// A thread that fastens the section.
    Thread,
    /// A dowel.
    Dowel,
    /// Straight cutting height.
    Land,
    /// Widening below it.
    Relief,
    /// The joint of two halves.
    Joint,
    /// The corner that everything is measured from.
    DatumCorner,
}

impl Mark {
    fn words(self) -> &'static str {
        match self {
            Self::PrintEdge => "print edge",
            Self::FinishedEdge => "finished edge",
            Self::Punch => "punch",
            Self::StartHole => "start hole",
            Self::Stands => "wire starts, no hole",
            Self::MayLie => "rim may lie, 95 %",
            Self::Room => "room left at edge",
            Self::Short => "SHORT: rim over edge",
            Self::WireCentre => "wire, n ticks: pass n",
            Self::Kerf => "kerf, burned away",
            Self::Core => "core, loose",
            Self::HeldCore => "core, held",
            Self::Tab => "tab, cut last: STAY",
            Self::LeadIn => "lead-in, ring: thread",
            Self::WayIn => "way into the block",
            Self::MissedCorner => "corner left, depth",
            Self::Narrowest => "narrowest place",
            Self::Peak => "greatest tension",
            Self::GroundStock => "stock to grind off",
            Self::Thread => "thread, made SOFT",
            Self::Dowel => "dowel, made SOFT",
            Self::Land => "land",
            Self::Relief => "relief",
            Self::Joint => "joint of two halves",
            Self::DatumCorner => "datum corner",
        }
    }

    /// A sample 12 mm long, its middle at a height.
    fn sample(self, items: &mut Vec<Item>, x: f64, y: f64) {
        let line = |kind| Item::Stroke(kind, Path::open(&[[x, y], [x + 12.0, y]]));
        match self {
            Self::PrintEdge => {
                // One and a half periods of its dashes, so that both dots of it are seen.
                items.push(Item::Stroke(LineKind::PrintEdge, Path::open(&[[x, y], [x + 13.5, y]])));
            }
            Self::FinishedEdge => items.push(line(LineKind::FinishedEdge)),
            Self::Punch => items.push(line(LineKind::Punch)),
            Self::StartHole | Self::Stands => {
                if self == Self::StartHole {
                    items.push(Item::Stroke(LineKind::StartHole, Path::circle(x + 6.0, y, 1.0)));
                }
                for (dx, dy) in [(1.8, 0.0), (0.0, 1.8)] {
                    let cross = [[x + 6.0 - dx, y - dy], [x + 6.0 + dx, y + dy]];
                    items.push(Item::Stroke(LineKind::StartHole, Path::open(&cross)));
                }
            }
            Self::MayLie => items.push(line(LineKind::MayLie)),
            Self::Room | Self::Short => {
                facing_bars(items, [x + 4.0, y], [x + 8.0, y], 1.5, self == Self::Short);
            }
            Self::WireCentre => {
                items.push(Item::Stroke(LineKind::WireCentre, Path::open(&[[x, y], [x + 9.5, y]])));
                let dashes = wire::ticks(&[[x, y], [x + 9.5, y]], 1.0, 2);
                items.extend(dashes.into_iter().map(|t| Item::Stroke(LineKind::Tick, Path::open(&t))));
            }
            Self::Kerf => {
                let dots = (0..20).map(|i| [x + 0.6 * f64::from(i), y + if i % 2 == 0 { 0.5 } else { -0.5 }]);
                items.push(Item::Dots(dots.collect()));
            }
            Self::Core | Self::HeldCore => {
                let frame = Path::rectangle(x + 2.0, y - 1.8, x + 10.0, y + 1.8);
                items.push(Item::Stroke(LineKind::Core, frame));
                cores::triangle(items, [x + 6.0, y - 0.3], 1.1, self == Self::HeldCore);
            }
            Self::Tab => {
                tab::bracket(items, [[x + 3.0, y - 1.6], [x + 3.0, y + 1.6]], [-1.2, 0.0]);
                tab::bracket(items, [[x + 9.0, y - 1.6], [x + 9.0, y + 1.6]], [1.2, 0.0]);
            }
            Self::LeadIn | Self::WayIn => {
                if self == Self::LeadIn {
                    items.push(Item::Stroke(LineKind::LeadIn, Path::circle(x + 1.5, y, 0.8)));
                }
                items.push(line(LineKind::LeadIn));
                wire::half_arrow(items, [x, y], [x + 12.0, y], 1.0);
            }
            Self::MissedCorner => corner::flag(items, [x + 4.0, y - 1.2], [1.0, 1.0], 0.6),
            Self::Narrowest => {
                narrowest::bar(items, [x + 4.5, y], [-1.0, 0.0], 0.7);
                narrowest::bar(items, [x + 7.5, y], [1.0, 0.0], 0.7);
            }
            Self::Peak => peak::diamond(items, [x + 6.0, y], 1.7),
            Self::GroundStock => {
                stock::comb(items, [[x, y - 1.5], [x + 12.0, y - 1.5]], [0.0, 3.0], 3.0);
            }
            Self::Thread => fastening::thread(items, [x + 6.0, y], [1.1, 1.7]),
            Self::Dowel => fastening::dowel(items, [x + 6.0, y], 1.5),
            Self::Land => {
                for i in 0..5 {
                    let at = x + 3.0 + 1.5 * f64::from(i);
                    items.push(Item::Stroke(LineKind::Land, Path::open(&[[at, y - 1.7], [at, y + 1.7]])));
                }
            }
            Self::Relief => {
                for i in 0..5 {
                    let at = x + 3.0 + 1.5 * f64::from(i);
                    items.push(Item::Stroke(
                        LineKind::Relief,
                        Path::open(&[[at, y + 1.7], [at + 0.9, y - 1.7]]),
                    ));
                }
            }
            Self::Joint => items.push(line(LineKind::Joint)),
            Self::DatumCorner => items.push(datum_corner(x + 4.0, y - 1.6, 3.2)),
        }
    }
}

/// Between rows of the key, mm.
const ROW: f64 = 4.6;

/// Height that the key of some marks takes in one column, mm.
pub fn height(marks: &[Mark]) -> f64 {
    let mut marks = marks.to_vec();
    marks.sort();
    marks.dedup();
    ROW * marks.len() as f64
}

/// Sets the key of some marks into a box on the page, in so many columns.
pub fn set(page: &mut Vec<Item>, marks: &[Mark], [x0, _, x1, y1]: [f64; 4], columns: usize) {
    let mut marks = marks.to_vec();
    marks.sort();
    marks.dedup();
    let wide = (x1 - x0) / columns as f64;
    for (i, mark) in marks.into_iter().enumerate() {
        let x = x0 + wide * (i % columns) as f64;
        let y = y1 - ROW * ((i / columns) as f64 + 0.5);
        mark.sample(page, x + 1.0, y);
        let fitted = fit(mark.words(), wide - 18.0, 2.5, 1.8, 1);
        page.push(Item::Text(Text {
            at: [x + 16.5, y - fitted.size / 2.0],
            from: End::Left,
            size_mm: fitted.size,
            words: fitted.lines.concat(),
        }));
    }
}
