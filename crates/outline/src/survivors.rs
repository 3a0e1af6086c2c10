//! A candidate for the parallel, put together from what survives of each cast: slower than the offset library, and the last
//! to be asked. It serves near collapse, where the library loses small loops.
//!
//! 1. Of each cast, strike out what lies nearer to the outline than the distance.
//! 2. From the end of each stretch that is left, go on with the stretch that begins nearest to it, until the ring closes.

use crate::certify::margin;
use crate::curve::Curve;
use crate::ring::Ring;
use crate::source::Source;
use crate::spans::Spans;
use crate::{Point, Vertex};

/// Stretches shorter than this are what rounding leaves, mm.
const NOTHING: f64 = 1e-9;

/// Most stretches that are joined: joining looks at every pair.
const MOST: usize = 4000;

/// What is left of one cast.
struct Stretch {
    from: Point,
    to: Point,
    cast: Curve,
}

/// The rings that the surviving stretches make; only good for the certifier to judge.
pub(crate) fn survivors(source: &Source) -> Vec<Ring> {
    let mut stretches = Vec::new();
    for index in 0..source.len() {
        let casts =
            [source.cast_of_segment(index, source.distance), source.cast_of_corner(index, source.distance)];
        for cast in casts.into_iter().flatten() {
            left_of(source, &cast, &mut stretches);
        }
    }
    match stretches.len() <= MOST {
        true => joined(stretches),
        false => Vec::new(),
    }
}

/// Stage 1 for one cast.
fn left_of(source: &Source, cast: &Curve, stretches: &mut Vec<Stretch>) {
    let reach = source.distance.abs() - margin(cast);
    let mut struck = Spans::default();
    source.tree.within(cast.at(0.5), 0.5 * cast.length + reach, |index, _| {
        let segment = &source.tree.pieces()[index];
        for (from, to) in cast.cuts(source.curve(index), reach).stops(0.0, 1.0).stretches() {
            if segment.foot(cast.at(0.5 * (from + to))).distance < reach {
                struck.add(from, to);
            }
        }
    });
    for (from, to) in struck.gaps().filter(|(from, to)| (to - from) * cast.length > NOTHING) {
        stretches.push(Stretch { from: cast.at(from), to: cast.at(to), cast: *cast });
    }
}

/// Stage 2.
fn joined(mut stretches: Vec<Stretch>) -> Vec<Ring> {
    let mut rings = Vec::new();
    while let Some(first) = stretches.pop() {
        let origin = first.from;
        let mut run = vec![first];
        loop {
            let end = run[run.len() - 1].to;
            let away = |stretch: &Stretch| stretch.from.distance(end);
            let next =
                (0..stretches.len()).min_by(|&a, &b| away(&stretches[a]).total_cmp(&away(&stretches[b])));
            match next.filter(|&next| away(&stretches[next]) < origin.distance(end)) {
                None => break,
                Some(next) => run.push(stretches.swap_remove(next)),
            }
        }
        rings.extend(Ring::cleaned(vertices(&run)));
    }
    rings
}

/// The vertices of a ring of stretches whose ends may be a little apart.
fn vertices(run: &[Stretch]) -> Vec<Vertex> {
    let n = run.len();
    let starts: Vec<Point> = (0..n).map(|i| joint(&run[(i + n - 1) % n], &run[i])).collect();
    (0..n)
        .map(|i| Vertex {
            point: starts[i],
            bulge: run[i].cast.bulge_between(starts[i], starts[(i + 1) % n]),
        })
        .collect()
}

/// Where two stretches join. Where they are tangent to within rounding their ends can be microns apart along them; then the
/// line gives way, because moving its end along it moves nothing else.
fn joint(before: &Stretch, after: &Stretch) -> Point {
    match (before.cast.is_line(), after.cast.is_line()) {
        (_, true) => before.to,
        (true, false) => after.from,
        (false, false) => before.to.towards(after.from, 0.5),
    }
}
