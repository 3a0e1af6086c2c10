//! Hand-made plans through the drawing model and the SVG writer: what is drawn, and that nothing hides anything.

use crate::kit::{fastening, page_of, plan, punch, svg_texts, texts, torn};
use package::{FaceUp, HoleDiameter, MissedCorner, Narrowest, SidePoint, StartKind};
use sheet::{Item, LineKind, section_sheet};

#[test]
fn the_svg_is_well_formed_repeatable_and_escapes_user_text() {
    let mut plan = plan("slot");
    plan.job.name = "a<b>&\"\u{1}".into();
    let svg = section_sheet(&plan, &plan.sections[0]).to_svg();
    assert_eq!(svg, section_sheet(&plan, &plan.sections[0]).to_svg());
    let document = roxmltree::Document::parse(&svg).unwrap();
    let title = document.descendants().find(|n| n.has_tag_name("title")).unwrap();
    assert_eq!(title.text(), Some("a<b>&\"\u{FFFD} vane"));
    assert!(svg_texts(&svg).iter().any(|t| t == "a<b>&\"\u{FFFD}"));
}

#[test]
fn heavy_points_leave_the_words_as_they_are() {
    let plan = plan("slot");
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let written = svg_texts(&sheet.to_svg());
    assert_eq!(written, texts(&sheet));
    assert!(written.iter().any(|t| t == "1  D1  +0.0750"));
}

#[test]
fn the_opening_is_drawn_at_the_largest_round_scale_that_fits() {
    let plan = plan("slot");
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let view = sheet.views.iter().find(|v| v.name == "vane-slot" && v.window_mm.is_some()).unwrap();
    assert_eq!(view.scale, 20.0);
    assert!(view.items.iter().any(|i| matches!(i, Item::Stroke(LineKind::FinishedEdge, _))));
}

#[test]
fn a_contour_without_a_way_says_so_with_what_is_short_and_what_would_cure_it() {
    let plan = plan("short");
    let words = texts(&section_sheet(&plan, &plan.sections[0])).join(" ");
    for said in [
        "NOT IN THIS SHOP",
        "clean-up: SHORT 0.019",
        "have 0.115, need 0.134",
        "depth: SHORT 12",
        "largest hole 0.158",
        "an electrode of 0.11 that burns 20 deep: room +0.001",
        "make the section in two halves: room not reckoned yet",
    ] {
        assert!(words.contains(said), "{said} is missing in {words}");
    }
}

#[test]
fn a_start_that_is_short_shows_a_solid_overlap_and_says_short_in_two_places() {
    let plan = plan("short");
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let words = texts(&sheet);
    assert!(words.iter().any(|w| w == "SHORT 0.014"), "beside the bars");
    assert!(words.iter().any(|w| w == "SHORT \u{2212}0.014"), "among the figures");
    let view = sheet.views.iter().find(|v| v.name == "tip, start").unwrap();
    assert!(view.items.iter().any(|i| matches!(i, Item::Fill(p) if p.vertices.len() == 4)));
}

#[test]
fn the_start_is_drawn_where_a_hundredth_is_at_least_a_millimetre_and_the_room_can_be_read() {
    for (name, view) in [("slot", "vane-slot, start"), ("square", "window, start"), ("short", "tip, start")] {
        let plan = plan(name);
        let start = plan.sections[0].contours[0].start.as_ref().unwrap();
        let sheet = section_sheet(&plan, &plan.sections[0]);
        let view = sheet.views.iter().find(|v| v.name == view).unwrap();
        assert!(view.scale >= 100.0 && view.window_mm.is_some());
        assert!(start.room_mm.abs() * view.scale >= 1.5, "{name}");
    }
}

#[test]
fn a_large_room_is_shown_whole_at_a_smaller_scale() {
    let mut plan = plan("square");
    let start = plan.sections[0].contours[0].start.as_mut().unwrap();
    (start.x_mm, start.y_mm, start.room_mm, start.nearest_edge_mm) = (0.0, 0.0, 1.6, Some([0.0, -2.0]));
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let view = sheet.views.iter().find(|v| v.name == "window, start").unwrap();
    assert!(view.scale < 100.0);
    assert!(texts(&sheet).iter().any(|t| t == "room +1.600"));
}

