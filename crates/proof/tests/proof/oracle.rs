//! The oracle: a plain, slow second opinion on what a program does, by sampling. It shares nothing with the proof
//! and is trusted only to say that a damage is one.
//!
//! The machine is followed word by word. The wire's centre under compensation is every sample of the parallels that
//! is not nearer to the neighbouring moves than the register says: nothing is intersected, no polygon is made.

use crate::case::{Case, WIRE, passes};
use crate::shape::{P, Seg, Shape, along, far};
use std::f64::consts::TAU;

/// Steps of the samples, mm: over a wire's radius of 0.05 that hides 0.04 um.
const STEP: f64 = 0.004;
/// From here a change is one, mm: the limit of 1 um, with what sampling and rounding hide.
pub const CHANGED: f64 = 0.0013;

/// What the machine did, in the order it did it: one letter each, with where and with what.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    pub states: Vec<String>,
    /// Moves of each pass; a pass ends where the wire comes back to its thread, is cut, or is compensated again.
    pub passes: Vec<Vec<Move>>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    pub seg: (P, P, Option<(P, f64)>),
    /// -1 right, 0 on the path, 1 left.
    pub side: f64,
    pub register: usize,
    pub opening: usize,
}

impl Move {
    pub fn seg(&self) -> Seg {
        Seg { a: self.seg.0, b: self.seg.1, arc: self.seg.2 }
    }
}

/// Runs a program whose words stand apart. None where a word is beyond the oracle.
pub fn trace(program: &[String], starts: &[P]) -> Option<Trace> {
    let (mut states, mut all) = (Vec::<String>::new(), Vec::new());
    let (mut unit, mut rapid, mut motion) = (None, true, 0);
    let (mut side, mut register, mut feed) = (0.0, 0, 0.0);
    let (mut at, mut wire, mut thread, mut opening) = ([0.0, 0.0], false, [f64::NAN; 2], 0);
    let (mut incremental, mut open) = (false, Vec::<Move>::new());
    for block in program.iter().filter(|block| !block.starts_with('(')) {
        let (mut xy, mut ij, mut m) = ([None, None], [0.0, 0.0], None);
        for word in block.split(' ') {
            let value: f64 = word.get(1..)?.parse().ok()?;
            match (word.get(..1)?, value as i64) {
                ("G", 70) => unit = Some(25.4),
                ("G", 71) => unit = Some(1.0),
                ("G", 90) => incremental = false,
                ("G", 91) => incremental = true,
                ("G", 17) => {}
                ("G", g @ 0..=3) => {
                    motion = g;
                    rapid = g == 0;
                }
                ("G", 40) => side = 0.0,
                ("G", 41) => side = 1.0,
                ("G", 42) => side = -1.0,
                ("D", d) => register = d as usize,
                ("F", _) => feed = value * unit?,
                ("X", _) => xy[0] = Some(value * unit?),
                ("Y", _) => xy[1] = Some(value * unit?),
                ("I", _) => ij[0] = value * unit?,
                ("J", _) => ij[1] = value * unit?,
                ("M", number) => m = Some(number),
                _ => return None,
            }
        }
        let base = if incremental { at } else { [0.0, 0.0] };
        let to = [0, 1].map(|k| xy[k].map_or(at[k], |v| base[k] + v));
        let arc = matches!(motion, 2 | 3).then(|| {
            let c = [at[0] + ij[0], at[1] + ij[1]];
            let angle = |p: P| (p[1] - c[1]).atan2(p[0] - c[0]);
            let way = if motion == 3 { angle(to) - angle(at) } else { angle(at) - angle(to) };
            let way = if far(at, to) < 1e-9 { TAU } else { way.rem_euclid(TAU) };
            (c, if motion == 3 { way } else { -way })
        });
        let moves = xy != [None, None] && (far(at, to) > 1e-9 || arc.is_some());
        if moves {
            if let Some((c, _)) = arc
                && (far(at, c) - far(to, c)).abs() > 0.002
            {
                states.push("two radii".to_owned());
            }
            let reg = if side == 0.0 || rapid { 0 } else { register };
            let state = format!("{} wire {wire} side {side} D{reg}", if rapid { "rapid" } else { "cut" });
            // A lead-in is judged by where it goes, not by how many moves it takes.
            let led = wire && !rapid && side == 0.0;
            if !led && states.last() != Some(&state) {
                states.push(state);
            }
            let kept = |m: &Move| m.side != 0.0;
            if side != 0.0 && open.last().is_some_and(|m| !kept(m)) && open.iter().any(kept) {
                // Compensation turned on again begins another pass, wherever the wire is.
                all.push(std::mem::take(&mut open));
            }
            if !rapid {
                if feed <= 0.0 {
                    states.push("no feed".to_owned());
                }
                open.push(Move { seg: (at, to, arc), side, register, opening });
            }
            at = to;
            if wire && far(at, thread) < 1e-6 && side == 0.0 {
                all.push(std::mem::take(&mut open));
            }
        }
        match m {
            Some(60) => {
                states.push(format!("thread {:.3} {:.3}", at[0], at[1]));
                (wire, thread) = (true, at);
                opening =
                    (0..starts.len()).min_by(|i, j| far(starts[*i], at).total_cmp(&far(starts[*j], at)))?;
            }
            Some(50) => {
                states.push("cut off".to_owned());
                wire = false;
                if !open.is_empty() {
                    all.push(std::mem::take(&mut open));
                }
            }
            Some(0) if states.last().is_none_or(|last| last != "stop") => states.push("stop".to_owned()),
            Some(2) => states.push("end".to_owned()),
            _ => {}
        }
    }
    Some(Trace { states, passes: all })
}

