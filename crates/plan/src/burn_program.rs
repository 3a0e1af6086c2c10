//! The program that burns a section's start holes, and how the block lies under it.
//!
//! Each hole: over its place, a stop in which the electrode is put in or dressed and touches the metal (Z 0 there), spark on,
//! down, spark off, up. With the back up the block is turned over left to right: X changes its sign, Y stays.

use crate::section::World;
use crate::setup;
use job::{Depth, Face, Section};
use nc::{Dialect, Output, WriteFault, Writer};
use package::{Axis, BurnedHole, ElectrodeUse, Transform};

/// What the head of the program says.
#[derive(Debug, Clone, Copy)]
pub struct Spot<'a> {
    /// Job and shop.
    pub world: World<'a>,
    /// The section.
    pub section: &'a Section,
    /// The program's id.
    pub id: &'a str,
    /// What must be free below the block, mm.
    pub free_below: f64,
    /// What to take along.
    pub electrodes: &'a [ElectrodeUse],
}

/// One hole as the program burns it.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// Number of its opening in the section.
    pub number: usize,
    /// Its figures.
    pub entry: &'a BurnedHole,
    /// Depth of the bore that the tip goes down through before it touches, mm.
    pub bore: f64,
}

/// Where the program's axes lie in section coordinates.
pub fn transform(from: Face) -> Transform {
    Transform {
        x: match from {
            Face::Cutting => Axis::X,
            Face::Back => Axis::MinusX,
        },
        y: Axis::Y,
    }
}

/// Writes the program; for each hole its first and last N word.
pub fn write(spot: &Spot, steps: &[Step]) -> Result<(String, Vec<[u32; 2]>), WriteFault> {
    let burner = &spot.world.shop.burner;
    let dialect = Dialect {
        stop: burner.stop.value,
        end: burner.end.value,
        ..setup::dialect(spot.world.shop, Output::Centre)
    };
    let mut writer = Writer::new(&dialect);
    for text in head(spot).iter().chain(&list(spot, steps)) {
        writer.comment(text);
    }
    writer.units();
    writer.absolute();
    writer.plane();
    writer.compensation_off();
    let up = burner.retract.value + steps.iter().map(|step| step.bore).fold(0.0, f64::max);
    let mut blocks = Vec::new();
    let mut before: Option<&BurnedHole> = None;
    for step in steps {
        let hole = step.entry;
        let first = writer.comment(&format!(
            "HOLE {} EDGE {} ELECTRODE {} NUMBER {}",
            step.number, hole.contour, hole.electrode_mm, hole.electrode_number
        ));
        writer.rapid(x(spot, hole), hole.y_mm)?;
        for text in ready(hole, before) {
            writer.comment(&text);
        }
        writer.stop();
        writer.function(burner.spark_on.value);
        writer.feed(hole.travel_mm / hole.minutes)?;
        writer.down(-hole.travel_mm)?;
        writer.function(burner.spark_off.value);
        blocks.push([first, writer.up(up)?]);
        before = Some(hole);
    }
    writer.end();
    Ok((writer.finish(), blocks))
}

/// X as the program has it; never a zero with a sign.
fn x(spot: &Spot, hole: &BurnedHole) -> f64 {
    match spot.section.burn_from.value {
        Face::Cutting => hole.x_mm,
        Face::Back => 0.0 - hole.x_mm,
    }
}

/// What is done at the stop before a hole.
fn ready(hole: &BurnedHole, before: Option<&BurnedHole>) -> [String; 2] {
    let electrode = match before {
        Some(last) if last.dress_after => "DRESS THE TIP SQUARE ON SCRAP".to_owned(),
        _ => format!("PUT IN A NEW ELECTRODE {}, TIP SQUARE", hole.electrode_mm),
    };
    let stand_off = rounded(hole.stand_off_mm);
    [electrode, format!("GUIDE {stand_off} ABOVE THE METAL, TOUCH THE METAL, SET Z 0")]
}

/// What a sheet of paper at the machine must say before the first move.
fn head(spot: &Spot) -> Vec<String> {
    let section = spot.section;
    let [x, y, z] = [0, 1, 2].map(|i| section.size[i].value);
    let (face, corner) = match section.burn_from.value {
        Face::Cutting => ("CUTTING FACE UP".to_owned(), format!("LOWER LEFT AT X-{} Y-{}", x / 2.0, y / 2.0)),
        Face::Back => (
            "BACK UP: TURNED OVER LEFT TO RIGHT, X IS THE DRAWING'S -X".to_owned(),
            format!("LOWER RIGHT AT X{} Y-{}", x / 2.0, y / 2.0),
        ),
    };
    let counts = match spot.world.shop.burner.depth.value {
        Depth::Travel => "Z COUNTS TRAVEL OF THE HEAD: WEAR IS ADDED HERE",
        Depth::Tip => "Z COUNTS DEPTH OF THE TIP: THE CONTROL MAKES UP FOR WEAR",
    };
    let take: Vec<String> =
        spot.electrodes.iter().map(|one| format!("{} X {}", one.diameter_mm, one.take)).collect();
    vec![
        "OIL DIELECTRIC BURNS: FIRE WATCH, STAY BY THE MACHINE".to_owned(),
        format!("JOB {} SECTION {} PROGRAM {}", spot.world.job.name, section.id, spot.id),
        format!("BLOCK {x} X {y} X {z} MM {} {} HRC", section.steel.value, section.hardness_hrc.value),
        face,
        "DATUM: MIDDLE OF THE BLOCK, X RIGHT, Y UP".to_owned(),
        format!("DATUM CORNER {corner} MM"),
        "Z 0 IS WHERE THE TIP TOUCHES THE METAL".to_owned(),
        counts.to_owned(),
        format!("FREE BELOW THE BLOCK: {} MM", rounded(spot.free_below)),
        format!("ELECTRODES TO TAKE: {}", take.join(", ")),
        "HEAD UP BEFORE THE START".to_owned(),
    ]
}

/// A line a hole.
fn list(spot: &Spot, steps: &[Step]) -> Vec<String> {
    let line = |step: &Step| {
        let hole = step.entry;
        format!(
            "HOLE {} X{:.4} Y{:.4} ELECTRODE {} DEEP {} + {}, WEAR {}",
            step.number,
            unsigned_zero(x(spot, hole)),
            unsigned_zero(hole.y_mm),
            hole.electrode_mm,
            rounded(hole.depth_mm),
            rounded(hole.break_through_mm),
            rounded(hole.wear_mm)
        )
    };
    steps.iter().map(line).collect()
}

/// What would be written as -0.0000 is 0.
fn unsigned_zero(mm: f64) -> f64 {
    if mm.abs() < 0.5e-4 { 0.0 } else { mm }
}

/// A hundredth is enough for what is read, not driven.
fn rounded(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}
