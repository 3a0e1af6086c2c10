//! Where the wire's centre really goes: the proof's own compensation, as a control does it.
//!
//! Each compensated move runs a register's value beside its path. Where two moves meet: tangent ones go on; around an
//! outside corner the wire turns about the corner; into an inside corner it goes as far as both offset pieces meet.

use crate::flatten::{Place, arc, distance};
use crate::machine::{Keep, Move};
use std::f64::consts::{PI, TAU};

/// Joints that turn less than this go on, radians: rounding turns short pieces a little.
const TANGENT: f64 = PI / 180.0;
/// An arc may be tighter than its register by this, mm: rounding of its three places to 0.1 um.
const TIGHT: f64 = 3e-4;
/// An entry may be off square by this, radians.
const SQUARE: f64 = PI / 180.0;
/// A pass of more chords than this is not swept: it would take minutes.
const MOST_CHORDS: usize = 400_000;

/// Something that a control could not do.
#[derive(Debug, Clone, PartialEq)]
pub struct Cannot {
    /// Code of the fault.
    pub code: &'static str,
    /// N word.
    pub block: Option<u32>,
    /// Where.
    pub place: Place,
    /// What.
    pub message: String,
}

/// A piece beside a programmed move.
#[derive(Debug, Clone, Copy)]
struct Beside {
    from: Place,
    to: Place,
    arc: Option<(Place, f64)>,
}

/// The wire's centre along the moves of one pass, as chords. `radius_of` gives a register's value; `cut_on_edge` says
/// that the wire is cut with compensation still on, square beside the end of the last move.
pub fn centre(
    moves: &[Move],
    cut_on_edge: bool,
    radius_of: impl Fn(u32) -> Option<f64>,
) -> Result<Vec<Place>, Cannot> {
    let mut points = Vec::new();
    let mut i = 0;
    while i < moves.len() {
        few(&points, &moves[i])?;
        let Some((side, register)) = kept(moves[i].keep) else {
            begin(&mut points, moves[i].from);
            chords(&mut points, &Beside { from: moves[i].from, to: moves[i].to, arc: moves[i].arc });
            i += 1;
            continue;
        };
        let cannot =
            |code, one: &Move, message: String| Cannot { code, block: one.block, place: one.from, message };
        let value = radius_of(register).ok_or_else(|| {
            cannot("register-unknown", &moves[i], format!("register {register} is not one of the plan's"))
        })?;
        let run = moves[i..].iter().take_while(|one| kept(one.keep) == Some((side, register))).count();
        compensated(&mut points, &moves[i..i + run], side * value)?;
        i += run;
        if i < moves.len() && moves[i].keep != Keep::On {
            return Err(cannot(
                "compensation",
                &moves[i],
                "the register changes with compensation on".to_owned(),
            ));
        }
        if i < moves.len() || !cut_on_edge {
            leave(&mut points, &moves[i - 1], moves.get(i))?;
        }
        i += 1;
    }
    Ok(points)
}

/// The move that turns compensation off leads from the last offset place straight to its own end.
fn leave(points: &mut Vec<Place>, edge: &Move, exit: Option<&Move>) -> Result<(), Cannot> {
    let cannot = |at: &Move, message: &str| {
        Err(Cannot { code: "compensation", block: at.block, place: at.from, message: message.to_owned() })
    };
    match exit {
        None => cannot(edge, "the pass ends with compensation on"),
        Some(exit) if exit.arc.is_some() => cannot(exit, "compensation is turned off on an arc"),
        Some(exit) => {
            points.push(exit.to);
            Ok(())
        }
    }
}

/// Refuses more chords than can be swept, before they fill the memory.
fn few(points: &[Place], at: &Move) -> Result<(), Cannot> {
    if points.len() <= MOST_CHORDS {
        return Ok(());
    }
    let message = format!("more than {MOST_CHORDS} chords in one pass are not swept");
    Err(Cannot { code: "too-large", block: at.block, place: at.from, message })
}

fn kept(keep: Keep) -> Option<(f64, u32)> {
    match keep {
        Keep::On => None,
        Keep::Left(register) => Some((1.0, register)),
        Keep::Right(register) => Some((-1.0, register)),
    }
}

