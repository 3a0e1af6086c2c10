//! In which order the openings of one set-up are cut: far from the clamps first, by short ways.
//!
//! The block is divided into bands across the direction of the clamps. Band by band, the farthest first, the nearest
//! opening not yet cut comes next; ties go to the job's order.

use job::Side;
use outline::Point;

/// Bands in a block: within one, a short way counts more than a little distance from the clamps.
const BANDS: f64 = 4.0;

/// Numbers of the places in the order of cutting. `size`: the block in x and y, its middle at the origin.
pub fn of(places: &[Point], size: [f64; 2], clamp: Side) -> Vec<usize> {
    let band = |place: &Point| {
        let (from_clamp, length) = match clamp {
            Side::Left => (place.x + size[0] / 2.0, size[0]),
            Side::Right => (size[0] / 2.0 - place.x, size[0]),
            Side::Bottom => (place.y + size[1] / 2.0, size[1]),
            Side::Top => (size[1] / 2.0 - place.y, size[1]),
        };
        (BANDS * from_clamp / length).floor().clamp(0.0, BANDS - 1.0) as usize
    };
    let mut left: Vec<usize> = (0..places.len()).collect();
    let mut order: Vec<usize> = Vec::with_capacity(places.len());
    while let Some(farthest) = left.iter().map(|&i| band(&places[i])).max() {
        let way = |i: usize| order.last().map_or(0.0, |&last| places[last].distance(places[i]));
        let in_band = left.iter().enumerate().filter(|(_, i)| band(&places[**i]) == farthest);
        let next = in_band.min_by(|a, b| way(*a.1).total_cmp(&way(*b.1))).map(|(at, _)| at);
        let Some(next) = next else { break };
        order.push(left.remove(next));
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places() -> Vec<Point> {
        [(-9.0, 0.0), (9.0, 4.0), (9.0, -4.0), (8.0, 3.0), (0.0, 0.0)].map(|(x, y)| Point::new(x, y)).to_vec()
    }

    #[test]
    fn far_from_the_clamps_comes_first_and_neighbours_follow() {
        assert_eq!(of(&places(), [20.0, 10.0], Side::Left), [1, 3, 2, 4, 0]);
        assert_eq!(of(&places(), [20.0, 10.0], Side::Right), [0, 4, 3, 1, 2]);
    }

    #[test]
    fn turning_block_and_clamps_together_keeps_the_order() {
        let turned: Vec<Point> = places().iter().map(|p| Point::new(-p.y, p.x)).collect();
        assert_eq!(of(&turned, [10.0, 20.0], Side::Bottom), of(&places(), [20.0, 10.0], Side::Left));
    }

    #[test]
    fn every_place_comes_once() {
        let mut order = of(&places(), [20.0, 10.0], Side::Top);
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2, 3, 4]);
        assert!(of(&[], [20.0, 10.0], Side::Top).is_empty());
    }
}
