//! Holds each rule's formula text against its function at random points, by a small reader of formulas.

use crate::rule::Rule;
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

fn check<const N: usize>(rule: &Rule<N>) {
    let mut runner = TestRunner::new(Config::with_cases(200));
    let numbers = proptest::collection::vec(0.01..3.0f64, N);
    let run = runner.run(&numbers, |numbers| {
        let values: [f64; N] = numbers.try_into().unwrap();
        let of = |letter: &str| rule.inputs.iter().position(|input| *input == letter).map(|i| values[i]);
        let mut reader = Reader { rest: rule.formula, value: &of };
        let (text, function) = (reader.sum(), (rule.of)(values));
        assert!(reader.rest.trim().is_empty(), "`{}` is left of `{}`", reader.rest, rule.formula);
        // Offsets are rounded to a picometre.
        assert!((text - function).abs() <= 2e-9 + 1e-12 * text.abs(), "{}: {text} {function}", rule.formula);
        Ok(())
    });
    run.unwrap();
}

#[test]
fn every_formula_says_what_its_function_does() {
    use super::{alignment, burning, cavity, core, cut, force, hole, punch, size, stroke, time, web, wire};
    check(&alignment::ALLOWED);
    check(&alignment::SQUARENESS);
    check(&alignment::PLAY);
    check(&alignment::WORST);
    check(&alignment::ROOT);
    check(&cavity::LIMIT);
    check(&cavity::CLEARANCE);
    check(&cavity::GROUND_TO);
    check(&cavity::PRESS_FORCE);
    check(&core::WEDGES_FROM);
    check(&core::TAB_WIDTH);
    check(&core::TAB_WAY);
    check(&core::TAB_MINUTES);
    check(&web::WEB);
    check(&web::WALL);
    check(&cut::CLEARANCE_SHARE);
    check(&cut::CLEARANCE_ROOT);
    check(&force::SHEAR_FROM_TENSILE);
    check(&force::CUTTING);
    check(&force::ACROSS);
    check(&force::STRIPPING_BY_SIZE);
    check(&force::STRIPPING);
    check(&force::STRIPPING_BY_AREA);
    check(&force::SLUGS);
    check(&force::PUSH_THROUGH);
    check(&force::CUTTING_WORK);
    check(&force::PUSH_WORK);
    check(&force::WORK);
    check(&force::TOGETHER);
    check(&force::WORK_TOGETHER);
    check(&force::RATING);
    check(&force::NEEDED_WITH_SPRINGS);
    check(&force::NEEDED_WITH_PLATE);
    check(&force::SHARE_OF_RATING);
    check(&force::RESERVE);
    check(&hole::ENTRY);
    check(&hole::EXIT);
    check(&hole::DRIFT);
    check(&hole::TAKES_AT_FACE);
    check(&hole::TAKES_BELOW_BELLMOUTH);
    check(&hole::RECAST_AND_STOCK);
    check(&hole::TAKES_AT_BOTTOM);
    check(&hole::TAKES);
    check(&hole::SIGMA_POSITION);
    check(&hole::SIGMA_SIZE);
    check(&hole::CHANCE);
    check(&hole::ROOM);
    check(&hole::ROOM_LINEAR);
    check(&hole::NEED);
    check(&hole::LARGEST);
    check(&hole::THREADING);
    check(&hole::SHORT);
    check(&hole::MAY_LIE);
    check(&burning::FLOOR);
    check(&burning::STAND_OFF_BORED);
    check(&burning::BREAK_THROUGH);
    check(&burning::BURN_DEPTH);
    check(&burning::WEAR);
    check(&burning::ELECTRODE_NEED);
    check(&burning::TRAVEL);
    check(&burning::PROGRAM_MINUTES);
    check(&burning::ATTENDED_MINUTES);
    check(&burning::LIGHT);
    check(&burning::TAKES_MEASURED);
    check(&burning::MEASURED_RADIUS);
    check(&burning::SIGMA_MEASURED);
    check(&burning::IN_BORE);
    check(&wire::SKIM_GAP);
    check(&wire::UNUSED_STOCK);
    check(&wire::OFFSET);
    check(&wire::STOCK);
    check(&wire::CORE_MASS);
    check(&size::PIERCE_SHIFT);
    check(&size::BLANK_SHIFT);
    check(&size::GROWTH);
    check(&size::PIERCED_CORNER);
    check(&punch::OUTSIDE_CORNER);
    check(&punch::OPENING_CORNER);
    check(&punch::LOAD);
    check(&punch::STRESS);
    check(&punch::STRESS_LIMIT);
    check(&punch::SLENDERNESS);
    check(&punch::TRANSITION);
    check(&punch::EULER);
    check(&punch::JOHNSON);
    check(&punch::RESERVE);
    check(&punch::LONGEST_BY_EULER);
    check(&punch::LONGEST_BY_JOHNSON);
    check(&punch::WIDTH_BY_METAL);
    check(&punch::ACROSS_BY_STRESS);
    check(&punch::HEAD_AREA);
    check(&punch::HEAD_PRESSURE);
    check(&stroke::CUTS_FOR);
    check(&stroke::SHEARED);
    check(&time::MAIN_FEED);
    check(&time::SKIM_FEED);
    check(&time::PASS_MINUTES);
    check(&time::BURN_MINUTES);
    check(&time::PHASE_MINUTES);
}
