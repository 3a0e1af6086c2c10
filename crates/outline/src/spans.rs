//! A set of stretches of a curve, as shares of its length, that do not overlap.

/// Stretches in rising order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Spans {
    stretches: Vec<(f64, f64)>,
}

impl Spans {
    /// Adds a stretch; touching ones become one. Gives back the share that had been there before, 0 if none.
    pub(crate) fn add(&mut self, low: f64, high: f64) -> f64 {
        let mut shared = 0.0;
        let (mut from, mut to) = (low, high);
        let first = self.stretches.partition_point(|&(_, end)| end < low);
        let mut last = first;
        while let Some(&(start, end)) = self.stretches.get(last).filter(|&&(start, _)| start <= high) {
            shared += (end.min(high) - start.max(low)).max(0.0);
            (from, to) = (from.min(start), to.max(end));
            last += 1;
        }
        self.stretches.splice(first..last, [(from, to)]);
        shared
    }

    /// What of 0 to 1 it leaves out, in rising order.
    pub(crate) fn gaps(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let starts = std::iter::once(0.0).chain(self.stretches.iter().map(|&(_, end)| end));
        let ends = self.stretches.iter().map(|&(start, _)| start).chain([1.0]);
        starts.zip(ends).filter(|(low, high)| low < high)
    }

    /// Whether nothing is in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.stretches.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::Spans;

    fn gaps(spans: &Spans) -> Vec<(f64, f64)> {
        spans.gaps().collect()
    }

    #[test]
    fn nothing_leaves_all() {
        assert_eq!(gaps(&Spans::default()), [(0.0, 1.0)]);
        assert!(Spans::default().is_empty());
    }

    #[test]
    fn stretches_merge_and_tell_what_they_share() {
        let mut spans = Spans::default();
        assert_eq!(spans.add(0.5, 0.75), 0.0);
        assert_eq!(spans.add(0.0, 0.25), 0.0);
        assert_eq!(gaps(&spans), [(0.25, 0.5), (0.75, 1.0)]);
        assert_eq!(spans.add(0.25, 0.5), 0.0);
        assert_eq!(gaps(&spans), [(0.75, 1.0)]);
        assert_eq!(spans.add(0.5, 1.0), 0.25);
        assert_eq!(gaps(&spans), []);
    }

    #[test]
    fn a_stretch_over_several_shares_with_each() {
        let mut spans = Spans::default();
        spans.add(0.125, 0.25);
        spans.add(0.5, 0.625);
        assert_eq!(spans.add(0.0, 1.0), 0.25);
    }
}
