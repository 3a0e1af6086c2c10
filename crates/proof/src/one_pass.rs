//! One pass of a contour as its program cuts it: registers, feeds, its own edge, and what it sweeps.

use crate::cut::LIMIT;
use crate::engine::{Shape, grown, stroke};
use crate::fault::Spot;
use crate::flatten::{Place, distance};
use crate::follow::centre;
use crate::machine::{Keep, Move};
use crate::region::Region;
use crate::stock::{Strayed, strayed};
use crate::tangle::tangled;
use package::{Contour, Fault, Pass, Wire};

/// Feeds are written to so many mm/min.
const FEED_STEP: f64 = 0.002;

/// A pass to be proven.
#[derive(Debug, Clone, Copy)]
pub struct OnePass<'a> {
    /// Its contour.
    pub contour: &'a Contour,
    /// How the contour is cut.
    pub wire: &'a Wire,
    /// Number of the pass, from 0.
    pub i: usize,
    /// What the program does.
    pub moves: &'a [Move],
    /// The finished edge, counter-clockwise.
    pub target: &'a [Place],
    /// The same, as a region.
    pub region: &'a Region,
    /// The program.
    pub spot: &'a Spot,
}

/// What a pass does.
#[derive(Debug, Default)]
pub struct Done {
    /// What is wrong with it.
    pub faults: Vec<Fault>,
    /// Deepest cut beyond the finished edge, mm.
    pub gouge: f64,
    /// What the main cut clears.
    pub kerf: Option<Vec<Shape>>,
    /// Thickest metal that the last pass leaves, mm.
    pub left: Option<f64>,
}

impl OnePass<'_> {
    /// Proves it.
    pub fn prove(&self) -> Done {
        let pass = &self.wire.passes[self.i];
        let mut done =
            Done { faults: pass_faults(self.contour, pass, self.moves, self.spot), ..Done::default() };
        let path = match self.path() {
            Ok(path) => path,
            Err((code, block, place, message)) => {
                done.faults.push(self.fault(block, place, code, &message));
                return done;
            }
        };
        let last = self.i + 1 == self.wire.passes.len();
        let strayed = strayed(self.target, self.region, &path, pass.offset_mm);
        if !last && let Some((place, message)) = off_edge(strayed, path[0], pass.offset_mm) {
            done.faults.push(self.fault(self.head(), place, "off-edge", &message));
        }
        // From a place inside, no disc reaches farther beyond the edge than its radius is longer than the way there.
        let beyond = strayed.map(|strayed| strayed.into.0 - pass.offset_mm + self.reach());
        let shallow = beyond.filter(|beyond| *beyond <= LIMIT);
        // What is short of the room's edge is left at most, with what the wire clears less than its offset.
        let short = strayed.map(|strayed| (strayed.short.0 + pass.offset_mm - self.reach()).max(0.0));
        let thin = short.filter(|short| *short <= LIMIT);
        done.gouge = shallow.unwrap_or(0.0).max(0.0);
        done.left = thin.filter(|_| last);
        if self.i > 0 && shallow.is_some() && (!last || thin.is_some()) {
            return done;
        }
        let kerf = stroke(&path, self.reach());
        if shallow.is_none() {
            self.gouge(&mut done, &kerf);
        }
        if last && thin.is_none() {
            done.left = Some(left(self.target, &kerf, pass.offset_mm));
        }
        if self.i == 0 {
            done.kerf = Some(kerf);
        }
        done
    }

    fn gouge(&self, done: &mut Done, kerf: &[Shape]) {
        // What lies inside an outer loop lies in the target with it.
        let outside = self.region.deepest(kerf.iter().filter_map(|shape| shape.first()));
        let whole = outside.0 > LIMIT;
        let (depth, place) = if whole { self.region.deepest(kerf.iter().flatten()) } else { outside };
        done.gouge = depth;
        if depth > self.reach() {
            let message = format!("the wire runs in the metal, {depth:.4} beyond the edge");
            done.faults.push(self.fault(self.head(), place, "wrong-side", &message));
        }
    }

    /// What the wire clears on either side of its centre, mm.
    fn reach(&self) -> f64 {
        self.wire.diameter_mm / 2.0 + self.wire.passes[self.i].spark_gap_mm
    }

    /// N word of its first move.
    fn head(&self) -> Option<u32> {
        self.moves.first().and_then(|one| one.block)
    }

    fn fault(&self, block: Option<u32>, place: Place, code: &str, message: &str) -> Fault {
        let message = format!("contour `{}`, pass {}: {message}", self.contour.id, self.i + 1);
        self.spot.block(block).at(place).fault(code, message)
    }

    /// The wire's way.
    fn path(&self) -> Result<Vec<Place>, Refused> {
        let value = |register: u32| {
            self.wire.passes.iter().find(|one| one.register == Some(register)).map(|one| one.offset_mm)
        };
        let path = centre(self.moves, value)
            .map_err(|cannot| (cannot.code, cannot.block, cannot.place, cannot.message))?;
        let at = self.moves.first().map_or([0.0, 0.0], |one| one.from);
        if tangled(&path, self.reach()) {
            let message =
                format!("{} chords that lie on each other again and again are not swept", path.len());
            return Err(("too-large", self.head(), at, message));
        }
        let n = self.target.len();
        let perimeter = (0..n).map(|i| distance(self.target[i], self.target[(i + 1) % n])).sum();
        if path.is_empty() || !comes_round(self.moves, perimeter) {
            let message = "the pass does not come round to where it met the edge".to_owned();
            return Err(("not-closed", self.head(), at, message));
        }
        Ok(path)
    }
}

