//! Plans from files, and what stands on a sheet: its words, where they lie, on which page.

use package::Plan;
use sheet::{End, Item, Sheet, Text, View};

/// A hand-made plan of `tests/plans`.
pub fn plan(name: &str) -> Plan {
    let path = format!("{}/tests/plans/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("a file of tests/plans");
    serde_json::from_str(&text).expect("a plan")
}

fn of_view(view: &View) -> impl Iterator<Item = &Text> {
    view.items.iter().filter_map(|i| if let Item::Text(text) = i { Some(text) } else { None })
}

/// All words, in drawing order.
pub fn texts(sheet: &Sheet) -> Vec<String> {
    sheet.views.iter().flat_map(of_view).map(|t| t.words.clone()).collect()
}

/// All words as another program reads them from the SVG.
pub fn svg_texts(svg: &str) -> Vec<String> {
    let document = roxmltree::Document::parse(svg).expect("well-formed XML");
    let words = |n: roxmltree::Node| n.descendants().filter_map(|d| d.is_text().then(|| d.text())?).collect();
    document.descendants().filter(|n| n.has_tag_name("text")).map(words).collect()
}

/// Boxes of all words on paper: x0, y0, x1, y1 in mm, with what hangs below the baseline.
pub fn boxes(sheet: &Sheet) -> Vec<([f64; 4], String)> {
    let mut boxes = Vec::new();
    for view in &sheet.views {
        for text in of_view(view) {
            let [ox, oy] = view.origin_mm;
            let (x, y) = (ox + text.at[0] * view.scale, oy + text.at[1] * view.scale);
            let wide = text.wide_mm();
            let x0 = if text.from == End::Left { x } else { x - wide };
            boxes.push(([x0, y - 0.28 * text.size_mm, x0 + wide, y + text.size_mm], text.words.clone()));
        }
    }
    boxes
}

/// The page that a view lies on, counted from the last.
pub fn page_of(sheet: &Sheet, view: &View) -> Option<usize> {
    let high = sheet.page_mm[1];
    let [low, top] = match view.window_mm {
        Some([_, y0, _, y1]) => [y0, y1],
        None => [view.origin_mm[1], view.origin_mm[1]],
    };
    let page = (low / high).floor();
    (top < (page + 1.0) * high && (page as usize) < sheet.pages).then_some(page as usize)
}
