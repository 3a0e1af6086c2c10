//! A package written by hand: a shape, its drawing, its plan and the text of its program.

use crate::shape::{P, Seg, Shape, along, far};
use package::*;
use proof::Evidence;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

pub const WIRE: f64 = 0.1;
/// Density of steel, g/cm3.
pub const DENSITY: f64 = 7.7;
/// From this mass a core is taken out, g.
pub const HEAVY: f64 = 0.02;

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
    /// All main cuts, then all cores, then all skims.
    pub phases: bool,
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
    /// Width of the tab that holds the core until it is cut.
    pub tab: Option<f64>,
    /// Ways that the wire goes before the main cut, so that nothing falls.
    pub rings: Vec<Vec<P>>,
    /// Areas of the cores, measured by sampling.
    pub cores: Vec<f64>,
}

#[derive(Debug, Clone)]
pub struct Case {
    pub name: String,
    pub style: Style,
    pub height: f64,
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
pub const TAB_FEED: f64 = 3.0;
/// The tab's cut goes on this far beyond the main cut's end.
const TAB_OVERLAP: f64 = 0.02;

/// What the wire clears of its way in a main cut, to each side.
pub fn clears() -> f64 {
    WIRE / 2.0 + passes()[0][1]
}

/// Blocks without N words, each with words apart.
pub type Text = Vec<String>;

impl Case {
    pub fn program(&self) -> Text {
        let mut w = Pen { style: self.style, on: false, text: Vec::new() };
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
        if self.style.phases {
            self.in_phases(&mut w, unit);
        } else {
            w.head(unit);
            self.in_turn(&mut w);
        }
        w.put("M02");
        w.text
    }

    fn in_turn(&self, w: &mut Pen) {
        for opening in &self.openings {
            w.thread(opening.start);
            w.main(opening);
            if opening.tab.is_some() {
                w.put("M50");
                w.thread(opening.start);
                w.tab(opening);
            }
            if self.stops(opening) || opening.tab.is_some() {
                w.put("M50");
                w.put("M00");
                w.thread(opening.start);
            }
            (1..passes().len()).for_each(|pass| w.skim(opening, pass));
            w.put("M50");
        }
    }

    fn in_phases(&self, w: &mut Pen, unit: &str) {
        for kind in [PhaseKind::Mains, PhaseKind::Cores, PhaseKind::Skims] {
            let openings = self.in_phase(kind);
            if openings.is_empty() {
                continue;
            }
            w.put(&format!("(PHASE {kind:?})"));
            w.head(unit);
            for opening in openings {
                w.thread(opening.start);
                match (kind, opening.tab) {
                    (PhaseKind::Skims, _) => (1..passes().len()).for_each(|pass| w.skim(opening, pass)),
                    (PhaseKind::Cores, Some(_)) => w.tab(opening),
                    _ => w.main(opening),
                }
                w.put("M50");
                if kind == PhaseKind::Cores {
                    w.put("M00");
                }
            }
            if kind == PhaseKind::Mains {
                w.put("M00");
            }
        }
    }

    /// Openings that have something to be cut in a phase.
    fn in_phase(&self, kind: PhaseKind) -> Vec<&Opening> {
        let here = |one: &&Opening| match kind {
            PhaseKind::Mains => one.tab.is_some() || !self.stops(one),
            PhaseKind::Cores => one.tab.is_some() || self.stops(one),
            _ => true,
        };
        self.openings.iter().filter(here).collect()
    }

    pub fn mass(&self, area: f64) -> f64 {
        area * self.height * DENSITY / 1000.0
    }

    fn stops(&self, opening: &Opening) -> bool {
        self.style.takes_out || opening.cores.iter().any(|area| self.mass(*area) >= HEAVY)
    }

