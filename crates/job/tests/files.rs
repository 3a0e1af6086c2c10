//! Job and shop files read from outside: what is kept, what is refused, and that each remark points at its value.
#![allow(clippy::unwrap_used, reason = "helpers of tests fail by panicking")]

use job::{
    At, Basis, Begins, Cut, Depth, Face, Facts, Family, From, Head, Position, Stripper, Which, example_shop,
    read_job, read_shop, schema,
};
use proptest::prelude::*;
use remark::Remark;

const JOB: &str = r#"name = "relay-leaf"
units = "mm"
join_limit = 0.001
[sheet]
metal = "CuSn6 half hard"
thickness = 0.20
[[section]]
id = "vane"
kind = "die"
steel = "D2"
hardness_hrc = 60
size = [24.0, 16.0, 20.0]
land = 20.0
relief_deg = 0
cavity = { fit = "H7/k6" }
  [[section.edge]]
  id = "vane-slot"
  drawing = "vane-slot.dxf"
  outline = "o1"
  cut = "pierce"
  at = "centred"
  tolerance = 0.005
  corner_tolerance = 0.010
"#;

const SHOP: &str = r#"name = "Example shop"
units = "mm"
currency = "EUR"
[[electrode]]
diameter = 0.20
overcut = 0.02
[[wire]]
diameter = 0.10
gap = 0.010
offsets = [0.075, 0.059, 0.0545, 0.053]
[allowance]
position = 0.010
size = 0.005
drift_per_mm = 0.001
recast = 0.010
clean_up_stock = 0.005
threading_room = 0.04
stand_off = 2.0
"#;

/// The remarks as people read them.
fn told(remarks: &[Remark]) -> String {
    remarks
        .iter()
        .map(|r| {
            format!(
                "{}: {} [{}]{}\n",
                r.place,
                r.message,
                r.code,
                r.cures.iter().map(|c| format!("\n    {c}")).collect::<String>()
            )
        })
        .collect()
}

/// The job with one piece of text replaced, which must occur.
fn changed(from: &str, to: &str) -> String {
    assert!(JOB.contains(from), "{from}");
    JOB.replacen(from, to, 1)
}

fn refused(text: &str) -> Vec<Remark> {
    match read_job(text, "job.toml") {
        Ok(_) => panic!("accepted:\n{text}"),
        Err(remarks) => remarks,
    }
}

#[test]
fn the_interface_s_job_reads_without_a_remark() {
    let (job, remarks) = read_job(JOB, "job.toml").unwrap();
    assert_eq!(told(&remarks), "");
    let section = &job.sections[0];
    assert_eq!([section.size[0].value, section.size[1].value, section.size[2].value], [24.0, 16.0, 20.0]);
    assert_eq!((section.edges[0].cut.value, &section.edges[0].at), (Cut::Pierce, &At::Centred));
    let thickness = &job.sheet.unwrap().thickness;
    let from = From::File { file: "job.toml".into(), line: 6, column: 13, text: "0.20".into() };
    assert_eq!((thickness.value, &thickness.from), (0.2, &from));
}

#[test]
fn lengths_are_in_mm_whatever_they_are_written_in() {
    let text = changed("units = \"mm\"", "units = \"in\"")
        .replace("thickness = 0.20", "thickness = \"0.2 mm\"")
        .replace("[24.0, 16.0, 20.0]", "[1, 0.5, \"20mm\"]")
        .replace("land = 20.0", "land = \"20 mm\"")
        .replace("\"centred\"", "[-0.1, \"0.012 in\"]");
    let (job, _) = read_job(&text, "job.toml").unwrap();
    let section = &job.sections[0];
    assert_eq!([section.size[0].value, section.size[1].value, section.size[2].value], [25.4, 12.7, 20.0]);
    assert_eq!(job.sheet.unwrap().thickness.value, 0.2);
    let At::Origin([x, y]) = &section.edges[0].at else { panic!("not a point") };
    assert_eq!((x.value, y.value), (-0.1 * 25.4, 0.012 * 25.4));
    assert_eq!(section.edges[0].tolerance.value, 0.005 * 25.4);
}

#[test]
fn what_is_left_out_has_its_default_and_says_so() {
    let text = changed("  tolerance = 0.005\n  corner_tolerance = 0.010\n", "")
        .replace("join_limit = 0.001\n", "")
        .replace("relief_deg = 0\n", "")
        .replace("land = 20.0\n", "");
    let (job, remarks) = read_job(&text, "job.toml").unwrap();
    let edge = &job.sections[0].edges[0];
    assert_eq!(
        (edge.tolerance.value, edge.corner_tolerance.value, job.join_limit.value),
        (0.005, 0.010, 0.001)
    );
    assert!(matches!(edge.tolerance.from, From::Default { .. }));
    assert_eq!((&job.sections[0].land, &job.sections[0].relief_deg), (&None, &None));
    assert_eq!(remarks.iter().map(|r| r.code.as_str()).collect::<Vec<_>>(), ["relief-left-out"]);
}

