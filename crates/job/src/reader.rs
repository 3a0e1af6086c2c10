//! Reads tables of a file field by field, keeping places and collecting every fault.
//!
//! Stages: the text becomes a tree of values with their places, as far as it can be read; opening a table reports
//! the keys that nobody knows; each field is then taken with its kind and limits. A fault never stops the reading:
//! the value counts as left out, and the file as a whole is refused at the end.

use crate::field::{Field, Limits, Want, quoted};
use crate::known::{From, Known};
use crate::near::nearest;
use crate::source::Source;
use crate::units::Units;
use remark::{Place, Remark};
use serde_spanned::Spanned;
use std::collections::HashSet;
use std::ops::Range;
use toml::de::{DeArray, DeTable, DeValue};

/// Larger files are refused unread: no job or shop comes near it, and the reader keeps several times as much.
const MOST_BYTES: usize = 4 * 1024 * 1024;

/// Code of the remark on text that is not TOML.
const NOT_TOML: &str = "not-toml";

/// So many lines that are not TOML are reported one by one.
const MOST_NOT_TOML: usize = 5;

/// A file that is being read.
pub(crate) struct Reader<'t> {
    pub source: Source<'t>,
    /// The unit of bare lengths.
    pub units: Units,
    /// Whether the text is not TOML somewhere: what stands there is lost, so nothing counts as missing.
    torn: bool,
    remarks: Vec<Remark>,
}

/// A table of the file while it is read.
pub(crate) struct Part<'d> {
    table: &'d DeTable<'d>,
    /// What to call it in messages, as in `section "vane"`.
    pub name: String,
    span: Range<usize>,
}

impl<'t> Reader<'t> {
    /// Reads the text into a tree; what is not TOML is reported.
    pub fn parse(file: &'t str, text: &'t str) -> Result<(Self, Spanned<DeTable<'t>>), Vec<Remark>> {
        let source = Source::new(file, text);
        if text.len() > MOST_BYTES {
            let message = format!("the file is {} bytes long; at most {MOST_BYTES} are read", text.len());
            return Err(vec![Remark::error("file-too-long", message).place(source.file())]);
        }
        let (tree, faults) = DeTable::parse_recoverable(text);
        let mut reader = Self { source, units: Units::Mm, torn: !faults.is_empty(), remarks: Vec::new() };
        for fault in faults {
            let place = fault.span().map_or(reader.source.file(), |span| reader.source.place(span.start));
            reader.remarks.push(
                Remark::error(NOT_TOML, format!("this is not TOML: {}", fault.message()))
                    .place(place)
                    .cure("write `key = value`, text in double quotes, tables as [name] or [[name]]"),
            );
        }
        Ok((reader, tree))
    }

    /// All remarks in the order of their places, if none is an error; else the same as the reason for refusal.
    pub fn finish<T>(mut self, read: Option<T>) -> Result<(T, Vec<Remark>), Vec<Remark>> {
        self.drop_echoes();
        self.cut_short();
        self.remarks.sort_by_key(|remark| (remark.place.line, remark.place.column));
        match read {
            Some(value) if !self.remarks.iter().any(Remark::is_error) => Ok((value, self.remarks)),
            _ => Err(self.remarks),
        }
    }

    /// A file of another kind is wrong on every line: what is wrong with its first lines is enough.
    fn cut_short(&mut self) {
        let (torn, kept): (Vec<Remark>, Vec<Remark>) =
            std::mem::take(&mut self.remarks).into_iter().partition(|remark| remark.code == NOT_TOML);
        self.remarks = kept;
        let more = torn.len().saturating_sub(MOST_NOT_TOML);
        for (i, remark) in torn.into_iter().enumerate().take(MOST_NOT_TOML + 1) {
            self.remarks.push(match i {
                MOST_NOT_TOML => {
                    let message = format!("not TOML from here on either, {more} times");
                    Remark::error(NOT_TOML, message).place(remark.place).cure("a job file or a shop file")
                }
                _ => remark,
            });
        }
    }

