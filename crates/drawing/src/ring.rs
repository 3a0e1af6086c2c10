//! A closed chain as one closed run of vertices, its joints closed, with the largest distance that this moved anything.
//!
//! A joint whose ends lie apart is closed at the end of an arc if a line meets it, so that arcs stay as they were drawn; otherwise half-way.

use crate::path::Path;
use outline::{Point, Vertex};

/// The closed run of a chain's links and a bound on the distance between it and the entities, mm.
///
/// Moving the ends of a line moves no point of it farther than the ends. Moving the ends of an arc at the same bulge by a and b moves no
/// point of it farther than sqrt(a^2 + b^2), because every point of it sees its chord under a right angle or more.
pub(crate) fn ring(paths: &[Path], links: &[(usize, bool)]) -> (Vec<Vertex>, f64) {
    if let [(only, _)] = links
        && paths[*only].closed
    {
        return (paths[*only].vertices.clone(), 0.0);
    }
    let runs: Vec<Vec<Vertex>> = links
        .iter()
        .map(|&(path, backwards)| match backwards {
            true => paths[path].reversed(),
            false => paths[path].vertices.clone(),
        })
        .collect();
    let count = runs.len();
    let joints: Vec<Point> = (0..count).map(|i| joint(&runs[i], &runs[(i + 1) % count])).collect();
    let mut moved: f64 = 0.0;
    let mut vertices = Vec::new();
    for (i, run) in runs.iter().enumerate() {
        let (begin, end) = (joints[(i + count - 1) % count], joints[i]);
        moved = moved.max(movement(run, begin, end));
        vertices.push(Vertex { point: begin, bulge: run[0].bulge });
        vertices.extend(&run[1..run.len() - 1]);
    }
    (vertices, moved)
}

fn joint(before: &[Vertex], after: &[Vertex]) -> Point {
    let (end, start) = (before[before.len() - 1].point, after[0].point);
    let (arc_before, arc_after) = (before[before.len() - 2].bulge != 0.0, after[0].bulge != 0.0);
    match (arc_before, arc_after) {
        _ if end == start => end,
        (true, false) => end,
        (false, true) => start,
        _ => end.towards(start, 0.5),
    }
}

fn movement(run: &[Vertex], begin: Point, end: Point) -> f64 {
    let (a, b) = (begin.distance(run[0].point), end.distance(run[run.len() - 1].point));
    match run {
        [only, _] if only.bulge != 0.0 => a.hypot(b),
        _ => a.max(b),
    }
}
