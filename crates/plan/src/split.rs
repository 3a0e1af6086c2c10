//! The joint of a section in two halves: where it lies, which openings lie over it, and that it parts the metal in two and no more.

use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use job::{Along, Edge, Section};
use outline::{Outline, Point, Segment};
use remark::{Place, Remark};

/// A joint that is not stated lies at a round thousandth of a millimetre.
const ROUND: f64 = 1e3;
/// Lengths closer than this are the same, mm.
const SAME: f64 = 1e-6;
/// Less metal than this between the joint and an opening beside it is worth a warning, mm (common practice, no source).
const WALL: f64 = 3.0;
/// Less metal than this breaks out when the joint is ground or the wire comes by, mm (common practice, no source).
const LEAST_WALL: f64 = 0.5;
/// A joint along which an opening is as deep as anywhere, mm.
const AS_DEEP: f64 = 1e-3;
/// Places along a joint at which an opening's depth is looked at.
const ALONG: usize = 256;
/// Halvings of a stretch of an arc until its crossing is known.
const HALVINGS: usize = 60;

/// The joint of a section.
#[derive(Debug, Clone)]
pub struct Split {
    /// The way that it runs.
    pub along: Along,
    /// Where it lies across that way, mm.
    pub at: f64,
    /// For each edge the stretch of the joint that lies in its opening.
    runs: Vec<Option<[f64; 2]>>,
}

/// A stretch of the joint that lies in an opening.
#[derive(Debug, Clone, Copy)]
pub struct Over {
    /// The way that the joint runs.
    pub along: Along,
    /// Where it lies across that way, mm.
    pub at: f64,
    /// From where to where along it, mm.
    pub run: [f64; 2],
}

impl Over {
    /// A point of the joint.
    pub fn point(&self, along: f64) -> Point {
        match self.along {
            Along::X => Point::new(along, self.at),
            Along::Y => Point::new(self.at, along),
        }
    }
}

impl Split {
    /// The joint that a section states; none where it is in one piece.
    pub fn of(
        reckoning: &mut Reckoning,
        section: &Section,
        openings: &[Opening],
    ) -> Result<Option<Self>, Vec<Remark>> {
        let Some(halves) = &section.halves else { return Ok(None) };
        let along = halves.along.value;
        let head = format!("{}.halves.", section.id);
        let meaning = what("where the joint lies", "j", "mm");
        let at = match &halves.at {
            Some(stated) => reckoning.known(At(&head, "at_mm"), meaning, stated),
            None => {
                let tightest = openings.iter().min_by(|a, b| a.circle.radius.total_cmp(&b.circle.radius));
                let at = tightest.map_or(0.0, |one| deepest(along, one));
                let why = "where the tightest opening has most room, near its middle where it has as much there, to 0.001";
                reckoning.chosen(At(&head, "at_mm"), meaning, (at * ROUND).round() / ROUND, why, &[])
            }
        }
        .value;
        let crossed: Vec<Vec<f64>> = openings.iter().map(|one| crossings(&one.target, along, at)).collect();
        let split =
            Self { along, at, runs: crossed.iter().map(|of| Some([*of.first()?, *of.last()?])).collect() };
        let faults = split.faults(section, openings, &crossed);
        if faults.is_empty() { Ok(Some(split)) } else { Err(faults) }
    }

    /// The stretch of the joint in the opening of an edge, by the edge's number.
    pub fn over(&self, edge: usize) -> Option<Over> {
        let run = (*self.runs.get(edge)?)?;
        Some(Over { along: self.along, at: self.at, run })
    }

    /// A place along the joint and across it.
    pub fn both(&self, place: Point) -> (f64, f64) {
        (lengthwise(self.along, place), across(self.along, place))
    }

    /// Metal between the joint and each opening that it does not part, with what lies below.
    ///
    /// # Errors
    /// Less metal than stays.
    pub fn beside(
        &self,
        section: &Section,
        openings: &[(&Opening, Below)],
    ) -> Result<Vec<Remark>, Vec<Remark>> {
        let beside = section.edges.iter().zip(openings).enumerate().filter(|(i, _)| self.over(*i).is_none());
        let mut near = Vec::new();
        for (_, (edge, (opening, below))) in beside {
            let wall = below.wall(self, self.wall(opening));
            let message = format!(
                "section `{}`: {wall:.3} of metal stand between its joint and edge `{}`, its relief and its back bore counted",
                section.id, edge.id
            );
            let cure = format!("an `at` of the `halves` at least {:.2} further off", WALL - wall);
            if wall < LEAST_WALL {
                let message = format!("{message}: less than {LEAST_WALL} breaks out");
                let fault = Remark::error("joint-touches", message).place(edge.place.clone());
                return Err(vec![fault.cure(cure)]);
            }
            if wall < WALL {
                let message = format!("{message}, {WALL} and more are usual");
                near.push(Remark::warning("joint-near", message).place(edge.place.clone()).cure(cure));
            }
        }
        Ok(near)
    }

