//! A bench for planner tests: one section with one opening, or more, planned from plain words.

use outline::{Outline, Vertex};
use package::Plan;
use plan::{DrawnEdge, Planned, Task};
use remark::Remark;
use std::f64::consts::SQRT_2;

/// One section `s` with one edge `e`, and others `e2`, `e3` where they are asked for.
#[derive(Debug, Clone)]
pub struct Bench {
    outline: Outline,
    height: f64,
    shop: Option<String>,
    section: String,
    edge: String,
    sheet: String,
    others: Vec<(Outline, String)>,
}

impl Bench {
    /// A finished edge in a block of 24 x 16 and this height.
    pub fn new(outline: Outline, height: f64) -> Self {
        let edge = "cut = \"finished\"\n".to_owned();
        let (section, sheet) = (String::new(), String::new());
        Self { outline, height, shop: None, section, edge, sheet, others: Vec::new() }
    }

    /// The same with a shop file.
    pub fn shop(mut self, text: &str) -> Self {
        self.shop = Some(text.to_owned());
        self
    }

    /// The same with more words about the section.
    pub fn section(mut self, text: &str) -> Self {
        self.section = text.to_owned();
        self
    }

    /// The same with other words about the edge.
    pub fn edge(mut self, text: &str) -> Self {
        self.edge = text.to_owned();
        self
    }

    /// The same with a sheet.
    pub fn sheet(mut self, text: &str) -> Self {
        self.sheet = text.to_owned();
        self
    }

    /// The same with another edge, in these words, beside the others.
    pub fn also(mut self, outline: Outline, edge: &str) -> Self {
        self.others.push((outline, edge.to_owned()));
        self
    }

    /// Plans it.
    pub fn planned(&self) -> Result<Planned, Vec<Remark>> {
        let others = self.others.iter().zip(2..).map(|((_, edge), n)| {
            format!("[[section.edge]]\nid = \"e{n}\"\ndrawing = \"e{n}.dxf\"\nat = [0.0, 0.0]\n{edge}")
        });
        let text = format!(
            "name = \"bench\"\nunits = \"mm\"\n{}\n[[section]]\nid = \"s\"\nkind = \"die\"\nsteel = \"D2\"\nhardness_hrc = 60\n\
             size = [24.0, 16.0, {:?}]\nrelief_deg = 0\n{}[[section.edge]]\nid = \"e\"\ndrawing = \"e.dxf\"\nat = [0.0, 0.0]\n{}{}",
            self.sheet,
            self.height,
            self.section,
            self.edge,
            others.collect::<String>()
        );
        let (job, _) = job::read_job(&text, "job.toml")?;
        let shop = match &self.shop {
            Some(text) => job::read_shop(text, "shop.toml")?.0,
            None => job::example_shop(),
        };
        let outlines = std::iter::once(&self.outline).chain(self.others.iter().map(|(outline, _)| outline));
        let drawn = outlines.map(|outline| DrawnEdge {
            file: "e.dxf".to_owned(),
            outline_id: "o1".to_owned(),
            outline: outline.clone(),
            moved_mm: 0.0,
        });
        let facts = job::Facts::load()?;
        let drawn = [drawn.collect()];
        plan::plan(&Task { job: &job, shop: &shop, facts: &facts, date: "2026-11-25", drawn: &drawn })
    }

    /// Its plan; it must be possible to plan it.
    pub fn plan(&self) -> Plan {
        self.planned().unwrap_or_else(|faults| panic!("{faults:#?}")).plan
    }
}

/// A rectangle with round corners about the origin; a circle when the radius is half of both sides.
pub fn rounded_rectangle(width: f64, height: f64, r: f64) -> Outline {
    let (x, y, q) = (width / 2.0, height / 2.0, SQRT_2 - 1.0);
    let all = [
        (-x + r, -y, 0.0),
        (x - r, -y, q),
        (x, -y + r, 0.0),
        (x, y - r, q),
        (x - r, y, 0.0),
        (-x + r, y, q),
        (-x, y - r, 0.0),
        (-x, -y + r, q),
    ];
    let mut vertices: Vec<Vertex> = Vec::new();
    for (i, &(x, y, bulge)) in all.iter().enumerate() {
        let (nx, ny, _) = all[(i + 1) % all.len()];
        if (nx - x).hypot(ny - y) > 1e-9 {
            vertices.push(Vertex::new(x, y, bulge));
        }
    }
    Outline::new(vertices).unwrap()
}
