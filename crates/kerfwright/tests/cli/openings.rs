//! Openings of every size and kind that a drawing may hold, made by rule from a number: 0.05 to 500 mm, 1 to 5,000 segments.

use std::f64::consts::{PI, TAU};

/// Kinds of opening.
const KINDS: [fn(&mut Dice, usize) -> Shape; 14] = [
    circle, slot, rounded, star, gear, comb, spiral, bent_slot, flower, notched, keyhole, cross, bowed, coast,
];

/// One opening and how it is asked for.
pub struct Opening {
    /// Which kind.
    pub kind: &'static str,
    /// Vertices x, y, bulge, mm; one alone stands for a circle about the origin through it.
    pub vertices: Vec<(f64, f64, f64)>,
    /// Its largest extent, mm.
    pub size: f64,
    /// Height of the block, mm.
    pub height: f64,
    /// Block, x and y, mm.
    pub block: [f64; 2],
    /// Plus or minus on the edge, mm.
    pub tolerance: f64,
    /// Metal that may be left in a corner, mm.
    pub corner_tolerance: f64,
}

struct Shape {
    kind: &'static str,
    vertices: Vec<(f64, f64, f64)>,
}

/// A small generator of even numbers (splitmix64).
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Every decade as likely as the next.
    fn magnitude(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    fn one_of<T: Copy>(&mut self, list: &[T]) -> T {
        list[((self.share() * list.len() as f64) as usize).min(list.len() - 1)]
    }
}

impl Opening {
    /// Opening number `number`, of at most so many segments.
    pub fn new(number: u64, most_segments: usize) -> Self {
        let mut dice = Dice(number.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ 0x0be1);
        let kind = KINDS[(number % KINDS.len() as u64) as usize];
        let segments = dice.magnitude(3.0, most_segments as f64).round() as usize;
        let shape = kind(&mut dice, segments);
        let size = dice.magnitude(0.05, 500.0);
        let scale = size / extent(&shape.vertices);
        let (sin, cos) = dice.between(0.0, TAU).sin_cos();
        let grain = dice.one_of(&[1e4, 1e5, 1e6, 0.0]);
        let round = |x: f64| if grain > 0.0 { (x * grain).round() / grain } else { x };
        let place = |&(x, y, bulge): &(f64, f64, f64)| {
            (round((x * cos - y * sin) * scale), round((x * sin + y * cos) * scale), bulge)
        };
        let vertices: Vec<_> = shape.vertices.iter().map(place).collect();
        let side = 1.3 * size + 10.0;
        Self {
            kind: shape.kind,
            vertices: distinct(vertices),
            size,
            height: dice.magnitude(2.0, 80.0),
            block: [side, side],
            tolerance: dice.one_of(&[0.0025, 0.004, 0.008, 0.02]),
            corner_tolerance: dice.one_of(&[0.01, 0.05, 0.2]),
        }
    }
}

/// Rounding brings the smallest pieces to nothing; a drawing would not hold them.
fn distinct(vertices: Vec<(f64, f64, f64)>) -> Vec<(f64, f64, f64)> {
    let n = vertices.len();
    let same = |a: (f64, f64, f64), b: (f64, f64, f64)| a.0 == b.0 && a.1 == b.1;
    (0..n).filter(|&i| n < 3 || !same(vertices[i], vertices[(i + 1) % n])).map(|i| vertices[i]).collect()
}

fn extent(vertices: &[(f64, f64, f64)]) -> f64 {
    let reach = |f: fn(&(f64, f64, f64)) -> f64| {
        let all = || vertices.iter().map(f);
        all().fold(f64::NEG_INFINITY, f64::max) - all().fold(f64::INFINITY, f64::min)
    };
    reach(|v| v.0).max(reach(|v| v.1)).max(2.0 * vertices[0].0.hypot(vertices[0].1))
}

fn polar(angle: f64, radius: f64) -> (f64, f64) {
    (radius * angle.cos(), radius * angle.sin())
}

fn lines(points: impl IntoIterator<Item = (f64, f64)>) -> Vec<(f64, f64, f64)> {
    points.into_iter().map(|(x, y)| (x, y, 0.0)).collect()
}

/// One segment, two arcs, or facets.
fn circle(dice: &mut Dice, n: usize) -> Shape {
    let vertices = match dice.one_of(&[0, 1, 2]) {
        0 => vec![(0.5, 0.0, 1.0)],
        1 => vec![(0.5, 0.0, 1.0), (-0.5, 0.0, 1.0)],
        _ => lines((0..n).map(|i| polar(TAU * i as f64 / n as f64, 0.5))),
    };
    Shape { kind: "circle", vertices }
}

