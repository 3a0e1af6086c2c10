//! A thousand harmless rewrites of right programs: none may raise an alarm.

use crate::case::{Case, Text};
use crate::damages::{Dice, letter, with};
use crate::holds::cases;
use crate::shape::{P, Seg};
use proof::prove;
use std::collections::BTreeMap;

type Rewrite = (&'static str, fn(&Text, &mut Dice) -> Text);

fn is_comment(block: &str) -> bool {
    block.starts_with('(')
}

fn each(text: &Text, f: impl FnMut(&String) -> Vec<String>) -> Text {
    text.iter().flat_map(f).collect()
}

/// Where each block leaves the wire, in the program's unit.
fn places(text: &Text) -> Vec<P> {
    let mut at = [0.0, 0.0];
    let place = |block: &String| {
        at = [letter(block, 'X').unwrap_or(at[0]), letter(block, 'Y').unwrap_or(at[1])];
        at
    };
    text.iter().map(place).collect()
}

fn now_and_then(dice: &mut Dice) -> bool {
    dice.below(4) == 0
}

/// A move in two, at a place along it.
fn halves(block: &str, from: P, to: P, dice: &mut Dice) -> Vec<String> {
    let t = 0.2 + 0.1 * dice.below(7) as f64;
    let arc = letter(block, 'I').zip(letter(block, 'J')).map(|(i, j)| {
        let c = [from[0] + i, from[1] + j];
        let angle = |p: P| (p[1] - c[1]).atan2(p[0] - c[0]);
        let counter = block.contains("G03");
        let way = if counter { angle(to) - angle(from) } else { angle(from) - angle(to) };
        let way = way.rem_euclid(std::f64::consts::TAU);
        (c, if counter { way } else { -way })
    });
    let middle = Seg { a: from, b: to, arc }.at(t);
    let first = with(block, 'X', |_| format!("{:.7}", middle[0]));
    let first = with(&first, 'Y', |_| format!("{:.7}", middle[1]));
    let second = match arc {
        None => block.to_owned(),
        Some((c, _)) => {
            let second = with(block, 'I', |_| format!("{:.7}", c[0] - middle[0]));
            with(&second, 'J', |_| format!("{:.7}", c[1] - middle[1]))
        }
    };
    vec![first, second]
}

fn split(text: &Text, dice: &mut Dice, which: &[&str]) -> Text {
    let places = places(text);
    let mut i = 0;
    each(text, |block| {
        i += 1;
        let edge = which.iter().any(|g| block.starts_with(g))
            && letter(block, 'X').and(letter(block, 'Y')).is_some();
        if edge && !block.contains('F') && now_and_then(dice) {
            return halves(block, places[i - 2], places[i - 1], dice);
        }
        vec![block.clone()]
    })
}

const REWRITES: &[Rewrite] = &[
    ("lines split", |text, dice| split(text, dice, &["G01"])),
    ("arcs split", |text, dice| split(text, dice, &["G02", "G03"])),
    ("steps for places", |text, _| {
        let places = places(text);
        let mut at: Option<P> = None;
        let mut i = 0;
        each(text, |block| {
            i += 1;
            let to = places[i - 1];
            let Some(from) = at else {
                // The first place is given as it is, then steps begin.
                if block.starts_with("G00") {
                    at = Some(to);
                    return vec![block.clone(), "G91".to_owned()];
                }
                return vec![block.clone()];
            };
            at = Some(to);
            if block == "G90" {
                return Vec::new();
            }
            let block = with(block, 'X', |_| format!("{:.7}", to[0] - from[0]));
            vec![with(&block, 'Y', |_| format!("{:.7}", to[1] - from[1]))]
        })
    }),
    ("the other unit", |text, _| {
        if !text.iter().any(|block| block == "G70" || block == "G71") {
            return text.clone();
        }
        let scale = if text.iter().any(|block| block == "G70") { 25.4 } else { 1.0 / 25.4 };
        each(text, |block| {
            if block.starts_with("(PHASE") {
                return vec![block.clone()];
            }
            if is_comment(block) {
                return Vec::new();
            }
            let mut block = match block.as_str() {
                "G70" => "G71".to_owned(),
                "G71" => "G70".to_owned(),
                other => other.to_owned(),
            };
            for axis in ['X', 'Y', 'I', 'J', 'F'] {
                block = with(&block, axis, |value| format!("{:.8}", value * scale));
            }
            vec![block]
        })
    }),
    ("G20 and G21", |text, _| {
        let convention = |block: &String| block.replace("G70", "G20").replace("G71", "G21");
        text.iter().map(convention).collect()
    }),
    ("modal words repeated", |text, dice| {
        let unit = text.iter().find(|block| *block == "G70" || *block == "G71").cloned().unwrap_or_default();
        let mut on = false;
        each(text, |block| {
            on |= *block == unit;
            let again = on && !is_comment(block) && now_and_then(dice);
            let words = ["G90", "G17", unit.as_str()][dice.below(3)].to_owned();
            if again { vec![words, block.clone()] } else { vec![block.clone()] }
        })
    }),
    ("feeds and registers repeated", |text, dice| {
        let (mut feed, mut register) = (None, None);
        each(text, |block| {
            feed = letter(block, 'F').or(feed);
            register = letter(block, 'D').or(register);
            let plain = block.starts_with("G0") && !block.starts_with("G00") && !block.contains('F');
            match (feed, register, plain && now_and_then(dice)) {
                (Some(feed), Some(register), true) => vec![format!("{block} F{feed} D{register}")],
                (Some(feed), None, true) => vec![format!("{block} F{feed}")],
                _ => vec![block.clone()],
            }
        })
    }),
    ("motion left out where it goes on", |text, _| {
        let mut motion = String::new();
        each(text, |block| {
            let same = !motion.is_empty() && block.starts_with(&motion);
            if is_comment(block) {
                // What comes after may be begun with.
                motion.clear();
            } else if let Some(at) = block.find("G0") {
                motion = block[at..at + 3].to_owned();
            }
            vec![if same { block[4..].to_owned() } else { block.clone() }]
        })
    }),
    ("coordinates left out where they stay", |text, _| {
        let places = places(text);
        let mut i = 0;
        each(text, |block| {
            i += 1;
            let stays = |k: usize| i > 1 && places[i - 1][k] == places[i - 2][k];
            // A full circle names its end.
            if i < 2 || places[i - 1] == places[i - 2] || block.starts_with("G00") {
                return vec![block.clone()];
            }
            let kept =
                |word: &&str| !(word.starts_with('X') && stays(0) || word.starts_with('Y') && stays(1));
            vec![block.split(' ').filter(kept).collect::<Vec<_>>().join(" ")]
        })
    }),
    ("comments added", |text, dice| {
        each(text, |block| match dice.below(6) {
            0 => vec!["(a remark, G00 X9)".to_owned(), block.clone()],
            1 => vec![format!("{block} (so)")],
            _ => vec![block.clone()],
        })
    }),
    ("register before its G", |text, _| {
        each(text, |block| {
            let d = block.split(' ').find(|word| word.starts_with('D') && word.len() < 4).map(str::to_owned);
            match d {
                Some(d) => vec![format!("{d} {}", block.replacen(&format!(" {d}"), "", 1))],
                None => vec![block.clone()],
            }
        })
    }),
    ("compensation in a block of its own", |text, _| {
        each(text, |block| match block.find(" G01") {
            Some(at) => vec![block[..at].to_owned(), block[at + 1..].to_owned()],
            None => vec![block.clone()],
        })
    }),
    ("short G and M", |text, _| {
        let short = |word: &str| match word.strip_prefix("G0").or(word.strip_prefix("M0")) {
            Some(rest) => format!("{}{rest}", &word[..1]),
            None => word.to_owned(),
        };
        each(text, |block| {
            if is_comment(block) {
                return vec![block.clone()];
            }
            vec![block.split(' ').map(short).collect::<Vec<_>>().join(" ")]
        })
    }),
    ("M30 for M02, M01 for M00", |text, _| {
        text.iter().map(|block| block.replace("M02", "M30").replace("M00", "M01")).collect()
    }),
    ("lines doubled", |text, dice| {
        each(text, |block| {
            let line = block.contains("G01") && now_and_then(dice);
            if line { vec![block.clone(), block.clone()] } else { vec![block.clone()] }
        })
    }),
    ("full circles", |text, _| {
        let places = places(text);
        let mut out = Text::new();
        let mut i = 0;
        while i < text.len() {
            let g = text[i].get(..3).unwrap_or_default();
            let pair = matches!(g, "G02" | "G03")
                && i > 0
                && text.get(i + 1).is_some_and(|next| next.starts_with(g))
                && places.get(i + 1) == Some(&places[i - 1]);
            if pair {
                let [x, y] = places[i - 1];
                let block = with(&text[i], 'X', |_| format!("{x}"));
                out.push(with(&block, 'Y', |_| format!("{y}")));
                i += 1;
            } else {
                out.push(text[i].clone());
            }
            i += 1;
        }
        out
    }),
];

/// How the blocks are set on the page.
fn page(text: &Text, dice: &mut Dice, numbered: bool) -> (String, fn(usize) -> u32) {
    let dress = if numbered { [0, 1, 3, 4][dice.below(4)] } else { dice.below(6) };
    let number: fn(usize) -> u32 = if dress % 3 == 0 { |i| i as u32 + 1 } else { |i| 7 * i as u32 };
    let mut out = if dice.below(2) == 0 { "%\n\nO0001\n".to_owned() } else { String::new() };
    for (i, block) in text.iter().enumerate() {
        let number = [format!("N{} ", i + 1), format!("N{:04} ", 7 * i), String::new()][dress % 3].clone();
        let dressed = match dress {
            _ if block.contains('(') => block.clone(),
            0 => block.replace(' ', ""),
            1 => block.to_lowercase(),
            2 => block.replace(" X", "\tX+").replace("X+-", "X-").replace("Y0", "Y+000"),
            3 => block.replace(' ', "   "),
            _ => block.clone(),
        };
        out += &format!("{number}{dressed}{}", ["\n", "\r\n", " \n\n"][dress % 3]);
    }
    (out + if dice.below(2) == 0 { "%\n" } else { "" }, number)
}

#[test]
fn no_harmless_rewrite_raises_an_alarm() {
    let cases = cases();
    let mut dice = Dice(21);
    let (mut done, mut alarms) = (BTreeMap::<&str, usize>::new(), Vec::new());
    let mut proven = 0;
    for round in 0..1_040 {
        let case: &Case = &cases[dice.below(cases.len())];
        let mut text = case.program();
        let mut kinds = Vec::new();
        // One kind in turn, and another now and then before it.
        let second = (dice.below(3) == 0).then(|| dice.below(REWRITES.len()));
        for k in second.into_iter().chain([round % REWRITES.len()]) {
            // Steps and repeated places do not mix with what reads places from the text afterwards.
            let (kind, rewrite) = REWRITES[k];
            if kinds.contains(&"steps for places")
                || kinds.contains(&kind)
                || kinds.contains(&"short G and M")
                // A phase that goes on in steps from the one before cannot be started.
                || case.style.phases && kind == "steps for places"
            {
                continue;
            }
            text = rewrite(&text, &mut dice);
            kinds.push(kind);
        }
        let mut evidence = case.evidence(&text);
        let (page, number) = page(&text, &mut dice, case.style.phases);
        evidence.plan.sections[0].programs[0].phases = case.phases(&text, number);
        evidence.programs.values_mut().for_each(|program| *program = page.clone().into_bytes());
        let proof = prove(&evidence);
        proven += 1;
        kinds.iter().for_each(|kind| *done.entry(kind).or_default() += 1);
        if !proof.holds {
            alarms.push(format!("{}: {kinds:?} {:?} {:?}", case.name, proof.faults.first(), proof.contours));
        }
    }
    for (kind, count) in &done {
        println!("{count:4} rewrites: {kind}");
    }
    println!("{proven} programs rewritten, {} alarms", alarms.len());
    assert!(proven >= 1_000 && done.len() == REWRITES.len());
    assert!(alarms.is_empty(), "{}", alarms.join("\n"));
}
