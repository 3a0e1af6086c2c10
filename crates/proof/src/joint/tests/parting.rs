//! What a joint parts: the block in two halves and no more, and the island that an opening over it leaves.

use super::*;

/// Prongs on either side of a tongue, 3 wide, that the joint cuts off.
fn pronged(along: Along, [left, right]: [f64; 2], root: f64) -> PlanSection {
    let mut section = split(along);
    let places = [
        [-4.0, -1.0],
        [3.0, -1.0],
        [3.0, 5.0],
        [right, 5.0],
        [right, root],
        [left, root],
        [left, 5.0],
        [-4.0, 5.0],
    ];
    section.contours[0].target = places.map(|at| place(along, at)).map(|[x, y]| [x, y, 0.0]).to_vec();
    *start_of(&mut section) = ground(along, [2.0, AT]);
    section
}

#[test]
fn a_joint_and_its_openings_part_two_halves() {
    for along in WAYS {
        nothing(&pronged(along, [-2.0, 1.0], 1.6));
        only(&pronged(along, [-2.0, 1.0], 0.0), "its joint and openings part it in 3 pieces");
        // 0.02 of metal below the joint, 0.004 or 0.006 wide: 0.00008 mm2 are dust, 0.00012 are not.
        nothing(&pronged(along, [0.0, 0.004], AT - 0.02));
        only(&pronged(along, [0.0, 0.006], AT - 0.02), "part it in 3 pieces");
        // Beside the block it parts nothing; and a contour that stands parts nothing either.
        let mut out = split(along);
        halves(&mut out).at_mm = 10.5;
        assert!(said(&out).iter().any(|one| one.contains("part it in 1 pieces")));
        let mut band = split(along);
        band.contours[1] = opening(along, "beside", [-16.0, 6.0], [16.0, 7.0], None);
        only(&band, "part it in 3 pieces");
        band.contours[1].side = Side::Outside;
        nothing(&band);
    }
}

/// All places of a slit lie on the joint, and it ends beyond what it parts.
#[test]
fn a_slit_goes_beyond_what_it_parts() {
    for along in WAYS {
        let slit = slit(along, AT, 4.0);
        let places: Vec<Place> = slit.iter().flatten().map(|at| place(along, *at)).collect();
        let far = |k: usize, sign: f64| places.iter().map(|at| sign * at[k]).fold(f64::MIN, f64::max);
        assert!(far(0, 1.0) > 4.0 && far(0, -1.0) > 4.0, "{places:?}");
        assert!((far(1, 1.0) - AT - 1e-5).abs() < 1e-12 && (far(1, -1.0) + AT - 1e-5).abs() < 1e-12);
        assert_eq!(places.len(), 4);
    }
}

/// Joined to what is cleared: a kerf around an island 4 x 4 becomes two islands on either side of the joint.
#[test]
fn a_joint_parts_the_island_that_its_opening_leaves() {
    for along in WAYS {
        let ring = |low: f64, high: f64| {
            let places = [[low, low], [high, low], [high, high], [low, high]];
            counter_clockwise(places.map(|at| place(along, at)).to_vec())
        };
        let (outer, mut inner) = (ring(-3.0, 3.0), ring(-2.0, 2.0));
        inner.reverse();
        let cleared = vec![vec![outer, inner]];
        let islands = |start: Option<Start>| {
            let contour = opening(along, "c", [-3.0, -3.0], [3.0, 3.0], start);
            let found = parted(&cleared, &contour);
            let mut areas: Vec<f64> =
                found.iter().flat_map(|shape| shape.iter().skip(1)).map(|hole| area(hole).abs()).collect();
            areas.sort_by(f64::total_cmp);
            areas
        };
        let near = |found: &[f64], expected: &[f64]| {
            found.len() == expected.len() && found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-3)
        };
        // At 1.5 across: 4 x 0.5 above, 4 x 3.5 below; without half-rounds nothing is parted.
        let found = islands(Some(ground(along, [0.25, AT])));
        assert!(near(&found, &[2.0, 14.0]), "{found:?}");
        assert!(near(&islands(Some(burned(along, [0.25, AT]))), &[16.0]));
        assert!(near(&islands(None), &[16.0]));
    }
}

#[test]
fn sides_of_a_joint_are_counted_across_it() {
    for along in WAYS {
        let mut section = split(along);
        assert_eq!(half_sides(&section, section.halves.as_ref().expect("it is split")), (15.0, 10.0));
        let halves = halves(&mut section);
        assert_eq!(across(halves, place(along, [7.0, 4.0])), 2.5);
        assert_eq!(across(halves, place(along, [7.0, 0.5])), -1.0);
    }
}
