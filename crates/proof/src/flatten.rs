//! Arcs to chords: the proof's own flattening, to a stated sagitta.

/// Largest distance between an arc and its chords, mm.
pub const SAGITTA_MM: f64 = 2e-5;

/// No place of a block lies farther from its middle, mm; what does is a mistake, and the engine's whole numbers end.
pub const FARTHEST: f64 = 1e4;

/// A place, mm.
pub type Place = [f64; 2];

/// Distance between two places. Sizes of millimetres need no guard against overflow, and the proof asks often.
pub fn distance(a: Place, b: Place) -> f64 {
    let (dx, dy) = (a[0] - b[0], a[1] - b[1]);
    (dx * dx + dy * dy).sqrt()
}

/// Whether a place is one that a block can have.
pub fn sane(place: Place) -> bool {
    place.iter().all(|v| v.abs() <= FARTHEST)
}

/// Appends the chords of an arc about `centre` from `from` through `sweep` radians (counter-clockwise positive) to
/// `to`, without `from` itself. The radius runs evenly from the start's to the end's, so that rounding closes.
pub fn arc(points: &mut Vec<Place>, from: Place, to: Place, centre: Place, sweep: f64) {
    let (r0, r1) = (distance(from, centre), distance(to, centre));
    let radius = r0.max(r1).max(SAGITTA_MM);
    // Twice the root of 2s/r is a little less than twice acos(1 - s/r), and stays right where that has no digits left.
    let step = 2.0 * (2.0 * SAGITTA_MM / radius).sqrt();
    let steps = (sweep.abs() / step).ceil().max(1.0) as usize;
    let start = (from[1] - centre[1]).atan2(from[0] - centre[0]);
    for k in 1..steps {
        let t = k as f64 / steps as f64;
        let (radius, angle) = (r0 + t * (r1 - r0), start + t * sweep);
        points.push([centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()]);
    }
    points.push(to);
}

/// Appends the chords of a bulge segment (bulge = tan(sweep/4)), without `from` itself.
pub fn bulge(points: &mut Vec<Place>, from: Place, to: Place, bulge: f64) {
    // An arc that rises less than a picometre (1e-9 mm) above its chord has a centre too far away to be computed with.
    if bulge.abs() * distance(from, to) < 1e-9 {
        points.push(to);
        return;
    }
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let lift = (1.0 - bulge * bulge) / (4.0 * bulge);
    let centre = [(from[0] + to[0]) / 2.0 - dy * lift, (from[1] + to[1]) / 2.0 + dx * lift];
    arc(points, from, to, centre, 4.0 * bulge.atan());
}

/// A closed loop of bulge vertices as a polygon; the first place is not repeated.
pub fn closed(vertices: &[[f64; 3]]) -> Vec<Place> {
    let mut points = Vec::new();
    for (i, v) in vertices.iter().enumerate() {
        let next = vertices[(i + 1) % vertices.len()];
        bulge(&mut points, [v[0], v[1]], [next[0], next[1]], v[2]);
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chords_stay_within_the_sagitta() {
        let points = closed(&[[1.0, 0.0, 1.0], [-1.0, 0.0, 1.0]]);
        let n = points.len();
        for (i, a) in points.iter().enumerate() {
            let b = points[(i + 1) % n];
            assert!((distance(*a, [0.0, 0.0]) - 1.0).abs() < 1e-12);
            let middle = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
            assert!(1.0 - distance(middle, [0.0, 0.0]) <= SAGITTA_MM * 1.0001);
        }
        assert!(n < 1200, "{n} chords");
    }
}
