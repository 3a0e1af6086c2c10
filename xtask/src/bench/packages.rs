//! The program itself: a proven plan of one opening beside the bare sweep, 200 different sections, and how time and
//! memory go from 10 to 1,000 sections. Times are of the whole process: files, plan, proof and package.

use super::Row;
use super::clock::{beside, median, middle, text};
use crate::flatten::flatten;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use i_overlay::mesh::float::stroke::offset::StrokeOffset;
use i_overlay::mesh::float::style::{LineCap, LineJoin, StrokeStyle};
use outline::{Outline, Vertex, parallel};
use serde_json::Value;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Sagitta of the bare sweep, mm: that of the proof.
const SAGITTA: f64 = 2e-5;
/// Step of round joins of the bare sweep, rad: that of the proof.
const ROUND: f64 = 0.01 * std::f64::consts::PI;

/// One run of the program.
struct Run {
    seconds: f64,
    /// Most memory held, MB; none where the system does not tell.
    megabytes: Option<f64>,
}

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let program = program()?;
    let folder = std::env::temp_dir().join(format!("bench-{}", std::process::id()));
    let rows = measured(&program, &folder);
    // The figures matter more than a folder that stays behind.
    let _ = std::fs::remove_dir_all(&folder);
    rows
}

fn measured(program: &Path, folder: &Path) -> Result<Vec<Row>, String> {
    let one = of(program, folder, 1, 15)?;
    let sweep = bare_sweep(&folder.join("package/plan.json"))?;
    let mut rows = vec![Row::new(
        "proven plan of one opening, whole process",
        text(one.seconds),
        beside("bare i_overlay sweep", one.seconds, sweep),
    )];
    let many = of(program, folder, 200, 3)?;
    rows.push(Row::new("200 different sections, proven", text(many.seconds), "aim 3 s"));
    let (ten, thousand) = (of(program, folder, 10, 5)?, of(program, folder, 1000, 1)?);
    let (few, most) = (ten.seconds / 10.0, thousand.seconds / 1000.0);
    let ratio = most / few;
    rows.push(Row::new(
        "time of a section, 1,000 of them",
        text(most),
        format!("10: {}, ratio {ratio:.2}", text(few)),
    ));
    if let (Some(few), Some(most)) = (ten.megabytes, thousand.megabytes) {
        rows.push(Row::new(
            "most memory held, 1,000 sections",
            format!("{most:.0} MB"),
            format!("10: {few:.0} MB; of a section {:.2} MB and {:.2} MB", most / 1000.0, few / 10.0),
        ));
    }
    Ok(rows)
}

/// The release build of the program, beside this one.
fn program() -> Result<PathBuf, String> {
    let built =
        Command::new("cargo").args(["build", "--release", "--quiet", "--package", "kerfwright"]).status();
    if !built.map_err(|e| format!("cargo: {e}"))?.success() {
        return Err("the program does not build".to_owned());
    }
    let here = std::env::current_exe().map_err(|e| e.to_string())?;
    Ok(here.with_file_name("kerfwright"))
}

/// Plans and proves a job of so many sections, no two alike; the median of some runs.
fn of(program: &Path, folder: &Path, sections: usize, runs: usize) -> Result<Run, String> {
    let fail = |e: std::io::Error| format!("{}: {e}", folder.display());
    std::fs::create_dir_all(folder).map_err(fail)?;
    let mut job = "name = \"bench\"\nunits = \"mm\"\n".to_owned();
    for i in 0..sections {
        let (half, radius) = (1.0 + i as f64 * 0.002, 0.25 + (i % 97) as f64 * 0.003);
        std::fs::write(folder.join(format!("s{i}.dxf")), slot(half, radius)).map_err(fail)?;
        let _ = write!(
            job,
            "[[section]]\nid = \"s{i}\"\nkind = \"die\"\nsteel = \"D2\"\nhardness_hrc = 60\nsize = [24.0, 16.0, 20.0]\n\
             relief_deg = 0\n[[section.edge]]\nid = \"e\"\ndrawing = \"s{i}.dxf\"\ncut = \"finished\"\nat = \"centred\"\n"
        );
    }
    std::fs::write(folder.join("job.toml"), job).map_err(fail)?;
    let all: Vec<Run> = (0..runs).map(|_| once(program, folder)).collect::<Result<_, _>>()?;
    let mut times: Vec<f64> = all.iter().map(|run| run.seconds).collect();
    let megabytes = all.iter().filter_map(|run| run.megabytes).max_by(f64::total_cmp);
    Ok(Run { seconds: middle(&mut times), megabytes })
}

