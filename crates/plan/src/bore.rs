//! A bore from the back, made while soft: where it lies, and whether it clears the opening above it.

use crate::figure::Figure;
use crate::opening::Opening;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::burning as rules;
use job::{BackBore, Edge, Section};
use outline::Point;
use remark::Remark;

/// Less floor than this under a cutting edge is worth a warning, mm (common practice, no source).
const LEAST_FLOOR: f64 = 5.0;

/// A back bore in its place.
#[derive(Debug, Clone, Copy)]
pub struct Bore {
    /// Its centre.
    pub centre: Point,
    /// Its diameter, mm.
    pub diameter: Figure,
    /// Its depth from the back, mm.
    pub depth: Figure,
    /// Metal left over it, mm.
    pub floor: Figure,
    /// Whether all of the opening lies over it, so that nothing is cut below the floor.
    pub clears: bool,
}

impl Bore {
    /// The bore that an edge states.
    pub fn of(
        reckoning: &mut Reckoning,
        head: &str,
        (section, edge, bore): (&Section, &Edge, &BackBore),
        opening: &Opening,
        height: Figure,
    ) -> Result<Self, Vec<Remark>> {
        let mut known = |name, meaning, symbol, known| {
            reckoning.known(At(head, name), what(meaning, symbol, "mm"), known)
        };
        let diameter =
            known("start.back_bore.diameter_mm", "diameter of the back bore", "D_B", &bore.diameter);
        let depth = known("start.back_bore.depth_mm", "depth of the back bore", "B", &bore.depth);
        let floor = reckoning.rule(At(head, "start.back_bore.floor_mm"), &rules::FLOOR, [height, depth]);
        let centre = match &bore.at {
            Some([x, y]) => Point::new(x.value, y.value),
            None => opening.target.bounds().middle(),
        };
        let radius = diameter.value / 2.0;
        inside_block(section, edge, centre, radius)?;
        let clears = farthest(opening, centre) <= radius;
        Ok(Self { centre, diameter, depth, floor, clears })
    }

    /// What a person should know about it.
    pub fn remarks(&self, edge: &Edge) -> Vec<Remark> {
        let (d, deep) = (self.diameter.value, self.depth.value);
        // The floor is a difference: what rounding adds to it is not to be read.
        let floor = (self.floor.value * 1e4).round() / 1e4;
        let says = match self.clears {
            true => format!("the opening lies over it, and its land is {floor}"),
            false => "it does not clear the opening, which is cut through the whole height beside it: a step stays where bore and opening cross"
                .to_owned(),
        };
        let message = format!("edge `{}`: back bore {d}, {deep} deep, made while soft: {says}", edge.id);
        let about = match self.clears {
            true => Remark::note("back-bore", message),
            false => Remark::warning("back-bore", message).cure("a wider bore, or one further over"),
        };
        let mut found = vec![about.place(edge.place.clone())];
        if self.floor.value < LEAST_FLOOR {
            let message = format!(
                "edge `{}`: the back bore leaves a floor of {floor}, less than {LEAST_FLOOR}",
                edge.id
            );
            found.push(Remark::warning("thin-floor", message).place(edge.place.clone()));
        }
        found
    }
}

/// Farthest point of an opening's edge from a place, mm: along a piece the distance is greatest at an end, or on an
/// arc opposite to the place.
pub fn farthest(opening: &Opening, from: Point) -> f64 {
    let of_piece = |piece: outline::Segment| {
        let ends = piece.from.distance(from).max(piece.to.distance(from));
        let beyond = piece.centre().and_then(|centre| {
            let radius = centre.distance(piece.from);
            let opposite = centre + (centre - from).unit()? * radius;
            (piece.distance(opposite) < 1e-9).then(|| opposite.distance(from))
        });
        ends.max(beyond.unwrap_or(0.0))
    };
    opening.target.segments().map(of_piece).fold(0.0, f64::max)
}

/// A bore that leaves its block contradicts the job.
fn inside_block(section: &Section, edge: &Edge, centre: Point, radius: f64) -> Result<(), Vec<Remark>> {
    let (half_x, half_y) = (section.size[0].value / 2.0, section.size[1].value / 2.0);
    let out = (centre.x.abs() + radius - half_x).max(centre.y.abs() + radius - half_y);
    if out < 0.0 {
        return Ok(());
    }
    let message = format!(
        "the back bore of edge `{}` at x {:.4} y {:.4} reaches {out:.4} beyond its block of {} x {}",
        edge.id, centre.x, centre.y, section.size[0].value, section.size[1].value
    );
    Err(vec![
        Remark::error("bore-outside-block", message)
            .place(edge.place.clone())
            .cure("a narrower bore")
            .cure("another `at` of the bore"),
    ])
}
