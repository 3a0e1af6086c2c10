//! What a section bears: the peak tension in plane strain under the force that spreads its openings, against what its
//! steel bears stroke after stroke.
//!
//! What bounds it is its block, or where its outside is cut its own outline, stock for grinding taken off.
//!
//! Stages: the pressure on the land, from a share of the cutting force; the frame's pressure on the sides, from the fit; the
//! peak by finite elements; the steel's limit at its hardness; where that is not enough, a radius or a block that would be.

use crate::contour::Decided;
use crate::figure::Figure;
use crate::opening::Opening;
use crate::outside::Outside;
use crate::piece;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::strength as rules;
use crate::section::{World, head};
use crate::sheet::{shear_strength, thickness};
use crate::spread::{Spread, Worst};
use crate::strength_cures::{self as cures, Cured, Larger};
use crate::webs;
use job::{Cut, Edge, Section, Strength};
use outline::Outline;
use package::{SectionStrength, SectionSupport, SpreadingPressure};
use remark::Remark;
use strength::Material;

/// Share of the peak that its estimated error may be.
const SETTLE: f64 = 0.05;

/// A section as the wire leaves it.
#[derive(Debug)]
pub struct Plate<'a> {
    /// The edges that are openings, in job order.
    pub edges: Vec<&'a Edge>,
    /// Each with its land.
    pub openings: Vec<(&'a Opening, Figure)>,
    /// Each as it was decided.
    pub decided: Vec<&'a Decided>,
    /// The edge that is the outside of a piece, as it was decided.
    pub outside: Option<(&'a Edge, &'a Decided)>,
}

/// What is reckoned with.
struct Case<'a> {
    edges: &'a [&'a Edge],
    /// The edge that is the outside of a piece.
    piece: Option<&'a Edge>,
    spread: Spread,
    support: SectionSupport,
    /// The pressure on each edge, in job order; none on one that does not stamp.
    pressures: Vec<Option<Figure>>,
    /// Axes along which the fit presses and no faces take it.
    unpressed: Vec<&'static str>,
}

/// Strength of a section; none where its sheet gives no force, where it cannot be cut, or where the job leaves it out.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    plate: &Plate,
) -> (Option<SectionStrength>, Vec<Remark>) {
    let stamps = plate.edges.iter().any(|edge| edge.cut.value != Cut::Finished);
    if section.strength == Strength::LeftOut || !stamps {
        return (None, Vec::new());
    }
    let Some(case) = case(reckoning, world, section, plate) else { return (None, Vec::new()) };
    match world.kept.worst(&case.spread, SETTLE) {
        Ok(worst) => {
            let (strength, mut said) = judged(reckoning, world, section, &case, worst);
            said.extend(case.not_counted(section));
            (strength, said)
        }
        Err(why) => (None, vec![not_found(section, &why)]),
    }
}

/// The edge as its last pass leaves it; none where it is not cut.
fn finished(decided: &Decided) -> Option<Outline> {
    decided.cut.as_ref()?.cutting.edges.last()?.first().cloned()
}

/// What bounds the section; none where a piece is not cut.
fn outside(section: &Section, plate: &Plate) -> Option<Outside> {
    match plate.outside {
        Some((edge, decided)) => Some(Outside::Piece(piece::ground(&finished(decided)?, &edge.grind)?)),
        None => Some(Outside::Block([section.size[0].value, section.size[1].value])),
    }
}

/// The pressure on the edge of each opening that stamps.
fn pressures(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    plate: &Plate,
) -> Option<Vec<Option<Figure>>> {
    let [spreading, t] = spreading(reckoning, world, section)?;
    let of = format!("{}.", section.id);
    let height = reckoning.figure(&format!("{of}size_mm.2"))?;
    let mut pressures = Vec::new();
    for (edge, (opening, land)) in plate.edges.iter().zip(&plate.openings) {
        pressures.push((edge.cut.value != Cut::Finished).then(|| {
            let length = webs::length(reckoning, &head(section, &edge.id), &opening.target);
            let key = format!("{of}strength.pressures.{}.", pressures.iter().flatten().count());
            let inputs = [spreading, t, *land, height, length];
            reckoning.rule(At(&key, "pressure_mpa"), &rules::PRESSURE, inputs)
        }));
    }
    Some(pressures)
}

