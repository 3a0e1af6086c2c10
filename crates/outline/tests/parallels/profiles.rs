//! Outlines for tests, made by rule from a number: the same number gives the same outline on every machine.

use outline::{Outline, Vertex};

/// A small generator of even numbers (splitmix64).
pub struct Dice(pub u64);

impl Dice {
    /// The next number, 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// The next number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// The next whole number from 0 up to but not including `end`.
    pub fn below(&mut self, end: usize) -> usize {
        ((self.share() * end as f64) as usize).min(end - 1)
    }
}

/// Profile number `index`, its vertices rounded to `grid` mm: stars of lines and arcs, filleted rectangles, slots, bars
/// with necks, L and U shapes, all turned and moved, 0.3 to 50 mm.
pub fn profile(index: u64, grid: f64) -> Outline {
    let mut dice = Dice(index.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ 0x5eed);
    loop {
        let size = 0.3 * (50.0f64 / 0.3).powf(dice.share());
        let vertices = match index % 6 {
            0 | 1 => star(&mut dice, index % 6 == 1),
            2 => filleted(&mut dice),
            3 => slot(&mut dice),
            4 => bar_with_neck(&mut dice),
            _ => channel(&mut dice),
        };
        let (turn, x, y) = (dice.between(0.0, 6.0), dice.between(-20.0, 20.0), dice.between(-20.0, 20.0));
        let placed = vertices.into_iter().map(|(px, py, bulge)| {
            let (sin, cos) = turn.sin_cos();
            let round = |value: f64| (value / grid).round() * grid;
            Vertex::new(
                round(x + size * (px * cos - py * sin)),
                round(y + size * (px * sin + py * cos)),
                bulge,
            )
        });
        if let Ok(outline) = Outline::new(placed.collect()) {
            return outline;
        }
    }
}

type Raw = Vec<(f64, f64, f64)>;

fn star(dice: &mut Dice, bent: bool) -> Raw {
    let n = 3 + dice.below(18);
    (0..n)
        .map(|i| {
            let angle = std::f64::consts::TAU * (i as f64 + dice.between(0.1, 0.9)) / n as f64;
            let radius = dice.between(0.3, 1.0);
            let bulge = if bent && dice.share() < 0.5 { dice.between(-0.5, 0.7) } else { 0.0 };
            (radius * angle.cos(), radius * angle.sin(), bulge)
        })
        .collect()
}

/// A rectangle with tangent corner arcs.
fn filleted(dice: &mut Dice) -> Raw {
    let (w, h) = (1.0, dice.between(0.2, 1.0));
    let r = h * dice.between(0.05, 0.49);
    let quarter = (std::f64::consts::FRAC_PI_8).tan();
    vec![
        (r, 0.0, 0.0),
        (w - r, 0.0, quarter),
        (w, r, 0.0),
        (w, h - r, quarter),
        (w - r, h, 0.0),
        (r, h, quarter),
        (0.0, h - r, 0.0),
        (0.0, r, quarter),
    ]
}

fn slot(dice: &mut Dice) -> Raw {
    let (l, r) = (dice.between(0.1, 1.0), dice.between(0.05, 0.5));
    vec![(-l, -r, 0.0), (l, -r, 1.0), (l, r, 0.0), (-l, r, 1.0)]
}

/// Two rooms joined by a neck.
fn bar_with_neck(dice: &mut Dice) -> Raw {
    let (a, b, neck) = (dice.between(0.2, 0.5), dice.between(0.2, 0.5), dice.between(0.02, 0.19));
    vec![
        (-1.0, -a, 0.0),
        (-0.3, -a, 0.0),
        (-0.3, -neck, 0.0),
        (0.3, -neck, 0.0),
        (0.3, -b, 0.0),
        (1.0, -b, if dice.share() < 0.5 { 1.0 } else { 0.0 }),
        (1.0, b, 0.0),
        (0.3, b, 0.0),
        (0.3, neck, 0.0),
        (-0.3, neck, 0.0),
        (-0.3, a, 0.0),
        (-1.0, a, 0.0),
    ]
}

/// A U whose arms may differ in width.
fn channel(dice: &mut Dice) -> Raw {
    let (a, b, floor) = (dice.between(0.1, 0.4), dice.between(0.1, 0.4), dice.between(0.1, 0.4));
    let bend = if dice.share() < 0.5 { dice.between(-0.9, 0.9) } else { 0.0 };
    vec![
        (0.0, 0.0, 0.0),
        (1.0, 0.0, 0.0),
        (1.0, 1.0, 0.0),
        (1.0 - b, 1.0, 0.0),
        (1.0 - b, floor, bend * 0.2),
        (a, floor, 0.0),
        (a, 1.0, 0.0),
        (0.0, 1.0, 0.0),
    ]
}

/// An outline from x, y, bulge.
pub fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
    Outline::new(vertices.iter().map(|&(x, y, bulge)| Vertex::new(x, y, bulge)).collect())
        .expect("a valid outline")
}

/// Area of an outline, mm2, reckoned here and not by the crate under test.
pub fn area(outline: &Outline) -> f64 {
    let origin = outline.vertices()[0].point;
    let mut twice = 0.0;
    for segment in outline.segments() {
        twice += (segment.from - origin).cross(segment.to - origin);
        if !segment.is_line() {
            let (chord, sweep) = (segment.from.distance(segment.to), 4.0 * segment.bulge.atan());
            let radius = chord / (2.0 * (0.5 * sweep).sin());
            twice += radius * radius * (sweep - sweep.sin());
        }
    }
    0.5 * twice
}

/// Length of an outline, mm.
pub fn perimeter(outline: &Outline) -> f64 {
    outline.segments().map(|segment| segment.length()).sum()
}

/// How many cases a test goes through: `few`, unless the environment says how many.
pub fn cases(variable: &str, few: u64) -> u64 {
    std::env::var(variable).ok().and_then(|text| text.parse().ok()).unwrap_or(few)
}
