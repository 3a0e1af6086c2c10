//! The trade, pure: from outlines, job, shop and facts to a plan, its programs and its reckoning.
//!
//! No files, no clock, no network. Geometry comes from `outline`, program text from `nc`; what the numbers mean and
//! where they come from is decided here, and only here.

mod alignment;
mod bore;
mod burn;
mod burn_program;
mod burning;
mod candidate;
mod cavity;
mod choice;
mod clean_up;
mod clearance;
mod contour;
mod cores;
mod cures;
mod cutting;
mod edge_start;
mod erosion;
mod fastening;
mod fastening_places;
mod figure;
mod forces;
mod free;
mod half_round;
mod halves;
mod hold_point;
mod hole;
mod island;
mod joint;
mod joint_places;
mod kept;
mod lead_in;
mod limits;
mod measured;
mod narrowest;
mod opening;
mod order;
mod outside;
mod passes;
mod phases;
mod piece;
mod press;
mod programs;
mod punch;
mod punch_strength;
mod reckoning;
mod relief;
mod rule;
mod rules;
mod section;
mod section_strength;
mod setup;
mod sheet;
mod short_way;
mod size;
mod split;
mod spread;
mod strength_cures;
mod stroke;
mod tab;
mod threads;
mod tilt_cores;
mod tilted;
mod tilted_cut;
mod tour;
mod webs;
mod wires;
mod wiring;

pub use alignment::off_centre_share;
pub use kept::Kept;
pub use opening::DrawnEdge;
pub use rules::book::{ListedRule, rulebook};

use crate::reckoning::Reckoning;
use job::{Facts, Job, Shop};
use package::{Basis, Line, Origin, PLAN_SCHEMA, Plan, PlanJob, PlanShop, Source, Units};
use rayon::prelude::*;
use remark::Remark;
use section::{PlannedSection, World};
use std::collections::{BTreeMap, BTreeSet};

/// What is to be planned.
#[derive(Debug, Clone, Copy)]
pub struct Task<'a> {
    /// The job.
    pub job: &'a Job,
    /// The shop.
    pub shop: &'a Shop,
    /// The facts.
    pub facts: &'a Facts,
    /// Day of planning, as 2026-11-25.
    pub date: &'a str,
    /// For each section, the outline of each edge, in job order.
    pub drawn: &'a [Vec<DrawnEdge>],
}

/// A plan and the texts of its programs.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// The plan; its input files are not listed yet.
    pub plan: Plan,
    /// Program texts by path in the package.
    pub programs: BTreeMap<String, String>,
}

/// Plans every section of a job.
///
/// # Errors
/// What contradicts itself in the job: an opening outside its block, openings that meet, a clearance that closes
/// an outline. An opening that cannot be made is not an error: its section is not makeable, and the plan says why.
pub fn plan(task: &Task) -> Result<Planned, Vec<Remark>> {
    plan_again(task, &Kept::default(), &|| ())
}

/// The same, where much of it may be known: each outline of `task.drawn` keeps what was worked out about it, and `kept` the rest.
/// With both kept, a start hole that was moved is planned again in little time, to the same byte. `done` is told of every section
/// that is planned, from whichever thread planned it.
///
/// # Errors
/// As [`plan`].
pub fn plan_again(task: &Task, kept: &Kept, done: &(dyn Fn() + Sync)) -> Result<Planned, Vec<Remark>> {
    let world = World { job: task.job, shop: task.shop, facts: task.facts, kept };
    let pairs: Vec<_> = task.job.sections.iter().zip(task.drawn).collect();
    let sections: Vec<_> = pairs
        .par_iter()
        .map(|(section, drawn)| {
            let planned = section::plan(world, section, drawn);
            done();
            planned
        })
        .collect();
    let mut faults = Vec::new();
    let mut planned = Vec::new();
    for one in sections {
        match one {
            Ok(one) => planned.push(one),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() { Ok(join(task, planned)) } else { Err(faults) }
}

fn join(task: &Task, planned: Vec<PlannedSection>) -> Planned {
    let mut sections = Vec::new();
    let mut programs = BTreeMap::new();
    let mut lines = Vec::new();
    let mut remarks = Vec::new();
    let mut known = BTreeSet::new();
    for one in planned {
        sections.push(one.section);
        programs.extend(one.programs);
        remarks.extend(one.remarks);
        // Inputs stand in the reckoning of every section that used them: once is enough.
        lines.extend(
            one.lines.into_iter().filter(|line| !line.key.contains(':') || known.insert(line.key.clone())),
        );
    }
    let mut reckoning = Reckoning::behind(lines);
    let loaded = press::load(&mut reckoning, task.job, task.shop, &sections);
    let (press, stroke) = loaded
        .map(|loaded| {
            remarks.extend(loaded.remarks);
            (loaded.press, loaded.stroke)
        })
        .unzip();
    let mut lines = reckoning.into_lines();
    let starting = lines.iter().filter(|line| line.source.basis == Basis::StartingValue).count();
    lines.push(starting_line(starting));
    let plan = Plan {
        schema: PLAN_SCHEMA.to_owned(),
        job: PlanJob {
            name: task.job.name.clone(),
            date: task.date.to_owned(),
            units: match task.job.units {
                job::Units::Mm => Units::Mm,
                job::Units::In => Units::In,
            },
            join_limit_mm: Some(task.job.join_limit.value),
        },
        shop: PlanShop { name: task.shop.name.clone(), starting_values: starting as u32 },
        inputs: Vec::new(),
        sections,
        press,
        stroke,
        reckoning: lines,
        remarks,
    };
    Planned { plan, programs }
}

fn starting_line(count: usize) -> Line {
    Line {
        key: "shop.starting_values".to_owned(),
        meaning: "starting values that this plan rests on".to_owned(),
        symbol: "n".to_owned(),
        value: count as f64,
        unit: String::new(),
        origin: Origin::Measured,
        formula: Some("lines of the reckoning whose basis is a starting value, counted".to_owned()),
        inputs: Vec::new(),
        source: Source { basis: Basis::OwnDerivation, cite: "this program".to_owned() },
        range: None,
    }
}
