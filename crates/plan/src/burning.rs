//! Burning all start holes of a section in one set-up: order, electrodes, minutes.
//!
//! Stages: what each hole asks for; the order, the finest electrode first and then short ways; which electrode burns
//! which hole, each used until the next hole would ask for more than is left of it; the program; the entry in the plan.

use crate::burn::{self, Asks, Burn};
use crate::burn_program::{self, Spot, Step};
use crate::figure::Figure;
use crate::hole::Terms;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::burning as rules;
use crate::rules::time::BURN_MINUTES;
use crate::section::World;
use crate::short_way;
use job::{Depth, Face, Known, Section, Shop};
use outline::Point;
use package as published;
use remark::Remark;

/// One hole that is to be burned.
#[derive(Debug)]
pub struct ToBurn<'a> {
    /// Number of its opening in the section, from 1.
    pub number: usize,
    /// Id of its edge.
    pub id: &'a str,
    /// Its centre.
    pub place: Point,
    /// How it is burned.
    pub burn: &'a Burn,
    /// The electrode's row.
    pub row: usize,
    /// What the shop allows for its electrode.
    pub terms: Terms,
    /// What it asks of its electrode.
    pub asks: Asks,
}

impl<'a> ToBurn<'a> {
    /// What one edge asks for; none where its hole is there already.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        shop: &Shop,
        (number, id, place): (usize, &'a str, Point),
        (burn, row): (&'a Burn, usize),
    ) -> Option<Self> {
        if burn.measured.is_some() || burn.ground.is_some() {
            return None;
        }
        let terms = burn.terms(reckoning, head, shop, row);
        let asks = burn::asks(reckoning, head, burn.depth, terms);
        Some(Self { number, id, place, burn, row, terms, asks })
    }
}

/// A hole with the electrode that burns it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Turn {
    /// Which hole.
    pub hole: usize,
    /// Which electrode of its diameter, from 1.
    pub electrode: u32,
    /// Whether the same electrode burns the next hole too.
    pub dress_after: bool,
}

/// The entry, the program's entry, and its text. `number` is the program's place in the section's list.
pub type Burned = (published::Burning, published::Program, String);

/// Settles how the holes of a section are burned.
pub fn of(
    reckoning: &mut Reckoning,
    world: World,
    section: &Section,
    holes: &[ToBurn],
    number: usize,
) -> Result<Option<Burned>, Vec<Remark>> {
    if holes.is_empty() {
        return Ok(None);
    }
    let shop = world.shop;
    let turns = turns(shop, section, holes);
    let id = format!("{}-burn-1", section.id);
    let key = format!("{}.burning.", section.id);
    let mut entries: Vec<published::BurnedHole> = turns
        .iter()
        .enumerate()
        .map(|(k, turn)| {
            entry(reckoning, &format!("{key}holes.{k}."), (shop, section), &holes[turn.hole], *turn)
        })
        .collect();
    let beyond = |hole: &published::BurnedHole| hole.travel_mm - hole.depth_mm;
    let free_below = entries.iter().map(beyond).fold(0.0, f64::max);
    let farthest = entries.iter().position(|hole| beyond(hole) == free_below).unwrap_or(0);
    let said = |name: &str| reckoning.figure(&format!("{key}holes.{farthest}.{name}"));
    let of: Vec<(&str, Figure)> = [("Z", said("travel_mm")), ("z", said("depth_mm"))]
        .into_iter()
        .filter_map(|(name, said)| Some((name, said?)))
        .collect();
    let free_below = reckoning.measured(
        At(&key, "free_below_mm"),
        what("length of electrode that may stand below the block", "Z_f", "mm"),
        free_below,
        "largest travel beyond the metal, should the electrode not wear at all",
        &of,
    );
    let electrodes = electrodes(reckoning, &key, shop, holes, &turns);
    let steps: Vec<Step> = turns
        .iter()
        .zip(&entries)
        .map(|(turn, entry)| Step { number: holes[turn.hole].number, entry, bore: bored(&holes[turn.hole]) })
        .collect();
    let spot = Spot { world, section, id: &id, free_below: free_below.value, electrodes: &electrodes };
    let (text, blocks) = burn_program::write(&spot, &steps).map_err(|fault| {
        vec![Remark::error("program", format!("program {id}: {fault}")).place(section.place.clone())]
    })?;
    for (k, (entry, blocks)) in entries.iter_mut().zip(blocks).enumerate() {
        entry.blocks = blocks;
        for (i, value) in blocks.into_iter().enumerate() {
            let name = format!("holes.{k}.blocks.{i}");
            let meaning = what("first or last N word of this hole", "N", "");
            reckoning.chosen(At(&key, &name), meaning, f64::from(value), "N words count by tens", &[]);
        }
    }
    let (minutes, attended) = minutes(reckoning, &key, shop, &entries);
    let program = program(reckoning, section, (&id, number), &entries, minutes);
    let burning = published::Burning {
        program: id,
        from_face: burn::face(section.burn_from.value),
        holes: entries,
        electrodes,
        depth: match shop.burner.depth.value {
            Depth::Travel => published::BurnDepth::Travel,
            Depth::Tip => published::BurnDepth::Tip,
        },
        free_below_mm: free_below.value,
        minutes: minutes.value,
        attended_minutes: attended.value,
        functions: functions(reckoning, &key, shop),
    };
    Ok(Some((burning, program, text)))
}

