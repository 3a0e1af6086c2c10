//! The reckoning of one section: an append-only list of derivations, one line a number.
//!
//! Search for the best way tries hundreds of combinations; only the one that is kept should be written down.
//! A silent reckoning runs the same derivations and writes nothing.

use crate::figure::Figure;
use crate::rule::{OutOfRange, Rule};
use job::{From, Known};
use package::{Basis, Input, Line, Origin, Source};
use std::collections::HashMap;

/// Line number of figures that nobody writes down.
const SILENT: u32 = u32::MAX;

/// An append-only list of derivations.
#[derive(Debug)]
pub struct Reckoning {
    lines: Vec<Line>,
    by_key: HashMap<String, u32>,
    silent: bool,
}

/// What a number is called: its key in two parts, joined only when it is written down.
#[derive(Debug, Clone, Copy)]
pub struct At<'a>(pub &'a str, pub &'a str);

/// What an input or a measured number is.
#[derive(Debug, Clone, Copy)]
pub struct What {
    /// In words.
    pub meaning: &'static str,
    /// Its letter.
    pub symbol: &'static str,
    /// Its unit.
    pub unit: &'static str,
}

/// Names an input or a measured number.
pub const fn what(meaning: &'static str, symbol: &'static str, unit: &'static str) -> What {
    What { meaning, symbol, unit }
}

impl Reckoning {
    /// A reckoning that writes.
    pub fn new() -> Self {
        Self { lines: Vec::new(), by_key: HashMap::new(), silent: false }
    }

    /// A reckoning that goes on behind these lines.
    pub fn behind(lines: Vec<Line>) -> Self {
        let by_key = lines.iter().enumerate().map(|(i, line)| (line.key.clone(), i as u32)).collect();
        Self { lines, by_key, silent: false }
    }

    /// The figure that stands under a key.
    pub fn figure(&self, key: &str) -> Option<Figure> {
        let line = *self.by_key.get(key)?;
        Some(Figure { value: self.lines.get(line as usize)?.value, line })
    }

    /// A reckoning that runs the same derivations and writes nothing.
    pub fn silent() -> Self {
        Self { silent: true, ..Self::new() }
    }

    /// The lines so far.
    pub fn into_lines(self) -> Vec<Line> {
        self.lines
    }

    /// A number that stands in a file or in the facts. Asked twice for one key, it gives the same figure.
    pub fn known(&mut self, at: At, what: What, known: &Known<f64>) -> Figure {
        self.put(at, known.value, |line| {
            describe(line, what);
            (line.origin, line.source, line.formula) = origin_of(&known.from);
        })
    }

    /// A number that was measured: `method` says how and within which bound.
    pub fn measured(
        &mut self,
        at: At,
        what: What,
        value: f64,
        method: &str,
        inputs: &[(&str, Figure)],
    ) -> Figure {
        let inputs = self.inputs(inputs);
        self.put(at, value, |line| {
            describe(line, what);
            line.origin = Origin::Measured;
            line.formula = Some(method.to_owned());
            line.inputs = inputs;
        })
    }

    /// A number that was chosen: `why` says why, and what was rejected.
    pub fn chosen(&mut self, at: At, what: What, value: f64, why: &str, inputs: &[(&str, Figure)]) -> Figure {
        let inputs = self.inputs(inputs);
        self.put(at, value, |line| {
            describe(line, what);
            line.origin = Origin::Chosen;
            line.formula = Some(why.to_owned());
            line.inputs = inputs;
        })
    }

    /// Applies a rule: the only way to derive one number from others.
    pub fn apply<const N: usize>(
        &mut self,
        at: At,
        rule: &Rule<N>,
        figures: [Figure; N],
    ) -> Result<Figure, OutOfRange> {
        let numbers = figures.map(|figure| figure.value);
        if let Some(range) = &rule.range
            && !(range.holds)(numbers)
        {
            return Err(OutOfRange { meaning: rule.meaning, range: range.text });
        }
        Ok(self.derive(at, rule, figures, (rule.of)(numbers)))
    }

    /// Applies a rule that holds everywhere.
    pub fn rule<const N: usize>(&mut self, at: At, rule: &Rule<N>, figures: [Figure; N]) -> Figure {
        debug_assert!(rule.range.is_none(), "a rule with a range goes through apply");
        let value = (rule.of)(figures.map(|figure| figure.value));
        self.derive(at, rule, figures, value)
    }

