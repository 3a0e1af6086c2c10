//! Millimetres and inches.

/// The unit of bare lengths in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres.
    Mm,
    /// Inches of exactly 25.4 mm.
    In,
}

impl Units {
    /// Millimetres in one of these.
    pub fn mm(self) -> f64 {
        match self {
            Units::Mm => 1.0,
            Units::In => 25.4,
        }
    }

    /// As written in files: `mm` or `in`.
    pub fn word(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::In => "in",
        }
    }

    pub(crate) const WORDS: &'static [&'static str] = &["mm", "in"];

    /// The unit that a file's word names; any word but `in` has been refused before or is `mm`.
    pub(crate) fn of_word(word: &str) -> Self {
        if word == "in" { Units::In } else { Units::Mm }
    }
}
