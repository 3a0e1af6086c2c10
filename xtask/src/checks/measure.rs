//! What the outline room measures of the outline that a row gives.

use super::bench::{opening, outline_of};
use super::expected::Ours;
use super::quantity::Answer;
use super::row::Row;
use outline::{LargestCircle, Narrowest, Outline, largest_circle, narrowest, parallel, reach};

/// The entries of the coverage that this room stands for, with what they are.
pub const NAMES: [(&str, &str); 7] = [
    ("outline.measures", "area, perimeter, centroid, second moments"),
    ("outline.circle", "largest inscribed circle"),
    ("outline.parallel", "parallel of an outline"),
    ("outline.reach", "metal that a round wire leaves in corners"),
    ("outline.corner", "tightest corner"),
    ("outline.narrowest", "narrowest place"),
    ("outline.distance", "distance from a point to an outline"),
];

/// A measure of the outline, mm and degrees.
pub fn ask(row: &Row, what: &str) -> Result<Answer, String> {
    let outline = opening(row)?;
    let (number, covers) = match what {
        "area_mm2" => (outline.area(), "outline.measures"),
        "perimeter_mm" => (outline.perimeter(), "outline.measures"),
        "centroid_x_mm" => (outline.centroid().x, "outline.measures"),
        "centroid_y_mm" => (outline.centroid().y, "outline.measures"),
        "ixx_mm4" => (outline.second_moments().ixx, "outline.measures"),
        "iyy_mm4" => (outline.second_moments().iyy, "outline.measures"),
        "ixy_mm4" => (outline.second_moments().ixy, "outline.measures"),
        "least_mm4" => (outline.second_moments().least, "outline.measures"),
        "circle_diameter_mm" => (2.0 * circle(row, &outline)?.radius, "outline.circle"),
        "circle_radius_mm" => (circle(row, &outline)?.radius, "outline.circle"),
        "circle_x_mm" => (circle(row, &outline)?.centre.x, "outline.circle"),
        "circle_y_mm" => (circle(row, &outline)?.centre.y, "outline.circle"),
        "parallel_area_mm2" => {
            (parallels(row, &outline)?.iter().map(Outline::area).sum(), "outline.parallel")
        }
        "parallel_perimeter_mm" => {
            (parallels(row, &outline)?.iter().map(Outline::perimeter).sum(), "outline.parallel")
        }
        "parallel_pieces" => (parallels(row, &outline)?.len() as f64, "outline.parallel"),
        "deepest_miss_mm" => (deepest_miss(row, &outline)?, "outline.reach"),
        "tightest_inside_angle_deg" => (tightest(&outline)?.angle.to_degrees(), "outline.corner"),
        "tightest_inside_radius_mm" => (tightest(&outline)?.radius, "outline.corner"),
        "narrowest_mm" => (narrow(row, &outline)?.width, "outline.narrowest"),
        "narrowest_x_mm" => (narrow(row, &outline)?.centre.x, "outline.narrowest"),
        "distance_mm" => {
            let place = outline::Point::new(row.number("x")?, row.number("y")?);
            (outline.signed_distance(place), "outline.distance")
        }
        _ => return Err(format!("`outline.{what}` has no arm in xtask/src/checks/measure.rs: add one")),
    };
    Ok(Answer { ours: Ours::Number(number), covers: vec![covers.to_owned()] })
}

fn circle(row: &Row, outline: &Outline) -> Result<LargestCircle, String> {
    largest_circle(outline, &islands(row)?).map_err(|e| e.to_string())
}

fn narrow(row: &Row, outline: &Outline) -> Result<Narrowest, String> {
    let found = narrowest(outline, &islands(row)?).map_err(|e| e.to_string())?;
    found.ok_or_else(|| "nothing is narrower than its neighbourhood".to_owned())
}

fn islands(row: &Row) -> Result<Vec<Outline>, String> {
    match row.given.contains_key("island") {
        true => Ok(vec![outline_of(row, "island")?]),
        false => Ok(Vec::new()),
    }
}

fn parallels(row: &Row, outline: &Outline) -> Result<Vec<Outline>, String> {
    parallel(outline, row.number("distance")?).map_err(|e| e.to_string())
}

fn deepest_miss(row: &Row, outline: &Outline) -> Result<f64, String> {
    let reach = reach(outline, row.number("radius")?).map_err(|e| e.to_string())?;
    Ok(reach.missed.iter().map(|miss| miss.depth).fold(0.0, f64::max))
}

fn tightest(outline: &Outline) -> Result<outline::Corner, String> {
    outline.tightest_corner(true).ok_or_else(|| "the outline has no inside corner".to_owned())
}
