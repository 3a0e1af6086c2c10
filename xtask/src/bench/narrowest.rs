//! The narrowest place over random outlines, median and worst, and in thousands of facets; beside the bare Voronoi diagram
//! of the same sides, from which a medial axis would still have to be picked.

use super::Row;
use super::circles::bent_slot;
use super::clock::{beside, median, middle, text};
use crate::dice::Dice;
use crate::flatten::flatten;
use crate::profile;
use boostvoronoi::prelude::{Builder, BvError};
use outline::{Outline, Point, Vector, Vertex, narrowest};
use std::f64::consts::TAU;

const OUTLINES: usize = 3000;
const FACETS: usize = 5000;
/// Sagitta of the flattening for the diagram, mm: coarser than anything here, as a flattened medial axis would be.
const SAGITTA: f64 = 1e-4;
/// Steps of its whole-number grid in a millimetre.
const GRID: f64 = 1e6;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let mut dice = Dice::new(1);
    let (mut times, mut theirs, mut refused, mut none) = (Vec::new(), Vec::new(), 0, 0);
    while times.len() < OUTLINES {
        let decimals = [None, Some(4), Some(6)][dice.below(3)];
        let Ok(outline) = Outline::new(profile::draw(&mut dice, decimals).vertices) else { continue };
        let mut found = Ok(None);
        times.push(median(1, 1, || found = narrowest(&outline, &[])));
        refused += usize::from(found.is_err());
        none += usize::from(found == Ok(None));
        let sides = sides(&outline);
        theirs.push(median(1, 1, || diagram(&sides)));
    }
    let worst = times.iter().copied().fold(0.0, f64::max);
    let (ours, theirs) = (middle(&mut times), middle(&mut theirs));
    let what = format!("narrowest place, {OUTLINES} outlines");
    let mut rows = vec![
        Row::new(format!("{what}, median"), text(ours), beside("boostvoronoi (flattened)", ours, theirs)),
        Row::new(format!("{what}, worst"), text(worst), format!("{none} have none; {refused} refused")),
    ];
    let shapes = [
        ("bent slot", bent_slot(FACETS)?),
        ("circle", turned(|_| 10.0)?),
        ("star", turned(|i| 5.0 + (i * i % 97) as f64 / 20.0)?),
    ];
    for (name, outline) in shapes {
        // An outline keeps its narrowest place: it is asked of one that nobody has asked yet.
        let ours = median(3, 1, || narrowest(&outline.starting_at(0), &[]));
        let sides = sides(&outline);
        let theirs = median(3, 1, || diagram(&sides));
        let what = format!("the same in a {name} of {FACETS} facets");
        rows.push(Row::new(what, text(ours), beside("boostvoronoi", ours, theirs)));
    }
    Ok(rows)
}

/// A wheel of facets with its corners at these radii.
fn turned(radius: impl Fn(usize) -> f64) -> Result<Outline, String> {
    let corner = |i: usize| {
        let at = Point::new(0.0, 0.0) + Vector::at_angle(TAU * i as f64 / FACETS as f64) * radius(i);
        Vertex::new(at.x, at.y, 0.0)
    };
    Outline::new((0..FACETS).map(corner).collect()).map_err(|defects| defects[0].message.clone())
}

/// The sides as whole numbers.
fn sides(outline: &Outline) -> Vec<[i64; 4]> {
    let points: Vec<[i64; 2]> =
        flatten(outline, SAGITTA).iter().map(|p| p.map(|x| (x * GRID).round() as i64)).collect();
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).filter(|(a, b)| a != b).map(|(a, b)| [a[0], a[1], b[0], b[1]]).collect()
}

/// How many vertices the diagram has; 0 where the library gives none.
fn diagram(sides: &[[i64; 4]]) -> usize {
    let built = || -> Result<usize, BvError> {
        Ok(Builder::<i64>::default().with_segments(sides.iter())?.build()?.vertices().len())
    };
    built().unwrap_or(0)
}