#[test]
fn a_start_hole_may_be_stated_in_the_job_s_units() {
    let stated =
        |start: &str| changed("corner_tolerance = 0.010", &format!("corner_tolerance = 0.010\n{start}"));
    let (job, remarks) = read_job(&stated("start = { at = [-0.1, \"0.012 in\"] }"), "job.toml").unwrap();
    assert_eq!(told(&remarks), "");
    let [x, y] = job.sections[0].edges[0].start.at.clone().unwrap();
    assert_eq!((x.value, y.value), (-0.1, 0.012 * 25.4));
    assert!(matches!(x.from, From::File { line: 24, column: 17, .. }), "{:?}", x.from);
    let (job, _) =
        read_job(&stated("[section.edge.start]\nat = [1, 2]\nelectrode = 0.2"), "job.toml").unwrap();
    let start = &job.sections[0].edges[0].start;
    assert_eq!((start.at.is_some(), start.electrode.as_ref().unwrap().value), (true, 0.2));
    assert_eq!(read_job(JOB, "job.toml").unwrap().0.sections[0].edges[0].start.at, None);
    for (start, code) in [
        ("start = [1, 2]", "wrong-kind"),
        ("start = { at = \"centred\" }", "wrong-kind"),
        ("start = { at = [1, 2, 3] }", "wrong-count"),
        ("start = { at = [1, 1001] }", "out-of-limits"),
        ("start = { electrode = 0 }", "out-of-limits"),
        ("start = { place = [1, 2] }", "unknown-key"),
    ] {
        assert!(
            refused(&stated(start)).iter().any(|r| r.code == code && r.place.line == Some(24)),
            "{start}"
        );
    }
}

/// Each change of the good job, the code it must be refused with, and the line.
#[test]
fn each_rule_refuses_with_its_code_and_place() {
    let cases = [
        ("name = \"relay-leaf\"", "name = \"\"", "empty-text", 1),
        ("name = \"relay-leaf\"", "name = \"a\\nb\"", "control-characters", 1),
        ("units = \"mm\"", "units = \"cm\"", "unknown-word", 2),
        ("join_limit = 0.001", "join_limit = -0.001", "out-of-limits", 3),
        ("metal = \"CuSn6 half hard\"", "metal = \"CuSn6 half hrad\"", "unknown-name", 5),
        ("metal = \"CuSn6 half hard\"", "metal = \"titanium grade 2\"", "no-clearance", 5),
        ("metal = \"CuSn6 half hard\"", "shear_strength_mpa = 380", "no-clearance", 4),
        ("metal = \"CuSn6 half hard\"", "clearance = 0.05", "left-out", 4),
        ("thickness = 0.20", "thickness = nan", "out-of-limits", 6),
        ("thickness = 0.20", "thickness = inf", "out-of-limits", 6),
        ("thickness = 0.20", "thickness = 0", "out-of-limits", 6),
        ("thickness = 0.20", "thickness = \"NaN mm\"", "wrong-kind", 6),
        (
            "thickness = 0.20",
            "thickness = 0.2\nclearance = 0.05\nclearance_rule = \"textbook\"",
            "clearance-twice",
            8,
        ),
        ("thickness = 0.20", "thickness = 0.2\nclearance_rule = \"textbok\"", "unknown-name", 7),
        ("thickness = 0.20", "thicknes = 0.2", "unknown-key", 6),
        ("id = \"vane\"", "id = \"va ne\"", "bad-id", 8),
        ("kind = \"die\"", "kind = \"punch\"", "punch-opening", 16),
        ("cut = \"pierce\"", "cut = \"pierce\"\nside = \"outside\"", "no-block", 16),
        ("cut = \"pierce\"", "cut = \"pierce\"\ngrind = { left = 0.05 }", "other-side", 21),
        ("cut = \"pierce\"", "cut = \"pierce\"\noutside_radius = 0.05", "other-side", 21),
        ("steel = \"D2\"", "steel = \"WC-15Co\"", "not-built-yet", 10),
        ("steel = \"D2\"", "steel = \"D22\"", "unknown-name", 10),
        ("hardness_hrc = 60", "hardness_hrc = true", "wrong-kind", 11),
        ("[24.0, 16.0, 20.0]", "[24.0, 1600.0, 20.0]", "out-of-limits", 12),
        ("[24.0, 16.0, 20.0]", "[24.0, 16.0]", "wrong-count", 12),
        ("[24.0, 16.0, 20.0]", "[24.0, 16.0, 20.0]\ncut_from = [40, 30]", "no-outside", 13),
        ("land = 20.0", "land = 3.0", "land-not-made", 13),
        ("land = 20.0", "land = 21.0", "land-above-height", 13),
        ("relief_deg = 0", "relief_deg = 0.5", "no-room-for-relief", 13),
        ("H7/k6", "H7", "bad-fit", 15),
        ("drawing = \"vane-slot.dxf\"", "drawing = \"../a.dxf\"", "drawing-outside", 18),
        ("drawing = \"vane-slot.dxf\"", "drawing = \"/a.dxf\"", "drawing-outside", 18),
        ("drawing = \"vane-slot.dxf\"", "drawing = 'C:a.dxf'", "drawing-outside", 18),
        ("drawing = \"vane-slot.dxf\"", "drawing = 'b\\a.dxf'", "drawing-outside", 18),
        ("cut = \"pierce\"", "cut = \"peirce\"", "unknown-word", 20),
        ("at = \"centred\"", "at = [1]", "wrong-kind", 21),
        ("at = \"centred\"", "at = [1, 2000]", "out-of-limits", 21),
        ("  tolerance = 0.005", "  tolerance = 0", "out-of-limits", 22),
    ];
    for (from, to, code, line) in cases {
        let remarks = refused(&changed(from, to));
        let found = remarks.iter().find(|r| r.is_error() && r.code == code);
        assert_eq!(found.and_then(|r| r.place.line), Some(line), "{to}\n{}", told(&remarks));
    }
}

