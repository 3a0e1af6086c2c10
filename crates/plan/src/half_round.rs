//! The start hole of an opening that lies over the joint of two halves: a half-round ground into each of them.

use crate::figure::Figure;
use crate::hole::Hole;
use crate::reckoning::{At, Reckoning, what};
use crate::relief::Relief;
use crate::rules::half_round as rules;
use crate::rules::hole as hole_rules;
use crate::split::{self, Over};
use job::{Known, Shop};
use outline::Point;
use package as published;

/// Places looked at along the joint.
const ALONG: usize = 512;
/// A place with this much less room than the best has as much, mm.
const AS_MUCH: f64 = 1e-6;

/// What a shop holds with one of its wheels.
#[derive(Debug, Clone, Copy)]
struct Held {
    radius: Figure,
    depth_error: Figure,
    mismatch: Figure,
    size: Figure,
}

impl Held {
    fn of(reckoning: &mut Reckoning, shop: &Shop, row: usize) -> Self {
        let half = &shop.half_round;
        let mut known = |name: &str, meaning, symbol, known: &Known<f64>| {
            reckoning.known(At("shop:half_round.", name), what(meaning, symbol, "mm"), known)
        };
        let radius = Known { value: half.radii.value[row], from: half.radii.from.clone() };
        Self {
            radius: known(&format!("radii.{row}"), "radius that the wheel is dressed to", "r_w", &radius),
            depth_error: known("depth_mm", "plus or minus on the depth of a half-round", "d_e", &half.depth),
            mismatch: known(
                "mismatch_mm",
                "how far one half may stand beside the other",
                "m_h",
                &half.mismatch,
            ),
            size: known("size_mm", "size of a half-round, 3 sigma on the radius", "q", &half.size),
        }
    }
}

/// The shop's wheels, the widest first: a wide one wears less.
pub fn wheels(shop: &Shop) -> Vec<usize> {
    let radii = &shop.half_round.radii.value;
    let mut rows: Vec<usize> = (0..radii.len()).collect();
    rows.sort_by(|a, b| radii[*b].total_cmp(&radii[*a]));
    rows
}

/// The hole that a wheel makes through this height.
pub fn hole(
    reckoning: &mut Reckoning,
    head: &str,
    (shop, row): (&Shop, usize),
    (height, relief): (Figure, Option<&Relief>),
) -> Hole {
    let held = Held::of(reckoning, shop, row);
    let half = &shop.half_round;
    let mut known = |head, name, meaning, symbol, unit, known: &Known<f64>| {
        reckoning.known(At(head, name), what(meaning, symbol, unit), known)
    };
    let own = "shop:half_round.";
    let position = known(
        own,
        "position_mm",
        "position of the joined half-rounds, 95 % radial",
        "p",
        "mm",
        &half.position,
    );
    let size = held.size;
    let lean = known(own, "lean_per_mm", "lean per height", "k_h", "mm/mm", &half.lean_per_mm);
    let all = "shop:allowance.";
    let stock = known(all, "clean_up_stock_mm", "clean-up stock", "u", "mm", &shop.allowance.clean_up_stock);
    let room = &shop.allowance.threading_room;
    let threading_room = known(all, "threading_room_mm", "threading room in all", "h", "mm", room);
    let why = "ground: nothing is recast";
    let at = At(head, "start.terms.recast_mm");
    let recast = reckoning.chosen(at, what("recast and cracks", "r", "mm"), 0.0, why, &[]);
    let entry = reckoning.rule(At(head, "start.hole_diameter_mm.entry"), &rules::DIAMETER, [held.radius]);
    let apart =
        reckoning.rule(At(head, "start.terms.apart_mm"), &rules::APART, [held.depth_error, held.mismatch]);
    let exit = reckoning.rule(At(head, "start.hole_diameter_mm.exit"), &rules::LIGHT, [entry, apart, size]);
    let drift = reckoning.rule(At(head, "start.terms.drift_mm"), &rules::LEAN, [lean, height]);
    let at = At(head, "start.terms.recast_and_stock_mm");
    let rest = reckoning.rule(at, &hole_rules::RECAST_AND_STOCK, [recast, stock]);
    let all = [entry, apart, drift, rest];
    let (takes, spreads) = match relief {
        None => {
            let takes = reckoning.rule(At(head, "start.terms.takes_mm"), &rules::TAKES, all);
            (takes, takes)
        }
        Some(relief) => {
            let spreads = reckoning.rule(At(head, "start.terms.spreads_mm"), &rules::TAKES, all);
            let [from, opens] = relief.opens(reckoning, head, height);
            let of = [entry, apart, lean, height, from, rest];
            let land = reckoning.rule(At(head, "start.terms.at_land_mm"), &rules::TAKES_AT_LAND, of);
            let at = At(head, "start.terms.takes_mm");
            (reckoning.rule(at, &rules::TAKES_ABOVE_RELIEF, [land, spreads, opens]), spreads)
        }
    };
    let at = At(head, "start.terms.sigma_position_mm");
    let sigma_position = reckoning.rule(at, &hole_rules::SIGMA_POSITION, [position]);
    let sigma_size = reckoning.rule(At(head, "start.terms.sigma_size_mm"), &hole_rules::SIGMA_SIZE, [size]);
    let at = At(head, "start.terms.chance_mm");
    let chance = reckoning.rule(at, &hole_rules::CHANCE, [sigma_position, sigma_size]);
    let need = reckoning.rule(At(head, "start.terms.need_mm"), &hole_rules::NEED, [takes, chance]);
    Hole {
        burned: None,
        depth: height,
        entry,
        exit,
        position,
        size,
        recast,
        stock,
        threading_room,
        light: exit,
        drift,
        rest,
        takes,
        spreads,
        sigma_position,
        sigma_size,
        chance,
        need,
        worst: None,
    }
}