    /// On a line that is not TOML, what was guessed of its value is no fault of its own.
    fn drop_echoes(&mut self) {
        let torn: HashSet<_> = self
            .remarks
            .iter()
            .filter(|remark| remark.code == NOT_TOML)
            .map(|remark| remark.place.line)
            .collect();
        self.remarks.retain(|remark| remark.code == NOT_TOML || !torn.contains(&remark.place.line));
    }

    /// Opens a table: keys that none of the fields has are faults.
    pub fn open<'d>(
        &mut self,
        table: &'d DeTable<'d>,
        span: Range<usize>,
        name: &str,
        fields: &[Field],
    ) -> Part<'d> {
        for key in table.keys() {
            let word = key.get_ref().as_ref();
            if !fields.iter().any(|field| field.key == word) {
                let known: Vec<&str> = fields.iter().map(|field| field.key).collect();
                let cure = match nearest(word, known.iter().copied()) {
                    Some(meant) => format!("did you mean `{meant}`?"),
                    None => format!("keys of {name}: {}", known.join(", ")),
                };
                let message = format!("{name} has no key `{}`", shown(word));
                self.remarks.push(
                    Remark::error("unknown-key", message)
                        .place(self.source.place(key.span().start))
                        .cure(cure),
                );
            }
        }
        Part { table, name: name.to_owned(), span }
    }

    /// Reports a fault at a place of the file.
    pub fn fault(&mut self, code: &str, place: Place, message: String, cure: &str) {
        let mut remark = Remark::error(code, message).place(place);
        if !cure.is_empty() {
            remark = remark.cure(cure);
        }
        self.remarks.push(remark);
    }

    /// Keeps a remark that was made elsewhere.
    pub fn push(&mut self, remark: Remark) {
        self.remarks.push(remark);
    }

    /// Reports that something which must be there is left out.
    pub fn missing(&mut self, part: &Part, message: String, cure: &str) {
        if !self.torn {
            let place = self.place(part);
            self.fault("left-out", place, message, cure);
        }
    }

    /// Machine functions of one machine: one number cannot mean two things.
    pub fn check_functions(&mut self, part: &Part, functions: &[(&Field, &Known<u32>)]) {
        for (at, (field, number)) in functions.iter().enumerate() {
            if let Some((other, _)) = functions[..at].iter().find(|(_, before)| before.value == number.value)
            {
                let message = format!("`{}` and `{}` are both M{:02}", other.key, field.key, number.value);
                let place = part.place(&self.source, field);
                self.fault("same-function", place, message, "give each function its own M number");
            }
        }
    }

    /// Where a table begins.
    pub fn place(&self, part: &Part) -> Place {
        if part.span.is_empty() && part.span.start == 0 {
            return self.source.file();
        }
        self.source.place(part.span.start)
    }

    /// The value of a field; left out though required is a fault.
    fn take<'d>(&mut self, part: &Part<'d>, field: &Field) -> Option<&'d Spanned<DeValue<'d>>> {
        let found = part.table.iter().find(|(key, _)| key.get_ref() == field.key).map(|(_, value)| value);
        if found.is_none() && field.required {
            let message = format!("{} has no `{}`, which must be given", part.name, field.key);
            self.missing(part, message, &format!("`{}`: {}", field.key, field.about));
        }
        found
    }

    /// Reports a value of the wrong kind.
    fn wrong_kind(&mut self, field: &Field, value: &Spanned<DeValue>) {
        let message =
            format!("`{}` is {}; it wants {}", field.key, kind(value.get_ref()), field.want.words());
        self.fault("wrong-kind", self.source.place(value.span().start), message, field.about);
    }

    fn known<T>(&self, value: T, span: &Range<usize>) -> Known<T> {
        Known { value, from: self.source.from(span) }
    }

    /// A length in mm.
    pub fn length(&mut self, part: &Part, field: &Field) -> Option<Known<f64>> {
        let value = self.take(part, field)?;
        let Want::Length(limits) = field.want else { return self.refuse(field, value) };
        self.length_of(value, field, limits)
    }

    /// A bare number.
    pub fn number(&mut self, part: &Part, field: &Field) -> Option<Known<f64>> {
        let value = self.take(part, field)?;
        let Want::Number(limits, unit) = field.want else { return self.refuse(field, value) };
        self.number_of(value, field, limits, unit)
    }

    /// A whole number.
    pub fn whole(&mut self, part: &Part, field: &Field) -> Option<Known<u32>> {
        let value = self.take(part, field)?;
        let (Want::Whole(least, most), DeValue::Integer(_)) = (field.want, value.get_ref()) else {
            return self.refuse(field, value);
        };
        let number = self.number_of(value, field, Limits { least: least.into(), most: most.into() }, "")?;
        Some(number.map(|number| number as u32))
    }

    /// Text of the kind that the field wants: any, an id, or one word of a list.
    pub fn text(&mut self, part: &Part, field: &Field) -> Option<Known<String>> {
        let value = self.take(part, field)?;
        let Some(text) = value.get_ref().as_str() else { return self.refuse(field, value) };
        let place = self.source.place(value.span().start);
        if let Some((code, message, cure)) = text_fault(text, field) {
            self.fault(code, place, message, &cure);
            return None;
        }
        Some(self.known(text.to_owned(), &value.span()))
    }

    /// A list of lengths in mm, each with its own origin.
    pub fn lengths(&mut self, part: &Part, field: &Field) -> Option<Vec<Known<f64>>> {
        let value = self.take(part, field)?;
        let (Want::Lengths(limits, least, most), DeValue::Array(list)) = (field.want, value.get_ref()) else {
            return self.refuse(field, value);
        };
        if !(least..=most).contains(&list.len()) {
            let wanted = if least == most { least.to_string() } else { format!("{least} to {most}") };
            let message = format!("`{}` has {} lengths; it wants {wanted}", field.key, list.len());
            self.fault("wrong-count", self.source.place(value.span().start), message, field.about);
            return None;
        }
        let read: Vec<_> = list.iter().map(|each| self.length_of(each, field, limits)).collect();
        read.into_iter().collect()
    }

    /// A list of lengths in mm with the origin of the whole list.
    pub fn length_list(&mut self, part: &Part, field: &Field) -> Option<Known<Vec<f64>>> {
        let lengths = self.lengths(part, field)?;
        let span = self.take(part, field)?.span();
        Some(self.known(lengths.into_iter().map(|length| length.value).collect(), &span))
    }

    /// A list of pairs: a length in mm and a number.
    pub fn pairs(&mut self, part: &Part, field: &Field) -> Option<Known<Vec<[f64; 2]>>> {
        let value = self.take(part, field)?;
        let (Want::Pairs(first, second, unit), DeValue::Array(list)) = (field.want, value.get_ref()) else {
            return self.refuse(field, value);
        };
        if list.is_empty() {
            return self.refuse(field, value);
        }
        let read: Vec<_> = list.iter().map(|each| self.pair(each, field, first, second, unit)).collect();
        Some(self.known(read.into_iter().collect::<Option<Vec<_>>>()?, &value.span()))
    }

    fn pair(
        &mut self,
        value: &Spanned<DeValue>,
        field: &Field,
        first: Limits,
        second: Limits,
        unit: &str,
    ) -> Option<[f64; 2]> {
        let Some([left, right]) = value.get_ref().as_array().and_then(two) else {
            return self.refuse(field, value);
        };
        let left = self.length_of(left, field, first);
        let right = self.number_of(right, field, second, unit);
        Some([left?.value, right?.value])
    }

    /// A point as two lengths; the word `centred` or nothing is none.
    pub fn spot(&mut self, part: &Part, field: &Field) -> Option<[Known<f64>; 2]> {
        let value = self.take(part, field)?;
        match (field.want, value.get_ref()) {
            (Want::Spot(_), DeValue::String(word)) if word == "centred" => None,
            (Want::Spot(limits), DeValue::Array(list)) if list.len() == 2 => {
                let [x, y] = two(list)?;
                let (x, y) = (self.length_of(x, field, limits), self.length_of(y, field, limits));
                Some([x?, y?])
            }
            _ => self.refuse(field, value),
        }
    }

    /// A table inside this one.
    pub fn table<'d>(&mut self, part: &Part<'d>, field: &Field) -> Option<Part<'d>> {
        let value = self.take(part, field)?;
        match (field.want, value.get_ref()) {
            (Want::Table(fields), DeValue::Table(table)) => {
                Some(self.open(table, value.span(), &format!("[{}]", field.key), fields))
            }
            _ => self.refuse(field, value),
        }
    }

    /// The tables of a list, each named by its number from 1; none if the list is left out.
    pub fn rows<'d>(&mut self, part: &Part<'d>, field: &Field) -> Option<Vec<Part<'d>>> {
        let value = self.take(part, field)?;
        let (Want::Rows(fields), DeValue::Array(list)) = (field.want, value.get_ref()) else {
            return self.refuse(field, value);
        };
        if list.is_empty() {
            let message = format!("the list `{}` is empty", field.key);
            self.fault("wrong-count", self.source.place(value.span().start), message, field.about);
            return None;
        }
        let mut parts = Vec::new();
        for (index, row) in list.iter().enumerate() {
            let name = format!("{} {}", field.key, index + 1);
            match row.get_ref() {
                DeValue::Table(table) => parts.push(self.open(table, row.span(), &name, fields)),
                _ => self.refuse(field, row).unwrap_or(()),
            }
        }
        Some(parts)
    }

    /// Reports the value as one of the wrong kind and counts it as left out.
    fn refuse<T>(&mut self, field: &Field, value: &Spanned<DeValue>) -> Option<T> {
        self.wrong_kind(field, value);
        None
    }

    fn length_of(&mut self, value: &Spanned<DeValue>, field: &Field, limits: Limits) -> Option<Known<f64>> {
        let read = match value.get_ref() {
            DeValue::String(text) => length_text(text),
            bare => plain(bare).map(|number| (number, self.units)),
        };
        let Some((number, unit)) = read else { return self.refuse(field, value) };
        self.within(number, number * unit.mm(), value, field, limits, unit.word())
    }

    fn number_of(
        &mut self,
        value: &Spanned<DeValue>,
        field: &Field,
        limits: Limits,
        unit: &str,
    ) -> Option<Known<f64>> {
        let Some(number) = plain(value.get_ref()) else { return self.refuse(field, value) };
        self.within(number, number, value, field, limits, unit)
    }

    /// The number, if it is one and lies within its limits. `written` is as in the file, in `unit`.
    fn within(
        &mut self,
        written: f64,
        number: f64,
        value: &Spanned<DeValue>,
        field: &Field,
        limits: Limits,
        unit: &str,
    ) -> Option<Known<f64>> {
        if limits.hold(number) {
            return Some(self.known(number, &value.span()));
        }
        let Limits { least, most } = limits;
        let limit_unit = if unit == "in" { "mm" } else { unit };
        let message = if written.is_finite() {
            let written = format!("{written} {unit}");
            let range = format!("{least} to {most} {limit_unit}");
            format!("`{}` is {}; it must lie within {}", field.key, written.trim_end(), range.trim_end())
        } else {
            format!("`{}` is {}, which is no number to work with", field.key, shown(&text_of(value)))
        };
        let cure = format!("a value within them: {}", field.about);
        self.fault("out-of-limits", self.source.place(value.span().start), message, &cure);
        None
    }
}