#[test]
fn a_sheet_is_wanted_only_where_something_is_stamped() {
    let text = changed("[sheet]\nmetal = \"CuSn6 half hard\"\nthickness = 0.20\n", "");
    assert_eq!(refused(&text)[0].code, "no-sheet");
    read_job(&text.replace("\"pierce\"", "\"finished\""), "job.toml").unwrap();
    read_job(&changed("metal = \"CuSn6 half hard\"", "shear_strength_mpa = 380\nclearance = 0.05"), "j")
        .unwrap();
    read_job(
        &changed(
            "metal = \"CuSn6 half hard\"",
            "shear_strength_mpa = 380\nclearance_rule = \"root-of-shear\"",
        ),
        "j",
    )
    .unwrap();
}

#[test]
fn ids_are_given_once() {
    let section = &JOB[JOB.find("[[section]]").unwrap()..];
    let remarks = refused(&format!("{JOB}{section}"));
    assert_eq!((remarks[0].code.as_str(), remarks[0].place.line), ("given-twice", Some(24)));
    let edge = &JOB[JOB.find("  [[section.edge]]").unwrap()..];
    assert_eq!(refused(&format!("{JOB}{edge}"))[0].code, "given-twice");
}

#[test]
fn all_faults_of_a_run_come_at_once_and_point_at_their_values_after_non_ascii_text() {
    let text = changed("name = \"relay-leaf\"", "name = \"Ölblech\" # größer")
        .replace("thickness = 0.20", "thickness = -0.2")
        .replace("cavity = { fit", "cavity = { \"ä\" = 1, fitt")
        .replace("corner_tolerance = 0.010", "corner_tolerance = \"0.010 µm\"\n  colour = 1")
        .replace("id = \"vane-slot\"\n", "\n");
    insta::assert_snapshot!(told(&refused(&text)));
}

#[test]
fn text_that_is_not_toml_is_pointed_at_without_false_alarms() {
    let remarks = refused(&changed("steel = \"D2\"", "steel = "));
    assert!(
        !remarks.is_empty() && remarks.iter().all(|r| r.code == "not-toml" && r.place.line == Some(10)),
        "{}",
        told(&remarks)
    );
}

/// A drawing given for a job is wrong on each of its lines; the first few say so.
#[test]
fn a_file_of_another_kind_is_not_reported_line_by_line() {
    let mut remarks = refused(&"ENTITIES\n".repeat(70));
    remarks.retain(|remark| remark.code == "not-toml");
    let lines: Vec<_> = remarks.iter().map(|remark| remark.place.line).collect();
    assert_eq!(lines, [1, 2, 3, 4, 5, 6].map(Some), "{}", told(&remarks));
    assert!(remarks[5].message.contains("65 times"), "{}", told(&remarks));
}

