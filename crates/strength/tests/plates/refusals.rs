//! What has no answer is refused, with its place.

use crate::shapes::{aim, circle, outline, rectangle, refused, region, rounded, steel};
use outline::{Point, Vector};
use strength::{Aim, Edge, Load, Material, Refusal, Region, Support, stresses};

#[test]
fn sharp_corners_that_cut_in() {
    let refusals = Region::new(rectangle(24.0, 16.0), vec![rectangle(3.0, 2.0)]).unwrap_err();
    assert_eq!(refusals.len(), 4);
    let first = Refusal::Sharp { edge: Edge::Opening(0), at: Point::new(-1.5, -1.0) };
    assert!(refusals.contains(&first), "{refusals:?}");
    assert!(first.to_string().contains("stress has no limit; give it a radius"), "{first}");
    // A notch of the outer edge cuts in, its other corners do not.
    let notched =
        outline(&[(-5.0, -5.0, 0.0), (5.0, -5.0, 0.0), (5.0, 5.0, 0.0), (0.0, 1.0, 0.0), (-5.0, 5.0, 0.0)]);
    let refusals = Region::new(notched, vec![]).unwrap_err();
    assert_eq!(refusals, [Refusal::Sharp { edge: Edge::Outer, at: Point::new(0.0, 1.0) }]);
    // A circle of facets: each joint of 200 turns by 1.8 degrees.
    let facets = |n: usize| {
        let at = |i: usize| std::f64::consts::TAU * i as f64 / n as f64;
        outline(&(0..n).map(|i| (at(i).cos(), at(i).sin(), 0.0)).collect::<Vec<_>>())
    };
    assert_eq!(Region::new(rectangle(24.0, 16.0), vec![facets(200)]).unwrap_err().len(), 200);
    assert!(Region::new(rectangle(24.0, 16.0), vec![facets(800)]).is_ok());
    // Two round openings run together: the metal between them ends in two points, and stress leaves those alone.
    let bulge = 0.618_033_988_749_894_8;
    let waist = outline(&[(0.0, -0.8, bulge), (1.6, 0.0, bulge), (0.0, 0.8, bulge), (-1.6, 0.0, bulge)]);
    let plate = region(rectangle(24.0, 16.0), vec![waist]);
    let found =
        stresses(&plate, &[Load::around(Edge::Opening(0), 100.0)], &[], &steel(), &aim(0.02)).unwrap();
    assert!(found.tension.at.x.abs() > 0.5, "{found:?}");
}

#[test]
fn openings_that_are_not_in_the_plate() {
    let at = |x: f64| circle(1.0).moved(Vector::new(x, 0.0));
    let block = || rectangle(24.0, 16.0);
    assert!(matches!(
        Region::new(block(), vec![at(12.0)]).unwrap_err()[..],
        [Refusal::Meeting { one: Edge::Outer, other: Edge::Opening(0), .. }]
    ));
    assert!(matches!(
        Region::new(block(), vec![at(0.0), at(1.0)]).unwrap_err()[..],
        [Refusal::Meeting { one: Edge::Opening(0), .. }]
    ));
    assert!(matches!(
        Region::new(block(), vec![at(20.0)]).unwrap_err()[..],
        [Refusal::Outside { opening: 0, .. }]
    ));
    let within = Region::new(block(), vec![circle(3.0), at(0.0)]).unwrap_err();
    assert!(matches!(within[..], [Refusal::Within { opening: 1, around: 0, .. }]), "{within:?}");
}

#[test]
fn loads_that_nothing_stands_against() {
    let plate = region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.2)]);
    let side = Load::on(Edge::Outer, 1, 10.0);
    assert!(matches!(refused(&plate, &[side], &[]), Refusal::Unheld { .. }));
    // The lower wall does not hold against a push from the right.
    assert!(matches!(refused(&plate, &[side], &[Support::rigid(0)]), Refusal::Unheld { .. }));
    assert!(stresses(&plate, &[side], &[Support::rigid(3)], &steel(), &aim(0.02)).is_ok());
    // Two pushes that turn the plate.
    let rails = outline(&[
        (-5.0, -5.0, 0.0),
        (0.0, -5.0, 0.0),
        (5.0, -5.0, 0.0),
        (5.0, 5.0, 0.0),
        (0.0, 5.0, 0.0),
        (-5.0, 5.0, 0.0),
    ]);
    let turning = [Load::on(Edge::Outer, 0, 10.0), Load::on(Edge::Outer, 3, 10.0)];
    assert!(matches!(refused(&region(rails, vec![]), &turning, &[]), Refusal::Unheld { .. }));
}

#[test]
fn requests_that_cannot_be() {
    let plate = region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.2)]);
    let wrong = [
        (vec![Load::around(Edge::Opening(1), 1.0)], vec![]),
        (vec![Load::on(Edge::Outer, 4, 1.0)], vec![]),
        (vec![Load::around(Edge::Opening(0), f64::NAN)], vec![]),
        (vec![], vec![Support::rigid(4)]),
        (vec![], vec![Support::rigid(0), Support::springy(0, 1.0)]),
        (vec![], vec![Support::springy(0, 0.0)]),
    ];
    for (loads, supports) in wrong {
        assert!(
            matches!(refused(&plate, &loads, &supports), Refusal::Stray { .. }),
            "{loads:?} {supports:?}"
        );
    }
    for (settle, most_elements) in [(0.0, 1000), (1.0, 1000), (f64::NAN, 1000), (0.02, 10)] {
        let aim = Aim { settle, most_elements };
        assert!(matches!(stresses(&plate, &[], &[], &steel(), &aim), Err(Refusal::Aim { .. })), "{aim:?}");
    }
    for (e, nu) in [(0.0, 0.3), (f64::NAN, 0.3), (2e5, 0.5), (2e5, -0.1), (f64::INFINITY, 0.3)] {
        assert!(matches!(Material::new(e, nu), Err(Refusal::Material { .. })), "{e} {nu}");
    }
}

#[test]
fn too_few_elements() {
    let plate = region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.2)]);
    let loads = [Load::around(Edge::Opening(0), 100.0)];
    let with =
        |settle, most_elements| stresses(&plate, &loads, &[], &steel(), &Aim { settle, most_elements });
    assert!(matches!(with(0.02, 150), Err(Refusal::TooFine { most: 150 })));
    let Err(Refusal::Unsettled { last }) = with(1e-5, 3000) else { panic!("must not settle") };
    assert!(last.error_share > 1e-5 && last.elements <= 3000, "{last:?}");
    assert!((last.tension.mpa / with(0.01, 20_000).unwrap().tension.mpa - 1.0).abs() < 0.02);
}

#[test]
fn nothing_pressed_gives_nothing() {
    let plate = region(rectangle(24.0, 16.0), vec![rounded(3.0, 2.0, 0.2)]);
    let found = stresses(&plate, &[], &[Support::rigid(0)], &steel(), &aim(0.02)).unwrap();
    assert_eq!((found.tension.mpa, found.equivalent.mpa, found.error_share), (0.0, 0.0, 0.0));
}
