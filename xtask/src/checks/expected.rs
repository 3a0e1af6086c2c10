//! What a source prints: a number with its rounding, a span, an order of magnitude, or a word.

use std::fmt;

/// What a quantity turned out to be here.
#[derive(Debug, Clone, PartialEq)]
pub enum Ours {
    /// A number.
    Number(f64),
    /// A word, as in `holds`.
    Word(String),
}

impl fmt::Display for Ours {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Word(word) => f.write_str(word),
            Self::Number(number) => f.write_str(&significant(*number, 7)),
        }
    }
}

/// What a source prints.
#[derive(Debug, Clone, PartialEq)]
pub enum Expected {
    /// A number, right to half a unit of its last digit.
    Number { value: f64, half: f64 },
    /// From one number to another, both right to half a unit of their last digits.
    Span { low: f64, high: f64 },
    /// Of the order of a number: between a `sqrt(10)`th of it and `sqrt(10)` times it.
    Order(f64),
    /// A word.
    Word(String),
}

impl Expected {
    /// Reads `0.2614`, `59 to 70`, `above 5`, `below 5`, `order of 20`, or a word.
    pub fn read(text: &str) -> Self {
        let text = text.trim();
        if let Some(value) = text.strip_prefix("order of ").and_then(number) {
            return Self::Order(value.0);
        }
        if let Some((value, half)) = text.strip_prefix("above ").and_then(number) {
            return Self::Span { low: value - half, high: f64::INFINITY };
        }
        if let Some((value, half)) = text.strip_prefix("below ").and_then(number) {
            return Self::Span { low: f64::NEG_INFINITY, high: value + half };
        }
        if let Some((low, high)) =
            text.split_once(" to ").and_then(|(low, high)| number(low).zip(number(high)))
        {
            return Self::Span { low: low.0 - low.1, high: high.0 + high.1 };
        }
        match number(text) {
            Some((value, half)) => Self::Number { value, half },
            None => Self::Word(text.to_owned()),
        }
    }

    /// Whether ours agrees.
    pub fn agrees(&self, ours: &Ours) -> bool {
        match (self, ours) {
            (Self::Word(expected), Ours::Word(found)) => expected == found,
            (Self::Number { value, half }, Ours::Number(found)) => {
                // The rest is what binary arithmetic makes of half a unit in the last place.
                (found - value).abs() <= half * (1.0 + 1e-9) + 1e-12 * value.abs()
            }
            (Self::Span { low, high }, Ours::Number(found)) => low <= found && found <= high,
            (Self::Order(value), Ours::Number(found)) => {
                let step = 10f64.sqrt();
                *found >= value / step && *found <= value * step
            }
            _ => false,
        }
    }

    /// Ours less the source's, with two digits more than the source prints; nothing where there is no one number.
    pub fn difference(&self, ours: &Ours) -> String {
        match (self, ours) {
            (Self::Number { value, half }, Ours::Number(found)) => {
                let decimals = (2.0 - (2.0 * half).log10().round()).max(0.0) as usize;
                let text = format!("{:+.decimals$}", found - value);
                match text.trim_start_matches(['-', '+']).chars().all(|c| matches!(c, '0' | '.')) {
                    true => "0".to_owned(),
                    false => text,
                }
            }
            _ => String::new(),
        }
    }
}

/// A number and half a unit of its last printed digit.
fn number(text: &str) -> Option<(f64, f64)> {
    let text = text.trim();
    let value: f64 = text.parse().ok()?;
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, exponent.parse().ok()?),
        None => (text, 0),
    };
    let decimals = mantissa.split_once('.').map_or(0, |(_, fraction)| fraction.len() as i32);
    value.is_finite().then(|| (value, 0.5 * 10f64.powi(exponent - decimals)))
}

/// A number with so many significant digits, without zeros at its end.
fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let size = value.abs().log10().floor() as i64;
    let decimals = (digits as i64 - 1 - size).clamp(0, 12) as usize;
    let text = format!("{value:.decimals$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(expected: &str, ours: f64, agrees: bool) {
        assert_eq!(Expected::read(expected).agrees(&Ours::Number(ours)), agrees, "{expected} and {ours}");
    }

    #[test]
    fn a_number_is_right_to_half_of_its_last_digit() {
        check("0.2614", 0.26144, true);
        check("0.2614", 0.26146, false);
        check("0.2614", 0.26134, false);
        check("2.00", 2.004, true);
        check("2.00", 2.006, false);
        check("2", 2.4, true);
        check("467469", 467_469.4, true);
        check("467469", 467_470.0, false);
        check("1.5e-3", 0.001_549, true);
        check("1.5e-3", 0.001_56, false);
        check("-6", -6.2, true);
    }

    #[test]
    fn spans_and_orders() {
        check("59 to 70", 58.6, true);
        check("59 to 70", 58.4, false);
        check("59 to 70", 70.6, false);
        check("above 300", 299.4, false);
        check("below 0.5", 0.4, true);
        check("below 0.5", 0.6, false);
        check("order of 20", 7.0, true);
        check("order of 20", 6.0, false);
        check("order of 20", 64.0, false);
    }

    #[test]
    fn words_are_words() {
        let holds = Ours::Word("holds".to_owned());
        assert!(Expected::read("holds").agrees(&holds));
        assert!(!Expected::read("broken").agrees(&holds));
        assert!(!Expected::read("1").agrees(&holds));
        assert!(!Expected::read("holds").agrees(&Ours::Number(1.0)));
        assert!(!Expected::read("1").agrees(&Ours::Number(f64::NAN)));
    }

    #[test]
    fn differences_carry_two_digits_more() {
        let difference = |expected, ours| Expected::read(expected).difference(&Ours::Number(ours));
        assert_eq!(difference("0.2614", 0.261_366), "-0.000034");
        assert_eq!(difference("467469", 467_468.84), "-0.16");
        assert_eq!(difference("2", 2.0 - 1e-15), "0");
        assert_eq!(difference("1 to 2", 1.5), "");
        assert_eq!(Ours::Number(467_468.8).to_string(), "467468.8");
        assert_eq!(Ours::Number(0.000_123_456_789).to_string(), "0.0001234568");
    }
}
