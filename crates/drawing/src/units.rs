//! The unit of a drawing's numbers: stated by the drawing, by the person, or assumed.

use dxf::{Dxf, InsUnits};
use remark::{Place, Remark};

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres.
    Mm,
    /// Inches of 25.4 mm.
    In,
}

/// Who said which unit a drawing is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitsFrom {
    /// The drawing itself.
    Drawing,
    /// The command line or the job file.
    Option,
    /// Nobody: millimetres were assumed.
    Assumed,
}

impl Units {
    /// Millimetres in one unit.
    pub fn in_mm(self) -> f64 {
        match self {
            Units::Mm => 1.0,
            Units::In => 25.4,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Units::Mm => InsUnits::MM.name(),
            Units::In => InsUnits::INCH.name(),
        }
    }
}

/// The settled unit.
pub(crate) struct Settled {
    pub(crate) units: Units,
    pub(crate) from: UnitsFrom,
    /// Millimetres in one unit of the drawing's numbers; differs from `units` where another unit was converted.
    pub(crate) in_mm: f64,
    pub(crate) remark: Option<Remark>,
}

/// Settles the unit: what the person demands goes before what the drawing states, and that before `otherwise`.
pub(crate) fn settle(dxf: &Dxf, demanded: Option<Units>, otherwise: Option<Units>) -> Settled {
    let by_person =
        |units: Units, remark| Settled { units, from: UnitsFrom::Option, in_mm: units.in_mm(), remark };
    let place = Place::file(&dxf.file);
    match (demanded, dxf.units, otherwise) {
        (Some(units), Some(stated), _) if stated.in_mm() != units.in_mm() => {
            let message = format!(
                "the drawing states {} and {} were demanded: taken as {}",
                stated.name(),
                units.name(),
                units.name()
            );
            by_person(units, Some(Remark::warning("units-overridden", message).place(place)))
        }
        (Some(units), _, _) | (None, None, Some(units)) => by_person(units, None),
        (None, Some(stated), _) => by_drawing(stated, place),
        (None, None, None) => {
            let remark =
                Remark::warning("units-assumed", "the drawing states no unit: millimetres were assumed")
                    .place(place)
                    .cure("state the unit of the drawing");
            Settled { units: Units::Mm, from: UnitsFrom::Assumed, in_mm: 1.0, remark: Some(remark) }
        }
    }
}

fn by_drawing(stated: InsUnits, place: Place) -> Settled {
    let from = UnitsFrom::Drawing;
    let exactly = [(InsUnits::MM, Units::Mm), (InsUnits::INCH, Units::In)]
        .into_iter()
        .find(|(unit, _)| *unit == stated);
    if let Some((_, units)) = exactly {
        return Settled { units, from, in_mm: units.in_mm(), remark: None };
    }
    let message = format!("the drawing states {}, converted to millimetres", stated.name());
    let remark = Some(Remark::note("units-converted", message).place(place));
    Settled { units: Units::Mm, from, in_mm: stated.in_mm(), remark }
}
