//! Upright boxes: how far something reaches in x and y.

use crate::Point;

/// An upright box, mm; `min` is its lower left corner, `max` its upper right one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Least x and y.
    pub min: Point,
    /// Greatest x and y.
    pub max: Point,
}

impl Bounds {
    /// Holds nothing; the start of a union.
    pub const EMPTY: Bounds = Bounds {
        min: Point::new(f64::INFINITY, f64::INFINITY),
        max: Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
    };

    /// The box of one place.
    pub const fn of(place: Point) -> Self {
        Self { min: place, max: place }
    }

    /// The least box that holds both.
    pub fn union(self, other: Bounds) -> Bounds {
        Bounds {
            min: Point::new(self.min.x.min(other.min.x), self.min.y.min(other.min.y)),
            max: Point::new(self.max.x.max(other.max.x), self.max.y.max(other.max.y)),
        }
    }

    /// Extent in x.
    pub fn width(&self) -> f64 {
        self.max.x - self.min.x
    }

    /// Extent in y.
    pub fn height(&self) -> f64 {
        self.max.y - self.min.y
    }

    /// The middle of the box.
    pub fn middle(&self) -> Point {
        self.min.towards(self.max, 0.5)
    }

    /// Square of the distance from a place to the box; 0 inside it.
    pub fn distance_squared(&self, place: Point) -> f64 {
        let dx = (self.min.x - place.x).max(place.x - self.max.x).max(0.0);
        let dy = (self.min.y - place.y).max(place.y - self.max.y).max(0.0);
        dx * dx + dy * dy
    }

    /// Whether the boxes come within `by` of each other, both in x and in y.
    pub fn comes_within(&self, other: &Bounds, by: f64) -> bool {
        self.min.x - by <= other.max.x
            && other.min.x - by <= self.max.x
            && self.min.y - by <= other.max.y
            && other.min.y - by <= self.max.y
    }
}
