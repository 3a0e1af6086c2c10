//! Holds each rule's formula text against its function at random points, by a small reader of formulas.

use super::book::{ListedRule, rulebook};
use proptest::test_runner::{Config, TestRunner};

/// A reader of `+ - * / ^`, parentheses, `min max sqrt ceil`, numbers, `pi` and the rule's letters.
struct Reader<'a> {
    rest: &'a str,
    value: &'a dyn Fn(&str) -> Option<f64>,
}

impl Reader<'_> {
    fn sum(&mut self) -> f64 {
        let mut sum = self.product();
        loop {
            match self.take("+-") {
                Some('+') => sum += self.product(),
                Some(_) => sum -= self.product(),
                None => return sum,
            }
        }
    }

    fn product(&mut self) -> f64 {
        let mut product = self.power();
        loop {
            match self.take("*/") {
                Some('*') => product *= self.power(),
                Some(_) => product /= self.power(),
                None => return product,
            }
        }
    }

    fn power(&mut self) -> f64 {
        let base = self.atom();
        match self.take("^") {
            Some(_) => base.powf(self.atom()),
            None => base,
        }
    }

    fn atom(&mut self) -> f64 {
        if self.take("(").is_some() {
            let inside = self.sum();
            assert_eq!(self.take(")"), Some(')'), "a parenthesis stays open before `{}`", self.rest);
            return inside;
        }
        let word = self.word();
        match (word.as_str(), self.rest.trim_start().starts_with('(')) {
            ("sqrt", true) => self.arguments()[0].sqrt(),
            ("ceil", true) => self.arguments()[0].ceil(),
            ("min", true) => self.arguments().into_iter().fold(f64::INFINITY, f64::min),
            ("max", true) => self.arguments().into_iter().fold(f64::NEG_INFINITY, f64::max),
            ("pi", false) => std::f64::consts::PI,
            (word, _) => (self.value)(word)
                .or_else(|| word.parse().ok())
                .unwrap_or_else(|| panic!("`{word}` is neither an input nor a number")),
        }
    }

    fn arguments(&mut self) -> Vec<f64> {
        assert_eq!(self.take("("), Some('('));
        let mut found = vec![self.sum()];
        while self.take(",").is_some() {
            found.push(self.sum());
        }
        assert_eq!(self.take(")"), Some(')'));
        found
    }

    fn word(&mut self) -> String {
        let rest = self.rest.trim_start();
        let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_' && c != '.').unwrap_or(rest.len());
        let (word, rest) = rest.split_at(end);
        self.rest = rest;
        word.to_owned()
    }

    fn take(&mut self, among: &str) -> Option<char> {
        let rest = self.rest.trim_start();
        let found = rest.chars().next().filter(|c| among.contains(*c))?;
        self.rest = &rest[found.len_utf8()..];
        Some(found)
    }
}

fn check(rule: &ListedRule) {
    let mut runner = TestRunner::new(Config::with_cases(200));
    let numbers = proptest::collection::vec(0.01..3.0f64, rule.inputs.len());
    let run = runner.run(&numbers, |values| {
        let of = |letter: &str| rule.inputs.iter().position(|input| *input == letter).map(|i| values[i]);
        let mut reader = Reader { rest: rule.formula, value: &of };
        let (text, function) = (reader.sum(), rule.of(&values).unwrap());
        assert!(reader.rest.trim().is_empty(), "`{}` is left of `{}`", reader.rest, rule.formula);
        // Offsets are rounded to a picometre.
        assert!((text - function).abs() <= 2e-9 + 1e-12 * text.abs(), "{}: {text} {function}", rule.formula);
        Ok(())
    });
    run.unwrap();
}

#[test]
fn every_formula_says_what_its_function_does() {
    rulebook().iter().for_each(check);
}
