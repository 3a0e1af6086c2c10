//! Inserts carried out: every entity of the model space and of the blocks in it, each with where it comes to lie.
//!
//! Stages: how many entities each block stands for, which finds what is missing, what stands in itself and what goes too deep; then the
//! entities in file order, an insert as all that it stands for, as long as the drawing has room for them. An insert that cannot be carried
//! out is an error at its own line, and hides nothing else.

use crate::map::Map;
use dxf::{Block, Dxf, Entity, Insert, Shape};
use remark::{Place, Remark};
use std::collections::BTreeMap;

/// Entities that the inserts of a drawing may stand for: as many as are read without inserts.
const MOST_ENTITIES: u64 = 200_000;
/// Vertices of polylines and points of splines that they may stand for.
const MOST_VERTICES: u64 = 1_000_000;
/// Inserts within each other.
const MOST_NESTED: u32 = 32;

/// An entity where it comes to lie.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Placed<'a> {
    /// Line of the entity of the model space that it is or comes from.
    pub(crate) line: u32,
    /// Its layer: "0" in a block is the layer of the insert.
    pub(crate) layer: &'a str,
    pub(crate) shape: &'a Shape,
    pub(crate) map: Map,
}

/// All entities of a drawing in their places. `in_mm` is the length of a drawing unit.
pub(crate) fn placed<'a>(dxf: &'a Dxf, in_mm: f64, remarks: &mut Vec<Remark>) -> Vec<Placed<'a>> {
    let mut counting = Counting { dxf, blocks: BTreeMap::new(), unusable: BTreeMap::new() };
    let mut left = Size { entities: MOST_ENTITIES, vertices: MOST_VERTICES, height: 0 };
    let map = Map::scaled(in_mm);
    let mut all = Vec::with_capacity(dxf.entities.len());
    for entity in &dxf.entities {
        let head = Placed { line: entity.line, layer: &entity.layer, shape: &entity.shape, map };
        let Shape::Insert(insert) = &entity.shape else {
            all.push(head);
            continue;
        };
        let Some(size) = counting.insert(entity.line, insert, 1) else { continue };
        match left.less(&size) {
            Some(less) => {
                left = less;
                counting.carry_out(insert, head, &mut all);
            }
            None => {
                let refused = Refused::TooMany(insert.block.clone(), size.entities);
                counting.unusable.insert(entity.line, refused);
            }
        }
    }
    remarks.extend(counting.unusable.iter().map(|(line, why)| why.remark(&dxf.file, *line)));
    all
}

/// What an insert or a block stands for.
#[derive(Debug, Clone, Copy)]
struct Size {
    entities: u64,
    vertices: u64,
    /// Inserts within each other.
    height: u32,
}

impl Size {
    const NOTHING: Size = Size { entities: 0, vertices: 0, height: 0 };

    fn times(&self, count: u64) -> Size {
        Size {
            entities: self.entities.saturating_mul(count),
            vertices: self.vertices.saturating_mul(count),
            height: self.height,
        }
    }

    fn and(&self, other: &Size) -> Size {
        Size {
            entities: self.entities.saturating_add(other.entities),
            vertices: self.vertices.saturating_add(other.vertices),
            height: self.height.max(other.height),
        }
    }

    /// What is left without another one; none if that is larger.
    fn less(&self, other: &Size) -> Option<Size> {
        let entities = self.entities.checked_sub(other.entities)?;
        Some(Size { entities, vertices: self.vertices.checked_sub(other.vertices)?, height: self.height })
    }
}

/// Why an insert cannot be carried out.
enum Refused {
    Missing(String),
    Outside(String),
    InItself(String),
    TooDeep(String),
    TooMany(String, u64),
}

/// What is known of a block.
#[derive(Clone, Copy)]
enum Known {
    /// It is being counted: an insert of it now stands in itself.
    Open,
    Counted(Size),
}

struct Counting<'a> {
    dxf: &'a Dxf,
    /// By the line on which a block begins.
    blocks: BTreeMap<u32, Known>,
    /// Inserts that cannot be carried out, by their lines.
    unusable: BTreeMap<u32, Refused>,
}

