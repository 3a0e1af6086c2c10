//! Cuts that begin beside the block: the wire stands in the open, cuts straight in through the frame, and meets the piece's
//! outline square to it. There is no hole.
//!
//! Stages: for each wire every place on a stretch of the outline from which a straight way leads out of the block, on another
//! side than the clamps'; the metal that such a way leaves beside it; the best of them, which keeps the frame whole, meets a
//! long straight stretch and is short.

use crate::candidate::{self, BoundCheck, Candidate, Setting};
use crate::choice::Looked;
use crate::contour::{self, Decided, Studied};
use crate::cores::{Entrance, clears};
use crate::cures::{self, Remedy};
use crate::cutting::{Cutting, Feeds};
use crate::figure::Figure;
use crate::lead_in::{self, LeadIn};
use crate::limits;
use crate::piece::Way;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::core as rules;
use crate::wiring;
use outline::{Outline, Point, Segment, Vector};
use package as published;
use remark::Remark;

/// A way meets the block's side at 30 degrees at least: the cosine between it and the side's normal.
const STEEP: f64 = 0.5;
/// A direction that leads less than this share towards the clamps runs beside them.
const LEVEL: f64 = 0.1;
/// A stretch this share of the longest straight one is long enough to begin on.
const LONG: f64 = 0.3;
/// The metal beside a way is found within this, on the safe side, mm.
const KNOWN: f64 = 0.01;
/// Places on a stretch at which a way may meet it.
const SHARES: [f64; 5] = [0.5, 0.25, 0.75, 0.1, 0.9];
/// Ways whose lengths differ by less are as long, mm.
const AS_LONG: f64 = 1e-6;

/// A way into the block.
#[derive(Debug, Clone)]
struct WayIn {
    lead_in: LeadIn,
    /// Worse is greater: frame not kept, an arc, a short stretch, the length.
    rank: (bool, bool, bool, f64),
    /// Whether the piece would hang on the free arm of the frame: among ways as long that decides.
    free_arm: bool,
}

/// The best way with each wire.
pub fn look(setting: Setting, cuttings: &[Cutting]) -> Looked {
    let best = cuttings.iter().enumerate().map(|(index, cutting)| {
        let lead_in = best(setting, cutting).map(|way| way.lead_in);
        let silent = &mut Reckoning::silent();
        let bounds = bounds(silent, setting, cutting, lead_in.as_ref());
        let place = lead_in.as_ref().map_or(setting.opening.circle.centre, |lead_in| lead_in.way[0]);
        let minutes = f64::INFINITY;
        let mut way = Candidate { tool: 0, cutting: index, place, bounds, lead_in, tilted_in: None, minutes };
        if way.holds() {
            way.minutes = minutes_of(setting, cutting, &way);
        }
        way
    });
    Looked { best: best.collect() }
}

/// What other pieces of the block must keep off, once this one was looked at.
pub fn crosses(studied: &Studied) -> Vec<Way> {
    let legs = |way: &Candidate| {
        let clears = clears(&studied.cuttings[way.cutting]);
        let points = way.lead_in.as_ref().map_or(&[][..], |lead_in| &lead_in.way[..]);
        let leg = |pair: &[Point]| Way { leg: straight(pair[0], pair[1]), clears };
        points.windows(2).map(leg).collect::<Vec<Way>>()
    };
    studied.looked.best.iter().flat_map(legs).collect()
}

/// The cure of a piece whose start hole does not fit, where some wire can begin beside the block.
pub fn instead_of_hole(setting: Setting, cuttings: &[Cutting]) -> Option<Remedy> {
    let silent = &mut Reckoning::silent();
    let mut holds = |cutting: &Cutting| {
        let way = best(setting, cutting).map(|way| way.lead_in);
        way.is_some() && bounds(silent, setting, cutting, way.as_ref()).iter().all(BoundCheck::holds)
    };
    let change = "no hole: begin at the block's edge, `start = { from = \"edge\" }`".to_owned();
    (setting.opening.is_outside() && cuttings.iter().any(&mut holds)).then_some(Remedy { change, room: None })
}

