//! Wrong input of every kind: exit 2 with a place and a word, nothing written, never a panic.

use crate::bench::{Bench, JOB, lwpolyline, slot};
use std::fs;

/// Runs `plan` and demands a refusal that says `word` and leaves nothing behind.
fn refused(bench: &Bench, word: &str) {
    let before = bench.names();
    let run = bench.run(&["plan", "job.toml", "--out", "p"]);
    assert_eq!(run.code, 2, "{}\n{}", run.out, run.err);
    assert!(run.err.contains(word), "no `{word}` in\n{}", run.err);
    assert!(!run.err.contains("panicked"), "{}", run.err);
    assert!(run.out.is_empty(), "{}", run.out);
    assert_eq!(bench.names(), before, "nothing is written");
}

fn with_job(from: &str, to: &str, word: &str) {
    let bench = Bench::new();
    assert!(JOB.contains(from));
    bench.write("job.toml", JOB.replacen(from, to, 1));
    refused(&bench, word);
}

#[test]
fn jobs_that_contradict_themselves() {
    with_job("size = [24.0, 16.0, 20.0]", "size = [2.0, 16.0, 20.0]", "beyond its block");
    with_job("size = [24.0, 16.0, 20.0]", "size = [nan, 16.0, 20.0]", "line 9");
    with_job("size = [24.0, 16.0, 20.0]", "size = [24.0, -16.0, 20.0]", "line 9");
    with_job("size = [24.0, 16.0, 20.0]", "size = [24.0, 16.0, inf]", "line 9");
    with_job("size = [24.0, 16.0, 20.0]", "size = [24.0, 16.0, 1e9]", "line 9");
    with_job("relief_deg = 0", "relief_deg = 0.5", "relief");
    with_job("relief_deg = 0", "relief_deg = 0\nland = 3.0", "land");
    with_job("kind = \"die\"", "kind = \"punch\"", "punch");
    with_job("kind = \"die\"", "kid = \"die\"", "kid");
    with_job("steel = \"D2\"", "steel = \"cheese\"", "cheese");
    with_job("cut = \"finished\"", "cut = \"pierce\"", "sheet");
    with_job("drawing = \"slot.dxf\"", "drawing = \"none.dxf\"", "none.dxf");
    with_job("drawing = \"slot.dxf\"", "drawing = \"../slot.dxf\"", "..");
    with_job("drawing = \"slot.dxf\"", "drawing = \"/etc/passwd\"", "passwd");
    with_job("at = \"centred\"", "outline = \"o9\"", "o9");
    with_job("id = \"e\"", "id = \"e.1\"", "e.1");
    with_job("name = \"bench\"", "name = \"\"", "name");
}

#[test]
fn drawings_that_are_none() {
    for (bytes, word) in [
        (&b""[..], "empty"),
        (&b"AC1032\0\0\0\0"[..], "DWG"),
        (&b"AutoCAD Binary DXF\r\n\x1a\0"[..], "inary"),
        (&b"hello, I am a letter\n"[..], ""),
        (&[0xff, 0xfe, 0x30, 0x00][..], ""),
        (&b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n"[..], "no closed outline"),
    ] {
        let bench = Bench::new();
        bench.write("slot.dxf", bytes);
        refused(&bench, word);
    }
}

#[test]
fn outlines_that_are_not_clean() {
    let bench = Bench::new();
    bench
        .write("slot.dxf", lwpolyline(&[(0.0, 0.0, 0.0), (2.0, 2.0, 0.0), (2.0, 0.0, 0.0), (0.0, 2.0, 0.0)]));
    refused(&bench, "cross");
    bench.write("slot.dxf", slot().replace("-1.25", "nan"));
    refused(&bench, "line");
    bench.write("slot.dxf", slot().replace("70\n1\n", "70\n0\n"));
    refused(&bench, "open");
}

#[test]
fn openings_that_meet() {
    let bench = Bench::new();
    let second = "\n  [[section.edge]]\n  id = \"f\"\n  drawing = \"slot.dxf\"\n  cut = \"finished\"\n  at = [0.5, 0.1]\n";
    bench.write("job.toml", format!("{JOB}{second}"));
    refused(&bench, "run into each other");
}

#[cfg(unix)]
#[test]
fn links_do_not_lead_out_of_the_jobs_folder() {
    let bench = Bench::new();
    bench.write("away/slot.dxf", slot());
    bench.write("here/job.toml", JOB);
    std::os::unix::fs::symlink("../away/slot.dxf", bench.path().join("here/slot.dxf")).unwrap();
    let run = bench.run(&["plan", "here/job.toml", "--out", "p"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("outside the job's folder"), "{}", run.err);
}

#[test]
fn files_that_are_none() {
    let bench = Bench::new();
    for args in [
        &["plan", "missing.toml"][..],
        &["plan", "."],
        &["plan", "job.toml", "--shop", "missing.toml"],
        &["plan", "job.toml", "--date", "yesterday"],
        &["survey", "missing.dxf"],
        &["survey", "job.toml"],
        &["survey", "slot.dxf", "--join-limit", "nan"],
        &["survey", "slot.dxf", "--join-limit=-1"],
        &["why", ".", "x"],
        &["prove", "job.toml"],
        &["schema", "nothing"],
        &["frobnicate"],
        &[],
    ] {
        let run = bench.run(args);
        assert_eq!(run.code, 2, "{args:?}\n{}\n{}", run.out, run.err);
        assert!(!run.err.is_empty() && !run.err.contains("panicked"), "{args:?}: {}", run.err);
    }
    assert_eq!(bench.names(), ["job.toml", "slot.dxf"]);
}

#[test]
fn the_name_of_a_job_stays_in_its_folder() {
    let bench = Bench::new();
    bench.write("job.toml", JOB.replacen("bench", "../../a b", 1));
    assert_eq!(bench.run(&["plan", "job.toml"]).code, 0);
    assert_eq!(bench.names(), [".._.._a_b-package", "job.toml", "slot.dxf"]);
    bench.write("job.toml", JOB.replacen("bench", "..", 1));
    assert_eq!(bench.run(&["plan", "job.toml"]).code, 2);
}

#[test]
fn no_name_closes_a_comment() {
    let bench = Bench::new();
    bench.write("job.toml", JOB.replacen("bench", "a) M30 (b", 1));
    assert_eq!(bench.run(&["plan", "job.toml", "--out", "p"]).code, 0);
    let program = fs::read_to_string(bench.path().join("p/programs/s-wire-1.nc")).unwrap();
    assert!(!program.contains("a) M30"), "{program}");
}
