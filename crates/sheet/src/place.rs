//! Where a number may stand on the block so that it touches no opening and no other number.

/// Boxes that are taken, x0, y0, x1, y1 in mm of paper, and the box that all must stay in.
#[derive(Debug)]
pub struct Places {
    within: [f64; 4],
    taken: Vec<[f64; 4]>,
}

impl Places {
    /// Nothing taken yet.
    pub fn new(within: [f64; 4]) -> Self {
        Self { within, taken: Vec::new() }
    }

    /// Takes a box, whatever lies there.
    pub fn take(&mut self, taken: [f64; 4]) {
        self.taken.push(taken);
    }

    /// The lower left corner of a free place as near as may be to a box; takes it.
    pub fn near(&mut self, [x0, y0, x1, y1]: [f64; 4], [wide, high]: [f64; 2]) -> Option<[f64; 2]> {
        const AWAY: [f64; 8] = [0.5, 2.0, 4.0, 7.0, 11.0, 16.0, 22.0, 30.0];
        let (mx, my) = ((x0 + x1 - wide) / 2.0, (y0 + y1 - high) / 2.0);
        for a in AWAY {
            let (left, right, below, above) = (x0 - wide - a, x1 + a, y0 - high - a, y1 + a);
            let corners = [
                [mx, above],
                [mx, below],
                [right, my],
                [left, my],
                [right, above],
                [left, above],
                [right, below],
                [left, below],
            ];
            for [x, y] in corners {
                let place = [x, y, x + wide, y + high];
                if self.free(place) {
                    self.take(place);
                    return Some([x, y]);
                }
            }
        }
        None
    }

    fn free(&self, [x0, y0, x1, y1]: [f64; 4]) -> bool {
        let [a0, b0, a1, b1] = self.within;
        let inside = x0 >= a0 && y0 >= b0 && x1 <= a1 && y1 <= b1;
        inside && self.taken.iter().all(|t| x0 >= t[2] || x1 <= t[0] || y0 >= t[3] || y1 <= t[1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_stay_within_and_apart_until_there_are_none() {
        let mut places = Places::new([0.0, 0.0, 20.0, 12.0]);
        places.take([8.0, 5.0, 12.0, 7.0]);
        let mut found: Vec<[f64; 2]> = Vec::new();
        while let Some(at) = places.near([8.0, 5.0, 12.0, 7.0], [4.0, 3.0]) {
            assert!(at[0] >= 0.0 && at[1] >= 0.0 && at[0] <= 16.0 && at[1] <= 9.0);
            assert!(
                found.iter().all(|f| (f[0] - at[0]).abs() >= 4.0 || (f[1] - at[1]).abs() >= 3.0),
                "{found:?}"
            );
            found.push(at);
        }
        assert!((4..=10).contains(&found.len()), "{found:?}");
    }
}
