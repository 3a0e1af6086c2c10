//! What a section bears: the peak tension in plane strain under the force that spreads its openings, against what its
//! steel bears stroke after stroke.
//!
//! Stages: the pressure on the land, from a share of the cutting force; the frame's pressure on the sides, from the fit; the
//! peak by finite elements; the steel's limit at its hardness; where that is not enough, a radius or a block that would be.

use crate::contour::Decided;
use crate::figure::Figure;
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::strength as rules;
use crate::section::{World, head};
use crate::sheet::{shear_strength, thickness};
use crate::spread::{Spread, Worst};
use crate::strength_cures::{self as cures, Cured};
use crate::webs;
use job::{Cut, Section, Strength};
use outline::Outline;
use package::{SectionStrength, SectionSupport, SpreadingPressure};
use remark::Remark;
use strength::Material;

/// Share of the peak that its estimated error may be.
const SETTLE: f64 = 0.05;

/// What is reckoned with.
struct Case {
    spread: Spread,
    support: SectionSupport,
    /// The pressure on each edge, in job order; none on one that does not stamp.
    pressures: Vec<Option<Figure>>,
}

/// Strength of a section; none where its sheet gives no force, where it cannot be cut, or where the job leaves it out. An opening
/// comes with its land.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    decided: &[&Decided],
    openings: &[(&Opening, Figure)],
) -> (Option<SectionStrength>, Vec<Remark>) {
    let stamps = section.edges.iter().any(|edge| edge.cut.value != Cut::Finished);
    if section.strength == Strength::LeftOut || !stamps {
        return (None, Vec::new());
    }
    let Some(case) = finished(decided).and_then(|edges| case(reckoning, world, section, (edges, openings)))
    else {
        return (None, Vec::new());
    };
    match world.kept.worst(&case.spread, SETTLE) {
        Ok(worst) => judged(reckoning, world, section, &case, worst),
        Err(why) => (None, vec![not_found(section, &why)]),
    }
}

/// The openings as their last passes leave them; none where one is not cut.
fn finished(decided: &[&Decided]) -> Option<Vec<Outline>> {
    let edge = |one: &&Decided| one.cut.as_ref()?.cutting.edges.last()?.first().cloned();
    decided.iter().map(edge).collect()
}

/// The pressure on the edge of each opening that stamps.
fn pressures(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    openings: &[(&Opening, Figure)],
) -> Option<Vec<Option<Figure>>> {
    let sheet = world.job.sheet.as_ref()?;
    let tau = shear_strength(reckoning, sheet, world.facts)?;
    let t = thickness(reckoning, sheet);
    let meaning = what("force that spreads an opening as a share of its cutting force", "a", "");
    let share = match &world.job.forces.spreading {
        Some(given) => reckoning.known(At("job:forces.", "spreading"), meaning, given),
        None => {
            reckoning.known(At("fact:strength.", "spreading"), meaning, &world.facts.strength().spreading)
        }
    };
    let of = format!("{}.", section.id);
    let spreading =
        reckoning.rule(At(&of, "strength.spreading_n_per_mm"), &rules::SPREADING, [share, t, tau]);
    let height = reckoning.figure(&format!("{of}size_mm.2"))?;
    let mut pressures = Vec::new();
    for (edge, (opening, land)) in section.edges.iter().zip(openings) {
        pressures.push((edge.cut.value != Cut::Finished).then(|| {
            let length = webs::length(reckoning, &head(section, &edge.id), &opening.target);
            let key = format!("{of}strength.pressures.{}.", pressures.iter().flatten().count());
            let inputs = [spreading, t, *land, height, length];
            reckoning.rule(At(&key, "pressure_mpa"), &rules::PRESSURE, inputs)
        }));
    }
    Some(pressures)
}

