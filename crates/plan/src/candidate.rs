//! One way to make an opening: one electrode, one place for the hole, one wire; and the bounds it must keep.

use crate::burn::{self, Burn};
use crate::cutting::{Cutting, Feeds, corners};
use crate::figure::Figure;
use crate::hole::{Hole, Terms};
use crate::lead_in::LeadIn;
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::relief::Relief;
use crate::rules::burning::IN_BORE;
use crate::rules::hole as rules;
use crate::rules::time;
use crate::size;
use job::{Edge, Section, Shop};
use outline::Point;

/// Diameters closer than this are of one electrode, mm: job and shop may be written in different units.
const SAME: f64 = 1e-9;

/// Whether two diameters are of one electrode.
pub fn same(one: f64, other: f64) -> bool {
    (one - other).abs() <= SAME
}

/// One bound: what there is, what it takes.
#[derive(Debug, Clone, Copy)]
pub struct BoundCheck {
    /// Its published name.
    pub name: &'static str,
    /// What there is.
    pub have: Figure,
    /// What it takes.
    pub need: Figure,
}

impl BoundCheck {
    /// Whether it is kept.
    pub fn holds(&self) -> bool {
        self.have.value >= self.need.value
    }

    /// How much is missing, mm; 0 when it is kept.
    pub fn short(&self) -> f64 {
        (self.need.value - self.have.value).max(0.0)
    }
}

/// What a candidate is judged in.
#[derive(Debug, Clone, Copy)]
pub struct Setting<'a> {
    /// Key of the contour with a dot behind it.
    pub head: &'a str,
    /// The shop.
    pub shop: &'a Shop,
    /// The section that it stands in.
    pub section: &'a Section,
    /// The edge as the job asks for it.
    pub edge: &'a Edge,
    /// The opening.
    pub opening: &'a Opening,
    /// How its hole is burned.
    pub burn: &'a Burn,
    /// Height of the cut, mm.
    pub height: Figure,
    /// Rate of a main cut in its steel over that in D2.
    pub steel_rate: Figure,
    /// What a tilted wire cuts below the land; none: straight through.
    pub relief: Option<Relief>,
}

/// One way to make an opening.
#[derive(Debug, Clone)]
pub struct Candidate {
    /// Which electrode of the shop, or which wheel where the hole is ground.
    pub tool: usize,
    /// Which of the cuttings that were looked at.
    pub cutting: usize,
    /// Centre of the hole.
    pub place: Point,
    /// Every bound.
    pub bounds: Vec<BoundCheck>,
    /// The way in, where there is one.
    pub lead_in: Option<LeadIn>,
    /// The way in of the tilted wire, where there is one and one is wanted.
    pub tilted_in: Option<LeadIn>,
    /// Minutes, set-up excluded, with what spoiling the block would cost by its chance.
    pub minutes: f64,
}

impl Setting<'_> {
    /// Where the job says that the start hole lies; a measured one lies where it is.
    pub fn stated_place(&self) -> Option<Point> {
        if let Some(measured) = &self.burn.measured {
            return Some(measured.threads);
        }
        let [x, y] = self.edge.start.at.as_ref()?;
        Some(Point::new(x.value, y.value))
    }

    /// Whether the job leaves it open to burn the hole with this electrode.
    pub fn allows(&self, electrode: f64) -> bool {
        self.edge.start.electrode.as_ref().is_none_or(|stated| same(stated.value, electrode))
    }
}

impl Candidate {
    /// Whether every bound is kept.
    pub fn holds(&self) -> bool {
        self.bounds.iter().all(BoundCheck::holds)
    }

    /// How far it is from possible: bounds broken first, then millimetres missing.
    pub fn distance_from_possible(&self) -> (usize, f64) {
        let broken = self.bounds.iter().filter(|bound| !bound.holds());
        (broken.clone().count(), broken.map(BoundCheck::short).sum())
    }
}

/// A hole in its place: how far the finished edge is from its centre, where a measured hole comes nearest to it.
pub fn distance(reckoning: &mut Reckoning, setting: Setting, (hole, place): (&Hole, Point)) -> Figure {
    let place = hole.worst.unwrap_or(place);
    let stated = stated(reckoning, setting);
    reckoning.measured(
        At(setting.head, "start.terms.distance_mm"),
        what("distance from the hole's centre to the finished edge", "x", "mm"),
        setting.opening.clear(place),
        "exact distance from a point to the lines and arcs of the finished edge",
        stated.as_ref().map_or(&[], |stated| &stated[..]),
    )
}

