//! The answer on the terminal: what can be made first, then a line an opening, then what stands in the way.

use crate::date::spoken;
use crate::fastening;
use crate::halves;
use crate::punch;
use package::{
    Contour, Core, Land, PhaseKind, Plan, PlanSection, Press, Program, Proof, SectionStrength, Side,
    StartKind,
};
use std::io::Write;

/// Prints to standard output; false when that is gone.
pub fn print(text: &str) -> bool {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).is_ok()
}

/// The answer to `plan`.
pub fn planned(plan: &Plan, proof: &Proof) -> String {
    let mut out = format!(
        "{}, {}, {}, {} starting values\n{}\n",
        plan.job.name,
        spoken(&plan.job.date),
        plan.shop.name,
        plan.shop.starting_values,
        verdict(plan)
    );
    let rows: Vec<[String; 8]> = plan
        .sections
        .iter()
        .flat_map(|section| section.contours.iter().map(|one| row(plan, section, one)))
        .collect();
    out.push_str(&table(&rows));
    out.push_str(&burning(plan));
    let programs = plan.sections.iter().flat_map(|section| &section.programs);
    programs.filter(|one| !one.phases.is_empty()).for_each(|one| out.push_str(&program(one)));
    for section in &plan.sections {
        section
            .contours
            .iter()
            .filter(|one| one.wire.is_none())
            .for_each(|one| out.push_str(&refusal(plan, section, one)));
    }
    for section in &plan.sections {
        let punched = section.contours.iter().filter_map(|one| Some((one, one.punch.as_ref()?)));
        punched.for_each(|(one, punch)| out.push_str(&punch::line(&name(plan, section, one), punch)));
    }
    let fastened = plan.sections.iter().filter_map(|section| Some((section, section.fastening.as_ref()?)));
    fastened.for_each(|(section, held)| out.push_str(&fastening::lines(&section.id, held)));
    let split = plan.sections.iter().filter_map(|section| Some((section, section.halves.as_ref()?)));
    split.for_each(|(section, one)| out.push_str(&halves::lines(&section.id, one)));
    out.push_str(&lands(plan));
    out.push_str(&borne(plan));
    out.push_str(&plan.press.as_ref().map_or(String::new(), pressed));
    out.push_str(&read_back(proof));
    out
}

/// A program on one line: its wire, and what runs alone and where somebody must stay.
fn program(program: &Program) -> String {
    let part = |phase: &package::Phase| {
        let kind = match phase.kind {
            PhaseKind::Mains => "mains",
            PhaseKind::Cores => "cores",
            PhaseKind::Skims => "skims",
            PhaseKind::Pieces => "pieces",
            PhaseKind::Edges => "edges",
        };
        let who = if phase.attended { "STAY for" } else { "alone:" };
        format!("{who} {kind} {:.0} min", phase.minutes.ceil())
    };
    let parts: Vec<String> = program.phases.iter().map(part).collect();
    let wire = program.wire_mm.map_or(String::new(), |mm| format!("wire {mm:.2}; "));
    format!("{}: {wire}{}\n", program.id, parts.join(", "))
}

/// What is burned over all sections: one electrode more of each diameter than are used.
fn burning(plan: &Plan) -> String {
    let all: Vec<_> = plan.sections.iter().filter_map(|section| section.burning.as_ref()).collect();
    let holes: usize = all.iter().map(|burning| burning.holes.len()).sum();
    if holes == 0 {
        return String::new();
    }
    let mut electrodes: Vec<(f64, u32)> = Vec::new();
    for one in all.iter().flat_map(|burning| &burning.electrodes) {
        match electrodes.iter_mut().find(|(diameter, _)| *diameter == one.diameter_mm) {
            Some((_, used)) => *used += one.used,
            None => electrodes.push((one.diameter_mm, one.used)),
        }
    }
    electrodes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let take = electrodes.iter().map(|(diameter, used)| format!("{diameter:.2} x {}", used + 1));
    let minutes: f64 = all.iter().map(|burning| burning.minutes).sum();
    format!(
        "burn: {holes} hole{}, electrodes {}; {:.0} min\n",
        if holes == 1 { "" } else { "s" },
        take.collect::<Vec<_>>().join(", "),
        minutes.ceil()
    )
}

