//! The metal between openings, and from an opening to the sides of its block, at its thinnest.
//!
//! From every vertex and middle of both edges: the nearest place of the other edge, from there back, and so on until
//! nothing moves. That ends on a place where the web is thinner than beside it; the least of all is the web.

use crate::contour::Studied;
use crate::figure::Figure;
use crate::piece;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::web as rules;
use crate::section::{World, head};
use crate::sheet::thickness;
use job::{Section, WallRule};
use outline::{Bounds, Outline, Point};
use package as published;
use remark::Remark;

/// Going to and fro ends when a web shrinks by less than this, mm.
const SETTLED: f64 = 1e-9;
/// Going to and fro more often than this changes nothing that a person could measure.
const MOST_TIMES: usize = 100;

/// Corners of an opening sharper than this ask for a thicker wall, mm (common practice, no source).
const SHARP: f64 = 0.2;
/// Name of the rule for webs.
const WEB_RULE: &str = "sheet-thickness";
/// Name of the shop's own number for what stands around a piece that is cut out.
const FRAME_RULE: &str = "frame";

/// A web at its thinnest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Web {
    /// Its width, mm.
    pub width: f64,
    /// The middle of it.
    pub middle: Point,
}

/// For each edge, the thinnest web to another opening and the thinnest wall to a side of the block, written down.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    studied: &[Studied],
    strength: Option<&published::SectionStrength>,
) -> (Vec<published::Web>, Vec<Remark>) {
    let need_web = need_web(reckoning, world, section);
    let targets: Vec<&Outline> = studied.iter().map(|one| &one.opening.target).collect();
    let piece = outside(section, studied);
    let (mut webs, mut remarks) = (Vec::new(), Vec::new());
    for (i, edge) in section.edges.iter().enumerate() {
        let head = head(section, &edge.id);
        if studied[i].opening.is_outside() {
            continue;
        }
        let length = length(reckoning, &head, targets[i]);
        let (wall_rule, need_wall) = need_wall(reckoning, section, (&head, targets[i]), length);
        let size = [section.size[0].value, section.size[1].value];
        // Where the outside is cut as well, that is the block's side.
        let wall = match &piece {
            Some(piece) => between(targets[i], piece),
            None => wall(targets[i], size),
        };
        let mut found = vec![("side".to_owned(), wall, wall_rule, need_wall)];
        let openings = |k: usize| !studied[k].opening.is_outside();
        if let Some((other, web)) = thinnest(&targets, i, openings) {
            found.push((section.edges[other].id.clone(), web, WEB_RULE, need_web));
        }
        for (other, web, rule, need) in found {
            // One web lies between two openings: once is enough.
            if webs.iter().any(|known: &published::Web| known.between == [other.clone(), edge.id.clone()]) {
                continue;
            }
            let key = format!("{}.webs.{}.", section.id, webs.len());
            let width = reckoning.measured(
                At(&key, "width_mm"),
                what("metal at its thinnest", "w", "mm"),
                web.width,
                "nearest places of both edges, each from the other, to 1 nm",
                &[],
            );
            let need = same(reckoning, &key, need);
            let holds = width.value >= need;
            if !holds {
                remarks.push(thin(edge, &other, web, (rule, need), strength));
            }
            webs.push(published::Web {
                between: [edge.id.clone(), other],
                width_mm: width.value,
                need_mm: need,
                rule: rule.to_owned(),
                x_mm: web.middle.x,
                y_mm: web.middle.y,
                holds,
            });
        }
    }
    (webs, remarks)
}

/// How long an opening is.
pub fn length(reckoning: &mut Reckoning, head: &str, target: &Outline) -> Figure {
    let meaning = what("length of the opening", "l", "mm");
    let longer = target.bounds().width().max(target.bounds().height());
    reckoning.measured(At(head, "opening_length_mm"), meaning, longer, "longer side of its bounds", &[])
}

/// The outside of the piece, ground.
fn outside(section: &Section, studied: &[Studied]) -> Option<Outline> {
    let at = studied.iter().position(|one| one.opening.is_outside())?;
    piece::ground(&studied[at].opening.target, &section.edges[at].grind)
}

