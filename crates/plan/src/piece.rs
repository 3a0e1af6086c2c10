//! The outline of a piece that is cut out of a block, as the wire is to leave it: outside corners rounded as its opening
//! asks for, stock left on faces that are ground afterwards; and the metal around it.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::webs;
use job::{Edge, Grind, Section};
use outline::{LargestCircle, Outline, Point, Segment, Vertex, largest_circle, parallel};
use remark::Remark;

/// A vertex is on a face when it is no farther from its line than this, mm.
const ON_FACE: f64 = 1e-6;

/// What lies around a piece.
#[derive(Debug, Clone)]
pub struct Around {
    /// The block that it is cut out of.
    block: Outline,
    /// Other pieces that are cut out of the same block.
    others: Vec<Outline>,
    /// Ways of the wire through the frame to other pieces.
    ways: Vec<Way>,
}

/// A straight way of the wire through the frame.
#[derive(Debug, Clone, Copy)]
pub struct Way {
    /// Where its centre goes.
    pub leg: Segment,
    /// What it clears to either side of it, mm.
    pub clears: f64,
}

impl Around {
    /// The block of a section, with no other pieces yet.
    pub fn of(section: &Section, edge: &Edge) -> Result<Self, Vec<Remark>> {
        let [x, y] = section.block().map(|side| side / 2.0);
        let corners = [(-x, -y), (x, -y), (x, y), (-x, y)].map(|(x, y)| Vertex::new(x, y, 0.0));
        let block = Outline::new(corners.to_vec())
            .map_err(|_| fault(edge, "block", format!("a block of {} x {} is none", 2.0 * x, 2.0 * y)))?;
        Ok(Self { block, others: Vec::new(), ways: Vec::new() })
    }

    /// Another piece in the same block.
    pub fn beside(&mut self, other: &Outline) {
        self.others.push(other.clone());
    }

    /// A way of the wire to another piece.
    pub fn crossed_by(&mut self, way: Way) {
        self.ways.push(way);
    }

    /// How far a place lies from the block's sides, from other pieces and from the ways to them, mm.
    pub fn clear(&self, place: Point) -> f64 {
        self.clear_of_kerfs(place, 0.0).min(self.block.signed_distance(place))
    }

    /// How far a place lies from what stands or is cut around other pieces, when this much is cut away around each, mm.
    pub fn clear_of_kerfs(&self, place: Point, kerf: f64) -> f64 {
        let others = self.others.iter().map(|other| -other.signed_distance(place) - kerf);
        let ways = self.ways.iter().map(|way| way.leg.distance(place) - way.clears);
        others.chain(ways).fold(f64::INFINITY, f64::min)
    }

    /// The metal that stands around a piece to the block's sides and to the next piece, when this much is cut away around each, mm.
    pub fn frame(&self, target: &Outline, kerf: f64) -> f64 {
        let block = [self.block.bounds().width(), self.block.bounds().height()];
        let others = self.others.iter().map(|other| webs::between(target, other).width - 2.0 * kerf);
        others.fold(webs::wall(target, block).width - kerf, f64::min)
    }

    /// The largest circle between a piece and the block's sides.
    pub fn circle(&self, target: &Outline, edge: &Edge) -> Result<LargestCircle, Vec<Remark>> {
        largest_circle(&self.block, std::slice::from_ref(target))
            .map_err(|error| fault(edge, "circle", error.to_string()))
    }
}

/// What the wire leaves of a piece whose outline has been given its size.
pub fn target(
    reckoning: &mut Reckoning,
    head: &str,
    edge: &Edge,
    sized: Outline,
) -> Result<Outline, Vec<Remark>> {
    let rounded = match &edge.outside_radius {
        None => sized,
        Some(radius) => {
            let meaning = what("least radius of its outside corners", "r", "mm");
            let radius = reckoning.known(At(head, "outside_radius_mm"), meaning, radius);
            rounded(&sized, radius, edge)?
        }
    };
    with_stock(reckoning, head, &edge.grind, rounded, edge)
}

/// Every outside corner with at least this radius: shrunk by it and grown again.
fn rounded(sized: &Outline, radius: Figure, edge: &Edge) -> Result<Outline, Vec<Remark>> {
    let unproved = |error: outline::ParallelError| fault(edge, "outside-radius", error.to_string());
    let [core] =
        <[Outline; 1]>::try_from(parallel(sized, radius.value).map_err(unproved)?).map_err(|_| {
            fault(
                edge,
                "outside-radius",
                format!("a radius of {} leaves nothing of it, or parts it", radius.value),
            )
        })?;
    let mut grown = parallel(&core, -radius.value).map_err(unproved)?;
    match grown.len() {
        1 => Ok(grown.remove(0)),
        _ => Err(fault(edge, "outside-radius", format!("a radius of {} closes a bay", radius.value))),
    }
}

