//! A sheet as SVG: the same sheet gives the same bytes.

use crate::letters::CAPITAL;
use crate::{End, Item, LineKind, Path, Sheet, Text, View};
use std::fmt::Write;

const INK: &str = "#15181A";
const PAPER: &str = "#FAFAF6";

impl Sheet {
    /// The sheet as one well-formed SVG document, true to size in millimetres, its pages one below the other.
    pub fn to_svg(&self) -> String {
        let [w, h] = self.size_mm();
        let (w, h) = (number(w), number(h));
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" xml:space=\"preserve\">\n\
             <title>{}</title>\n<rect width=\"{w}\" height=\"{h}\" fill=\"{PAPER}\"/>\n\
             <g fill=\"none\" stroke=\"{INK}\" stroke-linejoin=\"round\" font-family=\"sans-serif\">\n",
            escape(&self.name)
        );
        for (i, view) in self.views.iter().enumerate() {
            self.write_view(&mut out, i, view);
        }
        out.push_str("</g>\n</svg>\n");
        out
    }

    fn write_view(&self, out: &mut String, index: usize, view: &View) {
        let height = self.size_mm()[1];
        if let Some([x0, y0, x1, y1]) = view.window_mm {
            let (x, y, wide, high) = (number(x0), number(height - y1), number(x1 - x0), number(y1 - y0));
            let frame = format!("<rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\"");
            let _ = writeln!(
                out,
                "<clipPath id=\"v{index}\">{frame}/></clipPath>\n{frame} stroke-width=\"0.25\"/>\n\
                 <g clip-path=\"url(#v{index})\">"
            );
        }
        for group in view.items.chunk_by(one_path) {
            write_group(out, group, view, height);
        }
        if view.window_mm.is_some() {
            out.push_str("</g>\n");
        }
    }
}

/// Continuous lines of one kind that follow each other share a path: dashes would start anew anyway, and hundreds
/// of ticks need no elements of their own.
fn one_path(a: &Item, b: &Item) -> bool {
    matches!((a, b), (Item::Stroke(k, _), Item::Stroke(l, _)) if k == l && k.dashes_mm().is_empty())
}

fn write_group(out: &mut String, group: &[Item], view: &View, height: f64) {
    let mut d = String::new();
    for item in group {
        match item {
            Item::Stroke(_, path) | Item::Fill(path) => trace(&mut d, path, view, height),
            Item::Dots(dots) => {
                for dot in dots {
                    let [x, y] = on_paper(*dot, view, height);
                    let _ = write!(d, "M{} {}h0", number(x), number(y));
                }
            }
            Item::Text(text) => write_text(out, text, view, height),
        }
    }
    let _ = match &group[0] {
        Item::Text(_) => return,
        Item::Stroke(kind, _) => writeln!(out, "<path d=\"{d}\"{}/>", stroke(*kind)),
        Item::Fill(_) => writeln!(out, "<path d=\"{d}\" fill=\"{INK}\" stroke=\"none\"/>"),
        Item::Dots(_) => writeln!(out, "<path d=\"{d}\" stroke-width=\"0.3\" stroke-linecap=\"round\"/>"),
    };
}

fn stroke(kind: LineKind) -> String {
    let width = format!(" stroke-width=\"{}\"", kind.width_mm());
    let dashes: Vec<String> = kind.dashes_mm().iter().map(f64::to_string).collect();
    if dashes.is_empty() { width } else { format!("{width} stroke-dasharray=\"{}\"", dashes.join(" ")) }
}

fn write_text(out: &mut String, text: &Text, view: &View, height: f64) {
    let [x, y] = on_paper(text.at, view, height);
    let anchor = match text.from {
        End::Left => "",
        End::Right => " text-anchor=\"end\"",
    };
    let _ = writeln!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor} fill=\"{INK}\" stroke=\"none\">{}</text>",
        number(x),
        number(y),
        number(text.size_mm / CAPITAL),
        heavy_points(&text.words, text.size_mm)
    );
}

/// The words, escaped, with every decimal point made heavy by a line around it: no face need have a bold cut.
fn heavy_points(words: &str, size_mm: f64) -> String {
    let characters: Vec<char> = words.chars().collect();
    let digit = |i: usize| characters.get(i).is_some_and(char::is_ascii_digit);
    let mut out = String::new();
    let mut plain = String::new();
    for (i, c) in characters.iter().enumerate() {
        if *c == '.' && i > 0 && digit(i - 1) && digit(i + 1) {
            out.push_str(&escape(&plain));
            plain.clear();
            let width = number(size_mm * 0.1);
            let _ = write!(out, "<tspan stroke=\"{INK}\" stroke-width=\"{width}\">.</tspan>");
        } else {
            plain.push(*c);
        }
    }
    out + &escape(&plain)
}

fn on_paper(p: [f64; 2], view: &View, height: f64) -> [f64; 2] {
    [view.origin_mm[0] + p[0] * view.scale, height - view.origin_mm[1] - p[1] * view.scale]
}

fn trace(d: &mut String, path: &Path, view: &View, height: f64) {
    let n = path.vertices.len();
    for i in 0..n + usize::from(path.closed && n > 0) {
        let [x, y] = on_paper([path.vertices[i % n][0], path.vertices[i % n][1]], view, height);
        let (before, bulge) = match i {
            0 => ([x, y], 0.0),
            _ => {
                let v = path.vertices[i - 1];
                (on_paper([v[0], v[1]], view, height), v[2])
            }
        };
        let (x_text, y_text) = (number(x), number(y));
        let _ = if i == 0 {
            write!(d, "M{x_text} {y_text}")
        } else if bulge == 0.0 {
            write!(d, "L{x_text} {y_text}")
        } else {
            let chord = ((x - before[0]).powi(2) + (y - before[1]).powi(2)).sqrt();
            let r = number(chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs()));
            // The paper's y runs down in SVG: counter-clockwise there is sweep 0.
            write!(d, "A{r} {r} 0 0 {} {x_text} {y_text}", u8::from(bulge < 0.0))
        };
    }
    if path.closed {
        d.push('Z');
    }
}

/// Paper millimetres to a thousandth, never "-0".
fn number(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    format!("{}", rounded + 0.0)
}

/// Text that cannot end an element, holds no character that XML forbids and turns no reading direction.
fn escape(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' => {
                out.push('\u{FFFD}');
            }
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => out.push('\u{FFFD}'),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_points_between_figures_are_heavy() {
        let heavy = |words: &str| heavy_points(words, 7.0).matches("<tspan").count();
        assert_eq!(heavy("X +1.6000"), 1);
        assert_eq!(heavy("D1 0.1 and 0.2."), 2);
        assert_eq!(heavy("Stay. Off."), 0);
    }

    #[test]
    fn text_cannot_leave_its_element_or_turn_its_direction() {
        assert_eq!(escape("</text>&\u{202E}\u{1}"), "&lt;/text&gt;&amp;\u{FFFD}\u{FFFD}");
    }
}
