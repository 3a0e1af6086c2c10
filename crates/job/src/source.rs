//! The text of a file and the places in it.

use crate::known::From;
use remark::Place;
use std::ops::Range;

/// Characters are counted once per block of this many bytes, so that a column far along a very long line costs
/// no more than one block.
const BLOCK: usize = 1024;

/// A file's text with what it takes to turn byte offsets into lines and columns.
pub(crate) struct Source<'t> {
    file: &'t str,
    text: &'t str,
    /// Byte offset of the start of each line.
    lines: Vec<usize>,
    /// Characters before each block.
    characters: Vec<usize>,
}

impl<'t> Source<'t> {
    pub fn new(file: &'t str, text: &'t str) -> Self {
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let mut before = 0;
        let characters = text
            .as_bytes()
            .chunks(BLOCK)
            .map(|block| {
                let here = before;
                before += starts(block);
                here
            })
            .collect();
        Self { file, text, lines, characters }
    }

    pub fn file(&self) -> Place {
        Place::file(self.file)
    }

    /// Line and column, both from 1, the column in characters.
    pub fn line_column(&self, offset: usize) -> (u32, u32) {
        let offset = offset.min(self.text.len());
        let line = self.lines.partition_point(|&start| start <= offset).max(1);
        let start = self.lines.get(line - 1).copied().unwrap_or(0);
        let column = self.characters_before(offset).saturating_sub(self.characters_before(start)) + 1;
        (counted(line), counted(column))
    }

    pub fn place(&self, offset: usize) -> Place {
        let (line, column) = self.line_column(offset);
        Place::file(self.file).line(line).column(column)
    }

    /// The origin of a value that stands at `span`.
    pub fn from(&self, span: &Range<usize>) -> From {
        let (line, column) = self.line_column(span.start);
        let text = self.text.get(span.clone()).unwrap_or("").to_owned();
        From::File { file: self.file.to_owned(), line, column, text }
    }

    fn characters_before(&self, offset: usize) -> usize {
        let block = offset / BLOCK;
        let before = self.characters.get(block).copied().unwrap_or_else(|| {
            // The offset is the end of a text that fills its last block.
            starts(self.text.as_bytes())
        });
        before + starts(self.text.as_bytes().get(block * BLOCK..offset).unwrap_or(&[]))
    }
}

/// How many characters start in these bytes of UTF-8.
fn starts(bytes: &[u8]) -> usize {
    bytes.iter().filter(|&&byte| byte & 0xC0 != 0x80).count()
}

fn counted(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_also_far_along_a_line() {
        let text = format!("{}=1\nä = \"ö\" # {}x", "é".repeat(3000), "ü".repeat(5000));
        let source = Source::new("a.toml", &text);
        let equals = text.find('=').unwrap();
        assert_eq!(source.line_column(equals), (1, 3001));
        let quote = text.find('"').unwrap();
        assert_eq!(source.line_column(quote), (2, 5));
        let last = text.find('x').unwrap();
        assert_eq!(source.line_column(last), (2, 5011));
        assert_eq!(source.line_column(text.len()), (2, 5012));
    }

    #[test]
    fn the_end_of_a_text_that_fills_its_blocks_has_a_column() {
        let text = "a".repeat(2 * BLOCK);
        assert_eq!(Source::new("a", &text).line_column(text.len()), (1, 2 * BLOCK as u32 + 1));
        assert_eq!(Source::new("a", "").line_column(0), (1, 1));
    }
}