    /// The phases of a program by the comments that begin them.
    pub fn phases(&self, program: &[String], number: impl Fn(usize) -> u32) -> Vec<Phase> {
        let begins: Vec<usize> = (0..program.len()).filter(|i| program[*i].starts_with("(PHASE ")).collect();
        let ends = begins.iter().skip(1).map(|next| next - 1).chain([program.len() - 2]);
        let phase = |(begin, end): (&usize, usize)| {
            let kinds = [PhaseKind::Mains, PhaseKind::Cores, PhaseKind::Skims];
            let kind = kinds.into_iter().find(|kind| program[*begin].contains(&format!("{kind:?}")));
            let kind = kind.unwrap_or(PhaseKind::Edges);
            Phase {
                kind,
                attended: kind == PhaseKind::Cores,
                contours: self.in_phase(kind).iter().map(|one| one.id.to_owned()).collect(),
                blocks: [number(*begin), number(end)],
                minutes: 1.0,
            }
        };
        begins.iter().zip(ends).map(phase).collect()
    }

    pub fn evidence(&self, program: &[String]) -> Evidence {
        let mut inputs = BTreeMap::new();
        for opening in &self.openings {
            inputs.insert(format!("{}.dxf", opening.id), dxf(&opening.drawn, self.style.inches).into_bytes());
        }
        let mut programs = BTreeMap::new();
        programs.insert("programs/p.nc".to_owned(), numbered(program).into_bytes());
        let phases = self.phases(program, numbered_at);
        Evidence { plan: self.plan(&inputs, phases), inputs, programs }
    }

    fn plan(&self, inputs: &BTreeMap<String, Vec<u8>>, phases: Vec<Phase>) -> Plan {
        let program = Program {
            id: "p".to_owned(),
            path: "programs/p.nc".to_owned(),
            machine: Machine::Wire,
            face_up: FaceUp::Cutting,
            wire_mm: Some(WIRE),
            contours: self.openings.iter().map(|one| one.id.to_owned()).collect(),
            minutes: 1.0,
            functions: None,
            phases,
            guides: None,
            transform: None,
        };
        let section = PlanSection {
            halves: None,
            id: "s".to_owned(),
            kind: SectionKind::Die,
            steel: "D2".to_owned(),
            hardness_hrc: 60.0,
            size_mm: [20.0, 20.0, self.height],
            cut_from_mm: None,
            makeable: true,
            contours: self.openings.iter().map(|one| self.contour(one)).collect(),
            programs: vec![program],
            alignment: None,
            land: None,
            cavity: None,
            webs: Vec::new(),
            strength: None,
            fastening: None,
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
            stroke: None,
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
        let tab = opening.tab.map(|width_mm| Tab {
            width_mm,
            from_mm: opening.target.segs[0].a,
            to_mm: opening.target.segs[0].a,
            feed_mm_per_min: TAB_FEED,
            minutes: 1.0,
            program: "p".to_owned(),
            blocks: [1, 1],
            dress: Vec::new(),
        });
        let core = |area: &f64| Core {
            area_mm2: *area,
            mass_g: self.mass(*area),
            held: tab.is_some(),
            outline: Vec::new(),
        };
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
            outside_radius_mm: None,
            grind_stock_mm: None,
            land_mm: self.height,
            relief_deg: 0.0,
            corner_tolerance_mm: 0.03,
            corner_radius_mm: None,
            tolerance_mm: 0.005,
            start: Some(Start {
                half_round: None,
                kind: StartKind::Burned,
                x_mm: opening.start[0],
                y_mm: opening.start[1],
                hole_diameter_mm: HoleDiameter { entry: opening.hole, exit: opening.hole - 0.02 },
                electrode_mm: Some(0.2),
                depth_mm: self.height,
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
                relief: None,
                diameter_mm: WIRE,
                passes: passes().into_iter().enumerate().map(pass).collect(),
                lead_in: Vec::new(),
                tab: tab.clone(),
                erosion: opening
                    .rings
                    .iter()
                    .map(|ring| ring.iter().map(|p| [p[0], p[1], 0.0]).collect())
                    .collect(),
            }),
            missed_corners: Vec::new(),
            narrowest: None,
            islands: Vec::new(),
            cores: opening.cores.iter().map(core).collect(),
            punch: None,
            moved_mm: None,
            fitted_mm: None,
        }
    }
}

pub fn fingerprint(path: &str, bytes: &[u8]) -> InputFile {
    let sha256 = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    InputFile { path: path.to_owned(), sha256 }
}

pub fn numbered_at(i: usize) -> u32 {
    10 * (i as u32 + 1)
}

pub fn numbered(program: &[String]) -> String {
    program.iter().enumerate().map(|(i, block)| format!("N{} {block}\n", numbered_at(i))).collect()
}

impl Opening {
    /// The same, with the area of its core measured: no metal is left of the rings' core.
    pub fn measured(mut self, style: Style) -> Self {
        self.cores = if self.rings.is_empty() { vec![self.core(style)] } else { Vec::new() };
        self
    }

