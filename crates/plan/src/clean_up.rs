//! The probability that the cut removes all of the start hole.
//!
//! The hole's centre lies where it was aimed plus a round normal error; its radius varies normally. It cleans up
//! where the distance from its centre to the finished edge exceeds what it takes. The integral runs over the true
//! region, by circles about the aim: Gauss-Legendre along the radius, equal steps around (which converges fast for
//! a periodic function). Stages: the edge near the aim; the rings; the sum.

use crate::free::Free;
use outline::{Near, Point, Vector};
use std::cell::RefCell;
use std::collections::HashMap;
use std::sync::LazyLock;

/// Beyond this many sigma the position carries less than 1e-14 of the probability.
const FAR: f64 = 8.0;
/// Steps around each ring. Where two edges are equally near, the distance has a kink, and the mean around a ring errs
/// with the square of the step: this many keep it below 1e-6 (checked against SciPy).
const AROUND: usize = 1024;
/// Rings: panels of Gauss-Legendre with eight places each, narrow enough for a radius that hardly varies.
const PANELS: usize = 16;

/// Places and weights of eight-point Gauss-Legendre on [-1, 1], positive half.
/// Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4, n = 8 (from memory; the tests integrate
/// polynomials of degree 15 exactly).
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// Directions of the places on a ring.
static DIRECTIONS: LazyLock<Vec<Vector>> = LazyLock::new(|| {
    let step = std::f64::consts::TAU / AROUND as f64;
    (0..AROUND).map(|k| Vector::at_angle((k as f64 + 0.5) * step)).collect()
});

/// Beyond this a standard normal number lies with a chance that no f64 tells from none.
const CERTAIN: f64 = 8.5;

/// The chance of a standard normal number below `x`.
pub fn below(x: f64) -> f64 {
    if x > CERTAIN {
        return 1.0;
    }
    0.5 * libm::erfc(-x / std::f64::consts::SQRT_2)
}

/// Chances in one opening that are known already: wires share the holes that are looked at.
#[derive(Debug, Clone, Default)]
pub struct Chances {
    known: RefCell<HashMap<[u64; 5], f64>>,
}

impl Chances {
    /// As [`probability`].
    pub fn of(&self, opening: Free, aim: Point, takes: f64, [sigma_position, sigma_size]: [f64; 2]) -> f64 {
        let key = [aim.x, aim.y, takes, sigma_position, sigma_size].map(f64::to_bits);
        let find = || probability(opening, aim, takes, sigma_position, sigma_size);
        *self.known.borrow_mut().entry(key).or_insert_with(find)
    }
}

/// Probability that a hole aimed at `aim` cleans up in `opening`, when it takes `takes` mm around its centre apart
/// from chance, its position has `sigma_position` along each axis and its radius `sigma_size` (mm).
pub fn probability(opening: Free, aim: Point, takes: f64, sigma_position: f64, sigma_size: f64) -> f64 {
    let reach = FAR * sigma_position;
    let distance = opening.clear(aim);
    let cleans = |signed: f64| match sigma_size > 0.0 {
        true => below((signed - takes) / sigma_size),
        false => f64::from(u8::from(signed >= takes)),
    };
    if sigma_position <= 0.0 {
        return cleans(distance);
    }
    // No edge that is farther than this can be nearest anywhere within reach, and beyond it nothing is in doubt.
    let near = Near::new(opening.edge, aim, distance.abs() + 2.0 * reach);
    let mut sum = 0.0;
    for panel in 0..PANELS {
        let half = FAR / (2.0 * PANELS as f64);
        let middle = (2 * panel + 1) as f64 * half;
        for (place, weight) in GAUSS {
            for sign in [-1.0, 1.0] {
                let ring = middle + sign * place * half;
                let density = ring * (-0.5 * ring * ring).exp();
                let radius = ring * sigma_position;
                // The distance changes by no more than the place does: where all of a ring is sure, nothing is looked at.
                let mean = match (distance - takes).abs() - radius > FAR * sigma_size {
                    true => f64::from(u8::from(distance > takes)),
                    false if distance > reach => {
                        let about = near.about(radius);
                        around(aim, radius, |place| cleans(about.distance(place)))
                    }
                    false => around(aim, radius, |place| cleans(opening.clear(place))),
                };
                sum += weight * half * density * mean;
            }
        }
    }
    sum.clamp(0.0, 1.0)
}

/// A lower bound of the probability, from the distance to the nearest edge alone: the position errs by less than a
/// share of the slack and the radius by less than the rest. Cheap; close enough where there is room.
pub fn at_least(slack: f64, sigma_position: f64, sigma_size: f64) -> f64 {
    if slack <= 0.0 || sigma_position <= 0.0 || sigma_size <= 0.0 {
        return 0.0;
    }
    // In equal multiples of both sigmas; the position's share is a Rayleigh tail, the radius's a normal one.
    let k = slack / (sigma_position + sigma_size);
    (1.0 - (-0.5 * k * k).exp() - below(-k)).max(0.0)
}

