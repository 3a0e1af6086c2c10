//! Writes a program block by block, an N word on every one.
//!
//! Coordinates come in as millimetres and leave as whole steps of the last decimal, so that what was written is
//! known exactly: there is no -0, and an arc's centre is chosen for the rounded start and end, not the true ones.

use crate::{Dialect, Output, Units, UnitsWords, comment};
use std::fmt::{self, Write};

/// Step of the N words: room to insert a block by hand.
const STEP: u32 = 10;
/// Largest coordinate, in steps of the last decimal: beyond it a float no longer carries whole steps exactly.
const LARGEST: f64 = 1e12;
/// Radii of a rounded arc may differ by this many steps; more means that the arc that was asked for has no one
/// radius. Rounding three points moves each radius by less than 1.5 steps.
const RADII: f64 = 3.0;

/// Why a move could not be written.
#[derive(Debug, Clone, PartialEq)]
pub enum WriteFault {
    /// A coordinate or feed is not a number, not finite, or too large.
    Number(f64),
    /// An arc stands before the first move, so that it has no start.
    NoStart,
    /// An arc ends where it starts: a full circle is written as two halves.
    FullCircle,
    /// Start and end of an arc lie at different distances from its centre, in mm.
    Radii(f64, f64),
}

impl fmt::Display for WriteFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(value) => write!(f, "{value} is no number that a program can carry"),
            Self::NoStart => write!(f, "an arc needs a move before it that says where it starts"),
            Self::FullCircle => write!(f, "an arc that ends where it starts is written as two halves"),
            Self::Radii(start, end) => {
                write!(f, "an arc has radius {start} mm at its start and {end} mm at its end")
            }
        }
    }
}

impl std::error::Error for WriteFault {}

/// A program being written.
#[derive(Debug, Clone)]
pub struct Writer {
    dialect: Dialect,
    text: String,
    number: u32,
    /// Where the last move ended: in steps as written, and in mm as asked.
    at: Option<([i64; 2], [f64; 2])>,
    /// Where the upper guide stands seen from the lower one, in steps as written.
    aside: [i64; 2],
    /// Compensation words that the next move carries.
    pending: String,
    feed: Option<i64>,
    feed_written: Option<i64>,
}

impl Writer {
    /// An empty program in a machine's words.
    pub fn new(dialect: &Dialect) -> Self {
        Self {
            dialect: *dialect,
            text: String::new(),
            number: 0,
            at: None,
            aside: [0, 0],
            pending: String::new(),
            feed: None,
            feed_written: None,
        }
    }

    /// Whether the machine wants the wire's centre rather than the finished edge.
    pub fn output(&self) -> Output {
        self.dialect.output
    }

    /// N word of the last block; 0 before the first.
    pub fn last(&self) -> u32 {
        self.number
    }

    /// Comment blocks, as many as the text needs. Any text is safe: see the crate's property tests. The first N
    /// comes back.
    pub fn comment(&mut self, text: &str) -> u32 {
        let first = self.number + STEP;
        for line in comment::lines(text) {
            self.block(&format!("({line})"));
        }
        first
    }

    /// The unit of lengths.
    pub fn units(&mut self) -> u32 {
        self.block(match (self.dialect.units_words, self.dialect.units) {
            (UnitsWords::G70G71, Units::Mm) => "G71",
            (UnitsWords::G70G71, Units::In) => "G70",
            (UnitsWords::G20G21, Units::Mm) => "G21",
            (UnitsWords::G20G21, Units::In) => "G20",
        })
    }

    /// Coordinates count from the datum.
    pub fn absolute(&mut self) -> u32 {
        self.block("G90")
    }

    /// Arcs lie in the XY plane.
    pub fn plane(&mut self) -> u32 {
        self.block("G17")
    }

    /// No compensation from here on, in a block of its own (for the head; a pass ends with [`Writer::off`]).
    pub fn compensation_off(&mut self) -> u32 {
        self.block("G40")
    }

    /// Threads the wire.
    pub fn thread(&mut self) -> u32 {
        self.function(self.dialect.thread)
    }

    /// Cuts the wire.
    pub fn cut(&mut self) -> u32 {
        self.function(self.dialect.cut)
    }

    /// Stops for the operator.
    pub fn stop(&mut self) -> u32 {
        self.function(self.dialect.stop)
    }

    /// Ends the program.
    pub fn end(&mut self) -> u32 {
        self.function(self.dialect.end)
    }

    /// The next move turns compensation on, with the wire left of the path by register `d`.
    pub fn left(&mut self, d: u32) {
        self.pending = format!("G41 D{d} ");
    }

    /// The same with the wire right of the path.
    pub fn right(&mut self, d: u32) {
        self.pending = format!("G42 D{d} ");
    }

    /// The next move turns compensation off.
    pub fn off(&mut self) {
        self.pending = "G40 ".to_owned();
    }

