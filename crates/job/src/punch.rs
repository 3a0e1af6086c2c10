//! The punch that passes through an opening, where the job asks for one: its length, how it is guided, its steel, its head.

use crate::edge::Cut;
use crate::field::{Field, SIZE, Want, limits};
use crate::known::Known;
use crate::reader::{Part, Reader, place_of};

/// A punch. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Punch {
    /// How long it stands out of its holder.
    pub length: Known<f64>,
    /// How its ends are held, one that the facts hold; none: free at the tip.
    pub guided: Option<Known<String>>,
    /// Name of its steel; none: the section's.
    pub steel: Option<Known<String>>,
    /// Its hardness, HRC; none: the section's.
    pub hardness_hrc: Option<Known<f64>>,
    /// What it bears on the backing with.
    pub head: Head,
}

/// What a punch bears on the backing with.
#[derive(Debug, Clone, PartialEq)]
pub enum Head {
    /// Its own back end, as wide as the punch.
    Own,
    /// A rectangle: x, y.
    Sides([Known<f64>; 2]),
    /// So many square millimetres.
    Area(Known<f64>),
}

const LENGTH: Field = Field::required(
    "length",
    Want::Length(SIZE),
    "how long the punch stands out of its holder: this much of it can buckle",
);
const GUIDED: Field = Field::new(
    "guided",
    Want::Text,
    "free: nothing guides the tip; stripper: the stripper does; hinged: both ends can turn; left out: free",
);
const STEEL: Field =
    Field::new("steel", Want::Text, "name of its steel, from the facts; left out: the section's");
const HARDNESS: Field = Field::new(
    "hardness_hrc",
    Want::Number(limits(20.0, 70.0), "HRC"),
    "its hardness; left out: the section's",
);
const HEAD: Field = Field::new(
    "head",
    Want::Lengths(SIZE, 2, 2),
    "sides of the head that bears on the backing; left out: the punch's own back end",
);
const HEAD_AREA: Field = Field::new(
    "head_area",
    Want::Number(limits(0.001, 1e6), "mm2"),
    "area of the head that bears on the backing, instead of `head`",
);

pub(crate) const FIELDS: &[Field] = &[LENGTH, GUIDED, STEEL, HARDNESS, HEAD, HEAD_AREA];

/// Reads the table of an edge.
pub(crate) fn read(reader: &mut Reader, part: &Part, cut: Option<Cut>) -> Option<Punch> {
    let length = reader.length(part, &LENGTH);
    let sides: Option<[Known<f64>; 2]> = reader.lengths(part, &HEAD).and_then(|sides| sides.try_into().ok());
    let head = match (sides, reader.number(part, &HEAD_AREA)) {
        (Some(_), Some(area)) => {
            let message = "`head` and `head_area` are both given; only one can hold".to_owned();
            reader.fault("head-twice", place_of(&area.from), message, "leave one of them out");
            Head::Area(area)
        }
        (Some(sides), None) => Head::Sides(sides),
        (None, Some(area)) => Head::Area(area),
        (None, None) => Head::Own,
    };
    if cut == Some(Cut::Finished) {
        let message = "the edge is cut as \"finished\", and a punch follows from what is stamped".to_owned();
        let place = reader.place(part);
        let cure = "leave `punch` out, or write `cut = \"pierce\"` or \"blank\"";
        reader.fault("punch-without-cut", place, message, cure);
    }
    Some(Punch {
        guided: reader.text(part, &GUIDED),
        steel: reader.text(part, &STEEL),
        hardness_hrc: reader.number(part, &HARDNESS),
        length: length?,
        head,
    })
}
