//! The force of one stroke of the whole die over its way: which punch enters when, where the press must give most, and
//! which lengths of punches would spread it.
//!
//! A punch cuts with an even force from its entry until its slug breaks out, longer and more gently with shear ground on
//! its face. From its entry on it pushes the slugs of its land, and a stripper's springs bear all the way down.

use crate::figure::Figure;
use crate::forces::summed;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::force as rules;
use job::{Cut, Job, Kind};
use package::{Entry, Stroke};

/// Ways closer than this are the same, mm: sums of decimals differ in their last digits.
const SAME: f64 = 1e-9;
/// More lengths of punches than this in one die are hard to grind and to keep.
const MOST_LENGTHS: usize = 4;

/// A punch that enters.
#[derive(Debug, Clone)]
pub struct Entering {
    edge: String,
    at: Figure,
    way: Figure,
    cutting: Figure,
    pushing: Figure,
}

/// Where the press must give most.
#[derive(Debug, Clone, Copy)]
pub struct Most {
    /// The way after the first touch.
    at: Figure,
    /// Cutting force there.
    pub cutting: Figure,
    /// Force that pushes slugs there.
    pub pushing: Figure,
}

impl Entering {
    fn cuts_at(&self, way: f64) -> bool {
        self.entered_at(way) && way < self.at.value + self.way.value - SAME
    }

    fn entered_at(&self, way: f64) -> bool {
        self.at.value <= way + SAME
    }
}

/// Every punch of the die in the order in which they enter; `reckoning` already holds the lines of the sections.
pub fn entering(reckoning: &Reckoning, job: &Job) -> Vec<Entering> {
    let dies = job.sections.iter().filter(|section| section.kind == Kind::Die);
    let edges = dies.flat_map(|section| section.edges.iter().map(move |edge| (section, edge)));
    let mut all: Vec<Entering> = edges
        .filter(|(_, edge)| edge.cut.value != Cut::Finished)
        .filter_map(|(section, edge)| {
            let of = |name: &str| reckoning.figure(&format!("{}.{}.forces.{name}", section.id, edge.id));
            Some(Entering {
                edge: format!("{}.{}", section.id, edge.id),
                at: of("enters_mm")?,
                way: of("cuts_for_mm")?,
                cutting: of("peak_n")?,
                pushing: of("push_through_n")?,
            })
        })
        .collect();
    all.sort_by(|a, b| a.at.value.total_cmp(&b.at.value));
    all
}

/// Cutting and pushing at a way after the first touch.
fn forces_at(entering: &[Entering], way: f64) -> [f64; 2] {
    let cutting = entering.iter().filter(|one| one.cuts_at(way)).map(|one| one.cutting.value).sum();
    let pushing = entering.iter().filter(|one| one.entered_at(way)).map(|one| one.pushing.value).sum();
    [cutting, pushing]
}

/// Where the press must give most: the force only rises where a punch enters. `together` holds cutting and pushing of
/// all edges at once, which is the answer where nothing is staggered or ground with shear.
pub fn most(reckoning: &mut Reckoning, entering: &[Entering], together: [Figure; 2]) -> Option<Most> {
    let force = |one: &Entering| forces_at(entering, one.at.value).iter().sum::<f64>();
    let decisive = entering.iter().reduce(|best, one| if force(one) > force(best) { one } else { best })?;
    let way = decisive.at.value;
    let how = "of all entries the one where the punches that cut and those that have entered add up to most";
    let at = reckoning.chosen(
        At("stroke.", "peak_at_mm"),
        what("way after the first touch at which the press must give most", "z", "mm"),
        way,
        how,
        &[("e", decisive.at)],
    );
    let [cutting, pushing] = forces_at(entering, way);
    let [all_cutting, all_pushing] = together;
    let same = |ours: f64, all: Figure| (ours - all.value).abs() <= SAME * (1.0 + all.value);
    if same(cutting, all_cutting) && same(pushing, all_pushing) {
        return Some(Most { at, cutting: all_cutting, pushing: all_pushing });
    }
    let cuts = entering.iter().filter(|one| one.cuts_at(way)).map(|one| (one.edge.as_str(), one.cutting));
    let cuts: Vec<_> = cuts.collect();
    let pushes =
        entering.iter().filter(|one| one.entered_at(way)).map(|one| (one.edge.as_str(), one.pushing));
    let pushes: Vec<_> = pushes.collect();
    let cutting = what("cutting force where the press must give most", "F", "N");
    let pushing = what("force that pushes slugs where the press must give most", "Q", "N");
    Some(Most {
        at,
        cutting: summed(reckoning, ("stroke.", "cutting_n"), &cuts, &rules::TOGETHER, cutting)?,
        pushing: summed(reckoning, ("stroke.", "push_through_n"), &pushes, &rules::TOGETHER, pushing)?,
    })
}