fn begin(points: &mut Vec<Place>, at: Place) {
    if points.is_empty() {
        points.push(at);
    }
}

fn chords(points: &mut Vec<Place>, piece: &Beside) {
    begin(points, piece.from);
    if points.last() != Some(&piece.from) {
        points.push(piece.from);
    }
    match piece.arc {
        None => points.push(piece.to),
        Some((centre, sweep)) => arc(points, piece.from, piece.to, centre, sweep),
    }
}

/// Entry and edge moves of one compensated stretch; `offset` is positive to the left.
fn compensated(points: &mut Vec<Place>, moves: &[Move], offset: f64) -> Result<(), Cannot> {
    let entry = &moves[0];
    let cannot =
        |code, one: &Move, message: String| Cannot { code, block: one.block, place: one.from, message };
    let Some(first) = moves.get(1) else {
        return Err(cannot(
            "compensation",
            entry,
            "compensation is turned on and no edge follows".to_owned(),
        ));
    };
    let square = (turn(direction(entry, true), direction(first, false)).abs() - PI / 2.0).abs();
    if entry.arc.is_some() || square > SQUARE {
        let message = format!("the entry meets the edge {:.2} degrees off square", square.to_degrees());
        return Err(cannot("compensation", entry, message));
    }
    begin(points, entry.from);
    let mut pieces = Vec::new();
    for one in &moves[1..] {
        pieces.push(beside(one, offset).map_err(|message| cannot("corner-too-tight", one, message))?);
    }
    for i in 0..pieces.len() {
        few(points, &moves[i + 1])?;
        if i + 1 < pieces.len() {
            let bend = turn(direction(&moves[i + 1], true), direction(&moves[i + 2], false));
            let (before, after) = pieces.split_at_mut(i + 1);
            if bend * offset.signum() > TANGENT {
                let meet = meeting(&before[i], &after[0]).ok_or_else(|| {
                    let message = "the offset pieces do not meet in this inside corner".to_owned();
                    cannot("corner-too-tight", &moves[i + 2], message)
                })?;
                end_at(&mut before[i], meet);
                start_at(&mut after[0], meet);
            }
        }
        chords(points, &pieces[i]);
        if i + 1 < pieces.len() {
            let bend = turn(direction(&moves[i + 1], true), direction(&moves[i + 2], false));
            if bend * offset.signum() < -TANGENT {
                arc(points, pieces[i].to, pieces[i + 1].from, moves[i + 1].to, bend);
            }
        }
    }
    Ok(())
}

/// Direction of travel at a move's start or end, radians.
fn direction(one: &Move, at_end: bool) -> f64 {
    match one.arc {
        None => (one.to[1] - one.from[1]).atan2(one.to[0] - one.from[0]),
        Some((centre, sweep)) => {
            let place = if at_end { one.to } else { one.from };
            (place[1] - centre[1]).atan2(place[0] - centre[0]) + PI / 2.0 * sweep.signum()
        }
    }
}

/// Turn from one direction to another, radians in (-pi, pi].
fn turn(from: f64, to: f64) -> f64 {
    let turn = (to - from).rem_euclid(TAU);
    if turn > PI { turn - TAU } else { turn }
}

fn beside(one: &Move, offset: f64) -> Result<Beside, String> {
    let moved = |place: Place, at_end: bool| {
        let left = direction(one, at_end) + PI / 2.0;
        [place[0] + offset * left.cos(), place[1] + offset * left.sin()]
    };
    let Some((centre, sweep)) = one.arc else {
        return Ok(Beside { from: moved(one.from, false), to: moved(one.to, true), arc: None });
    };
    // Turning towards the wire's side makes the wire's own arc tighter.
    let radius = distance(one.from, centre) - offset * sweep.signum();
    if radius < -TIGHT {
        return Err(format!(
            "an arc of radius {:.4} turns towards the wire, whose register is {:.4}",
            distance(one.from, centre),
            offset.abs()
        ));
    }
    if radius <= 0.0 {
        return Ok(Beside { from: centre, to: centre, arc: None });
    }
    Ok(Beside { from: moved(one.from, false), to: moved(one.to, true), arc: Some((centre, sweep)) })
}

