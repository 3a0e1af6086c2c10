//! What a burner does to the block by its program: which holes, how deep, and whether the tip ever hits anything.
//!
//! Stages: the text is run as a burner would run it, with Z 0 wherever the operator lets the tip touch at a stop; the
//! places come back into the section's own coordinates by the face that is up; each hole is held against the start
//! holes of the plan and the height of the metal there.

use crate::fault::Spot;
use crate::flatten::{Place, distance, sane};
use nc::{Block, Word};
use package::{
    Axis, BurnDepth, BurnedHole, BurnerFunctions, Burning, Contour, FaceUp, Fault, Machine, PlanSection,
    Program, StartKind,
};
use std::collections::BTreeMap;

/// A hole may lie this far from where it is planned, mm: what rounding in inches does, and no more.
const OFF_PLACE: f64 = 0.0005;
/// The tip must come out by this at least, mm, or the exit is not round (common practice, no source).
const LEAST_THROUGH: f64 = 1.0;
/// Less metal than this is nothing to burn through, mm.
const LEAST_METAL: f64 = 1e-3;
/// Lengths closer than this are the same, mm: beyond what four decimals round.
const SAME: f64 = 1e-3;

/// One hole that was burned.
#[derive(Debug, Clone, PartialEq)]
struct Hole {
    block: Option<u32>,
    /// As the program has it, mm.
    place: Place,
    /// How far the head went down, mm.
    travel: f64,
    /// Electrode that the comment before it names, mm.
    electrode: Option<f64>,
}

/// Faults of the burner programs of a section.
pub fn faults(section: &PlanSection, programs: &BTreeMap<String, Vec<u8>>) -> Vec<Fault> {
    let mine: Vec<&Program> =
        section.programs.iter().filter(|program| program.machine == Machine::Burner).collect();
    match (mine.as_slice(), &section.burning) {
        ([], None) => Vec::new(),
        ([], Some(burning)) => {
            let message = format!(
                "section `{}` names its burner program {}, and has none",
                section.id, burning.program
            );
            vec![Spot::default().fault("program-missing", message)]
        }
        ([program], Some(burning)) if program.id == burning.program => {
            one(section, program, burning, programs)
        }
        (all, _) => all
            .iter()
            .map(|program| {
                Spot::program(&program.id).fault("burning", "the plan does not say what this program burns")
            })
            .collect(),
    }
}

fn one(
    section: &PlanSection,
    program: &Program,
    burning: &Burning,
    programs: &BTreeMap<String, Vec<u8>>,
) -> Vec<Fault> {
    let spot = Spot::program(&program.id);
    let Some(bytes) = programs.get(&program.path) else {
        return vec![spot.fault("program-missing", format!("{} is missing", program.path))];
    };
    let text = String::from_utf8_lossy(bytes);
    let (blocks, wrong) = nc::lex(&text);
    let mut faults: Vec<Fault> = wrong
        .into_iter()
        .map(|fault| spot.fault("text", format!("line {}: {}", fault.line, fault.message)))
        .collect();
    faults.extend(faces(program, burning, &spot));
    let mut burner = Burner::new(burning.functions, spot.clone());
    blocks.iter().for_each(|block| burner.block(block));
    burner.ends();
    faults.append(&mut burner.faults);
    let turn = |place: Place| match program.face_up {
        FaceUp::Cutting => place,
        FaceUp::Back => [-place[0], place[1]],
    };
    let holes: Vec<Hole> =
        burner.holes.into_iter().map(|hole| Hole { place: turn(hole.place), ..hole }).collect();
    faults.extend(against(section, burning, &holes, &spot));
    faults
}

/// The face that is up is said three times; with the back up, X and only X changes its sign.
fn faces(program: &Program, burning: &Burning, spot: &Spot) -> Vec<Fault> {
    let x = if program.face_up == FaceUp::Back { Axis::MinusX } else { Axis::X };
    let turned = program.transform.map_or((Axis::X, Axis::Y), |transform| (transform.x, transform.y));
    let mut faults = Vec::new();
    if turned != (x, Axis::Y) {
        faults.push(
            spot.fault("face", "the plan turns the coordinates otherwise than the face that is up asks for"),
        );
    }
    if burning.from_face != program.face_up
        || burning.holes.iter().any(|hole| hole.from_face != program.face_up)
    {
        faults.push(spot.fault("face", "the holes are planned from another face than the program has up"));
    }
    faults
}