/// Deepest cut beyond what each pass may clear, and thickest metal that it leaves, over all passes of a case. The
/// stock of a pass counts as cleared, so that a pass before the last is held to its own edge. A gouge that is a change
/// ends the search.
pub fn worst(case: &Case, trace: &Trace) -> f64 {
    let table = passes();
    let mut worst: f64 = 0.0;
    let mut done = vec![0; case.openings.len()];
    // Places of the main cuts that leave a tab, which count with the tab's own.
    let mut begun: Vec<Vec<P>> = vec![Vec::new(); case.openings.len()];
    for moves in &trace.passes {
        let k = moves[0].opening;
        let (shape, held) = (&case.openings[k].target, case.openings[k].tab.is_some());
        let i = if held { usize::saturating_sub(done[k], 1) } else { done[k] };
        done[k] += 1;
        let Some([offset, ..]) = table.get(i) else { return f64::INFINITY };
        let way = centre(moves, |d| table.get(d.wrapping_sub(1)).map_or(WIRE, |pass| pass[0]));
        let gouge = way.iter().map(|p| offset - shape.inside(*p)).fold(0.0, f64::max);
        worst = worst.max(gouge);
        if worst > CHANGED {
            return worst;
        }
        let round = if i == 0 { [std::mem::take(&mut begun[k]), way].concat() } else { way };
        if held && done[k] == 1 {
            begun[k] = round;
        } else {
            worst = worst.max(left(shape, &round, *offset));
        }
    }
    let all = |k: usize| table.len() + usize::from(case.openings[k].tab.is_some());
    if (0..done.len()).any(|k| done[k] != all(k)) { f64::INFINITY } else { worst }
}

/// Places of the wire's centre.
fn centre(moves: &[Move], value: impl Fn(usize) -> f64) -> Vec<P> {
    let entry = |n: usize| moves[n].side != 0.0 && (n == 0 || moves[n - 1].side == 0.0);
    let mut way = Vec::new();
    for (n, m) in moves.iter().enumerate() {
        let (seg, d) = (m.seg(), value(m.register));
        let beside =
            |n: usize, t: f64, d: f64| along(moves[n].seg().at(t), moves[n].seg().left(t), moves[n].side * d);
        // Lead-in and lead-out run straight between their free end and the wire's place at the edge.
        if entry(n) || m.side == 0.0 {
            let mut line = seg;
            if entry(n) && n + 1 < moves.len() {
                line = Seg::line(seg.a, beside(n + 1, 0.0, d));
            } else if m.side == 0.0 && n > 0 && moves[n - 1].side != 0.0 {
                line = Seg::line(beside(n - 1, 1.0, value(moves[n - 1].register)), seg.b);
            }
            way.extend(samples(&line).into_iter().map(|t| line.at(t)));
            continue;
        }
        let near = n.saturating_sub(1)..=n + 1;
        let near = near.filter(|k| *k < moves.len() && moves[*k].side != 0.0 && !entry(*k));
        let near: Vec<Seg> = near.map(|k| moves[k].seg()).collect();
        let ok = |p: P| near.iter().all(|s| s.distance(p) > d - 5e-5);
        way.extend(
            samples(&seg).into_iter().map(|t| along(seg.at(t), seg.left(t), m.side * d)).filter(|p| ok(*p)),
        );
        // Around an outside corner.
        if let Some(next) = moves.get(n + 1).filter(|next| next.side != 0.0) {
            let (u, v) = (seg.left(1.0), next.seg().left(0.0));
            let turn = (u[0] * v[1] - u[1] * v[0]).atan2(u[0] * v[0] + u[1] * v[1]);
            let steps = (turn.abs() * d / STEP).ceil() as usize;
            for k in 0..steps {
                let (sin, cos) = (turn * k as f64 / steps as f64).sin_cos();
                let w = [cos * u[0] - sin * u[1], sin * u[0] + cos * u[1]];
                let p = along(seg.b, w, m.side * d);
                if ok(p) {
                    way.push(p);
                }
            }
        }
    }
    way
}

fn samples(seg: &Seg) -> Vec<f64> {
    let steps = (seg.length() / STEP).ceil().max(1.0) as usize;
    (0..=steps).map(|k| k as f64 / steps as f64).collect()
}

/// Thickest metal left at the edge where a disc of this radius fits beside it.
fn left(shape: &Shape, way: &[P], radius: f64) -> f64 {
    let mut worst: f64 = 0.0;
    for seg in &shape.segs {
        for t in samples(seg) {
            let e = seg.at(t);
            if shape.inside(along(e, seg.left(t), radius)) > radius - 1e-6 {
                let nearest = way.iter().map(|p| far(*p, e)).fold(f64::INFINITY, f64::min);
                worst = worst.max(nearest - radius);
            }
        }
    }
    worst
}

/// The oracle finds nothing wrong with what is right; otherwise it would confirm everything.
#[test]
fn right_programs_are_right() {
    let mut largest: f64 = 0.0;
    for case in crate::holds::cases() {
        let starts: Vec<P> = case.openings.iter().map(|one| one.start).collect();
        let Some(trace) = trace(&case.program(), &starts) else { panic!("{}: not understood", case.name) };
        let worst = worst(&case, &trace);
        assert!(worst < 4e-4, "{}: {worst}", case.name);
        largest = largest.max(worst);
    }
    println!("the oracle reads {largest:.6} where all is right");
}
