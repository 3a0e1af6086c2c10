//! The parts of a program between its stops: what runs by itself, and where somebody must be there.
//!
//! Edges whose main cut frees nothing that must be taken out, or whose core hangs on a tab, are roughed first, alone.
//! Then, with somebody there, the other mains, the tabs, the cores out. Then all skims, alone. A piece that is cut out is
//! skimmed while its tab holds it; last, with somebody there, the tab is cut and its place skimmed. Where nobody is needed
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
    /// Its first cut: the main cut, or that of its relief.
    Main(usize),
    /// Its tab.
    Tab(usize),
    /// Its skims; after a relief, all passes.
    Skims(usize),
    /// One skim of a piece, up to its tab: the edge, the pass.
    SkimToTab(usize, usize),
    /// A pass over the place of a piece's tab: the edge, the pass.
    TabPass(usize, usize),
}

impl Step {
    /// Number of the edge in its program.
    pub fn edge(self) -> usize {
        match self {
            Step::Whole(i) | Step::Main(i) | Step::Tab(i) | Step::Skims(i) => i,
            Step::SkimToTab(i, _) | Step::TabPass(i, _) => i,
        }
    }
}

impl Phase {
    /// Whether somebody must be there.
    pub fn attended(&self) -> bool {
        matches!(self.kind, PhaseKind::Cores | PhaseKind::Pieces)
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
        let tab = edges[i].tab.is_some() && !edges[i].is_piece();
        main.into_iter().chain(tab.then_some(Step::Tab(i)))
    });
    let count = |i: usize| edges[i].cutting.passes.passes.len();
    let skims = all.clone().flat_map(|i| match edges[i].is_piece() {
        true => (1..count(i)).map(|pass| Step::SkimToTab(i, pass)).collect(),
        false if !edges[i].after_first().is_empty() => vec![Step::Skims(i)],
        false => Vec::new(),
    });
    let pieces = all
        .clone()
        .filter(|&i| edges[i].is_piece())
        .flat_map(|i| (0..count(i)).map(move |pass| Step::TabPass(i, pass)));
    let phases = [
        Phase { kind: PhaseKind::Mains, steps: alone.collect() },
        Phase { kind: PhaseKind::Cores, steps: with_somebody.collect() },
        Phase { kind: PhaseKind::Skims, steps: skims.collect() },
        Phase { kind: PhaseKind::Pieces, steps: pieces.collect() },
    ];
    phases.into_iter().filter(|phase| !phase.steps.is_empty()).collect()
}
