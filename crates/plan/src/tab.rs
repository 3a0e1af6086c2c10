//! The tab: metal that the main cut leaves standing between a core and the block, beside the place where it began.
//!
//! The main cut stops one tab short of closing. Later, with somebody there, the wire comes in on the same way and cuts
//! the tab from its other end, against the main cut's direction: it needs no other hole, and runs in metal only there.

use crate::candidate::Setting;
use crate::cores::{Fate, FreedCore, clears};
use crate::cutting::{Cutting, Feeds};
use crate::figure::Figure;
use crate::lead_in::{LeadIn, past};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::core as rules;
use crate::split::{Over, across};
use crate::tour;
use outline::{Outline, Point, Segment};

/// A tab takes no more of the wire's way than this share: more would be no cut.
const MOST_SHARE: f64 = 0.25;
/// An arc of the edge or of the wire's centre this tight is said whole, mm: rounding would turn the ends of its parts.
const SMALL_TURN: f64 = 0.05;
/// Places along a tab at which it is looked on which side of a joint it stands.
const ALONG: usize = 32;
/// A turn of the wire is about a corner when its centre lies this near to it, mm.
const AT_CORNER: f64 = 1e-6;
/// A core this far from the tab's inner side is not held by it, mm: what two flattenings of one edge differ by.
const BESIDE: f64 = 1e-3;

/// A tab as it is planned.
#[derive(Debug, Clone)]
pub struct Tab {
    /// Width of the metal that stands.
    pub width: Figure,
    /// Minutes of cutting it.
    pub minutes: Figure,
    /// Feed of the pass that came in last where the wire comes in to cut it.
    pub came_in: Figure,
    /// Minutes of each skim of the place where it stood, where a piece is cut out.
    pub dress: Vec<Figure>,
    /// Where the main cut stops: on the edge, and the wire's centre.
    pub from: Place,
    /// Where the lead-in meets the edge, and the wire's centre there.
    pub to: Place,
    /// Length of the wire's way over it, mm.
    pub way: f64,
    /// The core that it holds.
    pub core: usize,
}

/// A place on the edge with the wire's centre beside it.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// On the edge that the main cut reaches.
    pub edge: Point,
    /// The wire's centre.
    pub centre: Point,
}

/// The tab that holds the heaviest core wanting one of those that lie at it; none where no core does, or none lies there.
pub fn of(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: &Cutting,
    lead_in: &LeadIn,
    (feeds, cores): (Feeds, &[FreedCore]),
) -> Option<Tab> {
    let mut wanting: Vec<(usize, &FreedCore)> =
        cores.iter().enumerate().filter(|(_, core)| core.fate == Fate::Hold).collect();
    wanting.sort_by(|a, b| b.1.mass.value.total_cmp(&a.1.mass.value));
    let free = setting.opening.free();
    let edge = free.pieces(&cutting.edges[0][0]);
    let (meets, inward) = past(&edge, lead_in.segment, lead_in.share, 0.0);
    let to = Place { edge: meets, centre: meets + inward * cutting.passes.main() };
    // A core that the tab cannot reach needs no line about its tab: tried silently first.
    let silent = &mut Reckoning::silent();
    let outside = setting.opening.is_outside();
    let held = wanting.into_iter().find_map(|(wanted, core)| {
        let asked = asked(silent, ("width_mm", setting), cutting, core, to.edge);
        let stop = stop(silent, setting, cutting, asked, to)?;
        let middle = stop.middle + stop.inward * (clears(cutting) + BESIDE / 2.0);
        // A piece lies along all of the wire's way.
        let beside = outside || distance(&core.piece.outline, middle) <= BESIDE;
        beside.then_some((wanted, core, stop))
    });
    let (wanted, core, stop) = held?;
    let width = width(reckoning, setting, cutting, core, (to, &stop));
    let way = stop.way;
    let from = Place { edge: Outline::nearest(&cutting.edges[0][0], stop.centre).point, centre: stop.centre };
    let skims = if outside { cutting.passes.passes.len() - 1 } else { 0 };
    let over = measured(reckoning, setting, lead_in, way, cutting.passes.main());
    // A piece has been skimmed by then, and its way in is as open as it was for the last skim.
    let came_in = if skims > 0 { feeds.skim } else { feeds.main };
    let minutes = minutes(reckoning, (setting, "wire.tab.minutes"), over, [feeds.main, came_in]);
    let dress = |i: usize| {
        let key = format!("wire.tab.dress.{i}.minutes");
        self::minutes(reckoning, (setting, &key), over, [feeds.skim; 2])
    };
    let dress = (0..skims).map(dress).collect();
    Some(Tab { width, minutes, came_in, dress, from, to, way, core: wanted })
}