impl Part<'_> {
    /// Whether the field is there, well or badly written.
    pub fn has(&self, field: &Field) -> bool {
        self.table.keys().any(|key| key.get_ref() == field.key)
    }

    /// Where a field's value is, for remarks about it.
    pub fn place(&self, source: &Source, field: &Field) -> Place {
        let value = self.table.iter().find(|(key, _)| key.get_ref() == field.key).map(|(_, value)| value);
        source.place(value.map_or(self.span.start, |value| value.span().start))
    }
}

/// The place in a file that an origin names, for remarks about the value.
pub(crate) fn place_of(from: &From) -> Place {
    match from {
        From::File { file, line, column, .. } => Place::file(file.clone()).line(*line).column(*column),
        _ => Place::default(),
    }
}

fn two<'a, 'd>(list: &'a DeArray<'d>) -> Option<[&'a Spanned<DeValue<'d>>; 2]> {
    let mut each = list.iter();
    match (each.next(), each.next(), each.next()) {
        (Some(first), Some(second), None) => Some([first, second]),
        _ => None,
    }
}

/// The number of a bare value.
fn plain(value: &DeValue) -> Option<f64> {
    match value {
        DeValue::Integer(whole) if whole.radix() == 10 => whole.as_str().parse().ok(),
        DeValue::Integer(whole) => {
            i64::from_str_radix(whole.as_str(), whole.radix()).ok().map(|whole| whole as f64)
        }
        DeValue::Float(number) => number.as_str().parse().ok(),
        _ => None,
    }
}

