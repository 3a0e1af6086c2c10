//! A region of the plane bounded by polygons: how far a place lies inside or outside, by a tree over its edges.

use crate::flatten::{Place, SAGITTA_MM, distance};

/// Edges in one leaf of the tree: fewer cost more boxes, more cost more distances.
const LEAF: usize = 4;
/// A depth is looked for until it is known within this, mm: what flattening hides anyway.
pub const KNOWN: f64 = SAGITTA_MM;

/// A region with an index. Loops in any order; inside is where the winding number is not 0.
#[derive(Debug)]
pub struct Region {
    edges: Vec<(Place, Place)>,
    boxes: Vec<Bounds>,
}

/// A box around edges `first..last`; its halves are the next box and `right`, unless that is 0.
#[derive(Debug, Clone, Copy)]
struct Bounds {
    low: Place,
    high: Place,
    first: usize,
    last: usize,
    right: usize,
}

impl Bounds {
    /// Square of the distance from a place.
    fn square(&self, place: Place) -> f64 {
        self.square_from(place, place)
    }

    /// Square of the distance from the box between two corners.
    fn square_from(&self, low: Place, high: Place) -> f64 {
        let beyond = |k: usize| (self.low[k] - high[k]).max(low[k] - self.high[k]).max(0.0);
        let (x, y) = (beyond(0), beyond(1));
        x * x + y * y
    }
}

impl Region {
    /// The region that these loops bound.
    pub fn new(loops: &[Vec<Place>]) -> Self {
        let mut edges = Vec::new();
        for points in loops {
            edges.extend((0..points.len()).map(|i| (points[i], points[(i + 1) % points.len()])));
        }
        let mut region = Self { boxes: Vec::with_capacity(edges.len()), edges };
        if !region.edges.is_empty() {
            region.divide(0, region.edges.len());
        }
        region
    }

    /// Makes the box around some edges, and those inside it, and gives its place in the list.
    fn divide(&mut self, first: usize, last: usize) -> usize {
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for (a, b) in &self.edges[first..last] {
            for k in 0..2 {
                low[k] = low[k].min(a[k]).min(b[k]);
                high[k] = high[k].max(a[k]).max(b[k]);
            }
        }
        let here = self.boxes.len();
        self.boxes.push(Bounds { low, high, first, last, right: 0 });
        if last - first > LEAF {
            let k = usize::from(high[1] - low[1] > high[0] - low[0]);
            let middle = (last - first) / 2;
            let key = |edge: &(Place, Place)| edge.0[k] + edge.1[k];
            self.edges[first..last].select_nth_unstable_by(middle, |a, b| key(a).total_cmp(&key(b)));
            self.divide(first, first + middle);
            self.boxes[here].right = self.divide(first + middle, last);
        }
        here
    }

    /// Distance from a place to the region's edge; infinite where there is none.
    pub fn to_edge(&self, place: Place) -> f64 {
        self.nearest(place, 0).0
    }

    /// The same, and the number of that edge. An edge that is likely to be near makes it faster, any edge makes it right.
    pub fn nearest(&self, place: Place, likely: usize) -> (f64, usize) {
        let Some(&(a, b)) = self.edges.get(likely) else { return (f64::INFINITY, 0) };
        // Squares come in the same order as what they are squares of.
        let mut best = (square(place, a, b), likely);
        let mut open = Open::at_root();
        while let Some((far, i)) = open.pop() {
            if far >= best.0 {
                continue;
            }
            let this = &self.boxes[i];
            if this.right == 0 {
                for k in this.first..this.last {
                    let far = square(place, self.edges[k].0, self.edges[k].1);
                    if far < best.0 {
                        best = (far, k);
                    }
                }
                continue;
            }
            open.both(i + 1, this.right, |k| self.boxes[k].square(place));
        }
        (best.0.sqrt(), best.1)
    }