fn slot(half: f64, radius: f64) -> String {
    let mut text =
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nEDGE\n90\n4\n70\n1\n"
            .to_owned();
    for (x, y, bulge) in [(-half, -radius, 0), (half, -radius, 1), (half, radius, 0), (-half, radius, 1)] {
        let _ = write!(text, "10\n{x}\n20\n{y}\n42\n{bulge}\n");
    }
    text + "0\nENDSEC\n0\nEOF\n"
}

fn once(program: &Path, folder: &Path) -> Result<Run, String> {
    let began = Instant::now();
    let mut child = Command::new(program)
        .args(["plan", "job.toml", "--out", "package", "--date", "2026-01-01"])
        .current_dir(folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|e| format!("{}: {e}", program.display()))?;
    let mut megabytes = None;
    let status = loop {
        megabytes = held(child.id()).or(megabytes);
        match child.try_wait().map_err(|e| e.to_string())? {
            Some(status) => break status,
            None => std::thread::sleep(Duration::from_micros(200)),
        }
    };
    match status.success() {
        true => Ok(Run { seconds: began.elapsed().as_secs_f64(), megabytes }),
        false => Err(format!("the program ended with {status} on the job of the bench")),
    }
}

/// Most memory that a process has held so far, as Linux tells it.
fn held(process: u32) -> Option<f64> {
    let text = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    Some(line.split_whitespace().next()?.parse::<f64>().ok()? / 1024.0)
}

/// Seconds of what no proof can do without: the wire of each pass swept, and what it leaves of the finished edge.
fn bare_sweep(plan: &Path) -> Result<f64, String> {
    let text = std::fs::read_to_string(plan).map_err(|e| format!("{}: {e}", plan.display()))?;
    let plan: Value = serde_json::from_str(&text).map_err(|e| e.to_string())?;
    let contour = &plan["sections"][0]["contours"][0];
    let target = outline(&contour["target"]).ok_or("the plan holds no target")?;
    let edge = vec![flatten(&target, SAGITTA)];
    let wire = contour["wire"]["diameter_mm"].as_f64().ok_or("the plan holds no wire")?;
    let mut passes = Vec::new();
    for pass in contour["wire"]["passes"].as_array().into_iter().flatten() {
        let offset = pass["offset_mm"].as_f64().ok_or("a pass without offset")?;
        let gap = pass["spark_gap_mm"].as_f64().ok_or("a pass without spark gap")?;
        let centre = parallel(&target, offset).map_err(|e| e.to_string())?;
        let mut path = flatten(centre.first().ok_or("the wire does not fit")?, SAGITTA);
        path.extend(path.first().copied());
        passes.push((path, wire / 2.0 + gap));
    }
    if passes.is_empty() {
        return Err("the plan holds no pass".to_owned());
    }
    let sweep = || {
        let swept = passes.iter().map(|(path, radius)| {
            let mut style = StrokeStyle::new(2.0 * radius);
            style.start_cap = LineCap::Round(ROUND);
            style.end_cap = LineCap::Round(ROUND);
            style.join = LineJoin::Round(ROUND);
            path.stroke_as::<i64>(style, false)
        });
        swept
            .map(|cut| edge.overlay_as::<i64>(&cut, OverlayRule::Difference, FillRule::NonZero).len())
            .sum::<usize>()
    };
    Ok(median(15, 1, sweep))
}

fn outline(vertices: &Value) -> Option<Outline> {
    let read = |v: &Value| Some(Vertex::new(v[0].as_f64()?, v[1].as_f64()?, v[2].as_f64()?));
    Outline::new(vertices.as_array()?.iter().map(read).collect::<Option<_>>()?).ok()
}
