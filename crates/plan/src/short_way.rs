//! A short way through some places, each once.
//!
//! Stages: from each of the places near the beginning, always on to the nearest; stretches turned round while that
//! shortens the way; the shortest of these ways.

use outline::Point;

/// Gains below this, mm, are rounding.
const NOTHING: f64 = 1e-9;
/// Beginnings that are tried.
const BEGINNINGS: usize = 16;
/// Rounds of turning; each shortens the way, and few holes need more than three.
const ROUNDS: usize = 60;

/// The order in which to visit places, coming from somewhere else; it ends at the last.
pub fn through(places: &[Point], from: Point) -> Vec<usize> {
    let mut near: Vec<usize> = (0..places.len()).collect();
    near.sort_by(|a, b| from.distance(places[*a]).total_cmp(&from.distance(places[*b])));
    let way = |first: &usize| {
        let mut order = on_to_the_nearest(places, *first);
        (0..ROUNDS).any(|_| !turn_round(&mut order, places, from));
        (length(&order, places, from), order)
    };
    let ways = near.iter().take(BEGINNINGS).map(way);
    // The way that was found first stays where another is no shorter.
    ways.reduce(|best, one| if one.0 < best.0 - NOTHING { one } else { best })
        .map_or(Vec::new(), |(_, order)| order)
}

fn length(order: &[usize], places: &[Point], from: Point) -> f64 {
    let stops = order.iter().map(|i| places[*i]);
    std::iter::once(from).chain(stops.clone()).zip(stops).map(|(a, b)| a.distance(b)).sum()
}

fn on_to_the_nearest(places: &[Point], first: usize) -> Vec<usize> {
    let mut left: Vec<usize> = (0..places.len()).filter(|i| *i != first).collect();
    let mut order = vec![first];
    let mut at = places[first];
    while !left.is_empty() {
        let near = |k: &usize| at.distance(places[left[*k]]);
        let Some(next) = (0..left.len()).min_by(|a, b| near(a).total_cmp(&near(b))) else { break };
        let place = left.remove(next);
        at = places[place];
        order.push(place);
    }
    order
}

/// Turns every stretch round whose turning shortens the way; whether there was one.
fn turn_round(order: &mut [usize], places: &[Point], from: Point) -> bool {
    let mut shortened = false;
    for i in 0..order.len() {
        for j in i + 1..order.len() {
            let before = if i == 0 { from } else { places[order[i - 1]] };
            let (first, last) = (places[order[i]], places[order[j]]);
            let after = order.get(j + 1).map(|next| places[*next]);
            let old = before.distance(first) + after.map_or(0.0, |after| last.distance(after));
            let new = before.distance(last) + after.map_or(0.0, |after| first.distance(after));
            if new < old - NOTHING {
                order[i..=j].reverse();
                shortened = true;
            }
        }
    }
    shortened
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The shortest way of all, by trying every order.
    fn shortest(places: &[Point], from: Point, left: &mut Vec<usize>) -> f64 {
        let mut best = if left.is_empty() { 0.0 } else { f64::INFINITY };
        for k in 0..left.len() {
            let next = left.remove(k);
            best = best.min(from.distance(places[next]) + shortest(places, places[next], left));
            left.insert(k, next);
        }
        best
    }

    #[test]
    fn a_row_of_holes_is_burned_from_its_near_end() {
        let places: Vec<Point> = [3.0, 1.0, 4.0, 2.0].map(|x| Point::new(x, 0.0)).to_vec();
        assert_eq!(through(&places, Point::new(-5.0, -5.0)), [1, 3, 0, 2]);
        assert!(through(&[], Point::new(0.0, 0.0)).is_empty());
    }

    proptest! {
        /// Up to six places: every place once, and within a quarter of the shortest way of all.
        #[test]
        fn every_place_once_and_near_the_shortest(xy in proptest::collection::vec((-9.0..9.0f64, -6.0..6.0f64), 1..7)) {
            let places: Vec<Point> = xy.iter().map(|(x, y)| Point::new(*x, *y)).collect();
            let from = Point::new(-12.0, -8.0);
            let order = through(&places, from);
            let mut sorted = order.clone();
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..places.len()).collect::<Vec<_>>());
            let best = shortest(&places, from, &mut (0..places.len()).collect());
            prop_assert!(length(&order, &places, from) <= 1.25 * best + 1e-9);
        }
    }
}
