//! A line or arc that can be moved sideways and cut where it comes within reach of another: what a parallel is made of.
//! Distances are asked of pieces (see `piece`), which keep them exact over flat arcs too.
//!
//! Places on a curve are shares of its length, 0 at its start and 1 at its end.

use crate::{Point, Segment, Vector};

/// A line or an arc with what moving and cutting it needs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Curve {
    pub(crate) from: Point,
    pub(crate) to: Point,
    pub(crate) length: f64,
    pub(crate) shape: Shape,
}

/// How a curve bends.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Shape {
    /// Straight, in this unit direction.
    Line { along: Vector },
    /// Part of a circle.
    Arc(Arc),
}

/// Part of a circle, told from its middle so that no angle has to be taken to see whether a direction lies in it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Arc {
    pub(crate) centre: Point,
    pub(crate) radius: f64,
    /// Unit direction from the centre to the middle of the arc.
    pub(crate) middle: Vector,
    /// Half its sweep, radians, positive.
    pub(crate) half: f64,
    /// 1 when travelled counter-clockwise, -1 when clockwise.
    pub(crate) sense: f64,
}

/// Shares of a curve where something changes, in no order, at most as many as two circles and two companions give.
#[derive(Debug, Default)]
pub(crate) struct Cuts {
    shares: [f64; 10],
    count: usize,
}

impl Arc {
    /// The place on it an angle `turn` on from its middle, counter-clockwise.
    fn at_turn(&self, turn: f64) -> Point {
        let (sin, cos) = turn.sin_cos();
        self.centre + (self.middle * cos + self.middle.left() * sin) * self.radius
    }

    /// Angle from its middle to a direction, radians, counter-clockwise.
    fn turn_to(&self, direction: Vector) -> f64 {
        self.middle.cross(direction).atan2(self.middle.dot(direction))
    }

    /// Share at which an angle from the middle lies.
    fn share(&self, turn: f64) -> f64 {
        0.5 + 0.5 * self.sense * turn / self.half
    }
}

impl Curve {
    /// The curve of a segment.
    pub(crate) fn new(segment: &Segment) -> Self {
        let chord = segment.to - segment.from;
        let width = chord.length();
        let along = chord.unit().unwrap_or(Vector::new(1.0, 0.0));
        let (from, to, bulge) = (segment.from, segment.to, segment.bulge);
        if bulge == 0.0 {
            return Self { from, to, length: width, shape: Shape::Line { along } };
        }
        let half = 2.0 * bulge.abs().atan();
        let radius = width * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
        let sense = bulge.signum();
        let middle = along.left() * -sense;
        let top = from.towards(to, 0.5) + middle * (0.5 * width * bulge.abs());
        let arc = Arc { centre: top - middle * radius, radius, middle, half, sense };
        Self { from, to, length: 2.0 * half * radius, shape: Shape::Arc(arc) }
    }

    /// An arc told by its circle.
    pub(crate) fn around(centre: Point, radius: f64, middle: Vector, half: f64, sense: f64) -> Self {
        let arc = Arc { centre, radius, middle, half, sense };
        let (from, to) = (arc.at_turn(-sense * half), arc.at_turn(sense * half));
        Self { from, to, length: 2.0 * half * radius, shape: Shape::Arc(arc) }
    }

    /// The parallel curve `distance` to its left; none once an arc has shrunk to nothing.
    pub(crate) fn shifted(&self, distance: f64) -> Option<Self> {
        match self.shape {
            Shape::Line { along } => {
                let by = along.left() * distance;
                Some(Self { from: self.from + by, to: self.to + by, ..*self })
            }
            Shape::Arc(arc) => {
                let radius = arc.radius - arc.sense * distance;
                let share = radius / arc.radius;
                (radius > 0.0).then(|| Self {
                    from: arc.centre + (self.from - arc.centre) * share,
                    to: arc.centre + (self.to - arc.centre) * share,
                    length: 2.0 * arc.half * radius,
                    shape: Shape::Arc(Arc { radius, ..arc }),
                })
            }
        }
    }

    /// The place at a share of its length.
    pub(crate) fn at(&self, share: f64) -> Point {
        match &self.shape {
            Shape::Line { .. } => self.from.towards(self.to, share),
            Shape::Arc(arc) => arc.at_turn((2.0 * share - 1.0) * arc.half * arc.sense),
        }
    }

    /// Share at which a place stands square on it; outside 0 to 1 when that is beyond an end.
    pub(crate) fn share_of(&self, place: Point) -> f64 {
        match &self.shape {
            Shape::Line { along } => (place - self.from).dot(*along) / self.length,
            Shape::Arc(arc) => arc.share(arc.turn_to(place - arc.centre)),
        }
    }