fn straight(from: Point, to: Point) -> Segment {
    Segment { from, to, bulge: 0.0 }
}

/// Whole minutes of cutting.
fn minutes_of(setting: Setting, cutting: &Cutting, way: &Candidate) -> f64 {
    let Some(lead_in) = &way.lead_in else { return f64::INFINITY };
    let silent = &mut Reckoning::silent();
    let feeds = Feeds::of(silent, setting, cutting.passes.row);
    let all = 0..cutting.passes.passes.len();
    all.map(|pass| {
        candidate::pass_minutes(silent, setting, cutting, pass, (feeds, lead_in, 0.0, false)).value
    })
    .sum()
}

/// The best way in.
fn best(setting: Setting, cutting: &Cutting) -> Option<WayIn> {
    if !cutting.in_one_piece() {
        return None;
    }
    let free = setting.opening.free();
    let edge: &Outline = cutting.edges.first()?.first()?;
    let pieces = free.pieces(edge);
    let straights = cutting.stretches.iter().filter(|&&i| pieces[i].is_line());
    let longest = straights.map(|&i| pieces[i].length()).fold(0.0, f64::max);
    let mut best: Option<WayIn> = None;
    for &segment in &cutting.stretches {
        for share in shares(&pieces[segment]) {
            let Some(way) = way_in(setting, cutting, &pieces, (segment, share), longest) else { continue };
            let better = |best: &WayIn| {
                let rank = |way: &WayIn| (way.rank.0, way.rank.1, way.rank.2);
                let shorter = best.rank.3 - way.rank.3;
                let held = shorter > -AS_LONG && best.free_arm && !way.free_arm;
                rank(&way) < rank(best) || rank(&way) == rank(best) && (shorter > AS_LONG || held)
            };
            if best.as_ref().is_none_or(better) {
                best = Some(way);
            }
        }
    }
    best
}

/// Shares of a stretch: places along it, and where an arc looks along an axis.
fn shares(piece: &Segment) -> Vec<f64> {
    let Some(centre) = piece.centre() else { return SHARES.to_vec() };
    let axes = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)];
    let facing = axes.into_iter().filter_map(|(x, y)| {
        let (_, share) = piece.nearest(centre + Vector::new(x, y) * piece.radius());
        (share > 0.0 && share < 1.0).then_some(share)
    });
    facing.chain(SHARES).collect()
}

/// The way that meets a stretch there; none where it does not lead out, or not clear of the piece.
fn way_in(
    setting: Setting,
    cutting: &Cutting,
    pieces: &[Segment],
    (segment, share): (usize, f64),
    longest: f64,
) -> Option<WayIn> {
    let piece = &pieces[segment];
    let (meets, out) = (piece.at(share), piece.direction(share).left());
    let leaves_by = out_of_block(setting, meets, out)?;
    let off = stands_off(&mut Reckoning::silent(), setting, cutting);
    let place = leaves_by.at + out * (off.value / leaves_by.steep);
    let way = vec![place, meets];
    let (free, offset) = (setting.opening.free(), cutting.passes.main());
    let overlap = setting.shop.cutting.overlap.value;
    let overlap = lead_in::clear(free, pieces, segment, share, &way, offset, overlap)?;
    let kept = leaves(setting, cutting, &leaves_by, meets) >= setting.shop.core.frame.value;
    let short = piece.length() < LONG * longest;
    let free_arm = towards_clamp(setting, piece.direction(share)) > LEVEL;
    let rank = (!kept, !piece.is_line(), short, place.distance(meets));
    Some(WayIn { lead_in: LeadIn { way, segment, share, overlap }, rank, free_arm })
}