/// The half-rounds as they are published.
pub fn entry(
    reckoning: &mut Reckoning,
    head: &str,
    (shop, row): (&Shop, usize),
    (over, hole): (&Over, &Hole),
) -> published::HalfRound {
    let held = Held::of(reckoning, shop, row);
    let apart =
        reckoning.rule(At(head, "start.terms.apart_mm"), &rules::APART, [held.depth_error, held.mismatch]);
    let at = At(head, "start.half_round.pin_mm");
    let pin_mm = reckoning.rule(at, &rules::PIN, [hole.exit, hole.drift]).value;
    let at = At(head, "start.half_round.no_go_mm");
    let no_go_mm = reckoning.rule(at, &rules::STOPS, [hole.entry, apart, held.size]).value;
    let mut same = |name: &str, meaning, symbol, how, of: Figure| {
        let at = At(head, name);
        reckoning.measured(at, what(meaning, symbol, "mm"), of.value, how, &[(symbol, of)]).value
    };
    published::HalfRound {
        along: split::published(over.along),
        wheel_radius_mm: same(
            "start.half_round.wheel_radius_mm",
            "radius that the wheel is dressed to",
            "r_w",
            "the widest of the shop's that keeps every bound with the least whole time, hold points and risk counted",
            held.radius,
        ),
        depth_mm: same(
            "start.half_round.depth_mm",
            "how deep the wheel goes into each half",
            "r_w",
            "as deep as its radius",
            held.radius,
        ),
        depth_error_mm: same(
            "start.half_round.depth_error_mm",
            "plus or minus on that depth",
            "d_e",
            "the shop's",
            held.depth_error,
        ),
        pin_mm,
        no_go_mm,
        radius_error_mm: same(
            "start.half_round.radius_error_mm",
            "plus or minus on the radius",
            "q",
            "the shop's",
            held.size,
        ),
        mismatch_mm: same(
            "start.half_round.mismatch_mm",
            "how far one half may stand beside the other along the joint",
            "m_h",
            "the shop's",
            held.mismatch,
        ),
    }
}

/// Where the hole could be on the joint: where most room is, the nearest such place to the middle; and as near to either end as
/// this much room allows.
pub fn places(over: &Over, clear: impl Fn(Point) -> f64, enough: f64) -> Vec<Point> {
    let [from, to] = over.run;
    let at = |share: f64| over.point(from + share * (to - from));
    let share = |k: usize| k as f64 / ALONG as f64;
    let known: Vec<f64> = (0..=ALONG).map(|k| clear(at(share(k)))).collect();
    let most = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let middle = ALONG / 2;
    let best = (0..=ALONG)
        .filter(|k| known[*k] >= most - AS_MUCH)
        .min_by_key(|k| k.abs_diff(middle))
        .unwrap_or(middle);
    // Between two places looked at the room may rise a little further.
    let (mut low, mut high) = (share(best.saturating_sub(1)), share((best + 1).min(ALONG)));
    for _ in 0..60 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if clear(at(a)) < clear(at(b)) { low = a } else { high = b }
    }
    let finer = 0.5 * (low + high);
    let finest = if clear(at(finer)) > known[best] + AS_MUCH { at(finer) } else { at(share(best)) };
    let first = (0..=ALONG).find(|k| known[*k] >= enough).map(|k| at(share(k)));
    let last = (0..=ALONG).rev().find(|k| known[*k] >= enough).map(|k| at(share(k)));
    [Some(finest), first, last].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::Along;

    /// Four long from -1, 2 off the middle.
    fn over(along: Along) -> Over {
        Over { along, at: 2.0, run: [-1.0, 3.0] }
    }

    /// Places along the joint, which must all lie on it.
    fn along(way: Along, clear: impl Fn(f64) -> f64, enough: f64) -> Vec<f64> {
        let found = places(&over(way), |place| clear(split::lengthwise(way, place)), enough);
        assert!(found.iter().all(|place| split::across(way, *place) == 2.0), "{found:?}");
        found.iter().map(|place| split::lengthwise(way, *place)).collect()
    }

    #[test]
    fn a_peak_between_two_places_is_found() {
        for way in [Along::X, Along::Y] {
            for peak in [-0.2987, 1.0021, 1.7003] {
                let found = along(way, |place| 1.0 - (place - peak).abs(), 2.0);
                assert!(found.len() == 1 && (found[0] - peak).abs() < 1e-9, "{peak}: {found:?}");
            }
            assert_eq!(along(way, |place| place, 9.0), [3.0]);
            assert_eq!(along(way, |place| -place, 9.0), [-1.0]);
        }
    }

    /// Of equal places the nearest to the middle, 1; and the farthest to either side that have room enough.
    #[test]
    fn of_as_much_room_the_nearest_to_the_middle() {
        for way in [Along::X, Along::Y] {
            let flat = |middle: f64| move |place: f64| f64::min(0.5, 1.0 - (place - middle).abs());
            assert_eq!(along(way, flat(2.0), 0.25), [1.5, 1.25, 2.75]);
            assert_eq!(along(way, flat(0.0), 0.25), [0.5, -0.75, 0.75]);
            assert_eq!(along(way, flat(2.0), 0.6), [1.5]);
            // A ten-millionth of a millimetre is no more room.
            assert_eq!(along(way, |place| 0.5 + 1e-7 * place, 0.6), [1.0]);
        }
    }

    #[test]
    fn the_widest_wheel_comes_first() {
        let mut shop = job::example_shop();
        shop.half_round.radii.value = vec![0.1, 0.3, 0.2];
        assert_eq!(wheels(&shop), [1, 2, 0]);
    }
}
