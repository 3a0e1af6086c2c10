//! The drawing's raw entities as closed polygons: the proof's own reading of what was drawn.
//!
//! Shares nothing with the planner's: entities become chords at once, ends are chained by distance alone.

use crate::flatten::{Place, arc, bulge, distance, sane};
use crate::region::apart;
use dxf::{Dxf, Entity, Shape};
use std::collections::HashMap;

/// Places closer than this are one, mm: the rounding of numbers, far below what any drawing means.
const SAME: f64 = 1e-9;
/// A join limit beyond this joins everything, mm, and is not followed.
pub const MOST_JOIN: f64 = 1.0;

/// A closed polygon of the drawing, in drawing units times `scale`.
#[derive(Debug, Clone)]
pub struct Loop {
    /// Line of its first entity.
    pub first_line: u32,
    /// Its places; the first is not repeated.
    pub points: Vec<Place>,
}

struct Piece {
    line: u32,
    points: Vec<Place>,
}

/// The closed polygons of a drawing, by the line of their first entities. `scale` is mm in a drawing unit.
pub fn loops(dxf: &Dxf, scale: f64, join_limit: f64) -> Vec<Loop> {
    // A limit of nothing still joins what differs in a last digit.
    let join_limit = join_limit.clamp(1e-6, MOST_JOIN);
    let mut found = Vec::new();
    let mut open: Vec<Piece> = Vec::new();
    let mut open_ends = Ends::new(join_limit);
    for entity in dxf.entities.iter().filter(|entity| fits(entity, scale)) {
        let (points, closed) = chords(entity, scale);
        let ends = (points[0], points[points.len() - 1]);
        if closed || (points.len() > 2 && distance(ends.0, ends.1) <= join_limit) {
            found.push(Loop { first_line: entity.line, points: once(points) });
        } else if points.iter().any(|place| distance(*place, points[0]) > SAME)
            && !drawn_twice(&open, &open_ends, &points)
        {
            open_ends.put(open.len(), &points);
            open.push(Piece { line: entity.line, points });
        }
    }
    found.extend(chain(&open, &open_ends, join_limit));
    found.retain(|one| crate::region::area(&one.points).abs() > 1e-12);
    found.sort_by_key(|one| one.first_line);
    without_repeats(found, join_limit)
}

/// A closed run of places without the last one where that is the first again.
fn once(mut points: Vec<Place>) -> Vec<Place> {
    if points.len() > 1 && distance(points[0], points[points.len() - 1]) <= SAME {
        points.pop();
    }
    points
}

/// The loops, without those that run along an earlier one all round: an outline drawn twice has one number.
fn without_repeats(found: Vec<Loop>, join_limit: f64) -> Vec<Loop> {
    let mut kept: Vec<Loop> = Vec::new();
    let mut corners = Ends::new(join_limit);
    for one in found {
        let low = [0, 1].map(|k| one.points.iter().map(|place| place[k]).fold(f64::INFINITY, f64::min));
        let repeats = |i: usize| apart(&kept[i].points, &one.points) <= join_limit;
        if !corners.near(low).any(repeats) {
            corners.put(kept.len(), &[low]);
            kept.push(one);
        }
    }
    kept
}

/// Whether an entity lies where a block can lie; what does not is no part of one, and could be endless chords.
fn fits(entity: &Entity, scale: f64) -> bool {
    let near = |p: &Place| sane([p[0] * scale, p[1] * scale]);
    match &entity.shape {
        Shape::Line { from, to } => near(from) && near(to),
        Shape::Circle { centre, radius } => near(centre) && near(&[*radius, 0.0]),
        // One that ends where it begins is a whole circle or nothing: nobody can tell.
        Shape::Arc { centre, radius, start_deg, end_deg, .. } => {
            near(centre) && near(&[*radius, 0.0]) && start_deg != end_deg
        }
        Shape::Polyline { vertices, .. } => {
            !vertices.is_empty() && vertices.iter().all(|v| near(&[v[0], v[1]]) && v[2].is_finite())
        }
        // Not followed yet: what is drawn with them is no loop of the proof.
        Shape::Ellipse { .. } | Shape::Spline(_) | Shape::Through { .. } | Shape::Insert(_) => false,
    }
}

