//! Chords that a drawing program put in the place of an arc, recognised as that arc.
//!
//! Stages: the turn at each vertex; stretches of chords that turn one way, a little and evenly; in each stretch, from its beginning, the
//! longest run whose vertices lie on one circle through its ends; a run of enough chords close enough to their arc becomes that arc. A run
//! that goes all round becomes a circle. A polygon that was meant turns more at each corner, or stands off its circle too far.

use crate::outline::segments_of;
use crate::{Point, Segment, Vector, Vertex};
use std::f64::consts::TAU;

/// Vertices of facets lie within this of their circle, mm: a drawing of four decimals rounds by 0.07 um.
const OFF_CIRCLE: f64 = 0.000_5;
/// Fewer chords could be anything.
const LEAST_CHORDS: usize = 6;
/// Chords that turn by this much at a vertex, degrees, are sides of a polygon: one of 24 turns by 15.
const MOST_TURN_DEG: f64 = 15.0;
/// Turns of neighbouring vertices of facets differ by no more than this factor: the chords at the ends of an arc may be cut short.
const EVEN: f64 = 2.5;
/// An arc whose centre is no farther than this from its chord is half a circle, mm: the rounding of four decimals.
const HALF: f64 = 1e-4;
/// Chords that stand off their arc by more than this are left as they are, mm.
pub const MOST_SAGITTA: f64 = 0.005;

/// A closed run of vertices, with arcs in the place of facets.
#[derive(Debug, Clone, PartialEq)]
pub struct Faceted {
    /// The run. It begins where the one with facets began, to within half a micrometre.
    pub vertices: Vec<Vertex>,
    /// The facets that became arcs.
    pub arcs: Vec<Facets>,
    /// Facets that stand off their arcs too far, and are left as they are.
    pub coarse: Vec<Facets>,
}

/// Chords that stand for one arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facets {
    /// Number of the vertex at which the first of them begins.
    pub first: usize,
    /// How many they are.
    pub count: usize,
    /// Radius of the arc, mm.
    pub radius: f64,
    /// Largest distance between them and the arc, mm.
    pub deviation: f64,
}

/// A run of chords and its arc.
#[derive(Debug, Clone, Copy)]
struct Run {
    facets: Facets,
    /// The arc as it would leave the first vertex; of any size.
    bulge: f64,
}

/// Puts arcs in the place of facets in a closed run of vertices; bulges may be of any size.
pub fn recognised(vertices: &[Vertex]) -> Faceted {
    let ring = Ring::new(vertices);
    let mut found = Faceted { vertices: vertices.to_vec(), arcs: Vec::new(), coarse: Vec::new() };
    if let Some((facets, circle)) = ring.whole_circle() {
        match facets.deviation <= MOST_SAGITTA {
            true => (found.vertices, found.arcs) = (circle, vec![facets]),
            false => found.coarse.push(facets),
        }
        return found;
    }
    let (runs, coarse): (Vec<Run>, Vec<Run>) =
        ring.runs().into_iter().partition(|run| run.facets.deviation <= MOST_SAGITTA);
    found.coarse = coarse.iter().map(|run| run.facets).collect();
    if !runs.is_empty() {
        found.vertices = ring.with_arcs(&runs);
        found.arcs = runs.iter().map(|run| run.facets).collect();
    }
    found
}

/// A closed run of vertices with the turn at each; 0 where no facets can meet.
struct Ring<'a> {
    vertices: &'a [Vertex],
    turns: Vec<f64>,
}

impl<'a> Ring<'a> {
    fn new(vertices: &'a [Vertex]) -> Self {
        let chords: Vec<Segment> = segments_of(vertices).collect();
        let n = chords.len();
        let turn = |i: usize| {
            let (before, after) = (chords[(i + n - 1) % n], chords[i]);
            let (a, b) = (before.to - before.from, after.to - after.from);
            let turn = a.cross(b).atan2(a.dot(b));
            let small = before.is_line() && after.is_line() && turn.abs() < MOST_TURN_DEG.to_radians();
            if small { turn } else { 0.0 }
        };
        Self { vertices, turns: (0..n).map(turn).collect() }
    }

    fn len(&self) -> usize {
        self.vertices.len()
    }

    fn place(&self, i: usize) -> Point {
        self.vertices[i % self.len()].point
    }

    /// Whether the chords before and after a vertex can be facets of one arc.
    fn linked(&self, i: usize) -> bool {
        self.turns[i % self.len()] != 0.0
    }

