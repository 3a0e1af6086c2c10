//! Random outlines as a drawing may hold them: lines and arcs, any size from 0.05 to 50 mm, turned, moved, coordinates
//! rounded. They are vertices only: whether they make a valid outline is for the room under test to say.

use crate::dice::Dice;
use outline::{Point, Vector, Vertex};
use std::f64::consts::{PI, TAU};

/// One random outline.
pub struct Profile {
    /// Which kind of shape.
    pub family: &'static str,
    /// Counter-clockwise vertices, mm.
    pub vertices: Vec<Vertex>,
    /// Radii, mm, at which the shape was built to change: half widths of necks and lobes. Rounding moves them a little.
    pub critical: Vec<f64>,
}

type Draw = fn(&mut Dice) -> Profile;

const FAMILIES: [Draw; 8] = [star, bulged, rounded, slot, lobes, teeth, near_equal, nearly_flat];

/// Draws one outline; `decimals` rounds the coordinates, as a drawing does.
pub fn draw(dice: &mut Dice, decimals: Option<i32>) -> Profile {
    let family = FAMILIES[dice.below(FAMILIES.len())];
    let shape = family(dice);
    place(dice, shape, decimals)
}

/// Scales a shape of about unit size, turns, moves and rounds it.
fn place(dice: &mut Dice, shape: Profile, decimals: Option<i32>) -> Profile {
    let size = dice.magnitude(0.05, 50.0);
    let turn = Vector::at_angle(dice.between(0.0, TAU));
    let to = Vector::new(dice.between(-60.0, 60.0), dice.between(-60.0, 60.0));
    let grain = decimals.map(|places| 10f64.powi(places));
    let round = |x: f64| grain.map_or(x, |grain| (x * grain).round() / grain);
    let vertices = shape.vertices.iter().map(|v| {
        let x = (v.point.x * turn.x - v.point.y * turn.y) * size + to.x;
        let y = (v.point.x * turn.y + v.point.y * turn.x) * size + to.y;
        Vertex::new(round(x), round(y), v.bulge)
    });
    Profile {
        family: shape.family,
        vertices: vertices.collect(),
        critical: shape.critical.iter().map(|r| r * size).collect(),
    }
}

/// Points around the origin at growing angles: never crosses itself while its edges are straight.
fn spokes(dice: &mut Dice, n: usize, nearest: f64) -> Vec<Point> {
    let step = TAU / n as f64;
    (0..n)
        .map(|i| {
            let angle = step * (i as f64 + dice.between(0.1, 0.9));
            Point::new(0.0, 0.0) + Vector::at_angle(angle) * dice.between(nearest, 0.5)
        })
        .collect()
}

fn star(dice: &mut Dice) -> Profile {
    let n = 3 + dice.below(10);
    let vertices = spokes(dice, n, 0.15).iter().map(|p| Vertex::new(p.x, p.y, 0.0)).collect();
    Profile { family: "star", vertices, critical: Vec::new() }
}

/// A star some of whose edges are arcs; arcs that bend too far make it cross itself.
fn bulged(dice: &mut Dice) -> Profile {
    let n = 3 + dice.below(8);
    let points = spokes(dice, n, 0.25);
    let vertices = points.iter().map(|p| {
        let bulge = if dice.coin() { dice.between(-0.4, 0.8) } else { 0.0 };
        Vertex::new(p.x, p.y, bulge)
    });
    Profile { family: "bulged", vertices: vertices.collect(), critical: Vec::new() }
}

/// A star whose corners are rounded by tangent arcs.
fn rounded(dice: &mut Dice) -> Profile {
    let n = 3 + dice.below(8);
    let points = spokes(dice, n, 0.3);
    let share = dice.between(0.05, 0.45);
    Profile { family: "rounded", vertices: fillet(&points, share), critical: Vec::new() }
}

/// Rounds every corner of a polygon; the arcs begin a `share` of the shorter neighbouring edge away from the corner.
fn fillet(points: &[Point], share: f64) -> Vec<Vertex> {
    let n = points.len();
    let mut vertices = Vec::with_capacity(2 * n);
    for i in 0..n {
        let (before, corner, after) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
        let cut = share * corner.distance(before).min(corner.distance(after));
        let (Some(back), Some(on)) = ((before - corner).unit(), (after - corner).unit()) else { continue };
        let sweep = (-back).cross(on).atan2((-back).dot(on));
        let (start, end) = (corner + back * cut, corner + on * cut);
        vertices.push(Vertex::new(start.x, start.y, (sweep / 4.0).tan()));
        vertices.push(Vertex::new(end.x, end.y, 0.0));
    }
    vertices
}

