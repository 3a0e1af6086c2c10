//! Closing up: what is mended, how far that moves the edge, and what is refused.

use std::f64::consts::FRAC_PI_8;

use outline::{ClosedUp, DefectKind, Outline, Point, Segment, Vertex, close_up};

const LIMIT: f64 = 0.001;

fn run(vertices: &[(f64, f64, f64)]) -> Vec<Vertex> {
    vertices.iter().map(|&(x, y, bulge)| Vertex::new(x, y, bulge)).collect()
}

/// Points along a run whose bulges may be of any size, worked out from the circle itself.
fn along(vertices: &[Vertex]) -> Vec<Point> {
    let n = vertices.len();
    let mut points = Vec::new();
    for i in 0..n {
        let s =
            Segment { from: vertices[i].point, to: vertices[(i + 1) % n].point, bulge: vertices[i].bulge };
        if s.from != s.to {
            points.extend((0..=40).map(|k| s.at(f64::from(k) / 40.0)));
        }
    }
    points
}

/// Closed up from every start vertex and reversed; the bound on the movement holds at every sampled point, both ways.
fn check(vertices: &[Vertex], corners: usize) -> ClosedUp {
    let mut first = None;
    for start in 0..vertices.len() {
        let mut turned = vertices.to_vec();
        turned.rotate_left(start);
        let closed = close_up(turned.clone(), LIMIT).expect("closes");
        assert_eq!(closed.outline.vertices().len(), corners, "start {start}: {closed:?}");
        assert!(closed.outline.vertices()[0].point.distance(turned[0].point) <= LIMIT);
        let raw = along(&turned);
        let slack = 1e-12 + closed.moved_mm;
        for p in &raw {
            assert!(
                closed.outline.nearest(*p).distance <= slack,
                "{p:?} lies farther than {}",
                closed.moved_mm
            );
        }
        // Back: between samples the raw edge is at most half a step away.
        for s in closed.outline.segments() {
            let step = s.length() / 40.0 + slack;
            let near = |p: Point| raw.iter().map(|q| q.distance(p)).fold(f64::INFINITY, f64::min);
            assert!(near(s.at(0.37)) <= step, "{s:?}");
        }
        first.get_or_insert(closed);
    }
    first.expect("at least one vertex")
}

#[test]
fn what_is_sound_stays() {
    let vertices = run(&[(0.0, 0.0, 0.0), (3.0, 0.0, 1.0), (3.0, 2.0, 0.0)]);
    let closed = check(&vertices, 3);
    assert_eq!(closed.moved_mm, 0.0);
    assert_eq!(closed.outline, Outline::new(vertices).expect("valid"));
}

#[test]
fn slips_are_merged_and_said() {
    let vertices = run(&[
        (0.0, 0.0, 0.0),
        (3.0, 0.0, 0.0),
        (3.0 + 4e-7, 0.0, 0.3),
        (3.0, 2.0, 0.0),
        (3.0, 2.0, 0.0),
        (0.0, 2.0, 0.0),
        (0.0, 3e-7, 0.0),
    ]);
    let closed = check(&vertices, 4);
    assert!(closed.moved_mm > 0.0 && closed.moved_mm < 1e-6, "{closed:?}");
}

/// The third broken input of the trial: arcs of more than half a circle.
#[test]
fn arcs_beyond_half_a_circle_are_split() {
    let vertices = run(&[
        (0.091_875_807_585_458_7, -0.060_587_741_733_147_2, 0.0),
        (-0.006_505_377_961_953_884, 0.109_862_270_919_169_76, 8.156_521_606_832_257),
    ]);
    let closed = check(&vertices, 3);
    assert_eq!(closed.moved_mm, 0.0);
    // The area of what was drawn: the disc less the cap that the chord takes off.
    let big = Segment { from: vertices[1].point, to: vertices[0].point, bulge: vertices[1].bulge };
    let (r, sweep) = (big.radius(), big.sweep());
    let area = r * r * (sweep - sweep.sin()) / 2.0;
    assert!((closed.outline.area() - area).abs() < 1e-12, "{} against {area}", closed.outline.area());
    let mirrored: Vec<Vertex> =
        vertices.iter().map(|v| Vertex::new(-v.point.x, -v.point.y, v.bulge)).collect();
    assert!((check(&mirrored, 3).outline.area() - area).abs() < 1e-12);
}

/// A small ring of a piece with a tiny chord and a great arc is no slip.
#[test]
fn a_near_circle_is_kept() {
    let closed = check(&run(&[(0.0, 0.0, 0.0), (1e-7, 0.0, 1e7)]), 3);
    assert!((closed.outline.area() - std::f64::consts::PI / 16.0).abs() < 1e-6, "{closed:?}");
}

