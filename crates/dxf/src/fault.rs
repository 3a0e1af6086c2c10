//! Why one entity cannot be used, before the file's name is known.

use remark::{Place, Remark};

/// What is wrong with an entity, and where.
#[derive(Debug)]
pub(crate) struct Fault {
    pub(crate) code: &'static str,
    pub(crate) line: u32,
    pub(crate) message: String,
    pub(crate) cure: &'static str,
}

impl Fault {
    pub(crate) fn new(code: &'static str, line: u32, message: String, cure: &'static str) -> Self {
        Self { code, line, message, cure }
    }

    /// The same as an error remark about a file.
    pub(crate) fn remark(self, file: &str) -> Remark {
        Remark::error(self.code, self.message).place(Place::file(file).line(self.line)).cure(self.cure)
    }
}

/// Text of a file as a message can show it: short, one line, no control characters.
pub(crate) fn shown(value: &[u8]) -> String {
    const LONGEST: usize = 40;
    let text = String::from_utf8_lossy(&value[..value.len().min(4 * LONGEST)]);
    let mut short: String =
        text.chars().take(LONGEST).map(|c| if c.is_control() { '?' } else { c }).collect();
    if value.len() > short.len().max(LONGEST) {
        short.push_str("...");
    }
    short
}
