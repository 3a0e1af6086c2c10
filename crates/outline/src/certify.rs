//! Proof that rings are the parallel of an outline, by means that share nothing with how they were made.
//!
//! The parallel at distance d is made of casts: each segment casts itself moved sideways by d, and each corner that
//! opens to that side casts an arc of radius d around itself. A point of a cast belongs to the parallel exactly when no
//! part of the outline is nearer than d. From that:
//!
//! 1. Every piece of every ring lies on casts, on the right side, in the right sense, nowhere nearer to the outline than
//!    d (exact crossings with what lies nearer than d to each segment, not samples), and no cast is used twice.
//! 2. What the rings leave out of each cast is hidden: moved outward to d + 1 nm, every point of it has some segment
//!    nearer than that. Survivors only shrink as d grows, so a piece that is missing would be too thin for a circle of
//!    radius d + 1 nm. An empty answer is proved the same way.
//! 3. Inward, every ring runs counter-clockwise; outward, exactly one does (the pockets run clockwise).

use crate::Point;
use crate::box_tree::BoxTree;
use crate::curve::Curve;
use crate::ring::Ring;
use crate::source::Source;
use crate::spans::Spans;

/// How far a piece may be from its true distance, mm. Results of the finest step of the offset are a thousand times
/// better; coarser ones only pass if they happen to be as good as this.
pub const DISTANCE_TOLERANCE: f64 = 1e-7;

/// What the proof cannot see: a piece in which a circle of the distance plus this does not fit may be left out, mm.
pub const COLLAPSE_TOLERANCE: f64 = 1e-6;

/// Rounding of a computed distance, relative to the largest coordinate or length: a segment counts as nearer only by more.
const ROUNDING: f64 = 4e-15;

/// Least such margin, mm.
const LEAST_MARGIN: f64 = 1e-10;

/// Where two casts meet at a small angle their crossing is ill defined along them, though well defined across. Up to
/// this length along, mm, being within tolerance across is enough.
const SHORT: f64 = 1e-3;

/// Stretches shorter than this are nothing, mm.
const NOTHING: f64 = 1e-9;

/// A cast may be used twice over this length, mm: joints of neighbouring pieces overlap by rounding.
const OVERLAP: f64 = 1e-6;

/// What was found wrong with an offset.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fault {
    /// A piece lies on nothing that the outline casts.
    Strays,
    /// A piece comes nearer to the outline than the distance, by this much, mm.
    TooNear(f64),
    /// The same stretch is run twice.
    Twice,
    /// A stretch of the parallel is missing.
    Missing,
    /// A ring runs the wrong way round.
    WrongWay,
    /// The result crosses itself or is no valid outline.
    Invalid,
    /// The offset gave an open run.
    Open,
    /// The offset gave up.
    NoCandidate,
}

/// Which share of each cast the parallel uses.
#[derive(Debug)]
pub(crate) struct Coverage {
    pub(crate) segments: Vec<Spans>,
    pub(crate) corners: Vec<Spans>,
}

/// Proves rings to be the parallel of a source, or tells where they are not.
pub(crate) fn certify(source: &Source, rings: &[Ring]) -> Result<Coverage, (Point, Fault)> {
    sense(source, rings)?;
    let pieces: Vec<Curve> = rings.iter().flat_map(Ring::curves).collect();
    let mut proof = Proof::new(source);
    for piece in &pieces {
        proof.piece(piece)?;
    }
    let tree = BoxTree::new(rings.iter().flat_map(Ring::segments));
    proof.completeness(&tree)?;
    Ok(proof.coverage)
}

fn sense(source: &Source, rings: &[Ring]) -> Result<(), (Point, Fault)> {
    let clockwise = |ring: &&Ring| ring.area() < 0.0;
    let wrong = match source.distance > 0.0 {
        true => rings.iter().find(clockwise),
        false => rings.iter().filter(|ring| !clockwise(ring)).nth(1),
    };
    wrong.map_or(Ok(()), |ring| Err((ring.leftmost(), Fault::WrongWay)))
}

struct Proof<'a> {
    source: &'a Source<'a>,
    /// Unsigned distance.
    distance: f64,
    casts: Vec<Option<Curve>>,
    corner_casts: Vec<Option<Curve>>,
    coverage: Coverage,
    near: Vec<(usize, f64)>,
}

