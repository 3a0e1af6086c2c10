//! What would make an opening possible that is not: each change tried, with the room that it would leave.
//!
//! A change of how the hole is burned is tried as a plan would be: every electrode, every wire, every bound. Two changes
//! together are named only where no single one does it.

use crate::bore::{Bore, farthest};
use crate::burn::Burn;
use crate::candidate::{self, Candidate, Setting};
use crate::cutting::Cutting;
use crate::edge_start;
use crate::figure::Figure;
use crate::half_round;
use crate::hole::{Hole, Terms};
use crate::reckoning::Reckoning;
use crate::split::over;
use job::{Along, Face, HalfRound, Known, Position, Shop};
use outline::Point;

/// Floor that a back bore leaves, mm (common practice, no source).
const FLOOR: f64 = 6.0;
/// How much wider than the circle around the opening a bore is made, mm (common practice, no source).
const WIDER: f64 = 0.5;
/// Bores and their depths are stated in steps of this, mm.
const BORE_STEP: f64 = 0.1;
/// Electrodes come in steps of this, mm (common practice, no source).
const ELECTRODE_STEP: f64 = 0.01;
/// A joint that lies this near to where most room is cannot be bettered, mm.
const AS_GOOD: f64 = 1e-3;
/// Finest radius that a wheel is worth being dressed to, mm (common practice, no source).
const FINEST_WHEEL: f64 = 0.04;
/// Thinnest electrode worth naming as a cure, mm (common practice, no source).
const THINNEST: f64 = 0.08;

/// Bounds that a finer wire may keep.
const FINER: [&str; 7] = ["threading", "short", "one-piece", "corners", "bay", "piece", "print-radius"];
/// Bounds on the start hole of a piece.
const HOLE: [&str; 8] =
    ["clean-up", "threading", "short", "reach", "frame", "depth", "electrode-length", "lead-in"];

/// A change that would make an opening possible; the room it would leave where it is computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// What to change.
    pub change: String,
    /// Room of the hole then, mm.
    pub room: Option<f64>,
}

/// What would cure the best candidate.
pub fn of(setting: Setting, best: &Candidate, cuttings: &[Cutting], hole: &Hole) -> Vec<Remedy> {
    let broken = |name: &str| best.bounds.iter().any(|bound| bound.name == name && !bound.holds());
    let mut found = Vec::new();
    let named = |change: String| Remedy { change, room: None };
    // Where the hole would do in another place, block and wire are not at fault.
    let mut elsewhere = false;
    if setting.burn.measured.is_some() {
        if broken("clean-up") || broken("reach") {
            found.extend(shift(setting, hole));
        }
    } else if setting.burn.ground.is_some() {
        found.extend(ground_otherwise(setting, cuttings, hole));
    } else if ["clean-up", "depth", "electrode-length", "short", "threading"].into_iter().any(broken) {
        let moved = another_place(setting, hole);
        elsewhere = moved.is_some();
        found.extend(moved);
        if broken("clean-up") {
            found.extend(smaller_electrode(setting, hole));
        }
        found.extend(burned_otherwise(setting, cuttings));
        if !elsewhere {
            found.extend(in_halves(setting, cuttings));
        }
    }
    if broken("bore") {
        found.push(named("a wider back bore, or its centre under the hole".to_owned()));
    }
    if broken("reach") && !elsewhere && !FINER.into_iter().any(broken) {
        found.push(named(format!("a wire finer than {}", cuttings[best.cutting].passes.wire.value)));
    }
    found.extend(of_wire(setting, best, cuttings[best.cutting].passes.wire.value));
    if broken("frame") {
        found.push(named("a larger `cut_from`, or another `at`".to_owned()));
    }
    if HOLE.into_iter().any(broken) && setting.burn.measured.is_none() {
        found.extend(edge_start::instead_of_hole(setting, cuttings));
    }
    if broken("lead-in") {
        found.push(named("another place for the hole, stated by hand: `start = { at = [x, y] }`".to_owned()));
    }
    found
}

/// What would cure bounds on the wire alone.
pub fn of_wire(setting: Setting, best: &Candidate, wire: f64) -> Vec<Remedy> {
    let broken = |name: &str| best.bounds.iter().find(|bound| bound.name == name && !bound.holds());
    let up = |value: f64| (value * 1000.0).ceil() / 1000.0;
    let mut found = Vec::new();
    if FINER.into_iter().any(|name| broken(name).is_some()) {
        found.push(format!("a wire finer than {wire}"));
    }
    if let Some(corner) = broken("corners") {
        found.push(format!("corner_tolerance of {:.3} or more", up(corner.need.value)));
    }
    if let Some(radius) = broken("print-radius") {
        found.push(format!("a print that allows a corner_radius of {:.3} or more", up(radius.need.value)));
    }
    if broken("wire-height").is_some() {
        found.push(format!("a lower block, or a wire that cuts {} high", setting.height.value));
    }
    found.into_iter().map(|change| Remedy { change, room: None }).collect()
}

