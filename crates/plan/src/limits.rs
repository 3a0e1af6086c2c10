//! Why an opening cannot be started, added up in place, and what the verdict hangs on.

use crate::candidate::{BoundCheck, Candidate, Setting};
use crate::choice::possible;
use crate::cutting::Cutting;
use crate::hole::{Hole, Terms};
use remark::Remark;

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
    let worst = worst.collect::<Vec<_>>().join("; ");
    let remark = match setting.burn.measured {
        Some(_) => Remark::warning(
            "may-not-go-on",
            format!("edge `{id}`: THE CUT MAY NOT GO ON in the measured hole: {worst}"),
        ),
        None => Remark::warning("not-in-this-shop", format!("edge `{id}` cannot be started here: {worst}")),
    };
    remark.place(setting.edge.place.clone())
}

/// What makes the hole, and the verb.
fn tool(hole: &Hole) -> String {
    match &hole.burned {
        Some(terms) => format!("electrode {} burns", terms.electrode.value),
        None => format!("half-rounds of radius {} make", hole.entry.value / 2.0),
    }
}

fn say(setting: Setting, bound: &BoundCheck, hole: &Hole, largest: f64) -> String {
    let (have, need, short) = (bound.have.value, bound.need.value, bound.short());
    let through = if hole.worst.is_some() { "straight through the hole is" } else { "the hole's exit is" };
    match bound.name {
        "clean-up" if hole.worst.is_some() => {
            let rim = hole.takes.value - hole.rest.value;
            format!(
                "rim {rim:.4} + recast {:.4} + stock {:.4} + measuring {:.4} (3 sigma) = {need:.4}; metal {have:.4}; SHORT {short:.4}",
                hole.recast.value, hole.stock.value, hole.chance.value
            )
        }
        "clean-up" => {
            let rim = hole.takes.value - hole.rest.value;
            let place = setting.stated_place().map_or(",", |_| " where most room is; at the stated place");
            format!(
                "the largest hole that can clean up is {largest:.3}{place} {} {:.3}: rim with drift {rim:.4} + recast {:.4} + stock {:.4} + chance {:.4} (3 sigma) = {need:.4}; metal {have:.4}; SHORT {short:.4}",
                tool(hole),
                hole.entry.value,
                hole.recast.value,
                hole.stock.value,
                hole.chance.value
            )
        }
        "depth" => {
            format!("{} {have} deep at most, {need} are to burn", tool(hole))
        }
        "electrode-length" => format!(
            "an electrode is {have} long, this hole asks for {need:.1}: what wears off and what then reaches through"
        ),
        "bore" => format!(
            "the back bore leaves {have:.3} around the hole's centre, its exit may take {need:.3}: SHORT {short:.3}"
        ),
        "threading" => format!("{through} {have:.3}, threading needs {need:.3}: SHORT {short:.3}"),
        "short" => {
            format!("{through} {have:.3}, the wire needs {need:.3} not to short on its way: SHORT {short:.3}")
        }
        "reach" => format!(
            "the wire's centre must stay {need:.4} from the edge, the opening gives {have:.4}: SHORT {short:.4}"
        ),
        "frame" => format!(
            "between the start hole and the block's side or the next piece {have:.3} of metal would stand, {need:.3} is asked for"
        ),
        _ => of_wire(setting, bound),
    }
}

/// The same of a bound on the wire alone.
pub fn of_wire(setting: Setting, bound: &BoundCheck) -> String {
    let (have, need) = (bound.have.value, bound.need.value);
    match bound.name {
        "one-piece" => format!(
            "the opening falls apart for this wire: it stays one piece to {have:.4}, the main cut needs {need:.4}"
        ),
        "piece" => format!(
            "the piece is too small for this wire: its edge is {have:.3} long, with a tab this wire goes round {need:.3} or more"
        ),
        "bay" => format!(
            "the wider pass (the main cut around a piece, the tilted wire in an opening) stays out of a bay that the next one would enter, {need:.4} deeper, through full metal"
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
