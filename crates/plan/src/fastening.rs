//! Screws, dowels and jack-out threads of a section: their holes, proposed places, and why there is no room for them.
//!
//! Stages: what the job asks for as holes with their distances; places for each kind, in the first order of kinds in which all
//! find room; what finds none is refused with its figures, a finer thread, fewer holes or a larger block that would do.

use crate::contour::{Frame, Studied};
use crate::fastening_places::{self as places, Found, Ground, Joint, Near, Wanted};
use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::fastening as rules;
use crate::section::World;
use crate::threads::{Hole, Kind, asked};
use job::{Contour, Edge, Section};
use outline::Point;
use package::{self as published, FaceUp, Fastening, FasteningHole, FasteningMade, FasteningRefused, Halves};
use remark::Remark;

/// Blocks that are larger on each side by so many mm are looked at.
const LARGER: std::ops::RangeInclusive<u32> = 1..=12;

/// What holds a section; none where the job asks for nothing.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (studied, halves): (&[Studied], Option<&Halves>),
    frame: Frame,
) -> (Option<Fastening>, Vec<Remark>) {
    let holes = asked(reckoning, world, section, frame.height);
    if holes.is_empty() {
        return (None, Vec::new());
    }
    let ground = Ground { joint: halves.map(joint), ..ground(section, studied, frame) };
    let wanted: Vec<(Wanted, u32)> = holes.iter().map(|hole| (hole.wanted, hole.count)).collect();
    let found = placed(&ground, &wanted);
    let mut fastening = Fastening { made: FasteningMade::Soft, holes: Vec::new(), refused: Vec::new() };
    let mut remarks: Vec<Remark> = both_locate(section).into_iter().collect();
    for (hole, found) in holes.iter().zip(found) {
        let number = fastening.refused.len();
        let tight = no_room(reckoning, world, section, (hole, &found), (&ground, number));
        let deep = too_deep(reckoning, section, hole, number + usize::from(tight.is_some()));
        let refused: Vec<FasteningRefused> = tight.into_iter().chain(deep).collect();
        if refused.is_empty() {
            for place in found {
                let number = fastening.holes.len();
                fastening.holes.push(written(reckoning, section, (hole, place), number));
            }
        }
        remarks.extend(refused.iter().map(|one| said(section, hole, one)));
        fastening.refused.extend(refused);
    }
    (Some(fastening), remarks)
}

/// The back of the block: openings with what relief adds there, and back bores.
fn ground(section: &Section, studied: &[Studied], frame: Frame) -> Ground {
    let edges = || section.edges.iter().zip(studied).enumerate();
    let inside = |edge: &Edge| edge.side == Contour::Inside;
    let openings = edges().filter(|(_, (edge, _))| inside(edge)).map(|(i, (_, one))| {
        let own = one.burn.frame(frame);
        let below = (frame.height.value - own.land.value).max(0.0);
        (i, one.opening.target.clone(), below * frame.relief.value.to_radians().tan())
    });
    let pieces =
        edges().filter(|(_, (edge, _))| !inside(edge)).map(|(_, (_, one))| one.opening.target.clone());
    let bore = |(i, one): (usize, &Studied)| {
        one.burn.bore.as_ref().map(|bore| (bore.centre, bore.diameter.value / 2.0, i))
    };
    Ground {
        size: [section.size[0].value, section.size[1].value],
        pieces: pieces.collect(),
        openings: openings.collect(),
        bores: studied.iter().enumerate().filter_map(bore).collect(),
        taken: Vec::new(),
        joint: None,
    }
}

/// The joint of two halves, and what goes through it.
fn joint(halves: &Halves) -> Joint {
    let wide = |hole: &package::JointHole| (hole.along_mm, hole.clear_mm.unwrap_or(hole.diameter_mm));
    Joint {
        runs_along_x: halves.along == package::Along::X,
        at: halves.at_mm,
        through: halves.holes.iter().map(wide).collect(),
    }
}

/// Places of each kind: kinds that come first leave less to the others, so other orders are tried until all find room.
fn placed(ground: &Ground, wanted: &[(Wanted, u32)]) -> Vec<Found> {
    let mut first: Option<Vec<Found>> = None;
    for order in orders(wanted.len()) {
        let mut ground = ground.clone();
        let mut found: Vec<Found> = vec![Vec::new(); wanted.len()];
        for &i in &order {
            let (one, count) = wanted[i];
            found[i] = places::best(&ground, one, count);
            if places::room(&found[i]) >= 0.0 {
                ground.taken.extend(found[i].iter().map(|(at, _)| (*at, one.diameter)));
            }
        }
        if found.iter().all(|one| places::room(one) >= 0.0) {
            return found;
        }
        first.get_or_insert(found);
    }
    first.unwrap_or_default()
}

