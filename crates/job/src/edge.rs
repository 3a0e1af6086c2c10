//! A cutting edge: which outline, what it cuts, where it lies, how true it must be.

use crate::field::{ALLOWANCE, Field, Limits, SIZE, Want, limits};
use crate::known::{From, Known};
use crate::punch::{self, Punch};
use crate::reader::{Part, Reader, place_of, shown};
use crate::start::{self, Start};
use remark::{Place, Remark};

/// A cutting edge of a section. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Its id, unique in its section.
    pub id: String,
    /// The drawing, relative to the job file's folder and below it.
    pub drawing: Known<String>,
    /// Which outline of the drawing; none: the only one.
    pub outline: Option<Known<String>>,
    /// The layer that the outline lies on; none: any.
    pub layer: Option<Known<String>>,
    /// What it cuts.
    pub cut: Known<Cut>,
    /// An opening, or the outside of what is kept.
    pub side: Contour,
    /// Least radius of the outside corners of what is kept; none: as drawn.
    pub outside_radius: Option<Known<f64>>,
    /// Stock left for grinding on faces of what is kept.
    pub grind: Grind,
    /// Where it lies on the section.
    pub at: At,
    /// Plus or minus, on the finished edge.
    pub tolerance: Known<f64>,
    /// Metal that may be left in a corner.
    pub corner_tolerance: Known<f64>,
    /// Greatest radius that the print allows on the part's corners.
    pub corner_radius: Option<Known<f64>>,
    /// What the print allows on a size of the part across this outline.
    pub part_tolerance: Option<PartTolerance>,
    /// What is stated about its start hole.
    pub start: Start,
    /// The punch that passes through; none: no punch is planned.
    pub punch: Option<Punch>,
    /// How far the press travels after the first punch touches, until this one does.
    pub enters: Option<Known<f64>>,
    /// Shear ground on the face of punch or opening: the height between its first and last place to cut.
    pub shear: Option<Known<f64>>,
    /// Where it stands in the job file.
    pub place: Place,
}

/// What the print allows on a size of the part, measured across: half of it on each side. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct PartTolerance {
    /// How much smaller than drawn the size may be.
    pub minus: Known<f64>,
    /// How much larger than drawn the size may be.
    pub plus: Known<f64>,
}

/// On which side of an edge the metal is that is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contour {
    /// An opening: outside it.
    Inside,
    /// A section or punch cut out of a block: within it.
    Outside,
}

/// Stock left for grinding on the faces of a piece that is cut out, by the side on which the face lies.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Grind {
    /// Least x, greatest x, least y, greatest y; none: nothing is left there. mm.
    pub sides: [Option<Known<f64>>; 4],
}

impl Grind {
    /// Words for the sides, in their order.
    pub const SIDES: [&'static str; 4] = ["left", "right", "bottom", "top"];
}

/// What an edge cuts, and so who carries the size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// The hole in the part has the outline.
    Pierce,
    /// The part has the outline.
    Blank,
    /// The outline is the finished edge itself; no clearance is added.
    Finished,
}

/// Where an edge lies on its section.
#[derive(Debug, Clone, PartialEq)]
pub enum At {
    /// Its bounds are centred on the block.
    Centred,
    /// The drawing's origin lies at this point of the section, mm.
    Origin([Known<f64>; 2]),
}

const CUTS: &[&str] = &["pierce", "blank", "finished"];
const CONTOURS: &[&str] = &["inside", "outside"];

const ID: Field = Field::required("id", Want::Id, "name of the edge, unique in its section");
const DRAWING: Field =
    Field::required("drawing", Want::Text, "drawing file, beside the job file or below its folder");
const OUTLINE: Field = Field::new(
    "outline",
    Want::Text,
    "which outline of the drawing; left out: the only one, or the only one on `layer`",
);
const LAYER: Field =
    Field::new("layer", Want::Text, "layer of the drawing on which the outline lies; left out: any");
