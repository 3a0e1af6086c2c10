//! One list of entities while it is read: the model space, or a block.
//!
//! An old-style polyline is open until its SEQEND; what cannot be used is kept with its reason, and said only if the list is used.

use crate::budget::Budget;
use crate::entity::Entity;
use crate::fault::{Fault, shown};
use crate::group::{Group, Head};
use crate::number;
use crate::shape::{Facing, Read, Record};
use remark::Remark;
use std::collections::BTreeMap;

/// Bad entities whose reasons are listed; more are only counted, so that a damaged file stays readable.
pub(crate) const LISTED_FAULTS: usize = 1000;

/// Types that are never an outline: writing, dimensions, pictures and aids.
const NO_GEOMETRY: &[&str] = &[
    "ARC_DIMENSION",
    "ATTDEF",
    "ATTRIB",
    "DIMENSION",
    "IMAGE",
    "LARGE_RADIAL_DIMENSION",
    "LEADER",
    "LIGHT",
    "MTEXT",
    "MULTILEADER",
    "OLE2FRAME",
    "OLEFRAME",
    "POINT",
    "RAY",
    "RTEXT",
    "TEXT",
    "TOLERANCE",
    "VIEWPORT",
    "WIPEOUT",
    "XLINE",
];

/// A POLYLINE whose vertices are being collected.
struct OpenPolyline<'a> {
    head: Head<'a>,
    groups: Vec<Group<'a>>,
    vertices: Vec<[f64; 3]>,
    /// Why it cannot be used, found in one of its vertices.
    fault: Option<Fault>,
    /// Whether it is passed over, its vertices with it.
    passed_over: bool,
}

/// Remarks that are given once for all entities of a kind: code and type, with the first line and the count.
pub(crate) type Grouped = BTreeMap<(&'static str, String), (u32, u64)>;

/// The entities of a list and what is to be said about them.
#[derive(Default)]
pub(crate) struct Space<'a> {
    pub(crate) entities: Vec<Entity>,
    pub(crate) skipped: BTreeMap<String, u64>,
    pub(crate) faults: Vec<Fault>,
    /// Bad entities beyond those that are listed.
    pub(crate) more_faults: usize,
    pub(crate) grouped: Grouped,
    open: Option<OpenPolyline<'a>>,
}

impl<'a> Space<'a> {
    /// Takes in one record. An error refuses the whole file.
    pub(crate) fn entity(
        &mut self,
        head: &Head<'a>,
        groups: &[Group<'a>],
        budget: &mut Budget,
    ) -> Result<(), Box<Remark>> {
        if head.overfull {
            return Err(budget.too_many_vertices(head.line));
        }
        match &*head.kind {
            "VERTEX" => return self.vertex(head, groups, budget),
            "SEQEND" => {
                self.close_polyline();
                return Ok(());
            }
            _ => self.close_unended(),
        }
        budget.spend_entity()?;
        let record = Record { kind: &head.kind, line: head.line, groups };
        if record.flags(67).unwrap_or(0) == 1 {
            self.skip(head, Some("paper-space"));
            self.pass_over_vertices(head);
            return Ok(());
        }
        if let Err(fault) = whole(head) {
            self.fault(fault);
            self.pass_over_vertices(head);
            return Ok(());
        }
        let read = match &*head.kind {
            "LINE" => record.line_shape(),
            "ARC" => record.arc_shape(),
            "CIRCLE" => record.circle_shape(),
            "ELLIPSE" => record.ellipse_shape(),
            "INSERT" => record.insert_shape(),
            "SPLINE" => match record.spline_shape() {
                Ok((read, points)) => {
                    budget.spend_vertices(points, head.line)?;
                    Ok(read)
                }
                Err(fault) => Err(fault),
            },
            "LWPOLYLINE" => self.light_polyline(&record, budget)?,
            "POLYLINE" => {
                self.open_polyline(head, groups);
                return Ok(());
            }
            kind => {
                self.skip(head, (!NO_GEOMETRY.contains(&kind)).then_some("geometry-skipped"));
                return Ok(());
            }
        };
        self.keep(head, groups, read);
        Ok(())
    }

    /// A polyline that was still open when something else began.
    pub(crate) fn close_unended(&mut self) {
        let Some(open) = self.open.take_if(|open| !open.passed_over) else {
            self.open = None;
            return;
        };
        let message = format!("POLYLINE: it has no SEQEND; {} vertices were read", open.vertices.len());
        self.fault(Fault::new("polyline-unended", open.head.line, message, "delete or redraw the entity"));
    }

    /// Notes what is wrong with an entity.
    pub(crate) fn fault(&mut self, fault: Fault) {
        match self.faults.len() < LISTED_FAULTS {
            true => self.faults.push(fault),
            false => self.more_faults += 1,
        }
    }

    fn keep(&mut self, head: &Head<'a>, groups: &[Group<'a>], read: Result<Read, Fault>) {
        let shape = match read {
            Ok(Read::Flat(shape)) => shape,
            Ok(Read::Tilted(code)) => return self.skip(head, Some(code)),
            Err(fault) => return self.fault(fault),
        };
        let record = Record { kind: &head.kind, line: head.line, groups };
        let layer = record.group(8).map_or_else(|| "0".to_owned(), Group::text);
        if record.flags(60).unwrap_or(0) == 1 {
            self.count("entity-hidden", &head.kind, head.line);
        }
        self.entities.push(Entity { line: head.line, layer, shape });
    }