/// The section as a plate with its loads.
fn case(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    (edges, openings): (Vec<Outline>, &[(&Opening, Figure)]),
) -> Option<Case> {
    let pressures = pressures(reckoning, world, section, openings)?;
    let steel = world.facts.steel(&section.steel.value)?;
    let key = format!("fact:steel.{}.", steel.name);
    let e = what("Young's modulus of the steel", "E", "N/mm2");
    let e = reckoning.known(At(&key, "modulus_mpa"), e, &steel.modulus_mpa);
    let nu = what("Poisson's ratio of the steel", "nu", "");
    let nu = reckoning.known(At("fact:strength.", "poisson"), nu, &world.facts.strength().poisson);
    let least = squeeze(reckoning, section, e, 1);
    let most = squeeze(reckoning, section, e, 0);
    let support = match least.iter().all(|pressure| *pressure > 0.0) {
        true => SectionSupport::Pressed,
        false => SectionSupport::FreeStanding,
    };
    let mut squeezes = vec![least, most];
    squeezes.dedup();
    let spread = Spread {
        size: [section.size[0].value, section.size[1].value],
        openings: edges,
        pressures: pressures.iter().map(|one| one.map_or(0.0, |figure| figure.value)).collect(),
        squeezes,
        material: Material::new(e.value, nu.value).ok()?,
    };
    Some(Case { spread, support, pressures })
}

/// Pressure of the frame on the sides across x and y, at one end of the fit: 0 the tightest, 1 the loosest.
fn squeeze(reckoning: &mut Reckoning, section: &Section, e: Figure, end: usize) -> [f64; 2] {
    [0, 1].map(|axis| {
        let clearance = reckoning.figure(&format!("{}.cavity.sides.{axis}.clearance_mm.{end}", section.id));
        let size = reckoning.figure(&format!("{}.size_mm.{axis}", section.id));
        let (Some(clearance), Some(size)) = (clearance, size) else { return 0.0 };
        let key = format!("{}.strength.squeeze.{axis}.", section.id);
        let name = if end == 0 { "most_mpa" } else { "least_mpa" };
        reckoning.rule(At(&key, name), &rules::SQUEEZE, [clearance, e, size]).value
    })
}

/// The peak against what the steel bears.
fn judged(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    case: &Case,
    worst: Worst,
) -> (Option<SectionStrength>, Vec<Remark>) {
    let spread = &case.spread;
    let head = format!("{}.strength.", section.id);
    let limits = world.facts.strength();
    let Some(vickers) = limits.vickers(section.hardness_hrc.value) else { return (None, Vec::new()) };
    let vickers = reckoning.known(At(&head, "hardness_hv"), what("hardness", "HV", "HV"), &vickers);
    let flaw = what("root of the area of the largest flaw", "A", "um");
    let flaw = reckoning.known(At("fact:strength.", "flaw_um"), flaw, &limits.flaw_um);
    let limit = reckoning.rule(At(&head, "limit_mpa"), &rules::LIMIT, [vickers, flaw]);
    let how = "finite elements in plane strain over the finished openings, finer until it settles; the greater of the loosest and the tightest fit";
    let pressures: Vec<(String, Figure)> =
        case.pressures.iter().flatten().enumerate().map(|(i, p)| (format!("p_{}", i + 1), *p)).collect();
    let inputs: Vec<(&str, Figure)> = pressures.iter().map(|(name, p)| (name.as_str(), *p)).collect();
    let meaning = what("greatest tension in the section", "s", "N/mm2");
    let peak = reckoning.measured(At(&head, "peak_mpa"), meaning, worst.mpa, how, &inputs);
    let how = "the greater of what the last refinement changed and of what the triangles miss the known stress across the edge by";
    let meaning = what("estimated error of the peak, as a share of it", "e", "");
    let error = reckoning.measured(At(&head, "error_share"), meaning, worst.error_share, how, &[]);
    let safety = reckoning.rule(At(&head, "safety"), &rules::SAFETY, [limit, peak, error]);
    let meaning = what("what the steel bears over the peak, at least", "v_min", "");
    let wanted = reckoning.known(At(&head, "safety_wanted"), meaning, &limits.reserve);
    let holds = safety.value >= wanted.value;
    let cured = match holds {
        true => Cured::default(),
        false => cures::of(world.kept, spread, worst.opening, limit.value / wanted.value),
    };
    let strength = SectionStrength {
        peak_mpa: peak.value,
        x_mm: worst.at.x,
        y_mm: worst.at.y,
        contour: worst.opening.map(|i| section.edges[i].id.clone()),
        error_share: error.value,
        pressures: published(section, case),
        support: case.support,
        limit_mpa: limit.value,
        safety: safety.value,
        safety_wanted: wanted.value,
        holds,
        radius_needed_mm: cured.radius.map(|radius| radius_needed(reckoning, &head, radius, limit)),
        wall_needed_mm: cured.growth.map(|by| wall_needed(reckoning, &head, spread, by, limit)),
    };
    let said = (!holds).then(|| short(section, &strength, spread, cured));
    (Some(strength), said.into_iter().collect())
}

