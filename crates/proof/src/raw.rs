//! The drawing's raw entities as closed polygons: the proof's own reading of what was drawn.
//!
//! Shares nothing with the planner's: entities become chords at once and are put where they belong after that, ends are
//! chained by distance alone.

use crate::curve;
use crate::flatten::{Place, arc, bulge, distance, sane};
use crate::placed::{Put, placed};
use crate::region::apart;
use dxf::{Dxf, Shape};
use std::collections::HashMap;

/// Places closer than this are one, mm: the rounding of numbers, far below what any drawing means.
const SAME: f64 = 1e-9;
/// A join limit beyond this joins everything, mm, and is not followed.
pub const MOST_JOIN: f64 = 1.0;
/// Chords of a drawing that are followed.
const MOST_CHORDS: usize = 8_000_000;

/// A closed polygon of the drawing, in drawing units times `scale`.
#[derive(Debug, Clone)]
pub struct Loop {
    /// Number of its first entity, in the order of the drawing, those of inserts in the inserts' places.
    first: usize,
    /// Its places; the first is not repeated.
    pub points: Vec<Place>,
}

struct Piece {
    number: usize,
    points: Vec<Place>,
}

/// The closed polygons of a drawing, by the line of their first entities. `scale` is mm in a drawing unit.
pub fn loops(dxf: &Dxf, scale: f64, join_limit: f64) -> Result<Vec<Loop>, String> {
    // A limit of nothing still joins what differs in a last digit.
    let join_limit = join_limit.clamp(1e-6, MOST_JOIN);
    let mut found = Vec::new();
    let mut open: Vec<Piece> = Vec::new();
    let mut open_ends = Ends::new(join_limit);
    let mut left = MOST_CHORDS;
    for (number, (shape, put)) in placed(dxf, scale).into_iter().enumerate() {
        let (points, closed) = put_chords(shape, &put);
        let [Some(from), Some(to)] = [points.first().copied(), points.last().copied()] else { continue };
        left = left
            .checked_sub(points.len())
            .ok_or_else(|| format!("it has more than {MOST_CHORDS} chords, which are not followed"))?;
        if closed || (points.len() > 2 && distance(from, to) <= join_limit) {
            found.push(Loop { first: number, points: once(points) });
        } else if points.iter().any(|place| distance(*place, from) > SAME)
            && !drawn_twice(&open, &open_ends, &points)
        {
            open_ends.put(open.len(), &points);
            open.push(Piece { number, points });
        }
    }
    found.extend(chain(&open, &open_ends, join_limit));
    found.retain(|one| crate::region::area(&one.points).abs() > 1e-12);
    found.sort_by_key(|one| one.first);
    Ok(without_repeats(found, join_limit))
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

/// The chords of a shape where it is put, and whether they close; none where it lies beyond every block, for what does
/// is no part of one, and could be endless chords.
fn put_chords(shape: &Shape, put: &Put) -> (Vec<Place>, bool) {
    // Chords are made as large as the way to their place makes them at most: it only brings them nearer to the curve.
    let size = put.stretch();
    if !fits(shape, put, size) {
        return (Vec::new(), false);
    }
    let (mut points, closed) = chords(shape, size);
    if *put != Put::scaled(size) {
        points.iter_mut().for_each(|p| *p = put.place(p.map(|v| v / size)));
    }
    if !points.iter().all(|p| sane(*p)) {
        points.clear();
    }
    (points, closed)
}

fn fits(shape: &Shape, put: &Put, size: f64) -> bool {
    let near = |p: &Place| sane(put.place(*p));
    let long = |length: f64| sane([length * size, 0.0]);
    match shape {
        Shape::Line { from, to } => near(from) && near(to),
        Shape::Circle { centre, radius } => near(centre) && long(*radius),
        // One that ends where it begins is a whole circle or nothing: nobody can tell.
        Shape::Arc { centre, radius, start_deg, end_deg, .. } => {
            near(centre) && long(*radius) && start_deg != end_deg
        }
        Shape::Polyline { vertices, .. } => {
            !vertices.is_empty() && vertices.iter().all(|v| near(&[v[0], v[1]]) && v[2].is_finite())
        }
        Shape::Ellipse { centre, major, minor, .. } => {
            near(centre) && [major, minor].iter().all(|axis| long(axis[0].abs().max(axis[1].abs())))
        }
        Shape::Spline(spline) => spline.controls.iter().all(|v| near(&[v[0], v[1]])),
        Shape::Through { points, .. } => points.iter().all(near),
        // Carried out before.
        Shape::Insert(_) => false,
    }
}

fn chords(shape: &Shape, scale: f64) -> (Vec<Place>, bool) {
    let s = |p: &Place| [p[0] * scale, p[1] * scale];
    match shape {
        Shape::Line { from, to } => (vec![s(from), s(to)], false),
        Shape::Circle { centre, radius } => {
            let (centre, from) = (s(centre), [(centre[0] + radius) * scale, centre[1] * scale]);
            let mut points = Vec::new();
            arc(&mut points, from, from, centre, std::f64::consts::TAU);
            (points, true)
        }
        Shape::Arc { centre, radius, start_deg, end_deg, clockwise } => {
            (arc_chords(*centre, *radius, [*start_deg, *end_deg], *clockwise, scale), false)
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
        Shape::Ellipse { centre, major, minor, from, to } => {
            curve::ellipse(s(centre), s(major), s(minor), [*from, *to])
        }
        Shape::Spline(spline) => (curve::spline(spline, scale), false),
        Shape::Through { points, directions, closed } => {
            let points: Vec<Place> = points.iter().map(s).collect();
            (curve::through(&points, *directions, *closed), false)
        }
        Shape::Insert(_) => (Vec::new(), false),
    }
}

fn arc_chords(centre: Place, radius: f64, [start, end]: [f64; 2], clockwise: bool, scale: f64) -> Vec<Place> {
    let at = |deg: f64| {
        let angle = deg.to_radians();
        [(centre[0] + radius * angle.cos()) * scale, (centre[1] + radius * angle.sin()) * scale]
    };
    let turn = if clockwise { start - end } else { end - start };
    let sweep = match turn.rem_euclid(360.0) {
        0.0 => std::f64::consts::TAU,
        turn => turn.to_radians(),
    };
    let mut points = vec![at(start)];
    let centre = centre.map(|v| v * scale);
    arc(&mut points, at(start), at(end), centre, if clockwise { -sweep } else { sweep });
    points
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
    let mut used = vec![false; open.len()];
    for first in 0..open.len() {
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
            found.push(Loop { first: open[first].number, points: once(points) });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::region::area;
    use std::f64::consts::PI;

    /// A drawing of blocks (a name, a base and entities each) and entities.
    fn drawn(blocks: &[(&str, &str, &str)], entities: &str) -> Dxf {
        let block = |(name, base, content): &(&str, &str, &str)| {
            format!("0\nBLOCK\n8\n0\n2\n{name}\n70\n0\n{base}{content}0\nENDBLK\n8\n0\n")
        };
        let blocks: String = blocks.iter().map(block).collect();
        let section = |name: &str, content: &str| format!("0\nSECTION\n2\n{name}\n{content}0\nENDSEC\n");
        let text = format!("{}{}0\nEOF\n", section("BLOCKS", &blocks), section("ENTITIES", entities));
        dxf::read(text.as_bytes(), "t.dxf", &dxf::Limits::default()).expect("it is a drawing")
    }

    fn found(dxf: &Dxf) -> Vec<Loop> {
        loops(dxf, 1.0, 0.001).expect("it is followed")
    }

    const BASE: &str = "10\n1\n20\n0\n";
    const CIRCLE: &str = "0\nCIRCLE\n8\n0\n10\n1\n20\n0\n40\n0.5\n";

    fn insert(block: &str, words: &str) -> String {
        format!("0\nINSERT\n8\n0\n2\n{block}\n10\n3\n20\n4\n{words}")
    }

    /// A circle that is stretched and turned is an ellipse: its area and every place of it, by its equation.
    #[test]
    fn a_stretched_circle_is_an_ellipse() {
        let one = insert("B", "41\n4\n42\n-2\n50\n30\n");
        let loops = found(&drawn(&[("B", BASE, CIRCLE)], &one));
        assert_eq!(loops.len(), 1);
        assert!((area(&loops[0].points).abs() - 2.0 * PI).abs() < 1e-3);
        let (sin, cos) = (PI / 6.0).sin_cos();
        for p in &loops[0].points {
            let [x, y] = [p[0] - 3.0, p[1] - 4.0];
            let value = ((cos * x + sin * y) / 2.0).powi(2) + (cos * y - sin * x).powi(2);
            assert!((value - 1.0).abs() < 1e-9);
        }
    }

    /// Blocks in blocks, rows and columns: as many loops as by hand, in the order that the drawing gives them.
    #[test]
    fn blocks_in_blocks_are_counted_in_their_order() {
        let inner = insert("B", "");
        let rows = insert("C", "70\n2\n71\n3\n44\n10\n45\n20\n");
        let line = "0\nCIRCLE\n8\n0\n10\n-9\n20\n-9\n40\n2\n";
        let dxf = drawn(&[("B", BASE, CIRCLE), ("C", "10\n0\n20\n0\n", &inner)], &format!("{rows}{line}"));
        let middle = |one: &Loop| {
            let n = one.points.len() as f64;
            [0, 1].map(|k| one.points.iter().map(|p| p[k]).sum::<f64>() / n)
        };
        let middles: Vec<Place> = found(&dxf).iter().map(middle).collect();
        let by_hand =
            [[6.0, 8.0], [16.0, 8.0], [6.0, 28.0], [16.0, 28.0], [6.0, 48.0], [16.0, 48.0], [-9.0, -9.0]];
        assert_eq!(middles.len(), 7);
        assert!(middles.iter().zip(by_hand).all(|(a, b)| distance(*a, b) < 1e-9), "{middles:?}");
    }

    /// A nest that doubles at every level, one that holds itself, one that repeats nothing for ever: none of them is
    /// followed, and what stands beside them is.
    #[test]
    fn nests_do_not_explode() {
        let names: Vec<String> = (0..40).map(|k| format!("N{k}")).collect();
        let twice: Vec<String> = (0..40).map(|k| insert(&format!("N{}", k + 1), "").repeat(2)).collect();
        let mut blocks: Vec<(&str, &str, &str)> =
            names.iter().zip(&twice).map(|(name, content)| (name.as_str(), "", content.as_str())).collect();
        blocks.push(("N40", "", CIRCLE));
        let itself = insert("I", "");
        let of_itself = format!("{itself}{CIRCLE}");
        blocks.push(("I", "", &of_itself));
        blocks.push(("E", "", ""));
        let many = "70\n2000000000\n71\n2000000000\n";
        for bad in
            [insert("N0", ""), insert("N21", ""), insert("E", many), insert("N40", many), insert("X", "")]
        {
            let begun = std::time::Instant::now();
            assert_eq!(found(&drawn(&blocks, &format!("{bad}{CIRCLE}"))).len(), 1, "{bad}");
            assert!(begun.elapsed().as_secs() < 5);
        }
        // Each of twenty holds all of them: there are more ways through them than anybody can count.
        let names: Vec<String> = (0..20).map(|k| format!("K{k}")).collect();
        let all: String = names.iter().map(|name| insert(name, "")).collect();
        let tangle: Vec<(&str, &str, &str)> =
            names.iter().map(|name| (name.as_str(), "", all.as_str())).collect();
        assert_eq!(found(&drawn(&tangle, &format!("{all}{CIRCLE}"))).len(), 1);
        // Two to the fourth of them are followed; and of the one that holds itself, what else it holds.
        let fourth = insert("N36", "");
        let spread = fourth.replace("N36", "N40").replace("10\n3\n", "10\n30\n");
        assert_eq!(placed(&drawn(&blocks, &fourth), 1.0).len(), 16);
        assert_eq!(found(&drawn(&blocks, &format!("{spread}{CIRCLE}"))).len(), 2);
        assert_eq!(placed(&drawn(&blocks, &itself), 1.0).len(), 1);
    }

    /// Half an ellipse and a spline that is a straight line between its ends.
    #[test]
    fn curves_are_chained_like_anything_else() {
        let half = "0\nELLIPSE\n8\n0\n10\n0\n20\n0\n11\n2\n21\n0\n40\n0.5\n41\n0\n42\n3.141592653589793\n";
        let spline = "0\nSPLINE\n8\n0\n70\n8\n71\n2\n72\n6\n73\n3\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n\
                      10\n-2\n20\n0\n10\n0\n20\n0\n10\n2\n20\n0\n";
        let through = "0\nSPLINE\n8\n0\n70\n8\n71\n3\n74\n3\n11\n-2\n21\n0\n11\n0\n21\n0\n11\n2\n21\n0\n";
        for base in [spline, through] {
            let loops = found(&drawn(&[], &format!("{half}{base}")));
            assert_eq!(loops.len(), 1);
            assert!((area(&loops[0].points).abs() - PI).abs() < 1e-3, "{}", area(&loops[0].points));
        }
    }
}
