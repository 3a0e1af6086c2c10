//! The narrowest place of a finished edge, written down.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use job::Edge;
use outline::{Narrowest, Outline, narrowest};
use package::{self as published, SidePoint};
use remark::Remark;

/// Where a finished edge is narrowest.
#[derive(Debug, Clone, Copy)]
pub struct Narrow {
    place: Narrowest,
    width: Figure,
}

/// Looks for the narrowest place of a finished edge with metal standing inside it.
pub fn of(
    reckoning: &mut Reckoning,
    head: &str,
    (target, islands): (&Outline, &[(String, Outline)]),
    edge: &Edge,
) -> Result<Option<Narrow>, Vec<Remark>> {
    let islands: Vec<Outline> = islands.iter().map(|(_, island)| island.clone()).collect();
    let found = narrowest(target, &islands).map_err(|error| {
        vec![Remark::error("narrowest", format!("edge `{}`: {error}", edge.id)).place(edge.place.clone())]
    })?;
    let written = |place: Narrowest| {
        let width = reckoning.measured(
            At(head, "narrowest.width_mm"),
            what("width of the narrowest place of the finished edge", "w", "mm"),
            place.width,
            "twice the distance of its middle from the edge, exact over lines and arcs; a width that changes by no \
             more than 0.0003 along a stretch is constant, and its middle counts",
            &[],
        );
        Narrow { place, width }
    };
    Ok(found.map(written))
}

impl Narrow {
    /// As it is published.
    pub fn published(&self) -> published::Narrowest {
        published::Narrowest {
            x_mm: self.place.centre.x,
            y_mm: self.place.centre.y,
            width_mm: self.width.value,
            sides: self.place.sides.map(|side| SidePoint { x_mm: side.x, y_mm: side.y }),
        }
    }
}