    /// Whether the turns at a vertex and at the next one are alike.
    fn even(&self, i: usize) -> bool {
        let ratio = self.turns[i % self.len()] / self.turns[(i + 1) % self.len()];
        (1.0 / EVEN..=EVEN).contains(&ratio)
    }

    /// The circle that the whole ring stands for, if it does: through its first vertex, two halves.
    fn whole_circle(&self) -> Option<(Facets, Vec<Vertex>)> {
        let n = self.len();
        if n < LEAST_CHORDS || !(0..n).all(|i| self.linked(i) && self.even(i)) {
            return None;
        }
        let first = self.place(0);
        let centre =
            first + centre_through(&self.vertices[1..].iter().map(|v| v.point - first).collect::<Vec<_>>())?;
        let radius = first.distance(centre);
        let off = |p: Point| (p.distance(centre) - radius).abs();
        if !self.vertices.iter().all(|vertex| off(vertex.point) <= OFF_CIRCLE) {
            return None;
        }
        let nearest = |i: usize| Segment::line(self.place(i), self.place(i + 1)).nearest(centre).0;
        let deviation = (0..n).map(|i| off(self.place(i)).max(off(nearest(i)))).fold(0.0, f64::max);
        let bulge = self.turns[0].signum();
        let opposite = centre + (centre - first);
        let halves = [first, opposite].map(|point| Vertex { point, bulge }).to_vec();
        Some((Facets { first: 0, count: n, radius, deviation }, halves))
    }

    /// All runs. The first one that is found from the first vertex may have been begun in its middle; where it ends something ends.
    fn runs(&self) -> Vec<Run> {
        match self.runs_from(0).first() {
            Some(run) => self.runs_from((run.facets.first + run.facets.count) % self.len()),
            None => Vec::new(),
        }
    }

    /// All runs, once round from a vertex.
    fn runs_from(&self, start: usize) -> Vec<Run> {
        let end = start + self.len();
        let mut runs = Vec::new();
        let mut at = start;
        while at < end {
            match self.longest_run(at, end) {
                Some(run) => {
                    at += run.facets.count;
                    runs.push(run);
                }
                None => at += 1,
            }
        }
        runs
    }

    /// The longest run of chords from a vertex that ends at `end` or before.
    fn longest_run(&self, first: usize, end: usize) -> Option<Run> {
        // Chords first .. last turn evenly at the vertices between them.
        let mut last = first + 1;
        while last < end && self.linked(last) && (last == first + 1 || self.even(last - 1)) {
            last += 1;
        }
        let most = last - first;
        let mut best = (LEAST_CHORDS <= most).then(|| self.run(first, LEAST_CHORDS)).flatten()?;
        let (mut good, mut bad) = (LEAST_CHORDS, most + 1);
        while good + 1 < bad {
            let count = if bad == most + 1 && 2 * good < most { 2 * good } else { (good + bad) / 2 };
            match self.run(first, count) {
                Some(run) => (best, good) = (run, count),
                None => bad = count,
            }
        }
        Some(best)
    }

    /// The arc through the ends of some chords that their vertices lie on, if there is one.
    fn run(&self, first: usize, count: usize) -> Option<Run> {
        let frame = Frame::new(self.place(first), self.place(first + count))?;
        let inner: Vec<Vector> = (1..count).map(|k| frame.local(self.place(first + k))).collect();
        let (mut powers, mut squares) = (0.0, 0.0);
        for at in &inner {
            powers += (at.dot(*at) - frame.half * frame.half) * at.y;
            squares += at.y * at.y;
        }
        // Least squares for the height of the centre above the chord: all points have the power 2 * lift * y.
        let lift = powers / (2.0 * squares);
        let lift = if lift.abs() <= HALF { 0.0 } else { lift };
        let circle = Circle { half: frame.half, lift, radius: frame.half.hypot(lift) };
        let holds = circle.radius.is_finite() && inner.iter().all(|at| circle.off(*at).abs() <= OFF_CIRCLE);
        let sense = self.turns[(first + 1) % self.len()].signum();
        let bulge = sense * circle.bulge(sense);
        // The arc turns as much as its chords do, and half a turn more at each end.
        let turned: f64 = (1..count).map(|k| self.turns[(first + k) % self.len()]).sum();
        let sweep = 4.0 * bulge.atan();
        let alike = (sweep - turned).abs() <= 2.0 * MOST_TURN_DEG.to_radians() && sweep.abs() < TAU;
        if !(holds && alike) {
            return None;
        }
        let ends = [Vector::new(-frame.half, 0.0), Vector::new(frame.half, 0.0)];
        let places: Vec<Vector> = [&ends[..1], &inner, &ends[1..]].concat();
        let deviation = places.windows(2).map(|pair| circle.off_chord(pair[0], pair[1])).fold(0.0, f64::max);
        let facets = Facets { first: first % self.len(), count, radius: circle.radius, deviation };
        Some(Run { facets, bulge })
    }

