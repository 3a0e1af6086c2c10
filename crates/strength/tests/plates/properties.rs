//! What must hold of any plate: uniform stress is found exactly, nothing changes by moving, turning, scaling, mirroring or another start
//! vertex, a wall on a line of symmetry is the other half, and the estimate covers the error.

use crate::shapes::{NU, circle, close, outline, rectangle, region, rounded, solved};
use outline::{Outline, Point, Vector};
use proptest::prelude::*;
use strength::{Edge, Load, Place, Region, Stresses, Support};

/// Pressed all over, openings included, every place has the same stress, exactly.
#[test]
fn pressed_all_over() {
    let plate =
        region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.3), circle(1.5).moved(Vector::new(6.0, 2.0))]);
    let everywhere = [Edge::Outer, Edge::Opening(0), Edge::Opening(1)].map(|edge| Load::around(edge, 100.0));
    let found = solved(&plate, &everywhere, &[], 0.02);
    assert!((found.tension.mpa + 100.0).abs() < 1e-7, "{found:?}");
    assert!((found.equivalent.mpa - 100.0 * (1.0 - 2.0 * NU)).abs() < 1e-7, "{found:?}");
    assert!(found.error_share < 1e-8, "{found:?}");
}

/// A rectangle turned by any angle and pulled differently along its two directions has the greater pull everywhere.
#[test]
fn pulled_two_ways() {
    for degrees in [0.0f64, 17.0, 30.0, 45.0, 88.0] {
        let plate = region(rectangle(24.0, 16.0).turned(Point::new(3.0, -2.0), degrees.to_radians()), vec![]);
        let loads =
            [(0, -40.0), (2, -40.0), (1, -100.0), (3, -100.0)].map(|(s, p)| Load::on(Edge::Outer, s, p));
        let found = solved(&plate, &loads, &[], 0.02);
        assert!((found.tension.mpa - 100.0).abs() < 1e-8, "{found:?}");
    }
}

/// A bar pulled away from a wall hangs on it; pushed, it leans on it.
#[test]
fn a_wall_pushes_or_pulls() {
    let bar = region(rectangle(20.0, 5.0), vec![]);
    for (pull, pulling) in [(30.0, 5.0), (-30.0, 0.0)] {
        for wall in [Support::rigid(3), Support::springy(3, 1e4)] {
            let found = solved(&bar, &[Load::on(Edge::Outer, 1, -pull)], &[wall], 0.02);
            let held = found.supports[0];
            assert!((held.force_n_per_mm + pull * 5.0).abs() < 1e-6, "{held:?}");
            assert!((held.pulling_mm - pulling).abs() < 1e-9, "{held:?}");
        }
    }
}

/// Half a plate against a rigid wall is a whole plate with everything twice; so is a quarter in a corner.
#[test]
fn a_wall_is_the_other_half() {
    let opening = rounded(3.0, 2.0, 0.2);
    let at = |x: f64, y: f64| opening.moved(Vector::new(x, y));
    let load = |n: usize| (0..n).map(|i| Load::around(Edge::Opening(i), 100.0)).collect::<Vec<_>>();
    let quarter = region(rectangle(12.0, 8.0).moved(Vector::new(6.0, 4.0)), vec![at(3.0, 2.0)]);
    let half = region(rectangle(12.0, 16.0).moved(Vector::new(6.0, 0.0)), vec![at(3.0, 2.0), at(3.0, -2.0)]);
    let whole =
        region(rectangle(24.0, 16.0), vec![at(3.0, 2.0), at(3.0, -2.0), at(-3.0, 2.0), at(-3.0, -2.0)]);
    let whole = solved(&whole, &load(4), &[], 0.005);
    let half = solved(&half, &load(2), &[Support::rigid(3)], 0.005);
    let quarter = solved(&quarter, &load(1), &[Support::rigid(3), Support::rigid(0)], 0.005);
    for part in [half, quarter] {
        close(part.tension.mpa, whole.tension.mpa, 0.005, "part of a plate");
        close(part.equivalent.mpa, whole.equivalent.mpa, 0.005, "part of a plate");
    }
}

