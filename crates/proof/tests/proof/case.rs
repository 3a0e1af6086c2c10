//! A package written by hand: a shape, its drawing, its plan and the text of its program.

use crate::shape::{P, Seg, Shape, along, far};
use package::*;
use proof::Evidence;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

pub const WIRE: f64 = 0.1;
pub const HEIGHT: f64 = 10.0;

/// How a program is written.
#[derive(Debug, Clone, Copy, Default)]
pub struct Style {
    pub centre_output: bool,
    pub inches: bool,
    pub clockwise: bool,
    /// The lead-in goes by way of a place that is not square above the edge.
    pub bend: bool,
    /// The pass goes on this far beyond where it began.
    pub overlap: f64,
    /// The core is taken out, and the wire threaded again, after the main cut.
    pub takes_out: bool,
}

/// One opening.
#[derive(Debug, Clone)]
pub struct Opening {
    pub id: &'static str,
    /// Finished edge in section coordinates.
    pub target: Shape,
    /// The drawn outline, drawing coordinates.
    pub drawn: Shape,
    pub at: P,
    pub clearance: f64,
    pub start: P,
    pub hole: f64,
    pub cores: usize,
}

#[derive(Debug, Clone)]
pub struct Case {
    pub name: String,
    pub style: Style,
    pub openings: Vec<Opening>,
}

/// Offset, spark gap and stock of each pass.
pub fn passes() -> Vec<[f64; 3]> {
    [0.075, 0.059, 0.053]
        .iter()
        .enumerate()
        .map(|(i, offset)| {
            let gap = if i == 0 { 0.010 } else { 0.003 };
            let stock = offset - WIRE / 2.0 - gap;
            [*offset, gap, if stock.abs() < 1e-12 { 0.0 } else { stock }]
        })
        .collect()
}

pub const FEEDS: [f64; 3] = [4.0, 8.0, 8.0];

/// Blocks without N words, each with words apart.
pub type Text = Vec<String>;

impl Case {
    pub fn program(&self) -> Text {
        let mut w = Pen { style: self.style, text: Vec::new() };
        let unit = if self.style.inches { "G70" } else { "G71" };
        w.put("(WRITTEN BY HAND)");
        let scale = if self.style.inches { 25.4 } else { 1.0 };
        for (i, [offset, ..]) in passes().iter().enumerate() {
            let (n, offset) = (i + 1, offset / scale);
            if !self.style.centre_output {
                w.put(&format!("(D{n} = {offset:.6} PASS {n})"));
            } else if self.openings.len() == 1 {
                w.put(&format!("(PASS {n} OFFSET {offset:.6})"));
            }
        }
        w.put(unit);
        w.put("G90");
        w.put("G17");
        w.put("G40");
        for opening in &self.openings {
            w.put(&format!("G00 {}", w.xy(opening.start)));
            w.put("M60");
            for pass in 0..passes().len() {
                w.pass(opening, pass);
                if pass == 0 && self.style.takes_out {
                    w.put("M50");
                    w.put("M00");
                    w.put("M60");
                }
            }
            w.put("M50");
        }
        w.put("M02");
        w.text
    }

    pub fn evidence(&self, program: &[String]) -> Evidence {
        let mut inputs = BTreeMap::new();
        for opening in &self.openings {
            inputs.insert(format!("{}.dxf", opening.id), dxf(&opening.drawn, self.style.inches).into_bytes());
        }
        let mut programs = BTreeMap::new();
        programs.insert("programs/p.nc".to_owned(), numbered(program).into_bytes());
        Evidence { plan: self.plan(&inputs), inputs, programs }
    }

