//! The metal that a tilted wire frees: wider below than above, so that it drops out downward by itself.
//!
//! Stages: the pieces are looked at in sections through the whole height; each piece below carries what stands on it; its
//! mass is that of its mean section.

use crate::candidate::Setting;
use crate::cores::{Entrance, Fate, FreedCore, joint, round, slot};
use crate::figure::Figure;
use crate::lead_in::{LeadIn, past};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::wire as rules;
use crate::tilted::Tilted;
use outline::{Leftover, Outline, ParallelError, Point, Segment, leftover, parallel};
use rayon::prelude::*;

/// Parts that the height is divided in, an even number: areas between are taken as parabolas.
const PARTS: usize = 16;

/// Chords of an arc that the wire crosses over on: what they stand off is nothing to a core's mass.
const ARC_CHORDS: usize = 16;

/// A piece at the bottom, with its area at every section from the face down.
#[derive(Debug, Clone)]
pub struct Body {
    /// The piece at the bottom.
    pub bottom: Leftover,
    /// What stands on it, mm2.
    areas: Vec<f64>,
}

impl Body {
    /// Its mean section, by Simpson's rule.
    fn mean_area(&self) -> f64 {
        let weight = |i: usize| match i {
            0 | PARTS => 1.0,
            i if i % 2 == 1 => 4.0,
            _ => 2.0,
        };
        let sum: f64 = self.areas.iter().enumerate().map(|(i, area)| weight(i) * area).sum();
        sum / (3.0 * PARTS as f64)
    }
}

/// The bodies that are freed. `returns`: the wire goes back to the hole after it came round.
pub fn bodies(
    tilted: &Tilted,
    entrance: Entrance,
    lead_in: &LeadIn,
    returns: bool,
) -> Result<Vec<Body>, String> {
    let height = tilted.relief.height.value;
    let section = |i: usize| pieces(tilted, entrance, lead_in, (height * i as f64 / PARTS as f64, returns));
    let sections: Result<Vec<Vec<Leftover>>, String> = (0..=PARTS).into_par_iter().map(section).collect();
    let sections = sections?;
    let bottom = sections.last().cloned().unwrap_or_default().into_iter();
    let mut bodies: Vec<Body> = bottom.map(|bottom| Body { areas: vec![0.0; PARTS + 1], bottom }).collect();
    for (i, pieces) in sections.into_iter().enumerate() {
        for piece in pieces {
            let far = |place: &&Point| place.distance(entrance.hole);
            let tip = piece.outline.iter().max_by(|a, b| far(a).total_cmp(&far(b)));
            let off = |body: &&mut Body| tip.map_or(0.0, |tip| distance(&body.bottom.outline, *tip));
            if let Some(body) = bodies.iter_mut().min_by(|a, b| off(a).total_cmp(&off(b))) {
                body.areas[i] += piece.area;
            }
        }
    }
    Ok(bodies)
}

/// The pieces at one depth.
fn pieces(
    tilted: &Tilted,
    entrance: Entrance,
    lead_in: &LeadIn,
    (depth, returns): (f64, bool),
) -> Result<Vec<Leftover>, String> {
    let Some(edge) = tilted.edges.first() else { return Ok(Vec::new()) };
    let told = |error: ParallelError| error.to_string();
    let inner = match tilted.offset_at(depth) + tilted.clears() {
        0.0 => vec![edge.clone()],
        by => parallel(edge, by).map_err(told)?,
    };
    let pieces: Vec<Segment> = edge.segments().collect();
    let beside = |length: f64| {
        let (meets, inward) = past(&pieces, lead_in.segment, lead_in.share, length);
        meets + inward * tilted.offset_at(depth)
    };
    let n = lead_in.way.len();
    let mut way = lead_in.way.clone();
    way[n - 1] = beside(0.0);
    let mut legs: Vec<(Point, Point)> = way.windows(2).map(|leg| (leg[0], leg[1])).collect();
    if returns {
        legs.push((beside(lead_in.overlap), lead_in.way[n - 2]));
    }
    legs.extend(overshoot(tilted, depth));
    let slots = legs.into_iter().filter_map(|(from, to)| slot(from, to, tilted.clears()));
    let hole = round(entrance.hole, entrance.exit / 2.0);
    let removed: Vec<Outline> = std::iter::once(hole)
        .chain(slots)
        .chain(entrance.joint.and_then(joint))
        .filter_map(|vertices| Outline::new(vertices).ok())
        .collect();
    leftover(&inner, &removed).map_err(|error| error.to_string())
}

