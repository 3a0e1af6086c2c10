//! Times of repeated work.

use std::time::Instant;

/// Median seconds of one call, from `runs` batches of `calls`.
pub fn median<T>(runs: usize, calls: usize, mut work: impl FnMut() -> T) -> f64 {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let began = Instant::now();
            for _ in 0..calls {
                std::hint::black_box(work());
            }
            began.elapsed().as_secs_f64() / calls as f64
        })
        .collect();
    middle(&mut times)
}

/// The middle one of some times.
pub fn middle(times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Seconds as a person reads them.
pub fn text(seconds: f64) -> String {
    match seconds {
        s if s < 1e-3 => format!("{:.1} us", s * 1e6),
        s if s < 1.0 => format!("{:.2} ms", s * 1e3),
        s => format!("{s:.2} s"),
    }
}

/// A peer's time and what ours is of it.
pub fn beside(name: &str, ours: f64, theirs: f64) -> String {
    format!("{name} {}, ratio {:.2}", text(theirs), ours / theirs)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_is_not_the_mean() {
        assert_eq!(middle(&mut [9.0, 1.0, 2.0]), 2.0);
        assert!(middle(&mut []).is_nan());
    }
}
