//! Text to blocks.
//!
//! Stages: split the text into lines (CR, LF or both end one), pass over `%` lines, read each line from left to
//! right: block delete, comments, words. Spaces count nowhere but in comments, case counts nowhere, numbers may
//! carry a plus sign and leading zeros. What cannot be read is a fault of its line and hides nothing else.

use crate::{Block, LexFault, Word};
use std::iter::Peekable;
use std::str::Chars;

/// Reads program text.
///
/// Lines without words and comments give no block. The second list holds everything that is no program text.
pub fn lex(text: &str) -> (Vec<Block>, Vec<LexFault>) {
    let mut blocks = Vec::new();
    let mut faults = Vec::new();
    let mut line_number = 0;
    // A lone CR ends a line too: a control that reads it so must not see more blocks than the proof does.
    for with_feed in text.split('\n') {
        let without = with_feed.strip_suffix('\r').unwrap_or(with_feed);
        for line in without.split('\r') {
            line_number += 1;
            if line.trim_start().starts_with('%') {
                continue;
            }
            let block = LineReader::new(line, line_number, &mut faults).read();
            if block.number.is_some() || !block.words.is_empty() || !block.comments.is_empty() {
                blocks.push(block);
            }
        }
    }
    (blocks, faults)
}

struct LineReader<'a> {
    rest: Peekable<Chars<'a>>,
    block: Block,
    faults: &'a mut Vec<LexFault>,
}

impl<'a> LineReader<'a> {
    fn new(line: &'a str, number: u32, faults: &'a mut Vec<LexFault>) -> Self {
        Self { rest: line.chars().peekable(), block: Block { line: number, ..Block::default() }, faults }
    }

    fn read(mut self) -> Block {
        while let Some(c) = self.next_dark() {
            match c {
                '(' => self.comment(),
                '/' if self.nothing_yet() && !self.block.optional => self.block.optional = true,
                c if c.is_ascii_alphabetic() => self.word(c.to_ascii_uppercase()),
                c => self.fault(format!("{c:?} stands where a word (a letter and a number) was expected")),
            }
        }
        self.block
    }

    /// The next character that is not white.
    fn next_dark(&mut self) -> Option<char> {
        self.rest.find(|c| !c.is_whitespace())
    }

    fn nothing_yet(&self) -> bool {
        self.block.number.is_none() && self.block.words.is_empty() && self.block.comments.is_empty()
    }

    fn comment(&mut self) {
        let mut text = String::new();
        loop {
            match self.rest.next() {
                Some(')') => break,
                Some('(') => {
                    self.fault("'(' inside a comment: comments do not nest".to_owned());
                    text.push('(');
                }
                Some(c) => text.push(c),
                None => {
                    self.fault("a comment does not close on its line: ')' is missing".to_owned());
                    break;
                }
            }
        }
        self.block.comments.push(text);
    }

    fn word(&mut self, letter: char) {
        let text = self.number_text();
        match parse(&text) {
            Some(value) if letter == 'N' => self.number_word(value, &text),
            Some(value) => self.block.words.push(Word { letter, value, text }),
            None if text.is_empty() => self.fault(format!("the letter {letter} carries no number")),
            None => self.fault(format!("{letter}{text}: '{text}' is no number")),
        }
    }

    fn number_text(&mut self) -> String {
        let mut text = String::new();
        while let Some(&c) = self.rest.peek() {
            if c.is_ascii_digit() || c == '.' || ((c == '+' || c == '-') && text.is_empty()) {
                text.push(c);
            } else if !c.is_whitespace() {
                break;
            }
            self.rest.next();
        }
        text
    }

    fn number_word(&mut self, value: f64, text: &str) {
        if self.block.number.is_some() || !self.block.words.is_empty() {
            self.fault(format!("N{text}: the N word comes first, and once"));
        }
        if value < 0.0 || value.fract() != 0.0 || value > f64::from(u32::MAX) {
            self.fault(format!("N{text}: an N word carries a whole number"));
        } else if self.block.number.is_none() {
            self.block.number = Some(value as u32);
        }
    }

