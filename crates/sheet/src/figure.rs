//! Figures as they stand on paper: leading zero, the sign where a figure has a side, a true minus.

/// With its sign always, to so many decimals; what rounds to nothing is "+0".
pub fn signed(value: f64, decimals: usize) -> String {
    let text = format!("{:.decimals$}", value.abs());
    let nothing = text.chars().all(|c| matches!(c, '0' | '.'));
    let sign = if value < 0.0 && !nothing { '\u{2212}' } else { '+' };
    format!("{sign}{text}")
}

/// A size: without a plus, without zeros at the end.
pub fn size(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    text.replace('-', "\u{2212}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_their_sign_and_sizes_end_where_they_say_nothing_more() {
        assert_eq!(signed(-2.4, 4), "\u{2212}2.4000");
        assert_eq!(signed(0.0, 4), "+0.0000");
        assert_eq!(signed(-0.00001, 4), "+0.0000");
        assert_eq!(size(19.049_999_999_999_997, 4), "19.05");
        assert_eq!(size(20.0, 4), "20");
        assert_eq!(size(200.0, 0), "200");
    }
}
