//! Hold points: where somebody must look before the wire cuts, and what a measured hole says about going on.

use crate::candidate::Setting;
use crate::choice::SURE;
use job::{Edge, Position};
use outline::Point;
use package::Start;
use remark::Remark;

/// The remarks on one edge's hole; `start` where every bound is kept.
pub fn remarks(setting: Setting, start: Option<&Start>) -> Vec<Remark> {
    let note = |code: &str, message: String| Remark::note(code, message).place(setting.edge.place.clone());
    let mut found: Vec<Remark> =
        setting.burn.bore.iter().flat_map(|bore| bore.remarks(setting.edge)).collect();
    let Some(start) = start else { return found };
    if start.measured.is_some() {
        found.push(note("hold-point", goes_on(setting, start)));
        return found;
    }
    if setting.burn.method == Position::Following {
        found.push(note("hold-point", follow(setting)));
    }
    let below = setting.shop.allowance.measure_below.value;
    let tight = start.room_mm < below || start.clean_up_probability < SURE;
    if tight && start.half_round.is_some() {
        found.push(note("hold-point", joined(setting, start)));
    } else if tight {
        let message = format!(
            "edge `{}`: HOLD: room {:.3}: once it is burned, measure the hole at both faces before the wire cuts, state it as `start.measured` and plan again",
            setting.edge.id, start.room_mm
        );
        found.push(note("hold-point", message));
    }
    found
}

/// What the head of a wire program says about holes that are to be followed.
pub fn at_the_machine<'e>(edges: impl Iterator<Item = &'e Edge>) -> Vec<String> {
    let followed = edges.filter(|edge| edge.start.method() == Position::Following);
    followed
        .flat_map(|edge| {
            [
                format!("HOLD: FIND THE CENTRE OF THE HOLE OF EDGE {}", edge.id),
                "BEFORE ANYTHING IS CUT, AND SHIFT THE PROGRAM WITH IT".to_owned(),
            ]
        })
        .collect()
}

/// Half-rounds are checked once the halves are joined.
fn joined(setting: Setting, start: &Start) -> String {
    let free = setting.opening.clear(Point::new(start.x_mm, start.y_mm));
    let within = free - setting.shop.allowance.clean_up_stock.value;
    // Rounded down: a rim that lies farther out may leave a scar.
    let within = (within * 1e3).floor() / 1e3;
    format!(
        "edge `{}`: HOLD: room {:.3}: once the halves are joined, measure the hole at both faces: all of its rim must lie within {within:.3} of x {:.4} y {:.4}, or the cut may not go on",
        setting.edge.id, start.room_mm, start.x_mm, start.y_mm
    )
}

fn follow(setting: Setting) -> String {
    format!(
        "edge `{}`: HOLD: find the burned hole's centre on the wire machine before anything is cut, and shift the program with it: only while the outside of the block is still to be finished",
        setting.edge.id
    )
}

/// The measured hole keeps every bound.
fn goes_on(setting: Setting, start: &Start) -> String {
    let measured = setting.burn.measured.as_ref();
    let light = measured.map_or(0.0, |measured| measured.light.value);
    let from_aim = match &setting.edge.start.at {
        Some([x, y]) => {
            let off = (start.x_mm - x.value).hypot(start.y_mm - y.value);
            format!(", {off:.4} from where it was stated")
        }
        None => String::new(),
    };
    format!(
        "edge `{}`: THE CUT MAY GO ON: measured hole, room {:.3}; thread at x {:.4} y {:.4}{from_aim}; {light:.3} of it are open straight through",
        setting.edge.id, start.room_mm, start.x_mm, start.y_mm
    )
}
