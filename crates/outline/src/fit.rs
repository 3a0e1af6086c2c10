//! Smooth curves as lines and arcs, tangent to each other, within half a micrometre.
//!
//! Stages: curves that are points are dropped; where the direction breaks, a corner stays; straight stretches stay lines; along what is
//! smooth, from its beginning, always the longest pair of arcs that is proved near enough; arcs of one circle are joined. Where a curve is
//! too tight for any pair (the tip of a cusp) a line shorter than the tolerance stands for it, and its corner is kept.

use crate::biarc::{biarc, straightened};
use crate::deviation::deviation;
use crate::joined::{JOINED_WITHIN, joined_run};
use crate::{Bezier, Effort, Point, Segment, Vector, Vertex};

/// No point of a curve lies farther from its arcs, nor of the arcs from the curve, mm.
pub const FIT_TOLERANCE: f64 = 0.000_5;

/// What a pair of arcs may deviate; joining those of one circle may add the rest.
const LIMIT: f64 = FIT_TOLERANCE - JOINED_WITHIN;
/// Curves that meet at a greater angle have a corner there, radians; the arcs lead through smaller breaks.
const BREAK: f64 = 1e-4;
/// A curve that rises this little from its chord is straight, mm, if it also rises by less than `STRAIGHT_SHARE` of its length.
const STRAIGHT: f64 = 1e-6;
/// See `STRAIGHT`: a fifth of what counts as a break.
const STRAIGHT_SHARE: f64 = 2e-5;
/// A search for the longest step ends when it is known to this share.
const STEP_SHARE: f64 = 0.05;
/// A step that leads past the end of a curve by less than this share of itself ends there instead, where drawings change their ways.
const SNAP: f64 = 0.25;
/// What one curve may take of the effort: a fraction of a second.
const MOST_FOR_ONE: u64 = 50_000_000;
/// What finding a place on a curve by halving costs.
const SEARCH: u64 = 20;
/// Arcs of one curve; more are noise and not a drawing.
pub const MOST_ARCS: usize = 20_000;

/// Arcs and lines that stand for a curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The points in order, each with the bulge of the segment that leaves it; the last one ends it, with bulge 0.
    pub vertices: Vec<Vertex>,
    /// A proved bound on the distance between the curve and this, mm.
    pub deviation: f64,
}

/// The curve winds so much, or runs so fast in places, that no reasonable number of arcs follows it; here it was given up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooWinding(pub Point);

/// Fits curves of which each begins where the one before ends; none where there is no curve or only points.
///
/// # Errors
/// When there would be more than 20,000 arcs, or when the effort is spent: all of it, or as much as one curve may take.
pub fn fit(curves: &[Bezier], effort: &mut Effort) -> Result<Option<Fitted>, TooWinding> {
    let before = effort.at_most(MOST_FOR_ONE);
    let mut after = before.clone();
    let found = fitted(curves, &mut after);
    effort.spend_all((&before, &after));
    found
}

fn fitted(curves: &[Bezier], effort: &mut Effort) -> Result<Option<Fitted>, TooWinding> {
    let curves: Vec<&Bezier> = curves.iter().filter(|curve| curve.first_direction().is_some()).collect();
    let mut segments = Vec::new();
    let mut most = 0.0f64;
    let mut begin = 0;
    while begin < curves.len() {
        let run = Run::new(&curves[begin..]);
        most = most.max(run.fit(&mut segments, effort)?);
        begin += run.curves.len();
    }
    let count = segments.len();
    let segments = joined_run(&segments);
    if segments.len() < count {
        most += JOINED_WITHIN;
    }
    let Some(last) = segments.last() else { return Ok(None) };
    let mut vertices: Vec<Vertex> =
        segments.iter().map(|segment| Vertex { point: segment.from, bulge: segment.bulge }).collect();
    vertices.push(Vertex { point: last.to, bulge: 0.0 });
    Ok(Some(Fitted { vertices, deviation: most }))
}

/// Curves that follow each other smoothly, or one straight stretch. A place on it is the number of the curve and the parameter in it,
/// added.
struct Run<'a> {
    curves: &'a [&'a Bezier],
    straight: bool,
}

/// Some of a run with what stands for it.
struct Step {
    to: f64,
    arriving: Vector,
    segments: [Option<Segment>; 2],
    deviation: f64,
}

