//! The largest circle: published polygons, closed forms, properties.

use std::f64::consts::{FRAC_PI_8, SQRT_2};
use std::time::Instant;

use outline::{LargestCircle, LargestCircleError, Outline, Point, Vector, Vertex, largest_circle};

fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
    Outline::new(vertices.iter().map(|&(x, y, b)| Vertex::new(x, y, b)).collect()).expect("a valid outline")
}

fn polygon(points: &[(f64, f64)]) -> Outline {
    outline(&points.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Vec<_>>())
}

/// The expected circle, to `within` mm (radius; centre ten times that).
fn check(outer: &Outline, islands: &[Outline], centre: Point, radius: f64, within: f64) {
    let about = Point::new(-2.0, 3.0);
    for start in 0..outer.vertices().len().min(6) {
        let o = outer.starting_at(start);
        one(&o, islands, centre, radius, within);
        let mirrored: Vec<Outline> = islands.iter().map(Outline::mirrored_x).collect();
        one(&o.mirrored_x(), &mirrored, Point::new(-centre.x, centre.y), radius, within);
        let by = Vector::new(7.75, -3.5);
        let moved: Vec<Outline> = islands.iter().map(|i| i.moved(by)).collect();
        one(&o.moved(by), &moved, centre + by, radius, within);
        let turn = 0.9f64;
        let turned: Vec<Outline> = islands.iter().map(|i| i.turned(about, turn)).collect();
        let (sin, cos) = turn.sin_cos();
        let out = centre - about;
        let there = about + Vector::new(out.x * cos - out.y * sin, out.x * sin + out.y * cos);
        one(&o.turned(about, turn), &turned, there, radius, within);
        let k = 0.01;
        let scaled: Vec<Outline> = islands.iter().map(|i| i.scaled(about, k).expect("still valid")).collect();
        one(
            &o.scaled(about, k).expect("still valid"),
            &scaled,
            about + (centre - about) * k,
            radius * k,
            within,
        );
    }
}

fn one(outer: &Outline, islands: &[Outline], centre: Point, radius: f64, within: f64) {
    let circle = sound(outer, islands);
    assert!(!circle.tied, "{circle:?}");
    assert!((circle.radius - radius).abs() <= within, "{circle:?} against radius {radius}");
    assert!(circle.centre.distance(centre) <= 10.0 * within, "{circle:?} against {centre:?}");
}

/// What every answer must hold.
fn sound(outer: &Outline, islands: &[Outline]) -> LargestCircle {
    let circle = largest_circle(outer, islands).expect("a circle");
    assert!((0.0..1e-6).contains(&circle.proven_within), "{circle:?}");
    let depth = islands
        .iter()
        .map(|i| -i.signed_distance(circle.centre))
        .fold(outer.signed_distance(circle.centre), f64::min);
    assert!((depth - circle.radius).abs() < 1e-12, "{circle:?}: depth {depth}");
    circle
}

/// Test polygons of the JTS library with their published largest circles, recomputed; five digits where no root is given.
#[test]
fn published_polygons() {
    let near = 1e-6;
    let j =
        |points: &[(f64, f64)], x, y, r, within| check(&polygon(points), &[], Point::new(x, y), r, within);
    j(&[(1.0, 1.0), (1.0, 7.0), (9.0, 1.0)], 3.0, 3.0, 2.0, near);
    let r = 6.0 * SQRT_2 - 8.0;
    j(&[(1.0, 1.0), (1.0, 9.0), (2.0, 2.0)], 1.0 + r, 2.17157, r, 5e-6);
    let r = 9.0 - 65f64.sqrt();
    j(&[(1.0, 2.0), (9.0, 3.0), (9.0, 1.0), (1.0, 1.0)], 9.0 - r, 1.0 + r, r, near);
    j(&[(1.0, 1.0), (6.0, 9.0), (3.7, 2.5), (9.0, 1.0)], 2.8195, 2.0084, 1.00844, 5e-5);
    let four = [(100.0, 0.0), (200.0, 200.0), (300.0, 200.0), (300.0, 100.0)];
    j(&four, 238.1966, 138.1966, 61.80340, 5e-5);
    let hole = polygon(&[(200.0, 150.0), (200.0, 100.0), (260.0, 100.0)]);
    check(&polygon(&four), &[hole], Point::new(257.470, 157.470), 42.5300, 5e-4);
}

#[test]
fn rhombus() {
    for (p, q) in [(0.5, 0.3), (40.0, 1.0), (3.0, 3.0)] {
        let (a, b): (f64, f64) = (p / 2.0, q / 2.0);
        let o = polygon(&[(a, 0.0), (0.0, b), (-a, 0.0), (0.0, -b)]);
        check(&o, &[], Point::new(0.0, 0.0), p * q / p.hypot(q) / 2.0, 1e-6);
    }
}