impl<'a> Proof<'a> {
    fn new(source: &'a Source<'a>) -> Self {
        let n = source.len();
        Self {
            source,
            distance: source.distance.abs(),
            casts: (0..n).map(|i| source.cast_of_segment(i, source.distance)).collect(),
            corner_casts: (0..n).map(|i| source.cast_of_corner(i, source.distance)).collect(),
            coverage: Coverage { segments: vec![Spans::default(); n], corners: vec![Spans::default(); n] },
            near: Vec::new(),
        }
    }

    /// Stage 1: one piece lies on casts and is nowhere too near.
    fn piece(&mut self, piece: &Curve) -> Result<(), (Point, Fault)> {
        let middle = piece.at(0.5);
        let floor = self.distance - DISTANCE_TOLERANCE;
        let half = 0.5 * piece.length;
        let mut near = std::mem::take(&mut self.near);
        near.clear();
        let reach = half + self.distance + DISTANCE_TOLERANCE;
        self.source.tree.within(middle, reach, |index, distance| near.push((index, distance)));
        let mut lies = Spans::default();
        for &(index, distance) in &near {
            if let Some(cast) = &self.casts[index] {
                lay(piece, cast, &mut lies, &mut self.coverage.segments[index])?;
            }
            if let Some(cast) = &self.corner_casts[index] {
                lay(piece, cast, &mut lies, &mut self.coverage.corners[index])?;
            }
            if distance - half < floor && floor > 0.0 {
                self.not_nearer(piece, index, floor)?;
            }
        }
        self.near = near;
        for (low, high) in lies.gaps() {
            self.within_tolerance(piece, low, high)?;
        }
        Ok(())
    }

    /// No part of a piece lies nearer than `floor` to a segment.
    fn not_nearer(&self, piece: &Curve, index: usize, floor: f64) -> Result<(), (Point, Fault)> {
        let segment = &self.source.tree.pieces()[index];
        for (from, to) in piece.cuts(self.source.curve(index), floor).stops(0.0, 1.0).stretches() {
            let place = piece.at(0.5 * (from + to));
            let distance = segment.foot(place).distance;
            if distance < floor {
                return Err((place, Fault::TooNear(floor + DISTANCE_TOLERANCE - distance)));
            }
        }
        Ok(())
    }

    /// A stretch of a piece that lies on no cast is short, and right in distance.
    fn within_tolerance(&self, piece: &Curve, low: f64, high: f64) -> Result<(), (Point, Fault)> {
        let length = (high - low) * piece.length;
        if length <= NOTHING {
            return Ok(());
        }
        for share in [low, 0.5 * (low + high), high] {
            let place = piece.at(share);
            let (_, distance) = self.source.tree.nearest_from(place, 0);
            if length > SHORT || (distance - self.distance).abs() > DISTANCE_TOLERANCE {
                return Err((place, Fault::Strays));
            }
        }
        Ok(())
    }

    /// Stage 2: all that the pieces leave out is hidden.
    fn completeness(&self, pieces: &BoxTree) -> Result<(), (Point, Fault)> {
        let source = self.source;
        let beyond = source.distance + source.distance.signum() * COLLAPSE_TOLERANCE;
        let n = source.len();
        for index in 0..n {
            let casts = [
                (&self.coverage.segments[index], &self.casts[index], source.cast_of_segment(index, beyond)),
                (
                    &self.coverage.corners[index],
                    &self.corner_casts[index],
                    source.cast_of_corner(index, beyond),
                ),
            ];
            for (spans, cast, farther) in casts {
                let (Some(cast), Some(farther)) = (cast, farther) else { continue };
                for (low, high) in spans.gaps() {
                    let guess = if low > 0.0 { (index + 1) % n } else { (index + n - 1) % n };
                    self.hidden(cast, &farther, low, high, guess, pieces)?;
                }
            }
        }
        Ok(())
    }

