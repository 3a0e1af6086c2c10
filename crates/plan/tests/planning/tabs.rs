//! Cores and tabs: what falls, what hangs on a tab, what is cut away, and in which part of the program.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Point};
use package::{Contour, Machine, PhaseKind, Plan, Program};

fn edge(plan: &Plan, i: usize) -> &Contour {
    &plan.sections[0].contours[i]
}

fn text(bench: &Bench) -> String {
    let programs = bench.planned().unwrap().programs.into_iter();
    programs.filter(|(path, _)| path.contains("-wire-")).map(|(_, text)| text).collect()
}

fn wire_programs(plan: &Plan) -> impl Iterator<Item = &Program> {
    plan.sections[0].programs.iter().filter(|program| program.machine == Machine::Wire)
}

/// What each phase is, whether somebody must be there, and which edges it cuts.
fn phases(plan: &Plan) -> Vec<(PhaseKind, bool, Vec<&str>)> {
    let of = |phase: &'_ package::Phase| (phase.kind, phase.attended);
    let phases = wire_programs(plan).flat_map(|program| &program.phases);
    phases
        .map(|phase| (of(phase).0, of(phase).1, phase.contours.iter().map(String::as_str).collect()))
        .collect()
}

#[test]
fn a_heavy_core_hangs_on_a_tab_until_somebody_is_there() {
    let bench = Bench::new(rounded_rectangle(8.0, 4.0, 0.5), 20.0);
    let plan = bench.plan();
    let one = edge(&plan, 0);
    assert_eq!(one.cores.iter().map(|core| core.held).collect::<Vec<_>>(), [true]);
    let tab = one.wire.as_ref().unwrap().tab.as_ref().unwrap();
    // The shop's table: 1.2 for a wire of 0.25; the wire's centre goes that, the wire and two gaps: 1.5.
    assert_eq!((tab.width_mm, tab.to_mm), (1.2, [0.0, -2.0]));
    assert!((tab.from_mm[0] + 1.5).abs() < 1e-12 && tab.from_mm[1] == -2.0, "{tab:?}");
    assert_eq!(
        phases(&plan),
        [
            (PhaseKind::Mains, false, vec!["e"]),
            (PhaseKind::Cores, true, vec!["e"]),
            (PhaseKind::Skims, false, vec!["e"])
        ]
    );
    let text = text(&bench);
    // The main cut ends at the tab, the tab is cut from its other end, half a wire's overlap beyond where the main ended.
    let (main, rest) = text.split_once("CUT THE TAB").unwrap();
    assert!(main.contains("G41 D1") && !main.contains("G42"), "{main}");
    assert!(rest.contains("G42 D1 G01 X0.0000 Y-2.0000") && rest.contains("G01 X-1.6000 Y-2.0000"), "{rest}");
    // The main cut ends at the tab and the wire is cut there: it comes in and does not go back; the skims do.
    let gone = |pass: usize| {
        let key = format!("s.e.wire.passes.{pass}.lead_in_and_back_mm");
        plan.reckoning.iter().find(|line| line.key == key).unwrap().value
    };
    let wire = one.wire.as_ref().unwrap();
    let lead =
        wire.lead_in.windows(2).map(|leg| (leg[1][0] - leg[0][0]).hypot(leg[1][1] - leg[0][1])).sum::<f64>();
    assert!((gone(0) - (lead - wire.passes[0].offset_mm)).abs() < 1e-9, "{} {lead}", gone(0));
    assert!((gone(1) - 2.0 * (lead - wire.passes[1].offset_mm)).abs() < 1e-9, "{} {lead}", gone(1));
    // Nothing has come in there but the main cut: at half its feed, on over the end by a tenth.
    let line = |name: &str| plan.reckoning.iter().find(|line| line.key == format!("s.e.wire.tab.{name}"));
    let [way, lead] = ["length_mm", "lead_in_mm"].map(|name| line(name).unwrap().value);
    let in_all =
        wire.lead_in.windows(2).map(|leg| (leg[1][0] - leg[0][0]).hypot(leg[1][1] - leg[0][1])).sum::<f64>();
    assert!((lead - (in_all - wire.passes[0].offset_mm)).abs() < 1e-9, "{lead} {in_all}");
    let minutes = (way + 0.1 + lead / 0.5) / wire.passes[0].feed_mm_per_min;
    assert!((tab.minutes - minutes).abs() < 1e-9, "{} {minutes}", tab.minutes);
    assert!(line("asked_width_mm").is_none(), "it ends where it was asked to");
    // Once before the attended part, once for the core.
    assert_eq!(text.matches("M00").count(), 2, "{text}");
    assert_eq!((text.matches("M60").count(), text.matches("M50").count()), (3, 3));
}

