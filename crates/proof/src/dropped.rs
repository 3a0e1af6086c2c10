//! Metal that a tilted wire frees: bodies that are wider below, so that they drop; and that the land's main cut frees none.

use crate::engine::{Shape, circle, counter_clockwise, difference, union};
use crate::fault::Spot;
use crate::flatten::{Place, distance};
use crate::freed::{DUST, EDGE_APART, STOP_FROM_G, WEIGHS};
use crate::joint::parted;
use crate::leaning::{Leant, PARTS};
use crate::passes::Round;
use crate::region::{Region, area};
use crate::rim::open;
use crate::weight::Block;
use package::{Contour, Fault};

/// What is lighter than this share of a core that is taken out is flushed out whatever it weighs: it must be named, and its weight decides nothing.
const SPECK: f64 = 0.05;

/// A contour whose relief has been cut.
#[derive(Clone, Copy)]
pub struct Dropped<'a> {
    /// The contour.
    pub contour: &'a Contour,
    /// Its block.
    pub block: Block,
    /// The round that cut the relief.
    pub round: &'a Round,
    /// Whether somebody is there while a line of the program runs.
    pub attended: &'a (dyn Fn(u32) -> bool + Sync),
    /// The program.
    pub spot: &'a Spot,
}

/// A body: its section at the bottom, and its area at every level.
struct Body {
    bottom: Region,
    rim: f64,
    areas: Vec<f64>,
}

impl Body {
    fn at_bottom(&self) -> f64 {
        self.areas[PARTS]
    }

    /// Mean section, areas between levels taken as parabolas.
    fn mean(&self) -> f64 {
        let pairs = self.areas.windows(3).step_by(2).map(|three| three[0] + 4.0 * three[1] + three[2]);
        pairs.sum::<f64>() / (3.0 * PARTS as f64)
    }
}