    /// Feed of the next cutting moves, mm/min. It carries one decimal less than a coordinate.
    ///
    /// # Errors
    /// A feed that is no positive number, or too small to be written.
    pub fn feed(&mut self, mm_per_min: f64) -> Result<(), WriteFault> {
        let steps = mm_per_min / self.dialect.unit_mm() * 10f64.powi(i32::from(self.feed_decimals()));
        if !steps.is_finite() || steps.round() < 1.0 || steps >= LARGEST {
            return Err(WriteFault::Number(mm_per_min));
        }
        self.feed = Some(steps.round() as i64);
        Ok(())
    }

    /// The next cutting move says its feed, changed or not: somebody may start there.
    pub fn say_feed_again(&mut self) {
        self.feed_written = None;
    }

    /// A move without cutting. The N word comes back.
    ///
    /// # Errors
    /// A coordinate that is no number or too large.
    pub fn rapid(&mut self, x_mm: f64, y_mm: f64) -> Result<u32, WriteFault> {
        let to = self.steps([x_mm, y_mm])?;
        let pending = std::mem::take(&mut self.pending);
        let words = format!("{pending}G00 {}", self.xy(to));
        self.at = Some((to, [x_mm, y_mm]));
        Ok(self.block(&words))
    }

    /// A straight cut. One shorter than a step is not written: it would have no direction. The N word comes back
    /// (of the block before, where nothing was written).
    ///
    /// # Errors
    /// A coordinate that is no number or too large.
    pub fn line(&mut self, x_mm: f64, y_mm: f64) -> Result<u32, WriteFault> {
        let to = self.steps([x_mm, y_mm])?;
        if self.at.is_some_and(|(at, _)| at == to) {
            return Ok(self.number);
        }
        let words = format!("{}G01 {}{}", std::mem::take(&mut self.pending), self.xy(to), self.feed_word());
        self.at = Some((to, [x_mm, y_mm]));
        Ok(self.block(&words))
    }

    /// A straight cut with the wire tilted, or out of a tilt: X and Y of the lower guide, U and V of the upper guide seen
    /// from the lower one. One that moves neither guide by a step is not written. The N word comes back.
    ///
    /// # Errors
    /// A coordinate that is no number or too large.
    pub fn line_tilted(&mut self, lower_mm: [f64; 2], aside_mm: [f64; 2]) -> Result<u32, WriteFault> {
        let (to, aside) = (self.steps(lower_mm)?, self.steps(aside_mm)?);
        if self.at.is_some_and(|(at, _)| at == to) && self.aside == aside {
            return Ok(self.number);
        }
        let pending = std::mem::take(&mut self.pending);
        let words = format!("{pending}G01 {} {}{}", self.xy(to), self.uv(aside), self.feed_word());
        (self.at, self.aside) = (Some((to, lower_mm)), aside);
        Ok(self.block(&words))
    }

    /// A move without cutting that sets the guides upright. The N word comes back.
    ///
    /// # Errors
    /// A coordinate that is no number or too large.
    pub fn rapid_upright(&mut self, x_mm: f64, y_mm: f64) -> Result<u32, WriteFault> {
        let to = self.steps([x_mm, y_mm])?;
        let pending = std::mem::take(&mut self.pending);
        let words = format!("{pending}G00 {} {}", self.xy(to), self.uv([0, 0]));
        (self.at, self.aside) = (Some((to, [x_mm, y_mm])), [0, 0]);
        Ok(self.block(&words))
    }

    /// An arc to (x, y); (i, j) is the centre seen from the arc's start. One shorter than a step is not written.
    /// The N word comes back.
    ///
    /// # Errors
    /// No move before it, a number that cannot be written, a full circle, or two radii.
    pub fn arc(
        &mut self,
        x_mm: f64,
        y_mm: f64,
        i_mm: f64,
        j_mm: f64,
        clockwise: bool,
    ) -> Result<u32, WriteFault> {
        let (start, exact) = self.at.ok_or(WriteFault::NoStart)?;
        let to = self.steps([x_mm, y_mm])?;
        let exact_centre = [exact[0] + i_mm, exact[1] + j_mm];
        let centre =
            best_centre(start, to, self.steps(exact_centre)?, exact_centre.map(|v| v * self.scale()));
        let radii = [start, to].map(|p| distance(p, centre));
        if (radii[0] - radii[1]).abs() > RADII {
            let [a, b] = radii.map(|r| r / self.scale());
            return Err(WriteFault::Radii(a, b));
        }
        if start == to {
            let chord = (x_mm - exact[0]).hypot(y_mm - exact[1]);
            let turn = turn([-i_mm, -j_mm], [x_mm - exact_centre[0], y_mm - exact_centre[1]], clockwise);
            // Less than half a turn with its ends on one step is shorter than two steps: nothing to write.
            return if chord > 0.0 && turn < std::f64::consts::PI {
                Ok(self.number)
            } else {
                Err(WriteFault::FullCircle)
            };
        }
        let ij = [centre[0] - start[0], centre[1] - start[1]].map(|v| self.decimal(v, self.dialect.decimals));
        let motion = if clockwise { "G02" } else { "G03" };
        let words = format!(
            "{}{motion} {} I{} J{}{}",
            std::mem::take(&mut self.pending),
            self.xy(to),
            ij[0],
            ij[1],
            self.feed_word()
        );
        self.at = Some((to, [x_mm, y_mm]));
        Ok(self.block(&words))
    }