    /// The vertices with each run as one arc. An arc that holds the first vertex is cut there.
    fn with_arcs(&self, runs: &[Run]) -> Vec<Vertex> {
        let n = self.len();
        let mut arc_at = vec![None; n];
        let mut covered = vec![false; n];
        for run in runs {
            arc_at[run.facets.first] = Some(run);
            (1..run.facets.count).for_each(|k| covered[(run.facets.first + k) % n] = true);
        }
        let mut kept: Vec<Vertex> = Vec::new();
        let around = runs.iter().find(|run| run.facets.first + run.facets.count > n);
        if let Some(run) = around {
            kept.push(self.cut(run)[1]);
        }
        for i in (0..n).filter(|i| !covered[*i]) {
            let vertex = self.vertices[i];
            let bulge = match arc_at[i] {
                Some(run) if around.is_some_and(|around| around.facets.first == i) => self.cut(run)[0].bulge,
                Some(run) => run.bulge,
                None => vertex.bulge,
            };
            kept.push(Vertex { bulge, ..vertex });
        }
        kept
    }

    /// An arc that passes the first vertex, as two, each by its beginning.
    fn cut(&self, run: &Run) -> [Vertex; 2] {
        let (from, to) = (self.place(run.facets.first), self.place(run.facets.first + run.facets.count));
        let segment = Segment { from, to, bulge: run.bulge };
        let centre = segment.centre().unwrap_or(from);
        let (arm, out) = (from - centre, self.place(0) - centre);
        let sense = run.bulge.signum();
        let angle = (sense * arm.cross(out).atan2(arm.dot(out))).rem_euclid(TAU);
        let whole = segment.sweep().abs();
        let point = centre + out * (arm.length() / out.length());
        let bulge = |sweep: f64| sense * (sweep / 4.0).tan();
        [Vertex { point: from, bulge: bulge(angle) }, Vertex { point, bulge: bulge(whole - angle) }]
    }
}

/// A chord with its middle at the origin and its direction along x.
struct Frame {
    middle: Point,
    along: Vector,
    half: f64,
}

impl Frame {
    fn new(from: Point, to: Point) -> Option<Self> {
        let chord = to - from;
        Some(Self { middle: from.towards(to, 0.5), along: chord.unit()?, half: chord.length() / 2.0 })
    }

    fn local(&self, place: Point) -> Vector {
        let out = place - self.middle;
        Vector::new(self.along.dot(out), self.along.cross(out))
    }
}

/// A circle through both ends of a chord, in the chord's frame. Distances keep their digits however flat it is.
struct Circle {
    half: f64,
    lift: f64,
    radius: f64,
}

impl Circle {
    /// Distance of a place to it, negative inside.
    fn off(&self, at: Vector) -> f64 {
        let power = at.dot(at) - self.half * self.half - 2.0 * self.lift * at.y;
        power / (at.x.hypot(at.y - self.lift) + self.radius)
    }

    /// Largest distance to a chord of it.
    fn off_chord(&self, from: Vector, to: Vector) -> f64 {
        let along = to - from;
        let share = (Vector::new(0.0, self.lift) - from).dot(along) / along.dot(along);
        let nearest = from + along * share.clamp(0.0, 1.0);
        [from, to, nearest].into_iter().map(|at| self.off(at).abs()).fold(0.0, f64::max)
    }

    /// Size of the bulge of the arc from end to end that is travelled in a sense, 1 counter-clockwise.
    fn bulge(&self, sense: f64) -> f64 {
        let lift = sense * self.lift;
        match lift >= 0.0 {
            true => self.half / (lift + self.radius),
            false => (self.radius - lift) / self.half,
        }
    }
}

/// The centre of the circle through the origin that lies nearest to some places, by least squares over their powers.
fn centre_through(places: &[Vector]) -> Option<Vector> {
    let (mut xx, mut xy, mut yy, mut x, mut y) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for p in places {
        let half = p.dot(*p) / 2.0;
        (xx, xy, yy) = (xx + p.x * p.x, xy + p.x * p.y, yy + p.y * p.y);
        (x, y) = (x + half * p.x, y + half * p.y);
    }
    let centre = Vector::new(yy * x - xy * y, xx * y - xy * x) * (1.0 / (xx * yy - xy * xy));
    (centre.x.is_finite() && centre.y.is_finite()).then_some(centre)
}
