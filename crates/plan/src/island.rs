//! Metal that stands inside an opening on its drawing. A wire that cuts round the opening frees it with the core: such an
//! opening is planned as far as it goes, and refused with the reason.

use crate::contour::Decided;
use crate::opening::Opening;
use job::Edge;
use outline::Outline;
use package::Island;
use remark::Remark;

/// Refuses an edge with metal inside, whatever else there is to say about it.
pub fn refuse(edge: &Edge, opening: &Opening, one: &mut Decided) {
    if opening.islands.is_empty() {
        return;
    }
    one.contour.start = None;
    one.contour.islands = opening.islands.iter().map(|(id, outline)| island(id, outline)).collect();
    // What the verdict would hang on without the metal is beside the point.
    one.remarks.retain(|remark| remark.code != "verdict-hangs-on");
    one.remarks.extend(one.contour.islands.iter().map(|island| remark(edge, island)));
}

fn island(id: &str, outline: &Outline) -> Island {
    let point = outline.vertices()[0].point;
    Island {
        drawn_as: id.to_owned(),
        x_mm: point.x,
        y_mm: point.y,
        outline: outline.vertices().iter().map(|v| [v.point.x, v.point.y, v.bulge]).collect(),
        cures: vec![
            format!("a section of its own for {id}, set into the opening, with an edge that names it"),
            format!("{id} in another drawing, if it is no metal of this section"),
        ],
    }
}

fn remark(edge: &Edge, island: &Island) -> Remark {
    let message = format!(
        "edge `{}`: metal standing inside, outline {} at x {:.4} y {:.4}, would fall with the core: a wire cannot leave an \
         island in an opening",
        edge.id, island.drawn_as, island.x_mm, island.y_mm
    );
    let place = edge.place.clone().at(island.x_mm, island.y_mm);
    let remark = Remark::warning("island", message).place(place);
    island.cures.iter().fold(remark, |remark, cure| remark.cure(cure.clone()))
}
