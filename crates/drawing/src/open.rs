//! What is said about chains that do not close.

use crate::cells::Cells;
use crate::chain::Chain;
use crate::contacts::Contacts;
use crate::joints::place;
use crate::path::Path;
use crate::work::{Tangled, Work};
use remark::{Place, Remark};

/// Ends up to this many join limits apart are thought to belong together, so that a larger limit is worth naming.
const A_BIT: f64 = 10.0;

/// Remarks about every open chain.
///
/// # Errors
/// When the drawing has cost too much work.
pub(crate) fn open_chains(
    chains: &[&Chain],
    paths: &[Path],
    contacts: &Contacts,
    limit: f64,
    file: &str,
    work: &mut Work,
) -> Result<Vec<Remark>, Tangled> {
    let mut cells = Cells::new(A_BIT * limit);
    let ends = || chains.iter().filter_map(|chain| chain.open).flatten();
    ends().for_each(|end| cells.put(end, place(paths, end)));
    let mut remarks = Vec::new();
    for chain in chains {
        let Some(ends) = chain.open else { continue };
        let on_middle = ends.map(|end| contacts.on_middle.get(&end).map(|&other| (end, other)));
        if on_middle.iter().any(Option::is_some) {
            remarks
                .extend(on_middle.into_iter().flatten().map(|(end, other)| t_joint(end, other, paths, file)));
            continue;
        }
        let mut nearest = [None; 2];
        for (end, nearest) in ends.iter().zip(&mut nearest) {
            let near = cells.near(place(paths, *end), usize::MAX, work)?;
            let others = near.into_iter().filter(|(other, _)| other != end && !alone(chain, *other, *end));
            *nearest = others.map(|(_, distance)| distance).min_by(f64::total_cmp);
        }
        remarks.push(open_chain(chain, ends, nearest, paths, limit, file));
    }
    Ok(remarks)
}

/// Both ends of one and the same entity, which would close on itself: a line never does.
fn alone(chain: &Chain, a: usize, b: usize) -> bool {
    chain.links.len() == 1 && a / 2 == b / 2
}

fn t_joint(end: usize, other: usize, paths: &[Path], file: &str) -> Remark {
    let (at, path) = (place(paths, end), &paths[end / 2]);
    let message = format!(
        "the entity on line {} ends on the middle of the entity on line {}; outlines are joined at ends only",
        path.line, paths[other].line
    );
    Remark::error("t-joint", message)
        .place(Place::file(file).line(path.line).at(at.x, at.y))
        .cure("delete the entity that does not belong to an outline, or break the other one there")
}

fn open_chain(
    chain: &Chain,
    ends: [usize; 2],
    nearest: [Option<f64>; 2],
    paths: &[Path],
    limit: f64,
    file: &str,
) -> Remark {
    let [a, b] = ends.map(|end| place(paths, end));
    let mut message = format!(
        "{} from x {:.4} y {:.4} to x {:.4} y {:.4} does not close: its ends lie {:.4} mm apart",
        counted(chain.links.len()),
        a.x,
        a.y,
        b.x,
        b.y,
        a.distance(b)
    );
    let first = paths[chain.first()].line;
    let remark =
        |message| Remark::error("open-chain", message).place(Place::file(file).line(first).at(a.x, a.y));
    let [Some(before), Some(after)] = nearest else {
        return remark(message)
            .cure("draw what is missing, or delete the entities that belong to no outline");
    };
    let apart = before.max(after);
    message.push_str(&format!("; the next ends are {apart:.6} mm away, and the join limit is {limit} mm"));
    remark(message)
        .cure(format!("raise join_limit to {} mm", rounded_up(apart)))
        .cure("draw the ends together")
}

fn counted(entities: usize) -> String {
    match entities {
        1 => "an entity".to_owned(),
        more => format!("a chain of {more} entities"),
    }
}

/// A length as text, rounded up to two digits.
fn rounded_up(length: f64) -> String {
    let decimals = (1.0 - length.log10().floor()).clamp(0.0, 12.0) as usize;
    let step = 10f64.powi(-(decimals as i32));
    format!("{:.decimals$}", (length / step).ceil() * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_is_rounded_up_to_two_digits() {
        assert_eq!(rounded_up(0.0023), "0.0023");
        assert_eq!(rounded_up(0.00231), "0.0024");
        assert_eq!(rounded_up(0.00999), "0.0100");
        assert_eq!(rounded_up(1.23), "1.3");
    }
}