/// 160 x 100 x 80 of tool steel, 7.7 g a cubic centimetre, is 9.86 kg, at 84 high it is 10.3: lifted by gear.
#[test]
fn a_core_that_no_one_holds_by_hand_is_said_to_be_one() {
    let said = |height: f64| {
        let plan = Bench::new(rounded_rectangle(160.0, 100.0, 2.0), height).size([220.0, 160.0]).plan();
        let heavy = plan.remarks.iter().find(|remark| remark.code == "heavy-core").cloned();
        (edge(&plan, 0).cores.iter().map(|core| core.mass_g / 1e3).sum::<f64>(), heavy)
    };
    let (light, none) = said(80.0);
    assert!((9.6..10.0).contains(&light) && none.is_none(), "{light} {none:?}");
    let (mass, heavy) = said(84.0);
    let heavy = heavy.unwrap_or_else(|| panic!("nothing said of {mass}"));
    assert!(heavy.message.contains(&format!("a core of {mass:.1} kg")), "{}", heavy.message);
    assert!(heavy.cures[0].contains("local rules"), "{:?}", heavy.cures);
}

#[test]
fn light_cores_fall_at_a_stop_and_dust_is_flushed() {
    let plan = Bench::new(rounded_rectangle(2.4, 1.2, 0.2), 20.0).plan();
    let one = edge(&plan, 0);
    assert!(one.wire.as_ref().unwrap().tab.is_none());
    assert!(one.cores.iter().any(|core| core.mass_g > 0.02 && !core.held), "{:?}", one.cores);
    assert_eq!(phases(&plan)[0], (PhaseKind::Cores, true, vec!["e"]));
    let plan = Bench::new(rounded_rectangle(1.0, 0.5, 0.1), 20.0).plan();
    assert!(edge(&plan, 0).cores.iter().all(|core| core.mass_g < 0.02));
    assert_eq!(phases(&plan), [(PhaseKind::Edges, false, vec!["e"])]);
}

#[test]
fn a_flat_light_core_can_wedge_and_hangs_on_a_tab() {
    // 1.0 high and friction 0.3: what is wider than 3.33 can wedge.
    let plan = Bench::new(rounded_rectangle(6.0, 5.0, 0.5), 1.0).plan();
    let core = &edge(&plan, 0).cores[0];
    assert!(core.mass_g < 0.5 && core.held, "{core:?}");
    let plan = Bench::new(rounded_rectangle(3.0, 2.0, 0.5), 1.0).plan();
    assert!(edge(&plan, 0).cores.iter().all(|core| !core.held));
}

#[test]
fn a_very_heavy_core_asks_for_a_wider_tab_than_the_table() {
    let shop = "[core]\ntab_stress_mpa = 2.0\n";
    let plan = Bench::new(rounded_rectangle(80.0, 50.0, 2.0), 10.0).size([120.0, 90.0]).shop(shop).plan();
    let one = edge(&plan, 0);
    let width = one.wire.as_ref().unwrap().tab.as_ref().unwrap().width_mm;
    // By hand: weight times its arm of 25 by section modulus b h^2 / 6.
    let moment = one.cores[0].mass_g * 9.80665e-3 * 25.0;
    let wanted = 6.0 * moment / (10.0 * 10.0 * 2.0);
    assert!(width > 1.2 && (width - wanted).abs() < 0.01 * wanted, "{width} {wanted}");
}

