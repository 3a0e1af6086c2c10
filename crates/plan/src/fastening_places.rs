//! Where holes may stand on the back of a block: the places with the most room where they are tightest, up to what is enough; then
//! far apart, or one alone near the middle.
//!
//! Stages: for each way of standing symmetrically, a grid of places, each with its images; the best one climbs in ever smaller steps
//! down to a tenth; the first way that leaves room is taken. Distances are exact, places are round tenths.

use outline::{Outline, Point};

/// Places are given in tenths of a millimetre.
const TENTHS: f64 = 10.0;
/// Places of a grid, about.
const GRID: f64 = 4000.0;
/// No grid is finer than this many tenths.
const FINEST: i32 = 5;
/// More room than this is worth nothing, mm: then places far apart count, or alone one near the middle.
const ENOUGH: f64 = 1.0;
/// Two rooms that differ by less are the same, mm.
const SAME: f64 = 1e-9;

/// What stands in the block already.
#[derive(Debug, Clone)]
pub struct Ground {
    /// The block's sides, its middle in the origin.
    pub size: [f64; 2],
    /// Where a piece is cut out of a block: what it keeps.
    pub pieces: Vec<Outline>,
    /// Openings at the back, each as its number, its edge and what it has grown there.
    pub openings: Vec<(usize, Outline, f64)>,
    /// Back bores: centre, radius and the opening that each belongs to.
    pub bores: Vec<(Point, f64, usize)>,
    /// Holes that have their places: centre and diameter.
    pub taken: Vec<(Point, f64)>,
    /// The joint of a section in two halves.
    pub joint: Option<Joint>,
}

/// A joint with the holes through it, which are square to it.
#[derive(Debug, Clone)]
pub struct Joint {
    /// Whether it runs along X; else along Y.
    pub runs_along_x: bool,
    /// Where it lies across that way.
    pub at: f64,
    /// Where the holes through it stand along it, and their diameters.
    pub through: Vec<(f64, f64)>,
}

/// A hole that is to be placed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Its greatest diameter, mm; as much metal stands between two holes, by the larger.
    pub diameter: f64,
    /// From its centre to a side, or to the edge of the piece, at least.
    pub to_side: f64,
    /// Metal to an opening or a bore, at least.
    pub to_opening: f64,
}

/// What a hole is near to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Near {
    /// A side of the block.
    Side,
    /// An opening or its bore, counted from 0.
    Opening(usize),
    /// Another hole.
    Hole,
    /// The joint of two halves.
    Joint,
}

/// A distance and what it is to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// To what.
    pub near: Near,
    /// What there is.
    pub have: f64,
    /// What is asked for.
    pub need: f64,
}

impl Gap {
    /// What is left over; below 0 it is short.
    pub fn room(&self) -> f64 {
        self.have - self.need
    }
}

/// Places of all holes of one kind, each with where it is tightest.
pub type Found = Vec<(Point, Gap)>;

/// How places stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Images {
    /// One place.
    Alone,
    /// Two, through the middle.
    Through,
    /// Two, left and right.
    LeftRight,
    /// Two, above and below.
    AboveBelow,
    /// Four.
    Four,
}

use Images::{AboveBelow, Alone, Four, LeftRight, Through};

/// The ways of standing that are looked at, the most regular first.
fn ways(count: u32) -> Vec<Vec<Images>> {
    match count {
        2 => vec![vec![Through], vec![LeftRight], vec![AboveBelow], vec![Alone; 2]],
        3 => vec![vec![LeftRight, Alone], vec![AboveBelow, Alone], vec![Alone; 3]],
        4 => vec![vec![Four], vec![Through; 2], vec![LeftRight; 2], vec![AboveBelow; 2], vec![Alone; 4]],
        n => vec![vec![Alone; n as usize]],
    }
}

/// The places of so many holes: of the first way that leaves room; if none does, of the one that is least short.
pub fn best(ground: &Ground, wanted: Wanted, count: u32) -> Found {
    let mut least_short = Vec::new();
    for way in ways(count) {
        let Some(found) = stood(ground, wanted, &way) else { continue };
        if room(&found) >= 0.0 {
            return found;
        }
        if least_short.is_empty() || room(&found) > room(&least_short) {
            least_short = found;
        }
    }
    least_short
}

