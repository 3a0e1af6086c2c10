//! Where the wire meets the finished edge first, and how it gets there from the start hole.
//!
//! Stages: the stretches of the edge that every pass follows; places on them, best first (longest straight stretch,
//! else the largest arc, never a corner); for each the way from the hole, straight and square to the edge where
//! the hole lies so, else by a bend; the first way on which the wire stays clear is taken.

use crate::free::Free;
use job::Contour;
use outline::{Outline, Point, Segment, Vector};

/// How far the wire may come nearer to the edge on its way than its offset asks: below what a program can say.
const CLEAR: f64 = 1e-6;
/// The wire's way is looked at in steps of at least this share of its offset.
const STEP: f64 = 0.1;
/// Distance of a lead-in from the ends of its stretch, mm, or a quarter of a short stretch: the first move on the edge
/// must be long enough that rounding its ends does not turn it off square.
const OFF_CORNER: f64 = 0.02;
/// A hole this near to a normal of the edge lies on it, mm.
const SQUARE: f64 = 1e-6;
/// Legs of a lead-in shorter than this are none, mm.
const LEAST_LEG: f64 = 0.01;
/// Stretches shorter than this are not met, mm.
const LEAST_STRETCH: f64 = 0.03;

/// A way from the start hole to the finished edge.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadIn {
    /// From the hole's centre to the edge: two points, or three where it bends. The last leg is square to the edge.
    pub way: Vec<Point>,
    /// Which segment of the main cut's edge it meets.
    pub segment: usize,
    /// Share of that segment's length at which it meets it.
    pub share: f64,
    /// How far the passes run past the start, mm.
    pub overlap: f64,
}

impl LeadIn {
    /// Where it meets the edge.
    pub fn meets(&self) -> Point {
        self.way[self.way.len() - 1]
    }

    /// Its length, mm.
    pub fn length(&self) -> f64 {
        self.way.windows(2).map(|leg| leg[0].distance(leg[1])).sum()
    }

    /// Length of the leg that meets the edge, mm.
    pub fn last_leg(&self) -> f64 {
        let n = self.way.len();
        self.way[n - 2].distance(self.way[n - 1])
    }
}

/// The best way from `hole` to the edge that the main cut reaches, of which these stretches may be met. `opening` is the target,
/// `offset` the main cut's.
pub fn find(
    opening: Free,
    (edge, stretches): (&Outline, &[usize]),
    hole: Point,
    offset: f64,
    overlap: f64,
) -> Option<LeadIn> {
    let pieces = opening.pieces(edge);
    stretches.iter().find_map(|&segment| on_stretch(opening, &pieces, segment, hole, offset, overlap))
}

/// Pieces of the reached edge that lie on the target itself, best first.
pub fn stretches(opening: Free, edge: &Outline) -> Vec<usize> {
    let pieces = opening.pieces(edge);
    let mut found: Vec<usize> = (0..pieces.len())
        .filter(|&i| pieces[i].length() > LEAST_STRETCH && lies_on(opening.edge, &pieces[i]))
        .collect();
    let rank = |&i: &usize| {
        let piece = &pieces[i];
        // Arcs that the wire turns around (concave seen from the opening) come last: a lead-in there cuts deepest
        // if the machine is late.
        (!piece.is_line(), piece.bulge < 0.0, -piece.length())
    };
    found.sort_by(|a, b| rank(a).partial_cmp(&rank(b)).unwrap_or(std::cmp::Ordering::Equal));
    found
}

fn lies_on(opening: &Outline, piece: &Segment) -> bool {
    [0.0, 0.25, 0.5, 0.75, 1.0].iter().all(|&t| opening.comes_within(piece.at(t), CLEAR))
}

fn on_stretch(
    opening: Free,
    pieces: &[Segment],
    segment: usize,
    hole: Point,
    offset: f64,
    overlap: f64,
) -> Option<LeadIn> {
    let piece = &pieces[segment];
    let margin = (OFF_CORNER / piece.length()).min(0.25);
    let (foot, share) = piece.nearest(hole);
    if share > margin && share < 1.0 - margin {
        let way = vec![hole, foot];
        if let Some(overlap) = clear(opening, pieces, segment, share, &way, offset, overlap) {
            return Some(LeadIn { way, segment, share, overlap });
        }
    }
    [0.5, 0.25, 0.75, 0.1, 0.9].into_iter().find_map(|share| {
        let meets = piece.at(share);
        let inward = piece.direction(share).left();
        let to_hole = hole - meets;
        // A hole in the middle of an arc lies square to all of it.
        let straight = to_hole.cross(inward).abs() < SQUARE && to_hole.dot(inward) > offset;
        let bends = [4.0, 2.5, 1.6, 1.2].into_iter().map(|k| meets + inward * (k * offset));
        // Beside a piece a bend would go round metal, and free it with the main cut.
        let may_bend = opening.side == Contour::Inside;
        let bends = bends
            .filter(|bend| may_bend && bend.distance(hole) > LEAST_LEG)
            .map(|bend| vec![hole, bend, meets]);
        straight.then(|| vec![hole, meets]).into_iter().chain(bends).find_map(|way| {
            let overlap = clear(opening, pieces, segment, share, &way, offset, overlap)?;
            Some(LeadIn { way, segment, share, overlap })
        })
    })
}

