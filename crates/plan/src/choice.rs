//! Looks through electrodes (or wheels), places and wires for the best way to make one opening.
//!
//! Every bound comes first. Among the ways that keep them: more room counts up to a cap, then whole minutes with
//! the price of spoiling the block by its chance. Nothing here writes in the reckoning.

use crate::candidate::{self, Candidate, Setting};
use crate::clean_up::at_least;
use crate::cutting::{Cutting, Feeds};
use crate::half_round;
use crate::hole::{Hole, Terms};
use crate::lead_in::LeadIn;
use crate::reckoning::{At, Reckoning};
use crate::rules::time::BURN_MINUTES;
use crate::tilted_cut;
use outline::{Point, Segment};

/// More room than this is worth no credit, mm.
pub const ROOM_CAP: f64 = 0.3;
/// Stretches of an opening beside which the hole may be.
const BESIDE_AN_OPENING: usize = 3;
/// Stretches of a piece beside which the hole may be.
const BESIDE_A_PIECE: usize = 8;
/// A place with this much less room than the best has as much, mm.
const AS_MUCH: f64 = 1e-6;
/// What a hold point counts where wheels are chosen by it, min (own choice).
const HOLD_MINUTES: f64 = 15.0;
/// A chance of cleaning up above this is worth no further credit.
pub const SURE: f64 = 0.999;

/// All that was looked at in one opening.
#[derive(Debug)]
pub struct Looked {
    /// For each cutting (wire), the best way with it; it may break bounds.
    pub best: Vec<Candidate>,
}

impl Looked {
    /// The way that comes nearest to possible, whatever the wire.
    pub fn nearest(&self) -> Option<&Candidate> {
        let rank = |a: &&Candidate, b: &&Candidate| order(a, b);
        self.best.iter().min_by(rank)
    }
}

/// Better first: fewer bounds broken, less missing, fewer minutes.
fn order(a: &Candidate, b: &Candidate) -> std::cmp::Ordering {
    // A hundredth of a minute is nothing to choose by: the place that was named first stays.
    let key = |c: &Candidate| (c.distance_from_possible(), (100.0 * c.minutes).round());
    key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal)
}

/// The best way with each wire.
pub fn look(setting: Setting, cuttings: &[Cutting], terms: &[Terms]) -> Looked {
    let holes = holes(setting, terms);
    let best = (cuttings.iter().enumerate())
        .filter_map(|(index, cutting)| {
            let mut ways_in = WaysIn { setting, cutting, known: Vec::new() };
            let mut best: Option<Candidate> = None;
            for (tool, hole) in &holes {
                for place in places(setting, hole, cutting) {
                    let way = judge(setting, (*tool, hole), (index, cutting), (place, ways_in.from(place)));
                    if best.as_ref().is_none_or(|best| order(&way, best).is_lt()) {
                        best = Some(way);
                    }
                }
            }
            best
        })
        .collect();
    Looked { best }
}

/// Whether some way keeps every bound, with these terms.
pub fn possible(setting: Setting, cuttings: &[Cutting], terms: &[Terms]) -> bool {
    let silent = &mut Reckoning::silent();
    let place = setting.stated_place().unwrap_or(setting.opening.circle.centre);
    holes(setting, terms).iter().any(|(_, hole)| {
        cuttings.iter().any(|cutting| {
            let mut found = candidate::bounds(silent, setting, hole, cutting, (place, None)).into_iter();
            found.all(|bound| bound.name == "lead-in" || bound.holds())
        })
    })
}

/// One hole for each electrode that may burn it, or each wheel that may grind it, with its row, silently.
fn holes(setting: Setting, terms: &[Terms]) -> Vec<(usize, Hole)> {
    let silent = &mut Reckoning::silent();
    if setting.burn.ground.is_some() {
        let made = |row| (row, setting.burn.made(silent, setting, row));
        return half_round::wheels(setting.shop).into_iter().map(made).collect();
    }
    let burned_with = setting.burn.burned_with(setting, terms);
    let allowed = terms.iter().enumerate().filter(|(row, terms)| match burned_with {
        Some(with) => *row == with,
        None => setting.allows(terms.electrode.value),
    });
    allowed.map(|(row, terms)| (row, setting.burn.hole(silent, setting, *terms))).collect()
}

