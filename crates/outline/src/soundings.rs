//! How deep a place lies in the room between an outline and the islands in it, and what bounds the depth around it.
//!
//! Depth is the distance to the nearest edge, negative where there is no room. Around a place c, a piece at distance d
//! whose nearest point lies in direction -g bounds the depth at c + v, |v| <= rho:
//! - a point, always: |c - q + v| <= d + g.v + rho^2/(2d);
//! - a line whose inside the whole disc faces, and does not reach: d + g.v exactly;
//! - an arc seen from within its circle, likewise: at most d + g.v, since the distance to its centre is convex;
//! - an arc seen from outside: d + g.v + rho^2/(2D), D the distance to its centre.
//!
//! Every such bound holds at once, so the depth is at most the greatest value of the least of them (`highest`). Between two
//! arcs about one centre, as in a bent slot, one bends up where the other bends down; their mean sees that (`mean_bound`).

use crate::piece::{Foot, Piece};
use crate::{Outline, Point, Vector};

/// The room between an outline and the islands in it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room<'a> {
    pub outer: &'a Outline,
    pub islands: &'a [Outline],
}

/// What is known of a place before it is sounded.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Known {
    /// A piece that may be nearest: which loop, and which piece of it.
    near: Option<(usize, usize)>,
    /// Whether there is room at the place.
    inside: Option<bool>,
}

/// The depth at a place, and what is nearest there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sounding<'a> {
    pub depth: f64,
    /// Which loop, and which piece of it.
    pub on: (usize, usize),
    piece: &'a Piece,
    foot: Foot,
}

/// One bound on the depth near a place: `value` + `rise`.v; and the same bound told with its bend: `flat` + `rise`.v +
/// `bend`*s^2/2, s the part of v across `rise`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bound {
    pub value: f64,
    pub rise: Vector,
    flat: f64,
    bend: f64,
    /// The piece, if this bounds by the whole of it, so that a second bound by the same piece could add nothing.
    pub whole: Option<(usize, usize)>,
}

impl<'a> Room<'a> {
    /// The pieces of a loop.
    pub fn pieces(&self, of: usize) -> &'a [Piece] {
        match of.checked_sub(1).and_then(|island| self.islands.get(island)) {
            Some(island) => island.tree().pieces(),
            None => self.outer.tree().pieces(),
        }
    }

    /// The depth at a place; none for a place that is not finite. What is known of it spares looking.
    pub fn sound(&self, place: Point, known: Known) -> Option<Sounding<'a>> {
        let mut nearest = None;
        let mut reach = f64::INFINITY;
        let loops = || std::iter::once(self.outer).chain(self.islands);
        if let Some(on) = known.near {
            // A good guess spares most of the tree.
            nearest = loops().nth(on.0).map(|outline| {
                let piece = &outline.tree().pieces()[on.1];
                let foot = piece.foot(place);
                reach = foot.distance;
                (on, piece, foot)
            });
        }
        for (l, outline) in loops().enumerate() {
            let tree = outline.tree();
            if let Some((i, foot)) = tree.nearest(place, reach) {
                reach = foot.distance;
                nearest = Some(((l, i), &tree.pieces()[i], foot));
            }
        }
        let (on, piece, foot) = nearest?;
        let contains = || self.outer.contains(place) && !self.islands.iter().any(|o| o.contains(place));
        let inside = known.inside.unwrap_or_else(contains);
        Some(Sounding { depth: if inside { foot.distance } else { -foot.distance }, on, piece, foot })
    }
}

impl Sounding<'_> {
    /// What is known of a place `away` from this one: no edge lies between them if this one is deeper, or farther outside.
    pub fn known(&self, away: f64) -> Known {
        let inside = (self.depth.abs() > away).then_some(self.depth > 0.0);
        Known { near: Some(self.on), inside }
    }

    /// What the piece found here says about the depth within `rho` of `centre`, no nearer to which than `rho` it lies, if all
    /// of the disc faces it.
    pub fn whole_around(&self, centre: Point, rho: f64) -> Option<Bound> {
        let at = self.piece.local(centre);
        let whole = match self.piece.is_line() {
            true => self.line_shape(at, rho),
            false => self.arc_shape(at, rho),
        };
        whole.filter(|shape| shape.flat >= rho).map(|shape| Bound {
            value: shape.value,
            rise: self.piece.along * shape.rise.x + self.piece.along.left() * shape.rise.y,
            flat: shape.flat,
            bend: shape.bend,
            whole: Some(self.on),
        })
    }

    /// What the point found here says, always.
    pub fn point_around(&self, centre: Point, rho: f64) -> Bound {
        let out = centre - self.foot.point;
        let distance = out.length();
        let value = distance + rho * rho / (2.0 * distance);
        Bound { value, rise: out * (1.0 / distance), flat: value, bend: 0.0, whole: None }
    }

    fn line_shape(&self, at: Vector, rho: f64) -> Option<Shape> {
        let value = at.y.abs();
        let faces = at.x.abs() + rho <= self.piece.half;
        faces.then(|| Shape { value, rise: Vector::new(0.0, at.y.signum()), flat: value, bend: 0.0 })
    }

    fn arc_shape(&self, at: Vector, rho: f64) -> Option<Shape> {
        let arc = self.piece;
        let from_centre = Vector::new(at.x, at.y - arc.lift);
        let (first, last) = (Vector::new(-arc.half, -arc.lift), Vector::new(arc.half, -arc.lift));
        let clear = rho * arc.radius;
        let (reach, beyond) = (arc.centre_distance(at), arc.beyond_circle(at));
        let faces =
            arc.turn * first.cross(from_centre) >= clear && arc.turn * from_centre.cross(last) >= clear;
        if !faces || reach <= rho {
            return None;
        }
        let out = from_centre * (1.0 / reach);
        // The distance to the centre is sqrt((reach + p)^2 + s^2), p the part of v along `out`: between the first two and
        // the first three terms of its series in s.
        Some(match beyond < 0.0 {
            true => {
                let rest = rho.powi(4) / (8.0 * (reach - rho).powi(3));
                Shape { value: -beyond, rise: -out, flat: rest - beyond, bend: -1.0 / (reach + rho) }
            }
            false => {
                let value = beyond + rho * rho / (2.0 * reach);
                Shape { value, rise: out, flat: beyond, bend: 1.0 / (reach - rho) }
            }
        })
    }
}