/// All orders of so many things, the given one first.
fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let with = |order: Vec<usize>, at: usize| {
        let mut order = order;
        order.insert(at, count - 1);
        order
    };
    let shorter = orders(count - 1);
    (0..count).rev().flat_map(|at| shorter.iter().map(move |order| with(order.clone(), at))).collect()
}

/// A hole as it is published, its numbers written down.
fn written(
    reckoning: &mut Reckoning,
    section: &Section,
    (hole, (at, gap)): (&Hole, (Point, places::Gap)),
    number: usize,
) -> FasteningHole {
    let key = format!("{}.fastening.holes.{number}.", section.id);
    let mut same = |name: &str, figure: Figure| {
        let meaning = what("as for all holes of its kind", "b", "mm");
        reckoning.measured(At(&key, name), meaning, figure.value, "as stated", &[("b", figure)]).value
    };
    let (diameter_mm, drill_mm) = (same("diameter_mm", hole.diameter), same("drill_mm", hole.drill));
    let minor_mm = hole.minor.map(|figure| same("minor_mm", figure));
    let (depth_mm, drill_depth_mm) = (same("depth_mm", hole.depth), same("drill_depth_mm", hole.drill_depth));
    let clear_mm = hole.clear.map(|figure| same("clear_mm", figure));
    let meaning = what("metal beyond what is asked for where it is tightest", "m", "mm");
    let how = "exact distances to sides, openings, bores and other holes, less what each asks for; places are round tenths";
    let inputs = [("a_s", hole.to_side), ("a_o", hole.to_opening)];
    let room_mm = reckoning.measured(At(&key, "room_mm"), meaning, gap.room(), how, &inputs).value;
    FasteningHole {
        kind: hole.kind.published(),
        thread: hole.thread.clone(),
        from_face: if hole.kind == Kind::JackOut { FaceUp::Cutting } else { FaceUp::Back },
        x_mm: at.x,
        y_mm: at.y,
        diameter_mm,
        drill_mm,
        minor_mm,
        depth_mm,
        drill_depth_mm,
        clear_mm,
        room_mm,
    }
}

fn refused(
    reckoning: &mut Reckoning,
    section: &Section,
    (hole, number): (&Hole, usize),
    (bound, have, need): (String, f64, (f64, Figure)),
    cures: Vec<String>,
) -> FasteningRefused {
    let key = format!("{}.fastening.refused.{number}.", section.id);
    let meaning = what("metal at the tightest of the best places", "a", "mm");
    let have = reckoning.measured(At(&key, "have_mm"), meaning, have, "exact distance", &[]);
    let meaning = what("what is asked for there", "a", "mm");
    let how = "what the rule asks for; between two holes the larger diameter";
    let need = reckoning.measured(At(&key, "need_mm"), meaning, need.0, how, &[("a", need.1)]);
    let kind = hole.kind.published();
    FasteningRefused { kind, bound, have_mm: have.value, need_mm: need.value, cures }
}

/// A blind hole that comes too near to the cutting face.
fn too_deep(
    reckoning: &mut Reckoning,
    section: &Section,
    hole: &Hole,
    number: usize,
) -> Option<FasteningRefused> {
    let [over, need] = hole.over.filter(|[over, need]| over.value < need.value)?;
    let short = need.value - over.value;
    // Rounded down to a tenth: rounded up it would still be too deep.
    let shallow = (10.0 * (hole.depth.value - short)).floor() / 10.0;
    let cure = match shallow >= hole.diameter.value {
        true => format!("`depth` of {shallow} or less"),
        false => "a higher block, or a smaller diameter".to_owned(),
    };
    let bound = "metal to the cutting face".to_owned();
    Some(refused(reckoning, section, (hole, number), (bound, over.value, (need.value, need)), vec![cure]))
}

/// A kind that finds no room at its best places.
fn no_room(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (hole, found): (&Hole, &Found),
    (ground, number): (&Ground, usize),
) -> Option<FasteningRefused> {
    let gap = found.iter().map(|(_, gap)| *gap).min_by(|a, b| a.room().total_cmp(&b.room()))?;
    if gap.room() >= 0.0 {
        return None;
    }
    let (bound, need) = match gap.near {
        Near::Side => ("centre to the block's side".to_owned(), hole.to_side),
        Near::Opening(i) => (format!("metal to edge `{}`", section.edges[i].id), hole.to_opening),
        Near::Hole => ("metal to the next hole".to_owned(), hole.wide),
        Near::Joint => ("centre to the joint of the halves".to_owned(), hole.to_side),
    };
    let cures = cures(world, hole, ground);
    Some(refused(reckoning, section, (hole, number), (bound, gap.have, (gap.need, need)), cures))
}

