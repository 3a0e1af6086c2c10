//! A wire machine that runs a program's text: modal words, position, wire in or out. Knows nothing of the plan but
//! the numbers of the machine's own functions.

use crate::fault::Spot;
use crate::flatten::{FARTHEST, Place, distance, sane};
use nc::{Block, Word};
use package::{Fault, MachineFunctions};

/// Radii of an arc may differ by this, mm (NISTIR 6556, The NIST RS274NGC Interpreter, Version 3, 2000).
const RADII: f64 = 0.002;

/// Places closer than this are one, mm: far below the finest step of a program.
const SAME: f64 = 1e-9;

/// Which side of its path the wire keeps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Keep {
    /// On the path: G40.
    On,
    /// Left of it, by a register: G41.
    Left(u32),
    /// Right of it, by a register: G42.
    Right(u32),
}

/// A cutting move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// N word.
    pub block: Option<u32>,
    /// Where it starts.
    pub from: Place,
    /// Where it ends.
    pub to: Place,
    /// Centre and sweep (radians, counter-clockwise positive) of an arc.
    pub arc: Option<(Place, f64)>,
    /// Compensation in force at its end.
    pub keep: Keep,
    /// Feed, mm/min.
    pub feed: f64,
    /// The upper guide seen from the lower one, at its start and at its end.
    pub aside: [Place; 2],
}

impl Move {
    /// Whether the wire is tilted anywhere in it.
    pub fn tilted(&self) -> bool {
        self.aside != UPRIGHT
    }
}

/// Both guides over each other.
const UPRIGHT: [Place; 2] = [[0.0; 2]; 2];

/// What the machine did.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// The wire was threaded here.
    Thread(Place, Option<u32>),
    /// The wire was cut.
    Cut,
    /// The program stopped for the operator.
    Stop,
    /// A rapid move to this place.
    Rapid(Place),
    /// A cutting move.
    Move(Move),
    /// Text of a comment.
    Comment(String),
}

/// What a run gave.
#[derive(Debug, Default)]
pub struct Run {
    /// Everything that happened, in order.
    pub events: Vec<Event>,
    /// Line of the text of each of them.
    pub lines: Vec<u32>,
    /// What was wrong.
    pub faults: Vec<Fault>,
    /// Millimetres in the program's unit; 1 if it never says.
    pub unit: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Motion {
    None,
    Rapid,
    Line,
    Clockwise,
    Counter,
}

struct Machine {
    spot: Spot,
    functions: MachineFunctions,
    run: Run,
    unit: Option<f64>,
    /// Whether coordinates are steps; nothing until the program says so.
    incremental: Option<bool>,
    motion: Motion,
    keep: Keep,
    register: Option<u32>,
    feed: Option<f64>,
    at: Option<Place>,
    /// The upper guide seen from the lower one.
    aside: Place,
    threaded: bool,
    ended: bool,
    /// Line of the block that runs.
    line: u32,
}

/// Runs the blocks of a program.
pub fn run(blocks: &[Block], program: &str, functions: MachineFunctions) -> Run {
    let mut machine = Machine {
        spot: Spot::program(program),
        functions,
        run: Run { unit: 1.0, ..Run::default() },
        unit: None,
        incremental: None,
        motion: Motion::None,
        keep: Keep::On,
        register: None,
        feed: None,
        at: None,
        aside: [0.0, 0.0],
        threaded: false,
        ended: false,
        line: 0,
    };
    blocks.iter().for_each(|block| machine.block(block));
    if !machine.ended {
        machine.fault(None, "not-ended", "the program has no M02 or M30");
    }
    if machine.threaded {
        machine.fault(None, "wire-left-in", "the program ends with the wire in the block");
    }
    machine.run
}

impl Machine {
    fn fault(&mut self, block: Option<u32>, code: &str, message: impl Into<String>) {
        let spot = self.spot.block(block);
        let spot = self.at.map_or(spot.clone(), |at| spot.at(at));
        self.run.faults.push(spot.fault(code, message));
    }

    fn happened(&mut self, event: Event) {
        self.run.events.push(event);
        self.run.lines.push(self.line);
    }

