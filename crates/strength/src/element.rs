//! One six-node triangle: its shape functions, its stiffness in plane strain, the stress in it.

use crate::Material;
use outline::{Point, Vector};

/// What one corner or middle does to another: force x, y by displacement x, y, row after row.
pub(crate) type Block = [f64; 4];

/// Places and shares of the area at which a polynomial of degree 2 is summed exactly: all that straight sides need.
const STRAIGHT: [([f64; 2], f64); 3] = [
    ([1.0 / 6.0, 1.0 / 6.0], 1.0 / 3.0),
    ([2.0 / 3.0, 1.0 / 6.0], 1.0 / 3.0),
    ([1.0 / 6.0, 2.0 / 3.0], 1.0 / 3.0),
];

/// The same of degree 4, for triangles with a bent side. (Dunavant, "High degree efficient symmetrical Gaussian quadrature
/// rules for the triangle", 1985; from memory, and a test sums all monomials.)
const BENT: [([f64; 2], f64); 6] = {
    const A: f64 = 0.445_948_490_915_965;
    const B: f64 = 0.091_576_213_509_771;
    const WA: f64 = 0.223_381_589_678_011;
    const WB: f64 = 0.109_951_743_655_322;
    [
        ([A, A], WA),
        ([1.0 - 2.0 * A, A], WA),
        ([A, 1.0 - 2.0 * A], WA),
        ([B, B], WB),
        ([1.0 - 2.0 * B, B], WB),
        ([B, 1.0 - 2.0 * B], WB),
    ]
};

/// Stress in the plane, MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stress {
    pub(crate) xx: f64,
    pub(crate) yy: f64,
    pub(crate) xy: f64,
}

impl Stress {
    /// Stress from the sides of a small square: along `way`, across it, and the shear between them.
    pub(crate) fn along(along: f64, across: f64) -> Self {
        Self { xx: along, yy: across, xy: 0.0 }
    }

    /// The stress square to a unit direction.
    pub(crate) fn across(&self, normal: Vector) -> f64 {
        self.xx * normal.x * normal.x + 2.0 * self.xy * normal.x * normal.y + self.yy * normal.y * normal.y
    }

    /// The shear between a unit direction and the one to its left.
    pub(crate) fn shear(&self, way: Vector) -> f64 {
        (self.yy - self.xx) * way.x * way.y + self.xy * (way.x * way.x - way.y * way.y)
    }

    /// The greatest principal stress in the plane.
    pub(crate) fn tension(&self) -> f64 {
        let half = 0.5 * (self.xx - self.yy);
        0.5 * (self.xx + self.yy) + (half * half + self.xy * self.xy).sqrt()
    }

    /// The equivalent stress of von Mises in plane strain, where the stress out of the plane is nu (xx + yy).
    pub(crate) fn equivalent(&self, nu: f64) -> f64 {
        let (sum, half) = (self.xx + self.yy, 0.5 * (self.xx - self.yy));
        let shear = half * half + self.xy * self.xy;
        let out = 1.0 - 2.0 * nu;
        (0.25 * out * out * sum * sum + 3.0 * shear).sqrt()
    }
}

/// Derivatives of the shape functions by x and y at a place, and how much area a unit of the reference triangle stands for.
/// None where the triangle is folded over.
pub(crate) fn slopes(corners: &[Point; 6], [u, v]: [f64; 2]) -> Option<([Vector; 6], f64)> {
    let w = 1.0 - u - v;
    let by_u = [1.0 - 4.0 * w, 4.0 * u - 1.0, 0.0, 4.0 * (w - u), 4.0 * v, -4.0 * v];
    let by_v = [1.0 - 4.0 * w, 0.0, 4.0 * v - 1.0, -4.0 * u, 4.0 * u, 4.0 * (w - v)];
    let along = |by: &[f64; 6]| {
        corners.iter().zip(by).fold(Vector::new(0.0, 0.0), |sum, (p, s)| sum + Vector::new(p.x, p.y) * *s)
    };
    let (du, dv) = (along(&by_u), along(&by_v));
    let area = du.cross(dv);
    if area <= 0.0 || !area.is_finite() {
        return None;
    }
    let slope = |i: usize| {
        Vector::new(by_u[i] * dv.y - by_v[i] * du.y, by_v[i] * du.x - by_u[i] * dv.x) * (1.0 / area)
    };
    Some((std::array::from_fn(slope), area))
}

/// Stiffness of a triangle of unit thickness, N/mm for each mm: a block for each pair of its nodes. None if it is folded over.
pub(crate) fn stiffness(corners: &[Point; 6], curved: bool, material: &Material) -> Option<[[Block; 6]; 6]> {
    let (lambda, mu) = material.lame();
    let mut sum = [[[0.0; 4]; 6]; 6];
    let places: &[([f64; 2], f64)] = if curved { &BENT } else { &STRAIGHT };
    for (place, share) in places {
        let (slopes, area) = slopes(corners, *place)?;
        let weight = 0.5 * share * area;
        for (a, row) in slopes.iter().zip(&mut sum) {
            for (b, block) in slopes.iter().zip(row) {
                let both = mu * a.dot(*b);
                block[0] += weight * ((lambda + mu) * a.x * b.x + both);
                block[1] += weight * (lambda * a.x * b.y + mu * a.y * b.x);
                block[2] += weight * (lambda * a.y * b.x + mu * a.x * b.y);
                block[3] += weight * ((lambda + mu) * a.y * b.y + both);
            }
        }
    }
    Some(sum)
}