/// What would find room: a finer thread, fewer holes, a larger block; each looked at with nothing else in the block.
fn cures(world: World, hole: &Hole, ground: &Ground) -> Vec<String> {
    let fits = |ground: &Ground, wanted: Wanted, count: u32| {
        places::room(&places::best(ground, wanted, count)) >= 0.0
    };
    let mut cures = Vec::new();
    if let Some(own) = &hole.thread {
        let finer = world.facts.threads().iter().take_while(|thread| thread.name != *own).collect::<Vec<_>>();
        let finer = finer.into_iter().rev().find(|thread| fits(ground, hole.like(thread), hole.count));
        cures.extend(finer.map(|thread| format!("`thread = \"{}\"`, which has room", thread.name)));
    }
    let fewer = (1..hole.count).rev().find(|count| fits(ground, hole.wanted, *count));
    cures.extend(fewer.map(|count| format!("`count = {count}`, which has room")));
    let grown = |by: u32| {
        let size = ground.size.map(|side| side + 2.0 * f64::from(by));
        Ground { size, ..ground.clone() }
    };
    // A piece keeps its edge, whatever it is cut out of.
    let whole = ground.pieces.is_empty();
    let larger = LARGER.filter(|_| whole).map(grown).find(|ground| fits(ground, hole.wanted, hole.count));
    cures.extend(larger.map(|ground| format!("a block of {} x {}", ground.size[0], ground.size[1])));
    if cures.is_empty() {
        cures.push("a clamp or a ledge in place of it".to_owned());
    }
    cures
}

fn said(section: &Section, hole: &Hole, refused: &FasteningRefused) -> Remark {
    let message = format!(
        "section `{}`: no room for {}: {} has {:.2}, needs {:.2}: short {:.2}",
        section.id,
        hole.words(),
        refused.bound,
        refused.have_mm,
        refused.need_mm,
        refused.need_mm - refused.have_mm
    );
    let remark = Remark::warning("no-room-to-fasten", message).place(section.place.clone());
    refused.cures.iter().fold(remark, |remark, cure| remark.cure(cure.clone()))
}

/// A cavity locates a section, and so do dowels.
fn both_locate(section: &Section) -> Option<Remark> {
    (section.cavity.is_some() && section.fastening.dowels.is_some()).then(|| {
        let message = format!(
            "section `{}` sits in a cavity that locates it, and dowels locate it once more: one of them gives way",
            section.id
        );
        Remark::warning("located-twice", message)
            .place(section.place.clone())
            .cure("leave `dowels` out, or the `cavity`")
    })
}

impl Kind {
    /// As it is published.
    fn published(self) -> published::FasteningKind {
        match self {
            Kind::Screw => published::FasteningKind::Screw,
            Kind::Dowel => published::FasteningKind::Dowel,
            Kind::JackOut => published::FasteningKind::JackOut,
        }
    }
}

impl Hole {
    /// The distances that a hole of the same kind with another thread would ask for.
    fn like(&self, thread: &job::Thread) -> Wanted {
        let diameter = thread.diameter;
        Wanted {
            diameter: if self.clear.is_some() { thread.clear.value } else { diameter },
            to_side: (rules::TO_SIDE.of)([diameter]),
            to_opening: (rules::TO_OPENING.of)([diameter]),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_orders_once_the_given_one_first() {
        let found = orders(3);
        assert_eq!(found[0], [0, 1, 2]);
        let mut sorted = found.clone();
        sorted.sort();
        sorted.dedup();
        assert_eq!((found.len(), sorted.len()), (6, 6));
    }

    /// A small hole stands in the middle of a narrow block, where the large one then finds no room on either side of it: placed the
    /// other way round both do, in a block of 23 to 30 by 11. In one of 22 no order helps.
    #[test]
    fn another_order_finds_room_where_the_given_one_does_not() {
        let alone = |diameter: f64, to_side: f64| (Wanted { diameter, to_side, to_opening: 1.0 }, 1);
        let (small, large) = (alone(2.0, 2.0), alone(6.0, 5.0));
        let room = |long: f64, wanted: &[(Wanted, u32)]| {
            let ground = Ground {
                size: [long, 11.0],
                pieces: Vec::new(),
                openings: Vec::new(),
                bores: Vec::new(),
                taken: Vec::new(),
                joint: None,
            };
            let found = placed(&ground, wanted);
            assert_eq!(found.len(), wanted.len());
            found.iter().map(places::room).fold(f64::INFINITY, f64::min)
        };
        assert!(room(26.0, &[large, small]) >= 0.0);
        assert!(room(26.0, &[small, large]) >= 0.0);
        assert!(room(22.0, &[small, large]) < 0.0 && room(22.0, &[large, small]) < 0.0);
    }
}
