//! Reliefs written by hand: right ones hold, damaged ones are each refused by the fault that names them.

use crate::case::{Case, DENSITY, FEEDS, Opening, Style, Text, WIRE, passes};
use crate::damages::with;
use crate::shape::{P, Seg, Shape, along, far};
use package::{Contour, Core, Guides, Relief};
use proof::{Evidence, prove};
use std::sync::OnceLock;

const GUIDES: Guides = Guides { upper_z_mm: 7.5, lower_z_mm: -24.0 };
const STOCK: f64 = 0.004;
/// Levels of a core that are looked at, an even number, and the size of its cells.
const LEVELS: usize = 12;
const CELL: f64 = 0.012;

/// A case with a land and a relief.
#[derive(Clone)]
struct Relieved {
    case: Case,
    land: f64,
    deg: f64,
    /// What the tilted wire frees, measured.
    core: Option<Core>,
}

impl Relieved {
    fn tangent(&self) -> f64 {
        self.deg.to_radians().tan()
    }

    fn reach(&self) -> f64 {
        (WIRE / 2.0 + passes()[0][1]) / self.deg.to_radians().cos()
    }

    /// The wire's centre at a depth, seen from the edge along its inward normal.
    fn off(&self, depth: f64) -> f64 {
        self.reach() + STOCK - (depth - self.land) * self.tangent()
    }

    fn opening(&self) -> &Opening {
        &self.case.openings[0]
    }

    /// Places on the edge with their inward normals, once round; corners that the wire goes around in steps.
    fn edge(&self) -> Vec<(P, P)> {
        let segs = &self.opening().target.segs;
        let mut way = Vec::new();
        for (i, seg) in segs.iter().enumerate() {
            let steps = if seg.arc.is_some() { 160 } else { 1 };
            way.extend((0..=steps).map(|k| k as f64 / steps as f64).map(|t| (seg.at(t), seg.left(t))));
            let (u, v) = (seg.left(1.0), segs[(i + 1) % segs.len()].left(0.0));
            let turn = (u[0] * v[1] - u[1] * v[0]).atan2(u[0] * v[0] + u[1] * v[1]);
            if turn.abs() > 0.01 {
                way.extend((1..160).map(|k| {
                    let (sin, cos) = (turn * f64::from(k) / 160.0).sin_cos();
                    (seg.b, [cos * u[0] - sin * u[1], sin * u[0] + cos * u[1]])
                }));
            }
        }
        way
    }

    fn number(&self, mm: f64) -> String {
        let inches = self.case.style.inches;
        let text = if inches { format!("{:.6}", mm / 25.4) } else { format!("{mm:.4}") };
        if text.trim_matches(['-', '0', '.']).is_empty() { "0.0".to_owned() } else { text }
    }

    fn words(&self, lower: P, aside: P) -> String {
        let [x, y, u, v] = [lower[0], lower[1], aside[0], aside[1]].map(|mm| self.number(mm));
        format!("X{x} Y{y} U{u} V{v}")
    }

    /// The blocks that cut the relief, from the first cutting move.
    fn round(&self) -> Text {
        let depth_of_lower = -GUIDES.lower_z_mm;
        let apart = GUIDES.upper_z_mm - GUIDES.lower_z_mm;
        let at = |(p, n): &(P, P)| {
            let aside = [0, 1].map(|k| n[k] * apart * self.tangent());
            format!("G01 {}", self.words(along(*p, *n, self.off(depth_of_lower)), aside))
        };
        let mut text: Text = self.edge().iter().map(at).collect();
        text.dedup();
        text[0] += &format!(" F{}", self.number(FEEDS[0] / 2.0));
        text[1] += &format!(" F{}", self.number(FEEDS[0]));
        text
    }

    fn program(&self) -> Text {
        let plain = self.case.program();
        let thread = plain.iter().position(|block| block == "M60").expect("it is threaded");
        let rapid = format!("G00 {}", self.words(self.opening().start, [0.0; 2]));
        let mut text = plain[..thread - 1].to_vec();
        let [upper, lower] = [GUIDES.upper_z_mm, GUIDES.lower_z_mm].map(|mm| self.number(mm));
        text.insert(1, format!("(GUIDES UPPER Z {upper} LOWER Z {lower})"));
        text.extend([rapid.clone(), "M60".to_owned()]);
        text.extend(self.round());
        text.extend(["M50", "M00"].map(str::to_owned));
        text.extend([rapid, "M60".to_owned()]);
        text.extend_from_slice(&plain[thread + 1..]);
        text
    }