fn name(plan: &Plan, section: &PlanSection, contour: &Contour) -> String {
    match plan.sections.len() {
        1 => contour.id.clone(),
        _ => format!("{}.{}", section.id, contour.id),
    }
}

fn verdict(plan: &Plan) -> String {
    let contours =
        || plan.sections.iter().flat_map(|section| section.contours.iter().map(move |one| (section, one)));
    let cut = |halves: bool| {
        let split = |one: &Contour| one.start.as_ref().is_some_and(|start| start.half_round.is_some());
        contours().filter(|(_, one)| one.wire.is_some() && split(one) == halves).count()
    };
    // An opening that could be made waits when another one of its section cannot.
    let waits =
        |section: &PlanSection, one: &Contour| one.wire.is_none() && !broken(one) && !section.makeable;
    let list = |pick: &dyn Fn(&PlanSection, &Contour) -> bool| {
        contours()
            .filter(|(s, one)| pick(s, one))
            .map(|(s, one)| name(plan, s, one))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let not = list(&|section, one| one.wire.is_none() && !waits(section, one));
    let waiting = list(&waits);
    let mut parts = vec![format!(
        "CAN BE MADE: {}",
        match (cut(false), cut(true)) {
            (0, 0) => "none".to_owned(),
            (whole, 0) => format!("{whole} in one piece"),
            (0, split) => format!("{split} in two halves"),
            (whole, split) => format!("{whole} in one piece, {split} in two halves"),
        }
    )];
    if !not.is_empty() {
        parts.push(format!("NOT IN THIS SHOP: {not}"));
    }
    if !waiting.is_empty() {
        parts.push(format!("waits for its section: {waiting}"));
    }
    parts.join("; ")
}

fn broken(contour: &Contour) -> bool {
    !contour.islands.is_empty() || contour.start_limits.bounds.iter().any(|bound| !bound.holds)
}

fn row(plan: &Plan, section: &PlanSection, one: &Contour) -> [String; 8] {
    let mark = if broken(one) { "!" } else { " " };
    let way = match &one.start {
        Some(start) if one.wire.is_some() && start.half_round.is_some() => "two halves",
        Some(_) if one.wire.is_some() => "one piece",
        _ => "-",
    };
    let hole = one.start.as_ref().filter(|start| start.kind != StartKind::FromOutside);
    let start = |f: &dyn Fn(&package::Start) -> String| hole.map_or("-".to_owned(), f);
    let wire = |f: &dyn Fn(&package::Wire) -> String| one.wire.as_ref().map_or("-".to_owned(), f);
    [
        mark.to_owned(),
        name(plan, section, one),
        way.to_owned(),
        start(&|start| format!("{:.3}", start.hole_diameter_mm.entry)),
        start(&|start| format!("{:.3}", start.room_mm)),
        wire(&|wire| format!("{:.2}", wire.diameter_mm)),
        wire(&|wire| wire.passes.len().to_string()),
        watch(one),
    ]
}

/// What somebody must keep an eye on.
fn watch(one: &Contour) -> String {
    if !one.islands.is_empty() {
        return "metal inside would fall".to_owned();
    }
    if let Some(bound) = one.start_limits.bounds.iter().find(|bound| !bound.holds) {
        let short = bound.need_mm - bound.have_mm;
        return match bound.bound.as_str() {
            "clean-up" => format!("no hole cleans up: short {short:.3}"),
            "short" => format!("the wire would short on its way: short {short:.3}"),
            other => format!("{other}: short {short:.3}"),
        };
    }
    let mut found = Vec::new();
    if one.start.as_ref().is_some_and(|start| start.kind == StartKind::FromOutside) {
        found.push("from the block's edge".to_owned());
    }
    if one.wire.as_ref().is_some_and(|wire| wire.relief.is_some()) {
        found.push(format!("land {:.1}, relief {}", one.land_mm, one.relief_deg));
    }
    if let Some(tab) = one.wire.as_ref().and_then(|wire| wire.tab.as_ref()) {
        let held = one.cores.iter().filter(|core| core.held).map(|core| core.mass_g).fold(0.0, f64::max);
        let what = if one.side == Side::Outside { "piece" } else { "core" };
        found.push(format!("{what} {} on a tab {:.2}", mass(held), tab.width_mm));
    }
    match one.wire.as_ref().map_or(0, |wire| wire.erosion.len()) {
        0 => {}
        rings => found.push(format!("no core: {rings} {} first", if rings == 1 { "ring" } else { "rings" })),
    }
    let loose: Vec<f64> = one.cores.iter().filter(|core| !core.held).map(|core| core.mass_g).collect();
    match (loose.len(), loose.iter().copied().reduce(f64::max)) {
        (1, Some(g)) if g >= Core::FALLS_FROM_G => found.push(format!("core falls, {}", mass(g))),
        (1, Some(_)) => found.push("core flushes out".to_owned()),
        (n, Some(g)) if g >= Core::FALLS_FROM_G => found.push(format!("{n} cores, up to {} fall", mass(g))),
        (n, Some(_)) => found.push(format!("{n} cores flush out")),
        _ => {}
    }
    if let Some(deepest) = one.missed_corners.iter().map(|miss| miss.depth_mm).reduce(f64::max) {
        found.push(format!("corner left {deepest:.3}"));
    }
    found.join(", ")
}

/// From a kilogram on in kilograms: that is nothing to hold by hand.
fn mass(g: f64) -> String {
    if g < 1000.0 { format!("{g:.2} g") } else { format!("{:.1} kg", g / 1000.0) }
}

fn table(rows: &[[String; 8]]) -> String {
    let heads = ["", "opening", "way", "hole", "room", "wire", "passes", "watch"].map(str::to_owned);
    let all: Vec<&[String; 8]> = std::iter::once(&heads).chain(rows).collect();
    let width = |i: usize| all.iter().map(|row| row[i].chars().count()).max().unwrap_or(0);
    let widths = [0, 1, 2, 3, 4, 5, 6, 7].map(width);
    let mut out = String::new();
    for row in all {
        let mut line = format!("{:<1} ", row[0]);
        for i in 1..8 {
            line.push_str(&format!("{:<w$}  ", row[i], w = widths[i]));
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

fn refusal(plan: &Plan, section: &PlanSection, one: &Contour) -> String {
    if !broken(one) {
        return String::new();
    }
    let mut out = String::new();
    for island in &one.islands {
        out.push_str(&format!(
            "! {}: metal standing inside, {} at x {:.4} y {:.4}, would fall with the core\n",
            name(plan, section, one),
            island.drawn_as,
            island.x_mm,
            island.y_mm
        ));
        island.cures.iter().for_each(|cure| out.push_str(&format!("    {cure}\n")));
    }
    let limits = &one.start_limits;
    if limits.bounds.iter().all(|bound| bound.holds) {
        return out;
    }
    let failed = limits.bounds.iter().filter(|bound| !bound.holds).map(|bound| {
        // What is needed of a tolerance lies in the fourth decimal.
        let decimals = if bound.need_mm.abs() < 0.01 { 4 } else { 3 };
        let name = if bound.bound == "short" { "no short on its way" } else { &bound.bound };
        let have = if bound.have_mm.abs() < 0.5e-3 && decimals == 3 { 0.0 } else { bound.have_mm };
        format!(
            "{name} has {have:.decimals$}, needs {:.decimals$}: short {:.decimals$}",
            bound.need_mm,
            bound.need_mm - bound.have_mm
        )
    });
    let largest = match limits.of_hole() {
        true => format!("largest hole {:.3}; ", limits.largest_hole_mm),
        false => String::new(),
    };
    out.push_str(&format!(
        "! {}, {}: {largest}{}\n",
        name(plan, section, one),
        if section.halves.as_ref().is_some_and(|halves| halves.edges.contains(&one.id)) {
            "two halves"
        } else {
            "one piece"
        },
        failed.collect::<Vec<_>>().join("; ")
    ));
    let width = limits.cures.iter().map(|cure| cure.change.chars().count()).max().unwrap_or(0);
    for cure in &limits.cures {
        let room = cure.room_mm.map_or("room not computed yet".to_owned(), |room| format!("room {room:.3}"));
        out.push_str(&format!("    {:<width$}  {room}\n", cure.change));
    }
    out
}

/// How long lands last that are shorter than their blocks.
fn lands(plan: &Plan) -> String {
    let line = |(section, land): (&PlanSection, &Land)| {
        format!(
            "land of {}: {:.1}, {} regrinds of {}, {:.1} million strokes\n",
            section.id,
            land.land_mm,
            land.regrinds,
            land.regrind_mm,
            land.strokes / 1e6
        )
    };
    plan.sections.iter().filter_map(|section| Some((section, section.land.as_ref()?))).map(line).collect()
}

/// The section that is nearest to what its steel bears, and every other that does not hold.
fn borne(plan: &Plan) -> String {
    let line = |(section, found): (&PlanSection, &SectionStrength)| {
        let at = found.contour.as_ref().map_or("a side".to_owned(), |id| id.clone());
        format!(
            "{}strength: {}.{at} sees {:.0} N/mm2, +{:.0} % error, of {:.0}: {:.2} times, {} wanted\n",
            if found.holds { "" } else { "! " },
            section.id,
            found.peak_mpa,
            100.0 * found.error_share,
            found.limit_mpa,
            found.safety,
            found.safety_wanted
        )
    };
    let all = plan.sections.iter().filter_map(|section| Some((section, section.strength.as_ref()?)));
    let mut sorted: Vec<(&PlanSection, &SectionStrength)> = all.collect();
    sorted.sort_by(|a, b| a.1.safety.total_cmp(&b.1.safety));
    let said = sorted.into_iter().enumerate().filter(|(i, (_, found))| *i == 0 || !found.holds);
    said.map(|(_, one)| line(one)).collect()
}

/// The forces of one stroke of the whole die, and what they take of the press.
fn pressed(press: &Press) -> String {
    let kn = |newtons: Option<f64>| newtons.map_or("-".to_owned(), kilonewtons);
    let forces = &press.forces;
    format!(
        "{}forces: cut {} kN, strip {}, push through {}{}; press {:.0} kN: {:.0} % of its rating{}\n",
        if press.holds { "" } else { "! " },
        kn(forces.cutting_n),
        kn(forces.stripping_n),
        kn(forces.push_through_n),
        staggered(press),
        press.rating_n / 1000.0,
        100.0 * press.share,
        if press.holds { String::new() } else { format!(", {:.0} % may be used", 100.0 * press.use_at_most) }
    )
}

/// One decimal; a small force more of them, so that it does not read as none.
fn kilonewtons(newtons: f64) -> String {
    match newtons / 1000.0 {
        kn if kn == 0.0 || kn >= 0.095 => format!("{kn:.1}"),
        kn if kn >= 0.0095 => format!("{kn:.2}"),
        kn => format!("{kn:.3}"),
    }
}

/// What is needed at once, where that is less than all of it together.
fn staggered(press: &Press) -> String {
    let forces = &press.forces;
    let pushed = forces.cutting_n.unwrap_or(0.0) + forces.push_through_n.unwrap_or(0.0);
    match press.needed_n < pushed * (1.0 - 1e-9) {
        true => format!(", staggered: {:.1} at once", press.needed_n / 1000.0),
        false => String::new(),
    }
}

/// How many contours the proof agrees with.
pub fn read_back(proof: &Proof) -> String {
    let agree = proof.contours.iter().filter(|one| one.holds).count();
    let mut out = format!("read back: {agree} of {} agree\n", proof.contours.len());
    for fault in &proof.faults {
        let place = match (&fault.program, fault.block) {
            (Some(program), Some(block)) => format!(" {program} N{block}"),
            (Some(program), None) => format!(" {program}"),
            _ => String::new(),
        };
        out.push_str(&format!("! {}{place}: {}\n", fault.code, fault.message));
    }
    for one in proof.contours.iter().filter(|one| !one.holds) {
        out.push_str(&format!(
            "! {}.{}: cut too deep {:.4}, metal left {:.4}, scar of the hole {:.4}, edge moved {:.4}\n",
            one.section, one.contour, one.gouge_mm, one.left_mm, one.hole_scar_mm, one.target_moved_mm
        ));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{kilonewtons, mass};

    #[test]
    fn a_small_force_does_not_read_as_none() {
        let said = [0.0, 3.8, 38.0, 380.0, 14_452.0].map(kilonewtons);
        assert_eq!(said, ["0.0", "0.004", "0.04", "0.4", "14.5"]);
    }

    #[test]
    fn a_heavy_core_is_said_in_kilograms() {
        assert_eq!([0.041, 999.0, 45_934.9].map(mass), ["0.04 g", "999.00 g", "45.9 kg"]);
    }
}
