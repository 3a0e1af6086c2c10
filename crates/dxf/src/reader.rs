//! Walks the sections of a drawing: units from the header, hidden layers from the tables, entities of the model space.
//!
//! Stages: refuse what is no ASCII DXF; read record by record, an old-style polyline being open until its SEQEND; add up what was skipped;
//! drop what is absurdly large in the drawing's own unit.

use crate::entity::{Dxf, Entity, Shape};
use crate::fault::{Fault, shown};
use crate::group::{Group, Head, Records};
use crate::layers::Layers;
use crate::number;
use crate::shape::{Facing, Read, Record};
use crate::{InsUnits, Limits, refusal};
use remark::{Place, Remark};
use std::collections::BTreeMap;

/// Bad entities that are listed one by one; more are only counted, so that a damaged file stays readable.
const LISTED_FAULTS: usize = 1000;
/// Coordinates and radii beyond this many millimetres are taken for damage.
const LARGEST_MM: f64 = 1e7;
/// Groups of one record that are kept, per allowed vertex: x, y, bulge and some that are not used.
const GROUPS_A_VERTEX: usize = 6;

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

/// Reads an ASCII DXF drawing. `file` is its name for remarks; nothing is opened.
///
/// # Errors
/// Refuses, with remarks that say why, what is no ASCII DXF, is beyond `limits`, states an unknown unit, or has no ENTITIES section.
pub fn read(bytes: &[u8], file: &str, limits: &Limits) -> Result<Dxf, Vec<Remark>> {
    if bytes.len() > limits.bytes {
        let message = format!("the file has {} bytes, and at most {} are read", bytes.len(), limits.bytes);
        return Err(vec![too_large("file-too-large", message, file)]);
    }
    let text = refusal::text(bytes, file).map_err(|remark| vec![*remark])?;
    let most = limits.vertices.saturating_mul(GROUPS_A_VERTEX).saturating_add(1000);
    let mut records = Records::new(text, most)
        .map_err(|(line, found)| vec![refusal::not_dxf(file, line, &format!("'{}'", shown(found)))])?;
    let mut reader = Reader::new(file, limits);
    let mut groups = Vec::new();
    let mut first = true;
    while let Some(head) = records.next_record(&mut groups) {
        if first && head.kind != "SECTION" {
            return Err(vec![refusal::not_dxf(
                file,
                head.line,
                &format!("'{}'", shown(head.kind.as_bytes())),
            )]);
        }
        first = false;
        if head.kind == "EOF" {
            reader.ended = true;
            break;
        }
        reader.record(&head, &groups).map_err(|remark| vec![*remark])?;
    }
    reader.finish(records.line()).map_err(|remark| vec![*remark])
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Section {
    Entities,
    Tables,
    Other,
}

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

struct Reader<'a, 'f> {
    file: &'f str,
    limits: &'f Limits,
    section: Section,
    seen_entities: bool,
    ended: bool,
    dxf: Dxf,
    layers: Layers,
    open: Option<OpenPolyline<'a>>,
    entities: usize,
    vertices: usize,
    faults: usize,
    /// Remarks that are given once for all entities of a kind: code and type, with the first line and the count.
    grouped: BTreeMap<(&'static str, String), (u32, u64)>,
}

impl<'a, 'f> Reader<'a, 'f> {
    fn new(file: &'f str, limits: &'f Limits) -> Self {
        let dxf = Dxf {
            file: file.to_owned(),
            units: None,
            entities: Vec::new(),
            skipped: BTreeMap::new(),
            remarks: Vec::new(),
        };
        Self {
            file,
            limits,
            section: Section::Other,
            seen_entities: false,
            ended: false,
            dxf,
            layers: Layers::default(),
            open: None,
            entities: 0,
            vertices: 0,
            faults: 0,
            grouped: BTreeMap::new(),
        }
    }

    /// Takes in one record. An error refuses the whole file.
    fn record(&mut self, head: &Head<'a>, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        match &*head.kind {
            "SECTION" | "ENDSEC" => {
                self.close_unended();
                self.section = Section::Other;
                if head.kind == "SECTION" {
                    self.begin_section(groups)?;
                }
            }
            "LAYER" if self.section == Section::Tables => self.layers.declare(groups),
            _ if self.section == Section::Entities => self.entity(head, groups)?,
            _ => {}
        }
        Ok(())
    }

    fn begin_section(&mut self, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        match groups.iter().find(|g| g.code == 2).map(|g| g.value) {
            Some(b"HEADER") => self.header(groups)?,
            Some(b"TABLES") => self.section = Section::Tables,
            Some(b"ENTITIES") => {
                self.section = Section::Entities;
                self.seen_entities = true;
            }
            _ => {}
        }
        Ok(())
    }

    fn header(&mut self, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        let Some(at) = groups.iter().position(|g| g.code == 9 && g.value == b"$INSUNITS") else {
            return Ok(());
        };
        let Some(group) = groups.get(at + 1).filter(|g| g.code == 70) else { return Ok(()) };
        let code = number::integer(group, "$INSUNITS").ok();
        self.dxf.units = code.and_then(InsUnits::of_code);
        if self.dxf.units.is_some() || code == Some(0) {
            return Ok(());
        }
        let message = format!("$INSUNITS is '{}', which stands for no length unit", shown(group.value));
        let remark = Remark::error("unit-unknown", message).place(Place::file(self.file).line(group.line));
        Err(Box::new(remark.cure("set $INSUNITS to 4 (millimetres) or 1 (inches)")))
    }

    fn entity(&mut self, head: &Head<'a>, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        if head.overfull {
            return Err(self.too_many_vertices(head.line));
        }
        match &*head.kind {
            "VERTEX" => return self.vertex(head, groups),
            "SEQEND" => {
                self.close_polyline();
                return Ok(());
            }
            _ => self.close_unended(),
        }
        self.entities += 1;
        if self.entities > self.limits.entities {
            let message = format!("the drawing has more than {} entities", self.limits.entities);
            return Err(Box::new(too_large("too-many-entities", message, self.file)));
        }
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
            "LWPOLYLINE" => self.light_polyline(&record)?,
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

    fn keep(&mut self, head: &Head<'a>, groups: &[Group<'a>], read: Result<Read, Fault>) {
        let shape = match read {
            Ok(Read::Flat(shape)) => shape,
            Ok(Read::Tilted(code)) => return self.skip(head, Some(code)),
            Err(fault) => return self.fault(fault),
        };
        let record = Record { kind: &head.kind, line: head.line, groups };
        let layer = record.group(8).map_or_else(|| "0".to_owned(), Group::text);
        self.layers.used(&layer, head.line);
        if record.flags(60).unwrap_or(0) == 1 {
            self.count("entity-hidden", &head.kind, head.line);
        }
        self.dxf.entities.push(Entity { line: head.line, layer, shape });
    }

    fn light_polyline(&mut self, record: &Record) -> Result<Result<Read, Fault>, Box<Remark>> {
        let vertices = match record.light_vertices() {
            Ok(vertices) => vertices,
            Err(fault) => return Ok(Err(fault)),
        };
        self.spend_vertices(vertices.len(), record.line)?;
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

    fn vertex(&mut self, head: &Head<'a>, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        const CONTROL_POINT_OF_A_CURVE: i64 = 16;
        self.spend_vertices(1, head.line)?;
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

    /// A polyline that was still open when something else began.
    fn close_unended(&mut self) {
        let Some(open) = self.open.take_if(|open| !open.passed_over) else {
            self.open = None;
            return;
        };
        let message = format!("POLYLINE: it has no SEQEND; {} vertices were read", open.vertices.len());
        self.fault(Fault::new("polyline-unended", open.head.line, message, "delete or redraw the entity"));
    }

    fn spend_vertices(&mut self, count: usize, line: u32) -> Result<(), Box<Remark>> {
        self.vertices += count;
        match self.vertices > self.limits.vertices {
            true => Err(self.too_many_vertices(line)),
            false => Ok(()),
        }
    }

    fn too_many_vertices(&self, line: u32) -> Box<Remark> {
        let message = format!(
            "the polylines have more than {} vertices, here the limit was passed",
            self.limits.vertices
        );
        let mut remark = too_large("too-many-vertices", message, self.file);
        remark.place.line = Some(line);
        Box::new(remark)
    }

    fn skip(&mut self, head: &Head<'a>, code: Option<&'static str>) {
        *self.dxf.skipped.entry(shown(head.kind.as_bytes())).or_insert(0) += 1;
        if let Some(code) = code {
            self.count(code, &head.kind, head.line);
        }
    }

    fn count(&mut self, code: &'static str, kind: &str, line: u32) {
        self.grouped.entry((code, shown(kind.as_bytes()))).or_insert((line, 0)).1 += 1;
    }

    fn fault(&mut self, fault: Fault) {
        self.faults += 1;
        if self.faults <= LISTED_FAULTS {
            self.dxf.remarks.push(fault.remark(self.file));
        }
    }

    fn finish(mut self, last_line: u32) -> Result<Dxf, Box<Remark>> {
        self.close_unended();
        if !self.seen_entities {
            let remark = Remark::error("no-entities", "the drawing has no ENTITIES section");
            let remark = remark.place(Place::file(self.file).line(last_line));
            return Err(Box::new(remark.cure("save the drawing again as ASCII DXF")));
        }
        self.drop_absurd();
        if self.faults > LISTED_FAULTS {
            let message = format!("{} more entities cannot be used", self.faults - LISTED_FAULTS);
            self.dxf.remarks.push(Remark::error("faults-many", message).place(Place::file(self.file)));
        }
        if !self.ended {
            self.dxf.remarks.push(truncated(self.file, last_line, self.dxf.entities.last()));
        }
        for ((code, kind), (line, count)) in &self.grouped {
            let remark = grouped_remark(code, kind, *count).place(Place::file(self.file).line(*line));
            self.dxf.remarks.push(remark);
        }
        self.dxf.remarks.extend(self.layers.notes(self.file));
        Ok(self.dxf)
    }

    /// Takes out the entities that reach beyond reason in the drawing's own unit.
    fn drop_absurd(&mut self) {
        let in_mm = self.dxf.units.map_or(1.0, InsUnits::in_mm);
        let (kept, absurd) = std::mem::take(&mut self.dxf.entities)
            .into_iter()
            .partition(|entity: &Entity| reach_of(&entity.shape) * in_mm <= LARGEST_MM);
        self.dxf.entities = kept;
        for Entity { line, shape, .. } in absurd {
            let message =
                format!("the entity reaches {:.3e} mm from the origin, beyond 1e7", reach_of(&shape) * in_mm);
            self.fault(Fault::new(
                "number-absurd",
                line,
                message,
                "delete or redraw the entity, or check $INSUNITS",
            ));
        }
    }
}

/// The largest coordinate or radius.
fn reach_of(shape: &Shape) -> f64 {
    let largest = |numbers: &[f64]| numbers.iter().fold(0.0, |most: f64, n| most.max(n.abs()));
    match shape {
        Shape::Line { from, to } => largest(from).max(largest(to)),
        Shape::Arc { centre, radius, .. } | Shape::Circle { centre, radius } => largest(centre).max(*radius),
        Shape::Polyline { vertices, .. } => vertices.iter().fold(0.0, |most, v| most.max(largest(&v[..2]))),
    }
}

/// Whether all groups of a record were read.
fn whole(head: &Head) -> Result<(), Fault> {
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

fn too_large(code: &str, message: String, file: &str) -> Remark {
    Remark::error(code, message)
        .place(Place::file(file))
        .cure("keep only the outlines of this section in the drawing")
}

fn truncated(file: &str, line: u32, last: Option<&Entity>) -> Remark {
    let mut message = "the file has no end-of-file mark, so the end of it may be lost".to_owned();
    if let Some(last) = last {
        message.push_str(&format!("; the last entity read stands on line {}", last.line));
    }
    Remark::warning("truncated", message)
        .place(Place::file(file).line(line))
        .cure("copy or save the drawing again")
}

/// One remark for all entities of a kind; the place is the first of them.
fn grouped_remark(code: &str, kind: &str, count: u64) -> Remark {
    match code {
        "paper-space" => Remark::note(code, format!("{kind}: {count} in the paper space, passed over")),
        "entity-hidden" => Remark::note(code, format!("{kind}: {count} invisible, used all the same")),
        "polyline-count" => {
            Remark::warning(code, format!("{kind}: {count} with more or fewer vertices than it says"))
                .cure("look at the outline before use")
        }
        "polyline-fitted" => Remark::warning(
            code,
            format!("{kind}: {count} curve-fitted, read as the lines and arcs that stand for the curve"),
        )
        .cure("look at the outline before use, or draw the curve as lines and arcs"),
        "line-tilted" | "extrusion-tilted" => {
            Remark::warning(code, format!("{kind}: {count} outside the drawing plane, passed over"))
                .cure("draw it in the plane")
        }
        _ => Remark::warning(code, format!("{kind}: {count} passed over, though it could be geometry"))
            .cure("draw it as lines, arcs, circles or flat polylines"),
    }
}
