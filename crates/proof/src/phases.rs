//! The phases of a program: whether a person can start each of them where the plan says, and whether nothing that needs
//! a person happens in one that runs alone.
//!
//! A phase is named by N words, for a person starts it by them: here, and nowhere else, they count. Each is run on its
//! own, by a machine that remembers nothing: what it does then must be what it does in the whole program.

use crate::fault::Spot;
use crate::machine::{self, Event, Run};
use crate::rounds::Rounds;
use nc::Block;
use package::{Fault, MachineFunctions, Phase, PhaseKind, Program};

/// A phase, and the lines of the text that it takes.
#[derive(Debug, Clone, Copy)]
pub struct Part<'a> {
    phase: &'a Phase,
    lines: [u32; 2],
}

impl Part<'_> {
    fn holds(&self, line: u32) -> bool {
        (self.lines[0]..=self.lines[1]).contains(&line)
    }
}

/// Where the phases of a program stand; faults where they stand nowhere, or not one after the other.
pub fn parts<'a>(program: &'a Program, blocks: &[Block], spot: &Spot) -> (Vec<Part<'a>>, Vec<Fault>) {
    let mut faults = Vec::new();
    let mut parts: Vec<Part> = Vec::new();
    for (i, phase) in program.phases.iter().enumerate() {
        let lines = phase.blocks.map(|number| {
            let mut lines =
                blocks.iter().filter(|block| block.number == Some(number)).map(|block| block.line);
            lines.next().filter(|_| lines.next().is_none())
        });
        let before = parts.last().map_or(0, |part| part.lines[1]);
        match lines {
            [Some(first), Some(last)] if before < first && first <= last => {
                parts.push(Part { phase, lines: [first, last] });
            }
            _ => {
                let [first, last] = phase.blocks;
                let message = format!(
                    "phase {} is to run from N{first} to N{last}, which the program does not have once and in order",
                    i + 1
                );
                faults.push(spot.block(Some(first)).fault("phases", message));
            }
        }
    }
    (parts, faults)
}

/// Whether somebody is there while a line runs: nobody is in a phase that says so.
pub fn attended(parts: &[Part], line: u32) -> bool {
    parts.iter().all(|part| part.phase.attended || !part.holds(line))
}

/// A program whose phases are looked at.
#[derive(Clone, Copy)]
pub struct Phases<'a> {
    /// The phases.
    pub parts: &'a [Part<'a>],
    /// The program's text.
    pub blocks: &'a [Block],
    /// What the machine does.
    pub run: &'a Run,
    /// Its functions.
    pub functions: MachineFunctions,
    /// The program.
    pub spot: &'a Spot,
}

