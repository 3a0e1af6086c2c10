//! What a punch bears: stress, buckling about its weakest axis, the smallest one that would do, pressure on the backing.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::{force, punch as rules};
use crate::section::World;
use crate::sheet::{metal, shear_strength, thickness};
use job::{Edge, Guiding, Head, Punch, Section};
use outline::{Outline, largest_circle};
use package::{Buckling, BucklingCase, PunchStrength, SmallestPunch};
use remark::Remark;

/// The punch that is asked about.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// Its section.
    pub section: &'a Section,
    /// Its edge.
    pub edge: &'a Edge,
    /// What the job says about it.
    pub asked: &'a Punch,
    /// Its finished edge.
    pub outline: &'a Outline,
    /// Name of its steel.
    pub steel: &'a str,
    /// Its hardness, HRC.
    pub hardness: Figure,
    /// Its free length, mm.
    pub length: Figure,
}

/// What buckling and stress hang on.
#[derive(Debug, Clone, Copy)]
struct Column {
    area: Figure,
    moment: Figure,
    modulus: Figure,
    yielding: Figure,
    factor: Figure,
    length: Figure,
}

/// How the ends of a punch are held.
pub fn guiding<'a>(world: World<'a>, asked: &Punch) -> Option<&'a Guiding> {
    world.facts.punch().guiding(asked.guided.as_ref().map(|name| name.value.as_str()))
}

/// What the punch bears, and what a person should know of it; none where the strength of the sheet is not known.
pub fn of(reckoning: &mut Reckoning, world: World, subject: Subject) -> Option<(PunchStrength, Vec<Remark>)> {
    let of_edge = format!("{}.{}.", subject.section.id, subject.edge.id);
    let head = format!("{of_edge}punch.strength.");
    let cutting = reckoning.figure(&format!("{of_edge}forces.peak_n"))?;
    let pushing = reckoning.figure(&format!("{of_edge}forces.push_through_n"))?;
    let load = reckoning.rule(At(&head, "load_n"), &rules::LOAD, [cutting, pushing]);
    let column = column(reckoning, world, &head, subject)?;
    let stress = reckoning.rule(At(&head, "stress_mpa"), &rules::STRESS, [load, column.area]);
    let cutting_stress =
        reckoning.rule(At(&head, "cutting_stress_mpa"), &rules::STRESS, [cutting, column.area]);
    let limit = limit(reckoning, world, &head, column);
    let buckling = buckling(reckoning, &head, column, load);
    let smallest = smallest(reckoning, world, (&of_edge, &head), (subject, column, limit))?;
    let bears = bears(reckoning, &head, subject, column);
    let pressure = reckoning.rule(At(&head, "head_pressure_mpa"), &rules::HEAD_PRESSURE, [load, bears]);
    let limits = world.facts.punch();
    let meaning = what("pressure above which the backing is hardened", "p_max", "N/mm2");
    let soft = reckoning.known(At("fact:punch.", "head_pressure_mpa"), meaning, &limits.head_pressure_mpa);
    let meaning = what("load that buckles over the load that is borne, at least", "v_min", "");
    let reserve = reckoning.known(At("fact:punch.", "buckling_reserve"), meaning, &limits.buckling_reserve);
    let mut strength = PunchStrength {
        load_n: load.value,
        stress_mpa: stress.value,
        cutting_stress_mpa: cutting_stress.value,
        stress_limit_mpa: limit.value,
        buckling,
        smallest,
        head_area_mm2: bears.value,
        head_pressure_mpa: pressure.value,
        backing_needed: pressure.value > soft.value,
        holds: true,
    };
    let spared = Spared { reserve: reserve.value, longest: longest(column, load.value * reserve.value) };
    let remarks = remarks(subject, &strength, spared);
    strength.holds = remarks.is_empty();
    Some((strength, remarks))
}

