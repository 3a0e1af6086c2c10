//! Right packages hold, and read back what they are.

use crate::case::{Case, Opening, Style};
use crate::shape::Shape;
use proof::prove;

/// Every shape, with the clearance that its target holds beyond its drawing.
fn shapes() -> Vec<(&'static str, Shape, Shape, f64)> {
    let r = 0.15;
    let ell =
        [[-0.6, -0.6, r], [0.6, -0.6, r], [0.6, 0.0, r], [0.0, 0.0, 0.0], [0.0, 0.6, r], [-0.6, 0.6, r]];
    let ell = Shape::rounded(&ell);
    let rhombus = Shape::rounded(&[[-0.7, 0.0, 0.12], [0.0, -0.5, 0.2], [0.7, 0.0, 0.12], [0.0, 0.5, 0.2]]);
    let same = |name, shape: Shape| (name, shape.clone(), shape, 0.0);
    vec![
        ("rectangle", Shape::rectangle(1.4, 1.0, 0.2), Shape::rectangle(1.38, 0.98, 0.19), 0.01),
        ("slot", Shape::rectangle(1.6, 0.7, 0.35), Shape::rectangle(1.56, 0.66, 0.33), 0.02),
        ("circle", Shape::circle(0.4), Shape::circle(0.385), 0.015),
        same("ell", ell),
        same("rhombus", rhombus),
        same("sharp", Shape::rectangle(1.0, 0.8, 0.0)),
    ]
}

/// Packages of every shape, in every style that makes sense for it.
pub fn cases() -> Vec<Case> {
    let plain = Style::default();
    let styles = [
        plain,
        Style { centre_output: true, ..plain },
        Style { inches: true, overlap: 0.05, ..plain },
        Style { clockwise: true, bend: true, ..plain },
        Style { centre_output: true, inches: true, clockwise: true, overlap: 0.04, ..plain },
        Style { takes_out: true, bend: true, overlap: 0.03, ..plain },
        Style { centre_output: true, takes_out: true, ..plain },
    ];
    let mut cases = Vec::new();
    for (s, style) in styles.into_iter().enumerate() {
        for (k, (name, target, drawn, clearance)) in shapes().into_iter().enumerate() {
            let angle = if s % 2 == 0 { 0.0 } else { 0.3 + 0.2 * k as f64 };
            let at = [0.125 * k as f64, -0.25];
            let (target, drawn) = (target.turned(angle).moved(at), drawn.turned(angle));
            // In the middle, but of the L in its lower left.
            let [x, y] = if name == "ell" { [-0.3, -0.3] } else { [0.0, 0.0] };
            let (sin, cos) = f64::sin_cos(angle);
            let round = |v: f64| (v * 1000.0).round() / 1000.0;
            let start = [round(cos * x - sin * y + at[0]), round(sin * x + cos * y + at[1])];
            let opening = Opening { id: "e1", target, drawn, at, clearance, start, hole: 0.2, cores: 1 };
            cases.push(Case { name: format!("{name} {s}"), style, openings: vec![opening] });
        }
    }
    let mut two = cases[0].clone();
    let mut second = cases[1].openings[0].clone();
    second.id = "e2";
    let by = [3.0, 1.0];
    second.target = second.target.moved(by);
    second.at = [second.at[0] + by[0], second.at[1] + by[1]];
    second.start = [second.start[0] + by[0], second.start[1] + by[1]];
    two.name = "two openings".to_owned();
    two.openings.push(second);
    cases.push(two);
    cases
}

#[test]
fn right_packages_hold() {
    let mut worst = [0.0_f64; 3];
    for case in cases() {
        let program = case.program();
        let proof = prove(&case.evidence(&program));
        let text = program.join("\n");
        assert!(proof.holds, "{}\n{text}\n{:?}\n{:?}", case.name, proof.faults, proof.contours);
        assert_eq!(proof.contours.len(), case.openings.len());
        for contour in &proof.contours {
            assert_eq!(contour.cores_found, 1, "{}", case.name);
            assert_eq!(contour.hole_scar_mm, 0.0, "{}", case.name);
            let read = [contour.gouge_mm, contour.left_mm, contour.target_moved_mm];
            worst = [0, 1, 2].map(|i| worst[i].max(read[i]));
            // Rounding to 0.1 um moves a place by 0.07 um, the sagitta is 0.02 um on each of a few arcs.
            assert!(read.iter().all(|v| *v < 2.5e-4), "{}: {contour:?}", case.name);
        }
    }
    println!("gouge {:.6}, left {:.6}, target moved {:.6} at worst", worst[0], worst[1], worst[2]);
}