    fn evidence(&self, program: &Text) -> Evidence {
        let mut evidence = self.case.evidence(program);
        let section = &mut evidence.plan.sections[0];
        section.programs[0].guides = Some(GUIDES);
        let contour = &mut section.contours[0];
        (contour.land_mm, contour.relief_deg) = (self.land, self.deg);
        contour.cores = self.core.iter().cloned().collect();
        let relief = Relief {
            offset_mm: self.off(self.land),
            offset_at_face_mm: self.off(0.0),
            spark_gap_mm: passes()[0][1],
            stock_left_mm: STOCK,
            land_longest_mm: self.land + STOCK / self.tangent(),
            feed_mm_per_min: FEEDS[0],
            minutes: 1.0,
            lead_in: Vec::new(),
            program: "p".to_owned(),
            blocks: [1, 1],
            centre: Vec::new(),
        };
        contour.wire.iter_mut().for_each(|wire| wire.relief = Some(relief.clone()));
        evidence
    }

    /// Area of what is free at a depth, by sampling.
    fn free(&self, depth: f64) -> f64 {
        let opening = self.opening();
        let (p, n) = self.edge()[0];
        let arrives = along(p, n, self.off(depth));
        let leg = Seg::line(opening.start, arrives);
        let free = |p: &P| {
            far(*p, opening.start) > opening.hole / 2.0 - 0.01
                && leg.distance(*p) > self.reach()
                && opening.target.inside(*p) > self.off(depth) + self.reach()
        };
        // Cells of the target do not go beyond it: those below that do are looked at around it.
        let wide = self.opening().target.cells(CELL);
        let [mut low, mut high] = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        for cell in &wide {
            for k in 0..2 {
                (low[k], high[k]) = (low[k].min(cell[k] - 0.4), high[k].max(cell[k] + 0.4));
            }
        }
        let count = |k: usize| ((high[k] - low[k]) / CELL) as usize;
        let cells = (0..count(0))
            .flat_map(|i| (0..count(1)).map(move |j| [low[0] + i as f64 * CELL, low[1] + j as f64 * CELL]));
        cells.filter(free).count() as f64 * CELL * CELL
    }

    fn measured(&self) -> Self {
        Self { core: Some(self.sampled()), ..self.clone() }
    }

    fn sampled(&self) -> Core {
        let areas: Vec<f64> =
            (0..=LEVELS).map(|i| self.free(self.case.height * i as f64 / LEVELS as f64)).collect();
        let sum: f64 = areas.windows(3).step_by(2).map(|a| a[0] + 4.0 * a[1] + a[2]).sum();
        let mean = sum / (3.0 * LEVELS as f64);
        let mass_g = mean * self.case.height * DENSITY / 1000.0;
        Core { area_mm2: areas[LEVELS], mass_g, held: false, outline: Vec::new() }
    }
}

fn relieved(name: &str, target: Shape, style: Style, (height, land, deg): (f64, f64, f64)) -> Relieved {
    let start = [-0.3, -0.3];
    let (tab, rings, cores) = (None, Vec::new(), Vec::new());
    let (id, drawn, at, clearance) = ("e1", target.clone(), [0.0; 2], 0.0);
    let opening = Opening { id, target, drawn, at, clearance, start, hole: 0.2, tab, rings, cores };
    let case = Case { name: name.to_owned(), style, height, openings: vec![opening] };
    Relieved { case, land, deg, core: None }.measured()
}

fn all() -> Vec<Relieved> {
    static ALL: OnceLock<Vec<Relieved>> = OnceLock::new();
    ALL.get_or_init(every_one).clone()
}

fn every_one() -> Vec<Relieved> {
    let r = 0.3;
    let ell =
        [[-1.2, -1.2, r], [1.2, -1.2, r], [1.2, 0.0, r], [0.0, 0.0, 0.0], [0.0, 1.2, r], [-1.2, 1.2, r]];
    let ell = Shape::rounded(&ell);
    let plain = Style::default();
    let inches = Style { inches: true, ..plain };
    let centre = Style { centre_output: true, ..plain };
    let high = (12.0, 2.5, 0.75);
    vec![
        relieved("circle", Shape::circle(0.9), plain, high),
        relieved("rectangle", Shape::rectangle(2.4, 1.8, 0.4), plain, high),
        relieved("rectangle in inches", Shape::rectangle(2.4, 1.8, 0.4).turned(0.3), inches, high),
        relieved("rectangle by centres", Shape::rectangle(2.4, 1.8, 0.4).turned(-0.2), centre, high),
        // Its bottom is no farther aside than the wire is off: below a corner it does not cross over.
        relieved("ell", ell.clone(), plain, (5.0, 2.0, 1.0)),
        relieved("ell turned", ell.turned(0.2), centre, (5.0, 2.0, 1.0)),
    ]
}