    fn block(&mut self, block: &Block) {
        self.line = block.line;
        block.comments.iter().for_each(|text| self.happened(Event::Comment(text.clone())));
        if block.words.is_empty() {
            return;
        }
        if self.ended {
            return self.fault(block.number, "after-end", "a block after the end of the program");
        }
        if block.optional {
            self.fault(block.number, "unknown-word", "a block that a switch may skip cannot be proven");
        }
        if let Some(letter) = twice(block) {
            self.fault(block.number, "unknown-word", format!("the block says {letter} twice"));
        }
        let mut sets_place = false;
        for word in block.words.iter().filter(|word| word.letter == 'G') {
            sets_place |= self.prepare(block.number, word.value);
        }
        for word in &block.words {
            match word.letter {
                'F' => match self.unit {
                    Some(unit) => self.feed = Some(word.value * unit),
                    None => {
                        self.fault(block.number, "unit-unknown", "a feed before the program says its unit")
                    }
                },
                'D' => self.register(block.number, word.value),
                'G' | 'M' | 'X' | 'Y' | 'U' | 'V' | 'I' | 'J' | 'O' => {}
                other => self.fault(
                    block.number,
                    "unknown-word",
                    format!("{other}{} is not known here", word.text),
                ),
            }
        }
        let axis =
            |letter: char| block.words.iter().find(|word| word.letter == letter).map(|word| word.value);
        let says = |letters: &[char]| letters.iter().any(|letter| axis(*letter).is_some());
        match (says(&['X', 'Y', 'U', 'V', 'I', 'J']), sets_place) {
            (true, true) if says(&['U', 'V']) => {
                self.fault(block.number, "tilt", "G92 moves no guide aside: say U and V in a move")
            }
            (true, true) => self.set_place(block.number, axis('X'), axis('Y')),
            (true, false) => {
                let aside = self.guided([axis('U'), axis('V')]);
                self.go(block.number, ([axis('X'), axis('Y')], aside), [axis('I'), axis('J')])
            }
            _ => {}
        }
        for word in block.words.iter().filter(|word| word.letter == 'M') {
            self.function(block.number, word.value);
        }
    }

    /// A G word; true for one that sets the place.
    fn prepare(&mut self, block: Option<u32>, value: f64) -> bool {
        match value {
            0.0 => self.motion = Motion::Rapid,
            1.0 => self.motion = Motion::Line,
            2.0 => self.motion = Motion::Clockwise,
            3.0 => self.motion = Motion::Counter,
            17.0 => {}
            20.0 | 70.0 => self.set_unit(25.4),
            21.0 | 71.0 => self.set_unit(1.0),
            40.0 => self.keep = Keep::On,
            41.0 => self.keep = Keep::Left(self.register.unwrap_or(0)),
            42.0 => self.keep = Keep::Right(self.register.unwrap_or(0)),
            90.0 => self.incremental = Some(false),
            91.0 => self.incremental = Some(true),
            92.0 => return true,
            _ => self.fault(block, "unknown-word", format!("G{value} is not known here")),
        }
        false
    }

    fn set_unit(&mut self, mm: f64) {
        self.unit = Some(mm);
        self.run.unit = mm;
    }

    fn register(&mut self, block: Option<u32>, value: f64) {
        if value.fract() != 0.0 || !(0.0..=9999.0).contains(&value) {
            return self.fault(block, "register-unknown", format!("D{value} is no register"));
        }
        self.register = Some(value as u32);
        self.keep = match self.keep {
            Keep::On => Keep::On,
            Keep::Left(_) => Keep::Left(value as u32),
            Keep::Right(_) => Keep::Right(value as u32),
        };
    }

    fn set_place(&mut self, block: Option<u32>, x: Option<f64>, y: Option<f64>) {
        let Some(unit) = self.unit else {
            return self.fault(block, "unit-unknown", "a place before the program says its unit (G70, G71)");
        };
        let old = self.at.unwrap_or([0.0, 0.0]);
        // The block's own coordinates are the only ones here: naming the place where the wire is must not move it.
        let new = [x.map_or(old[0], |x| x * unit), y.map_or(old[1], |y| y * unit)];
        match self.at {
            _ if !sane(new) => self.beyond(block, new),
            Some(at) if distance(at, new) > 1e-6 => self.fault(
                block,
                "start-unknown",
                format!("G92 gives the wire's place as {new:?}, and it is at {at:?} of the block"),
            ),
            _ => self.at = Some(new),
        }
    }

