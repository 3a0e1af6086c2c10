//! Openings from 0.05 to 500 mm, from 1 to 5,000 segments: planned and proven, or refused with a reason, and soon.

use crate::bench::{Bench, lwpolyline};
use crate::openings::Opening;
use std::time::{Duration, Instant};

/// Nobody waits longer for one opening.
const PATIENCE: Duration = Duration::from_secs(10);

fn drawing(opening: &Opening) -> String {
    match opening.vertices[..] {
        [(x, y, _)] => {
            let head = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n";
            format!("{head}0\nCIRCLE\n8\nEDGE\n10\n0\n20\n0\n40\n{}\n0\nENDSEC\n0\nEOF\n", x.hypot(y))
        }
        _ => lwpolyline(&opening.vertices),
    }
}

fn job(opening: &Opening) -> String {
    let Opening { block: [x, y], height, tolerance, corner_tolerance, .. } = opening;
    format!(
        "name = \"sizes\"\nunits = \"mm\"\n[[section]]\nid = \"s\"\nkind = \"die\"\nsteel = \"D2\"\nhardness_hrc = 60\n\
         size = [{x:?}, {y:?}, {height:?}]\nrelief_deg = 0\n[[section.edge]]\nid = \"e\"\ndrawing = \"e.dxf\"\n\
         cut = \"finished\"\nat = \"centred\"\ntolerance = {tolerance:?}\ncorner_tolerance = {corner_tolerance:?}\n"
    )
}

/// What is wrong with how one opening is answered; what it took.
fn answered(opening: &Opening) -> (Option<String>, Duration, i32) {
    let bench = Bench::new();
    bench.write("e.dxf", drawing(opening));
    bench.write("job.toml", job(opening));
    let begun = Instant::now();
    let run = bench.run(&["plan", "job.toml", "--out", "p", "--date", "2026-01-01"]);
    let took = begun.elapsed();
    let wrong = match run.code {
        0 if !run.out.contains("1 of 1 agree") => Some("the proof does not agree".to_owned()),
        3 if !run.out.contains("CAN BE MADE: none") || !run.out.contains("short ") => {
            Some("no reason is given".to_owned())
        }
        0 | 3 => match bench.run(&["prove", "p"]).code {
            0 => None,
            code => Some(format!("the package is proved with exit code {code}")),
        },
        code => Some(format!("exit code {code}")),
    };
    let wrong = wrong.map(|wrong| {
        let kept = std::env::var_os("SIZES_KEEP").map(|_| bench.keep());
        format!("{wrong} {kept:?}\n{}{}", run.out, run.err)
    });
    (wrong, took, run.code)
}

/// Some of each kind, of few segments: a debug build is slow.
#[test]
fn openings_of_every_kind_and_size() {
    let mut made = 0;
    for number in 0..42 {
        let opening = Opening::new(number, 60);
        let (wrong, took, code) = answered(&opening);
        let Opening { kind, size, .. } = opening;
        assert_eq!(wrong, None, "{number}: {kind} of {size:.3} mm");
        assert!(took < PATIENCE, "{number}: {kind} of {size:.3} mm took {took:?}");
        made += usize::from(code == 0);
    }
    assert!((8..40).contains(&made), "{made} made");
}
