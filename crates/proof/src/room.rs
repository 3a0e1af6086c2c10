//! The room that a disc has in the target: every place where its middle can be. No polygon engine is asked: target
//! corners rounder or sharper than the disc fold a parallel over itself hundreds of times, and an engine unfolds all
//! of it only to throw it away.
//!
//! Stages: the room's edge lies one radius inside the target's chords, and around its reflex corners; of these pieces
//! only those stretches count where nothing else of the target is nearer than the radius; they are halved until what
//! is asked of them is known.

use crate::flatten::{Place, SAGITTA_MM, distance};
use crate::region::{KNOWN, Known, Region};

/// A disc fits where the target is nearer than its radius by no more than this, mm: rounding of numbers.
const FITS: f64 = 1e-6;

/// The edge of a disc's room in a target.
#[derive(Debug)]
pub struct Room<'a> {
    region: &'a Region,
    radius: f64,
    pieces: Vec<(Place, Place)>,
}

/// A place of a piece: how much more space it has than the disc needs, and what was asked of it.
#[derive(Debug, Clone, Copy)]
struct Tried {
    spare: f64,
    edge: usize,
    known: Known,
}

impl<'a> Room<'a> {
    /// The room of a disc in a target, a counter-clockwise polygon and the same as a region.
    pub fn new(target: &[Place], region: &'a Region, radius: f64) -> Self {
        Self { region, radius, pieces: pieces(target, radius) }
    }

    /// The place of the room's edge that lies deepest outside another region, and how deep; none where the disc fits
    /// nowhere.
    pub fn deepest_outside(&self, other: &Region) -> Option<(f64, Place)> {
        let mut best = None;
        let mut open = Vec::new();
        let mut last = (0, 0);
        for &(from, to) in &self.pieces {
            let a = self.tried(other, from, last);
            let b = self.tried(other, to, (a.edge, a.known.edge));
            last = (b.edge, b.known.edge);
            raise(&mut best, &a);
            raise(&mut best, &b);
            open.push((a, b));
            while let Some((a, b)) = open.pop() {
                let length = distance(a.known.place, b.known.place);
                let fits = a.spare + b.spare + length >= 0.0;
                let higher = |best: (f64, Place)| other.bound(&a.known, &b.known, length) > best.0 + KNOWN;
                if length <= KNOWN || !fits || !best.is_none_or(higher) {
                    continue;
                }
                let place = [0, 1].map(|k| (a.known.place[k] + b.known.place[k]) / 2.0);
                let middle = self.tried(other, place, (a.edge, a.known.edge));
                raise(&mut best, &middle);
                open.push((a, middle));
                open.push((middle, b));
            }
        }
        best
    }

    fn tried(&self, other: &Region, place: Place, likely: (usize, usize)) -> Tried {
        let (far, edge) = self.region.nearest(place, likely.0);
        let spare = far - self.radius + FITS;
        // What lies outside the target has less space than none, however far off it is.
        let spare = if spare >= 0.0 && !self.region.contains(place) { -far } else { spare };
        Tried { spare, edge, known: other.outside(place, likely.1) }
    }
}

fn raise(best: &mut Option<(f64, Place)>, tried: &Tried) {
    let height = tried.known.height.max(0.0);
    if tried.spare >= 0.0 && best.is_none_or(|best| height > best.0) {
        *best = Some((height, tried.known.place));
    }
}

