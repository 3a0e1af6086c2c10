//! Outlines as points on paper: bounds, rows across them, and the place deepest inside.
//!
//! Only square roots are used, so that the same plan gives the same bytes on every machine.

use package::BulgeVertex;

/// How far points on an arc may leave it, as a share of the paper's millimetre: below what a plotter shows.
const SAGITTA: f64 = 0.02;

/// The points of a closed outline, arcs divided so finely that at `scale` no one sees it.
pub fn points(outline: &[BulgeVertex], scale: f64) -> Vec<[f64; 2]> {
    let mut points = Vec::new();
    for (i, v) in outline.iter().enumerate() {
        let w = outline[(i + 1) % outline.len()];
        points.push([v[0], v[1]]);
        divide(&mut points, [v[0], v[1]], [w[0], w[1]], v[2], SAGITTA / scale, 12);
    }
    points
}

/// Pushes the points between `a` and `b`, halving the arc until it is flat enough.
fn divide(points: &mut Vec<[f64; 2]>, a: [f64; 2], b: [f64; 2], bulge: f64, flat: f64, depth: u32) {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    if depth == 0 || length([dx, dy]) * bulge.abs() / 2.0 <= flat {
        return;
    }
    let middle = [(a[0] + b[0] + dy * bulge) / 2.0, (a[1] + b[1] - dx * bulge) / 2.0];
    let half = bulge / (1.0 + (1.0 + bulge * bulge).sqrt());
    divide(points, a, middle, half, flat, depth - 1);
    points.push(middle);
    divide(points, middle, b, half, flat, depth - 1);
}

/// Length of a step.
pub fn length(d: [f64; 2]) -> f64 {
    (d[0] * d[0] + d[1] * d[1]).sqrt()
}

/// x0, y0, x1, y1 around points; all zero when there are none.
pub fn bounds(points: &[[f64; 2]]) -> [f64; 4] {
    let Some(first) = points.first() else { return [0.0; 4] };
    points.iter().fold([first[0], first[1], first[0], first[1]], |b, p| {
        [b[0].min(p[0]), b[1].min(p[1]), b[2].max(p[0]), b[3].max(p[1])]
    })
}

/// Where the row at height `y` runs inside closed points: pairs of x, from left to right.
pub fn row(points: &[[f64; 2]], y: f64) -> Vec<[f64; 2]> {
    let mut crossings = Vec::new();
    for (i, a) in points.iter().enumerate() {
        let b = points[(i + 1) % points.len()];
        if (a[1] > y) != (b[1] > y) {
            crossings.push(a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
        }
    }
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|p| [p[0], p[1]]).collect()
}

/// A place well inside closed points and how far it lies from them: the best of a coarse net, not the very best.
pub fn deepest(points: &[[f64; 2]]) -> Option<([f64; 2], f64)> {
    const ROWS: usize = 24;
    const COLUMNS: usize = 16;
    let [x0, y0, x1, y1] = bounds(points);
    let points = &thinned(points, (x1 - x0 + y1 - y0) / 200.0);
    let mut best: Option<([f64; 2], f64)> = None;
    for i in 0..ROWS {
        let y = y0 + (y1 - y0) * (i as f64 + 0.5) / ROWS as f64;
        for [a, b] in row(points, y) {
            for k in 0..COLUMNS {
                let place = [a + (b - a) * (k as f64 + 0.5) / COLUMNS as f64, y];
                let far = distance(points, place);
                if best.is_none_or(|(_, d)| far > d) {
                    best = Some((place, far));
                }
            }
        }
    }
    best
}

/// From a place to the nearest side of closed points.
pub fn distance(points: &[[f64; 2]], place: [f64; 2]) -> f64 {
    let mut least = f64::INFINITY;
    for (i, a) in points.iter().enumerate() {
        let b = points[(i + 1) % points.len()];
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let (px, py) = (place[0] - a[0], place[1] - a[1]);
        let square = dx * dx + dy * dy;
        let t = if square > 0.0 { ((px * dx + py * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
        least = least.min(length([px - t * dx, py - t * dy]));
    }
    least
}

/// Closed points without those closer than `apart` to the one before.
pub fn thinned(points: &[[f64; 2]], apart: f64) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::new();
    for p in points {
        if kept.last().is_none_or(|k| length([p[0] - k[0], p[1] - k[1]]) >= apart) {
            kept.push(*p);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_of_a_circle_lie_on_it_and_run_counter_clockwise() {
        let circle = points(&[[3.0, 0.0, 1.0], [-3.0, 0.0, 1.0]], 1.0);
        assert!(circle.len() > 20);
        assert!(circle.iter().all(|p| (length(*p) - 3.0).abs() < 1e-12));
        assert!(circle[1][1] > 0.0);
    }

    #[test]
    fn a_row_through_a_ring_like_outline_has_two_pieces() {
        let u =
            [[0.0, 0.0], [6.0, 0.0], [6.0, 4.0], [4.0, 4.0], [4.0, 2.0], [2.0, 2.0], [2.0, 4.0], [0.0, 4.0]];
        assert_eq!(row(&u, 3.0), vec![[0.0, 2.0], [4.0, 6.0]]);
        assert_eq!(row(&u, 1.0), vec![[0.0, 6.0]]);
        assert!(row(&u, 9.0).is_empty());
    }

    #[test]
    fn the_deepest_place_of_a_bent_shape_lies_inside_it() {
        let l = [[0.0, 0.0], [10.0, 0.0], [10.0, 1.0], [1.0, 1.0], [1.0, 10.0], [0.0, 10.0]];
        let (place, far) = deepest(&l).unwrap();
        assert!(far > 0.4, "{place:?} {far}");
        assert!(row(&l, place[1]).iter().any(|[a, b]| (*a..=*b).contains(&place[0])));
    }
}