/// A bound in the frame of its piece.
struct Shape {
    value: f64,
    rise: Vector,
    flat: f64,
    bend: f64,
}

/// What two bounds together allow, bends and all: any mean of them bounds too, and where one bends up and the other down
/// the mean hardly bends. The mean taken is the one whose rise points along `step`, the best step without bends.
pub(crate) fn mean_bound(bounds: &[Bound], step: Vector, rho: f64) -> f64 {
    let mut least = f64::INFINITY;
    for (i, a) in bounds.iter().enumerate() {
        for b in &bounds[i + 1..] {
            let (ca, cb) = (step.cross(a.rise), step.cross(b.rise));
            let w = cb / (cb - ca);
            if (0.0..=1.0).contains(&w) {
                least = least.min(a.mean(b, w, rho));
            }
        }
    }
    least
}

impl Bound {
    /// The distance from a line.
    pub fn line(value: f64, rise: Vector, on: (usize, usize)) -> Self {
        Self { value, rise, flat: value, bend: 0.0, whole: Some(on) }
    }

    fn at(&self, step: Vector) -> f64 {
        self.value + self.rise.dot(step)
    }

    /// The most that the mean of two bounds, `w` of this one, reaches within `rho`.
    fn mean(&self, other: &Bound, w: f64, rho: f64) -> f64 {
        let (u, v) = (1.0 - w, other);
        let flat = w * self.flat + u * v.flat + rho * (self.rise * w + v.rise * u).length();
        // Greatest eigenvalue of the sum of both bends, each across its own rise.
        let (p, q) = (w * self.bend, u * v.bend);
        let across = self.rise.cross(v.rise);
        let greatest =
            ((p + q) + ((p - q) * (p - q) + 4.0 * p * q * (1.0 - across * across)).max(0.0).sqrt()) / 2.0;
        flat + greatest.max(0.0) * rho * rho / 2.0
    }
}

/// The greatest value of the least of some bounds, and where it is attained.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Highest {
    pub value: f64,
    pub step: Vector,
    /// Where two bounds meet on the rim they do so twice; the other place.
    pub twin: Option<Vector>,
}

/// The greatest value over all steps up to `rho` of the least of these bounds.
///
/// The least of linear bounds is greatest where one bound alone is greatest, where two are equal on the rim, or where
/// three are equal: all of them are tried.
pub(crate) fn highest(bounds: &[Bound], rho: f64) -> Highest {
    let mut best = Highest { value: f64::NEG_INFINITY, step: Vector::new(0.0, 0.0), twin: None };
    let mut attempt = |step: Vector, twin: Option<Vector>| {
        let mut value = f64::INFINITY;
        for bound in bounds {
            value = value.min(bound.at(step));
            if value <= best.value {
                return;
            }
        }
        best = Highest { value, step, twin };
    };
    for (i, a) in bounds.iter().enumerate() {
        attempt(a.rise * rho, None);
        for (j, b) in bounds.iter().enumerate().skip(i + 1) {
            let (normal, level) = (a.rise - b.rise, b.value - a.value);
            if let Some([one, other]) = rim_points(normal, level, rho) {
                attempt(one, Some(other));
                attempt(other, Some(one));
            }
            for c in &bounds[j + 1..] {
                let (other, other_level) = (a.rise - c.rise, c.value - a.value);
                let det = normal.cross(other);
                let v = Vector::new(
                    (level * other.y - other_level * normal.y) / det,
                    (normal.x * other_level - other.x * level) / det,
                );
                if v.length() <= rho {
                    attempt(v, None);
                }
            }
        }
    }
    best
}

/// Where normal.v = level meets the rim |v| = rho.
fn rim_points(normal: Vector, level: f64, rho: f64) -> Option<[Vector; 2]> {
    let unit = normal.unit()?;
    let away = level / normal.length();
    (away.abs() <= rho).then(|| {
        let along = unit.left() * ((rho - away) * (rho + away)).sqrt();
        [unit * away + along, unit * away - along]
    })
}
