//! How far an opening can come to lie off the centre of its punch, by the way in which the section is made, and which
//! term to attack first.
//!
//! Each term has a limit along one axis. They are added at their limits, as the root of squares, and drawn: terms of
//! making as normal with three sigma at the limit, the play in the cavity even within it, both axes independent.

use crate::figure::Figure;
use crate::reckoning::{At, Reckoning, what};
use crate::rules::alignment as rules;
use job::{Known, Section, Shop};
use package as published;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal, StandardUniform};
use std::sync::LazyLock;

/// Draws for each way: the share that is found is right to about 0.2 % of all.
const DRAWS: usize = 100_000;
/// Seed of the draws; any number, but always the same.
const SEED: u64 = 20_826;

/// Squares that differ by less than this share are told apart by their roots.
const NEAR: f64 = 1e-9;

/// A term of one way.
#[derive(Debug, Clone, Copy)]
struct Term {
    name: &'static str,
    limit: Figure,
}

/// What the ways of making a section hold, against what its tightest clearance allows.
pub fn of(
    reckoning: &mut Reckoning,
    shop: &Shop,
    section: &Section,
    (clearance, height): (Figure, Figure),
    play: Option<Figure>,
) -> published::Alignment {
    let head = format!("{}.alignment.", section.id);
    let share =
        known(reckoning, "share_of_clearance", "share of the clearance", "b", "", &shop.alignment.share);
    let allowed = reckoning.rule(At(&head, "allowed_mm"), &rules::ALLOWED, [share, clearance]);
    let ways = ways(reckoning, shop, &head, height);
    let ways = ways.into_iter().enumerate().map(|(i, (way, mut terms))| {
        terms.extend(play.map(|limit| Term { name: "play in the cavity", limit }));
        entry(reckoning, &format!("{head}ways.{i}."), way, &terms, play, allowed)
    });
    published::Alignment { allowed_mm: allowed.value, ways: ways.collect() }
}

fn known(
    reckoning: &mut Reckoning,
    key: &str,
    meaning: &'static str,
    symbol: &'static str,
    unit: &'static str,
    known: &Known<f64>,
) -> Figure {
    reckoning.known(At("shop:alignment.", key), what(meaning, symbol, unit), known)
}