/// Holds the burned holes against the planned ones, in both directions.
fn against(section: &PlanSection, burning: &Burning, holes: &[Hole], spot: &Spot) -> Vec<Fault> {
    let mut faults = Vec::new();
    let wanted: Vec<&Contour> = section.contours.iter().filter(|contour| to_burn(contour)).collect();
    let at =
        |contour: &Contour| contour.start.as_ref().map_or([f64::NAN; 2], |start| [start.x_mm, start.y_mm]);
    let near = |hole: &Hole, contour: &Contour| distance(hole.place, at(contour)) <= OFF_PLACE;
    for contour in &wanted {
        let message = match holes.iter().filter(|hole| near(hole, contour)).count() {
            0 => format!("the start hole of contour `{}` is not burned", contour.id),
            1 => continue,
            n => format!("the start hole of contour `{}` is burned {n} times", contour.id),
        };
        faults.push(spot.at(at(contour)).fault("hole-count", message));
    }
    for (i, hole) in holes.iter().enumerate() {
        let here = spot.block(hole.block).at(hole.place);
        let Some(contour) = wanted.iter().find(|contour| near(hole, contour)) else {
            faults.push(here.fault("hole-elsewhere", "a hole where the plan has no start hole"));
            continue;
        };
        match burning.holes.get(i).filter(|planned| planned.contour == contour.id) {
            Some(planned) => faults.extend(depth(section, contour, (burning, planned), hole, &here)),
            None => {
                let message = format!("contour `{}` is burned out of the plan's order", contour.id);
                faults.push(here.fault("hole-count", message));
            }
        }
    }
    faults
}

/// Whether a contour's hole is still to be burned.
fn to_burn(contour: &Contour) -> bool {
    let burned = |start: &package::Start| start.kind == StartKind::Burned && start.measured.is_none();
    contour.wire.is_some() && contour.start.as_ref().is_some_and(burned)
}

/// Metal at a place, mm: the height of the block, less the back bore where the hole lies wholly in it.
fn metal(section: &PlanSection, contour: &Contour) -> f64 {
    let height = section.size_mm[2];
    let Some(start) = &contour.start else { return height };
    let bored = start.back_bore.filter(|bore| {
        let off = distance([bore.x_mm, bore.y_mm], [start.x_mm, start.y_mm]);
        off + start.hole_diameter_mm.exit / 2.0 <= bore.diameter_mm / 2.0
    });
    height - bored.map_or(0.0, |bore| bore.depth_mm)
}

/// Electrode, depth, and what must be free below.
fn depth(
    section: &PlanSection,
    contour: &Contour,
    (burning, planned): (&Burning, &BurnedHole),
    hole: &Hole,
    spot: &Spot,
) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut fault = |code: &str, message: String| faults.push(spot.fault(code, message));
    let metal = metal(section, contour);
    let electrode = contour.start.as_ref().and_then(|start| start.electrode_mm).unwrap_or(f64::NAN);
    let other = |named: f64| named.is_nan() || (named - electrode).abs() > SAME;
    if other(planned.electrode_mm) || hole.electrode.is_some_and(other) {
        fault(
            "electrode",
            format!("the hole of contour `{}` is to be burned with electrode {electrode}", contour.id),
        );
    }
    let wears = match burning.depth {
        BurnDepth::Travel => planned.wear_mm,
        BurnDepth::Tip => 0.0,
    };
    if !(0.0..=1e4).contains(&wears) || !(LEAST_METAL..=1e4).contains(&metal) {
        fault("absurd", format!("wear {wears} and metal {metal} of contour `{}`", contour.id));
        return faults;
    }
    let through = hole.travel - wears - metal;
    if through < LEAST_THROUGH {
        fault(
            "not-through",
            format!(
                "the head goes {:.4} down, of which {wears:.4} wear off, and {metal:.4} of metal are there: the tip comes out by {through:.4}",
                hole.travel
            ),
        );
    }
    if hole.travel - metal > burning.free_below_mm + SAME {
        let most = hole.travel - metal;
        fault(
            "free-below",
            format!("the tip may go {most:.4} below the block, and {} are kept free", burning.free_below_mm),
        );
    }
    faults
}