fn slot(dice: &mut Dice, n: usize) -> Shape {
    let r = dice.magnitude(0.005, 0.24);
    let half = 0.5 - r;
    let facets = (n / 2).max(2);
    let end = |x: f64, from: f64| {
        (0..=facets).map(move |i| {
            let (a, b) = polar(from + PI * i as f64 / facets as f64, r);
            (x + a, b)
        })
    };
    let vertices = match dice.one_of(&[true, false]) {
        true => vec![(-half, -r, 0.0), (half, -r, 1.0), (half, r, 0.0), (-half, r, 1.0)],
        false => lines(end(half, -PI / 2.0).chain(end(-half, PI / 2.0))),
    };
    Shape { kind: "slot", vertices }
}

fn rounded(dice: &mut Dice, _: usize) -> Shape {
    let (x, y) = (0.5, dice.magnitude(0.01, 0.5));
    let r = dice.magnitude(0.01, 0.95) * y;
    let q = 2f64.sqrt() - 1.0;
    let vertices = vec![
        (-x + r, -y, 0.0),
        (x - r, -y, q),
        (x, -y + r, 0.0),
        (x, y - r, q),
        (x - r, y, 0.0),
        (-x + r, y, q),
        (-x, y - r, 0.0),
        (-x, -y + r, q),
    ];
    Shape { kind: "rounded", vertices }
}

fn star(dice: &mut Dice, n: usize) -> Shape {
    let (points, inner) = ((n / 2).max(3), dice.between(0.2, 0.48));
    let radius = |i: usize| if i.is_multiple_of(2) { 0.5 } else { inner };
    Shape {
        kind: "star",
        vertices: lines((0..2 * points).map(|i| polar(PI * i as f64 / points as f64, radius(i)))),
    }
}

fn gear(dice: &mut Dice, n: usize) -> Shape {
    let teeth = (n / 4).max(4);
    let root = 0.5 - (2.0 / teeth as f64).min(0.2) * dice.between(0.3, 1.0);
    let (pitch, bulge) = (TAU / teeth as f64, dice.one_of(&[0.0, (TAU / teeth as f64 / 16.0).tan()]));
    let vertices = (0..teeth).flat_map(|i| {
        let from = pitch * i as f64;
        [(0.0, root, bulge), (0.3, root, 0.0), (0.35, 0.5, bulge), (0.65, 0.5, 0.0)].map(
            |(share, radius, b)| {
                let (x, y) = polar(from + share * pitch, radius);
                (x, y, b)
            },
        )
    });
    Shape { kind: "gear", vertices: vertices.collect() }
}

fn comb(dice: &mut Dice, n: usize) -> Shape {
    let teeth = (n / 4).max(2);
    let (depth, share) = (dice.between(0.05, 0.4), dice.between(0.2, 0.8));
    let pitch = 1.0 / teeth as f64;
    let mut points = vec![(0.0, 0.0), (1.0, 0.0)];
    for i in (0..teeth).rev() {
        let (from, gap) = (pitch * i as f64, pitch * share);
        points.extend([(from + pitch, 0.1 + depth), (from + gap, 0.1 + depth)]);
        if i > 0 {
            points.extend([(from + gap, 0.1), (from, 0.1)]);
        }
    }
    points.push((0.0, 0.1 + depth));
    // The last tooth runs to the side.
    points.dedup();
    Shape { kind: "comb", vertices: lines(points) }
}

/// A channel wound up, as facets.
fn spiral(dice: &mut Dice, n: usize) -> Shape {
    let turns = dice.between(0.6, 4.0);
    let (pitch, share) = (0.5 / (turns + 1.0), dice.between(0.2, 0.8));
    let steps = (n / 2).max(12 * turns.ceil() as usize);
    let side = |off: f64| {
        (0..=steps).map(move |i| {
            let turn = turns * i as f64 / steps as f64;
            polar(TAU * turn, pitch * (turn + 0.6 + off))
        })
    };
    let inner: Vec<(f64, f64)> = side(-0.5 * share).collect();
    Shape { kind: "spiral", vertices: lines(side(0.5 * share).chain(inner.into_iter().rev())) }
}

fn bent_slot(dice: &mut Dice, n: usize) -> Shape {
    let (outer, inner) = (0.5, 0.5 - dice.magnitude(0.01, 0.3));
    let sweep = dice.between(0.3, 5.5);
    let facets = (n / 2).max(8);
    let side = |radius: f64| (0..=facets).map(move |i| polar(sweep * i as f64 / facets as f64, radius));
    let inside: Vec<(f64, f64)> = side(inner).collect();
    Shape { kind: "bent-slot", vertices: lines(side(outer).chain(inside.into_iter().rev())) }
}

