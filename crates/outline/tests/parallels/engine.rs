//! The outline room against clipper2, a polygon engine on a grid that shares nothing with it: areas, circles, reach.

use clipper2_rust::{EndType, JoinType, Paths64, Point64, area_paths, inflate_paths_64};
use outline::{Outline, largest_circle, reach};

use crate::profiles::{Dice, area, cases, perimeter, profile};

/// Steps of the engine's grid in a millimetre.
const GRID: f64 = 1e7;
/// Sagitta of chords, mm.
const SAGITTA: f64 = 1e-5;

/// Chords of the outline on the engine's grid.
fn flat(outline: &Outline, sagitta: f64) -> Paths64 {
    let mut path = Vec::new();
    for s in outline.segments() {
        let steps = match s.is_line() {
            true => 1,
            false => (s.sweep().abs() / (8.0 * sagitta / s.radius()).sqrt()).ceil().max(1.0) as usize,
        };
        for step in 0..steps {
            let place = s.at(step as f64 / steps as f64);
            path.push(Point64::new((place.x * GRID).round() as i64, (place.y * GRID).round() as i64));
        }
    }
    vec![path]
}

/// Shrinks by a positive distance, grows by a negative one.
fn shrunk(paths: &Paths64, distance: f64, sagitta: f64) -> Paths64 {
    inflate_paths_64(paths, -distance * GRID, JoinType::Round, EndType::Polygon, 2.0, sagitta * GRID)
}

/// Area of the parallel by the engine, mm2.
pub fn engine_area(outline: &Outline, distance: f64, sagitta: f64) -> f64 {
    area_paths(&shrunk(&flat(outline, sagitta), distance, sagitta)) / (GRID * GRID)
}

fn outline_number(index: u64) -> Outline {
    profile(index, if index.is_multiple_of(2) { 1e-4 } else { 1e-6 })
}

#[test]
fn areas() {
    for index in 0..cases("ENGINE_CASES", 60) {
        let o = outline_number(index);
        let theirs = area_paths(&flat(&o, SAGITTA)) / (GRID * GRID);
        assert!((area(&o) - theirs).abs() < SAGITTA * perimeter(&o), "{index}: {} {theirs}", area(&o));
    }
}

/// Shrunk by a little less than the largest circle's radius something is left, by a little more nothing. So near
/// to a collapse the engine is slow: a third of the outlines.
#[test]
fn largest_circles() {
    for index in 0..cases("ENGINE_CASES", 60) / 3 {
        let o = outline_number(index);
        let radius = largest_circle(&o, &[]).expect("a circle").radius;
        let left = |distance: f64| !shrunk(&flat(&o, SAGITTA), distance, SAGITTA).is_empty();
        assert!(left(radius - 3.0 * SAGITTA), "{index}: the engine knows no circle as large as {radius}");
        assert!(!left(radius + 3.0 * SAGITTA), "{index}: the engine knows one larger than {radius}");
    }
}

/// Shrunk by a radius and grown by it again, an outline is what a round wire of that radius reaches.
#[test]
fn what_a_wire_reaches() {
    let mut looked = 0;
    for index in 0..cases("ENGINE_CASES", 60) {
        let o = outline_number(index);
        let radius = Dice(index).between(0.05, 0.95) * largest_circle(&o, &[]).expect("a circle").radius;
        let ours = reach(&o, radius).expect("what is reached");
        // Edges of two paths may overlap: their areas do not add up.
        if ours.edges.len() != 1 {
            continue;
        }
        looked += 1;
        let inner = shrunk(&flat(&o, SAGITTA), radius, SAGITTA);
        let theirs = area_paths(&shrunk(&inner, -radius, SAGITTA)) / (GRID * GRID);
        let bound = 4.0 * SAGITTA * (perimeter(&o) + 7.0 * radius);
        assert!((area(&ours.edges[0]) - theirs).abs() < bound, "{index} with {radius}: {theirs}");
    }
    assert!(looked > 30, "{looked}");
}
