//! A line or arc that can be moved sideways and cut where it comes within reach of another: what a parallel is made of.
//!
//! Like a piece (see `piece`) it stands in its chord's own frame, and every formula keeps its digits however flat an arc
//! is: no centre is ever taken, which may lie kilometres away. A curve is a rational Bezier curve of degree two over its
//! chord; a line, a circle, or what lies beside one of them, is cut by solving one quadratic over its control points.
//!
//! Places on a curve are shares of its length, 0 at its start and 1 at its end.

use crate::{Point, Segment, Vector};

/// Arcs that bend less than this are lines: on an outline of a metre they rise by less than a coordinate is rounded.
const STRAIGHT: f64 = f64::EPSILON;

/// A line or an arc of at most half a circle with what moving and cutting it needs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Curve {
    pub(crate) from: Point,
    pub(crate) to: Point,
    pub(crate) length: f64,
    /// Middle of the chord.
    middle: Point,
    /// Unit direction of the chord.
    along: Vector,
    /// Half the chord's length.
    chord: f64,
    /// 1 when travelled counter-clockwise, -1 when clockwise; 1 for a line too.
    sense: f64,
    /// Half its sweep, radians; 0 for a line.
    half: f64,
    /// Sine and cosine of that.
    sin: f64,
    cos: f64,
}

/// Shares of a curve where something changes, in no order, at most as many as four levels give.
#[derive(Debug, Default)]
pub(crate) struct Cuts {
    shares: [f64; 8],
    count: usize,
}

/// What is nothing on a line or a circle and grows away from it: square * |p - about|^2 - slope.(p - about) - drop.
struct Level {
    about: Point,
    square: f64,
    slope: Vector,
    drop: f64,
}

impl Curve {
    /// The curve of a segment.
    pub(crate) fn new(segment: &Segment) -> Self {
        let (from, to) = (segment.from, segment.to);
        let chord = to - from;
        let along = chord.unit().unwrap_or(Vector::new(1.0, 0.0));
        let (sense, half) = match segment.bulge.abs() <= STRAIGHT {
            true => (1.0, 0.0),
            false => (segment.bulge.signum(), 2.0 * segment.bulge.abs().atan()),
        };
        let bent = Self::bent(from.towards(to, 0.5), along, 0.5 * chord.length(), sense, half);
        // The ends themselves, not what the chord's frame makes of them.
        Self { from, to, ..bent }
    }

    /// An arc around a centre, told by the direction to its middle and half its sweep, at most a quarter turn.
    pub(crate) fn around(centre: Point, radius: f64, middle: Vector, half: f64, sense: f64) -> Self {
        let (sin, cos) = half.sin_cos();
        Self::bent(centre + middle * (radius * cos), middle.left() * sense, radius * sin, sense, half)
    }

    fn bent(middle: Point, along: Vector, chord: f64, sense: f64, half: f64) -> Self {
        let (sin, cos) = half.sin_cos();
        let length = if half == 0.0 { 2.0 * chord } else { 2.0 * chord * (half / sin) };
        let (from, to) = (middle - along * chord, middle + along * chord);
        Self { from, to, length, middle, along, chord, sense, half, sin, cos }
    }

    /// Whether it is straight.
    pub(crate) fn is_line(&self) -> bool {
        self.half == 0.0
    }

    /// The parallel curve `distance` to its left; none once an arc has shrunk to nothing.
    pub(crate) fn shifted(&self, distance: f64) -> Option<Self> {
        let chord = self.chord - self.sense * distance * self.sin;
        let middle = self.middle + self.along.left() * (distance * self.cos);
        (self.is_line() || chord > 0.0).then(|| Self::bent(middle, self.along, chord, self.sense, self.half))
    }

    /// The place at a share of its length.
    pub(crate) fn at(&self, share: f64) -> Point {
        if self.is_line() {
            return self.from.towards(self.to, share);
        }
        let turn = (2.0 * share - 1.0) * self.half;
        let radius = self.chord / self.sin;
        let rise = 2.0 * radius * (0.5 * (self.half + turn)).sin() * (0.5 * (self.half - turn)).sin();
        self.middle + self.along * (radius * turn.sin()) - self.along.left() * (self.sense * rise)
    }

    /// Share at which a place stands square on it; outside 0 to 1 when that is beyond an end.
    pub(crate) fn share_of(&self, place: Point) -> f64 {
        let out = place - self.middle;
        let (x, y) = (self.along.dot(out), self.along.cross(out));
        if self.is_line() {
            return 0.5 + 0.5 * x / self.chord;
        }
        let turn = (x * self.sin).atan2(self.chord * self.cos - self.sense * y * self.sin);
        0.5 + 0.5 * turn / self.half
    }

