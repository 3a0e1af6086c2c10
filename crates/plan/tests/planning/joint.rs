//! The joint of two halves off the middle of its block, either way round: metal beside it, what opens it, and the places of screws
//! and dowels, all by hand.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vector, Vertex};
use package::{Halves, JointHole, JointKind, Plan};

const SHEET: &str =
    "[sheet]\nshear_strength_mpa = 380\nthickness = 0.2\nclearance = 0.05\n[forces]\nspreading = 0.3\n";

/// Which way a block of three openings lies: its joint along X or Y, and whether either way is mirrored.
#[derive(Debug, Clone, Copy)]
pub struct Lies {
    pub turned: bool,
    pub along: f64,
    pub across: f64,
}

/// As it is drawn here.
pub const AS_DRAWN: Lies = Lies { turned: false, along: 1.0, across: 1.0 };

impl Lies {
    /// Along X as drawn and mirrored both ways; along Y mirrored one way and the other.
    pub fn all() -> [Self; 4] {
        [(false, 1.0, 1.0), (true, -1.0, 1.0), (false, -1.0, -1.0), (true, 1.0, -1.0)]
            .map(|(turned, along, across)| Self { turned, along, across })
    }

    fn place(self, along: f64, across: f64) -> [f64; 2] {
        let (along, across) = (along * self.along, across * self.across);
        if self.turned { [across, along] } else { [along, across] }
    }

    fn size(self, long: f64, wide: f64) -> [f64; 2] {
        if self.turned { [wide, long] } else { [long, wide] }
    }

    fn rectangle(self, long: f64, wide: f64, radius: f64) -> Outline {
        let [x, y] = self.size(long, wide);
        rounded_rectangle(x, y, radius)
    }

    pub fn letter(self) -> &'static str {
        if self.turned { "y" } else { "x" }
    }
}

/// A block so long, 30 wide and 25 high, its joint 2 off the middle. Opening `e` of 3 by 5 in the middle and `e2` of 1.2 by 0.4
/// lie over the joint, `e3` with a back bore of 4 lies 6 to either axis. The clearance of 0.01 widens each all round, and the
/// relief 20 tan 0.5 degrees = 0.174 537. The only wheel is one of 0.15.
pub fn three(lies: Lies, long: f64) -> Bench {
    let [x, y] = lies.place(0.5, 2.0);
    Bench::new(lies.rectangle(3.0, 5.0, 0.4), 25.0)
        .size(lies.size(long, 30.0))
        .sheet(SHEET)
        .shop("name = \"Example\"\nunits = \"mm\"\n[half_round]\nradii = [0.15]\n")
        .section(&format!("halves = {{ along = {:?}, at = {:?} }}\n", lies.letter(), 2.0 * lies.across))
        .edge(&format!("cut = \"pierce\"\nstart = {{ at = [{x:?}, {y:?}] }}\n"))
        .and(lies.rectangle(1.2, 0.4, 0.115), lies.place(9.0, 2.0), "cut = \"pierce\"\n")
        .and(
            lies.rectangle(2.0, 1.0, 0.4),
            lies.place(-6.0, -6.0),
            "cut = \"pierce\"\nstart = { back_bore = { diameter = 4.0, depth = 10 } }\n",
        )
        .relief("land = 5\nrelief_deg = 0.5\n")
}

fn halves(plan: &Plan) -> &Halves {
    plan.sections[0].halves.as_ref().unwrap()
}

fn line(plan: &Plan, key: &str) -> f64 {
    plan.reckoning.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("no line {key}")).value
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() <= 1e-5, "{found} is not {wanted}");
}

/// A slot 1.2 long and 0.23 wide whose middle lies so far across from the block's.
fn slot(across: f64) -> Outline {
    rounded_rectangle(1.2, 0.23, 0.115).moved(Vector::new(0.0, across))
}

