//! A rule of the trade: a formula with a name, a source and a range, and nothing else.

use package::Basis;

/// A rule of `N` numbers. The text and the function say the same; a test holds them against each other.
#[derive(Debug)]
pub struct Rule<const N: usize> {
    /// What the result is, in words.
    pub meaning: &'static str,
    /// Letter of the result.
    pub symbol: &'static str,
    /// Unit of the result; empty for a bare number.
    pub unit: &'static str,
    /// The formula over `inputs`: + - * / ^, sqrt, ceil, min, max, pi.
    pub formula: &'static str,
    /// Letters of the inputs, in the order of the function's numbers.
    pub inputs: [&'static str; N],
    /// What kind of authority stands behind it.
    pub basis: Basis,
    /// Author, title, place; or why there is none.
    pub cite: &'static str,
    /// Where it holds; none when it always does.
    pub range: Option<Range<N>>,
    /// The computation.
    pub of: fn([f64; N]) -> f64,
}

/// Where a rule holds.
#[derive(Debug)]
pub struct Range<const N: usize> {
    /// In words.
    pub text: &'static str,
    /// Whether these inputs are inside.
    pub holds: fn([f64; N]) -> bool,
}

/// A rule was asked outside its range.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutOfRange {
    /// The result's meaning.
    pub meaning: &'static str,
    /// The range, in words.
    pub range: &'static str,
}
