//! The narrowest place: closed forms, each from every start vertex, mirrored, moved, turned and scaled.

use crate::profiles;
use std::f64::consts::FRAC_PI_8;

use outline::{Narrowest, NarrowestError, Outline, Point, Vector, Vertex, narrowest};

fn outline(vertices: &[(f64, f64, f64)]) -> Outline {
    Outline::new(vertices.iter().map(|&(x, y, b)| Vertex::new(x, y, b)).collect()).expect("a valid outline")
}

fn polygon(points: &[(f64, f64)]) -> Outline {
    outline(&points.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Vec<_>>())
}

fn circle(x: f64, y: f64, r: f64) -> Outline {
    outline(&[(x - r, y, 1.0), (x + r, y, 1.0)])
}

/// A shape moved as a whole, and where its places come to lie.
type Move = (Box<dyn Fn(&Outline) -> Outline>, Box<dyn Fn(Point) -> Point>, f64);

fn moves() -> Vec<Move> {
    let about = Point::new(-2.0, 3.0);
    let by = Vector::new(7.75, -3.5);
    let turned = |turn: f64| -> Move {
        let (sin, cos) = turn.sin_cos();
        let there = move |p: Point| {
            let out = p - about;
            about + Vector::new(out.x * cos - out.y * sin, out.x * sin + out.y * cos)
        };
        (Box::new(move |o: &Outline| o.turned(about, turn)), Box::new(there), 1.0)
    };
    let scaled = |k: f64| -> Move {
        let there = move |p: Point| about + (p - about) * k;
        (Box::new(move |o: &Outline| o.scaled(about, k).expect("still valid")), Box::new(there), k)
    };
    vec![
        (Box::new(Outline::clone), Box::new(|p| p), 1.0),
        (Box::new(|o| o.mirrored_x()), Box::new(|p| Point::new(-p.x, p.y)), 1.0),
        (Box::new(move |o| o.moved(by)), Box::new(move |p| p + by), 1.0),
        turned(0.9),
        turned(-2.3),
        turned(std::f64::consts::FRAC_PI_2),
        scaled(0.05),
        scaled(30.0),
    ]
}

/// The width expected, mm, at one of these places; a place may be left out where the tie rule picks one of many.
fn check(outer: &Outline, islands: &[Outline], width: f64, places: &[(f64, f64)]) {
    for start in 0..outer.vertices().len().min(12) {
        for (there, place, k) in moves() {
            let o = there(&outer.starting_at(start));
            let inside: Vec<Outline> = islands.iter().map(&there).collect();
            let found = sound(&o, &inside).unwrap_or_else(|| panic!("start {start}: none, expected {width}"));
            assert!((found.width - k * width).abs() <= 1e-9 * k.max(1.0), "{found:?} against {width} x {k}");
            let right = places
                .iter()
                .any(|&(x, y)| found.centre.distance(place(Point::new(x, y))) <= 1e-7 * k.max(1.0));
            assert!(right || places.is_empty(), "{found:?} against {places:?} x {k}");
        }
    }
}

fn check_none(outer: &Outline, islands: &[Outline]) {
    for start in 0..outer.vertices().len().min(12) {
        for (there, _, _) in moves() {
            let inside: Vec<Outline> = islands.iter().map(&there).collect();
            let found = sound(&there(&outer.starting_at(start)), &inside);
            assert!(found.is_none(), "start {start}: {found:?}");
        }
    }
}

/// What every answer must hold: twice the exact depth of its place, its sides opposite each other and on the edge.
fn sound(outer: &Outline, islands: &[Outline]) -> Option<Narrowest> {
    let found = narrowest(outer, islands).expect("an answer")?;
    let depth =
        |p: Point| islands.iter().map(|i| -i.signed_distance(p)).fold(outer.signed_distance(p), f64::min);
    assert!((2.0 * depth(found.centre) - found.width).abs() < 1e-12, "{found:?}");
    for side in found.sides {
        assert!(
            depth(side).abs() < 2e-4 && (side.distance(found.centre) - found.width / 2.0).abs() < 2e-4,
            "{found:?}"
        );
    }
    Some(found)
}

