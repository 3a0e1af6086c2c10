//! A bench for planner tests: one section with one opening, planned from plain words.

use outline::{Outline, Vertex};
use package::Plan;
use plan::{DrawnEdge, Kept, Planned, Task};
use remark::Remark;
use std::f64::consts::SQRT_2;

/// One section `s` with one edge `e`.
#[derive(Debug, Clone)]
pub struct Bench {
    outline: Outline,
    height: f64,
    shop: Option<String>,
    edge: String,
    sheet: String,
    steel: String,
    section: String,
    kind: &'static str,
    relief: String,
    size: [f64; 2],
    more: Vec<(Outline, [f64; 2], String)>,
}

impl Bench {
    /// A finished edge in a block of 24 x 16 and this height.
    pub fn new(outline: Outline, height: f64) -> Self {
        Self {
            outline,
            height,
            shop: None,
            edge: "cut = \"finished\"\n".to_owned(),
            sheet: String::new(),
            steel: "D2".to_owned(),
            section: String::new(),
            kind: "die",
            relief: "relief_deg = 0\n".to_owned(),
            size: [24.0, 16.0],
            more: Vec::new(),
        }
    }

    /// The same with a shop file.
    pub fn shop(mut self, text: &str) -> Self {
        self.shop = Some(text.to_owned());
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

    /// The same in another steel.
    pub fn steel(mut self, name: &str) -> Self {
        self.steel = name.to_owned();
        self
    }

    /// The same with more words about the section.
    pub fn section(mut self, text: &str) -> Self {
        self.section = text.to_owned();
        self
    }

    /// The same as a punch.
    pub fn punch(mut self) -> Self {
        self.kind = "punch";
        self
    }

    /// The same with other words about land and relief.
    pub fn relief(mut self, text: &str) -> Self {
        self.relief = text.to_owned();
        self
    }

    /// The same in a block of other sides.
    pub fn size(mut self, size: [f64; 2]) -> Self {
        self.size = size;
        self
    }

    /// The same with another edge `e2`, `e3`, ... at a place, in these words.
    pub fn and(mut self, outline: Outline, at: [f64; 2], edge: &str) -> Self {
        self.more.push((outline, at, edge.to_owned()));
        self
    }

    /// Plans it.
    pub fn planned(&self) -> Result<Planned, Vec<Remark>> {
        self.planned_again(&Kept::default())
    }

    /// Plans it with what earlier plans have kept.
    pub fn planned_again(&self, kept: &Kept) -> Result<Planned, Vec<Remark>> {
        let mut text = format!(
            "name = \"bench\"\nunits = \"mm\"\n{}\n[[section]]\nid = \"s\"\nkind = {:?}\nsteel = {:?}\nhardness_hrc = 60\n\
             size = [{:?}, {:?}, {:?}]\n{}{}[[section.edge]]\nid = \"e\"\ndrawing = \"e.dxf\"\nat = [0.0, 0.0]\n{}",
            self.sheet,
            self.kind,
            self.steel,
            self.size[0],
            self.size[1],
            self.height,
            self.relief,
            self.section,
            self.edge
        );
        for (i, (_, at, words)) in self.more.iter().enumerate() {
            text +=
                &format!("[[section.edge]]\nid = \"e{}\"\ndrawing = \"e.dxf\"\nat = {at:?}\n{words}", i + 2);
        }
        let (job, _) = job::read_job(&text, "job.toml")?;
        let shop = match &self.shop {
            Some(text) => job::read_shop(text, "shop.toml")?.0,
            None => job::example_shop(),
        };
        let drawn = |outline: &Outline| DrawnEdge {
            file: "e.dxf".to_owned(),
            outline_id: "o1".to_owned(),
            outline: outline.clone(),
            moved_mm: 0.0,
            fitted_mm: 0.0,
            islands: Vec::new(),
        };
        let facts = job::Facts::load()?;
        let all = std::iter::once(&self.outline).chain(self.more.iter().map(|one| &one.0));
        let drawn = [all.map(drawn).collect()];
        let task = Task { job: &job, shop: &shop, facts: &facts, date: "2026-11-25", drawn: &drawn };
        plan::plan_again(&task, kept, &|| ())
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