    /// A stretch of a cast that the rings leave out is hidden by nearer segments.
    fn hidden(
        &self,
        cast: &Curve,
        farther: &Curve,
        low: f64,
        high: f64,
        guess: usize,
        pieces: &BoxTree,
    ) -> Result<(), (Point, Fault)> {
        let reach = self.distance + COLLAPSE_TOLERANCE - margin(farther);
        let mut open = vec![(low, high)];
        let mut steps = 64 + 8 * self.source.len();
        while let Some((low, high)) = open.pop() {
            if (high - low) * farther.length <= NOTHING {
                continue;
            }
            let middle = 0.5 * (low + high);
            let place = farther.at(middle);
            let (index, distance) = self.source.tree.nearest_from(place, guess);
            steps -= 1;
            if distance >= reach || steps == 0 {
                if (high - low) * farther.length > SHORT || !beside(cast, low, high, pieces) {
                    return Err((cast.at(middle), Fault::Missing));
                }
                continue;
            }
            // Between two crossings with the edge of what lies nearer, all is as the middle is.
            let stops = farther.cuts(self.source.curve(index), reach).stops(low, high);
            let around = stops.stretches().find(|&(from, to)| from <= middle && middle <= to);
            let Some((from, to)) = around else { continue };
            open.extend([(low, from), (to, high)]);
        }
        Ok(())
    }
}

/// Notes where a piece runs along a cast, on both.
fn lay(piece: &Curve, cast: &Curve, lies: &mut Spans, covered: &mut Spans) -> Result<(), (Point, Fault)> {
    let Some((on_piece, on_cast)) = overlap(piece, cast) else { return Ok(()) };
    lies.add(on_piece.0, on_piece.1);
    let shared = covered.add(on_cast.0, on_cast.1);
    match shared * cast.length > OVERLAP {
        true => Err((piece.at(0.5), Fault::Twice)),
        false => Ok(()),
    }
}

/// The stretch over which a piece runs along a cast, in the same sense, as shares of the piece and of the cast.
fn overlap(piece: &Curve, cast: &Curve) -> Option<((f64, f64), (f64, f64))> {
    let (start, end) = (cast.share_of(piece.from), cast.share_of(piece.to));
    let (low, high) = (start.max(0.0), end.min(1.0));
    if low >= high || low.is_nan() || high.is_nan() {
        return None;
    }
    let scale = 1.0 / (end - start);
    let (from, to) = ((low - start) * scale, (high - start) * scale);
    // Two curves that agree at three places of a stretch agree all along it: neither bends by more than half a circle.
    let middle = piece.at(0.5 * (from + to));
    let between = (low..=high).contains(&cast.share_of(middle));
    let near = |place: Point| cast.away(place) <= DISTANCE_TOLERANCE;
    let follows = between && near(middle) && near(piece.at(from)) && near(piece.at(to));
    follows.then_some(((from, to), (low, high)))
}

/// Whether a stretch of a cast lies on the result all the same, within what the proof cannot see.
fn beside(cast: &Curve, low: f64, high: f64, pieces: &BoxTree) -> bool {
    (0..=4).all(|step| {
        let place = cast.at(low + (high - low) * 0.25 * f64::from(step));
        pieces.nearest(place, COLLAPSE_TOLERANCE).is_some()
    })
}

