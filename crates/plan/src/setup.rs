//! One program: what a wire machine is told in one set-up.

use crate::cutting::{CORNER_MARGIN, Cutting, Feeds};
use crate::lead_in::{LeadIn, past};
use crate::tour;
use job::Shop;
use nc::{Dialect, Output, WriteFault, Writer};
use outline::{Outline, Point, Segment, Vector};

/// Radius of the roll-on of skims, mm, where there is room for it (common practice, no source).
const ROLL_ON: f64 = 0.1;

/// One contour as its program cuts it.
#[derive(Debug, Clone)]
pub struct Cut<'a> {
    /// The edge's id.
    pub id: &'a str,
    /// The finished edge.
    pub target: &'a Outline,
    /// What the wire does.
    pub cutting: &'a Cutting,
    /// Its feeds.
    pub feeds: Feeds,
    /// The way in.
    pub lead_in: &'a LeadIn,
    /// Whether a core must be taken out between the main cut and the skims.
    pub stops: bool,
}

/// What a program's head says.
#[derive(Debug, Clone)]
pub struct Head<'a> {
    /// Job, section and so on: one comment a text.
    pub texts: Vec<String>,
    /// The machine's words.
    pub dialect: &'a Dialect,
    /// Share of the feed on lead-ins.
    pub lead_in_share: f64,
}

/// A program and where its passes stand.
#[derive(Debug, Clone)]
pub struct Written {
    /// The text.
    pub text: String,
    /// For each contour, where each pass stands.
    pub passes: Vec<Vec<Placed>>,
}

/// Where a pass stands in its program.
#[derive(Debug, Clone, Copy)]
pub struct Placed {
    /// Its register; none where the program writes the wire's centre.
    pub register: Option<u32>,
    /// First and last N word.
    pub blocks: [u32; 2],
}

/// The words of a shop's dialect, with the output that this set-up can use.
pub fn dialect(shop: &Shop, output: Output) -> Dialect {
    let own = &shop.dialect;
    let units = match own.units.value {
        job::Units::Mm => nc::Units::Mm,
        job::Units::In => nc::Units::In,
    };
    Dialect {
        units,
        units_words: match own.units_words.value {
            job::UnitsWords::G70G71 => nc::UnitsWords::G70G71,
            job::UnitsWords::G20G21 => nc::UnitsWords::G20G21,
        },
        decimals: own.decimals.as_ref().map_or(Dialect::of(units).decimals, |known| known.value.min(9) as u8),
        output,
        thread: own.thread.value,
        cut: own.cut.value,
        stop: own.stop.value,
        end: own.end.value,
    }
}

/// The output that the shop asks for, unless a lead-in leaves no room for turning a register on.
pub fn output(shop: &Shop, cuts: &[(&Cutting, &LeadIn)]) -> Output {
    let least = shop.dialect.least_lead_in.value;
    let tight = |(cutting, lead_in): &(&Cutting, &LeadIn)| lead_in.last_leg() < cutting.passes.main() + least;
    match shop.dialect.output.value {
        job::Output::Centre => Output::Centre,
        job::Output::Register if cuts.iter().any(tight) => Output::Centre,
        job::Output::Register => Output::Register,
    }
}

/// Writes the program of one set-up.
pub fn write(head: &Head, cuts: &[Cut]) -> Result<Written, WriteFault> {
    let mut writer = Writer::new(head.dialect);
    head.texts.iter().for_each(|text| {
        writer.comment(text);
    });
    let registers = registers(cuts);
    for cut in cuts {
        say_offsets(&mut writer, head.dialect, cut, &registers);
    }
    writer.units();
    writer.absolute();
    writer.plane();
    writer.compensation_off();
    let mut passes = Vec::new();
    for cut in cuts {
        passes.push(contour(&mut writer, head, cut, &registers)?);
    }
    writer.end();
    Ok(Written { text: writer.finish(), passes })
}

/// Distinct offsets of a set-up, in order: the first is register 1.
fn registers(cuts: &[Cut]) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    for pass in cuts.iter().flat_map(|cut| &cut.cutting.passes.passes) {
        if !found.contains(&pass.offset.value) {
            found.push(pass.offset.value);
        }
    }
    found
}

fn register(registers: &[f64], offset: f64) -> u32 {
    registers.iter().position(|known| *known == offset).map_or(0, |i| i as u32 + 1)
}

fn say_offsets(writer: &mut Writer, dialect: &Dialect, cut: &Cut, registers: &[f64]) {
    writer.comment(&format!("EDGE {}", cut.id));
    for (i, pass) in cut.cutting.passes.passes.iter().enumerate() {
        let offset =
            format!("{:.*}", usize::from(dialect.decimals) + 1, pass.offset.value / dialect.unit_mm());
        writer.comment(&match dialect.output {
            Output::Register => {
                format!("D{} = {offset} PASS {}", register(registers, pass.offset.value), i + 1)
            }
            Output::Centre => format!("PASS {} OFFSET {offset}", i + 1),
        });
    }
}