fn chords(entity: &Entity, scale: f64) -> (Vec<Place>, bool) {
    let s = |p: &Place| [p[0] * scale, p[1] * scale];
    match &entity.shape {
        Shape::Line { from, to } => (vec![s(from), s(to)], false),
        Shape::Circle { centre, radius } => {
            let (centre, from) = (s(centre), [(centre[0] + radius) * scale, centre[1] * scale]);
            let mut points = Vec::new();
            arc(&mut points, from, from, centre, std::f64::consts::TAU);
            (points, true)
        }
        Shape::Arc { centre, radius, start_deg, end_deg, clockwise } => {
            let at = |deg: f64| {
                let angle = deg.to_radians();
                [(centre[0] + radius * angle.cos()) * scale, (centre[1] + radius * angle.sin()) * scale]
            };
            let turn = if *clockwise { start_deg - end_deg } else { end_deg - start_deg };
            let sweep = match turn.rem_euclid(360.0) {
                0.0 => std::f64::consts::TAU,
                turn => turn.to_radians(),
            };
            let mut points = vec![at(*start_deg)];
            arc(
                &mut points,
                at(*start_deg),
                at(*end_deg),
                s(centre),
                if *clockwise { -sweep } else { sweep },
            );
            (points, false)
        }
        Shape::Polyline { vertices, closed } => {
            let n = vertices.len();
            let place = |i: usize| [vertices[i % n][0] * scale, vertices[i % n][1] * scale];
            let mut points = vec![place(0)];
            let segments = if *closed { n } else { n.saturating_sub(1) };
            (0..segments).for_each(|i| bulge(&mut points, place(i), place(i + 1), vertices[i][2]));
            if *closed {
                points.pop();
            }
            (points, *closed)
        }
        Shape::Ellipse { .. } | Shape::Spline(_) | Shape::Through { .. } | Shape::Insert(_) => {
            (vec![[0.0; 2]], false)
        }
    }
}

/// Whether the same piece lies among those that begin or end where it does, either way round.
fn drawn_twice(open: &[Piece], ends: &Ends, points: &[Place]) -> bool {
    let same = |a: &[Place], b: &mut dyn Iterator<Item = &Place>| {
        a.iter().zip(b).all(|(p, q)| distance(*p, *q) < 1e-7)
    };
    ends.near(points[0]).any(|i| {
        open[i].points.len() == points.len()
            && (same(&open[i].points, &mut points.iter()) || same(&open[i].points, &mut points.iter().rev()))
    })
}

/// Ends of open pieces by where they lie.
struct Ends {
    cell: f64,
    cells: HashMap<[i64; 2], Vec<usize>>,
}

impl Ends {
    fn new(join_limit: f64) -> Self {
        Self { cell: join_limit, cells: HashMap::new() }
    }

    fn key(&self, place: Place) -> [i64; 2] {
        place.map(|v| (v / self.cell).floor() as i64)
    }

    fn put(&mut self, i: usize, points: &[Place]) {
        for place in [points[0], points[points.len() - 1]] {
            self.cells.entry(self.key(place)).or_default().push(i);
        }
    }

    /// Pieces with an end within the join limit of a place, and some a little farther.
    fn near(&self, place: Place) -> impl Iterator<Item = usize> {
        let [x, y] = self.key(place);
        let around = (-1..=1).flat_map(move |i| (-1..=1).map(move |j| [x + i, y + j]));
        around.filter_map(|key| self.cells.get(&key)).flatten().copied()
    }
}

/// Open pieces chained end to end: from each piece not yet used, always on to the nearest end within the limit.
fn chain(open: &[Piece], ends: &Ends, join_limit: f64) -> Vec<Loop> {
    let mut found = Vec::new();
    let mut order: Vec<usize> = (0..open.len()).collect();
    order.sort_by_key(|i| open[*i].line);
    let mut used = vec![false; open.len()];
    for first in order {
        if std::mem::replace(&mut used[first], true) {
            continue;
        }
        let mut points = open[first].points.clone();
        while points.len() < 3 || distance(points[0], points[points.len() - 1]) > join_limit {
            let end = points[points.len() - 1];
            let gap = |i: usize| {
                let piece = &open[i].points;
                distance(end, piece[0]).min(distance(end, piece[piece.len() - 1]))
            };
            let next = ends.near(end).filter(|i| !used[*i]).min_by(|a, b| gap(*a).total_cmp(&gap(*b)));
            let Some(next) = next.filter(|i| gap(*i) <= join_limit) else { break };
            used[next] = true;
            let mut piece = open[next].points.clone();
            if distance(end, piece[0]) > distance(end, piece[piece.len() - 1]) {
                piece.reverse();
            }
            // Both ends of a gap stay where they were drawn.
            let met = usize::from(distance(end, piece[0]) <= SAME);
            points.extend(piece.into_iter().skip(met));
        }
        if points.len() > 3 && distance(points[0], points[points.len() - 1]) <= join_limit {
            found.push(Loop { first_line: open[first].line, points: once(points) });
        }
    }
    found
}
