//! What counts as an outline, what does not, and that the report says what and where.

use outline::{DefectKind, Outline, Point, Vector, Vertex};

fn run(vertices: &[(f64, f64, f64)]) -> Vec<Vertex> {
    vertices.iter().map(|&(x, y, bulge)| Vertex::new(x, y, bulge)).collect()
}

fn check_good(vertices: &[(f64, f64, f64)]) {
    let n = vertices.len();
    for start in 0..n {
        let mut turned = vertices.to_vec();
        turned.rotate_left(start);
        let outline = Outline::new(run(&turned)).expect("a valid outline");
        let back = Outline::new(outline.clockwise_vertices()).expect("a valid outline");
        assert_eq!(back, outline, "clockwise input is turned round");
        assert!(Outline::new(outline.mirrored_x().vertices().to_vec()).is_ok());
        let placed = outline.moved(Vector::new(-31.0, 17.5)).turned(Point::new(1.0, 2.0), 0.7);
        assert!(Outline::new(placed.vertices().to_vec()).is_ok());
        assert!(placed.scaled(Point::new(0.0, 0.0), 0.01).is_ok());
    }
}

fn check_bad(vertices: &[(f64, f64, f64)], expected: &[DefectKind]) {
    let n = vertices.len().max(1);
    for start in 0..n {
        let mut turned = vertices.to_vec();
        turned.rotate_left(start.min(vertices.len()));
        let found = Outline::new(run(&turned)).expect_err("a fault");
        let mut kinds: Vec<DefectKind> = found.iter().map(|d| d.kind).collect();
        kinds.sort_by_key(|k| *k as usize);
        assert_eq!(kinds, expected, "{found:?}");
        assert!(found.iter().all(|d| !d.message.is_empty()));
    }
}

#[test]
fn good_outlines() {
    check_good(&[(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)]);
    check_good(&[(-1.0, 0.0, 1.0), (1.0, 0.0, 1.0)]);
    check_good(&[(-1.0, 0.0, 0.0), (1.0, 0.0, 0.3)]);
    // A lens with a hollow side: both arcs bend the same way.
    check_good(&[(-1.0, 0.0, 0.6), (1.0, 0.0, -0.2)]);
    // A slot, whose arcs run on tangent from its sides.
    check_good(&[(0.0, 0.0, 0.0), (5.0, 0.0, 1.0), (5.0, 2.0, 0.0), (0.0, 2.0, 1.0)]);
    // A C whose ends stand 2 nm apart: close, and still apart.
    check_good(&[
        (0.0, 0.0, 0.0),
        (3.0, 0.0, 0.0),
        (3.0, 1.0, 0.0),
        (1.0, 1.0, 0.0),
        (1.0, 2.0, 0.0),
        (3.0, 2.0, 0.0),
        (3.0, 1.000_002, 0.0),
        (4.0, 1.000_002, 0.0),
        (4.0, 3.0, 0.0),
        (0.0, 3.0, 0.0),
    ]);
}

#[test]
fn numbers_out_of_range() {
    check_bad(&[], &[DefectKind::TooFewVertices]);
    check_bad(&[(1.0, 2.0, 0.0)], &[DefectKind::TooFewVertices]);
    check_bad(
        &[(f64::NAN, 0.0, 0.0), (1.0, f64::INFINITY, 0.0), (1.0, 1.0, 0.0)],
        &[DefectKind::NotFinite, DefectKind::NotFinite],
    );
    check_bad(&[(0.0, 0.0, 0.0), (1e7, 0.0, 0.0), (1.0, 1.0, 0.0)], &[DefectKind::TooFar]);
    check_bad(&[(0.0, 0.0, 1.5), (1.0, 0.0, 0.0), (1.0, -3.0, 0.0)], &[DefectKind::BulgeTooLarge]);
}

#[test]
fn nothing_enclosed() {
    check_bad(&[(0.0, 0.0, 0.0), (1.0, 0.0, 0.0)], &[DefectKind::NoArea]);
    check_bad(&[(0.0, 0.0, 0.3), (1.0, 0.0, -0.3)], &[DefectKind::NoArea]);
}

#[test]
fn every_fault_is_reported_at_once() {
    // A repeated vertex and a crossing.
    check_bad(
        &[(0.0, 0.0, 0.0), (2.0, 2.0, 0.0), (2.0, 2.0, 0.0), (2.0, 0.0, 0.0), (0.0, 2.0, 0.0)],
        &[DefectKind::ZeroLength, DefectKind::Crossing],
    );
}

#[test]
fn crossings_have_their_place() {
    let found = Outline::new(run(&[(0.0, 0.0, 0.0), (2.0, 2.0, 0.0), (2.0, 0.0, 0.0), (0.0, 2.0, 0.0)]));
    let place = found.unwrap_err()[0].place;
    assert!(place.distance(Point::new(1.0, 1.0)) < 1e-12);
}

#[test]
fn crossings_and_touches_of_lines_and_arcs() {
    // An arc through the opposite side.
    check_bad(
        &[(0.0, 0.0, -1.0), (2.0, 0.0, 0.0), (2.0, 0.5, 0.0), (0.0, 0.5, 0.0)],
        &[DefectKind::Crossing],
    );
    // An arc that just touches the opposite side.
    check_bad(
        &[(0.0, 0.0, -1.0), (2.0, 0.0, 0.0), (2.0, 1.0, 0.0), (0.0, 1.0, 0.0)],
        &[DefectKind::Touching],
    );
    // Two arcs that just touch, and two that cross.
    check_bad(
        &[(0.0, 0.0, -1.0), (2.0, 0.0, 0.0), (2.0, 2.0, -1.0), (0.0, 2.0, 0.0)],
        &[DefectKind::Touching],
    );
    check_bad(
        &[(0.0, 0.0, -1.0), (2.0, 0.0, 0.0), (2.0, 1.9, -1.0), (0.0, 1.9, 0.0)],
        &[DefectKind::Crossing],
    );
    // Neighbours: an arc that comes back over the line it left.
    check_bad(
        &[(0.0, 0.0, 0.0), (2.0, 0.0, 1.0), (1.0, -0.2, 0.0), (0.5, -2.0, 0.0)],
        &[DefectKind::Crossing],
    );
    // A line that runs back over itself, and an arc that does.
    check_bad(
        &[(0.0, 0.0, 0.0), (2.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)],
        &[DefectKind::Touching, DefectKind::Touching],
    );
    // A vertex on a side.
    check_bad(
        &[(0.0, 0.0, 0.0), (4.0, 0.0, 0.0), (4.0, 2.0, 0.0), (2.0, 0.0, 0.0), (0.0, 2.0, 0.0)],
        &[DefectKind::Touching, DefectKind::Touching],
    );
}
