//! Wire in an opening: rates, minutes, corners, necks and cores against closed forms and against plain sampling.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use package::Plan;
use std::f64::consts::TAU;

fn value(plan: &Plan, key: &str) -> f64 {
    let key = format!("s.e.{key}");
    plan.reckoning.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("no line {key}")).value
}

fn shop(wire: f64) -> String {
    let (gap, offsets) = match wire {
        0.25 => (0.025, "[0.190, 0.142, 0.134, 0.131]"),
        _ => (0.010, "[0.075, 0.059, 0.0545, 0.053]"),
    };
    format!(
        "name = \"One wire\"\nunits = \"mm\"\n[[electrode]]\ndiameter = 0.5\novercut = 0.035\n[[wire]]\ndiameter = {wire}\ngap = {gap}\noffsets = {offsets}\n"
    )
}

fn circle(radius: f64) -> Outline {
    rounded_rectangle(2.0 * radius, 2.0 * radius, radius)
}

fn polygon(n: usize, radius: f64) -> Outline {
    let corner = |i: usize| TAU * i as f64 / n as f64;
    let at = |i| Vertex::new(radius * f64::cos(corner(i)), radius * f64::sin(corner(i)), 0.0);
    Outline::new((0..n).map(at).collect()).unwrap()
}

/// The rates of the example shop's 0.25 wire are 50, 62 and 75 mm2/min at 10, 20 and 40.
#[test]
fn rates_are_straight_between_the_heights_of_the_table_and_held_beyond() {
    let heights =
        [(5.0, 50.0), (10.0, 50.0), (15.0, 56.0), (20.0, 62.0), (30.0, 68.5), (40.0, 75.0), (60.0, 75.0)];
    for (height, rate) in heights {
        let plan = Bench::new(circle(2.0), height).shop(&shop(0.25)).plan();
        let ours = value(&plan, "wire.rate_mm2_per_min");
        assert!((ours - rate).abs() < 1e-9, "{height} high: {ours}");
        let feed = value(&plan, "wire.main_feed_mm_per_min");
        assert!((feed - rate / height).abs() < 1e-9, "{height} high: {feed}");
    }
}

#[test]
fn flushing_starves_below_the_shops_limit() {
    for (radius, factor) in [(0.49, 0.45), (0.51, 1.0)] {
        let plan = Bench::new(circle(radius), 20.0).shop(&shop(0.10)).plan();
        assert_eq!(value(&plan, "wire.starved_factor"), factor, "{radius}");
    }
}

/// Hole 2 of `docs/start-holes.md` needs 0.3230 + 0.01324; in a wide opening it lies 0.3 farther in.
const FROM_EDGE: f64 = 0.3230 + 0.013_237_2 + 0.3;

/// A core of 0.4 g falls: the wire goes all round and 0.1 further. One of 1.4 g hangs on a tab of 1.2: the ends of the
/// wire's way stay apart by that, the wire and two gaps, straight across. For either the wire is cut where its way ends, and does
/// not go back.
#[test]
fn ways_in_a_circle() {
    for (radius, further) in [(1.2, 0.1), (2.0, -2.0 * 1.85 * f64::asin(1.5 / (2.0 * 1.85)))] {
        let edge = "cut = \"finished\"\ntolerance = 0.02\n";
        let plan = Bench::new(circle(radius), 20.0).shop(&shop(0.25)).edge(edge).plan();
        let pass = |name: &str| value(&plan, &format!("wire.passes.0.{name}"));
        // A single pass: half the wire and its gap.
        assert!((pass("offset_mm") - 0.150).abs() < 1e-9);
        let length = TAU * (radius - 0.150) + further;
        assert!((pass("length_mm") - length).abs() < 1e-9, "{radius}: {}", pass("length_mm"));
        let lead = FROM_EDGE - 0.150;
        assert!((pass("lead_in_and_back_mm") - lead).abs() < 1e-5);
        let minutes = (length + lead / 0.5) / (62.0 / 20.0);
        assert!((pass("minutes") - minutes).abs() < 1e-4);
    }
}

/// Corners are joints that turn by more than 2 degrees.
#[test]
fn corners_of_polygons() {
    for (n, corners) in [(360, 0), (181, 0), (179, 179), (120, 120), (8, 8)] {
        let plan = Bench::new(polygon(n, 2.0), 20.0).shop(&shop(0.10)).plan();
        assert_eq!(value(&plan, "wire.passes.0.corners"), f64::from(corners), "{n}");
    }
}

