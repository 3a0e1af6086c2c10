//! Ways along a closed edge: once around and a little further, or from one place on it to another.

use outline::{Point, Segment};

/// A piece of a tour is kept only above this length, mm: below it a program cannot say it.
const LEAST: f64 = 1e-7;

/// Places closer than this are one, mm: what rounding makes of a corner.
const STANDS: f64 = 1e-5;

/// Arcs of a larger radius are programmed as chords, mm: words for their centres would have more digits than controls take
/// (common practice, no source).
const FLATTEST: f64 = 5000.0;
/// How far such a chord may stray from its arc, mm: less than the rounding of the program's words.
const CHORD: f64 = 2e-5;

/// A piece as a program says it: an arc that is all but straight as chords.
pub fn said(piece: &Segment) -> Vec<Segment> {
    if piece.is_line() || piece.radius() <= FLATTEST {
        return vec![*piece];
    }
    let rise = 0.5 * piece.from.distance(piece.to) * piece.bulge.abs();
    let chords = (rise / CHORD * (1.0 + 1e-6)).sqrt().ceil().max(1.0) as usize;
    let inner = (1..chords).map(|i| piece.at(i as f64 / chords as f64));
    let places: Vec<Point> = std::iter::once(piece.from).chain(inner).chain([piece.to]).collect();
    places.windows(2).map(|ends| Segment::line(ends[0], ends[1])).collect()
}

/// The pieces from the place nearest to `start` once around, and `overlap` mm further.
pub fn around(pieces: &[Segment], start: Point, overlap: f64) -> Vec<Segment> {
    let Some((at, share)) = nearest(pieces, start) else { return Vec::new() };
    let n = pieces.len();
    let mut tour = Vec::with_capacity(n + 3);
    push(&mut tour, cut(&pieces[at], share, 1.0));
    (1..n).for_each(|k| push(&mut tour, pieces[(at + k) % n]));
    push(&mut tour, cut(&pieces[at], 0.0, share));
    on(&mut tour, pieces, (at, share), overlap);
    tour
}

/// The pieces from the place nearest to `start` once around, and on to the place nearest to `end`, a short way further.
pub fn over(pieces: &[Segment], start: Point, end: Point) -> Vec<Segment> {
    let mut tour = around(pieces, start, 0.0);
    // Beside a corner the way may stand still while the edge goes on.
    if start.distance(end) > STANDS {
        until(pieces, start, end, 0.0).into_iter().for_each(|piece| push(&mut tour, piece));
    }
    tour
}

/// The pieces from the place nearest to `start` on to the place nearest to `end`, and `beyond` mm further.
pub fn until(pieces: &[Segment], start: Point, end: Point, beyond: f64) -> Vec<Segment> {
    let (Some((at, from)), Some((last, to))) = (nearest(pieces, start), nearest(pieces, end)) else {
        return Vec::new();
    };
    let n = pieces.len();
    let mut tour = Vec::new();
    if at == last && from <= to {
        push(&mut tour, cut(&pieces[at], from, to));
    } else {
        push(&mut tour, cut(&pieces[at], from, 1.0));
        let between = (last + n - at - 1) % n;
        (1..=between).for_each(|k| push(&mut tour, pieces[(at + k) % n]));
        push(&mut tour, cut(&pieces[last], 0.0, to));
    }
    on(&mut tour, pieces, (last, to), beyond);
    tour
}

/// The same edge run the other way round.
pub fn backwards(pieces: &[Segment]) -> Vec<Segment> {
    pieces.iter().rev().map(Segment::reversed).collect()
}

/// Goes on along the edge from a place on it.
fn on(tour: &mut Vec<Segment>, pieces: &[Segment], (at, share): (usize, f64), length: f64) {
    let (mut index, mut from, mut left) = (at, share, length);
    while left > LEAST {
        let piece = &pieces[index % pieces.len()];
        let rest = piece.length() * (1.0 - from);
        let to = if left < rest { from + left / piece.length() } else { 1.0 };
        push(tour, cut(piece, from, to));
        left -= rest;
        index += 1;
        from = 0.0;
    }
}

fn nearest(pieces: &[Segment], place: Point) -> Option<(usize, f64)> {
    let distance = |i: &usize| pieces[*i].distance(place);
    let at = (0..pieces.len()).min_by(|a, b| distance(a).total_cmp(&distance(b)))?;
    Some((at, pieces[at].nearest(place).1))
}

fn push(tour: &mut Vec<Segment>, piece: Segment) {
    if piece.length() > LEAST {
        tour.push(piece);
    }
}

/// The part of a piece between two shares of its length.
fn cut(piece: &Segment, from: f64, to: f64) -> Segment {
    let end = |t: f64| match t {
        0.0 => piece.from,
        1.0 => piece.to,
        _ => piece.at(t),
    };
    let bulge = match piece.is_line() {
        true => 0.0,
        false => (piece.bulge.atan() * (to - from)).tan(),
    };
    Segment { from: end(from), to: end(to), bulge }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square() -> Vec<Segment> {
        let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)].map(|(x, y)| Point::new(x, y));
        (0..4).map(|i| Segment { from: corners[i], to: corners[(i + 1) % 4], bulge: 0.0 }).collect()
    }

    fn length(tour: &[Segment]) -> f64 {
        tour.iter().map(Segment::length).sum()
    }

    #[test]
    fn around_until_and_back_add_up() {
        let (start, end) = (Point::new(2.0, 0.0), Point::new(1.0, 0.0));
        assert!((length(&around(&square(), start, 0.5)) - 16.5).abs() < 1e-12);
        let main = until(&square(), start, end, 0.0);
        assert!((length(&main) - 15.0).abs() < 1e-12 && main.last().is_some_and(|last| last.to == end));
        let tab = until(&backwards(&square()), start, end, 0.25);
        assert!((length(&tab) - 1.25).abs() < 1e-12, "{tab:?}");
        assert_eq!(tab.first().map(|first| first.from), Some(start));
    }

    #[test]
    fn an_arc_that_is_all_but_straight_is_said_in_chords() {
        for (bulge, count) in [(0.1, 1), (2e-3, 1), (1.1e-4, 6), (1e-6, 1), (1e-9, 1)] {
            let arc = Segment { from: Point::new(3.0, 1.0), to: Point::new(3.0, 11.0), bulge };
            let said = said(&arc);
            assert_eq!(said.len(), count, "bulge {bulge}");
            assert_eq!((said[0].from, said[count - 1].to), (arc.from, arc.to));
            for chord in said.iter().filter(|_| arc.radius() > FLATTEST) {
                let strays = arc.distance(chord.at(0.5));
                assert!(chord.is_line() && strays <= CHORD && arc.distance(chord.to) < 1e-12, "{strays}");
            }
        }
    }

    #[test]
    fn a_way_to_the_next_corner_and_past_it() {
        let way = until(&square(), Point::new(3.0, 0.0), Point::new(4.0, 1.0), 0.5);
        assert!((length(&way) - 2.5).abs() < 1e-12);
        assert_eq!(way.last().map(|last| last.to), Some(Point::new(4.0, 1.5)));
    }
}
