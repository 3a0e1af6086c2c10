//! The sheet of one section: the block from above, then each opening enlarged with its figures.

use crate::{Item, LineKind, Path, Sheet, View, mark};
use package::{Contour, Plan, PlanSection};

const SCALES: [f64; 12] = [500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1];
const BAND: f64 = 105.0;

/// Draws a section: A4 landscape, growing in height by one band for each opening.
pub fn section_sheet(plan: &Plan, section: &PlanSection) -> Sheet {
    let height = 210.0_f64.max(85.0 + BAND * section.contours.len() as f64);
    let mut page =
        View { name: "page".into(), scale: 1.0, origin_mm: [0.0, 0.0], window_mm: None, items: Vec::new() };
    let mut lines = vec![
        (5.0, "FIRE WATCH: hydrocarbon dielectric burns. Stay by it. ISO 28881.".to_string()),
        (3.5, "Sharp edges and cores. Local codes and the qualified person on site decide.".to_string()),
        (5.0, format!("{} / {}", plan.job.name, section.id)),
    ];
    let [x, y, z] = section.size_mm;
    lines.push((3.5, format!("{} HRC {}, {x} x {y} x {z} mm", section.steel, section.hardness_hrc)));
    lines.push((3.5, format!("{}, {}", plan.shop.name, plan.job.date)));
    lines.push((5.0, "cutting face up; black corner = lower left".to_string()));
    column(&mut page, 10.0, height - 5.0, &lines);
    let mut views = vec![block_view(section, height)];
    for (i, contour) in section.contours.iter().enumerate() {
        let base = height - 85.0 - BAND * (i + 1) as f64;
        views.push(opening_view(contour, base));
        views.extend(start_detail(contour, base).into_iter().flatten());
        column(&mut page, 165.0, base + BAND - 2.0, &figures(i + 1, contour));
    }
    views.push(page);
    Sheet { name: format!("{} {}", plan.job.name, section.id), size_mm: [297.0, height], views }
}

fn column(page: &mut View, x: f64, top: f64, lines: &[(f64, String)]) {
    let mut y = top;
    for (size_mm, words) in lines {
        y -= size_mm + 3.0;
        page.items.push(Item::Text { at: [x, y], size_mm: *size_mm, words: words.clone() });
    }
}

fn largest_scale(width: f64, height: f64, room: [f64; 2]) -> f64 {
    SCALES.into_iter().find(|s| width * s <= room[0] && height * s <= room[1]).unwrap_or(0.1)
}

fn block_view(section: &PlanSection, height: f64) -> View {
    let [x, y, _] = section.size_mm;
    let scale = largest_scale(x, y, [110.0, 52.0]).min(5.0);
    let mut items =
        vec![Item::Stroke(LineKind::Plain, Path::rectangle(-x / 2.0, -y / 2.0, x / 2.0, y / 2.0))];
    let mark = 3.0 / scale;
    items.push(Item::Fill(Path::outline(&[
        [-x / 2.0, -y / 2.0, 0.0],
        [-x / 2.0 + mark, -y / 2.0, 0.0],
        [-x / 2.0, -y / 2.0 + mark, 0.0],
    ])));
    for (i, contour) in section.contours.iter().enumerate() {
        items.push(Item::Stroke(LineKind::FinishedEdge, Path::outline(&contour.target)));
        let [_, y0, x1, _] = bounds(contour);
        let words = format!("{}", i + 1);
        items.push(Item::Text { at: [x1 + 1.0 / scale, y0 - 4.0 / scale], size_mm: 3.5, words });
    }
    scale_bar(&mut items, [-x / 2.0, -y / 2.0 - 6.0 / scale], scale);
    View {
        name: "from above, cutting face up".into(),
        scale,
        origin_mm: [225.0, height - 52.0],
        window_mm: None,
        items,
    }
}

fn scale_bar(items: &mut Vec<Item>, at: [f64; 2], scale: f64) {
    let length = SCALES.into_iter().rev().chain([0.05, 0.02]).find(|l| (8.0..=25.0).contains(&(l * scale)));
    let length = length.unwrap_or(10.0 / scale);
    items.push(Item::Stroke(LineKind::LeadIn, Path::open(&[at, [at[0] + length, at[1]]])));
    let ratio = if scale >= 1.0 { format!("{scale}:1") } else { format!("1:{}", (1.0 / scale).round()) };
    let words = format!("{length} mm   {ratio}");
    items.push(Item::Text { at: [at[0] + length + 2.0 / scale, at[1]], size_mm: 3.5, words });
}

/// Bounds of an outline; an arc of at most half a turn stays within half its chord's length of its chord.
fn bounds(contour: &Contour) -> [f64; 4] {
    let t = &contour.target;
    let mut b = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    for (i, v) in t.iter().enumerate() {
        let w = t[(i + 1) % t.len()];
        let reach = v[2].abs() * (w[0] - v[0]).hypot(w[1] - v[1]) / 2.0;
        b = [b[0].min(v[0] - reach), b[1].min(v[1] - reach), b[2].max(v[0] + reach), b[3].max(v[1] + reach)];
    }
    if t.is_empty() { [0.0; 4] } else { b }
}