/// Where two pieces meet, on both of them: the place nearest to the end of the first.
fn meeting(a: &Beside, b: &Beside) -> Option<Place> {
    let candidates = match (a.arc, b.arc) {
        (None, None) => lines(a, b),
        (None, Some((centre, _))) => line_circle(a, centre, distance(b.from, centre)),
        (Some((centre, _)), None) => line_circle(b, centre, distance(a.from, centre)),
        (Some((p, _)), Some((q, _))) => circles(p, distance(a.from, p), q, distance(b.from, q)),
    };
    candidates
        .into_iter()
        .filter(|place| on(a, *place) && on(b, *place))
        .min_by(|p, q| distance(*p, a.to).total_cmp(&distance(*q, a.to)))
}

fn lines(a: &Beside, b: &Beside) -> Vec<Place> {
    let (u, v) = ([a.to[0] - a.from[0], a.to[1] - a.from[1]], [b.to[0] - b.from[0], b.to[1] - b.from[1]]);
    let cross = u[0] * v[1] - u[1] * v[0];
    if cross == 0.0 {
        return Vec::new();
    }
    let w = [b.from[0] - a.from[0], b.from[1] - a.from[1]];
    let t = (w[0] * v[1] - w[1] * v[0]) / cross;
    vec![[a.from[0] + t * u[0], a.from[1] + t * u[1]]]
}

fn line_circle(line: &Beside, centre: Place, radius: f64) -> Vec<Place> {
    let (dx, dy) = (line.to[0] - line.from[0], line.to[1] - line.from[1]);
    let (fx, fy) = (line.from[0] - centre[0], line.from[1] - centre[1]);
    let (a, b, c) = (dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - radius * radius);
    let root = b * b - a * c;
    if root < 0.0 || a == 0.0 {
        return Vec::new();
    }
    [-1.0, 1.0]
        .map(|sign| (-b + sign * root.sqrt()) / a)
        .map(|t| [line.from[0] + t * dx, line.from[1] + t * dy])
        .to_vec()
}

fn circles(p: Place, r: f64, q: Place, s: f64) -> Vec<Place> {
    let d = distance(p, q);
    if d == 0.0 {
        return Vec::new();
    }
    let along = (d * d + r * r - s * s) / (2.0 * d);
    let square = r * r - along * along;
    if square < 0.0 {
        return Vec::new();
    }
    let (ux, uy) = ((q[0] - p[0]) / d, (q[1] - p[1]) / d);
    let h = square.sqrt();
    [-h, h].map(|h| [p[0] + along * ux - h * uy, p[1] + along * uy + h * ux]).to_vec()
}

/// Whether a place of a piece's line or circle lies on the piece.
fn on(piece: &Beside, place: Place) -> bool {
    const SLACK: f64 = 1e-7;
    match piece.arc {
        None => crate::region::to_segment(place, piece.from, piece.to) <= SLACK,
        Some((centre, sweep)) => {
            let angle = |p: Place| (p[1] - centre[1]).atan2(p[0] - centre[0]);
            let way = (sweep.signum() * (angle(place) - angle(piece.from))).rem_euclid(TAU);
            way <= sweep.abs() + SLACK || way >= TAU - SLACK
        }
    }
}

fn end_at(piece: &mut Beside, place: Place) {
    piece.arc = piece.arc.map(|(centre, sweep)| (centre, swept(centre, piece.from, place, sweep)));
    piece.to = place;
}

fn start_at(piece: &mut Beside, place: Place) {
    piece.arc = piece.arc.map(|(centre, sweep)| (centre, swept(centre, place, piece.to, sweep)));
    piece.from = place;
}

/// Sweep from one place to another, the way round that `like` goes.
fn swept(centre: Place, from: Place, to: Place, like: f64) -> f64 {
    let angle = |p: Place| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let way = (like.signum() * (angle(to) - angle(from))).rem_euclid(TAU);
    like.signum() * if way > TAU - 1e-9 { 0.0 } else { way }
}
