//! Outlines of a drawing are numbered by the line of their first entity, in whatever order and direction the pieces
//! of all of them stand.

use crate::case::{Case, dxf, entity, fingerprint};
use crate::damages::Dice;
use crate::holds::cases;
use crate::oracle::CHANGED;
use crate::shape::{Seg, Shape, far};
use proof::prove;

/// A drawing of several shapes whose pieces stand in a random order; and where in it each shape begins.
fn shuffled(shapes: &[Shape], dice: &mut Dice) -> (String, Vec<usize>) {
    let mut pieces: Vec<(usize, Seg)> = shapes
        .iter()
        .enumerate()
        .flat_map(|(k, shape)| shape.segs.iter().map(move |seg| (k, *seg)))
        .collect();
    for i in (1..pieces.len()).rev() {
        pieces.swap(i, dice.below(i + 1));
    }
    let turned = |seg: &Seg, turn: bool| if turn { seg.reversed() } else { *seg };
    let entities: String =
        pieces.iter().map(|(_, seg)| entity(&turned(seg, dice.below(2) == 0), 1.0)).collect();
    let empty = dxf(&shapes[0], false);
    let head = empty.find("ENTITIES\n").map_or(0, |at| at + "ENTITIES\n".len());
    let text = format!("{}{entities}0\nENDSEC\n0\nEOF\n", &empty[..head]);
    let first = |k: usize| pieces.iter().position(|(shape, _)| *shape == k).unwrap_or(usize::MAX);
    (text, (0..shapes.len()).map(first).collect())
}