    /// Metal between the joint and an opening beside it.
    fn wall(&self, opening: &Opening) -> f64 {
        let bounds = opening.target.bounds();
        let (low, high) = (across(self.along, bounds.min), across(self.along, bounds.max));
        (low - self.at).max(self.at - high)
    }

    fn faults(&self, section: &Section, openings: &[Opening], crossed: &[Vec<f64>]) -> Vec<Remark> {
        let mut faults = Vec::new();
        let place = section.halves.as_ref().map_or(&section.place, |halves| &halves.place);
        let mut told = |code: &str, message: String, cure: &str, place: &Place| {
            let message = format!("section `{}`: {message}", section.id);
            faults.push(Remark::error(code, message).place(place.clone()).cure(cure));
        };
        let mut fault = |code: &str, message: String, cure: &str| told(code, message, cure, place);
        let width = match self.along {
            Along::X => section.size[1].value,
            Along::Y => section.size[0].value,
        };
        if self.at.abs() >= width / 2.0 {
            let message = format!(
                "its joint at {} lies outside the block, {} to {}",
                self.at,
                -width / 2.0,
                width / 2.0
            );
            fault("joint-outside", message, "another `at` of the `halves`");
        } else if crossed.iter().all(Vec::is_empty) {
            let message = format!("no opening lies over its joint at {}", self.at);
            fault("joint-beside", message, "leave `halves` out, or another `at` of it");
        }
        for ((edge, opening), crossed) in section.edges.iter().zip(openings).zip(crossed) {
            match crossed.len() {
                0 if self.wall(opening) < SAME => {
                    let message = format!("its joint at {} touches edge `{}`", self.at, edge.id);
                    told("joint-touches", message, "another `at` of the `halves`", place);
                }
                0 => {}
                2 => faults_of_start((edge, self), &mut |code, message, cure| {
                    told(code, message, cure, &edge.place)
                }),
                n => {
                    let message = format!(
                        "its joint at {} meets edge `{}` {n} times: metal between two of its stretches would come loose",
                        self.at, edge.id
                    );
                    let cure = "another `at` of the `halves`, or the other way `along`";
                    told("joint-parts-metal", message, cure, place);
                }
            }
        }
        faults
    }
}

/// What lies below the face beside a joint.
#[derive(Debug, Clone, Copy)]
pub struct Below {
    /// How much wider the opening is at the back, mm.
    pub grown: f64,
    /// Centre and radius of its back bore.
    pub bore: Option<(Point, f64)>,
}

impl Below {
    /// Metal between the joint and what lies nearest, of the wall at the face.
    fn wall(&self, split: &Split, at_face: f64) -> f64 {
        let bore = self.bore.map_or(f64::INFINITY, |(centre, radius)| {
            (across(split.along, centre) - split.at).abs() - radius
        });
        (at_face - self.grown).min(bore)
    }
}

/// Where a joint this way lies deepest in an opening: in the middle of it where it is as deep there.
fn deepest(along: Along, opening: &Opening) -> f64 {
    let bounds = opening.target.bounds();
    let middle = across(along, bounds.middle());
    let place = |share: f64| {
        let (from, to) = (lengthwise(along, bounds.min), lengthwise(along, bounds.max));
        Over { along, at: middle, run: [from, to] }.point(from + share * (to - from))
    };
    let deep = (0..=ALONG).map(|k| opening.clear(place(k as f64 / ALONG as f64))).fold(0.0, f64::max);
    if deep >= opening.circle.radius - AS_DEEP { middle } else { across(along, opening.circle.centre) }
}

/// What is stated about a burned hole contradicts half-rounds, and a place must lie on the joint.
fn faults_of_start((edge, split): (&Edge, &Split), fault: &mut dyn FnMut(&str, String, &str)) {
    let start = &edge.start;
    let stated = [
        ("electrode", start.electrode.is_some()),
        ("measured", start.measured.is_some()),
        ("back_bore", start.back_bore.is_some()),
        ("position", start.position.is_some()),
    ];
    for (key, _) in stated.iter().filter(|(_, there)| *there) {
        let message = format!(
            "edge `{}` lies over its joint, and `{key}` of its start speaks of a burned hole",
            edge.id
        );
        fault("burned-over-joint", message, "leave it out: the hole is ground into both halves");
    }
    if let Some([x, y]) = &start.at {
        let off = across(split.along, Point::new(x.value, y.value)) - split.at;
        if off.abs() > SAME {
            let message =
                format!("the start of edge `{}` is stated {:.4} beside its joint", edge.id, off.abs());
            fault("start-off-joint", message, "a place on the joint, or leave `at` of its start out");
        }
    }
}

