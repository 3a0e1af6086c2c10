//! Local thickness against closed forms, and against the narrowest place.

use outline::{Outline, Point, Vector, Vertex, narrowest, thickness};

fn polygon(corners: &[[f64; 2]]) -> Outline {
    Outline::new(corners.iter().map(|c| Vertex::new(c[0], c[1], 0.0)).collect()).expect("sound")
}

fn circle(x: f64, y: f64, r: f64) -> Outline {
    Outline::new(vec![Vertex::new(x + r, y, 1.0), Vertex::new(x - r, y, 1.0)]).expect("sound")
}

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// The sides of a bar see each other; its ends see a disc that both sides hold. A circle is as thick as itself everywhere.
#[test]
fn bars_and_circles() {
    let bar = polygon(&[[-3.0, -1.0], [3.0, -1.0], [3.0, 1.0], [-3.0, 1.0]]);
    thickness(&bar, &[]).into_iter().for_each(|one| near(one.width, 2.0, 1e-6));
    thickness(&circle(4.0, 1.0, 1.5), &[]).into_iter().for_each(|one| near(one.width, 3.0, 1e-6));
}

/// In a right-angled corner with legs 3 and 4 the disc at the middle of a leg: it touches the hypotenuse too, and is the
/// incircle where the leg's touching point is its middle. At the middle (0, 1.5) of the leg on x = 0 a disc of radius r has its
/// middle at (r, 1.5), and the hypotenuse 3 x + 4 y = 12 (from (4, 0) to (0, 3)) is (12 - 3 r - 6) / 5 away: r = 0.75.
#[test]
fn a_triangle_by_hand() {
    let triangle = polygon(&[[0.0, 0.0], [4.0, 0.0], [0.0, 3.0]]);
    let found = thickness(&triangle, &[]);
    let of = |x: f64, y: f64| {
        found.iter().find(|one| one.place.distance(Point::new(x, y)) < 1e-9).map_or(0.0, |one| one.width)
    };
    near(of(0.0, 1.5), 1.5, 1e-6);
    // On the leg y = 0 at (2, 0): (12 - 6 - 4 r) / 5 = r gives 2/3.
    near(of(2.0, 0.0), 4.0 / 3.0, 1e-6);
}

/// An island takes room away; a neck is as thin as the narrowest place says.
#[test]
fn islands_and_necks() {
    let square = polygon(&[[-5.0, -5.0], [5.0, -5.0], [5.0, 5.0], [-5.0, 5.0]]);
    let found = thickness(&square, &[circle(0.0, 0.0, 2.0)]);
    found.into_iter().for_each(|one| near(one.width, 3.0, 1e-6));
    let bone = polygon(&[
        [-4.0, -2.0],
        [-1.0, -2.0],
        [-0.5, -0.4],
        [0.5, -0.4],
        [1.0, -2.0],
        [4.0, -2.0],
        [4.0, 2.0],
        [1.0, 2.0],
        [0.5, 0.4],
        [-0.5, 0.4],
        [-1.0, 2.0],
        [-4.0, 2.0],
    ]);
    let least = thickness(&bone, &[]).into_iter().map(|one| one.width).fold(f64::INFINITY, f64::min);
    near(least, narrowest(&bone, &[]).ok().flatten().map_or(0.0, |one| one.width), 1e-6);
}

#[test]
fn moving_turning_and_mirroring_change_nothing() {
    let shape = polygon(&[[0.0, 0.0], [5.0, 0.3], [4.2, 2.0], [2.0, 1.1], [0.4, 3.0]]);
    let widths = |outline: &Outline| {
        let mut all: Vec<f64> = thickness(outline, &[]).into_iter().map(|one| one.width).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let there = widths(&shape);
    let others =
        [shape.moved(Vector::new(-70.0, 31.0)), shape.turned(Point::new(1.0, 2.0), 0.7), shape.mirrored_x()];
    for other in others {
        for (a, b) in there.iter().zip(widths(&other)) {
            near(*a, b, 1e-6);
        }
    }
}
