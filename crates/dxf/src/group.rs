//! The pairs of lines that DXF is made of, and the records they form.
//!
//! Stages: lines are cut from the text; two lines make a group (code, value); a group 0 and what follows it up to the next one make a
//! record. Comments (999), extended data (1000 and above), what applications keep between braces (102) and embedded objects (101) are
//! left out. Where a group code is no number, the text is searched for the next group 0 and the record before it is marked as broken.

use std::borrow::Cow;

/// One group: its code, its value without surrounding space, and the line of the value.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Group<'a> {
    pub(crate) code: i16,
    pub(crate) value: &'a [u8],
    pub(crate) line: u32,
}

impl Group<'_> {
    /// The value as text; bytes that are no UTF-8 become a replacement character.
    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(self.value).into_owned()
    }
}

/// How a record begins, and whether all of its groups could be read.
#[derive(Debug, Clone)]
pub(crate) struct Head<'a> {
    /// Value of its group 0.
    pub(crate) kind: Cow<'a, str>,
    /// Line of that value.
    pub(crate) line: u32,
    /// The first line that should have been a group code and was not, with what stood there.
    pub(crate) broken: Option<(u32, &'a [u8])>,
    /// Whether the text ended inside this record.
    pub(crate) cut_off: bool,
    /// Whether it held more groups than were wanted.
    pub(crate) overfull: bool,
}

/// Reads records one after the other.
#[derive(Debug)]
pub(crate) struct Records<'a> {
    rest: &'a [u8],
    newline: u8,
    line: u32,
    next: Option<Group<'a>>,
    most: usize,
}

enum Step<'a> {
    Group(Group<'a>),
    Broken(u32, &'a [u8]),
    End { cut_off: bool },
}

impl<'a> Records<'a> {
    /// Begins at the first group. `most` is the number of groups of one record that are kept.
    ///
    /// # Errors
    /// The line and what stood there, when the text does not begin with a group 0.
    pub(crate) fn new(text: &'a [u8], most: usize) -> Result<Self, (u32, &'a [u8])> {
        let newline = if text.contains(&b'\n') { b'\n' } else { b'\r' };
        let mut records = Self { rest: text, newline, line: 0, next: None, most };
        loop {
            match records.step() {
                Step::Group(group) if group.code == 999 => {}
                Step::Group(group) if group.code == 0 => {
                    records.next = Some(group);
                    return Ok(records);
                }
                Step::Group(group) => return Err((group.line, group.value)),
                Step::Broken(line, value) => return Err((line, value)),
                Step::End { .. } => return Err((records.line, b"")),
            }
        }
    }

    /// The next record: its head, and its groups in `groups`; none at the end of the text.
    pub(crate) fn next_record(&mut self, groups: &mut Vec<Group<'a>>) -> Option<Head<'a>> {
        groups.clear();
        let first = self.next.take()?;
        let kind = String::from_utf8_lossy(first.value);
        let mut head = Head { kind, line: first.line, broken: None, cut_off: false, overfull: false };
        let (mut in_braces, mut embedded) = (false, false);
        loop {
            match self.step() {
                Step::Group(group) if group.code == 0 => {
                    self.next = Some(group);
                    return Some(head);
                }
                Step::Group(group) => match group.code {
                    101 => embedded = true,
                    102 => in_braces = group.value.starts_with(b"{"),
                    code if in_braces || embedded || !wanted(code) => {}
                    _ if groups.len() >= self.most => head.overfull = true,
                    _ => groups.push(group),
                },
                Step::Broken(line, value) => {
                    head.broken.get_or_insert((line, value));
                    self.seek_record(value);
                }
                Step::End { cut_off } => {
                    head.cut_off = cut_off;
                    return Some(head);
                }
            }
            if self.next.is_some() {
                return Some(head);
            }
        }
    }

    /// The last line that was read.
    pub(crate) fn line(&self) -> u32 {
        self.line
    }

    fn step(&mut self) -> Step<'a> {
        let Some((code, _)) = self.take_line() else { return Step::End { cut_off: false } };
        let Some(number) = group_code(code) else {
            // Nothing but blank lines at the end is no fault.
            if code.is_empty() && self.rest.iter().all(u8::is_ascii_whitespace) {
                return Step::End { cut_off: false };
            }
            return Step::Broken(self.line, code);
        };
        match self.take_line() {
            None => Step::End { cut_off: true },
            // A value that ends with the file may have lost its last digits; an end mark has nothing to lose.
            Some((value, false)) if number != 0 || value != b"EOF" => Step::End { cut_off: true },
            Some((value, _)) => Step::Group(Group { code: number, value, line: self.line }),
        }
    }

    /// The next line without surrounding space, and whether it was ended.
    fn take_line(&mut self) -> Option<(&'a [u8], bool)> {
        if self.rest.is_empty() {
            return None;
        }
        let end = self.rest.iter().position(|&b| b == self.newline);
        let line = &self.rest[..end.unwrap_or(self.rest.len())];
        self.rest = end.map_or(&[], |end| &self.rest[end + 1..]);
        self.line += 1;
        Some((line.trim_ascii(), end.is_some()))
    }

    /// Goes on to the next place where a record can begin: a lone 0, then a name in capitals. `line` was just taken for a group code and
    /// is none; a name in capitals there begins a record, because a lost line makes its 0 look like a value.
    fn seek_record(&mut self, mut line: &'a [u8]) {
        let mut zero = true;
        loop {
            if zero && is_kind(line) {
                self.next = Some(Group { code: 0, value: line, line: self.line });
                return;
            }
            zero = line == b"0";
            let Some((next, _)) = self.take_line() else { return };
            line = next;
        }
    }
}

fn is_kind(line: &[u8]) -> bool {
    line.len() >= 3
        && line.iter().any(u8::is_ascii_uppercase)
        && line.iter().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit() || *b == b'_')
}

fn group_code(line: &[u8]) -> Option<i16> {
    let (sign, digits) = match line.strip_prefix(b"-") {
        Some(digits) => (-1, digits),
        None => (1, line),
    };
    if digits.is_empty() || digits.len() > 4 {
        return None;
    }
    let mut number = 0;
    for &digit in digits {
        number = number * 10 + i16::from(char::from(digit).to_digit(10)? as u8);
    }
    Some(sign * number)
}

/// The codes that somebody here reads; all others are passed over unread.
fn wanted(code: i16) -> bool {
    matches!(
        code,
        2 | 8
            | 9
            | 10..=13
            | 20..=23
            | 30
            | 31
            | 40..=42
            | 44
            | 45
            | 50
            | 51
            | 60
            | 62
            | 67
            | 70..=74
            | 90
            | 210
            | 220
            | 230
    )
}