    fn fault(&mut self, message: String) {
        self.faults.push(LexFault { line: self.block.line, message });
    }
}

/// A decimal number: an optional sign, digits, at most one point, at least one digit.
fn parse(text: &str) -> Option<f64> {
    let bare = text.strip_prefix(['+', '-']).unwrap_or(text);
    let digits = bare.bytes().any(|b| b.is_ascii_digit());
    let points = bare.bytes().filter(|&b| b == b'.').count();
    if !digits || points > 1 {
        return None;
    }
    text.parse().ok().filter(|value: &f64| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<(char, f64)> {
        let (blocks, faults) = lex(line);
        assert_eq!(faults, [], "{line}");
        blocks.iter().flat_map(|b| b.words.iter().map(|w| (w.letter, w.value))).collect()
    }

    /// Words in every dress that NISTIR 6556 (Kramer, Proctor, Messina, 2000) allows: spaces anywhere outside
    /// comments, either case, signs, leading zeros.
    #[test]
    fn words_in_every_dress() {
        let expected = [('G', 1.0), ('X', 0.1234), ('Y', 7.0)];
        for line in ["G1X0.1234Y7", "g01 x+0.1234 y007.", "G 0 1 X +0. 12 34 Y7", "\tG1 x.1234\tY+7.0 "] {
            assert_eq!(words(line), expected, "{line}");
        }
        assert_eq!(words("G17 G2 X10 Y16 I3 J4").len(), 6);
    }

    #[test]
    fn text_keeps_the_decimals() {
        let (blocks, _) = lex("X+1. 250 0");
        assert_eq!(blocks[0].words[0].text, "+1.2500");
        assert_eq!(blocks[0].words[0].value, 1.25);
    }

    #[test]
    fn blocks_know_their_line_number_and_switch() {
        let (blocks, faults) = lex("%\n\nN10 G90\r\n/ N20 G71 (in mm)\rn30(a)(b)\n%\n");
        assert_eq!(faults, []);
        let seen: Vec<_> = blocks.iter().map(|b| (b.line, b.number, b.optional)).collect();
        assert_eq!(seen, [(3, Some(10), false), (4, Some(20), true), (5, Some(30), false)]);
        assert_eq!(blocks[1].comments, ["in mm"]);
        assert_eq!(blocks[2].comments, ["a", "b"]);
    }

    #[test]
    fn rubbish_is_a_fault_of_its_line_and_hides_nothing() {
        for (line, part) in [
            ("G1 X1 (open", "does not close"),
            ("(a (b) G1", "do not nest"),
            ("G1 X1 ) Y2", "')'"),
            ("G1 X Y2", "letter X carries no number"),
            ("G1 X1.2.3", "no number"),
            ("G1 X- Y1", "no number"),
            ("12 G1", "'1'"),
            ("G1 N20 X1", "comes first"),
            ("N1.5 G1", "whole number"),
            ("N-1 G1", "whole number"),
            ("G1 X1 /", "'/'"),
            ("G1 Xé", "letter X"),
        ] {
            let (_, faults) = lex(&format!("G90\n{line}\nG71"));
            assert!(faults.iter().any(|f| f.message.contains(part)), "{line}: {faults:?}");
            assert!(faults.iter().all(|f| f.line == 2), "{line}: {faults:?}");
            let (blocks, _) = lex(&format!("G90\n{line}\nG71"));
            assert_eq!(blocks.last().map(|b| b.words[0].value), Some(71.0), "{line}");
        }
    }

    #[test]
    fn a_number_too_large_for_a_float_is_refused() {
        let (_, faults) = lex(&format!("X{}", "9".repeat(400)));
        assert_eq!(faults.len(), 1);
    }
}
