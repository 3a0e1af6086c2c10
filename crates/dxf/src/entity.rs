//! What a drawing holds once it is read: raw entities in drawing units, and what was passed over.

use crate::InsUnits;
use remark::Remark;
use std::collections::BTreeMap;

/// A drawing as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Dxf {
    /// The file's name, as it was given.
    pub file: String,
    /// The unit that `$INSUNITS` states; none when it is absent or 0.
    pub units: Option<InsUnits>,
    /// The entities of the model space that were understood, in file order.
    pub entities: Vec<Entity>,
    /// Entities that were passed over, by type.
    pub skipped: BTreeMap<String, u64>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// One entity.
#[derive(Debug, Clone, PartialEq)]
pub struct Entity {
    /// Line of the file, from 1, on which its type stands (the value of its `0` group).
    pub line: u32,
    /// The layer it lies on.
    pub layer: String,
    /// Its geometry.
    pub shape: Shape,
}

/// Geometry in drawing units and drawing coordinates.
///
/// An entity whose extrusion points along -Z is already mirrored here (x -> -x): its centre, points and angles are where they are seen,
/// bulges have changed sign, and an arc is marked as running clockwise. The first point of the entity stays its first point.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line {
        /// Its first point (groups 10, 20).
        from: [f64; 2],
        /// Its second point (groups 11, 21).
        to: [f64; 2],
    },
    /// An arc from its start angle to its end angle; angles in degrees from x, counter-clockwise.
    Arc {
        /// Centre.
        centre: [f64; 2],
        /// Radius, above 0.
        radius: f64,
        /// Angle of its first point.
        start_deg: f64,
        /// Angle of its last point.
        end_deg: f64,
        /// Whether it runs clockwise from the first point to the last: only after mirroring.
        clockwise: bool,
    },
    /// A whole circle.
    Circle {
        /// Centre.
        centre: [f64; 2],
        /// Radius, above 0.
        radius: f64,
    },
    /// A chain of lines and arcs.
    Polyline {
        /// x, y and the bulge of the segment that leaves the vertex: tan(sweep / 4), positive counter-clockwise; may exceed 1.
        vertices: Vec<[f64; 3]>,
        /// Whether a last segment leads from the last vertex to the first.
        closed: bool,
    },
}
