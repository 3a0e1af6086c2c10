//! What is said about a drawing once all of it is read: bad entities one by one, the rest once a kind.

use crate::entity::Dxf;
use crate::layers::Layers;
use crate::space::{Grouped, LISTED_FAULTS, Space};
use remark::{Place, Remark};

impl Dxf {
    /// Adds the remarks about the lists of entities that are used, in this order. `truncated` is the last line of a file without end mark,
    /// and the line of the last entity.
    pub(crate) fn say(
        &mut self,
        spaces: Vec<Space>,
        mut layers: Layers,
        truncated: Option<(u32, Option<u32>)>,
    ) {
        let mut grouped = Grouped::new();
        let (mut listed, mut more) = (Vec::new(), 0);
        for space in spaces {
            more += space.more_faults;
            listed.extend(space.faults);
            for (kind, count) in space.skipped {
                *self.skipped.entry(kind).or_insert(0) += count;
            }
            for (key, (line, count)) in space.grouped {
                grouped.entry(key).or_insert((line, 0)).1 += count;
            }
        }
        more += listed.len().saturating_sub(LISTED_FAULTS);
        let file = self.file.as_str();
        let mut remarks: Vec<Remark> =
            listed.into_iter().take(LISTED_FAULTS).map(|fault| fault.remark(file)).collect();
        if more > 0 {
            let message = format!("{more} more entities cannot be used");
            remarks.push(Remark::error("faults-many", message).place(Place::file(file)));
        }
        remarks.extend(truncated.map(|(line, last)| cut_off(file, line, last)));
        let of_kind = |((code, kind), (line, count)): ((&str, String), (u32, u64))| {
            grouped_remark(code, &kind, count).place(Place::file(file).line(line))
        };
        remarks.extend(grouped.into_iter().map(of_kind));
        let blocks = self.blocks.values().flat_map(|block| &block.entities);
        blocks.chain(&self.entities).for_each(|entity| layers.used(&entity.layer, entity.line));
        remarks.extend(layers.notes(file));
        self.remarks = remarks;
    }
}

fn cut_off(file: &str, line: u32, last: Option<u32>) -> Remark {
    let mut message = "the file has no end-of-file mark, so the end of it may be lost".to_owned();
    if let Some(last) = last {
        message.push_str(&format!("; the last entity read stands on line {last}"));
    }
    Remark::warning("truncated", message)
        .place(Place::file(file).line(line))
        .cure("copy or save the drawing again")
}

/// One remark for all entities of a kind; the place is the first of them.
fn grouped_remark(code: &str, kind: &str, count: u64) -> Remark {
    match code {
        "paper-space" => Remark::note(code, format!("{kind}: {count} in the paper space, passed over")),
        "entity-hidden" => Remark::note(code, format!("{kind}: {count} invisible, used all the same")),
        "polyline-count" => {
            Remark::warning(code, format!("{kind}: {count} with more or fewer vertices than it says"))
                .cure("look at the outline before use")
        }
        "polyline-fitted" => Remark::warning(
            code,
            format!("{kind}: {count} curve-fitted, read as the lines and arcs that stand for the curve"),
        )
        .cure("look at the outline before use, or draw the curve as lines and arcs"),
        "line-tilted" | "extrusion-tilted" | "spline-tilted" => {
            Remark::warning(code, format!("{kind}: {count} outside the drawing plane, passed over"))
                .cure("draw it in the plane")
        }
        _ => Remark::warning(code, format!("{kind}: {count} passed over, though it could be geometry"))
            .cure("draw it as lines, arcs, circles, ellipses, splines or flat polylines"),
    }
}
