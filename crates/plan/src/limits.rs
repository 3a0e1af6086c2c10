//! How far a start is possible at all, what would cure an opening that cannot be started, and what the verdict hangs on.

use crate::candidate::{BoundCheck, Candidate, Setting};
use crate::choice::possible;
use crate::cutting::Cutting;
use crate::figure::Figure;
use crate::hole::{Hole, Terms};
use crate::reckoning::Reckoning;
use remark::Remark;

/// Below this depth left to burn a back bore would leave no floor worth the name, mm (common practice, no source).
const LEAST_FLOOR: f64 = 5.0;
/// Electrodes come in steps of this, mm (common practice, no source).
const ELECTRODE_STEP: f64 = 0.01;
/// Thinnest electrode worth naming as a cure, mm (common practice, no source).
const THINNEST: f64 = 0.08;

/// A change that would make an opening possible; the room it would leave where it is computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// What to change.
    pub change: String,
    /// Room of the hole then, mm.
    pub room: Option<f64>,
}

/// What would cure the best candidate.
pub fn cures(
    setting: Setting,
    best: &Candidate,
    cuttings: &[Cutting],
    hole: &Hole,
    terms: &[Terms],
) -> Vec<Remedy> {
    let broken = |name: &str| best.bounds.iter().any(|bound| bound.name == name && !bound.holds());
    let mut found = Vec::new();
    let named = |change: String| Remedy { change, room: None };
    if broken("clean-up") || broken("depth") {
        found.extend(another_place(setting, hole));
        found.extend(smaller_electrode(setting, hole));
        found.extend(back_bore(setting, terms));
        found.push(named("follow the hole: find its centre by the wire and shift the cut".to_owned()));
        found.push(named("make the section in two halves".to_owned()));
    }
    let wire = cuttings[best.cutting].passes.wire.value;
    if broken("threading")
        || broken("short")
        || broken("reach")
        || broken("one-piece")
        || broken("corners")
        || broken("print-radius")
    {
        found.push(named(format!("a wire finer than {wire}")));
    }
    if let Some(corner) = best.bounds.iter().find(|bound| bound.name == "corners" && !bound.holds()) {
        let need = (corner.need.value * 1000.0).ceil() / 1000.0;
        found.push(named(format!("corner_tolerance of {need:.3} or more")));
    }
    if let Some(radius) = best.bounds.iter().find(|bound| bound.name == "print-radius" && !bound.holds()) {
        let need = (radius.need.value * 1000.0).ceil() / 1000.0;
        found.push(named(format!("a print that allows a corner_radius of {need:.3} or more")));
    }
    if broken("wire-height") {
        found.push(named(format!("a lower block, or a wire that cuts {} high", setting.height.value)));
    }
    if broken("lead-in") {
        found.push(named("another place for the hole, stated by hand: `start = { at = [x, y] }`".to_owned()));
    }
    found
}