/// How far a direction leads to the clamped side, as a share. The tab stands behind the place that a way meets: where the edge runs
/// on towards the clamps there, the tab lies on the arm of the open frame that is free.
fn towards_clamp(setting: Setting, direction: Vector) -> f64 {
    match setting.shop.order.clamp.value {
        job::Side::Left => -direction.x,
        job::Side::Right => direction.x,
        job::Side::Bottom => -direction.y,
        job::Side::Top => direction.y,
    }
}

/// Where a way leaves the block.
struct LeavesBy {
    at: Point,
    /// Cosine between the way and the normal of that side.
    steep: f64,
    axis: usize,
    /// Whether that side is the greater one along its axis.
    high: bool,
}

/// Where a ray leaves the block; none by the clamped side, or too flat.
fn out_of_block(setting: Setting, from: Point, out: Vector) -> Option<LeavesBy> {
    let half = setting.section.block().map(|side| side / 2.0);
    let (place, way) = ([from.x, from.y], [out.x, out.y]);
    let reach = |axis: usize| {
        let side = if way[axis] > 0.0 { half[axis] } else { -half[axis] };
        (way[axis] != 0.0).then(|| (side - place[axis]) / way[axis])
    };
    let (length, axis) = match [reach(0), reach(1)] {
        [Some(x), Some(y)] if x <= y => (x, 0),
        [_, Some(y)] => (y, 1),
        [Some(x), None] => (x, 0),
        [None, None] => return None,
    };
    let (steep, high) = (way[axis].abs(), way[axis] > 0.0);
    let clamped = match setting.shop.order.clamp.value {
        job::Side::Left => (0, false),
        job::Side::Right => (0, true),
        job::Side::Bottom => (1, false),
        job::Side::Top => (1, true),
    };
    (steep >= STEEP && (axis, high) != clamped).then(|| LeavesBy {
        at: from + out * length,
        steep,
        axis,
        high,
    })
}

/// Metal beside a way: to the other sides of the block, to the kerfs around other pieces and of the ways to them. Their wires are not
/// known yet: they are taken as thick as this one.
fn leaves(setting: Setting, cutting: &Cutting, by: &LeavesBy, meets: Point) -> f64 {
    let half = setting.section.block().map(|side| side / 2.0);
    let to_sides = [by.at, meets].into_iter().flat_map(|place| {
        let sides = [(0, false), (0, true), (1, false), (1, true)];
        let others = sides.into_iter().filter(|side| *side != (by.axis, by.high));
        others.map(move |(axis, high)| {
            let along = if axis == 0 { place.x } else { place.y };
            if high { half[axis] - along } else { half[axis] + along }
        })
    });
    let sides = to_sides.fold(f64::INFINITY, f64::min);
    let kerf = cutting.passes.main() + clears(cutting);
    let others =
        setting.opening.around.as_ref().map_or(f64::INFINITY, |around| {
            nearest(by.at, meets, |place| around.clear_of_kerfs(place, kerf))
        });
    sides.min(others) - clears(cutting)
}

/// The least of a distance along a leg, on the safe side. It changes by no more than the way gone, so that where there is more than
/// the least the next look may be that much further on.
fn nearest(from: Point, to: Point, distance: impl Fn(Point) -> f64) -> f64 {
    let length = from.distance(to);
    let (mut gone, mut least) = (0.0, f64::INFINITY);
    loop {
        let place = if length > 0.0 { from.towards(to, gone / length) } else { from };
        let here = distance(place);
        if here == f64::INFINITY {
            return here;
        }
        least = here.min(least);
        if gone >= length {
            return least - KNOWN;
        }
        gone = (gone + (here - least).max(KNOWN)).min(length);
    }
}

/// How far the wire's centre stands from the block's side.
fn stands_off(reckoning: &mut Reckoning, setting: Setting, cutting: &Cutting) -> Figure {
    let meaning =
        what("free space between the wire's spark and the block's side, where a cut begins there", "c", "mm");
    let free = reckoning.known(At("shop:core.", "beside_mm"), meaning, &setting.shop.core.beside);
    let (at, passes) = (At(setting.head, "start.terms.stands_off_mm"), &cutting.passes);
    reckoning.rule(at, &rules::STANDS_OFF, [passes.wire, passes.gap, free])
}

