//! What the writer writes, read back by the lexer: nothing in a comment gets out, coordinates stay within half
//! a step, and the radii of every arc agree.

use nc::{Dialect, Units, Writer, lex};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn no_text_closes_a_comment_or_starts_a_block(text in any::<String>()) {
        let mut w = Writer::new(&Dialect::default());
        w.comment(&text);
        w.end();
        check_only_comments(&w.finish())?;
    }

    #[test]
    fn nor_does_text_made_of_program_words(
        parts in prop::collection::vec(
            prop::sample::select(vec![
                "(", ")", "\n", "\r", "N10", "M02", "G00 X1", "%", "/", ";", "\u{2028}", "\u{85}", "\0", "\u{7f}", "）", "（", " ",
            ]),
            0..60,
        )
    ) {
        let mut w = Writer::new(&Dialect::default());
        w.comment(&parts.concat());
        w.end();
        check_only_comments(&w.finish())?;
    }

    #[test]
    fn moves_come_back_within_half_a_step(
        inches in any::<bool>(),
        moves in prop::collection::vec((-50.0..50.0f64, -50.0..50.0f64), 1..20),
    ) {
        let dialect = Dialect::of(if inches { Units::In } else { Units::Mm });
        let mut w = Writer::new(&dialect);
        w.feed(4.0).unwrap();
        for &(x, y) in &moves {
            w.line(x, y).unwrap();
        }
        let (blocks, faults) = lex(&w.finish());
        prop_assert_eq!(faults, []);
        let half = 0.5 * dialect.unit_mm() * 10f64.powi(-i32::from(dialect.decimals)) + 1e-9;
        prop_assert_eq!(blocks.len(), moves.len());
        for (block, (x, y)) in blocks.iter().zip(moves) {
            for (letter, mm) in [('X', x), ('Y', y)] {
                let word = block.words.iter().find(|w| w.letter == letter).unwrap();
                prop_assert!((word.value * dialect.unit_mm() - mm).abs() <= half);
                prop_assert!(!word.text.starts_with("-0.0000") || word.value != 0.0);
            }
        }
    }

    /// NISTIR 6556 calls radii that differ by more than 0.002 mm an error; rounding alone must stay far below.
    #[test]
    fn radii_of_rounded_arcs_agree(
        centre in (-50.0..50.0f64, -50.0..50.0f64),
        radius in 0.01..30.0f64,
        from in 0.0..6.3f64,
        sweep in 0.01..3.2f64,
        clockwise in any::<bool>(),
        inches in any::<bool>(),
    ) {
        let at = |angle: f64| (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin());
        let (start, end) = (at(from), at(if clockwise { from - sweep } else { from + sweep }));
        let dialect = Dialect::of(if inches { Units::In } else { Units::Mm });
        let mut w = Writer::new(&dialect);
        w.rapid(start.0, start.1).unwrap();
        w.arc(end.0, end.1, centre.0 - start.0, centre.1 - start.1, clockwise).unwrap();
        let (blocks, _) = lex(&w.finish());
        let value = |block: usize, letter: char| {
            blocks[block].words.iter().find(|w| w.letter == letter).unwrap().value * dialect.unit_mm()
        };
        let (i, j) = (value(1, 'I'), value(1, 'J'));
        let read_centre = (value(0, 'X') + i, value(0, 'Y') + j);
        let radii = [i.hypot(j), (value(1, 'X') - read_centre.0).hypot(value(1, 'Y') - read_centre.1)];
        let step = dialect.unit_mm() * 10f64.powi(-i32::from(dialect.decimals));
        // Rounding three points to half a step each moves the radii apart by less than 3 steps.
        prop_assert!((radii[0] - radii[1]).abs() < 3.0 * step, "{:?}", radii);
        prop_assert!((read_centre.0 - centre.0).hypot(read_centre.1 - centre.1) < 2.5 * step);
    }
}

/// All blocks but the last hold one comment and nothing else, by our lexer and by a plain look at the lines.
fn check_only_comments(program: &str) -> Result<(), TestCaseError> {
    let (blocks, faults) = lex(program);
    prop_assert_eq!(&faults, &[]);
    let Some((end, comments)) = blocks.split_last() else {
        return Err(TestCaseError::fail("no blocks"));
    };
    prop_assert_eq!(end.words.len(), 1);
    prop_assert!(!comments.is_empty());
    prop_assert!(comments.iter().all(|b| b.words.is_empty() && b.comments.len() == 1 && b.number.is_some()));
    for (n, line) in program.lines().enumerate() {
        let head = format!("N{} ", 10 * (n + 1));
        prop_assert!(line.is_ascii() && line.starts_with(&head));
        prop_assert!(line.len() <= 72 + 2 + 10);
        prop_assert!(!line.contains('%') && !line.chars().any(char::is_control));
        let inside = line.matches(['(', ')']).count();
        prop_assert_eq!(inside, if n + 1 == program.lines().count() { 0 } else { 2 });
    }
    Ok(())
}
