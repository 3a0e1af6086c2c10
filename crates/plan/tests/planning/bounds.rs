//! Bounds of the start hole that other tests go past: a stated electrode, reach without a way in, the bore's own room.

use crate::bench::{Bench, rounded_rectangle};
use outline::{Outline, Vertex};
use package::{Bound, Contour};

fn contour(outline: Outline, edge: &str, shop: &str) -> Contour {
    let plan = Bench::new(outline, 20.0).shop(shop).edge(&format!("cut = \"finished\"\n{edge}")).plan();
    plan.sections[0].contours[0].clone()
}

fn bound<'a>(contour: &'a Contour, name: &str) -> Option<&'a Bound> {
    contour.start_limits.bounds.iter().find(|bound| bound.bound == name)
}

const SHOP: &str = "name = \"Example\"\nunits = \"mm\"\n";

/// In a wide opening the thick electrode burns fastest; the job may still ask for the thin one.
#[test]
fn a_stated_electrode_is_the_only_one() {
    let wide = || rounded_rectangle(4.0, 4.0, 2.0);
    let chosen = contour(wide(), "", SHOP).start.unwrap().electrode_mm.unwrap();
    assert!(chosen > 0.25, "{chosen}");
    let stated = contour(wide(), "start = { electrode = 0.20 }\n", SHOP).start.unwrap().electrode_mm.unwrap();
    assert_eq!(stated, 0.20);
}

/// Where the wire does not reach at all, that no way in was found says nothing.
#[test]
fn a_wire_that_does_not_reach_asks_for_no_way_in() {
    let corners = [[0.254, 0.0], [0.0, 0.1524], [-0.254, 0.0], [0.0, -0.1524]];
    let rhombus = Outline::new(corners.map(|[x, y]| Vertex::new(x, y, 0.0)).to_vec()).unwrap();
    let shop =
        format!("{SHOP}[[wire]]\ndiameter = 0.25\ngap = 0.025\noffsets = [0.190, 0.142, 0.134, 0.131]\n");
    let found = contour(rhombus, "", &shop);
    assert!(!bound(&found, "reach").unwrap().holds);
    assert!(bound(&found, "lead-in").is_none(), "{:?}", found.start_limits.bounds);
}

/// The bore has its radius less the distance to the hole.
#[test]
fn the_bore_around_a_hole_beside_its_middle() {
    let bore = "start = { at = [0.3, 0.0], back_bore = { diameter = 4.0, depth = 10.0, at = [0.0, 0.4] } }\n";
    let found = contour(rounded_rectangle(2.0, 2.0, 1.0), bore, SHOP);
    let start = found.start.as_ref().unwrap();
    assert_eq!([start.x_mm, start.y_mm], [0.3, 0.0]);
    let room = bound(&found, "bore").unwrap();
    assert!((room.have_mm - 1.5).abs() < 1e-9 && room.holds, "{room:?}");
}
