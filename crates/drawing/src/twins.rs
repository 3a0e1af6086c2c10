//! Entities that were drawn twice: the same path, either way round.

use crate::cells::Cells;
use crate::path::Path;
use crate::work::{Tangled, Work};
use outline::{Point, Vertex};

/// For each path the earlier one that it repeats within the limit, mm. Closed paths are compared as outlines, later.
///
/// # Errors
/// When the drawing has cost too much work.
pub(crate) fn twins(paths: &[Path], limit: f64, work: &mut Work) -> Result<Vec<Option<usize>>, Tangled> {
    let mut kept = Cells::new(limit);
    let mut twin_of = vec![None; paths.len()];
    for (i, path) in paths.iter().enumerate().filter(|(_, path)| !path.closed) {
        // The same from either end.
        let key = path.first().towards(path.last(), 0.5);
        for (other, _) in kept.near(key, usize::MAX, work)? {
            work.spend(path.vertices.len())?;
            if same(path, &paths[other], limit) {
                twin_of[i] = Some(other);
                break;
            }
        }
        if twin_of[i].is_none() {
            kept.put(i, key);
        }
    }
    Ok(twin_of)
}

fn same(a: &Path, b: &Path, limit: f64) -> bool {
    a.vertices.len() == b.vertices.len()
        && (along(&a.vertices, &b.vertices, limit) || along(&a.reversed(), &b.vertices, limit))
}

/// Whether two runs of as many segments lie within the limit of each other at every vertex and every apex.
fn along(a: &[Vertex], b: &[Vertex], limit: f64) -> bool {
    let near = |p: Point, q: Point| p.distance(q) <= limit;
    let apex = |run: &[Vertex]| {
        let chord = run[1].point - run[0].point;
        run[0].point + chord * 0.5 - chord.left() * (run[0].bulge / 2.0)
    };
    a.iter().zip(b).all(|(p, q)| near(p.point, q.point))
        && a.windows(2).zip(b.windows(2)).all(|(p, q)| near(apex(p), apex(q)))
}