#[test]
fn the_interface_s_shop_takes_the_rest_from_the_nearest_row() {
    let (shop, remarks) = read_shop(SHOP, "shop.toml").unwrap();
    assert_eq!(told(&remarks), "");
    assert_eq!((shop.electrodes.len(), shop.wires.len()), (1, 1));
    let electrode = &shop.electrodes[0];
    assert_eq!((electrode.bellmouth.value, electrode.max_depth.value), (0.010, 30.0));
    assert!(matches!(electrode.bellmouth.from, From::Nearest { diameter_mm: 0.2, .. }));
    assert_eq!(shop.allowance.drift_per_mm.unwrap().value, 0.001);
    assert_eq!(shop.cutting, example_shop().cutting);
}

#[test]
fn a_wire_of_another_diameter_keeps_what_stands_beyond_its_own_radius() {
    let (shop, _) = read_shop(
        "[[wire]]\ndiameter = 0.12\ngap = 0.01\n[[electrode]]\ndiameter = 0.125\novercut = 0.02",
        "s",
    )
    .unwrap();
    let wanted = [0.085, 0.069, 0.0645, 0.063];
    assert!(shop.wires[0].offsets.value.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-12));
    assert!(matches!(shop.electrodes[0].recast.from, From::Nearest { diameter_mm: 0.1, .. }));
}

#[test]
fn each_rule_of_the_shop_refuses() {
    let cases = [
        ("overcut = 0.02", "overcut = -0.02", "out-of-limits"),
        ("overcut = 0.02", "", "left-out"),
        ("diameter = 0.20\novercut = 0.02", "diameter = 0.02\novercut = 0", "no-exit"),
        ("gap = 0.010", "gap = 0.026", "gap-beyond-offset"),
        ("0.0545, 0.053", "0.0545, 0.055", "offsets-order"),
        ("0.0545, 0.053", "0.0545, 0.049", "offset-below-radius"),
        ("[allowance]", "[[wire]]\ndiameter = 0.1\ngap = 0.01\n[allowance]", "given-twice"),
        ("[allowance]", "rates = [[20, 5], [10, 6]]\n[allowance]", "rates-order"),
        ("[allowance]", "[dialect]\nthread = 50\n[allowance]", "same-function"),
        ("[allowance]", "[dialect]\nunits = \"in\"\ndecimals = 5\n[allowance]", "too-few-decimals"),
        ("[allowance]", "[cutting]\npasses_for = [[0.01, 0], [0.02, 1]]\n[allowance]", "passes-order"),
        ("[allowance]", "[cutting]\npasses_for = [[0.01, 0.5]]\n[allowance]", "skims-not-whole"),
        ("stand_off = 2.0", "standoff = 2.0", "unknown-key"),
    ];
    for (from, to, code) in cases {
        assert!(SHOP.contains(from), "{from}");
        let remarks = read_shop(&SHOP.replacen(from, to, 1), "shop.toml").err().unwrap_or_default();
        assert!(remarks.iter().any(|r| r.code == code && r.place.line.is_some()), "{to}\n{}", told(&remarks));
    }
}

#[test]
fn each_rule_of_sizes_and_forces_refuses() {
    let after = |line: &str, more: &str| changed(line, &format!("{line}\n{more}"));
    let edge = |more: &str| after("  corner_tolerance = 0.010", more);
    let sheet = |more: &str| after("thickness = 0.20", more);
    let forces = |more: &str| changed("[[section]]", &format!("[forces]\n{more}\n[[section]]"));
    let section = |more: &str| after("hardness_hrc = 60", more);
    let finished = |text: String| text.replace("\"pierce\"", "\"finished\"");
    let cases = [
        (edge("  part_tolerance = { minus = 0.02, plus = -0.02 }"), "part-tolerance"),
        (edge("  part_tolerance = { minus = 0.02 }"), "left-out"),
        (finished(edge("  part_tolerance = { minus = 0.02, plus = 0.02 }")), "part-tolerance"),
        (edge("  corner_radius = -0.1"), "out-of-limits"),
        (sheet("shear_strength_mpa = 300\ntensile_strength_mpa = 400"), "strength-twice"),
        (sheet("shear_strength_mpa = 300\nshear_rule = \"eight-tenths\""), "strength-twice"),
        (sheet("shear_rule = \"eight-tenths\""), "no-strength"),
        (sheet("tensile_strength_mpa = 500\nshear_rule = \"nine-tenths\""), "unknown-name"),
        (forces("stripping = 0.1\nstripping_rule = \"tenth\""), "stripping-twice"),
        (forces("stripping_rule = \"a tenth\""), "unknown-name"),
        (forces("stripper = \"springs\""), "unknown-word"),
        (forces("penetration = 40"), "out-of-limits"),
        (forces("spreading = 30"), "out-of-limits"),
        (section("strength = \"finite\""), "unknown-word"),
        (section("wall_rule = \"height\""), "unknown-word"),
        (section("fastening = { screws = { thread = \"M7\" } }"), "unknown-name"),
        (section("fastening = { jack_out = { thread = \"m4\" } }"), "unknown-name"),
        (section("fastening = { screws = { count = 5 } }"), "out-of-limits"),
        (section("fastening = { dowels = { count = 2 } }"), "left-out"),
        (edge("  punch = { guided = \"free\" }"), "left-out"),
        (edge("  punch = { length = 40, guided = \"loosely\" }"), "unknown-name"),
        (edge("  punch = { length = 40, steel = \"D22\" }"), "unknown-name"),
        (edge("  punch = { length = 40, head = [3, 2], head_area = 6 }"), "head-twice"),
        (edge("  punch = { length = 40, head = [3] }"), "wrong-count"),
        (edge("  enters = -1"), "out-of-limits"),
        (finished(edge("  punch = { length = 40 }")), "punch-without-cut"),
        (finished(edge("  enters = 1")), "stroke-without-cut"),
        (finished(edge("  shear = 1")), "stroke-without-cut"),
    ];
    for (text, code) in cases {
        let remarks = refused(&text);
        assert!(
            remarks.iter().any(|r| r.code == code && r.place.line.is_some()),
            "{code}\n{}",
            told(&remarks)
        );
    }
}