/// The way of a joint as it is published.
pub fn published(along: Along) -> package::Along {
    match along {
        Along::X => package::Along::X,
        Along::Y => package::Along::Y,
    }
}

/// The coordinate across a joint.
pub fn across(along: Along, place: Point) -> f64 {
    match along {
        Along::X => place.y,
        Along::Y => place.x,
    }
}

/// The coordinate along a joint.
pub fn lengthwise(along: Along, place: Point) -> f64 {
    match along {
        Along::X => place.x,
        Along::Y => place.y,
    }
}

/// Where an outline crosses a joint, in order along it; an even number, since it is closed.
fn crossings(outline: &Outline, along: Along, at: f64) -> Vec<f64> {
    let mut found: Vec<f64> = outline.segments().flat_map(|piece| crossed(piece, along, at)).collect();
    found.sort_by(f64::total_cmp);
    found
}

/// Where one piece crosses. On the joint counts as below it, so that a corner there counts once or twice, as it should.
fn crossed(piece: Segment, along: Along, at: f64) -> Vec<f64> {
    // Two pieces must say the same of the corner that they share.
    let place = |t: f64| match t {
        0.0 => piece.from,
        1.0 => piece.to,
        _ => piece.at(t),
    };
    let above = |t: f64| across(along, place(t)) > at;
    turns(piece, along)
        .windows(2)
        .filter(|part| above(part[0]) != above(part[1]))
        .map(|part| {
            let (mut low, mut high) = (part[0], part[1]);
            for _ in 0..HALVINGS {
                let middle = 0.5 * (low + high);
                if above(middle) == above(low) { low = middle } else { high = middle }
            }
            lengthwise(along, piece.at(0.5 * (low + high)))
        })
        .collect()
}

/// Shares of a piece between which it runs one way across the joint.
fn turns(piece: Segment, along: Along) -> Vec<f64> {
    let mut shares = vec![0.0];
    if let (Some(centre), sweep) = (piece.centre(), piece.sweep()) {
        let from = (piece.from - centre).angle();
        let top = match along {
            Along::X => std::f64::consts::FRAC_PI_2,
            Along::Y => 0.0,
        };
        let tops = (-4..=4).map(|k| top + f64::from(k) * std::f64::consts::PI);
        shares.extend(tops.map(|angle| (angle - from) / sweep).filter(|share| *share > 0.0 && *share < 1.0));
        shares.sort_by(f64::total_cmp);
    }
    shares.push(1.0);
    shares
}

/// The stretch of a joint through a place that lies in an opening; none where it meets the opening more than twice.
pub fn over(opening: &Outline, along: Along, place: Point) -> Option<Over> {
    let at = across(along, place);
    match crossings(opening, along, at).as_slice() {
        [from, to] => Some(Over { along, at, run: [*from, *to] }),
        _ => None,
    }
}

