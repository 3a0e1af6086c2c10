//! Burner programs written by hand: right ones hold from both faces, damaged ones never do; and holes as measured.

use crate::case::Case;
use crate::holds::cases;
use package::{
    Axis, BackBore, BurnDepth, BurnedHole, BurnerFunctions, Burning, FaceUp, Machine, MeasuredHole, Program,
    Rim, Transform,
};
use proof::{Evidence, prove};

const WEAR: f64 = 13.2;
const THROUGH: f64 = 2.0;

fn two_openings() -> Case {
    let case = cases().into_iter().find(|case| case.openings.len() == 2).unwrap();
    Case { height: 10.0, ..case }
}

/// The package with its holes burned from a face, through bores from the back of this depth.
fn burned(face: FaceUp, bore: f64) -> Evidence {
    let case = two_openings();
    let mut evidence = case.evidence(&case.program());
    let section = &mut evidence.plan.sections[0];
    let mut text = vec!["(BY HAND)".to_owned(), "G71".to_owned(), "G90".to_owned(), "G17 G40".to_owned()];
    let mut holes = Vec::new();
    for (n, contour) in section.contours.iter_mut().enumerate() {
        let start = contour.start.as_mut().unwrap();
        start.back_bore = (bore > 0.0).then_some(BackBore {
            x_mm: start.x_mm,
            y_mm: start.y_mm + 0.1,
            diameter_mm: 2.0,
            depth_mm: bore,
            clears: true,
        });
        let metal = section.size_mm[2] - bore;
        // The bore lies under all of the opening: only its floor falls.
        contour.cores.iter_mut().for_each(|core| core.mass_g *= metal / section.size_mm[2]);
        let travel = metal + THROUGH + WEAR;
        let x = if face == FaceUp::Back { -start.x_mm } else { start.x_mm };
        text.extend([
            format!("(HOLE {} EDGE {} ELECTRODE 0.2 NUMBER 1)", n + 1, contour.id),
            format!("G00 X{x:.4} Y{:.4}", start.y_mm),
            "M00".to_owned(),
            "M03".to_owned(),
            format!("G01 Z-{travel:.4} F12.0"),
            "M05".to_owned(),
            format!("G00 Z{:.1}", 5.0 + bore),
        ]);
        holes.push(BurnedHole {
            contour: contour.id.clone(),
            x_mm: start.x_mm,
            y_mm: start.y_mm,
            electrode_mm: 0.2,
            from_face: face,
            depth_mm: metal,
            stand_off_mm: 2.0,
            break_through_mm: THROUGH,
            burn_depth_mm: metal + THROUGH,
            wear_mm: WEAR,
            travel_mm: travel,
            minutes: 3.0,
            electrode_number: 1,
            dress_after: n == 0,
            blocks: [0, 0],
        });
    }
    text.push("M02".to_owned());
    let axis = if face == FaceUp::Back { Axis::MinusX } else { Axis::X };
    section.programs.push(Program {
        id: "b".to_owned(),
        path: "programs/b.nc".to_owned(),
        machine: Machine::Burner,
        face_up: face,
        wire_mm: None,
        contours: holes.iter().map(|hole| hole.contour.clone()).collect(),
        minutes: 6.0,
        functions: None,
        guides: None,
        transform: Some(Transform { x: axis, y: Axis::Y }),
        phases: Vec::new(),
    });
    section.burning = Some(Burning {
        program: "b".to_owned(),
        from_face: face,
        holes,
        electrodes: Vec::new(),
        depth: BurnDepth::Travel,
        free_below_mm: THROUGH + WEAR,
        minutes: 6.0,
        attended_minutes: 20.0,
        functions: BurnerFunctions { spark_on: 3, spark_off: 5, stop: 0, end: 2 },
    });
    evidence.programs.insert("programs/b.nc".to_owned(), text.join("\n").into_bytes());
    evidence
}

fn with_text(mut evidence: Evidence, change: impl Fn(&str) -> String) -> Evidence {
    let old = String::from_utf8(evidence.programs["programs/b.nc"].clone()).unwrap();
    let new = change(&old);
    assert_ne!(old, new, "nothing was changed");
    evidence.programs.insert("programs/b.nc".to_owned(), new.into_bytes());
    evidence
}

