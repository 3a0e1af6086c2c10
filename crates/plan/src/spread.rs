//! A section as a plate: its openings as the wire leaves them, pressed apart, and its sides as the frame squeezes them.
//!
//! The frame is taken as a pressure on the sides, not as a wall: it does not give more where the section bulges. The tension at
//! a place grows linearly with that pressure or falls with it, so the greatest over a range of pressures is at one of
//! its ends: both are looked at. A frame that may clear squeezes with nothing at one end.

use crate::outside::{Face, Outside};
use crate::webs;
use outline::{Outline, Point};
use rayon::prelude::*;
use strength::{Aim, Edge, Load, Material, Place, Refusal, Region, stresses};

/// Triangles at most.
const MOST_ELEMENTS: usize = 20_000;

/// A section to be pressed apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// What bounds it.
    pub outside: Outside,
    /// Its openings, finished.
    pub openings: Vec<Outline>,
    /// Pressure on the edge of each, MPa.
    pub pressures: Vec<f64>,
    /// Pressures of the frame on the sides across x and y, least and greatest; one where both are the same.
    pub squeezes: Vec<[f64; 2]>,
    /// What it is made of.
    pub material: Material,
}

/// The greatest tension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// MPa.
    pub mpa: f64,
    /// Where it is.
    pub at: Point,
    /// The edge that it is on; none: inside.
    pub edge: Option<Edge>,
    /// Estimated error, as a share of it.
    pub error_share: f64,
}

impl Worst {
    /// With the error added.
    pub fn at_most(&self) -> f64 {
        self.mpa * (1.0 + self.error_share)
    }
}

impl Spread {
    /// The greatest tension over all pressures of the frame, known to a share of it.
    ///
    /// # Errors
    /// What the plate is refused for, in words.
    pub fn worst(&self, settle: f64) -> Result<Worst, String> {
        let (outer, faces) = self.outside.pressed()?;
        let region = Region::new(outer, self.openings.clone()).map_err(|all| said(&all))?;
        let each = self.squeezes.par_iter().map(|squeeze| self.under((&region, &faces), *squeeze, settle));
        let found: Vec<Worst> = each.collect::<Result<_, _>>()?;
        found.into_iter().reduce(|a, b| if b.mpa > a.mpa { b } else { a }).ok_or_else(|| "no load".to_owned())
    }

    fn under(
        &self,
        (region, faces): (&Region, &[Face]),
        squeeze: [f64; 2],
        settle: f64,
    ) -> Result<Worst, String> {
        let spreading = self.pressures.iter().enumerate().map(|(i, p)| Load::around(Edge::Opening(i), *p));
        let squeezing = faces.iter().map(|face| Load::on(Edge::Outer, face.segment, squeeze[face.axis]));
        let loads: Vec<Load> = spreading.chain(squeezing).filter(|load| load.pressure_mpa != 0.0).collect();
        let aim = Aim { settle, most_elements: MOST_ELEMENTS };
        let found = stresses(region, &loads, &[], &self.material, &aim).map_err(|one| one.to_string())?;
        let edge = match found.tension.place {
            Place::Edge { edge, .. } => Some(edge),
            Place::Inside => None,
        };
        Ok(Worst { mpa: found.tension.mpa, at: found.tension.at, edge, error_share: found.error_share })
    }

    /// The thinnest wall from an opening to a side.
    pub fn wall(&self) -> f64 {
        let of = |opening: &Outline| match &self.outside {
            Outside::Block(size) => webs::wall(opening, *size).width,
            Outside::Piece(piece) => webs::between(opening, piece).width,
        };
        self.openings.iter().map(of).fold(f64::INFINITY, f64::min)
    }
}

fn said(all: &[Refusal]) -> String {
    all.iter().map(Refusal::to_string).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::Vertex;

    fn circle(x: f64, y: f64, r: f64) -> Outline {
        Outline::new(vec![Vertex::new(x + r, y, 1.0), Vertex::new(x - r, y, 1.0)]).unwrap()
    }

    fn squeezed(squeezes: Vec<[f64; 2]>) -> Spread {
        let (openings, pressures) = (vec![circle(0.0, 0.0, 1.0)], vec![0.0]);
        let material = Material::new(210_000.0, 0.3).unwrap();
        Spread { outside: Outside::Block([60.0, 50.0]), openings, pressures, squeezes, material }
    }

    /// Kirsch: squeezed by q along one axis, the rim of a round hole is pulled by q where that axis meets it.
    #[test]
    fn each_side_is_squeezed_by_its_own_pressure() {
        for (squeeze, at) in [([100.0, 0.0], [1.0, 0.0]), ([0.0, 100.0], [0.0, 1.0])] {
            let worst = squeezed(vec![squeeze]).worst(0.05).unwrap();
            assert!((worst.mpa - 100.0).abs() <= 0.5 + worst.error_share * worst.mpa, "{worst:?}");
            assert!(
                (worst.at.x.abs() - at[0]).abs() < 0.1 && (worst.at.y.abs() - at[1]).abs() < 0.1,
                "{worst:?}"
            );
            assert_eq!(worst.edge, Some(Edge::Opening(0)));
        }
    }

    /// Of several pressures the one that pulls most counts, whichever comes first.
    #[test]
    fn the_greater_tension_counts() {
        for squeezes in [vec![[20.0, 0.0], [100.0, 0.0]], vec![[100.0, 0.0], [20.0, 0.0]]] {
            let worst = squeezed(squeezes).worst(0.05).unwrap();
            assert!(worst.mpa > 90.0, "{worst:?}");
            assert!((worst.at_most() - worst.mpa - worst.error_share * worst.mpa).abs() < 1e-9);
        }
        assert!(squeezed(Vec::new()).worst(0.05).is_err());
    }

    #[test]
    fn the_thinnest_wall_is_to_the_nearest_side() {
        let with = |x: f64, y: f64| Spread { openings: vec![circle(x, y, 1.0)], ..squeezed(vec![[0.0; 2]]) };
        for (x, y, wall) in [(-28.0, 0.0, 1.0), (27.5, 3.0, 1.5), (2.0, -22.0, 2.0), (-3.0, 21.5, 2.5)] {
            assert!((with(x, y).wall() - wall).abs() < 1e-9, "{x} {y}");
        }
    }
}
