//! The same outline elsewhere: moved, turned, scaled, mirrored, begun at another vertex. None of these can make a valid
//! outline invalid, except that scaling may shrink it below what can be told apart.

use crate::outline::other_way_round;
use crate::{Defect, Outline, Point, Vector, Vertex};

impl Outline {
    /// Moved by a displacement, mm.
    pub fn moved(&self, by: Vector) -> Outline {
        self.moved_or(by, || self.each_point(|p| p + by))
    }

    /// Turned about a place, radians, positive counter-clockwise.
    pub fn turned(&self, about: Point, radians: f64) -> Outline {
        let (sin, cos) = radians.sin_cos();
        self.each_point(|p| {
            let out = p - about;
            about + Vector::new(out.x * cos - out.y * sin, out.x * sin + out.y * cos)
        })
    }

    /// Scaled about a place. A negative factor is the same as scaling by its size and turning by half a turn.
    ///
    /// # Errors
    /// What the result breaks, if the factor makes it too small or too large, or is 0 or not finite.
    pub fn scaled(&self, about: Point, factor: f64) -> Result<Outline, Vec<Defect>> {
        Outline::new(self.each_point(|p| about + (p - about) * factor).vertices().to_vec())
    }

    /// Mirrored, x -> -x; the first vertex stays the first.
    pub fn mirrored_x(&self) -> Outline {
        let mirrored: Vec<Vertex> =
            self.vertices().iter().map(|v| Vertex::new(-v.point.x, v.point.y, -v.bulge)).collect();
        Outline::sound(other_way_round(&mirrored))
    }

    /// The same loop begun at another vertex; `index` wraps round.
    pub fn starting_at(&self, index: usize) -> Outline {
        let mut vertices = self.vertices().to_vec();
        let n = vertices.len();
        vertices.rotate_left(index % n);
        Outline::sound(vertices)
    }

    fn each_point(&self, to: impl Fn(Point) -> Point) -> Outline {
        let vertices = self.vertices().iter().map(|v| Vertex { point: to(v.point), bulge: v.bulge });
        Outline::sound(vertices.collect())
    }
}
