//! What bounds a section as a plate: the sides of its block, or the outline of a piece that is cut out.
//!
//! A frame's flat walls press a piece where straight faces, outermost on opposite sides, face each other: there what one wall
//! presses, the other presses back, and nothing turns it. What else of its outline touches a wall is not counted on.

use crate::free::Free;
use job::Contour;
use outline::{Outline, Point, Segment, Vertex, parallel};

/// What lies this near to a wall of the frame touches it, and is put on it, so that what presses from both sides is the same, mm.
const TOUCHES: f64 = 1e-5;

/// Faces that face each other along less than this do not count, mm.
const SHORTEST: f64 = 1e-3;

/// What bounds a section.
#[derive(Debug, Clone, PartialEq)]
pub enum Outside {
    /// The block's sides, x and y, its middle in the origin.
    Block([f64; 2]),
    /// The outline of a piece that is cut out, finished.
    Piece(Outline),
}

/// A segment of the outside that the frame presses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// Its number in the outline.
    pub segment: usize,
    /// The axis that it is pressed along.
    pub axis: usize,
}

impl Outside {
    /// How long it is along x and y.
    pub fn size(&self) -> [f64; 2] {
        match self {
            Outside::Block(size) => *size,
            Outside::Piece(piece) => [piece.bounds().width(), piece.bounds().height()],
        }
    }

    /// Larger on all sides; none where that cannot be proved. Inside corners of a piece keep their least radius.
    pub fn grown(&self, by: f64) -> Option<Self> {
        match self {
            Outside::Block(size) => Some(Outside::Block(size.map(|side| side + 2.0 * by))),
            Outside::Piece(piece) => {
                let corner = piece.tightest_corner(false).map_or(0.0, |corner| corner.radius);
                let around = Free { edge: piece, side: Contour::Outside };
                let beyond = around.beside(by + corner).ok()?.into_iter().next()?;
                Some(Outside::Piece(only(parallel(&beyond, corner).ok()?)?))
            }
        }
    }

    /// With the inside corners of a piece rounded; none where it is a block, and none where that is more than a corner: where it
    /// fills the middle of a side.
    pub fn rounded(&self, radius: f64) -> Option<Self> {
        let Outside::Piece(piece) = self else { return None };
        let around = Free { edge: piece, side: Contour::Outside };
        let rounded = only(around.reached(radius).ok()?)?;
        let stays = |side: Segment| rounded.nearest(side.at(0.5)).distance <= TOUCHES;
        let corner = |side: &Segment| side.bulge < 0.0;
        piece.segments().filter(|side| !corner(side)).all(stays).then_some(Outside::Piece(rounded))
    }

    /// Its outline, and the segments of it that the frame presses.
    ///
    /// # Errors
    /// A block or a piece that is none, in words.
    pub fn pressed(&self) -> Result<(Outline, Vec<Face>), String> {
        match self {
            // From its lower left corner round.
            Outside::Block(size) => {
                let [x, y] = size.map(|side| side / 2.0);
                let corners = [(-x, -y), (x, -y), (x, y), (-x, y)].map(|(x, y)| Vertex::new(x, y, 0.0));
                let faces = (0..4).map(|segment| Face { segment, axis: (segment + 1) % 2 });
                Ok((outline(corners.to_vec())?, faces.collect()))
            }
            Outside::Piece(piece) => faced(piece),
        }
    }
}

fn only(mut all: Vec<Outline>) -> Option<Outline> {
    if all.len() == 1 { all.pop() } else { None }
}

fn outline(vertices: Vec<Vertex>) -> Result<Outline, String> {
    Outline::new(vertices).map_err(|_| "its outside is no outline".to_owned())
}

/// A piece between the walls of its frame: one pair of them along each axis.
struct Walls {
    /// Where they stand, along each axis.
    at: [[f64; 2]; 2],
    /// For each axis, where across it both walls are touched.
    both: [Vec<[f64; 2]>; 2],
}

