//! Where the wire may be beside a finished edge: inside an opening, or around a piece that is cut out.
//!
//! Everything that asks on which side of an edge the metal is, asks here. The edge itself always runs counter-clockwise;
//! its pieces are given in the direction in which the wire, to the left of them, runs free.

use crate::tour::backwards;
use job::Contour;
use outline::{Miss, Outline, ParallelError, Point, Segment, parallel, reach};

/// Places along a corner's arc at which the metal left there is measured, before the deepest is closed in on.
const ALONG: usize = 32;

/// The free side of a finished edge.
#[derive(Debug, Clone, Copy)]
pub struct Free<'a> {
    /// The finished edge.
    pub edge: &'a Outline,
    /// Which side of it is metal.
    pub side: Contour,
}

impl<'a> Free<'a> {
    /// The inside of an opening.
    pub fn inside(edge: &'a Outline) -> Self {
        Self { edge, side: Contour::Inside }
    }

    /// How far a place lies from the metal that stays, mm; negative in it.
    pub fn clear(self, place: Point) -> f64 {
        match self.side {
            Contour::Inside => self.edge.signed_distance(place),
            Contour::Outside => -self.edge.signed_distance(place),
        }
    }

    /// The pieces of an edge, with the wire to the left of their direction.
    pub fn pieces(self, edge: &Outline) -> Vec<Segment> {
        match self.side {
            Contour::Inside => edge.segments().collect(),
            Contour::Outside => backwards(&edge.segments().collect::<Vec<_>>()),
        }
    }

    /// What lies this far off the metal. Around a piece, bays that close behind it do not count.
    pub fn beside(self, distance: f64) -> Result<Vec<Outline>, ParallelError> {
        match self.side {
            Contour::Inside => parallel(self.edge, distance),
            Contour::Outside => Ok(parallel(self.edge, -distance)?.into_iter().take(1).collect()),
        }
    }

    /// What a round wire of this radius makes of the edge.
    pub fn reached(self, radius: f64) -> Result<Vec<Outline>, ParallelError> {
        match self.side {
            Contour::Inside => Ok(reach(self.edge, radius)?.edges),
            Contour::Outside => match self.beside(radius)?.first() {
                Some(centre) => parallel(centre, radius),
                None => Ok(Vec::new()),
            },
        }
    }

    /// Corners that a round wire of this radius leaves.
    pub fn missed(self, radius: f64) -> Result<Vec<Miss>, ParallelError> {
        match self.side {
            Contour::Inside => Ok(reach(self.edge, radius)?.missed),
            Contour::Outside => {
                let reached = self.reached(radius)?;
                Ok(reached.first().map_or(Vec::new(), |reached| filled(self.edge, reached)))
            }
        }
    }
}

