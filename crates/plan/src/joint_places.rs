//! Where screws and dowels stand on a joint: one of each beyond the openings at either end, above each other or side by side.
//!
//! Seen on the joint, every hole is a point: so far along it, so far below the face. Each end of the joint is what lies between
//! the block's side and the first opening; a screw and a dowel are stood in it with as much room as there is, up to what is enough.

/// More room than this is worth nothing, mm: then holes stand as far out as they may.
const ENOUGH: f64 = 1.0;
/// Places are given in tenths of a millimetre.
const TENTHS: f64 = 10.0;

/// What a hole asks for. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asks {
    /// Its diameter where it crosses the joint.
    pub wide: f64,
    /// From its axis to a side or face.
    pub to_side: f64,
    /// From its axis to the farthest that the openings of this end come along the joint.
    pub to_opening: f64,
}

/// One end of the joint: how far it is from the block's side to where each hole finds the first opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// For the screw.
    pub screw: f64,
    /// For the dowel.
    pub dowel: f64,
}

/// A hole at an end: from the block's side along the joint, below the face, and what is left over where it is tightest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stands {
    /// From the side.
    pub out: f64,
    /// Below the face.
    pub below: f64,
    /// Room; negative where it is short.
    pub room: f64,
}

/// The places of screw and dowel at one end, in the way that leaves more room.
pub fn stood(end: End, height: f64, screw: Asks, dowel: Asks) -> [Stands; 2] {
    let ways = [above_each_other(end, height, screw, dowel), side_by_side(end, height, screw, dowel)];
    let room = |way: &[Stands; 2]| way[0].room.min(way[1].room);
    let [first, second] = ways;
    // Above each other they take less of the joint: preferred as long as that is room enough.
    if room(&first) >= ENOUGH.min(room(&second)) { first } else { second }
}

/// Metal between the walls of screw and dowel.
fn between(screw: Asks, dowel: Asks) -> f64 {
    (screw.wide + dowel.wide) / 2.0 + screw.wide.max(dowel.wide)
}

fn above_each_other(end: End, height: f64, screw: Asks, dowel: Asks) -> [Stands; 2] {
    let [low, high] = run(end, screw, dowel);
    // As near to the openings as there is room enough: there the halves must not gape.
    let out = high - spare(high - low, 2.0);
    let apart = between(screw, dowel);
    let gap = spare(height - (screw.to_side + apart + dowel.to_side), 3.0);
    // The screw in the middle third, where the wire parts the metal evenly; the dowel towards the back.
    let dowel_at = height - dowel.to_side - gap;
    let screw_at = dowel_at - apart - gap;
    settled(end, height, (screw, dowel), [[out, screw_at], [out, dowel_at]])
}

fn side_by_side(end: End, height: f64, screw: Asks, dowel: Asks) -> [Stands; 2] {
    let apart = between(screw, dowel);
    let inner = end.screw - screw.to_opening;
    let gap = spare(inner - (dowel.to_side + apart), 3.0);
    let screw_at = inner - gap;
    settled(end, height, (screw, dowel), [[screw_at, height / 2.0], [screw_at - apart - gap, height / 2.0]])
}

/// What an end is short of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Short {
    /// Length of joint between side and openings.
    Length,
    /// Height of the block.
    Height,
}

/// The tightest bound of the way that comes nearest: what there is, and what it takes.
pub fn tightest(end: End, height: f64, screw: Asks, dowel: Asks) -> (Short, f64, f64) {
    let apart = between(screw, dowel);
    let [low, high] = run(end, screw, dowel);
    let length = end.screw.min(end.dowel);
    let ways = [
        [
            (Short::Length, length, length + low - high),
            (Short::Height, height, screw.to_side + apart + dowel.to_side),
        ],
        [
            (Short::Length, end.screw, dowel.to_side + apart + screw.to_opening),
            (Short::Height, height, 2.0 * screw.to_side.max(dowel.to_side)),
        ],
    ];
    let short = |(_, have, need): (Short, f64, f64)| need - have;
    let worst = ways.map(|[a, b]| if short(a) >= short(b) { a } else { b });
    if short(worst[0]) <= short(worst[1]) { worst[0] } else { worst[1] }
}

/// Where both may stand along the joint.
fn run(end: End, screw: Asks, dowel: Asks) -> [f64; 2] {
    let low = screw.to_side.max(dowel.to_side);
    [low, (end.screw - screw.to_opening).min(end.dowel - dowel.to_opening)]
}

/// A share of what is left over; all of it where something is short, so that the shortfall is shared too.
fn spare(left: f64, parts: f64) -> f64 {
    (left / parts).min(ENOUGH)
}

