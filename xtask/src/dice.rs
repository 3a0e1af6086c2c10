//! Random numbers that a seed fixes, so that a case that fails can be drawn again.
//!
//! The generator is SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014; constants
//! from memory): short, good enough for drawing shapes, and the same on every platform.

/// A run of random numbers.
pub struct Dice {
    state: u64,
}

impl Dice {
    /// The run that belongs to a seed.
    pub fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// Sixty-four random bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from `low` up to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.bits() >> 11) as f64 / (1u64 << 53) as f64)
    }

    /// A positive number from `low` up to `high`, every decade as likely as the next.
    pub fn magnitude(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    /// A whole number from 0 up to, not including, `n`.
    pub fn below(&mut self, n: usize) -> usize {
        (self.between(0.0, n as f64) as usize).min(n.saturating_sub(1))
    }

    /// Heads or tails.
    pub fn coin(&mut self) -> bool {
        self.bits() >> 63 == 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_fixes_the_run_and_numbers_stay_in_bounds() {
        let (mut a, mut b, mut c) = (Dice::new(7), Dice::new(7), Dice::new(8));
        assert_eq!(a.bits(), b.bits());
        assert_ne!(a.bits(), c.bits());
        let mut sum = 0.0;
        for _ in 0..10_000 {
            let x = a.between(-1.0, 3.0);
            assert!((-1.0..3.0).contains(&x));
            sum += x;
            assert!(a.below(5) < 5);
            assert!((0.05..50.0).contains(&a.magnitude(0.05, 50.0)));
        }
        assert!((sum / 10_000.0 - 1.0).abs() < 0.05);
    }
}
