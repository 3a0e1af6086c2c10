//! The outlines of a drawing.
//!
//! Stages: the unit; inserts carried out; each entity as a path in mm, curves fitted with arcs; entities drawn twice dropped; ends joined; what
//! lies on what; chains; in closed chains facets recognised and ends closed up; outlines drawn twice dropped; outlines that meet refused; the
//! rest numbered and related.

use crate::chain::{Chain, chains};
use crate::contacts::Contacts;
use crate::fitted::FittedCurve;
use crate::inserts::placed;
use crate::joints::Joints;
use crate::meet::{directly_around, meetings, repeats};
use crate::open::open_chains;
use crate::path::{NOTHING, NoPath, Path};
use crate::ring::ring;
use crate::twins::twins;
use crate::units::{Units, UnitsFrom, settle};
use crate::work::{Tangled, Work};
use dxf::{Dxf, Shape};
use outline::{Defect, DefectKind, Effort, MOST_ARCS, Outline, Point, close_up, recognised};
use remark::{Place, Remark};
use std::collections::{BTreeMap, BTreeSet};

/// What fitting the curves of one drawing may cost: some seconds, or a hundred thousand arcs and more.
const MOST_EFFORT: u64 = 250_000_000;

/// What the person decides about a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// The unit of the numbers, whatever the drawing states.
    pub units: Option<Units>,
    /// The unit of the numbers of a drawing that states none.
    pub units_if_unstated: Option<Units>,
    /// Loose ends up to this far apart are joined, mm; at least a nanometre is always taken for rounding.
    pub join_limit_mm: f64,
}

/// The closed outlines of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The unit of the drawing's numbers; mm for a unit that was converted.
    pub units: Units,
    /// Who said so.
    pub units_from: UnitsFrom,
    /// The good closed outlines, by the line of their first entities.
    pub outlines: Vec<DrawnOutline>,
    /// Curves and facets that became arcs, by line.
    pub fitted: Vec<FittedCurve>,
    /// Entities that were passed over, by type.
    pub skipped: BTreeMap<String, u64>,
    /// What a person should know, the reader's remarks first.
    pub remarks: Vec<Remark>,
}

/// One closed outline.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnOutline {
    /// `o1`, `o2`, ... in the order of the lines of their first entities.
    pub id: String,
    /// Layer of its first entity.
    pub layer: String,
    /// Line of its first entity.
    pub first_line: u32,
    /// Its edge in mm. It begins at the first entity's first point: a line's first, an arc's start angle, a circle's angle 0, a
    /// polyline's first vertex.
    pub outline: Outline,
    /// No point of the raw entities lies farther from the outline, and none of the outline farther from them, mm.
    pub moved_mm: f64,
    /// How much of that is due to arcs in the place of curves and facets, mm.
    pub fitted_mm: f64,
    /// Index of the outline directly around it.
    pub inside_of: Option<usize>,
}

/// Finds the closed outlines of a drawing. Whatever is not one is a remark.
pub fn outlines(dxf: &Dxf, options: &Options) -> Drawing {
    let settled = settle(dxf, options.units, options.units_if_unstated);
    let mut drawing = Drawing {
        units: settled.units,
        units_from: settled.from,
        outlines: Vec::new(),
        fitted: Vec::new(),
        skipped: dxf.skipped.clone(),
        remarks: dxf.remarks.clone(),
    };
    drawing.remarks.extend(settled.remark);
    if !options.join_limit_mm.is_finite() || options.join_limit_mm < 0.0 {
        let message = format!("the join limit is {} mm, and it must be 0 or more", options.join_limit_mm);
        drawing.remarks.push(Remark::error("join-limit-bad", message).cure("leave join_limit out: 0.001 mm"));
        return drawing;
    }
    let mut finder = Finder {
        file: &dxf.file,
        limit: options.join_limit_mm.max(NOTHING),
        work: Work::new(),
        remarks: Vec::new(),
        fitted: Vec::new(),
    };
    let found = finder.find(dxf, settled.in_mm);
    finder.fitted.sort_by_key(|one| one.line);
    drawing.remarks.extend(finder.fitted_notes(dxf));
    drawing.remarks.append(&mut finder.remarks);
    drawing.fitted = finder.fitted;
    match found {
        Ok(outlines) => drawing.outlines = outlines,
        Err(Tangled) => drawing.remarks.push(
            Remark::error(
                "drawing-tangled",
                "too many entities lie at the same place, or too many curves wind too much, to be followed in reasonable time",
            )
            .place(Place::file(&dxf.file))
            .cure("keep only the outlines of this section in the drawing"),
        ),
    }
    drawing
}

pub(crate) struct Finder<'a> {
    pub(crate) file: &'a str,
    limit: f64,
    work: Work,
    pub(crate) remarks: Vec<Remark>,
    pub(crate) fitted: Vec<FittedCurve>,
}

/// A closed chain that became an outline.
struct Closed {
    line: u32,
    layer: String,
    outline: Outline,
    moved: f64,
    fitted: f64,
}

