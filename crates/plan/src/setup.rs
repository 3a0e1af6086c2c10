//! One program: what a wire machine is told in one set-up.

use crate::cutting::CORNER_MARGIN;
use crate::lead_in::past;
use crate::phases::{Phase, Step};
use crate::relief::Guides;
use crate::tilted_cut::{Guided, TiltedCut};
use crate::tour;
use crate::wiring::Wired;
use job::Shop;
use nc::{Dialect, Output, WriteFault, Writer};
use outline::{Outline, Point, Segment, Vector};
use package::PhaseKind;

/// Radius of the roll-on of skims, mm, where there is room for it (common practice, no source).
const ROLL_ON: f64 = 0.1;

/// One contour as its program cuts it.
#[derive(Debug, Clone, Copy)]
pub struct Cut<'a> {
    /// The edge's id.
    pub id: &'a str,
    /// How the wire cuts it.
    pub wired: &'a Wired,
}

impl Cut<'_> {
    /// Where the guides hold the wire, if its relief tilts it.
    pub fn guides(&self) -> Option<Guides> {
        self.wired.tilted.as_ref().map(|cut| cut.tilted.relief.guides)
    }
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

/// A program and where its parts stand.
#[derive(Debug, Clone)]
pub struct Written {
    /// The text.
    pub text: String,
    /// For each contour, where its passes and its tab stand.
    pub cuts: Vec<Stands>,
    /// First and last N word of each phase.
    pub phases: Vec<[u32; 2]>,
}