const CUT: Field = Field::required(
    "cut",
    Want::Word(CUTS),
    "pierce: the hole in the part has this outline; blank: the part has it; finished: the edge itself has it",
);
const CONTOUR: Field = Field::new(
    "side",
    Want::Word(CONTOURS),
    "inside: an opening; outside: the outline of a piece that is cut out of a block; left out: inside",
);
const OUTSIDE_RADIUS: Field = Field::new(
    "outside_radius",
    Want::Length(SIZE),
    "least radius of the outside corners of a piece that is cut out, as its opening asks for; left out: as drawn",
);
const GRIND: Field = Field::new(
    "grind",
    Want::Table(GRIND_FIELDS),
    "stock left for grinding on straight faces of a piece that is cut out; left out: none",
);
const LEFT: Field = Field::new("left", Want::Length(STOCK), "stock on the face of least x");
const RIGHT: Field = Field::new("right", Want::Length(STOCK), "stock on the face of greatest x");
const BOTTOM: Field = Field::new("bottom", Want::Length(STOCK), "stock on the face of least y");
const TOP: Field = Field::new("top", Want::Length(STOCK), "stock on the face of greatest y");
const STOCK: Limits = limits(0.001, 5.0);
const GRIND_FIELDS: &[Field] = &[LEFT, RIGHT, BOTTOM, TOP];
const AT: Field = Field::new(
    "at",
    Want::Spot(limits(-1000.0, 1000.0)),
    "centred: bounds centred on the block; or where the drawing's origin lies",
);
const TOLERANCE: Field = Field::new(
    "tolerance",
    Want::Length(limits(0.0001, 10.0)),
    "plus or minus, on the finished edge; left out: 0.005 mm",
);
const CORNER: Field = Field::new(
    "corner_tolerance",
    Want::Length(ALLOWANCE),
    "metal that may be left in a corner; left out: 0.010 mm",
);
const START: Field = Field::new(
    "start",
    Want::Table(start::FIELDS),
    "what is stated about the start hole; left out: the plan chooses it",
);

const RADIUS: Field = Field::new(
    "corner_radius",
    Want::Length(ALLOWANCE),
    "greatest radius that the print allows on the part's corners; left out: no limit",
);
const PART_TOLERANCE: Field = Field::new(
    "part_tolerance",
    Want::Table(PART_TOLERANCE_FIELDS),
    "what the print allows on a size of the part, measured across; the edge then starts where wear leaves it longest",
);
const PUNCH: Field = Field::new(
    "punch",
    Want::Table(punch::FIELDS),
    "the punch that passes through; left out: none is planned",
);
const ENTERS: Field = Field::new(
    "enters",
    Want::Length(ALLOWANCE),
    "how far the press travels after the first punch touches, until this one does; left out: 0",
);
const SHEAR: Field = Field::new(
    "shear",
    Want::Length(ALLOWANCE),
    "shear ground on the face of punch or opening, between its first and last place to cut; left out: 0, flat",
);
const DEVIATION: Limits = limits(-10.0, 10.0);
const MINUS: Field =
    Field::required("minus", Want::Length(DEVIATION), "how much smaller than drawn the size may be");
const PLUS: Field =
    Field::required("plus", Want::Length(DEVIATION), "how much larger than drawn the size may be");

const PART_TOLERANCE_FIELDS: &[Field] = &[MINUS, PLUS];
pub(crate) const FIELDS: &[Field] = &[
    ID,
    DRAWING,
    OUTLINE,
    LAYER,
    CUT,
    CONTOUR,
    OUTSIDE_RADIUS,
    GRIND,
    AT,
    TOLERANCE,
    CORNER,
    RADIUS,
    PART_TOLERANCE,
    START,
    PUNCH,
    ENTERS,
    SHEAR,
];

/// Reads a row.
pub(crate) fn read(reader: &mut Reader, part: &Part) -> Option<Edge> {
    let id = reader.text(part, &ID);
    let drawing = read_drawing(reader, part);
    let outline = reader.text(part, &OUTLINE);
    let layer = reader.text(part, &LAYER);
    let cut = reader.text(part, &CUT).map(|word| {
        word.map(|word| match word.as_str() {
            "pierce" => Cut::Pierce,
            "blank" => Cut::Blank,
            _ => Cut::Finished,
        })
    });
    let side = reader.text(part, &CONTOUR).map_or(Contour::Inside, |word| match word.value.as_str() {
        "outside" => Contour::Outside,
        _ => Contour::Inside,
    });
    let outside_radius = reader.length(part, &OUTSIDE_RADIUS);
    let grind = read_grind(reader, part);
    let at = reader.spot(part, &AT).map_or(At::Centred, At::Origin);
    let tolerance = reader.length(part, &TOLERANCE);
    let corner_tolerance = reader.length(part, &CORNER);
    let corner_radius = reader.length(part, &RADIUS);
    let part_tolerance = read_part_tolerance(reader, part, cut.as_ref().map(|cut| cut.value));
    let start = reader.table(part, &START).map(|table| start::read(reader, &table)).unwrap_or_default();
    let table = reader.table(part, &PUNCH);
    let punch = table.and_then(|table| punch::read(reader, &table, cut.as_ref().map(|cut| cut.value)));
    let [enters, shear] = read_stroke(reader, part, cut.as_ref().map(|cut| cut.value));
    let place = reader.place(part);
    check_side(reader, part, side);
    start::check_side(reader, &part.name, &start, side);
    if !part.has(&AT) {
        let message =
            format!("{} does not say where it lies: its bounds are centred on the block", part.name);
        reader.push(
            Remark::note("at-left-out", message)
                .place(place.clone())
                .cure("write `at = \"centred\"` or `at = [x, y]`"),
        );
    }
    let default =
        |value| Known { value, from: From::Default { why: "the program's own value, common practice" } };
    Some(Edge {
        id: id?.value,
        drawing: drawing?,
        outline,
        layer,
        cut: cut?,
        side,
        outside_radius,
        grind,
        at,
        tolerance: tolerance.unwrap_or_else(|| default(0.005)),
        corner_tolerance: corner_tolerance.unwrap_or_else(|| default(0.010)),
        corner_radius,
        part_tolerance,
        start,
        punch,
        enters,
        shear,
        place,
    })
}