fn column(reckoning: &mut Reckoning, world: World, head: &str, subject: Subject) -> Option<Column> {
    let steel = world.facts.steel(subject.steel)?;
    let mut measured = |name: &str, meaning, symbol, unit, value| {
        let how = "exact over the lines and arcs of the finished punch";
        reckoning.measured(At(head, name), what(meaning, symbol, unit), value, how, &[])
    };
    let area = measured("area_mm2", "area of the punch", "A", "mm2", subject.outline.area());
    let moment = measured(
        "buckling.second_moment_mm4",
        "least second moment of area about an axis through the centroid",
        "I",
        "mm4",
        subject.outline.second_moments().least,
    );
    let key = format!("fact:steel.{}.", subject.steel);
    let meaning = what("Young's modulus of the punch", "E", "N/mm2");
    let modulus = reckoning.known(At(&key, "modulus_mpa"), meaning, &steel.modulus_mpa);
    let meaning = what("compressive yield of the punch", "s_y", "N/mm2");
    let at = At(head, "yield_mpa");
    let yielding = match steel.compressive_yield(subject.hardness.value) {
        Some(known) => reckoning.known(at, meaning, &known),
        None => {
            let work = work_stress(reckoning, world);
            let why = "no compressive yield is known for this steel: the working stress stands for it";
            reckoning.chosen(at, meaning, work.value, why, &[("s_w", work)])
        }
    };
    let way = guiding(world, subject.asked)?;
    let meaning = what("buckling length over free length, by how the ends are held", "K", "");
    let factor = reckoning.known(At(head, "buckling.length_factor"), meaning, &way.factor);
    Some(Column { area, moment, modulus, yielding, factor, length: subject.length })
}

fn work_stress(reckoning: &mut Reckoning, world: World) -> Figure {
    let meaning = what("stress that a point is worked to", "s_w", "N/mm2");
    reckoning.known(At("fact:punch.", "work_stress_mpa"), meaning, &world.facts.punch().work_stress_mpa)
}

fn limit(reckoning: &mut Reckoning, world: World, head: &str, column: Column) -> Figure {
    let work = work_stress(reckoning, world);
    reckoning.rule(At(head, "stress_limit_mpa"), &rules::STRESS_LIMIT, [work, column.yielding])
}

/// The load that buckles the punch: Euler's, or below the transition Johnson's.
fn buckling(reckoning: &mut Reckoning, head: &str, column: Column, load: Figure) -> Buckling {
    let Column { area, moment, modulus, yielding, factor, length } = column;
    let at = |name| At(head, name);
    let slender =
        reckoning.rule(at("buckling.slenderness"), &rules::SLENDERNESS, [factor, length, moment, area]);
    let transition = reckoning.rule(at("buckling.transition"), &rules::TRANSITION, [modulus, yielding]);
    let (case, buckles) = match slender.value >= transition.value {
        true => {
            let inputs = [modulus, moment, factor, length];
            (BucklingCase::Euler, reckoning.rule(at("buckling.load_n"), &rules::EULER, inputs))
        }
        false => {
            let inputs = [area, yielding, slender, transition];
            (BucklingCase::Johnson, reckoning.rule(at("buckling.load_n"), &rules::JOHNSON, inputs))
        }
    };
    let reserve = reckoning.rule(at("buckling.reserve"), &rules::RESERVE, [buckles, load]);
    let longest = match is_slender(column, load.value) {
        true => reckoning.rule(
            at("buckling.longest_mm"),
            &rules::LONGEST_BY_EULER,
            [factor, modulus, moment, load],
        ),
        false => {
            let inputs = [transition, load, area, yielding, moment, factor];
            reckoning.rule(at("buckling.longest_mm"), &rules::LONGEST_BY_JOHNSON, inputs)
        }
    };
    Buckling {
        case,
        length_factor: factor.value,
        second_moment_mm4: moment.value,
        load_n: buckles.value,
        reserve: reserve.value,
        longest_mm: longest.value,
    }
}

/// Whether a punch that just bears a load is a slender one: both formulas meet at half of the yield.
fn is_slender(column: Column, load: f64) -> bool {
    load <= column.area.value * column.yielding.value / 2.0
}

/// The greatest length at which a load is just borne.
fn longest(column: Column, load: f64) -> f64 {
    let Column { area, moment, modulus, yielding, factor, .. } = column;
    if is_slender(column, load) {
        return (rules::LONGEST_BY_EULER.of)([factor.value, modulus.value, moment.value, load]);
    }
    let transition = (rules::TRANSITION.of)([modulus.value, yielding.value]);
    (rules::LONGEST_BY_JOHNSON.of)([transition, load, area.value, yielding.value, moment.value, factor.value])
}

