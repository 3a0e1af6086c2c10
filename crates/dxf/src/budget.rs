//! What a drawing may still cost before it is refused.

use crate::Limits;
use remark::{Place, Remark};

/// How much has been read of what may be read.
#[derive(Debug)]
pub(crate) struct Budget<'f> {
    file: &'f str,
    limits: &'f Limits,
    entities: usize,
    vertices: usize,
}

impl<'f> Budget<'f> {
    pub(crate) fn new(file: &'f str, limits: &'f Limits) -> Self {
        Self { file, limits, entities: 0, vertices: 0 }
    }

    /// Counts an entity.
    ///
    /// # Errors
    /// The refusal of the file, when it has too many.
    pub(crate) fn spend_entity(&mut self) -> Result<(), Box<Remark>> {
        self.entities += 1;
        match self.entities > self.limits.entities {
            true => {
                let message = format!("the drawing has more than {} entities", self.limits.entities);
                Err(Box::new(too_large("too-many-entities", message, self.file)))
            }
            false => Ok(()),
        }
    }

    /// Counts vertices of polylines and points of splines.
    ///
    /// # Errors
    /// The refusal of the file, when it has too many.
    pub(crate) fn spend_vertices(&mut self, count: usize, line: u32) -> Result<(), Box<Remark>> {
        self.vertices += count;
        match self.vertices > self.limits.vertices {
            true => Err(self.too_many_vertices(line)),
            false => Ok(()),
        }
    }

    /// The refusal of a file with too many vertices.
    pub(crate) fn too_many_vertices(&self, line: u32) -> Box<Remark> {
        let message = format!(
            "the polylines and splines have more than {} vertices, here the limit was passed",
            self.limits.vertices
        );
        let mut remark = too_large("too-many-vertices", message, self.file);
        remark.place.line = Some(line);
        Box::new(remark)
    }
}

/// The refusal of a file that is too large.
pub(crate) fn too_large(code: &str, message: String, file: &str) -> Remark {
    Remark::error(code, message)
        .place(Place::file(file))
        .cure("keep only the outlines of this section in the drawing")
}