/// Depth of the bore that the tip goes down through before it touches, mm.
fn bored(hole: &ToBurn) -> f64 {
    match (hole.burn.from, hole.burn.bore) {
        (Face::Back, Some(bore)) => bore.depth.value,
        _ => 0.0,
    }
}

/// The finest electrode first: should one fail, least work is lost. Then short ways, from the datum corner on.
fn turns(shop: &Shop, section: &Section, holes: &[ToBurn]) -> Vec<Turn> {
    let diameter = |hole: &ToBurn| shop.electrodes[hole.row].diameter.value;
    let mut sizes: Vec<f64> = holes.iter().map(diameter).collect();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup();
    let [block_x, block_y] = section.block();
    let mut at = Point::new(-block_x / 2.0, -block_y / 2.0);
    let mut turns = Vec::new();
    for size in sizes {
        let same: Vec<usize> = (0..holes.len()).filter(|i| diameter(&holes[*i]) == size).collect();
        let places: Vec<Point> = same.iter().map(|i| holes[*i].place).collect();
        let order: Vec<usize> = short_way::through(&places, at).into_iter().map(|k| same[k]).collect();
        at = order.last().map_or(at, |last| holes[*last].place);
        let asks: Vec<(f64, f64)> =
            order.iter().map(|i| (holes[*i].asks.wear.value, holes[*i].asks.length.value)).collect();
        let burner = &shop.burner;
        let used = electrode_of(&asks, burner.electrode_length.value, burner.dress_length.value);
        for (k, &hole) in order.iter().enumerate() {
            let dress_after = used.get(k + 1) == Some(&used[k]);
            turns.push(Turn { hole, electrode: used[k], dress_after });
        }
    }
    turns
}

/// Which electrode burns each hole, from 1: `asks` holds what a hole wears off and what it needs in all, mm. Between two
/// holes the tip is dressed; a new one is taken when the next hole would need more than is left.
pub fn electrode_of(asks: &[(f64, f64)], length: f64, dressed: f64) -> Vec<u32> {
    let mut left = length;
    let mut number = 1;
    let mut found = Vec::with_capacity(asks.len());
    for (i, (wears, needs)) in asks.iter().enumerate() {
        if i > 0 {
            left -= dressed;
            if left < *needs {
                left = length;
                number += 1;
            }
        }
        left -= wears;
        found.push(number);
    }
    found
}

fn entry(
    reckoning: &mut Reckoning,
    key: &str,
    (shop, section): (&Shop, &Section),
    hole: &ToBurn,
    turn: Turn,
) -> published::BurnedHole {
    let (t, asks) = (&hole.terms, &hole.asks);
    let mut same = |name, meaning, symbol, of: Figure| {
        let how = "the number of its start hole";
        reckoning.measured(At(key, name), what(meaning, symbol, "mm"), of.value, how, &[(symbol, of)]).value
    };
    let electrode_mm = same("electrode_mm", "electrode", "e", t.electrode);
    let depth_mm = same("depth_mm", "metal to go through", "z", hole.burn.depth);
    let stand_off_mm = same("stand_off_mm", "stand-off of the guide above the metal", "s", t.stand_off);
    let break_through_mm =
        same("break_through_mm", "how far the tip goes on beyond the metal", "y", asks.through);
    let burn_depth_mm = same("burn_depth_mm", "depth that the tip burns", "z_b", asks.depth);
    let wear_mm = same("wear_mm", "length of electrode used up", "w_e", asks.wear);
    let travel_mm = match shop.burner.depth.value {
        Depth::Travel => reckoning.rule(At(key, "travel_mm"), &rules::TRAVEL, [asks.depth, asks.wear]).value,
        Depth::Tip => {
            let why = "the control makes up for wear: the program states the depth of the tip";
            let meaning = what("what the program's Z goes down", "Z", "mm");
            reckoning
                .chosen(At(key, "travel_mm"), meaning, asks.depth.value, why, &[("z_b", asks.depth)])
                .value
        }
    };
    let minutes = reckoning.rule(At(key, "minutes"), &BURN_MINUTES, [asks.depth, t.rate]);
    let why = "an electrode is used until the next hole would ask for more than is left of it";
    let meaning = what("which electrode of its diameter", "N", "");
    reckoning.chosen(At(key, "electrode_number"), meaning, f64::from(turn.electrode), why, &[]);
    published::BurnedHole {
        contour: hole.id.to_owned(),
        x_mm: hole.place.x,
        y_mm: hole.place.y,
        electrode_mm,
        from_face: burn::face(section.burn_from.value),
        depth_mm,
        stand_off_mm,
        break_through_mm,
        burn_depth_mm,
        wear_mm,
        travel_mm,
        minutes: minutes.value,
        electrode_number: turn.electrode,
        dress_after: turn.dress_after,
        blocks: [0, 0],
    }
}