/// What spreads each mm of the openings' edges, and the sheet's thickness; none where the sheet gives no force.
pub fn spreading(reckoning: &mut Reckoning, world: World, section: &Section) -> Option<[Figure; 2]> {
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
    let at = At(&of, "strength.spreading_n_per_mm");
    Some([reckoning.rule(at, &rules::SPREADING, [share, t, tau]), t])
}

/// The section as a plate with its loads.
fn case<'a>(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    plate: &'a Plate,
) -> Option<Case<'a>> {
    let openings = plate.decided.iter().map(|one| finished(one)).collect::<Option<_>>()?;
    let outside = outside(section, plate)?;
    let pressures = pressures(reckoning, world, section, plate)?;
    let steel = world.facts.steel(&section.steel.value)?;
    let key = format!("fact:steel.{}.", steel.name);
    let e = what("Young's modulus of the steel", "E", "N/mm2");
    let e = reckoning.known(At(&key, "modulus_mpa"), e, &steel.modulus_mpa);
    let nu = what("Poisson's ratio of the steel", "nu", "");
    let nu = reckoning.known(At("fact:strength.", "poisson"), nu, &world.facts.strength().poisson);
    let faces = outside.pressed().ok()?.1;
    let takes = [0, 1].map(|axis| faces.iter().any(|face| face.axis == axis));
    let taken = |all: [f64; 2]| [0, 1].map(|axis| if takes[axis] { all[axis] } else { 0.0 });
    let fit = squeeze(reckoning, section, e, 0);
    let (least, most) = (taken(squeeze(reckoning, section, e, 1)), taken(fit));
    let unpressed = [0, 1].into_iter().filter(|&axis| fit[axis] > most[axis]);
    let unpressed = unpressed.map(|axis| ["x", "y"][axis]).collect();
    let support = match least.iter().all(|pressure| *pressure > 0.0) {
        true => SectionSupport::Pressed,
        false => SectionSupport::FreeStanding,
    };
    let mut squeezes = vec![least, most];
    squeezes.dedup();
    let spread = Spread {
        outside,
        openings,
        pressures: pressures.iter().map(|one| one.map_or(0.0, |figure| figure.value)).collect(),
        squeezes,
        material: Material::new(e.value, nu.value).ok()?,
    };
    let piece = plate.outside.map(|(edge, _)| edge);
    Some(Case { edges: &plate.edges, piece, spread, support, pressures, unpressed })
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
    let how = "the greater of what the last refinement changed and of what the triangles miss the known stress across the edge by, and a quarter more";
    let meaning = what("estimated error of the peak, as a share of it", "e", "");
    let error = reckoning.measured(At(&head, "error_share"), meaning, worst.error_share, how, &[]);
    let safety = reckoning.rule(At(&head, "safety"), &rules::SAFETY, [limit, peak, error]);
    let meaning = what("what the steel bears over the peak, at least", "v_min", "");
    let wanted = reckoning.known(At(&head, "safety_wanted"), meaning, &limits.reserve);
    let holds = safety.value >= wanted.value;
    let cured = match holds {
        true => Cured::default(),
        false => cures::of(world.kept, spread, worst.edge, limit.value / wanted.value),
    };
    let strength = SectionStrength {
        peak_mpa: peak.value,
        x_mm: worst.at.x,
        y_mm: worst.at.y,
        contour: case.named(worst.edge),
        error_share: error.value,
        pressures: case.published(),
        support: case.support,
        limit_mpa: limit.value,
        safety: safety.value,
        safety_wanted: wanted.value,
        holds,
        radius_needed_mm: cured.radius.map(|radius| radius_needed(reckoning, &head, radius, limit)),
        wall_needed_mm: cured.larger.as_ref().map(|larger| wall_needed(reckoning, &head, larger, limit)),
    };
    let said = (!holds).then(|| short(section, &strength, case, &cured));
    (Some(strength), said.into_iter().collect())
}

