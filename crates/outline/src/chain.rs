//! Chains of stretches that go on from each other: a slot whose side was drawn in pieces, a bent slot of lines and arcs,
//! a ring. Each end is joined with the nearest end of another stretch of the same width, if that lies next to it.

use crate::Point;
use crate::neck::Disc;
use crate::stretch::{CONSTANT, Stretch};

/// Ends this near each other are joined: mm, and as a share of the radius. Where a joint was rounded out of tangent the disc
/// jumps from wall to wall.
const NEXT: f64 = 1e-6;
const NEXT_SHARE: f64 = 0.02;

/// A stretch shorter than this share of its width is not told from a point.
const SHORTEST: f64 = 1e-3;

/// Width must change by less than this share of length squared over width. Where sides bend away from each other, as at the
/// belly of an oval, the share is about a quarter, and the facets of one that was drawn in facets are no stretches.
const FLAT: f64 = 0.01;

/// Facets slope by up to this many times as much as the chain that they make.
const STEEPER: f64 = 3.0;

/// And by less than this share of itself: a needle has no width.
const SLENDER: f64 = 0.05;

/// Stretches that make one.
#[derive(Debug)]
pub(crate) struct Chain {
    /// In order, each with whether it is travelled against its own direction.
    pub links: Vec<(Stretch, bool)>,
    pub closed: bool,
}

impl Stretch {
    /// How near an end must lie to go on from this.
    pub fn next_to(&self) -> f64 {
        NEXT + NEXT_SHARE * self.least
    }

    /// Whether this slopes so little that it may be part of a chain. One that changes by as much as it may and is as long
    /// as it must be for that has this slope; in facets it goes up and down by more.
    pub fn may_be_flat(&self) -> bool {
        let slope = 2.0 * (self.most - self.least) / self.length;
        slope * slope * 2.0 * self.least <= STEEPER * STEEPER * FLAT * CONSTANT
    }

    /// Whether this is a stretch of constant width without any other.
    pub fn stands_alone(&self) -> bool {
        stands(self.length, self.least, self.most)
    }
}

impl Chain {
    fn length(&self) -> f64 {
        self.links.iter().map(|(link, _)| link.length).sum()
    }

    /// Whether a neck is part of this: between two walls of it, or where one of its stretches ends.
    pub fn has(&self, neck: &Disc) -> bool {
        self.links.iter().any(|(link, _)| {
            let between =
                [(link.wall, link.other), (link.other, link.wall)].contains(&(neck.wall, neck.other));
            let next_to = link.ends.iter().any(|end| end.distance(neck.centre) <= link.next_to());
            (between || next_to) && 2.0 * (link.most - neck.radius).abs() <= CONSTANT
        })
    }

    /// The link in the middle and the share of its wall there.
    pub fn middle(&self) -> Option<(&Stretch, f64)> {
        let mut left = 0.5 * self.length();
        for (link, back) in &self.links {
            if left <= link.length {
                let along = if *back { 1.0 - left / link.length } else { left / link.length };
                return Some((link, link.low + (link.high - link.low) * along));
            }
            left -= link.length;
        }
        self.links.last().map(|(link, _)| (link, link.high))
    }

    fn stands(&self) -> bool {
        let least = self.links.iter().fold(f64::INFINITY, |least, (link, _)| least.min(link.least));
        let most = self.links.iter().fold(0.0, |most: f64, (link, _)| most.max(link.most));
        stands(self.length(), least, most)
    }
}

/// Whether a way on which the radius lies between two bounds counts as a stretch of constant width.
fn stands(length: f64, least: f64, most: f64) -> bool {
    let (width, change) = (2.0 * least, 2.0 * (most - least));
    change <= CONSTANT
        && change <= SLENDER * width
        && change * width <= FLAT * length * length
        && length >= SHORTEST * width
}

/// The chains that stretches make; one that is none as a whole falls back into those of its stretches that stand alone.
pub(crate) fn chains(stretches: Vec<Stretch>) -> Vec<Chain> {
    let joints = joints(&stretches);
    let mut taken = vec![false; stretches.len()];
    let mut chains = Vec::new();
    // Open chains are followed from an end, closed ones from anywhere.
    let starts = (0..stretches.len()).flat_map(|i| [(i, 0), (i, 1)]);
    let open = starts.clone().filter(|&(i, end)| joints[i][end].is_none());
    for (first, end) in open.chain(starts) {
        if taken[first] {
            continue;
        }
        let (order, closed) = follow(&joints, first, end, &mut taken);
        let links = order.into_iter().map(|(i, back)| (stretches[i], back)).collect();
        let chain = Chain { links, closed };
        if chain.stands() {
            chains.push(chain);
        } else {
            let alone = chain.links.into_iter().filter(|(link, _)| link.stands_alone());
            chains.extend(alone.map(|link| Chain { links: vec![link], closed: false }));
        }
    }
    chains
}

/// A stretch, and which of its ends.
type End = (usize, usize);
/// For each stretch and each of its ends, the stretch and end that goes on there.
type Joints = Vec<[Option<End>; 2]>;

fn joints(stretches: &[Stretch]) -> Joints {
    let mut ends: Vec<(Point, usize, usize)> = (stretches.iter().enumerate())
        .flat_map(|(i, stretch)| [(stretch.ends[0], i, 0), (stretch.ends[1], i, 1)])
        .collect();
    ends.sort_by(|a, b| a.0.x.total_cmp(&b.0.x).then(a.0.y.total_cmp(&b.0.y)));
    let mut near: Vec<(f64, End, End)> = Vec::new();
    for (k, &(place, i, end)) in ends.iter().enumerate() {
        let next_to = stretches[i].next_to();
        for &(other, j, other_end) in ends[k + 1..].iter().take_while(|other| other.0.x - place.x <= next_to)
        {
            let apart = place.distance(other);
            let alike = (stretches[i].least - stretches[j].least).abs() <= CONSTANT;
            if i != j && apart <= next_to && alike {
                near.push((apart, (i, end), (j, other_end)));
            }
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut joints: Joints = vec![[None; 2]; stretches.len()];
    for (_, (i, end), (j, other_end)) in near {
        if joints[i][end].is_none() && joints[j][other_end].is_none() {
            joints[i][end] = Some((j, other_end));
            joints[j][other_end] = Some((i, end));
        }
    }
    joints
}

/// From one end of a stretch through it and on, as far as it goes; and whether that comes back to the start.
fn follow(joints: &Joints, first: usize, end: usize, taken: &mut [bool]) -> (Vec<(usize, bool)>, bool) {
    let (mut order, mut at) = (Vec::new(), (first, end));
    loop {
        let (i, entered) = at;
        taken[i] = true;
        order.push((i, entered == 1));
        match joints[i][1 - entered] {
            Some(next) if next.0 == first => return (order, true),
            Some(next) if !taken[next.0] => at = next,
            _ => return (order, false),
        }
    }
}