    fn plan(&self, inputs: &BTreeMap<String, Vec<u8>>) -> Plan {
        let program = Program {
            id: "p".to_owned(),
            path: "programs/p.nc".to_owned(),
            machine: Machine::Wire,
            face_up: FaceUp::Cutting,
            wire_mm: Some(WIRE),
            contours: self.openings.iter().map(|one| one.id.to_owned()).collect(),
            minutes: 1.0,
            functions: None,
            transform: None,
            phases: Vec::new(),
        };
        let section = PlanSection {
            id: "s".to_owned(),
            kind: SectionKind::Die,
            steel: "D2".to_owned(),
            hardness_hrc: 60.0,
            size_mm: [20.0, 20.0, HEIGHT],
            makeable: true,
            contours: self.openings.iter().map(|one| self.contour(one)).collect(),
            programs: vec![program],
            burning: None,
            forces: Forces::default(),
        };
        Plan {
            schema: PLAN_SCHEMA.to_owned(),
            job: PlanJob {
                name: self.name.clone(),
                date: "2026-11-25".to_owned(),
                units: if self.style.inches { Units::In } else { Units::Mm },
                join_limit_mm: Some(0.001),
            },
            shop: PlanShop { name: "by hand".to_owned(), starting_values: 0 },
            inputs: inputs.iter().map(|(path, bytes)| fingerprint(path, bytes)).collect(),
            sections: vec![section],
            press: None,
            reckoning: Vec::new(),
            remarks: Vec::new(),
        }
    }

    fn contour(&self, opening: &Opening) -> Contour {
        let pass = |(i, [offset, gap, stock]): (usize, [f64; 3])| Pass {
            offset_mm: offset,
            spark_gap_mm: gap,
            stock_left_mm: stock,
            register: (!self.style.centre_output).then_some(i as u32 + 1),
            feed_mm_per_min: FEEDS[i],
            minutes: 1.0,
            program: "p".to_owned(),
            blocks: [1, 1],
            centre: Vec::new(),
        };
        let mass = if self.style.takes_out { 0.05 } else { 0.01 };
        Contour {
            id: opening.id.to_owned(),
            drawing: ContourDrawing {
                file: format!("{}.dxf", opening.id),
                outline: "o1".to_owned(),
                at_mm: opening.at,
            },
            side: Side::Inside,
            cut: if opening.clearance > 0.0 { Cut::Pierce } else { Cut::Finished },
            target: opening.target.vertices(),
            drawn: Vec::new(),
            clearance_per_side_mm: opening.clearance,
            size_shift_per_side_mm: None,
            land_mm: HEIGHT,
            relief_deg: 0.0,
            corner_tolerance_mm: 0.03,
            corner_radius_mm: None,
            tolerance_mm: 0.005,
            start: Some(Start {
                kind: StartKind::Burned,
                x_mm: opening.start[0],
                y_mm: opening.start[1],
                hole_diameter_mm: HoleDiameter { entry: opening.hole, exit: opening.hole - 0.02 },
                electrode_mm: 0.2,
                depth_mm: HEIGHT,
                room_mm: 0.01,
                room_linear_mm: 0.01,
                clean_up_probability: 1.0,
                nearest_edge_mm: None,
                may_lie_radius_mm: None,
                position: None,
                measured: None,
                back_bore: None,
            }),
            start_limits: StartLimits { largest_hole_mm: 0.3, bounds: Vec::new(), cures: Vec::new() },
            wire: Some(Wire {
                diameter_mm: WIRE,
                passes: passes().into_iter().enumerate().map(pass).collect(),
                lead_in: Vec::new(),
                tab: None,
                erosion: Vec::new(),
            }),
            missed_corners: Vec::new(),
            cores: (0..opening.cores)
                .map(|_| Core { area_mm2: 0.1, mass_g: mass, held: false, outline: Vec::new() })
                .collect(),
            moved_mm: None,
        }
    }
}

pub fn fingerprint(path: &str, bytes: &[u8]) -> InputFile {
    let sha256 = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    InputFile { path: path.to_owned(), sha256 }
}

pub fn numbered(program: &[String]) -> String {
    program.iter().enumerate().map(|(i, block)| format!("N{} {block}\n", 10 * (i + 1))).collect()
}

struct Pen {
    style: Style,
    text: Text,
}

impl Pen {
    fn put(&mut self, block: &str) {
        self.text.push(block.to_owned());
    }