/// By hand, 50 long: M5 wants 7.5 + 2.75 + 7.5 = 17.75 of the 15 that the bore leaves its sink. M4 passes 4.5, its sink is 8 wide
/// and 4.5 deep, so 1.75 wider; each keeps 6 to sides, faces and openings. The bore comes to -8: the screw has
/// 25 - 8 - 1.75 = 15.25, may stand from 6 to 15.25 - 2.25 - 6 = 7, stands at 6.5, and has 0.5. At the other end `e2` reaches
/// 9 + 0.61 + 0.174537 = 9.784537: 15.215463 less 8.25 is 6.965463, again 6.5, and 0.465463 left. Of 25 in height
/// 25 - 6 - 6 - 8.75 = 4.25 is left, more than three times 1: the dowel at 18, the screw at 8.25, rounded.
#[test]
fn screws_and_dowels_off_the_middle_by_hand() {
    for lies in Lies::all() {
        let plan = three(lies, 50.0).plan();
        let found = halves(&plan);
        assert!(found.refused.is_empty());
        near(found.at_mm, 2.0 * lies.across);
        let kinds = found.holes.iter().map(|hole| hole.kind).collect::<Vec<_>>();
        assert_eq!(kinds, [JointKind::Screw, JointKind::Screw, JointKind::Dowel, JointKind::Dowel]);
        let bore_first = if lies.along > 0.0 { [0, 1, 2, 3] } else { [1, 0, 3, 2] };
        let room = [0.5, 0.465_463, 0.5, 0.5];
        for (as_drawn, i) in bore_first.into_iter().enumerate() {
            let hole: &JointHole = &found.holes[i];
            near(hole.along_mm, 18.5 * if i % 2 == 0 { -1.0 } else { 1.0 });
            near(hole.below_face_mm, if i < 2 { 8.3 } else { 18.0 });
            near(hole.room_mm, room[as_drawn]);
            assert_eq!((hole.diameter_mm, hole.from_lower), (4.0, lies.across > 0.0));
            // 17 of metal lie on the wide side of the joint, 13 on the other; 8 are two diameters.
            assert_eq!(hole.into_mm, [17.0, 8.0]);
            if i < 2 {
                assert_eq!(hole.thread.as_deref(), Some("M4"));
                assert_eq!((hole.clear_mm, hole.sink_mm), (Some(4.5), Some([8.0, 4.5])));
                near(hole.drill_mm, 3.3);
                near(hole.drill_depth_mm, 8.0 + 4.0 * 0.7 + 0.3 * 3.3);
                near(hole.longest_mm.unwrap(), 17.0 - 4.5 + 8.0);
                assert_eq!(hole.push_out_mm, None);
            } else {
                near(hole.drill_mm, 3.8);
                near(hole.drill_depth_mm, 8.0 + 1.0 + 0.3 * 3.8);
                assert_eq!(hole.push_out_mm, Some(2.0));
                assert_eq!((hole.thread.as_deref(), hole.longest_mm, hole.sink_mm), (None, None, None));
            }
        }
    }
}

/// A thin half is drilled through: M2 into 3.5 of metal, for the point would come to 4 + 1.6 + 0.48.
#[test]
fn a_thin_half_is_drilled_through_the_joint() {
    let plan =
        Bench::new(slot(1.0), 20.0).size([40.0, 9.0]).section("halves = { along = \"x\", at = 1 }\n").plan();
    let holes = &halves(&plan).holes;
    assert_eq!((holes[0].diameter_mm, holes[0].into_mm), (2.0, [5.5, 3.5]));
    assert_eq!((holes[0].drill_depth_mm, holes[2].drill_depth_mm), (3.5, 3.5));
    near(holes[0].longest_mm.unwrap(), 5.5 - 2.5 + 3.5);
    // 5.5 less 2.5 + 2 under the head, 3.5 less 3 in the thread.
    assert_eq!(holes.iter().map(|hole| hole.room_mm).fold(9.0, f64::min), 0.5);
}