#[test]
fn sizes_and_forces_are_read() {
    let text = changed(
        "thickness = 0.20",
        "thickness = 0.20\ntensile_strength_mpa = 500\nshear_rule = \"seven-tenths\"\n[forces]\nstripper = \"fixed\"\npush_through = 0.05",
    ) + "  corner_radius = 0.1\n  part_tolerance = { minus = \"0.001 in\", plus = 0.02 }\n";
    let (job, remarks) = read_job(&text, "job.toml").unwrap();
    assert_eq!(told(&remarks), "");
    let edge = &job.sections[0].edges[0];
    let part = edge.part_tolerance.as_ref().unwrap();
    assert_eq!((part.minus.value, part.plus.value), (0.0254, 0.02));
    assert_eq!(edge.corner_radius.as_ref().unwrap().value, 0.1);
    assert_eq!((job.forces.stripper.value, job.forces.push_through.unwrap().value), (Stripper::Fixed, 0.05));
    assert!(job.forces.stripping.is_none() && job.forces.penetration.is_none());
    assert_eq!(read_job(JOB, "job.toml").unwrap().0.forces.stripper.value, Stripper::Spring);
    let (shop, _) = read_shop("[press]\nforce_kn = 80", "shop.toml").unwrap();
    assert_eq!((shop.press.force_kn.value, shop.press.use_at_most.value), (80.0, 0.75));
}

#[test]
fn punches_and_their_stroke_are_read() {
    let text = JOB.to_owned()
        + "  enters = \"0.04 in\"\n  shear = 0.2\n  punch = { length = 40, guided = \"stripper\", steel = \"M2\", hardness_hrc = 63, head = [6, 4] }\n";
    let (job, remarks) = read_job(&text, "job.toml").unwrap();
    assert_eq!(told(&remarks), "");
    let edge = &job.sections[0].edges[0];
    assert_eq!((edge.enters.as_ref().unwrap().value, edge.shear.as_ref().unwrap().value), (1.016, 0.2));
    let punch = edge.punch.as_ref().unwrap();
    assert_eq!((punch.length.value, punch.hardness_hrc.as_ref().unwrap().value), (40.0, 63.0));
    assert!(matches!(&punch.head, Head::Sides([x, y]) if (x.value, y.value) == (6.0, 4.0)));
    let least = read_job(&format!("{JOB}  punch = {{ length = 40 }}\n"), "job.toml").unwrap().0;
    let punch = least.sections[0].edges[0].punch.clone().unwrap();
    assert_eq!((punch.head, punch.guided, punch.steel), (Head::Own, None, None));
}

/// Compressive yield of D2 from its maker's sheet: the rows themselves, straight between, end slopes beyond.
#[test]
fn compressive_yield_by_hardness() {
    let facts = Facts::load().unwrap();
    let yielding = |hrc| facts.steel("D2").unwrap().compressive_yield(hrc).unwrap().value;
    assert_eq!([50.0, 55.0, 60.0, 62.0].map(yielding), [1650.0, 1900.0, 2150.0, 2200.0]);
    assert_eq!([45.0, 52.5, 61.0, 64.0].map(yielding), [1400.0, 1775.0, 2175.0, 2250.0]);
    assert!(facts.steel("M2").unwrap().compressive_yield(63.0).is_none());
    assert_eq!(facts.punch().guiding(None).unwrap().name, "free");
}