/// How far an outline reaches along a joint between two places across it; none where it does not come between them.
pub fn extent(outline: &Outline, along: Along, [low, high]: [f64; 2]) -> Option<[f64; 2]> {
    let other = match along {
        Along::X => Along::Y,
        Along::Y => Along::X,
    };
    let between = |place: &Point| (low..=high).contains(&across(along, *place));
    let farthest = outline.segments().flat_map(|piece| {
        let shares = turns(piece, other);
        shares.into_iter().map(move |share| piece.at(share))
    });
    let within = farthest.filter(between).map(|place| lengthwise(along, place));
    let borders = [low, high].into_iter().flat_map(|at| crossings(outline, along, at));
    within.chain(borders).map(|at| [at, at]).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::Vertex;

    fn outline(corners: &[(f64, f64, f64)]) -> Outline {
        Outline::new(corners.iter().map(|c| Vertex::new(c.0, c.1, c.2)).collect()).unwrap()
    }

    #[test]
    fn a_circle_is_crossed_where_pythagoras_says() {
        let circle = outline(&[(5.0, 0.0, 1.0), (-5.0, 0.0, 1.0)]);
        for along in [Along::X, Along::Y] {
            for at in [-4.9, -3.0, 0.0, 1.0, 4.0] {
                let found = crossings(&circle, along, at);
                let half = f64::sqrt(25.0 - at * at);
                assert!(
                    found.len() == 2 && (found[0] + half).abs() < 1e-9 && (found[1] - half).abs() < 1e-9,
                    "{at}: {found:?}"
                );
            }
            assert!(crossings(&circle, along, 5.5).is_empty());
        }
    }

    /// Corners on the joint count once where the edge goes through, not at all or twice where it turns back.
    #[test]
    fn corners_on_the_joint_keep_the_number_even() {
        let diamond = outline(&[(2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (-2.0, 0.0, 0.0), (0.0, -2.0, 0.0)]);
        assert_eq!(crossings(&diamond, Along::X, 0.0), [-2.0, 2.0]);
        assert_eq!(crossings(&diamond, Along::X, 2.0).len() % 2, 0);
        assert_eq!(crossings(&diamond, Along::X, -2.0).len() % 2, 0);
        let square = outline(&[(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 1.0, 0.0)]);
        assert_eq!(crossings(&square, Along::X, 0.0).len() % 2, 0);
        assert_eq!(crossings(&square, Along::Y, 1.0).len() % 2, 0);
    }

    #[test]
    fn an_outline_reaches_as_far_as_its_part_between_two_places() {
        let circle = outline(&[(5.0, 0.0, 1.0), (-5.0, 0.0, 1.0)]);
        let near = |found: Option<[f64; 2]>, want: f64| {
            let [from, to] = found.unwrap();
            assert!((from + want).abs() < 1e-9 && (to - want).abs() < 1e-9, "{from} {to} {want}");
        };
        near(extent(&circle, Along::X, [-1.0, 1.0]), 5.0);
        near(extent(&circle, Along::X, [3.0, 9.0]), 4.0);
        near(extent(&circle, Along::Y, [-9.0, -4.0]), 3.0);
        assert!(extent(&circle, Along::X, [5.5, 9.0]).is_none());
    }

    /// Lengths of the circle's own chord, turned so that its arcs begin anywhere, off the origin.
    #[test]
    fn arcs_that_begin_anywhere_are_crossed_as_well() {
        for turn in [0.3, 0.8, 1.9, 3.5, 5.1] {
            let rim = |by: f64| (7.0 + 5.0 * f64::cos(turn + by), -2.0 + 5.0 * f64::sin(turn + by));
            let half = std::f64::consts::PI;
            let circle = outline(&[(rim(0.0).0, rim(0.0).1, 1.0), (rim(half).0, rim(half).1, 1.0)]);
            for (along, at, middle) in [(Along::X, 2.0, 7.0), (Along::Y, 4.0, -2.0)] {
                let half = if along == Along::X { 3.0 } else { 4.0 };
                let place = if along == Along::X { Point::new(1.0, at) } else { Point::new(at, 1.0) };
                let over = over(&circle, along, place).unwrap();
                assert!(over.at == at && over.along == along);
                assert!((over.run[0] - middle + half).abs() < 1e-9, "{turn}: {over:?}");
                assert!((over.run[1] - middle - half).abs() < 1e-9, "{turn}: {over:?}");
            }
            let [from, to] = extent(&circle, Along::Y, [3.0, 9.0]).unwrap();
            assert!((from + 7.0).abs() < 1e-9 && (to - 3.0).abs() < 1e-9, "{from} {to}");
        }
        // A U is met four times above its floor.
        let u = [(-2., -1.), (2., -1.), (2., 2.), (1., 2.), (1., 0.), (-1., 0.), (-1., 2.), (-2., 2.)];
        let u = outline(&u.map(|(x, y)| (x, y, 0.0)));
        assert!(over(&u, Along::X, Point::new(1.5, 1.0)).is_none());
        assert_eq!(over(&u, Along::X, Point::new(1.5, -0.5)).unwrap().run, [-2.0, 2.0]);
    }

    /// Along and across, and metal to a bore below.
    #[test]
    fn a_place_seen_from_the_joint() {
        let split = |along| Split { along, at: 2.0, runs: Vec::new() };
        assert_eq!(split(Along::X).both(Point::new(5.0, -3.0)), (5.0, -3.0));
        assert_eq!(split(Along::Y).both(Point::new(5.0, -3.0)), (-3.0, 5.0));
        let below = Below { grown: 0.5, bore: Some((Point::new(5.0, -3.0), 1.0)) };
        let wall = |along, at_face| below.wall(&split(along), at_face);
        assert_eq!((wall(Along::X, 3.0), wall(Along::X, 10.0)), (2.5, 4.0));
        assert_eq!((wall(Along::Y, 1.5), wall(Along::Y, 10.0)), (1.0, 2.0));
    }
}