/// The stated faces moved outwards.
fn with_stock(
    reckoning: &mut Reckoning,
    head: &str,
    grind: &Grind,
    outline: Outline,
    edge: &Edge,
) -> Result<Outline, Vec<Remark>> {
    let mut vertices = outline.vertices().to_vec();
    for (side, stock) in grind.sides.iter().enumerate() {
        let Some(stock) = stock else { continue };
        let meaning = what("stock left for grinding on this face", "s", "mm");
        let stock = reckoning.known(At(head, &format!("grind_stock_mm.{side}")), meaning, stock);
        let word = Grind::SIDES[side];
        let on = on_face(&vertices, side);
        if !on.iter().any(|i| on.contains(&((i + 1) % vertices.len()))) {
            let message = format!("its {word} has no straight face to leave stock on");
            return Err(fault(edge, "grind", message));
        }
        if !on.iter().all(|&i| square(&vertices, &on, i, side)) {
            let message = format!(
                "its {word} face does not end in square corners, and stock there cannot be ground off flush"
            );
            return Err(fault(edge, "grind", message));
        }
        move_out(&mut vertices, &on, side, stock.value);
    }
    Outline::new(vertices)
        .map_err(|_| fault(edge, "grind", "the stock on its faces crosses itself".to_owned()))
}

/// The outline of a piece as the wire leaves it, ground: without the stock on its faces.
pub fn ground(cut: &Outline, grind: &Grind) -> Option<Outline> {
    let mut vertices = cut.vertices().to_vec();
    for (side, stock) in grind.sides.iter().enumerate() {
        let Some(stock) = stock else { continue };
        let on = on_face(&vertices, side);
        move_out(&mut vertices, &on, side, -stock.value);
    }
    Outline::new(vertices).ok()
}

/// Moves a face of a side outwards.
fn move_out(vertices: &mut [Vertex], face: &[usize], side: usize, by: f64) {
    let out = if side.is_multiple_of(2) { -by } else { by };
    for &i in face {
        let point = &mut vertices[i].point;
        if side < 2 { point.x += out } else { point.y += out }
    }
}

fn along(point: Point, side: usize) -> f64 {
    let value = if side < 2 { point.x } else { point.y };
    if side.is_multiple_of(2) { -value } else { value }
}

/// Vertices on the face of a side.
fn on_face(vertices: &[Vertex], side: usize) -> Vec<usize> {
    let most = vertices.iter().map(|v| along(v.point, side)).fold(f64::NEG_INFINITY, f64::max);
    (0..vertices.len()).filter(|&i| most - along(vertices[i].point, side) <= ON_FACE).collect()
}

/// Whether what leaves a vertex of a face is the face itself, or a straight line square to it.
fn square(vertices: &[Vertex], on: &[usize], i: usize, side: usize) -> bool {
    let n = vertices.len();
    [(i, (i + 1) % n, vertices[i].bulge), (i, (i + n - 1) % n, vertices[(i + n - 1) % n].bulge)]
        .into_iter()
        .all(|(from, to, bulge)| {
            let across = if side < 2 {
                vertices[from].point.y - vertices[to].point.y
            } else {
                vertices[from].point.x - vertices[to].point.x
            };
            bulge == 0.0 && (on.contains(&to) || across.abs() <= ON_FACE)
        })
}