/// A piece with its faces parted where only a part of them is pressed.
fn faced(piece: &Outline) -> Result<(Outline, Vec<Face>), String> {
    let bounds = piece.bounds();
    let mut walls = Walls {
        at: [[bounds.min.x, bounds.max.x], [bounds.min.y, bounds.max.y]],
        both: [Vec::new(), Vec::new()],
    };
    let mut vertices = piece.vertices().to_vec();
    for vertex in &mut vertices {
        for axis in [0, 1] {
            put_on(vertex, axis, &walls.at[axis]);
        }
    }
    for axis in [0, 1] {
        walls.both[axis] = both(&vertices, axis, walls.at[axis]);
        let ends: Vec<f64> = walls.both[axis].iter().flatten().copied().collect();
        let touches = |vertex: &Vertex| walls.at[axis].contains(&along(vertex.point, axis));
        vertices
            .iter_mut()
            .filter(|vertex| touches(vertex))
            .for_each(|vertex| put_on(vertex, 1 - axis, &ends));
    }
    let parted = outline(walls.part(&vertices))?;
    let faces = parted.segments().enumerate().filter_map(|(segment, side)| {
        let axis = walls.axis(side.from, side.to).filter(|_| side.is_line())?;
        let middle = along(side.at(0.5), 1 - axis);
        let pressed = walls.both[axis].iter().any(|[from, to]| (*from..=*to).contains(&middle));
        pressed.then_some(Face { segment, axis })
    });
    let faces = faces.collect();
    Ok((parted, faces))
}

impl Walls {
    /// The axis across whose wall a side lies.
    fn axis(&self, from: Point, to: Point) -> Option<usize> {
        let on = |axis: &usize| {
            let place = along(from, *axis);
            place == along(to, *axis) && self.at[*axis].contains(&place)
        };
        [0, 1].into_iter().find(on)
    }

    /// Vertices with one more wherever pressing begins or ends on a side.
    fn part(&self, vertices: &[Vertex]) -> Vec<Vertex> {
        let mut parted = Vec::new();
        for (i, vertex) in vertices.iter().enumerate() {
            parted.push(*vertex);
            let (from, to) = (vertex.point, vertices[(i + 1) % vertices.len()].point);
            let Some(axis) = self.axis(from, to).filter(|_| vertex.bulge == 0.0) else { continue };
            let (start, end) = (along(from, 1 - axis), along(to, 1 - axis));
            let within = |place: &f64| start.min(end) < *place && *place < start.max(end);
            let mut ends: Vec<f64> = self.both[axis].iter().flatten().copied().filter(within).collect();
            ends.sort_by(f64::total_cmp);
            if end < start {
                ends.reverse();
            }
            let place = |other: f64| if axis == 0 { [from.x, other] } else { [other, from.y] };
            parted.extend(ends.into_iter().map(place).map(|[x, y]| Vertex::new(x, y, 0.0)));
        }
        parted
    }
}

/// Where across an axis both of its walls are touched by straight faces.
fn both(vertices: &[Vertex], axis: usize, walls: [f64; 2]) -> Vec<[f64; 2]> {
    let [low, high] = walls.map(|wall| {
        let sides = (0..vertices.len()).map(|i| (vertices[i], vertices[(i + 1) % vertices.len()]));
        let on = sides.filter(|(from, to)| {
            from.bulge == 0.0 && along(from.point, axis) == wall && along(to.point, axis) == wall
        });
        let span = |(from, to): (Vertex, Vertex)| {
            let [a, b] = [from, to].map(|vertex| along(vertex.point, 1 - axis));
            [a.min(b), a.max(b)]
        };
        joined(on.map(span).collect())
    });
    let pairs = low.iter().flat_map(|a| high.iter().map(move |b| [a[0].max(b[0]), a[1].min(b[1])]));
    pairs.filter(|[from, to]| to - from >= SHORTEST).collect()
}

/// Spans that go on into each other as one.
fn joined(mut spans: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut joined: Vec<[f64; 2]> = Vec::new();
    for span in spans {
        match joined.last_mut() {
            Some(last) if span[0] <= last[1] + TOUCHES => last[1] = last[1].max(span[1]),
            _ => joined.push(span),
        }
    }
    joined
}

fn along(point: Point, axis: usize) -> f64 {
    if axis == 0 { point.x } else { point.y }
}

