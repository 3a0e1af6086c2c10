//! Wires, their passes and how fast they cut.

use crate::electrode::nearest;
use crate::field::{ALLOWANCE, Field, SIZE, Want, limits};
use crate::known::{From, Known};
use crate::reader::{Part, Reader, place_of};

/// A wire and its passes in hardened steel. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Wire {
    /// Diameter.
    pub diameter: Known<f64>,
    /// Spark gap per side of the main cut.
    pub gap: Known<f64>,
    /// Distance from wire centre to finished edge: main cut first, then the skims, each smaller than the one before.
    pub offsets: Known<Vec<f64>>,
    /// Area cut in a minute by the main cut: pairs of block height in mm, ascending, and mm2/min.
    pub rates: Known<Vec<[f64; 2]>>,
    /// Block height above which the wire is to be avoided; none: no such height is known.
    pub max_height: Option<Known<f64>>,
    /// Width of a tab that holds a core.
    pub tab: Known<f64>,
}

const DIAMETER: Field = Field::required("diameter", Want::Length(limits(0.01, 1.0)), "diameter of the wire");
const GAP: Field = Field::required("gap", Want::Length(ALLOWANCE), "spark gap per side of the main cut");
const OFFSETS: Field = Field::new(
    "offsets",
    Want::Lengths(limits(0.001, 10.0), 1, 9),
    "wire centre to finished edge: main cut and skims, each smaller than the one before",
);
const RATES: Field = Field::new(
    "rates",
    Want::Pairs(SIZE, limits(0.01, 1000.0), "mm2/min"),
    "area cut in a minute by the main cut: pairs of block height and mm2/min, heights rising",
);
const MAX_HEIGHT: Field =
    Field::new("max_height", Want::Length(SIZE), "block height above which the wire is to be avoided");
const TAB: Field = Field::new("tab", Want::Length(ALLOWANCE), "width of a tab that holds a core");

pub(crate) const FIELDS: &[Field] = &[DIAMETER, GAP, OFFSETS, RATES, MAX_HEIGHT, TAB];

/// Slack for comparing lengths of which one was converted or halved, mm: far below anything a machine resolves.
const SLACK: f64 = 1e-9;

/// Reads a row; what it leaves out comes from the nearest of the built-in rows.
pub(crate) fn read(reader: &mut Reader, part: &Part, built_in: &[Wire]) -> Option<Wire> {
    let diameter = reader.length(part, &DIAMETER);
    let gap = reader.length(part, &GAP);
    let offsets = reader.length_list(part, &OFFSETS);
    let rates = reader.pairs(part, &RATES);
    let max_height = reader.length(part, &MAX_HEIGHT);
    let tab = reader.length(part, &TAB);
    if let Some(rates) = &rates {
        check_rates(reader, rates);
    }
    let (diameter, gap) = (diameter?, gap?);
    let near = nearest(built_in, diameter.value, |row| row.diameter.value)?;
    let wire = Wire {
        offsets: offsets.unwrap_or_else(|| carried_offsets(near, diameter.value)),
        rates: rates.unwrap_or_else(|| Known { value: near.rates.value.clone(), from: taken(near) }),
        max_height: max_height.or_else(|| {
            near.max_height.as_ref().map(|height| Known { value: height.value, from: taken(near) })
        }),
        tab: tab.unwrap_or_else(|| Known { value: near.tab.value, from: taken(near) }),
        diameter,
        gap,
    };
    check_offsets(reader, part, &wire);
    Some(wire)
}

fn taken(near: &Wire) -> From {
    let note = "as in the built-in row of the nearest diameter, a starting value".to_owned();
    From::Nearest { diameter_mm: near.diameter.value, note }
}

/// The offsets of the nearest row for a wire of another diameter: what a pass stands beyond the wire's own radius
/// (spark gap and stock) is taken over, since the radius itself is known.
fn carried_offsets(near: &Wire, diameter: f64) -> Known<Vec<f64>> {
    let wider = (diameter - near.diameter.value) / 2.0;
    if wider == 0.0 {
        return Known { value: near.offsets.value.clone(), from: taken(near) };
    }
    let note = format!(
        "spark gap and stock as in the built-in row of the nearest diameter, a starting value; {wider:+.4} for the wire's own radius"
    );
    let value = near.offsets.value.iter().map(|offset| offset + wider).collect();
    Known { value, from: From::Nearest { diameter_mm: near.diameter.value, note } }
}

fn check_rates(reader: &mut Reader, rates: &Known<Vec<[f64; 2]>>) {
    if let Some(pair) = rates.value.windows(2).find(|pair| pair[0][0] >= pair[1][0]) {
        let message =
            format!("`rates` goes from height {} to {} mm; heights must rise", pair[0][0], pair[1][0]);
        reader.fault(
            "rates-order",
            place_of(&rates.from),
            message,
            "sort the pairs by height, each height once",
        );
    }
}

/// Offsets fall from pass to pass, the last leaves the wire on its own side of the edge, and the first has place
/// for the spark gap.
fn check_offsets(reader: &mut Reader, part: &Part, wire: &Wire) {
    let radius = wire.diameter.value / 2.0;
    let offsets = &wire.offsets.value;
    let place = match &wire.offsets.from {
        From::File { .. } => place_of(&wire.offsets.from),
        _ => reader.place(part),
    };
    if let Some(pair) = offsets.windows(2).find(|pair| pair[0] <= pair[1]) {
        let message = format!(
            "`offsets` goes from {} to {} mm; each pass must come closer to the edge",
            pair[0], pair[1]
        );
        reader.fault(
            "offsets-order",
            place.clone(),
            message,
            "write the main cut first, then the skims, falling",
        );
    }
    let (Some(first), Some(last)) = (offsets.first(), offsets.iter().copied().reduce(f64::min)) else {
        return;
    };
    if last < radius - SLACK {
        let message = format!(
            "`offsets` goes down to {last} mm, less than the wire's radius {radius} mm: the wire would cut into the finished edge"
        );
        reader.fault(
            "offset-below-radius",
            place,
            message,
            "half the diameter plus the spark gap is the least offset",
        );
    }
    if wire.gap.value > first - radius + SLACK {
        let room = first - radius;
        let message = format!(
            "`gap` is {} mm, but the main cut's offset {first} mm leaves only {room:.4} mm beyond the wire's radius {radius} mm: the spark would burn into the finished edge",
            wire.gap.value
        );
        reader.fault(
            "gap-beyond-offset",
            place_of(&wire.gap.from),
            message,
            "give `offsets` whose first is at least half the diameter plus the gap",
        );
    }
}