/// The bounds on a cut that begins beside the block.
fn bounds(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: &Cutting,
    lead_in: Option<&LeadIn>,
) -> Vec<BoundCheck> {
    let main = cutting.passes.passes[0].offset;
    let mut found = Vec::new();
    match (lead_in, cutting.whole_to) {
        (Some(lead_in), _) => found.push(frame(reckoning, setting, cutting, lead_in)),
        (None, Some(whole_to)) => {
            let have = candidate::one_piece(reckoning, setting, whole_to);
            found.push(BoundCheck { name: "one-piece", have, need: main });
        }
        (None, None) => {
            let how =
                "no straight way out of the block, but by the clamped side, on which the wire stays clear";
            let meaning = what("longest lead-in found", "l", "mm");
            let have = reckoning.measured(At(setting.head, "start.terms.lead_in_mm"), meaning, 0.0, how, &[]);
            found.push(BoundCheck { name: "lead-in", have, need: main });
        }
    }
    found.extend(candidate::wire_bounds(reckoning, setting, cutting));
    found
}

/// The bound on the frame, which hangs together on one side of the way in only: beside that way, and around the piece.
fn frame(reckoning: &mut Reckoning, setting: Setting, cutting: &Cutting, lead_in: &LeadIn) -> BoundCheck {
    let (place, meets) = (lead_in.way[0], lead_in.meets());
    let out = (place - meets).unit().unwrap_or(Vector::new(0.0, 0.0));
    let beside = out_of_block(setting, meets, out).map_or(0.0, |by| leaves(setting, cutting, &by, meets));
    let kerf = cutting.passes.main() + clears(cutting);
    let around = setting.opening.around.as_ref().map(|around| around.frame(&setting.opening.target, kerf));
    let least = beside.min(around.unwrap_or(f64::INFINITY));
    let meaning =
        what("metal of the frame at its thinnest, around the piece and beside the way in", "w", "mm");
    let how = "to the block's sides and the next kerfs, less what the wires clear; beside the way in within 0.01, on the safe side";
    let have = reckoning.measured(At(setting.head, "start.terms.frame_mm"), meaning, least, how, &[]);
    let meaning = what("metal left between a piece and the sides of its block or the next piece", "w", "mm");
    let need = reckoning.known(At("shop:core.", "frame_mm"), meaning, &setting.shop.core.frame);
    BoundCheck { name: "frame", have, need }
}

/// Writes the edge down: the chosen way, or without one the way nearest to possible.
pub fn decide(
    reckoning: &mut Reckoning,
    setting: Setting,
    studied: &Studied,
    chosen: Option<&Candidate>,
    (mut contour, density): (published::Contour, Figure),
) -> Result<Decided, Vec<Remark>> {
    let mut remarks = studied.left_out.clone();
    let Some(way) = chosen.or_else(|| studied.looked.nearest()) else {
        contour::no_wire_holds_it(reckoning, setting, &[], &mut contour, &mut remarks);
        return Ok(Decided { contour, cut: None, remarks });
    };
    let cutting = wiring::recorded(reckoning, setting, &studied.cuttings[way.cutting]);
    let bounds = bounds(reckoning, setting, &cutting, way.lead_in.as_ref());
    contour.start_limits = limits_of(reckoning, setting, &bounds);
    contour.missed_corners = contour::missed(reckoning, setting.head, &cutting);
    let begins = |name: &str| matches!(name, "frame" | "lead-in" | "one-piece");
    let starts = bounds.iter().all(|bound| bound.holds() || !begins(bound.name));
    let lead_in = way.lead_in.as_ref().filter(|_| starts);
    contour.start = lead_in.map(|lead_in| start(reckoning, setting, &cutting, lead_in));
    if !way.holds() {
        remarks.push(refused(setting, studied, way, &mut contour));
    }
    let cut = match (chosen, &way.lead_in) {
        (Some(_), Some(lead_in)) => {
            remarks.push(opens(setting, &cutting, lead_in));
            let entrance = Entrance { hole: way.place, exit: 0.0, lead_in, tilted_in: None, joint: None };
            let (wired, cores) = wiring::of(reckoning, setting, cutting, entrance, density)?;
            remarks.extend(wired.remarks(setting, &cores));
            contour.cores = cores;
            contour.wire = Some(wired.entry(reckoning, setting));
            Some(wired)
        }
        _ => None,
    };
    Ok(Decided { contour, cut, remarks })
}

