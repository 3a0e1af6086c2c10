//! Land, relief and guides as plan and program state them: whether they belong together, before anything is followed.

use crate::fault::Spot;
use crate::machine::{Event, Run};
use package::{Contour, Fault, Guides, PlanSection, Program};

/// A comment rounds to this, mm.
const COMMENT: f64 = 2e-4;
/// Reliefs that a wire can cut, degrees.
const STEEPEST: f64 = 45.0;
/// Guides are no farther from the block than this, mm.
const FARTHEST: f64 = 1000.0;

/// What is wrong with the land and the relief of a contour.
pub fn of_plan(section: &PlanSection, contour: &Contour) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut wrong = |message: String| {
        faults.push(Spot::default().fault("relief", format!("contour `{}`: {message}", contour.id)));
    };
    let (land, angle, height) = (contour.land_mm, contour.relief_deg, section.size_mm[2]);
    if !(0.0..=STEEPEST).contains(&angle) || !(0.0..=height + 1e-9).contains(&land) {
        wrong(format!("a land of {land} and a relief of {angle} are none that a block of {height} can have"));
    }
    let relief = contour.wire.as_ref().map(|wire| wire.relief.is_some());
    match relief {
        Some(true) if angle <= 0.0 => {
            wrong("its relief is cut, and it is planned straight through".to_owned())
        }
        Some(false) if angle > 0.0 => wrong(format!("a relief of {angle} is planned, and no cut of it")),
        _ => {}
    }
    faults
}

/// What is wrong with the guides of a program, and with what its head says of them and of its reliefs.
pub fn of_head(run: &Run, program: &Program, contours: &[&Contour]) -> Vec<Fault> {
    let spot = Spot::program(&program.id);
    let mut faults = Vec::new();
    if let Some(Guides { upper_z_mm, lower_z_mm }) = program.guides
        && !((0.0..=FARTHEST).contains(&upper_z_mm) && (-FARTHEST..0.0).contains(&lower_z_mm))
    {
        let message =
            format!("guides at {upper_z_mm} and {lower_z_mm} cannot hold a wire in a block below 0");
        faults.push(spot.fault("guides", message));
    }
    let mut edge: Option<&Contour> = if let [only] = contours { Some(only) } else { None };
    let mut differs = |code: &str, text: &str, pairs: &[(Option<f64>, &str)]| {
        let agrees = pairs.iter().all(|(planned, said)| {
            let said = said.parse::<f64>().ok().map(|said| said * run.unit);
            planned.zip(said).is_some_and(|(planned, said)| (planned - said).abs() <= COMMENT)
        });
        if !agrees {
            let planned: Vec<String> = pairs
                .iter()
                .map(|(planned, _)| planned.map_or("nothing".to_owned(), |mm| format!("{mm:.5}")))
                .collect();
            let message = format!("the head says ({text}), and the plan has {} mm", planned.join(" and "));
            faults.push(spot.fault(code, message));
        }
    };
    for event in &run.events {
        let Event::Comment(text) = event else { continue };
        let words: Vec<&str> = text.split_whitespace().collect();
        match words[..] {
            ["EDGE", id] => edge = contours.iter().find(|one| one.id.eq_ignore_ascii_case(id)).copied(),
            ["GUIDES", "UPPER", "Z", upper, "LOWER", "Z", lower, ..] => {
                let of = |pick: fn(Guides) -> f64| program.guides.map(pick);
                let pairs =
                    [(of(|guides| guides.upper_z_mm), upper), (of(|guides| guides.lower_z_mm), lower)];
                differs("guides", text, &pairs);
            }
            ["RELIEF", "OFFSET", offset, "AT", "DEPTH", depth] => {
                let wire = edge.and_then(|one| one.wire.as_ref());
                let relief = wire.and_then(|wire| wire.relief.as_ref());
                let pairs = [(relief.map(|one| one.offset_mm), offset), (edge.map(|one| one.land_mm), depth)];
                differs("relief", text, &pairs);
            }
            _ => {}
        }
    }
    faults
}
