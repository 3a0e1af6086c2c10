//! The shop file: electrodes, wires, allowances, dialect, rates, press.

use crate::alignment::{self, Alignment};
use crate::allowance::{self, Allowance};
use crate::burner::{self, Burner};
use crate::core::{self, Core};
use crate::cutting::{self, Cutting};
use crate::dialect::{self, Dialect};
use crate::electrode::{self, Electrode};
use crate::example::example_shop;
use crate::field::{Field, Want};
use crate::guides::{self, Guides};
use crate::half_round::{self, HalfRound};
use crate::known::Known;
use crate::land::{self, Land};
use crate::order::{self, Order};
use crate::press::{self, Press};
use crate::reader::{Part, Reader, place_of};
use crate::units::Units;
use crate::wire::{self, Wire};
use remark::Remark;

/// A shop: what it has and how well it works. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// Its name, for people.
    pub name: String,
    /// The unit of bare lengths in its file.
    pub units: Units,
    /// The currency of its prices, for people.
    pub currency: String,
    /// Electrodes for burning holes, never empty.
    pub electrodes: Vec<Electrode>,
    /// Wires, never empty.
    pub wires: Vec<Wire>,
    /// Allowances for start holes.
    pub allowance: Allowance,
    /// How programs are written.
    pub dialect: Dialect,
    /// Rates, factors and times.
    pub cutting: Cutting,
    /// Cores and tabs.
    pub core: Core,
    /// Order of the cuts.
    pub order: Order,
    /// What it can hold on centre.
    pub alignment: Alignment,
    /// The press that dies run in.
    pub press: Press,
    /// The machine that burns start holes.
    pub burner: Burner,
    /// Where the wire machine's guides hold the wire.
    pub guides: Guides,
    /// Land and relief where a job leaves them open, and regrinding.
    pub land: Land,
    /// What it holds when it grinds half-rounds into two halves.
    pub half_round: HalfRound,
}

const NAME: Field = Field::new("name", Want::Text, "name of the shop");
const UNITS: Field =
    Field::new("units", Want::Word(Units::WORDS), "unit of every bare length in this file; left out: mm");
const CURRENCY: Field = Field::new("currency", Want::Text, "currency of its prices");
const ELECTRODE: Field = Field::new(
    "electrode",
    Want::Rows(electrode::FIELDS),
    "electrodes for burning holes; given, the list replaces the built-in one",
);
const WIRE: Field =
    Field::new("wire", Want::Rows(wire::FIELDS), "wires; given, the list replaces the built-in one");
const ALLOWANCE: Field = Field::new(
    "allowance",
    Want::Table(allowance::FIELDS),
    "allowances for start holes; drift_per_mm and recast given here hold for every electrode",
);
const DIALECT: Field = Field::new("dialect", Want::Table(dialect::FIELDS), "how programs are written");
const CUTTING: Field = Field::new("cutting", Want::Table(cutting::FIELDS), "rates, factors and times");
const CORE: Field = Field::new("core", Want::Table(core::FIELDS), "cores and tabs");
const ALIGNMENT: Field =
    Field::new("alignment", Want::Table(alignment::FIELDS), "what can be held on centre");
const BURNER: Field =
    Field::new("burner", Want::Table(burner::FIELDS), "the machine that burns start holes, and its programs");
const ORDER: Field = Field::new("order", Want::Table(order::FIELDS), "order of the cuts");
const GUIDES: Field =
    Field::new("guides", Want::Table(guides::FIELDS), "where the guides of the wire machine hold the wire");
const LAND: Field = Field::new(
    "land",
    Want::Table(land::FIELDS),
    "land and relief where a job leaves them open, and regrinding",
);
const HALF_ROUND: Field = Field::new(
    "half_round",
    Want::Table(half_round::FIELDS),
    "half-rounds that are ground into two halves to start openings in",
);
const PRESS: Field = Field::new("press", Want::Table(press::FIELDS), "the press that dies run in");

pub(crate) const FIELDS: &[Field] = &[
    NAME, UNITS, CURRENCY, ELECTRODE, WIRE, ALLOWANCE, DIALECT, CUTTING, CORE, ORDER, ALIGNMENT, PRESS,
    BURNER, GUIDES, LAND, HALF_ROUND,
];