/// Whether the wire stays clear of the target on its way in and on its way back, and with which overlap: the full
/// one, or none.
pub fn clear(
    opening: Free,
    pieces: &[Segment],
    segment: usize,
    share: f64,
    way: &[Point],
    offset: f64,
    overlap: f64,
) -> Option<f64> {
    let at_edge = pieces[segment].at(share) + pieces[segment].direction(share).left() * offset;
    let mut in_way = way.to_vec();
    let last = in_way.len() - 1;
    in_way[last] = at_edge;
    if !in_way.windows(2).all(|leg| stays_inside(opening, leg[0], leg[1], offset)) {
        return None;
    }
    let back = way[last - 1];
    let (place, inward) = past(pieces, segment, share, overlap);
    let leaves = place + inward * offset;
    Some(if stays_inside(opening, leaves, back, offset) { overlap } else { 0.0 })
}

/// Whether the wire's centre keeps its offset on a straight leg. The distance to the edge changes by no more than the
/// way gone, so where there is room to spare the next look may be that much further on.
pub fn stays_inside(opening: Free, from: Point, to: Point, offset: f64) -> bool {
    let length = from.distance(to);
    let mut gone = 0.0;
    loop {
        let place = if length > 0.0 { from.towards(to, gone / length) } else { from };
        let spare = opening.clear(place) - offset;
        if spare < -CLEAR {
            return false;
        }
        if gone >= length {
            return true;
        }
        gone = (gone + spare.max(STEP * offset)).min(length);
    }
}

/// The place `length` further along the loop, and the inward direction there.
pub fn past(pieces: &[Segment], segment: usize, share: f64, length: f64) -> (Point, Vector) {
    let (mut segment, mut share, mut left) = (segment, share, length);
    loop {
        let piece = &pieces[segment % pieces.len()];
        let rest = piece.length() * (1.0 - share);
        if left <= rest || piece.length() <= 0.0 {
            let t = share + left / piece.length();
            return (piece.at(t), piece.direction(t).left());
        }
        left -= rest;
        segment += 1;
        share = 0.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::Vertex;

    #[test]
    fn from_the_middle_of_a_circle_the_way_is_straight() {
        let circle = Outline::new(vec![Vertex::new(0.24, 0.0, 1.0), Vertex::new(-0.24, 0.0, 1.0)]).unwrap();
        let stretches = stretches(Free::inside(&circle), &circle);
        let way = find(Free::inside(&circle), (&circle, &stretches), Point::new(0.0, 1e-9), 0.12, 0.1);
        let way = way.unwrap().way;
        assert_eq!(way.len(), 2, "{way:?}");
    }

    fn rectangle(x: f64, y: f64) -> Outline {
        let corners = [(-x, -y), (x, -y), (x, y), (-x, y)];
        Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
    }

    /// A hole beside a straight stretch meets it square below itself, wherever along it that is.
    #[test]
    fn beside_a_stretch_the_way_is_square_to_it() {
        let edge = rectangle(5.0, 2.0);
        let free = Free::inside(&edge);
        let stretches = stretches(free, &edge);
        for x in [-4.5, -2.0, 0.7, 3.9] {
            let found = find(free, (&edge, &stretches), Point::new(x, -1.0), 0.12, 0.1).unwrap();
            assert_eq!(found.way, [Point::new(x, -1.0), Point::new(x, -2.0)]);
            assert!((found.length() - 1.0).abs() < 1e-12 && (found.last_leg() - 1.0).abs() < 1e-12);
            assert_eq!(found.overlap, 0.1);
        }
    }

    /// Beside a piece no way bends: from beyond its corner there is none, from beside its side a straight one.
    #[test]
    fn around_a_piece_no_way_bends() {
        let edge = rectangle(2.0, 2.0);
        let around = Free { edge: &edge, side: Contour::Outside };
        let find = |free: Free, x: f64, y: f64| {
            find(free, (&edge, &stretches(free, &edge)), Point::new(x, y), 0.12, 0.1)
        };
        assert_eq!(find(around, 4.0, 4.0), None);
        assert_eq!(find(around, 1.0, 4.0).unwrap().way.len(), 2);
    }

    /// A leg is followed to its end, and a place beyond a corner lies on the next side.
    #[test]
    fn legs_are_followed_and_corners_passed() {
        let edge = rectangle(5.0, 2.0);
        let free = Free::inside(&edge);
        let leg = |y: f64| stays_inside(free, Point::new(0.0, 0.0), Point::new(0.0, y), 0.12);
        assert!(leg(-1.88) && leg(0.0) && !leg(-1.9) && !leg(-3.0));
        let pieces: Vec<Segment> = edge.segments().collect();
        let at = |length: f64| past(&pieces, 0, 0.5, length);
        for (length, place, inward) in [
            (0.0, (0.0, -2.0), (0.0, 1.0)),
            (3.0, (3.0, -2.0), (0.0, 1.0)),
            (6.0, (5.0, -1.0), (-1.0, 0.0)),
            (14.0, (0.0, 2.0), (0.0, -1.0)),
            (28.0, (0.0, -2.0), (0.0, 1.0)),
        ] {
            let (found, left) = at(length);
            assert!(found.distance(Point::new(place.0, place.1)) < 1e-12, "{length}: {found:?}");
            assert!((left - Vector::new(inward.0, inward.1)).length() < 1e-12, "{length}: {left:?}");
        }
    }
}