/// Room where all places are tightest.
pub fn room(found: &Found) -> f64 {
    found.iter().map(|(_, gap)| gap.room()).fold(f64::INFINITY, f64::min)
}

/// One way of standing, its parts placed one after another.
fn stood(ground: &Ground, wanted: Wanted, way: &[Images]) -> Option<Found> {
    let mut placed: Vec<Point> = Vec::new();
    for images in way {
        let search = Search { ground, wanted, images: *images, placed: &placed };
        placed.extend(search.best()?);
    }
    let tightest = |i: usize| {
        let others = placed.iter().enumerate().filter(|(k, _)| *k != i).map(|(_, at)| *at);
        Some((placed[i], ground.tightest(placed[i], wanted, others)?))
    };
    (0..placed.len()).map(tightest).collect()
}

impl Ground {
    /// Where a hole at a place is tightest, `others` being holes like it.
    fn tightest(&self, at: Point, wanted: Wanted, others: impl Iterator<Item = Point>) -> Option<Gap> {
        let radius = wanted.diameter / 2.0;
        let [x, y] = self.size.map(|side| side / 2.0);
        let block = (x - at.x.abs()).min(y - at.y.abs());
        let to_side = self.pieces.iter().map(|piece| piece.signed_distance(at)).fold(block, f64::min);
        let side = Gap { near: Near::Side, have: to_side, need: wanted.to_side };
        let opening = |(i, outline, growth): &(usize, Outline, f64)| {
            let have = -outline.signed_distance(at) - growth - radius;
            Gap { near: Near::Opening(*i), have, need: wanted.to_opening }
        };
        let bore = |(centre, bored, i): &(Point, f64, usize)| {
            let have = centre.distance(at) - bored - radius;
            Gap { near: Near::Opening(*i), have, need: wanted.to_opening }
        };
        let hole = |(other, diameter): (Point, f64)| {
            let have = other.distance(at) - diameter / 2.0 - radius;
            Gap { near: Near::Hole, have, need: diameter.max(wanted.diameter) }
        };
        let joint = self.joint.iter().flat_map(|joint| joint.gaps(at, wanted));
        let holes = self.taken.iter().copied().chain(others.map(|other| (other, wanted.diameter)));
        std::iter::once(side)
            .chain(self.openings.iter().map(opening))
            .chain(self.bores.iter().map(bore))
            .chain(holes.map(hole))
            .chain(joint)
            .min_by(|a, b| a.room().total_cmp(&b.room()))
    }
}

impl Joint {
    /// To the joint as to a side, and to what goes through it, which is taken as going through the whole block.
    fn gaps(&self, at: Point, wanted: Wanted) -> Vec<Gap> {
        let (along, across) = if self.runs_along_x { (at.x, at.y) } else { (at.y, at.x) };
        let joint = Gap { near: Near::Joint, have: (across - self.at).abs(), need: wanted.to_side };
        let through = self.through.iter().map(|(place, diameter)| Gap {
            near: Near::Hole,
            have: (along - place).abs() - (diameter + wanted.diameter) / 2.0,
            need: diameter.max(wanted.diameter),
        });
        std::iter::once(joint).chain(through).collect()
    }
}

/// Places with their images, beside what is placed already.
struct Search<'a> {
    ground: &'a Ground,
    wanted: Wanted,
    images: Images,
    placed: &'a [Point],
}

/// How good a place is: its room up to what is enough, then how far its images stand apart, or how near the middle it is alone.
type Worth = (f64, f64);