fn slot(dice: &mut Dice) -> Profile {
    let (half, r) = (dice.between(0.05, 0.45), dice.magnitude(0.01, 0.3));
    let vertices = vec![
        Vertex::new(-half, -r, 0.0),
        Vertex::new(half, -r, 1.0),
        Vertex::new(half, r, 0.0),
        Vertex::new(-half, r, 1.0),
    ];
    Profile { family: "slot", vertices, critical: vec![r] }
}

/// Two rooms joined by a neck, each with its own collapse; sometimes with rounded corners.
fn lobes(dice: &mut Dice) -> Profile {
    let (left, right) = (dice.between(0.1, 0.3), dice.between(0.1, 0.3));
    let neck = dice.between(0.02, 0.08);
    let points = [(-0.6, -left), (-0.1, -left), (-0.1, -neck), (0.1, -neck), (0.1, -right), (0.6, -right)];
    let above = points.iter().rev().map(|&(x, y)| (x, -y));
    let corners: Vec<Point> = points.iter().copied().chain(above).map(|(x, y)| Point::new(x, y)).collect();
    let vertices = match dice.coin() {
        true => fillet(&corners, dice.between(0.05, 0.45)),
        false => corners.iter().map(|p| Vertex::new(p.x, p.y, 0.0)).collect(),
    };
    Profile { family: "lobes", vertices, critical: vec![neck, left.min(0.25), right.min(0.25)] }
}

/// A wheel of round teeth and gaps.
fn teeth(dice: &mut Dice) -> Profile {
    let n = 3 + dice.below(10);
    let (tooth, gap) = (dice.between(0.1, 1.0), dice.between(-0.6, 0.3));
    let radius = 0.4;
    let vertices = (0..2 * n).map(|i| {
        let at = Vector::at_angle(PI * i as f64 / n as f64) * radius;
        Vertex::new(at.x, at.y, if i % 2 == 0 { tooth } else { gap })
    });
    Profile { family: "teeth", vertices: vertices.collect(), critical: Vec::new() }
}

/// Sizes that are nearly but not quite the same, where decisions by comparison go wrong.
fn near_equal(dice: &mut Dice) -> Profile {
    let grain = dice.magnitude(1e-9, 1e-3);
    let mut near = |x: f64| x + dice.between(-grain, grain);
    let side = 0.25;
    let corners = [(-side, -side, 0.0), (side, -side, 1.0), (side, side, 0.0), (-side, side, 0.0)];
    let vertices = corners.map(|(x, y, bulge)| Vertex::new(near(x), near(y), bulge)).to_vec();
    Profile { family: "near-equal", vertices, critical: vec![side] }
}

/// The same with arcs so flat that their radii run to kilometres.
fn nearly_flat(dice: &mut Dice) -> Profile {
    let mut profile = near_equal(dice);
    let grain = dice.magnitude(1e-9, 1e-3);
    for vertex in &mut profile.vertices {
        vertex.bulge = (vertex.bulge + dice.between(-grain, grain)).min(1.0);
    }
    Profile { family: "nearly-flat", ..profile }
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::{Outline, Segment};

    /// Segments of a closed run of vertices.
    fn segments(vertices: &[Vertex]) -> Vec<Segment> {
        let next = vertices.iter().cycle().skip(1);
        vertices
            .iter()
            .zip(next)
            .map(|(a, b)| Segment { from: a.point, to: b.point, bulge: a.bulge })
            .collect()
    }

    #[test]
    fn most_are_valid_and_every_family_comes_up() {
        let mut dice = Dice::new(1);
        let (mut valid, mut families) = (0, Vec::new());
        for _ in 0..700 {
            let profile = draw(&mut dice, Some(6));
            assert!(
                profile.vertices.iter().all(|v| v.point.is_finite() && v.bulge.abs() <= 1.0),
                "{}",
                profile.family
            );
            if Outline::new(profile.vertices).is_ok() {
                valid += 1;
                families.push(profile.family);
            }
        }
        families.sort_unstable();
        families.dedup();
        assert_eq!(families.len(), FAMILIES.len(), "{families:?}");
        assert!(valid > 500, "{valid}");
    }

    #[test]
    fn rounding_leaves_four_decimals() {
        let profile = draw(&mut Dice::new(3), Some(4));
        assert!(profile.vertices.iter().all(|v| (v.point.x * 1e4 - (v.point.x * 1e4).round()).abs() < 1e-6));
    }

    #[test]
    fn fillets_are_tangent() {
        let corners =
            [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.5, 0.4), (0.0, 1.0)].map(|(x, y)| Point::new(x, y));
        let pieces = segments(&fillet(&corners, 0.3));
        for (a, b) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            assert!(a.direction(1.0).cross(b.direction(0.0)).abs() < 1e-12);
        }
    }
}