/// A place that the job states, written down as given.
fn stated(reckoning: &mut Reckoning, setting: Setting) -> Option<[(&'static str, Figure); 2]> {
    let [x, y] = setting.edge.start.at.as_ref().filter(|_| setting.burn.measured.is_none())?;
    let mut given = |name, meaning, symbol, known| {
        (symbol, reckoning.known(At(setting.head, name), what(meaning, symbol, "mm"), known))
    };
    Some([
        given("start.x_mm", "centre of the start hole, x, stated", "x_h", x),
        given("start.y_mm", "centre of the start hole, y, stated", "y_h", y),
    ])
}

/// The bounds on the hole and on the wire through it.
pub fn bounds(
    reckoning: &mut Reckoning,
    setting: Setting,
    hole: &Hole,
    cutting: &Cutting,
    (place, lead_in): (Point, Option<&LeadIn>),
) -> Vec<BoundCheck> {
    let head = setting.head;
    let away = distance(reckoning, setting, (hole, place));
    let reaches = match hole.worst {
        None => away,
        Some(_) => reckoning.measured(
            At(head, "start.terms.reach_mm"),
            what("distance from where the wire is threaded to the finished edge", "x_t", "mm"),
            setting.opening.clear(place),
            "exact distance from a point to the lines and arcs of the finished edge",
            &[],
        ),
    };
    let wire = cutting.passes.wire;
    let threading =
        reckoning.rule(At(head, "start.terms.threading_mm"), &rules::THREADING, [wire, hole.threading_room]);
    let short = reckoning.rule(
        At(head, "start.terms.short_mm"),
        &rules::SHORT,
        [wire, cutting.passes.gap, hole.position, hole.drift],
    );
    let main = cutting.most_offset(reckoning, setting);
    let mut found = vec![
        BoundCheck { name: "clean-up", have: away, need: hole.need },
        BoundCheck { name: "threading", have: hole.light, need: threading },
        BoundCheck { name: "short", have: hole.light, need: short },
        BoundCheck { name: "reach", have: reaches, need: main },
    ];
    found.extend(frame(reckoning, setting, (hole, place)));
    if let Some(terms) = hole.burned.filter(|_| hole.worst.is_none()) {
        found.extend(burning_bounds(reckoning, setting, (hole, terms), place));
    }
    if let Some(whole_to) = cutting.whole_to {
        let have = one_piece(reckoning, setting, whole_to);
        found.push(BoundCheck { name: "one-piece", have, need: main });
    } else if lead_in.is_none() && reaches.value >= main.value {
        let have = reckoning.measured(
            At(head, "start.terms.lead_in_mm"),
            what("longest lead-in found", "l", "mm"),
            0.0,
            "no way from the hole to a stretch of the edge on which the wire stays clear",
            &[],
        );
        found.push(BoundCheck { name: "lead-in", have, need: main });
    }
    found.extend(wire_bounds(reckoning, setting, cutting));
    if let Some(relief) = &setting.relief {
        found.extend(relief.bounds(reckoning, head, cutting.passes.passes[0].offset));
    }
    found
}

/// The bound on the metal between the start hole of a piece and what lies around the piece.
fn frame(reckoning: &mut Reckoning, setting: Setting, (hole, place): (&Hole, Point)) -> Option<BoundCheck> {
    let around = setting.opening.around.as_ref()?;
    let meaning = what("metal between the start hole and the block's sides or the next piece", "w", "mm");
    let how = "distance from the hole's centre to the nearest of them, less half the hole";
    let have = reckoning.measured(
        At(setting.head, "start.terms.frame_mm"),
        meaning,
        around.clear(place) - hole.entry.value / 2.0,
        how,
        &[("D", hole.entry)],
    );
    let meaning = what("metal left between a piece and the sides of its block or the next piece", "w", "mm");
    let need = reckoning.known(At("shop:core.", "frame_mm"), meaning, &setting.shop.core.frame);
    Some(BoundCheck { name: "frame", have, need })
}

/// The bounds on a hole that is still to be burned: depth, electrode, the bore that it breaks into.
fn burning_bounds(
    reckoning: &mut Reckoning,
    setting: Setting,
    (hole, t): (&Hole, Terms),
    place: Point,
) -> Vec<BoundCheck> {
    let head = setting.head;
    let length = burn::electrode_length(reckoning, setting.shop);
    let asks = burn::asks(reckoning, head, hole.depth, t);
    let mut found = vec![
        BoundCheck { name: "depth", have: t.max_depth, need: hole.depth },
        BoundCheck { name: "electrode-length", have: length, need: asks.length },
    ];
    if let Some(bore) = &setting.burn.bore {
        let have = reckoning.measured(
            At(head, "start.terms.in_bore_mm"),
            what("radius of the back bore around the hole's centre", "b", "mm"),
            bore.diameter.value / 2.0 - bore.centre.distance(place),
            "radius of the bore less the distance between the centres",
            &[("D_B", bore.diameter)],
        );
        let at = At(head, "start.terms.asks_of_bore_mm");
        let need = reckoning.rule(at, &IN_BORE, [hole.exit, hole.drift, hole.position]);
        found.push(BoundCheck { name: "bore", have, need });
    }
    found
}

/// The bounds on the wire alone: corners, height.
pub fn wire_bounds(reckoning: &mut Reckoning, setting: Setting, cutting: &Cutting) -> Vec<BoundCheck> {
    let allowed = corner_tolerance(reckoning, setting);
    let deepest = reckoning.measured(
        At(setting.head, "wire.deepest_miss_mm"),
        what("deepest metal left in a corner", "m", "mm"),
        cutting.deepest_miss(),
        "distance from the edge to what the last pass's radius reaches, found to 1 nm along the edge",
        &[("H", cutting.passes.passes[cutting.passes.passes.len() - 1].offset)],
    );
    let mut found = vec![BoundCheck { name: "corners", have: allowed, need: deepest }];
    found.extend(bay(reckoning, setting, cutting));
    found.extend(round_enough(reckoning, setting, cutting));
    found.extend(size::print_radius(reckoning, setting, cutting));
    if let Some(most) = &setting.shop.wires[cutting.passes.row].max_height {
        let head = format!("shop:wire.{}.", cutting.passes.row);
        let have = reckoning.known(
            At(&head, "max_height_mm"),
            what("greatest height of this wire", "h_max", "mm"),
            most,
        );
        found.push(BoundCheck { name: "wire-height", have, need: setting.height });
    }
    found
}

/// In a corner of 20 degrees or more two passes differ by less than this many times their offsets.
const BAY: f64 = 5.0;

/// The bound on a bay that a wider pass does not enter and the next would: it would run in full metal.
fn bay(reckoning: &mut Reckoning, setting: Setting, cutting: &Cutting) -> Option<BoundCheck> {
    if cutting.apart <= 0.0 {
        return None;
    }
    let mut measured = |name, meaning, symbol, value, how: &str| {
        reckoning.measured(At(setting.head, name), what(meaning, symbol, "mm"), value, how, &[])
    };
    let have = measured(
        "wire.bay_limit_mm",
        "how much deeper a pass may go into a corner than the wider one before it",
        "m_b",
        BAY * cutting.apart,
        "5 times the difference of their offsets, which a corner of 20 degrees does not reach",
    );
    let need = measured(
        "wire.bay_mm",
        "how much deeper a pass would go into a bay or corner than the wider one before it",
        "m_s",
        cutting.shut,
        "around a piece main cut and last pass, in an opening the tilted wire at the face and the main cut: deepest places that both leave, the one less the other",
    );
    Some(BoundCheck { name: "bay", have, need })
}

/// A piece's edge is at least this many times as long as the main cut's offset (own choice).
const AROUND: f64 = 20.0;

/// The bound on a piece so small that tab, kerf and turns about its corners would be most of the way round it.
fn round_enough(reckoning: &mut Reckoning, setting: Setting, cutting: &Cutting) -> Option<BoundCheck> {
    setting.opening.around.as_ref()?;
    let mut measured = |name, meaning, symbol, value, how: &str| {
        reckoning.measured(At(setting.head, name), what(meaning, symbol, "mm"), value, how, &[])
    };
    let length = setting.opening.target.perimeter();
    let have =
        measured("wire.piece_mm", "length of the piece's edge", "P", length, "length of the lines and arcs");
    let need = measured(
        "wire.piece_least_mm",
        "length of edge that this wire can go round with a tab",
        "P_w",
        AROUND * cutting.passes.main(),
        "20 times the main cut's offset, own choice",
    );
    Some(BoundCheck { name: "piece", have, need })
}

/// Metal that may be left in a corner.
pub fn corner_tolerance(reckoning: &mut Reckoning, setting: Setting) -> Figure {
    reckoning.known(
        At(setting.head, "corner_tolerance_mm"),
        what("metal that may be left in a corner", "m_max", "mm"),
        &setting.edge.corner_tolerance,
    )
}

/// The largest offset at which the opening is still one piece.
pub fn one_piece(reckoning: &mut Reckoning, setting: Setting, whole_to: f64) -> Figure {
    reckoning.measured(
        At(setting.head, "start.terms.one_piece_mm"),
        what("largest offset at which the opening is one piece", "H_1", "mm"),
        whole_to,
        "parallels by halving, within 0.01 um",
        &[],
    )
}

/// Probability of cleaning up.
pub fn clean_up(reckoning: &mut Reckoning, setting: Setting, hole: &Hole, place: Point) -> Figure {
    let chance = setting.opening.chances.of(
        setting.opening.free(),
        hole.worst.unwrap_or(place),
        hole.takes.value,
        [hole.sigma_position.value, hole.sigma_size.value],
    );
    reckoning.measured(
        At(setting.head, "start.clean_up_probability"),
        what("probability that the cut removes all of the hole", "P", ""),
        chance,
        "round normal position and normal radius, integrated over the true region at the worst height; fixed terms at their limits",
        &[("n", hole.takes), ("s_p", hole.sigma_position), ("s_q", hole.sigma_size)],
    )
}

/// Minutes of one pass. `further`: what it goes beyond once around and its overlap, mm; negative where it stops short. `back`:
/// whether the wire goes back to where it came from, and is not cut at the end of its way.
pub fn pass_minutes(
    reckoning: &mut Reckoning,
    setting: Setting,
    cutting: &Cutting,
    pass: usize,
    (feeds, lead_in, further, back): (Feeds, &LeadIn, f64, bool),
) -> Figure {
    let key = format!("{}wire.passes.{pass}.", setting.head);
    let centre = &cutting.centres[pass][0];
    let length = reckoning.measured(
        At(&key, "length_mm"),
        what("way of the wire's centre, with overlap and rings, up to the tab if there is one", "L", "mm"),
        centre.perimeter() + lead_in.overlap + further,
        "length of the lines and arcs",
        &[],
    );
    let (times, how) = match back {
        true => (2.0, "length of the lead-in less the offset, twice"),
        false => (1.0, "length of the lead-in less the offset, once: the wire is cut where the pass ends"),
    };
    let lead = reckoning.measured(
        At(&key, "lead_in_and_back_mm"),
        what("lead-in and way back", "B", "mm"),
        times * (lead_in.length() - cutting.passes.passes[pass].offset.value).max(0.0),
        how,
        &[],
    );
    let bends = reckoning.measured(
        At(&key, "corners"),
        what("corners on the wire's way", "n", ""),
        corners(centre) as f64,
        "joints that turn more than 2 degrees",
        &[],
    );
    let feed = if pass == 0 { feeds.main } else { feeds.skim };
    minutes(reckoning, (&key, setting), [length, lead, bends, cutting.passes.wire, feed])
}

/// Minutes of a way of the wire from its length, lead-in and back, corners, wire and feed, with the shop's shares of the feed.
pub fn minutes(
    reckoning: &mut Reckoning,
    (key, setting): (&str, Setting),
    [length, lead, bends, wire, feed]: [Figure; 5],
) -> Figure {
    let shop = &setting.shop.cutting;
    let mut share = |name, meaning, symbol, known| {
        reckoning.known(At("shop:cutting.", name), what(meaning, symbol, ""), known)
    };
    let lead_share =
        share("lead_in_feed_factor", "share of the feed on the lead-in", "y", &shop.lead_in_feed_factor);
    let corner_share =
        share("corner_feed_factor", "share of the feed at corners", "x", &shop.corner_feed_factor);
    reckoning.rule(
        At(key, "minutes"),
        &time::PASS_MINUTES,
        [length, lead, lead_share, bends, wire, corner_share, feed],
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bound(have: f64, need: f64) -> BoundCheck {
        let figure = |value| Figure { value, line: 0 };
        BoundCheck { name: "b", have: figure(have), need: figure(need) }
    }

    fn way(bounds: &[BoundCheck]) -> Candidate {
        let place = Point::new(0.0, 0.0);
        Candidate {
            tool: 0,
            cutting: 0,
            place,
            bounds: bounds.to_vec(),
            lead_in: None,
            tilted_in: None,
            minutes: 0.0,
        }
    }

    #[test]
    fn a_bound_says_how_much_is_short() {
        assert!(bound(0.2, 0.2).holds() && !bound(0.2, 0.3).holds());
        assert!((bound(0.2, 0.35).short() - 0.15).abs() < 1e-12);
        assert_eq!(bound(0.35, 0.2).short(), 0.0);
    }

    #[test]
    fn fewer_broken_bounds_come_first_and_then_less_missing() {
        let kept = way(&[bound(1.0, 0.5), bound(0.1, 0.1)]);
        assert!(kept.holds());
        assert_eq!(kept.distance_from_possible(), (0, 0.0));
        let broken = way(&[bound(0.5, 1.0), bound(2.0, 0.1), bound(0.1, 0.35)]);
        assert!(!broken.holds());
        let (count, missing) = broken.distance_from_possible();
        assert_eq!(count, 2);
        assert!((missing - 0.75).abs() < 1e-12);
    }
}