    /// Whether a place lies inside.
    pub fn contains(&self, place: Place) -> bool {
        let mut winding = 0;
        if self.boxes.is_empty() {
            return false;
        }
        let mut open = Open::at_root();
        while let Some((_, i)) = open.pop() {
            let this = &self.boxes[i];
            // Only edges that a ray to the right may meet.
            if place[1] < this.low[1] || place[1] > this.high[1] || place[0] > this.high[0] {
                continue;
            }
            if this.right != 0 {
                open.push(0.0, i + 1);
                open.push(0.0, this.right);
                continue;
            }
            for (a, b) in &self.edges[this.first..this.last] {
                let side = (b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0]);
                if a[1] <= place[1] && b[1] > place[1] && side > 0.0 {
                    winding += 1;
                } else if a[1] > place[1] && b[1] <= place[1] && side < 0.0 {
                    winding -= 1;
                }
            }
        }
        winding != 0
    }

    /// The place of these polygons' edges that lies deepest outside the region, and how deep.
    pub fn deepest<'a>(&self, polygons: impl Iterator<Item = &'a Vec<Place>>) -> (f64, Place) {
        self.greatest(polygons, |place, likely| self.outside(place, likely))
    }

    /// How far a place lies outside the region, negative inside.
    pub fn outside(&self, place: Place, likely: usize) -> Known {
        let (far, edge) = self.nearest(place, likely);
        Known { place, height: if self.contains(place) { -far } else { far }, edge }
    }

    /// Distance between a segment and the region's edge if that is less than `below`, which is what comes back otherwise; 0 where
    /// they cross.
    pub fn to_edge_from(&self, a: Place, b: Place, below: f64) -> f64 {
        let (low, high) = ([a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]);
        let mut best = below;
        if self.boxes.is_empty() {
            return best;
        }
        let mut open = Open::at_root();
        while let Some((far, i)) = open.pop() {
            if far >= best * best {
                continue;
            }
            let this = &self.boxes[i];
            if this.right != 0 {
                open.both(i + 1, this.right, |k| self.boxes[k].square_from(low, high));
                continue;
            }
            for (p, q) in &self.edges[this.first..this.last] {
                best = best.min(between(a, b, *p, *q));
            }
        }
        best
    }

    /// The place of these polygons' edges that is farthest from the region's edge, on either side, and how far.
    pub fn farthest<'a>(&self, polygons: impl Iterator<Item = &'a Vec<Place>>) -> (f64, Place) {
        self.greatest(polygons, |place, likely| {
            let (height, edge) = self.nearest(place, likely);
            Known { place, height, edge }
        })
    }

    /// The place with the greatest value above 0, and the value. A value changes by no more than the place moves, and
    /// is no larger than the distance to any part of the edge: both bound it between two places that are known.
    fn greatest<'a>(
        &self,
        polygons: impl Iterator<Item = &'a Vec<Place>>,
        value: impl Fn(Place, usize) -> Known,
    ) -> (f64, Place) {
        // All corners first: the higher the best is, the fewer edges can hold a better one.
        let mut corners: Vec<Vec<Known>> = Vec::new();
        for points in polygons {
            let mut likely = 0;
            let known = points.iter().map(|&place| {
                let known = value(place, likely);
                likely = known.edge;
                known
            });
            corners.push(known.collect());
        }
        let mut best = (0.0, [0.0, 0.0]);
        let raise = |best: &mut (f64, Place), known: &Known| {
            if known.height > best.0 {
                *best = (known.height, known.place);
            }
        };
        corners.iter().flatten().for_each(|known| raise(&mut best, known));
        let mut open = Vec::new();
        for known in &corners {
            for (i, &a) in known.iter().enumerate() {
                open.push((a, known[(i + 1) % known.len()]));
                while let Some((a, b)) = open.pop() {
                    let length = distance(a.place, b.place);
                    if length <= KNOWN || self.bound(&a, &b, length) <= best.0 + KNOWN {
                        continue;
                    }
                    let place = [0, 1].map(|k| (a.place[k] + b.place[k]) / 2.0);
                    let middle = value(place, a.edge);
                    raise(&mut best, &middle);
                    open.push((a, middle));
                    open.push((middle, b));
                }
            }
        }
        best
    }

    /// No value between two places is larger than this.
    pub fn bound(&self, a: &Known, b: &Known, length: f64) -> f64 {
        let by_length = (a.height + b.height + length) / 2.0;
        let [(p, q), (r, s)] = [self.edges[a.edge], self.edges[b.edge]];
        // The distance to one edge is convex: its ends bound it.
        let by_first = to_segment(a.place, p, q).max(to_segment(b.place, p, q));
        let by_last = to_segment(a.place, r, s).max(to_segment(b.place, r, s));
        let mut bound = by_length.min(by_first).min(by_last);
        // Of two edges that share a corner, one holds up to the place beside the corner, and the other from there.
        let corner = if q == r || q == s { Some(q) } else { (p == r || p == s).then_some(p) };
        if let Some(corner) = corner {
            let ends = to_segment(a.place, p, q).max(to_segment(b.place, r, s));
            bound = bound.min(ends.max(to_segment(corner, a.place, b.place)));
        }
        bound
    }
}

/// A place whose value is known, and the edge nearest to it.
#[derive(Debug, Clone, Copy)]
pub struct Known {
    /// The place.
    pub place: Place,
    /// Its value, mm.
    pub height: f64,
    /// Number of the edge.
    pub edge: usize,
}

/// Boxes still to be looked at, with the squares of their distances. A balanced tree over as many edges as a memory holds is
/// far less than 60 boxes deep.
struct Open {
    boxes: [(f64, usize); 64],
    count: usize,
}

impl Open {
    fn at_root() -> Self {
        Self { boxes: [(0.0, 0); 64], count: 1 }
    }

    fn push(&mut self, far: f64, i: usize) {
        self.boxes[self.count] = (far, i);
        self.count += 1;
    }

