//! What was fitted with arcs, and what is said about it.

use crate::outlines::Finder;
use crate::path::Curve;
use crate::ring::Ring;
use dxf::{Dxf, Entity, Shape};
use outline::{Facets, MOST_SAGITTA};
use remark::{Place, Remark};

/// A curve, or a run of chords, that became arcs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FittedCurve {
    /// What it was.
    pub kind: Curve,
    /// No point of it lies farther from the arcs, nor of them from it, mm.
    pub deviation_mm: f64,
    /// Line of the entity, or of the first chord.
    pub line: u32,
}

impl Finder<'_> {
    /// Takes in the facets of an outline.
    pub(crate) fn note_facets(&mut self, arcs: &[Facets], coarse: &[Facets], ring: &Ring) {
        let line = |one: &Facets| ring.lines[one.first];
        self.fitted.extend(arcs.iter().map(|one| FittedCurve {
            kind: Curve::Facets,
            deviation_mm: one.deviation,
            line: line(one),
        }));
        let mut note = |code, facets: &[Facets], said: String| {
            let Some(first) = facets.iter().min_by_key(|one| line(one)) else { return };
            let at = ring.vertices[first.first].point;
            let message = format!("{}, radius {}: {said}", counted(facets), radii(facets));
            let place = Place::file(self.file).line(line(first)).at(at.x, at.y);
            self.remarks.push(Remark::note(code, message).place(place));
        };
        let within = |facets: &[Facets]| facets.iter().map(|one| one.deviation).fold(0.0, f64::max);
        note(
            "facets-fitted",
            arcs,
            format!("read as arcs, which lie within {:.5} mm of the chords", within(arcs)),
        );
        let said = format!(
            "left as they are, for they stand up to {:.4} mm off their arcs, and facets at most {MOST_SAGITTA}",
            within(coarse)
        );
        note("facets-coarse", coarse, said);
    }

    /// What is said once about all curves of a drawing.
    pub(crate) fn fitted_notes(&self, dxf: &Dxf) -> Vec<Remark> {
        let mut notes = Vec::new();
        let kinds = [(Curve::Spline, "spline"), (Curve::Ellipse, "ellipse")];
        for (kind, name) in kinds {
            let found: Vec<&FittedCurve> = self.fitted.iter().filter(|one| one.kind == kind).collect();
            let Some(first) = found.first() else { continue };
            let within = found.iter().map(|one| one.deviation_mm).fold(0.0, f64::max);
            let message = format!(
                "{} read as lines and arcs, which lie within {within:.5} mm of {}",
                plural(found.len(), name),
                if found.len() == 1 { "it" } else { "them" }
            );
            notes.push(Remark::note("curves-fitted", message).place(Place::file(&dxf.file).line(first.line)));
        }
        let by_points: Vec<&Entity> = dxf
            .blocks
            .values()
            .flat_map(|block| &block.entities)
            .chain(&dxf.entities)
            .filter(|entity| matches!(entity.shape, Shape::Through { .. }))
            .collect();
        if let Some(first) = by_points.iter().min_by_key(|entity| entity.line) {
            let message = format!(
                "{} given by points alone, and read as the smooth cubic through them over the length of the chords; other programs \
                 may draw another curve between the points",
                plural(by_points.len(), "spline")
            );
            let place = Place::file(&dxf.file).line(first.line);
            let cure = "save the drawing with the control points of its splines, or draw lines and arcs";
            notes.push(Remark::warning("spline-by-points", message).place(place).cure(cure));
        }
        notes
    }
}

fn plural(count: usize, name: &str) -> String {
    match count {
        1 => format!("1 {name} is"),
        more => format!("{more} {name}s are"),
    }
}

fn counted(facets: &[Facets]) -> String {
    let chords: usize = facets.iter().map(|one| one.count).sum();
    match facets.len() {
        1 => format!("{chords} chords of an arc"),
        arcs => format!("{chords} chords of {arcs} arcs"),
    }
}

/// The least and the greatest radius as text.
fn radii(facets: &[Facets]) -> String {
    let all = || facets.iter().map(|one| one.radius);
    let (least, most) = (all().fold(f64::INFINITY, f64::min), all().fold(0.0, f64::max));
    match most - least < 5e-5 {
        true => format!("{most:.4}"),
        false => format!("{least:.4} to {most:.4}"),
    }
}
