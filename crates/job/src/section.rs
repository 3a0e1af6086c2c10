//! A die section: the block, its steel and its edges.

use crate::edge::{self, Edge};
use crate::field::{Field, SIZE, Want, limits};
use crate::known::{From, Known};
use crate::reader::{Part, Reader, place_of, shown};
use crate::start;
use remark::{Place, Remark};
use std::collections::HashSet;

/// A die section. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Its id, unique in the job.
    pub id: String,
    /// Die section or punch.
    pub kind: Kind,
    /// Name of its steel, one that the facts hold.
    pub steel: Known<String>,
    /// Hardness, HRC.
    pub hardness_hrc: Known<f64>,
    /// Finished block: x, y, height.
    pub size: [Known<f64>; 3],
    /// Straight cutting height; none: left out of the job, by rule.
    pub land: Option<Known<f64>>,
    /// Relief below the land; none: left out of the job, which means 0 and has been warned about.
    pub relief_deg: Option<Known<f64>>,
    /// ISO 286 fit in the frame's cavity, as in `H7/k6`.
    pub cavity: Option<Known<String>>,
    /// The face that is up while its start holes are burned.
    pub burn_from: Known<Face>,
    /// Its edges in the order they are cut, never empty.
    pub edges: Vec<Edge>,
    /// Where it stands in the job file.
    pub place: Place,
}

/// What a section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A block with openings.
    Die,
    /// A punch.
    Punch,
}

/// A face of the block.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The cutting face.
    Cutting,
    /// The back.
    Back,
}

const KINDS: &[&str] = &["die", "punch"];

const ID: Field = Field::required("id", Want::Id, "name of the section, unique in the job");
const KIND: Field = Field::required("kind", Want::Word(KINDS), "die: a block with openings; punch");
const STEEL: Field = Field::required("steel", Want::Text, "name of the steel, from the facts");
const HARDNESS: Field = Field::required(
    "hardness_hrc",
    Want::Number(limits(20.0, 70.0), "HRC"),
    "hardness of the finished section",
);
const BLOCK: Field = Field::required("size", Want::Lengths(SIZE, 3, 3), "finished block: x, y, height");
const LAND: Field = Field::new("land", Want::Length(SIZE), "straight cutting height; left out: by rule");
const RELIEF: Field = Field::new(
    "relief_deg",
    Want::Number(limits(0.0, 45.0), "degrees"),
    "relief below the land; 0: straight through; left out: by rule",
);
const CAVITY: Field = Field::new("cavity", Want::Table(CAVITY_FIELDS), "how it sits in the frame");
const BURN_FROM: Field = Field::new(
    "burn_from",
    Want::Word(&["cutting", "back"]),
    "face that is up while the start holes are burned; left out: cutting",
);
const START: Field = Field::new(
    "start",
    Want::Table(start::OF_SECTION),
    "what holds for the start holes of all edges that do not say otherwise",
);
const EDGE: Field = Field::required("edge", Want::Rows(edge::FIELDS), "the cutting edges of the section");
const FIT: Field = Field::required("fit", Want::Text, "ISO 286 fit of cavity and section, as in H7/k6");

const CAVITY_FIELDS: &[Field] = &[FIT];
pub(crate) const FIELDS: &[Field] =
    &[ID, KIND, STEEL, HARDNESS, BLOCK, LAND, RELIEF, CAVITY, BURN_FROM, START, EDGE];

/// Land and height closer than this are the same, mm: one of them may have been converted from inches.
const SAME: f64 = 1e-9;

/// Reads a row.
pub(crate) fn read(reader: &mut Reader, mut part: Part) -> Option<Section> {
    let id = reader.text(&part, &ID);
    if let Some(id) = &id {
        part.name = format!("section \"{}\"", id.value);
    }
    let kind = read_kind(reader, &part);
    let steel = reader.text(&part, &STEEL);
    let hardness_hrc = reader.number(&part, &HARDNESS);
    let size: Option<[Known<f64>; 3]> = reader.lengths(&part, &BLOCK).and_then(|size| size.try_into().ok());
    let land = reader.length(&part, &LAND);
    let relief_deg = read_relief(reader, &part);
    let cavity = read_cavity(reader, &part);
    let burn_from = read_burn_from(reader, &part);
    let mut edges = read_edges(reader, &part);
    if let Some(table) = reader.table(&part, &START) {
        let start = start::of_section(reader, &table);
        edges.iter_mut().flatten().for_each(|edge| edge.start.left_to(&start));
    }
    if let (Some(edges), Some(size)) = (&edges, &size) {
        start::check(reader, edges.iter().map(|edge| &edge.start), size[2].value);
    }
    let place = reader.place(&part);
    if let (Some(land), Some(size)) = (&land, &size) {
        check_land(reader, land, size[2].value);
    }
    Some(Section {
        id: id?.value,
        kind: kind?,
        steel: steel?,
        hardness_hrc: hardness_hrc?,
        size: size?,
        land,
        relief_deg,
        cavity,
        burn_from,
        edges: edges?,
        place,
    })
}