/// What to take along, one entry a diameter in the order of use.
fn electrodes(
    reckoning: &mut Reckoning,
    key: &str,
    shop: &Shop,
    holes: &[ToBurn],
    turns: &[Turn],
) -> Vec<published::ElectrodeUse> {
    let mut rows: Vec<usize> = turns.iter().map(|turn| holes[turn.hole].row).collect();
    rows.dedup();
    let mut found = Vec::new();
    for (j, row) in rows.into_iter().enumerate() {
        let mine: Vec<&Turn> = turns.iter().filter(|turn| holes[turn.hole].row == row).collect();
        let used = mine.iter().map(|turn| turn.electrode).max().unwrap_or(0);
        let worn: f64 = mine.iter().map(|turn| holes[turn.hole].asks.wear.value).sum();
        let dressings = mine.iter().filter(|turn| turn.dress_after).count();
        let each = reckoning.known(
            At("shop:burner.", "dress_length_mm"),
            what("length lost when a tip is burned square", "d_1", "mm"),
            &shop.burner.dress_length,
        );
        let head = format!("{key}electrodes.{j}.");
        let mut say = |name, meaning, symbol, unit, value, how, of: &[(&str, Figure)]| {
            reckoning.measured(At(&head, name), what(meaning, symbol, unit), value, how, of).value
        };
        let t = &holes[mine[0].hole].terms;
        let diameter_mm = say(
            "diameter_mm",
            "diameter of these electrodes",
            "e",
            "mm",
            t.electrode.value,
            "the electrode of these holes",
            &[("e", t.electrode)],
        );
        say("holes", "holes burned with them", "n", "", mine.len() as f64, "counted", &[]);
        let wears: Vec<(String, Figure)> = mine
            .iter()
            .enumerate()
            .map(|(i, turn)| (format!("w_{}", i + 1), holes[turn.hole].asks.wear))
            .collect();
        let wears: Vec<(&str, Figure)> = wears.iter().map(|(name, wear)| (name.as_str(), *wear)).collect();
        let meaning = "length that burning uses up";
        let wear_mm = say("wear_mm", meaning, "w", "mm", worn, "sum over these holes", &wears);
        let dressed = dressings as f64 * each.value;
        let how = "dressings between holes, counted";
        let dressed_mm =
            say("dressed_mm", "length that dressing uses up", "d", "mm", dressed, how, &[("d_1", each)]);
        let how = "each used until the next hole would ask for more than is left of it";
        say("used", "electrodes used", "N", "", f64::from(used), how, &[]);
        say("take", "electrodes to take along", "N_t", "", f64::from(used + 1), "one to spare", &[]);
        found.push(published::ElectrodeUse {
            diameter_mm,
            holes: mine.len() as u32,
            wear_mm,
            dressed_mm,
            used,
            take: used + 1,
        });
    }
    found
}

