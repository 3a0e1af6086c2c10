//! One pass of a contour as its program cuts it: registers, feeds, its own edge, and what it sweeps.

use crate::cut::LIMIT;
use crate::engine::{Shape, difference, grown, stroke};
use crate::fault::Spot;
use crate::flatten::Place;
use crate::follow::centre;
use crate::machine::{Keep, Move};
use crate::passes::Round;
use crate::region::{Region, area};
use crate::rounds::{Edge, comes_round};
use crate::stock::{Strayed, into, strayed};
use crate::tab::closed;
use crate::tangle::tangled;
use package::{Contour, Fault, Pass, Tab, Wire};

/// Feeds are written to so many mm/min.
const FEED_STEP: f64 = 0.002;
/// Less metal than this in a way is none, mm2.
const DUST: f64 = 1e-3;

/// How much of its edge a pass goes along.
#[derive(Debug, Clone, Copy)]
pub enum Extent<'a> {
    /// All round.
    Whole,
    /// All but a tab, which this way of the wire's centre takes later; none where that way is not known.
    ButTab(Option<&'a [Place]>),
    /// The tab alone.
    Tab,
}

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
    pub round: &'a Round,
    /// How far it goes round.
    pub extent: Extent<'a>,
    /// The finished edge.
    pub edge: &'a Edge,
    /// The program.
    pub spot: &'a Spot,
}

/// What a pass does.
#[derive(Debug, Default)]
pub struct Done {
    /// What is wrong with it.
    pub faults: Vec<Fault>,
    /// Way of the wire's centre, as chords; empty where there is none.
    pub path: Vec<Place>,
    /// Deepest cut beyond the finished edge, mm.
    pub gouge: f64,
    /// What a main cut or a tab's cut clears.
    pub kerf: Option<Vec<Shape>>,
    /// Thickest metal that the last pass leaves, mm.
    pub left: Option<f64>,
    /// Width of the tab that a main cut leaves standing, mm.
    pub tab: Option<f64>,
}