    fn number(&self, mm: f64) -> String {
        let text = if self.style.inches { format!("{:.6}", mm / 25.4) } else { format!("{mm:.4}") };
        if text.trim_matches(['-', '0', '.']).is_empty() { "0.0".to_owned() } else { text }
    }

    fn xy(&self, p: P) -> String {
        format!("X{} Y{}", self.number(p[0]), self.number(p[1]))
    }

    fn seg(&mut self, s: &Seg) {
        let block = match s.arc {
            None => format!("G01 {}", self.xy(s.b)),
            Some((c, sweep)) => {
                let motion = if sweep > 0.0 { "G03" } else { "G02" };
                let (i, j) = (self.number(c[0] - s.a[0]), self.number(c[1] - s.a[1]));
                format!("{motion} {} I{i} J{j}", self.xy(s.b))
            }
        };
        self.put(&block);
    }

    fn pass(&mut self, opening: &Opening, pass: usize) {
        let offset = passes()[pass][0];
        let mut way = if self.style.centre_output {
            opening.target.parallel(offset)
        } else {
            opening.target.segs.clone()
        };
        let mut inward = 1.0;
        if self.style.clockwise {
            way = way.iter().rev().map(Seg::reversed).collect();
            inward = -1.0;
        }
        let first = way[0];
        if self.style.overlap > 0.0 {
            let t = self.style.overlap / first.length();
            let arc = first.arc.map(|(c, sweep)| (c, sweep * t));
            way.push(Seg { a: first.a, b: first.at(t), arc });
        }
        let last = way[way.len() - 1];
        // Both the place before the entry and the one after the exit lie square above the edge.
        let rise = if self.style.centre_output { 0.1 } else { 0.1 + offset };
        let above = |p: P, normal: P| along(p, normal, inward * rise);
        let (before, after) = (above(first.a, first.left(0.0)), above(last.b, last.left(1.0)));
        let half = self.number(FEEDS[pass] / 2.0);
        if self.style.bend {
            let aside = along(opening.start, first.direction(0.0), 0.03);
            self.put(&format!("G01 {} F{half}", self.xy(aside)));
        }
        if far(opening.start, before) > 1e-9 {
            self.put(&format!("G01 {} F{half}", self.xy(before)));
        }
        let on = match (self.style.centre_output, self.style.clockwise) {
            (true, _) => String::new(),
            (false, true) => format!("G42 D{} ", pass + 1),
            (false, false) => format!("G41 D{} ", pass + 1),
        };
        self.put(&format!("{on}G01 {} F{half}", self.xy(first.a)));
        self.put(&format!("F{}", self.number(FEEDS[pass])));
        for s in &way {
            self.seg(s);
        }
        let off = if self.style.centre_output { "" } else { "G40 " };
        self.put(&format!("{off}G01 {} F{half}", self.xy(after)));
        if far(after, opening.start) > 1e-9 {
            self.put(&format!("G01 {}", self.xy(opening.start)));
        }
    }
}

/// A drawing of loose lines and arcs, R12 words.
pub fn dxf(shape: &Shape, inches: bool) -> String {
    let (scale, unit) = if inches { (25.4, 1) } else { (1.0, 4) };
    let mut out =
        format!("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n");
    for s in &shape.segs {
        out += &entity(s, scale);
    }
    out + "0\nENDSEC\n0\nEOF\n"
}

pub fn entity(s: &Seg, scale: f64) -> String {
    let [a, b] = [s.a, s.b].map(|p| p.map(|v| v / scale));
    match s.arc {
        None => format!("0\nLINE\n8\n0\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", a[0], a[1], b[0], b[1]),
        Some((c, sweep)) => {
            let c = c.map(|v| v / scale);
            let angle = |p: P| (p[1] - c[1]).atan2(p[0] - c[0]).to_degrees();
            let (start, end) = if sweep > 0.0 { (angle(a), angle(b)) } else { (angle(b), angle(a)) };
            format!("0\nARC\n8\n0\n10\n{}\n20\n{}\n40\n{}\n50\n{start}\n51\n{end}\n", c[0], c[1], far(a, c))
        }
    }
}
