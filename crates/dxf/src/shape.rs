//! Records to shapes: lines, arcs, circles, ellipses and flat polylines, mirrored where their extrusion points along -Z.
//!
//! Lines and ellipses are stored in drawing coordinates, so an extrusion moves none of their points; an
//! ellipse runs the other way round where it points along -Z. Arcs, circles and flat polylines are stored in the
//! coordinates of their extrusion direction: along +Z these are the drawing's own, along -Z they are mirrored in x.

use crate::entity::Shape;
use crate::fault::Fault;
use crate::group::Group;
use crate::number::{decimal, integer};
use std::f64::consts::TAU;

/// Coordinates and radii in drawing units and angles in degrees beyond this are taken for damage: even a micrometre drawing of the
/// largest part stays far below it.
const ABSURD: f64 = 1e10;
/// A direction this close to the z axis, as a share of its length, is along it: rounding of what wrote the file.
const ALONG_Z: f64 = 1e-9;
/// A line whose ends differ in height by more than this share of its length is tilted; less is rounding. The same for other shapes.
pub(crate) const FLAT: f64 = 1e-6;

/// What became of a record.
pub(crate) enum Read {
    /// It is in the plane.
    Flat(Shape),
    /// It is tilted out of the plane: the code of the remark.
    Tilted(&'static str),
}

/// Which way an entity faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Facing {
    Front,
    /// Extrusion along -Z: seen mirrored.
    Back,
    Tilted,
}

/// The groups of one record, with the name of its type for messages.
pub(crate) struct Record<'a> {
    pub(crate) kind: &'a str,
    pub(crate) line: u32,
    pub(crate) groups: &'a [Group<'a>],
}