    /// Both halves of a box; the nearer one is looked at first.
    fn both(&mut self, a: usize, b: usize, far: impl Fn(usize) -> f64) {
        let (to_a, to_b) = (far(a), far(b));
        let [later, sooner] = if to_a < to_b { [(to_b, b), (to_a, a)] } else { [(to_a, a), (to_b, b)] };
        self.push(later.0, later.1);
        self.push(sooner.0, sooner.1);
    }

    fn pop(&mut self) -> Option<(f64, usize)> {
        self.count = self.count.checked_sub(1)?;
        Some(self.boxes[self.count])
    }
}

/// Largest distance of either polygon's edge from the other's, mm.
pub fn apart(a: &[Place], b: &[Place]) -> f64 {
    let one_way =
        |from: &[Place], to: &[Place]| Region::new(&[to.to_vec()]).farthest([from.to_vec()].iter()).0;
    match a.len() > 2 && b.len() > 2 {
        true => one_way(a, b).max(one_way(b, a)),
        false => f64::MAX,
    }
}

/// Distance from a place to a segment.
pub fn to_segment(place: Place, a: Place, b: Place) -> f64 {
    square(place, a, b).sqrt()
}

/// Its square.
fn square(place: Place, a: Place, b: Place) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let t = match square > 0.0 {
        true => (((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / square).clamp(0.0, 1.0),
        false => 0.0,
    };
    let (x, y) = (place[0] - (a[0] + t * dx), place[1] - (a[1] + t * dy));
    x * x + y * y
}

/// Distance between two segments; 0 where they cross.
fn between(a: Place, b: Place, p: Place, q: Place) -> f64 {
    let side = |o: Place, d: Place, x: Place| (d[0] - o[0]) * (x[1] - o[1]) - (d[1] - o[1]) * (x[0] - o[0]);
    if side(a, b, p) * side(a, b, q) < 0.0 && side(p, q, a) * side(p, q, b) < 0.0 {
        return 0.0;
    }
    to_segment(a, p, q).min(to_segment(b, p, q)).min(to_segment(p, a, b)).min(to_segment(q, a, b))
}

/// Signed area of a polygon, counter-clockwise positive.
pub fn area(points: &[Place]) -> f64 {
    let n = points.len();
    0.5 * (0..n)
        .map(|i| points[i][0] * points[(i + 1) % n][1] - points[(i + 1) % n][0] * points[i][1])
        .sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_knows_how_far() {
        let square = Region::new(&[vec![[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]]);
        assert!(square.contains([1.0, 1.0]) && !square.contains([3.0, 1.0]) && !square.contains([1.0, -0.1]));
        assert!((square.to_edge([1.0, 1.0]) - 1.0).abs() < 1e-12);
        assert!((square.to_edge([5.0, 6.0]) - 5.0).abs() < 1e-12);
        let hit = [vec![[1.0, 1.0], [2.5, 1.0], [1.0, 1.5]]];
        assert!((square.deepest(hit.iter()).0 - 0.5).abs() < 1e-12);
        let inside = [vec![[0.5, 0.5], [1.5, 0.5], [1.0, 1.5]]];
        assert_eq!(square.deepest(inside.iter()).0, 0.0);
        assert!((square.farthest(inside.iter()).0 - 0.75).abs() < 0.2);
    }

    /// A bar across a wall between two rooms: its corners all lie in rooms, and its edges cross the wall.
    #[test]
    fn the_deepest_place_need_not_be_a_corner() {
        let room = |x: f64| vec![[x, 0.0], [x + 1.0, 0.0], [x + 1.0, 1.0], [x, 1.0]];
        let rooms = Region::new(&[room(0.0), room(1.004)]);
        let bar = [vec![[0.5, 0.4], [1.5, 0.4], [1.5, 0.6], [0.5, 0.6]]];
        assert!((rooms.deepest(bar.iter()).0 - 0.002).abs() <= KNOWN);
    }

    /// The tree finds what a look at every edge finds.
    #[test]
    fn the_tree_misses_nothing() {
        let wheel: Vec<Place> = (0..97)
            .map(|k| {
                let (sin, cos) = (f64::from(k) * std::f64::consts::TAU / 97.0).sin_cos();
                let r = 1.0 + 0.3 * f64::from(k % 3);
                [r * cos, r * sin]
            })
            .collect();
        let region = Region::new(std::slice::from_ref(&wheel));
        for k in 0..500 {
            let place = [(f64::from(k) * 0.37).sin() * 1.7, (f64::from(k) * 0.61).cos() * 1.7];
            let plain = (0..97).map(|i| to_segment(place, wheel[i], wheel[(i + 1) % 97])).fold(9.0, f64::min);
            assert_eq!(region.to_edge(place), plain);
            let turns: f64 = (0..97)
                .map(|i| {
                    let [u, v] = [wheel[i], wheel[(i + 1) % 97]].map(|p| [p[0] - place[0], p[1] - place[1]]);
                    (u[0] * v[1] - u[1] * v[0]).atan2(u[0] * v[0] + u[1] * v[1])
                })
                .sum();
            assert_eq!(region.contains(place), turns > 3.0, "{place:?}");
        }
    }
}
