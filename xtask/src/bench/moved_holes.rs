//! A start hole moved by hand: the plan made again from drawings that are kept, beside the plan made from nothing. Both must be
//! the same to the byte.

use super::Row;
use super::circles::bent_slot;
use super::clock::{beside, middle, text};
use super::parallels::wheel;
use job::{Facts, Shop};
use outline::{Outline, Point, Vector, Vertex, largest_circle};
use plan::{DrawnEdge, Kept, Planned, Task};
use std::time::Instant;

/// Places that the hole is moved to, about the middle of the largest circle.
const PLACES: usize = 25;
/// How far at most, mm.
const FARTHEST: f64 = 0.02;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let corners = [(-1.0, -0.3, 0.0), (1.0, -0.3, 1.0), (1.0, 0.3, 0.0), (-1.0, 0.3, 1.0)];
    let slot = Outline::new(corners.map(|(x, y, bulge)| Vertex::new(x, y, bulge)).to_vec());
    let slot = slot.map_err(|defects| defects[0].message.clone())?;
    [("a slot", slot), ("a wheel of 20 segments", wheel()?), ("a bent slot of 400 facets", bent_slot(400)?)]
        .into_iter()
        .map(|(name, outline)| row(name, &outline))
        .collect()
}

fn row(name: &str, outline: &Outline) -> Result<Row, String> {
    let circle = largest_circle(outline, &[]).map_err(|error| error.to_string())?;
    let (facts, shop) = (Facts::load().map_err(said)?, job::example_shop());
    let (kept, peaks) = (drawn(outline), Kept::default());
    let moved = |k: usize| {
        let turn = Vector::at_angle(2.4 * k as f64);
        circle.centre + turn * (FARTHEST * k as f64 / PLACES as f64)
    };
    planned(moved(0), (&kept, &peaks), (&facts, &shop))?;
    let (mut again, mut whole) = (Vec::new(), Vec::new());
    for k in 1..=PLACES {
        let (ours, took) = planned(moved(k), (&kept, &peaks), (&facts, &shop))?;
        again.push(took);
        let (full, took) = planned(moved(k), (&drawn(outline), &Kept::default()), (&facts, &shop))?;
        whole.push(took);
        if bytes(&ours)? != bytes(&full)? {
            return Err(format!("{name}: the plan made again is not the whole plan"));
        }
    }
    let (again, whole) = (middle(&mut again), middle(&mut whole));
    let what = format!("the hole in {name} moved, planned again");
    Ok(Row::new(what, text(again), format!("aim 2 ms; {}", beside("whole plan", again, whole))))
}

/// An outline as nobody has asked about it yet.
fn drawn(outline: &Outline) -> [Vec<DrawnEdge>; 1] {
    [vec![DrawnEdge {
        file: "e.dxf".to_owned(),
        outline_id: "o1".to_owned(),
        outline: outline.starting_at(0),
        moved_mm: 0.0,
        fitted_mm: 0.0,
        islands: Vec::new(),
    }]]
}

/// The plan with the hole in a place, and how long it took.
fn planned(
    at: Point,
    (drawn, kept): (&[Vec<DrawnEdge>], &Kept),
    (facts, shop): (&Facts, &Shop),
) -> Result<(Planned, f64), String> {
    let text = format!(
        "name = \"bench\"\nunits = \"mm\"\n[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.2\nclearance = 0.02\n[[section]]\nid = \"s\"\nkind = \"die\"\nsteel = \"D2\"\nhardness_hrc = 60\n\
         size = [48.0, 48.0, 20.0]\nrelief_deg = 0\n[[section.edge]]\nid = \"e\"\ndrawing = \"e.dxf\"\nat = [0.0, 0.0]\n\
         cut = \"pierce\"\nstart = {{ at = [{:?}, {:?}] }}\n",
        at.x, at.y
    );
    let began = Instant::now();
    let (job, _) = job::read_job(&text, "job.toml").map_err(said)?;
    let task = Task { job: &job, shop, facts, date: "2026-01-01", drawn };
    let planned = plan::plan_again(&task, kept, &|| ()).map_err(said)?;
    Ok((planned, began.elapsed().as_secs_f64()))
}

fn bytes(planned: &Planned) -> Result<String, String> {
    let plan = serde_json::to_string(&planned.plan).map_err(|error| error.to_string())?;
    Ok(format!("{plan}{:?}", planned.programs))
}

fn said(remarks: Vec<remark::Remark>) -> String {
    remarks.iter().map(|remark| remark.message.clone()).collect::<Vec<_>>().join("; ")
}