    /// A cut straight down to a depth, X and Y as they are. The N word comes back.
    ///
    /// # Errors
    /// A depth that is no number or too large.
    pub fn down(&mut self, z_mm: f64) -> Result<u32, WriteFault> {
        let z = self.steps([z_mm, 0.0])?[0];
        let words = format!("G01 Z{}{}", self.decimal(z, self.dialect.decimals), self.feed_word());
        Ok(self.block(&words))
    }

    /// Straight up without cutting, X and Y as they are. The N word comes back.
    ///
    /// # Errors
    /// A height that is no number or too large.
    pub fn up(&mut self, z_mm: f64) -> Result<u32, WriteFault> {
        let z = self.steps([z_mm, 0.0])?[0];
        let words = format!("G00 Z{}", self.decimal(z, self.dialect.decimals));
        Ok(self.block(&words))
    }

    /// The program's text.
    pub fn finish(self) -> String {
        self.text
    }

    /// A function of the machine, by its M number.
    pub fn function(&mut self, m: u32) -> u32 {
        self.block(&format!("M{m:02}"))
    }

    fn block(&mut self, words: &str) -> u32 {
        self.number += STEP;
        self.text.push_str(&format!("N{} {words}\n", self.number));
        self.number
    }

    /// Steps in a millimetre.
    fn scale(&self) -> f64 {
        10f64.powi(i32::from(self.dialect.decimals)) / self.dialect.unit_mm()
    }

    fn feed_decimals(&self) -> u8 {
        self.dialect.decimals.saturating_sub(1)
    }

    fn steps(&self, point_mm: [f64; 2]) -> Result<[i64; 2], WriteFault> {
        let mut steps = [0; 2];
        for (step, mm) in steps.iter_mut().zip(point_mm) {
            let value = (mm * self.scale()).round();
            if !value.is_finite() || value.abs() >= LARGEST {
                return Err(WriteFault::Number(mm));
            }
            *step = value as i64;
        }
        Ok(steps)
    }

    fn xy(&self, to: [i64; 2]) -> String {
        let [x, y] = to.map(|v| self.decimal(v, self.dialect.decimals));
        format!("X{x} Y{y}")
    }

    fn uv(&self, aside: [i64; 2]) -> String {
        let [u, v] = aside.map(|v| self.decimal(v, self.dialect.decimals));
        format!("U{u} V{v}")
    }

    /// The F word, where the feed changed.
    fn feed_word(&mut self) -> String {
        if self.feed == self.feed_written {
            return String::new();
        }
        self.feed_written = self.feed;
        self.feed.map_or_else(String::new, |f| format!(" F{}", self.decimal(f, self.feed_decimals())))
    }

    fn decimal(&self, steps: i64, decimals: u8) -> String {
        let one = 10u64.pow(u32::from(decimals));
        let sign = if steps < 0 { "-" } else { "" };
        let mut out = format!("{sign}{}.", steps.unsigned_abs() / one);
        if decimals > 0 {
            // Writing to a String cannot fail.
            let _ = write!(out, "{:0width$}", steps.unsigned_abs() % one, width = usize::from(decimals));
        }
        out
    }
}

/// The step nearest to the true centre, or a neighbour where start and end radii agree better.
fn best_centre(start: [i64; 2], end: [i64; 2], near: [i64; 2], exact: [f64; 2]) -> [i64; 2] {
    let mut best = (f64::INFINITY, near);
    for dx in -1..=1 {
        for dy in -1..=1 {
            let c = [near[0] + dx, near[1] + dy];
            let off = (c[0] as f64 - exact[0]).hypot(c[1] as f64 - exact[1]);
            let disagreement = (distance(start, c) - distance(end, c)).abs();
            // A quarter of a step of disagreement weighs as much as a step of displacement, so that the centre moves
            // only where that helps.
            let cost = 4.0 * disagreement + off;
            if cost < best.0 {
                best = (cost, c);
            }
        }
    }
    best.1
}

fn distance(a: [i64; 2], b: [i64; 2]) -> f64 {
    ((a[0] - b[0]) as f64).hypot((a[1] - b[1]) as f64)
}