#[test]
fn rectangles_are_as_wide_as_their_short_side() {
    check(&polygon(&[(0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (0.0, 1.0)]), &[], 1.0, &[(1.5, 0.5)]);
    check(&polygon(&[(0.0, 0.0), (0.3, 0.0), (0.3, 12.0), (0.0, 12.0)]), &[], 0.3, &[(0.15, 6.0)]);
    // A side drawn in pieces is one side.
    let pieces = [(0.0, 0.0), (0.7, 0.0), (2.2, 0.0), (3.0, 0.0), (3.0, 1.0), (1.1, 1.0), (0.0, 1.0)];
    check(&polygon(&pieces), &[], 1.0, &[(1.5, 0.5)]);
}

#[test]
fn what_only_narrows_towards_its_ends_has_no_narrow_place() {
    check_none(&circle(1.0, 2.0, 0.7), &[]);
    check_none(&polygon(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]), &[]);
    check_none(&polygon(&[(0.0, 0.0), (4.0, 0.0), (1.0, 3.0)]), &[]);
    // A wedge with its tip cut off, a kite, a lens, a half circle, a regular hexagon.
    check_none(&polygon(&[(0.0, -1.0), (6.0, -0.4), (6.0, 0.4), (0.0, 1.0)]), &[]);
    check_none(&polygon(&[(0.0, 0.0), (3.0, -1.0), (4.0, 0.0), (3.0, 1.0)]), &[]);
    check_none(&outline(&[(0.0, 0.0, 0.4), (5.0, 0.0, 0.4)]), &[]);
    check_none(&outline(&[(0.0, 0.0, 0.0), (5.0, 0.0, 1.0)]), &[]);
    let hexagon: Vec<(f64, f64)> =
        (0..6).map(|i| (f64::from(i) * std::f64::consts::FRAC_PI_3).sin_cos()).map(|(y, x)| (x, y)).collect();
    check_none(&polygon(&hexagon), &[]);
}

/// An oval of four arcs, tangent to each other: half axes 3 and 1.2, the end arcs of radius 0.6.
#[test]
fn an_oval_has_no_narrow_place() {
    // The flat arc's radius from tangency: (R - 1.2)^2 + 2.4^2 = (R - 0.6)^2.
    let big = (1.2f64 * 1.2 + 2.4 * 2.4 - 0.36) / (2.0 * (1.2 - 0.6));
    let (c, s) = ((big - 1.2) / (big - 0.6), 2.4 / (big - 0.6));
    let (x, y) = (2.4 + 0.6 * s, 0.6 * c);
    let (flat, round) = ((s.atan2(c) / 2.0).tan(), (c.atan2(s) / 2.0).tan());
    check_none(&outline(&[(-x, -y, flat), (x, -y, round), (x, y, flat), (-x, y, round)]), &[]);
}

#[test]
fn slots_are_as_wide_as_they_are() {
    let (half, r) = (2.788268, 0.30883);
    let slot = outline(&[(-half, -r, 0.0), (half, -r, 1.0), (half, r, 0.0), (-half, r, 1.0)]);
    check(&slot, &[], 2.0 * r, &[(0.0, 0.0)]);
    // A bent slot: a quarter turn of a ring of radii 4 and 5, round ends.
    let b = FRAC_PI_8.tan();
    let bent = outline(&[(5.0, 0.0, b), (0.0, 5.0, 1.0), (0.0, 4.0, -b), (4.0, 0.0, 1.0)]);
    let at = 4.5 * std::f64::consts::FRAC_1_SQRT_2;
    check(&bent, &[], 1.0, &[(at, at)]);
}

/// Straight, a quarter turn, straight again: one stretch of 3 + 4.5 * pi / 2 + 1, its middle on the bend.
#[test]
fn a_stretch_runs_on_from_lines_to_arcs() {
    let b = FRAC_PI_8.tan();
    let hook = outline(&[
        (5.0, -3.0, 0.0),
        (5.0, 0.0, b),
        (0.0, 5.0, 0.0),
        (-1.0, 5.0, 0.0),
        (-1.0, 4.0, 0.0),
        (0.0, 4.0, -b),
        (4.0, 0.0, 0.0),
        (4.0, -3.0, 0.0),
    ]);
    // Square ends: the stretch begins half a width from each.
    let (first, bend, last) = (2.5, 4.5 * std::f64::consts::FRAC_PI_2, 0.5);
    let angle = (0.5 * (first + bend + last) - first) / 4.5;
    check(&hook, &[], 1.0, &[(4.5 * angle.cos(), 4.5 * angle.sin())]);
}