/// A burner that runs a program's text.
struct Burner {
    spot: Spot,
    functions: BurnerFunctions,
    unit: Option<f64>,
    incremental: Option<bool>,
    cutting: Option<bool>,
    feed: Option<f64>,
    at: Option<Place>,
    /// Height of the tip over the metal that it touched last, mm; nothing before the first touch.
    z: Option<f64>,
    /// Whether it has touched since it came over this place.
    touched: bool,
    /// Whether it has not gone down since it touched.
    fresh: bool,
    spark: bool,
    ended: bool,
    electrode: Option<f64>,
    holes: Vec<Hole>,
    faults: Vec<Fault>,
}

impl Burner {
    fn new(functions: BurnerFunctions, spot: Spot) -> Self {
        Self {
            spot,
            functions,
            unit: None,
            incremental: None,
            cutting: None,
            feed: None,
            at: None,
            z: None,
            touched: false,
            fresh: false,
            spark: false,
            ended: false,
            electrode: None,
            holes: Vec::new(),
            faults: Vec::new(),
        }
    }

    fn fault(&mut self, block: Option<u32>, code: &str, message: impl Into<String>) {
        let spot = self.spot.block(block);
        self.faults.push(self.at.map_or(spot.clone(), |at| spot.at(at)).fault(code, message));
    }

    fn ends(&mut self) {
        if !self.ended {
            self.fault(None, "not-ended", "the program has no end");
        }
        if self.spark || self.z.is_some_and(|z| z < 0.0) {
            self.fault(None, "spark", "the program ends with the spark on or the electrode in the block");
        }
    }

    fn block(&mut self, block: &Block) {
        for words in block.comments.iter().map(|text| text.split_whitespace().collect::<Vec<_>>()) {
            if let Some(["ELECTRODE", size, "NUMBER", ..]) =
                words.windows(3).position(|w| w[0] == "ELECTRODE" && w[2] == "NUMBER").map(|i| &words[i..])
            {
                self.electrode = size.parse().ok();
            }
        }
        if block.words.is_empty() {
            return;
        }
        if self.ended {
            return self.fault(block.number, "after-end", "a block after the end of the program");
        }
        if block.optional {
            self.fault(block.number, "unknown-word", "a block that a switch may skip cannot be proven");
        }
        for word in &block.words {
            self.word(block.number, word);
        }
        let axis = |letter: char| {
            let mut of = block.words.iter().filter(|word| word.letter == letter).map(|word| word.value);
            (of.next(), of.next().is_some())
        };
        let [(x, more_x), (y, more_y), (z, more_z)] = ['X', 'Y', 'Z'].map(axis);
        if more_x || more_y || more_z || (z.is_some() && (x.is_some() || y.is_some())) {
            return self.fault(block.number, "unknown-word", "an axis twice, or Z together with X or Y");
        }
        if x.is_some() || y.is_some() {
            self.aside(block.number, [x, y]);
        }
        if let Some(z) = z {
            self.height(block.number, z);
        }
        for word in block.words.iter().filter(|word| word.letter == 'M') {
            self.function(block.number, word.value);
        }
    }

    fn word(&mut self, block: Option<u32>, word: &Word) {
        match (word.letter, word.value) {
            ('G', 0.0) => self.cutting = Some(false),
            ('G', 1.0) => self.cutting = Some(true),
            ('G', 17.0 | 40.0) | ('M' | 'X' | 'Y' | 'Z' | 'O', _) => {}
            ('G', 20.0 | 70.0) => self.unit = Some(25.4),
            ('G', 21.0 | 71.0) => self.unit = Some(1.0),
            ('G', 90.0) => self.incremental = Some(false),
            ('G', 91.0) => self.incremental = Some(true),
            ('F', value) => self.feed = self.unit.map(|unit| value * unit),
            (letter, _) => {
                self.fault(block, "unknown-word", format!("{letter}{} is not known here", word.text))
            }
        }
    }