    /// How far a place lies from the whole line or circle.
    pub(crate) fn away(&self, place: Point) -> f64 {
        let out = place - self.middle;
        let (x, y) = (self.along.dot(out), self.along.cross(out));
        let up = self.sense * self.chord * self.cos;
        let power = (x * x + y * y - self.chord * self.chord) * self.sin - 2.0 * up * y;
        power.abs() / ((x * self.sin).hypot(y * self.sin - up) + self.chord)
    }

    /// The bulge of the stretch between two places on it.
    pub(crate) fn bulge_between(&self, from: Point, to: Point) -> f64 {
        let turn = 2.0 * self.half * (self.share_of(to) - self.share_of(from)).abs();
        self.sense * (0.25 * turn).tan()
    }

    /// Unit direction of travel at its start and at its end.
    pub(crate) fn end_directions(&self) -> (Vector, Vector) {
        let (ahead, aside) = (self.along * self.cos, self.along.left() * (self.sense * self.sin));
        (ahead - aside, ahead + aside)
    }

    /// Where it meets the edge of what lies nearer than `reach` to `other`. Between two cuts it is wholly nearer or
    /// wholly not, so that one look at a middle decides.
    pub(crate) fn cuts(&self, other: &Curve, reach: f64) -> Cuts {
        let mut cuts = Cuts::default();
        let rims = [Level::circle(other.from, reach), Level::circle(other.to, reach)];
        let sides = [other.beside(reach), other.beside(-reach)];
        rims.iter().chain(&sides).for_each(|level| self.cut(level, &mut cuts));
        cuts
    }

    /// Nothing where a place lies `beyond` outside the circle, or to the right of the line.
    fn beside(&self, beyond: f64) -> Level {
        let bend = if self.is_line() { 0.0 } else { 0.5 * self.sin / self.chord };
        Level {
            about: self.middle,
            square: bend,
            slope: self.along.left() * (self.sense * self.cos),
            drop: bend * self.chord * self.chord + beyond + bend * beyond * beyond,
        }
    }

    /// Keeps the shares at which it meets a level. Over the curve's control points q0, q1, q2 the level is
    /// q0 (1-u)^2 + 2 q1 u (1-u) + q2 u^2, so that z = u / (1-u) solves q2 z^2 + 2 q1 z + q0 = 0.
    fn cut(&self, level: &Level, cuts: &mut Cuts) {
        let [q0, q1, q2] = self.controls(level);
        let under = q1 * q1 - q0 * q2;
        if under > 0.0 {
            // The larger root first and the other from the product of both, so that neither loses digits.
            let large = -(q1 + under.sqrt().copysign(q1));
            cuts.add(self.share_at(large / q2));
            cuts.add(self.share_at(q0 / large));
        }
    }

    /// The level over its control points: on a circle the square of a place is linear in the place, which leaves degree two.
    fn controls(&self, level: &Level) -> [f64; 3] {
        let aside = self.along.left() * (-self.sense * self.chord * self.sin);
        let out = level.about - self.middle;
        let square = (out.dot(out) - self.chord * self.chord) * self.cos - 2.0 * out.dot(aside);
        let slope = level.slope.dot(aside) - level.slope.dot(out) * self.cos;
        let middle = level.square * square - slope - level.drop * self.cos;
        [level.at(self.from), middle, level.at(self.to)]
    }

    /// The share at a ratio u / (1-u); no number where that is not on the curve.
    fn share_at(&self, ratio: f64) -> f64 {
        let ahead = (ratio - 1.0) / (ratio + 1.0);
        match (ratio >= 0.0, self.is_line()) {
            (false, _) => f64::NAN,
            (true, true) => 0.5 + 0.5 * ahead,
            (true, false) => 0.5 + (ahead * self.sin / (1.0 + self.cos)).atan() / self.half,
        }
    }
}

impl Level {
    /// Nothing on a circle.
    fn circle(centre: Point, radius: f64) -> Self {
        Self { about: centre, square: 1.0, slope: Vector::new(0.0, 0.0), drop: radius * radius }
    }

    fn at(&self, place: Point) -> f64 {
        let out = place - self.about;
        self.square * out.dot(out) - self.slope.dot(out) - self.drop
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
        let mut stops = Stops { shares: [low; 10], count: 1 };
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
    shares: [f64; 10],
    count: usize,
}

impl Stops {
    /// The stretches between neighbouring stops.
    pub(crate) fn stretches(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.shares[..self.count].windows(2).map(|pair| (pair[0], pair[1]))
    }
}
