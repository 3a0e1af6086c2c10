//! Area, perimeter, centroid, second moments and bounds, exact over arcs.
//!
//! Stages: the polygon of the chords by the usual sums, then what each arc adds beyond its chord, integrated in the
//! chord's own frame. There the height of the arc is a product, not a difference, so a nearly flat arc loses no digits.
//! The integrals are polynomials in sine and cosine over at most half a circle; sixteen Gauss points take them to the
//! last bit of f64 (the remainder is below 1e-19 of the size).

use crate::{Bounds, Outline, Piece, Point, Segment, Vector, Vertex, outline::segments_of};

/// Second moments of area about the centroid, mm^4.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecondMoments {
    /// Integral of y^2.
    pub ixx: f64,
    /// Integral of x^2.
    pub iyy: f64,
    /// Integral of x*y.
    pub ixy: f64,
    /// The least over all axes through the centroid: what a slender punch buckles about.
    pub least: f64,
}

/// Integrals over a region about some place: 1, x, y, y^2, x^2, x*y.
#[derive(Debug, Clone, Copy, Default)]
struct Integrals {
    area: f64,
    x: f64,
    y: f64,
    yy: f64,
    xx: f64,
    xy: f64,
}

impl Outline {
    /// Enclosed area, mm^2.
    pub fn area(&self) -> f64 {
        self.integrals(self.bounds().middle()).area
    }

    /// Length of the edge, mm.
    pub fn perimeter(&self) -> f64 {
        self.segments().map(|s| s.length()).sum()
    }

    /// Centre of the area.
    pub fn centroid(&self) -> Point {
        let about = self.bounds().middle();
        let sums = self.integrals(about);
        about + Vector::new(sums.x / sums.area, sums.y / sums.area)
    }

    /// Second moments of area about the centroid.
    pub fn second_moments(&self) -> SecondMoments {
        let sums = self.integrals(self.centroid());
        let half_difference = (sums.yy - sums.xx) / 2.0;
        let least = (sums.yy + sums.xx) / 2.0 - half_difference.hypot(sums.xy);
        SecondMoments { ixx: sums.yy, iyy: sums.xx, ixy: sums.xy, least }
    }

    /// The upright box around it, exact over arcs.
    pub fn bounds(&self) -> Bounds {
        self.tree().bounds()
    }

    fn integrals(&self, about: Point) -> Integrals {
        self.segments().fold(Integrals::default(), |sums, s| sums.with_segment(&s, about))
    }
}

/// Area enclosed by a closed run of vertices, mm^2; negative when it runs clockwise.
pub(crate) fn signed_area(vertices: &[Vertex]) -> f64 {
    let Some(first) = vertices.first() else {
        return 0.0;
    };
    segments_of(vertices).fold(Integrals::default(), |sums, s| sums.with_segment(&s, first.point)).area
}

impl Integrals {
    /// Adds the triangle between a segment's chord and `about`, and what its arc adds beyond the chord.
    fn with_segment(self, segment: &Segment, about: Point) -> Integrals {
        let with_chord = self.with_triangle(segment.from - about, segment.to - about);
        match segment.is_line() {
            true => with_chord,
            false => with_chord.with_cap(&Piece::new(*segment), about),
        }
    }

    fn with_triangle(self, p: Vector, q: Vector) -> Integrals {
        let c = p.cross(q);
        Integrals {
            area: self.area + c / 2.0,
            x: self.x + c * (p.x + q.x) / 6.0,
            y: self.y + c * (p.y + q.y) / 6.0,
            yy: self.yy + c * (p.y * p.y + p.y * q.y + q.y * q.y) / 12.0,
            xx: self.xx + c * (p.x * p.x + p.x * q.x + q.x * q.x) / 12.0,
            xy: self.xy + c * (2.0 * (p.x * p.y + q.x * q.y) + p.x * q.y + q.x * p.y) / 24.0,
        }
    }

    /// Adds the cap between an arc and its chord; a clockwise arc takes its cap away.
    fn with_cap(self, arc: &Piece, about: Point) -> Integrals {
        let cap = cap(arc);
        // From the chord's frame (x along it, y out of the arc's side) to the plane, then from the chord's middle to `about`.
        let sign = arc.turn;
        let (u, v) = (arc.along, -arc.along.left() * sign);
        let m = arc.middle - about;
        let s = v * cap.y;
        let product = |a: f64, b: f64, c: f64, d: f64| cap.xx * a * b + cap.yy * c * d;
        Integrals {
            area: self.area + sign * cap.area,
            x: self.x + sign * (s.x + m.x * cap.area),
            y: self.y + sign * (s.y + m.y * cap.area),
            yy: self.yy + sign * (product(u.y, u.y, v.y, v.y) + 2.0 * m.y * s.y + m.y * m.y * cap.area),
            xx: self.xx + sign * (product(u.x, u.x, v.x, v.x) + 2.0 * m.x * s.x + m.x * m.x * cap.area),
            xy: self.xy + sign * (product(u.x, u.y, v.x, v.y) + m.x * s.y + m.y * s.x + m.x * m.y * cap.area),
        }
    }
}

/// The integrals of the cap between an arc and its chord about the chord's middle, x along the chord, y towards the arc.
fn cap(arc: &Piece) -> Integrals {
    let half_sweep = arc.segment.sweep().abs() / 2.0;
    let mut sums = Integrals::default();
    for (node, weight) in GAUSS {
        for angle in [node * half_sweep, -node * half_sweep] {
            let (sin, cos) = angle.sin_cos();
            let x = arc.radius * sin;
            // r*(cos(angle) - cos(half_sweep)) as a product.
            let height =
                2.0 * arc.radius * ((half_sweep + angle) / 2.0).sin() * ((half_sweep - angle) / 2.0).sin();
            let strip = weight * half_sweep * arc.radius * cos * height;
            sums.area += strip;
            sums.y += strip * height / 2.0;
            sums.yy += strip * height * height / 3.0;
            sums.xx += strip * x * x;
        }
    }
    sums
}

/// Gauss-Legendre nodes and weights of order 16 on [-1, 1], the positive half (Abramowitz and Stegun, table 25.4;
/// from memory, and tested: they integrate powers up to 31 to the last bits).
const GAUSS: [(f64, f64); 8] = [
    (0.095_012_509_837_637_44, 0.189_450_610_455_068_5),
    (0.281_603_550_779_258_9, 0.182_603_415_044_923_58),
    (0.458_016_777_657_227_4, 0.169_156_519_395_002_54),
    (0.617_876_244_402_643_7, 0.149_595_988_816_576_73),
    (0.755_404_408_355_003, 0.124_628_971_255_533_88),
    (0.865_631_202_387_831_8, 0.095_158_511_682_492_78),
    (0.944_575_023_073_232_6, 0.062_253_523_938_647_894),
    (0.989_400_934_991_649_9, 0.027_152_459_411_754_096),
];

#[cfg(test)]
mod tests {
    use super::GAUSS;

    #[test]
    fn the_gauss_points_integrate_powers_exactly() {
        for power in (0..=30).step_by(2) {
            let sum: f64 = GAUSS.iter().map(|(x, w)| 2.0 * w * x.powi(power)).sum();
            let exact = 2.0 / f64::from(power + 1);
            assert!((sum - exact).abs() < 2e-15, "power {power}: {sum} against {exact}");
        }
    }
}