fn fault(edge: &Edge, code: &str, message: String) -> Vec<Remark> {
    vec![Remark::error(code, format!("edge `{}`: {message}", edge.id)).place(edge.place.clone())]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_straight_faces_with_square_ends_take_stock() {
        let block = |bulge: f64| {
            [(-3.0, -2.0, 0.0), (3.0, -2.0, 0.0), (3.0, 1.5, bulge), (2.5, 2.0, 0.0), (-3.0, 2.0, 0.0)]
                .map(|(x, y, b)| Vertex::new(x, y, b))
        };
        let squares = |bulge: f64, side: usize| {
            let vertices = block(bulge);
            let on = on_face(&vertices, side);
            on.iter().all(|&i| square(&vertices, &on, i, side))
        };
        assert!(squares(0.4, 0) && squares(0.4, 2));
        assert!(!squares(0.4, 1) && !squares(0.4, 3));
        assert!(!squares(0.0, 1) && !squares(0.0, 3));
    }

    /// Wherever the outline begins, a face ends as it does.
    #[test]
    fn a_face_does_not_hang_on_where_the_outline_begins() {
        // Its left face leans at its lower end, its right one at its upper end; bottom and top are square on one side only.
        let corners =
            [(-3.0, -2.0), (3.0, -2.0), (3.0, 1.5), (2.5, 2.0), (-3.0, 2.0), (-3.0, 0.0), (-3.2, -0.5)];
        let bulges = [0.0, 0.0, 0.3, 0.0, 0.0, 0.0, 0.2];
        for first in 0..corners.len() {
            let at = |k: usize| (first + k) % corners.len();
            let vertices: Vec<Vertex> = (0..corners.len())
                .map(|k| Vertex::new(corners[at(k)].0, corners[at(k)].1, bulges[at(k)]))
                .collect();
            let squares = [0, 1, 2, 3].map(|side| {
                let on = on_face(&vertices, side);
                on.len() > 1 && on.iter().all(|&i| square(&vertices, &on, i, side))
            });
            assert_eq!(squares, [false, false, false, false], "{first}");
            // Its right side is bowed, with its ends square above each other: the faces that end at it take no stock, its left does.
            let bowed = [(-3.0, -2.0, 0.0), (3.0, -2.0, 0.2), (3.0, 2.0, 0.0), (-3.0, 2.0, 0.0)];
            let vertices: Vec<Vertex> = (0..4)
                .map(|i| bowed[(i + first) % 4])
                .map(|(x, y, bulge)| Vertex::new(x, y, bulge))
                .collect();
            for side in 0..4 {
                let on = on_face(&vertices, side);
                let squares = on.len() == 2 && on.iter().all(|&i| square(&vertices, &on, i, side));
                assert_eq!(squares, side == 0, "{first} {side}");
            }
            let plain = [(-3.0, -2.0), (3.0, -2.0), (3.0, 2.0), (-3.0, 2.0)];
            let k = first % 4;
            let vertices: Vec<Vertex> =
                (0..4).map(|i| plain[(i + k) % 4]).map(|(x, y)| Vertex::new(x, y, 0.0)).collect();
            for side in 0..4 {
                let on = on_face(&vertices, side);
                assert!(on.len() == 2 && on.iter().all(|&i| square(&vertices, &on, i, side)), "{k} {side}");
            }
        }
    }

    /// Stock on each side in turn: 0.1, 0.2, 0.3 and 0.4 taken off a block of 6.3 x 4.7 leave 6 x 4 about the middle.
    #[test]
    fn grinding_takes_the_stock_off_again() {
        let known = |value: f64| {
            Some(job::Known { value, from: job::From::Starting { row: String::new(), note: String::new() } })
        };
        let grind = Grind { sides: [known(0.1), known(0.2), known(0.3), known(0.4)] };
        let cut = rectangle([-3.1, 3.2], [-2.3, 2.4]);
        let bounds = ground(&cut, &grind).unwrap().bounds();
        for (found, wanted) in
            [(bounds.min.x, -3.0), (bounds.max.x, 3.0), (bounds.min.y, -2.0), (bounds.max.y, 2.0)]
        {
            assert!((found - wanted).abs() < 1e-12, "{bounds:?}");
        }
    }

    fn rectangle(x: [f64; 2], y: [f64; 2]) -> Outline {
        let corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])];
        Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
    }

    /// A block of 40 x 30 with a piece of 4 x 4 about (10, 0), and a way straight up along x = -8: places between them.
    #[test]
    fn what_lies_around_a_piece_by_hand() {
        let mut around =
            Around { block: rectangle([-20.0, 20.0], [-15.0, 15.0]), others: Vec::new(), ways: Vec::new() };
        let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
        let place = Point::new(2.0, 1.0);
        near(around.clear(place), 14.0);
        assert_eq!(around.clear_of_kerfs(place, 0.2), f64::INFINITY);
        // 5 from the left wall, 15 from the right one, less its own kerf.
        let own = rectangle([-15.0, 5.0], [-5.0, 5.0]);
        near(around.frame(&own, 0.2), 4.8);
        around.beside(&rectangle([8.0, 12.0], [-2.0, 2.0]));
        near(around.clear(place), 6.0);
        near(around.clear_of_kerfs(place, 0.2), 5.8);
        // 3 between the two, less both kerfs.
        near(around.frame(&own, 0.2), 2.6);
        let leg = Segment { from: Point::new(-2.0, 0.0), to: Point::new(-2.0, 20.0), bulge: 0.0 };
        around.crossed_by(Way { leg, clears: 0.3 });
        near(around.clear_of_kerfs(place, 0.2), 3.7);
        near(around.clear(place), 3.7);
    }
}