/// Width of the metal that stands: what is asked for, or more where that would end on a turn about a corner.
fn width(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: &Cutting,
    core: &FreedCore,
    (to, stop): (Place, &Stop),
) -> Figure {
    if !stop.past_corner {
        return asked(reckoning, ("width_mm", setting), cutting, core, to.edge);
    }
    let asked = asked(reckoning, ("asked_width_mm", setting), cutting, core, to.edge);
    reckoning.measured(
        At(setting.head, "wire.tab.width_mm"),
        what("width of the tab that holds the core", "b", "mm"),
        stop.centre.distance(to.centre) - 2.0 * clears(cutting),
        "the width asked for would end where the wire turns about a corner: on to the corner's other side",
        &[("b", asked)],
    )
}

/// Width that table and weight ask for.
fn asked(
    reckoning: &mut Reckoning,
    (name, setting): (&str, Setting),
    cutting: &Cutting,
    core: &FreedCore,
    at: Point,
) -> Figure {
    let shop = setting.shop;
    let row = format!("shop:wire.{}.", cutting.passes.row);
    let table = match setting.opening.is_outside() {
        true => piece_tab(reckoning, setting),
        false => reckoning.known(
            At(&row, "tab_mm"),
            what("width of a tab by the shop's table", "b_0", "mm"),
            &shop.wires[cutting.passes.row].tab,
        ),
    };
    let stress = reckoning.known(
        At("shop:core.", "tab_stress_mpa"),
        what("bending stress allowed in a tab", "s", "N/mm2"),
        &shop.core.tab_stress_mpa,
    );
    let arm = reckoning.measured(
        At(setting.head, "wire.tab.arm_mm"),
        what("distance from the core's centroid to its tab", "a", "mm"),
        core.piece.centroid.distance(at),
        "centroid of the core's polygon to where the lead-in meets the edge",
        &[],
    );
    reckoning.rule(
        At(setting.head, &format!("wire.tab.{name}")),
        &rules::TAB_WIDTH,
        [table, core.mass, arm, setting.height, stress],
    )
}

/// What the shop asks for where the tab holds a whole piece.
fn piece_tab(reckoning: &mut Reckoning, setting: Setting) -> Figure {
    let meaning = what("width of the tab of a whole piece by the shop", "b_p", "mm");
    let stated = reckoning.known(At("shop:core.", "piece_tab_mm"), meaning, &setting.shop.core.piece_tab);
    let perimeter = reckoning.measured(
        At(setting.head, "wire.tab.perimeter_mm"),
        what("length of the finished edge", "P", "mm"),
        setting.opening.target.perimeter(),
        "length of the lines and arcs",
        &[],
    );
    reckoning.rule(At(setting.head, "wire.tab.asked_mm"), &rules::PIECE_TAB, [stated, perimeter])
}

/// Where the main cut stops.
struct Stop {
    centre: Point,
    way: f64,
    /// Whether it lies farther off than asked for, past a corner.
    past_corner: bool,
    middle: Point,
    inward: outline::Vector,
}

