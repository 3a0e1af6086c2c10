//! One section: all its edges, the wires that make them in the least whole time, and the programs.
//!
//! Stages: every edge studied; a wire for each, so that cutting, risk and wire changes together are least; every edge
//! written down; a program for each wire.

use crate::alignment;
use crate::burn::Burn;
use crate::burning::{self, ToBurn};
use crate::candidate::Candidate;
use crate::cavity;
use crate::clearance;
use crate::contour::{self, Frame, Studied};
use crate::cores;
use crate::edge_start;
use crate::fastening;
use crate::figure::Figure;
use crate::forces;
use crate::halves;
use crate::island;
use crate::kept::Kept;
use crate::opening::{DrawnEdge, Opening};
use crate::piece::Way;
use crate::programs;
use crate::punch;
use crate::reckoning::{At, Reckoning, what};
use crate::relief;
use crate::section_strength::{self, Plate};
use crate::size;
use crate::split::Split;
use crate::webs;
use crate::wires;
use job::{Contour, Facts, Job, Kind, Section, Shop};
use outline::{Outline, meeting_pairs, nesting};
use package::{self as published, Line};
use remark::Remark;
use std::collections::BTreeMap;

/// A planned section.
#[derive(Debug)]
pub struct PlannedSection {
    /// Its entry.
    pub section: published::PlanSection,
    /// Texts of its programs by path in the package.
    pub programs: BTreeMap<String, String>,
    /// Its reckoning.
    pub lines: Vec<Line>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// What a section is planned in.
#[derive(Debug, Clone, Copy)]
pub struct World<'a> {
    /// The job.
    pub job: &'a Job,
    /// The shop.
    pub shop: &'a Shop,
    /// The facts.
    pub facts: &'a Facts,
    /// What earlier plans of the job have kept.
    pub kept: &'a Kept,
}