fn ways(
    reckoning: &mut Reckoning,
    shop: &Shop,
    head: &str,
    height: Figure,
) -> [(&'static str, Vec<Term>); 3] {
    let own = &shop.alignment;
    let mut term = |key, meaning, of: &Known<f64>, name| Term {
        name,
        limit: known(reckoning, key, meaning, "u", "mm", of),
    };
    let pick_up = term("pick_up_mm", "picking up a finished block, plus or minus", &own.pick_up, "pick-up");
    let positioning =
        term("positioning_mm", "positioning of the machine, plus or minus", &own.positioning, "positioning");
    let grinding = term("grinding_mm", "grinding one side, plus or minus", &own.grinding, "grinding");
    let measuring =
        term("measuring_mm", "measuring an opening to a side, plus or minus", &own.measuring, "measuring");
    let punch = term("punch_mm", "punch in holder and guide, plus or minus", &own.punch, "punch");
    let per_mm =
        known(reckoning, "squareness_per_mm", "squareness of the cut", "k", "mm/mm", &own.squareness_per_mm);
    let limit = reckoning.rule(At(head, "squareness_mm"), &rules::SQUARENESS, [per_mm, height]);
    let square = Term { name: "squareness", limit };
    [
        ("opening cut in a finished block", vec![pick_up, positioning, square, punch]),
        ("outside and opening cut in one set-up", vec![positioning, square, punch]),
        ("ground on centre after the opening is cut", vec![measuring, grinding, square, punch]),
    ]
}

fn entry(
    reckoning: &mut Reckoning,
    key: &str,
    way: &str,
    terms: &[Term],
    play: Option<Figure>,
    allowed: Figure,
) -> published::AlignmentWay {
    let (mut worst, mut root) = (terms[0].limit, terms[0].limit);
    for (i, term) in terms.iter().enumerate().skip(1) {
        let last = i + 1 == terms.len();
        let name = |of: &str| if last { format!("{of}_mm") } else { format!("{of}_to_{i}_mm") };
        worst = reckoning.rule(At(key, &name("worst")), &rules::WORST, [worst, term.limit]);
        root = reckoning.rule(At(key, &name("root")), &rules::ROOT, [root, term.limit]);
    }
    let making = terms.iter().filter(|term| Some(term.limit.line) != play.map(|play| play.line));
    let sigma = making.map(|term| (term.limit.value / 3.0).powi(2)).sum::<f64>().sqrt();
    let share = off_centre_share(sigma, play.map_or(0.0, |play| play.value), allowed.value);
    let share = reckoning.measured(
        At(key, "within_share"),
        what("share of the draws that lie within what is allowed", "P", ""),
        share,
        "100 000 draws from a fixed seed: normal terms with 3 sigma at their limits, even play, both axes",
        &[("u", allowed), ("u_r", root)],
    );
    let attack = terms
        .iter()
        .fold(terms[0], |most, term| if term.limit.value > most.limit.value { *term } else { most });
    let published_term = |(i, term): (usize, &Term)| published::AlignmentTerm {
        term: term.name.to_owned(),
        limit_mm: reckoning
            .measured(
                At(key, &format!("terms.{i}.limit_mm")),
                what("limit of this term, plus or minus", "u", "mm"),
                term.limit.value,
                "the shop's, or derived above",
                &[("u", term.limit)],
            )
            .value,
    };
    published::AlignmentWay {
        way: way.to_owned(),
        terms: terms.iter().enumerate().map(published_term).collect(),
        worst_mm: worst.value,
        root_mm: root.value,
        within_share: share.value,
        attack: attack.name.to_owned(),
        holds: root.value <= allowed.value,
    }
}

/// Share of the draws whose distance off centre is at most `allowed`: normal with `sigma` along each axis, and even within `play`
/// to both sides, mm.
pub fn off_centre_share(sigma: f64, play: f64, allowed: f64) -> f64 {
    within(&DRAWN, sigma, play, allowed)
}

/// What was drawn for one place: a standard normal number and an even one from -1 to 1 for each axis.
type Drawn = [f64; 4];

/// The draws that every way is held against.
static DRAWN: LazyLock<Vec<Drawn>> = LazyLock::new(|| draw(DRAWS));

fn draw(count: usize) -> Vec<Drawn> {
    let mut random = ChaCha8Rng::seed_from_u64(SEED);
    let mut axis = || -> [f64; 2] {
        let normal: f64 = StandardNormal.sample(&mut random);
        let even: f64 = StandardUniform.sample(&mut random);
        [normal, 2.0 * even - 1.0]
    };
    (0..count)
        .map(|_| {
            let ([a, b], [c, d]) = (axis(), axis());
            [a, b, c, d]
        })
        .collect()
}

/// Share of draws whose distance off centre is at most `allowed`: normal with `sigma` along each axis, and even within
/// `play` to both sides.
fn within(drawn: &[Drawn], sigma: f64, play: f64, allowed: f64) -> f64 {
    let (surely, square) = ((1.0 - NEAR) * allowed * allowed, (1.0 + NEAR) * allowed * allowed);
    let lies_within = |[a, b, c, d]: &Drawn| {
        let (x, y) = (sigma * a + play * b, sigma * c + play * d);
        let far = x * x + y * y;
        // The root is asked for only where rounding could decide.
        allowed >= 0.0 && (far < surely || (far <= square && x.hypot(y) <= allowed))
    };
    drawn.iter().filter(|one| lies_within(one)).count() as f64 / drawn.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Without play the distance off centre is a Rayleigh variable: P = 1 - exp(-u^2 / 2 sigma^2).
    #[test]
    fn without_play_the_share_is_rayleigh_s() {
        for allowed in [0.5, 1.0, 2.0, 3.0] {
            let exact = 1.0 - (-allowed * allowed / 2.0_f64).exp();
            let found = within(&draw(100_000), 1.0, 0.0, allowed);
            // Five standard errors of 100 000 draws.
            let slack = 5.0 * (exact * (1.0 - exact) / 1e5).sqrt();
            assert!((found - exact).abs() < slack, "{allowed}: {found} {exact}");
        }
    }

    /// Play alone is even over a square: the share is the area of the circle in it.
    #[test]
    fn play_alone_is_even_over_a_square() {
        let found = within(&draw(100_000), 0.0, 1.0, 0.8);
        let exact = std::f64::consts::PI * 0.64 / 4.0;
        assert!((found - exact).abs() < 0.008, "{found} {exact}");
        assert_eq!(within(&draw(10), 0.0, 0.0, 0.0), 1.0);
    }

    #[test]
    fn the_same_draws_come_again_and_scale_with_the_lengths() {
        let once = within(&draw(5_000), 0.001, 0.002, 0.003);
        assert_eq!(once, within(&draw(5_000), 0.001, 0.002, 0.003));
        assert_eq!(once, within(&draw(5_000), 0.004, 0.008, 0.012));
    }
}