/// Where the parts of a contour stand in its program.
#[derive(Debug, Clone, Default)]
pub struct Stands {
    /// Each pass.
    pub passes: Vec<Placed>,
    /// First and last N word of the relief's cut.
    pub relief: Option<[u32; 2]>,
    /// First and last N word of each pass over the tab.
    pub tab: Vec<[u32; 2]>,
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

/// How far the way by register may leave the wire's own in a corner, mm.
const IN_CORNER: f64 = 5e-4;

/// The output that the shop asks for, unless a lead-in leaves no room for turning a register on, a piece of the edge is so
/// short that rounding turns it out of the control's hands, or a corner so sharp that its rounding moves the wire.
pub fn output(shop: &Shop, cuts: &[Cut]) -> Output {
    let least = shop.dialect.least_lead_in.value;
    let tight = |cut: &Cut| cut.wired.lead_in.last_leg() < cut.wired.cutting.passes.main() + least;
    let words = dialect(shop, Output::Register);
    let rounding = 0.5 * words.unit_mm() * 10f64.powi(-i32::from(words.decimals));
    match shop.dialect.output.value {
        job::Output::Centre => Output::Centre,
        job::Output::Register
            if cuts.iter().any(|cut| tight(cut) || too_short(cut, rounding) || too_sharp(cut)) =>
        {
            Output::Centre
        }
        job::Output::Register => Output::Register,
    }
}

/// Whether some corner that the wire does not fill is so sharp that rounding it by the margin more than the register keeps the
/// wire out of it: the wire's centre then lies margin * (1/sin(angle/2) - 1) farther off.
fn too_sharp(cut: &Cut) -> bool {
    let (main, filled) = (cut.wired.cutting.passes.main(), !cut.wired.is_piece());
    let reached = cut.wired.target.corners().into_iter().filter(|c| c.inside == filled && c.radius < main);
    reached.into_iter().any(|corner| CORNER_MARGIN * (1.0 / (0.5 * corner.angle).sin() - 1.0) > IN_CORNER)
}

/// Whether some piece of the edge is too short for a register. Rounding moves each of its ends by up to sqrt(2) r and turns it
/// by 2 sqrt(2) r / l; a control that sets it off by H then loses up to H times that at both ends, which must be less than l.
fn too_short(cut: &Cut, rounding: f64) -> bool {
    let cutting = &cut.wired.cutting;
    cutting.edges.iter().zip(&cutting.passes.passes).any(|(edges, pass)| {
        let least = (4.0 * std::f64::consts::SQRT_2 * pass.offset.value * rounding).sqrt();
        edges.iter().flat_map(Outline::segments).any(|piece| piece.is_line() && piece.length() <= least)
    })
}

/// Writes the program of one set-up.
pub fn write(head: &Head, cuts: &[Cut], phases: &[Phase]) -> Result<Written, WriteFault> {
    let mut writer = Writer::new(head.dialect);
    head.texts.iter().for_each(|text| {
        writer.comment(text);
    });
    let registers = registers(cuts);
    for cut in cuts {
        say_offsets(&mut writer, head.dialect, cut, &registers);
    }
    say_guides(&mut writer, head.dialect, cuts);
    let mut written = Setup { writer, head, registers, stands: vec![Stands::default(); cuts.len()] };
    let mut blocks = Vec::new();
    for (i, phase) in phases.iter().enumerate() {
        blocks.push(written.phase(cuts, phase, phases.get(i + 1))?);
    }
    written.writer.end();
    Ok(Written { text: written.writer.finish(), cuts: written.stands, phases: blocks })
}

/// Distinct offsets of a set-up, in order: the first is register 1.
fn registers(cuts: &[Cut]) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    for pass in cuts.iter().flat_map(|cut| &cut.wired.cutting.passes.passes) {
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
    for (i, pass) in cut.wired.cutting.passes.passes.iter().enumerate() {
        let offset =
            format!("{:.*}", usize::from(dialect.decimals) + 1, pass.offset.value / dialect.unit_mm());
        writer.comment(&match dialect.output {
            Output::Register => {
                format!("D{} = {offset} PASS {}", register(registers, pass.offset.value), i + 1)
            }
            Output::Centre => format!("PASS {} OFFSET {offset}", i + 1),
        });
    }
    if let Some(TiltedCut { tilted, .. }) = &cut.wired.tilted {
        let said = |mm: f64| format!("{:.*}", usize::from(dialect.decimals) + 1, mm / dialect.unit_mm());
        let (offset, depth) = (said(tilted.offset.value), said(tilted.relief.land.value));
        writer.comment(&format!("RELIEF OFFSET {offset} AT DEPTH {depth}"));
    }
}

/// Where the guides must hold the wire, if it is ever tilted.
fn say_guides(writer: &mut Writer, dialect: &Dialect, cuts: &[Cut]) {
    if let Some(guides) = cuts.iter().find_map(Cut::guides) {
        let said = |mm: f64| format!("{:.*}", usize::from(dialect.decimals), mm / dialect.unit_mm());
        let (upper, lower) = (said(guides.upper.value), said(guides.lower.value));
        writer.comment(&format!("GUIDES UPPER Z {upper} LOWER Z {lower} FROM THE CUTTING FACE"));
        writer.comment("X Y OF THE LOWER GUIDE, U V OF THE UPPER GUIDE SEEN FROM IT");
    }
}

/// A program as it is written.
struct Setup<'a> {
    writer: Writer,
    head: &'a Head<'a>,
    registers: Vec<f64>,
    stands: Vec<Stands>,
}

/// What ends a run of the wire.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Ends {
    /// It goes back to its hole.
    InHole,
    /// It is cut where it is: a core hangs beside it, or lies loose.
    Where,
}

