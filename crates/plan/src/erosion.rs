//! Openings whose cores would be slivers: cut from the hole outward, so that nothing falls at all.
//!
//! Rings of the wire's centre, each a parallel of the edge, innermost first, no farther apart than what the wire clears
//! beside its centre: whatever lies inside a ring lies within that of it. Inside the innermost ring only the hole is
//! left. The rings are entered on the lead-in's own way where it crosses them.

use crate::candidate::Setting;
use crate::cores::{Entrance, clears};
use crate::cutting::Cutting;
use crate::free::Free;
use crate::lead_in::stays_inside;
use outline::{Leftover, Outline, Point, Vertex, largest_circle, leftover, parallel};

/// Distance of neighbouring rings, as a share of what the wire clears beside its centre.
const STEP: f64 = 0.95;
/// More rings than this are no sliver.
const MOST_RINGS: usize = 20;

/// One time round on the way outward.
#[derive(Debug, Clone)]
pub struct Ring {
    /// Where the wire's centre comes upon it.
    pub meets: Point,
    /// The way of the wire's centre.
    pub way: Outline,
}

/// The rings, innermost first; none where something wider than a sliver is freed, or where they do not hang together.
pub fn of(setting: Setting, cutting: &Cutting, entrance: Entrance, pieces: &[Leftover]) -> Option<Vec<Ring>> {
    let limit = setting.shop.core.sliver_below.value;
    if setting.opening.is_outside() || pieces.is_empty() || !pieces.iter().all(|piece| narrower(piece, limit))
    {
        return None;
    }
    let (target, clears) = (&setting.opening.target, clears(cutting));
    let mut ways = Vec::new();
    loop {
        let offset = cutting.passes.main() + STEP * clears * (ways.len() + 1) as f64;
        let mut loops = parallel(target, offset).ok()?;
        if loops.len() != 1 || ways.len() == MOST_RINGS {
            return None;
        }
        ways.push((offset, loops.remove(0)));
        if nothing_inside(target, offset + clears, entrance)? {
            break;
        }
    }
    let mut at = entrance.hole;
    let mut rings = Vec::new();
    for (offset, way) in ways.into_iter().rev() {
        let meets = crossing(target, entrance, offset).unwrap_or_else(|| way.nearest(at).point);
        if !stays_inside(Free::inside(target), at, meets, cutting.passes.main()) {
            return None;
        }
        at = meets;
        rings.push(Ring { meets, way });
    }
    // From the outermost ring the lead-in goes on to the edge.
    let bend = entrance.lead_in.way[1];
    (entrance.lead_in.way.len() == 2 || stays_inside(Free::inside(target), at, bend, cutting.passes.main()))
        .then_some(rings)
}

fn narrower(piece: &Leftover, limit: f64) -> bool {
    // No parallel inside an outline is longer than it, so its area is at most its length by the radius of its largest circle:
    // what is as wide as this on the average has a place that is.
    if piece.width >= limit {
        return false;
    }
    let corner = |place: &Point| Vertex { point: *place, bulge: 0.0 };
    let outline = Outline::new(piece.outline.iter().map(corner).collect());
    // What is too thin for an outline is too thin for a core.
    outline.is_err()
        || outline.is_ok_and(|outline| {
            largest_circle(&outline, &[]).is_ok_and(|circle| 2.0 * circle.radius < limit)
        })
}

/// Whether the hole is all there is farther from the edge than `depth`.
fn nothing_inside(target: &Outline, depth: f64, entrance: Entrance) -> Option<bool> {
    let (hole, r) = (entrance.hole, entrance.exit / 2.0);
    let hole = Outline::new(vec![Vertex::new(hole.x + r, hole.y, 1.0), Vertex::new(hole.x - r, hole.y, 1.0)]);
    let inner = parallel(target, depth).ok()?;
    Some(leftover(&inner, &[hole.ok()?]).ok()?.is_empty())
}

/// Where the lead-in's first leg crosses the parallel at `offset`: the first place that is no farther from the edge.
fn crossing(target: &Outline, entrance: Entrance, offset: f64) -> Option<Point> {
    let (from, to) = (entrance.lead_in.way[0], entrance.lead_in.way[1]);
    if target.signed_distance(from) < offset {
        return None;
    }
    let (mut inside, mut beyond) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (inside + beyond);
        if target.signed_distance(from.towards(to, middle)) >= offset {
            inside = middle
        } else {
            beyond = middle
        }
    }
    Some(from.towards(to, inside))
}