impl Dropped<'_> {
    /// How many bodies the tilted wire frees, and what is wrong with that. `land`: what the land's main cut clears.
    pub fn prove(&self, leant: &Leant, land: Option<&[Shape]>) -> (u32, Vec<Fault>) {
        if leant.levels.len() != PARTS + 1 {
            return (0, Vec::new());
        }
        let mut bodies = self.bodies(leant);
        bodies.retain(|body| body.at_bottom() > DUST / 2.0);
        bodies.sort_by(|a, b| b.at_bottom().total_cmp(&a.at_bottom()));
        let mut faults: Vec<Fault> = self.planned_otherwise(&bodies).into_iter().collect();
        let heavy = |body: &Body| self.block.mass(body.mean()) >= STOP_FROM_G * (1.0 + WEIGHS);
        if bodies.iter().any(heavy) || self.contour.cores.iter().any(|core| core.mass_g >= STOP_FROM_G) {
            faults.extend(self.falls());
        }
        faults.extend(self.freed_by_land(leant, land));
        let count = bodies.iter().filter(|body| body.at_bottom() > DUST).count();
        (count as u32, faults)
    }

    fn fault(&self, code: &str, message: &str) -> Fault {
        let block = self.round.moves.first().and_then(|one| one.block);
        self.spot.block(block).fault(code, format!("contour `{}`: {message}", self.contour.id))
    }

    fn bodies(&self, leant: &Leant) -> Vec<Body> {
        let section = |i: usize| self.pieces(&leant.levels[i].kerf);
        let body =
            |piece: &Shape| Body { bottom: Region::new(piece), rim: rim(piece), areas: vec![0.0; PARTS + 1] };
        let mut bodies: Vec<Body> = section(PARTS).iter().map(body).collect();
        for i in 0..=PARTS {
            for piece in section(i) {
                // A corner of it lies in the body below, or beside it by what flattening moves.
                let outside = |body: &Body| {
                    piece.iter().flatten().map(|place| body.bottom.outside(*place, 0).height).sum::<f64>()
                };
                let under = bodies.iter_mut().min_by(|a, b| outside(a).total_cmp(&outside(b)));
                if let Some(body) = under {
                    body.areas[i] += size(&piece);
                }
            }
        }
        bodies
    }

    /// What lies free where this much is cleared, off the start hole.
    fn pieces(&self, cleared: &[Shape]) -> Vec<Shape> {
        let islands: Vec<Shape> =
            (parted(cleared, self.contour).iter().flat_map(|shape| shape.iter().skip(1)))
                .map(|hole| vec![counter_clockwise(hole.clone())])
                .collect();
        let hole: Vec<Shape> = (self.contour.start.iter())
            .map(|start| vec![circle([start.x_mm, start.y_mm], open(start) / 2.0)])
            .collect();
        if islands.is_empty() { islands } else { difference(&islands, &hole) }
    }

    /// Bodies against the plan's cores.
    fn planned_otherwise(&self, bodies: &[Body]) -> Option<Fault> {
        let mut planned: Vec<_> = self.contour.cores.iter().collect();
        planned.sort_by(|a, b| b.area_mm2.total_cmp(&a.area_mm2));
        let sure = |areas: &mut dyn Iterator<Item = f64>| areas.filter(|area| *area > 2.0 * DUST).count();
        let found = sure(&mut bodies.iter().map(Body::at_bottom));
        let named = sure(&mut planned.iter().map(|core| core.area_mm2));
        if found > planned.len() || named > bodies.len() {
            let message =
                format!("the tilted wire frees {} pieces, the plan names {}", bodies.len(), planned.len());
            return Some(self.fault("cores", &message));
        }
        let wrong = bodies.iter().zip(planned).find(|(body, core)| {
            let slack = |area: f64| WEIGHS * area + EDGE_APART * body.rim;
            let (bottom, mass) = (body.at_bottom(), self.block.mass(body.mean()));
            let speck = mass.max(core.mass_g) < SPECK * STOP_FROM_G;
            bottom > 2.0 * DUST
                && !speck
                && ((core.area_mm2 - bottom).abs() > slack(bottom)
                    || (core.mass_g - mass).abs() > self.block.mass(slack(body.mean())))
        });
        let (body, core) = wrong?;
        let message = format!(
            "the tilted wire frees a piece of {:.4} mm2 at the bottom and {:.4} g, where the plan has {:.4} mm2 and {:.4} g",
            body.at_bottom(),
            self.block.mass(body.mean()),
            core.area_mm2,
            core.mass_g
        );
        Some(self.fault("cores", &message))
    }

    /// What falls needs the wire cut, a stop, and somebody there.
    fn falls(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if !(self.round.cut && self.round.stop) {
            let message =
                "a core falls when its relief is cut, and the wire is not cut and the program does not stop";
            faults.push(self.fault("no-stop", message));
        }
        if !(self.attended)(self.round.lines[1]) {
            faults.push(self.fault(
                "unattended-fall",
                "a core falls when its relief is cut, in a phase that nobody attends",
            ));
        }
        faults
    }

    /// The land's main cut takes the wedge away without freeing anything: what the tilted wire went round is gone by then.
    fn freed_by_land(&self, leant: &Leant, land: Option<&[Shape]>) -> Option<Fault> {
        let land = land?;
        // What is gone only grows downwards, and the land's cut is the same all down: what it frees deeper, it frees at the face.
        let face = leant.levels.first()?;
        let gone: Vec<Shape> =
            face.kerf.iter().filter_map(|shape| Some(vec![shape.first()?.clone()])).collect();
        let pieces = difference(&self.pieces(&union(&gone, land)), &gone);
        let area = pieces.iter().map(size).find(|area| *area > 2.0 * DUST)?;
        let message = format!("at the cutting face the land's main cut frees a piece of {area:.4} mm2");
        Some(self.fault("cores", &message))
    }
}

fn size(shape: &Shape) -> f64 {
    shape.iter().map(|points| area(points)).sum::<f64>().abs()
}

/// Length of a shape's edges.
fn rim(shape: &Shape) -> f64 {
    let round = |points: &Vec<Place>| -> f64 {
        (0..points.len()).map(|i| distance(points[i], points[(i + 1) % points.len()])).sum()
    };
    shape.iter().map(round).sum()
}
