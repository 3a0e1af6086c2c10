//! The job file: the sheet and the sections to be made.

use crate::edge::Cut;
use crate::facts::Facts;
use crate::field::{Field, Want, limits, quoted};
use crate::forces::{self, Forces};
use crate::known::{From, Known};
use crate::near::nearest;
use crate::reader::{Part, Reader, place_of, shown};
use crate::section::{self, Section};
use crate::sheet::{self, Sheet};
use crate::units::Units;
use remark::Remark;
use std::collections::HashSet;

/// A job. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Its name: any text without control characters.
    pub name: String,
    /// The unit of bare lengths in its file, and of drawings that state none.
    pub units: Units,
    /// Loose ends of a drawing that are closer than this are joined.
    pub join_limit: Known<f64>,
    /// What is stamped; there whenever an edge pierces or blanks.
    pub sheet: Option<Sheet>,
    /// How the forces of a stroke are reckoned.
    pub forces: Forces,
    /// The sections, never empty.
    pub sections: Vec<Section>,
}

const NAME: Field = Field::required("name", Want::Text, "name of the job");
const UNITS: Field = Field::new(
    "units",
    Want::Word(Units::WORDS),
    "unit of every bare length here and of drawings that state none; left out: mm",
);
const JOIN_LIMIT: Field = Field::new(
    "join_limit",
    Want::Length(limits(0.0, 1.0)),
    "loose ends of a drawing that are closer than this are joined; left out: 0.001 mm",
);
const SHEET: Field = Field::new("sheet", Want::Table(sheet::FIELDS), "what is stamped");
const FORCES: Field =
    Field::new("forces", Want::Table(forces::FIELDS), "how the forces of a stroke are reckoned");
const SECTION: Field = Field::required("section", Want::Rows(section::FIELDS), "the die sections to be made");

pub(crate) const FIELDS: &[Field] = &[NAME, UNITS, JOIN_LIMIT, SHEET, FORCES, SECTION];

/// Reads a job file. `file` is its name for messages and origins.
///
/// # Errors
/// Every fault of the file, each with its place; the same list as the remarks of a good file, with errors in it.
pub fn read_job(text: &str, file: &str) -> Result<(Job, Vec<Remark>), Vec<Remark>> {
    let facts = Facts::load()?;
    let (mut reader, tree) = Reader::parse(file, text)?;
    let part = reader.open(tree.get_ref(), 0..0, "the job file", FIELDS);
    let job = job(&mut reader, &part, &facts);
    reader.finish(job)
}

fn job(reader: &mut Reader, part: &Part, facts: &Facts) -> Option<Job> {
    let units = read_units(reader, part);
    reader.units = units;
    let name = reader.text(part, &NAME);
    let join_limit = reader.length(part, &JOIN_LIMIT);
    let table = reader.table(part, &SHEET);
    let sheet = table.as_ref().and_then(|table| sheet::read(reader, table));
    let forces = reader.table(part, &FORCES).map_or(Forces::default(), |table| forces::read(reader, &table));
    let rows = reader.rows(part, &SECTION);
    let count = rows.as_ref().map_or(0, Vec::len);
    let sections: Vec<Section> =
        rows.into_iter().flatten().filter_map(|row| section::read(reader, row)).collect();
    check_ids(reader, &sections);
    check_known(reader, "stripping_rule", forces.stripping_rule.as_ref(), &facts.stripping_rule_names());
    for section in &sections {
        check_steel(reader, section, facts);
        let threaded = [&section.fastening.screws, &section.fastening.jack_out].into_iter().flatten();
        for threaded in threaded {
            check_known(reader, "thread", threaded.thread.as_ref(), &facts.thread_names());
        }
        for punch in section.edges.iter().filter_map(|edge| edge.punch.as_ref()) {
            check_known(reader, "steel", punch.steel.as_ref(), &facts.steel_names());
            check_known(reader, "guided", punch.guided.as_ref(), &facts.punch().guiding_names());
        }
    }
    if let (Some(sheet), Some(table)) = (&sheet, &table) {
        check_names(reader, sheet, facts);
        check_clearance(reader, sheet, table, &sections, facts);
    } else if !part.has(&SHEET) {
        check_no_sheet(reader, &sections);
    }
    let join_limit = join_limit.unwrap_or(Known {
        value: 0.001,
        from: From::Default { why: "the program's own value, common practice" },
    });
    (sections.len() == count).then_some(Job { name: name?.value, units, join_limit, sheet, forces, sections })
}