    /// Unit direction of travel at its start and at its end.
    pub(crate) fn end_directions(&self) -> (Vector, Vector) {
        match &self.shape {
            Shape::Line { along } => (*along, *along),
            Shape::Arc(arc) => {
                let ahead = arc.middle.left() * arc.sense;
                let (sin, cos) = arc.half.sin_cos();
                (ahead * cos + arc.middle * sin, ahead * cos - arc.middle * sin)
            }
        }
    }

    /// Where it meets the edge of what lies nearer than `reach` to `other`. Between two cuts it is wholly nearer or
    /// wholly not, so that one look at a middle decides.
    pub(crate) fn cuts(&self, other: &Curve, reach: f64) -> Cuts {
        let mut cuts = Cuts::default();
        self.cut_by_circle(other.from, reach, &mut cuts);
        self.cut_by_circle(other.to, reach, &mut cuts);
        match &other.shape {
            Shape::Line { along } => {
                self.cut_by_line(other.from, *along, reach, &mut cuts);
                self.cut_by_line(other.from, *along, -reach, &mut cuts);
            }
            Shape::Arc(arc) => {
                self.cut_by_circle(arc.centre, arc.radius + reach, &mut cuts);
                self.cut_by_circle(arc.centre, (arc.radius - reach).abs(), &mut cuts);
            }
        }
        cuts
    }

    fn cut_by_circle(&self, centre: Point, radius: f64, cuts: &mut Cuts) {
        match &self.shape {
            Shape::Line { along } => {
                let out = centre - self.from;
                let (reach, side) = (out.dot(*along), along.cross(out));
                let under = (radius - side) * (radius + side);
                if under > 0.0 {
                    let half = under.sqrt();
                    cuts.add((reach - half) / self.length);
                    cuts.add((reach + half) / self.length);
                }
            }
            Shape::Arc(arc) => {
                let out = centre - arc.centre;
                let apart = out.length();
                let cosine =
                    (arc.radius * arc.radius + apart * apart - radius * radius) / (2.0 * arc.radius * apart);
                cut_arc(arc, out, cosine, cuts);
            }
        }
    }

    /// Cuts by the line that lies `shift` to the left of the one through `foot` in direction `way`.
    fn cut_by_line(&self, foot: Point, way: Vector, shift: f64, cuts: &mut Cuts) {
        match &self.shape {
            Shape::Line { along } => {
                let (rise, height) = (way.cross(*along), way.cross(self.from - foot));
                if rise != 0.0 {
                    cuts.add((shift - height) / (rise * self.length));
                }
            }
            Shape::Arc(arc) => {
                let height = way.cross(arc.centre - foot);
                cut_arc(arc, way.left(), (shift - height) / arc.radius, cuts);
            }
        }
    }
}

/// The two places of an arc whose direction makes an angle of this cosine with `axis`.
fn cut_arc(arc: &Arc, axis: Vector, cosine: f64, cuts: &mut Cuts) {
    // Concentric circles give a NaN: they never cross.
    if cosine.abs() >= 1.0 || cosine.is_nan() {
        return;
    }
    let (turn, spread) = (arc.turn_to(axis), cosine.acos());
    for angle in [turn - spread, turn + spread] {
        cuts.add(arc.share(wrapped(angle)));
    }
}

/// An angle brought into -pi to pi.
fn wrapped(angle: f64) -> f64 {
    use std::f64::consts::{PI, TAU};
    if angle > PI {
        angle - TAU
    } else if angle < -PI {
        angle + TAU
    } else {
        angle
    }
}

impl Cuts {
    /// Keeps a share if it lies on the curve.
    fn add(&mut self, share: f64) {
        if share > 0.0 && share < 1.0 {
            self.shares[self.count] = share;
            self.count += 1;
        }
    }

    /// The shares within an interval, in order, with the interval's ends around them.
    pub(crate) fn stops(&mut self, low: f64, high: f64) -> Stops {
        let mut stops = Stops { shares: [low; 12], count: 1 };
        self.shares[..self.count].sort_unstable_by(f64::total_cmp);
        for &share in &self.shares[..self.count] {
            if share > low && share < high {
                stops.shares[stops.count] = share;
                stops.count += 1;
            }
        }
        stops.shares[stops.count] = high;
        stops.count += 1;
        stops
    }
}

/// Shares in rising order.
#[derive(Debug)]
pub(crate) struct Stops {
    shares: [f64; 12],
    count: usize,
}

impl Stops {
    /// The stretches between neighbouring stops.
    pub(crate) fn stretches(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.shares[..self.count].windows(2).map(|pair| (pair[0], pair[1]))
    }
}
