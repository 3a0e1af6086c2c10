//! Where a drawing's coordinates come to lie in the plane, mm: the unit, and the inserts that an entity stands in.

use dxf::{Block, Insert};
use outline::{Point, Vector};

/// Axes whose lengths or whose squareness differ by less than this share are those of a similar picture: rounding of sines and cosines.
const SIMILAR: f64 = 1e-12;

/// An affine map: a place (a, b) comes to lie at `at` + a * `x` + b * `y`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Map {
    pub(crate) x: Vector,
    pub(crate) y: Vector,
    pub(crate) at: Point,
}

impl Map {
    /// Drawing units to mm.
    pub(crate) fn scaled(in_mm: f64) -> Self {
        Self { x: Vector::new(in_mm, 0.0), y: Vector::new(0.0, in_mm), at: Point::new(0.0, 0.0) }
    }

    /// Where a copy of a block comes to lie by an insert, in the coordinates that the insert stands in.
    pub(crate) fn of_insert(insert: &Insert, block: &Block, column: u32, row: u32) -> Self {
        let right = direction(insert.turn_deg);
        let mut map = Self {
            x: right * insert.scale[0],
            y: right.left() * insert.scale[1],
            at: Point::new(insert.at[0], insert.at[1]),
        };
        let (along, up) = (f64::from(column) * insert.spacing[0], f64::from(row) * insert.spacing[1]);
        map.at = map.at + right * along + right.left() * up - map.x * block.base[0] - map.y * block.base[1];
        match insert.from_behind {
            true => Self {
                x: seen_from_behind(map.x),
                y: seen_from_behind(map.y),
                at: Point::new(0.0 - map.at.x, map.at.y),
            },
            false => map,
        }
    }

    /// Where this map leads what another one has placed.
    pub(crate) fn after(&self, inner: &Map) -> Self {
        Self { x: self.vector(inner.x), y: self.vector(inner.y), at: self.place([inner.at.x, inner.at.y]) }
    }

    /// Where a place comes to lie.
    pub(crate) fn place(&self, raw: [f64; 2]) -> Point {
        self.at + self.vector(Vector::new(raw[0], raw[1]))
    }

    /// What becomes of a displacement.
    pub(crate) fn vector(&self, raw: Vector) -> Vector {
        self.x * raw.x + self.y * raw.y
    }

    /// What becomes of bulges if circles stay circles: they stay (1) or change sign (-1). None if circles become ellipses.
    pub(crate) fn sense(&self) -> Option<f64> {
        let square = (self.x.dot(self.x), self.y.dot(self.y));
        let largest = square.0.max(square.1);
        let similar =
            (square.0 - square.1).abs() <= SIMILAR * largest && self.x.dot(self.y).abs() <= SIMILAR * largest;
        similar.then(|| self.x.cross(self.y).signum())
    }
}

fn seen_from_behind(v: Vector) -> Vector {
    Vector::new(0.0 - v.x, v.y)
}

/// The unit direction at an angle in degrees, exact at quarter turns.
pub(crate) fn direction(deg: f64) -> Vector {
    let turn = deg.rem_euclid(360.0);
    let quarter = (turn / 90.0).floor();
    let within = Vector::at_angle((turn - quarter * 90.0).to_radians());
    (0..quarter as u32 % 4).fold(within, |direction, _| direction.left())
}