/// Where the wire's ends cross over: below a corner that it goes around, its centre runs past the corner on one side, back
/// across, and on along the other, and cuts into what stands inside.
fn overshoot(tilted: &Tilted, depth: f64) -> Vec<(Point, Point)> {
    let aside = tilted.relief.aside(depth);
    let pieces: Vec<Segment> = tilted.centres.iter().flat_map(|centre| centre.segments()).collect();
    let n = pieces.len();
    let crosses = |piece: &Segment| piece.bulge < 0.0 && piece.radius() < aside;
    let mut around: Vec<usize> =
        (0..n).filter(|i| crosses(&pieces[*i])).flat_map(|i| [(i + n - 1) % n, i, (i + 1) % n]).collect();
    around.sort_unstable();
    around.dedup();
    let way = |i: usize| {
        let piece = pieces[i];
        let chords = if piece.is_line() { 1 } else { ARC_CHORDS };
        let at = move |k: usize| {
            let t = k as f64 / chords as f64;
            piece.at(t) - piece.direction(t).left() * aside
        };
        (0..chords).map(move |k| (at(k), at(k + 1)))
    };
    around.into_iter().flat_map(way).collect()
}

/// Writes the bodies down with their masses. None is held: each drops as soon as it is free.
pub fn freed(
    reckoning: &mut Reckoning,
    setting: Setting,
    bodies: Vec<Body>,
    density: Figure,
) -> Vec<FreedCore> {
    let core = |(i, body): (usize, Body)| {
        let key = format!("{}cores.{i}.", setting.head);
        let area = reckoning.measured(
            At(&key, "area_mm2"),
            what("area of this core at the bottom, where it is widest", "A", "mm2"),
            body.bottom.area,
            "what the tilted wire goes round at the bottom, less hole and lead-in, arcs as chords",
            &[],
        );
        let mean = reckoning.measured(
            At(&key, "mean_area_mm2"),
            what("mean section of this core", "A_m", "mm2"),
            body.mean_area(),
            "17 sections from face to bottom by Simpson's rule",
            &[],
        );
        let mass = reckoning.rule(At(&key, "mass_g"), &rules::CORE_MASS, [mean, setting.height, density]);
        let light = mass.value < setting.shop.cutting.core_stop_from_g.value;
        let fate = if light { Fate::Flushed } else { Fate::Falls };
        FreedCore { area, mass, fate, piece: body.bottom }
    };
    bodies.into_iter().enumerate().map(core).collect()
}

/// Whether a body is light enough for the flushing.
pub fn is_light(setting: Setting, body: &Body, density: Figure) -> bool {
    let mass = (rules::CORE_MASS.of)([body.mean_area(), setting.height.value, density.value]);
    mass < setting.shop.cutting.core_stop_from_g.value
}