/// How far the finished edge is from where the hole would be.
fn distance(setting: Setting) -> f64 {
    match (setting.stated_place(), setting.burn.ground) {
        (None, None) => setting.opening.inscribed.value,
        _ => setting.opening.clear(place(setting, setting.burn)),
    }
}

/// Where the hole would be: the stated place, or where most room is, on its joint if it has one.
fn place(setting: Setting, burn: &Burn) -> Point {
    let clear = |place| setting.opening.clear(place);
    let on_joint = || half_round::places(burn.ground.as_ref()?, clear, f64::INFINITY).into_iter().next();
    setting.stated_place().or_else(on_joint).unwrap_or(setting.opening.circle.centre)
}

/// Where most room is, if the job states another place and the hole would clean up there.
fn another_place(setting: Setting, hole: &Hole) -> Option<Remedy> {
    setting.stated_place()?;
    let room = setting.opening.inscribed.value - hole.need.value;
    let centre = setting.opening.circle.centre;
    let change = format!(
        "the hole where most room is, x {:.4} y {:.4}, instead of the stated place",
        centre.x, centre.y
    );
    (room >= 0.0).then_some(Remedy { change, room: Some(room) })
}

/// A measured hole stays where it is: the opening may move, while the outside of the block is not finished.
fn shift(setting: Setting, hole: &Hole) -> Option<Remedy> {
    let (by, spare) = setting.burn.measured.as_ref()?.shifted(setting.opening);
    let room = spare - hole.rest.value - hole.chance.value;
    let change = format!(
        "move the opening by x {:+.4} y {:+.4} to the hole, while the outside of the block is still to be finished",
        by.x, by.y
    );
    (room >= 0.0).then_some(Remedy { change, room: Some(room) })
}

/// The largest electrode that would clean up at this depth, if it is smaller than the one looked at.
fn smaller_electrode(setting: Setting, hole: &Hole) -> Option<Remedy> {
    let terms = hole.burned?;
    let x = distance(setting);
    let spare = x - hole.need.value;
    let fits = ((terms.electrode.value + 2.0 * spare) / ELECTRODE_STEP + 1e-9).floor() * ELECTRODE_STEP;
    if spare >= 0.0 || fits < THINNEST {
        return None;
    }
    let silent = &mut Reckoning::silent();
    let electrode = Figure { value: fits, ..terms.electrode };
    let burned = setting.burn.hole(silent, setting, Terms { electrode, ..terms });
    let change = format!("an electrode of {fits:.2} that burns {} deep", hole.depth.value);
    Some(Remedy { change, room: Some(x - burned.need.value) })
}

/// A way of burning and its words.
type Otherwise = (String, Burn);

/// Single changes of how the hole is burned that do it; where none does, pairs of them.
fn burned_otherwise(setting: Setting, cuttings: &[Cutting]) -> Vec<Remedy> {
    let changes: [fn(Setting, &Burn) -> Option<Otherwise>; 4] =
        [bored, from_the_face, on_the_datum, following];
    let one = |change: fn(Setting, &Burn) -> Option<Otherwise>, burn: &Burn| change(setting, burn);
    let singles: Vec<Otherwise> = changes.iter().filter_map(|change| one(*change, setting.burn)).collect();
    let found: Vec<Remedy> = singles.iter().filter_map(|way| tried(setting, cuttings, way)).collect();
    if !found.is_empty() {
        return found;
    }
    let mut pairs = Vec::new();
    for (i, first) in changes.iter().enumerate() {
        let Some((words, burn)) = one(*first, setting.burn) else { continue };
        for second in &changes[i + 1..] {
            if let Some((more, burn)) = one(*second, &burn) {
                pairs.extend(tried(setting, cuttings, &(format!("{words}, and {more}"), burn)));
            }
        }
    }
    pairs
}

/// The best room that some electrode and wire find with a way of burning, where every bound is kept.
fn tried(setting: Setting, cuttings: &[Cutting], (words, burn): &Otherwise) -> Option<Remedy> {
    let silent = &mut Reckoning::silent();
    let setting = Setting { burn, height: burn.height, ..setting };
    let place = place(setting, burn);
    let mut best: Option<(f64, f64)> = None;
    let shop = setting.shop;
    let tools: Vec<(usize, f64)> = match burn.ground {
        Some(_) => {
            half_round::wheels(shop).into_iter().map(|row| (row, shop.half_round.radii.value[row])).collect()
        }
        None => {
            let electrodes = shop.electrodes.iter().map(|one| one.diameter.value).enumerate();
            electrodes.filter(|(_, electrode)| setting.allows(*electrode)).collect()
        }
    };
    for (row, tool) in tools {
        let hole = burn.made(silent, setting, row);
        let room = setting.opening.clear(place) - hole.need.value;
        let mut keeps = |cutting: &Cutting| {
            let bounds = candidate::bounds(silent, setting, &hole, cutting, (place, None));
            bounds.iter().all(|bound| bound.name == "lead-in" || bound.holds())
        };
        let goes = cuttings.iter().filter(|cutting| cutting.in_one_piece()).any(&mut keeps);
        if goes && best.is_none_or(|(most, _)| room > most) {
            best = Some((room, tool));
        }
    }
    let (room, tool) = best?;
    let with = if burn.ground.is_some() { "half-rounds of radius" } else { "electrode" };
    Some(Remedy { change: format!("{words}: {with} {tool}"), room: Some(room) })
}

