//! Places on the outer edge where the idea of a rigid wall gives stress without limit: its end on a smooth edge, and corners
//! more open than a right angle between two walls. A real wall gives way there, so the peak is not looked for next to them.

use crate::mesh::Mesh;
use crate::region::Region;
use crate::support::{Stiffness, Support, along};
use outline::{Point, Segment};

/// Less than this a joint turns and counts as smooth; and a corner may be more open than a right angle by as much, degrees.
const SLACK_DEGREES: f64 = 2.0;

/// A circle in which no peak is looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unjudged {
    /// The end of the wall.
    pub at: Point,
    /// Half of the shorter segment that ends there, mm.
    pub radius_mm: f64,
}

/// All such places of a plate with these supports.
pub(crate) fn unjudged(region: &Region, supports: &[Support]) -> Vec<Unjudged> {
    let segments: Vec<Segment> = region.outer().segments().collect();
    let rigid = |i: usize| along(supports, i) == Some(Stiffness::Rigid);
    let count = segments.len();
    let ends = (0..count).map(|i| (i, (i + 1) % count));
    let unlimited = |&(i, j): &(usize, usize)| {
        let (one, other) = (segments[i].direction(1.0), segments[j].direction(0.0));
        let turn = one.cross(other).atan2(one.dot(other)).to_degrees();
        let open = turn < 90.0 - SLACK_DEGREES;
        match (rigid(i), rigid(j)) {
            (false, false) => false,
            (true, true) => open && turn > SLACK_DEGREES,
            _ => open,
        }
    };
    let place = |(i, j): (usize, usize)| Unjudged {
        at: segments[i].to,
        radius_mm: 0.5 * segments[i].length().min(segments[j].length()),
    };
    ends.filter(unlimited).map(place).collect()
}

impl Unjudged {
    /// Whether a place lies within.
    pub(crate) fn holds(&self, place: Point) -> bool {
        self.at.distance(place) < self.radius_mm
    }
}

/// The middle of a triangle.
pub(crate) fn middle(mesh: &Mesh, triangle: usize) -> Point {
    let [a, b, c, ..] = mesh.triangles[triangle].nodes.map(|node| mesh.nodes[node]);
    a + ((b - a) + (c - a)) * (1.0 / 3.0)
}