/// For each piece that is cut out, the metal that stands between its kerf and the block's sides or the next piece.
pub fn frames(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    studied: &[Studied],
    kerfs: &[Option<f64>],
    after: usize,
) -> (Vec<published::Web>, Vec<Remark>) {
    let targets: Vec<&Outline> = studied.iter().map(|one| &one.opening.target).collect();
    let pieces = |k: usize| studied[k].opening.is_outside();
    let (mut webs, mut remarks): (Vec<published::Web>, Vec<Remark>) = (Vec::new(), Vec::new());
    // Where no wire is chosen nobody knows what it takes; the refusal speaks of the frame.
    let cut = |i: &usize| pieces(*i) && kerfs[*i].is_some();
    for (i, edge) in section.edges.iter().enumerate().filter(|(i, _)| cut(i)) {
        let kerf = |k: usize| kerfs[k].unwrap_or(0.0);
        let mut found = vec![("side".to_owned(), wall(targets[i], section.block()), kerf(i))];
        if let Some((other, web)) = thinnest(&targets, i, pieces) {
            found.push((section.edges[other].id.clone(), web, kerf(i) + kerf(other)));
        }
        for (other, web, taken) in found {
            if webs.iter().any(|known| known.between == [other.clone(), edge.id.clone()]) {
                continue;
            }
            let key = format!("{}.webs.{}.", section.id, after + webs.len());
            let how = "nearest places of both edges, less what the main cuts take on their way";
            let meaning = what("metal at its thinnest", "w", "mm");
            let width = reckoning.measured(At(&key, "width_mm"), meaning, web.width - taken, how, &[]).value;
            let meaning =
                what("metal left between a piece and the sides of its block or the next piece", "w", "mm");
            let need = reckoning.known(At("shop:core.", "frame_mm"), meaning, &world.shop.core.frame);
            let need = same(reckoning, &key, need);
            if width < need {
                remarks.push(narrow_frame(edge, &other, Web { width, ..web }, need));
            }
            webs.push(published::Web {
                between: [edge.id.clone(), other],
                width_mm: width,
                need_mm: need,
                rule: FRAME_RULE.to_owned(),
                x_mm: web.middle.x,
                y_mm: web.middle.y,
                holds: width >= need,
            });
        }
    }
    (webs, remarks)
}

fn same(reckoning: &mut Reckoning, key: &str, need: Figure) -> f64 {
    let meaning = what("what common practice asks for", "w", "mm");
    reckoning.measured(At(key, "need_mm"), meaning, need.value, "the rule's number", &[("w", need)]).value
}

fn need_web(reckoning: &mut Reckoning, world: World, section: &Section) -> Figure {
    let t = match &world.job.sheet {
        Some(sheet) => thickness(reckoning, sheet),
        None => reckoning.chosen(
            At(&format!("{}.", section.id), "no_sheet_mm"),
            what("thickness of the sheet", "t", "mm"),
            0.0,
            "the job names no sheet",
            &[],
        ),
    };
    reckoning.rule(At(&format!("{}.", section.id), "web_mm"), &rules::WEB, [t])
}

/// The wall that the section's rule asks for, with the rule's name.
fn need_wall(
    reckoning: &mut Reckoning,
    section: &Section,
    (head, target): (&str, &Outline),
    length: Figure,
) -> (&'static str, Figure) {
    let at = At(head, "wall_mm");
    if section.wall_rule.as_ref().is_none_or(|rule| rule.value == WallRule::OpeningLength) {
        return ("opening-length", reckoning.rule(at, &rules::WALL, [length]));
    }
    let meaning = what("finished block, height", "h", "mm");
    let height = reckoning.known(At(&format!("{}.", section.id), "size_mm.2"), meaning, &section.size[2]);
    let sharp = target.tightest_corner(true).is_some_and(|corner| corner.radius < SHARP);
    let rule = if sharp { &rules::WALL_AT_SHARP } else { &rules::WALL_BY_HEIGHT };
    ("block-height", reckoning.rule(at, rule, [height]))
}

/// What reliefs leave of webs and walls at the back, where `widens` is how much each edge widens down to there: a remark where
/// that is less than its rule asks for, a fault where nothing is left.
pub fn at_the_back(
    section: &Section,
    webs: &[published::Web],
    widens: &[f64],
) -> Result<Vec<Remark>, Vec<Remark>> {
    let (mut thin, mut gone) = (Vec::new(), Vec::new());
    let of = |id: &str| section.edges.iter().position(|edge| edge.id == id);
    for web in webs {
        let edges: Vec<usize> = web.between.iter().filter_map(|id| of(id)).collect();
        let taken: f64 = edges.iter().map(|&i| widens[i]).sum();
        let (Some(&first), left) = (edges.first(), web.width_mm - taken) else { continue };
        if taken <= 0.0 || left >= web.need_mm {
            continue;
        }
        let [a, b] = &web.between;
        let place = section.edges[first].place.clone().at(web.x_mm, web.y_mm);
        let cure = "a smaller `relief_deg`, or a back bore instead";
        if left > 0.0 {
            let message = format!(
                "between `{a}` and `{b}` the relief leaves {left:.3} of metal at the back, the rule `{}` asks for {:.3}",
                web.rule, web.need_mm
            );
            thin.push(Remark::warning("thin-at-the-back", message).place(place).cure(cure));
        } else {
            let message = format!(
                "between `{a}` and `{b}` {:.3} of metal stands at the face, and the relief takes {taken:.3} down to the back",
                web.width_mm
            );
            gone.push(Remark::error("reliefs-meet", message).place(place).cure(cure));
        }
    }
    if gone.is_empty() { Ok(thin) } else { Err(gone) }
}