/// Plans one section; `drawn` holds the outline of each edge.
pub fn plan(world: World, section: &Section, drawn: &[DrawnEdge]) -> Result<PlannedSection, Vec<Remark>> {
    let reckoning = &mut Reckoning::new();
    let frame = frame(reckoning, world, section)?;
    let (studied, split) = study_all(reckoning, world, section, drawn, frame)?;
    apart(section, &studied)?;
    // What metal stands in cannot be cut, whatever the wire.
    let cut =
        |(way, drawn): (Option<&'_ Candidate>, &DrawnEdge)| way.filter(|_| drawn.islands.is_empty()).cloned();
    let chosen: Vec<Option<Candidate>> =
        wires::choose(world.shop, &studied).into_iter().zip(drawn).map(cut).collect();
    let chosen: Vec<Option<&Candidate>> = chosen.iter().map(Option::as_ref).collect();
    let mut decided = Vec::new();
    for (i, edge) in section.edges.iter().enumerate() {
        let head = head(section, &edge.id);
        let of = (section, edge);
        let mut one = contour::decide(reckoning, &head, world.shop, of, &studied[i], chosen[i], frame)?;
        island::refuse(edge, &studied[i].opening, &mut one);
        one.contour.drawing.file = drawn[i].file.clone();
        one.contour.drawing.outline = drawn[i].outline_id.clone();
        one.contour.moved_mm = Some(moved(reckoning, &head, drawn[i].moved_mm));
        one.contour.fitted_mm = fitted(reckoning, &head, drawn[i].fitted_mm);
        decided.push(one);
    }
    let (mut programs, mut texts) = programs::of(reckoning, world, section, &mut decided)?;
    let holes = to_burn(reckoning, world, section, &studied, &chosen);
    let burned = burning::of(reckoning, world, section, &holes, programs.len())?;
    let burning = burned.map(|(burning, program, text)| {
        texts.insert(program.path.clone(), text);
        programs.push(program);
        burning
    });
    let openings: Vec<(&Opening, Figure)> =
        studied.iter().map(|one| (&one.opening, one.burn.frame(frame).land)).collect();
    let forces = forces::of(reckoning, world, section, &openings);
    let struck = punches(reckoning, world, section, &studied, &mut decided);
    let makeable = decided.iter().all(|one| one.cut.is_some());
    let (cavity, tight) = cavity::of(reckoning, world, section, &studied)?;
    let (strength, weak) = match &split {
        Some(_) => (None, Vec::new()),
        None => strength(reckoning, world, section, &decided, &openings),
    };
    let of = (studied.as_slice(), decided.as_slice());
    let (halves, split_so) = halves::of(reckoning, world, section, split.as_ref(), of, frame);
    let (mut webs, mut thin) = webs::of(reckoning, world, section, &studied, strength.as_ref());
    let widens: Vec<f64> = studied
        .iter()
        .map(|one| {
            let own = one.burn.frame(frame);
            own.relief.value.to_radians().tan() * (own.height.value - own.land.value).max(0.0)
        })
        .collect();
    thin.extend(webs::at_the_back(section, &webs, &widens)?);
    let kerf = |one: &contour::Decided| {
        one.cut.as_ref().map(|cut| cut.cutting.passes.main() + cores::clears(&cut.cutting))
    };
    let kerfs: Vec<Option<f64>> = decided.iter().map(kerf).collect();
    let (frames, narrow) = webs::frames(reckoning, world, section, &studied, &kerfs, webs.len());
    webs.extend(frames);
    thin.extend(narrow);
    let (fastening, loose) = fastening::of(reckoning, world, section, (&studied, halves.as_ref()), frame);
    let land = relief::lasts(reckoning, world.shop, section, (frame.land, frame.height));
    let alignment = aligned(reckoning, world, section, frame);
    let cut_from_mm = cut_from(reckoning, section);
    let remarks = decided
        .iter_mut()
        .flat_map(|one| std::mem::take(&mut one.remarks))
        .chain(struck)
        .chain(thin)
        .chain(tight)
        .chain(weak)
        .chain(loose)
        .chain(split_so)
        .chain(section.edges.iter().filter_map(size::tight))
        .collect();
    let section = published::PlanSection {
        id: section.id.clone(),
        kind: match section.kind {
            Kind::Die => published::SectionKind::Die,
            Kind::Punch => published::SectionKind::Punch,
        },
        steel: section.steel.value.clone(),
        hardness_hrc: section.hardness_hrc.value,
        size_mm: [0, 1, 2].map(|i| section.size[i].value),
        cut_from_mm,
        makeable,
        contours: decided.into_iter().map(|one| one.contour).collect(),
        programs,
        alignment,
        cavity,
        webs,
        strength,
        fastening,
        halves,
        land,
        burning,
        forces,
    };
    Ok(PlannedSection { section, programs: texts, lines: std::mem::take(reckoning).into_lines(), remarks })
}

/// Strength of the section with its openings; the outside of a piece bounds it.
fn strength(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    decided: &[contour::Decided],
    openings: &[(&Opening, Figure)],
) -> (Option<published::SectionStrength>, Vec<Remark>) {
    let mut plate = Plate { edges: Vec::new(), openings: Vec::new(), decided: Vec::new(), outside: None };
    for ((edge, decided), opening) in section.edges.iter().zip(decided).zip(openings) {
        match edge.side {
            Contour::Outside => plate.outside = Some((edge, decided)),
            Contour::Inside => {
                plate.edges.push(edge);
                plate.openings.push(*opening);
                plate.decided.push(decided);
            }
        }
    }
    section_strength::of(reckoning, world, section, &plate)
}

/// The block that it is cut out of.
fn cut_from(reckoning: &mut Reckoning, section: &Section) -> Option<[f64; 2]> {
    let [x, y] = section.cut_from.as_ref()?;
    let head = format!("{}.", section.id);
    let mut known =
        |name, meaning, symbol, of| reckoning.known(At(&head, name), what(meaning, symbol, "mm"), of).value;
    Some([
        known("cut_from_mm.0", "block that it is cut out of, x", "S_x", x),
        known("cut_from_mm.1", "block that it is cut out of, y", "S_y", y),
    ])
}

/// The holes to burn; none where some edge cannot be cut.
fn to_burn<'a>(
    reckoning: &mut Reckoning,
    world: World,
    section: &'a Section,
    studied: &'a [Studied],
    chosen: &[Option<&Candidate>],
) -> Vec<ToBurn<'a>> {
    let Some(ways) = chosen.iter().copied().collect::<Option<Vec<&Candidate>>>() else { return Vec::new() };
    let of = |(i, way): (usize, &Candidate)| {
        let edge = &section.edges[i];
        if edge.start.at_block_edge() {
            return None;
        }
        let hole = (i + 1, edge.id.as_str(), way.place);
        ToBurn::of(reckoning, &head(section, &edge.id), world.shop, hole, (&studied[i].burn, way.tool))
    };
    ways.into_iter().enumerate().filter_map(of).collect()
}