/// Stress at a place of a triangle whose nodes have moved so; none where it is folded over.
pub(crate) fn stress(
    corners: &[Point; 6],
    moved: &[Vector; 6],
    place: [f64; 2],
    material: &Material,
) -> Option<Stress> {
    let (lambda, mu) = material.lame();
    let (slopes, _) = slopes(corners, place)?;
    let mut strain = [0.0; 3];
    for (slope, u) in slopes.iter().zip(moved) {
        strain[0] += slope.x * u.x;
        strain[1] += slope.y * u.y;
        strain[2] += slope.y * u.x + slope.x * u.y;
    }
    let swell = lambda * (strain[0] + strain[1]);
    Some(Stress { xx: swell + 2.0 * mu * strain[0], yy: swell + 2.0 * mu * strain[1], xy: mu * strain[2] })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A triangle with one bent side.
    fn bent() -> [Point; 6] {
        [(0.0, 0.0), (2.0, 0.1), (0.4, 1.5), (1.0, -0.2), (1.2, 0.8), (0.2, 0.75)]
            .map(|(x, y)| Point::new(x, y))
    }

    fn material() -> Material {
        Material::new(210_000.0, 0.3).unwrap()
    }

    #[test]
    fn the_rules_sum_monomials() {
        let factorial = |n: i32| (1..=n).map(f64::from).product::<f64>();
        for (rule, degree) in [(&STRAIGHT[..], 2), (&BENT[..], 4)] {
            for (a, b) in (0..=degree).flat_map(|a| (0..=degree - a).map(move |b| (a, b))) {
                let sum: f64 = rule.iter().map(|([u, v], share)| 0.5 * share * u.powi(a) * v.powi(b)).sum();
                let exact = factorial(a) * factorial(b) / factorial(a + b + 2);
                assert!((sum - exact).abs() < 1e-14, "u^{a} v^{b}: {sum} for {exact}");
            }
        }
    }

    #[test]
    fn rigid_motions_take_no_force() {
        let corners = bent();
        let blocks = stiffness(&corners, true, &material()).unwrap();
        let largest = blocks.iter().flatten().flatten().fold(0.0f64, |most, part| most.max(part.abs()));
        let motions: [fn(Point) -> Vector; 3] =
            [|_| Vector::new(1.0, 0.0), |_| Vector::new(0.0, 1.0), |p| Vector::new(-p.y, p.x)];
        for motion in motions {
            let moved = corners.map(motion);
            for row in &blocks {
                let force = row.iter().zip(&moved).fold((0.0, 0.0), |(x, y), (block, u)| {
                    (x + block[0] * u.x + block[1] * u.y, y + block[2] * u.x + block[3] * u.y)
                });
                assert!(force.0.abs().max(force.1.abs()) < 1e-13 * largest, "{force:?}");
            }
            let stress = stress(&corners, &moved, [0.2, 0.3], &material()).unwrap();
            assert!(stress.xx.abs().max(stress.yy.abs()).max(stress.xy.abs()) < 1e-9, "{stress:?}");
        }
    }

    #[test]
    fn the_stiffness_is_symmetric() {
        let blocks = stiffness(&bent(), true, &material()).unwrap();
        for (a, row) in blocks.iter().enumerate() {
            for (b, block) in row.iter().enumerate() {
                let other = blocks[b][a];
                for (one, turned) in [(0, 0), (1, 2), (2, 1), (3, 3)] {
                    assert!((block[one] - other[turned]).abs() <= 1e-9 * block[0].abs().max(1.0));
                }
            }
        }
    }

    /// A linear displacement gives the stress of plane strain, also in a bent triangle.
    #[test]
    fn linear_displacements_are_exact() {
        let (e, nu) = (210_000.0, 0.3);
        let moved = bent().map(|p| Vector::new(1e-3 * p.x + 4e-4 * p.y, -2e-4 * p.x - 5e-4 * p.y));
        let factor = e / ((1.0 + nu) * (1.0 - 2.0 * nu));
        let expected = Stress {
            xx: factor * ((1.0 - nu) * 1e-3 - nu * 5e-4),
            yy: factor * (nu * 1e-3 - (1.0 - nu) * 5e-4),
            xy: e / (2.0 * (1.0 + nu)) * 2e-4,
        };
        for place in [[0.0, 0.0], [0.5, 0.5], [0.1, 0.7]] {
            let found = stress(&bent(), &moved, place, &material()).unwrap();
            let off = [found.xx - expected.xx, found.yy - expected.yy, found.xy - expected.xy];
            assert!(off.iter().all(|off| off.abs() < 1e-9), "{found:?} for {expected:?}");
        }
    }

    #[test]
    fn measures_of_a_stress() {
        let shear = Stress { xx: 0.0, yy: 0.0, xy: 50.0 };
        assert!((shear.tension() - 50.0).abs() < 1e-12);
        assert!((shear.equivalent(0.3) - 50.0 * 3f64.sqrt()).abs() < 1e-12);
        let slanted = Vector::at_angle(std::f64::consts::FRAC_PI_4);
        assert!((shear.across(slanted) - 50.0).abs() < 1e-12 && shear.shear(slanted).abs() < 1e-12);
        // Nothing but pressure all round: equivalent (1 - 2 nu) p, nothing at nu 0.5.
        let pressed = Stress::along(-80.0, -80.0);
        assert!((pressed.equivalent(0.3) - 32.0).abs() < 1e-12 && pressed.equivalent(0.5).abs() < 1e-12);
    }

    #[test]
    fn a_folded_triangle_is_none() {
        let mut corners = bent();
        corners.swap(1, 2);
        assert!(stiffness(&corners, true, &material()).is_none());
    }
}
