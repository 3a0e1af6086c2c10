//! Plans from files, and what stands on a sheet: its words, where they lie, on which page.

use package::{
    Buckling, BucklingCase, Clearance, Contour, FaceUp, Fastening, FasteningHole, FasteningKind,
    FasteningMade, FasteningRefused, Plan, Punch, PunchCorners, PunchStrength, SectionStrength,
    SectionSupport, SmallestPunch,
};
use sheet::{End, Item, Sheet, Text, View};

/// A hand-made plan of `tests/plans`.
pub fn plan(name: &str) -> Plan {
    let path = format!("{}/tests/plans/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("a file of tests/plans");
    serde_json::from_str(&text).expect("a plan")
}

/// A peak at a place of an edge, too much for the steel.
pub fn torn(contour: &str, [x_mm, y_mm]: [f64; 2]) -> SectionStrength {
    SectionStrength {
        peak_mpa: 1400.0,
        x_mm,
        y_mm,
        contour: Some(contour.into()),
        error_share: 0.02,
        pressures: Vec::new(),
        support: SectionSupport::FreeStanding,
        limit_mpa: 1080.0,
        safety: 0.756,
        safety_wanted: 1.25,
        holds: false,
        radius_needed_mm: Some(0.41),
        wall_needed_mm: None,
    }
}

/// Two screws, and no room for dowels.
pub fn fastening() -> Fastening {
    let screw = |x_mm: f64, y_mm: f64| FasteningHole {
        kind: FasteningKind::Screw,
        thread: Some("M3".into()),
        from_face: FaceUp::Back,
        x_mm,
        y_mm,
        diameter_mm: 3.0,
        drill_mm: 2.5,
        minor_mm: Some(2.459),
        depth_mm: 6.0,
        drill_depth_mm: 8.75,
        clear_mm: None,
        room_mm: 0.4,
    };
    let refused = FasteningRefused {
        kind: FasteningKind::Dowel,
        bound: "metal to edge `window`".into(),
        have_mm: 2.5,
        need_mm: 3.0,
        cures: Vec::new(),
    };
    let holes = vec![screw(7.5, 4.5), screw(-7.5, -4.5)];
    Fastening { made: FasteningMade::Soft, holes, refused: vec![refused] }
}

/// A punch for an opening, too long and under too much load.
pub fn punch(contour: &Contour) -> Punch {
    let start = contour.target[0];
    let buckling = Buckling {
        case: BucklingCase::Euler,
        length_factor: 2.0,
        second_moment_mm4: 31.5,
        load_n: 5000.0,
        reserve: 0.5,
        longest_mm: 35.4,
    };
    let smallest =
        SmallestPunch { width_mm: 3.9, width_by_metal_mm: 0.6, across_mm: 4.7, across_by_stress_mm: 0.4 };
    let strength = PunchStrength {
        load_n: 10_000.0,
        stress_mpa: 1700.0,
        cutting_stress_mpa: 420.0,
        stress_limit_mpa: 1500.0,
        buckling,
        smallest,
        head_area_mm2: 23.4,
        head_pressure_mpa: 427.0,
        backing_needed: true,
        holds: false,
    };
    Punch {
        steel: "M2".into(),
        hardness_hrc: 63.0,
        length_mm: 50.0,
        guided: "free".into(),
        target: contour.drawn.clone(),
        edge: contour.drawn.clone(),
        size_mm: [5.94, 3.94],
        wire_mm: 0.25,
        offset_mm: 0.131,
        corners: PunchCorners {
            opening_mm: Some(0.131),
            punch_mm: Some(0.101),
            punch_inside_mm: Some(0.131),
            opening_outside_mm: Some(0.101),
        },
        clearance_mm: 0.03,
        clearance_least: Clearance { value_mm: 0.012, x_mm: 3.0, y_mm: 0.5 },
        clearance_most: Clearance { value_mm: 0.0302, x_mm: -3.0, y_mm: -1.0 },
        clearance_plot: vec![[0.0, 0.03], [6.0, 0.03], [8.5, 0.012], [10.0, 0.0302], [20.0, 0.03]],
        clearance_from: [start[0], start[1]],
        opening: contour.target.clone(),
        strength: Some(strength),
        holds: false,
    }
}

fn of_view(view: &View) -> impl Iterator<Item = &Text> {
    view.items.iter().filter_map(|i| if let Item::Text(text) = i { Some(text) } else { None })
}

/// All words, in drawing order.
pub fn texts(sheet: &Sheet) -> Vec<String> {
    sheet.views.iter().flat_map(of_view).map(|t| t.words.clone()).collect()
}

/// All words as another program reads them from the SVG.
pub fn svg_texts(svg: &str) -> Vec<String> {
    let document = roxmltree::Document::parse(svg).expect("well-formed XML");
    let words = |n: roxmltree::Node| n.descendants().filter_map(|d| d.is_text().then(|| d.text())?).collect();
    document.descendants().filter(|n| n.has_tag_name("text")).map(words).collect()
}

/// Boxes of all words on paper: x0, y0, x1, y1 in mm, with what hangs below the baseline.
pub fn boxes(sheet: &Sheet) -> Vec<([f64; 4], String)> {
    let mut boxes = Vec::new();
    for view in &sheet.views {
        for text in of_view(view) {
            let [ox, oy] = view.origin_mm;
            let (x, y) = (ox + text.at[0] * view.scale, oy + text.at[1] * view.scale);
            let wide = text.wide_mm();
            let x0 = if text.from == End::Left { x } else { x - wide };
            boxes.push(([x0, y - 0.28 * text.size_mm, x0 + wide, y + text.size_mm], text.words.clone()));
        }
    }
    boxes
}

/// The page that a view lies on, counted from the last.
pub fn page_of(sheet: &Sheet, view: &View) -> Option<usize> {
    let high = sheet.page_mm[1];
    let [low, top] = match view.window_mm {
        Some([_, y0, _, y1]) => [y0, y1],
        None => [view.origin_mm[1], view.origin_mm[1]],
    };
    let page = (low / high).floor();
    (top < (page + 1.0) * high && (page as usize) < sheet.pages).then_some(page as usize)
}