    /// Where the upper guide is to stand, seen from the lower one.
    fn guided(&self, uv: [Option<f64>; 2]) -> Place {
        let unit = self.unit.unwrap_or(1.0);
        let from = if self.incremental == Some(true) { self.aside } else { [0.0, 0.0] };
        [0, 1].map(|k| uv[k].map_or(self.aside[k], |value| from[k] + value * unit))
    }

    fn go(&mut self, block: Option<u32>, (to, aside): ([Option<f64>; 2], Place), centre: [Option<f64>; 2]) {
        let Some(unit) = self.unit else {
            return self.fault(block, "unit-unknown", "a move before the program says its unit (G70, G71)");
        };
        let Some(incremental) = self.incremental else {
            let message =
                "a move before the program says whether it counts from the datum (G90) or in steps (G91)";
            return self.fault(block, "mode-unknown", message);
        };
        let place = |axis: usize, from: Option<Place>| match (to[axis], from, incremental) {
            (Some(value), Some(from), true) => Some(from[axis] + value * unit),
            (Some(_), None, true) => None,
            (Some(value), _, false) => Some(value * unit),
            (None, from, _) => from.map(|from| from[axis]),
        };
        let (Some(x), Some(y)) = (place(0, self.at), place(1, self.at)) else {
            return self.fault(block, "start-unknown", "a move from a place that is not known");
        };
        let target = [x, y];
        if let Some(beyond) = [target, aside].into_iter().find(|place| !sane(*place)) {
            return self.beyond(block, beyond);
        }
        match self.motion {
            Motion::None => self.fault(block, "unknown-word", "a move without G00 to G03"),
            Motion::Rapid => {
                if self.threaded {
                    self.fault(block, "rapid-with-wire", "a rapid move with the wire in the block");
                }
                self.uncompensated(block, "a rapid move");
                self.happened(Event::Rapid(target));
                (self.at, self.aside) = (Some(target), aside);
            }
            _ => self.cut(block, (target, aside), [centre[0].map(|v| v * unit), centre[1].map(|v| v * unit)]),
        }
    }

    /// A fault where compensation is on and must not be. While the wire is out it may still be on from the last cut.
    fn uncompensated(&mut self, block: Option<u32>, when: &str) {
        if self.keep != Keep::On {
            self.fault(block, "compensation", format!("{when} with compensation on"));
        }
    }

    /// A fault where the guides do not stand over each other and must.
    fn upright(&mut self, block: Option<u32>, when: &str) {
        if self.aside != [0.0, 0.0] {
            let [u, v] = self.aside;
            self.fault(block, "tilt", format!("{when} with the upper guide aside, by U {u:.4} V {v:.4}"));
        }
    }

    fn beyond(&mut self, block: Option<u32>, place: Place) {
        let message = format!("the place {:e}, {:e} is beyond {FARTHEST} mm", place[0], place[1]);
        self.fault(block, "too-large", message);
    }

    fn cut(&mut self, block: Option<u32>, (to, to_aside): (Place, Place), centre: [Option<f64>; 2]) {
        let Some(from) = self.at else {
            return self.fault(block, "start-unknown", "a cut from a place that is not known");
        };
        let arc = match self.motion {
            Motion::Line => Ok(None),
            motion => arc_of(from, to, centre, motion == Motion::Counter).map(Some),
        };
        let aside = [self.aside, to_aside];
        (self.at, self.aside) = (Some(to), to_aside);
        let stands = distance(from, to) <= SAME && distance(aside[0], aside[1]) <= SAME;
        if self.motion == Motion::Line && stands {
            // Naming the place where the wire is moves nothing.
            return;
        }
        let arc = match arc {
            Ok(arc) => arc,
            Err(message) => return self.fault(block, "arc", message),
        };
        if !self.threaded {
            return self.fault(block, "cutting-without-wire", "a cutting move while no wire is threaded");
        }
        let Some(feed) = self.feed else {
            return self.fault(block, "feed-missing", "a cutting move before any feed");
        };
        if matches!(self.keep, Keep::Left(0) | Keep::Right(0)) && self.register.is_none() {
            self.fault(block, "register-missing", "compensation without a register");
        }
        if aside != UPRIGHT && arc.is_some() {
            self.fault(
                block,
                "tilt",
                "an arc with the wire tilted: each guide would need a centre of its own",
            );
        }
        if aside != UPRIGHT && self.keep != Keep::On {
            self.fault(block, "tilt", "compensation with the wire tilted");
        }
        self.happened(Event::Move(Move { block, from, to, arc, keep: self.keep, feed, aside }));
    }