#[test]
fn slivers_are_cut_away_from_the_hole_outward() {
    let bench = Bench::new(rounded_rectangle(1.0, 0.4, 0.1), 20.0);
    let plan = bench.plan();
    let wire = edge(&plan, 0).wire.as_ref().unwrap();
    assert!(!wire.erosion.is_empty() && edge(&plan, 0).cores.is_empty());
    // A shop that lets slivers fall.
    let plan = Bench::new(rounded_rectangle(1.0, 0.4, 0.1), 20.0).shop("[core]\nsliver_below = 0.0\n").plan();
    assert!(edge(&plan, 0).wire.as_ref().unwrap().erosion.is_empty() && !edge(&plan, 0).cores.is_empty());
}

#[test]
fn all_mains_come_first_where_somebody_is_needed_or_a_tolerance_asks() {
    let small = || rounded_rectangle(1.0, 0.5, 0.1);
    let words = |tolerance: f64| format!("cut = \"finished\"\ntolerance = {tolerance}\n");
    let bench = |tolerance: f64| {
        Bench::new(small(), 20.0).edge(&words(tolerance)).and(small(), [6.0, 0.0], &words(tolerance))
    };
    assert_eq!(phases(&bench(0.005).plan()), [(PhaseKind::Edges, false, vec!["e2", "e"])]);
    assert_eq!(
        phases(&bench(0.0045).plan()),
        [(PhaseKind::Mains, false, vec!["e2", "e"]), (PhaseKind::Skims, false, vec!["e2", "e"])]
    );
    let heavy = Bench::new(rounded_rectangle(8.0, 4.0, 0.5), 20.0).and(small(), [8.0, 0.0], &words(0.005));
    let plan = heavy.plan();
    let minutes: f64 =
        wire_programs(&plan).flat_map(|program| &program.phases).map(|phase| phase.minutes).sum();
    let of_programs: f64 = wire_programs(&plan).map(|program| program.minutes).sum();
    assert!((minutes - of_programs).abs() < 1e-9);
}

#[test]
fn edges_in_any_order_share_wires_and_far_from_the_clamps_comes_first() {
    let words = "cut = \"finished\"\n";
    let (wide, thin) = (rounded_rectangle(4.0, 3.0, 0.5), rounded_rectangle(1.0, 0.5, 0.1));
    let bench = Bench::new(wide.clone(), 20.0)
        .and(thin.clone(), [7.0, 0.0], words)
        .and(wide, [-8.0, 0.0], words)
        .and(thin, [4.5, 0.0], words);
    let plan = bench.plan();
    let cut = |i: usize| plan.sections[0].programs[i].contours.clone();
    // Whatever the wires are, no wire is mounted twice.
    let mut wires: Vec<f64> =
        plan.sections[0].programs.iter().filter_map(|program| program.wire_mm).collect();
    wires.dedup();
    assert_eq!(wires.len(), wire_programs(&plan).count());
    let all: Vec<String> = (0..wires.len()).flat_map(cut).collect();
    let at = |id: &str| all.iter().position(|one| one == id).unwrap();
    assert!(at("e2") < at("e4") && at("e") < at("e3"), "{all:?}");
}

#[test]
fn a_tab_lies_where_it_lay_when_everything_is_moved_mirrored_and_turned() {
    let shape = || {
        let corners = [(-3.0, -2.0), (4.0, -2.0), (4.0, 1.0), (0.0, 3.0), (-3.0, 1.0)];
        Outline::new(corners.iter().map(|c| outline::Vertex::new(c.0, c.1, 0.0)).collect()).unwrap()
    };
    let tab = |outline: Outline| {
        let plan = Bench::new(outline, 20.0).edge("cut = \"finished\"\ncorner_tolerance = 0.2\n").plan();
        let one = edge(&plan, 0);
        let tab = one.wire.as_ref().unwrap().tab.clone().unwrap();
        let chord = (tab.to_mm[0] - tab.from_mm[0]).hypot(tab.to_mm[1] - tab.from_mm[1]);
        (chord, tab.width_mm, one.cores[0].mass_g)
    };
    let there = tab(shape());
    let others = [shape().mirrored_x(), shape().turned(Point::new(0.0, 0.0), 1.0), shape().starting_at(2)];
    for other in others {
        let other = tab(other);
        assert!((there.0 - other.0).abs() < 1e-6 && (there.1 - other.1).abs() < 1e-6, "{there:?} {other:?}");
        assert!((there.2 - other.2).abs() < 1e-4, "{there:?} {other:?}");
    }
}