    /// Unit, and whether moves are steps, once both are said.
    fn modes(&mut self, block: Option<u32>) -> Option<(f64, bool)> {
        match (self.unit, self.incremental) {
            (Some(unit), Some(incremental)) => return Some((unit, incremental)),
            (None, _) => {
                self.fault(block, "unit-unknown", "a move before the program says its unit (G70, G71)")
            }
            _ => self.fault(block, "mode-unknown", "a move before G90 or G91"),
        }
        None
    }

    fn aside(&mut self, block: Option<u32>, to: [Option<f64>; 2]) {
        let Some((unit, incremental)) = self.modes(block) else { return };
        let from = self.at;
        let go = |axis: usize| match (to[axis], from) {
            (Some(value), Some(from)) if incremental => Some(from[axis] + value * unit),
            (Some(_), None) if incremental => None,
            (Some(value), _) => Some(value * unit),
            (None, from) => from.map(|from| from[axis]),
        };
        let (Some(x), Some(y)) = (go(0), go(1)) else {
            return self.fault(block, "start-unknown", "a move from a place that is not known");
        };
        if !sane([x, y]) {
            return self.fault(block, "too-large", format!("the place {x:e}, {y:e} is beyond any block"));
        }
        if self.spark || self.z.is_some_and(|z| z <= 0.0) {
            self.fault(
                block,
                "electrode-in-block",
                "a move sideways with the spark on or the tip not above the metal",
            );
        }
        if self.cutting != Some(false) {
            self.fault(block, "unknown-word", "a move sideways that is not G00");
        }
        self.at = Some([x, y]);
        self.touched = false;
    }

    fn height(&mut self, block: Option<u32>, value: f64) {
        let Some((unit, incremental)) = self.modes(block) else { return };
        let Some(from) = self.z else {
            return self.fault(block, "start-unknown", "a height before the tip has touched anything");
        };
        let to = value * unit + if incremental { from } else { 0.0 };
        if to.abs() > 1e4 {
            return self.fault(block, "too-large", format!("the height {to:e} is beyond any block"));
        }
        if to < from && to < 0.0 {
            self.down(block, to);
        }
        self.z = Some(to);
    }

    fn down(&mut self, block: Option<u32>, to: f64) {
        let Some(place) = self.at else {
            return self.fault(block, "start-unknown", "a hole at a place that is not known");
        };
        if !self.touched {
            self.fault(
                block,
                "not-touched",
                "down into the block before the tip was dressed and touched it here",
            );
        }
        if !self.spark || self.cutting != Some(true) {
            self.fault(block, "electrode-in-block", "down into the block without the spark, or not by G01");
        }
        if !self.feed.is_some_and(|feed| feed > 0.0) {
            self.fault(block, "feed-missing", "down into the block before any feed");
        }
        let again = !std::mem::take(&mut self.fresh);
        match self.holes.last_mut().filter(|last| again && last.place == place) {
            Some(last) => last.travel = last.travel.max(-to),
            None => self.holes.push(Hole { block, place, travel: -to, electrode: self.electrode }),
        }
    }

    fn function(&mut self, block: Option<u32>, value: f64) {
        let f = self.functions;
        let is = |number: u32| value == f64::from(number);
        if is(f.spark_on) {
            if self.spark {
                self.fault(block, "spark", "the spark is turned on and is on already");
            }
            self.spark = true;
        } else if is(f.spark_off) {
            if !self.spark {
                self.fault(block, "spark", "the spark is turned off and is off already");
            }
            self.spark = false;
        } else if is(f.stop) {
            if self.spark || self.z.is_some_and(|z| z < 0.0) {
                self.fault(block, "spark", "a stop with the spark on or the electrode in the block");
            }
            // At a stop the operator dresses the tip and touches the metal below it.
            (self.touched, self.fresh, self.z) = (true, true, Some(0.0));
        } else if is(f.end) {
            self.ended = true;
        } else {
            self.fault(block, "unknown-word", format!("M{value} is not known here"));
        }
    }
}