#[test]
fn circles_and_rings() {
    for r in [0.05, 1.0, 50.0] {
        let disc = outline(&[(-r, 0.0, 1.0), (r, 0.0, 1.0)]);
        check(&disc, &[], Point::new(0.0, 0.0), r, 1e-6);
    }
    // A pin off centre: the circle touches pin and bore on their common diameter.
    let bore = outline(&[(-5.0, 0.0, 1.0), (5.0, 0.0, 1.0)]);
    let pin = outline(&[(0.0, 0.0, 1.0), (2.0, 0.0, 1.0)]);
    check(&bore, &[pin], Point::new(-2.5, 0.0), 2.5, 1e-6);
}

#[test]
fn rounded_square() {
    let q = FRAC_PI_8.tan();
    let o = outline(&[
        (0.2, 0.0, 0.0),
        (0.8, 0.0, q),
        (1.0, 0.2, 0.0),
        (1.0, 0.8, q),
        (0.8, 1.0, 0.0),
        (0.2, 1.0, q),
        (0.0, 0.8, 0.0),
        (0.0, 0.2, q),
    ]);
    check(&o, &[], Point::new(0.5, 0.5), 0.5, 1e-6);
}

fn check_tied(o: &Outline, islands: &[Outline], centre: Point, radius: f64, near: f64) {
    let circle = sound(o, islands);
    assert!(circle.tied, "{circle:?}");
    assert!((circle.radius - radius).abs() < 1e-6, "{circle:?} against {radius}");
    assert!(circle.centre.distance(centre) < near, "{circle:?} against {centre:?}");
}

#[test]
fn a_slot_ties_and_its_least_place_is_given() {
    let slot = |l: f64, r: f64| outline(&[(-l, -r, 0.0), (l, -r, 1.0), (l, r, 0.0), (-l, r, 1.0)]);
    for (l, r) in [(0.1, 0.05), (2.0, 1.0), (25.0, 0.2), (25.0, 1.5)] {
        let o = slot(l, r);
        let origin = Point::new(0.0, 0.0);
        for start in 0..4 {
            check_tied(&o.starting_at(start), &[], Point::new(-l, 0.0), r, 3e-6);
        }
        let quarter = std::f64::consts::FRAC_PI_2;
        check_tied(&o.turned(origin, quarter), &[], Point::new(0.0, -l), r, 5e-6);
        let (sin, cos) = 0.5f64.sin_cos();
        check_tied(&o.turned(origin, 0.5), &[], Point::new(-l * cos, -l * sin), r, 5e-6);
        check_tied(&o.mirrored_x(), &[], Point::new(-l, 0.0), r, 3e-6);
    }
}

#[test]
fn rectangles_and_twins_tie() {
    let flat = polygon(&[(0.0, 0.0), (10.0, 0.0), (10.0, 2.0), (0.0, 2.0)]);
    check_tied(&flat, &[], Point::new(1.0, 1.0), 1.0, 3e-6);
    let tall = polygon(&[(0.0, 0.0), (2.0, 0.0), (2.0, 10.0), (0.0, 10.0)]);
    check_tied(&tall, &[], Point::new(1.0, 1.0), 1.0, 5e-6);
    // Two equal rooms joined by a neck, one above the other and side by side.
    let neck = [
        (0.0, 0.0),
        (2.0, 0.0),
        (2.0, 0.9),
        (3.0, 0.9),
        (3.0, 0.0),
        (5.0, 0.0),
        (5.0, 2.0),
        (3.0, 2.0),
        (3.0, 1.1),
        (2.0, 1.1),
        (2.0, 2.0),
        (0.0, 2.0),
    ];
    let twins = polygon(&neck);
    let depth = sound(&twins, &[]);
    check_tied(&twins, &[], Point::new(1.0, 1.0), depth.radius, 0.01);
}

/// A bent slot: the circle slides along an arc.
#[test]
fn a_bent_slot_ties() {
    for (r, s) in [(10.0f64, 9.0f64), (10.0, 2.0), (40.0, 39.8)] {
        let q = FRAC_PI_8.tan();
        let o = outline(&[(s, 0.0, 0.0), (r, 0.0, q), (0.0, r, 0.0), (0.0, s, -q)]);
        let circle = sound(&o, &[]);
        let half = (r - s) / 2.0;
        if 2.0 * half < s {
            assert!(circle.tied, "{circle:?}");
            // The circle slides until it touches the end at x = 0.
            assert!((circle.centre.x - half).abs() < 1e-4, "{circle:?}");
        }
        assert!((circle.radius - half).abs() < 1e-6, "{circle:?} against {half}");
    }
}