/// Reads a shop file. `file` is its name for messages and origins.
///
/// # Errors
/// Every fault of the file, each with its place; the same list as the remarks of a good file, with errors in it.
pub fn read_shop(text: &str, file: &str) -> Result<(Shop, Vec<Remark>), Vec<Remark>> {
    let (mut reader, tree) = Reader::parse(file, text)?;
    let part = reader.open(tree.get_ref(), 0..0, "the shop file", FIELDS);
    let shop = shop(&mut reader, &part);
    reader.finish(Some(shop))
}

fn shop(reader: &mut Reader, part: &Part) -> Shop {
    let built_in = example_shop();
    let units = reader.text(part, &UNITS).map_or(Units::Mm, |word| Units::of_word(&word.value));
    reader.units = units;
    let name = reader.text(part, &NAME).map_or(built_in.name, |name| name.value);
    let currency = reader.text(part, &CURRENCY).map_or(built_in.currency, |currency| currency.value);
    let electrodes = match reader.rows(part, &ELECTRODE) {
        Some(rows) => {
            rows.iter().filter_map(|row| electrode::read(reader, row, &built_in.electrodes)).collect()
        }
        None => built_in.electrodes,
    };
    let wires = match reader.rows(part, &WIRE) {
        Some(rows) => rows.iter().filter_map(|row| wire::read(reader, row, &built_in.wires)).collect(),
        None => built_in.wires,
    };
    let diameters: Vec<_> = electrodes.iter().map(|row: &Electrode| &row.diameter).collect();
    check_once(reader, "electrode", &diameters);
    let diameters: Vec<_> = wires.iter().map(|row: &Wire| &row.diameter).collect();
    check_once(reader, "wire", &diameters);
    let allowance = match reader.table(part, &ALLOWANCE) {
        Some(table) => allowance::read(reader, &table, built_in.allowance),
        None => built_in.allowance,
    };
    let dialect = match reader.table(part, &DIALECT) {
        Some(table) => dialect::read(reader, &table, built_in.dialect),
        None => built_in.dialect,
    };
    let cutting = match reader.table(part, &CUTTING) {
        Some(table) => cutting::read(reader, &table, built_in.cutting),
        None => built_in.cutting,
    };
    let core = match reader.table(part, &CORE) {
        Some(table) => core::read(reader, &table, built_in.core),
        None => built_in.core,
    };
    let order = match reader.table(part, &ORDER) {
        Some(table) => order::read(reader, &table, built_in.order),
        None => built_in.order,
    };
    let alignment = match reader.table(part, &ALIGNMENT) {
        Some(table) => alignment::read(reader, &table, built_in.alignment),
        None => built_in.alignment,
    };
    let press = match reader.table(part, &PRESS) {
        Some(table) => press::read(reader, &table, built_in.press),
        None => built_in.press,
    };
    let burner = match reader.table(part, &BURNER) {
        Some(table) => burner::read(reader, &table, built_in.burner),
        None => built_in.burner,
    };
    let guides = match reader.table(part, &GUIDES) {
        Some(table) => guides::read(reader, &table, built_in.guides),
        None => built_in.guides,
    };
    let land = match reader.table(part, &LAND) {
        Some(table) => land::read(reader, &table, built_in.land),
        None => built_in.land,
    };
    let half_round = match reader.table(part, &HALF_ROUND) {
        Some(table) => half_round::read(reader, &table, built_in.half_round),
        None => built_in.half_round,
    };
    Shop {
        name,
        units,
        currency,
        electrodes,
        wires,
        allowance,
        dialect,
        cutting,
        core,
        order,
        alignment,
        press,
        burner,
        guides,
        land,
        half_round,
    }
}

/// Two rows of one diameter would leave open which of them holds.
fn check_once(reader: &mut Reader, what: &str, diameters: &[&Known<f64>]) {
    let mut sorted = diameters.to_vec();
    sorted.sort_by(|a, b| a.value.total_cmp(&b.value));
    for pair in sorted.windows(2).filter(|pair| pair[0].value == pair[1].value) {
        let message = format!("two {what} rows have the diameter {} mm", pair[1].value);
        reader.fault("given-twice", place_of(&pair[1].from), message, "keep one row for each diameter");
    }
}
