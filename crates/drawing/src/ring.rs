//! A closed chain as one closed run of vertices, its joints closed, with the largest distance that this moved anything.
//!
//! A joint whose ends lie apart is closed at the end of an arc if a line meets it, so that arcs stay as they were drawn; otherwise half-way.

use crate::path::Path;
use outline::{Point, Vertex};

/// The closed run of a chain's links.
#[derive(Debug)]
pub(crate) struct Ring {
    pub(crate) vertices: Vec<Vertex>,
    /// For each vertex the line of the entity whose segment leaves it.
    pub(crate) lines: Vec<u32>,
    /// A bound on the distance between the run and the paths of its entities, mm.
    pub(crate) moved: f64,
    /// The largest distance between those paths and the curves that they stand for, mm.
    pub(crate) fitted: f64,
}

/// The closed run of a chain's links.
///
/// Moving the ends of a line moves no point of it farther than the ends. Moving the ends of an arc at the same bulge by a and b moves no
/// point of it farther than sqrt(a^2 + b^2), because every point of it sees its chord under a right angle or more.
pub(crate) fn ring(paths: &[Path], links: &[(usize, bool)]) -> Ring {
    let fitted = links.iter().filter_map(|link| paths[link.0].fitted).map(|(_, by)| by).fold(0.0, f64::max);
    if let [(only, _)] = links
        && paths[*only].closed
    {
        let vertices = paths[*only].vertices.clone();
        return Ring { lines: vec![paths[*only].line; vertices.len()], vertices, moved: 0.0, fitted };
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
    let mut whole = Ring { vertices: Vec::new(), lines: Vec::new(), moved: 0.0, fitted };
    for (i, run) in runs.iter().enumerate() {
        let (begin, end) = (joints[(i + count - 1) % count], joints[i]);
        whole.moved = whole.moved.max(movement(run, begin, end));
        whole.vertices.push(Vertex { point: begin, bulge: run[0].bulge });
        whole.vertices.extend(&run[1..run.len() - 1]);
        whole.lines.resize(whole.vertices.len(), paths[links[i].0].line);
    }
    whole
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
