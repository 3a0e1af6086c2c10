//! The drawing's raw entities as closed polygons: the proof's own reading of what was drawn.
//!
//! Shares nothing with the planner's: entities become chords at once, ends are chained by distance alone.

use crate::flatten::{Place, arc, bulge, distance};
use dxf::{Dxf, Entity, Shape};

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
    let mut found = Vec::new();
    let mut open: Vec<Piece> = Vec::new();
    for entity in &dxf.entities {
        let (points, closed) = chords(entity, scale);
        let ends = (points[0], points[points.len() - 1]);
        if closed || (points.len() > 2 && distance(ends.0, ends.1) <= join_limit) {
            found.push(Loop { first_line: entity.line, points });
        } else if points.iter().any(|place| distance(*place, points[0]) > 1e-9)
            && !drawn_twice(&open, &points)
        {
            open.push(Piece { line: entity.line, points });
        }
    }
    found.extend(chain(open, join_limit));
    found.retain(|one| crate::region::area(&one.points).abs() > 1e-12);
    found.sort_by_key(|one| one.first_line);
    found
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
    }
}

/// Whether the same piece lies there already, either way round.
fn drawn_twice(open: &[Piece], points: &[Place]) -> bool {
    let same = |a: &[Place], b: &mut dyn Iterator<Item = &Place>| {
        a.iter().zip(b).all(|(p, q)| distance(*p, *q) < 1e-7)
    };
    open.iter().any(|piece| {
        piece.points.len() == points.len()
            && (same(&piece.points, &mut points.iter()) || same(&piece.points, &mut points.iter().rev()))
    })
}

/// Open pieces chained end to end: from each piece not yet used, always on to the nearest end within the limit.
fn chain(mut open: Vec<Piece>, join_limit: f64) -> Vec<Loop> {
    let mut found = Vec::new();
    open.sort_by_key(|piece| std::cmp::Reverse(piece.line));
    while let Some(first) = open.pop() {
        let mut points = first.points;
        while points.len() < 3 || distance(points[0], points[points.len() - 1]) > join_limit.max(1e-6) {
            let end = points[points.len() - 1];
            let gap = |piece: &Piece| {
                let last = piece.points[piece.points.len() - 1];
                distance(end, piece.points[0]).min(distance(end, last))
            };
            let next = (0..open.len()).min_by(|a, b| gap(&open[*a]).total_cmp(&gap(&open[*b])));
            let Some(next) = next.filter(|i| gap(&open[*i]) <= join_limit.max(1e-6)) else { break };
            let mut piece = open.remove(next).points;
            if distance(end, piece[0]) > distance(end, piece[piece.len() - 1]) {
                piece.reverse();
            }
            points.extend(piece.into_iter().skip(1));
        }
        if points.len() > 3 && distance(points[0], points[points.len() - 1]) <= join_limit.max(1e-6) {
            points.pop();
            found.push(Loop { first_line: first.line, points });
        }
    }
    found
}