/// The stroke as it is published; `springs` bear all the way.
pub fn published(
    reckoning: &mut Reckoning,
    entering: &[Entering],
    (most, needed): (&Most, Figure),
    springs: f64,
) -> Stroke {
    let mut same = |key: &str, meaning, symbol, unit, of: Figure| {
        let how = "the edge's own";
        reckoning
            .measured(At("stroke.", key), what(meaning, symbol, unit), of.value, how, &[(symbol, of)])
            .value
    };
    let entries = entering.iter().enumerate().map(|(i, one)| Entry {
        edge: one.edge.clone(),
        enters_mm: same(&format!("entries.{i}.enters_mm"), "when this punch touches", "e", "mm", one.at),
        cuts_for_mm: same(&format!("entries.{i}.cuts_for_mm"), "how long it cuts", "z", "mm", one.way),
        cutting_n: same(&format!("entries.{i}.cutting_n"), "its cutting force", "F_i", "N", one.cutting),
    });
    let entries = entries.collect();
    let peak = what("greatest force of the stroke", "N", "N");
    let how = "what the press must give where it gives most";
    let peak = reckoning.measured(At("stroke.", "peak_n"), peak, needed.value, how, &[("N", needed)]);
    Stroke { entries, peak_at_mm: most.at.value, peak_n: peak.value, force_plot: plot(entering, springs) }
}

/// Way and force at every step of the force.
fn plot(entering: &[Entering], springs: f64) -> Vec<[f64; 2]> {
    let mut steps: Vec<f64> =
        entering.iter().flat_map(|one| [one.at.value, one.at.value + one.way.value]).chain([0.0]).collect();
    steps.sort_by(f64::total_cmp);
    steps.dedup_by(|a, b| *a - *b <= SAME);
    let force = |way: f64| springs + forces_at(entering, way).iter().sum::<f64>();
    let mut before = 0.0;
    let mut plot = Vec::new();
    for way in steps {
        plot.push([way, before]);
        before = force(way);
        plot.push([way, before]);
    }
    plot
}

/// What would spread the force, each with the force that the press must then give.
pub fn cures(entering: &[Entering], springs: f64, allowed: f64, thickness: f64) -> Vec<String> {
    let kn = |newtons: f64| newtons / 1000.0;
    let mut cures = Vec::new();
    let tries: Vec<Staggered> =
        (2..=entering.len().min(MOST_LENGTHS)).map(|lengths| staggered(entering, lengths)).collect();
    let force = |one: &Staggered| one.most + springs;
    let falls_short = |newtons: f64| if newtons <= allowed { "" } else { ", which is not enough alone" };
    let enough = tries.iter().find(|one| force(one) <= allowed);
    let least = || tries.iter().min_by(|a, b| force(a).total_cmp(&force(b)));
    if let Some(one) = enough.or_else(least) {
        let longest = entering.iter().map(|one| one.way.value).fold(thickness, f64::max);
        cures.push(format!(
            "punches of {} lengths, each {longest:.2} shorter than the one before: {}; the press then gives {:.1} kN{}",
            one.groups.len(),
            one.groups.iter().map(|group| group.join(", ")).collect::<Vec<_>>().join("; then "),
            kn(force(one)),
            falls_short(force(one))
        ));
    }
    let sheared = |one: &Entering| one.cutting.value * one.way.value / (one.way.value + thickness);
    let with_shear: f64 = entering.iter().map(|one| sheared(one) + one.pushing.value).sum();
    cures.push(format!(
        "shear of one thickness, {thickness:.2}, more on every face, all entering at once: the press then gives {:.1} kN{}",
        kn(with_shear + springs),
        falls_short(with_shear + springs)
    ));
    cures
}

/// Punches sorted into lengths, the longest first.
#[derive(Debug)]
struct Staggered {
    groups: Vec<Vec<String>>,
    most: f64,
}

/// The largest cutting forces first, each to the length that cuts least so far. Each length enters when the one before
/// has cut through, and goes on pushing its slugs.
fn staggered(entering: &[Entering], lengths: usize) -> Staggered {
    let mut order: Vec<&Entering> = entering.iter().collect();
    order.sort_by(|a, b| b.cutting.value.total_cmp(&a.cutting.value));
    let mut groups: Vec<(f64, f64, Vec<String>)> = vec![(0.0, 0.0, Vec::new()); lengths];
    for one in order {
        let least = groups.iter_mut().min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((cutting, pushing, edges)) = least {
            *cutting += one.cutting.value;
            *pushing += one.pushing.value;
            edges.push(one.edge.clone());
        }
    }
    groups.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut pushed = 0.0;
    let mut most = 0.0f64;
    for (cutting, pushing, _) in &groups {
        pushed += pushing;
        most = most.max(cutting + pushed);
    }
    Staggered { groups: groups.into_iter().map(|group| group.2).collect(), most }
}