    fn light_polyline(
        &mut self,
        record: &Record,
        budget: &mut Budget,
    ) -> Result<Result<Read, Fault>, Box<Remark>> {
        let vertices = match record.light_vertices() {
            Ok(vertices) => vertices,
            Err(fault) => return Ok(Err(fault)),
        };
        budget.spend_vertices(vertices.len(), record.line)?;
        let stated = record.group(90).and_then(|g| number::integer(g, record.kind).ok());
        if stated.is_some_and(|stated| stated != vertices.len() as i64) {
            self.count("polyline-count", record.kind, record.line);
        }
        Ok(record.facing().and_then(|facing| record.polyline(vertices, facing)))
    }

    fn open_polyline(&mut self, head: &Head<'a>, groups: &[Group<'a>]) {
        const THREE_D_OR_MESH: i64 = 8 | 16 | 64;
        const FITTED: i64 = 2 | 4;
        let record = Record { kind: &head.kind, line: head.line, groups };
        let (flags, fault) = match record.flags(70) {
            Ok(flags) => (flags, None),
            Err(fault) => (0, Some(fault)),
        };
        let passed_over = flags & THREE_D_OR_MESH != 0;
        if passed_over {
            self.skip(head, Some("geometry-skipped"));
        } else if flags & FITTED != 0 {
            self.count("polyline-fitted", &head.kind, head.line);
        }
        let (head, groups) = (head.clone(), groups.to_vec());
        self.open = Some(OpenPolyline { head, groups, vertices: Vec::new(), fault, passed_over });
    }

    /// A POLYLINE that is not used: its vertices go with it.
    fn pass_over_vertices(&mut self, head: &Head<'a>) {
        if head.kind == "POLYLINE" {
            let (head, groups) = (head.clone(), Vec::new());
            self.open =
                Some(OpenPolyline { head, groups, vertices: Vec::new(), fault: None, passed_over: true });
        }
    }

    fn vertex(
        &mut self,
        head: &Head<'a>,
        groups: &[Group<'a>],
        budget: &mut Budget,
    ) -> Result<(), Box<Remark>> {
        const CONTROL_POINT_OF_A_CURVE: i64 = 16;
        budget.spend_vertices(1, head.line)?;
        let record = Record { kind: &head.kind, line: head.line, groups };
        let Some(open) = &mut self.open else {
            let message = "VERTEX: it belongs to no POLYLINE".to_owned();
            self.fault(Fault::new("vertex-alone", head.line, message, "delete it or redraw the polyline"));
            return Ok(());
        };
        let read = whole(head).and_then(|()| Ok((record.flags(70)?, record.vertex()?)));
        match read {
            Ok((flags, _)) if flags & CONTROL_POINT_OF_A_CURVE != 0 => {}
            Ok((_, vertex)) => open.vertices.push(vertex),
            Err(fault) => open.fault = open.fault.take().or(Some(fault)),
        }
        Ok(())
    }

    fn close_polyline(&mut self) {
        let Some(open) = self.open.take() else { return };
        if open.passed_over {
            return;
        }
        let record = Record { kind: &open.head.kind, line: open.head.line, groups: &open.groups };
        let read = match open.fault {
            Some(fault) => Err(fault),
            None => record.facing().and_then(|facing: Facing| record.polyline(open.vertices, facing)),
        };
        self.keep(&open.head, &open.groups, read);
    }

    fn skip(&mut self, head: &Head<'a>, code: Option<&'static str>) {
        *self.skipped.entry(shown(head.kind.as_bytes())).or_insert(0) += 1;
        if let Some(code) = code {
            self.count(code, &head.kind, head.line);
        }
    }

    fn count(&mut self, code: &'static str, kind: &str, line: u32) {
        self.grouped.entry((code, shown(kind.as_bytes()))).or_insert((line, 0)).1 += 1;
    }
}

/// Whether all groups of a record were read.
pub(crate) fn whole(head: &Head) -> Result<(), Fault> {
    let cure = "delete or redraw the entity";
    if let Some((line, found)) = head.broken {
        let message = format!(
            "{}: '{}' stands where a group code was expected",
            shown(head.kind.as_bytes()),
            shown(found)
        );
        return Err(Fault::new("group-code-bad", line, message, cure));
    }
    if head.cut_off {
        let message = format!("{}: the file ends inside it", shown(head.kind.as_bytes()));
        return Err(Fault::new("group-code-bad", head.line, message, "copy or save the drawing again"));
    }
    Ok(())
}