/// Two of them: round, and with a corner that the wire goes around, turned and by centres.
fn some() -> [Relieved; 2] {
    let all = all();
    [all[0].clone(), all[5].clone()]
}

fn contour(evidence: &mut Evidence) -> &mut Contour {
    &mut evidence.plan.sections[0].contours[0]
}

fn relief(evidence: &mut Evidence) -> &mut Relief {
    let wire = contour(evidence).wire.as_mut().expect("it is cut");
    wire.relief.as_mut().expect("it has a relief")
}

#[test]
fn right_reliefs_hold() {
    for one in all() {
        let program = one.program();
        let proof = prove(&one.evidence(&program));
        assert!(proof.holds, "{}\n{:?}\n{:?}", one.case.name, proof.faults, proof.contours);
        let contour = &proof.contours[0];
        let found = contour.relief.expect("it is measured");
        assert_eq!(contour.cores_found, 1, "{}", one.case.name);
        assert!(found.gouge_mm < 1e-4 && found.left_mm < 2.5e-4, "{}: {found:?}", one.case.name);
        let off_land = one.land * one.tangent() + STOCK;
        assert!((found.off_land_mm - off_land).abs() < 3e-4, "{}: {found:?}", one.case.name);
    }
}

#[track_caller]
fn refused(name: &str, evidence: &Evidence, code: &str) {
    let proof = prove(evidence);
    assert!(!proof.holds, "{name} holds");
    let has = proof.faults.iter().any(|fault| fault.code == code);
    assert!(has, "{name}: {code} is not among {:?}", proof.faults);
}

/// Blocks that cut the relief.
fn tilted(text: &Text) -> std::ops::Range<usize> {
    let first = text.iter().position(|block| block.contains(" U") && block.starts_with("G01"));
    let first = first.expect("it is tilted");
    let last = text.iter().rposition(|block| block.contains(" U") && block.starts_with("G01"));
    first..last.expect("it is tilted") + 1
}

/// A text with every block of its relief changed.
fn every(text: &Text, change: impl Fn(&str) -> String) -> Text {
    let range = tilted(text);
    let one = |(i, block): (usize, &String)| if range.contains(&i) { change(block) } else { block.clone() };
    text.iter().enumerate().map(one).collect()
}

fn shifted(block: &str, letter: char, by: f64) -> String {
    with(block, letter, |value| format!("{:.6}", value + by))
}

#[test]
fn a_relief_cut_otherwise_is_refused() {
    for one in some() {
        let text = one.program();
        let range = tilted(&text);
        let check = |name: &str, text: Text, code: &str| refused(name, &one.evidence(&text), code);
        let upright = |block: &str| with(&with(block, 'U', |_| "0.0".to_owned()), 'V', |_| "0.0".to_owned());
        check("never tilted", every(&text, upright), "relief");
        let other_way =
            |block: &str| with(&with(block, 'U', |u| format!("{:.4}", -u)), 'V', |v| format!("{:.4}", -v));
        check("tilted into the land", every(&text, other_way), "off-relief");
        for by in [0.006, -0.006] {
            check("moved", every(&text, |block| shifted(block, 'X', by)), "off-relief");
            check("upper guide moved", every(&text, |block| shifted(block, 'V', by)), "off-relief");
        }
        let steeper = |block: &str| {
            with(&with(block, 'U', |u| format!("{:.4}", 1.1 * u)), 'V', |v| format!("{:.4}", 1.1 * v))
        };
        check("steeper", every(&text, steeper), "off-relief");
        let mut part = text.clone();
        part.drain(range.start + range.len() / 4..range.start + range.len() / 2);
        check("a quarter cut off", part, "off-relief");
        let mut part = text.clone();
        part.drain(range.end - range.len() / 5..range.end);
        check("not closed", part, "not-closed");
        let mut arc = text.clone();
        arc[range.start + 3] = arc[range.start + 2].replace("G01", "G03") + " I0.1 J0.0";
        check("on an arc", arc, "tilt");
        let mut fast = text.clone();
        fast[range.start + 1] = with(&fast[range.start + 1], 'F', |f| format!("{:.4}", 2.0 * f));
        check("fast", fast, "feed");
    }
}