fn read_units(reader: &mut Reader, part: &Part) -> Units {
    if !part.has(&UNITS) {
        let message = "the job file does not say its `units`: taken as mm".to_owned();
        let place = reader.place(part);
        reader.push(
            Remark::warning("units-left-out", message)
                .place(place)
                .cure("write `units = \"mm\"` or `units = \"in\"`"),
        );
    }
    reader.text(part, &UNITS).map_or(Units::Mm, |word| Units::of_word(&word.value))
}

fn check_ids(reader: &mut Reader, sections: &[Section]) {
    let mut seen = HashSet::new();
    for section in sections.iter().filter(|section| !seen.insert(section.id.as_str())) {
        let message = format!("two sections have the id \"{}\"", section.id);
        reader.fault("given-twice", section.place.clone(), message, "give each section its own id");
    }
}

fn check_steel(reader: &mut Reader, section: &Section, facts: &Facts) {
    let name = &section.steel.value;
    let place = place_of(&section.steel.from);
    match facts.steel(name) {
        Some(steel) if steel.is_carbide() => {
            let message = format!("`steel` is \"{}\"; sections of carbide are not built yet", shown(name));
            reader.fault("not-built-yet", place, message, "choose a tool steel, such as \"D2\"");
        }
        Some(steel) => check_hardness(reader, section, steel.hardness_hrc.as_ref()),
        None => unknown_name(reader, "steel", &section.steel, &facts.steel_names()),
    }
}

/// A hardness outside what the steel is usually given is worth a look, no more.
fn check_hardness(reader: &mut Reader, section: &Section, usual: Option<&Known<[f64; 2]>>) {
    let hardness = section.hardness_hrc.value;
    if let Some(usual) = usual
        && !(usual.value[0]..=usual.value[1]).contains(&hardness)
    {
        let [least, most] = usual.value;
        let message = format!(
            "`hardness_hrc` is {hardness}; {} is usually hardened to {least} to {most}",
            section.steel.value
        );
        reader.push(Remark::warning("unusual-hardness", message).place(place_of(&section.hardness_hrc.from)));
    }
}

fn unknown_name(reader: &mut Reader, what: &str, found: &Known<String>, names: &[&str]) {
    let message = format!("`{what}` is \"{}\", which the facts do not hold", shown(&found.value));
    let cure = match nearest(&found.value, names.iter().copied()) {
        Some(name) => format!("did you mean \"{name}\"?"),
        None => format!("the facts hold {}", quoted(names)),
    };
    reader.fault("unknown-name", place_of(&found.from), message, &cure);
}

fn check_names(reader: &mut Reader, sheet: &Sheet, facts: &Facts) {
    check_known(reader, "metal", sheet.metal.as_ref(), &facts.metal_names());
    check_known(reader, "clearance_rule", sheet.clearance_rule.as_ref(), &facts.clearance_rule_names());
    check_known(reader, "shear_rule", sheet.shear_rule.as_ref(), &facts.shear_rule_names());
}

fn check_known(reader: &mut Reader, what: &str, found: Option<&Known<String>>, names: &[&str]) {
    if let Some(found) = found.filter(|found| !names.contains(&found.value.as_str())) {
        unknown_name(reader, what, found, names);
    }
}

fn stamps(section: &Section) -> bool {
    section.edges.iter().any(|edge| edge.cut.value != Cut::Finished)
}

