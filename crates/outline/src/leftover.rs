//! What is left of regions when shapes are taken away from them: the pieces of metal that a wire frees.
//!
//! 1. Arcs are flattened to a stated sagitta.
//! 2. A polygon engine takes the union of the removed shapes from the union of the regions.
//! 3. What is thinner or smaller than the flattening can tell from nothing is dust and dropped.

use std::fmt;

use clipper2_rust::{
    ClipType, FillRule, Path64, Paths64, Point64, PolyFace64, PolyTree64, boolean_op_tree_64,
    poly_tree_to_faces64,
};

use crate::{Outline, Point, Segment, Vector};

/// How far a flattened arc may lie from the arc, mm.
pub const LEFTOVER_SAGITTA: f64 = 1e-6;

/// Pieces smaller than this are dust, mm2: less than flattening leaves along 10 mm of a shared edge.
pub const DUST_AREA: f64 = 1e-5;

/// Pieces narrower than this are what two flattenings of one edge leave between them, mm.
const DUST_WIDTH: f64 = 4.0 * LEFTOVER_SAGITTA;

/// Steps of the engine's whole-number grid in a millimetre.
const GRID: f64 = 1e7;

/// Farthest coordinate that the grid takes, mm.
const FARTHEST: f64 = 1e5;

/// A piece that is left, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Leftover {
    /// Area without its holes, mm2.
    pub area: f64,
    /// Its outer edge, counter-clockwise.
    pub outline: Vec<Point>,
    /// The edges of its holes, clockwise.
    pub holes: Vec<Vec<Point>>,
    /// How wide it is on the average: twice its area by the length of all its edges.
    pub width: f64,
    /// Its centroid; of a ring this lies in the hole.
    pub centroid: Point,
}

/// A place that lies too far out to reckon with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooFar {
    /// The place.
    pub place: Point,
}

impl fmt::Display for TooFar {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Point { x, y } = self.place;
        write!(
            f,
            "an outline reaches x {x} y {y}; pieces are reckoned up to {FARTHEST} mm from the origin, so move it there"
        )
    }
}

impl std::error::Error for TooFar {}

/// The pieces left of `loops` when `removed` is taken away, by their least x, then y. Areas are right to about 1e-6 mm
/// times the length of the arcs. Pieces below 1e-5 mm2 ([`DUST_AREA`]) or 4e-6 mm in width are dropped.
///
/// # Errors
/// A place more than 100 m out.
pub fn leftover(loops: &[Outline], removed: &[Outline]) -> Result<Vec<Leftover>, TooFar> {
    let (subjects, clips) = (flattened(loops)?, flattened(removed)?);
    let mut tree = PolyTree64::new();
    boolean_op_tree_64(ClipType::Difference, FillRule::NonZero, &subjects, &clips, &mut tree);
    let mut pieces: Vec<Leftover> = poly_tree_to_faces64(&tree).iter().map(piece).collect();
    pieces.retain(|piece| piece.area >= DUST_AREA && piece.width >= DUST_WIDTH);
    pieces.sort_by(|a, b| {
        let (a, b) = (least(&a.outline), least(&b.outline));
        a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y))
    });
    Ok(pieces)
}

fn flattened(outlines: &[Outline]) -> Result<Paths64, TooFar> {
    outlines.iter().map(flat_path).collect()
}

fn flat_path(outline: &Outline) -> Result<Path64, TooFar> {
    let mut path = Path64::new();
    for segment in outline.segments() {
        let steps = steps(&segment);
        for step in 0..steps {
            let place = if step == 0 { segment.from } else { segment.at(step as f64 / steps as f64) };
            if place.x.abs().max(place.y.abs()) > FARTHEST {
                return Err(TooFar { place });
            }
            path.push(Point64::new((place.x * GRID).round() as i64, (place.y * GRID).round() as i64));
        }
    }
    Ok(path)
}

/// Chords that keep an arc within the sagitta: s = r (1 - cos(step / 2)), about r step^2 / 8.
fn steps(segment: &Segment) -> usize {
    if segment.is_line() {
        return 1;
    }
    let step = (8.0 * LEFTOVER_SAGITTA / segment.radius()).sqrt();
    (segment.sweep().abs() / step).ceil().max(1.0) as usize
}

fn piece(face: &PolyFace64) -> Leftover {
    let outline = places(&face.outer);
    let holes: Vec<Vec<Point>> = face.holes.iter().map(places).collect();
    let origin = outline.first().copied().unwrap_or(Point::new(0.0, 0.0));
    let (mut area, mut moment, mut length) = (0.0, Vector::new(0.0, 0.0), 0.0);
    for ring in std::iter::once(&outline).chain(&holes) {
        for (i, &from) in ring.iter().enumerate() {
            let (a, b) = (from - origin, ring[(i + 1) % ring.len()] - origin);
            let cross = a.cross(b);
            area += 0.5 * cross;
            moment = moment + (a + b) * (cross / 6.0);
            length += (b - a).length();
        }
    }
    Leftover { area, width: 2.0 * area / length, centroid: origin + moment * (1.0 / area), outline, holes }
}

fn places(path: &Path64) -> Vec<Point> {
    path.iter().map(|at| Point::new(at.x as f64 / GRID, at.y as f64 / GRID)).collect()
}

fn least(places: &[Point]) -> Point {
    let first = Point::new(f64::INFINITY, f64::INFINITY);
    places.iter().fold(first, |a, b| if (b.x, b.y) < (a.x, a.y) { *b } else { a })
}
