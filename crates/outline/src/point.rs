//! Points and vectors of the plane, kept apart so that a place is never taken for a displacement.

use std::ops::{Add, Mul, Neg, Sub};

/// A place, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// A displacement, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vector {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

impl Point {
    /// The place at (x, y).
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to another place.
    pub fn distance(self, other: Point) -> f64 {
        (self - other).length()
    }

    /// The place a share `t` of the way to another.
    pub fn towards(self, other: Point, t: f64) -> Point {
        self + (other - self) * t
    }

    /// Whether both coordinates are finite.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Vector {
    /// The displacement (x, y).
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The unit displacement in a direction, radians from x.
    pub fn at_angle(angle: f64) -> Self {
        let (sin, cos) = angle.sin_cos();
        Self { x: cos, y: sin }
    }

    /// Its length.
    pub fn length(self) -> f64 {
        // Not hypot: no length here is near what f64 can hold, and a root is the same on every machine.
        (self.x * self.x + self.y * self.y).sqrt()
    }

    /// Its direction, radians from x in (-pi, pi].
    pub fn angle(self) -> f64 {
        self.y.atan2(self.x)
    }

    /// The inner product.
    pub fn dot(self, other: Vector) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The outer product: positive when `other` lies to the left.
    pub fn cross(self, other: Vector) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Turned a quarter counter-clockwise: what lies to the left.
    pub fn left(self) -> Vector {
        Vector::new(-self.y, self.x)
    }

    /// The same direction with length 1; none for the zero vector.
    pub fn unit(self) -> Option<Vector> {
        let length = self.length();
        (length > 0.0 && length.is_finite()).then(|| self * (1.0 / length))
    }
}

impl Sub for Point {
    type Output = Vector;
    fn sub(self, other: Point) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Add<Vector> for Point {
    type Output = Point;
    fn add(self, by: Vector) -> Point {
        Point::new(self.x + by.x, self.y + by.y)
    }
}

impl Sub<Vector> for Point {
    type Output = Point;
    fn sub(self, by: Vector) -> Point {
        Point::new(self.x - by.x, self.y - by.y)
    }
}

impl Add for Vector {
    type Output = Vector;
    fn add(self, other: Vector) -> Vector {
        Vector::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vector {
    type Output = Vector;
    fn sub(self, other: Vector) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Vector;
    fn mul(self, by: f64) -> Vector {
        Vector::new(self.x * by, self.y * by)
    }
}

impl Neg for Vector {
    type Output = Vector;
    fn neg(self) -> Vector {
        Vector::new(-self.x, -self.y)
    }
}
