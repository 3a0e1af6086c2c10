//! What becomes of one check: ours beside the source's, and whether that is as the row says.

use super::expected::Ours;
use super::quantity::ask;
use super::row::Row;

/// How a check came out.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Ours agrees.
    Agrees,
    /// Ours differs, as the row says it does.
    DiffersAsKnown,
    /// Ours differs, and nobody has said why.
    Off,
    /// The row says that ours differs, and it agrees.
    AgreesAfterAll,
    /// The quantity could not be had.
    Failed(String),
}

/// A check and how it came out.
#[derive(Debug)]
pub struct Checked {
    /// The row.
    pub row: Row,
    /// Ours, where it could be had.
    pub ours: Option<Ours>,
    /// The entries of the coverage that the check speaks for.
    pub covers: Vec<String>,
    /// How it came out.
    pub verdict: Verdict,
}

impl Checked {
    /// Runs a check.
    pub fn of(row: Row) -> Self {
        match ask(&row) {
            Err(message) => Self { row, ours: None, covers: Vec::new(), verdict: Verdict::Failed(message) },
            Ok(answer) => {
                let verdict = match (row.expected.agrees(&answer.ours), &row.known_difference) {
                    (true, None) => Verdict::Agrees,
                    (false, Some(_)) => Verdict::DiffersAsKnown,
                    (false, None) => Verdict::Off,
                    (true, Some(_)) => Verdict::AgreesAfterAll,
                };
                Self { row, ours: Some(answer.ours), covers: answer.covers, verdict }
            }
        }
    }

    /// Ours as the page prints it.
    pub fn ours(&self) -> String {
        self.ours.as_ref().map_or_else(String::new, ToString::to_string)
    }

    /// Ours less the source's.
    pub fn difference(&self) -> String {
        self.ours.as_ref().map_or_else(String::new, |ours| self.row.expected.difference(ours))
    }

    /// What is wrong, if anything is.
    pub fn fault(&self) -> Option<String> {
        let (id, printed, ours) = (&self.row.id, &self.row.printed, self.ours());
        match &self.verdict {
            Verdict::Agrees | Verdict::DiffersAsKnown => None,
            Verdict::Off => {
                Some(format!("check `{id}`: expected {printed}, ours {ours} ({})", self.row.cite()))
            }
            Verdict::AgreesAfterAll => Some(format!(
                "check `{id}` is marked as a known difference, and ours ({ours}) agrees with {printed}: take the mark out"
            )),
            Verdict::Failed(message) => Some(format!("check `{id}`: {message}")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::expected::Expected;
    use super::super::row::{Basis, Source};
    use super::*;

    fn check(quantity: &str, expected: &str, known_difference: Option<&str>) -> Verdict {
        let row = Row {
            id: "i".to_owned(),
            subject: "s".to_owned(),
            what: "w".to_owned(),
            quantity: quantity.to_owned(),
            given: "a = 0.075\nt = 3.2".parse().unwrap(),
            printed: expected.to_owned(),
            expected: Expected::read(expected),
            divide_by: None,
            known_difference: known_difference.map(str::to_owned),
            again: None,
            source: Source { basis: Basis::CommonPractice, author: None, title: None, edition: None },
            place: None,
        };
        let checked = Checked::of(row);
        let wrong = !matches!(checked.verdict, Verdict::Agrees | Verdict::DiffersAsKnown);
        assert_eq!(checked.fault().is_some(), wrong);
        checked.verdict
    }

    #[test]
    fn a_check_that_is_off_fails_and_so_does_a_difference_that_is_gone() {
        let rule = "rule.cut.CLEARANCE_SHARE";
        assert_eq!(check(rule, "0.24", None), Verdict::Agrees);
        assert_eq!(check(rule, "0.25", None), Verdict::Off);
        assert_eq!(check(rule, "0.25", Some("rounded up")), Verdict::DiffersAsKnown);
        assert_eq!(check(rule, "0.24", Some("rounded up")), Verdict::AgreesAfterAll);
        assert!(matches!(check("rule.cut.NO_SUCH", "0.24", None), Verdict::Failed(_)));
        assert!(matches!(check("attic.dust", "0.24", None), Verdict::Failed(_)));
        assert!(matches!(check("rule.force.CUTTING", "0.24", None), Verdict::Failed(_)));
    }
}