impl OnePass<'_> {
    /// Proves it.
    pub fn prove(&self) -> Done {
        let pass = &self.wire.passes[self.i];
        let mut done = Done { faults: self.words(pass), ..Done::default() };
        let way = match self.path() {
            Ok(path) => {
                done.path = path;
                self.round(&mut done)
            }
            Err(refused) => Err(refused),
        };
        let round = match way {
            Ok(round) => round,
            Err((code, block, place, message)) => {
                done.faults.push(self.fault(block, place, code, &message));
                return done;
            }
        };
        let last = self.i + 1 == self.wire.passes.len();
        let strayed = self.strayed(&round, pass.offset_mm);
        if (!last || matches!(self.extent, Extent::Tab))
            && let Some((place, message)) = off_edge(strayed, round[0], pass.offset_mm)
        {
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
        if self.i > 0 && shallow.is_some() && (!last || thin.is_some()) && !self.edge.is_piece() {
            return done;
        }
        let kerf = stroke(&done.path, self.reach());
        if shallow.is_none() {
            self.gouge(&mut done, &kerf);
        }
        if last && thin.is_none() {
            let swept = if done.tab.is_some() { stroke(&round, self.reach()) } else { kerf.clone() };
            done.left = Some(left(self.edge, &swept, pass.offset_mm));
        }
        if self.i == 0 || self.edge.is_piece() {
            done.kerf = Some(kerf);
        }
        done
    }

    /// The way all round, with the tab's stretch where a main cut left one; what it leaves is measured by the way.
    fn round(&self, done: &mut Done) -> Result<Vec<Place>, Refused> {
        let Extent::ButTab(tab) = self.extent else { return Ok(done.path.clone()) };
        let offset = self.wire.passes[self.i].offset_mm;
        match tab.and_then(|tab| closed(&done.path, tab, offset, self.edge)) {
            Some(closed) => {
                done.tab = Some(closed.apart - 2.0 * self.reach());
                Ok(closed.path)
            }
            None => {
                let at = done.path.last().copied().unwrap_or_default();
                let message = "what it leaves standing is not cut from end to end later".to_owned();
                Err(("not-closed", self.head(), at, message))
            }
        }
    }

    /// How far a way leaves its edge. A tab's cut need not go round it.
    fn strayed(&self, way: &[Place], offset: f64) -> Option<Strayed> {
        let region = &self.edge.region;
        match self.extent {
            Extent::Tab => Some(Strayed { into: into(region, way, offset), short: (0.0, way[0]) }),
            _ => strayed(self.edge, way, offset),
        }
    }

    fn gouge(&self, done: &mut Done, kerf: &[Shape]) {
        // What lies inside an outer loop lies in the target with it.
        let region = &self.edge.region;
        let outside = region.deepest(kerf.iter().filter_map(|shape| shape.first()));
        let whole = outside.0 > LIMIT || self.edge.is_piece();
        let (depth, place) = if whole { region.deepest(kerf.iter().flatten()) } else { outside };
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
        self.round.moves.first().and_then(|one| one.block)
    }

    fn fault(&self, block: Option<u32>, place: Place, code: &str, message: &str) -> Fault {
        let what = match self.extent {
            Extent::Tab => "the tab's cut".to_owned(),
            _ => format!("pass {}", self.i + 1),
        };
        let message = format!("contour `{}`, {what}: {message}", self.contour.id);
        self.spot.block(block).at(place).fault(code, message)
    }

    /// The wire's way.
    fn path(&self) -> Result<Vec<Place>, Refused> {
        let value = |register: u32| {
            self.wire.passes.iter().find(|one| one.register == Some(register)).map(|one| one.offset_mm)
        };
        let moves = &self.round.moves;
        let holds = !matches!(self.extent, Extent::Whole);
        // Where a core is loose or hangs, the wire does not go back past it.
        let path = centre(moves, (holds || self.i == 0) && self.round.cut, value)
            .map_err(|cannot| (cannot.code, cannot.block, cannot.place, cannot.message))?;
        let at = moves.first().map_or([0.0, 0.0], |one| one.from);
        if tangled(&path, self.reach()) {
            let message =
                format!("{} chords that lie on each other again and again are not swept", path.len());
            return Err(("too-large", self.head(), at, message));
        }
        let offset = self.wire.passes[self.i].offset_mm;
        if path.is_empty() || !holds && !comes_round(moves, offset, self.edge) {
            let message = "the pass does not come round to where it met the edge".to_owned();
            return Err(("not-closed", self.head(), at, message));
        }
        Ok(path)
    }

    /// What is wrong with its registers and feeds.
    fn words(&self, pass: &Pass) -> Vec<Fault> {
        let (feed, moves) = (self.feed(), &self.round.moves);
        // A piece has been skimmed from the same place by then: whether its way in is open is looked at beside.
        let open = self.tab().is_some() && self.edge.is_piece();
        let skims = self.wire.passes.iter().skip(1).map(|skim| skim.feed_mm_per_min);
        let on_way_in = skims.filter(|_| open).fold(feed, f64::max);
        let arrives = |one: &Move| one.keep != Keep::On || self.edge.beside(one.to, pass.offset_mm);
        let way_in = (moves.iter().position(arrives).map_or(0, |last| last + 1), on_way_in);
        let mut faults = registers(self.contour, pass, moves, self.spot);
        faults.extend(feeds(self.contour, (feed, way_in), moves, self.spot));
        faults
    }

    /// The tab that it cuts away.
    fn tab(&self) -> Option<&Tab> {
        self.wire.tab.as_ref().filter(|_| matches!(self.extent, Extent::Tab) && self.i == 0)
    }

    fn feed(&self) -> f64 {
        self.tab().map_or(self.wire.passes[self.i].feed_mm_per_min, |tab| tab.feed_mm_per_min)
    }

    /// Where it comes in faster than it cuts, though what the main cut cleared leaves metal there.
    pub fn hurries(&self, way: &[Place], cleared: &[Shape]) -> Option<Fault> {
        let feed = self.feed();
        let fast = self.round.moves.iter().find(|one| one.feed > feed + slack(feed))?;
        let offset = self.wire.passes[self.i].offset_mm;
        let arrives = way.iter().position(|place| self.edge.beside(*place, offset))?;
        let metal = difference(&stroke(&way[..=arrives], self.reach() - LIMIT), cleared);
        let most = metal.iter().filter_map(|shape| shape.first()).map(|outer| area(outer).abs());
        (most.fold(0.0, f64::max) > DUST).then(|| {
            let message =
                format!("it comes in at {:.4} mm/min through metal, {feed:.4} is its feed", fast.feed);
            self.fault(fast.block, fast.from, "feed", &message)
        })
    }
}