/// Registers and feeds of one pass.
fn pass_faults(contour: &Contour, pass: &Pass, moves: &[Move], spot: &Spot) -> Vec<Fault> {
    let mut faults = Vec::new();
    let used = moves.iter().find_map(|one| match one.keep {
        Keep::Left(register) | Keep::Right(register) => Some((one, register)),
        Keep::On => None,
    });
    match (used, pass.register) {
        (Some((one, used)), Some(planned)) if used != planned => {
            let message =
                format!("contour `{}`: register {used} is used where the plan has {planned}", contour.id);
            faults.push(spot.block(one.block).at(one.from).fault("register-other", message));
        }
        (Some((one, used)), None) => {
            let message = format!(
                "contour `{}`: register {used} is used where the plan writes the wire's centre",
                contour.id
            );
            faults.push(spot.block(one.block).at(one.from).fault("register-other", message));
        }
        (None, Some(planned)) => {
            let message = format!("contour `{}`: a pass runs without its register {planned}", contour.id);
            faults
                .push(spot.block(moves.first().and_then(|one| one.block)).fault("register-missing", message));
        }
        _ => {}
    }
    let slack = FEED_STEP.max(0.005 * pass.feed_mm_per_min);
    let lead = |i: usize| moves[i].keep == Keep::On || (i > 0 && moves[i - 1].keep == Keep::On) || i == 0;
    for (i, one) in moves.iter().enumerate() {
        let least = if lead(i) { 0.1 * pass.feed_mm_per_min } else { pass.feed_mm_per_min - slack };
        if one.feed > pass.feed_mm_per_min + slack || one.feed < least {
            let message = format!(
                "contour `{}`: feed {:.4} where the plan has {:.4} mm/min",
                contour.id, one.feed, pass.feed_mm_per_min
            );
            faults.push(spot.block(one.block).at(one.from).fault("feed", message));
            break;
        }
    }
    faults
}

type Refused = (&'static str, Option<u32>, Place, String);

/// Where a pass before the last leaves its own edge, and how far.
fn off_edge(strayed: Option<Strayed>, start: Place, offset: f64) -> Option<(Place, String)> {
    let Some(Strayed { into, short }) = strayed else {
        return Some((start, format!("an offset of {offset:.4} fits nowhere in the target")));
    };
    if into.0 > LIMIT {
        return Some((into.1, format!("it cuts {:.4} into the stock that it should leave", into.0)));
    }
    (short.0 > LIMIT).then(|| (short.1, format!("it stays {:.4} off its edge", short.0)))
}

/// Whether a pass comes back to a place where it has been, after going at least half way round.
fn comes_round(moves: &[Move], perimeter: f64) -> bool {
    let length = |one: &Move| match one.arc {
        None => distance(one.from, one.to),
        Some((centre, sweep)) => distance(one.from, centre) * sweep.abs(),
    };
    let on = moves.iter().position(|one| one.keep != Keep::On);
    let edge = match on {
        Some(entry) => {
            let run = moves[entry + 1..].iter().take_while(|one| one.keep != Keep::On).count();
            &moves[entry + 1..entry + 1 + run]
        }
        None => moves,
    };
    // With a register the edge begins at its first move; without one, the lead-in's first few ends come in question.
    let starts = if on.is_some() { 1 } else { 4 };
    (0..starts.min(edge.len())).any(|first| {
        let place = edge[first].from;
        let mut way = 0.0;
        edge[first..].iter().any(|one| {
            let near = touches(one, place);
            way += length(one);
            near && way > 0.5 * perimeter
        })
    })
}

/// Whether a move passes a place within what rounding moves it.
fn touches(one: &Move, place: Place) -> bool {
    let mut points = vec![one.from];
    match one.arc {
        None => points.push(one.to),
        Some((centre, sweep)) => crate::flatten::arc(&mut points, one.from, one.to, centre, sweep),
    }
    points.windows(2).any(|pair| crate::region::to_segment(place, pair[0], pair[1]) <= LIMIT)
}

/// Thickest metal that the last pass leaves of what its radius reaches.
fn left(target: &[Place], kerf: &[Shape], radius: f64) -> f64 {
    let reached = grown(&grown(&[vec![target.to_vec()]], -radius), radius);
    let cleared: Vec<Vec<Place>> = kerf.iter().filter_map(|shape| shape.first().cloned()).collect();
    if cleared.is_empty() || reached.is_empty() {
        return radius;
    }
    Region::new(&cleared).deepest(reached.iter().filter_map(|shape| shape.first())).0
}