/// How much nearer than computed a distance from this curve may be through rounding.
pub(crate) fn margin(curve: &Curve) -> f64 {
    let size = [curve.from.x, curve.from.y, curve.to.x, curve.to.y, curve.length];
    LEAST_MARGIN.max(ROUNDING * size.into_iter().fold(0.0, |most: f64, x| most.max(x.abs())))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test that cannot go on should stop there")]
mod tests {
    use super::*;
    use crate::{Outline, Vertex};

    /// A quarter turn clockwise.
    const ROUND: f64 = -0.414_213_562_373_095_03;

    fn ring(places: &[(f64, f64, f64)]) -> Ring {
        Ring { vertices: places.iter().map(|&(x, y, bulge)| Vertex::new(x, y, bulge)).collect() }
    }

    /// Two rooms with a neck between them, narrower than twice the distance.
    fn rooms() -> Outline {
        let corners = [
            (0.0, 0.0),
            (4.0, 0.0),
            (4.0, 1.7),
            (8.0, 1.7),
            (8.0, 0.0),
            (12.0, 0.0),
            (12.0, 4.0),
            (8.0, 4.0),
            (8.0, 2.3),
            (4.0, 2.3),
            (4.0, 4.0),
            (0.0, 4.0),
        ];
        Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
    }

    /// One of the rooms at distance 0.5: its neck's corners are rounded up to where their circles meet, at height 2.
    fn room(mirrored: bool) -> Ring {
        let x = 4.0 - (0.25f64 - 0.09).sqrt();
        let sweep = (0.3f64 / 0.5).asin();
        let bulge = -(sweep / 4.0).tan();
        let left = [
            (0.5, 0.5, 0.0),
            (3.5, 0.5, 0.0),
            (3.5, 1.7, bulge),
            (x, 2.0, bulge),
            (3.5, 2.3, 0.0),
            (3.5, 3.5, 0.0),
            (0.5, 3.5, 0.0),
        ];
        if !mirrored {
            return ring(&left);
        }
        // Turned by half a turn about the middle: the same sense.
        ring(&left.map(|(x, y, bulge)| (12.0 - x, 4.0 - y, bulge)))
    }

    #[test]
    fn the_true_rings_are_proved_and_each_damage_is_named() {
        let rooms = rooms();
        let source = Source::new(&rooms, 0.5);
        let told = |rings: &[Ring]| certify(&source, rings).map(|_| ()).map_err(|(_, fault)| fault);
        assert_eq!(told(&[room(false), room(true)]), Ok(()));
        assert_eq!(told(&[room(false)]), Err(Fault::Missing));
        assert_eq!(told(&[]), Err(Fault::Missing));
        assert_eq!(told(&[room(false), room(false), room(true)]), Err(Fault::Twice));
        let mut other = room(true);
        // Its far side too far in: on nothing that the outline casts.
        let far = |vertex: &&mut Vertex| vertex.point.x > 11.0;
        other.vertices.iter_mut().filter(far).for_each(|vertex| vertex.point.x -= 1e-3);
        assert_eq!(told(&[room(false), other]), Err(Fault::Strays));
        let mut turned = room(true);
        turned.vertices.reverse();
        assert!(matches!(told(&[room(false), turned]), Err(Fault::WrongWay | Fault::Strays)));
    }

    /// A chord of less than a micrometre's bow where an arc of radius 0.1 belongs: right at both ends, wrong between them.
    #[test]
    fn a_short_chord_in_place_of_an_arc_strays_in_its_middle() {
        let circle = Outline::new(vec![Vertex::new(0.3, 0.0, 1.0), Vertex::new(-0.3, 0.0, 1.0)]).unwrap();
        let source = Source::new(&circle, 0.2);
        let whole = |step: f64, bulge: f64| {
            let (sin, cos) = step.sin_cos();
            let rest = ((std::f64::consts::PI - step) / 4.0).tan();
            certify(&source, &[ring(&[(0.1, 0.0, bulge), (0.1 * cos, 0.1 * sin, rest), (-0.1, 0.0, 1.0)])])
                .map(|_| ())
        };
        for step in [0.003, 0.009] {
            assert_eq!(whole(step, (step / 4.0).tan()), Ok(()));
            assert!(matches!(whole(step, 0.0), Err((_, Fault::Strays))), "{step}");
        }
    }

    /// Through the neck, every piece on what its own wall casts, and too near to the other wall: on the casts alone nothing is wrong.
    #[test]
    fn a_ring_through_a_neck_comes_too_near() {
        let rooms = rooms();
        let source = Source::new(&rooms, 0.5);
        let through = ring(&[
            (0.5, 0.5, 0.0),
            (3.5, 0.5, 0.0),
            (3.5, 1.7, ROUND),
            (4.0, 2.2, 0.0),
            (8.0, 2.2, ROUND),
            (8.5, 1.7, 0.0),
            (8.5, 0.5, 0.0),
            (11.5, 0.5, 0.0),
            (11.5, 3.5, 0.0),
            (8.5, 3.5, 0.0),
            (8.5, 2.3, ROUND),
            (8.0, 1.8, 0.0),
            (4.0, 1.8, ROUND),
            (3.5, 2.3, 0.0),
            (3.5, 3.5, 0.0),
            (0.5, 3.5, 0.0),
        ]);
        assert!(matches!(certify(&source, &[through]), Err((_, Fault::TooNear(by))) if by > 1e-3));
    }
}