/// How far the finished edge is from where the hole would be: the stated place, or where most room is.
fn distance(setting: Setting) -> f64 {
    match setting.stated_place() {
        Some(place) => setting.opening.target.signed_distance(place),
        None => setting.opening.inscribed.value,
    }
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

/// The largest electrode that would clean up at this depth, if it is smaller than the one looked at.
fn smaller_electrode(setting: Setting, hole: &Hole) -> Option<Remedy> {
    let x = distance(setting);
    let spare = x - hole.need.value;
    let fits = ((hole.terms.electrode.value + 2.0 * spare) / ELECTRODE_STEP + 1e-9).floor() * ELECTRODE_STEP;
    if spare >= 0.0 || fits < THINNEST {
        return None;
    }
    let silent = &mut Reckoning::silent();
    let electrode = Figure { value: fits, ..hole.terms.electrode };
    let burned = Hole::burned(silent, setting.head, Terms { electrode, ..hole.terms }, hole.depth);
    let change = format!("an electrode of {fits:.2} that burns {} deep", hole.depth.value);
    Some(Remedy { change, room: Some(x - burned.need.value) })
}

/// A back bore that leaves a floor some electrode of the shop could burn through and clean up.
fn back_bore(setting: Setting, terms: &[Terms]) -> Option<Remedy> {
    let x = distance(setting);
    let silent = &mut Reckoning::silent();
    terms.iter().find_map(|terms| {
        let floor = terms.max_depth.value.min(8.0);
        if floor < LEAST_FLOOR || floor >= setting.height.value {
            return None;
        }
        let depth = Figure { value: floor, ..setting.height };
        let hole = Hole::burned(silent, setting.head, *terms, depth);
        let bore = setting.height.value - floor;
        (x >= hole.need.value).then(|| Remedy {
            change: format!(
                "bore the back out {bore} deep while soft ({floor} left to burn) and burn with the {} electrode",
                terms.electrode.value
            ),
            room: None,
        })
    })
}

/// The allowances whose change by half, up or down, flips the verdict.
pub fn hangs_on(setting: Setting, cuttings: &[Cutting], terms: &[Terms]) -> Vec<(&'static str, f64)> {
    let now = possible(setting, cuttings, terms);
    let Some(first) = terms.first() else { return Vec::new() };
    let names = { *first }.named().map(|(name, _)| name);
    let mut found = Vec::new();
    for (i, name) in names.into_iter().enumerate() {
        for factor in [0.5, 1.5] {
            let changed: Vec<Terms> = terms
                .iter()
                .map(|terms| {
                    let mut terms = *terms;
                    terms.named()[i].1.value *= factor;
                    terms
                })
                .collect();
            if possible(setting, cuttings, &changed) != now {
                found.push((name, factor));
            }
        }
    }
    found
}

/// The remark that says which bound fails and by how much, added up in place.
pub fn refusal(setting: Setting, best: &Candidate, hole: &Hole, largest: f64) -> Remark {
    let id = &setting.edge.id;
    let worst =
        best.bounds.iter().filter(|bound| !bound.holds()).map(|bound| say(setting, bound, hole, largest));
    let message = format!("edge `{id}` cannot be started here: {}", worst.collect::<Vec<_>>().join("; "));
    Remark::warning("not-in-this-shop", message).place(setting.edge.place.clone())
}

fn say(setting: Setting, bound: &BoundCheck, hole: &Hole, largest: f64) -> String {
    let (have, need, short) = (bound.have.value, bound.need.value, bound.short());
    match bound.name {
        "clean-up" => {
            let t = &hole.terms;
            let rim = hole.takes.value - hole.rest.value;
            let place = setting.stated_place().map_or(",", |_| " where most room is; at the stated place");
            format!(
                "the largest hole that can clean up is {largest:.3}{place} electrode {} burns {:.3}: rim with drift {rim:.4} + recast {:.4} + stock {:.4} + chance {:.4} (3 sigma) = {need:.4}; metal {have:.4}; SHORT {short:.4}",
                t.electrode.value, hole.entry.value, t.recast.value, t.stock.value, hole.chance.value
            )
        }
        "depth" => format!(
            "electrode {} burns {have} deep at most, the block is {need} high",
            hole.terms.electrode.value
        ),
        "threading" => format!("the hole's exit is {have:.3}, threading needs {need:.3}: SHORT {short:.3}"),
        "short" => format!(
            "the hole's exit is {have:.3}, the wire needs {need:.3} not to short on its way: SHORT {short:.3}"
        ),
        "reach" => format!(
            "the wire's centre must stay {need:.4} from the edge, the opening gives {have:.4}: SHORT {short:.4}"
        ),
        "one-piece" => format!(
            "the opening falls apart for this wire: it stays one piece to {have:.4}, the main cut needs {need:.4}"
        ),
        "corners" => format!("the wire leaves {need:.4} in a corner, {have:.4} is allowed"),
        "print-radius" => {
            format!("the wire forces a radius of {need:.4} on the part's corners, the print allows {have:.4}")
        }
        "wire-height" => format!("this wire cuts {have} high at most, the block is {need} high"),
        "tolerance" => format!("plus or minus {have} is asked, the shop's wires hold {need}"),
        _ => format!("{} of {}: have {have:.4}, need {need:.4}", bound.name, setting.edge.id),
    }
}