fn smallest(
    reckoning: &mut Reckoning,
    world: World,
    (of_edge, head): (&str, &str),
    (subject, column, limit): (Subject, Column, Figure),
) -> Option<SmallestPunch> {
    let sheet = world.job.sheet.as_ref()?;
    let t = thickness(reckoning, sheet);
    let tau = shear_strength(reckoning, sheet, world.facts)?;
    let circle = largest_circle(subject.outline, &[]).ok()?;
    let width = reckoning.measured(
        At(head, "smallest.width_mm"),
        what("width of the punch: diameter of the largest circle in it", "w", "mm"),
        2.0 * circle.radius,
        "largest inscribed circle by branch and bound, proven within 1 nm",
        &[],
    );
    let meaning = what("smallest hole over the thickness", "b", "");
    let own = metal(sheet, world.facts).and_then(|metal| metal.smallest_hole.as_ref());
    let factor = match own {
        Some(known) => reckoning.known(At("fact:metal.", "smallest_hole"), meaning, known),
        None => {
            reckoning.known(At("fact:punch.", "smallest_hole"), meaning, &world.facts.punch().smallest_hole)
        }
    };
    let by_metal =
        reckoning.rule(At(head, "smallest.width_by_metal_mm"), &rules::WIDTH_BY_METAL, [factor, t]);
    let cut = reckoning.figure(&format!("{of_edge}forces.length_mm"))?;
    let across = reckoning.rule(At(head, "smallest.across_mm"), &force::ACROSS, [column.area, cut]);
    let by_stress =
        reckoning.rule(At(head, "smallest.across_by_stress_mm"), &rules::ACROSS_BY_STRESS, [t, tau, limit]);
    Some(SmallestPunch {
        width_mm: width.value,
        width_by_metal_mm: by_metal.value,
        across_mm: across.value,
        across_by_stress_mm: by_stress.value,
    })
}

/// The area that bears on the backing.
fn bears(reckoning: &mut Reckoning, head: &str, subject: Subject, column: Column) -> Figure {
    let at = At(head, "head_area_mm2");
    let meaning = what("area that bears on the backing", "A_h", "mm2");
    match &subject.asked.head {
        Head::Own => {
            let how = "no head is given: the punch's own back end";
            reckoning.measured(at, meaning, column.area.value, how, &[("A", column.area)])
        }
        Head::Area(known) => reckoning.known(at, meaning, known),
        Head::Sides([a, b]) => {
            let meaning = |symbol| what("side of the head", symbol, "mm");
            let a = reckoning.known(At(head, "head_sides.0"), meaning("a"), a);
            let b = reckoning.known(At(head, "head_sides.1"), meaning("b"), b);
            reckoning.rule(at, &rules::HEAD_AREA, [a, b])
        }
    }
}

/// What the reserve against buckling asks for.
#[derive(Debug, Clone, Copy)]
struct Spared {
    reserve: f64,
    longest: f64,
}

/// What does not hold, each with its figures and what would cure it.
fn remarks(subject: Subject, strength: &PunchStrength, spared: Spared) -> Vec<Remark> {
    let warn = |code: &str, message: String| {
        let message = format!("edge `{}`: {message}", subject.edge.id);
        Remark::warning(code, message).place(subject.edge.place.clone())
    };
    let PunchStrength { load_n, stress_mpa, cutting_stress_mpa, stress_limit_mpa, .. } = *strength;
    let mut remarks = Vec::new();
    if stress_mpa > stress_limit_mpa {
        let message = format!(
            "its punch bears {stress_mpa:.0} N/mm2 under {load_n:.0} N and is worked to {stress_limit_mpa:.0}; cutting alone makes {cutting_stress_mpa:.0}"
        );
        let remark = warn("punch-stress", message);
        remarks.push(match cutting_stress_mpa <= stress_limit_mpa {
            true => remark
                .cure("relief below a short land, which holds fewer slugs")
                .cure("`push_through` in [forces], where your own slugs go more easily"),
            false => remark.cure("`shear` ground on its face").cure("a thinner or softer sheet"),
        });
    }
    if strength.buckling.reserve < spared.reserve {
        let message = format!(
            "its punch buckles at {:.0} N and bears {load_n:.0}: {:.2} times, {} are wanted",
            strength.buckling.load_n, strength.buckling.reserve, spared.reserve
        );
        let remark = warn("punch-buckles", message);
        let floored = (spared.longest * 10.0).floor() / 10.0;
        let remark = match floored > 0.0 {
            true => remark.cure(format!("a length of {floored} or less out of its holder")),
            false => remark.cure("less load: relief below a short land, or `shear` ground on its face"),
        };
        let free = subject.asked.guided.as_ref().is_none_or(|way| way.value == "free");
        remarks.push(if free {
            remark.cure("`guided = \"stripper\"`, a stripper that guides its tip")
        } else {
            remark
        });
    }
    let SmallestPunch { width_mm, width_by_metal_mm, .. } = strength.smallest;
    if width_mm < width_by_metal_mm {
        let message =
            format!("its punch is {width_mm:.3} wide, and this sheet wants {width_by_metal_mm:.3} or more");
        remarks.push(
            warn("punch-small", message)
                .cure("`guided = \"stripper\"` close above the sheet")
                .cure("a thinner sheet"),
        );
    }
    remarks
}
