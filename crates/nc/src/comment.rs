//! Text of people into comment blocks: nothing that comes out can close a comment or start a block.

/// Longest comment, brackets not counted: it still fits a control's screen line.
const WIDTH: usize = 72;
/// Opens every line but the first, so that text of people cannot pass for a line that means something, such as
/// the offset of a register.
const FURTHER: &str = "+ ";

/// Splits text into lines of at most [`WIDTH`] harmless ASCII characters, broken between words where that is
/// possible. Empty text gives one empty line.
pub fn lines(text: &str) -> Vec<String> {
    let plain = plain(text);
    let mut lines = vec![String::new()];
    for word in plain.split_ascii_whitespace() {
        // All is ASCII by now, so that any byte is a place to break.
        for piece in word.as_bytes().chunks(WIDTH - FURTHER.len()).map(String::from_utf8_lossy) {
            match lines.last_mut() {
                Some(line) if line.is_empty() => line.push_str(&piece),
                Some(line) if line.len() + 1 + piece.len() <= WIDTH => {
                    line.push(' ');
                    line.push_str(&piece);
                }
                _ => lines.push(format!("{FURTHER}{piece}")),
            }
        }
    }
    lines
}

/// ASCII without brackets, control characters, `%` (the end of a tape) and `;` (on some controls the end of a
/// block).
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '(' | '{' => out.push('['),
            ')' | '}' => out.push(']'),
            ';' => out.push(','),
            '%' => out.push_str("pct"),
            ' '..='~' => out.push(c),
            c if c.is_whitespace() || c.is_control() => out.push(' '),
            c => out.push_str(spelt(c)),
        }
    }
    out
}

/// How a bench writes letters that ASCII lacks.
fn spelt(c: char) -> &'static str {
    match c {
        'ä' | 'æ' => "ae",
        'ö' | 'ø' | 'œ' => "oe",
        'ü' => "ue",
        'Ä' | 'Æ' => "Ae",
        'Ö' | 'Ø' | 'Œ' => "Oe",
        'Ü' => "Ue",
        'ß' => "ss",
        'à' | 'á' | 'â' | 'ã' | 'å' => "a",
        'À' | 'Á' | 'Â' | 'Ã' | 'Å' => "A",
        'ç' | 'č' | 'ć' => "c",
        'Ç' | 'Č' | 'Ć' => "C",
        'è' | 'é' | 'ê' | 'ë' | 'ě' | 'ę' => "e",
        'È' | 'É' | 'Ê' | 'Ë' => "E",
        'ì' | 'í' | 'î' | 'ï' => "i",
        'Ì' | 'Í' | 'Î' | 'Ï' => "I",
        'ł' => "l",
        'Ł' => "L",
        'ñ' | 'ń' => "n",
        'Ñ' => "N",
        'ò' | 'ó' | 'ô' | 'õ' => "o",
        'Ò' | 'Ó' | 'Ô' | 'Õ' => "O",
        'š' | 'ś' => "s",
        'Š' | 'Ś' => "S",
        'ù' | 'ú' | 'û' | 'ů' => "u",
        'Ù' | 'Ú' | 'Û' => "U",
        'ý' | 'ÿ' => "y",
        'ž' | 'ź' | 'ż' => "z",
        'Ž' | 'Ż' => "Z",
        'µ' | 'μ' => "u",
        '°' => "deg",
        '±' => "+-",
        '×' => "x",
        '–' | '—' | '−' => "-",
        '‘' | '’' => "'",
        '“' | '”' | '„' => "\"",
        '…' => "...",
        _ => "?",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_spelt_and_brackets_squared() {
        assert_eq!(lines("Öffnung (2) 0,3 µm ± 5 %; 日本"), ["Oeffnung [2] 0,3 um +- 5 pct, ??"]);
        assert_eq!(lines("a\nM02\r)G00"), ["a M02 ]G00"]);
        assert_eq!(lines(""), [""]);
    }

    #[test]
    fn long_text_is_broken_between_words() {
        let long = "wire ".repeat(40) + &"x".repeat(200);
        let broken = lines(&long);
        assert!(broken.len() >= 5);
        assert!(broken.iter().all(|l| l.len() <= WIDTH));
        assert!(broken[1..].iter().all(|l| l.starts_with("+ ")));
        assert_eq!(broken.concat().replace([' ', '+'], ""), long.replace(' ', ""));
    }
}
