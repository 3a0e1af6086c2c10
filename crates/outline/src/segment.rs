//! One piece of an outline: a line, or an arc of at most half a circle.

use crate::{Bounds, Piece, Point, Vector};

/// A directed line or arc; bulge = tan(sweep / 4), positive counter-clockwise, 0 for a line, |bulge| <= 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// How it bends.
    pub bulge: f64,
}

impl Segment {
    /// A straight piece.
    pub const fn line(from: Point, to: Point) -> Self {
        Self { from, to, bulge: 0.0 }
    }

    /// Whether it is straight.
    pub fn is_line(&self) -> bool {
        self.bulge == 0.0
    }

    /// The angle that its direction turns through, radians, positive counter-clockwise.
    pub fn sweep(&self) -> f64 {
        4.0 * self.bulge.atan()
    }

    /// Radius; infinite for a line.
    pub fn radius(&self) -> f64 {
        if self.is_line() {
            return f64::INFINITY;
        }
        self.from.distance(self.to) * (1.0 + self.bulge * self.bulge) / (4.0 * self.bulge.abs())
    }

    /// Centre of the circle it lies on; none for a line.
    pub fn centre(&self) -> Option<Point> {
        if self.is_line() {
            return None;
        }
        let chord = self.to - self.from;
        let middle = self.from.towards(self.to, 0.5);
        Some(middle + chord.left() * ((1.0 - self.bulge * self.bulge) / (4.0 * self.bulge)))
    }

    /// Its length along the way.
    pub fn length(&self) -> f64 {
        match self.is_line() {
            true => self.from.distance(self.to),
            false => self.radius() * self.sweep().abs(),
        }
    }

    /// The point a share `t` (0 to 1) of its length along it.
    pub fn at(&self, t: f64) -> Point {
        let Some(along) = (self.to - self.from).unit().filter(|_| !self.is_line()) else {
            return self.from.towards(self.to, t);
        };
        // In the chord's frame, where a flat arc loses no digits: its centre may lie kilometres away.
        let (radius, half) = (self.radius(), 0.5 * self.sweep().abs());
        let turn = (2.0 * t - 1.0) * half;
        let rise = 2.0 * radius * (0.5 * (half + turn)).sin() * (0.5 * (half - turn)).sin();
        let middle = self.from.towards(self.to, 0.5);
        middle + along * (radius * turn.sin()) - along.left() * (rise * self.bulge.signum())
    }

    /// Unit direction of travel a share `t` of its length along it.
    pub fn direction(&self, t: f64) -> Vector {
        let chord = self.to - self.from;
        Vector::at_angle(chord.angle() + (t - 0.5) * self.sweep())
    }

    /// The same piece travelled the other way.
    pub fn reversed(&self) -> Segment {
        Segment { from: self.to, to: self.from, bulge: -self.bulge }
    }

    /// The point of it nearest to `place`, and the share of its length at which it lies.
    pub fn nearest(&self, place: Point) -> (Point, f64) {
        let piece = Piece::new(*self);
        let foot = piece.foot(place);
        (foot.point, piece.share(&foot))
    }

    /// Distance from `place` to the nearest point of it.
    pub fn distance(&self, place: Point) -> f64 {
        Piece::new(*self).foot(place).distance
    }

    /// The upright box around it, exact over an arc.
    pub fn bounds(&self) -> Bounds {
        Piece::new(*self).bounds()
    }
}