#[test]
fn shares_of_the_force_table_by_family_and_thickness() {
    let facts = Facts::load().unwrap();
    let push = |family, t| facts.force_share(family, t).unwrap().push_through.value;
    let steel = |t| push(Some(Family::Steel), t);
    assert_eq!(
        [0.1, 0.11, 0.5, 0.51, 2.5, 3.0, 6.5, 9.0].map(steel),
        [0.10, 0.065, 0.065, 0.055, 0.055, 0.045, 0.045, 0.025]
    );
    assert_eq!(push(None, 1.0), steel(1.0), "a metal of no family counts as steel");
    assert_eq!(push(Some(Family::Copper), 0.2), 0.09);
}

/// The tables of an effective shop, without the comments.
fn numbers(shop: &str) -> toml::Table {
    shop.parse().unwrap()
}

#[test]
fn the_effective_shop_reads_back_to_the_same_numbers() {
    for text in [
        "",
        SHOP,
        "units = \"in\"\nname = \"a \\\" b\"\n[[wire]]\ndiameter = 0.004\ngap = 0.0003\n[dialect]\ndecimals = 7",
    ] {
        let written = read_shop(text, "shop.toml").unwrap().0.to_toml();
        let again = read_shop(&written, "effective.toml").unwrap().0;
        assert_eq!(numbers(&written), numbers(&again.to_toml()));
    }
    let (read, _) = read_shop("", "empty.toml").unwrap();
    assert_eq!(read, example_shop());
}

#[test]
fn every_value_of_the_example_shop_is_marked() {
    let text = example_shop().to_toml();
    let values = text.lines().filter(|line| line.contains(" = ")).skip(3);
    assert!(values.clone().count() > 80);
    for line in values {
        assert!(line.contains("starting value"), "{line}");
    }
}

/// Groover's disk takes half-hard cold-rolled steel: allowance 0.075 (Groover, clearance allowance table).
#[test]
fn facts_carry_their_sources() {
    let facts = Facts::load().unwrap();
    let steel = facts.metal("cold-rolled steel half hard").unwrap();
    let clearance = steel.clearance.as_ref().unwrap();
    assert_eq!(clearance.value, 0.075);
    assert!(
        matches!(&clearance.from, From::Fact { basis: Basis::Handbook, cite, .. } if cite.contains("Groover"))
    );
    let bronze = facts.metal("CuSn6 half hard").unwrap().clearance.clone().unwrap();
    assert!(
        matches!(&bronze.from, From::Fact { basis: Basis::CommonPractice, cite, .. } if cite.contains("assumption"))
    );
    assert_eq!(facts.steel_names(), ["A2", "D2", "S7", "O1", "M2", "A11"]);
}

/// A small check of the parts of JSON Schema that ours uses; anything else in a schema fails.
fn fits(schema: &serde_json::Value, value: &serde_json::Value) -> bool {
    schema.as_object().unwrap().iter().all(|(word, rule)| match word.as_str() {
        "$schema" | "title" | "description" => true,
        "type" => match rule.as_str().unwrap() {
            "object" => value.is_object(),
            "array" => value.is_array(),
            "string" => value.is_string(),
            "number" => value.is_number(),
            "integer" => value.is_i64() || value.is_u64(),
            other => panic!("type {other}"),
        },
        "properties" => value
            .as_object()
            .unwrap()
            .iter()
            .all(|(key, each)| rule.get(key).is_some_and(|rule| fits(rule, each))),
        "required" => rule.as_array().unwrap().iter().all(|key| value.get(key.as_str().unwrap()).is_some()),
        "additionalProperties" => rule == false,
        "enum" => rule.as_array().unwrap().contains(value),
        "const" => rule == value,
        "anyOf" => rule.as_array().unwrap().iter().any(|rule| fits(rule, value)),
        "items" => value.as_array().unwrap().iter().all(|each| fits(rule, each)),
        "prefixItems" => rule
            .as_array()
            .unwrap()
            .iter()
            .zip(value.as_array().unwrap())
            .all(|(rule, each)| fits(rule, each)),
        "minItems" => value.as_array().unwrap().len() as u64 >= rule.as_u64().unwrap(),
        "maxItems" => value.as_array().unwrap().len() as u64 <= rule.as_u64().unwrap(),
        "minLength" => value.as_str().unwrap().chars().count() as u64 >= rule.as_u64().unwrap(),
        "minimum" => value.as_f64().unwrap() >= rule.as_f64().unwrap(),
        "maximum" => value.as_f64().unwrap() <= rule.as_f64().unwrap(),
        "exclusiveMinimum" => value.as_f64().unwrap() > rule.as_f64().unwrap(),
        "pattern" => true,
        other => panic!("word {other}"),
    })
}

