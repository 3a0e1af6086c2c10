//! The smooth curve through given points: the cubic that is twice continuously differentiable over the length of the chords.
//!
//! Common practice, no source: where a drawing states directions at the ends the curve leaves and arrives in them at unit speed, otherwise
//! its ends are free (no bending moment there); a closed one goes on smoothly over its seam. Other programs choose other parameters, and
//! differ between the points.

use crate::{Bezier, Point, Vector};

/// Points nearer to each other than this are one, mm.
const SAME: f64 = 1e-9;

/// The curve through these points, one cubic between each two; empty if fewer than two of them differ.
pub fn through(points: &[Point], directions: [Option<Vector>; 2], closed: bool) -> Vec<Bezier> {
    let mut points = points.to_vec();
    points.dedup_by(|a, b| a.distance(*b) <= SAME);
    if closed && points.len() > 1 && points[0].distance(points[points.len() - 1]) > SAME {
        points.push(points[0]);
    }
    if points.len() < 2 {
        return Vec::new();
    }
    let chords: Vec<Vector> = points.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let lengths: Vec<f64> = chords.iter().map(|chord| chord.length()).collect();
    let speeds = match closed && points.len() > 2 {
        true => closed_speeds(&chords, &lengths),
        false => open_speeds(&chords, &lengths, directions.map(|direction| direction.and_then(Vector::unit))),
    };
    (0..chords.len())
        .map(|i| {
            let third = lengths[i] / 3.0;
            let (from, to) = (points[i], points[i + 1]);
            Bezier::new([from, from + speeds[i] * third, to - speeds[i + 1] * third, to].map(|p| (p, 1.0)))
        })
        .collect()
}

/// A row of the equations: what stands before, on and after the diagonal, and on the right.
type Row = (f64, f64, f64, Vector);

/// The row of an inner point: the second derivatives on both sides of it agree.
fn inner(before: (Vector, f64), after: (Vector, f64)) -> Row {
    let ((chord, h), (next_chord, next_h)) = (before, after);
    (next_h, 2.0 * (h + next_h), h, chord * (3.0 * next_h / h) + next_chord * (3.0 * h / next_h))
}

fn open_speeds(chords: &[Vector], lengths: &[f64], ends: [Option<Vector>; 2]) -> Vec<Vector> {
    let last = chords.len() - 1;
    let free = |chord: Vector, length: f64| (1.0, 2.0, 1.0, chord * (3.0 / length));
    let fixed = |direction: Vector| (0.0, 1.0, 0.0, direction);
    let mut rows: Vec<Row> = vec![ends[0].map_or_else(|| free(chords[0], lengths[0]), fixed)];
    rows.extend((0..last).map(|i| inner((chords[i], lengths[i]), (chords[i + 1], lengths[i + 1]))));
    rows.push(ends[1].map_or_else(|| free(chords[last], lengths[last]), fixed));
    solved(&rows)
}

/// The same for a closed curve: the unknowns go round, which one more solution with the same rows takes care of (Sherman and Morrison).
fn closed_speeds(chords: &[Vector], lengths: &[f64]) -> Vec<Vector> {
    let n = chords.len();
    let of = |i: usize| (chords[i % n], lengths[i % n]);
    let mut rows: Vec<Row> = (0..n).map(|i| inner(of(i + n - 1), of(i))).collect();
    let (corner_before, corner_after) = (rows[0].0, rows[n - 1].2);
    let gamma = -rows[0].1;
    rows[0].1 -= gamma;
    rows[n - 1].1 -= corner_before * corner_after / gamma;
    let mut around: Vec<Row> = rows.iter().map(|row| (row.0, row.1, row.2, Vector::new(0.0, 0.0))).collect();
    around[0].3 = Vector::new(gamma, 0.0);
    around[n - 1].3 = Vector::new(corner_after, 0.0);
    let (y, z) = (solved(&rows), solved(&around));
    let share = corner_before / gamma;
    let carried = (y[0] + y[n - 1] * share) * (1.0 / (1.0 + z[0].x + share * z[n - 1].x));
    let mut speeds: Vec<Vector> = y.iter().zip(&z).map(|(y, z)| *y - carried * z.x).collect();
    speeds.push(speeds[0]);
    speeds
}