/// Where the hole could be: where the job says, if it does; else where most room is, beside the middle of a long stretch if that has as much; or, in a
/// wide opening, just so far from a long stretch that more room would be worth nothing, which shortens the lead-in.
fn places(setting: Setting, hole: &Hole, cutting: &Cutting) -> Vec<Point> {
    if let Some(stated) = setting.stated_place() {
        return vec![stated];
    }
    if let Some(over) = &setting.burn.ground {
        let enough = hole.need.value.max(cutting.passes.main()) + ROOM_CAP;
        return half_round::places(over, |place| setting.opening.clear(place), enough);
    }
    let circle = &setting.opening.circle;
    if !cutting.in_one_piece() {
        return vec![circle.centre];
    }
    let pieces: Vec<Segment> = setting.opening.free().pieces(&cutting.edges[0][0]);
    let beside = |away: f64, most: usize| {
        let places = cutting.stretches.iter().take(most).filter_map(|&i| {
            let place = pieces[i].at(0.5) + pieces[i].direction(0.5).left() * away;
            (setting.opening.clear(place) >= away - AS_MUCH).then_some(place)
        });
        places.collect::<Vec<Point>>()
    };
    let places = if setting.opening.is_outside() {
        // Near the piece, and on whichever side there is metal enough to the block's sides and the next piece.
        let near = hole.need.value.max(cutting.passes.main() + setting.shop.dialect.least_lead_in.value);
        let frame = setting.shop.core.frame.value + hole.entry.value / 2.0;
        let stands = |place: &Point| {
            setting.opening.around.as_ref().is_none_or(|around| around.clear(*place) >= frame)
        };
        let far = beside(near + ROOM_CAP, BESIDE_A_PIECE);
        if far.iter().any(stands) { far } else { beside(near, BESIDE_A_PIECE) }
    } else {
        beside(circle.radius.min(hole.need.value + ROOM_CAP), BESIDE_AN_OPENING)
    };
    let over_bore = setting.burn.bore.map(|bore| bore.centre);
    places.into_iter().chain([circle.centre]).chain(over_bore).collect()
}

/// The ways in of one wire: they hang on the hole's place, not on the electrode, and several electrodes share a place.
struct WaysIn<'a> {
    setting: Setting<'a>,
    cutting: &'a Cutting,
    known: Vec<(Point, In)>,
}

/// The way in of the passes, and that of the tilted wire where a relief is asked; the first only where there is both.
type In = (Option<LeadIn>, Option<LeadIn>);

impl WaysIn<'_> {
    fn from(&mut self, place: Point) -> In {
        if let Some((_, way)) = self.known.iter().find(|(known, _)| *known == place) {
            return way.clone();
        }
        let away = self.setting.opening.clear(place);
        let (cutting, opening) = (self.cutting, self.setting.opening);
        let overlap = self.setting.shop.cutting.overlap.value;
        let way = match &cutting.tilted {
            _ if !(cutting.in_one_piece() && away >= cutting.passes.main()) => (None, None),
            None => (cutting.lead_in(opening, place, overlap), None),
            Some(tilted) => match tilted.lead_in(opening, place, overlap) {
                None => (None, None),
                tilted_in => (cutting.lead_in(opening, place, overlap), tilted_in),
            },
        };
        self.known.push((place, way.clone()));
        way
    }
}

fn judge(
    setting: Setting,
    (tool, hole): (usize, &Hole),
    (index, cutting): (usize, &Cutting),
    (place, (lead_in, tilted_in)): (Point, In),
) -> Candidate {
    let silent = &mut Reckoning::silent();
    let bounds = candidate::bounds(silent, setting, hole, cutting, (place, lead_in.as_ref()));
    let minutes = f64::INFINITY;
    let mut way = Candidate { tool, cutting: index, place, bounds, lead_in, tilted_in, minutes };
    if way.holds() {
        way.minutes = self::minutes(setting, hole, cutting, &way);
    }
    way
}

/// Whole minutes of a way that keeps every bound: burning, cutting, and the price of spoiling the block by its
/// chance, where that chance is worth a thought.
fn minutes(setting: Setting, hole: &Hole, cutting: &Cutting, way: &Candidate) -> f64 {
    let Some(lead_in) = &way.lead_in else { return f64::INFINITY };
    let silent = &mut Reckoning::silent();
    let feeds = Feeds::of(silent, setting, cutting.passes.row);
    let back = !setting.opening.is_outside();
    let cut: f64 = (0..cutting.passes.passes.len())
        .map(|pass| {
            candidate::pass_minutes(silent, setting, cutting, pass, (feeds, lead_in, 0.0, back)).value
        })
        .sum();
    // Half-rounds are ground with the joint's faces, whatever their form.
    let burn = hole.burned.map_or(0.0, |terms| {
        silent.rule(At(setting.head, "start.minutes"), &BURN_MINUTES, [hole.depth, terms.rate]).value
    });
    let slack = candidate::distance(silent, setting, (hole, way.place)).value - hole.takes.value;
    let sure = match at_least(slack, hole.sigma_position.value, hole.sigma_size.value) {
        // The integral could only say that it is surer still.
        bound if bound >= SURE => bound,
        _ => candidate::clean_up(silent, setting, hole, way.place).value,
    };
    // A hold point is somebody's time; a wide wheel is not worth it.
    let room = candidate::distance(silent, setting, (hole, way.place)).value - hole.need.value;
    let tight = hole.burned.is_none() && room < setting.shop.allowance.measure_below.value;
    let hold = if tight { HOLD_MINUTES } else { 0.0 };
    let risk = if sure >= SURE { 0.0 } else { 1.0 - sure };
    let tilted = cutting.tilted.as_ref().zip(way.tilted_in.as_ref()).map_or(0.0, |(tilted, lead_in)| {
        tilted_cut::minutes(silent, setting, tilted, (feeds, lead_in, cutting.passes.wire)).value
    });
    tilted + cut + burn + hold + risk * setting.shop.cutting.remake_minutes.value
}