    /// Area of the metal that lies inside the main cut's kerf, off the start hole and off the lead-in, by sampling.
    fn core(&self, style: Style) -> f64 {
        const CELL: f64 = 0.008;
        let way = Way::of(self, style, 0);
        let mut legs = vec![(self.start, way.before)];
        if let Some(aside) = way.aside {
            legs = vec![(self.start, aside), (aside, way.before)];
        }
        legs.push((way.before, along(way.first.a, way.first.left(0.0), way.inward * way.square)));
        if self.tab.is_none() && !style.phases {
            legs.push((way.after, self.start));
            legs.push((way.after, along(way.last.b, way.last.left(1.0), way.inward * way.square)));
        }
        let legs: Vec<Seg> =
            legs.into_iter().filter(|(a, b)| far(*a, *b) > 1e-9).map(|(a, b)| Seg::line(a, b)).collect();
        let free = |p: &P| {
            let cleared = legs.iter().any(|leg| leg.distance(*p) < clears());
            far(*p, self.start) > self.hole / 2.0 - 0.01
                && !cleared
                && self.target.inside(*p) > passes()[0][0] + clears()
        };
        let cells = self.target.cells(CELL);
        cells.iter().filter(|p| free(p)).count() as f64 * CELL * CELL
    }
}

/// The way of one pass: the edge that it follows, as programmed, and the places before and after it.
struct Way {
    segs: Vec<Seg>,
    first: Seg,
    last: Seg,
    aside: Option<P>,
    before: P,
    after: P,
    /// 1 where the wire is left of the way.
    inward: f64,
    /// From the way to the wire's centre.
    square: f64,
}

impl Way {
    fn of(opening: &Opening, style: Style, pass: usize) -> Self {
        let offset = passes()[pass][0];
        let mut segs = match style.centre_output {
            true => opening.target.parallel(offset),
            false => opening.target.segs.clone(),
        };
        let mut inward = 1.0;
        if style.clockwise {
            segs = segs.iter().rev().map(Seg::reversed).collect();
            inward = -1.0;
        }
        let first = segs[0];
        if style.overlap > 0.0 {
            segs.push(part(&first, 0.0, style.overlap / first.length()));
        }
        let last = segs[segs.len() - 1];
        // Both the place before the entry and the one after the exit lie square above the edge.
        let square = if style.centre_output { 0.0 } else { offset };
        let above = |p: P, normal: P| along(p, normal, inward * (0.1 + square));
        let (before, after) = (above(first.a, first.left(0.0)), above(last.b, last.left(1.0)));
        let aside = style.bend.then(|| along(opening.start, first.direction(0.0), 0.03));
        Self { segs, first, last, aside, before, after, inward, square }
    }

    /// The share of the last piece at which the wire's centre is so far from where it began, straight on; and so much
    /// farther along the way.
    fn stops(&self, straight: f64, beyond: f64) -> f64 {
        let (short, length) = match self.last.arc {
            // Towards the wire the way is shorter.
            Some((c, sweep)) => {
                let r = far(self.last.a, c) - self.square * self.inward * sweep.signum();
                (2.0 * r * (straight / 2.0 / r).asin(), r * sweep.abs())
            }
            None => (straight, self.last.length()),
        };
        1.0 - (short + beyond) / length
    }
}

/// A part of a piece.
fn part(seg: &Seg, from: f64, to: f64) -> Seg {
    Seg { a: seg.at(from), b: seg.at(to), arc: seg.arc.map(|(c, sweep)| (c, sweep * (to - from))) }
}

struct Pen {
    style: Style,
    /// Compensation is on, and the wire is out.
    on: bool,
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

