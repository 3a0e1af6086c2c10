//! Where each number of a plan came from: one line a number.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The derivation of one number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Line {
    /// The number's own path by ids, as in `vane.slot.start.room_mm`; lists by position from 0. Inputs start with
    /// `job:`, `shop:` or `fact:`.
    pub key: String,
    /// What it is, in words.
    pub meaning: String,
    /// The letter that formulas use for it.
    pub symbol: String,
    /// The number itself.
    pub value: f64,
    /// Its unit; empty for a bare number.
    pub unit: String,
    /// What kind of origin it has.
    pub origin: Origin,
    /// The formula, method or reason, in words or symbols; null for an input.
    pub formula: Option<String>,
    /// The numbers it was computed from.
    pub inputs: Vec<Input>,
    /// Who says so.
    pub source: Source,
    /// Where the formula holds, in words; null where it always does.
    pub range: Option<String>,
}

/// What kind of origin a number has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Origin {
    /// It stands in a file that the user gave, or in the built-in shop.
    Given,
    /// It stands in the facts.
    Fact,
    /// A rule gave it.
    Rule,
    /// It was measured on the geometry, with a method and a bound.
    Measured,
    /// It was chosen among several, for a reason.
    Chosen,
}

/// One input of a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Input {
    /// The symbol by which the formula calls it.
    pub name: String,
    /// Key of its line.
    pub key: String,
}

/// Who stands behind a number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Source {
    /// What kind of authority.
    pub basis: Basis,
    /// Author, title, edition and place; or the place in a file.
    pub cite: String,
}

/// Kinds of authority, from strong to weak.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Basis {
    /// A published standard.
    Standard,
    /// A handbook or textbook.
    Handbook,
    /// A paper.
    Paper,
    /// A rule of the trade without a published source.
    #[serde(rename = "common practice")]
    CommonPractice,
    /// From memory; nobody here has seen it printed.
    Memory,
    /// The shop's own records, or the user's own file.
    #[serde(rename = "shop log")]
    ShopLog,
    /// A value to start with until the shop has its own.
    #[serde(rename = "starting value")]
    StartingValue,
    /// Derived here.
    #[serde(rename = "own derivation")]
    OwnDerivation,
}
