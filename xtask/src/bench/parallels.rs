//! A certified parallel of 20 segments beside the raw offset that it proves, and beside polygon libraries on the same
//! outline flattened.

use super::Row;
use super::clock::{beside, median, text};
use crate::flatten::flatten;
use cavalier_contours::polyline::{PlineOffsetOptions, PlineSource, PlineSourceMut, Polyline};
use clipper2_rust::{EndType, JoinType, Point64, inflate_paths_64};
use outline::{Outline, Vertex, parallel};
use std::f64::consts::TAU;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

const DISTANCE: f64 = 0.1;
/// Sagitta of the flattening, mm: what the proof of a program works with.
const SAGITTA: f64 = 2e-5;
/// Steps of the whole-number grid in a millimetre.
const GRID: f64 = 1e6;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let outline = wheel()?;
    // An outline keeps its parallels: each is asked of one that nobody has asked yet.
    let ours = median(15, 500, || parallel(&outline.starting_at(0), DISTANCE));
    let raw = raw(&outline);
    let options = PlineOffsetOptions { pos_equal_eps: 1e-9, offset_dist_eps: 1e-8, ..Default::default() };
    let library = median(15, 500, || raw.parallel_offset_opt(DISTANCE, &options));
    let flat = flatten(&outline, SAGITTA);
    let grid = vec![flat.iter().map(|p| Point64::new((p[0] * GRID) as i64, (p[1] * GRID) as i64)).collect()];
    let clipper = median(15, 5, || {
        inflate_paths_64(&grid, -DISTANCE * GRID, JoinType::Round, EndType::Polygon, 2.0, SAGITTA * GRID)
    });
    let shapely = match shapely(&flat) {
        Ok(seconds) => beside("Shapely (flattened)", ours, seconds),
        Err(reason) => format!("Shapely: {reason}"),
    };
    let what = "certified parallel, 20 segments";
    Ok(vec![
        Row::new(what, text(ours), beside("cavalier_contours, raw", ours, library)),
        Row::new(what, text(ours), beside("clipper2-rust (flattened)", ours, clipper)),
        Row::new(what, text(ours), shapely),
    ])
}

/// Ten round teeth and ten gaps.
pub fn wheel() -> Result<Outline, String> {
    let vertices = (0..20).map(|i| {
        let angle = TAU * f64::from(i) / 20.0;
        Vertex::new(2.0 * angle.cos(), 2.0 * angle.sin(), if i % 2 == 0 { 0.5 } else { -0.3 })
    });
    Outline::new(vertices.collect()).map_err(|defects| format!("the wheel is invalid: {defects:?}"))
}

fn raw(outline: &Outline) -> Polyline<f64> {
    let mut pline = Polyline::new_closed();
    for v in outline.vertices() {
        pline.add(v.point.x, v.point.y, v.bulge);
    }
    pline
}

/// Median seconds of Shapely's buffer, with the environment that `./check` makes.
fn shapely(points: &[[f64; 2]]) -> Result<f64, String> {
    let python = Path::new(".venv/bin/python");
    if !python.exists() {
        return Err("no .venv; run ./check once".to_owned());
    }
    let mut child = Command::new(python)
        .args(["checks/bench/buffer.py", &DISTANCE.to_string(), &SAGITTA.to_string()])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|e| e.to_string())?;
    if let Some(mut pipe) = child.stdin.take() {
        pipe.write_all(serde_json::json!(points).to_string().as_bytes()).map_err(|e| e.to_string())?;
    }
    let output = child.wait_with_output().map_err(|e| e.to_string())?;
    let said = String::from_utf8_lossy(&output.stdout);
    said.trim().parse().map_err(|e| format!("answered '{}': {e}", said.trim()))
}