impl Record<'_> {
    /// The last group with this code.
    pub(crate) fn group(&self, code: i16) -> Option<&Group<'_>> {
        self.groups.iter().rfind(|group| group.code == code)
    }

    /// An integer, or 0 when the group is absent.
    pub(crate) fn flags(&self, code: i16) -> Result<i64, Fault> {
        self.group(code).map_or(Ok(0), |group| integer(group, self.kind))
    }

    pub(crate) fn optional(&self, code: i16) -> Result<Option<f64>, Fault> {
        self.group(code).map(|group| self.sane(group)).transpose()
    }

    fn number(&self, code: i16, meaning: &str) -> Result<f64, Fault> {
        self.optional(code)?.ok_or_else(|| self.missing(code, meaning))
    }

    pub(crate) fn sane(&self, group: &Group) -> Result<f64, Fault> {
        let number = decimal(group, self.kind)?;
        if number.abs() > ABSURD {
            let message = format!("{}: group {} holds {number:e}, beyond 1e10", self.kind, group.code);
            return Err(Fault::new("number-absurd", group.line, message, "delete or redraw the entity"));
        }
        Ok(number)
    }

    pub(crate) fn point(&self, x: i16, meaning: &str) -> Result<[f64; 2], Fault> {
        Ok([self.number(x, meaning)?, self.number(x + 10, meaning)?])
    }

    pub(crate) fn missing(&self, code: i16, meaning: &str) -> Fault {
        let message = format!("{}: group {code} ({meaning}) is missing", self.kind);
        Fault::new("group-missing", self.line, message, "delete or redraw the entity")
    }

    fn radius(&self) -> Result<f64, Fault> {
        let radius = self.number(40, "radius")?;
        if radius > 0.0 {
            return Ok(radius);
        }
        let message = format!("{}: its radius is {radius}, and a radius is above 0", self.kind);
        Err(Fault::new("radius-bad", self.line, message, "delete or redraw the entity"))
    }

    /// Which way the extrusion direction points.
    pub(crate) fn facing(&self) -> Result<Facing, Fault> {
        let [x, y] = [self.optional(210)?.unwrap_or(0.0), self.optional(220)?.unwrap_or(0.0)];
        let z = self.optional(230)?.unwrap_or(if self.group(210).or(self.group(220)).is_some() {
            0.0
        } else {
            1.0
        });
        let across = x.hypot(y);
        if across == 0.0 && z == 0.0 {
            let message = format!("{}: its extrusion direction is 0, 0, 0, which points nowhere", self.kind);
            return Err(Fault::new("extrusion-bad", self.line, message, "delete or redraw the entity"));
        }
        Ok(match (across <= ALONG_Z * z.abs(), z > 0.0) {
            (true, true) => Facing::Front,
            (true, false) => Facing::Back,
            _ => Facing::Tilted,
        })
    }

    /// Reads a LINE.
    pub(crate) fn line_shape(&self) -> Result<Read, Fault> {
        let (from, to) = (self.point(10, "start")?, self.point(11, "end")?);
        let rise = self.optional(31)?.unwrap_or(0.0) - self.optional(30)?.unwrap_or(0.0);
        let run = (to[0] - from[0]).hypot(to[1] - from[1]);
        Ok(match rise.abs() > FLAT * run {
            true => Read::Tilted("line-tilted"),
            false => Read::Flat(Shape::Line { from, to }),
        })
    }

    /// Reads an ARC.
    pub(crate) fn arc_shape(&self) -> Result<Read, Fault> {
        let (centre, radius) = (self.point(10, "centre")?, self.radius()?);
        let (start_deg, end_deg) = (self.number(50, "start angle")?, self.number(51, "end angle")?);
        Ok(match self.facing()? {
            Facing::Front => Read::Flat(Shape::Arc { centre, radius, start_deg, end_deg, clockwise: false }),
            Facing::Back => Read::Flat(Shape::Arc {
                centre: mirrored(centre),
                radius,
                start_deg: 180.0 - start_deg,
                end_deg: 180.0 - end_deg,
                clockwise: true,
            }),
            Facing::Tilted => Read::Tilted("extrusion-tilted"),
        })
    }

    /// Reads a CIRCLE.
    pub(crate) fn circle_shape(&self) -> Result<Read, Fault> {
        let (centre, radius) = (self.point(10, "centre")?, self.radius()?);
        Ok(match self.facing()? {
            Facing::Front => Read::Flat(Shape::Circle { centre, radius }),
            Facing::Back => Read::Flat(Shape::Circle { centre: mirrored(centre), radius }),
            Facing::Tilted => Read::Tilted("extrusion-tilted"),
        })
    }

    /// Reads an ELLIPSE.
    pub(crate) fn ellipse_shape(&self) -> Result<Read, Fault> {
        let (centre, major) = (self.point(10, "centre")?, self.point(11, "end of the major axis")?);
        let ratio = self.number(40, "ratio of the axes")?;
        let (from, to) = (self.optional(41)?.unwrap_or(0.0), self.optional(42)?.unwrap_or(TAU));
        let length = major[0].hypot(major[1]);
        let rise = self.optional(31)?.unwrap_or(0.0).abs();
        if length == 0.0 && rise == 0.0 || ratio <= 0.0 {
            let message = format!(
                "ELLIPSE: its major axis is {length} long and its axes are as 1 to {ratio}; both are above 0"
            );
            return Err(Fault::new("ellipse-bad", self.line, message, "delete or redraw the entity"));
        }
        let facing = self.facing()?;
        if facing == Facing::Tilted || rise > FLAT * length {
            return Ok(Read::Tilted("extrusion-tilted"));
        }
        let side = if facing == Facing::Back { -ratio } else { ratio };
        let minor = [0.0 - side * major[1], side * major[0]];
        Ok(Read::Flat(Shape::Ellipse { centre, major, minor, from, to }))
    }

    /// Reads the vertices of an LWPOLYLINE: each begins with a group 10.
    pub(crate) fn light_vertices(&self) -> Result<Vec<[f64; 3]>, Fault> {
        let mut vertices: Vec<[f64; 3]> = Vec::with_capacity(self.groups.len() / 2);
        for group in self.groups {
            let last = vertices.last_mut();
            match (group.code, last) {
                (10, last) => {
                    if last.is_some_and(|v| v[1].is_nan()) {
                        return Err(self.missing(20, "y of a vertex"));
                    }
                    // y is not yet known: the NaN never leaves this function.
                    vertices.push([self.sane(group)?, f64::NAN, 0.0]);
                }
                (20, Some(vertex)) => vertex[1] = self.sane(group)?,
                (42, Some(vertex)) => vertex[2] = self.sane(group)?,
                _ => {}
            }
        }
        match vertices.last().is_some_and(|v| v[1].is_nan()) {
            true => Err(self.missing(20, "y of a vertex")),
            false => Ok(vertices),
        }
    }

    /// Reads a VERTEX of a POLYLINE.
    pub(crate) fn vertex(&self) -> Result<[f64; 3], Fault> {
        let [x, y] = self.point(10, "vertex")?;
        Ok([x, y, self.optional(42)?.unwrap_or(0.0)])
    }

    /// A polyline of these vertices that faces as this record says.
    pub(crate) fn polyline(&self, mut vertices: Vec<[f64; 3]>, facing: Facing) -> Result<Read, Fault> {
        if vertices.len() < 2 {
            let message =
                format!("{}: it has {} vertices, and a polyline has two at least", self.kind, vertices.len());
            return Err(Fault::new("polyline-short", self.line, message, "delete or redraw the entity"));
        }
        let closed = self.flags(70)? & 1 != 0;
        match facing {
            Facing::Front => {}
            Facing::Back => vertices.iter_mut().for_each(|v| *v = [0.0 - v[0], v[1], 0.0 - v[2]]),
            Facing::Tilted => return Ok(Read::Tilted("extrusion-tilted")),
        }
        Ok(Read::Flat(Shape::Polyline { vertices, closed }))
    }
}

/// Seen from behind. Subtracting keeps 0 from becoming -0.
fn mirrored(point: [f64; 2]) -> [f64; 2] {
    [0.0 - point[0], point[1]]
}