/// The pressure in an opening near the edge bends the wall between; the finer answer lies within the estimate of the coarser.
#[test]
fn thin_walls() {
    for wall in [2.0, 0.5, 0.1, 0.02] {
        let opening = rounded(4.0, 3.0, 0.15).moved(Vector::new(0.0, 8.0 - 1.5 - wall));
        let plate = region(rectangle(24.0, 16.0), vec![opening]);
        let loads = [Load::around(Edge::Opening(0), 10.0)];
        let (coarse, fine) = (solved(&plate, &loads, &[], 0.02), solved(&plate, &loads, &[], 0.002));
        close(
            coarse.tension.mpa,
            fine.tension.mpa,
            coarse.error_share + fine.error_share,
            &format!("wall of {wall}"),
        );
        // A wall on its own, clamped at both ends: p L^2 / (2 t^2) there at least, the corners' notch on top.
        assert!(
            fine.tension.mpa > 10.0 * 3.7 * 3.7 / (2.0 * wall * wall) * if wall < 0.3 { 1.0 } else { 0.0 },
            "{fine:?}"
        );
    }
}

/// Between two round openings, and beside one, little metal is left; the web's triangles must follow both arcs.
#[test]
fn webs() {
    for web in [0.1, 0.001] {
        let pair = vec![circle(1.0), circle(1.0).moved(Vector::new(2.0 + web, 0.0))];
        let loads = [Load::around(Edge::Opening(0), 10.0), Load::around(Edge::Opening(1), 10.0)];
        let plate = region(rectangle(24.0, 16.0), pair);
        let (coarse, fine) = (solved(&plate, &loads, &[], 0.02), solved(&plate, &loads, &[], 0.002));
        close(
            coarse.tension.mpa,
            fine.tension.mpa,
            coarse.error_share + fine.error_share,
            &format!("web of {web}"),
        );
        assert!(fine.tension.at.y.abs() < 0.1 && (fine.tension.at.x - 1.0).abs() < 0.15, "{fine:?}");
    }
}

#[test]
fn the_same_request_gives_the_same_answer() {
    let plate = region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.2)]);
    let loads = [Load::around(Edge::Opening(0), 100.0)];
    assert_eq!(solved(&plate, &loads, &[], 0.01), solved(&plate, &loads, &[], 0.01));
}

/// Near a right angle between two walls, a chamfer between them has ends without limit; the opening's peak is found all the same.
#[test]
fn ends_of_walls_are_not_judged() {
    let chamfered = outline(&[
        (-12.0, -8.0, 0.0),
        (12.0, -8.0, 0.0),
        (12.0, 6.0, 0.0),
        (10.0, 8.0, 0.0),
        (-12.0, 8.0, 0.0),
    ]);
    let plate = region(chamfered, vec![rounded(3.0, 2.0, 0.2)]);
    let loads = [Load::around(Edge::Opening(0), 100.0)];
    let walls = [0, 1, 3, 4].map(Support::rigid);
    let found = solved(&plate, &loads, &walls, 0.01);
    let ends: Vec<Point> = found.unjudged.iter().map(|u| u.at).collect();
    assert_eq!(ends, [Point::new(12.0, 6.0), Point::new(10.0, 8.0)]);
    assert!(matches!(found.tension.place, Place::Edge { edge: Edge::Opening(0), .. }), "{found:?}");
    let square = solved(
        &region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.2)]),
        &loads,
        &[0, 1, 2, 3].map(Support::rigid),
        0.01,
    );
    assert!(square.unjudged.is_empty());
    close(found.tension.mpa, square.tension.mpa, 0.02, "with a chamfer far from the opening");
}

/// A random opening: a star with round corners.
fn star() -> impl Strategy<Value = Outline> {
    let spokes = prop::collection::vec((0.15..0.85f64, 0.45..1.0f64), 3..8);
    (spokes, 0.4..5.0f64, 0.05..0.25f64).prop_filter_map("crosses itself", |(spokes, size, radius)| {
        let n = spokes.len() as f64;
        let corner = |(i, (turn, reach)): (usize, &(f64, f64))| {
            Point::new(0.0, 0.0)
                + Vector::at_angle(std::f64::consts::TAU * (i as f64 + turn) / n) * (size * reach)
        };
        let corners: Vec<Point> = spokes.iter().enumerate().map(corner).collect();
        Outline::new(crate::shapes::filleted(&corners, radius)).ok()
    })
}