impl Setup<'_> {
    /// A phase, from its heading to the wire being out.
    fn phase(&mut self, cuts: &[Cut], phase: &Phase, next: Option<&Phase>) -> Result<[u32; 2], WriteFault> {
        let first = self.writer.comment(match phase.kind {
            PhaseKind::Mains => "MAIN CUTS: RUN ALONE",
            PhaseKind::Cores => "CORES: STAY AT THE MACHINE",
            PhaseKind::Skims => "SKIMS: RUN ALONE",
            PhaseKind::Pieces => "PIECES: STAY AT THE MACHINE",
            PhaseKind::Edges => "EDGES ONE AFTER THE OTHER: RUN ALONE",
        });
        self.writer.units();
        self.writer.absolute();
        self.writer.plane();
        self.writer.compensation_off();
        self.writer.say_feed_again();
        for step in &phase.steps {
            self.step(cuts, *step)?;
        }
        if next.is_some_and(Phase::attended) {
            self.writer.comment("STAY AT THE MACHINE FROM HERE");
            self.writer.stop();
        }
        Ok([first, self.writer.last()])
    }

    fn step(&mut self, cuts: &[Cut], step: Step) -> Result<(), WriteFault> {
        let (i, cut) = (step.edge(), &cuts[step.edge()]);
        let hole = cut.wired.lead_in.way[0];
        if let Step::TabPass(_, 0) = step {
            self.writer.comment(&format!("EDGE {}: FIX THE PIECE TO ITS BLOCK, THEN GO ON", cut.id));
            self.writer.stop();
        }
        let place = if cut.wired.beside { "BESIDE THE BLOCK: NO HOLE" } else { "IN ITS START HOLE" };
        self.writer.comment(&format!("EDGE {}: THREAD {place}", cut.id));
        self.rapid(cuts, hole)?;
        self.writer.thread();
        let count = cut.wired.cutting.passes.passes.len();
        let falls = match step {
            Step::Whole(_) => {
                self.relief(i, cut)?;
                self.passes(i, cut, 0..count)?
            }
            Step::Main(_) if cut.wired.tilted.is_some() => self.relief(i, cut)?,
            Step::Main(_) => self.passes(i, cut, 0..1)?,
            Step::Skims(_) => self.passes(i, cut, cut.wired.after_first())?,
            Step::SkimToTab(_, pass) => self.passes(i, cut, pass..pass + 1)?,
            Step::Tab(_) => {
                let blocks = self.tab(cut, 0)?;
                self.stands[i].tab.push(blocks);
                true
            }
            Step::TabPass(_, pass) => {
                let blocks = self.tab(cut, pass)?;
                self.stands[i].tab.push(blocks);
                pass + 1 == count
            }
        };
        self.writer.cut();
        // Nothing moves over a core that may stand out: the stop comes first.
        if falls {
            let what = if cut.wired.is_piece() { "PIECE" } else { "CORE" };
            self.writer.comment(&format!("EDGE {}: TAKE THE {what} OUT, THEN GO ON", cut.id));
            self.writer.stop();
        }
        match step {
            Step::Main(_) | Step::Tab(_) if cut.wired.attended() => self.leave(cuts, cut),
            Step::SkimToTab(..) | Step::TabPass(..) => self.leave(cuts, cut),
            _ => Ok(()),
        }
    }

    /// Passes in one threading. Whether a core is loose afterwards.
    fn passes(&mut self, i: usize, cut: &Cut, which: std::ops::Range<usize>) -> Result<bool, WriteFault> {
        let has_main = which.start == 0 && cut.wired.tilted.is_none();
        let ends = if cut.wired.goes_back(which.start) { Ends::InHole } else { Ends::Where };
        for pass in which {
            let first = self.writer.comment(&format!("EDGE {} PASS {}", cut.id, pass + 1));
            if pass == 0 {
                self.rings(cut)?;
            }
            let used = match self.head.dialect.output {
                Output::Register => Some(self.by_register(cut, pass, ends)?),
                Output::Centre => {
                    self.by_centre(cut, pass, ends)?;
                    None
                }
            };
            self.stands[i].passes.push(Placed { register: used, blocks: [first, self.writer.last()] });
        }
        Ok(has_main && cut.wired.stops)
    }

    /// With the wire out, the guides go back to the hole.
    fn leave(&mut self, cuts: &[Cut], cut: &Cut) -> Result<(), WriteFault> {
        if self.head.dialect.output == Output::Register && cut.wired.tilted.is_none() {
            self.writer.off();
        }
        self.rapid(cuts, cut.wired.lead_in.way[0])
    }

    /// With the wire out to a place; where some edge tilts the wire, the guides are set upright.
    fn rapid(&mut self, cuts: &[Cut], to: Point) -> Result<(), WriteFault> {
        match cuts.iter().any(|cut| cut.wired.tilted.is_some()) {
            true => self.writer.rapid_upright(to.x, to.y)?,
            false => self.writer.rapid(to.x, to.y)?,
        };
        Ok(())
    }

    /// The relief, where there is one. Whether a core is loose afterwards.
    fn relief(&mut self, i: usize, cut: &Cut) -> Result<bool, WriteFault> {
        let Some(tilted) = &cut.wired.tilted else { return Ok(false) };
        let first = self.writer.comment(&format!("EDGE {} RELIEF", cut.id));
        let way = &tilted.lead_in.way;
        let bends = way[1..way.len() - 1].iter().map(|bend| TiltedCut::upright(*bend));
        self.writer.feed(feed(cut, 0) * self.head.lead_in_share)?;
        self.guided(bends.chain([tilted.arrives()]))?;
        self.writer.feed(feed(cut, 0))?;
        self.guided(tilted.round())?;
        if !cut.wired.stops {
            self.writer.feed(feed(cut, 0) * self.head.lead_in_share)?;
            self.guided(way[..way.len() - 1].iter().rev().map(|back| TiltedCut::upright(*back)))?;
        }
        self.stands[i].relief = Some([first, self.writer.last()]);
        Ok(cut.wired.stops)
    }

    fn guided(&mut self, way: impl IntoIterator<Item = Guided>) -> Result<(), WriteFault> {
        for (lower, aside) in way {
            self.writer.line_tilted(lower, aside)?;
        }
        Ok(())
    }

    /// Rings of the wire's centre from the hole outward.
    fn rings(&mut self, cut: &Cut) -> Result<(), WriteFault> {
        for ring in &cut.wired.rings {
            self.writer.feed(feed(cut, 0))?;
            self.writer.line(ring.meets.x, ring.meets.y)?;
            let pieces: Vec<Segment> = ring.way.segments().collect();
            follow(&mut self.writer, &tour::around(&pieces, ring.meets, 0.0))?;
        }
        Ok(())
    }

    /// The lead-in's bends, up to the leg that meets the edge, at its share of a pass's feed.
    fn bends(&mut self, cut: &Cut, feed: f64) -> Result<(), WriteFault> {
        let way = &cut.wired.lead_in.way;
        self.writer.feed(feed * self.head.lead_in_share)?;
        for bend in &way[1..way.len() - 1] {
            self.writer.line(bend.x, bend.y)?;
        }
        Ok(())
    }

    fn back(&mut self, cut: &Cut) -> Result<(), WriteFault> {
        let way = &cut.wired.lead_in.way;
        for back in way[..way.len() - 1].iter().rev() {
            self.writer.line(back.x, back.y)?;
        }
        Ok(())
    }

    fn by_register(&mut self, cut: &Cut, pass: usize, ends: Ends) -> Result<u32, WriteFault> {
        let wired = cut.wired;
        let number = register(&self.registers, wired.cutting.passes.passes[pass].offset.value);
        let pieces = wired.free().pieces(&wired.cutting.edges[pass][0]);
        let meets = wired.lead_in.meets();
        self.bends(cut, feed(cut, pass))?;
        self.writer.left(number);
        self.writer.line(meets.x, meets.y)?;
        self.writer.feed(feed(cut, pass))?;
        let way = match &wired.tab {
            Some(tab) if wired.ends_at_tab(pass) => tour::until(&pieces, meets, tab.from.edge, 0.0),
            _ => tour::around(&pieces, meets, wired.lead_in.overlap),
        };
        follow(&mut self.writer, &way)?;
        if ends == Ends::InHole {
            self.writer.feed(feed(cut, pass) * self.head.lead_in_share)?;
            self.writer.off();
            self.back(cut)?;
        }
        Ok(number)
    }

    fn by_centre(&mut self, cut: &Cut, pass: usize, ends: Ends) -> Result<(), WriteFault> {
        let wired = cut.wired;
        let offset = wired.cutting.passes.passes[pass].offset.value;
        let pieces = wired.free().pieces(&wired.cutting.centres[pass][0]);
        let (meets, inward) = arrival(cut, 0.0);
        let arrives = meets + inward * offset;
        self.bends(cut, feed(cut, pass))?;
        let rolls = if pass > 0 { roll_on(cut, arrives, inward, offset) } else { None };
        match rolls {
            None => self.writer.line(arrives.x, arrives.y)?,
            Some(arc) => {
                self.writer.line(arc.from.x, arc.from.y)?;
                follow(&mut self.writer, &[arc])?;
                self.writer.last()
            }
        };
        self.writer.feed(feed(cut, pass))?;
        let way = match &wired.tab {
            Some(tab) if wired.ends_at_tab(pass) => tour::until(&pieces, arrives, tab.from.centre, 0.0),
            _ => {
                let (leaves, inward) = arrival(cut, wired.lead_in.overlap);
                tour::over(&pieces, arrives, leaves + inward * offset)
            }
        };
        follow(&mut self.writer, &way)?;
        if ends == Ends::InHole {
            self.writer.feed(feed(cut, pass) * self.head.lead_in_share)?;
            self.back(cut)?;
        }
        Ok(())
    }

    /// A pass over the tab, from the end that the lead-in meets, against the main cut's direction.
    fn tab(&mut self, cut: &Cut, pass: usize) -> Result<[u32; 2], WriteFault> {
        let first = self.writer.comment(&match pass {
            0 => format!("EDGE {}: CUT THE TAB", cut.id),
            _ => format!("EDGE {} PASS {} WHERE THE TAB STOOD", cut.id, pass + 1),
        });
        let (cutting, overlap) = (&cut.wired.cutting, cut.wired.lead_in.overlap);
        let Some(tab) = &cut.wired.tab else { return Ok([first, first]) };
        let offset = cutting.passes.passes[pass].offset.value;
        self.bends(cut, if pass == 0 { tab.came_in.value } else { feed(cut, pass) })?;
        let (pieces, from, to) = match self.head.dialect.output {
            Output::Register => {
                self.writer.right(register(&self.registers, offset));
                (&cutting.edges[pass][0], tab.to.edge, tab.from.edge)
            }
            Output::Centre => {
                let (meets, inward) = arrival(cut, 0.0);
                (&cutting.centres[pass][0], meets + inward * offset, tab.from.centre)
            }
        };
        self.writer.line(from.x, from.y)?;
        self.writer.feed(feed(cut, pass))?;
        let pieces = cut.wired.free().pieces(pieces);
        follow(&mut self.writer, &tour::until(&tour::backwards(&pieces), from, to, overlap))?;
        Ok([first, self.writer.last()])
    }
}