impl<'a> Run<'a> {
    /// The longest run at the beginning of some curves.
    fn new(curves: &'a [&'a Bezier]) -> Self {
        let straight = height(curves[0]).is_some();
        let mut count = 1;
        while count < curves.len()
            && !breaks(curves[count - 1], curves[count])
            && height(curves[count]).is_some() == straight
        {
            count += 1;
        }
        Self { curves: &curves[..count], straight }
    }

    fn end(&self) -> f64 {
        self.curves.len() as f64
    }

    /// Appends what stands for the run, and gives its deviation.
    fn fit(&self, segments: &mut Vec<Segment>, effort: &mut Effort) -> Result<f64, TooWinding> {
        if self.straight {
            segments.extend(self.curves.iter().map(|curve| Segment::line(curve.first(), curve.last())));
            return Ok(self.curves.iter().filter_map(|curve| height(curve)).fold(0.0, f64::max));
        }
        let (mut at, mut most) = (0.0, 0.0f64);
        let mut leaving = self.curves[0].first_direction();
        let mut guess = 1.0;
        while at < self.end() {
            let step = self.longest(at, leaving, guess, effort).filter(|_| segments.len() < MOST_ARCS);
            let step = step.ok_or_else(|| TooWinding(self.place(at)))?;
            segments.extend(step.segments.into_iter().flatten());
            most = most.max(step.deviation);
            (leaving, guess) = (Some(step.arriving), step.to - at);
            at = step.to;
        }
        Ok(most)
    }

    /// The longest step from a place, searched from a guess of its length. The deviation of a pair grows with the cube of its length. None
    /// when the effort is spent, or where the curve runs so fast that its parameters cannot be told apart.
    fn longest(&self, at: f64, leaving: Option<Vector>, guess: f64, effort: &mut Effort) -> Option<Step> {
        let mut length = guess;
        let (mut best, mut too_far): (Option<Step>, _) = (None, f64::INFINITY);
        loop {
            let to = (at + length).min(self.end());
            if effort.is_spent() || to <= at {
                return None;
            }
            match self.step(at, leaving, to, effort) {
                Some(step) => {
                    let share = step.deviation / LIMIT;
                    let growth = (1.0 / share.max(1e-3)).cbrt() * (1.0 - STEP_SHARE);
                    length = (to - at) * growth;
                    best = Some(step);
                    if to == self.end() || growth < 1.0 + STEP_SHARE / 2.0 {
                        break;
                    }
                }
                None => {
                    if best.is_none()
                        && let Some(step) = self.tip(at, leaving, to)
                    {
                        return Some(step);
                    }
                    too_far = to - at;
                    length = 0.5 * too_far;
                }
            }
            if let Some(step) = &best {
                let reached = step.to - at;
                if too_far - reached <= STEP_SHARE * reached {
                    break;
                }
                if length >= too_far || length <= reached {
                    length = (reached + too_far) / 2.0;
                }
            }
        }
        let best = best?;
        Some(self.snapped(at, leaving, best, effort))
    }

    /// The step to the end of the last curve that is passed, if that is hardly shorter.
    fn snapped(&self, at: f64, leaving: Option<Vector>, step: Step, effort: &mut Effort) -> Step {
        let boundary = step.to.floor();
        let near = boundary < step.to && step.to - boundary < SNAP * (step.to - at);
        match near && boundary > at {
            true => self.step(at, leaving, boundary, effort).unwrap_or(step),
            false => step,
        }
    }

    /// A pair of arcs between two places, if it is near enough.
    fn step(&self, at: f64, leaving: Option<Vector>, to: f64, effort: &mut Effort) -> Option<Step> {
        let parts = self.parts(at, to);
        parts.iter().for_each(|part| effort.spend(part, 1));
        let (first, last) = (parts.first()?, parts.last()?);
        let leaving = leaving.or_else(|| first.first_direction())?;
        let arriving = last.last_direction()?;
        let pair = biarc(first.first(), leaving, last.last(), arriving)?;
        effort.spend(last, SEARCH);
        let [before, after] = parted(&parts, pair.arcs[0].to, pair.joint)?;
        let segments = pair.arcs.map(straightened);
        let first = deviation(&before, &segments[0], LIMIT, effort);
        let second = if first.is_finite() { deviation(&after, &segments[1], LIMIT, effort) } else { first };
        let deviation = first.max(second);
        deviation.is_finite().then_some(Step { to, arriving, segments: segments.map(Some), deviation })
    }

    /// A line for so little of a curve that nothing of it is farther than the tolerance from it; it ends in the cusp, if there is one.
    fn tip(&self, at: f64, leaving: Option<Vector>, to: f64) -> Option<Step> {
        let parts = self.parts(at, to);
        if reach(&parts) > FIT_TOLERANCE / 2.0 {
            return None;
        }
        Some(self.line(at, leaving.map_or(to, |leaving| self.cusp(at, leaving, to))))
    }

    /// Where a stretch that begins in one direction turns back, or its end.
    fn cusp(&self, at: f64, leaving: Vector, to: f64) -> f64 {
        let ahead = |place: f64| {
            let arriving = self.parts(at, place).last().and_then(Bezier::last_direction);
            arriving.is_none_or(|direction| direction.dot(leaving) >= 0.0)
        };
        if ahead(to) {
            return to;
        }
        let (mut low, mut high) = (at, to);
        loop {
            let middle = (low + high) / 2.0;
            if middle <= low || middle >= high {
                return high;
            }
            if ahead(middle) { low = middle } else { high = middle }
        }
    }

    fn line(&self, at: f64, to: f64) -> Step {
        let parts = self.parts(at, to);
        let (from, end) = (self.place(at), self.place(to));
        let onwards = self.parts(to, to.floor() + 1.0);
        let arriving = onwards.first().and_then(Bezier::first_direction).unwrap_or(Vector::new(1.0, 0.0));
        let segment = (from.distance(end) > 0.0).then_some(Segment::line(from, end));
        Step { to, arriving, segments: [segment, None], deviation: reach(&parts) }
    }

    fn place(&self, at: f64) -> Point {
        let number = (at.floor() as usize).min(self.curves.len() - 1);
        self.curves[number].at(at - number as f64)
    }

    /// What lies between two places.
    fn parts(&self, from: f64, to: f64) -> Vec<Bezier> {
        let (first, last) = (from.floor() as usize, (to.ceil() as usize).min(self.curves.len()));
        (first..last)
            .map(|i| {
                let place = i as f64;
                self.curves[i].part((from - place).max(0.0), (to - place).min(1.0))
            })
            .filter(|part| part.extent() > 0.0)
            .collect()
    }
}