/// Plans the punches that the job asks for, through the openings that can be cut.
fn punches(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    studied: &[Studied],
    decided: &mut [contour::Decided],
) -> Vec<Remark> {
    let mut remarks = Vec::new();
    for ((edge, studied), decided) in section.edges.iter().zip(studied).zip(decided) {
        if let Some(wired) = &decided.cut {
            let (punch, said) = punch::of(reckoning, world, section, (edge, studied, &wired.cutting));
            decided.contour.punch = punch;
            remarks.extend(said);
        }
    }
    remarks
}

fn moved(reckoning: &mut Reckoning, head: &str, moved_mm: f64) -> f64 {
    let meaning = what("how far the outline lies from what was drawn", "u", "mm");
    let how = "largest distance between the raw entities of the drawing and the closed outline, a bound";
    reckoning.measured(At(head, "moved_mm"), meaning, moved_mm, how, &[]).value
}

/// None where the drawing holds nothing but lines and arcs.
fn fitted(reckoning: &mut Reckoning, head: &str, fitted_mm: f64) -> Option<f64> {
    let meaning = what("how much of it is due to arcs in the place of curves and facets", "u_f", "mm");
    let how = "largest distance between the curves and facets of the drawing and the arcs that stand for them, proved by \
               Bernstein bounds";
    (fitted_mm > 0.0).then(|| reckoning.measured(At(head, "fitted_mm"), meaning, fitted_mm, how, &[]).value)
}

/// Key of an edge with a dot behind it.
pub fn head(section: &Section, edge: &str) -> String {
    format!("{}.{edge}.", section.id)
}

fn frame(reckoning: &mut Reckoning, world: World, section: &Section) -> Result<Frame, Vec<Remark>> {
    let head = format!("{}.", section.id);
    let mut known = |name, meaning, symbol, unit, known| {
        reckoning.known(At(&head, name), what(meaning, symbol, unit), known)
    };
    known("hardness_hrc", "hardness", "HRC", "HRC", &section.hardness_hrc);
    known("size_mm.0", "finished block, x", "B_x", "mm", &section.size[0]);
    known("size_mm.1", "finished block, y", "B_y", "mm", &section.size[1]);
    let height = known("size_mm.2", "finished block, height", "h", "mm", &section.size[2]);
    let steel = world.facts.steel(&section.steel.value).ok_or_else(|| {
        vec![
            Remark::error("steel", format!("steel `{}` is not in the facts", section.steel.value))
                .place(section.place.clone()),
        ]
    })?;
    let key = format!("fact:steel.{}.", section.steel.value);
    let density = reckoning.known(
        At(&key, "density_g_cm3"),
        what("density of the steel", "rho", "g/cm3"),
        &steel.density_g_cm3,
    );
    let (land, relief) = relief::stated(reckoning, (world.job, world.shop), section, height)?;
    let steel_rate = steel_rate(reckoning, &key, steel);
    Ok(Frame { height, density, steel_rate, land, relief })
}

fn steel_rate(reckoning: &mut Reckoning, key: &str, steel: &job::Steel) -> Figure {
    let meaning = what("rate of a main cut in this steel over that in D2", "q", "");
    match &steel.wire_rate_factor {
        Some(known) => reckoning.known(At(key, "wire_rate_factor"), meaning, known),
        None => reckoning.chosen(
            At(key, "wire_rate_factor"),
            meaning,
            1.0,
            "not known for this steel: as in D2",
            &[],
        ),
    }
}

