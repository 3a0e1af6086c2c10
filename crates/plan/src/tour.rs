//! Once around a closed edge, from a place on it, and a little further.

use outline::{Point, Segment};

/// A piece of a tour is kept only above this length, mm: below it a program cannot say it.
const LEAST: f64 = 1e-7;

/// The pieces from the place nearest to `start` once around, and `overlap` mm further.
pub fn around(pieces: &[Segment], start: Point, overlap: f64) -> Vec<Segment> {
    let Some((at, share)) = nearest(pieces, start) else { return Vec::new() };
    let n = pieces.len();
    let mut tour = Vec::with_capacity(n + 3);
    push(&mut tour, cut(&pieces[at], share, 1.0));
    (1..n).for_each(|k| push(&mut tour, pieces[(at + k) % n]));
    push(&mut tour, cut(&pieces[at], 0.0, share));
    let mut left = overlap;
    let (mut index, mut from) = (at, share);
    while left > LEAST {
        let piece = &pieces[index % n];
        let rest = piece.length() * (1.0 - from);
        let to = if left < rest { from + left / piece.length() } else { 1.0 };
        push(&mut tour, cut(piece, from, to));
        left -= rest;
        index += 1;
        from = 0.0;
    }
    tour
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