impl<'a> Counting<'a> {
    /// What an insert stands for, `depth` inserts deep; none, and a reason kept, if it cannot be carried out.
    fn insert(&mut self, line: u32, insert: &Insert, depth: u32) -> Option<Size> {
        let name = || insert.block.clone();
        let refused = match self.dxf.block(&insert.block) {
            None => Refused::Missing(name()),
            Some(block) if block.outside => Refused::Outside(name()),
            Some(block) => match self.blocks.get(&block.line) {
                Some(Known::Open) => Refused::InItself(name()),
                _ if depth > MOST_NESTED => Refused::TooDeep(name()),
                known => {
                    let size = match known {
                        Some(Known::Counted(size)) => *size,
                        _ => self.block(block, depth),
                    };
                    if size.height < MOST_NESTED {
                        let copies = u64::from(insert.columns) * u64::from(insert.rows);
                        return Some(Size { height: size.height + 1, ..size.times(copies) });
                    }
                    Refused::TooDeep(name())
                }
            },
        };
        self.unusable.insert(line, refused);
        None
    }

    fn block(&mut self, block: &Block, depth: u32) -> Size {
        self.blocks.insert(block.line, Known::Open);
        let size = block.entities.iter().fold(Size::NOTHING, |sum, entity| match &entity.shape {
            Shape::Insert(insert) => {
                sum.and(&self.insert(entity.line, insert, depth + 1).unwrap_or(Size::NOTHING))
            }
            shape => sum.and(&Size { entities: 1, vertices: vertices(shape), height: 0 }),
        });
        self.blocks.insert(block.line, Known::Counted(size));
        size
    }

    /// Appends what an insert stands for.
    fn carry_out(&self, insert: &'a Insert, head: Placed<'a>, all: &mut Vec<Placed<'a>>) {
        let Some(block) = self.dxf.block(&insert.block) else { return };
        // A block that stands for nothing may be repeated as often as an insert can say.
        let nothing =
            matches!(self.blocks.get(&block.line), Some(Known::Counted(size)) if size.entities == 0);
        if nothing {
            return;
        }
        for row in 0..insert.rows {
            for column in 0..insert.columns {
                let map = head.map.after(&Map::of_insert(insert, block, column, row));
                for entity in &block.entities {
                    self.entity(entity, Placed { map, ..head }, all);
                }
            }
        }
    }

    fn entity(&self, entity: &'a Entity, head: Placed<'a>, all: &mut Vec<Placed<'a>>) {
        let layer = if entity.layer == "0" { head.layer } else { &entity.layer };
        let one = Placed { layer, shape: &entity.shape, ..head };
        match &entity.shape {
            Shape::Insert(insert) if !self.unusable.contains_key(&entity.line) => {
                self.carry_out(insert, one, all)
            }
            Shape::Insert(_) => {}
            _ => all.push(one),
        }
    }
}

fn vertices(shape: &Shape) -> u64 {
    match shape {
        Shape::Polyline { vertices, .. } => vertices.len() as u64,
        Shape::Spline(spline) => spline.controls.len() as u64,
        Shape::Through { points, .. } => points.len() as u64,
        _ => 0,
    }
}

impl Refused {
    fn remark(&self, file: &str, line: u32) -> Remark {
        let (code, message, cure) = match self {
            Self::Missing(name) => (
                "block-missing",
                format!("block '{name}' is inserted here, and the drawing has no such block"),
                "delete the insert, or draw what it stood for",
            ),
            Self::Outside(name) => (
                "block-outside",
                format!("block '{name}' is inserted here, and lies in another file"),
                "bind the other file into the drawing, or draw what it stands for",
            ),
            Self::InItself(name) => (
                "block-in-itself",
                format!("block '{name}' is inserted here in itself, so that it would never end"),
                "delete the insert",
            ),
            Self::TooDeep(name) => (
                "insert-too-deep",
                format!("with block '{name}' inserts lie more than {MOST_NESTED} deep in each other"),
                "break up the inserts, keeping only the outlines of this section",
            ),
            Self::TooMany(name, entities) => (
                "insert-too-many",
                format!(
                    "with block '{name}', which stands for {entities} entities here, the inserts of the drawing stand for more \
                     than {MOST_ENTITIES} entities or {MOST_VERTICES} vertices"
                ),
                "keep only the outlines of this section in the drawing",
            ),
        };
        Remark::error(code, message).place(Place::file(file).line(line)).cure(cure)
    }
}