#[test]
fn every_view_that_goes_to_a_machine_says_which_face_is_up_and_where_the_datum_corner_lies() {
    let mut plan = plan("square");
    let count = |plan: &package::Plan, said: &str| {
        texts(&section_sheet(plan, &plan.sections[0])).iter().filter(|t| t.contains(said)).count()
    };
    assert_eq!(count(&plan, "cutting face up; datum corner X \u{2212}10 Y \u{2212}7"), 3);
    assert_eq!(count(&plan, "BACK UP"), 0);
    plan.sections[0].programs[0].face_up = FaceUp::Back;
    // Three views, the list of programs, and at the head of both columns.
    assert_eq!(count(&plan, "BACK UP"), 6);
    assert_eq!(count(&plan, "datum corner X \u{2212}10 Y \u{2212}7"), 3);
}

#[test]
fn each_opening_has_its_page_and_many_are_listed_on_several() {
    for (count, pages) in [(0, 1), (1, 2), (10, 11), (11, 13), (40, 44)] {
        let mut plan = plan("slot");
        let contour = plan.sections[0].contours[0].clone();
        plan.sections[0].contours = (0..count).map(|_| contour.clone()).collect();
        let sheet = section_sheet(&plan, &plan.sections[0]);
        assert_eq!(sheet.pages, pages);
        assert_eq!(sheet.size_mm(), [297.0, 210.0 * pages as f64]);
        for page in 1..=pages {
            assert!(texts(&sheet).contains(&format!("{page} / {pages}")));
        }
        assert!(sheet.views.iter().all(|v| page_of(&sheet, v).is_some()));
    }
}

#[test]
fn a_core_is_named_at_a_place_inside_it() {
    let plan = plan("square");
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let words = texts(&sheet);
    assert!(words.iter().any(|w| w == "held 2.601 g"), "beside the core");
    assert!(words.iter().any(|w| w == "core held 2.601 g"), "among the figures");
    let view = sheet.views.iter().find(|v| v.name == "window" && v.window_mm.is_some()).unwrap();
    assert!(view.items.iter().any(|i| matches!(i, Item::Stroke(LineKind::HeldBar, _))));
}

#[test]
fn a_shallow_corner_carries_a_flag_and_a_deep_one_only_its_wedge() {
    let lines = |depth: f64| {
        let mut plan = plan("square");
        let contour = &mut plan.sections[0].contours[0];
        contour.missed_corners = vec![MissedCorner { x_mm: 3.0, y_mm: 2.0, depth_mm: depth }];
        let sheet = section_sheet(&plan, &plan.sections[0]);
        assert!(texts(&sheet).iter().any(|t| t.starts_with("left 0.")));
        let view = sheet.views.iter().find(|v| v.name == "window" && v.window_mm.is_some()).unwrap();
        view.items.iter().filter(|i| matches!(i, Item::Stroke(LineKind::Plain, _))).count()
    };
    // 10:1 there: 0.15 mm is 1.5 mm of paper.
    assert_eq!(lines(0.149), lines(0.151) + 1);
}

#[test]
fn the_narrowest_place_is_named_with_a_bar_on_either_side_of_it() {
    let mut plan = plan("slot");
    let bars = |plan: &package::Plan| {
        let sheet = section_sheet(plan, &plan.sections[0]);
        let view = sheet.views.iter().find(|v| v.name == "vane-slot" && v.window_mm.is_some()).unwrap();
        let bar = |i: &Item| match i {
            Item::Stroke(LineKind::Room, path) => Some(path.vertices.clone()),
            _ => None,
        };
        (view.items.iter().filter_map(bar).collect::<Vec<_>>(), texts(&sheet))
    };
    let (none, words) = bars(&plan);
    assert!(none.is_empty() && words.iter().all(|w| !w.contains("narrowest")));
    let [low, high] = [-0.155, 0.155].map(|y| SidePoint { x_mm: 0.25, y_mm: y });
    plan.sections[0].contours[0].narrowest =
        Some(Narrowest { x_mm: 0.25, y_mm: 0.0, width_mm: 0.31, sides: [low, high] });
    let (two, words) = bars(&plan);
    assert!(words.iter().any(|w| w == "narrowest 0.31") && words.iter().any(|w| w == "narrowest place"));
    // 20:1 there: 2.1 mm of paper back from the edge.
    let heights: Vec<f64> = two.iter().map(|bar| bar[0][1]).collect();
    assert!(
        two.len() == 2 && (heights[0] + 0.26).abs() < 1e-12 && (heights[1] - 0.26).abs() < 1e-12,
        "{two:?}"
    );
}