impl Case<'_> {
    /// The edge that has the peak; none: a side of the block, or inside.
    fn named(&self, edge: Option<strength::Edge>) -> Option<String> {
        match edge? {
            strength::Edge::Opening(i) => Some(self.edges[i].id.clone()),
            strength::Edge::Outer => self.piece.map(|edge| edge.id.clone()),
        }
    }

    /// The note on a frame that presses a piece where it has no faces for it.
    fn not_counted(&self, section: &Section) -> Option<Remark> {
        let message = format!(
            "section `{}`: its fit presses along {}, and there it has no straight faces that face each other: for its strength the frame is not counted there",
            section.id,
            self.unpressed.join(" and ")
        );
        (!self.unpressed.is_empty())
            .then(|| Remark::note("frame-not-counted", message).place(section.place.clone()))
    }

    fn published(&self) -> Vec<SpreadingPressure> {
        let pressures = self.edges.iter().zip(&self.pressures);
        pressures
            .filter_map(|(edge, figure)| {
                Some(SpreadingPressure { contour: edge.id.clone(), pressure_mpa: (*figure)?.value })
            })
            .collect()
    }
}

fn radius_needed(reckoning: &mut Reckoning, head: &str, radius: f64, limit: Figure) -> f64 {
    let meaning = what("radius in the corners of the worst edge that would be enough", "r", "mm");
    let how = "by halving, each radius by finite elements again, and rounded up";
    reckoning.measured(At(head, "radius_needed_mm"), meaning, radius, how, &[("s_w", limit)]).value
}

fn wall_needed(reckoning: &mut Reckoning, head: &str, larger: &Larger, limit: Figure) -> f64 {
    let meaning = what("thinnest wall of the least block that would be enough", "w", "mm");
    let how = "by halving, each block by finite elements again: larger on all sides alike, and rounded up";
    let wall = larger.spread.wall();
    reckoning.measured(At(head, "wall_needed_mm"), meaning, wall, how, &[("s_w", limit)]).value
}

fn not_found(section: &Section, why: &str) -> Remark {
    let message = format!("section `{}`: its strength was not found: {why}", section.id);
    Remark::warning("strength-not-found", message)
        .place(section.place.clone())
        .cure("`strength = \"none\"` in the section, if that is known to be no matter")
}

/// The remark on a peak that the steel does not bear.
fn short(section: &Section, strength: &SectionStrength, case: &Case, cured: &Cured) -> Remark {
    let at = strength.contour.as_ref().map_or("a side".to_owned(), |edge| format!("edge `{edge}`"));
    let message = format!(
        "section `{}`: spread by {:.0} N/mm2, {at} sees {:.0} N/mm2, +{:.0} % error, at X {:.3} Y {:.3}, and the steel bears {:.0}: {:.2} times, {} are wanted",
        section.id,
        case.spread.pressures.iter().copied().fold(0.0, f64::max),
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
    if let Some(larger) = &cured.larger {
        let ([x, y], wall) = (larger.spread.outside.size(), larger.spread.wall());
        remark = remark.cure(match case.piece {
            None => format!("a block of {x:.1} x {y:.1}: the thinnest wall is then {wall:.2}"),
            Some(edge) => format!(
                "edge `{}` larger by {:.1} all round, {x:.1} x {y:.1}: the thinnest wall is then {wall:.2}",
                edge.id, larger.by
            ),
        });
    }
    remark
        .cure("relief below a short land, or a back bore: fewer slugs press")
        .cure("`spreading` in [forces], where more clearance spreads less")
}
