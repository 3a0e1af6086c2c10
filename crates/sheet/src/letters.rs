//! How wide words become on paper: a bound, so that nothing overlaps whatever sans-serif face the reader has.

/// Height of a capital as a share of the font size in the common sans-serif faces.
pub const CAPITAL: f64 = 0.72;

/// Widths of the characters from space to tilde, thousandths of the font size: the wider of DejaVu Sans and
/// Liberation Sans, read from the files of both faces (their tables `hmtx`).
const WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637, 637,
    637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 557, 1016, 685, 687, 723, 771, 667, 611, 778, 752, 295,
    500, 667, 558, 863, 749, 788, 667, 788, 723, 667, 611, 732, 685, 989, 686, 667, 686, 391, 337, 391, 838,
    557, 500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, 635, 635, 412, 521,
    393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
];

/// For faces a little wider than the two that were measured.
const RESERVE: f64 = 1.04;

/// Between baselines of one paragraph, in heights of a capital.
pub const LEADING: f64 = 1.5;

/// The most paper that words take, mm, with capitals `size` mm high.
pub fn width(words: &str, size: f64) -> f64 {
    let thousandths: u32 = words.chars().map(character).sum();
    f64::from(thousandths) / 1000.0 * size / CAPITAL * RESERVE
}

/// A full square for what is not in the table: wide scripts fill it, others stay below.
fn character(c: char) -> u32 {
    let index = (c as usize).checked_sub(' ' as usize);
    index.and_then(|i| WIDTHS.get(i)).map_or(1000, |w| u32::from(*w))
}

/// Words broken into lines that stay within a width, and the size at which they do.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Height of a capital, mm.
    pub size: f64,
    /// The lines, at least one.
    pub lines: Vec<String>,
}

/// Fits words into a width: on one line if any size from `size` down to `least` allows it, else on up to `lines`
/// lines at the least size; what then is left ends in an ellipsis.
pub fn fit(words: &str, wide: f64, size: f64, least: f64, lines: usize) -> Fitted {
    let needed = width(words, size);
    if needed <= wide {
        return Fitted { size, lines: vec![words.to_string()] };
    }
    let smaller = size * wide / needed;
    if smaller >= least {
        return Fitted { size: smaller, lines: vec![words.to_string()] };
    }
    Fitted { size: least, lines: cut(wrap(words, wide, least), wide, least, lines) }
}

/// Breaks words at spaces, and within a word that is wider than the line.
pub fn wrap(words: &str, wide: f64, size: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in words.split(' ') {
        let last = lines.len() - 1;
        let joined =
            if lines[last].is_empty() { word.to_string() } else { format!("{} {word}", lines[last]) };
        if width(&joined, size) <= wide {
            lines[last] = joined;
            continue;
        }
        if !lines[last].is_empty() {
            lines.push(String::new());
        }
        for c in word.chars() {
            let last = lines.len() - 1;
            if !lines[last].is_empty() && width(&format!("{}{c}", lines[last]), size) > wide {
                lines.push(String::new());
            }
            let last = lines.len() - 1;
            lines[last].push(c);
        }
    }
    lines
}

/// No more than `most` lines; an ellipsis where something was left out.
fn cut(mut lines: Vec<String>, wide: f64, size: f64, most: usize) -> Vec<String> {
    let most = most.max(1);
    if lines.len() > most {
        lines.truncate(most);
        let last = &mut lines[most - 1];
        while !last.is_empty() && width(&format!("{last}\u{2026}"), size) > wide {
            last.pop();
        }
        last.push('\u{2026}');
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_shrink_then_wrap_then_end_in_an_ellipsis_and_never_grow_wider() {
        for words in ["slot", "a job with a long name", &"w".repeat(400), "\u{1F527}\u{4E00}\u{4E8C}", ""] {
            for wide in [12.0, 30.0, 80.0] {
                let fitted = fit(words, wide, 5.0, 2.5, 2);
                assert!((2.5..=5.0).contains(&fitted.size));
                assert!((1..=2).contains(&fitted.lines.len()));
                assert!(
                    fitted.lines.iter().all(|l| width(l, fitted.size) <= wide + 1e-9),
                    "{words} {fitted:?}"
                );
            }
        }
    }

    #[test]
    fn a_word_that_fits_keeps_its_size() {
        let fitted = fit("slot", 80.0, 5.0, 2.5, 2);
        assert_eq!((fitted.size, fitted.lines), (5.0, vec!["slot".to_string()]));
    }

    #[test]
    fn wrapping_breaks_at_spaces_and_loses_nothing() {
        let lines = wrap("bore the back out 12 deep while soft", 40.0, 3.5);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), "bore the back out 12 deep while soft");
    }

    #[test]
    fn what_no_sheet_has_room_for_is_seen_to_be_cut() {
        let fitted = fit(&"w".repeat(400), 30.0, 5.0, 2.5, 2);
        assert!(fitted.lines[1].ends_with('\u{2026}'));
    }
}