/// By hand for M2: 2.5 of sink and 2 under it, 1.5 diameters of thread; 3.5 to sides, 3 + 1.2 to the opening, 0.6 off the middle.
#[test]
fn what_a_joint_is_short_of_by_hand() {
    let of = |size: [f64; 2], high: f64, across: f64| {
        Bench::new(slot(across), high)
            .size(size)
            .section(&format!("halves = {{ along = \"x\", at = {across:?} }}\n"))
            .plan()
    };
    let head = "thickness of the half with the head";
    let thread = "thickness of the half with the thread";
    let length = "length of joint between the block's side and the openings";
    let all = [
        // 3.5 + 0.5 of metal against 4.5; half a millimetre more on either side.
        ([60.0, 7.0], 20.0, 0.5, head, [4.0, 4.5], "a block 8 wide across the joint"),
        ([60.0, 7.0], 20.0, -0.5, head, [4.0, 4.5], "a block 8 wide across the joint"),
        ([60.0, 7.0], 20.0, 1.5, thread, [2.0, 3.0], "a block 9 wide across the joint"),
        // Side by side 3.5 to either face.
        ([60.0, 20.0], 6.0, 2.0, "height of the block", [6.0, 7.0], "a block 7 high"),
        // 2 * (3.5 + 4.2 + 0.6) are 16.6.
        ([14.0, 20.0], 20.0, 2.0, length, [6.4, 7.7], "a block 17 long along the joint"),
        // All three ways; above each other 3.5 + 3 + 4.6. The sink, 2.5 + 3 deep in all, keeps off the slot where its half is wider
        // than 5.5 + 0.115, which 6.5 more in width give it.
        (
            [12.0, 5.0],
            6.0,
            0.0,
            "height of the block",
            [6.0, 11.1],
            "a block 18.5 long along the joint, 11.5 wide and 12.5 high",
        ),
    ];
    for (size, high, across, bound, [have, need], cure) in all {
        let plan = of(size, high, across);
        let found = halves(&plan);
        assert!(found.holes.is_empty());
        let refused = &found.refused[0];
        assert_eq!(refused.cures[0], cure, "{size:?} {high} {across}");
        assert_eq!(refused.cures.len(), 2);
        assert_eq!(refused.bound, bound);
        near(refused.have_mm, have);
        near(refused.need_mm, need);
        let remark = plan.remarks.iter().find(|remark| remark.code == "halves-not-held").unwrap();
        let said = format!("not even M2: {bound} has {have:.2}, needs {need:.2}: short {:.2}", need - have);
        assert!(remark.message.contains(&said), "{}", remark.message);
        assert_eq!(remark.cures.len(), refused.cures.len());
    }
}

/// By hand: 22.8 N on each mm spread over 0.2 are 114 N/mm2, on a land of 5 and 3.02 and 1.22 of joint. `e3` lies beside it.
#[test]
fn what_opens_a_joint_is_summed_over_its_openings() {
    for lies in Lies::all() {
        let plan = three(lies, 70.0).plan();
        near(line(&plan, "s.e.joint.length_mm"), 3.02);
        near(line(&plan, "s.e2.joint.length_mm"), 1.22);
        near(line(&plan, "s.e.joint.opens_n"), 1721.4);
        near(line(&plan, "s.e2.joint.opens_n"), 695.4);
        near(halves(&plan).opens_n.unwrap(), 2416.8);
        assert_eq!(halves(&plan).edges, ["e", "e2"]);
        let remark = plan.remarks.iter().find(|remark| remark.code == "joint-in-edge").unwrap();
        let (along, across) = if lies.turned { ("Y", "X") } else { ("X", "Y") };
        let said = format!("joined along {along} at {across} {:.3}:", 2.0 * lies.across);
        assert!(remark.message.contains(&said), "{}", remark.message);
        assert!(remark.message.contains("under load, by up to 2417 N;"), "{}", remark.message);
    }
}

/// Metal between a joint 0.3 off the middle and a slot 1.101 off it: 1.101 - 0.115 - 0.3 = 0.686, of 3 that are usual; below a
/// relief 17 tan 0.5 degrees = 0.148 less; to a bore of 4 round a place 5 off, 5 - 0.3 - 2 = 2.7.
#[test]
fn metal_beside_the_joint_by_hand() {
    let plain = "cut = \"finished\"\n";
    let bore = "cut = \"finished\"\nstart = { back_bore = { diameter = 4.0, depth = 10 } }\n";
    let steep = "land = 3\nrelief_deg = 0.5\n";
    let all = [
        (1.101, plain, "relief_deg = 0\n", "0.686", "2.31"),
        (1.101, plain, steep, "0.538", "2.46"),
        (5.0, bore, "relief_deg = 0\n", "2.700", "0.30"),
    ];
    for lies in Lies::all() {
        for (off, words, relief, wall, more) in all {
            let plan = Bench::new(lies.rectangle(2.0, 1.2, 0.4), 20.0)
                .size([30.0, 30.0])
                .relief(relief)
                .section(&format!(
                    "halves = {{ along = {:?}, at = {:?} }}\n",
                    lies.letter(),
                    0.3 * lies.across
                ))
                .and(lies.rectangle(1.2, 0.23, 0.115), lies.place(0.0, off), words)
                .plan();
            let remark = plan.remarks.iter().find(|remark| remark.code == "joint-near").unwrap();
            let said = format!("section `s`: {wall} of metal stand between its joint and edge `e2`");
            assert!(remark.message.starts_with(&said), "{}", remark.message);
            assert!(remark.cures[0].contains(&format!("at least {more} further off")), "{:?}", remark.cures);
        }
    }
    // Three millimetres are as usual.
    let far = Bench::new(slot(0.0), 20.0).size([30.0, 30.0]).section("halves = { along = \"x\", at = 0 }\n");
    let at = |off: f64| far.clone().and(slot(0.0), [0.0, off], plain).plan();
    let told = |plan: &Plan| plan.remarks.iter().any(|remark| remark.code == "joint-near");
    assert!(told(&at(3.114)) && !told(&at(3.116)));
}

