//! Places that ask for short sides, under boxes, so that what all of them together ask for at a place is found among a few.

use outline::{Bounds, Point};

/// Spots of one box that are looked at one by one.
const FEW: usize = 8;

/// A place that asks for short sides.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spot {
    pub(crate) at: Point,
    /// mm.
    pub(crate) side: f64,
}

/// Spots in the order of their boxes.
#[derive(Debug, Clone, Default)]
pub(crate) struct Spots {
    spots: Vec<Spot>,
    /// Box by box, each before the two that it consists of.
    boxes: Vec<Box>,
}

/// Some spots that follow each other.
#[derive(Debug, Clone, Copy)]
struct Box {
    bounds: Bounds,
    /// The shortest side that one of them asks for.
    least: f64,
    from: usize,
    to: usize,
    /// The second of the two boxes that it consists of; the first follows it. None: it is looked at spot by spot.
    second: Option<usize>,
}

impl Spots {
    /// The spots under boxes.
    pub(crate) fn new(spots: Vec<Spot>) -> Self {
        let mut all = Self { spots, boxes: Vec::new() };
        if !all.spots.is_empty() {
            all.divide(0, all.spots.len());
        }
        all
    }

    /// The spots, in no order that matters.
    pub(crate) fn into_spots(self) -> Vec<Spot> {
        self.spots
    }

    fn divide(&mut self, from: usize, to: usize) {
        let spots = &mut self.spots[from..to];
        let bounds = spots.iter().fold(Bounds::EMPTY, |all, spot| all.union(Bounds::of(spot.at)));
        let least = spots.iter().map(|spot| spot.side).fold(f64::INFINITY, f64::min);
        let own = self.boxes.len();
        self.boxes.push(Box { bounds, least, from, to, second: None });
        if to - from <= FEW {
            return;
        }
        let wide = bounds.width() > bounds.height();
        let place = |spot: &Spot| if wide { (spot.at.x, spot.at.y) } else { (spot.at.y, spot.at.x) };
        spots.sort_by(|a, b| {
            let (a, b) = (place(a), place(b));
            a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        let middle = from + (to - from) / 2;
        self.divide(from, middle);
        self.boxes[own].second = Some(self.boxes.len());
        self.divide(middle, to);
    }

    /// The least of `longest` and of each spot's side with so much more for each mm of distance.
    pub(crate) fn least(&self, place: Point, growth: f64, longest: f64) -> f64 {
        let mut least = longest;
        if !self.boxes.is_empty() {
            self.look(0, place, growth, &mut least);
        }
        least
    }

    fn look(&self, number: usize, place: Point, growth: f64, least: &mut f64) {
        let own = &self.boxes[number];
        if own.asks(place, growth) >= *least {
            return;
        }
        let Some(second) = own.second else {
            for spot in &self.spots[own.from..own.to] {
                *least = least.min(spot.side + growth * spot.at.distance(place));
            }
            return;
        };
        let first = number + 1;
        let order = match self.boxes[first].asks(place, growth) <= self.boxes[second].asks(place, growth) {
            true => [first, second],
            false => [second, first],
        };
        for child in order {
            self.look(child, place, growth, least);
        }
    }
}

impl Box {
    /// What its spots ask for at a place at least.
    fn asks(&self, place: Point, growth: f64) -> f64 {
        self.least + growth * self.bounds.distance_squared(place).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_leave_nothing_out() {
        // Scattered by irrational steps, sizes over three decades.
        let spot = |i: usize| {
            let t = i as f64;
            let at = Point::new((t * 0.618_034).fract() * 20.0, (t * 0.414_214).fract() * 10.0);
            Spot { at, side: 10f64.powf(-3.0 * (t * 0.732_051).fract()) }
        };
        for count in [0, 1, 8, 9, 500] {
            let spots: Vec<Spot> = (0..count).map(spot).collect();
            let under = Spots::new(spots.clone());
            for i in 0..200 {
                let place = spot(1000 + i).at;
                let each = spots.iter().map(|s| s.side + 0.3 * s.at.distance(place));
                let least = each.fold(2.0, f64::min);
                assert_eq!(under.least(place, 0.3, 2.0), least);
            }
        }
    }
}
