//! `cargo xtask strength FILE SEED COUNT`: random sections with pressure in their openings and the peak stress that the strength room finds,
//! as JSON lines, for `checks/strength` to work out again with an integral equation and with other finite elements.

use crate::dice::Dice;
use outline::{Outline, Point, Vector, Vertex};
use serde_json::{Value, json};
use std::f64::consts::TAU;
use std::fs::File;
use std::io::{BufWriter, Write};
use strength::{Aim, Edge, Load, Material, Region, Stresses, Support, stresses};

/// The block, mm.
const SIZE: (f64, f64) = (24.0, 16.0);

const PRESSURE_MPA: f64 = 100.0;
const E_MPA: f64 = 210_000.0;
const NU: f64 = 0.3;

/// The aims asked for: what a plan asks for, and a fine one.
const SETTLES: [f64; 2] = [0.02, 0.003];

/// Writes the sections.
pub fn run(path: &str, seed: u64, count: usize) -> Result<(), String> {
    let fail = |e: std::io::Error| format!("{path}: {e}");
    let mut dice = Dice::new(seed);
    let mut file = BufWriter::new(File::create(path).map_err(fail)?);
    for i in 0..count {
        let section = section(&mut dice, i % 2 == 1)?;
        writeln!(file, "{section}").map_err(fail)?;
    }
    file.flush().map_err(fail)
}

/// One section; `held`: against a rigid wall along its left side.
fn section(dice: &mut Dice, held: bool) -> Result<Value, String> {
    let block = block()?;
    let (region, opening) = loop {
        let corners = 3 + dice.below(3);
        let Some(opening) = star(dice, corners, 0.5, 4.0) else { continue };
        let opening = opening.moved(Vector::new(dice.between(-8.0, 8.0), dice.between(-5.0, 5.0)));
        // An opening that does not lie within the block is drawn again.
        if let Ok(region) = Region::new(block.clone(), vec![opening.clone()]) {
            break (region, opening);
        }
    };
    let found: Vec<Value> =
        SETTLES.iter().map(|settle| answer(&region, held, *settle)).collect::<Result<_, _>>()?;
    Ok(json!({
        "outer": vertices(&block),
        "opening": vertices(&opening),
        "wall_on_the_left": held,
        "pressure_mpa": PRESSURE_MPA,
        "nu": NU,
        "found": found,
    }))
}

fn answer(region: &Region, held: bool, settle: f64) -> Result<Value, String> {
    let walls: &[Support] = if held { &[Support::rigid(3)] } else { &[] };
    let Stresses { tension, equivalent, error_share, elements, .. } =
        peaks(region, walls, &Aim { settle, most_elements: 60_000 })?;
    Ok(json!({
        "settle": settle,
        "tension_mpa": tension.mpa,
        "equivalent_mpa": equivalent.mpa,
        "error_share": error_share,
        "elements": elements,
    }))
}

/// The peaks of a section with the same pressure in each opening.
pub fn peaks(region: &Region, walls: &[Support], aim: &Aim) -> Result<Stresses, String> {
    let material = Material::new(E_MPA, NU).map_err(|e| e.to_string())?;
    let pressed = |i| Load::around(Edge::Opening(i), PRESSURE_MPA);
    let loads: Vec<Load> = (0..region.openings().len()).map(pressed).collect();
    stresses(region, &loads, walls, &material, aim).map_err(|e| e.to_string())
}

/// The block of every section.
pub fn block() -> Result<Outline, String> {
    let (x, y) = (SIZE.0 / 2.0, SIZE.1 / 2.0);
    let corners = [(-x, -y), (x, -y), (x, y), (-x, y)].map(|(x, y)| Vertex::new(x, y, 0.0));
    Outline::new(corners.to_vec()).map_err(|defects| format!("the block is invalid: {defects:?}"))
}

/// An opening of so many corners at random distances from its middle, each rounded as by a wire; none if it crosses itself.
pub fn star(dice: &mut Dice, corners: usize, least: f64, most: f64) -> Option<Outline> {
    let size = dice.magnitude(least, most);
    let step = TAU / corners as f64;
    let corner = |i: usize| {
        let at = Vector::at_angle(step * (i as f64 + dice.between(0.15, 0.85)));
        Point::new(0.0, 0.0) + at * (size * dice.between(0.45, 1.0))
    };
    let points: Vec<Point> = (0..corners).map(corner).collect();
    Outline::new(rounded(&points, dice.between(0.06, 0.25))?).ok()
}

/// A polygon with every corner rounded by one radius, smaller where a side is too short for it.
fn rounded(points: &[Point], radius: f64) -> Option<Vec<Vertex>> {
    let n = points.len();
    let mut vertices = Vec::with_capacity(2 * n);
    for i in 0..n {
        let (before, corner, after) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
        let (back, on) = ((before - corner).unit()?, (after - corner).unit()?);
        let sweep = (-back).cross(on).atan2((-back).dot(on));
        let room = 0.45 * corner.distance(before).min(corner.distance(after));
        let cut = (radius * (sweep.abs() / 2.0).tan()).min(room);
        let (start, end) = (corner + back * cut, corner + on * cut);
        vertices.push(Vertex::new(start.x, start.y, (sweep / 4.0).tan()));
        vertices.push(Vertex::new(end.x, end.y, 0.0));
    }
    Some(vertices)
}

fn vertices(outline: &Outline) -> Value {
    outline.vertices().iter().map(|v| json!([v.point.x, v.point.y, v.bulge])).collect()
}