/// Minutes in all, set-up excluded, and attended ones with it.
fn minutes(
    reckoning: &mut Reckoning,
    key: &str,
    shop: &Shop,
    holes: &[published::BurnedHole],
) -> (Figure, Figure) {
    let burner = &shop.burner;
    let mut known = |name, meaning, known: &Known<f64>| {
        reckoning.known(At("shop:", name), what(meaning, "T_1", "min"), known)
    };
    let dress = known("burner.dress_minutes", "dressing a tip and touching the block", &burner.dress_minutes);
    let change = known("burner.change_minutes", "putting another electrode in", &burner.change_minutes);
    let setup = known(
        "cutting.hole_minutes_attended",
        "attended part of burning the first hole of a section",
        &shop.cutting.hole_minutes_attended,
    );
    let dressings = holes.iter().filter(|hole| hole.dress_after).count();
    let changes = holes.len() - dressings;
    let sum = holes.iter().map(|hole| hole.minutes).sum();
    let keys: Vec<String> = (0..holes.len()).map(|i| format!("{key}holes.{i}.minutes")).collect();
    let meaning = what("burning", "T_b", "min");
    let burning = reckoning.sum(At(key, "burning_minutes"), meaning, sum, "sum over the holes", &keys);
    let mut times = |name, meaning, symbol, value, how, of: &[(&str, Figure)]| {
        reckoning.measured(At(key, name), what(meaning, symbol, "min"), value, how, of)
    };
    let dressing = times(
        "dressing_minutes",
        "dressing and touching",
        "T_d",
        dressings as f64 * dress.value,
        "dressings between holes, counted",
        &[("T_1", dress)],
    );
    let changing = times(
        "changing_minutes",
        "changes of electrode",
        "T_e",
        changes as f64 * change.value,
        "electrodes put in, counted",
        &[("T_1", change)],
    );
    let all = reckoning.rule(At(key, "minutes"), &rules::PROGRAM_MINUTES, [burning, dressing, changing]);
    let attended =
        reckoning.rule(At(key, "attended_minutes"), &rules::ATTENDED_MINUTES, [setup, dressing, changing]);
    (all, attended)
}

fn program(
    reckoning: &mut Reckoning,
    section: &Section,
    (id, number): (&str, usize),
    holes: &[published::BurnedHole],
    minutes: Figure,
) -> published::Program {
    let key = format!("{}.programs.{number}.", section.id);
    let meaning = what("minutes of this program, set-up excluded", "T_p", "min");
    let how = "the minutes of burning this section";
    let minutes = reckoning.measured(At(&key, "minutes"), meaning, minutes.value, how, &[("T_p", minutes)]);
    published::Program {
        guides: None,
        id: id.to_owned(),
        path: format!("programs/{id}.nc"),
        machine: published::Machine::Burner,
        face_up: burn::face(section.burn_from.value),
        wire_mm: None,
        contours: holes.iter().map(|hole| hole.contour.clone()).collect(),
        minutes: minutes.value,
        functions: None,
        transform: Some(burn_program::transform(section.burn_from.value)),
        phases: Vec::new(),
    }
}

fn functions(reckoning: &mut Reckoning, key: &str, shop: &Shop) -> published::BurnerFunctions {
    let burner = &shop.burner;
    let mut said = |name, meaning, known: &Known<u32>| {
        let number = Known { value: f64::from(known.value), from: known.from.clone() };
        reckoning.known(At(key, name), what(meaning, "M", ""), &number);
        known.value
    };
    published::BurnerFunctions {
        spark_on: said(
            "functions.spark_on",
            "machine function that turns spark and rotation on",
            &burner.spark_on,
        ),
        spark_off: said("functions.spark_off", "machine function that turns them off", &burner.spark_off),
        stop: said("functions.stop", "machine function that stops for the operator", &burner.stop),
        end: said("functions.end", "machine function that ends the program", &burner.end),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: 100 long, each hole wears 30 and then reaches 20, dressing takes 1. 100 -> 70, dressed 69 >= 50 -> 39,
    /// dressed 38 < 50: the third hole takes a new one.
    #[test]
    fn an_electrode_is_used_until_the_next_hole_asks_for_more() {
        assert_eq!(electrode_of(&[(30.0, 50.0); 5], 100.0, 1.0), [1, 1, 2, 2, 3]);
        assert_eq!(electrode_of(&[(30.0, 50.0); 3], 111.9, 1.0), [1, 1, 2]);
        assert_eq!(electrode_of(&[(30.0, 50.0); 3], 112.0, 1.0), [1, 1, 1]);
        assert_eq!(electrode_of(&[(30.0, 50.0), (0.0, 20.0)], 51.0, 1.0), [1, 1]);
        assert_eq!(electrode_of(&[], 51.0, 1.0), [0u32; 0]);
    }

    /// A trade press article on hole burning reports one electrode for about 15 holes of 1.0 mm through 50 mm of hardened
    /// D2, with 20 to 25 % wear. The length of that electrode is not said: tubes are 300 to 400 long (from memory), of
    /// which the shop's 250 can be used. Order of magnitude, no more.
    #[test]
    fn holes_an_electrode_are_of_the_order_that_is_reported() {
        let through = (rules::BREAK_THROUGH.of)([1.0, 0.05]);
        let depth = (rules::BURN_DEPTH.of)([50.0, through]);
        for wear in [20.0, 25.0] {
            let wears = (rules::WEAR.of)([wear, depth]);
            let needs = (rules::ELECTRODE_NEED.of)([wears, depth, 2.0]);
            let holes = electrode_of(&[(wears, needs); 40], 250.0, 0.5).iter().filter(|n| **n == 1).count();
            assert!((10..=20).contains(&holes), "{wear} %: {holes} holes");
        }
    }
}