/// Curves cut where they first pass the line square to a direction at a place: what lies before and what lies after.
fn parted(curves: &[Bezier], place: Point, direction: Vector) -> Option<[Vec<Bezier>; 2]> {
    let ahead = |point: Point| direction.dot(point - place);
    let number = curves.iter().position(|curve| ahead(curve.last()) >= 0.0)?;
    let (mut low, mut high) = (0.0, 1.0);
    // As near as places can be told apart on a large block.
    while high - low > 1e-14 {
        let middle = (low + high) / 2.0;
        if ahead(curves[number].at(middle)) < 0.0 { low = middle } else { high = middle }
    }
    let (before, after) = curves[number].split(high);
    let mut halves = [curves[..number].to_vec(), vec![after]];
    halves[0].push(before);
    halves[1].extend_from_slice(&curves[number + 1..]);
    Some(halves)
}

/// How far control points of these curves lie from the first one at most.
fn reach(curves: &[Bezier]) -> f64 {
    let Some(first) = curves.first().map(Bezier::first) else { return 0.0 };
    curves.iter().flat_map(Bezier::controls).map(|(point, _)| point.distance(first)).fold(0.0, f64::max)
}

/// Whether there is a corner between two curves.
fn breaks(before: &Bezier, after: &Bezier) -> bool {
    match (before.last_direction(), after.first_direction()) {
        (Some(a), Some(b)) => a.dot(b) <= 0.0 || a.cross(b).abs() > BREAK,
        _ => false,
    }
}

/// How far a straight curve rises from its chord; none if it bends or turns back.
fn height(curve: &Bezier) -> Option<f64> {
    let chord = curve.last() - curve.first();
    let along = chord.unit()?;
    let mut rise = 0.0f64;
    let mut at = 0.0;
    for (point, _) in curve.controls() {
        let out = point - curve.first();
        let ahead = out.dot(along);
        if ahead < at {
            return None;
        }
        at = ahead;
        rise = rise.max(out.cross(along).abs());
    }
    (rise <= STRAIGHT && rise <= STRAIGHT_SHARE * chord.length()).then_some(rise)
}