impl Search<'_> {
    fn best(&self) -> Option<Vec<Point>> {
        let [x, y] = self.ground.size.map(|side| (side / 2.0 * TENTHS) as i32);
        let step = (4.0 * f64::from(x) * f64::from(y) / GRID).sqrt().ceil().max(f64::from(FINEST)) as i32;
        let grid = |half: i32| (-(half / step)..=half / step).map(move |i| i * step);
        let mut best: Option<([i32; 2], Worth)> = None;
        for place in grid(x).flat_map(|px| grid(y).map(move |py| [px, py])) {
            let Some(worth) = self.worth(place) else { continue };
            if best.is_none_or(|(_, known)| more(worth, known)) {
                best = Some((place, worth));
            }
        }
        let (mut place, mut worth) = best?;
        let mut stride = step;
        while stride > 1 {
            stride = (stride + 1) / 2;
            while let Some(next) = self.next((place, worth), stride) {
                (place, worth) = next;
            }
        }
        Some(self.places(place))
    }

    /// A place beside this one that is worth more.
    fn next(&self, (place, worth): ([i32; 2], Worth), stride: i32) -> Option<([i32; 2], Worth)> {
        const AROUND: [[i32; 2]; 8] = [[1, 0], [0, 1], [-1, 0], [0, -1], [1, 1], [-1, 1], [-1, -1], [1, -1]];
        let beside = AROUND.map(|[x, y]| [place[0] + x * stride, place[1] + y * stride]);
        let worths = beside.into_iter().filter_map(|place| Some((place, self.worth(place)?)));
        worths.filter(|(_, found)| more(*found, worth)).reduce(|a, b| if more(b.1, a.1) { b } else { a })
    }

    /// A place and its images.
    fn places(&self, [x, y]: [i32; 2]) -> Vec<Point> {
        let at = |x: i32, y: i32| Point::new(f64::from(x) / TENTHS, f64::from(y) / TENTHS);
        match self.images {
            Alone => vec![at(x, y)],
            Through => vec![at(x, y), at(-x, -y)],
            LeftRight => vec![at(x, y), at(-x, y)],
            AboveBelow => vec![at(x, y), at(x, -y)],
            Four => vec![at(x, y), at(-x, y), at(-x, -y), at(x, -y)],
        }
    }

    /// None where another image stands for the same places, or where two fall together.
    fn worth(&self, [x, y]: [i32; 2]) -> Option<Worth> {
        let first = match self.images {
            Alone => true,
            Through => x > 0 || (x == 0 && y > 0),
            LeftRight => x > 0,
            AboveBelow => y > 0,
            Four => x > 0 && y > 0,
        };
        if !first {
            return None;
        }
        let places = self.places([x, y]);
        let mut room = f64::INFINITY;
        for (i, at) in places.iter().enumerate() {
            let images = places.iter().enumerate().filter(|(k, _)| *k != i).map(|(_, at)| *at);
            let others = self.placed.iter().copied().chain(images);
            room = room.min(self.ground.tightest(*at, self.wanted, others)?.room());
        }
        let spread = match places.as_slice() {
            [one] => -one.distance(Point::new(0.0, 0.0)),
            [one, rest @ ..] => rest.iter().map(|at| at.distance(*one)).fold(f64::INFINITY, f64::min),
            [] => 0.0,
        };
        Some((room.min(ENOUGH), spread))
    }
}

