//! How deep a place lies in the room between an outline and the islands in it, and what bounds the depth around it.
//!
//! Depth is the distance to the nearest edge, negative where there is no room. Around a place c, a piece at distance d
//! whose nearest point lies in direction -g bounds the depth at c + v, |v| <= rho:
//! - a point, always: |c - q + v| <= d + g.v + rho^2/(2d);
//! - a line whose inside the whole disc faces, and does not reach: d + g.v exactly;
//! - an arc seen from within its circle, likewise: at most d + g.v, since the distance to its centre is convex;
//! - an arc seen from outside: d + g.v + rho^2/(2D), D the distance to its centre.
//!
//! Every such bound holds at once, so the depth is at most the greatest value of the least of them (`highest`).

use crate::piece::{Foot, Piece};
use crate::{Outline, Point, Vector};

/// The room between an outline and the islands in it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room<'a> {
    pub outer: &'a Outline,
    pub islands: &'a [Outline],
}

/// The depth at a place, and what is nearest there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sounding<'a> {
    pub depth: f64,
    /// Which loop, and which piece of it.
    on: (usize, usize),
    piece: &'a Piece,
    foot: Foot,
}

/// One bound on the depth near a place: `value` + `rise`.v.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bound {
    pub value: f64,
    pub rise: Vector,
    /// The piece, if this bounds by the whole of it, so that a second bound by the same piece could add nothing.
    pub whole: Option<(usize, usize)>,
}

impl<'a> Room<'a> {
    /// The depth at a place; none for a place that is not finite.
    pub fn sound(&self, place: Point) -> Option<Sounding<'a>> {
        let mut nearest = None;
        let mut reach = f64::INFINITY;
        for (l, outline) in std::iter::once(self.outer).chain(self.islands).enumerate() {
            let tree = outline.tree();
            if let Some((i, foot)) = tree.nearest(place, reach) {
                reach = foot.distance;
                nearest = Some(((l, i), &tree.pieces()[i], foot));
            }
        }
        let (on, piece, foot) = nearest?;
        let inside = self.outer.contains(place) && !self.islands.iter().any(|o| o.contains(place));
        Some(Sounding { depth: if inside { foot.distance } else { -foot.distance }, on, piece, foot })
    }
}

impl Sounding<'_> {
    /// What the piece found here says about the depth within `rho` of `centre`, no nearer to which than `rho` it lies.
    pub fn bound_around(&self, centre: Point, rho: f64) -> Bound {
        let at = self.piece.local(centre);
        let whole = match self.piece.is_line() {
            true => (at.x.abs() + rho <= self.piece.half)
                .then(|| (at.y.abs(), Vector::new(0.0, at.y.signum()), 0.0)),
            false => self.arc_bound(at, rho),
        };
        match whole {
            Some((distance, rise, bend)) if distance >= rho => Bound {
                value: distance + bend,
                rise: self.piece.along * rise.x + self.piece.along.left() * rise.y,
                whole: Some(self.on),
            },
            _ => {
                let out = centre - self.foot.point;
                let distance = out.length();
                let value = distance + rho * rho / (2.0 * distance);
                Bound { value, rise: out * (1.0 / distance), whole: None }
            }
        }
    }

    /// Distance, rise and bend in the chord's frame, if the whole disc faces the inside of the arc.
    fn arc_bound(&self, at: Vector, rho: f64) -> Option<(f64, Vector, f64)> {
        let arc = self.piece;
        let from_centre = Vector::new(at.x, at.y - arc.lift);
        let (first, last) = (Vector::new(-arc.half, -arc.lift), Vector::new(arc.half, -arc.lift));
        let clear = rho * arc.radius;
        if arc.turn * first.cross(from_centre) < clear || arc.turn * from_centre.cross(last) < clear {
            return None;
        }
        let (reach, beyond) = (arc.centre_distance(at), arc.beyond_circle(at));
        let out = from_centre * (1.0 / reach);
        Some(match beyond < 0.0 {
            true => (-beyond, -out, 0.0),
            false => (beyond, out, rho * rho / (2.0 * reach)),
        })
    }
}

impl Bound {
    fn at(&self, step: Vector) -> f64 {
        self.value + self.rise.dot(step)
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
    let least = |v: Vector| bounds.iter().map(|b| b.at(v)).fold(f64::INFINITY, f64::min);
    let mut best = Highest { value: f64::NEG_INFINITY, step: Vector::new(0.0, 0.0), twin: None };
    let mut attempt = |step: Vector, twin: Option<Vector>| {
        let value = least(step);
        if value > best.value {
            best = Highest { value, step, twin };
        }
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
