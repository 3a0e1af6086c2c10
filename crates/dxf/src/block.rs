//! Blocks: entities that stand in a drawing once and are put where inserts say, and those inserts.

use crate::entity::{Dxf, Entity, Shape};
use crate::fault::Fault;
use crate::number::integer;
use crate::shape::{Facing, Read, Record};

/// Named entities that inserts refer to.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Line on which it begins.
    pub line: u32,
    /// Its name as the drawing writes it.
    pub name: String,
    /// The point of it that an insert puts at its own.
    pub base: [f64; 2],
    /// Whether its content lies in another file.
    pub outside: bool,
    /// The entities in it that were understood, in file order.
    pub entities: Vec<Entity>,
}

/// The entities of a block, put somewhere: a point p of the block comes to lie at
///
/// at + turn * ((column * spacing x, row * spacing y) + scale * (p - base))
///
/// for each column from 0 to below `columns` and each row from 0 to below `rows`, where turn is counter-clockwise by `turn_deg`; then,
/// where it is seen `from_behind`, x becomes -x.
///
/// Its entities count as standing on the line of the insert of the model space that they come from, in this order: rows, in each row the
/// columns, in each of those the entities of the block, an insert among them with all of its own in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Insert {
    /// Name of the block as it is written here; see [`Dxf::block`].
    pub block: String,
    /// Where the block's base comes to lie.
    pub at: [f64; 2],
    /// Scale along x and y, before turning; not 0, and negative where it mirrors.
    pub scale: [f64; 2],
    /// Turn, degrees, counter-clockwise.
    pub turn_deg: f64,
    /// How many columns, 1 at least.
    pub columns: u32,
    /// How many rows, 1 at least.
    pub rows: u32,
    /// Distance between columns and between rows, before turning; scales do not change it.
    pub spacing: [f64; 2],
    /// Whether its extrusion points along -Z.
    pub from_behind: bool,
}

/// A name as names are compared: capitals do not matter.
pub(crate) fn folded(name: &str) -> String {
    name.to_lowercase()
}

/// The blocks that inserts among these entities name, folded.
pub(crate) fn inserted(entities: &[Entity]) -> impl Iterator<Item = String> {
    entities.iter().filter_map(|entity| match &entity.shape {
        Shape::Insert(insert) => Some(folded(&insert.block)),
        _ => None,
    })
}

impl Dxf {
    /// The block of this name; capitals do not matter.
    pub fn block(&self, name: &str) -> Option<&Block> {
        self.blocks.get(&folded(name))
    }
}

impl Record<'_> {
    /// Reads a BLOCK without its entities.
    pub(crate) fn block(&self) -> Result<Block, Fault> {
        const OUTSIDE: i64 = 4 | 8;
        let name = self.group(2).map(crate::group::Group::text).unwrap_or_default();
        let base = [self.optional(10)?.unwrap_or(0.0), self.optional(20)?.unwrap_or(0.0)];
        let outside = self.flags(70)? & OUTSIDE != 0;
        Ok(Block { line: self.line, name, base, outside, entities: Vec::new() })
    }

    /// Reads an INSERT.
    pub(crate) fn insert_shape(&self) -> Result<Read, Fault> {
        let block = self.group(2).ok_or_else(|| self.missing(2, "name of the block"))?.text();
        let at = self.point(10, "place")?;
        let scale = [self.optional(41)?.unwrap_or(1.0), self.optional(42)?.unwrap_or(1.0)];
        if scale.contains(&0.0) {
            let message =
                format!("INSERT: it scales block '{block}' by {} and {}, to nothing", scale[0], scale[1]);
            return Err(Fault::new("scale-bad", self.line, message, "delete it, or insert the block again"));
        }
        let facing = self.facing()?;
        if facing == Facing::Tilted {
            return Ok(Read::Tilted("extrusion-tilted"));
        }
        Ok(Read::Flat(Shape::Insert(Insert {
            block,
            at,
            scale,
            turn_deg: self.optional(50)?.unwrap_or(0.0),
            columns: self.repeats(70, "columns")?,
            rows: self.repeats(71, "rows")?,
            spacing: [self.optional(44)?.unwrap_or(0.0), self.optional(45)?.unwrap_or(0.0)],
            from_behind: facing == Facing::Back,
        })))
    }

    /// How many columns or rows; left out or 0 is one.
    fn repeats(&self, code: i16, what: &str) -> Result<u32, Fault> {
        let Some(group) = self.group(code) else { return Ok(1) };
        let count = integer(group, self.kind)?;
        u32::try_from(count).map(|count| count.max(1)).map_err(|_| {
            let message = format!("INSERT: it has {count} {what}");
            Fault::new("number-bad", group.line, message, "delete it, or insert the block again")
        })
    }
}