fn read_kind(reader: &mut Reader, part: &Part) -> Option<Kind> {
    let kind = reader.text(part, &KIND)?;
    if kind.value == "die" {
        return Some(Kind::Die);
    }
    let message = format!("{} is a punch; punches are not built yet", part.name);
    reader.fault(
        "not-built-yet",
        place_of(&kind.from),
        message,
        "plan the die sections now: `kind = \"die\"`",
    );
    Some(Kind::Punch)
}

fn read_burn_from(reader: &mut Reader, part: &Part) -> Known<Face> {
    let left_out = From::Default { why: "left out of the job: burned from the cutting face" };
    reader.text(part, &BURN_FROM).map_or(Known { value: Face::Cutting, from: left_out }, |word| {
        word.map(|word| if word == "back" { Face::Back } else { Face::Cutting })
    })
}

fn read_relief(reader: &mut Reader, part: &Part) -> Option<Known<f64>> {
    let relief = reader.number(part, &RELIEF);
    match &relief {
        Some(relief) if relief.value > 0.0 => {
            let message =
                format!("`relief_deg` is {}; relief is not built yet, only straight through", relief.value);
            reader.fault("not-built-yet", place_of(&relief.from), message, "write `relief_deg = 0`");
        }
        None if !part.has(&RELIEF) => {
            let message = format!("{} does not say its relief: taken as 0, straight through", part.name);
            let place = reader.place(part);
            reader.push(
                Remark::warning("relief-left-out", message)
                    .place(place)
                    .cure("write `relief_deg = 0` if that is meant"),
            );
        }
        _ => {}
    }
    relief
}

fn check_land(reader: &mut Reader, land: &Known<f64>, height: f64) {
    let place = place_of(&land.from);
    let value = land.value;
    if value < height - SAME {
        let message = format!(
            "`land` is {value} mm, less than the block's height {height} mm; relief is not built yet"
        );
        reader.fault("not-built-yet", place, message, "leave `land` out, or give the block's height");
    } else if value > height + SAME {
        let message = format!("`land` is {value} mm, more than the block's height {height} mm");
        reader.fault("land-above-height", place, message, "leave `land` out, or give the block's height");
    }
}

fn read_cavity(reader: &mut Reader, part: &Part) -> Option<Known<String>> {
    let cavity = reader.table(part, &CAVITY)?;
    let fit = reader.text(&cavity, &FIT)?;
    if !is_fit(&fit.value) {
        let message =
            format!("`fit` is \"{}\"; an ISO 286 fit names hole and shaft, as in H7/k6", shown(&fit.value));
        reader.fault(
            "bad-fit",
            place_of(&fit.from),
            message,
            "capital letters and a grade, '/', small letters and a grade",
        );
    }
    Some(fit)
}

/// Whether the text has the form of an ISO 286 fit: hole in capitals, shaft in small letters, each with a grade.
fn is_fit(fit: &str) -> bool {
    let half = |text: &str, letter: fn(&char) -> bool| {
        let letters = text.chars().take_while(letter).count();
        let grade = text.get(letters..).unwrap_or("");
        (1..=2).contains(&letters)
            && (1..=2).contains(&grade.len())
            && grade.bytes().all(|b| b.is_ascii_digit())
    };
    fit.split_once('/').is_some_and(|(hole, shaft)| {
        half(hole, char::is_ascii_uppercase) && half(shaft, char::is_ascii_lowercase)
    })
}

fn read_edges(reader: &mut Reader, part: &Part) -> Option<Vec<Edge>> {
    let rows = reader.rows(part, &EDGE)?;
    let count = rows.len();
    let edges: Vec<Edge> = rows
        .into_iter()
        .filter_map(|mut row| {
            row.name = format!("{} of {}", row.name, part.name);
            edge::read(reader, &row)
        })
        .collect();
    let mut seen = HashSet::new();
    for edge in edges.iter().filter(|edge| !seen.insert(edge.id.as_str())) {
        let message = format!("{} has two edges with the id \"{}\"", part.name, edge.id);
        reader.fault("given-twice", edge.place.clone(), message, "give each edge of a section its own id");
    }
    (edges.len() == count).then_some(edges)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fits_have_hole_and_shaft() {
        for good in ["H7/k6", "JS7/js6", "H11/h11"] {
            assert!(is_fit(good), "{good}");
        }
        for bad in ["H7", "h7/k6", "H7/K6", "H/k", "H7/k6/m6", "H700/k6", "7H/k6", "", "/", "Ä7/k6"] {
            assert!(!is_fit(bad), "{bad}");
        }
    }
}