fn narrow_frame(edge: &job::Edge, other: &str, web: Web, need: f64) -> Remark {
    let between =
        if other == "side" { "the block's side".to_owned() } else { format!("the kerf of `{other}`") };
    let message = format!(
        "between the kerf around `{}` and {between} {:.3} of metal stands, the shop asks for {need:.3}",
        edge.id, web.width
    );
    Remark::warning("thin-frame", message)
        .place(edge.place.clone().at(web.middle.x, web.middle.y))
        .cure("another `at`, or a larger `cut_from`")
}

fn thin(
    edge: &job::Edge,
    other: &str,
    web: Web,
    (rule, need): (&str, f64),
    strength: Option<&published::SectionStrength>,
) -> Remark {
    let between = if other == "side" { "the block's side".to_owned() } else { format!("edge `{other}`") };
    let decides = match strength {
        Some(found) if found.holds => format!("strength decides, and it holds: {:.2} times", found.safety),
        Some(found) => format!("strength decides, and it does not hold: {:.2} times", found.safety),
        None => "its strength is not reckoned".to_owned(),
    };
    let message = format!(
        "between edge `{}` and {between} {:.3} of metal stands, the rule `{rule}` asks for {need:.3}; {decides}",
        edge.id, web.width
    );
    let code = if other == "side" { "thin-wall" } else { "thin-web" };
    Remark::warning(code, message)
        .place(edge.place.clone().at(web.middle.x, web.middle.y))
        .cure("another `at`, or a larger `size`")
}

/// The nearest other opening and the web to it.
fn thinnest(targets: &[&Outline], i: usize, counts: impl Fn(usize) -> bool) -> Option<(usize, Web)> {
    let mut others: Vec<(f64, usize)> = (0..targets.len())
        .filter(|&k| k != i && counts(k))
        .map(|k| (gap(&targets[i].bounds(), &targets[k].bounds()), k))
        .collect();
    others.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut least: Option<(usize, Web)> = None;
    for (gap, k) in others {
        if least.is_some_and(|(_, web)| web.width <= gap) {
            break;
        }
        let web = between(targets[i], targets[k]);
        if least.is_none_or(|(_, known)| web.width < known.width) {
            least = Some((k, web));
        }
    }
    least
}

/// Distance of two boxes; no two places in them are nearer.
fn gap(a: &Bounds, b: &Bounds) -> f64 {
    let apart = |a0: f64, a1: f64, b0: f64, b1: f64| (b0 - a1).max(a0 - b1).max(0.0);
    apart(a.min.x, a.max.x, b.min.x, b.max.x).hypot(apart(a.min.y, a.max.y, b.min.y, b.max.y))
}

/// The web between two edges.
pub fn between(a: &Outline, b: &Outline) -> Web {
    let starts = |outline: &Outline| -> Vec<Point> {
        outline.segments().flat_map(|piece| [piece.from, piece.at(0.5)]).collect()
    };
    let from_b = starts(b).into_iter().map(|place| a.nearest(place).point);
    let all = starts(a).into_iter().chain(from_b).map(|place| settled(a, b, place));
    all.min_by(|x, y| x.width.total_cmp(&y.width))
        .unwrap_or(Web { width: f64::INFINITY, middle: Point::new(0.0, 0.0) })
}

fn settled(a: &Outline, b: &Outline, place: Point) -> Web {
    let (mut on_a, mut on_b) = (place, b.nearest(place).point);
    for _ in 0..MOST_TIMES {
        let width = on_a.distance(on_b);
        on_a = a.nearest(on_b).point;
        on_b = b.nearest(on_a).point;
        if on_a.distance(on_b) >= width - SETTLED {
            break;
        }
    }
    Web { width: on_a.distance(on_b), middle: on_a.towards(on_b, 0.5) }
}