#[test]
fn kerf_is_dotted_between_edge_core_and_hole_and_nowhere_else() {
    let plan = plan("square");
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let view = sheet.views.iter().find(|v| v.name == "window" && v.window_mm.is_some()).unwrap();
    let dots: Vec<[f64; 2]> = view
        .items
        .iter()
        .filter_map(|i| if let Item::Dots(d) = i { Some(d) } else { None })
        .flatten()
        .copied()
        .collect();
    assert!(dots.len() > 100);
    for [x, y] in dots {
        let core = x.abs() < 2.66 && y.abs() < 1.66 && !(-0.6..=0.0).contains(&x)
            || (-0.6..=0.0).contains(&x) && (-0.5..1.66).contains(&y);
        let hole = (x + 0.3).hypot(y + 1.1) < 0.303;
        assert!(x.abs() < 3.0 && y.abs() < 2.0 && !core && !hole, "a dot at {x} {y}");
    }
}

#[test]
fn kerf_is_not_guessed_where_a_core_has_no_outline() {
    let mut plan = plan("square");
    plan.sections[0].contours[0].cores[0].outline.clear();
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let windows = sheet.views.iter().filter(|v| v.window_mm.is_some());
    assert!(windows.flat_map(|v| &v.items).all(|i| !matches!(i, Item::Dots(_))));
}

#[test]
fn the_key_explains_the_marks_of_its_page_and_no_others() {
    for (name, used, unused) in [
        ("slot", ["core, loose", "room left at edge"], ["core, held", "SHORT: rim over edge"]),
        ("square", ["core, held", "corner left, depth"], ["core, FALLS", "SHORT: rim over edge"]),
    ] {
        let plan = plan(name);
        let words = texts(&section_sheet(&plan, &plan.sections[0]));
        assert!(used.iter().all(|u| words.iter().any(|w| w == u)), "{name}");
        assert!(unused.iter().all(|u| words.iter().all(|w| w != u)), "{name}");
    }
}

#[test]
fn a_punch_has_a_page_with_its_clearance_all_round_and_what_does_not_hold() {
    let mut plan = plan("square");
    let contour = &mut plan.sections[0].contours[0];
    contour.punch = Some(punch(contour));
    let sheet = section_sheet(&plan, &plan.sections[0]);
    assert_eq!(sheet.pages, 3);
    let words = texts(&sheet);
    for said in [
        "TOO MUCH STRESS",
        "BUCKLES",
        "HARDENED BACKING",
        "least +0.0120",
        "most +0.0302",
        "1700 of 1500 N/mm2",
    ] {
        assert!(words.iter().any(|w| w == said), "{said} is missing in {words:?}");
    }
    let page = sheet.views.iter().find(|v| v.name == "window, punch").unwrap();
    let kind = |kind| {
        let of = page.items.iter().filter_map(move |i| match i {
            Item::Stroke(found, path) if *found == kind => Some(path.vertices.clone()),
            _ => None,
        });
        of.collect::<Vec<_>>()
    };
    let asked = kind(LineKind::Asked).remove(0);
    // The key's sample of the finished edge has two points, the run five.
    let run = kind(LineKind::FinishedEdge).into_iter().find(|path| path.len() == 5).unwrap();
    assert!((run[0][1] - asked[0][1]).abs() < 1e-9, "it begins at what is asked for");
    assert!(run[2][1] < asked[0][1] && run[3][1] > asked[0][1]);
}

#[test]
fn the_greatest_tension_has_its_diamond_on_its_own_opening_and_on_the_block() {
    let mut plan = plan("square");
    let words = |plan: &package::Plan| texts(&section_sheet(plan, &plan.sections[0]));
    assert!(words(&plan).iter().all(|word| !word.contains("tension")));
    let [x, y, _] = plan.sections[0].contours[0].target[0];
    let id = plan.sections[0].contours[0].id.clone();
    plan.sections[0].strength = Some(torn(&id, [x, y]));
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let words = texts(&sheet);
    for said in [
        "TOO MUCH: tension 1400 of 1080",
        "holds 0.76 times, 1.25 wanted",
        "\u{2013} corner radius 0.41 would do",
        "tension 1400 of 1080",
        "greatest tension",
    ] {
        assert!(words.iter().any(|word| word == said), "{said} is missing in {words:?}");
    }
    let diamonds = |name: &str| {
        let view = sheet.views.iter().find(|view| view.name == name && view.window_mm.is_some()).unwrap();
        let about = |path: &sheet::Path| {
            let [a, _, b, ..] = path.vertices[..] else { return false };
            path.vertices.len() == 5
                && (a[0] + b[0] - 2.0 * x).abs() < 1e-9
                && (a[1] + b[1] - 2.0 * y).abs() < 1e-9
        };
        view.items.iter().filter(|i| matches!(i, Item::Stroke(LineKind::Plain, path) if about(path))).count()
    };
    assert_eq!((diamonds("from above"), diamonds(&id)), (1, 1));
}

