//! Offsets three times over: by the plan's own parts, by the plan's registers, by the comments at a program's head.

use crate::fault::Spot;
use crate::machine::{Event, Run};
use package::{Contour, Fault, Program};
use std::collections::BTreeMap;

/// Offsets agree within this, mm: the last decimal that a head's comment carries.
const AGREE: f64 = 1e-6;
/// A comment rounds to this, mm.
const COMMENT: f64 = 2e-5;

/// Faults of the plan's own offsets.
pub fn of_plan(contour: &Contour) -> Vec<Fault> {
    let Some(wire) = &contour.wire else { return Vec::new() };
    let spot = Spot::default();
    let mut faults = Vec::new();
    for (i, pass) in wire.passes.iter().enumerate() {
        let sum = wire.diameter_mm / 2.0 + pass.spark_gap_mm + pass.stock_left_mm;
        if (pass.offset_mm - sum).abs() > AGREE {
            let message = format!(
                "contour `{}`, pass {}: offset {:.5} is not half the wire + spark gap + stock left = {sum:.5}",
                contour.id,
                i + 1,
                pass.offset_mm
            );
            faults.push(spot.fault("offset", message));
        }
        if i + 1 == wire.passes.len() && pass.stock_left_mm.abs() > AGREE {
            let message = format!("contour `{}`: the last pass leaves {:.5}", contour.id, pass.stock_left_mm);
            faults.push(spot.fault("offset", message));
        }
    }
    faults
}

/// Registers of one program that the plan gives two values: a control has one table.
pub fn of_registers(program: &Program, contours: &[&Contour]) -> Vec<Fault> {
    let mut table: BTreeMap<u32, f64> = BTreeMap::new();
    let mut faults = Vec::new();
    for pass in contours.iter().filter_map(|one| one.wire.as_ref()).flat_map(|wire| &wire.passes) {
        let Some(register) = pass.register else { continue };
        let first = *table.entry(register).or_insert(pass.offset_mm);
        if (first - pass.offset_mm).abs() > AGREE {
            let message =
                format!("register {register} is planned with {first:.5} and with {:.5}", pass.offset_mm);
            faults.push(Spot::program(&program.id).fault("register-twice", message));
        }
    }
    faults
}

/// Faults of the comments at a program's head, where there are any.
pub fn of_comments(run: &Run, program: &Program, contours: &[&Contour]) -> Vec<Fault> {
    let spot = Spot::program(&program.id);
    let mut faults = Vec::new();
    // Where only one edge is cut, the head need not name it.
    let mut edge: Option<&Contour> = if let [only] = contours { Some(only) } else { None };
    for event in &run.events {
        let Event::Comment(text) = event else { continue };
        let words: Vec<String> = text.split_whitespace().map(str::to_ascii_uppercase).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let planned = match words[..] {
            ["EDGE", id] => {
                edge = contours.iter().find(|one| one.id.eq_ignore_ascii_case(id)).copied();
                continue;
            }
            [register, "=", value, ..] if register.starts_with('D') => {
                let number = register[1..].parse::<u32>().ok();
                let passes =
                    contours.iter().filter_map(|one| one.wire.as_ref()).flat_map(|wire| &wire.passes);
                let pass = passes.into_iter().find(|pass| number.is_some() && pass.register == number);
                pass.map(|pass| (pass.offset_mm, value))
            }
            ["PASS", number, "OFFSET", value] => {
                let index = number.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
                let pass = edge.and_then(|one| one.wire.as_ref()).and_then(|wire| wire.passes.get(index?));
                pass.map(|pass| (pass.offset_mm, value))
            }
            _ => continue,
        };
        let said = planned.and_then(|(offset, value)| Some((offset, value.parse::<f64>().ok()? * run.unit)));
        match said {
            Some((offset, said)) if (offset - said).abs() <= COMMENT => {}
            Some((offset, said)) => {
                let message =
                    format!("the head says ({text}), that is {said:.5} mm, and the plan has {offset:.5}");
                faults.push(spot.fault("offset", message));
            }
            None => faults
                .push(spot.fault("offset", format!("the head says ({text}), and the plan has no such pass"))),
        }
    }
    faults
}
