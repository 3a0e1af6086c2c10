//! A sheet as SVG: the same sheet gives the same bytes.

use crate::{Item, Path, Sheet, View};
use std::fmt::Write;

/// Height of a capital as a share of the font size in the common sans-serif faces.
const CAPITAL: f64 = 0.72;

impl Sheet {
    /// The sheet as one well-formed SVG document, true to size in millimetres.
    pub fn to_svg(&self) -> String {
        let [w, h] = self.size_mm;
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">\n\
             <title>{}</title>\n<rect width=\"{w}\" height=\"{h}\" fill=\"#FAFAF6\"/>\n\
             <g fill=\"none\" stroke=\"#15181A\" stroke-linejoin=\"round\" font-family=\"sans-serif\">\n",
            escape(&self.name)
        );
        for (i, view) in self.views.iter().enumerate() {
            if let Some([x0, y0, x1, y1]) = view.window_mm {
                let (x, y, wide, high) = (number(x0), number(h - y1), number(x1 - x0), number(y1 - y0));
                let _ = writeln!(
                    out,
                    "<clipPath id=\"v{i}\"><rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\"/></clipPath>\n\
                     <rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" stroke-width=\"0.25\"/>\n\
                     <g clip-path=\"url(#v{i})\">"
                );
            }
            for item in &view.items {
                write_item(&mut out, item, view, h);
            }
            if view.window_mm.is_some() {
                out.push_str("</g>\n");
            }
        }
        out.push_str("</g>\n</svg>\n");
        out
    }
}

fn write_item(out: &mut String, item: &Item, view: &View, height: f64) {
    let _ = match item {
        Item::Stroke(kind, path) => {
            let dashes: Vec<String> = kind.dashes_mm().iter().map(|d| d.to_string()).collect();
            let dashes = match dashes.is_empty() {
                true => String::new(),
                false => format!(" stroke-dasharray=\"{}\"", dashes.join(" ")),
            };
            writeln!(
                out,
                "<path d=\"{}\" stroke-width=\"{}\"{dashes}/>",
                trace(path, view, height),
                kind.width_mm()
            )
        }
        Item::Fill(path) => {
            writeln!(out, "<path d=\"{}\" fill=\"#15181A\" stroke=\"none\"/>", trace(path, view, height))
        }
        Item::Text { at, size_mm, words } => {
            let [x, y] = on_paper(*at, view, height);
            let size = number(size_mm / CAPITAL);
            writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" font-size=\"{size}\" fill=\"#15181A\" stroke=\"none\">{}</text>",
                number(x),
                number(y),
                escape(words)
            )
        }
    };
}

fn on_paper(p: [f64; 2], view: &View, height: f64) -> [f64; 2] {
    [view.origin_mm[0] + p[0] * view.scale, height - view.origin_mm[1] - p[1] * view.scale]
}

fn trace(path: &Path, view: &View, height: f64) -> String {
    let n = path.vertices.len();
    let mut d = String::new();
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
    d
}

/// Paper millimetres to a thousandth, never "-0".
fn number(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    format!("{}", rounded + 0.0)
}

fn escape(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => out.push('\u{FFFD}'),
            c => out.push(c),
        }
    }
    out
}