    fn head(&mut self, unit: &str) {
        [unit, "G90", "G17", "G40"].into_iter().for_each(|word| self.put(word));
        self.on = false;
    }

    /// Threads the wire; the rapid move to the place turns off what compensation the last cut left on.
    fn thread(&mut self, place: P) {
        let to = self.xy(place);
        let moved = self.text.iter().rev().find(|block| block.contains(" X") || *block == "G40");
        let here = moved.is_some_and(|last| last.ends_with(&to));
        if self.on || !here {
            let off = if self.on { "G40 " } else { "" };
            self.put(&format!("{off}G00 {to}"));
        }
        self.on = false;
        self.put("M60");
    }

    fn main(&mut self, opening: &Opening) {
        let half = self.number(FEEDS[0] / 2.0);
        for ring in &opening.rings {
            ring.iter().chain(ring.first()).for_each(|p| self.put(&format!("G01 {} F{half}", self.xy(*p))));
        }
        let mut way = Way::of(opening, self.style, 0);
        let Some(width) = opening.tab else {
            // In phases the wire is cut where it is.
            return match self.style.phases {
                true => self.lead_in(opening, &way, 1, FEEDS[0], self.style.clockwise),
                false => self.round(opening, &way, 1, FEEDS[0], self.style.clockwise),
            };
        };
        let n = way.segs.len() - 1;
        way.segs[n] = part(&way.last, 0.0, way.stops(width + 2.0 * clears(), 0.0));
        self.lead_in(opening, &way, 1, FEEDS[0], self.style.clockwise);
    }

    /// From the same lead-in along the edge against the main cut's direction, to its end and a little beyond.
    fn tab(&mut self, opening: &Opening) {
        let mut way = Way::of(opening, self.style, 0);
        let stop = way.stops(opening.tab.unwrap_or_default() + 2.0 * clears(), TAB_OVERLAP);
        way.segs = vec![part(&way.last, stop, 1.0).reversed()];
        self.lead_in(opening, &way, 1, TAB_FEED, !self.style.clockwise);
    }

    fn skim(&mut self, opening: &Opening, pass: usize) {
        let way = Way::of(opening, self.style, pass);
        self.round(opening, &way, pass + 1, FEEDS[pass], self.style.clockwise);
    }

    /// Lead-in and edge; compensation stays on.
    fn lead_in(&mut self, opening: &Opening, way: &Way, register: usize, feed: f64, right: bool) {
        let half = self.number(feed / 2.0);
        if let Some(aside) = way.aside {
            self.put(&format!("G01 {} F{half}", self.xy(aside)));
        }
        if far(opening.start, way.before) > 1e-9 {
            self.put(&format!("G01 {} F{half}", self.xy(way.before)));
        }
        let on = match (self.style.centre_output, right) {
            (true, _) => String::new(),
            (false, true) => format!("G42 D{register} "),
            (false, false) => format!("G41 D{register} "),
        };
        self.put(&format!("{on}G01 {} F{half}", self.xy(way.first.a)));
        self.put(&format!("F{}", self.number(feed)));
        for s in &way.segs {
            self.seg(s);
        }
        self.on = !self.style.centre_output;
    }

    /// Lead-in, edge, and back to the hole.
    fn round(&mut self, opening: &Opening, way: &Way, register: usize, feed: f64, right: bool) {
        self.lead_in(opening, way, register, feed, right);
        let off = if self.style.centre_output { "" } else { "G40 " };
        self.put(&format!("{off}G01 {} F{}", self.xy(way.after), self.number(feed / 2.0)));
        if far(way.after, opening.start) > 1e-9 {
            self.put(&format!("G01 {}", self.xy(opening.start)));
        }
        self.on = false;
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
