//! One way to say what is wrong: how grave, which rule, where, what was found, and what would cure it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How grave a remark is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// The thing remarked on cannot be used.
    Error,
    /// It can be used, and somebody should look at it first.
    Warning,
    /// Worth knowing.
    Note,
}

/// Where a remark points: a place in a file, a point in the plane, or both. Only what applies is filled in.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Place {
    /// File as the user named it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Line, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<u32>,
    /// Column in characters, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub column: Option<u32>,
    /// x of the point, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub x_mm: Option<f64>,
    /// y of the point, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub y_mm: Option<f64>,
}

impl Place {
    /// A whole file.
    pub fn file(file: impl Into<String>) -> Self {
        Self { file: Some(file.into()), ..Self::default() }
    }

    /// The same place, at a line (from 1).
    pub fn line(mut self, line: u32) -> Self {
        self.line = Some(line);
        self
    }

    /// The same place, at a column in characters (from 1).
    pub fn column(mut self, column: u32) -> Self {
        self.column = Some(column);
        self
    }

    /// The same place, at a point in mm.
    pub fn at(mut self, x_mm: f64, y_mm: f64) -> Self {
        self.x_mm = Some(x_mm);
        self.y_mm = Some(y_mm);
        self
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut apart = "";
        if let Some(file) = &self.file {
            write!(f, "{file}")?;
            apart = ", ";
        }
        if let Some(line) = self.line {
            write!(f, "{apart}line {line}")?;
            apart = ", ";
        }
        if let Some(column) = self.column {
            write!(f, "{apart}column {column}")?;
            apart = ", ";
        }
        if let (Some(x), Some(y)) = (self.x_mm, self.y_mm) {
            write!(f, "{apart}at x {x:.4} y {y:.4}")?;
        }
        Ok(())
    }
}

/// One thing that a person should know.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Remark {
    /// How grave it is.
    pub severity: Severity,
    /// Which rule it is about: lower-case words joined by hyphens, never changed once published.
    pub code: String,
    /// Where.
    #[serde(default)]
    pub place: Place,
    /// What was found and which rule it breaks, in a sentence.
    pub message: String,
    /// What would cure it, each a phrase that can be acted on.
    #[serde(default)]
    pub cures: Vec<String>,
}

impl Remark {
    /// An error: the thing cannot be used.
    pub fn error(code: &str, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, code, message.into())
    }

    /// A warning: look before use.
    pub fn warning(code: &str, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, code, message.into())
    }

    /// A note: worth knowing.
    pub fn note(code: &str, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, code, message.into())
    }

    fn new(severity: Severity, code: &str, message: String) -> Self {
        Self { severity, code: code.to_owned(), place: Place::default(), message, cures: Vec::new() }
    }

    /// The same remark, pointing somewhere.
    pub fn place(mut self, place: Place) -> Self {
        self.place = place;
        self
    }

    /// The same remark with one more cure.
    pub fn cure(mut self, cure: impl Into<String>) -> Self {
        self.cures.push(cure.into());
        self
    }

    /// Whether it is an error.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn place_reads_as_a_phrase() {
        let place = Place::file("a.dxf").line(12).at(1.0, -0.5);
        assert_eq!(place.to_string(), "a.dxf, line 12, at x 1.0000 y -0.5000");
        assert_eq!(Place::default().to_string(), "");
    }
}
