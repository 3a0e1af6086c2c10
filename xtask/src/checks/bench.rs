//! One section with one opening, and its outside where a row gives one, planned: what checks on whole plans stand on.

use super::row::Row;
use outline::{Outline, Vertex};
use plan::{DrawnEdge, Planned, Task};

/// Cuts the section out of a block that is so much larger on all sides, mm.
const CUT_FROM: f64 = 6.0;

/// Plans section `s` with edge `e`: `vertices` and the words that differ from a plain block of D2. Where the row gives an
/// `outside`, edge `o` cuts the section out of a larger block.
pub fn planned(row: &Row) -> Result<Planned, String> {
    let text = |key: &str, otherwise: &str| match row.given.contains_key(key) {
        true => row.text(key).map(str::to_owned),
        false => Ok(otherwise.to_owned()),
    };
    let height = if row.given.contains_key("height") { row.number("height")? } else { 20.0 };
    let outside = match row.given.contains_key("outside") {
        true => Some(outline_of(row, "outside")?),
        false => None,
    };
    let mut job = format!(
        "name = \"bench\"\nunits = \"mm\"\n{}\n[[section]]\nid = \"s\"\nkind = \"die\"\nsteel = \"{}\"\nhardness_hrc = 60\n\
         size = {}\n{}{}\n[[section.edge]]\nid = \"e\"\ndrawing = \"e.dxf\"\nat = [0.0, 0.0]\n{}",
        text("sheet", "")?,
        text("steel", "D2")?,
        text("size", &format!("[24.0, 16.0, {height:?}]"))?,
        text("relief", "relief_deg = 0\n")?,
        text("section", &cut_from(outside.as_ref()))?,
        text("edge", "cut = \"finished\"\n")?,
    );
    if outside.is_some() {
        job.push_str(
            "[[section.edge]]\nid = \"o\"\ndrawing = \"o.dxf\"\nat = [0.0, 0.0]\nside = \"outside\"\n",
        );
        job.push_str(&text("outside_edge", "cut = \"finished\"\n")?);
    }
    let (job, _) = job::read_job(&job, "job.toml").map_err(said)?;
    let shop = match row.given.contains_key("shop") {
        true => job::read_shop(row.text("shop")?, "shop.toml").map_err(said)?.0,
        false => job::example_shop(),
    };
    let facts = job::Facts::load().map_err(said)?;
    let opening = drawn("e.dxf", opening(row)?);
    let drawn = [std::iter::once(opening).chain(outside.map(|outline| drawn("o.dxf", outline))).collect()];
    plan::plan(&Task { job: &job, shop: &shop, facts: &facts, date: "2026-01-01", drawn: &drawn })
        .map_err(said)
}

/// The block that a section with this outside is cut out of, as the job says it.
fn cut_from(outside: Option<&Outline>) -> String {
    outside.map_or(String::new(), |outline| {
        let bounds = outline.bounds();
        let [x, y] = [bounds.max.x - bounds.min.x, bounds.max.y - bounds.min.y];
        format!("cut_from = [{:?}, {:?}]\n", x + 2.0 * CUT_FROM, y + 2.0 * CUT_FROM)
    })
}

fn drawn(file: &str, outline: Outline) -> DrawnEdge {
    DrawnEdge {
        file: file.to_owned(),
        outline_id: "o1".to_owned(),
        outline,
        moved_mm: 0.0,
        fitted_mm: 0.0,
        islands: Vec::new(),
    }
}

/// The outline whose `vertices` a row gives.
pub fn opening(row: &Row) -> Result<Outline, String> {
    outline_of(row, "vertices")
}

/// The outline under a key: a list of `[x, y]` or `[x, y, bulge]`.
pub fn outline_of(row: &Row, key: &str) -> Result<Outline, String> {
    let fail = || format!("`{key}` in `given` is not a list of [x, y] or [x, y, bulge]");
    let listed = row.given.get(key).and_then(|value| value.as_array()).ok_or_else(fail)?;
    let vertex = |value: &toml::Value| {
        let numbers: Option<Vec<f64>> = value.as_array()?.iter().map(super::row::numeric).collect();
        match numbers?.as_slice() {
            [x, y] => Some(Vertex::new(*x, *y, 0.0)),
            [x, y, bulge] => Some(Vertex::new(*x, *y, *bulge)),
            _ => None,
        }
    };
    let vertices: Option<Vec<Vertex>> = listed.iter().map(vertex).collect();
    Outline::new(vertices.ok_or_else(fail)?)
        .map_err(|defects| defects.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
}

/// Remarks in one line.
pub fn said(remarks: Vec<remark::Remark>) -> String {
    remarks.iter().map(|remark| remark.message.clone()).collect::<Vec<_>>().join("; ")
}