#[test]
fn the_schema_takes_good_files_and_refuses_bad_shapes() {
    let json = |text: &str| serde_json::to_value(numbers(text)).unwrap();
    let job = schema(Which::Job);
    assert!(fits(&job, &json(JOB)));
    assert!(fits(&schema(Which::Shop), &json(SHOP)));
    assert!(fits(&schema(Which::Shop), &json(&example_shop().to_toml())));
    for (from, to) in [
        ("kind = \"die\"", "kind = \"dye\""),
        ("thickness = 0.20", ""),
        ("thickness", "thicknes"),
        ("[24.0, 16.0, 20.0]", "[1]"),
    ] {
        assert!(!fits(&job, &json(&changed(from, to))), "{to}");
    }
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,200}", at in 0..JOB.len(), cut in 0..40usize) {
        let _ = read_job(&text, "a");
        let _ = read_shop(&text, "a");
        let end = (at + cut).min(JOB.len());
        let mixed = format!("{}{text}{}", &JOB[..at], &JOB[end..]);
        let _ = read_job(&mixed, "a");
        let _ = read_shop(&mixed.replace("section", "wire").replace("edge", "rates"), "a");
    }
}

fn with_start(section: &str, edges: &[&str]) -> String {
    let first = edges.first().map_or(String::new(), |start| format!("start = {start}\n"));
    let mut text =
        changed("cavity = { fit = \"H7/k6\" }\n", &format!("cavity = {{ fit = \"H7/k6\" }}\n{section}"));
    text.push_str(&first);
    for (i, start) in edges.iter().enumerate().skip(1) {
        text.push_str(&format!(
            "[[section.edge]]\nid = \"e{i}\"\ndrawing = \"a.dxf\"\ncut = \"pierce\"\nat = [{i}, 0]\nstart = {start}\n"
        ));
    }
    text
}

#[test]
fn an_edge_takes_from_its_section_what_it_does_not_say_about_its_hole() {
    let section = "burn_from = \"back\"\nstart = { position = \"remounted\", back_bore = { diameter = 6, depth = 14 } }\n";
    let edges = ["{}", "{ position = \"following\", back_bore = { diameter = 4, depth = 10, at = [1, 2] } }"];
    let (job, _) = read_job(&with_start(section, &edges), "job.toml").unwrap();
    let section = &job.sections[0];
    assert_eq!(section.burn_from.value, Face::Back);
    let said: Vec<_> = section
        .edges
        .iter()
        .map(|edge| {
            let bore = edge.start.back_bore.as_ref().unwrap();
            (edge.start.method(), bore.diameter.value, bore.depth.value, bore.at.is_some())
        })
        .collect();
    assert_eq!(said, [(Position::Remounted, 6.0, 14.0, false), (Position::Following, 4.0, 10.0, true)]);
    let (job, _) = read_job(JOB, "job.toml").unwrap();
    assert_eq!(job.sections[0].burn_from.value, Face::Cutting);
    assert_eq!(job.sections[0].edges[0].start.method(), Position::SharedDatum);
}

#[test]
fn a_measured_hole_keeps_both_ends_with_their_places() {
    let start = "{ measured = { face = { x = 0.1, y = -0.2, diameter = \"0.0102 in\" }, back = { x = 0.11, y = -0.2, diameter = 0.22 } } }";
    let (job, _) = read_job(&with_start("", &[start]), "job.toml").unwrap();
    let measured = job.sections[0].edges[0].start.measured.clone().unwrap();
    assert_eq!((measured.face.x.value, measured.back.x.value), (0.1, 0.11));
    assert_eq!(measured.face.diameter.value, 0.0102 * 25.4);
    assert!(matches!(measured.back.diameter.from, From::File { line: 24, .. }));
}