    fn derive<const N: usize>(&mut self, at: At, rule: &Rule<N>, figures: [Figure; N], value: f64) -> Figure {
        if self.silent {
            return Figure { value, line: SILENT };
        }
        let named: Vec<_> = rule.inputs.into_iter().zip(figures).collect();
        let inputs = self.inputs(&named);
        self.put(at, value, |line| {
            describe(line, What { meaning: rule.meaning, symbol: rule.symbol, unit: rule.unit });
            line.origin = Origin::Rule;
            line.formula = Some(rule.formula.to_owned());
            line.inputs = inputs;
            line.source = Source { basis: rule.basis, cite: rule.cite.to_owned() };
            line.range = rule.range.as_ref().map(|range| range.text.to_owned());
        })
    }

    fn inputs(&self, figures: &[(&str, Figure)]) -> Vec<Input> {
        figures
            .iter()
            .filter_map(|(name, figure)| {
                let line = self.lines.get(figure.line as usize)?;
                Some(Input { name: (*name).to_owned(), key: line.key.clone() })
            })
            .collect()
    }

    /// A sum over what was said under these keys, each as an input of its own.
    pub fn sum(&mut self, at: At, what: What, value: f64, method: &str, keys: &[String]) -> Figure {
        let names: Vec<String> = (1..=keys.len()).map(|i| format!("{}_{i}", what.symbol)).collect();
        let said: Vec<(&str, Figure)> = names
            .iter()
            .zip(keys)
            .filter_map(|(name, key)| Some((name.as_str(), self.figure(key)?)))
            .collect();
        self.measured(at, what, value, method, &said)
    }

    fn put(&mut self, at: At, value: f64, fill: impl FnOnce(&mut Line)) -> Figure {
        if self.silent {
            return Figure { value, line: SILENT };
        }
        let key = format!("{}{}", at.0, at.1);
        if let Some(&line) = self.by_key.get(&key) {
            return Figure { value: self.lines[line as usize].value, line };
        }
        let number = self.lines.len() as u32;
        let mut line = blank(key.clone(), value);
        fill(&mut line);
        self.lines.push(line);
        self.by_key.insert(key, number);
        Figure { value, line: number }
    }
}

impl Default for Reckoning {
    fn default() -> Self {
        Self::new()
    }
}

fn blank(key: String, value: f64) -> Line {
    Line {
        key,
        meaning: String::new(),
        symbol: String::new(),
        value,
        unit: String::new(),
        origin: Origin::Measured,
        formula: None,
        inputs: Vec::new(),
        source: Source { basis: Basis::OwnDerivation, cite: "this program".to_owned() },
        range: None,
    }
}

fn describe(line: &mut Line, what: What) {
    line.meaning = what.meaning.to_owned();
    line.symbol = what.symbol.to_owned();
    line.unit = what.unit.to_owned();
}

/// Who stands behind a value that somebody wrote down.
fn origin_of(from: &From) -> (Origin, Source, Option<String>) {
    let source = |basis, cite: String| Source { basis, cite };
    match from {
        From::File { file, line, column, .. } => {
            let cite = format!("{file}, line {line}, column {column}");
            (Origin::Given, source(Basis::ShopLog, cite), None)
        }
        From::Starting { row, note } => {
            let cite = format!("built-in example shop, {row}: {note}");
            (Origin::Given, source(Basis::StartingValue, cite), None)
        }
        From::Nearest { diameter_mm, note } => {
            let cite = format!("built-in example shop, row of diameter {diameter_mm}: {note}");
            (Origin::Given, source(Basis::StartingValue, cite), None)
        }
        From::Default { why } => {
            (Origin::Given, source(Basis::CommonPractice, format!("left out: {why}")), None)
        }
        From::Fact { id, basis, cite } => {
            (Origin::Fact, source(basis_of(*basis), format!("{id}: {cite}")), None)
        }
    }
}

fn basis_of(basis: job::Basis) -> Basis {
    match basis {
        job::Basis::Standard => Basis::Standard,
        job::Basis::Handbook => Basis::Handbook,
        job::Basis::Paper => Basis::Paper,
        job::Basis::CommonPractice => Basis::CommonPractice,
        job::Basis::Memory => Basis::Memory,
        job::Basis::OwnDerivation => Basis::OwnDerivation,
    }
}
