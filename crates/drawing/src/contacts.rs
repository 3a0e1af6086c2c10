//! Where entities lie on each other: stretches along which two run together, and ends on the middle of another entity.

use crate::boxes::{around, meeting_pairs};
use crate::path::Path;
use crate::work::{Tangled, Work};
use outline::{Point, Segment};
use std::collections::{BTreeMap, BTreeSet};

/// Stretches this far apart at most run together, mm; less when the join limit is less. A drawing that rounds to a micrometre moves no
/// point farther.
const TOGETHER: f64 = 0.001;
/// Stretches up to this many join limits long are the joint itself.
const STRETCH: f64 = 2.0;

/// What lies on what.
#[derive(Debug, Default)]
pub(crate) struct Contacts {
    /// Pairs of paths that run together, and where.
    pub(crate) overlaps: Vec<(usize, usize, Point)>,
    /// For an end (as in `Joints`) the path on whose middle it lies.
    pub(crate) on_middle: BTreeMap<usize, usize>,
}

struct Piece {
    path: usize,
    segment: Segment,
    /// Ends of the path that are ends of this segment.
    ends: [Option<usize>; 2],
}

impl Contacts {
    /// Looks at all paths.
    ///
    /// # Errors
    /// When the drawing has cost too much work.
    pub(crate) fn new(paths: &[Path], limit: f64, work: &mut Work) -> Result<Contacts, Tangled> {
        let pieces: Vec<Piece> = paths.iter().enumerate().flat_map(|(i, path)| pieces(i, path)).collect();
        let boxes: Vec<_> = pieces.iter().map(|piece| around(&piece.segment, limit)).collect();
        let mut contacts = Contacts::default();
        let mut known = BTreeSet::new();
        meeting_pairs(&boxes, work, |i, j, work| {
            let (a, b) = (&pieces[i], &pieces[j]);
            if a.path == b.path {
                return Ok(());
            }
            // Each test asks for a dozen nearest points.
            work.spend(12)?;
            contacts.note_ends(a, b, paths, limit);
            contacts.note_ends(b, a, paths, limit);
            let pair = (a.path.min(b.path), a.path.max(b.path));
            if !known.contains(&pair)
                && let Some(place) = together(&a.segment, &b.segment, limit)
            {
                known.insert(pair);
                contacts.overlaps.push((pair.0, pair.1, place));
            }
            Ok(())
        })?;
        contacts.overlaps.sort_by_key(|&(a, b, _)| (a, b));
        Ok(contacts)
    }

    fn note_ends(&mut self, a: &Piece, b: &Piece, paths: &[Path], limit: f64) {
        let other = &paths[b.path];
        for (end, place) in a.ends.into_iter().zip([a.segment.from, a.segment.to]) {
            let at_an_end =
                !other.closed && place.distance(other.first()).min(place.distance(other.last())) <= limit;
            if let Some(end) = end
                && !at_an_end
                && b.segment.distance(place) <= limit
            {
                let on = self.on_middle.entry(end).or_insert(b.path);
                *on = b.path.min(*on);
            }
        }
    }
}

fn pieces(number: usize, path: &Path) -> impl Iterator<Item = Piece> {
    let last = path.vertices.len().saturating_sub(2);
    path.segments().enumerate().map(move |(i, segment)| Piece {
        path: number,
        segment,
        ends: [
            (!path.closed && i == 0).then_some(2 * number),
            (!path.closed && i == last).then_some(2 * number + 1),
        ],
    })
}

/// The middle of the stretch along which two segments run together, if they do. Its ends are ends of one segment that lie on the other.
fn together(a: &Segment, b: &Segment, limit: f64) -> Option<Point> {
    let near = TOGETHER.min(limit);
    let on_a = [a.from, a.to].into_iter().filter(|p| b.distance(*p) <= near).map(|p| a.nearest(p).1);
    let from_b = [b.from, b.to].into_iter().filter(|p| a.distance(*p) <= near).map(|p| a.nearest(p).1);
    let shares: Vec<f64> = on_a.chain(from_b).collect();
    let least = shares.iter().copied().fold(f64::INFINITY, f64::min);
    let most = shares.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if (most - least) * a.length() <= STRETCH * limit {
        return None;
    }
    let middle = a.at((least + most) / 2.0);
    (b.distance(middle) <= near).then_some(middle)
}
