//! The length units that `$INSUNITS` can state.

/// A unit of length as a drawing states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InsUnits {
    code: i64,
    name: &'static str,
    mm: f64,
}

const INCH: f64 = 25.4;
const FOOT: f64 = 12.0 * INCH;
/// The US survey foot is 1200/3937 m.
const SURVEY_FOOT: f64 = 1_200_000.0 / 3937.0;
const KILOMETRE: f64 = 1e6;
const ASTRONOMICAL_UNIT: f64 = 149_597_870_700e3;
const LIGHT_YEAR: f64 = 9.460_730_472_580_8e18;
const PARSEC: f64 = 3.085_677_581_491_367e19;

/// Code, name and millimetres of each unit, from the DXF reference's list of `$INSUNITS` values (from memory).
const UNITS: &[(i64, &str, f64)] = &[
    (1, "inches", INCH),
    (2, "feet", FOOT),
    (3, "miles", 5280.0 * FOOT),
    (4, "millimetres", 1.0),
    (5, "centimetres", 10.0),
    (6, "metres", 1000.0),
    (7, "kilometres", KILOMETRE),
    (8, "microinches", INCH / 1e6),
    (9, "mils", INCH / 1e3),
    (10, "yards", 3.0 * FOOT),
    (11, "angstroms", 1e-7),
    (12, "nanometres", 1e-6),
    (13, "microns", 1e-3),
    (14, "decimetres", 100.0),
    (15, "decametres", 1e4),
    (16, "hectometres", 1e5),
    (17, "gigametres", 1e12),
    (18, "astronomical units", ASTRONOMICAL_UNIT),
    (19, "light years", LIGHT_YEAR),
    (20, "parsecs", PARSEC),
    (21, "US survey feet", SURVEY_FOOT),
    (22, "US survey inches", SURVEY_FOOT / 12.0),
    (23, "US survey yards", SURVEY_FOOT * 3.0),
    (24, "US survey miles", SURVEY_FOOT * 5280.0),
];

impl InsUnits {
    /// Millimetres: code 4.
    pub const MM: InsUnits = InsUnits { code: 4, name: "millimetres", mm: 1.0 };
    /// Inches: code 1.
    pub const INCH: InsUnits = InsUnits { code: 1, name: "inches", mm: INCH };

    /// The unit that a code stands for; none for 0 and for codes that stand for nothing.
    pub fn of_code(code: i64) -> Option<InsUnits> {
        let (code, name, mm) = *UNITS.iter().find(|unit| unit.0 == code)?;
        Some(InsUnits { code, name, mm })
    }

    /// Its code in `$INSUNITS`.
    pub fn code(self) -> i64 {
        self.code
    }

    /// Its name, in the plural.
    pub fn name(self) -> &'static str {
        self.name
    }

    /// Millimetres in one unit.
    pub fn in_mm(self) -> f64 {
        self.mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn named_units_are_those_of_the_table() {
        assert_eq!(InsUnits::of_code(4), Some(InsUnits::MM));
        assert_eq!(InsUnits::of_code(1), Some(InsUnits::INCH));
        assert_eq!(InsUnits::of_code(0), None);
        assert_eq!(InsUnits::of_code(25), None);
    }

    #[test]
    fn a_survey_mile_is_longer_than_a_mile_by_two_parts_in_a_million() {
        let mm = |code| InsUnits::of_code(code).unwrap().in_mm();
        let share = mm(24) / mm(3) - 1.0;
        assert!((share - 2e-6).abs() < 1e-8, "{share}");
    }
}
