//! Numbers of a whole plan, by their keys in its reckoning; and what the planner measures or chooses on its way.

use super::bench::{planned, said};
use super::expected::Ours;
use super::quantity::Answer;
use super::row::Row;
use job::{Edge, Job};
use package::{Line, Machine, Origin, Plan};
use plan::{DrawnEdge, Task, rulebook};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A number of the plan of a row's opening, of the section with `section.` before it, of its outside with `outside.`;
/// `bound.NAME` says whether that bound holds, `makeable` whether all do, `wire_minutes` is what all wire programs take.
pub fn ask(row: &Row, what: &str) -> Result<Answer, String> {
    let plan = planned(row)?.plan;
    let section = plan.sections.first().ok_or("the plan has no section")?;
    if what == "makeable" {
        let word = if section.makeable { "makeable" } else { "not makeable" };
        return Ok(Answer { ours: Ours::Word(word.to_owned()), covers: Vec::new() });
    }
    if let Some(name) = what.strip_prefix("bound.") {
        let mut bounds = section.contours.iter().flat_map(|contour| &contour.start_limits.bounds);
        let bound =
            bounds.find(|bound| bound.bound == name).ok_or_else(|| format!("no bound is called `{name}`"))?;
        let word = if bound.holds { "holds" } else { "broken" };
        return Ok(Answer { ours: Ours::Word(word.to_owned()), covers: Vec::new() });
    }
    if what == "wire_minutes" {
        let wires = section.programs.iter().filter(|program| program.machine == Machine::Wire);
        let minutes = wires.map(|program| program.minutes).sum();
        return Ok(Answer {
            ours: Ours::Number(minutes),
            covers: vec!["plan.programs.N.minutes".to_owned()],
        });
    }
    let key = match (what.strip_prefix("section."), what.strip_prefix("outside.")) {
        (Some(rest), _) => format!("s.{rest}"),
        (_, Some(rest)) => format!("s.o.{rest}"),
        _ => format!("s.e.{what}"),
    };
    let line = plan.reckoning.iter().find(|line| line.key == key);
    let line = line.ok_or_else(|| format!("the reckoning has no line `{key}`"))?;
    Ok(Answer { ours: Ours::Number(line.value), covers: vec![entry(line, &plan)] })
}

/// The entry of the coverage that a line of the reckoning stands for.
fn entry(line: &Line, plan: &Plan) -> String {
    let rule = rulebook().into_iter().find(|rule| {
        line.origin == Origin::Rule
            && rule.meaning == line.meaning
            && line.formula.as_deref() == Some(rule.formula)
    });
    match rule {
        Some(rule) => format!("rule.{}", rule.id),
        None => format!("plan.{}", pattern(line, plan)),
    }
}

/// A key without the ids of its section and contour, positions written as N.
fn pattern(line: &Line, plan: &Plan) -> String {
    let mut ids = BTreeSet::new();
    for section in &plan.sections {
        ids.insert(section.id.as_str());
        ids.extend(section.contours.iter().map(|contour| contour.id.as_str()));
    }
    let parts = line.key.split('.').enumerate();
    let kept = parts.filter(|(i, part)| *i > 1 || !ids.contains(part)).map(|(_, part)| {
        match part.chars().all(|c| c.is_ascii_digit()) {
            true => "N",
            false => part,
        }
    });
    kept.collect::<Vec<_>>().join(".")
}

/// What the planner measures or chooses, as in `plan.start.clean_up_probability`, with its meaning: found in the plans of
/// the examples and of the book's own rows.
pub fn names(root: &Path, rows: &[Row]) -> Result<BTreeMap<String, String>, String> {
    let mut found = BTreeMap::new();
    for example in ["relay-leaf", "too-fine", "inch-contact"] {
        found.extend(own(&example_plan(&root.join("examples").join(example))?));
    }
    for row in rows.iter().filter(|row| row.quantity.starts_with("plan.")) {
        // A row that cannot be planned is a fault where it is asked, and has no names.
        found.extend(planned(row).iter().flat_map(|planned| own(&planned.plan)));
    }
    Ok(found)
}

/// What one plan measures or chooses.
fn own(plan: &Plan) -> Vec<(String, String)> {
    let own = |line: &&Line| matches!(line.origin, Origin::Measured | Origin::Chosen);
    let named = |line: &Line| (format!("plan.{}", pattern(line, plan)), line.meaning.clone());
    plan.reckoning.iter().filter(own).map(named).collect()
}

fn read(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|e| format!("{}: {e}", path.display()))
}

fn example_plan(folder: &Path) -> Result<Plan, String> {
    let text =
        |name: &str| read(&folder.join(name)).map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    let (job, _) = job::read_job(&text("job.toml")?, "job.toml").map_err(said)?;
    let shop = match folder.join("shop.toml").exists() {
        true => job::read_shop(&text("shop.toml")?, "shop.toml").map_err(said)?.0,
        false => job::example_shop(),
    };
    let facts = job::Facts::load().map_err(said)?;
    let mut drawn = Vec::new();
    for section in &job.sections {
        let edges: Result<Vec<DrawnEdge>, String> =
            section.edges.iter().map(|edge| drawn_edge(folder, &job, edge)).collect();
        drawn.push(edges?);
    }
    let task = Task { job: &job, shop: &shop, facts: &facts, date: "2026-01-01", drawn: &drawn };
    Ok(plan::plan(&task).map_err(said)?.plan)
}

fn drawn_edge(folder: &Path, job: &Job, edge: &Edge) -> Result<DrawnEdge, String> {
    let file = edge.drawing.value.clone();
    let dxf = dxf::read(&read(&folder.join(&file))?, &file, &dxf::Limits::default()).map_err(said)?;
    let units = match job.units {
        job::Units::Mm => drawing::Units::Mm,
        job::Units::In => drawing::Units::In,
    };
    let options =
        drawing::Options { units: None, units_if_unstated: Some(units), join_limit_mm: job.join_limit.value };
    let outlines = drawing::outlines(&dxf, &options).outlines;
    let named = |one: &drawing::DrawnOutline| {
        edge.outline.as_ref().is_none_or(|id| id.value == one.id)
            && edge.layer.as_ref().is_none_or(|layer| layer.value == one.layer)
    };
    let one = outlines
        .into_iter()
        .find(named)
        .ok_or_else(|| format!("{file} lacks the outline of `{}`", edge.id))?;
    Ok(DrawnEdge {
        file,
        outline_id: one.id,
        outline: one.outline,
        moved_mm: one.moved_mm,
        fitted_mm: one.fitted_mm,
        islands: Vec::new(),
    })
}