fn feed(cut: &Cut, pass: usize) -> f64 {
    if pass == 0 { cut.wired.feeds.main.value } else { cut.wired.feeds.skim.value }
}

/// The place of the edge so much further than the lead-in meets it, and the direction away from the metal there.
fn arrival(cut: &Cut, further: f64) -> (Point, Vector) {
    let main = cut.wired.free().pieces(&cut.wired.cutting.edges[0][0]);
    past(&main, cut.wired.lead_in.segment, cut.wired.lead_in.share, further)
}

/// A quarter circle that arrives along the edge, where the wire stays clear on it.
fn roll_on(cut: &Cut, arrives: Point, inward: Vector, offset: f64) -> Option<Segment> {
    let from_bend = cut.wired.lead_in.way[cut.wired.lead_in.way.len() - 2];
    let radius = ROLL_ON.min(0.5 * from_bend.distance(arrives));
    let along = -inward.left();
    let from = arrives + inward * radius - along * radius;
    let arc = Segment { from, to: arrives, bulge: (std::f64::consts::FRAC_PI_8).tan() };
    let clear = |place: Point| cut.wired.free().clear(place) >= offset - CORNER_MARGIN / 100.0;
    let all = (0..=16).map(|k| f64::from(k) / 16.0);
    let on_way = all.clone().all(|t| clear(from_bend.towards(from, t)));
    (radius > 10.0 * CORNER_MARGIN && on_way && all.into_iter().all(|t| clear(arc.at(t)))).then_some(arc)
}

fn follow(writer: &mut Writer, pieces: &[Segment]) -> Result<(), WriteFault> {
    for piece in pieces.iter().flat_map(tour::said) {
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
