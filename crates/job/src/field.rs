//! The fields of a file: key, meaning, what is wanted and within which limits. Reader, schema and writer share them.

/// One key of a table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Field {
    /// The key.
    pub key: &'static str,
    /// What it is, for the schema and for comments.
    pub about: &'static str,
    /// What kind of value is wanted.
    pub want: Want,
    /// Whether leaving it out is a fault.
    pub required: bool,
}

/// What kind of value a field wants.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Want {
    /// Text that is not empty and holds no control characters.
    Text,
    /// Text of letters, digits, '-' and '_'.
    Id,
    /// One word of a closed list.
    Word(&'static [&'static str]),
    /// A length: a bare number in the file's unit, or text with a unit. Limits in mm.
    Length(Limits),
    /// A bare number, with the unit it is in ("" for a share or a factor).
    Number(Limits, &'static str),
    /// A whole number.
    Whole(u32, u32),
    /// A list of lengths, with how many at least and at most.
    Lengths(Limits, usize, usize),
    /// A list of pairs: a length, and a number with its unit.
    Pairs(Limits, Limits, &'static str),
    /// The word `centred`, or a point as two lengths.
    Spot(Limits),
    /// A table.
    Table(&'static [Field]),
    /// A list of tables.
    Rows(&'static [Field]),
}

/// The least and the greatest value that make sense, both allowed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limits {
    pub least: f64,
    pub most: f64,
}

/// Sizes of things that exist: a thousandth of a millimetre to a metre, in mm.
pub(crate) const SIZE: Limits = limits(0.001, 1000.0);

/// Allowances, which may be nothing, in mm.
pub(crate) const ALLOWANCE: Limits = limits(0.0, 10.0);

pub(crate) const fn limits(least: f64, most: f64) -> Limits {
    Limits { least, most }
}

impl Limits {
    pub fn hold(self, value: f64) -> bool {
        self.least <= value && value <= self.most
    }
}

impl Field {
    /// A field that may be left out.
    pub const fn new(key: &'static str, want: Want, about: &'static str) -> Self {
        Self { key, about, want, required: false }
    }

    /// A field that must be there.
    pub const fn required(key: &'static str, want: Want, about: &'static str) -> Self {
        Self { key, about, want, required: true }
    }
}

impl Want {
    /// What is wanted, in words that end "it wants ...".
    pub fn words(self) -> String {
        match self {
            Want::Text => "text in quotes".to_owned(),
            Want::Id => "text in quotes: letters, digits, '-' and '_'".to_owned(),
            Want::Word(words) => format!("one of {}", quoted(words)),
            Want::Length(_) => {
                "a length: a number, or text with a unit such as \"0.3 mm\" or \"0.012 in\"".to_owned()
            }
            Want::Number(_, "") => "a number".to_owned(),
            Want::Number(_, unit) => format!("a number, in {unit}"),
            Want::Whole(..) => "a whole number".to_owned(),
            Want::Lengths(_, least, most) if least == most => format!("a list of {least} lengths"),
            Want::Lengths(..) => "a list of lengths".to_owned(),
            Want::Pairs(_, _, "") => "a list of pairs [length, number]".to_owned(),
            Want::Pairs(_, _, unit) => format!("a list of pairs [length, {unit}]"),
            Want::Spot(_) => "\"centred\" or a point [x, y]".to_owned(),
            Want::Table(_) => "a table".to_owned(),
            Want::Rows(_) => "a list of tables".to_owned(),
        }
    }
}

/// Words in double quotes, with commas and a last "or".
pub(crate) fn quoted(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => format!("\"{only}\""),
        [most @ .., last] => {
            let most: Vec<String> = most.iter().map(|word| format!("\"{word}\"")).collect();
            format!("{} or \"{last}\"", most.join(", "))
        }
    }
}
