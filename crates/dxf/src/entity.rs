//! What a drawing holds once it is read: raw entities in drawing units, and what was passed over.

use crate::{Block, InsUnits, Insert, Spline};
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
    /// The blocks that inserts of the model space can reach; see [`Dxf::block`].
    pub blocks: BTreeMap<String, Block>,
    /// Entities that were passed over, by type: those of the model space, and once those of each block that it reaches.
    pub skipped: BTreeMap<String, u64>,
    /// What a person should know.
    pub remarks: Vec<Remark>,
}

/// One entity.
#[derive(Debug, Clone, PartialEq)]
pub struct Entity {
    /// Line of the file, from 1, on which its type stands (the value of its `0` group).
    pub line: u32,
    /// The layer it lies on. In a block, "0" stands for the layer of the insert.
    pub layer: String,
    /// Its geometry.
    pub shape: Shape,
}

/// Geometry in drawing units and drawing coordinates, in a block in those of the block.
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
    /// An ellipse or a piece of one: the points centre + major * cos(t) + minor * sin(t), t rising from `from` to `to`, in radians. Where
    /// `to` lies below `from` it rises through a full turn to it; a span that is a full turn but for rounding is the whole ellipse.
    Ellipse {
        /// Centre.
        centre: [f64; 2],
        /// From the centre to the end of the one axis; not 0.
        major: [f64; 2],
        /// From the centre to the end of the other axis, square to the first; not 0. To its right where the entity is seen from behind.
        minor: [f64; 2],
        /// Parameter of its first point.
        from: f64,
        /// Parameter of its last point.
        to: f64,
    },
    /// A rational B-spline.
    Spline(Spline),
    /// A smooth curve of which only points are given that it goes through.
    Through {
        /// The points in order, two at least.
        points: Vec<[f64; 2]>,
        /// Its directions of travel at the first and at the last point where they are given, of any length above 0.
        directions: [Option<[f64; 2]>; 2],
        /// Whether it goes on smoothly from the last point to the first.
        closed: bool,
    },
    /// The entities of a block, put somewhere.
    Insert(Insert),
}