fn codes(evidence: &Evidence) -> Vec<String> {
    let mut codes: Vec<String> = prove(evidence).faults.into_iter().map(|fault| fault.code).collect();
    codes.sort();
    codes.dedup();
    codes
}

const FACES: [FaceUp; 2] = [FaceUp::Cutting, FaceUp::Back];

#[test]
fn right_programs_hold_from_both_faces_with_and_without_bores() {
    for face in FACES {
        for bore in [0.0, 4.0] {
            let proof = prove(&burned(face, bore));
            assert!(proof.holds, "{face:?} {bore}: {:?}", proof.faults);
        }
    }
}

#[test]
fn harmless_rewrites_raise_no_alarm() {
    let rewrites: [fn(&str) -> String; 6] = [
        |text| text.replace("G00 X", "G0 X").replace("M03", "M3"),
        |text| text.lines().filter(|line| !line.starts_with('(')).collect::<Vec<_>>().join("\n"),
        |text| text.to_lowercase().replace("(by hand)", ""),
        |text| text.replace("G17 G40\n", ""),
        |text| text.lines().enumerate().map(|(i, line)| format!("N{} {line}\n", i + 1)).collect(),
        |text| text.replace("M02", "G00 Z50.0\nM02"),
    ];
    for face in FACES {
        for (i, rewrite) in rewrites.iter().enumerate() {
            let proof = prove(&with_text(burned(face, 0.0), rewrite));
            assert!(proof.holds, "{face:?} {i}: {:?}", proof.faults);
        }
    }
}

/// Every damage is found, and by its name.
#[test]
fn damaged_programs_never_hold() {
    type Change = fn(&str) -> String;
    let damages: [(&str, Change); 21] = [
        ("hole-count", |text| {
            let second = text.find("(HOLE 2").unwrap();
            text[..second].to_owned() + "M02"
        }),
        ("hole-count", |text| {
            let (first, second) = (text.find("(HOLE 1").unwrap(), text.find("(HOLE 2").unwrap());
            text[..second].to_owned() + &text[first..second] + &text[second..]
        }),
        ("hole-elsewhere", |text| text.replacen("G00 X", "G00 X1", 1)),
        ("hole-elsewhere", |text| text.replacen("Y-0.2500", "Y-0.2490", 1)),
        ("not-through", |text| text.replacen("G01 Z-2", "G01 Z-1", 1)),
        ("free-below", |text| text.replacen("G01 Z-", "G01 Z-1", 1)),
        ("electrode", |text| text.replacen("ELECTRODE 0.2", "ELECTRODE 0.25", 1)),
        ("electrode-in-block", |text| text.replacen("G00 Z5.0\n", "", 1)),
        ("electrode-in-block", |text| text.replacen("G01 Z", "G00 Z", 1)),
        ("electrode-in-block", |text| text.replacen("M03\n", "", 1)),
        ("spark", |text| text.replacen("M05\n", "", 1)),
        ("spark", |text| text.replacen("M05\nG00 Z5.0\nM02", "M02", 1)),
        ("not-touched", |text| {
            let second = text.find("(HOLE 2").unwrap();
            text[..second].to_owned() + &text[second..].replacen("M00\n", "", 1)
        }),
        ("start-unknown", |text| text.replacen("M00\n", "", 1)),
        ("feed-missing", |text| text.replace(" F12.0", "")),
        ("unit-unknown", |text| text.replace("G71\n", "")),
        ("mode-unknown", |text| text.replace("G90\n", "")),
        ("not-through", |text| text.replace("G90\n", "G91\n")),
        ("unknown-word", |text| text.replacen("M03", "M13", 1)),
        ("not-ended", |text| text.replace("M02", "")),
        ("after-end", |text| text.to_owned() + "\nG00 X0"),
    ];
    for face in FACES {
        for (i, (code, damage)) in damages.iter().enumerate() {
            let found = codes(&with_text(burned(face, 0.0), damage));
            // Steps instead of places are found by whatever they hit first.
            let any = *code == "not-through" && i == 17;
            assert!(found.iter().any(|c| c == code || any), "{face:?} {i} {code}: {found:?}");
        }
    }
}