impl Phases<'_> {
    /// What is wrong with the phases, given the rounds of each contour.
    pub fn faults(&self, contours: &[(&str, &Rounds)]) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (id, rounds) in contours {
            faults.extend(self.belong(id, rounds));
        }
        for (i, part) in self.parts.iter().enumerate() {
            faults.extend(self.named(part, contours));
            faults.extend(self.starts(part));
            faults.extend(if part.phase.attended { self.waited_for(i) } else { self.runs_through(part) });
        }
        faults
    }

    fn fault(&self, part: &Part, code: &str, message: &str) -> Fault {
        let first = part.phase.blocks[0];
        self.spot.block(Some(first)).fault(code, format!("the phase from N{first}: {message}"))
    }

    /// Rounds that lie in no phase, or in one for other cuts.
    fn belong(&self, id: &str, rounds: &Rounds) -> Vec<Fault> {
        let (mains, cores, skims) = (PhaseKind::Mains, PhaseKind::Cores, PhaseKind::Skims);
        let main = rounds.main.iter().map(|round| (round, "main cut", [mains, cores]));
        let tab = rounds.tab.iter().map(|(_, round)| (round, "tab", [cores, PhaseKind::Pieces]));
        let pieces = PhaseKind::Pieces;
        let dress = rounds.dress.iter().map(|(_, round)| (round, "skim of a tab's place", [pieces, pieces]));
        let skim = rounds.skims.iter().map(|(_, round)| (round, "skim", [skims, skims]));
        let mut faults = Vec::new();
        for (round, what, kinds) in main.chain(tab).chain(skim).chain(dress) {
            let block = round.moves.first().and_then(|one| one.block);
            let here = self.parts.iter().find(|part| round.lines.iter().all(|line| part.holds(*line)));
            let message = match here {
                None => format!("contour `{id}`: a {what} lies in no phase"),
                Some(part) if part.phase.kind == PhaseKind::Edges || kinds.contains(&part.phase.kind) => {
                    continue;
                }
                Some(_) => format!("contour `{id}`: a {what} lies in a phase for other cuts"),
            };
            faults.push(self.spot.block(block).fault("phases", message));
        }
        faults
    }

    /// A phase names the contours that it cuts, in their order.
    fn named(&self, part: &Part, contours: &[(&str, &Rounds)]) -> Option<Fault> {
        let mut cut: Vec<(u32, &str)> = Vec::new();
        for (id, rounds) in contours {
            let first = rounds.all().map(|round| round.lines[0]).filter(|line| part.holds(*line)).min();
            cut.extend(first.map(|line| (line, *id)));
        }
        cut.sort_unstable();
        let same = cut.iter().map(|(_, id)| *id).eq(part.phase.contours.iter().map(String::as_str));
        let found: Vec<&str> = cut.iter().map(|(_, id)| *id).collect();
        let message = format!("it cuts {found:?}, the plan names {:?}", part.phase.contours);
        (!same).then(|| self.fault(part, "phases", &message))
    }

    /// Started alone it does what it does in the whole program, and it turns compensation off before it threads.
    fn starts(&self, part: &Part) -> Option<Fault> {
        let blocks: Vec<Block> = self.blocks.iter().filter(|block| part.holds(block.line)).cloned().collect();
        let says = |block: &Block, letter: char, value: u32| {
            block.words.iter().any(|word| word.letter == letter && word.value == f64::from(value))
        };
        let threads = blocks.iter().position(|block| says(block, 'M', self.functions.thread));
        let head = &blocks[..threads.map_or(blocks.len(), |at| at + 1)];
        if !head.iter().any(|block| says(block, 'G', 40)) {
            let message = "it does not say G40 before it threads, so that it cannot be started here";
            return Some(self.fault(part, "phase-start", message));
        }
        let guided =
            |block: &Block| block.words.iter().filter(|word| matches!(word.letter, 'U' | 'V')).count();
        let tilts = blocks.iter().any(|block| guided(block) > 0);
        if tilts && !head.iter().any(|block| guided(block) == 2) {
            let message = "it tilts the wire and does not say U and V before it threads";
            return Some(self.fault(part, "phase-start", message));
        }
        let alone = machine::run(&blocks, "", self.functions);
        let done = |event: &&Event| !matches!(event, Event::Comment(_));
        let whole = self.run.events.iter().zip(&self.run.lines).filter(|(_, line)| part.holds(**line));
        let same = whole.map(|(event, _)| event).filter(done).eq(alone.events.iter().filter(done));
        let message = "started here it does something else than in the whole program: it does not say its unit, G90, \
                       feed, registers and place again";
        (!same).then(|| self.fault(part, "phase-start", message))
    }

    /// Nobody is there to go on after a stop.
    fn runs_through(&self, part: &Part) -> Option<Fault> {
        let here = || self.run.events.iter().zip(&self.run.lines).filter(|(_, line)| part.holds(**line));
        let goes_on = |event: &Event| matches!(event, Event::Thread(..) | Event::Move(_));
        let stop = here().position(|(event, _)| *event == Event::Stop)?;
        let message = "nobody attends it, and it stops before it is through";
        here().skip(stop).any(|(event, _)| goes_on(event)).then(|| self.fault(part, "phases", message))
    }

    /// After a phase that runs alone, the program waits for whoever attends the next one.
    fn waited_for(&self, i: usize) -> Option<Fault> {
        let part = &self.parts[i];
        self.parts[..i].last().filter(|before| !before.phase.attended)?;
        let first = |(event, line): (&Event, &u32)| part.holds(*line) && matches!(event, Event::Thread(..));
        let begins = self.run.events.iter().zip(&self.run.lines).position(first)?;
        let mut before = self.run.events[..begins].iter().rev();
        let last = before.find(|event| !matches!(event, Event::Comment(_) | Event::Rapid(_)));
        let message = "somebody must attend it, and the program does not stop for them before it";
        (last != Some(&Event::Stop)).then(|| self.fault(part, "phases", message))
    }
}