/// Two rooms of 2 x 2 with a neck 0.3 wide between them.
#[test]
fn a_neck_that_the_main_cut_does_not_pass() {
    let corners = [
        [-3.0, -1.0],
        [-1.0, -1.0],
        [-1.0, -0.15],
        [1.0, -0.15],
        [1.0, -1.0],
        [3.0, -1.0],
        [3.0, 1.0],
        [1.0, 1.0],
        [1.0, 0.15],
        [-1.0, 0.15],
        [-1.0, 1.0],
        [-3.0, 1.0],
    ];
    let neck = Outline::new(corners.map(|[x, y]| Vertex::new(x, y, 0.0)).to_vec()).unwrap();
    let edge = "cut = \"finished\"\ncorner_tolerance = 0.2\n";
    let plan = Bench::new(neck, 20.0).shop(&shop(0.25)).edge(edge).plan();
    let bounds = &plan.sections[0].contours[0].start_limits.bounds;
    let one_piece = bounds.iter().find(|bound| bound.bound == "one-piece").unwrap();
    assert!(!one_piece.holds);
    assert!((one_piece.have_mm - 0.15).abs() < 2e-5, "{one_piece:?}");
    let short = one_piece.need_mm - one_piece.have_mm;
    let said = plan.remarks.iter().find(|remark| remark.code == "not-in-this-shop").unwrap();
    assert!(
        said.message.contains(&format!("SHORT {short:.4}"))
            || said.message.contains("it stays one piece to 0.15")
    );
}

/// The refusal of hole 3 of `docs/start-holes.md` says how much is missing.
#[test]
fn a_refusal_says_how_much_is_short() {
    let shop = "name = \"Paper\"\nunits = \"mm\"\n[[electrode]]\ndiameter = 0.15\novercut = 0.015\n[[wire]]\ndiameter = 0.05\ngap = 0.005\n\
                offsets = [0.039, 0.031, 0.028, 0.027]\n";
    let plan = Bench::new(rounded_rectangle(2.12, 0.23, 0.06), 20.0).shop(shop).plan();
    let said = plan.remarks.iter().find(|remark| remark.code == "not-in-this-shop").unwrap();
    assert!(said.message.contains("SHORT 0.0192"), "{}", said.message);
}

/// Distance from a place to a straight leg.
fn to_leg(place: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (along, to) = ([b[0] - a[0], b[1] - a[1]], [place[0] - a[0], place[1] - a[1]]);
    let t = (along[0] * to[0] + along[1] * to[1]) / (along[0] * along[0] + along[1] * along[1]);
    let t = t.clamp(0.0, 1.0);
    f64::hypot(to[0] - t * along[0], to[1] - t * along[1])
}

/// The core in a circle of this radius in a block so high, by counting the places of a fine grid that neither hole nor
/// wire has removed. `returns`: the wire has come back to its hole, from 0.1 farther on along the edge.
fn core_in_a_circle(radius: f64, height: f64, returns: bool) {
    let edge = "cut = \"finished\"\ntolerance = 0.02\n";
    let plan = Bench::new(circle(radius), height).shop(&shop(0.25)).edge(edge).plan();
    let contour = &plan.sections[0].contours[0];
    let start = contour.start.as_ref().unwrap();
    let hole = [start.x_mm, start.y_mm];
    let out = f64::hypot(hole[0], hole[1]);
    assert!((out - (radius - FROM_EDGE)).abs() < 1e-5, "{out}");
    // The wire goes straight to the edge and clears 0.150 to each side, as it does around.
    let [x, y] = hole.map(|c| c / out);
    let (sin, cos) = (0.1 / radius).sin_cos();
    let way = radius - 0.150;
    let leaves = [way * (x * cos - y * sin), way * (x * sin + y * cos)];
    let (step, n) = (0.002, (radius / 0.002) as i32);
    let mut left = 0;
    for i in -n..=n {
        for j in -n..=n {
            let place = [(f64::from(i) + 0.5) * step, (f64::from(j) + 0.5) * step];
            left += i32::from(
                f64::hypot(place[0], place[1]) < radius - 0.300
                    && f64::hypot(place[0] - hole[0], place[1] - hole[1]) > 0.275
                    && to_leg(place, hole, [radius * x, radius * y]) > 0.150
                    && (!returns || to_leg(place, hole, leaves) > 0.150),
            );
        }
    }
    let counted = f64::from(left) * step * step;
    assert_eq!(contour.cores.len(), 1);
    let ours = contour.cores[0].area_mm2;
    assert!((ours - counted).abs() < 1e-3, "ours {ours}, counted {counted}");
    assert!((contour.cores[0].mass_g - ours * height * 7.70 / 1000.0).abs() < 1e-9);
}

#[test]
fn cores_in_circles() {
    // Held by a tab, and taken out at a stop: both are free before the wire would go back.
    core_in_a_circle(2.0, 20.0, false);
    core_in_a_circle(1.2, 20.0, false);
    // Flushed out when the pass is over.
    core_in_a_circle(1.2, 0.6, true);
}