#[test]
fn a_plan_that_contradicts_its_burner_program_does_not_hold() {
    type Change = fn(&mut Evidence);
    fn burning(evidence: &mut Evidence) -> &mut Burning {
        evidence.plan.sections[0].burning.as_mut().unwrap()
    }
    let damages: [(&str, Change); 12] = [
        ("face", |e| e.plan.sections[0].programs[1].face_up = FaceUp::Back),
        ("face", |e| {
            e.plan.sections[0].programs[1].transform = Some(Transform { x: Axis::MinusX, y: Axis::Y })
        }),
        ("face", |e| {
            e.plan.sections[0].programs[1].transform = Some(Transform { x: Axis::X, y: Axis::MinusY })
        }),
        ("face", |e| burning(e).from_face = FaceUp::Back),
        ("burning", |e| e.plan.sections[0].burning = None),
        ("burning", |e| burning(e).program = "other".to_owned()),
        ("program-missing", |e| drop(e.plan.sections[0].programs.pop())),
        ("program-missing", |e| drop(e.programs.remove("programs/b.nc"))),
        ("hole-count", |e| burning(e).holes.reverse()),
        ("electrode", |e| burning(e).holes[0].electrode_mm = 0.25),
        ("not-through", |e| burning(e).holes[0].wear_mm = 15.0),
        ("absurd", |e| burning(e).holes[1].wear_mm = f64::NAN),
    ];
    for (i, (code, damage)) in damages.iter().enumerate() {
        let mut evidence = burned(FaceUp::Cutting, 0.0);
        damage(&mut evidence);
        let found = codes(&evidence);
        assert!(found.iter().any(|c| c == code), "{i} {code}: {found:?}");
    }
    // What the control makes up for is not added by the program: 13.2 too far.
    let mut evidence = burned(FaceUp::Cutting, 0.0);
    burning(&mut evidence).depth = BurnDepth::Tip;
    burning(&mut evidence).free_below_mm = THROUGH;
    assert_eq!(codes(&evidence), ["free-below"]);
    // A bore that the hole only half lies over takes nothing off what must be burned.
    let mut evidence = burned(FaceUp::Cutting, 4.0);
    evidence.plan.sections[0].contours[0].start.as_mut().unwrap().back_bore.as_mut().unwrap().x_mm += 1.0;
    // The core then is as high as the block, heavier than the plan has it.
    let found = codes(&evidence);
    assert!(["not-through", "cores"].iter().all(|code| found.iter().any(|one| one == code)), "{found:?}");
}

/// Both ends as measured must lie in what is cut away, and leave the wire a straight way.
#[test]
fn a_measured_hole_scars_by_its_own_ends() {
    let case = two_openings();
    let scar = |face: [f64; 2], back: [f64; 2], d: f64| {
        let mut evidence = case.evidence(&case.program());
        let start = evidence.plan.sections[0].contours[0].start.as_mut().unwrap();
        let rim = |by: [f64; 2]| Rim { x_mm: start.x_mm + by[0], y_mm: start.y_mm + by[1], diameter_mm: d };
        let lean = (face[0] - back[0]).hypot(face[1] - back[1]);
        start.measured =
            Some(MeasuredHole { face: rim(face), back: rim(back), light_mm: d - lean, lean_mm: lean });
        let proof = prove(&evidence);
        (proof.contours[0].hole_scar_mm, proof.faults.iter().map(|f| f.code.clone()).collect::<Vec<_>>())
    };
    assert_eq!(scar([0.0, 0.0], [0.02, 0.01], 0.2), (0.0, Vec::new()));
    // The opening is 1.4 by 1.0: half of it is 0.5; a rim of 0.1 at 0.45 bites by 0.05.
    let (found, _) = scar([0.0, 0.0], [0.0, 0.45], 0.2);
    assert!((found - 0.05).abs() < 1e-4, "{found}");
    let (found, _) = scar([0.0, -0.45], [0.0, 0.0], 0.2);
    assert!((found - 0.05).abs() < 1e-4, "{found}");
    let (_, faults) = scar([0.0, 0.06], [0.0, -0.06], 0.2);
    assert!(faults.iter().any(|code| code == "wire-too-thick"), "{faults:?}");
}