#[test]
fn what_cannot_be_together_about_holes_is_refused_where_it_stands() {
    let rim = "{ x = 0, y = 0, diameter = 0.2 }";
    let measured = format!("measured = {{ face = {rim}, back = {rim} }}");
    let following = "{ position = \"following\" }".to_owned();
    for (section, edges, code) in [
        ("", vec![following.clone(), following.clone()], "followed-twice"),
        ("start = { position = \"following\" }\n", vec!["{}".to_owned(), "{}".to_owned()], "followed-twice"),
        ("", vec![format!("{{ position = \"following\", {measured} }}")], "followed-and-measured"),
        ("", vec!["{ back_bore = { diameter = 4, depth = 20 } }".to_owned()], "bored-through"),
        ("", vec!["{ back_bore = { diameter = 4 } }".to_owned()], "left-out"),
        ("", vec![format!("{{ measured = {{ face = {rim} }} }}")], "left-out"),
        ("", vec!["{ position = \"by eye\" }".to_owned()], "unknown-word"),
        ("start = { at = [0, 0] }\n", vec!["{}".to_owned()], "unknown-key"),
        ("burn_from = \"front\"\n", vec!["{}".to_owned()], "unknown-word"),
    ] {
        let edges: Vec<&str> = edges.iter().map(String::as_str).collect();
        let remarks = refused(&with_start(section, &edges));
        let found =
            remarks.iter().find(|r| r.code == code).unwrap_or_else(|| panic!("{code}: {}", told(&remarks)));
        assert!(found.place.line.is_some(), "{found:?}");
    }
}

/// A piece begun at the edge of its block: `start` in these words, `side` stated or left out.
fn begun(start: &str, side: &str) -> String {
    let block = "cavity = { fit = \"H7/k6\" }\ncut_from = [40.0, 30.0]\n";
    let text = changed("cavity = { fit = \"H7/k6\" }\n", block);
    format!("{text}  start = {start}\n{side}")
}

#[test]
fn a_piece_may_be_begun_at_the_edge_of_its_block() {
    let outside = "  side = \"outside\"\n";
    let (job, _) = read_job(&begun("{ from = \"edge\" }", outside), "job.toml").unwrap();
    let start = &job.sections[0].edges[0].start;
    assert!(
        start.at_block_edge() && start.from.as_ref().is_some_and(|from| from.value == Begins::AtBlockEdge)
    );
    let (job, _) = read_job(&begun("{ from = \"hole\", at = [12, 0] }", outside), "job.toml").unwrap();
    assert!(!job.sections[0].edges[0].start.at_block_edge());
    // What a section says of its holes is not of an edge that has none.
    let section = begun("{ from = \"edge\" }", outside)
        .replace("relief_deg", "start = { position = \"remounted\" }\nrelief_deg");
    let (job, _) = read_job(&section, "job.toml").unwrap();
    assert!(job.sections[0].edges[0].start.position.is_none());
}

#[test]
fn what_speaks_of_a_hole_is_refused_where_there_is_none() {
    let rim = "{ x = 0, y = 0, diameter = 0.2 }";
    let measured = format!("measured = {{ face = {rim}, back = {rim} }}");
    for (key, words) in [
        ("at", "at = [12, 0]"),
        ("electrode", "electrode = 0.5"),
        ("position", "position = \"shared datum\""),
        ("measured", measured.as_str()),
        ("back_bore", "back_bore = { diameter = 4, depth = 10 }"),
    ] {
        let text = begun(&format!("{{ from = \"edge\", {words} }}"), "  side = \"outside\"\n");
        let remarks = refused(&text);
        let found = remarks.iter().find(|r| r.code == "hole-of-edge-start");
        let found = found.unwrap_or_else(|| panic!("{key}: {}", told(&remarks)));
        assert!(found.message.contains(&format!("`{key}`")) && found.place.column.is_some(), "{found:?}");
        assert!(!found.cures.is_empty());
    }
    let opening = refused(&begun("{ from = \"edge\" }", ""));
    assert!(
        opening.iter().any(|r| r.code == "edge-start-of-opening" && r.place.line.is_some()),
        "{}",
        told(&opening)
    );
    let other = refused(&begun("{ from = \"side\" }", "  side = \"outside\"\n"));
    assert!(other.iter().any(|r| r.code == "unknown-word"), "{}", told(&other));
}

#[test]
fn a_burner_is_stated_like_the_other_machines() {
    let with = |words: &str| SHOP.replace("[allowance]", &format!("[burner]\n{words}\n[allowance]"));
    let (shop, _) =
        read_shop(&with("depth = \"tip\"\nelectrode_length = 300\nspark_on = 80"), "shop.toml").unwrap();
    assert_eq!((shop.burner.depth.value, shop.burner.electrode_length.value), (Depth::Tip, 300.0));
    assert_eq!((shop.burner.spark_on.value, shop.burner.spark_off.value), (80, 5));
    assert!(shop.burner.spark_off.is_starting() && !shop.burner.spark_on.is_starting());
    let refused = read_shop(&with("spark_on = 5"), "shop.toml").unwrap_err();
    assert_eq!(refused[0].code, "same-function");
}