/// Between sides that are parallel but for rounding the deepest place creeps along a ridge a nanometre high, and where it
/// ends in a flat stretch the search for ties would split squares for ever.
#[test]
fn sides_parallel_but_for_rounding() {
    let bar = outline(&[
        (-12.0012, 50.4172, 0.0),
        (-23.7433, 30.3205, 0.0),
        (-13.6683, 24.4339, 0.0),
        (-23.7329, 7.2081, 0.0),
        (-33.32, 12.8096, 0.0),
        (-45.0621, -7.2871, 1.0),
        (-22.1726, -20.6609, 0.0),
        (-10.4305, -0.5642, 0.0),
        (-20.0176, 5.0373, 0.0),
        (-9.9529, 22.2631, 0.0),
        (0.1221, 16.3764, 0.0),
        (11.8642, 36.4732, 0.0),
    ]);
    let circle = sound(&bar, &[]);
    assert!(circle.radius >= 11.671_960_902, "{circle:?}");
    let q = 0.414_213_562_373_095_03;
    let rounded = outline(&[
        (-7.533, 0.964, 0.0),
        (-2.5182, 5.1251, q),
        (-1.8833, 11.9504, 0.0),
        (-4.6599, 15.2966, q),
        (-11.4852, 15.9316, 0.0),
        (-16.5, 11.7704, q),
        (-17.1349, 4.9451, 0.0),
        (-14.3583, 1.5989, q),
    ]);
    let circle = sound(&rounded, &[]);
    assert!((circle.radius - 7.021_161_053).abs() < 1e-6, "{circle:?}");
}

#[test]
fn an_island_elsewhere_is_refused() {
    let square = polygon(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
    let over = polygon(&[(-1.0, -1.0), (2.0, -1.0), (2.0, 2.0), (-1.0, 2.0)]);
    assert_eq!(largest_circle(&square, &[over]), Err(LargestCircleError::IslandOutside(0)));
}

/// Thousands of segments: gears, and slots drawn as facets.
#[test]
fn many_segments() {
    let n = 5000;
    let wave = |i: usize| {
        let angle = std::f64::consts::TAU * i as f64 / n as f64;
        let r = 10.0 + (i % 7) as f64 * 0.001 + 2.0 * (5.0 * angle).cos();
        (r * angle.cos(), r * angle.sin())
    };
    let flower = polygon(&(0..n).map(wave).collect::<Vec<_>>());
    let begun = Instant::now();
    let circle = sound(&flower, &[]);
    println!("flower of {n}: {:?} {circle:?}", begun.elapsed());
    assert!((circle.radius - 8.0).abs() < 0.05);
    let disc = polygon(
        &(0..n)
            .map(|i| {
                let angle = std::f64::consts::TAU * i as f64 / n as f64;
                (10.0 * angle.cos(), 10.0 * angle.sin())
            })
            .collect::<Vec<_>>(),
    );
    let begun = Instant::now();
    let circle = sound(&disc, &[]);
    println!("disc of {n}: {:?} {circle:?}", begun.elapsed());
    let apothem = 10.0 * (std::f64::consts::PI / n as f64).cos();
    assert!((circle.radius - apothem).abs() < 1e-6);
}

/// A bent slot whose sides are facets at the same angles. The largest circles touch a corner of the inner side and both facets
/// at a corner of the outer one: rho - s = (r - rho) c with c = cos(step / 2), so the radius is (r - s) c / (1 + c).
#[test]
fn a_bent_slot_in_facets() {
    for (r, s, facets) in [(10.0, 9.0, 2499), (10.0, 9.9, 700), (3.0, 2.0, 40), (10.0, 5.0, 301)] {
        let step = std::f64::consts::FRAC_PI_2 / f64::from(facets);
        let at = |radius: f64, i: i32| {
            let angle = step * f64::from(i);
            (radius * angle.cos(), radius * angle.sin())
        };
        let side = (0..=facets).map(|i| at(r, i)).chain((0..=facets).rev().map(|i| at(s, i)));
        let begun = Instant::now();
        let circle = sound(&polygon(&side.collect::<Vec<_>>()), &[]);
        println!("bent slot of {facets} facets a side: {:?}", begun.elapsed());
        let c = (step / 2.0).cos();
        let half = (r - s) * c / (1.0 + c);
        assert!(circle.tied && (circle.radius - half).abs() < 1e-6, "{circle:?} against {half}");
    }
}
