//! The figures of one opening, as lines of a column: what the operator enters, or why it is not made here.

use crate::column::{FIGURE, Line, SMALL, WORD};
use crate::{cores, figure};
use package::{Bound, Contour, FaceUp, PlanSection, Program, Side, StartKind, StartLimits, Wire};

/// The lines of an opening, the gravest first.
pub fn lines(number: usize, contour: &Contour) -> Vec<Line> {
    let mut lines = vec![(WORD, format!("{number}  {}", contour.id))];
    if contour.start.is_none() || contour.wire.is_none() {
        lines.push((FIGURE, "NOT IN THIS SHOP".into()));
        islands(&mut lines, contour);
        refusal(&mut lines, &contour.start_limits);
    }
    start(&mut lines, contour);
    if let Some(wire) = &contour.wire {
        passes(&mut lines, wire);
    }
    if let Some(tab) = contour.wire.as_ref().and_then(|wire| wire.tab.as_ref()) {
        lines.push((FIGURE, format!("tab {}: STAY", figure::size(tab.width_mm, 2))));
    }
    for core in &contour.cores {
        let what = if core.held && contour.side == Side::Outside { "piece" } else { "core" };
        lines.push((WORD, format!("{what} {}", cores::words(core))));
    }
    corners(&mut lines, contour);
    edge(&mut lines, contour);
    lines
}

/// The block lies with its back up in a program that cuts the contour, or in any: said first, at arm's length, since
/// the drawing beside shows it from the other face.
pub fn turned(section: &PlanSection, contour: Option<&str>) -> Vec<Line> {
    let back = |p: &&Program| {
        p.face_up == FaceUp::Back && contour.is_none_or(|c| p.contours.iter().any(|id| id == c))
    };
    let programs: Vec<&str> = section.programs.iter().filter(back).map(|p| p.id.as_str()).collect();
    if programs.is_empty() {
        return Vec::new();
    }
    vec![
        (FIGURE, "BACK UP".into()),
        (SMALL, format!("at the machine in {}: what is drawn here lies mirrored there", programs.join(", "))),
    ]
}

/// Metal that stands inside, and what would help.
fn islands(lines: &mut Vec<Line>, contour: &Contour) {
    for island in &contour.islands {
        lines.push((WORD, format!("metal inside, {}, would FALL", island.drawn_as)));
        lines.extend(island.cures.iter().map(|cure| (SMALL, format!("\u{2013} {cure}"))));
    }
}

fn refusal(lines: &mut Vec<Line>, limits: &StartLimits) {
    for Bound { bound, have_mm, need_mm, .. } in limits.bounds.iter().filter(|b| !b.holds) {
        lines.push((WORD, format!("{bound}: SHORT {}", figure::size((need_mm - have_mm).abs(), 3))));
        lines.push((SMALL, format!("have {have_mm:.3}, need {need_mm:.3}")));
    }
    if limits.of_hole() {
        lines.push((WORD, format!("largest hole {:.3}", limits.largest_hole_mm)));
    }
    for (i, cure) in limits.cures.iter().enumerate() {
        if i == 0 {
            lines.push((SMALL, "Would cure it:".into()));
        }
        let room = cure.room_mm.map_or("not reckoned yet".into(), |r| figure::signed(r, 3));
        lines.push((SMALL, format!("\u{2013} {}: room {room}", cure.change)));
    }
}

fn start(lines: &mut Vec<Line>, contour: &Contour) {
    let Some(start) = &contour.start else { return };
    lines.push((FIGURE, format!("X {}", figure::signed(start.x_mm, 4))));
    lines.push((FIGURE, format!("Y {}", figure::signed(start.y_mm, 4))));
    if start.kind == StartKind::FromOutside {
        lines.push((WORD, "from outside: no hole".into()));
        return;
    }
    let hole = start.hole_diameter_mm;
    lines.push((WORD, format!("hole {:.3}, exit {:.3}", hole.entry, hole.exit)));
    if let Some(measured) = start.measured {
        lines.push((WORD, format!("MEASURED: open straight {:.3}", measured.light_mm)));
    }
    let way = match start.kind {
        StartKind::Burned => format!("electrode {}", figure::size(start.electrode_mm.unwrap_or(0.0), 3)),
        StartKind::Drilled => "drilled while soft".into(),
        StartKind::HalfGround => {
            let radius = start.half_round.map_or(0.0, |half| half.wheel_radius_mm);
            format!("half-rounds, wheel radius {}", figure::size(radius, 3))
        }
        StartKind::FromOutside => "from outside".into(),
    };
    lines.push((WORD, format!("{way}, deep {}", figure::size(start.depth_mm, 2))));
    let word = if start.room_mm < 0.0 { "SHORT" } else { "room" };
    lines.push((FIGURE, format!("{word} {}", figure::signed(start.room_mm, 3))));
    lines.push((SMALL, chance(start.clean_up_probability)));
}

/// Never rounded up to certainty.
fn chance(probability: f64) -> String {
    match probability {
        p if p > 0.9999 => "cleans up: over 99.99 %".into(),
        p => format!("cleans up: {:.2} %", (p * 1e4).floor() / 100.0),
    }
}

fn passes(lines: &mut Vec<Line>, wire: &Wire) {
    lines.push((WORD, format!("wire {}, {} passes", figure::size(wire.diameter_mm, 3), wire.passes.len())));
    if wire.passes.iter().any(|p| p.register.is_none()) {
        lines.push((SMALL, "Program writes the wire's centre: enter no offset.".into()));
    }
    if let Some(relief) = &wire.relief {
        lines.push((FIGURE, format!("tilted first  {}", figure::signed(relief.offset_mm, 4))));
        let longest = figure::size(relief.land_longest_mm, 2);
        lines.push((SMALL, format!("offset at the land's end; the land may be {longest} long")));
    }
    for (i, pass) in wire.passes.iter().enumerate() {
        let register = pass.register.map_or(String::new(), |d| format!("D{d}  "));
        lines.push((FIGURE, format!("{}  {register}{}", i + 1, figure::signed(pass.offset_mm, 4))));
    }
    let mut programs: Vec<&str> = wire.passes.iter().map(|p| p.program.as_str()).collect();
    programs.dedup();
    lines.push((SMALL, format!("program {}", programs.join(", "))));
}

fn corners(lines: &mut Vec<Line>, contour: &Contour) {
    let deepest = contour.missed_corners.iter().map(|m| m.depth_mm).fold(0.0, f64::max);
    match contour.missed_corners.len() {
        0 => {}
        1 => lines.push((SMALL, format!("1 corner left, {}", figure::size(deepest, 4)))),
        n => lines.push((SMALL, format!("{n} corners left, deepest {}", figure::size(deepest, 4)))),
    }
}

fn edge(lines: &mut Vec<Line>, contour: &Contour) {
    let clearance = figure::size(contour.clearance_per_side_mm, 4);
    lines.push((
        SMALL,
        format!("edge \u{00B1}{}, clearance {clearance} a side", figure::size(contour.tolerance_mm, 4)),
    ));
    if let Some(shift) = contour.size_shift_per_side_mm.filter(|shift| *shift != 0.0) {
        let sign = if shift > 0.0 { "+" } else { "\u{2212}" };
        lines.push((SMALL, format!("size {sign}{} a side, for wear", figure::size(shift.abs(), 4))));
    }
    let relief = match contour.relief_deg {
        0.0 => "straight below".into(),
        deg => format!("relief {} deg a side", figure::size(deg, 3)),
    };
    lines.push((SMALL, format!("land {}, {relief}", figure::size(contour.land_mm, 3))));
}