/// A star whose bare estimate fell short of what finer triangles found, by a thousandth of itself.
#[test]
fn a_quarter_more_covers_what_the_bare_estimate_did_not() {
    let corners = [
        (0.7591138747355061, 0.5356178248198804, 0.18722616335838455),
        (0.7110191338954232, 0.6018614329785084, 0.0),
        (-0.3405653544465487, 1.2798302379951028, 0.3895488966835412),
        (-0.49141823991390265, 1.2538917691244127, 0.0),
        (-0.9041173230824993, 0.7194775781774796, 0.11121930249881148),
        (-0.9251169059559755, 0.6744116560527649, 0.0),
        (-1.3043916826782107, -1.0663107685695674, 0.3490930687744262),
        (-1.2422264057660168, -1.192670788047511, 0.0),
        (-0.45664774629054455, -1.5642929498477176, 0.1874852644022199),
        (-0.3748882524468333, -1.5701235094610912, 0.0),
        (1.0834930800919842, -1.1198330262595186, 0.4020635351637298),
        (1.159515418516992, -0.9828816643314244, 0.0),
    ];
    let star = Outline::new(corners.iter().map(|c| outline::Vertex::new(c.0, c.1, c.2)).collect()).unwrap();
    let walls = [Support::rigid(0)];
    let coarse = pressed(rectangle(24.0, 16.0), star.clone(), &walls, 0.02).unwrap();
    let fine = pressed(rectangle(24.0, 16.0), star, &walls, 0.005).unwrap();
    let apart = (coarse.tension.mpa - fine.tension.mpa).abs() / fine.tension.mpa;
    let most = coarse.error_share + fine.error_share;
    assert!(apart <= most, "{apart} {most}");
}

/// A block with the opening in it and what presses and holds.
fn pressed(outer: Outline, opening: Outline, walls: &[Support], settle: f64) -> Option<Stresses> {
    let plate = Region::new(outer, vec![opening]).ok()?;
    Some(solved(&plate, &[Load::around(Edge::Opening(0), 100.0)], walls, settle))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, ..ProptestConfig::default() })]

    #[test]
    fn the_estimate_covers_the_error(opening in star(), walls in prop::collection::vec(any::<bool>(), 4)) {
        let walls: Vec<Support> = (0..4).filter(|i| walls[*i]).map(Support::rigid).collect();
        let coarse = pressed(rectangle(24.0, 16.0), opening.clone(), &walls, 0.02).unwrap();
        let fine = pressed(rectangle(24.0, 16.0), opening, &walls, 0.005).unwrap();
        let most = coarse.error_share + fine.error_share;
        prop_assert!((coarse.tension.mpa - fine.tension.mpa).abs() <= most * fine.tension.mpa, "{coarse:?} {fine:?}");
        prop_assert!((coarse.equivalent.mpa - fine.equivalent.mpa).abs() <= most * fine.equivalent.mpa, "{coarse:?} {fine:?}");
    }

    #[test]
    fn moved_turned_scaled_mirrored_begun_elsewhere(opening in star(), degrees in 0.0..360.0f64, factor in 0.2..8.0f64, start in 0usize..20) {
        let block = rectangle(24.0, 16.0);
        let plain = pressed(block.clone(), opening.clone(), &[Support::rigid(0)], 0.01).unwrap();
        let about = Point::new(1.0, 2.0);
        let by = Vector::new(31.0, -17.0);
        // The wall is along the lower side; a mirrored outline is travelled the other way, so its lower side is segment 3 of 4.
        let ways = [
            (block.moved(by), opening.moved(by), 0),
            (block.turned(about, degrees.to_radians()), opening.turned(about, degrees.to_radians()), 0),
            (block.scaled(about, factor).unwrap(), opening.scaled(about, factor).unwrap(), 0),
            (block.mirrored_x(), opening.mirrored_x(), 3),
            (block.starting_at(1), opening.starting_at(start), 3),
        ];
        for (outer, opening, wall) in ways {
            let same = pressed(outer, opening, &[Support::rigid(wall)], 0.01).unwrap();
            let most = plain.error_share + same.error_share;
            prop_assert!((same.tension.mpa - plain.tension.mpa).abs() <= most * plain.tension.mpa, "{plain:?} {same:?}");
        }
    }
}