fn flower(dice: &mut Dice, n: usize) -> Shape {
    let (n, petals) = (n.max(40), dice.one_of(&[2.0, 3.0, 5.0, 12.0]));
    let swing = dice.between(0.05, 0.6) * 0.3;
    let radius = |angle: f64| 0.35 + swing * (petals * angle).cos();
    Shape {
        kind: "flower",
        vertices: lines((0..n).map(|i| TAU * i as f64 / n as f64).map(|angle| polar(angle, radius(angle)))),
    }
}

/// A rectangle with notches all round, round-bottomed.
fn notched(dice: &mut Dice, n: usize) -> Shape {
    let notches = (n / 16).max(1);
    let share = dice.between(0.1, 0.45);
    let pitch = 1.0 / notches as f64;
    let half = 0.5 * share * pitch;
    let sense = dice.one_of(&[1.0, -1.0]);
    // Metal that stands in must stay clear of what stands in beyond the corner.
    let clear = if sense > 0.0 { 0.9 * (0.5 * pitch - 2.0 * half) } else { 0.2 };
    let depth = (2.0 * pitch).min(0.2).min(clear);
    let mut vertices = Vec::new();
    for quarter in 0..4 {
        let (sin, cos) = (PI / 2.0 * f64::from(quarter)).sin_cos();
        let mut put = |x: f64, y: f64, b: f64| {
            // Straight quarters exactly.
            let (sin, cos) = (sin.round(), cos.round());
            vertices.push((x * cos - y * sin, x * sin + y * cos, b));
        };
        put(-0.5, -0.5, 0.0);
        for i in 0..notches {
            let middle = -0.5 + pitch * (i as f64 + 0.5);
            // Into the opening (metal stands in) or out of it.
            put(middle - half, -0.5, 0.0);
            put(middle - half, -0.5 + sense * depth, -sense);
            put(middle + half, -0.5 + sense * depth, 0.0);
            put(middle + half, -0.5, 0.0);
        }
    }
    Shape { kind: "notched", vertices }
}

fn keyhole(dice: &mut Dice, _: usize) -> Shape {
    let (r, w) = (0.2, dice.magnitude(0.004, 0.15));
    let x = (r * r - w * w).sqrt();
    // The large arc the long way round, in two halves.
    let bulge = ((PI - (w / r).asin()) / 4.0).tan();
    Shape {
        kind: "keyhole",
        vertices: vec![(x, w, bulge), (-r, 0.0, bulge), (x, -w, 0.0), (0.8, -w, 0.0), (0.8, w, 0.0)],
    }
}

fn cross(dice: &mut Dice, _: usize) -> Shape {
    let (a, b) = (dice.magnitude(0.005, 0.3), dice.magnitude(0.005, 0.3));
    let points = [
        (0.5, -a),
        (0.5, a),
        (b, a),
        (b, 0.5),
        (-b, 0.5),
        (-b, a),
        (-0.5, a),
        (-0.5, -a),
        (-b, -a),
        (-b, -0.5),
        (b, -0.5),
        (b, -a),
    ];
    Shape { kind: "cross", vertices: lines(points) }
}

/// A polygon whose sides bow by anything from nothing to a sixth of a circle, in or out.
fn bowed(dice: &mut Dice, n: usize) -> Shape {
    let n = n.clamp(3, 60);
    let bow = dice.magnitude(1e-12, 0.2 / n as f64) * dice.one_of(&[1.0, -1.0]);
    let corner = |i: usize| {
        let (x, y) = polar(TAU * i as f64 / n as f64, 0.5);
        (x, y, bow)
    };
    Shape { kind: "bowed", vertices: (0..n).map(corner).collect() }
}

/// Radii at random, neighbours not too different.
fn coast(dice: &mut Dice, n: usize) -> Shape {
    let n = n.max(3);
    let rough = dice.magnitude(0.001, 0.3) * (10.0 / n as f64).min(1.0);
    let mut radius: f64 = 0.4;
    let points: Vec<(f64, f64)> = (0..n)
        .map(|i| {
            radius = (radius + dice.between(-rough, rough)).clamp(0.1, 0.5);
            polar(TAU * i as f64 / n as f64, radius)
        })
        .collect();
    Shape { kind: "coast", vertices: lines(points) }
}