/// Goes back along the wire's way from where it began until the straight distance is that over the tab.
fn stop(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: &Cutting,
    width: Figure,
    to: Place,
) -> Option<Stop> {
    let passes = &cutting.passes;
    let over = reckoning.rule(
        At(setting.head, "wire.tab.way_mm"),
        &rules::TAB_WAY,
        [width, passes.wire, passes.gap],
    );
    let centre = &cutting.centres[0][0];
    let pieces = setting.opening.free().pieces(centre);
    let once = tour::around(&tour::backwards(&pieces), to.centre, 0.0);
    let asked = length_to(&once, to.centre, over.value)?;
    let way = past_turn(&once, (&cutting.edges[0][0], cutting.passes.main()), asked);
    let (stop, _) = past(&once, 0, 0.0, way);
    // The tour runs backwards, so its left is the metal's side.
    let (middle, outward) = past(&once, 0, 0.0, way / 2.0);
    if setting.burn.ground.is_some_and(|joint| over_joint(&once, way, joint)) {
        return None;
    }
    let past_corner = way > asked;
    (way <= MOST_SHARE * centre.perimeter()).then_some(Stop {
        centre: stop,
        way,
        past_corner,
        middle,
        inward: -outward,
    })
}

/// Whether the way over a tab crosses the joint of two halves: such a tab would hold a part of either.
fn over_joint(pieces: &[Segment], way: f64, joint: Over) -> bool {
    let side = |k: usize| {
        let (place, _) = past(pieces, 0, 0.0, way * k as f64 / ALONG as f64);
        across(joint.along, place) > joint.at
    };
    (1..=ALONG).any(|k| side(k) != side(0))
}

/// Where a length ends on a turn of the wire about a corner of its edge, sharp or round, the length to the turn's end.
fn past_turn(pieces: &[Segment], (edge, offset): (&Outline, f64), length: f64) -> f64 {
    let about_corner = |piece: &Segment| {
        let corner = |centre: Point| edge.vertices().iter().any(|v| v.point.distance(centre) <= AT_CORNER);
        let round = (piece.radius() - offset).abs().min(piece.radius()) <= SMALL_TURN;
        piece.centre().is_some_and(|centre| round || corner(centre))
    };
    let mut gone = 0.0;
    for piece in pieces {
        gone += piece.length();
        if gone >= length {
            return if about_corner(piece) { gone } else { length };
        }
    }
    length
}

/// Length along `pieces` to the first place at this straight distance from `start`.
fn length_to(pieces: &[Segment], start: Point, distance: f64) -> Option<f64> {
    let mut gone = 0.0;
    for piece in pieces {
        if piece.to.distance(start) >= distance {
            let (mut near, mut far) = (0.0, 1.0);
            for _ in 0..60 {
                let middle = 0.5 * (near + far);
                if piece.at(middle).distance(start) < distance { near = middle } else { far = middle }
            }
            return Some(gone + far * piece.length());
        }
        gone += piece.length();
    }
    None
}

/// The way over the tab, how far it goes on, the lead-in, and the share of a feed on it.
fn measured(
    reckoning: &mut Reckoning,
    setting: Setting,
    lead_in: &LeadIn,
    way: f64,
    offset: f64,
) -> [Figure; 4] {
    let mut measured = |name, meaning, symbol, value, how: &str| {
        reckoning.measured(At(setting.head, name), what(meaning, symbol, "mm"), value, how, &[])
    };
    let way = measured(
        "wire.tab.length_mm",
        "way of the wire's centre over the tab",
        "L",
        way,
        "length of the lines and arcs",
    );
    let lead = measured(
        "wire.tab.lead_in_mm",
        "lead-in to the tab",
        "B",
        (lead_in.length() - offset).max(0.0),
        "length of the lead-in less the offset",
    );
    let shop = &setting.shop.cutting;
    let overlap = reckoning.known(
        At("shop:cutting.", "overlap_mm"),
        what("how far a pass goes on over its own beginning", "o", "mm"),
        &shop.overlap,
    );
    let share = reckoning.known(
        At("shop:cutting.", "lead_in_feed_factor"),
        what("share of the feed on the lead-in", "y", ""),
        &shop.lead_in_feed_factor,
    );
    [way, overlap, lead, share]
}