#[test]
fn guides_that_are_left_aside_are_refused() {
    for one in some() {
        let text = one.program();
        let range = tilted(&text);
        let again = (range.end..text.len()).find(|i| text[*i].starts_with("G00")).expect("it goes back");
        let check = |name: &str, text: Text, code: &str| refused(name, &one.evidence(&text), code);
        let mut aside = text.clone();
        aside[again] = with(&aside[again], 'U', |_| "0.01".to_owned());
        check("threaded aside", aside, "tilt");
        let mut still = text.clone();
        still[again] = still[again].split(" U").next().unwrap_or_default().to_owned();
        check("not set upright", still.clone(), "tilt");
        // A pass with a little tilt left is none of the land's.
        let mut late = text.clone();
        let pass = (again..text.len()).find(|i| text[*i].contains("G01")).expect("a pass");
        late[pass] += " U0.0005";
        let proof = prove(&one.evidence(&late));
        assert!(!proof.holds, "{}: a pass with the wire tilted holds", one.case.name);
        let mut end = text.clone();
        let last =
            end.iter().rposition(|block| block.contains("G01") && block.contains(" X")).expect("a move");
        end[last] += " V0.01";
        check("aside at the end", end, "tilt");
        let mut g92 = text.clone();
        g92.insert(again + 1, "G92 U0.0 V0.0".to_owned());
        check("G92", g92, "tilt");
    }
}

#[test]
fn what_drops_is_stopped_for_and_comes_first() {
    for one in some() {
        let text = one.program();
        let range = tilted(&text);
        let heavy = one.core.as_ref().is_some_and(|core| core.mass_g > 0.021);
        if heavy {
            let mut on = text.clone();
            on.remove(range.end + 1);
            refused("no stop", &one.evidence(&on), "no-stop");
        }
        // The land first, then the relief.
        let round: Text = text[range.start - 2..range.end + 2].to_vec();
        let mut late = text.clone();
        late.drain(range.start - 2..range.end + 2);
        late.splice(late.len() - 1..late.len() - 1, round);
        refused("land first", &one.evidence(&late), "relief");
        let mut evidence = one.evidence(&text);
        contour(&mut evidence).cores[0].mass_g *= 1.05;
        refused("heavier", &evidence, "cores");
        let mut evidence = one.evidence(&text);
        contour(&mut evidence).cores.clear();
        refused("no core", &evidence, "cores");
    }
}

#[test]
fn a_wedge_thicker_than_the_land_s_kerf_comes_loose() {
    let thick = relieved("thick", Shape::rectangle(3.4, 2.8, 0.6), Style::default(), (12.0, 9.0, 1.5));
    let text = thick.program();
    refused("a ring", &thick.evidence(&text), "cores");
    let thin = Relieved { land: 2.0, ..thick }.measured();
    let proof = prove(&thin.evidence(&thin.program()));
    assert!(proof.holds, "{:?}", proof.faults);
}

#[test]
fn a_plan_that_says_otherwise_is_refused() {
    for one in some() {
        let text = one.program();
        let check = |name: &str, change: fn(&mut Evidence), code: &str| {
            let mut evidence = one.evidence(&text);
            change(&mut evidence);
            refused(name, &evidence, code);
        };
        check("other stock", |e| relief(e).stock_left_mm += 0.001, "offset");
        check("other gap", |e| relief(e).spark_gap_mm += 0.001, "offset");
        check("other face", |e| relief(e).offset_at_face_mm += 0.001, "offset");
        check("other land", |e| contour(e).land_mm += 0.5, "offset");
        check("other angle", |e| contour(e).relief_deg += 0.2, "off-relief");
        check("straight", |e| contour(e).relief_deg = 0.0, "relief");
        check("no cut of it", |e| contour(e).wire.iter_mut().for_each(|wire| wire.relief = None), "relief");
        check("no guides", |e| e.plan.sections[0].programs[0].guides = None, "guides");
        let lower = |e: &mut Evidence| {
            let guides = &mut e.plan.sections[0].programs[0].guides;
            guides.iter_mut().for_each(|guides| guides.lower_z_mm -= 1.0);
        };
        check("other guides, said by the head", lower, "guides");
        check("other guides, and cut so", lower, "off-relief");
        check(
            "guides in the block",
            |e| {
                e.plan.sections[0].programs[0].guides = Some(Guides { upper_z_mm: -1.0, lower_z_mm: -24.0 });
            },
            "guides",
        );
    }
}
