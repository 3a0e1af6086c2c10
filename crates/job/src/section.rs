//! A die section: the block, its steel and its edges.

use crate::edge::{self, Contour, Edge};
use crate::fastening::{self, FASTENING, Fastening};
use crate::field::{ALLOWANCE, Field, SIZE, Want, limits};
use crate::fit::Fit;
use crate::halves::{self, HALVES, Halves};
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
    /// The block that it is cut out of, x and y, its middle at the origin; none: the finished block itself.
    pub cut_from: Option<[Known<f64>; 2]>,
    /// Straight cutting height; none: left out of the job, the block's height, or by rule where there is relief.
    pub land: Option<Known<f64>>,
    /// Relief below the land; none: left out of the job. Then it is the shop's below a land that is shorter than its
    /// edges' metal, and 0 otherwise, which has been warned about.
    pub relief_deg: Option<Known<f64>>,
    /// How it sits in the frame's cavity.
    pub cavity: Option<Cavity>,
    /// What holds it in its frame.
    pub fastening: Fastening,
    /// How it is split where it is made in two halves; none: in one piece.
    pub halves: Option<Halves>,
    /// The rule for walls, opening to side; none: left out of the job.
    pub wall_rule: Option<Known<WallRule>>,
    /// Whether its strength is reckoned.
    pub strength: Strength,
    /// The face that is up while its start holes are burned.
    pub burn_from: Known<Face>,
    /// Its edges in the order they are cut, never empty.
    pub edges: Vec<Edge>,
    /// Where it stands in the job file.
    pub place: Place,
}

impl Section {
    /// The block as it lies on the machines, x and y.
    pub fn block(&self) -> [f64; 2] {
        match &self.cut_from {
            Some([x, y]) => [x.value, y.value],
            None => [self.size[0].value, self.size[1].value],
        }
    }

    /// Whether bores from the back leave exactly the land that is stated, under every opening.
    pub fn bored_to_land(&self) -> bool {
        let height = self.size[2].value;
        let leaves = |land: &Known<f64>| bored(&self.edges, height, land.value);
        self.land.as_ref().is_some_and(leaves)
    }
}

/// What a section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A block with openings.
    Die,
    /// A punch.
    Punch,
}

/// How a section sits in the frame.
#[derive(Debug, Clone, PartialEq)]
pub enum Cavity {
    /// By limits of ISO 286-1 on both.
    Fit(Known<Fit>),
    /// Ground to a pocket that was measured.
    Measured {
        /// The pocket, x and y.
        pocket: [Known<f64>; 2],
        /// Clearance in all; none: by common practice.
        clearance: Option<Known<f64>>,
    },
}

/// A rule for the wall from an opening to the block's side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WallRule {
    /// By the opening's length: for a section that its frame holds.
    OpeningLength,
    /// By the block's height: for a block that stands free.
    BlockHeight,
}

/// Whether the strength of a section is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strength {
    /// By finite elements in plane strain.
    Reckoned,
    /// Not at all.
    LeftOut,
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
const CUT_FROM: Field = Field::new(
    "cut_from",
    Want::Lengths(SIZE, 2, 2),
    "hardened block that the section is cut out of, x and y, with its middle at the origin; left out: the finished block",
);
const LAND: Field = Field::new(
    "land",
    Want::Length(SIZE),
    "straight cutting height; left out: the block's height, or by rule where `relief_deg` is above 0",
);
const RELIEF: Field = Field::new(
    "relief_deg",
    Want::Number(limits(0.0, 15.0), "degrees"),
    "relief per side below the land; 0: straight through; left out: the shop's where `land` is shorter than the block",
);
const CAVITY: Field = Field::new("cavity", Want::Table(CAVITY_FIELDS), "how it sits in the frame");
const BURN_FROM: Field = Field::new(
    "burn_from",
    Want::Word(&["cutting", "back"]),
    "face that is up while the start holes are burned; left out: cutting",
);
const WALL_RULE: Field = Field::new(
    "wall_rule",
    Want::Word(&["opening-length", "block-height"]),
    "rule for the wall from an opening to the block's side; opening-length: as long as the opening, 3 at least; block-height: 1.25 heights, 2 at sharp corners, for a block that stands free; left out: opening-length",
);
const STRENGTH: Field = Field::new(
    "strength",
    Want::Word(&["plane strain", "none"]),
    "plane strain: the peak stress is reckoned where the sheet gives a force; none: it is not; left out: plane strain",
);
const START: Field = Field::new(
    "start",
    Want::Table(start::OF_SECTION),
    "what holds for the start holes of all edges that do not say otherwise",
);
const EDGE: Field = Field::required("edge", Want::Rows(edge::FIELDS), "the cutting edges of the section");
const FIT: Field = Field::new("fit", Want::Text, "ISO 286-1 fit of cavity and section, as in H7/k6");
const POCKET: Field = Field::new(
    "measured",
    Want::Lengths(SIZE, 2, 2),
    "the cavity as it was measured, x and y: the section is ground to it",
);
const POCKET_CLEARANCE: Field = Field::new(
    "clearance",
    Want::Length(ALLOWANCE),
    "clearance in all, in a measured cavity; left out: 0.003 mm",
);

