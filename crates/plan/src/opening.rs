//! One opening as it stands in its section: the drawn outline in place, and the finished edge that clearance and the
//! choice of size make of it.

use crate::clean_up::Chances;
use crate::clearance::clearance;
use crate::figure::Figure;
use crate::narrowest::{self, Narrow};
use crate::reckoning::{At, Reckoning, what};
use crate::rules::size as rules;
use crate::size;
use job::{At as Placing, Edge, Facts, Job, Section};
use outline::{LargestCircle, Outline, Vector, largest_circle, parallel};
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
    /// Chances of cleaning up that are known.
    pub chances: Chances,
}

impl Opening {
    /// Puts an edge in its place, adds the clearance and chooses its size.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        (job, facts): (&Job, &Facts),
        section: &Section,
        (edge, drawn): (&Edge, &DrawnEdge),
    ) -> Result<Self, Vec<Remark>> {
        let at = match &edge.at {
            Placing::Origin([x, y]) => [x.value, y.value],
            Placing::Centred => {
                let middle = drawn.outline.bounds().middle();
                [0.0 - middle.x, 0.0 - middle.y]
            }
        };
        let placed = drawn.outline.moved(Vector::new(at[0], at[1]));
        let clearance = clearance(reckoning, head, (job, facts), edge)?;
        let shift = size::shift(reckoning, head, edge);
        let growth = reckoning.rule(At(head, "growth_per_side_mm"), &rules::GROWTH, [clearance, shift]);
        let target = match growth.value {
            0.0 => placed.clone(),
            by => grown(&placed, by, edge)?,
        };
        inside_block(&target, section, edge)?;
        let circle = largest_circle(&target, &[]).map_err(|error| {
            vec![Remark::error("circle", format!("edge `{}`: {error}", edge.id)).place(edge.place.clone())]
        })?;
        let inscribed = reckoning.measured(
            At(head, "start.terms.inscribed_mm"),
            what("radius of the largest circle in the finished edge", "x", "mm"),
            circle.radius,
            "largest inscribed circle by branch and bound, proven within 1 nm",
            &[],
        );
        let standing =
            |(id, island): &(String, Outline)| (id.clone(), island.moved(Vector::new(at[0], at[1])));
        let islands: Vec<_> = drawn.islands.iter().map(standing).collect();
        let narrowest = narrowest::of(reckoning, head, (&target, &islands), edge)?;
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
    let (half_x, half_y) = (section.size[0].value / 2.0, section.size[1].value / 2.0);
    let out = [half_x + bounds.min.x, half_x - bounds.max.x, half_y + bounds.min.y, half_y - bounds.max.y]
        .into_iter()
        .fold(f64::INFINITY, f64::min);
    if out > 0.0 {
        return Ok(());
    }
    let message = format!(
        "the opening of edge `{}` reaches {:.4} beyond its block of {} x {}: x {:.4} to {:.4}, y {:.4} to {:.4}",
        edge.id,
        -out,
        section.size[0].value,
        section.size[1].value,
        bounds.min.x,
        bounds.max.x,
        bounds.min.y,
        bounds.max.y
    );
    let place: Place = edge.place.clone().at(bounds.middle().x, bounds.middle().y);
    Err(vec![
        Remark::error("outside-block", message)
            .place(place)
            .cure("a larger `size`")
            .cure("another `at`")
            .cure("check the drawing's units"),
    ])
}
