//! The way of the wire: its centre in every pass, told apart by ticks, and the lead-in.

use crate::ink::Ink;
use crate::key::Mark;
use crate::shape::{length, points};
use crate::{Item, LineKind, Path};
use package::Wire;

/// Ways closer than this on paper, mm, cannot be told apart: the earlier one stands for both.
const APART: f64 = 1.5;
/// Half a tick, mm of paper: less than half the distance between two ways.
const TICK: f64 = 0.45;
/// Between the ticks of one dash, mm of paper.
const TICK_STEP: f64 = 0.7;
/// Dashes of one way that are ticked: no way within a die is longer at any scale here.
const MOST_DASHES: usize = 20_000;

/// Draws the ways that can be told apart; gives back the numbers of those left out.
pub fn passes(ink: &mut Ink, wire: &Wire) -> Vec<usize> {
    let mut drawn: Vec<f64> = Vec::new();
    let mut left_out = Vec::new();
    for (i, pass) in wire.passes.iter().enumerate().filter(|(_, p)| p.centre.len() > 1) {
        if drawn.iter().any(|d| (d - pass.offset_mm).abs() * ink.scale < APART) {
            left_out.push(i + 1);
            continue;
        }
        drawn.push(pass.offset_mm);
        ink.stroke(LineKind::WireCentre, Path::outline(&pass.centre));
        let mut way = points(&pass.centre, ink.scale);
        way.extend(way.first().copied());
        let seen: Vec<_> =
            ticks(&way, ink.scale, i + 1).into_iter().filter(|t| ink.sees(t[0]) || ink.sees(t[1])).collect();
        for tick in seen {
            ink.stroke(LineKind::Tick, Path::open(&tick));
        }
        ink.mark(Mark::WireCentre);
    }
    left_out
}

/// `count` ticks across each dash of a way, where the dashes of [`LineKind::WireCentre`] come to lie.
pub fn ticks(way: &[[f64; 2]], scale: f64, count: usize) -> Vec<[[f64; 2]; 2]> {
    let [dash, space] = [LineKind::WireCentre.dashes_mm()[0], LineKind::WireCentre.dashes_mm()[1]];
    let gaps = count.saturating_sub(1).max(1) as f64;
    let step = TICK_STEP.min((dash - 0.4) / gaps);
    let places = (0..MOST_DASHES).flat_map(|k| {
        let middle = k as f64 * (dash + space) + dash / 2.0;
        (0..count).map(move |n| middle + (n as f64 - (count as f64 - 1.0) / 2.0) * step)
    });
    let mut ticks = Vec::new();
    let (mut leg, mut before) = (0, 0.0);
    for place in places {
        let wanted = place / scale;
        loop {
            let Some([a, b]) = way.get(leg..leg + 2) else { return ticks };
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let long = length([dx, dy]);
            if before + long < wanted || long == 0.0 {
                before += long;
                leg += 1;
                continue;
            }
            let (u, v, s) = (dx / long, dy / long, wanted - before);
            let (x, y, arm) = (a[0] + u * s, a[1] + v * s, TICK / scale);
            ticks.push([[x - v * arm, y + u * arm], [x + v * arm, y - u * arm]]);
            break;
        }
    }
    ticks
}

/// A mid line from a ring where the wire is threaded, which stands in no ring beside the block, to half an arrowhead at the edge.
pub fn lead_in(ink: &mut Ink, wire: &Wire, threaded: bool) {
    let (Some(first), [.., before, end]) = (wire.lead_in.first(), wire.lead_in.as_slice()) else { return };
    ink.stroke(LineKind::LeadIn, Path::open(&wire.lead_in));
    if threaded {
        ink.stroke(LineKind::LeadIn, Path::circle(first[0], first[1], ink.paper(0.8)));
    }
    let size = ink.paper(1.0);
    half_arrow(&mut ink.items, *before, *end, size);
    ink.mark(if threaded { Mark::LeadIn } else { Mark::WayIn });
}

/// The left half of an arrowhead at `end`, a line: nothing solid that could be taken for a room that is short.
/// `size` is a millimetre of paper.
pub fn half_arrow(items: &mut Vec<Item>, before: [f64; 2], end: [f64; 2], size: f64) {
    let (dx, dy) = (end[0] - before[0], end[1] - before[1]);
    let long = length([dx, dy]);
    if long > 0.0 {
        let (u, v) = (dx / long, dy / long);
        let barb = [end[0] - (u * 2.6 + v * 1.3) * size, end[1] - (v * 2.6 - u * 1.3) * size];
        items.push(Item::Stroke(LineKind::LeadIn, Path::open(&[end, barb])));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_whole_dash_of_pass_n_carries_n_ticks_around_its_middle() {
        let way = [[0.0, 0.0], [0.3, 0.0], [1.1, 0.0]];
        for count in 1..=6 {
            let ticks = ticks(&way, 10.0, count);
            assert_eq!(ticks.len(), 2 * count);
            let middle = |part: &[[[f64; 2]; 2]]| part.iter().map(|t| t[0][0]).sum::<f64>() / count as f64;
            assert!((middle(&ticks[..count]) - 0.2).abs() < 1e-9);
            assert!((middle(&ticks[count..]) - 0.75).abs() < 1e-9);
        }
    }
}