/// The thinnest wall to a side of the block, whose middle is the origin.
pub fn wall(target: &Outline, size: [f64; 2]) -> Web {
    let bounds = target.bounds();
    let (x, y) = (size[0] / 2.0, size[1] / 2.0);
    let middle = bounds.middle();
    let walls = [
        (x + bounds.min.x, Point::new(0.5 * (bounds.min.x - x), middle.y)),
        (x - bounds.max.x, Point::new(0.5 * (bounds.max.x + x), middle.y)),
        (y + bounds.min.y, Point::new(middle.x, 0.5 * (bounds.min.y - y))),
        (y - bounds.max.y, Point::new(middle.x, 0.5 * (bounds.max.y + y))),
    ];
    let least = walls.into_iter().fold(walls[0], |least, wall| if wall.0 < least.0 { wall } else { least });
    Web { width: least.0, middle: least.1 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::{Vector, Vertex};

    fn circle(x: f64, y: f64, r: f64) -> Outline {
        Outline::new(vec![Vertex::new(x + r, y, 1.0), Vertex::new(x - r, y, 1.0)]).unwrap()
    }

    fn square(x: f64, y: f64, half: f64) -> Outline {
        let corners = [(-half, -half), (half, -half), (half, half), (-half, half)];
        Outline::new(corners.iter().map(|c| Vertex::new(x + c.0, y + c.1, 0.0)).collect()).unwrap()
    }

    #[test]
    fn circles_and_corners_by_closed_forms() {
        let close = |web: Web, width: f64| assert!((web.width - width).abs() < 1e-8, "{web:?} {width}");
        close(between(&circle(0.0, 0.0, 1.0), &circle(3.0, 4.0, 1.5)), 2.5);
        close(between(&circle(0.0, 0.0, 1.0), &square(3.0, 3.0, 1.0)), 8f64.sqrt() - 1.0);
        close(between(&square(0.0, 0.0, 1.0), &square(2.5, 0.3, 1.0)), 0.5);
        close(wall(&circle(3.0, 0.0, 1.0), [10.0, 12.0]), 1.0);
    }

    #[test]
    fn a_web_is_the_same_from_both_sides_and_wherever_it_lies() {
        let (a, b) = (square(0.0, 0.0, 1.0), circle(2.5, 1.9, 0.7));
        let there = between(&a, &b).width;
        assert!((there - between(&b, &a).width).abs() < 1e-8);
        let by = Vector::new(-7.0, 3.0);
        assert!((there - between(&a.moved(by), &b.moved(by)).width).abs() < 1e-8);
        let about = Point::new(0.3, 0.1);
        assert!((there - between(&a.turned(about, 0.7), &b.turned(about, 0.7)).width).abs() < 1e-8);
        assert!((there - between(&a.mirrored_x(), &b.mirrored_x()).width).abs() < 1e-8);
    }

    /// The middle of a web lies half-way, that of a wall beside the opening's middle; each side of the block is looked at.
    #[test]
    fn webs_and_walls_have_their_middles() {
        let web = between(&circle(0.0, 0.0, 1.0), &circle(3.0, 4.0, 1.5));
        // 2.5 apart, from 1 to 3.5 along (0.6, 0.8); where a width is at its least its place is known to the root of it.
        assert!(web.middle.distance(Point::new(0.6 * 2.25, 0.8 * 2.25)) < 1e-5, "{web:?}");
        for (x, y, middle) in [
            (-3.0, 0.5, Point::new(-4.5, 0.5)),
            (3.0, 0.5, Point::new(4.5, 0.5)),
            (0.5, -4.0, Point::new(0.5, -5.5)),
            (0.5, 4.0, Point::new(0.5, 5.5)),
        ] {
            let wall = wall(&circle(x, y, 1.0), [10.0, 12.0]);
            assert!((wall.width - 1.0).abs() < 1e-9 && wall.middle.distance(middle) < 1e-9, "{wall:?}");
        }
    }

    /// A long opening across the corner has the nearer box and the farther metal: the nearest metal counts, whichever comes first.
    #[test]
    fn the_thinnest_web_is_found_behind_a_nearer_box() {
        let here = circle(0.0, 0.0, 1.0);
        let slanted = [(1.2, 4.0), (4.0, 1.2), (4.2, 1.4), (1.4, 4.2)];
        let slanted = Outline::new(slanted.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap();
        let beside = circle(-3.0, 0.0, 1.0);
        let boxes = |other: &Outline| gap(&here.bounds(), &other.bounds());
        assert!((boxes(&slanted) - 0.2f64.hypot(0.2)).abs() < 1e-12 && (boxes(&beside) - 1.0).abs() < 1e-12);
        assert!((gap(&beside.bounds(), &here.bounds()) - 1.0).abs() < 1e-12);
        assert_eq!(gap(&here.bounds(), &circle(0.5, 0.0, 1.0).bounds()), 0.0);
        for (targets, at) in [([&here, &slanted, &beside], 2), ([&here, &beside, &slanted], 1)] {
            let (found, web) = thinnest(&targets, 0, |_| true).unwrap();
            assert!(found == at && (web.width - 1.0).abs() < 1e-8, "{found} {web:?}");
            let (found, web) = thinnest(&targets, 0, |k| k != at).unwrap();
            assert!(
                found == 3 - at && (web.width - (5.2 / 2f64.sqrt() - 1.0)).abs() < 1e-8,
                "{found} {web:?}"
            );
        }
        assert!(thinnest(&[&here], 0, |_| true).is_none());
    }
}