/// Turn from one spoke to another, in the arc's own direction, 0 to 2 pi.
fn turn(from: [f64; 2], to: [f64; 2], clockwise: bool) -> f64 {
    let angle = to[1].atan2(to[0]) - from[1].atan2(from[0]);
    let signed = if clockwise { -angle } else { angle };
    signed.rem_euclid(std::f64::consts::TAU)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_reads_as_it_should() {
        let mut w = Writer::new(&Dialect::default());
        assert_eq!(w.comment("D1 = 0.0735 (PASS 1)"), 10);
        w.units();
        w.absolute();
        w.plane();
        w.compensation_off();
        w.rapid(0.0, -0.00001).unwrap();
        w.thread();
        w.left(1);
        w.feed(2.125).unwrap();
        w.line(1.0, 0.0).unwrap();
        w.feed(4.25).unwrap();
        w.line(1.0, 1.0).unwrap();
        w.arc(-1.0, 1.0, -1.0, 0.0, false).unwrap();
        assert_eq!(w.line(-1.00004, 1.0).unwrap(), 100);
        w.off();
        w.line(0.0, 0.0).unwrap();
        w.cut();
        w.end();
        assert_eq!(
            w.finish(),
            "N10 (D1 = 0.0735 [PASS 1])\nN20 G71\nN30 G90\nN40 G17\nN50 G40\nN60 G00 X0.0000 Y0.0000\nN70 M60\n\
             N80 G41 D1 G01 X1.0000 Y0.0000 F2.125\nN90 G01 X1.0000 Y1.0000 F4.250\n\
             N100 G03 X-1.0000 Y1.0000 I-1.0000 J0.0000\nN110 G40 G01 X0.0000 Y0.0000\nN120 M50\nN130 M02\n"
        );
    }

    #[test]
    fn a_tilted_wire_says_both_guides_in_every_block() {
        let mut w = Writer::new(&Dialect::default());
        w.rapid_upright(0.0, 0.0).unwrap();
        w.feed(2.0).unwrap();
        w.line_tilted([1.0, 0.0], [-0.25, 0.0]).unwrap();
        // Only the upper guide moves; then neither does.
        w.line_tilted([1.0, 0.0], [0.0, -0.00006]).unwrap();
        assert_eq!(w.line_tilted([1.00002, 0.0], [0.00002, -0.00006]).unwrap(), 30);
        assert!(w.line_tilted([0.0, 0.0], [f64::NAN, 0.0]).is_err());
        assert_eq!(
            w.finish(),
            "N10 G00 X0.0000 Y0.0000 U0.0000 V0.0000\nN20 G01 X1.0000 Y0.0000 U-0.2500 V0.0000 F2.000\n\
             N30 G01 X1.0000 Y0.0000 U0.0000 V-0.0001\n"
        );
    }

    #[test]
    fn a_hole_goes_down_and_up() {
        let mut w = Writer::new(&Dialect::default());
        w.rapid(1.0, -2.0).unwrap();
        w.function(3);
        w.feed(8.0).unwrap();
        w.down(-22.00004).unwrap();
        assert_eq!(w.up(5.0).unwrap(), 40);
        assert!(matches!(w.down(f64::NAN), Err(WriteFault::Number(_))));
        assert_eq!(
            w.finish(),
            "N10 G00 X1.0000 Y-2.0000\nN20 M03\nN30 G01 Z-22.0000 F8.000\nN40 G00 Z5.0000\n"
        );
    }

    #[test]
    fn inches_carry_six_decimals() {
        let mut w =
            Writer::new(&Dialect { units_words: UnitsWords::G20G21, end: 30, ..Dialect::of(Units::In) });
        w.units();
        w.feed(2.54).unwrap();
        w.line(25.4, -2.54).unwrap();
        w.end();
        assert_eq!(w.finish(), "N10 G20\nN20 G01 X1.000000 Y-0.100000 F0.10000\nN30 M30\n");
    }

    #[test]
    fn what_cannot_be_written_is_refused() {
        let mut w = Writer::new(&Dialect::default());
        assert_eq!(w.arc(1.0, 0.0, 0.5, 0.0, true), Err(WriteFault::NoStart));
        w.rapid(0.0, 0.0).unwrap();
        assert!(matches!(w.line(f64::NAN, 0.0), Err(WriteFault::Number(_))));
        assert!(matches!(w.line(1e12, 0.0), Err(WriteFault::Number(_))));
        assert!(matches!(w.feed(0.0), Err(WriteFault::Number(_))));
        assert_eq!(w.arc(0.0, 0.0, 1.0, 0.0, true), Err(WriteFault::FullCircle));
        assert!(w.arc(1.0, 0.0, 0.5, 0.1, true).is_ok());
        assert!(matches!(w.arc(2.0, 0.0, 0.6, 0.0, true), Err(WriteFault::Radii(..))));
    }
}