const CAVITY_FIELDS: &[Field] = &[FIT, POCKET, POCKET_CLEARANCE];
pub(crate) const FIELDS: &[Field] = &[
    ID, KIND, STEEL, HARDNESS, BLOCK, CUT_FROM, LAND, RELIEF, CAVITY, FASTENING, HALVES, WALL_RULE, STRENGTH,
    BURN_FROM, START, EDGE,
];

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
    let cut_from = reader.lengths(&part, &CUT_FROM).and_then(|sides| sides.try_into().ok());
    let land = reader.length(&part, &LAND);
    let relief_deg = reader.number(&part, &RELIEF);
    let cavity = read_cavity(reader, &part);
    let fastening = fastening::read(reader, &part);
    let halves = halves::read(reader, &part);
    let wall_rule = reader.text(&part, &WALL_RULE).map(|word| {
        word.map(|word| if word == "block-height" { WallRule::BlockHeight } else { WallRule::OpeningLength })
    });
    let none = reader.text(&part, &STRENGTH).is_some_and(|word| word.value == "none");
    let strength = if none { Strength::LeftOut } else { Strength::Reckoned };
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
    if let (Some(kind), Some(edges)) = (kind, &edges) {
        check_outsides(reader, &part, kind, edges);
        check_halves(reader, halves.as_ref(), kind, edges);
    }
    if let (Some(edges), Some(size)) = (&edges, &size) {
        check_land(reader, &part, (land.as_ref(), relief_deg.as_ref()), (edges, size[2].value));
    }
    Some(Section {
        id: id?.value,
        kind: kind?,
        steel: steel?,
        hardness_hrc: hardness_hrc?,
        size: size?,
        cut_from,
        land,
        relief_deg,
        cavity,
        fastening,
        halves,
        wall_rule,
        strength,
        burn_from,
        edges: edges?,
        place,
    })
}

fn read_kind(reader: &mut Reader, part: &Part) -> Option<Kind> {
    reader.text(part, &KIND).map(|kind| if kind.value == "die" { Kind::Die } else { Kind::Punch })
}

/// A punch is cut out all round, and what is cut out is cut out of a block.
fn check_outsides(reader: &mut Reader, part: &Part, kind: Kind, edges: &[Edge]) {
    let outside = |edge: &&Edge| edge.side == Contour::Outside;
    if let Some(edge) = edges.iter().find(|edge| kind == Kind::Punch && !outside(edge)) {
        let message = format!("{} is a punch, and its edge \"{}\" is an opening", part.name, edge.id);
        reader.fault("punch-opening", edge.place.clone(), message, "write `side = \"outside\"`");
    }
    if let Some(edge) = edges.iter().find(|edge| outside(edge) && !part.has(&CUT_FROM)) {
        let message = format!(
            "edge \"{}\" is the outside of a piece, and {} does not say of which block it is cut",
            edge.id, part.name
        );
        let cure = "write `cut_from = [x, y]`, the hardened block";
        reader.fault("no-block", edge.place.clone(), message, cure);
    }
    if part.has(&CUT_FROM) && !edges.is_empty() && !edges.iter().any(|edge| outside(&edge)) {
        let message = format!("{} says of which block it is cut, and no edge is its outside", part.name);
        let place = part.place(&reader.source, &CUT_FROM);
        reader.fault("no-outside", place, message, "an edge with `side = \"outside\"`, or no `cut_from`");
    }
    let several = edges.iter().filter(outside).count() > 1;
    if kind == Kind::Die && several {
        let message = format!("{} has more than one outside", part.name);
        let place = reader.place(part);
        reader.fault("two-outsides", place, message, "a section of its own for each piece");
    }
}

/// Halves are ground and joined before anything is cut: what is cut out of a block is one piece.
fn check_halves(reader: &mut Reader, halves: Option<&Halves>, kind: Kind, edges: &[Edge]) {
    let Some(halves) = halves else { return };
    let outside = edges.iter().find(|edge| kind == Kind::Punch || edge.side == Contour::Outside);
    if let Some(edge) = outside {
        let message = format!("edge \"{}\" is cut out of a block, and its section is in two halves", edge.id);
        let cure = "leave `halves` out, or grind the outside of the joined halves: no `side = \"outside\"`";
        reader.fault("halves-of-a-piece", halves.place.clone(), message, cure);
    }
}

fn read_burn_from(reader: &mut Reader, part: &Part) -> Known<Face> {
    let left_out = From::Default { why: "left out of the job: burned from the cutting face" };
    reader.text(part, &BURN_FROM).map_or(Known { value: Face::Cutting, from: left_out }, |word| {
        word.map(|word| if word == "back" { Face::Back } else { Face::Cutting })
    })
}