#[test]
fn holes_that_fasten_are_drawn_on_the_block_listed_as_soft_and_explained() {
    let mut plan = plan("square");
    plan.sections[0].fastening = Some(fastening());
    plan.sections[0].strength = Some(torn("window", [1.0, 1.0]));
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let words = texts(&sheet);
    for said in [
        "SOFT: M3, from the back",
        "drill 2.5, 8.75 to its point, use 6",
        "X +7.5  Y +4.5",
        "NO ROOM: dowels",
        "metal to edge `window`: short 0.5",
        "thread, made SOFT",
    ] {
        assert!(words.iter().any(|word| word == said), "{said} is missing in {words:?}");
    }
    assert!(words.iter().all(|word| word != "dowel, made SOFT"));
    let above = sheet.views.iter().find(|view| view.name == "from above").unwrap();
    let threads = above.items.iter().filter(|item| match item {
        Item::Stroke(LineKind::Plain, path) => !path.closed && path.vertices.len() == 3,
        _ => false,
    });
    assert_eq!(threads.count(), 2);
    // The longer key stays above the title block.
    let page = sheet.views.iter().find(|view| view.name == "the block").unwrap();
    let lowest = |words: &str| {
        let texts = page.items.iter().filter_map(|item| match item {
            Item::Text(text) if text.words == words => Some(text.at[1]),
            _ => None,
        });
        texts.fold(f64::INFINITY, f64::min)
    };
    assert!(lowest("datum corner") > 24.0, "{}", lowest("datum corner"));
}

/// A cut that begins beside the block: a cross where the wire stands, no ring, no room, and no word of a hole.
#[test]
fn a_start_from_outside_is_drawn_without_a_hole() {
    let mut plan = plan("slot");
    let section = &mut plan.sections[0];
    let y = section.block_mm()[1] / 2.0 + 6.0;
    let contour = &mut section.contours[0];
    let start = contour.start.as_mut().unwrap();
    (start.kind, start.x_mm, start.y_mm, start.room_mm) = (StartKind::FromOutside, 0.0, y, y);
    start.hole_diameter_mm = HoleDiameter { entry: 0.0, exit: 0.0 };
    (start.depth_mm, start.electrode_mm, start.may_lie_radius_mm) = (0.0, None, None);
    start.nearest_edge_mm = Some([0.0, 0.5]);
    contour.wire.as_mut().unwrap().lead_in = vec![[0.0, y], [0.0, 0.5]];
    let sheet = section_sheet(&plan, &plan.sections[0]);
    let words = texts(&sheet);
    assert!(words.iter().any(|word| word == "from outside: no hole"), "{words:?}");
    for said in ["start hole", "room", "cleans up", "electrode"] {
        assert!(!words.iter().any(|word| word.contains(said)), "{said}: {words:?}");
    }
    assert!(words.iter().any(|word| word == "way into the block"), "{words:?}");
    assert!(!words.iter().any(|word| word.contains("ring")), "{words:?}");
    let round = |item: &Item| match item {
        Item::Stroke(LineKind::StartHole | LineKind::LeadIn, path) => {
            path.vertices.iter().any(|v| v[2] != 0.0)
        }
        _ => false,
    };
    let windows = || sheet.views.iter().filter(|view| view.window_mm.is_some());
    assert!(windows().count() > 2 && !windows().flat_map(|view| &view.items).any(round));
    let above = sheet.views.iter().find(|view| view.name == "from above").unwrap();
    let (top, at) = (above.window_mm.unwrap()[3], above.origin_mm[1] + y * above.scale);
    assert!(at < top, "{at} {top}");
    assert!(above.items.iter().any(|item| matches!(item, Item::Stroke(LineKind::LeadIn, _))));
}
