//! Days as 2026-11-25.

use std::time::{SystemTime, UNIX_EPOCH};

const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// Today by the system's clock, universal time.
pub fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    let (year, month, day) = civil((seconds / 86_400) as i64);
    format!("{year:04}-{month:02}-{day:02}")
}

/// A day that exists.
pub fn checked(text: &str) -> Result<String, String> {
    let fail = || format!("`{text}` is not a day; write it as 2026-11-25");
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return Err(fail()) };
    let shape = [(year, 4), (month, 2), (day, 2)];
    if shape.iter().any(|(part, n)| part.len() != *n || !part.bytes().all(|b| b.is_ascii_digit())) {
        return Err(fail());
    }
    let number = |part: &str| part.parse::<i64>().map_err(|_| fail());
    let (year, month, day) = (number(year)?, number(month)?, number(day)?);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    if (1..=days).contains(&day) { Ok(text.to_owned()) } else { Err(fail()) }
}

/// 2026-11-25 as 25 Nov 2026; anything else as it is.
pub fn spoken(text: &str) -> String {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return text.to_owned() };
    let name = month.parse::<usize>().ok().and_then(|m| MONTHS.get(m.wrapping_sub(1)));
    name.map_or_else(|| text.to_owned(), |name| format!("{} {name} {year}", day.trim_start_matches('0')))
}

/// Days since 1970-01-01 as year, month, day of the Gregorian calendar, counted in 400-year eras from 1 March.
fn civil(days: i64) -> (i64, u32, u32) {
    let shifted = days + 719_468;
    let era = shifted.div_euclid(146_097);
    let of_era = shifted.rem_euclid(146_097);
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted_month = (5 * of_year + 2) / 153;
    let day = (of_year - (153 * shifted_month + 2) / 5 + 1) as u32;
    let month = if shifted_month < 10 { shifted_month + 3 } else { shifted_month - 9 } as u32;
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    (year, month, day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_count_from_1970() {
        assert_eq!(civil(0), (1970, 1, 1));
        assert_eq!(civil(11_016), (2000, 2, 29));
        assert_eq!(civil(20_782), (2026, 11, 25));
    }

    #[test]
    fn only_days_that_exist() {
        assert!(checked("2024-02-29").is_ok());
        for wrong in ["2026-02-29", "2026-13-01", "26-1-1", "2026-11-31", "today", "2026-11-25 "] {
            assert!(checked(wrong).is_err(), "{wrong}");
        }
        assert_eq!(spoken("2026-11-05"), "5 Nov 2026");
    }
}
