//! Asks the program for the number that a row names, through the doors of its rooms.
//!
//! The first word of a quantity says which room: `rule.cut.CLEARANCE_SHARE`, `fact.metal.Al 1100-O.clearance`,
//! `shop.wire.gap`, `outline.area_mm2`, `plan.start.room_mm`, `strength.tension_mpa`, `nc.word.X`, `proof.fault.arc`. A new quantity is one arm here.

use super::expected::Ours;
use super::row::Row;
use super::{bench, fact, measure, planning, starting, stress};
use plan::rulebook;

/// What the program says, and which entries of the coverage that speaks for.
#[derive(Debug)]
pub struct Answer {
    /// The value.
    pub ours: Ours,
    /// Rules, facts, starting values and measured quantities that it went through.
    pub covers: Vec<String>,
}

/// Asks for a row's quantity.
pub fn ask(row: &Row) -> Result<Answer, String> {
    let (room, what) = row.quantity.split_once('.').unwrap_or((&row.quantity, ""));
    let mut answer = match room {
        "rule" => rule(row, what)?,
        "fact" => fact::ask(row, what)?,
        "shop" => starting::ask(row, what)?,
        "outline" => measure::ask(row, what)?,
        "plan" => planning::ask(row, what)?,
        "strength" => stress::ask(row, what)?,
        "nc" => words(row, what)?,
        "proof" => proof_of(row, what)?,
        _ => {
            return Err(format!(
                "no room answers `{}`: add an arm in xtask/src/checks/quantity.rs",
                row.quantity
            ));
        }
    };
    if let (Some(by), Ours::Number(number)) = (row.divide_by, &mut answer.ours) {
        *number /= by;
    }
    Ok(answer)
}

fn rule(row: &Row, id: &str) -> Result<Answer, String> {
    let book = rulebook();
    let rule =
        book.iter().find(|rule| rule.id == id).ok_or_else(|| format!("the planner has no rule `{id}`"))?;
    let numbers: Result<Vec<f64>, String> = rule.inputs.iter().map(|letter| row.number(letter)).collect();
    let numbers = numbers?;
    let ours = match rule.holds(&numbers) {
        false => Ours::Word("out of range".to_owned()),
        true => Ours::Number(rule.of(&numbers).ok_or("the rule does not take these numbers")?),
    };
    Ok(Answer { ours, covers: vec![format!("rule.{id}")] })
}

/// What the lexer makes of a line of program text: the number of a word, or how many faults.
fn words(row: &Row, what: &str) -> Result<Answer, String> {
    let (blocks, faults) = nc::lex(row.text("text")?);
    let ours = match what.strip_prefix("word.") {
        None if what == "faults" => faults.len() as f64,
        None => return Err(format!("`nc.{what}` is not known: `nc.word.X` or `nc.faults`")),
        Some(letter) => {
            let mut words = blocks.iter().flat_map(|block| &block.words);
            let word = words.find(|word| letter.chars().eq([word.letter]));
            word.ok_or_else(|| format!("the lexer finds no word {letter}"))?.value
        }
    };
    Ok(Answer { ours: Ours::Number(ours), covers: vec!["room.nc".to_owned()] })
}

/// Whether the proof finds a fault of this code in a program text.
fn proof_of(row: &Row, what: &str) -> Result<Answer, String> {
    let code = what.strip_prefix("fault.").ok_or("`proof.fault.CODE` is what the proof can be asked")?;
    let planned = bench::planned(row)?;
    let text = row.text("program")?;
    let programs = planned.programs.keys().map(|path| (path.clone(), text.as_bytes().to_vec())).collect();
    let evidence =
        proof::Evidence { plan: planned.plan, inputs: std::collections::BTreeMap::new(), programs };
    let found = proof::prove(&evidence).faults.iter().any(|fault| fault.code == code);
    let word = if found { "fault" } else { "no fault" };
    Ok(Answer { ours: Ours::Word(word.to_owned()), covers: vec!["room.proof".to_owned()] })
}