#[test]
fn fillets_out_of_tangent_by_rounding_are_rebuilt() {
    let q = FRAC_PI_8.tan();
    let exact = [
        (0.2, 0.0, 0.0),
        (2.8, 0.0, q),
        (3.0, 0.2, 0.0),
        (3.0, 1.7, q),
        (2.8, 1.9, 0.0),
        (0.2, 1.9, q),
        (0.0, 1.7, 0.0),
        (0.0, 0.2, q),
    ];
    for turn in [0.3f64, 1.1, 2.0] {
        let (sin, cos) = turn.sin_cos();
        let round = |v: f64| (v * 1e4).round() / 1e4;
        let rounded: Vec<Vertex> = exact
            .iter()
            .map(|&(x, y, b)| {
                Vertex::new(round(x * cos - y * sin), round(x * sin + y * cos), (b * 1e6).round() / 1e6)
            })
            .collect();
        let closed = check(&rounded, 8);
        assert!(closed.moved_mm > 0.0 && closed.moved_mm < 2e-4, "{}", closed.moved_mm);
        let segments: Vec<Segment> = closed.outline.segments().collect();
        for i in 0..8 {
            let (before, after) = (segments[i].direction(1.0), segments[(i + 1) % 8].direction(0.0));
            assert!(before.cross(after).abs() < 1e-9, "joint {i} turns by {}", before.cross(after));
        }
    }
}

/// Over a chord of 2 an arc rises by its bulge. One that rises by less than a tenth of a nanometre is a line, and that is said;
/// one that rises by more stays, and so does one where nothing may move.
#[test]
fn arcs_that_hardly_rise_become_lines() {
    let bowed = |bulge: f64| run(&[(0.0, 0.0, bulge), (2.0, 0.0, 0.0), (2.0, 1.0, -bulge), (0.0, 1.0, 0.0)]);
    let closed = check(&bowed(0.9e-7), 4);
    assert!(closed.outline.segments().all(|segment| segment.is_line()));
    assert!((closed.moved_mm - 0.9e-7).abs() < 1e-15, "{}", closed.moved_mm);
    for (bulge, limit) in [(1.1e-7, LIMIT), (0.9e-7, 0.0)] {
        let kept = close_up(bowed(bulge), limit).expect("closes");
        assert_eq!(kept.moved_mm, 0.0, "{bulge}");
        assert_eq!(kept.outline.segments().filter(|segment| segment.is_line()).count(), 2, "{bulge}");
    }
}

#[test]
fn a_real_kink_stays() {
    // The arc meets its lines at 5 degrees: nobody's rounding.
    let b = ((90f64 - 10.0).to_radians() / 4.0).tan();
    let vertices = run(&[(0.0, 0.0, 0.0), (2.0, 0.0, b), (3.0, 1.0, 0.0), (3.0, 3.0, 0.0), (0.0, 3.0, 0.0)]);
    let closed = check(&vertices, 5);
    assert_eq!(closed.moved_mm, 0.0);
}

#[test]
fn beyond_the_join_limit_is_refused() {
    let vertices = run(&[(0.0, 0.0, 0.0), (3.0, 0.0, 0.0), (3.0 + 5e-10, 0.0, 0.0), (0.0, 2.0, 0.0)]);
    let found = close_up(vertices, 0.0).expect_err("moves by more than 0");
    assert_eq!(found[0].kind, DefectKind::BeyondJoinLimit);
}

#[test]
fn rubbish_is_refused() {
    for (vertices, kind) in [
        (run(&[]), DefectKind::TooFewVertices),
        (run(&[(0.0, 0.0, 0.0), (0.0, 0.0, 0.0)]), DefectKind::TooFewVertices),
        (run(&[(f64::NAN, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)]), DefectKind::NotFinite),
        (run(&[(0.0, 0.0, f64::INFINITY), (1.0, 0.0, 0.0)]), DefectKind::NotFinite),
        (run(&[(0.0, 0.0, 0.0), (2.0, 2.0, 0.0), (2.0, 0.0, 0.0), (0.0, 2.0, 0.0)]), DefectKind::Crossing),
    ] {
        assert_eq!(close_up(vertices, LIMIT).expect_err("rubbish")[0].kind, kind);
    }
}

#[test]
fn pieces_of_one_line_and_of_one_circle_are_joined() {
    let eighth = (std::f64::consts::PI / 16.0).tan();
    let (s, c) = (std::f64::consts::FRAC_PI_4.sin(), std::f64::consts::FRAC_PI_4.cos());
    let o = Outline::new(run(&[
        (-1.0, 0.0, 0.0),
        (-0.3, 0.0, 0.0),
        (0.4, 0.0, 0.0),
        (1.0, 0.0, eighth),
        (c, s, eighth),
        (0.0, 1.0, eighth),
        (-c, s, eighth),
    ]))
    .expect("half a disc");
    for (start, corners) in [(0, 2), (3, 2), (1, 3), (4, 3), (6, 3)] {
        let begun = o.starting_at(start);
        let joined = begun.joined();
        assert_eq!(joined.vertices().len(), corners, "start {start}");
        assert_eq!(joined.vertices()[0].point, begun.vertices()[0].point, "the first vertex stays");
        assert!((joined.area() - o.area()).abs() < 1e-12);
        assert!((joined.perimeter() - o.perimeter()).abs() < 1e-12);
        assert_eq!(joined.joined(), joined);
    }
    let circle =
        Outline::new(run(&[(1.0, 0.0, FRAC_PI_8.tan()), (0.0, 1.0, FRAC_PI_8.tan()), (-1.0, 0.0, 1.0)]));
    assert_eq!(circle.expect("a circle").joined().vertices().len(), 2);
}