/// Land, relief and bores must make each other possible.
fn check_land(
    reader: &mut Reader,
    part: &Part,
    (land, relief): (Option<&Known<f64>>, Option<&Known<f64>>),
    (edges, height): (&[Edge], f64),
) {
    let piece = edges.iter().all(|edge| edge.side == Contour::Outside);
    if let Some(relief) = relief.filter(|relief| piece && relief.value > 0.0) {
        no_opening(reader, part, relief);
        return;
    }
    let Some(land) = land else {
        warn_straight(reader, part, (relief, edges));
        return;
    };
    let (place, value) = (place_of(&land.from), land.value);
    let shorter = value < height - SAME;
    if value > height + SAME {
        let message = format!("`land` is {value} mm, more than the block's height {height} mm");
        reader.fault("land-above-height", place, message, "leave `land` out, or give the block's height");
        return;
    }
    let bored = shorter && bored(edges, height, value);
    if piece && shorter {
        no_opening(reader, part, land);
        return;
    }
    match relief {
        Some(relief) if relief.value > 0.0 && !shorter => {
            let message =
                format!("`land` is the block's height {height} mm: nothing is left below it for a relief");
            reader.fault("no-room-for-relief", place, message, "a shorter `land`, or `relief_deg = 0`");
        }
        Some(relief) if relief.value == 0.0 && shorter && !bored => {
            let message = format!(
                "`land` is {value} mm, less than the block's height {height} mm, and nothing ends it: `relief_deg` is 0, and no back bore under each edge leaves {value} mm"
            );
            let cure = format!(
                "`relief_deg = 0.5`, or `start = {{ back_bore = {{ diameter = ..., depth = {} }} }}`",
                height - value
            );
            reader.fault("land-not-made", place, message, &cure);
        }
        None if !shorter || bored => warn_straight(reader, part, (relief, edges)),
        _ => {}
    }
}

fn no_opening(reader: &mut Reader, part: &Part, what: &Known<f64>) {
    let message = format!("{} has no opening that a land or a relief could be of", part.name);
    let cure = "leave `land` out, and write `relief_deg = 0`";
    reader.fault("no-opening", place_of(&what.from), message, cure);
}

/// Whether bores from the back leave this much metal under every opening, of which there is one.
fn bored(edges: &[Edge], height: f64, land: f64) -> bool {
    let openings = || edges.iter().filter(|edge| edge.side == Contour::Inside);
    openings().next().is_some() && openings().all(|edge| floor_is(edge, height, land))
}

/// Whether the bore from the back leaves this much metal.
fn floor_is(edge: &Edge, height: f64, land: f64) -> bool {
    edge.start.back_bore.as_ref().is_some_and(|bore| (height - bore.depth.value - land).abs() <= SAME)
}

/// A relief that was left out is worth a word where there is an opening that could have one.
fn warn_straight(reader: &mut Reader, part: &Part, (relief, edges): (Option<&Known<f64>>, &[Edge])) {
    let piece = edges.iter().all(|edge| edge.side == Contour::Outside);
    if relief.is_some() || part.has(&RELIEF) || piece {
        return;
    }
    let message = format!("{} does not say its relief: taken as 0, straight through", part.name);
    let place = reader.place(part);
    reader.push(
        Remark::warning("relief-left-out", message)
            .place(place)
            .cure("write `relief_deg = 0` if that is meant"),
    );
}

fn read_cavity(reader: &mut Reader, part: &Part) -> Option<Cavity> {
    let table = reader.table(part, &CAVITY)?;
    let pocket = reader.lengths(&table, &POCKET).and_then(|sides| sides.try_into().ok());
    let clearance = reader.length(&table, &POCKET_CLEARANCE);
    let fit = reader.text(&table, &FIT).and_then(|fit| match Fit::of(&fit.value) {
        Ok(zones) => Some(fit.map(|_| zones)),
        Err(wrong) => {
            let message = format!("`fit` is \"{}\": it {wrong}", shown(&fit.value));
            let cure = "capital letters and a grade, '/', small letters and a grade, as in H7/k6";
            reader.fault("bad-fit", place_of(&fit.from), message, cure);
            None
        }
    });
    match (fit, pocket) {
        (Some(fit), None) => Some(Cavity::Fit(fit)),
        (None, Some(pocket)) => Some(Cavity::Measured { pocket, clearance }),
        (Some(_), Some(pocket)) => {
            let [x, _]: &[Known<f64>; 2] = &pocket;
            let message =
                "`cavity` states both a fit and a measured pocket, and only one can hold".to_owned();
            reader.fault(
                "cavity-twice",
                place_of(&x.from),
                message,
                "keep `measured` once the pocket is there",
            );
            None
        }
        (None, None) if !table.has(&FIT) && !table.has(&POCKET) => {
            let place = reader.place(&table);
            let message = "`cavity` states neither a fit nor a measured pocket".to_owned();
            reader.fault("cavity-empty", place, message, "write `fit = \"H7/k6\"` or `measured = [x, y]`");
            None
        }
        (None, None) => None,
    }
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
