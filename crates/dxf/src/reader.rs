//! Walks the sections of a drawing: units from the header, hidden layers from the tables, blocks, entities of the model space.
//!
//! Stages: refuse what is no ASCII DXF; read record by record into the list that is open, a block or the model space; drop what is absurdly
//! large in the drawing's own unit; keep the blocks that the model space reaches, and say what is wrong with what is kept.

use crate::block::{folded, inserted};
use crate::budget::{Budget, too_large};
use crate::entity::{Dxf, Entity, Shape};
use crate::fault::{Fault, shown};
use crate::group::{Group, Head, Records};
use crate::layers::Layers;
use crate::number;
use crate::shape::Record;
use crate::space::{Space, whole};
use crate::{Block, InsUnits, Limits, refusal};
use remark::{Place, Remark};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// Coordinates and radii beyond this many millimetres are taken for damage.
const LARGEST_MM: f64 = 1e7;
/// Groups of one record that are kept, per allowed vertex: x, y, bulge, knot, weight and some that are not used.
const GROUPS_A_VERTEX: usize = 6;

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
    Blocks,
    Tables,
    Other,
}

struct Reader<'a, 'f> {
    file: &'f str,
    section: Section,
    seen_entities: bool,
    ended: bool,
    units: Option<InsUnits>,
    layers: Layers,
    budget: Budget<'f>,
    model: Space<'a>,
    /// The block that is being read.
    open: Option<(Block, Space<'a>)>,
    /// Those that were read, by their folded names.
    blocks: BTreeMap<String, (Block, Space<'a>)>,
}

impl<'a, 'f> Reader<'a, 'f> {
    fn new(file: &'f str, limits: &'f Limits) -> Self {
        Self {
            file,
            section: Section::Other,
            seen_entities: false,
            ended: false,
            units: None,
            layers: Layers::default(),
            budget: Budget::new(file, limits),
            model: Space::default(),
            open: None,
            blocks: BTreeMap::new(),
        }
    }

    /// Takes in one record. An error refuses the whole file.
    fn record(&mut self, head: &Head<'a>, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        match &*head.kind {
            "SECTION" | "ENDSEC" => {
                self.close_block();
                self.model.close_unended();
                self.section = Section::Other;
                if head.kind == "SECTION" {
                    self.begin_section(groups)?;
                }
            }
            "LAYER" if self.section == Section::Tables => self.layers.declare(groups),
            "BLOCK" if self.section == Section::Blocks => self.begin_block(head, groups),
            "ENDBLK" if self.section == Section::Blocks => self.close_block(),
            _ if self.section == Section::Entities => self.model.entity(head, groups, &mut self.budget)?,
            _ => {
                if let Some((_, space)) = &mut self.open {
                    space.entity(head, groups, &mut self.budget)?;
                }
            }
        }
        Ok(())
    }

    fn begin_section(&mut self, groups: &[Group<'a>]) -> Result<(), Box<Remark>> {
        match groups.iter().find(|g| g.code == 2).map(|g| g.value) {
            Some(b"HEADER") => self.header(groups)?,
            Some(b"TABLES") => self.section = Section::Tables,
            Some(b"BLOCKS") => self.section = Section::Blocks,
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
        self.units = code.and_then(InsUnits::of_code);
        if self.units.is_some() || code == Some(0) {
            return Ok(());
        }
        let message = format!("$INSUNITS is '{}', which stands for no length unit", shown(group.value));
        let remark = Remark::error("unit-unknown", message).place(Place::file(self.file).line(group.line));
        Err(Box::new(remark.cure("set $INSUNITS to 4 (millimetres) or 1 (inches)")))
    }

    fn begin_block(&mut self, head: &Head<'a>, groups: &[Group<'a>]) {
        self.close_block();
        let record = Record { kind: &head.kind, line: head.line, groups };
        match whole(head).and_then(|()| record.block()) {
            Ok(block) => self.open = Some((block, Space::default())),
            Err(fault) => self.model.fault(fault),
        }
    }

    fn close_block(&mut self) {
        let Some((mut block, mut space)) = self.open.take() else { return };
        space.close_unended();
        block.entities = std::mem::take(&mut space.entities);
        match self.blocks.entry(folded(&block.name)) {
            Entry::Vacant(free) => drop(free.insert((block, space))),
            Entry::Occupied(mut taken) => {
                let (first, about_first) = taken.get_mut();
                let message = format!(
                    "there is another block '{}' on line {}; the first counts",
                    block.name, block.line
                );
                let cure = "delete one of the two, or give it another name";
                about_first.fault(Fault::new("block-twice", first.line, message, cure));
            }
        }
    }

    fn finish(mut self, last_line: u32) -> Result<Dxf, Box<Remark>> {
        self.close_block();
        self.model.close_unended();
        if !self.seen_entities {
            let remark = Remark::error("no-entities", "the file has no ENTITIES section")
                .place(Place::file(self.file));
            return Err(Box::new(remark.cure("save the drawing again as ASCII DXF")));
        }
        self.drop_absurd();
        let last = self.model.entities.last().map(|entity| entity.line);
        let mut dxf = Dxf {
            file: self.file.to_owned(),
            units: self.units,
            entities: std::mem::take(&mut self.model.entities),
            blocks: BTreeMap::new(),
            skipped: BTreeMap::new(),
            remarks: Vec::new(),
        };
        let mut spaces = reached(self.blocks, &mut dxf);
        spaces.push(self.model);
        dxf.say(spaces, self.layers, (!self.ended).then_some((last_line, last)));
        Ok(dxf)
    }

    /// Takes out the entities that reach beyond reason in the drawing's own unit. Those of blocks are looked at where they are put.
    fn drop_absurd(&mut self) {
        let in_mm = self.units.map_or(1.0, InsUnits::in_mm);
        let (kept, absurd) = std::mem::take(&mut self.model.entities)
            .into_iter()
            .partition(|entity: &Entity| reach_of(&entity.shape) * in_mm <= LARGEST_MM);
        self.model.entities = kept;
        for Entity { line, shape, .. } in absurd {
            let message =
                format!("the entity reaches {:.3e} mm from the origin, beyond 1e7", reach_of(&shape) * in_mm);
            let cure = "delete or redraw the entity, or check $INSUNITS";
            self.model.fault(Fault::new("number-absurd", line, message, cure));
        }
    }
}

/// Moves the blocks that the entities reach into the drawing, and gives back what is to be said of them, in file order.
fn reached<'a>(mut blocks: BTreeMap<String, (Block, Space<'a>)>, dxf: &mut Dxf) -> Vec<Space<'a>> {
    let mut wanted: Vec<String> = inserted(&dxf.entities).collect();
    let mut spaces: BTreeMap<u32, Space> = BTreeMap::new();
    while let Some(name) = wanted.pop() {
        if let Some((block, space)) = blocks.remove(&name) {
            wanted.extend(inserted(&block.entities));
            spaces.insert(block.line, space);
            dxf.blocks.insert(name, block);
        }
    }
    spaces.into_values().collect()
}

/// The largest coordinate or radius.
fn reach_of(shape: &Shape) -> f64 {
    let largest = |numbers: &[f64]| numbers.iter().fold(0.0, |most: f64, n| most.max(n.abs()));
    match shape {
        Shape::Line { from, to } => largest(from).max(largest(to)),
        Shape::Arc { centre, radius, .. } | Shape::Circle { centre, radius } => largest(centre).max(*radius),
        Shape::Polyline { vertices, .. } => vertices.iter().fold(0.0, |most, v| most.max(largest(&v[..2]))),
        Shape::Ellipse { centre, major, minor, .. } => {
            largest(centre).max(largest(major)).max(largest(minor))
        }
        Shape::Spline(spline) => spline.controls.iter().fold(0.0, |most, c| most.max(largest(&c[..2]))),
        Shape::Through { points, .. } => points.iter().fold(0.0, |most, point| most.max(largest(point))),
        Shape::Insert(insert) => largest(&insert.at),
    }
}