/// What lies one radius to the left of a polygon's chords, and around its right turns.
fn pieces(target: &[Place], radius: f64) -> Vec<(Place, Place)> {
    let n = target.len();
    let apart = |i: &usize| distance(target[*i], target[(i + 1) % n]) > 0.0;
    let chords: Vec<usize> = (0..n).filter(apart).collect();
    let normal = |i: usize| {
        let (a, b) = (target[i], target[(i + 1) % n]);
        let length = distance(a, b);
        [(a[1] - b[1]) / length, (b[0] - a[0]) / length]
    };
    let beside = |p: Place, u: Place, by: f64| [p[0] + by * u[0], p[1] + by * u[1]];
    let mut pieces = Vec::with_capacity(2 * n);
    for (k, &i) in chords.iter().enumerate() {
        let (corner, u) = (target[(i + 1) % n], normal(i));
        pieces.push((beside(target[i], u, radius), beside(corner, u, radius)));
        let v = normal(chords[(k + 1) % chords.len()]);
        let turn = (u[0] * v[1] - u[1] * v[0]).atan2(u[0] * v[0] + u[1] * v[1]);
        if turn < 0.0 {
            // Chords around the circle, not in it: their middles are as far from the corner as the disc's.
            let steps = (-turn / (8.0 * SAGITTA_MM / radius).sqrt()).ceil().max(1.0);
            let half = turn / steps / 2.0;
            let at = |t: f64| {
                let (sin, cos) = (t * half).sin_cos();
                beside(corner, [cos * u[0] - sin * u[1], sin * u[0] + cos * u[1]], radius)
            };
            let out = |t: f64| {
                let (sin, cos) = (t * half).sin_cos();
                let by = radius / half.cos();
                beside(corner, [cos * u[0] - sin * u[1], sin * u[0] + cos * u[1]], by)
            };
            let mut from = at(0.0);
            for step in 0..steps as usize {
                let middle = out(2.0 * step as f64 + 1.0);
                pieces.push((from, middle));
                from = middle;
            }
            pieces.push((from, at(2.0 * steps)));
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::grown;

    fn farthest(target: &[Place], path: &[Place], radius: f64) -> Option<f64> {
        let region = Region::new(&[target.to_vec()]);
        Room::new(target, &region, radius).deepest_outside(&Region::new(&[path.to_vec()])).map(|deep| deep.0)
    }

    #[test]
    fn a_square_has_a_square_room() {
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let path = |d: f64| [[d, d], [1.0 - d, d], [1.0 - d, 1.0 - d], [d, 1.0 - d]];
        assert!(farthest(&square, &path(0.1), 0.1).is_some_and(|deep| deep < 1e-5));
        let short = farthest(&square, &path(0.12), 0.1);
        assert!(short.is_some_and(|deep| (deep - 0.02 * f64::sqrt(2.0)).abs() < 4e-5), "{short:?}");
        assert_eq!(farthest(&square, &path(0.08), 0.1), Some(0.0));
        assert_eq!(farthest(&square, &path(0.1), 0.51), None);
    }

    /// Ells, turned: their room, and what a way in it leaves, turn with them. One way leaves most at the ends, the other about the
    /// corner that the disc goes around.
    #[test]
    fn a_turned_target_has_the_same_room() {
        let blunt = vec![[0.0, 0.0], [2.0, 0.0], [2.0, 0.8], [1.3, 0.9], [0.9, 1.4], [0.8, 2.0], [0.0, 2.0]];
        let ell = vec![[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 1.0], [1.0, 2.0], [0.0, 2.0]];
        let near = vec![[0.2, 0.2], [0.7, 0.2], [0.2, 0.7]];
        let short = vec![
            [0.3, 0.3],
            [1.7, 0.3],
            [1.7, 0.7],
            [1.0, 0.7],
            [0.6, 0.6],
            [0.7, 1.0],
            [0.7, 1.7],
            [0.3, 1.7],
        ];
        // Its corner that the disc goes around is wider than a right angle.
        let wide = vec![[0.0, 0.0], [2.0, 0.0], [2.0, 0.7], [1.0, 1.0], [0.7, 2.0], [0.0, 2.0]];
        let turned = |places: &[Place], by: f64| -> Vec<Place> {
            let (sin, cos) = by.sin_cos();
            places.iter().map(|p| [cos * p[0] - sin * p[1], sin * p[0] + cos * p[1]]).collect()
        };
        for (target, way, radius) in
            [(&blunt, &near, 0.1), (&blunt, &near, 0.3), (&ell, &short, 0.3), (&wide, &short, 0.3)]
        {
            let plain = farthest(target, way, radius).unwrap();
            let room = grown(&[vec![target.clone()]], -radius);
            let engine = Region::new(std::slice::from_ref(way)).deepest(room.iter().flatten()).0;
            assert!((plain - engine).abs() < 4e-5 + radius * 1.3e-4, "{radius}: {plain} {engine}");
            for k in 1..12 {
                let by = 0.53 * f64::from(k);
                let found = farthest(&turned(target, by), &turned(way, by), radius).unwrap();
                assert!((found - plain).abs() < 4e-5, "{radius} {by}: {found} {plain}");
            }
        }
        // Three tenths from the corner on its diagonal, held against the line from (1, 0.7) to (0.6, 0.6).
        let (corner, s) = (farthest(&ell, &short, 0.3).unwrap(), 0.3 / 2f64.sqrt());
        assert!((corner - (0.1 * s + 0.4 * (0.3 - s)) / 0.17f64.sqrt()).abs() < 4e-5, "{corner}");
    }

    /// Wheels with teeth of every roundness: the engine's own shrinking finds the same.
    #[test]
    fn the_engine_finds_the_same_room() {
        for teeth in 3..9 {
            let wheel: Vec<Place> = (0..720)
                .map(|k| {
                    let t = f64::from(k) * std::f64::consts::TAU / 720.0;
                    let r = 1.0 + 0.2 * (f64::from(teeth) * t).sin();
                    [r * t.cos(), r * t.sin()]
                })
                .collect();
            for radius in [0.02, 0.1, 0.2, 0.35, 0.5] {
                let path: Vec<Place> = (0..90)
                    .map(|k| {
                        let t = f64::from(k) * std::f64::consts::TAU / 90.0;
                        [0.3 * t.cos(), 0.3 * t.sin()]
                    })
                    .collect();
                let room = grown(&[vec![wheel.clone()]], -radius);
                let path_region = Region::new(std::slice::from_ref(&path));
                let engine = path_region.deepest(room.iter().flatten()).0;
                let own = farthest(&wheel, &path, radius).unwrap_or(0.0);
                // The engine's round joins are as coarse as this.
                let coarse = radius * (0.01 * std::f64::consts::PI).powi(2) / 8.0;
                assert!((own - engine).abs() < 4e-5 + coarse, "{teeth} {radius}: {own} {engine}");
            }
        }
    }
}