fn published(section: &Section, case: &Case) -> Vec<SpreadingPressure> {
    let pressures = section.edges.iter().zip(&case.pressures);
    pressures
        .filter_map(|(edge, figure)| {
            Some(SpreadingPressure { contour: edge.id.clone(), pressure_mpa: (*figure)?.value })
        })
        .collect()
}

fn radius_needed(reckoning: &mut Reckoning, head: &str, radius: f64, limit: Figure) -> f64 {
    let meaning = what("radius in the corners of the worst opening that would be enough", "r", "mm");
    let how = "by halving, each radius by finite elements again, and rounded up";
    reckoning.measured(At(head, "radius_needed_mm"), meaning, radius, how, &[("s_w", limit)]).value
}

fn wall_needed(reckoning: &mut Reckoning, head: &str, spread: &Spread, by: f64, limit: Figure) -> f64 {
    let meaning = what("thinnest wall of the least block that would be enough", "w", "mm");
    let how = "by halving, each block by finite elements again: larger on all sides alike, and rounded up";
    let wall = cures::grown(spread, by).wall();
    reckoning.measured(At(head, "wall_needed_mm"), meaning, wall, how, &[("s_w", limit)]).value
}

fn not_found(section: &Section, why: &str) -> Remark {
    let message = format!("section `{}`: its strength was not found: {why}", section.id);
    Remark::warning("strength-not-found", message)
        .place(section.place.clone())
        .cure("`strength = \"none\"` in the section, if that is known to be no matter")
}

/// The remark on a peak that the steel does not bear.
fn short(section: &Section, strength: &SectionStrength, spread: &Spread, cured: Cured) -> Remark {
    let at = strength.contour.as_ref().map_or("a side".to_owned(), |edge| format!("edge `{edge}`"));
    let message = format!(
        "section `{}`: spread by {:.0} N/mm2, {at} sees {:.0} N/mm2, +{:.0} % error, at X {:.3} Y {:.3}, and the steel bears {:.0}: {:.2} times, {} are wanted",
        section.id,
        spread.pressures.iter().copied().fold(0.0, f64::max),
        strength.peak_mpa,
        100.0 * strength.error_share,
        strength.x_mm,
        strength.y_mm,
        strength.limit_mpa,
        strength.safety,
        strength.safety_wanted
    );
    let mut remark = Remark::warning("section-strength", message)
        .place(section.place.clone().at(strength.x_mm, strength.y_mm));
    if let Some(radius) = cured.radius {
        remark = remark.cure(format!("a radius of {radius:.2} or more in the corners of {at}"));
    }
    if let Some(by) = cured.growth {
        let [x, y] = cures::grown(spread, by).size;
        remark = remark.cure(format!(
            "a block of {x:.1} x {y:.1}: the thinnest wall is then {:.2}",
            cures::grown(spread, by).wall()
        ));
    }
    remark
        .cure("relief below a short land, or a back bore: fewer slugs press")
        .cure("`spreading` in [forces], where more clearance spreads less")
}