fn opening_view(contour: &Contour, base: f64) -> View {
    let [x0, y0, x1, y1] = bounds(contour);
    let scale = largest_scale(x1 - x0, y1 - y0, [140.0, 32.0]);
    let mut items = opening_items(contour, scale);
    scale_bar(&mut items, [x0, y0 - 8.0 / scale], scale);
    let origin = [82.0 - scale * (x0 + x1) / 2.0, base + 80.0 - scale * (y0 + y1) / 2.0];
    View { name: contour.id.clone(), scale, origin_mm: origin, window_mm: None, items }
}

/// The start hole and its surroundings, where 0.01 mm is drawn at least 1 mm.
fn start_detail(contour: &Contour, base: f64) -> Option<[View; 2]> {
    let start = contour.start.as_ref()?;
    let reach = start.may_lie_radius_mm.unwrap_or(start.hole_diameter_mm.entry / 2.0);
    let scale = largest_scale(2.0 * reach, 2.0 * reach, [130.0, 42.0]).max(100.0);
    let window_mm = Some([12.0, base + 10.0, 152.0, base + 56.0]);
    let origin_mm = [82.0 - scale * start.x_mm, base + 33.0 - scale * start.y_mm];
    let name = format!("{}, start", contour.id);
    let detail = View { name, scale, origin_mm, window_mm, items: opening_items(contour, scale) };
    let mut items = Vec::new();
    scale_bar(&mut items, [0.0, 0.0], scale);
    let name = format!("{}, scale of the start", contour.id);
    Some([detail, View { name, scale, origin_mm: [14.0, base + 4.0], window_mm: None, items }])
}

fn opening_items(contour: &Contour, scale: f64) -> Vec<Item> {
    let mut items = Vec::new();
    if contour.clearance_per_side_mm > 0.0 && !contour.drawn.is_empty() {
        items.push(Item::Stroke(LineKind::PrintEdge, Path::outline(&contour.drawn)));
    }
    items.push(Item::Stroke(LineKind::FinishedEdge, Path::outline(&contour.target)));
    for core in contour.cores.iter().filter(|c| !c.outline.is_empty()) {
        items.push(Item::Stroke(LineKind::Core, Path::outline(&core.outline)));
        mark::core(&mut items, core, scale);
    }
    if let Some(wire) = &contour.wire {
        for pass in wire.passes.iter().filter(|p| !p.centre.is_empty()) {
            items.push(Item::Stroke(LineKind::WireCentre, Path::outline(&pass.centre)));
        }
        items.push(Item::Stroke(LineKind::LeadIn, Path::open(&wire.lead_in)));
        mark::ticks(&mut items, wire, scale);
        mark::lead_in(&mut items, wire, scale);
    }
    if let Some(start) = &contour.start {
        let (x, y, r) = (start.x_mm, start.y_mm, start.hole_diameter_mm.entry / 2.0);
        let arm = r + 2.0 / scale;
        items.push(Item::Stroke(LineKind::StartHole, Path::circle(x, y, r)));
        items.push(Item::Stroke(LineKind::StartHole, Path::open(&[[x - arm, y], [x + arm, y]])));
        items.push(Item::Stroke(LineKind::StartHole, Path::open(&[[x, y - arm], [x, y + arm]])));
        mark::room(&mut items, start, scale);
        if let Some(radius) = start.may_lie_radius_mm {
            items.push(Item::Stroke(LineKind::MayLie, Path::circle(x, y, radius)));
        }
    }
    for missed in &contour.missed_corners {
        mark::corner(&mut items, missed, contour, scale);
    }
    items
}

fn figures(number: usize, contour: &Contour) -> Vec<(f64, String)> {
    let mut lines = vec![(5.0, format!("{number}  {}", contour.id))];
    match (&contour.start, &contour.wire) {
        (Some(start), Some(wire)) => {
            lines.push((7.0, format!("X {:+.4}", start.x_mm)));
            lines.push((7.0, format!("Y {:+.4}", start.y_mm)));
            lines.push((5.0, format!("electrode {:.3}, deep {:.2}", start.electrode_mm, start.depth_mm)));
            let word = if start.room_mm < 0.0 { "SHORT" } else { "room" };
            lines.push((5.0, format!("{word} {:+.3}; rim may lie (95 %)", start.room_mm)));
            lines.push((5.0, format!("wire {:.3}", wire.diameter_mm)));
            for (i, pass) in wire.passes.iter().enumerate() {
                lines.push((
                    5.0,
                    format!("pass {}  {}  {:+.4}", i + 1, register(pass.register), pass.offset_mm),
                ));
            }
            for core in &contour.cores {
                let fate = if core.held { "held" } else { "FALLS" };
                lines.push((5.0, format!("core {:.3} g, {fate}", core.mass_g)));
            }
            let missed = contour.missed_corners.iter().map(|m| m.depth_mm).fold(0.0, f64::max);
            if missed > 0.0 {
                let count = contour.missed_corners.len();
                lines.push((3.5, format!("{count} missed corners, deepest {missed:.4}")));
            }
        }
        _ => {
            lines.push((7.0, "NOT IN THIS SHOP".to_string()));
            for b in contour.start_limits.bounds.iter().filter(|b| !b.holds) {
                let short = (b.need_mm - b.have_mm).abs();
                lines.push((
                    3.5,
                    format!("{}: have {:.3}, need {:.3}, SHORT {short:.3}", b.bound, b.have_mm, b.need_mm),
                ));
            }
        }
    }
    lines
}

fn register(register: Option<u32>) -> String {
    register.map_or("wire centre".to_string(), |d| format!("D{d}"))
}