/// In two halves, joined where most room is, the way in which the joint meets the opening twice.
fn in_halves(setting: Setting, cuttings: &[Cutting]) -> Option<Remedy> {
    let whole = setting.section.cut_from.is_none() && setting.section.halves.is_none();
    if setting.opening.is_outside() || !whole {
        return None;
    }
    let joined = |along| over(&setting.opening.target, along, setting.opening.circle.centre);
    let over = [Along::X, Along::Y].into_iter().find_map(joined)?;
    let way = if over.along == Along::X { "x" } else { "y" };
    let words = format!("make the section in two halves (`halves = {{ along = \"{way}\" }}`)");
    let height = setting.height;
    let burn = Burn { ground: Some(over), bore: None, depth: height, ..setting.burn.clone() };
    tried(setting, cuttings, &(words, burn))
}

/// A hole that is ground already: a joint where more room is, or the widest wheel that cleans up.
fn ground_otherwise(setting: Setting, cuttings: &[Cutting], hole: &Hole) -> Vec<Remedy> {
    let mut found = Vec::new();
    let Some(here) = setting.burn.ground else { return found };
    let centre = setting.opening.circle.centre;
    let there = over(&setting.opening.target, here.along, centre)
        .filter(|there| setting.edge.start.at.is_none() && (there.at - here.at).abs() > AS_GOOD);
    if let Some(there) = there {
        let words = format!("`at = {:.3}` of the `halves`, where most room is", there.at);
        found.extend(tried(
            setting,
            cuttings,
            &(words, Burn { ground: Some(there), ..setting.burn.clone() }),
        ));
    }
    let spare = distance(setting) - hole.need.value;
    let fits = ((hole.entry.value / 2.0 + spare) / ELECTRODE_STEP + 1e-9).floor() * ELECTRODE_STEP;
    let radii = &setting.shop.half_round.radii;
    if fits >= FINEST_WHEEL && !radii.value.contains(&((fits * 100.0).round() / 100.0)) {
        let words = if spare < 0.0 { "a finer wheel" } else { "a wider wheel" };
        let radii = Known { value: vec![(fits * 100.0).round() / 100.0], from: radii.from.clone() };
        let half_round = HalfRound { radii, ..setting.shop.half_round.clone() };
        let shop = Shop { half_round, ..setting.shop.clone() };
        let other = Setting { shop: &shop, ..setting };
        found.extend(tried(other, cuttings, &(words.to_owned(), setting.burn.clone())));
    }
    found
}

/// A bore from the back that clears the opening and leaves the usual floor.
fn bored(setting: Setting, burn: &Burn) -> Option<Otherwise> {
    if burn.depth.value <= FLOOR {
        return None;
    }
    let height = burn.bore.map_or(burn.height.value, |bore| bore.depth.value + bore.floor.value);
    let (opening, section) = (setting.opening, setting.section);
    let centre = opening.target.bounds().middle();
    let deep = ((height - FLOOR) / BORE_STEP + 1e-9).floor() * BORE_STEP;
    let wide = ((2.0 * farthest(opening, centre) + WIDER) / BORE_STEP - 1e-9).ceil() * BORE_STEP;
    let fits = |size: f64, at: f64| at.abs() + wide / 2.0 < size / 2.0;
    if !fits(section.size[0].value, centre.x) || !fits(section.size[1].value, centre.y) {
        return None;
    }
    let of = |value: f64| Figure { value, ..burn.depth };
    let floor = of(height - deep);
    let bore = Bore { centre, diameter: of(wide), depth: of(deep), floor, clears: true };
    let words = format!(
        "bore the back out {deep:.1} deep and {wide:.1} wide while soft ({:.1} floor kept)",
        floor.value
    );
    Some((words, Burn { depth: floor, height: floor, bore: Some(bore), ..burn.clone() }))
}

/// From the other face, where the guide stands nearer to the metal.
fn from_the_face(_: Setting, burn: &Burn) -> Option<Otherwise> {
    let far = burn.from == Face::Back && burn.bore.is_some();
    far.then(|| ("burn from the cutting face".to_owned(), Burn { from: Face::Cutting, ..burn.clone() }))
}

/// On the datum that burner and wire machine share.
fn on_the_datum(_: Setting, burn: &Burn) -> Option<Otherwise> {
    let words = "keep the block on the datum that burner and wire machine share";
    (burn.method == Position::Remounted)
        .then(|| (words.to_owned(), Burn { method: Position::SharedDatum, ..burn.clone() }))
}

/// Found by the wire machine, where no other hole of the section is.
fn following(setting: Setting, burn: &Burn) -> Option<Otherwise> {
    let taken = setting.section.edges.iter().any(|edge| edge.start.method() == Position::Following);
    let words = "follow the hole (`start = { position = \"following\" }`) while the outside is not finished";
    (!taken).then(|| (words.to_owned(), Burn { method: Position::Following, ..burn.clone() }))
}
