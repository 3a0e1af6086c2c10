//! The parts of a program between its stops: what runs by itself, and where somebody must be there.
//!
//! Edges whose main cut frees nothing that must be taken out, or whose core hangs on a tab, are roughed first, alone.
//! Then, with somebody there, the other mains, the tabs, the cores out. Then all skims, alone. Where nobody is needed
//! and no tolerance asks that everything be roughed first, the edges are cut one after the other, which saves threading.

use crate::wiring::Wired;
use package::PhaseKind;

/// A part of a program.
#[derive(Debug, Clone, PartialEq)]
pub struct Phase {
    /// What is done in it.
    pub kind: PhaseKind,
    /// Its steps, in order.
    pub steps: Vec<Step>,
}

/// One thing that is done to one edge, from threading to cutting the wire.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// The edge whole: main cut and skims.
    Whole(usize),
    /// Its main cut.
    Main(usize),
    /// Its tab.
    Tab(usize),
    /// Its skims.
    Skims(usize),
}

impl Step {
    /// Number of the edge in its program.
    pub fn edge(self) -> usize {
        match self {
            Step::Whole(i) | Step::Main(i) | Step::Tab(i) | Step::Skims(i) => i,
        }
    }
}

impl Phase {
    /// Whether somebody must be there.
    pub fn attended(&self) -> bool {
        self.kind == PhaseKind::Cores
    }
}

/// The phases of one program. `rough_all`: some tolerance asks that everything be roughed before anything is skimmed.
pub fn of(edges: &[&Wired], rough_all: bool) -> Vec<Phase> {
    let all = 0..edges.len();
    let attended = edges.iter().any(|edge| edge.attended());
    if !(attended || rough_all && edges.len() > 1) {
        return vec![Phase { kind: PhaseKind::Edges, steps: all.map(Step::Whole).collect() }];
    }
    let alone = all.clone().filter(|&i| !edges[i].stops).map(Step::Main);
    let with_somebody = all.clone().flat_map(|i| {
        let main = edges[i].stops.then_some(Step::Main(i));
        main.into_iter().chain(edges[i].tab.is_some().then_some(Step::Tab(i)))
    });
    let skims = all.clone().filter(|&i| edges[i].cutting.passes.passes.len() > 1).map(Step::Skims);
    let phases = [
        Phase { kind: PhaseKind::Mains, steps: alone.collect() },
        Phase { kind: PhaseKind::Cores, steps: with_somebody.collect() },
        Phase { kind: PhaseKind::Skims, steps: skims.collect() },
    ];
    phases.into_iter().filter(|phase| !phase.steps.is_empty()).collect()
}
