//! Closing up what a drawing gives: from a closed run of vertices to a valid outline, and how far that moved the edge.
//!
//! Stages: numbers; pieces too short to be meant are dropped and their ends merged; arcs of more than half a circle are
//! split, arcs without rise become lines; fillets between two lines that rounding has put out of tangent are rebuilt;
//! then the rules of an outline decide. Each stage bounds how far any point of the edge moves; the bounds add up.

use crate::validity::{TOUCH, loose_numbers};
use crate::{Defect, DefectKind, Outline, Point, Vector, Vertex, outline::segments_of};

/// Pieces up to this long are slips of a drawing program, mm: a nanometre, below every coordinate that a drawing means.
const SLIP: f64 = 1e-6;

/// An arc that rises by less from its chord is a line, mm: a tenth of a nanometre, which no drawing means and no program says.
const FLAT: f64 = 1e-7;

/// Joints of a fillet that turn by more than this were not meant to be tangent, degrees: beyond it a joint is a corner.
const TANGENT_DEGREES: f64 = 2.0;

/// A fillet is rebuilt only if that moves it by no more than this, mm: coordinates of four decimals leave at most 0.07 um.
const ROUNDING: f64 = 1e-4;

/// Joints that turn by less are tangent already, radians.
const TANGENT: f64 = 1e-9;

/// Lines closer to parallel than this sine have no usable corner for a fillet.
const PARALLEL: f64 = 0.01;

/// A drawing's run of vertices made into an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct ClosedUp {
    /// The outline.
    pub outline: Outline,
    /// No point of the run lies farther from the outline than this, nor of the outline from the run, mm.
    pub moved_mm: f64,
}

/// Makes a valid outline of a closed run of vertices, whose bulges may be of any finite size.
///
/// # Errors
/// What cannot be mended without moving the edge by more than `join_limit`, mm, or is against the rules of an outline.
pub fn close_up(vertices: Vec<Vertex>, join_limit: f64) -> Result<ClosedUp, Vec<Defect>> {
    let found = loose_numbers(&vertices, f64::INFINITY);
    if !found.is_empty() {
        return Err(found);
    }
    let mut moved = Moved { most: 0.0, place: Point::new(0.0, 0.0) };
    let whole = without_slips(vertices, join_limit, &mut moved);
    let split = halves(whole, join_limit - moved.most, &mut moved);
    let tangent = with_fillets(split, join_limit - moved.most, &mut moved);
    if moved.most > join_limit {
        let message = format!(
            "closing up would move the edge by {} mm; the join limit is {join_limit} mm: mend the drawing or raise the limit",
            moved.most
        );
        return Err(vec![Defect::new(DefectKind::BeyondJoinLimit, moved.place, message)]);
    }
    Outline::new(tangent).map(|outline| ClosedUp { outline, moved_mm: moved.most })
}

/// How far the edge has moved at most, and where most of it.
struct Moved {
    most: f64,
    place: Point,
}

impl Moved {
    /// Adds the largest movement of a stage.
    fn add(&mut self, stage: &[(f64, Point)]) {
        if let Some((by, place)) = stage.iter().max_by(|a, b| a.0.total_cmp(&b.0)) {
            self.most += by;
            self.place = *place;
        }
    }
}

/// Drops pieces that are no longer than a slip, arcs only if they do not rise beyond it either. Of the vertices that become
/// one the earliest stays, and the first of all always does.
fn without_slips(vertices: Vec<Vertex>, join_limit: f64, moved: &mut Moved) -> Vec<Vertex> {
    let Some((&first, rest)) = vertices.split_first() else {
        return vertices;
    };
    let limit = SLIP.min(join_limit).max(TOUCH);
    let mut stage = Vec::new();
    let (mut kept, mut last) = (Vec::with_capacity(vertices.len()), first);
    for next in rest.iter().chain([&first]) {
        let chord = last.point.distance(next.point);
        let rise = chord / 2.0 * last.bulge.abs();
        let shift = chord.max(rise) * reach_factor(next.bulge);
        if shift > limit {
            kept.push(std::mem::replace(&mut last, *next));
        } else {
            stage.push((shift, last.point));
            last.bulge = next.bulge;
        }
    }
    // What is left over is the first vertex again, or one that a slip has merged with it.
    let end_factor = kept.last().map_or(1.0, |v| reach_factor(v.bulge));
    stage.push((last.point.distance(first.point) * end_factor, last.point));
    if kept.is_empty() {
        kept.push(first);
    }
    moved.add(&stage);
    kept
}