/// The places of a piece's inside corners and bays that lie deepest in the metal left there: along each of its pieces
/// the place farthest from what was reached.
fn filled(target: &Outline, reached: &Outline) -> Vec<Miss> {
    let mut found: Vec<Miss> = Vec::new();
    for piece in target.segments() {
        let depth = |t: f64| (reached.nearest(piece.at(t)).distance, t);
        let at = |k: usize| k as f64 / ALONG as f64;
        let deepest =
            (0..=ALONG).map(|k| depth(at(k))).fold((0.0, 0.0), |a, b| if b.0 > a.0 { b } else { a });
        let (mut low, mut high) = ((deepest.1 - at(1)).max(0.0), (deepest.1 + at(1)).min(1.0));
        for _ in 0..60 {
            let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if depth(a).0 < depth(b).0 { low = a } else { high = b }
        }
        let best = [deepest, depth(low), depth(high)]
            .into_iter()
            .fold(deepest, |a, b| if b.0 > a.0 { b } else { a });
        let place = piece.at(best.1);
        let near = |miss: &&mut Miss| miss.place.distance(place) <= outline::LEAST_MISS;
        match found.iter_mut().find(near) {
            _ if best.0 <= outline::LEAST_MISS => {}
            Some(known) if known.depth >= best.0 => {}
            Some(known) => *known = Miss { place, depth: best.0 },
            None => found.push(Miss { place, depth: best.0 }),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::Vertex;

    fn ell() -> Outline {
        let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)];
        Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
    }

    #[test]
    fn an_inside_corner_of_a_piece_keeps_what_its_angle_leaves() {
        let ell = ell();
        let around = Free { edge: &ell, side: Contour::Outside };
        let missed = around.missed(0.1).unwrap();
        assert_eq!(missed.len(), 1, "{missed:?}");
        assert!((missed[0].depth - 0.1 * (2f64.sqrt() - 1.0)).abs() < 1e-7, "{missed:?}");
        assert!(missed[0].place.distance(Point::new(2.0, 2.0)) < 1e-6);
    }

    #[test]
    fn the_wire_runs_left_of_the_pieces_on_either_side() {
        let ell = ell();
        for (side, area) in [(Contour::Inside, 12.0), (Contour::Outside, -12.0)] {
            let free = Free { edge: &ell, side };
            let pieces = free.pieces(&ell);
            let twice: f64 = pieces.iter().map(|p| p.from.x * p.to.y - p.to.x * p.from.y).sum();
            assert!((twice / 2.0 - area).abs() < 1e-12);
            for piece in pieces {
                let left = piece.at(0.5) + piece.direction(0.5).left() * 0.1;
                assert!((free.clear(left) - 0.1).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn what_is_beside_a_piece_lies_that_far_off() {
        let ell = ell();
        let around = Free { edge: &ell, side: Contour::Outside };
        let beside = around.beside(0.3).unwrap();
        assert_eq!(beside.len(), 1);
        // Lines moved outwards, quarter circles at five corners, a square lost at the inside corner.
        let expected = 12.0 + 16.0 * 0.3 + 5.0 * std::f64::consts::PI * 0.09 / 4.0 - 0.09;
        assert!((beside[0].area() - expected).abs() < 1e-9, "{}", beside[0].area());
    }

    /// A round bay of radius 1 behind a mouth whose lips A and B are not level: the wire lies against both lips, and the
    /// metal left behind it is deepest straight on from its centre through the bay's, at no round share of any arc.
    #[test]
    fn a_bay_is_deepest_straight_behind_the_wire_that_its_mouth_stops() {
        let on = |degrees: f64| (degrees.to_radians().cos(), degrees.to_radians().sin() - 0.8);
        let (b, turn, a) = (on(0.8f64.asin().to_degrees()), on(-40.0), on(-210.0));
        let bulge = |sweep: f64| (sweep.to_radians() / 4.0).tan();
        let first = -40.0 - 0.8f64.asin().to_degrees();
        let vertices = [
            (-5.0, -5.0, 0.0),
            (5.0, -5.0, 0.0),
            (5.0, 0.0, 0.0),
            (b.0, b.1, bulge(first)),
            (turn.0, turn.1, bulge(-170.0)),
            (a.0, a.1, 0.0),
            (-5.0, a.1, 0.0),
        ];
        let piece = Outline::new(vertices.iter().map(|v| Vertex::new(v.0, v.1, v.2)).collect()).unwrap();
        let (a, b, radius) = (Point::new(a.0, a.1), Point::new(b.0, b.1), 0.8);
        let half = a.distance(b) / 2.0;
        let middle = a + (b - a) * 0.5;
        let wire = middle + (b - a).unit().unwrap().left() * (radius * radius - half * half).sqrt();
        let bay = Point::new(0.0, -0.8);
        let missed = Free { edge: &piece, side: Contour::Outside }.missed(radius).unwrap();
        let found = missed.iter().max_by(|a, b| a.depth.total_cmp(&b.depth)).unwrap();
        assert!((found.depth - (wire.distance(bay) + 1.0 - radius)).abs() < 1e-9, "{found:?}");
        assert!(found.place.distance(bay + (bay - wire).unit().unwrap()) < 1e-5, "{found:?}");
    }
}