#[test]
fn a_dumbbell_is_narrow_in_its_neck() {
    let neck = |w: f64| {
        polygon(&[
            (-5.0, -2.0),
            (-1.0, -2.0),
            (-1.0, -w),
            (1.0, -w),
            (1.0, -3.0),
            (5.0, -3.0),
            (5.0, 3.0),
            (1.0, 3.0),
            (1.0, w),
            (-1.0, w),
            (-1.0, 2.0),
            (-5.0, 2.0),
        ])
    };
    check(&neck(0.25), &[], 0.5, &[(0.0, 0.0)]);
    check(&neck(0.01), &[], 0.02, &[(0.0, 0.0)]);
    // Two corners that point at each other, and one that points at a side.
    check(
        &polygon(&[(0.0, 0.0), (3.0, 1.0), (6.0, 0.0), (6.0, 4.0), (2.5, 3.0), (0.0, 4.0)]),
        &[],
        4.25f64.sqrt(),
        &[(2.75, 2.0)],
    );
    check(&polygon(&[(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (2.5, 3.0), (0.0, 4.0)]), &[], 3.0, &[(2.5, 1.5)]);
    // Round cheeks: two half circles of radius 1 that leave 0.4 between them; and one against a side.
    let cheeks = outline(&[
        (-3.0, -1.2, 0.0),
        (-1.0, -1.2, -1.0),
        (1.0, -1.2, 0.0),
        (3.0, -1.2, 0.0),
        (3.0, 1.2, 0.0),
        (1.0, 1.2, -1.0),
        (-1.0, 1.2, 0.0),
        (-3.0, 1.2, 0.0),
    ]);
    check(&cheeks, &[], 0.4, &[(0.0, 0.0)]);
    let cheek = outline(&[
        (-3.0, -1.2, 0.0),
        (-1.0, -1.2, -1.0),
        (1.0, -1.2, 0.0),
        (3.0, -1.2, 0.0),
        (3.0, 1.2, 0.0),
        (-3.0, 1.2, 0.0),
    ]);
    check(&cheek, &[], 1.4, &[(0.0, 0.5)]);
}

/// Of two necks as narrow as each other the one of least x, then y.
#[test]
fn equal_necks_tie_by_place() {
    let necks = polygon(&[
        (0.0, 0.0),
        (2.0, 1.0),
        (4.0, 0.0),
        (6.0, 1.0),
        (8.0, 0.0),
        (8.0, 3.0),
        (6.0, 2.0),
        (4.0, 3.0),
        (2.0, 2.0),
        (0.0, 3.0),
    ]);
    let found = |o: &Outline| sound(o, &[]).expect("a neck");
    for start in 0..10 {
        let o = necks.starting_at(start);
        assert!(found(&o).centre.distance(Point::new(2.0, 1.5)) < 1e-9);
        assert!(found(&o.mirrored_x()).centre.distance(Point::new(-6.0, 1.5)) < 1e-9);
        let upright = found(&o.turned(Point::new(0.0, 0.0), std::f64::consts::FRAC_PI_2)).centre;
        assert!(upright.distance(Point::new(-1.5, 2.0)) < 1e-9, "{upright:?}");
    }
}

#[test]
fn letters() {
    // L: both arms are stretches; the thinner one, from its end's square to where the corner opens.
    let ell = polygon(&[(0.0, 0.0), (5.0, 0.0), (5.0, 1.0), (2.0, 1.0), (2.0, 6.0), (0.0, 6.0)]);
    check(&ell, &[], 1.0, &[(3.25, 0.5)]);
    // T of equal bars: three stretches of the same width; the tie is by place.
    let tee = polygon(&[
        (0.0, 4.0),
        (3.0, 4.0),
        (3.0, 0.0),
        (4.0, 0.0),
        (4.0, 4.0),
        (7.0, 4.0),
        (7.0, 5.0),
        (0.0, 5.0),
    ]);
    check(&tee, &[], 1.0, &[(1.75, 4.5), (5.25, 4.5), (3.5, 2.25)]);
    let found = sound(&tee, &[]).expect("a stretch");
    assert!(found.centre.distance(Point::new(1.75, 4.5)) < 1e-9);
}

#[test]
fn rings_between_outline_and_island() {
    // Off centre by 0.3: narrow on one side only.
    check(&circle(0.0, 0.0, 3.0), &[circle(0.3, 0.4, 1.0)], 1.5, &[(0.3 + 0.6 * 1.75, 0.4 + 0.8 * 1.75)]);
    // About one centre: the same all round, the place of least x.
    let found = sound(&circle(2.0, 1.0, 3.0), &[circle(2.0, 1.0, 1.0)]).expect("a ring");
    assert!(
        (found.width - 2.0).abs() < 1e-12 && found.centre.distance(Point::new(0.0, 1.0)) < 1e-9,
        "{found:?}"
    );
    check(&circle(2.0, 1.0, 3.0), &[circle(2.0, 1.0, 1.0)], 2.0, &[]);
    // A square in a square: four stretches, none of them running round the corners; the left one is their least x.
    let frame = |s: f64| polygon(&[(-s, -s), (s, -s), (s, s), (-s, s)]);
    let found = sound(&frame(3.0), &[frame(2.0)]).expect("a frame");
    assert!(
        found.centre.distance(Point::new(-2.5, 0.0)) < 1e-9 && (found.width - 1.0).abs() < 1e-12,
        "{found:?}"
    );
    // A square island whose corner comes nearest to a side.
    let turned =
        frame(1.0).turned(Point::new(0.0, 0.0), std::f64::consts::FRAC_PI_4).moved(Vector::new(0.2, 0.1));
    check(&frame(3.0), &[turned], 2.8 - 2f64.sqrt(), &[(3.0 - 0.5 * (2.8 - 2f64.sqrt()), 0.1)]);
    // Two islands: between them.
    check(&frame(9.0), &[circle(-2.0, 0.0, 1.0), circle(2.0, 1.0, 2.0)], 17f64.sqrt() - 3.0, &[]);
    // A racetrack in a racetrack, 0.5 apart all round: least x, at the outermost of the round end.
    let track = |r: f64| outline(&[(-2.0, -r, 0.0), (2.0, -r, 1.0), (2.0, r, 0.0), (-2.0, r, 1.0)]);
    let found = sound(&track(1.5), &[track(1.0)]).expect("a track");
    assert!(found.centre.distance(Point::new(-3.25, 0.0)) < 1e-9, "{found:?}");
}

/// At a tangent joint a disc of any size touches both segments, in one place: that is no place across which anything is wide.
#[test]
fn a_joint_is_not_across_from_itself() {
    let outer = outline(&[
        (19.3838, -46.3685, 0.0),
        (18.4166, -34.7318, 1.0),
        (0.6539, -36.2082, 0.0),
        (1.6211, -47.8449, 1.0),
    ]);
    let island = outline(&[
        (10.784596546535353, -33.13549490661448, 0.0),
        (6.913482396970766, -35.09959650570211, 1.0),
        (8.285907668547425, -37.8045558064271, 0.0),
        (12.157021818112012, -35.8404542073395, 1.0),
    ]);
    let found = sound(&outer, std::slice::from_ref(&island)).expect("a narrow place");
    // Between the round ends of both, along the line through their centres.
    let (big, small) = (Point::new(9.53525, -35.47), Point::new(11.470809182323683, -34.48797455697699));
    let between = 17.823952093998397 / 2.0 - big.distance(small) - 1.51656;
    assert!((found.width - between).abs() < 1e-4, "{found:?} against {between}");
}

#[test]
fn an_island_must_lie_inside() {
    let island = circle(10.0, 0.0, 1.0);
    assert_eq!(narrowest(&circle(0.0, 0.0, 3.0), &[island]), Err(NarrowestError::IslandOutside(0)));
}

/// Coordinates rounded as a drawing rounds them: a slot stays a slot, its width within what rounding moves.
#[test]
fn rounded_drawings_keep_their_slots() {
    for decimals in [3, 4, 6] {
        let grain = 10f64.powi(decimals);
        let mut found = 0;
        for step in 0..200 {
            let turn = f64::from(step) * 0.031;
            let slot = outline(&[(-1.4, -0.15, 0.0), (1.4, -0.15, 1.0), (1.4, 0.15, 0.0), (-1.4, 0.15, 1.0)])
                .turned(Point::new(0.3, 0.2), turn);
            let rounded = slot.vertices().iter().map(|v| {
                Vertex::new((v.point.x * grain).round() / grain, (v.point.y * grain).round() / grain, v.bulge)
            });
            let rounded = Outline::new(rounded.collect()).expect("a valid outline");
            let Some(one) = sound(&rounded, &[]) else { continue };
            found += 1;
            assert!((one.width - 0.3).abs() < 1.5 / grain, "{one:?}");
        }
        // Three decimals may leave a taper of a micrometre, and that is one.
        assert!(found == 200 || (decimals == 3 && found > 20), "{found} of 200 with {decimals} decimals");
    }
}

/// Random profiles: each answer is what it says, and every variant that keeps lengths agrees (what counts as constant does
/// not grow with the size).
#[test]
fn random_profiles_and_their_variants() {
    let (mut some, mut none) = (0, 0);
    for index in 0..profiles::cases("NARROWEST_CASES", 1500) {
        let o = profiles::profile(index, if index % 2 == 0 { 1e-4 } else { 1e-6 });
        let first = sound(&o, &[]);
        match first {
            Some(_) => some += 1,
            None => none += 1,
        }
        let start = o.starting_at(index as usize);
        let reversed = Outline::new(start.clockwise_vertices()).expect("reversed");
        let moved = moves().into_iter().filter(|(_, _, k)| *k == 1.0).map(|(there, _, _)| there(&start));
        for v in [start.clone(), reversed].into_iter().chain(moved) {
            let found = sound(&v, &[]);
            assert_eq!(found.is_some(), first.is_some(), "profile {index}: {first:?} and {found:?}");
            if let (Some(a), Some(b)) = (first, found) {
                assert!((b.width - a.width).abs() <= 1e-6, "profile {index}: {a:?} and {b:?}");
            }
        }
    }
    assert!(some > 200 && none > 200, "{some} with, {none} without");
}

/// A curve in facets, `n` of them to the turn, begun at an angle.
fn faceted(n: u32, at: impl Fn(f64) -> (f64, f64)) -> Outline {
    polygon(
        &(0..n).map(|i| at(std::f64::consts::TAU * (f64::from(i) + 0.3) / f64::from(n))).collect::<Vec<_>>(),
    )
}

#[test]
fn thousands_of_facets() {
    let clock = |what: &str, o: &Outline| {
        let begun = std::time::Instant::now();
        let found = sound(o, &[]);
        println!("{what}: {:?}, {found:?}", begun.elapsed());
        found
    };
    // An oval and a circle have no narrow place in facets either.
    assert_eq!(clock("oval", &faceted(5000, |a| (3.0 * a.cos(), 2.0 * a.sin()))), None);
    assert_eq!(clock("circle", &faceted(5000, |a| (2.0 * a.cos(), 2.0 * a.sin()))), None);
    // A waist of two arcs that bend in: x = 1 + 0.5 sin^2.
    let waist = clock(
        "waist",
        &faceted(5000, |a| {
            ((1.0 + 0.5 * a.sin().powi(2)) * a.cos().signum() * a.cos().abs().sqrt(), 3.0 * a.sin())
        }),
    );
    let waist = waist.expect("a waist");
    assert!(
        (waist.width - 2.0).abs() < 1e-5 && waist.centre.distance(Point::new(0.0, 0.0)) < 0.01,
        "{waist:?}"
    );
    // A bent slot of radii 4 and 5: the middle of its stretch, within the facets' sagitta.
    let n = 2500;
    let arc = |r: f64, i: u32| {
        let (sin, cos) = (1.5 * f64::from(i) / f64::from(n - 1)).sin_cos();
        (r * cos, r * sin)
    };
    let bent =
        polygon(&(0..n).map(|i| arc(5.0, i)).chain((0..n).rev().map(|i| arc(4.0, i))).collect::<Vec<_>>());
    let found = clock("bent slot", &bent).expect("a stretch");
    let (sin, cos) = 0.75f64.sin_cos();
    assert!(
        (found.width - 1.0).abs() < 1e-6 && found.centre.distance(Point::new(4.5 * cos, 4.5 * sin)) < 0.01,
        "{found:?}"
    );
    // A comb of 1,250 slits, all alike but one.
    let slit = |i: u32| {
        let (x, wide) = (f64::from(i), if i == 700 { 0.39 } else { 0.4 });
        [(x + wide, 0.0), (x + wide, 5.0), (x, 5.0), (x, 0.0)]
    };
    let slits = (0..1250).rev().flat_map(slit);
    let comb = polygon(
        &[(-1.0, -2.0), (1251.0, -2.0), (1251.0, 0.0)]
            .into_iter()
            .chain(slits)
            .chain([(-1.0, 0.0)])
            .collect::<Vec<_>>(),
    );
    let found = clock("comb", &comb).expect("a slit");
    assert!(
        (found.width - 0.39).abs() < 1e-9 && found.centre.distance(Point::new(700.195, 2.4025)) < 1e-6,
        "{found:?}"
    );
    // A star of 5,000 random spokes.
    let mut dice = profiles::Dice(7);
    let star: Vec<(f64, f64)> = (0..5000)
        .map(|i| {
            let (r, (sin, cos)) =
                (dice.between(1.0, 2.0), (std::f64::consts::TAU * f64::from(i) / 5000.0).sin_cos());
            (r * cos, r * sin)
        })
        .collect();
    assert!(clock("star", &polygon(&star)).is_some());
}
