//! Outlines as polygons, for libraries that know no arcs.

use outline::Outline;

/// The corners of an outline whose arcs are replaced by chords on them, each within `sagitta` mm of its arc; not closed.
pub fn flatten(outline: &Outline, sagitta: f64) -> Vec<[f64; 2]> {
    let mut points = Vec::new();
    for segment in outline.segments() {
        let chords = match segment.is_line() {
            true => 1,
            false => {
                let widest = 2.0 * (1.0 - sagitta / segment.radius()).max(0.0).acos();
                (segment.sweep().abs() / widest).ceil().max(1.0) as usize
            }
        };
        points.extend((0..chords).map(|k| {
            let at = segment.at(k as f64 / chords as f64);
            [at.x, at.y]
        }));
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use outline::Vertex;

    #[test]
    fn a_circle_keeps_its_area_to_two_thirds_of_the_sagitta_all_round() {
        let circle =
            Outline::new(vec![Vertex::new(-1.0, 0.0, 1.0), Vertex::new(1.0, 0.0, 1.0)]).expect("valid");
        let points = flatten(&circle, 1e-4);
        let next = points.iter().cycle().skip(1);
        let twice: f64 = points.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum();
        let lost = circle.area() - twice / 2.0;
        let most = 1e-4 * circle.perimeter();
        assert!(lost > most / 4.0 && lost < most, "{lost} of at most {most}");
    }
}
