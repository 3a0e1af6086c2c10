//! One opening as it stands in its section: the drawn outline in place, and the finished edge that clearance and the
//! choice of size make of it.

use crate::clean_up::Chances;
use crate::clearance::clearance;
use crate::figure::Figure;
use crate::free::Free;
use crate::narrowest::{self, Narrow};
use crate::piece::{self, Around};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::size as rules;
use crate::size;
use job::{At as Placing, Contour, Edge, Facts, Job, Kind, Section};
use outline::{LargestCircle, Outline, Point, Vector, largest_circle, parallel};
use remark::{Place, Remark};

/// An outline of a drawing that an edge asks for, in mm, where it was drawn.
#[derive(Debug, Clone)]
pub struct DrawnEdge {
    /// Path below the job's folder, with forward slashes.
    pub file: String,
    /// `o1`, `o2`, ...
    pub outline_id: String,
    /// The outline.
    pub outline: Outline,
    /// How far it lies from the raw entities at most, mm.
    pub moved_mm: f64,
    /// How much of that is due to arcs in the place of curves and facets, mm.
    pub fitted_mm: f64,
    /// Metal that stands inside it, by the name of its outline.
    pub islands: Vec<(String, Outline)>,
}

/// An opening in its place.
#[derive(Debug, Clone)]
pub struct Opening {
    /// The drawn outline, section coordinates.
    pub drawn: Outline,
    /// The finished edge.
    pub target: Outline,
    /// Where the drawing's origin lies.
    pub at: [f64; 2],
    /// The clearance added all round.
    pub clearance: Figure,
    /// What was added besides to start where wear leaves the edge longest; below 0 where it was taken off.
    pub shift: Figure,
    /// The largest circle in the finished edge.
    pub circle: LargestCircle,
    /// Distance from the circle's centre to the finished edge.
    pub inscribed: Figure,
    /// The narrowest place of the finished edge, if it has one.
    pub narrowest: Option<Narrow>,
    /// Metal that stands inside, by the name of its outline.
    pub islands: Vec<(String, Outline)>,
    /// What lies around it, where it is the outside of a piece.
    pub around: Option<Around>,
    /// Chances of cleaning up that are known.
    pub chances: Chances,
}

impl Opening {
    /// Its free side.
    pub fn free(&self) -> Free<'_> {
        let side = if self.around.is_some() { Contour::Outside } else { Contour::Inside };
        Free { edge: &self.target, side }
    }

    /// How far a place lies from the metal that stays, mm; negative in it.
    pub fn clear(&self, place: Point) -> f64 {
        self.free().clear(place)
    }

    /// Whether it is the outside of a piece that is cut out.
    pub fn is_outside(&self) -> bool {
        self.around.is_some()
    }

    /// Puts an edge in its place, adds the clearance and chooses its size.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        (job, facts): (&Job, &Facts),
        section: &Section,
        (edge, drawn): (&Edge, &DrawnEdge),
    ) -> Result<Self, Vec<Remark>> {
        // Drawings show the part from the punch's side, and the punch's face looks down.
        let seen = |outline: &Outline| match section.kind {
            Kind::Die => outline.clone(),
            Kind::Punch => outline.mirrored_x(),
        };
        let outline = seen(&drawn.outline);
        let at = match &edge.at {
            Placing::Origin([x, y]) => [x.value, y.value],
            Placing::Centred => {
                let middle = outline.bounds().middle();
                [0.0 - middle.x, 0.0 - middle.y]
            }
        };
        let placed = outline.moved(Vector::new(at[0], at[1]));
        let clearance = clearance(reckoning, head, (job, facts), edge)?;
        let shift = size::shift(reckoning, head, edge);
        let growth = reckoning.rule(At(head, "growth_per_side_mm"), &rules::GROWTH, [clearance, shift]);
        let target = match growth.value {
            0.0 => placed.clone(),
            by => grown(&placed, by, edge)?,
        };
        let (target, around) = match edge.side {
            Contour::Inside => (target, None),
            Contour::Outside => {
                (piece::target(reckoning, head, edge, target)?, Some(Around::of(section, edge)?))
            }
        };
        inside_block(&target, section, edge)?;
        let (circle, meaning) = match &around {
            None => {
                let circle = largest_circle(&target, &[]).map_err(|error| {
                    vec![
                        Remark::error("circle", format!("edge `{}`: {error}", edge.id))
                            .place(edge.place.clone()),
                    ]
                })?;
                (circle, what("radius of the largest circle in the finished edge", "x", "mm"))
            }
            Some(around) => {
                let meaning =
                    what("radius of the largest circle between the piece and the block's sides", "x", "mm");
                (around.circle(&target, edge)?, meaning)
            }
        };
        let inscribed = reckoning.measured(
            At(head, "start.terms.inscribed_mm"),
            meaning,
            circle.radius,
            "largest inscribed circle by branch and bound, proven within 1 nm",
            &[],
        );
        let standing =
            |(id, island): &(String, Outline)| (id.clone(), island.moved(Vector::new(at[0], at[1])));
        // What was drawn inside a piece is an opening of it, if anything.
        let islands: Vec<_> = match around {
            None => drawn.islands.iter().map(standing).collect(),
            Some(_) => Vec::new(),
        };
        let narrowest = match around {
            None => narrowest::of(reckoning, head, (&target, &islands), edge)?,
            Some(_) => None,
        };
        let chances = Chances::default();
        Ok(Self {
            drawn: placed,
            target,
            at,
            clearance,
            shift,
            circle,
            inscribed,
            narrowest,
            islands,
            around,
            chances,
        })
    }
}