/// The start as it is published: no hole, and where the wire stands.
fn start(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: &Cutting,
    lead_in: &LeadIn,
) -> published::Start {
    let (place, meets) = (lead_in.way[0], lead_in.meets());
    let off = stands_off(reckoning, setting, cutting);
    let mut none = |name: &str, meaning, symbol, unit, value, why: &str| {
        reckoning.chosen(At(setting.head, name), what(meaning, symbol, unit), value, why, &[]).value
    };
    let no_hole = "the cut begins beside the block: no hole";
    let entry =
        none("start.hole_diameter_mm.entry", "diameter of the hole at its entry", "D_in", "mm", 0.0, no_hole);
    let exit =
        none("start.hole_diameter_mm.exit", "diameter of the hole at its exit", "D_out", "mm", 0.0, no_hole);
    let depth_mm = none("start.depth_mm", "depth of the hole", "z", "mm", 0.0, no_hole);
    let why = "the cut begins beside the block: no hole is there to clean up";
    let sure = none(
        "start.clean_up_probability",
        "probability that the cut removes all of the hole",
        "P",
        "",
        1.0,
        why,
    );
    let mut away = |name: &str| {
        let how = "from where the wire stands beside the block, straight to the finished edge";
        let meaning = what("distance from the wire to the finished edge", "m", "mm");
        let inputs = [("W_b", off)];
        reckoning.measured(At(setting.head, name), meaning, place.distance(meets), how, &inputs).value
    };
    published::Start {
        kind: published::StartKind::FromOutside,
        x_mm: place.x,
        y_mm: place.y,
        hole_diameter_mm: published::HoleDiameter { entry, exit },
        electrode_mm: None,
        depth_mm,
        room_mm: away("start.room_mm"),
        room_linear_mm: away("start.room_linear_mm"),
        clean_up_probability: sure,
        nearest_edge_mm: Some([meets.x, meets.y]),
        may_lie_radius_mm: None,
        position: None,
        measured: None,
        back_bore: None,
        half_round: None,
    }
}

/// The limits of a start that makes no hole.
pub fn limits_of(
    reckoning: &mut Reckoning,
    setting: Setting,
    bounds: &[BoundCheck],
) -> published::StartLimits {
    let meaning = what("largest hole (entry diameter) that can clean up here", "D_max", "mm");
    let why = "the cut begins beside the block: no hole";
    let largest = reckoning.chosen(At(setting.head, "start_limits.largest_hole_mm"), meaning, 0.0, why, &[]);
    let bounds = contour::bounds(reckoning, setting.head, bounds);
    published::StartLimits { largest_hole_mm: largest.value, bounds, cures: Vec::new() }
}