#[test]
fn outlines_are_numbered_by_their_first_entity() {
    let mut dice = Dice(31);
    let case: Case = cases().swap_remove(0);
    let right = case.openings[0].drawn.clone();
    let others = [
        Shape::circle(0.3).moved([3.0, 0.0]),
        Shape::rectangle(1.4, 1.0, 0.2).moved([-3.0, 0.5]),
        Shape::rectangle(0.6, 0.4, 0.0).moved([0.0, 4.0]),
    ];
    let mut seen = [0; 4];
    for _ in 0..40 {
        let shapes: Vec<Shape> = std::iter::once(right.clone()).chain(others.iter().cloned()).collect();
        let (text, begins) = shuffled(&shapes, &mut dice);
        let number = 1 + begins.iter().filter(|at| **at < begins[0]).count();
        seen[number - 1] += 1;
        for named in 1..=5 {
            let mut evidence = case.evidence(&case.program());
            evidence.plan.sections[0].contours[0].drawing.outline = format!("o{named}");
            evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
            evidence.inputs.insert("e1.dxf".to_owned(), text.clone().into_bytes());
            let proof = prove(&evidence);
            assert_eq!(proof.holds, named == number, "o{named}, {number} is right: {:?}", proof.faults);
        }
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
}

/// Ends that lie apart by less than the join limit are joined, wider ones are not.
#[test]
fn the_join_limit_decides() {
    let case: Case = cases().swap_remove(0);
    for (gap, joined) in [(0.0004, true), (0.0009, true), (0.0011, false), (0.01, false)] {
        let mut drawn = case.openings[0].drawn.clone();
        drawn.segs[0].a[0] += gap;
        let text = dxf(&drawn, false);
        let mut evidence = case.evidence(&case.program());
        evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
        evidence.inputs.insert("e1.dxf".to_owned(), text.into_bytes());
        let proof = prove(&evidence);
        assert_eq!(proof.holds, joined, "{gap}: {:?}", proof.faults);
    }
}

/// The pieces that a drawing's text holds, read by the words that `entity` writes.
fn pieces(text: &str, scale: f64) -> Vec<Seg> {
    let lines: Vec<&str> = text.lines().collect();
    let mut found: Vec<(bool, [f64; 52])> = Vec::new();
    for pair in lines.chunks(2) {
        match (pair, found.last_mut()) {
            (["0", kind @ ("LINE" | "ARC")], _) => found.push((*kind == "ARC", [0.0; 52])),
            ([code, value], Some((_, numbers))) => {
                if let (Ok(code @ 10..52), Ok(value)) = (code.parse::<usize>(), value.parse::<f64>()) {
                    numbers[code] = value;
                }
            }
            _ => {}
        }
    }
    let piece = |(arc, n): (bool, [f64; 52])| {
        let [a, b] = [[n[10], n[20]], [n[11], n[21]]].map(|p| p.map(|v| v * scale));
        if !arc {
            return Seg::line(a, b);
        }
        let at = |deg: f64| {
            let (sin, cos) = deg.to_radians().sin_cos();
            [a[0] + scale * n[40] * cos, a[1] + scale * n[40] * sin]
        };
        let sweep = (n[51] - n[50]).rem_euclid(360.0).to_radians();
        Seg { a: at(n[50]), b: at(n[51]), arc: Some((a, sweep)) }
    };
    found.into_iter().map(piece).collect()
}

/// How far some pieces lie from the right edge, or their ends from each other.
fn spoiled(pieces: &[Seg], right: &Shape) -> f64 {
    let off = |s: &Seg| (0..=40).map(|k| right.to_edge(s.at(f64::from(k) / 40.0))).fold(0.0, f64::max);
    let ends = |k: usize| {
        let others = pieces.iter().enumerate().filter(move |(i, _)| *i != k).flat_map(|(_, s)| [s.a, s.b]);
        let gap = |p| others.clone().map(|q| far(p, q)).fold(f64::INFINITY, f64::min);
        gap(pieces[k].a).max(gap(pieces[k].b))
    };
    (0..pieces.len()).map(|k| off(&pieces[k]).max(ends(k))).fold(0.0, f64::max)
}

/// Any number of any piece, changed by a little, and the fingerprint made to fit.
#[test]
fn a_changed_number_of_a_drawing_is_found() {
    let mut dice = Dice(37);
    let (mut confirmed, mut without) = (0, 0);
    for case in cases().iter().cycle().take(8 * cases().len()) {
        let drawn = &case.openings[0].drawn;
        let scale = if case.style.inches { 25.4 } else { 1.0 };
        let right = dxf(drawn, case.style.inches);
        assert!(spoiled(&pieces(&right, scale), drawn) < 1e-9, "{}", case.name);
        let mut lines: Vec<String> = right.lines().map(str::to_owned).collect();
        let begin = lines.iter().position(|line| line == "ENTITIES").unwrap_or(0) + 1;
        let numbers: Vec<usize> = (begin..lines.len() - 1)
            .step_by(2)
            .filter(|i| ["10", "20", "11", "21", "40", "50", "51"].contains(&lines[*i].as_str()))
            .collect();
        let i = numbers[dice.below(numbers.len())];
        let by = [0.004, -0.004, 0.03, -0.03][dice.below(4)];
        // An angle in degrees, a length in the drawing's unit.
        let by = if lines[i].starts_with('5') { by * 250.0 } else { by / scale };
        let value: f64 = lines[i + 1].parse().unwrap_or(f64::NAN);
        lines[i + 1] = (value + by).to_string();
        let text = lines.join("\n") + "\n";
        if spoiled(&pieces(&text, scale), drawn) < CHANGED {
            without += 1;
            continue;
        }
        confirmed += 1;
        let mut evidence = case.evidence(&case.program());
        evidence.plan.inputs.retain(|input| input.path != "e1.dxf");
        evidence.plan.inputs.push(fingerprint("e1.dxf", text.as_bytes()));
        evidence.inputs.insert("e1.dxf".to_owned(), text.into_bytes());
        assert!(!prove(&evidence).holds, "{}: line {} to {}", case.name, i + 2, lines[i + 1]);
    }
    println!("{confirmed} changed numbers of drawings, {without} without effect, 0 missed");
    assert!(confirmed > 300);
}

/// The circle that every way of drawing one gives, this large; in blocks it is drawn once, larger and elsewhere.
fn circles(radius: f64) -> Vec<(&'static str, String, String)> {
    let ellipse = format!(
        "0\nELLIPSE\n8\n0\n10\n0\n20\n0\n11\n0\n21\n{radius}\n40\n1\n41\n0\n42\n{}\n",
        std::f64::consts::TAU
    );
    let corners = [[1, 0], [1, 1], [0, 1], [-1, 1], [-1, 0], [-1, -1], [0, -1], [1, -1], [1, 0]];
    let knots: String =
        [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4].iter().map(|knot| format!("40\n{knot}\n")).collect();
    let weights: String =
        (0..9).map(|i| format!("41\n{}\n", if i % 2 == 1 { f64::sqrt(0.5) } else { 1.0 })).collect();
    let places: String = corners
        .iter()
        .map(|[x, y]| format!("10\n{}\n20\n{}\n", radius * f64::from(*x), radius * f64::from(*y)))
        .collect();
    let spline = format!("0\nSPLINE\n8\n0\n70\n12\n71\n2\n72\n12\n73\n9\n{knots}{weights}{places}");
    let points: String = (0..60)
        .map(|k| (f64::from(k) * std::f64::consts::TAU / 60.0).sin_cos())
        .map(|(sin, cos)| format!("11\n{}\n21\n{}\n", radius * cos, radius * sin))
        .collect();
    let through = format!("0\nSPLINE\n8\n0\n70\n9\n71\n3\n74\n60\n{points}");
    let block = "0\nBLOCK\n8\n0\n2\nRING\n70\n0\n10\n7\n20\n3\n0\nCIRCLE\n8\n0\n10\n7\n20\n3\n40\n2\n0\nENDBLK\n8\n0\n";
    let insert = |by: f64, turn: f64| {
        format!("0\nINSERT\n8\n0\n2\nring\n10\n0\n20\n0\n41\n{by}\n42\n{}\n50\n{turn}\n", -by)
    };
    let outer =
        format!("0\nBLOCK\n8\n0\n2\nOUTER\n70\n0\n10\n0\n20\n0\n{}0\nENDBLK\n8\n0\n", insert(2.0, 77.0));
    let nested = insert(radius / 4.0, 10.0).replace("ring", "outer");
    vec![
        ("ellipse", String::new(), ellipse),
        ("spline", String::new(), spline),
        ("points", String::new(), through),
        ("insert", block.to_owned(), insert(radius / 2.0, 30.0)),
        ("nest", format!("{block}{outer}"), nested),
    ]
}

/// A circle is a circle, however it is drawn; and it is told from one that is 2 um larger.
#[test]
fn curves_and_inserts_give_the_outline() {
    for case in cases().iter().filter(|case| case.name.starts_with("circle") && !case.style.inches) {
        for (by, holds) in [(0.0, true), (0.002, false), (-0.002, false)] {
            for (how, blocks, entity) in circles(0.385 + by) {
                let empty = dxf(&case.openings[0].drawn, false);
                let head = empty.find("0\nSECTION\n2\nENTITIES\n").expect("a section");
                let text = format!(
                    "{}0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entity}0\nENDSEC\n0\nEOF\n",
                    &empty[..head]
                );
                let mut evidence = case.evidence(&case.program());
                evidence.plan.inputs = vec![fingerprint("e1.dxf", text.as_bytes())];
                evidence.inputs.insert("e1.dxf".to_owned(), text.into_bytes());
                let proof = prove(&evidence);
                assert_eq!(proof.holds, holds, "{how} {by}: {:?}", proof.faults);
            }
        }
    }
}
