//! `cargo xtask reference OUT_DIR SEED COUNT NEAR`: what the outline room says about random outlines, as JSON lines for
//! `checks/reference/compare.py` to work out again with other libraries.
//!
//! Two files: `outlines.jsonl` holds COUNT outlines with measures, largest circle, parallels, reach and narrowest place, the
//! last also with an island put in; `near.jsonl` holds
//! NEAR outlines with one parallel each, at a distance within 1 um of a collapse. Invalid outlines are written too, with
//! the reasons: that they were refused must be right as well.

use crate::dice::Dice;
use crate::profile::{self, Profile};
use outline::{LargestCircle, Outline, Vertex, largest_circle, narrowest, parallel, reach};
use serde_json::{Value, json};
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

/// Distances and radii asked for, as shares of the inscribed radius; negative grows.
const DISTANCES: [f64; 6] = [0.1, 0.5, 0.9, 0.999, -0.3, -2.0];
const RADII: [f64; 3] = [0.15, 0.6, 0.95];

/// How far from the collapse the near cases lie at most, mm.
const NEAR: f64 = 1e-3;

/// Writes both files.
pub fn run(folder: &str, seed: u64, count: usize, near: usize) -> Result<(), String> {
    let folder = Path::new(folder);
    std::fs::create_dir_all(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut dice = Dice::new(seed);
    write(&folder.join("outlines.jsonl"), (0..count).map(|_| whole(&mut dice)))?;
    write(&folder.join("near.jsonl"), (0..near).map(|_| near_collapse(&mut dice)))
}

fn write(path: &Path, lines: impl Iterator<Item = Value>) -> Result<(), String> {
    let fail = |e: std::io::Error| format!("{}: {e}", path.display());
    let mut file = BufWriter::new(File::create(path).map_err(fail)?);
    for line in lines {
        writeln!(file, "{line}").map_err(fail)?;
    }
    file.flush().map_err(fail)
}

fn vertices(vertices: &[Vertex]) -> Value {
    vertices.iter().map(|v| json!([v.point.x, v.point.y, v.bulge])).collect()
}

fn loops(outlines: &[Outline]) -> Value {
    outlines.iter().map(|o| vertices(o.vertices())).collect()
}

/// One outline with everything that can be worked out again.
fn whole(dice: &mut Dice) -> Value {
    let decimals = [None, Some(4), Some(6)][dice.below(3)];
    let Profile { family, vertices: drawn, .. } = profile::draw(dice, decimals);
    let outline = match Outline::new(drawn.clone()) {
        Ok(outline) => outline,
        Err(defects) => {
            let refused: Vec<String> = defects.iter().map(ToString::to_string).collect();
            return json!({ "family": family, "vertices": vertices(&drawn), "refused": refused });
        }
    };
    let circle = match largest_circle(&outline, &[]) {
        Ok(circle) => circle,
        Err(e) => {
            return json!({ "family": family, "vertices": vertices(&drawn), "circle_error": e.to_string() });
        }
    };
    let (centroid, moments) = (outline.centroid(), outline.second_moments());
    json!({
        "family": family,
        "vertices": vertices(&drawn),
        "area": outline.area(),
        "perimeter": outline.perimeter(),
        "centroid": [centroid.x, centroid.y],
        "moments": { "ixx": moments.ixx, "iyy": moments.iyy, "ixy": moments.ixy, "least": moments.least },
        "circle": { "x": circle.centre.x, "y": circle.centre.y, "radius": circle.radius },
        "parallels": DISTANCES.map(|share| parallel_at(&outline, share * circle.radius)),
        "reaches": RADII.map(|share| reach_of(&outline, share * circle.radius)),
        "rooms": [room(&outline, &[]), room(&outline, &[island(dice, &circle)])],
    })
}

/// A random outline put into the largest circle.
fn island(dice: &mut Dice, circle: &LargestCircle) -> Outline {
    loop {
        let Ok(outline) = Outline::new(profile::draw(dice, None).vertices) else { continue };
        let (bounds, share) = (outline.bounds(), dice.between(0.2, 0.95));
        let size = share * 2.0 * circle.radius / bounds.width().hypot(bounds.height());
        let placed = outline.moved(circle.centre - bounds.middle()).scaled(circle.centre, size);
        if let Ok(placed) = placed {
            return placed;
        }
    }
}

fn room(outer: &Outline, islands: &[Outline]) -> Value {
    let place = match narrowest(outer, islands) {
        Err(e) => return json!({ "islands": loops(islands), "error": e.to_string() }),
        Ok(None) => Value::Null,
        Ok(Some(n)) => json!({
            "x": n.centre.x,
            "y": n.centre.y,
            "width": n.width,
            "sides": n.sides.map(|side| [side.x, side.y]),
        }),
    };
    json!({ "islands": loops(islands), "place": place })
}

fn parallel_at(outline: &Outline, distance: f64) -> Value {
    match parallel(outline, distance) {
        Ok(outlines) => json!({ "distance": distance, "loops": loops(&outlines) }),
        Err(e) => json!({ "distance": distance, "error": e.to_string() }),
    }
}

fn reach_of(outline: &Outline, radius: f64) -> Value {
    match reach(outline, radius) {
        Ok(reach) => {
            let missed: Vec<Value> =
                reach.missed.iter().map(|m| json!([m.place.x, m.place.y, m.depth])).collect();
            let (paths, edges) = (loops(&reach.centre_paths), loops(&reach.edges));
            json!({ "radius": radius, "paths": paths, "edges": edges, "missed": missed })
        }
        Err(e) => json!({ "radius": radius, "error": e.to_string() }),
    }
}

/// An outline with rounded coordinates and its parallel within `NEAR` of a collapse: of the whole, or of a lobe or neck.
fn near_collapse(dice: &mut Dice) -> Value {
    loop {
        let decimals = if dice.coin() { 4 } else { 6 };
        let profile = profile::draw(dice, Some(decimals));
        // What is invalid is the other file's business.
        let Ok(outline) = Outline::new(profile.vertices.clone()) else { continue };
        let Ok(circle) = largest_circle(&outline, &[]) else {
            let error = "no largest circle";
            return json!({ "family": profile.family, "vertices": vertices(&profile.vertices), "error": error });
        };
        let critical = match profile.critical.len() {
            0 => circle.radius,
            n => [circle.radius, profile.critical[dice.below(n)]][dice.below(2)],
        };
        let distance = critical + dice.between(-NEAR, NEAR);
        if distance <= 0.0 {
            continue;
        }
        let mut case = parallel_at(&outline, distance);
        case["family"] = json!(profile.family);
        case["vertices"] = vertices(&profile.vertices);
        case["collapse"] = json!(circle.radius);
        return case;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_gives_the_same_cases_and_near_ones_are_near() {
        let cases = |seed| {
            let mut dice = Dice::new(seed);
            (0..20).map(|_| near_collapse(&mut dice)).collect::<Vec<_>>()
        };
        assert_eq!(cases(5), cases(5));
        assert_ne!(cases(5), cases(6));
        let near_whole = cases(5)
            .iter()
            .filter(|c| (c["distance"].as_f64().unwrap() - c["collapse"].as_f64().unwrap()).abs() <= NEAR)
            .count();
        assert!(near_whole >= 10, "{near_whole}");
    }
}