/// The outline with this much added all round, or taken off where it is below 0.
fn grown(placed: &Outline, by: f64, edge: &Edge) -> Result<Outline, Vec<Remark>> {
    let mut loops = parallel(placed, -by).map_err(|error| {
        vec![Remark::error("clearance", format!("edge `{}`: {error}", edge.id)).place(edge.place.clone())]
    })?;
    let (code, message, cure) = match loops.len() {
        1 => return Ok(loops.remove(0)),
        _ if by > 0.0 => (
            "clearance-closes",
            format!("with {by:.4} added all round the outline closes on itself in a narrow bay"),
            "less clearance",
        ),
        0 => (
            "size-vanishes",
            format!("with {:.4} taken off all round nothing is left", -by),
            "a smaller `minus`",
        ),
        _ => (
            "size-parts",
            format!("with {:.4} taken off all round the outline falls apart at a narrow place", -by),
            "a smaller `minus`",
        ),
    };
    let message = format!("edge `{}`: {message}", edge.id);
    Err(vec![Remark::error(code, message).place(edge.place.clone()).cure(cure)])
}

/// An opening that leaves its block contradicts the job.
fn inside_block(target: &Outline, section: &Section, edge: &Edge) -> Result<(), Vec<Remark>> {
    let bounds = target.bounds();
    let [block_x, block_y] = section.block();
    let (half_x, half_y) = (block_x / 2.0, block_y / 2.0);
    let out = [half_x + bounds.min.x, half_x - bounds.max.x, half_y + bounds.min.y, half_y - bounds.max.y]
        .into_iter()
        .fold(f64::INFINITY, f64::min);
    if out > 0.0 {
        return Ok(());
    }
    let what = if edge.side == Contour::Outside { "the outline" } else { "the opening" };
    let beyond = match out {
        0.0 => "touches the side of".to_owned(),
        _ => format!("reaches {:.4} beyond", -out),
    };
    let message = format!(
        "{what} of edge `{}` {beyond} its block of {} x {}: x {:.4} to {:.4}, y {:.4} to {:.4}",
        edge.id, block_x, block_y, bounds.min.x, bounds.max.x, bounds.min.y, bounds.max.y
    );
    let place: Place = edge.place.clone().at(bounds.middle().x, bounds.middle().y);
    Err(vec![
        Remark::error("outside-block", message)
            .place(place)
            .cure(if section.cut_from.is_some() { "a larger `cut_from`" } else { "a larger `size`" })
            .cure("another `at`")
            .cure("check the drawing's units"),
    ])
}
