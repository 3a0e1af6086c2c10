//! How the forces of a stroke are reckoned, where the job says so.

use crate::field::{Field, Want, limits};
use crate::known::{From, Known};
use crate::reader::{Part, Reader, place_of};

/// What a job says about the forces of its die.
#[derive(Debug, Clone, PartialEq)]
pub struct Forces {
    /// How the sheet is stripped off the punches.
    pub stripper: Known<Stripper>,
    /// Stripping force as a share of the cutting force.
    pub stripping: Option<Known<f64>>,
    /// Name of a stripping rule, one that the facts hold; none: by size.
    pub stripping_rule: Option<Known<String>>,
    /// Pushing one slug through the land, as a share of the cutting force; none: by the table of the facts.
    pub push_through: Option<Known<f64>>,
    /// How deep the punch goes before the slug breaks out, as a share of the thickness; none: the metal's.
    pub penetration: Option<Known<f64>>,
    /// Force that spreads an opening as a share of its cutting force; none: that of the facts.
    pub spreading: Option<Known<f64>>,
}

/// How the sheet is stripped off the punches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stripper {
    /// Springs, which the press loads on its way down.
    Spring,
    /// A fixed plate: the press pulls the sheet off on its way up.
    Fixed,
}

const STRIPPERS: &[&str] = &["spring", "fixed"];
const SHARE: Want = Want::Number(limits(0.0, 1.0), "");

const STRIPPER: Field = Field::new(
    "stripper",
    Want::Word(STRIPPERS),
    "spring: the press loads the stripper's springs on its way down; fixed: it pulls the sheet off on its way up; left out: spring",
);
const STRIPPING: Field =
    Field::new("stripping", SHARE, "stripping force as a share of the cutting force: 10 % is 0.1");
const STRIPPING_RULE: Field = Field::new(
    "stripping_rule",
    Want::Text,
    "name of the rule that gives the stripping force; left out: by-size",
);
const PUSH_THROUGH: Field = Field::new(
    "push_through",
    SHARE,
    "force that pushes one slug through the land as a share of the cutting force; left out: from the facts",
);
const PENETRATION: Field = Field::new(
    "penetration",
    Want::Number(limits(0.01, 1.0), ""),
    "how deep the punch goes before the slug breaks out as a share of the thickness; left out: the metal's, else a half",
);

const SPREADING: Field = Field::new(
    "spreading",
    SHARE,
    "force that spreads an opening, square to its edge, as a share of the cutting force; left out: 0.3",
);

pub(crate) const FIELDS: &[Field] =
    &[STRIPPER, STRIPPING, STRIPPING_RULE, PUSH_THROUGH, PENETRATION, SPREADING];

impl Default for Forces {
    fn default() -> Self {
        let from = From::Default { why: "left out of the job: springs, which add to the load of the press" };
        Self {
            stripper: Known { value: Stripper::Spring, from },
            stripping: None,
            stripping_rule: None,
            push_through: None,
            penetration: None,
            spreading: None,
        }
    }
}

/// Reads the table.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Forces {
    let stripper = reader
        .text(part, &STRIPPER)
        .map(|word| word.map(|word| if word == "fixed" { Stripper::Fixed } else { Stripper::Spring }));
    let stripping = reader.number(part, &STRIPPING);
    let stripping_rule = reader.text(part, &STRIPPING_RULE);
    if let (Some(_), Some(rule)) = (&stripping, &stripping_rule) {
        let message = "`stripping` and `stripping_rule` are both given; only one can hold".to_owned();
        reader.fault("stripping-twice", place_of(&rule.from), message, "leave one of them out");
    }
    Forces {
        stripper: stripper.unwrap_or(Forces::default().stripper),
        stripping,
        stripping_rule,
        push_through: reader.number(part, &PUSH_THROUGH),
        penetration: reader.number(part, &PENETRATION),
        spreading: reader.number(part, &SPREADING),
    }
}