/// Moves a vertex along an axis onto the first place that it touches.
fn put_on(vertex: &mut Vertex, axis: usize, places: &[f64]) {
    let own = along(vertex.point, axis);
    if let Some(place) = places.iter().find(|place| (own - **place).abs() <= TOUCHES) {
        match axis {
            0 => vertex.point.x = *place,
            _ => vertex.point.y = *place,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn polygon(corners: &[(f64, f64)]) -> Outline {
        outline(corners.iter().map(|c| Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
    }

    /// What presses along an axis, by the lengths of the faces on its low and its high wall.
    fn lengths(piece: &Outline, axis: usize) -> [f64; 2] {
        let (parted, faces) = Outside::Piece(piece.clone()).pressed().unwrap();
        assert!((parted.area() - piece.area()).abs() < 1e-4);
        let sides: Vec<_> = parted.segments().collect();
        let middle = along(piece.bounds().middle(), axis);
        let on = |high: bool| {
            let own = faces.iter().filter(|face| face.axis == axis).map(|face| sides[face.segment]);
            own.filter(|side| (along(side.from, axis) > middle) == high).map(|side| side.length()).sum()
        };
        [on(false), on(true)]
    }

    #[test]
    fn a_rectangle_is_pressed_all_round() {
        let piece = polygon(&[(-8.0, -6.0), (8.0, -6.0), (8.0 + 1e-9, 6.0), (-8.0, 6.0 - 1e-9)]);
        for (axis, expected) in [(0, 12.0), (1, 16.0)] {
            let [low, high] = lengths(&piece, axis);
            assert!(low == high && (low - expected).abs() < 1e-8, "{axis}: {low} {high}");
        }
        assert_eq!(
            Outside::Block([16.0, 12.0]).pressed().unwrap().1,
            Outside::Piece(piece).pressed().unwrap().1
        );
    }

    /// A tee 16 wide: its foot, 6 wide, faces the middle of its head, and its head is as high on both sides.
    #[test]
    fn faces_are_pressed_where_they_face_each_other() {
        let tee = [
            (-2.0, -6.0),
            (4.0, -6.0),
            (4.0, 2.0),
            (8.0, 2.0),
            (8.0, 6.0),
            (-8.0, 6.0),
            (-8.0, 3.0),
            (-2.0, 3.0),
        ];
        let piece = polygon(&tee);
        for (axis, expected) in [(0, 3.0), (1, 6.0)] {
            for length in lengths(&piece, axis) {
                assert!((length - expected).abs() < 1e-9, "{axis}: {length}");
            }
        }
    }

    #[test]
    fn round_and_lone_faces_are_not_pressed() {
        let disc = outline(vec![Vertex::new(5.0, 0.0, 1.0), Vertex::new(-5.0, 0.0, 1.0)]).unwrap();
        let wedge = polygon(&[(0.0, 0.0), (6.0, 3.0), (0.0, 4.0)]);
        for piece in [disc, wedge] {
            assert!(Outside::Piece(piece).pressed().unwrap().1.is_empty());
        }
    }

    /// An ell with a fillet of 0.5 that grows by 2: arms 6 and 8 wide, and the fillet is what it was.
    #[test]
    fn a_piece_that_grows_keeps_its_inside_corner() {
        let ell = polygon(&[(0.0, 0.0), (20.0, 0.0), (20.0, 4.0), (2.0, 4.0), (2.0, 20.0), (0.0, 20.0)]);
        let round = Outside::Piece(ell).rounded(0.5).unwrap();
        let Some(Outside::Piece(grown)) = round.grown(2.0) else { panic!("not grown") };
        assert!((grown.tightest_corner(false).unwrap().radius - 0.5).abs() < 1e-6);
        assert!(grown.contains(Point::new(1.0, 21.9)) && grown.contains(Point::new(3.9, 15.0)));
        assert!(!grown.contains(Point::new(4.1, 15.0)) && !grown.contains(Point::new(1.0, 22.1)));
        assert_eq!(Outside::Block([4.0, 3.0]).rounded(0.5), None);
    }

    #[test]
    fn a_radius_does_not_fill_a_bay() {
        let bay = [
            (-8.0, -5.0),
            (8.0, -5.0),
            (8.0, 5.0),
            (1.5, 5.0),
            (1.5, 3.0),
            (-1.5, 3.0),
            (-1.5, 5.0),
            (-8.0, 5.0),
        ];
        let piece = Outside::Piece(polygon(&bay));
        assert!(piece.rounded(0.9).is_some() && piece.rounded(1.6).is_none());
    }
}
