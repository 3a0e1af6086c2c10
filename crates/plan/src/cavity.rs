//! A section in the cavity of its frame: limits to grind to, clearance or interference, the force of pressing it in.

use crate::contour::Studied;
use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::alignment as alignment_rules;
use crate::rules::cavity as rules;
use crate::section::World;
use job::{Cavity, Fit, From, Known, Section};
use package as published;
use remark::Remark;

/// Clearance in all in a measured cavity, where the job does not say, mm (common practice, no source).
const MEASURED_CLEARANCE: f64 = 0.003;
/// Corners of an opening sharper than this tear where the block is pressed in, mm (common practice, no source).
const SHARP: f64 = 0.2;

/// A measured cavity that is further off the block than this is another one, or is written wrongly, mm (common
/// practice, no source).
const OFF_SIZE: f64 = 0.1;

/// One axis of the block in its cavity.
struct Axis<'a> {
    name: &'a str,
    size: Figure,
    /// Size of the block across it.
    across: f64,
}

/// How the section sits in its cavity; nothing where the job does not say.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    studied: &[Studied],
) -> Result<(Option<published::Cavity>, Vec<Remark>), Vec<Remark>> {
    let Some(cavity) = &section.cavity else { return Ok((None, Vec::new())) };
    let (mut sides, mut forces, mut faults) = (Vec::new(), Vec::new(), Vec::new());
    for (i, name) in ["x", "y"].into_iter().enumerate() {
        let size = reckoning.known(
            At(&format!("{}.", section.id), &format!("size_mm.{i}")),
            what("finished block along this axis", "B_0", "mm"),
            &section.size[i],
        );
        let axis = Axis { name, size, across: section.size[1 - i].value };
        let key = format!("{}.cavity.sides.{i}.", section.id);
        match limits(reckoning, world, (cavity, i), &axis, &key) {
            Ok((hole, shaft)) => {
                let (side, least) = side(reckoning, &key, &axis, hole, shaft);
                forces.push(force(reckoning, world, section, &axis, &key, least)?);
                sides.push(side);
            }
            Err(message) => faults.push(Remark::error("fit", message).place(section.place.clone())),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let press_force_n = reckoning
        .measured(
            At(&format!("{}.", section.id), "cavity.press_force_n"),
            what("force of pressing it in, at most", "F_p", "N"),
            forces.iter().map(|force| force.value).sum(),
            "sum over both axes, each at its most interference",
            &[("F_x", forces[0]), ("F_y", forces[1])],
        )
        .value;
    let fit = match cavity {
        Cavity::Fit(fit) => Some(format!("{}/{}", fit.value.hole.word(), fit.value.shaft.word())),
        Cavity::Measured { .. } => None,
    };
    let remarks = tears(section, studied, &sides).into_iter().chain(off_size(section, &sides)).collect();
    Ok((Some(published::Cavity { fit, sides, press_force_n }), remarks))
}

/// Play of the section in its cavity, plus or minus, once it has been written down; the wider axis.
pub fn play(reckoning: &mut Reckoning, section: &Section) -> Option<Figure> {
    let most = |i: usize| format!("{}.cavity.sides.{i}.clearance_mm.1", section.id);
    let sides = [0, 1].map(|i| reckoning.figure(&most(i)));
    let wider = sides.into_iter().flatten().max_by(|a, b| a.value.total_cmp(&b.value))?;
    Some(reckoning.rule(
        At(&format!("{}.alignment.", section.id), "play_mm"),
        &alignment_rules::PLAY,
        [wider],
    ))
}

type Pair = [Figure; 2];

/// Least and greatest size of cavity and section.
fn limits(
    reckoning: &mut Reckoning,
    world: World,
    (cavity, i): (&Cavity, usize),
    axis: &Axis,
    key: &str,
) -> Result<(Pair, Pair), String> {
    match cavity {
        Cavity::Fit(fit) => by_fit(reckoning, world, fit, axis, key),
        Cavity::Measured { pocket, clearance } => {
            let stated = what("cavity as it was measured", "C", "mm");
            let pocket = reckoning.known(At(key, "measured_mm"), stated, &pocket[i]);
            let left_out = Known {
                value: MEASURED_CLEARANCE,
                from: From::Default { why: "0.003 in all, common practice" },
            };
            let clearance = reckoning.known(
                At(key, "wanted_clearance_mm"),
                what("clearance in all that is wanted", "s", "mm"),
                clearance.as_ref().unwrap_or(&left_out),
            );
            let to = reckoning.rule(At(key, "section_mm.0"), &rules::GROUND_TO, [pocket, clearance]);
            Ok(([pocket, pocket], [to, to]))
        }
    }
}

fn by_fit(
    reckoning: &mut Reckoning,
    world: World,
    fit: &Known<Fit>,
    axis: &Axis,
    key: &str,
) -> Result<(Pair, Pair), String> {
    let beyond = || {
        format!(
            "the block is {} along {}, and the table of fits ends at {}: grind to a measured cavity instead",
            axis.size.value,
            axis.name,
            world.facts.largest_fit()
        )
    };
    let mut limits = |zone: job::Zone, what_of: &str, meaning| -> Result<Pair, String> {
        let deviations = world.facts.deviations(zone, axis.size.value).ok_or_else(beyond)?;
        let mut limit = |end: usize| {
            let at = format!("{what_of}_deviation_mm.{end}");
            let deviation = reckoning.known(At(key, &at), what(meaning, "e", "mm"), &deviations[end]);
            reckoning.rule(At(key, &format!("{what_of}_mm.{end}")), &rules::LIMIT, [axis.size, deviation])
        };
        Ok([limit(0), limit(1)])
    };
    let hole = limits(fit.value.hole, "cavity", "deviation of the cavity")?;
    let shaft = limits(fit.value.shaft, "section", "deviation of the section")?;
    Ok((hole, shaft))
}

fn side(
    reckoning: &mut Reckoning,
    key: &str,
    axis: &Axis,
    hole: Pair,
    shaft: Pair,
) -> (published::CavitySide, Figure) {
    let least = reckoning.rule(At(key, "clearance_mm.0"), &rules::CLEARANCE, [hole[0], shaft[1]]);
    let most = reckoning.rule(At(key, "clearance_mm.1"), &rules::CLEARANCE, [hole[1], shaft[0]]);
    let mut published = |name: &str, pair: Pair| {
        [0, 1].map(|end| {
            let meaning = what("limit of size", "B", "mm");
            let at = format!("{name}.{end}");
            reckoning.measured(At(key, &at), meaning, pair[end].value, "as stated", &[("B", pair[end])]).value
        })
    };
    let side = published::CavitySide {
        axis: axis.name.to_owned(),
        cavity_mm: published("cavity_mm", hole),
        section_mm: published("section_mm", shaft),
        clearance_mm: [least.value, most.value],
    };
    (side, least)
}

fn force(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    axis: &Axis,
    key: &str,
    least: Figure,
) -> Result<Figure, Vec<Remark>> {
    let steel = world.facts.steel(&section.steel.value).ok_or_else(|| {
        let message = format!("steel `{}` is not in the facts", section.steel.value);
        vec![Remark::error("steel", message).place(section.place.clone())]
    })?;
    let modulus = reckoning.known(
        At(&format!("fact:steel.{}.", steel.name), "modulus_mpa"),
        what("Young's modulus of the steel", "E", "N/mm2"),
        &steel.modulus_mpa,
    );
    let across = reckoning.measured(
        At(key, "across_mm"),
        what("width of the side that is pressed", "W", "mm"),
        axis.across,
        "the block's other side",
        &[],
    );
    let height = reckoning.known(
        At(&format!("{}.", section.id), "size_mm.2"),
        what("finished block, height", "h", "mm"),
        &section.size[2],
    );
    Ok(reckoning.rule(
        At(key, "press_force_n"),
        &rules::PRESS_FORCE,
        [least, modulus, axis.size, across, height],
    ))
}

/// Interference pulls at the corners of openings: sharp ones tear.
fn tears(section: &Section, studied: &[Studied], sides: &[published::CavitySide]) -> Option<Remark> {
    let tight = sides.iter().map(|side| side.clearance_mm[0]).fold(f64::INFINITY, f64::min);
    if tight >= 0.0 {
        return None;
    }
    let sharp: Vec<&str> = (section.edges.iter().zip(studied))
        .filter(|(_, one)| {
            !one.opening.is_outside()
                && one.opening.target.tightest_corner(true).is_some_and(|corner| corner.radius < SHARP)
        })
        .map(|(edge, _)| edge.id.as_str())
        .collect();
    (!sharp.is_empty()).then(|| {
        let message = format!(
            "section `{}`: the fit can press by {:.3}, and {} has corners sharper than {SHARP}: they tear",
            section.id,
            -tight,
            sharp.join(", ")
        );
        Remark::warning("interference-at-sharp-corners", message)
            .place(section.place.clone())
            .cure("a fit that always clears, as H7/g6, or a measured cavity")
    })
}

/// A measured cavity and the block's stated size that speak of different blocks.
fn off_size(section: &Section, sides: &[published::CavitySide]) -> Option<Remark> {
    let measured = matches!(section.cavity, Some(Cavity::Measured { .. }));
    let (side, size) = sides
        .iter()
        .zip(&section.size)
        .find(|(side, size)| measured && (side.section_mm[0] - size.value).abs() > OFF_SIZE + 1e-9)?;
    let message = format!(
        "section `{}`: its `size` is {} along {}, and the measured cavity asks for {:.3}",
        section.id, size.value, side.axis, side.section_mm[0]
    );
    let remark = Remark::warning("cavity-off-size", message).place(section.place.clone());
    Some(remark.cure("the `size` that the cavity asks for, or the cavity measured again"))
}