/// Every refusal says where the joint lies, and between what it would have to.
#[test]
fn what_is_wrong_with_a_joint_is_said_with_its_numbers() {
    let told = |lies: Lies, at: f64, words: &str, code: &str| {
        let bench = Bench::new(lies.rectangle(1.2, 0.23, 0.115), 20.0)
            .size(lies.size(24.0, 16.0))
            .section(&format!("halves = {{ along = {:?}, at = {at:?} }}\n", lies.letter()))
            .edge(&format!("cut = \"finished\"\n{words}"));
        let faults = bench.planned().map(|_| ()).unwrap_err();
        faults.iter().find(|fault| fault.code == code).unwrap_or_else(|| panic!("{faults:?}")).message.clone()
    };
    for lies in Lies::all() {
        let off = |at: f64| at * lies.across;
        let message = told(lies, off(8.0), "", "joint-outside");
        assert_eq!(
            message,
            format!("section `s`: its joint at {} lies outside the block, -8 to 8", off(8.0))
        );
        let message = told(lies, off(7.999), "", "joint-beside");
        assert_eq!(message, format!("section `s`: no opening lies over its joint at {}", off(7.999)));
        let [x, y] = lies.place(0.2, 0.07);
        let start = format!("start = {{ at = [{x:?}, {y:?}] }}\n");
        let message = told(lies, off(0.05), &start, "start-off-joint");
        assert_eq!(message, "section `s`: the start of edge `e` is stated 0.0200 beside its joint");
    }
    for (words, key) in [
        ("electrode = 0.2", "electrode"),
        ("position = \"following\"", "position"),
        ("back_bore = { diameter = 2.4, depth = 10 }", "back_bore"),
    ] {
        let message = told(AS_DRAWN, 0.0, &format!("start = {{ {words} }}\n"), "burned-over-joint");
        assert!(message.contains(&format!("and `{key}` of its start speaks of a burned hole")), "{message}");
    }
}

/// Not stated, the joint lies in the middle of the tightest opening if that is as deep there. The circle of an L of arms 1 wide
/// touches both outer sides and the inner corner: its radius is 2 - sqrt 2 = 0.5858, 0.4142 below that corner.
#[test]
fn a_joint_that_is_not_stated_lies_where_the_tightest_opening_is_deepest() {
    let corners = [(-2.0, -1.0), (2.0, -1.0), (2.0, 0.0), (-1.0, 0.0), (-1.0, 3.0), (-2.0, 3.0)];
    let ell = Outline::new(corners.map(|c| Vertex::new(c.0, c.1, 0.0)).to_vec()).unwrap();
    let words = "cut = \"finished\"\ncorner_tolerance = 0.2\n";
    for (along, at) in [("x", -0.414), ("y", -1.414)] {
        let plan = Bench::new(ell.clone(), 20.0)
            .size([40.0, 40.0])
            .edge(words)
            .section(&format!("halves = {{ along = {along:?} }}\n"))
            .plan();
        assert_eq!(halves(&plan).at_mm, at);
    }
    for tight in [-3.2, 2.9] {
        let plan = Bench::new(rounded_rectangle(3.0, 9.0, 0.4), 20.0)
            .size([40.0, 40.0])
            .section("halves = { along = \"x\" }\n")
            .and(slot(0.0), [6.0, tight], "cut = \"finished\"\n")
            .plan();
        assert_eq!(halves(&plan).at_mm, tight);
    }
}