/// Number and unit of a length that is written as text.
fn length_text(text: &str) -> Option<(f64, Units)> {
    let text = text.trim();
    let (number, unit) = if let Some(number) = text.strip_suffix("mm") {
        (number, Units::Mm)
    } else {
        (text.strip_suffix("in")?, Units::In)
    };
    let number = number.trim_end();
    let plain = number.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'.' | b'-' | b'+' | b'e' | b'E'));
    if !plain {
        return None;
    }
    number.parse().ok().map(|number| (number, unit))
}

fn text_of(value: &Spanned<DeValue>) -> String {
    match value.get_ref() {
        DeValue::Integer(whole) => whole.as_str().to_owned(),
        DeValue::Float(number) => number.as_str().to_owned(),
        DeValue::String(text) => text.to_string(),
        _ => String::new(),
    }
}

/// What is wrong with a text, if anything: code, message, cure.
fn text_fault(text: &str, field: &Field) -> Option<(&'static str, String, String)> {
    let key = field.key;
    if text.trim().is_empty() {
        return Some(("empty-text", format!("`{key}` is empty"), field.about.to_owned()));
    }
    if text.chars().any(char::is_control) {
        let message = format!("`{key}` holds control characters such as line breaks: \"{}\"", shown(text));
        return Some(("control-characters", message, "write it in plain characters on one line".to_owned()));
    }
    match field.want {
        Want::Id if !text.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_') => {
            let message = format!(
                "`{key}` is \"{}\"; an id has only letters (a to z), digits, '-' and '_'",
                shown(text)
            );
            Some(("bad-id", message, "replace the other characters by '-' or '_'".to_owned()))
        }
        Want::Word(words) if !words.contains(&text) => {
            let message = format!("`{key}` is \"{}\"; it wants one of {}", shown(text), quoted(words));
            let cure = nearest(text, words.iter().copied());
            Some((
                "unknown-word",
                message,
                cure.map_or(String::new(), |word| format!("did you mean \"{word}\"?")),
            ))
        }
        _ => None,
    }
}

/// Text from a file as messages show it: one line, not too long.
pub(crate) fn shown(text: &str) -> String {
    let mut shown: String = text
        .chars()
        .take(60)
        .flat_map(|c| if c.is_control() { c.escape_default().collect() } else { vec![c] })
        .collect();
    if text.chars().nth(60).is_some() {
        shown.push_str("...");
    }
    shown
}

fn kind(value: &DeValue) -> String {
    match value {
        DeValue::String(text) => format!("the text \"{}\"", shown(text)),
        DeValue::Integer(number) => format!("the number {}", shown(number.as_str())),
        DeValue::Float(number) => format!("the number {}", shown(number.as_str())),
        DeValue::Boolean(yes) => format!("{yes}"),
        DeValue::Datetime(_) => "a date".to_owned(),
        DeValue::Array(list) => format!("a list of {}", list.len()),
        DeValue::Table(_) => "a table".to_owned(),
    }
}