fn read_grind(reader: &mut Reader, part: &Part) -> Grind {
    let Some(table) = reader.table(part, &GRIND) else { return Grind::default() };
    Grind { sides: [&LEFT, &RIGHT, &BOTTOM, &TOP].map(|field| reader.length(&table, field)) }
}

/// Keys that speak of the other side of an edge.
fn check_side(reader: &mut Reader, part: &Part, side: Contour) {
    let (wrong, why): (&[&Field], &str) = match side {
        Contour::Inside => (&[&OUTSIDE_RADIUS, &GRIND], "speaks of a piece that is cut out"),
        Contour::Outside => (
            &[&PUNCH, &ENTERS, &SHEAR, &RADIUS],
            "speaks of an opening, and this edge is the outside of a piece",
        ),
    };
    for field in wrong.iter().filter(|field| part.has(field)) {
        let place = part.place(&reader.source, field);
        let message = format!("{}: `{}` {why}", part.name, field.key);
        reader.fault("other-side", place, message, "leave it out, or state the other `side`");
    }
}

/// When the edge enters and how its face is ground; an edge that cuts no part does neither.
fn read_stroke(reader: &mut Reader, part: &Part, cut: Option<Cut>) -> [Option<Known<f64>>; 2] {
    [&ENTERS, &SHEAR].map(|field| {
        let known = reader.length(part, field);
        if let Some(known) = known.as_ref().filter(|_| cut == Some(Cut::Finished)) {
            let message =
                format!("{} is cut as \"finished\", and `{}` speaks of stamping", part.name, field.key);
            let cure = "leave it out, or write `cut = \"pierce\"` or \"blank\"";
            reader.fault("stroke-without-cut", place_of(&known.from), message, cure);
        }
        known
    })
}

/// The limits of a size of the part; an edge that cuts no part has none.
fn read_part_tolerance(reader: &mut Reader, part: &Part, cut: Option<Cut>) -> Option<PartTolerance> {
    let table = reader.table(part, &PART_TOLERANCE)?;
    let (minus, plus) = (reader.length(&table, &MINUS), reader.length(&table, &PLUS));
    if cut == Some(Cut::Finished) {
        let message = format!("{} is cut as \"finished\", and `part_tolerance` speaks of a part", part.name);
        let place = reader.place(&table);
        reader.fault(
            "part-tolerance",
            place,
            message,
            "leave it out, or write `cut = \"pierce\"` or \"blank\"",
        );
    }
    let (minus, plus) = (minus?, plus?);
    if minus.value + plus.value <= 0.0 {
        let message =
            format!("the size may be {} smaller and {} larger: no room between", minus.value, plus.value);
        reader.fault(
            "part-tolerance",
            place_of(&minus.from),
            message,
            "`minus` and `plus` are both counted outwards",
        );
    }
    Some(PartTolerance { minus, plus })
}

/// A drawing lies below the job file's folder: relative, no way up, one kind of slash.
fn read_drawing(reader: &mut Reader, part: &Part) -> Option<Known<String>> {
    let drawing = reader.text(part, &DRAWING)?;
    let path = &drawing.value;
    let wrong = if path.starts_with('/') || path.as_bytes().get(1) == Some(&b':') {
        "an absolute path"
    } else if path.contains('\\') {
        "a path with a backslash"
    } else if path.split('/').any(|step| step == "..") {
        "a path that leads upwards"
    } else if path.ends_with('/') || path.split('/').all(|step| matches!(step, "" | ".")) {
        "the path of a folder"
    } else {
        return Some(drawing);
    };
    let message =
        format!("`drawing` is \"{}\", {wrong}; drawings lie below the job file's folder", shown(path));
    let place = part.place(&reader.source, &DRAWING);
    reader.fault(
        "drawing-outside",
        place,
        message,
        "copy the drawing beside the job file and name it as \"name.dxf\" or \"folder/name.dxf\"",
    );
    None
}
