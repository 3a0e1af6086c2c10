//! A value together with where it came from.

/// A value and its origin. Lengths are always in mm, whatever the file was written in.
#[derive(Debug, Clone, PartialEq)]
pub struct Known<T> {
    /// The value.
    pub value: T,
    /// Where it came from.
    pub from: From,
}

impl<T> Known<T> {
    /// The same origin with another value computed from this one.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Known<U> {
        Known { value: change(self.value), from: self.from }
    }

    /// Whether it is a starting value of the built-in example shop, directly or through its nearest row.
    pub fn is_starting(&self) -> bool {
        matches!(self.from, From::Starting { .. } | From::Nearest { .. })
    }
}

/// Where a value came from.
#[derive(Debug, Clone, PartialEq)]
pub enum From {
    /// It stands in a file that the user gave.
    File {
        /// The file as it was named.
        file: String,
        /// Line, from 1.
        line: u32,
        /// Column in characters, from 1.
        column: u32,
        /// The value as it is written there.
        text: String,
    },
    /// It stands in the built-in example shop.
    Starting {
        /// Where in the built-in shop, as in `electrode 0.2, overcut`.
        row: String,
        /// Who stands behind it.
        note: String,
    },
    /// A row of a given list left it out, so it comes from the built-in row of the nearest diameter.
    Nearest {
        /// Diameter of that built-in row, mm.
        diameter_mm: f64,
        /// What was taken over, and how.
        note: String,
    },
    /// The job left it out and the interface says what then holds.
    Default {
        /// Why this value.
        why: &'static str,
    },
    /// It stands in the facts.
    Fact {
        /// Where in the facts, as in `metal.D2.density_g_cm3`.
        id: String,
        /// What kind of authority.
        basis: Basis,
        /// Author, title, edition and place.
        cite: String,
    },
}

/// Kinds of authority behind a fact, from strong to weak.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
pub enum Basis {
    /// A published standard.
    #[serde(rename = "standard")]
    Standard,
    /// A handbook or textbook.
    #[serde(rename = "handbook")]
    Handbook,
    /// A paper.
    #[serde(rename = "paper")]
    Paper,
    /// A rule of the trade without a published source.
    #[serde(rename = "common practice")]
    CommonPractice,
    /// From memory; nobody here has seen it printed.
    #[serde(rename = "memory")]
    Memory,
    /// Derived here.
    #[serde(rename = "own derivation")]
    OwnDerivation,
}
