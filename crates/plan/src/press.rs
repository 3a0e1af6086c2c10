//! The whole die in the press: every section's forces together against the rating, with a reserve.

use crate::figure::Figure;
use crate::forces::summed;
use crate::reckoning::{At, Reckoning, What, what};
use crate::rule::Rule;
use crate::rules::force as rules;
use crate::stroke;
use job::{Job, Shop, Stripper};
use package::{Forces, PlanSection, Press, SectionKind, Side, Stroke};
use remark::Remark;

/// A whole die in its press.
#[derive(Debug)]
pub struct Loaded {
    /// The forces against the rating.
    pub press: Press,
    /// The force over the way of one stroke.
    pub stroke: Stroke,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// What the press must give for all die sections of a job in one stroke; none where nothing is known to be cut.
/// `reckoning` already holds the lines of the sections.
pub fn load(reckoning: &mut Reckoning, job: &Job, shop: &Shop, sections: &[PlanSection]) -> Option<Loaded> {
    let newtons = |meaning, symbol| what(meaning, symbol, "N");
    let mut sum = |name: &str, rule, total| total_of(reckoning, sections, name, rule, total);
    let cutting = sum("cutting_n", &rules::TOGETHER, newtons("cutting force of the die", "F"))?;
    let stripping = sum("stripping_n", &rules::TOGETHER, newtons("stripping force of the die", "S"))?;
    let pushing = newtons("force that pushes slugs through all lands", "Q");
    let push_through = sum("push_through_n", &rules::TOGETHER, pushing)?;
    let work = sum("work_j", &rules::WORK_TOGETHER, what("work of one stroke of the die", "W", "J"))?;
    let entering = stroke::entering(reckoning, job);
    let most = stroke::most(reckoning, &entering, [cutting, push_through])?;
    let at = At("press.", "needed_n");
    let (needed, springs) = match job.forces.stripper.value {
        Stripper::Spring => {
            let forces = [most.cutting, stripping, most.pushing];
            (reckoning.rule(at, &rules::NEEDED_WITH_SPRINGS, forces), stripping.value)
        }
        Stripper::Fixed => (reckoning.rule(at, &rules::NEEDED_WITH_PLATE, [most.cutting, most.pushing]), 0.0),
    };
    let stroke = stroke::published(reckoning, &entering, (&most, needed), springs);
    let [rating, use_at_most] = of_shop(reckoning, shop);
    let share = reckoning.rule(At("press.", "share"), &rules::SHARE_OF_RATING, [needed, rating]);
    let reserve = reckoning.rule(At("press.", "reserve_n"), &rules::RESERVE, [use_at_most, rating, needed]);
    let forces = Forces {
        cutting_n: Some(cutting.value),
        stripping_n: Some(stripping.value),
        push_through_n: Some(push_through.value),
        work_j: Some(work.value),
    };
    let press = Press {
        rating_n: rating.value,
        use_at_most: use_at_most.value,
        forces,
        needed_n: needed.value,
        reserve_n: reserve.value,
        share: share.value,
        holds: reserve.value >= 0.0,
    };
    let thickness = reckoning.figure("job:sheet.thickness_mm")?;
    let cures = stroke::cures(&entering, springs, use_at_most.value * rating.value, thickness.value);
    let remarks = packed(reckoning, sections).into_iter().chain(short(&press, sections, cures)).collect();
    Some(Loaded { press, stroke, remarks })
}

/// A quantity over all die sections; a punch repeats the forces of the opening that it passes through.
fn total_of(
    reckoning: &mut Reckoning,
    sections: &[PlanSection],
    name: &str,
    rule: &Rule<2>,
    total: What,
) -> Option<Figure> {
    let dies = sections.iter().filter(|section| section.kind == SectionKind::Die);
    let parts: Vec<(&str, Figure)> = dies
        .filter_map(|one| Some((one.id.as_str(), reckoning.figure(&format!("{}.forces.{name}", one.id))?)))
        .collect();
    summed(reckoning, ("press.forces.", name), &parts, rule, total)
}

/// Rating of the shop's press, and the share of it that a die may take.
fn of_shop(reckoning: &mut Reckoning, shop: &Shop) -> [Figure; 2] {
    let press = &shop.press;
    let rating = what("rating of the press", "P", "kN");
    let rating = reckoning.known(At("shop:press.", "force_kn"), rating, &press.force_kn);
    let rating = reckoning.rule(At("press.", "rating_n"), &rules::RATING, [rating]);
    let share = what("share of the rating that a die may take", "u", "");
    [rating, reckoning.known(At("press.", "use_at_most"), share, &press.use_at_most)]
}

/// The remark on a press that is too small.
fn short(press: &Press, sections: &[PlanSection], cures: Vec<String>) -> Option<Remark> {
    if press.holds {
        return None;
    }
    let kn = |newtons: f64| newtons / 1000.0;
    let message = format!(
        "the die needs {:.1} kN where it needs most, the press of {:.1} kN may be used to {:.1}: short {:.1}",
        kn(press.needed_n),
        kn(press.rating_n),
        kn(press.use_at_most * press.rating_n),
        -kn(press.reserve_n)
    );
    let packed = press.forces.push_through_n > press.forces.cutting_n;
    let straight = sections.iter().any(|section| !is_relieved(section));
    let mut remark = Remark::warning("press-short", message);
    if packed {
        remark = remark.cure(match straight {
            true => "relief below a short land, which holds fewer slugs",
            false => "a shorter land, which holds fewer slugs",
        });
    }
    let rating = kn(press.needed_n / press.use_at_most).ceil();
    let remark = cures.into_iter().fold(remark, Remark::cure);
    Some(remark.cure(format!("a press of {rating} kN or more")))
}

/// The remark on slugs that are harder to push through than to cut.
fn packed(reckoning: &Reckoning, sections: &[PlanSection]) -> Option<Remark> {
    let value = |key: &str| reckoning.figure(key).map(|figure| figure.value);
    let said = sections.iter().filter_map(|section| {
        let (push, cut) = (section.forces.push_through_n?, section.forces.cutting_n?);
        let slugs = value(&format!("{}.forces.slugs_held", section.id))?;
        let words = format!("`{}` ({slugs} slugs, {:.1} times)", section.id, push / cut);
        (push > cut).then_some((section, words))
    });
    let (packed, said): (Vec<&PlanSection>, Vec<String>) = said.unzip();
    let message = format!(
        "pushing slugs through the straight land takes more than cutting: section {}",
        said.join(", ")
    );
    let land = (5.0 * value("job:sheet.thickness_mm")?).clamp(1.0, 3.0);
    // What is relieved already has as short a land as it was given.
    let straight = packed.iter().any(|section| !is_relieved(section));
    let longer = packed.iter().flat_map(|section| &section.contours).any(|one| one.land_mm > land);
    let cure = match (straight, longer) {
        (true, _) => Some(format!(
            "relief below a land of about {land:.1}: `land = \"{land:.1} mm\"`, `relief_deg = 0.5`"
        )),
        (false, true) => Some(format!("a shorter land, about {land:.1}: `land = \"{land:.1} mm\"`")),
        (false, false) => None,
    };
    (!said.is_empty()).then(|| {
        let remark = Remark::warning("slugs-packed", message);
        let remark = cure.into_iter().fold(remark, Remark::cure);
        remark.cure("`push_through` in [forces], where your own slugs go more easily")
    })
}

/// Whether all openings of a section widen below their lands.
fn is_relieved(section: &PlanSection) -> bool {
    let openings = section.contours.iter().filter(|one| one.side == Side::Inside);
    openings.into_iter().all(|one| one.relief_deg > 0.0)
}
