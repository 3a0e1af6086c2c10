//! A segment made ready for many questions: its chord's own frame, in which nothing cancels however flat the arc is.
//!
//! In that frame the chord runs along x from -half to half and y points left of travel. The circle of an arc is
//! x^2 + y^2 - 2*lift*y = half^2; its centre (0, lift) may lie kilometres away, yet every formula below keeps its
//! relative accuracy, because a distance is taken as power / (distance to centre + radius) and never as a difference.

use crate::{Bounds, Point, Segment, Vector};

/// A line or an arc of at most half a circle, with what its questions need.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Piece {
    pub segment: Segment,
    pub middle: Point,
    pub along: Vector,
    pub half: f64,
    /// Centre of the circle above the chord; 0 for a line (told apart by `turn`).
    pub lift: f64,
    /// Radius; 0 for a line.
    pub radius: f64,
    /// 1 counter-clockwise arc, -1 clockwise arc, 0 line.
    pub turn: f64,
}

/// The point of a piece that is nearest to a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Foot {
    pub point: Point,
    pub distance: f64,
    /// At the start (-1), inside (0) or at the end (1) of the piece.
    pub end: i8,
}

impl Piece {
    pub fn new(segment: Segment) -> Self {
        let chord = segment.to - segment.from;
        let length = chord.length();
        let (half, b) = (length / 2.0, segment.bulge);
        let along = chord.unit().unwrap_or(Vector::new(1.0, 0.0));
        let middle = segment.from.towards(segment.to, 0.5);
        let (lift, radius, turn) = match b == 0.0 {
            true => (0.0, 0.0, 0.0),
            false => (half * (1.0 - b * b) / (2.0 * b), half * (1.0 + b * b) / (2.0 * b.abs()), b.signum()),
        };
        Self { segment, middle, along, half, lift, radius, turn }
    }

    pub fn is_line(&self) -> bool {
        self.turn == 0.0
    }

    /// A place in the chord's frame.
    pub fn local(&self, place: Point) -> Vector {
        let out = place - self.middle;
        Vector::new(self.along.dot(out), self.along.cross(out))
    }

    /// A place of the chord's frame in the plane.
    pub fn global(&self, local: Vector) -> Point {
        self.middle + self.along * local.x + self.along.left() * local.y
    }

    /// Centre of the arc in the plane.
    pub fn centre(&self) -> Point {
        self.global(Vector::new(0.0, self.lift))
    }

    /// Distance of a place of the chord's frame to the whole circle: negative inside it.
    pub fn beyond_circle(&self, at: Vector) -> f64 {
        let power = at.x * at.x + at.y * at.y - self.half * self.half - 2.0 * self.lift * at.y;
        power / (self.centre_distance(at) + self.radius)
    }

    /// Distance of a place of the chord's frame to the arc's centre.
    pub fn centre_distance(&self, at: Vector) -> f64 {
        let up = at.y - self.lift;
        (at.x * at.x + up * up).sqrt()
    }

    /// Whether a point of the circle lies on the arc: an arc of at most half a circle is what lies on its side of the chord.
    pub fn arc_holds(&self, on_circle: Vector) -> bool {
        on_circle.y * self.turn <= 0.0
    }

    /// Whether a place looks at the inside of the piece: its foot on the whole line or circle lies on the piece itself.
    pub fn faces(&self, at: Vector, beyond: f64) -> bool {
        match self.is_line() {
            true => at.x.abs() <= self.half,
            false => self.turn * (self.lift * beyond + at.y * self.radius) <= 0.0,
        }
    }

    /// The nearest point of the piece.
    pub fn foot(&self, place: Point) -> Foot {
        let at = self.local(place);
        if self.is_line() {
            if self.faces(at, at.y) {
                return Foot { point: self.global(Vector::new(at.x, 0.0)), distance: at.y.abs(), end: 0 };
            }
            return self.nearer_end(place);
        }
        let beyond = self.beyond_circle(at);
        let reach = self.centre_distance(at);
        if self.faces(at, beyond) && reach > 0.0 {
            let out = Vector::new(at.x, at.y - self.lift) * (1.0 / reach);
            return Foot { point: self.global(at - out * beyond), distance: beyond.abs(), end: 0 };
        }
        self.nearer_end(place)
    }

    fn nearer_end(&self, place: Point) -> Foot {
        let (first, last) = (place.distance(self.segment.from), place.distance(self.segment.to));
        match first <= last {
            true => Foot { point: self.segment.from, distance: first, end: -1 },
            false => Foot { point: self.segment.to, distance: last, end: 1 },
        }
    }

    /// The share of the piece's length at which one of its points lies.
    pub fn share(&self, foot: &Foot) -> f64 {
        if foot.end != 0 {
            return if foot.end < 0 { 0.0 } else { 1.0 };
        }
        let at = self.local(foot.point);
        let share = match self.is_line() {
            true => 0.5 + at.x / (2.0 * self.half),
            false => 0.5 + at.x.atan2(self.turn * (self.lift - at.y)) / self.segment.sweep().abs(),
        };
        share.clamp(0.0, 1.0)
    }

    /// The box of the piece, exact over its arc.
    pub fn bounds(&self) -> Bounds {
        let ends = Bounds::of(self.segment.from).union(Bounds::of(self.segment.to));
        if self.is_line() {
            return ends;
        }
        [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].into_iter().fold(ends, |bounds, (x, y)| {
            // The extreme of the circle in this direction, as seen from the chord: its centre is `lift` above.
            let way = Vector::new(x, y);
            let out = Vector::new(self.along.dot(way), self.along.cross(way)) * self.radius;
            let extreme = Vector::new(out.x, self.lift + out.y);
            match self.arc_holds(extreme) {
                true => bounds.union(Bounds::of(self.global(extreme))),
                false => bounds,
            }
        })
    }
}