fn more(a: Worth, b: Worth) -> bool {
    a.0 > b.0 + SAME || (a.0 >= b.0 - SAME && a.1 > b.1 + SAME)
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::Vertex;

    const M3: Wanted = Wanted { diameter: 3.0, to_side: 4.5, to_opening: 4.5 };

    fn circle(x: f64, y: f64, r: f64) -> Outline {
        Outline::new(vec![Vertex::new(x + r, y, 1.0), Vertex::new(x - r, y, 1.0)]).unwrap()
    }

    fn ground(size: [f64; 2], openings: Vec<Outline>) -> Ground {
        let openings = openings.into_iter().enumerate().map(|(i, outline)| (i, outline, 0.0)).collect();
        Ground { size, pieces: Vec::new(), openings, bores: Vec::new(), taken: Vec::new(), joint: None }
    }

    /// One hole beside a round opening in a block with little room: on the diagonal where side and opening are alike.
    #[test]
    fn one_hole_stands_where_both_bounds_are_alike() {
        let found = best(&ground([24.0, 24.0], vec![circle(0.0, 0.0, 2.6)]), M3, 1);
        // 12 - x - 4.5 = sqrt(2) x - 2.6 - 1.5 - 4.5
        let x = (12.0 - 4.5 + 2.6 + 1.5 + 4.5) / (1.0 + 2f64.sqrt());
        let exact = 12.0 - x - 4.5;
        assert!(exact < ENOUGH && exact > 0.7, "{exact}");
        assert!(room(&found) <= exact + 1e-9 && room(&found) > exact - 0.1, "{found:?} {exact}");
    }

    /// With more room than is enough a pair stands as far apart as that leaves it, and one alone as near the middle.
    #[test]
    fn room_beyond_enough_is_given_for_distance() {
        let ground = ground([60.0, 40.0], vec![circle(0.0, 0.0, 1.0)]);
        let pair = best(&ground, M3, 2);
        assert!((pair[0].0.distance(pair[1].0) - 2.0 * 24.5f64.hypot(14.5)).abs() < 0.3, "{pair:?}");
        let alone = best(&ground, M3, 1);
        assert!((alone[0].0.distance(Point::new(0.0, 0.0)) - 8.0).abs() < 0.1, "{alone:?}");
    }

    #[test]
    fn pairs_stand_through_the_middle_and_fours_in_all_corners() {
        let ground = ground([24.0, 16.0], vec![circle(0.0, 0.0, 0.5)]);
        let pair = best(&ground, M3, 2);
        assert!(room(&pair) >= 0.0);
        assert!(
            (pair[0].0.x + pair[1].0.x).abs() < 1e-12 && (pair[0].0.y + pair[1].0.y).abs() < 1e-12,
            "{pair:?}"
        );
        let four = best(&ground, Wanted { diameter: 2.0, to_side: 3.0, to_opening: 3.0 }, 4);
        assert!(room(&four) >= 0.0);
        for (at, _) in &four {
            assert_eq!([at.x.abs(), at.y.abs()], [four[0].0.x.abs(), four[0].0.y.abs()]);
        }
    }

    /// What is said to be left is left, by distances taken from outside the search.
    #[test]
    fn every_place_keeps_its_distances() {
        let mut ground = ground([26.0, 18.0], vec![circle(3.0, 1.0, 2.0), circle(-6.0, -2.0, 1.0)]);
        ground.bores.push((Point::new(3.0, 1.0), 3.0, 0));
        ground.taken.push((Point::new(-9.0, 5.0), 2.0));
        let wanted = Wanted { diameter: 2.0, to_side: 3.0, to_opening: 1.0 };
        for count in 1..=4 {
            let found = best(&ground, wanted, count);
            assert_eq!(found.len(), count as usize);
            for (i, (at, gap)) in found.iter().enumerate() {
                let to = |x: f64, y: f64, r: f64| at.distance(Point::new(x, y)) - r - 1.0;
                let others = found.iter().enumerate().filter(|(k, _)| *k != i);
                let apart = others.map(|(_, (other, _))| at.distance(*other) - 2.0 - 2.0);
                let all = [
                    13.0 - at.x.abs() - 3.0,
                    9.0 - at.y.abs() - 3.0,
                    to(3.0, 1.0, 3.0) - 1.0,
                    to(-6.0, -2.0, 1.0) - 1.0,
                    to(-9.0, 5.0, 1.0) - 2.0,
                ];
                let least = all.into_iter().chain(apart).fold(f64::INFINITY, f64::min);
                assert!((least - gap.room()).abs() < 1e-9, "{count} {found:?} {least}");
                assert!(gap.room() >= 0.0);
            }
        }
    }

    /// In a round piece of a larger block the middle is as far as can be from its edge.
    #[test]
    fn a_piece_has_its_own_sides() {
        let round = Ground { pieces: vec![circle(1.0, -2.0, 5.0)], ..ground([40.0, 30.0], Vec::new()) };
        let found = best(&round, M3, 1);
        assert!((room(&found) - 0.5).abs() < 1e-9 && found[0].1.near == Near::Side, "{found:?}");
    }

    /// A mirrored block has mirrored places with the same room; where nothing fits, the shortfall is told.
    #[test]
    fn mirrored_blocks_have_the_same_room_and_full_ones_say_how_short() {
        let one = ground([26.0, 18.0], vec![circle(4.0, 2.0, 3.0)]);
        let other = ground([26.0, 18.0], vec![circle(-4.0, 2.0, 3.0)]);
        // Three are placed one after another, and which comes first depends on the side.
        for count in [1, 2, 4] {
            let [one, other] = [&one, &other].map(|ground| room(&best(ground, M3, count)).min(ENOUGH));
            assert!((one - other).abs() < 0.11, "{count}: {one} {other}");
        }
        let full = best(&ground([10.0, 8.0], vec![circle(0.0, 0.0, 3.0)]), M3, 2);
        assert!(room(&full) < 0.0 && full.len() == 2, "{full:?}");
    }

    /// For one hole no tenth of the block is worth more than where the climb ends, for a pair none leaves a twentieth more room:
    /// openings in every corner in turn.
    #[test]
    fn the_climb_ends_at_the_best_tenth() {
        for (x, y) in [(3.3, 1.2), (-4.1, 2.3), (2.4, -2.9), (-1.6, -2.2)] {
            for images in [Alone, Through] {
                let ground = ground([19.0, 15.0], vec![circle(x, y, 1.37)]);
                let search = Search { ground: &ground, wanted: M3, images, placed: &[] };
                let all = (-95..=95).flat_map(|px| (-75..=75).map(move |py| [px, py]));
                let best = all
                    .filter_map(|place| search.worth(place))
                    .reduce(|a, b| if more(b, a) { b } else { a })
                    .unwrap();
                let first = search.best().unwrap()[0];
                let found = search.worth([first.x, first.y].map(|v| (v * TENTHS).round() as i32)).unwrap();
                let enough = if images == Alone { !more(best, found) } else { found.0 > best.0 - 0.05 };
                assert!(enough, "{x} {y} {images:?}: {found:?}, there is {best:?}");
            }
        }
    }

    /// One hole alone stands as near the middle as a joint through it allows: as far off it as off a side, and off what goes through
    /// it at 2 along it by the wider of the two. Worked out for a hole of 3: 4.5 off the joint; beside a hole of 4 it is 2 + 1.5 + 4.
    #[test]
    fn a_hole_keeps_off_a_joint_and_off_what_goes_through_it() {
        for runs_along_x in [true, false] {
            let alone = |at: f64, through: Vec<(f64, f64)>| {
                let joint = Some(Joint { runs_along_x, at, through });
                let found = best(&Ground { joint, ..ground([60.0, 60.0], Vec::new()) }, M3, 1);
                let Point { x, y } = found[0].0;
                assert!(room(&found) >= ENOUGH - 1e-9, "{found:?}");
                if runs_along_x { [x, y] } else { [y, x] }
            };
            let [along, across] = alone(1.0, Vec::new());
            assert!(along.abs() < 1e-9 && (across - (1.0 - 4.5 - ENOUGH)).abs() < 0.11, "{along} {across}");
            let [along, across] = alone(0.0, vec![(2.0, 4.0)]);
            assert!((across.abs() - 4.5 - ENOUGH).abs() < 0.11, "{along} {across}");
            assert!((along - (2.0 - 7.5 - ENOUGH)).abs() < 0.11, "{along} {across}");
        }
    }

    /// Of a place and its images one stands for all, right of the middle or above it, and none where two fall together.
    #[test]
    fn one_place_stands_for_its_images() {
        let ground = ground([40.0, 40.0], vec![circle(0.0, 0.0, 1.0)]);
        let counts = |images: Images, place: [i32; 2]| {
            Search { ground: &ground, wanted: M3, images, placed: &[] }.worth(place).is_some()
        };
        for place in [
            [100, 100],
            [-100, 100],
            [-100, -100],
            [100, -100],
            [100, 0],
            [-100, 0],
            [0, 100],
            [0, -100],
            [0, 0],
        ] {
            let [x, y] = place;
            assert!(counts(Alone, place));
            assert_eq!(counts(Through, place), x > 0 || place == [0, 100], "{place:?}");
            assert_eq!(counts(LeftRight, place), x > 0, "{place:?}");
            assert_eq!(counts(AboveBelow, place), y > 0, "{place:?}");
            assert_eq!(counts(Four, place), x > 0 && y > 0, "{place:?}");
        }
    }

    /// Room behind an opening that parts the block is found, on whichever side of it.
    #[test]
    fn the_whole_block_is_looked_at() {
        let bar = |x0: f64, x1: f64| {
            let corners = [(x0, -6.5), (x1, -6.5), (x1, 6.5), (x0, 6.5)];
            Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
        };
        // A thin wall and a thick one, which no climb gets over.
        for (length, thick) in [(40.0, 0.8), (60.0, 8.0)] {
            for side in [-1.0, 1.0] {
                let behind = 4.0 + thick;
                let [wall, filled] =
                    [[4.0, behind], [1.0 - length / 2.0, 3.0]].map(|ends| ends.map(|x| side * x));
                let opening = |[a, b]: [f64; 2]| bar(f64::min(a, b), f64::max(a, b));
                let found = best(&ground([length, 14.0], vec![opening(wall), opening(filled)]), M3, 1);
                assert!(room(&found) >= 0.0 && side * found[0].0.x > behind, "{found:?}");
            }
        }
    }
}