/// Minutes over the tab at this feed, the wire having come in there at that one last.
fn minutes(
    reckoning: &mut Reckoning,
    (setting, key): (Setting, &str),
    [way, overlap, lead, share]: [Figure; 4],
    [feed, last]: [Figure; 2],
) -> Figure {
    reckoning.rule(At(setting.head, key), &rules::TAB_MINUTES, [way, overlap, lead, share, feed, last])
}

/// Distance from a place to a polygon's edge, mm.
fn distance(polygon: &[Point], place: Point) -> f64 {
    let n = polygon.len();
    let side = |i: usize| Segment { from: polygon[i], to: polygon[(i + 1) % n], bulge: 0.0 };
    (0..n).map(|i| side(i).distance(place)).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::Along;

    /// Along an ell from (0, 1) to the right and down past a joint at 0.2: the way crosses it after 3.8, a joint on the other axis
    /// at 2.5 after 2.5.
    #[test]
    fn a_tab_over_a_joint_is_told_by_its_whole_way() {
        let straight = |from: (f64, f64), to: (f64, f64)| Segment {
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
            bulge: 0.0,
        };
        let ell = [straight((0.0, 1.0), (3.0, 1.0)), straight((3.0, 1.0), (3.0, -2.0))];
        for (along, at, crosses) in [(Along::X, 0.2, 3.8), (Along::Y, 2.5, 2.5)] {
            let joint = Over { along, at, run: [-5.0, 5.0] };
            let over = |way: f64| over_joint(&ell, way, joint);
            assert!(!over(crosses - 0.05) && over(crosses + 0.05) && over(5.5), "{along:?}");
        }
    }

    #[test]
    fn a_place_lies_off_a_polygon_by_its_nearest_side() {
        let square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)].map(|(x, y)| Point::new(x, y));
        for (x, y, off) in
            [(3.0, 1.0, 1.0), (1.0, -0.5, 0.5), (-3.0, -4.0, 5.0), (0.25, 1.0, 0.25), (2.0, 1.0, 0.0)]
        {
            assert!((distance(&square, Point::new(x, y)) - off).abs() < 1e-12, "{x} {y}");
        }
    }

    /// A wire 0.2 off a piece with corners of radius 0.03 turns by 0.23: a length that ends there goes on to the turn's end; with
    /// corners of 0.3, which are long enough to end on, it stays.
    #[test]
    fn a_length_does_not_end_on_a_tight_turn() {
        for (r, goes_on) in [(0.03, true), (0.3, false)] {
            let quarter = (std::f64::consts::PI / 8.0).tan();
            let (x, y, k) = (2.0 - r, 1.0 - r, quarter);
            let vertices = [
                (-x, -1.0, 0.0),
                (x, -1.0, k),
                (2.0, -y, 0.0),
                (2.0, y, k),
                (x, 1.0, 0.0),
                (-x, 1.0, k),
                (-2.0, y, 0.0),
                (-2.0, -y, k),
            ];
            let vertices = vertices.iter().map(|v| outline::Vertex::new(v.0, v.1, v.2));
            let edge = Outline::new(vertices.collect()).unwrap();
            let line = Segment { from: Point::new(0.0, 1.2), to: Point::new(x, 1.2), bulge: 0.0 };
            let turn = Segment { from: line.to, to: Point::new(2.2, y), bulge: -quarter };
            let down = Segment { from: turn.to, to: Point::new(2.2, -y), bulge: 0.0 };
            let length = line.length() + turn.length() / 3.0;
            let found = past_turn(&[line, turn, down], (&edge, 0.2), length);
            let wanted = if goes_on { line.length() + turn.length() } else { length };
            assert!((found - wanted).abs() < 1e-12, "{r}: {found} {wanted}");
            let before = 0.9 * line.length();
            assert_eq!(past_turn(&[line, turn, down], (&edge, 0.2), before), before);
        }
    }
}