fn contour(
    writer: &mut Writer,
    head: &Head,
    cut: &Cut,
    registers: &[f64],
) -> Result<Vec<Placed>, WriteFault> {
    let hole = cut.lead_in.way[0];
    writer.comment(&format!("EDGE {}: THREAD IN ITS START HOLE", cut.id));
    writer.rapid(hole.x, hole.y)?;
    writer.thread();
    let mut found = Vec::new();
    for pass in 0..cut.cutting.passes.passes.len() {
        if pass == 1 && cut.stops {
            writer.cut();
            writer.comment(&format!("EDGE {}: TAKE THE CORE OUT, THEN GO ON", cut.id));
            writer.stop();
            writer.thread();
        }
        let first = writer.comment(&format!("EDGE {} PASS {}", cut.id, pass + 1));
        let used = match head.dialect.output {
            Output::Register => Some(by_register(writer, head, cut, pass, registers)?),
            Output::Centre => {
                by_centre(writer, head, cut, pass)?;
                None
            }
        };
        found.push(Placed { register: used, blocks: [first, writer.last()] });
    }
    writer.cut();
    if cut.stops && cut.cutting.passes.passes.len() == 1 {
        writer.comment(&format!("EDGE {}: TAKE THE CORE OUT", cut.id));
        writer.stop();
    }
    Ok(found)
}

fn feed(cut: &Cut, pass: usize) -> f64 {
    if pass == 0 { cut.feeds.main.value } else { cut.feeds.skim.value }
}

fn by_register(
    writer: &mut Writer,
    head: &Head,
    cut: &Cut,
    pass: usize,
    registers: &[f64],
) -> Result<u32, WriteFault> {
    let number = register(registers, cut.cutting.passes.passes[pass].offset.value);
    let pieces: Vec<Segment> = cut.cutting.edges[pass][0].segments().collect();
    let way = &cut.lead_in.way;
    let (inner, meets) = (&way[1..way.len() - 1], cut.lead_in.meets());
    writer.feed(feed(cut, pass) * head.lead_in_share)?;
    for bend in inner {
        writer.line(bend.x, bend.y)?;
    }
    writer.left(number);
    writer.line(meets.x, meets.y)?;
    writer.feed(feed(cut, pass))?;
    follow(writer, &tour::around(&pieces, meets, cut.lead_in.overlap))?;
    writer.feed(feed(cut, pass) * head.lead_in_share)?;
    writer.off();
    for back in way[..way.len() - 1].iter().rev() {
        writer.line(back.x, back.y)?;
    }
    Ok(number)
}

fn by_centre(writer: &mut Writer, head: &Head, cut: &Cut, pass: usize) -> Result<(), WriteFault> {
    let offset = cut.cutting.passes.passes[pass].offset.value;
    let pieces: Vec<Segment> = cut.cutting.centres[pass][0].segments().collect();
    let way = &cut.lead_in.way;
    let main: Vec<Segment> = cut.cutting.edges[0][0].segments().collect();
    let (meets, inward) = past(&main, cut.lead_in.segment, cut.lead_in.share, 0.0);
    let arrives = meets + inward * offset;
    writer.feed(feed(cut, pass) * head.lead_in_share)?;
    for bend in &way[1..way.len() - 1] {
        writer.line(bend.x, bend.y)?;
    }
    let rolls = if pass > 0 { roll_on(cut, arrives, inward, offset) } else { None };
    match rolls {
        None => writer.line(arrives.x, arrives.y)?,
        Some(arc) => {
            writer.line(arc.from.x, arc.from.y)?;
            follow(writer, &[arc])?;
            writer.last()
        }
    };
    writer.feed(feed(cut, pass))?;
    follow(writer, &tour::around(&pieces, arrives, cut.lead_in.overlap))?;
    writer.feed(feed(cut, pass) * head.lead_in_share)?;
    for back in way[..way.len() - 1].iter().rev() {
        writer.line(back.x, back.y)?;
    }
    Ok(())
}

/// A quarter circle that arrives along the edge, where the wire stays clear on it.
fn roll_on(cut: &Cut, arrives: Point, inward: Vector, offset: f64) -> Option<Segment> {
    let from_bend = cut.lead_in.way[cut.lead_in.way.len() - 2];
    let radius = ROLL_ON.min(0.5 * from_bend.distance(arrives));
    let along = -inward.left();
    let from = arrives + inward * radius - along * radius;
    let arc = Segment { from, to: arrives, bulge: (std::f64::consts::FRAC_PI_8).tan() };
    let clear = |place: Point| cut.target.signed_distance(place) >= offset - CORNER_MARGIN / 100.0;
    let all = (0..=16).map(|k| f64::from(k) / 16.0);
    let on_way = all.clone().all(|t| clear(from_bend.towards(from, t)));
    (radius > 10.0 * CORNER_MARGIN && on_way && all.into_iter().all(|t| clear(arc.at(t)))).then_some(arc)
}

fn follow(writer: &mut Writer, pieces: &[Segment]) -> Result<(), WriteFault> {
    for piece in pieces {
        match piece.centre() {
            None => writer.line(piece.to.x, piece.to.y)?,
            Some(centre) => {
                let arm = centre - piece.from;
                writer.arc(piece.to.x, piece.to.y, arm.x, arm.y, piece.bulge < 0.0)?
            }
        };
    }
    Ok(())
}
