//! Fits by ISO 286-1: the zones of a hole and a shaft as words, and the table that turns them into limits.

use crate::known::{Basis, From, Known};
use serde::Deserialize;

/// A fit as it is written, `H7/k6`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fit {
    /// Zone of the hole, here the frame's cavity.
    pub hole: Zone,
    /// Zone of the shaft, here the section.
    pub shaft: Zone,
}

/// A letter and a grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Zone {
    /// The fundamental deviation.
    pub letter: &'static str,
    /// The grade, 5 to 8.
    pub grade: usize,
}

/// Letters of holes that the table holds.
const HOLES: &[&str] = &["H", "G", "JS"];
/// Letters of shafts that the table holds.
const SHAFTS: &[&str] = &["g", "h", "js", "k", "m", "n", "p"];
/// Grades that the table holds.
const GRADES: std::ops::RangeInclusive<usize> = 5..=8;

impl Fit {
    /// Reads a fit; what is wrong with it otherwise, in words that go on from "`fit` ...".
    pub fn of(text: &str) -> Result<Self, String> {
        let halves = text.split_once('/');
        let (hole, shaft) =
            halves.ok_or_else(|| "names hole and shaft with a '/' between them, as in H7/k6".to_owned())?;
        Ok(Self { hole: zone(hole, HOLES, "hole")?, shaft: zone(shaft, SHAFTS, "shaft")? })
    }
}

fn zone(text: &str, letters: &'static [&'static str], what: &str) -> Result<Zone, String> {
    let split = text.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(text.len());
    let letter = letters.iter().find(|letter| **letter == &text[..split]);
    let grade = text[split..].parse::<usize>().ok().filter(|grade| GRADES.contains(grade));
    match (letter, grade) {
        (Some(letter), Some(grade)) => Ok(Zone { letter, grade }),
        _ => Err(format!("has no {what} of the letters {} with a grade of 5 to 8", letters.join(", "))),
    }
}

impl Zone {
    /// As written, `k6`.
    pub fn word(self) -> String {
        format!("{}{}", self.letter, self.grade)
    }
}

/// The table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FitTable {
    cite: String,
    cite_k_above_80: String,
    range: Vec<Range>,
}

/// One range of sizes; deviations in micrometres.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Range {
    to: f64,
    it: [f64; 4],
    g: f64,
    k: f64,
    m: f64,
    n: f64,
    p: f64,
}

impl FitTable {
    /// Lower and upper deviation of a zone at a size, mm; none beyond the table.
    pub(crate) fn deviations(&self, zone: Zone, size_mm: f64) -> Option<[Known<f64>; 2]> {
        let range = self.range.iter().find(|range| size_mm > 0.0 && size_mm <= range.to)?;
        let it = range.it[zone.grade - GRADES.start()];
        let (lower, upper) = match zone.letter {
            "H" => (0.0, it),
            "h" => (-it, 0.0),
            "G" => (-range.g, it - range.g),
            "g" => (range.g - it, range.g),
            "JS" | "js" => (-it / 2.0, it / 2.0),
            // From grade 8 on, k begins at nothing.
            "k" if zone.grade > 7 => (0.0, it),
            "k" => (range.k, range.k + it),
            "m" => (range.m, range.m + it),
            "n" => (range.n, range.n + it),
            "p" => (range.p, range.p + it),
            _ => return None,
        };
        let memory = zone.letter == "k" && range.to > 80.0;
        let known = |end: &str, micrometres: f64| Known {
            value: micrometres / 1000.0,
            from: From::Fact {
                id: format!("fit.{}.to_{}.{end}", zone.word(), range.to),
                basis: if memory { Basis::Memory } else { Basis::Standard },
                cite: if memory { self.cite_k_above_80.clone() } else { self.cite.clone() },
            },
        };
        Some([known("lower", lower), known("upper", upper)])
    }

    /// The greatest size of the table, mm.
    pub(crate) fn largest(&self) -> f64 {
        self.range.iter().map(|range| range.to).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Facts;

    /// Clearance, most and least, in micrometres.
    fn clearance(fit: &str, size: f64) -> [f64; 2] {
        let facts = Facts::load().unwrap();
        let fit = Fit::of(fit).unwrap();
        let hole = facts.deviations(fit.hole, size).unwrap().map(|known| known.value);
        let shaft = facts.deviations(fit.shaft, size).unwrap().map(|known| known.value);
        [hole[1] - shaft[0], hole[0] - shaft[1]].map(|mm| (mm * 1e6).round() / 1e3)
    }

    /// ISO 286-1, clearances computed from the published tables.
    #[test]
    fn fits_of_the_published_tables() {
        let all = [
            ("H7/js6", 24.0, [27.5, -6.5]),
            ("H7/k6", 24.0, [19.0, -15.0]),
            ("H7/m6", 24.0, [13.0, -21.0]),
            ("H7/p6", 24.0, [-1.0, -35.0]),
            ("H7/js6", 40.0, [33.0, -8.0]),
            ("H7/k6", 40.0, [23.0, -18.0]),
            ("H7/m6", 40.0, [16.0, -25.0]),
            ("H7/p6", 40.0, [-1.0, -42.0]),
            // Widely printed: H7/g6 at 25 mm clears 7 to 41 um, H7/h6 0 to 34 (from memory).
            ("H7/g6", 25.0, [41.0, 7.0]),
            ("H7/h6", 25.0, [34.0, 0.0]),
        ];
        for (fit, size, expected) in all {
            assert_eq!(clearance(fit, size), expected, "{fit} at {size}");
        }
    }

    #[test]
    fn ranges_include_their_upper_end_and_g_mirrors() {
        assert_eq!(clearance("H7/h6", 18.0), [29.0, 0.0]);
        assert_eq!(clearance("H7/h6", 18.001), [34.0, 0.0]);
        assert_eq!(clearance("G7/h6", 25.0), clearance("H7/g6", 25.0).map(|um| um));
        let facts = Facts::load().unwrap();
        let zone = Fit::of("H7/k6").unwrap().hole;
        assert!(facts.deviations(zone, 180.0).is_some() && facts.deviations(zone, 180.1).is_none());
    }

    #[test]
    fn what_is_no_fit_of_the_table_is_refused() {
        for bad in [
            "H7", "h7/k6", "H7/K6", "H/k", "H7/k6/m6", "H700/k6", "7H/k6", "", "/", "Ä7/k6", "H9/k6", "F7/h6",
        ] {
            assert!(Fit::of(bad).is_err(), "{bad}");
        }
        for good in ["H7/k6", "JS7/js6", "G6/h5", "H8/p8"] {
            assert!(Fit::of(good).is_ok(), "{good}");
        }
    }
}
