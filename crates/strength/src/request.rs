//! Whether loads, supports and aim fit the plate.

use crate::region::{Edge, Region};
use crate::settle::Aim;
use crate::{Load, Refusal, Stiffness, Support};

/// Fewest triangles that an aim may allow: a plain plate takes more.
const FEWEST: usize = 100;

/// The first thing that cannot be.
pub(crate) fn check(region: &Region, loads: &[Load], supports: &[Support], aim: &Aim) -> Result<(), Refusal> {
    if !(aim.settle > 0.0 && aim.settle < 1.0) || aim.most_elements < FEWEST {
        let Aim { settle, most_elements } = aim;
        return Err(Refusal::Aim {
            what: format!(
                "aim {settle} with {most_elements} elements; the share must be between 0 and 1, and at least {FEWEST} elements be allowed"
            ),
        });
    }
    let wrong =
        loads.iter().find_map(|load| load_wrong(region, load)).or_else(|| supports_wrong(region, supports));
    wrong.map_or(Ok(()), |what| Err(Refusal::Stray { what }))
}

fn load_wrong(region: &Region, load: &Load) -> Option<String> {
    let Some(outline) = region.outline(load.edge) else {
        return Some(format!(
            "a load on {}; the plate has {} openings, counted from 0",
            load.edge,
            region.openings().len()
        ));
    };
    if !load.pressure_mpa.is_finite() {
        return Some(format!(
            "a pressure of {} MPa on {}; it must be a finite number",
            load.pressure_mpa, load.edge
        ));
    }
    let count = outline.vertices().len();
    let segment = load.segment.filter(|segment| *segment >= count)?;
    Some(format!("a load on segment {segment} of {}; it has {count}, counted from 0", load.edge))
}

fn supports_wrong(region: &Region, supports: &[Support]) -> Option<String> {
    let count = region.outline(Edge::Outer).map_or(0, |outer| outer.vertices().len());
    supports.iter().enumerate().find_map(|(i, support)| {
        let segment = support.segment;
        if segment >= count {
            return Some(format!(
                "a support on segment {segment} of the outer edge; it has {count}, counted from 0"
            ));
        }
        if supports[..i].iter().any(|other| other.segment == segment) {
            return Some(format!("two supports on segment {segment} of the outer edge; give one"));
        }
        match support.stiffness {
            Stiffness::Springy(k) if !(k > 0.0 && k.is_finite()) => Some(format!(
                "a support of {k} MPa/mm on segment {segment}; it must be a finite number above 0"
            )),
            _ => None,
        }
    })
}