/// Registers of one pass.
fn registers(contour: &Contour, pass: &Pass, moves: &[Move], spot: &Spot) -> Vec<Fault> {
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
    faults
}

/// The first feed of a pass that is not its own. So many moves of its way in may be as fast as another one.
pub fn feeds(
    contour: &Contour,
    (feed, way_in): (f64, (usize, f64)),
    moves: &[Move],
    spot: &Spot,
) -> Option<Fault> {
    let lead = |i: usize| moves[i].keep == Keep::On || (i > 0 && moves[i - 1].keep == Keep::On) || i == 0;
    let wrong = |(i, one): &(usize, &Move)| {
        let least = if lead(*i) { 0.1 * feed } else { feed - slack(feed) };
        let most = if *i < way_in.0 { way_in.1 } else { feed };
        one.feed > most + slack(most) || one.feed < least
    };
    moves.iter().enumerate().find(wrong).map(|(_, one)| {
        let message =
            format!("contour `{}`: feed {:.4} where the plan has {feed:.4} mm/min", contour.id, one.feed);
        spot.block(one.block).at(one.from).fault("feed", message)
    })
}

/// How far a feed may be off as it is written.
fn slack(feed: f64) -> f64 {
    FEED_STEP.max(0.005 * feed)
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

/// Thickest metal that the last pass leaves of what its radius reaches.
fn left(edge: &Edge, kerf: &[Shape], radius: f64) -> f64 {
    let reached = grown(&grown(&[edge.shape()], -radius), radius);
    if edge.is_piece() {
        return left_around(edge, &reached, kerf, radius);
    }
    let cleared: Vec<Vec<Place>> = kerf.iter().filter_map(|shape| shape.first().cloned()).collect();
    if cleared.is_empty() || reached.is_empty() {
        return radius;
    }
    Region::new(&cleared).deepest(reached.iter().filter_map(|shape| shape.first())).0
}

/// The same around a piece: the kerf's inner edge against what the radius can reach of the piece's.
fn left_around(edge: &Edge, reached: &[Shape], kerf: &[Shape], radius: f64) -> f64 {
    let largest = |loops: Vec<&Vec<Place>>| {
        loops.into_iter().max_by(|a, b| area(a).abs().total_cmp(&area(b).abs())).cloned()
    };
    let inner = largest(kerf.iter().flat_map(|shape| shape.iter().skip(1)).collect());
    let wanted = largest(reached.iter().flat_map(|shape| shape.iter().skip(1)).collect());
    let (Some(inner), Some(wanted)) = (inner, wanted) else { return radius };
    edge.beyond(&inner).deepest([wanted].iter()).0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(half: f64) -> Vec<Place> {
        vec![[-half, -half], [half, -half], [half, half], [-half, half]]
    }

    /// A disc of radius 0.1 leaves the square's edge nowhere when it has swept up to 0.9 of it, and the rest when it went less far.
    #[test]
    fn what_is_left_is_measured_where_the_radius_reaches() {
        let edge = Edge::new(square(1.0));
        let swept = |half: f64| vec![grown(&[vec![square(half)]], 0.1).remove(0)];
        assert!(left(&edge, &swept(0.9), 0.1).abs() < 1e-5);
        // Most of it lies in the corners.
        let in_corner = 0.05 * 2f64.sqrt();
        assert!((left(&edge, &swept(0.85), 0.1) - in_corner).abs() < 1e-3);
    }

    /// Where nothing is cleared, or the disc fits nowhere, as much is left as it is thick.
    #[test]
    fn nothing_cleared_or_nothing_in_reach_leaves_the_radius() {
        let edge = Edge::new(square(1.0));
        assert_eq!(left(&edge, &[], 0.1), 0.1);
        assert_eq!(left(&edge, &[vec![square(0.5)]], 1.2), 1.2);
        let piece = Edge::around(square(1.0));
        assert_eq!(left(&piece, &[], 0.1), 0.1);
    }
}