/// The remark on bounds that are broken, with what would cure them.
fn refused(setting: Setting, studied: &Studied, way: &Candidate, contour: &mut published::Contour) -> Remark {
    let id = &setting.edge.id;
    let say = |bound: &BoundCheck| {
        let (have, need) = (bound.have.value, bound.need.value);
        match bound.name {
            "frame" if have < 0.0 => "every way out crosses another piece or the way to it".to_owned(),
            "frame" => format!(
                "an open frame would be {have:.3} wide where it is thinnest, around the piece or beside the way in, {need:.3} is asked for"
            ),
            "lead-in" => "no straight way leads out of the block square to its edge, but by the clamped side"
                .to_owned(),
            _ => limits::of_wire(setting, bound),
        }
    };
    let broken = || way.bounds.iter().filter(|bound| !bound.holds());
    let worst = broken().map(say).collect::<Vec<_>>().join("; ");
    let message = format!("edge `{id}` cannot be begun at the block's edge: {worst}");
    let mut remark = Remark::warning("not-in-this-shop", message).place(setting.edge.place.clone());
    let is = |name: &str| broken().any(|bound| bound.name == name);
    let named = |change: &str| Remedy { change: change.to_owned(), room: None };
    let mut cures = Vec::new();
    // Where the piece itself leaves no frame, no other start does it.
    let cutting = &studied.cuttings[way.cutting];
    let kerf = cutting.passes.main() + clears(cutting);
    let around =
        setting.opening.around.as_ref().is_some_and(|around| {
            around.frame(&setting.opening.target, kerf) < setting.shop.core.frame.value
        });
    if is("frame") && around {
        cures.push(named("a larger `cut_from`, or another `at`"));
    } else if is("frame") || is("lead-in") {
        cures.push(named("a start hole: `start = { from = \"hole\" }`"));
        cures
            .push(named("a larger `cut_from`, another `at`, or clamps on another side (`clamp` in [order])"));
    }
    cures.extend(cures::of_wire(setting, way, studied.cuttings[way.cutting].passes.wire.value));
    for cure in cures {
        remark = remark.cure(cure.change.clone());
        contour.start_limits.cures.push(published::Cure { change: cure.change, room_mm: cure.room });
    }
    remark
}

/// The remark on a frame that is not closed any more.
fn opens(setting: Setting, cutting: &Cutting, lead_in: &LeadIn) -> Remark {
    let (id, [from, to]) = (&setting.edge.id, [lead_in.way[0], lead_in.meets()]);
    let edge = setting.opening.free().pieces(&cutting.edges[0][0]);
    let leads = towards_clamp(setting, edge[lead_in.segment].direction(lead_in.share));
    let arm = match leads {
        leads if leads > LEVEL => "the piece hangs on the FREE side of the gap: clamp that side too",
        leads if leads < -LEVEL => "the piece hangs on the clamped side of the gap",
        _ => "the piece hangs on one side of the gap",
    };
    // Rounded first: nothing is at -0.000.
    let said = |value: f64| (value * 1e3).round() / 1e3 + 0.0;
    let [x, y, to_x, to_y] = [from.x, from.y, to.x, to.y].map(said);
    let message = format!(
        "edge `{id}`: the way in from X {x:.3} Y {y:.3} to X {to_x:.3} Y {to_y:.3} opens the frame: it springs as it is cut, and {arm}"
    );
    Remark::warning("open-frame", message)
        .place(setting.edge.place.clone().at(to.x, to.y))
        .cure("clamps that hold the frame on both sides of the gap")
        .cure("`start = { from = \"hole\" }`: a hole beside the piece keeps the frame closed")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_distance_along_a_leg_is_found_on_the_safe_side() {
        let disc = Point::new(3.0, 1.3);
        let (from, to) = (Point::new(-10.0, 0.0), Point::new(20.0, 0.0));
        let found = nearest(from, to, |place| place.distance(disc) - 1.0);
        assert!((0.3 - 2.0 * KNOWN..=0.3).contains(&found), "{found}");
        assert_eq!(nearest(from, to, |_| f64::INFINITY), f64::INFINITY);
        let here = nearest(from, from, |place| place.distance(disc) - 1.0);
        assert!((here - (from.distance(disc) - 1.0 - KNOWN)).abs() < 1e-12, "{here}");
    }

    #[test]
    fn an_arc_is_met_where_it_looks_along_an_axis() {
        let quarter = Segment {
            from: Point::new(1.0, -1.0),
            to: Point::new(1.0, 1.0),
            bulge: (std::f64::consts::FRAC_PI_8).tan(),
        };
        assert!(shares(&quarter).iter().any(|share| (share - 0.5).abs() < 1e-9));
    }
}
