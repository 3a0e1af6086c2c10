//! A strip chart: a run over a way, with a dashed line for what is asked for, its axes in round steps.

use crate::letters::fit;
use crate::{End, Item, LineKind, Path, Text, figure};

/// Height of the figures along the axes, mm.
const SIZE: f64 = 3.5;
/// For the figures left of the chart and below it, mm.
const LEFT: f64 = 20.0;
const BELOW: f64 = 8.0;
/// At most so many steps along an axis.
const UP: f64 = 6.0;
const ALONG: f64 = 5.0;

/// What a chart shows.
#[derive(Debug)]
pub struct Chart<'a> {
    /// Way and value, ways rising.
    pub run: &'a [[f64; 2]],
    /// The value that is asked for.
    pub asked: f64,
}

/// Draws the chart into a box of the page.
pub fn set(page: &mut Vec<Item>, chart: &Chart, [x0, y0, x1, y1]: [f64; 4]) {
    let (Some(first), Some(last)) = (chart.run.first(), chart.run.last()) else { return };
    let values = || chart.run.iter().map(|place| place[1]).chain([0.0, chart.asked]);
    let (low, high) = (values().fold(0.0, f64::min), values().fold(0.0, f64::max));
    let up = step((high - low) / UP);
    let along = step((last[0] - first[0]) / ALONG);
    if !(up > 0.0 && along > 0.0) {
        return;
    }
    let (bottom, top) = ((low / up).floor() * up, (high / up).ceil() * up);
    let [left, right, base, head] = [x0 + LEFT, x1 - 2.0, y0 + BELOW, y1 - SIZE];
    let x = |way: f64| left + (right - left) * (way - first[0]) / (last[0] - first[0]);
    let y = |value: f64| base + (head - base) * (value - bottom) / (top - bottom);
    let line = |kind, ends: [[f64; 2]; 2]| Item::Stroke(kind, Path::open(&ends));
    page.push(Item::Stroke(LineKind::Plain, Path::rectangle(left, base, right, head)));
    for i in 0..=((top - bottom) / up).round() as u32 {
        let value = bottom + f64::from(i) * up;
        let kind = if value.abs() < up / 2.0 { LineKind::LeadIn } else { LineKind::Plain };
        page.push(line(kind, [[left - 1.5, y(value)], [right, y(value)]]));
        let words = figure::size(value, decimals(up));
        label(page, words, [left - 2.5, y(value) - SIZE / 2.0], End::Right, LEFT - 3.0);
    }
    for i in 0..=((last[0] - first[0]) / along + 1e-9).floor() as u32 {
        let way = first[0] + f64::from(i) * along;
        page.push(line(LineKind::Plain, [[x(way), base - 1.5], [x(way), base]]));
        let from = if i == 0 { End::Left } else { End::Right };
        label(page, figure::size(way, decimals(along)), [x(way), base - 2.5 - SIZE], from, 20.0);
    }
    page.push(line(LineKind::Asked, [[left, y(chart.asked)], [right, y(chart.asked)]]));
    let run: Vec<[f64; 2]> = chart.run.iter().map(|[way, value]| [x(*way), y(*value)]).collect();
    page.push(Item::Stroke(LineKind::FinishedEdge, Path::open(&run)));
}

fn label(page: &mut Vec<Item>, words: String, at: [f64; 2], from: End, wide: f64) {
    let fitted = fit(&words, wide, SIZE, 1.5, 1);
    page.push(Item::Text(Text { at, from, size_mm: fitted.size, words: fitted.lines.concat() }));
}

/// The least of 1, 2 and 5 times a power of ten that is not below `least`.
fn step(least: f64) -> f64 {
    if !(least > 0.0 && least.is_finite()) {
        return 0.0;
    }
    let mut power = 1.0;
    while power * 10.0 <= least {
        power *= 10.0;
    }
    while power > least {
        power /= 10.0;
    }
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|m| m * power).find(|s| *s >= least).unwrap_or(10.0 * power)
}

/// Decimals that a step of an axis needs.
fn decimals(step: f64) -> usize {
    (0..9).find(|decimals| step * 10f64.powi(*decimals) >= 0.999).unwrap_or(9) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_just_large_enough() {
        for (least, wanted) in
            [(0.0041, 0.005), (0.9, 1.0), (1.0, 1.0), (2.1, 5.0), (31.0, 50.0), (77.0, 100.0)]
        {
            assert!((step(least) / wanted - 1.0).abs() < 1e-12, "{least}: {}", step(least));
        }
        assert_eq!([step(0.0), step(f64::NAN)], [0.0, 0.0]);
        assert_eq!([0.005, 0.2, 1.0, 50.0].map(decimals), [3, 1, 0, 0]);
    }

    #[test]
    fn the_run_stays_in_its_box_and_touches_both_sides() {
        for run in
            [vec![[0.0, 0.02], [9.7, 0.02]], vec![[0.0, -0.013], [0.4, 0.021], [9.0, 0.025], [9.7, -0.013]]]
        {
            let mut page = Vec::new();
            set(&mut page, &Chart { run: &run, asked: 0.025 }, [10.0, 20.0, 184.0, 90.0]);
            let drawn = page.iter().find_map(|item| match item {
                Item::Stroke(LineKind::FinishedEdge, path) => Some(path.vertices.clone()),
                _ => None,
            });
            let drawn = drawn.unwrap();
            assert_eq!((drawn[0][0], drawn[drawn.len() - 1][0]), (30.0, 182.0));
            assert!(drawn.iter().all(|v| v[1] > 27.9 && v[1] < 86.6), "{drawn:?}");
        }
    }
}