/// Mean of `f` over a circle.
fn around(centre: Point, radius: f64, f: impl Fn(Point) -> f64) -> f64 {
    let places = DIRECTIONS.iter().map(|direction| centre + *direction * radius);
    places.map(f).sum::<f64>() / AROUND as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::{Outline, Vertex};

    fn slab(half: f64) -> Outline {
        let corners = [(-50.0, -half), (50.0, -half), (50.0, half), (-50.0, half)];
        Outline::new(corners.iter().map(|&(x, y)| Vertex::new(x, y, 0.0)).collect()).unwrap()
    }

    /// Beside one straight edge the sum of two normal numbers decides: P = Phi(slack / sqrt(s_p^2 + s_q^2)).
    #[test]
    fn beside_one_straight_edge() {
        let (s_p, s_q) = (0.004, 0.0017);
        for slack in [-0.005, 0.0, 0.004, 0.01] {
            let aim = Point::new(0.0, -10.0 + 0.2 + slack);
            let ours = probability(Free::inside(&slab(10.0)), aim, 0.2, s_p, s_q);
            let closed = below(slack / f64::hypot(s_p, s_q));
            assert!((ours - closed).abs() < 1e-7, "slack {slack}: {ours} {closed}");
        }
    }

    fn disk(radius: f64) -> Outline {
        Outline::new(vec![Vertex::new(radius, 0.0, 1.0), Vertex::new(-radius, 0.0, 1.0)]).unwrap()
    }

    /// In the middle of a round opening everything hangs on how far off the hole is: a single integral, by Simpson's rule.
    #[test]
    fn in_the_middle_of_a_circle() {
        let n = 200_000;
        for (radius, takes, s_p, s_q) in [
            (0.17, 0.145, 0.012, 0.0017),
            (0.3, 0.29, 0.004, 0.01),
            (0.2, 0.21, 0.01, 0.02),
            (0.05, 0.01, 0.03, 0.005),
        ] {
            let step = FAR / f64::from(n);
            let at = |i: i32| {
                let u = f64::from(i) * step;
                u * (-0.5 * u * u).exp() * below((radius - u * s_p - takes) / s_q)
            };
            let inner: f64 = (1..n).map(|i| if i % 2 == 1 { 4.0 * at(i) } else { 2.0 * at(i) }).sum();
            let simpson = step / 3.0 * (at(0) + inner + at(n));
            let ours = probability(Free::inside(&disk(radius)), Point::new(0.0, 0.0), takes, s_p, s_q);
            assert!((ours - simpson).abs() < 1e-9, "{radius}: {ours} {simpson}");
        }
    }

    /// Without one of the errors the other decides alone; without both it is yes or no.
    #[test]
    fn with_one_error_alone() {
        let (hole, middle) = (disk(0.2), Point::new(0.0, 0.0));
        let ours = probability(Free::inside(&hole), middle, 0.19, 0.0, 0.005);
        assert!((ours - below(2.0)).abs() < 1e-12, "{ours}");
        // A Rayleigh distribution; where it is cut off, one panel holds a step.
        let ours = probability(Free::inside(&hole), middle, 0.19, 0.005, 0.0);
        assert!((ours - (1.0 - (-0.5 * 4.0f64).exp())).abs() < 0.03, "{ours}");
        assert_eq!(probability(Free::inside(&hole), middle, 0.19, 0.0, 0.0), 1.0);
        assert_eq!(probability(Free::inside(&hole), middle, 0.21, 0.0, 0.0), 0.0);
    }

    #[test]
    fn the_cheap_bound_promises_nothing_without_room_or_errors() {
        for (slack, s_p, s_q) in [(0.0, 0.01, 0.01), (-0.1, 0.01, 0.01), (0.1, 0.0, 0.01), (0.1, 0.01, 0.0)] {
            assert_eq!(at_least(slack, s_p, s_q), 0.0, "{slack} {s_p} {s_q}");
        }
    }

    #[test]
    fn the_cheap_bound_is_below_the_integral() {
        let (s_p, s_q) = (0.0040855, 0.0016667);
        for slack in [0.001, 0.005, 0.013, 0.02, 0.05] {
            let aim = Point::new(0.0, 0.0);
            let ours = probability(Free::inside(&slab(0.2)), aim, 0.2 - slack, s_p, s_q);
            let bound = at_least(slack, s_p, s_q);
            assert!(bound <= ours + 1e-9, "slack {slack}: {bound} {ours}");
        }
        assert!(at_least(0.03, s_p, s_q) > 0.999);
    }

    #[test]
    fn what_is_certain_is_what_the_error_function_says() {
        for x in [CERTAIN, CERTAIN + 1e-9, 9.0, 20.0, 100.0, f64::INFINITY] {
            assert_eq!(below(x), 0.5 * libm::erfc(-x / std::f64::consts::SQRT_2));
        }
        assert!(below(-CERTAIN) > 0.0 && below(0.0) == 0.5);
    }

    #[test]
    fn gauss_is_exact_to_degree_15() {
        for degree in (0..=14).step_by(2) {
            let sum: f64 = GAUSS.iter().map(|(x, w)| 2.0 * w * x.powi(degree)).sum();
            assert!((sum - 2.0 / f64::from(degree + 1)).abs() < 1e-14, "degree {degree}: {sum}");
        }
    }
}