/// Solves a tridiagonal system whose diagonal outweighs the rest.
fn solved(rows: &[Row]) -> Vec<Vector> {
    let mut forward: Vec<(f64, Vector)> = Vec::with_capacity(rows.len());
    for &(before, on, after, right) in rows {
        let (above, carried) = forward.last().copied().unwrap_or((0.0, Vector::new(0.0, 0.0)));
        let before = if forward.is_empty() { 0.0 } else { before };
        let pivot = on - before * above;
        forward.push((after / pivot, (right - carried * before) * (1.0 / pivot)));
    }
    let mut found = vec![Vector::new(0.0, 0.0); rows.len()];
    let mut next = Vector::new(0.0, 0.0);
    for (i, (above, carried)) in forward.iter().enumerate().rev() {
        let above = if i + 1 == rows.len() { 0.0 } else { *above };
        next = *carried - next * above;
        found[i] = next;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(list: &[(f64, f64)]) -> Vec<Point> {
        list.iter().map(|&(x, y)| Point::new(x, y)).collect()
    }

    /// First and second derivative by the length of the chord, at the beginning and at the end of a cubic.
    fn derivatives(cubic: &Bezier) -> [[Vector; 2]; 2] {
        let p: Vec<Point> = cubic.controls().map(|control| control.0).collect();
        let h = p[0].distance(p[3]);
        let second = |a: Point, b: Point, c: Point| ((c - b) - (b - a)) * (6.0 / (h * h));
        [
            [(p[1] - p[0]) * (3.0 / h), second(p[0], p[1], p[2])],
            [(p[3] - p[2]) * (3.0 / h), second(p[1], p[2], p[3])],
        ]
    }

    fn near(a: Vector, b: Vector) -> bool {
        (a - b).length() < 1e-12
    }

    #[test]
    fn an_open_curve_is_smooth_and_free_or_held_at_its_ends() {
        let given = points(&[(0.0, 0.0), (1.0, 2.0), (4.0, 2.5), (5.0, -1.0), (5.5, -1.0)]);
        let down = Vector::new(0.0, -2.0);
        for held in [[None, None], [Some(down), None], [None, Some(down)], [Some(down), Some(down)]] {
            let cubics = through(&given, held, false);
            assert_eq!(cubics.len(), 4);
            for (i, pair) in cubics.windows(2).enumerate() {
                assert!(pair[0].last().distance(given[i + 1]) < 1e-15);
                let ([_, before], [after, _]) = (derivatives(&pair[0]), derivatives(&pair[1]));
                assert!(near(before[0], after[0]) && near(before[1], after[1]), "{held:?} {i}");
            }
            let ends = [derivatives(&cubics[0])[0], derivatives(&cubics[3])[1]];
            for (end, held) in ends.iter().zip(held) {
                match held {
                    Some(_) => assert!(near(end[0], Vector::new(0.0, -1.0)), "{end:?}"),
                    None => assert!(near(end[1], Vector::new(0.0, 0.0)), "{end:?}"),
                }
            }
        }
    }

    #[test]
    fn a_closed_curve_is_smooth_over_its_seam() {
        let open = [(0.0, 0.0), (3.0, -1.0), (4.0, 2.0), (1.0, 3.0)];
        let again = [open.as_slice(), &open[..1]].concat();
        for given in [points(&open), points(&again)] {
            let cubics = through(&given, [None, None], true);
            assert_eq!(cubics.len(), 4);
            for i in 0..4 {
                let ([_, before], [after, _]) = (derivatives(&cubics[i]), derivatives(&cubics[(i + 1) % 4]));
                assert!(near(before[0], after[0]) && near(before[1], after[1]), "{i}");
            }
        }
    }

    #[test]
    fn points_on_a_cubic_with_its_directions_give_it_back() {
        // Two points and both directions leave nothing open: Hermite's cubic.
        let cubic = through(
            &points(&[(0.0, 0.0), (3.0, 0.0)]),
            [Some(Vector::new(0.0, 5.0)), Some(Vector::new(0.0, -1.0))],
            false,
        );
        let p: Vec<Point> = cubic[0].controls().map(|control| control.0).collect();
        assert_eq!(p, points(&[(0.0, 0.0), (0.0, 1.0), (3.0, 1.0), (3.0, 0.0)]));
        assert!(through(&points(&[(1.0, 1.0), (1.0, 1.0)]), [None, None], false).is_empty());
        let straight = through(&points(&[(0.0, 0.0), (2.0, 2.0)]), [None, None], true);
        assert_eq!(straight.len(), 2);
    }
}