/// How much farther than its end a point of an arc can move when the end moves and the bulge stays: an arc of more than
/// half a circle swings about its other end.
fn reach_factor(bulge: f64) -> f64 {
    match bulge.abs() > 1.0 {
        true => (1.0 + bulge * bulge) / (2.0 * bulge.abs()),
        false => 1.0,
    }
}

/// Splits arcs of more than half a circle in their middle and straightens arcs that hardly rise.
fn halves(vertices: Vec<Vertex>, limit: f64, moved: &mut Moved) -> Vec<Vertex> {
    let mut stage = Vec::new();
    let mut split = Vec::with_capacity(vertices.len() + 2);
    for (segment, vertex) in segments_of(&vertices).zip(&vertices) {
        let chord = segment.to - segment.from;
        let rise = chord.length() / 2.0 * vertex.bulge.abs();
        if vertex.bulge != 0.0 && rise <= FLAT.min(limit) {
            stage.push((rise, vertex.point));
            split.push(Vertex { bulge: 0.0, ..*vertex });
        } else if vertex.bulge.abs() > 1.0 {
            let half = (vertex.bulge.atan() / 2.0).tan();
            let middle = segment.from.towards(segment.to, 0.5) - chord.left() * (vertex.bulge / 2.0);
            split.push(Vertex { bulge: half, ..*vertex });
            split.push(Vertex { point: middle, bulge: half });
        } else {
            split.push(*vertex);
        }
    }
    moved.add(&stage);
    split
}

/// Rebuilds fillets between two lines, so that both joints are tangent.
fn with_fillets(mut vertices: Vec<Vertex>, limit: f64, moved: &mut Moved) -> Vec<Vertex> {
    let n = vertices.len();
    let mut stage = Vec::new();
    for i in 0..n {
        let at = |k: usize| (i + k) % n;
        let lines = vertices[at(n - 1)].bulge == 0.0 && vertices[at(1)].bulge == 0.0;
        if n < 4 || vertices[i].bulge == 0.0 || !lines {
            continue;
        }
        let [before, from, to, after] = [at(n - 1), i, at(1), at(2)].map(|k| vertices[k].point);
        let rebuilt = fillet(before, from, to, after, vertices[i].bulge);
        if let Some(fillet) = rebuilt.filter(|f| f.moves <= ROUNDING.min(limit)) {
            vertices[i] = Vertex { point: fillet.from, bulge: fillet.bulge };
            vertices[at(1)].point = fillet.to;
            stage.push((fillet.moves, from));
        }
    }
    moved.add(&stage);
    vertices
}

struct Fillet {
    from: Point,
    to: Point,
    bulge: f64,
    moves: f64,
}

/// The arc tangent to both lines that is nearest to a given one, if that is all but tangent and not tangent yet.
fn fillet(before: Point, from: Point, to: Point, after: Point, bulge: f64) -> Option<Fillet> {
    let (u, v) = ((from - before).unit()?, (after - to).unit()?);
    let (chord, sweep) = (to - from, 4.0 * bulge.atan());
    let (first, last) = (angle(u, chord) - sweep / 2.0, angle(chord, v) - sweep / 2.0);
    let worst = first.abs().max(last.abs());
    let sine = u.cross(v);
    if worst <= TANGENT || worst > TANGENT_DEGREES.to_radians() || sine.abs() < PARALLEL {
        return None;
    }
    // The lines meet at from + u*a = to - v*b; the tangent points lie equally far from there.
    let (a, b) = (chord.cross(v) / sine, u.cross(chord) / sine);
    let tangent = (a + b) / 2.0;
    let (new_from, new_to) = (from + u * (a - tangent), to - v * (b - tangent));
    let new_bulge = (angle(u, v) / 4.0).tan();
    let shift = (a - tangent).abs();
    let lines = (from - before).length().min((after - to).length());
    let moves = shift + new_from.distance(new_to) / 2.0 * (new_bulge - bulge).abs();
    (a > 0.0 && b > 0.0 && 2.0 * shift < lines && new_bulge * bulge > 0.0).then_some(Fillet {
        from: new_from,
        to: new_to,
        bulge: new_bulge,
        moves,
    })
}

fn angle(from: Vector, to: Vector) -> f64 {
    from.cross(to).atan2(from.dot(to))
}
