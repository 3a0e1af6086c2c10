//! A wall of a room: what a disc in the room can touch. A segment of an edge, or a corner that points into the room.
//!
//! Travelled with the room on its left, a wall is told by a share from -1 at its start to 1 at its end: of a segment's
//! length, or of the turn from the normal before a corner to the normal after it. A disc that touches a wall at a place has
//! its centre on the normal there; the disc that touches a second wall as well has a radius in closed form, because the
//! distance to a line, a circle or a point is linear, or linear after squaring, in that radius.

use crate::{Bounds, Piece, Point, Segment, Vector};

/// Corners that turn by less have no wall of their own, radians: the walls beside them meet.
const LEAST_TURN: f64 = 1e-9;

/// A place on a wall counts as on it up to this far beyond its ends, mm.
const BEYOND: f64 = 1e-9;

/// What a disc can touch.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Wall {
    /// A segment.
    Edge(Piece),
    /// A corner that points into the room.
    Corner(Tip),
}

/// A corner and the normals between those of its two segments.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tip {
    pub place: Point,
    /// Unit normal half-way.
    pub middle: Vector,
    /// Half the turn, radians.
    pub half: f64,
}

/// How a wall bends: what decides where a disc between two walls is smallest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Bend {
    Straight,
    /// Into the room, about a centre with a radius; a corner has radius 0.
    Into(Point, f64),
    /// Away from the room.
    Away(Point, f64),
}

impl Wall {
    /// The wall of a segment, and of the corner at its end if that points into the room.
    pub fn of(segment: Segment, next: Segment) -> (Wall, Option<Wall>) {
        let edge = Wall::Edge(Piece::new(segment));
        let (before, after) = (edge.at(1.0).1, Wall::Edge(Piece::new(next)).at(-1.0).1);
        let turn = before.cross(after).atan2(before.dot(after));
        // Straight ahead serves where the two normals cancel: the tip of a spike.
        let (normals, ahead) = (before + after, (after - before).left());
        let middle = if normals.length() > ahead.length() { normals.unit() } else { ahead.unit() };
        let tip = middle
            .filter(|_| turn < -LEAST_TURN)
            .map(|middle| Wall::Corner(Tip { place: segment.to, middle, half: 0.5 * turn.abs() }));
        (edge, tip)
    }

    /// The place at a share of it, and the unit normal into the room there.
    pub fn at(&self, share: f64) -> (Point, Vector) {
        match self {
            Wall::Corner(tip) => {
                let (sin, cos) = (-share * tip.half).sin_cos();
                (tip.place, tip.middle * cos + tip.middle.left() * sin)
            }
            Wall::Edge(piece) => {
                let (place, normal) = match piece.is_line() {
                    true => (Vector::new(share * piece.half, 0.0), Vector::new(0.0, 1.0)),
                    false => on_arc(piece, share * half_sweep(piece)),
                };
                (piece.global(place), piece.along * normal.x + piece.along.left() * normal.y)
            }
        }
    }

    /// Radius of the disc that touches this wall's whole line, circle or point and, from a place with this normal, another.
    pub fn touching(&self, place: Point, normal: Vector) -> Option<f64> {
        let radius = match self {
            Wall::Corner(tip) => {
                let out = place - tip.place;
                -out.dot(out) / (2.0 * normal.dot(out))
            }
            Wall::Edge(piece) => {
                let at = piece.local(place);
                let n = Vector::new(piece.along.dot(normal), piece.along.cross(normal));
                match piece.is_line() {
                    true => at.y / (1.0 - n.y),
                    false => {
                        let power = at.dot(at) - piece.half * piece.half - 2.0 * piece.lift * at.y;
                        -power / (2.0 * (n.x * at.x + n.y * (at.y - piece.lift) + piece.turn * piece.radius))
                    }
                }
            }
        };
        (radius > 0.0 && radius.is_finite()).then_some(radius)
    }

    /// The share at which a disc about a centre touches; beyond -1 or 1 when that is off the wall.
    pub fn share_of(&self, centre: Point) -> f64 {
        match self {
            Wall::Corner(tip) => self.share_facing(centre - tip.place),
            Wall::Edge(piece) => {
                let at = piece.local(centre);
                match piece.is_line() {
                    true => at.x / piece.half,
                    false => at.x.atan2(piece.turn * (piece.lift - at.y)) / half_sweep(piece),
                }
            }
        }
    }

    /// The share at which a wall that bends has a normal in this direction.
    pub fn share_facing(&self, normal: Vector) -> f64 {
        match self {
            Wall::Corner(tip) => -tip.middle.cross(normal).atan2(tip.middle.dot(normal)) / tip.half,
            Wall::Edge(piece) => {
                let (x, y) = (piece.along.dot(normal), piece.along.cross(normal));
                (-piece.turn * x).atan2(y) / half_sweep(piece)
            }
        }
    }

    /// Length of the way that the centre of a disc of this radius takes from one end of the wall to the other, mm.
    pub fn way(&self, radius: f64) -> f64 {
        match self {
            Wall::Corner(tip) => 2.0 * tip.half * radius,
            Wall::Edge(piece) => match piece.is_line() {
                true => 2.0 * piece.half,
                false => 2.0 * half_sweep(piece) * (piece.radius - piece.turn * radius).abs(),
            },
        }
    }

    /// Whether a share lies on the wall, for a disc of this radius.
    pub fn holds(&self, share: f64, radius: f64) -> bool {
        let half = match self {
            Wall::Corner(tip) => tip.half * radius,
            Wall::Edge(piece) => piece.half,
        };
        (share.abs() - 1.0) * half <= BEYOND * (1.0 + 2.0 * radius)
    }

    pub fn bend(&self) -> Bend {
        match self {
            Wall::Corner(tip) => Bend::Into(tip.place, 0.0),
            Wall::Edge(piece) if piece.is_line() => Bend::Straight,
            Wall::Edge(piece) if piece.turn > 0.0 => Bend::Away(piece.centre(), piece.radius),
            Wall::Edge(piece) => Bend::Into(piece.centre(), piece.radius),
        }
    }

    /// How far its normal turns from start to end, radians, positive counter-clockwise.
    pub fn turn(&self) -> f64 {
        match self {
            Wall::Corner(tip) => -2.0 * tip.half,
            Wall::Edge(piece) => piece.turn * 2.0 * half_sweep(piece),
        }
    }

    pub fn bounds(&self) -> Bounds {
        match self {
            Wall::Corner(tip) => Bounds::of(tip.place),
            Wall::Edge(piece) => piece.bounds(),
        }
    }
}

fn half_sweep(piece: &Piece) -> f64 {
    2.0 * piece.segment.bulge.abs().atan()
}

/// The place an angle on from an arc's middle, and the normal to its left, in the chord's frame. The height is a product,
/// not a difference, so that a flat arc loses no digits.
fn on_arc(piece: &Piece, angle: f64) -> (Vector, Vector) {
    let half = half_sweep(piece);
    let (sin, cos) = angle.sin_cos();
    let height = 2.0 * piece.radius * (0.5 * (half + angle)).sin() * (0.5 * (half - angle)).sin();
    (Vector::new(piece.radius * sin, -piece.turn * height), Vector::new(-piece.turn * sin, cos))
}