fn study_all(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    drawn: &[DrawnEdge],
    frame: Frame,
) -> Result<(Vec<Studied>, Option<Split>), Vec<Remark>> {
    let mut studied = Vec::new();
    let mut faults = Vec::new();
    let mut openings = Vec::new();
    for (edge, drawn) in section.edges.iter().zip(drawn) {
        let head = head(section, &edge.id);
        match Opening::of(reckoning, &head, (world.job, world.facts), section, (edge, drawn)) {
            Ok(one) => openings.push(one),
            Err(found) => faults.extend(found),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    beside_each_other(&mut openings);
    let split = Split::of(reckoning, section, &openings)?;
    // The frame is whole where no way through it comes near what an edge before has cut.
    let mut cut: Vec<(bool, Way)> = Vec::new();
    for (i, (edge, mut opening)) in section.edges.iter().zip(openings).enumerate() {
        let head = head(section, &edge.id);
        let from_side = edge.start.at_block_edge();
        if let Some(around) = &mut opening.around {
            let counts = cut.iter().filter(|(other, _)| from_side || *other);
            counts.for_each(|(_, way)| around.crossed_by(*way));
        }
        let over = split.as_ref().and_then(|split| split.over(i));
        let one =
            Burn::of(reckoning, &head, (section, edge), (&opening, over), frame.height).and_then(|burn| {
                relief::check(section, edge, burn.frame(frame))?;
                contour::study((opening, burn), &head, world.shop, (section, edge), frame)
            });
        match one {
            Ok(one) => {
                if one.opening.is_outside() {
                    cut.extend(edge_start::crosses(&one).into_iter().map(|way| (from_side, way)));
                }
                studied.push(one);
            }
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() { Ok((studied, split)) } else { Err(faults) }
}

/// Every piece that is cut out of a block knows the others.
fn beside_each_other(openings: &mut [Opening]) {
    let pieces: Vec<(usize, Outline)> = openings
        .iter()
        .enumerate()
        .filter(|(_, one)| one.is_outside())
        .map(|(i, one)| (i, one.target.clone()))
        .collect();
    for (i, opening) in openings.iter_mut().enumerate() {
        if let Some(around) = &mut opening.around {
            pieces.iter().filter(|(other, _)| *other != i).for_each(|(_, piece)| around.beside(piece));
        }
    }
}

/// The alignment budget by the tightest clearance; none where no edge has one.
fn aligned(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    frame: Frame,
) -> Option<published::Alignment> {
    let mut clearances = Vec::new();
    for edge in section.edges.iter().filter(|edge| edge.side == Contour::Inside) {
        let head = head(section, &edge.id);
        clearances.extend(clearance::cutting(reckoning, &head, (world.job, world.facts), edge));
    }
    let tightest = clearances.into_iter().min_by(|a, b| a.value.total_cmp(&b.value))?;
    let play = cavity::play(reckoning, section);
    Some(alignment::of(reckoning, world.shop, section, (tightest, frame.height), play))
}

/// Openings that run into each other contradict the job.
fn apart(section: &Section, studied: &[Studied]) -> Result<(), Vec<Remark>> {
    let targets: Vec<Outline> = studied.iter().map(|one| one.opening.target.clone()).collect();
    let outside = |i: usize| studied[i].opening.is_outside();
    let around = nesting(&targets);
    let lost = lost(section, &targets, &around, outside);
    // An opening in a piece is what it should be.
    let wrong =
        |(i, around): (usize, Option<usize>)| around.filter(|&a| !outside(a) || outside(i)).map(|a| (a, i));
    let within = around.iter().copied().enumerate().filter_map(wrong);
    let fault = |(i, j): (usize, usize), what: &str| {
        let (a, b) = (&section.edges[i].id, &section.edges[j].id);
        let message = what.replacen("{}", a, 1).replacen("{}", b, 1);
        let middle = targets[j].bounds().middle();
        let place = section.edges[j].place.clone().at(middle.x, middle.y);
        Remark::error("openings-meet", message).place(place).cure("another `at`")
    };
    let meet = meeting_pairs(&targets)
        .into_iter()
        .map(|(i, j, _)| fault((i, j), "the openings of edges `{}` and `{}` run into each other"));
    let inside = within.map(|pair| {
        fault(
            pair,
            "inside the opening of edge `{}` there is no metal: the opening of edge `{}` lies wholly in it",
        )
        .cure("a section of its own, if it is an opening in what is set in there")
    });
    let faults: Vec<Remark> = meet.chain(inside).chain(lost).collect();
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// Openings beside the piece that is cut out: in metal that is thrown away.
fn lost(
    section: &Section,
    targets: &[Outline],
    around: &[Option<usize>],
    outside: impl Fn(usize) -> bool,
) -> Vec<Remark> {
    if !(0..targets.len()).any(&outside) {
        return Vec::new();
    }
    let alone = (0..targets.len()).filter(|&i| !outside(i) && around[i].is_none());
    alone
        .map(|i| {
            let edge = &section.edges[i];
            let middle = targets[i].bounds().middle();
            let message = format!("the opening of edge `{}` lies beside the piece that is cut out", edge.id);
            Remark::error("beside-the-piece", message)
                .place(edge.place.clone().at(middle.x, middle.y))
                .cure("another `at`")
        })
        .collect()
}