fn check_no_sheet(reader: &mut Reader, sections: &[Section]) {
    let edges = sections.iter().flat_map(|section| &section.edges);
    if let Some(edge) = edges.into_iter().find(|edge| edge.cut.value != Cut::Finished) {
        let message = format!(
            "edge \"{}\" pierces or blanks, and the job has no [sheet] to take a clearance from",
            edge.id
        );
        reader.fault(
            "no-sheet",
            place_of(&edge.cut.from),
            message,
            "add [sheet] with `metal` and `thickness`, or write `cut = \"finished\"` if the outline is the finished edge",
        );
    }
}

/// Where something is stamped, force and clearance must follow from the sheet.
fn check_clearance(reader: &mut Reader, sheet: &Sheet, table: &Part, sections: &[Section], facts: &Facts) {
    if !sections.iter().any(stamps) {
        return;
    }
    let metal = sheet.metal.as_ref().and_then(|name| facts.metal(&name.value));
    let given = sheet.shear_strength_mpa.is_some() || sheet.tensile_strength_mpa.is_some();
    if sheet.metal.is_none() && !given {
        let message = "[sheet] names neither a metal nor a shear strength".to_owned();
        reader.missing(table, message, "give `metal = \"...\"` or `shear_strength_mpa = ...`");
        return;
    }
    if sheet.metal.is_some() && metal.is_none() {
        return; // the unknown name has been reported
    }
    let strength =
        given || metal.is_some_and(|metal| metal.shear_strength_mpa.is_some() || metal.uts_mpa.is_some());
    let tensile = sheet.tensile_strength_mpa.is_some() || metal.is_some_and(|metal| metal.uts_mpa.is_some());
    if let Some(rule) = sheet.shear_rule.as_ref().filter(|_| !tensile) {
        let message = "`shear_rule` takes the tensile strength, and none is known here".to_owned();
        reader.fault("no-strength", place_of(&rule.from), message, "give `tensile_strength_mpa`");
    }
    let allowance = metal.and_then(|metal| metal.clearance.as_ref());
    let place = sheet
        .metal
        .as_ref()
        .or(sheet.clearance_rule.as_ref())
        .map_or(reader.place(table), |known| place_of(&known.from));
    let rule = sheet.clearance_rule.as_ref().and_then(|rule| facts.clearance_rule(&rule.value));
    match rule {
        Some(rule) if rule.needs_allowance() && allowance.is_none() => {
            let message = format!(
                "the rule \"{}\" takes the metal's textbook allowance, and none is known here",
                rule.name
            );
            reader.fault(
                "no-clearance",
                place,
                message,
                "give `clearance` as a share of the thickness, or another rule",
            );
        }
        Some(rule) if rule.needs_strength() && !strength => {
            let message =
                format!("the rule \"{}\" takes the shear strength, and none is known here", rule.name);
            reader.fault("no-strength", place, message, "give `shear_strength_mpa`");
        }
        None if sheet.clearance.is_none() && sheet.clearance_rule.is_none() && allowance.is_none() => {
            let what = match &sheet.metal {
                Some(metal) => format!("the facts hold no textbook allowance for \"{}\"", metal.value),
                None => "a strength alone gives no clearance".to_owned(),
            };
            let message = format!("{what}, and the job gives no clearance for its pierced or blanked edges");
            let rules = quoted(&facts.clearance_rule_names());
            reader.fault(
                "no-clearance",
                place,
                message,
                &format!("give `clearance` as a share of the thickness, or `clearance_rule`: {rules}"),
            );
        }
        _ => {}
    }
    if !strength {
        let name = sheet.metal.as_ref().map_or("", |metal| &metal.value);
        let message =
            format!("the facts hold no shear strength for \"{name}\": no cutting force can be given");
        let place = sheet.metal.as_ref().map_or(reader.place(table), |metal| place_of(&metal.from));
        reader.push(
            Remark::warning("no-strength", message)
                .place(place)
                .cure("give `shear_strength_mpa` or `tensile_strength_mpa`"),
        );
    }
}
