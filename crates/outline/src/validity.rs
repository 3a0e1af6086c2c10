//! What makes a run of vertices an outline, and everything that is wrong with it at once.
//!
//! Stages: numbers, bulges and lengths of each vertex; then, over what is sound, every pair of segments that comes near
//! (found through the box tree); then the enclosed area.

use crate::box_tree::BoxTree;
use crate::meeting::{Meeting, meeting, neighbours_meet};
use crate::outline::segments_of;
use crate::{Defect, DefectKind, Piece, Point, Vertex};

/// Segments that come this near touch, and a shorter segment has no length, mm: a thousandth of the finest step that a
/// program resolves, and far above the rounding of f64 at any size that is let in.
pub(crate) const TOUCH: f64 = 1e-9;

/// Pieces that are tangent to within rounding may cross once more beside their joint, up to this far from it, mm: a tenth
/// of the finest step of a program, and no distance to the outline changes by a millionth of that.
pub(crate) const JOINT: f64 = 1e-7;

/// Greatest coordinate, mm: beyond it f64 no longer resolves a nanometre with digits to spare.
pub(crate) const FARTHEST: f64 = 1e6;

/// Crossings and touches named in one report: enough to see the pattern, and a scribble does not take for ever.
const MOST_MEETINGS: usize = 50;

/// Everything that is wrong with these vertices, in order along the outline; nothing for a valid outline.
pub(crate) fn defects(vertices: &[Vertex]) -> Vec<Defect> {
    let mut found = loose_numbers(vertices, 1.0);
    if vertices.len() < 2 {
        let place = vertices.first().map_or(Point::new(0.0, 0.0), |v| v.point);
        let message = format!("{} vertex; an outline has at least two", vertices.len());
        found.push(Defect::new(DefectKind::TooFewVertices, place, message));
    }
    if !found.is_empty() {
        return found;
    }
    let sound: Vec<Vertex> = segments_of(vertices)
        .zip(vertices)
        .filter(|(s, _)| s.from.distance(s.to) > TOUCH)
        .map(|(_, v)| *v)
        .collect();
    found.extend(zero_lengths(vertices));
    match sound.len() {
        0 | 1 => found.push(no_area(vertices[0].point)),
        2 => found.extend(two_vertices(&sound)),
        _ => found.extend(meetings(&sound)),
    }
    found
}

/// Vertices whose numbers cannot stand: not finite, too far out, or with more than the greatest bulge.
pub(crate) fn loose_numbers(vertices: &[Vertex], greatest_bulge: f64) -> Vec<Defect> {
    vertices.iter().enumerate().filter_map(|(i, v)| loose_number(i, v, greatest_bulge)).collect()
}

fn loose_number(i: usize, v: &Vertex, greatest_bulge: f64) -> Option<Defect> {
    if !v.point.is_finite() || !v.bulge.is_finite() {
        let message = format!(
            "vertex {i} is ({}, {}) with bulge {}; each must be a finite number",
            v.point.x, v.point.y, v.bulge
        );
        return Some(Defect::new(DefectKind::NotFinite, v.point, message));
    }
    let far = v.point.x.abs().max(v.point.y.abs());
    if far > FARTHEST {
        let message = format!("vertex {i} lies {far} mm out; at most {FARTHEST} mm. Is the unit right?");
        return Some(Defect::new(DefectKind::TooFar, v.point, message));
    }
    (v.bulge.abs() > greatest_bulge).then(|| {
        let message = format!(
            "vertex {i} has bulge {}; an arc of an outline is at most half a circle (1): split it",
            v.bulge
        );
        Defect::new(DefectKind::BulgeTooLarge, v.point, message)
    })
}

fn zero_lengths(vertices: &[Vertex]) -> impl Iterator<Item = Defect> {
    segments_of(vertices).enumerate().filter(|(_, s)| s.from.distance(s.to) <= TOUCH).map(|(i, s)| {
        let message = format!(
            "the segment after vertex {i} is {} mm long; up to {TOUCH} mm counts as nothing: drop the vertex",
            s.from.distance(s.to)
        );
        Defect::new(DefectKind::ZeroLength, s.from, message)
    })
}

fn no_area(place: Point) -> Defect {
    Defect::new(DefectKind::NoArea, place, "the outline runs back over itself and encloses nothing")
}

/// Two segments between the same two vertices meet nowhere else unless they are one and the same.
fn two_vertices(vertices: &[Vertex]) -> Option<Defect> {
    let half = vertices[0].point.distance(vertices[1].point) / 2.0;
    let apart = half * (vertices[0].bulge + vertices[1].bulge).abs();
    (apart <= TOUCH).then(|| no_area(vertices[0].point))
}

fn meetings(vertices: &[Vertex]) -> Vec<Defect> {
    let tree = BoxTree::new(segments_of(vertices));
    let pieces = tree.pieces();
    let mut met: Vec<(usize, usize, Meeting)> = Vec::new();
    tree.pairs(TOUCH, |i, j| {
        if let Some(m) = pair_meets(pieces, i, j) {
            met.push((i, j, m));
        }
        met.len() < MOST_MEETINGS
    });
    met.sort_by_key(|(i, j, _)| (*i, *j));
    met.into_iter().map(|(i, j, m)| meeting_defect(i, j, m)).collect()
}

fn pair_meets(pieces: &[Piece], i: usize, j: usize) -> Option<Meeting> {
    let n = pieces.len();
    if j == i + 1 {
        return neighbours_meet(&pieces[i], &pieces[j], TOUCH, JOINT);
    }
    if i == 0 && j + 1 == n {
        return neighbours_meet(&pieces[j], &pieces[i], TOUCH, JOINT);
    }
    let joints = [joint(pieces, i, j), joint(pieces, j, i)];
    let at_joint = |q: &Point| joints.iter().flatten().any(|joint| q.distance(*joint) <= JOINT);
    meeting(&pieces[i], &pieces[j], TOUCH, |q| !at_joint(q))
}

/// Where a piece ends, if all between it and the beginning of a later one is so short that they join there.
fn joint(pieces: &[Piece], before: usize, after: usize) -> Option<Point> {
    let n = pieces.len();
    let mut left = JOINT;
    let mut between = (before + 1) % n;
    while between != after {
        left -= 2.0 * pieces[between].half;
        if left < 0.0 {
            return None;
        }
        between = (between + 1) % n;
    }
    Some(pieces[before].segment.to)
}

fn meeting_defect(i: usize, j: usize, m: Meeting) -> Defect {
    let (kind, place, verb) = match m {
        Meeting::Crossing(place) => (DefectKind::Crossing, place, "cross"),
        Meeting::Touching(place) => (DefectKind::Touching, place, "touch"),
    };
    let message = format!("segments {i} and {j} {verb}; an outline meets itself nowhere");
    Defect::new(kind, place, message)
}
