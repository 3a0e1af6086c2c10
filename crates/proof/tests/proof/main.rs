//! The proof on packages written by hand here: right ones hold, damaged ones never do, rewritten ones still do.
//!
//! Nothing of the planner is used: shapes, drawings, programs and the oracle are this folder's own.

#[cfg(test)]
mod burned;
#[cfg(test)]
mod case;
#[cfg(test)]
mod damages;
#[cfg(test)]
mod drawings;
#[cfg(test)]
mod holds;
#[cfg(test)]
mod joint;
mod leaning;
#[cfg(test)]
mod loopholes;
#[cfg(test)]
mod oracle;
#[cfg(test)]
mod pieces;
#[cfg(test)]
mod rewrites;
#[cfg(test)]
mod rubbish;
#[cfg(test)]
mod shape;
#[cfg(test)]
mod sizes;
#[cfg(test)]
mod tabs;