/// Round tenths, and the room that is left there.
fn settled(end: End, height: f64, (screw, dowel): (Asks, Asks), at: [[f64; 2]; 2]) -> [Stands; 2] {
    let tenth = |value: f64| (value * TENTHS).round() / TENTHS;
    let at = at.map(|[out, below]| [tenth(out), tenth(below)]);
    let away = (at[0][0] - at[1][0]).hypot(at[0][1] - at[1][1]) - between(screw, dowel);
    let stands = |[out, below]: [f64; 2], asks: Asks, opening: f64| {
        let room = [
            out - asks.to_side,
            below - asks.to_side,
            height - below - asks.to_side,
            opening - asks.to_opening - out,
            away,
        ];
        Stands { out, below, room: room.into_iter().fold(f64::INFINITY, f64::min) }
    };
    [stands(at[0], screw, end.screw), stands(at[1], dowel, end.dowel)]
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCREW: Asks = Asks { wide: 3.4, to_side: 4.25, to_opening: 6.2 };
    const DOWEL: Asks = Asks { wide: 3.0, to_side: 4.5, to_opening: 6.0 };

    /// By hand: 20 high, 4.25 + 4.5 to the faces and 3.2 + 3.4 between the axes leave 6.65; a third of that is more than enough.
    #[test]
    fn a_screw_stands_above_a_dowel_where_the_height_allows_it() {
        let [screw, dowel] = stood(End { screw: 12.0, dowel: 12.0 }, 20.0, SCREW, DOWEL);
        assert_eq!((dowel.below, screw.below), (14.5, 6.9));
        assert_eq!((dowel.out, screw.out), (5.2, 5.2));
        assert!((screw.room - 0.6).abs() < 1e-9 && (dowel.room - 0.7).abs() < 1e-9, "{screw:?} {dowel:?}");
    }

    /// A low block: 10 high do not take both above each other, 40 long take them side by side.
    #[test]
    fn in_a_low_block_they_stand_side_by_side() {
        let [screw, dowel] = stood(End { screw: 40.0, dowel: 40.0 }, 10.0, SCREW, DOWEL);
        assert_eq!((screw.below, dowel.below), (5.0, 5.0));
        assert!(
            screw.out > dowel.out
                && screw.out == 32.8
                && (screw.room - 0.75).abs() < 1e-9
                && (dowel.room - 0.5).abs() < 1e-9
        );
    }

    /// Where there is no room the shortfall is what is missing, by distances taken from outside.
    #[test]
    fn what_is_short_is_told() {
        for (long, height) in [(6.0, 20.0), (12.0, 8.0), (30.0, 6.0), (11.0, 12.0), (25.0, 30.0)] {
            let end = End { screw: long, dowel: long };
            let [screw, dowel] = stood(end, height, SCREW, DOWEL);
            let apart = (screw.out - dowel.out).hypot(screw.below - dowel.below) - 1.7 - 1.5 - 3.4;
            for (one, asks) in [(screw, SCREW), (dowel, DOWEL)] {
                let all = [
                    one.out - asks.to_side,
                    one.below - asks.to_side,
                    height - one.below - asks.to_side,
                    long - one.out - asks.to_opening,
                    apart,
                ];
                let least = all.into_iter().fold(f64::INFINITY, f64::min);
                assert!((least - one.room).abs() < 1e-9, "{long} {height}: {one:?} {least}");
            }
            let fits = long >= 4.5 + 6.2 && height >= 15.35 || long >= 4.5 + 6.6 + 6.2 && height >= 9.0;
            assert_eq!(screw.room.min(dowel.room) >= -0.05, fits, "{long} {height}");
            let (_, have, need) = tightest(end, height, SCREW, DOWEL);
            assert_eq!(have >= need, fits, "{long} {height}: {have} {need}");
        }
    }

    #[track_caller]
    fn stand(found: [Stands; 2], out: [f64; 2], below: [f64; 2], room: [f64; 2]) {
        for (i, one) in found.iter().enumerate() {
            assert_eq!((one.out, one.below), (out[i], below[i]), "{i}: {found:?}");
            assert!((one.room - room[i]).abs() < 1e-9, "{i}: {found:?}");
        }
    }

    /// By hand: between the axes 3.2 + 3.4 = 6.6, so 17.06 leave 17.06 - 15.35 = 1.71, three times 0.57. Along the joint each stands
    /// from 4.5 to what its own opening leaves, half of that off it; what is short is shared as well.
    #[test]
    fn above_each_other_by_hand() {
        let of = |screw: f64, dowel: f64| stood(End { screw, dowel }, 17.06, SCREW, DOWEL);
        stand(of(11.3, 12.1), [4.8, 4.8], [4.8, 12.0], [0.3, 0.3]);
        stand(of(12.0, 10.9), [4.7, 4.7], [4.8, 12.0], [0.45, 0.2]);
        stand(of(10.3, 11.0), [4.3, 4.3], [4.8, 12.0], [-0.2, -0.2]);
    }

    /// By hand: 19.1 leave 19.1 - 6.2 = 12.9 to the screw, less 4.5 + 6.6 three times 0.6.
    #[test]
    fn side_by_side_by_hand() {
        let low = stood(End { screw: 19.1, dowel: 19.5 }, 11.0, SCREW, DOWEL);
        stand(low, [12.3, 5.1], [5.5, 5.5], [0.6, 0.6]);
        // Above each other 0.15 would be left three times; side by side there is enough.
        let roomy = stood(End { screw: 30.0, dowel: 30.0 }, 15.8, SCREW, DOWEL);
        stand(roomy, [22.8, 15.2], [7.9, 7.9], [1.0, 1.0]);
    }

    /// The bound that is told belongs to the way that comes nearest.
    #[test]
    fn the_tightest_bound_by_hand() {
        let all = [
            (10.3, 11.0, 17.06, Short::Length, 10.3, 10.7),
            (12.0, 10.0, 17.06, Short::Length, 10.0, 10.5),
            (16.0, 16.0, 15.0, Short::Height, 15.0, 15.35),
            (17.0, 17.0, 13.0, Short::Length, 17.0, 17.3),
            (40.0, 40.0, 8.0, Short::Height, 8.0, 9.0),
        ];
        for (screw, dowel, height, short, have, need) in all {
            let found = tightest(End { screw, dowel }, height, SCREW, DOWEL);
            assert_eq!(found.0, short, "{found:?}");
            assert!((found.1 - have).abs() < 1e-9 && (found.2 - need).abs() < 1e-9, "{found:?}");
        }
    }
}
