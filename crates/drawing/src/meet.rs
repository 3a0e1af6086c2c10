//! How outlines lie to each other: drawn twice, crossing or touching, one inside the other. A sweep finds the pairs, so that a drawing of
//! tens of thousands of outlines takes a second.

use crate::boxes::{around, meeting_pairs};
use crate::cells::Cells;
use crate::work::{Tangled, Work};
use outline::{Outline, Point, Segment};
use std::collections::BTreeMap;

/// Outlines that come this near touch, mm: no metal of that width could be left between them.
const TOUCH: f64 = 1e-6;

/// For each outline the earlier one that it repeats within the limit, mm.
///
/// # Errors
/// When the drawing has cost too much work.
pub(crate) fn repeats(
    outlines: &[&Outline],
    limit: f64,
    work: &mut Work,
) -> Result<Vec<Option<usize>>, Tangled> {
    let mut kept = Cells::new(2.0 * limit);
    let mut repeat_of = vec![None; outlines.len()];
    for (i, outline) in outlines.iter().enumerate() {
        let key = outline.bounds().middle();
        for (other, _) in kept.near(key, usize::MAX, work)? {
            if near_all(outline, outlines[other], limit, work)?
                && near_all(outlines[other], outline, limit, work)?
            {
                repeat_of[i] = Some(other);
                break;
            }
        }
        if repeat_of[i].is_none() {
            kept.put(i, key);
        }
    }
    Ok(repeat_of)
}

/// Whether every vertex and every middle of one outline lies within the limit of another.
fn near_all(a: &Outline, b: &Outline, limit: f64, work: &mut Work) -> Result<bool, Tangled> {
    for segment in a.segments() {
        work.spend(2 + b.vertices().len().ilog2() as usize)?;
        if [segment.from, segment.at(0.5)].into_iter().any(|p| b.nearest(p).distance > limit) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Pairs of outlines that cross or touch, lower number first, each with a place.
///
/// # Errors
/// When the drawing has cost too much work.
pub(crate) fn meetings(
    outlines: &[&Outline],
    work: &mut Work,
) -> Result<BTreeMap<(usize, usize), Point>, Tangled> {
    let segments: Vec<(usize, Segment)> = outlines
        .iter()
        .enumerate()
        .flat_map(|(i, outline)| outline.segments().map(move |s| (i, s)))
        .collect();
    let boxes: Vec<_> = segments.iter().map(|(_, segment)| around(segment, TOUCH)).collect();
    let mut found = BTreeMap::new();
    meeting_pairs(&boxes, work, |i, j, work| {
        let pair = (segments[i].0.min(segments[j].0), segments[i].0.max(segments[j].0));
        if pair.0 != pair.1
            && !found.contains_key(&pair)
            && let Some(place) = meeting(&segments[i].1, &segments[j].1, work)?
        {
            found.insert(pair, place);
        }
        Ok(())
    })?;
    Ok(found)
}

/// For each outline the smallest one that holds it. They neither cross nor touch, so that one point tells.
///
/// # Errors
/// When the drawing has cost too much work.
pub(crate) fn directly_around(outlines: &[&Outline], work: &mut Work) -> Result<Vec<Option<usize>>, Tangled> {
    let areas: Vec<f64> = outlines.iter().map(|outline| outline.area()).collect();
    let boxes: Vec<_> = outlines.iter().map(|outline| outline.bounds()).collect();
    let mut around: Vec<Option<usize>> = vec![None; outlines.len()];
    meeting_pairs(&boxes, work, |i, j, _| {
        let (inner, outer) = if areas[i] < areas[j] { (i, j) } else { (j, i) };
        let nearer = around[inner].is_none_or(|known| areas[outer] < areas[known]);
        if nearer && outlines[outer].contains(outlines[inner].vertices()[0].point) {
            around[inner] = Some(outer);
        }
        Ok(())
    })?;
    Ok(around)
}

/// A point of one segment that lies within the touching distance of another, by halving: no point of a stretch is nearer than its middle
/// less half its length.
fn meeting(a: &Segment, b: &Segment, work: &mut Work) -> Result<Option<Point>, Tangled> {
    let length = a.length();
    let mut stretches = vec![(0.0, 1.0)];
    while let Some((from, to)) = stretches.pop() {
        work.spend(1)?;
        let share = (from + to) / 2.0;
        let middle = a.at(share);
        let distance = b.distance(middle);
        if distance <= TOUCH {
            return Ok(Some(middle));
        }
        if distance - (to - from) / 2.0 * length <= TOUCH / 2.0 {
            stretches.extend([(share, to), (from, share)]);
        }
    }
    Ok(None)
}