    fn function(&mut self, block: Option<u32>, value: f64) {
        let f = self.functions;
        let is = |number: u32| value == f64::from(number);
        if is(f.thread) {
            match (self.threaded, self.at) {
                (true, _) => self.fault(block, "wire-twice", "the wire is threaded and in already"),
                (_, None) => {
                    self.fault(block, "start-unknown", "the wire is threaded at a place that is not known")
                }
                (false, Some(at)) => {
                    self.uncompensated(block, "the wire is threaded");
                    self.upright(block, "the wire is threaded");
                    self.threaded = true;
                    self.happened(Event::Thread(at, block));
                }
            }
        } else if is(f.cut) {
            if !std::mem::take(&mut self.threaded) {
                self.fault(block, "no-wire-to-cut", "the wire is cut and none is in");
            }
            self.happened(Event::Cut);
        } else if is(f.stop) || value == 0.0 || value == 1.0 {
            self.happened(Event::Stop);
        } else if is(f.end) || value == 2.0 || value == 30.0 {
            self.uncompensated(block, "the program ends");
            self.upright(block, "the program ends");
            self.ended = true;
        } else {
            self.fault(block, "unknown-word", format!("M{value} is not known here"));
        }
    }
}

/// What a block says twice: a letter, or two G words that contradict each other (a group of each: NISTIR 6556).
fn twice(block: &Block) -> Option<char> {
    const GROUPS: [&[f64]; 4] =
        [&[0.0, 1.0, 2.0, 3.0], &[20.0, 21.0, 70.0, 71.0], &[40.0, 41.0, 42.0], &[90.0, 91.0]];
    let count = |says: &dyn Fn(&Word) -> bool| block.words.iter().filter(|word| says(word)).count();
    let letter = |letter: &char| count(&|word| word.letter == *letter) > 1;
    let group = |group: &&[f64]| count(&|word| word.letter == 'G' && group.contains(&word.value)) > 1;
    let g = GROUPS.iter().any(group).then_some('G');
    ['X', 'Y', 'U', 'V', 'I', 'J', 'F', 'D', 'M'].into_iter().find(letter).or(g)
}

/// Centre and sweep of an arc in centre form.
fn arc_of(from: Place, to: Place, ij: [Option<f64>; 2], counter: bool) -> Result<(Place, f64), String> {
    if ij == [None, None] {
        return Err("an arc without I and J".to_owned());
    }
    let centre = [from[0] + ij[0].unwrap_or(0.0), from[1] + ij[1].unwrap_or(0.0)];
    let (r0, r1) = (distance(from, centre), distance(to, centre));
    if !sane(centre) {
        return Err(format!("an arc about a centre beyond {FARTHEST} mm"));
    }
    if (r0 - r1).abs() > RADII || r0 <= 0.0 {
        return Err(format!("an arc with radius {r0:.4} at its start and {r1:.4} at its end"));
    }
    let angle = |p: Place| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let turn = if counter { angle(to) - angle(from) } else { angle(from) - angle(to) };
    let sweep = match turn.rem_euclid(std::f64::consts::TAU) {
        // An end on the start is a full circle.
        turn if turn < 1e-12 || distance(from, to) <= SAME => std::f64::consts::TAU,
        turn => turn,
    };
    Ok((centre, if counter { sweep } else { -sweep }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn functions() -> MachineFunctions {
        MachineFunctions { thread: 60, cut: 50, stop: 0, end: 2 }
    }

    fn ran(text: &str) -> Run {
        let (blocks, faults) = nc::lex(text);
        assert!(faults.is_empty());
        run(&blocks, "p", functions())
    }

    /// NISTIR 6556: from (7, 7) `G17 G2 X10 Y16 I3 J4` has centre (10, 11), radius 5, sweep 143.130 degrees.
    #[test]
    fn an_arc_of_nistir_6556() {
        let run = ran("G71 G90 G00 X7 Y7\nM60\nF5\nG17 G2 X10 Y16 I3 J4\nM50\nM02");
        assert!(run.faults.is_empty(), "{:?}", run.faults);
        let arc = run.events.iter().find_map(|event| match event {
            Event::Move(one) => one.arc,
            _ => None,
        });
        let (centre, sweep) = arc.expect("an arc");
        assert_eq!(centre, [10.0, 11.0]);
        assert!((sweep.to_degrees() + 143.130).abs() < 1e-3, "{}", sweep.to_degrees());
    }

    /// Where a program never says its unit, what its head says is read in millimetres.
    #[test]
    fn the_unit_is_the_one_said_or_a_millimetre() {
        let said = ["G71 G90\nM02", "G70 G90\nM02", "G90\nM02"];
        assert_eq!(said.map(|text| ran(text).unit), [1.0, 25.4, 1.0]);
    }

    #[test]
    fn what_a_machine_would_do_wrong_is_a_fault() {
        let code = |text: &str| ran(text).faults.into_iter().map(|fault| fault.code).collect::<Vec<_>>();
        let head = "G71 G90 G00 X7 Y7\nM60\nF5\n";
        assert_eq!(code(&format!("{head}G2 X10 Y16 I3 J4.01\nM50\nM02")), ["arc"]);
        assert_eq!(code(&format!("{head}G00 X1\nM50\nM02")), ["rapid-with-wire"]);
        assert_eq!(code("G71 G90 G00 X7 Y7\nF5 G01 X8\nM02"), ["cutting-without-wire"]);
        assert_eq!(code(&format!("{head}G01 X8\nM50")), ["not-ended"]);
        assert_eq!(code(&format!("{head}G01 X8\nM02")), ["wire-left-in"]);
        assert_eq!(code(&format!("{head}M60\nM50\nM02")), ["wire-twice"]);
        assert_eq!(code("G90 G00 X1 Y1\nM02"), ["unit-unknown"]);
        assert_eq!(code(&format!("{head}G41 G01 X8\nM50\nG40\nM02")), ["register-missing"]);
        // Compensation may stay on while the wire is cut, and goes off in the next rapid move or before.
        let cut = format!("{head}D1 G41 G01 X8\nM50");
        assert_eq!(code(&format!("{cut}\nG40 G00 X9\nM60\nM50\nM02")), [""; 0]);
        assert_eq!(code(&format!("{cut}\nG00 X9\nG40\nM02")), ["compensation"]);
        assert_eq!(code(&format!("{cut}\nM60\nG40\nM50\nM02")), ["compensation"]);
        assert_eq!(code(&format!("{cut}\nM02")), ["compensation"]);
        assert_eq!(code(&format!("{head}M50\nM02\nG01 X9")), ["after-end"]);
        assert_eq!(code(&format!("{head}G05\nM50\nM02")), ["unknown-word"]);
        assert_eq!(code(&format!("{head}G01 X8 X9\nM50\nM02")), ["unknown-word"]);
        assert_eq!(code(&format!("{head}G01 X80000\nM50\nM02")), ["too-large"]);
        assert_eq!(code("G71 G00 X7 Y7\nM02"), ["mode-unknown"]);
        assert_eq!(code("G71 G90 G92 X1 Y80000\nM02"), ["too-large"]);
        assert_eq!(code("G90 F4\nM02"), ["unit-unknown"]);
        assert_eq!(code("G90 G92 X1 Y1\nM02"), ["unit-unknown"]);
        assert_eq!(code("G71 G90 G92 X1 Y1\nG92 X2\nM02"), ["start-unknown"]);
        assert_eq!(code(&format!("{head}G71 G70 G01 X8\nM50\nM02")), ["unknown-word"]);
    }
}