/// Distance from a place to a polygon's metal, mm.
fn distance(polygon: &[Point], place: Point) -> f64 {
    let n = polygon.len();
    let side = |i: usize| Segment::line(polygon[i], polygon[(i + 1) % n]);
    let crosses = |i: usize| {
        let (a, b) = (polygon[i], polygon[(i + 1) % n]);
        (a.y > place.y) != (b.y > place.y) && place.x < a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x)
    };
    match (0..n).filter(|&i| crosses(i)).count() % 2 {
        1 => 0.0,
        _ => (0..n).map(|i| side(i).distance(place)).fold(f64::INFINITY, f64::min),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A frustum by its closed form: Simpson's rule is exact for it.
    #[test]
    fn the_mean_section_of_a_cone_is_a_third_of_its_base() {
        let at = |i: usize| (i as f64 / PARTS as f64).powi(2) * 6.0;
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| Point::new(x, y)).to_vec();
        let bottom = Leftover {
            area: 6.0,
            outline: square.clone(),
            holes: Vec::new(),
            width: 1.0,
            centroid: Point::new(0.5, 0.5),
        };
        let body = Body { bottom, areas: (0..=PARTS).map(at).collect() };
        assert!((body.mean_area() - 2.0).abs() < 1e-12);
        assert_eq!(distance(&square, Point::new(0.5, 0.5)), 0.0);
        assert!((distance(&square, Point::new(1.5, 0.5)) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_place_is_in_a_polygon_or_as_far_off_as_its_nearest_side() {
        let triangle = [(1.0, 1.0), (4.0, 2.0), (2.0, 5.0)].map(|(x, y)| Point::new(x, y));
        assert_eq!(distance(&triangle, Point::new(2.3, 2.5)), 0.0);
        assert_eq!(distance(&triangle, Point::new(3.2, 2.9)), 0.0);
        // Square to the side from (1, 1) to (4, 2), and beyond its ends.
        let off = |x: f64, y: f64, by: f64| (distance(&triangle, Point::new(x, y)) - by).abs() < 1e-12;
        assert!(off(2.5 + 0.1, 1.5 - 0.3, 0.1f64.hypot(0.3)));
        assert!(off(1.0, 2.0, 1.0 / 17f64.sqrt()));
        assert!(off(1.0, 0.0, 1.0) && off(4.4, 1.7, 0.5) && off(2.0, 6.0, 1.0));
    }

    fn figure(value: f64) -> Figure {
        let meaning = what("a length", "l", "mm");
        Reckoning::silent().measured(At("", "l_mm"), meaning, value, "given", &[])
    }

    /// A wire tilted by a tangent of 0.1 below a land of 2 that goes round the reflex corner of an L with a radius of 0.5.
    fn around_an_ell() -> Tilted {
        let guide = figure(0.0);
        let guides = crate::relief::Guides { upper: guide, lower: guide, aside: guide, travel: guide };
        let relief = crate::relief::Relief {
            land: figure(2.0),
            height: figure(20.0),
            tangent: figure(0.1),
            secant: figure(1.005),
            stock: figure(0.0),
            guides,
        };
        let quarter = (std::f64::consts::FRAC_PI_8).tan();
        let centre = [
            (0.0, 0.0, 0.0),
            (8.0, 0.0, 0.0),
            (8.0, 3.0, 0.0),
            (4.5, 3.0, -quarter),
            (4.0, 3.5, 0.0),
            (4.0, 8.0, 0.0),
            (0.0, 8.0, 0.0),
        ];
        let centre = Outline::new(centre.map(|(x, y, b)| outline::Vertex::new(x, y, b)).to_vec()).unwrap();
        Tilted { relief, offset: figure(0.5), at_face: figure(0.7), edges: Vec::new(), centres: vec![centre] }
    }

    /// From where the wire lies farther aside than its turn is wide, it runs past the corner on one side, back across, and on
    /// along the other: the three pieces at the corner, each so far aside, and no other.
    #[test]
    fn the_wire_s_ends_cross_over_below_a_corner_that_it_turns_about() {
        let tilted = around_an_ell();
        assert!(overshoot(&tilted, 7.0 - 1e-9).is_empty());
        let legs = overshoot(&tilted, 12.0);
        assert_eq!(legs.len(), ARC_CHORDS + 2);
        let close =
            |at: Point, x: f64, y: f64| assert!(at.distance(Point::new(x, y)) < 1e-12, "{at:?} {x} {y}");
        // The metal lies up and right of the corner, 1.0 aside of a way that runs left, then up.
        let (first, last) = (legs[0], legs[legs.len() - 1]);
        close(first.0, 8.0, 4.0);
        close(first.1, 4.5, 4.0);
        close(legs[1].0, 4.5, 4.0);
        close(legs[ARC_CHORDS].1, 5.0, 3.5);
        close(last.0, 5.0, 3.5);
        close(last.1, 5.0, 8.0);
    }
}