impl Finder<'_> {
    fn find(&mut self, dxf: &Dxf, in_mm: f64) -> Result<Vec<DrawnOutline>, Tangled> {
        let paths = self.paths(dxf, in_mm)?;
        let paths = self.without_twins(paths)?;
        let joints = Joints::new(&paths, self.limit, &mut self.work)?;
        let contacts = Contacts::new(&paths, self.limit, &mut self.work)?;
        let chains = chains(&paths, &joints);
        let faulty = self.faulty(&paths, &chains, &joints, &contacts);
        let clear = |chain: &&Chain| !chain.links.iter().any(|link| faulty.contains(&link.0));
        let sound: Vec<&Chain> = chains.iter().filter(clear).collect();
        let open = open_chains(&sound, &paths, &contacts, self.limit, self.file, &mut self.work)?;
        self.remarks.extend(open);
        let closed = sound.into_iter().filter(|chain| chain.open.is_none());
        let closed: Vec<Closed> = closed.filter_map(|chain| self.close(chain, &paths)).collect();
        let closed = self.without_repeats(closed)?;
        let closed = self.without_meetings(closed)?;
        numbered(closed, &mut self.work)
    }

    fn paths(&mut self, dxf: &Dxf, in_mm: f64) -> Result<Vec<Path>, Tangled> {
        let all = placed(dxf, in_mm, &mut self.remarks);
        let mut paths = Vec::with_capacity(all.len());
        let mut effort = Effort::new(MOST_EFFORT);
        for one in &all {
            self.work.spend(work_of(one.shape))?;
            let made = Path::new(one, &mut effort);
            if effort.is_spent() {
                return Err(Tangled);
            }
            match made {
                Ok((path, dropped)) => {
                    if dropped > 0 {
                        let message =
                            format!("{dropped} segments of no length were dropped from the polyline");
                        self.warn("zero-length", message, path.line, path.first());
                    }
                    if let Some((kind, deviation_mm)) = path.fitted {
                        self.fitted.push(FittedCurve { kind, deviation_mm, line: path.line });
                    }
                    paths.push(path);
                }
                Err(why) => self.no_path(why, one.line),
            }
        }
        Ok(paths)
    }

    fn no_path(&mut self, why: NoPath, line: u32) {
        match why {
            NoPath::ZeroLength(at) => {
                self.warn("zero-length", "the entity has no length and was dropped".to_owned(), line, at);
            }
            NoPath::NoSweep(at) => {
                let message =
                    "the arc ends where it begins: it could be a whole circle or nothing".to_owned();
                let cure = "draw a circle or an ellipse, or delete the arc";
                self.error("arc-without-sweep", message, line, at, cure);
            }
            NoPath::TooWinding(at) => {
                let message = format!(
                    "the curve winds so much, or runs so fast in places, that {MOST_ARCS} arcs do not follow it"
                );
                self.error("curve-too-winding", message, line, at, "draw the curve as lines and arcs");
            }
            NoPath::Absurd(far) => {
                let message = format!("the entity reaches {far:.3e} mm from the origin, beyond 1e6");
                let cure = "delete or redraw the entity, or check its scale and $INSUNITS";
                let place = Place::file(self.file).line(line);
                self.remarks.push(Remark::error("number-absurd", message).place(place).cure(cure));
            }
        }
    }

    fn without_twins(&mut self, paths: Vec<Path>) -> Result<Vec<Path>, Tangled> {
        let twin_of = twins(&paths, self.limit, &mut self.work)?;
        for (path, twin) in paths.iter().zip(&twin_of) {
            if let Some(twin) = twin {
                let message =
                    format!("the entity repeats the one on line {} and was dropped", paths[*twin].line);
                self.warn("duplicate", message, path.line, path.first());
            }
        }
        Ok(paths.into_iter().zip(twin_of).filter(|(_, twin)| twin.is_none()).map(|(path, _)| path).collect())
    }

    /// The paths that take part in no outline, because joining them would be guessing.
    fn faulty(
        &mut self,
        paths: &[Path],
        chains: &[Chain],
        joints: &Joints,
        contacts: &Contacts,
    ) -> BTreeSet<usize> {
        let mut faulty = BTreeSet::new();
        for branch in &joints.branches {
            let numbers: BTreeSet<usize> = branch.ends.iter().map(|end| end / 2).collect();
            let lines: Vec<String> = numbers.iter().map(|&path| paths[path].line.to_string()).collect();
            let message = format!(
                "{} ends meet here, and an outline joins two; entities on lines {}",
                branch.ends.len(),
                lines.join(", ")
            );
            let line = numbers.first().map_or(0, |&path| paths[path].line);
            self.error("branch", message, line, branch.place, "delete what does not belong to an outline");
            faulty.extend(numbers);
        }
        let closed = chains
            .iter()
            .filter(|chain| chain.open.is_none())
            .flat_map(|chain| &chain.links)
            .map(|link| link.0);
        let closed: BTreeSet<usize> = closed.filter(|path| !faulty.contains(path)).collect();
        for &(a, b, place) in &contacts.overlaps {
            let open: Vec<usize> = [a, b].into_iter().filter(|path| !closed.contains(path)).collect();
            // Two closed chains that run together are one outline drawn twice, or outlines that touch: that is said of them.
            if open.is_empty() {
                continue;
            }
            let message = format!("the entity runs along the one on line {} for a stretch", paths[a].line);
            self.error("overlap", message, paths[b].line, place, "delete or trim one of the two");
            faulty.extend(open);
        }
        faulty
    }

    fn close(&mut self, chain: &Chain, paths: &[Path]) -> Option<Closed> {
        let first = &paths[chain.first()];
        let ring = ring(paths, &chain.links);
        let found = recognised(&ring.vertices);
        let facets = found.arcs.iter().map(|one| one.deviation).fold(0.0, f64::max);
        match close_up(found.vertices, self.limit) {
            Ok(closed) => {
                self.note_facets(&found.arcs, &found.coarse, &ring);
                let fitted = ring.fitted + facets;
                Some(Closed {
                    line: first.line,
                    layer: first.layer.clone(),
                    outline: closed.outline,
                    moved: ring.moved + closed.moved_mm + fitted,
                    fitted,
                })
            }
            Err(defects) => {
                defects.into_iter().for_each(|defect| self.refuse(&defect, first.line));
                None
            }
        }
    }

    fn refuse(&mut self, defect: &Defect, line: u32) {
        let (code, cure) = match defect.kind {
            DefectKind::Crossing => {
                ("outline-crosses-itself", "redraw the outline so that it does not cross itself")
            }
            DefectKind::Touching => {
                ("outline-touches-itself", "redraw the outline so that it stays clear of itself")
            }
            DefectKind::NoArea => ("outline-no-area", "delete the outline, or redraw it"),
            DefectKind::BeyondJoinLimit => {
                ("outline-not-closed-up", "redraw the outline, or raise join_limit")
            }
            _ => ("outline-unusable", "redraw the outline"),
        };
        let message = format!("the outline that begins on line {line}: {}", defect.message);
        self.error(code, message, line, defect.place, cure);
    }

    fn without_repeats(&mut self, closed: Vec<Closed>) -> Result<Vec<Closed>, Tangled> {
        let outlines: Vec<&Outline> = closed.iter().map(|c| &c.outline).collect();
        let repeat_of = repeats(&outlines, self.limit, &mut self.work)?;
        for (this, other) in closed.iter().zip(&repeat_of) {
            if let Some(other) = other {
                let message =
                    format!("the outline repeats the one on line {} and was dropped", closed[*other].line);
                self.warn("duplicate-outline", message, this.line, this.outline.vertices()[0].point);
            }
        }
        Ok(closed.into_iter().zip(repeat_of).filter(|(_, repeat)| repeat.is_none()).map(|(c, _)| c).collect())
    }

    fn without_meetings(&mut self, closed: Vec<Closed>) -> Result<Vec<Closed>, Tangled> {
        let outlines: Vec<&Outline> = closed.iter().map(|c| &c.outline).collect();
        let met = meetings(&outlines, &mut self.work)?;
        for (&(a, b), &place) in &met {
            for (this, other) in [(a, b), (b, a)] {
                let message =
                    format!("the outline crosses or touches the one on line {}", closed[other].line);
                self.error(
                    "outlines-meet",
                    message,
                    closed[this].line,
                    place,
                    "redraw one of the two, or delete it",
                );
            }
        }
        let refused: BTreeSet<usize> = met.keys().flat_map(|&(a, b)| [a, b]).collect();
        Ok(closed.into_iter().enumerate().filter(|(i, _)| !refused.contains(i)).map(|(_, c)| c).collect())
    }

    fn warn(&mut self, code: &str, message: String, line: u32, at: Point) {
        self.remarks
            .push(Remark::warning(code, message).place(Place::file(self.file).line(line).at(at.x, at.y)));
    }

    fn error(&mut self, code: &str, message: String, line: u32, at: Point, cure: &str) {
        let place = Place::file(self.file).line(line).at(at.x, at.y);
        self.remarks.push(Remark::error(code, message).place(place).cure(cure));
    }
}

/// What taking a shape apart costs before it is fitted.
fn work_of(shape: &Shape) -> usize {
    match shape {
        Shape::Spline(spline) => spline.controls.len() * spline.degree.pow(3) / 2,
        Shape::Polyline { vertices, .. } => vertices.len(),
        _ => 1,
    }
}

fn numbered(closed: Vec<Closed>, work: &mut Work) -> Result<Vec<DrawnOutline>, Tangled> {
    let outlines: Vec<&Outline> = closed.iter().map(|c| &c.outline).collect();
    let around = directly_around(&outlines, work)?;
    let with_number = closed.into_iter().zip(around).enumerate();
    Ok(with_number
        .map(|(i, (Closed { line, layer, outline, moved, fitted }, inside_of))| DrawnOutline {
            id: format!("o{}", i + 1),
            layer,
            first_line: line,
            outline,
            moved_mm: moved,
            fitted_mm: fitted,
            inside_of,
        })
        .collect())
}
