//! Records to splines: control points, weights and knots that fit together, or the points that a curve goes through.

use crate::entity::Shape;
use crate::fault::Fault;
use crate::number::integer;
use crate::shape::{FLAT, Read, Record};

/// Splines of a higher degree are refused: no drawing program writes them, and their powers lose their digits.
const MOST_DEGREE: usize = 25;

/// A rational B-spline. Its knots never fall, there are as many as control points and degree + 1 together, none between the ends is
/// repeated more often than the degree, and the curve is what lies between the knots number `degree` and number `controls.len()`, counted
/// from 0. A curve that closes on itself does so by its points: flags of the entity change nothing about them.
#[derive(Debug, Clone, PartialEq)]
pub struct Spline {
    /// Its degree, 1 to 25.
    pub degree: usize,
    /// Its knots.
    pub knots: Vec<f64>,
    /// x, y and weight of each control point; weights are above 0, and 1 where none are given.
    pub controls: Vec<[f64; 3]>,
}

/// What the groups of a SPLINE hold, as they come.
#[derive(Debug, Default)]
struct Lists {
    controls: Vec<[f64; 3]>,
    through: Vec<[f64; 3]>,
    knots: Vec<f64>,
    weights: Vec<f64>,
}

impl Record<'_> {
    /// Reads a SPLINE, and says how many points it has.
    pub(crate) fn spline_shape(&self) -> Result<(Read, usize), Fault> {
        let lists = self.lists()?;
        self.complete(72, "knots", lists.knots.len())?;
        self.complete(73, "control points", lists.controls.len())?;
        self.complete(74, "points to go through", lists.through.len())?;
        let count = lists.controls.len() + lists.through.len();
        let points = if lists.controls.is_empty() { &lists.through } else { &lists.controls };
        if tilted(points) {
            return Ok((Read::Tilted("spline-tilted"), count));
        }
        let shape = match lists.controls.is_empty() {
            true => self.through(&lists)?,
            false => Shape::Spline(self.spline(lists)?),
        };
        Ok((Read::Flat(shape), count))
    }

    fn lists(&self) -> Result<Lists, Fault> {
        let mut lists = Lists::default();
        for group in self.groups {
            let (list, axis) = match group.code {
                40 => {
                    lists.knots.push(self.sane(group)?);
                    continue;
                }
                41 => {
                    lists.weights.push(self.sane(group)?);
                    continue;
                }
                10 | 20 | 30 => (&mut lists.controls, group.code / 10 - 1),
                11 | 21 | 31 => (&mut lists.through, group.code / 10 - 1),
                _ => continue,
            };
            let value = self.sane(group)?;
            if axis == 0 {
                // y is not yet known: the NaN never leaves this function.
                list.push([value, f64::NAN, 0.0]);
            } else if let Some(last) = list.last_mut() {
                last[axis as usize] = value;
            }
        }
        match lists.controls.iter().chain(&lists.through).any(|point| point[1].is_nan()) {
            true => Err(self.missing(20, "y of a point")),
            false => Ok(lists),
        }
    }

    /// Whether as many of something were found as the entity states, if it does.
    fn complete(&self, code: i16, what: &str, found: usize) -> Result<(), Fault> {
        let stated = self.group(code).map(|group| integer(group, self.kind)).transpose()?;
        match stated.is_none_or(|stated| stated == found as i64) {
            true => Ok(()),
            false => {
                let message = format!("it states {} {what}, and {found} stand there", stated.unwrap_or(0));
                Err(self.bad(message))
            }
        }
    }

    fn spline(&self, lists: Lists) -> Result<Spline, Fault> {
        let (count, knots) = (lists.controls.len(), lists.knots);
        let degree = self.degree()?;
        if count <= degree {
            return Err(self.bad(format!(
                "{count} control points are too few for degree {degree}: it takes {}",
                degree + 1
            )));
        }
        if knots.len() != count + degree + 1 {
            return Err(self.bad(format!(
                "it has {} knots; {count} control points of degree {degree} take {}",
                knots.len(),
                count + degree + 1
            )));
        }
        if let Some(fall) = knots.windows(2).find(|pair| pair[1] < pair[0]) {
            return Err(self.bad(format!("its knots fall from {} to {}, and knots rise", fall[0], fall[1])));
        }
        if knots[degree] >= knots[count] {
            return Err(
                self.bad(format!("all its inner knots are {}, so that it has no length", knots[degree]))
            );
        }
        if let Some(knot) = torn(&knots, degree) {
            return Err(self.bad(format!(
                "the knot {knot} is repeated more than {degree} times, where the curve would be torn"
            )));
        }
        let weights = self.weights(lists.weights, count)?;
        let controls = lists.controls.iter().zip(weights).map(|(point, w)| [point[0], point[1], w]).collect();
        Ok(Spline { degree, knots, controls })
    }

    fn degree(&self) -> Result<usize, Fault> {
        let group = self.group(71).ok_or_else(|| self.missing(71, "degree"))?;
        let degree = integer(group, self.kind)?;
        match usize::try_from(degree) {
            Ok(degree) if (1..=MOST_DEGREE).contains(&degree) => Ok(degree),
            _ => Err(self.bad(format!("its degree is {degree}; degrees from 1 to {MOST_DEGREE} are read"))),
        }
    }

    fn weights(&self, weights: Vec<f64>, count: usize) -> Result<Vec<f64>, Fault> {
        if weights.is_empty() {
            return Ok(vec![1.0; count]);
        }
        if weights.len() != count {
            return Err(self.bad(format!("it has {} weights for {count} control points", weights.len())));
        }
        match weights.iter().find(|weight| **weight <= 0.0) {
            Some(weight) => Err(self.bad(format!("one of its weights is {weight}, and a weight is above 0"))),
            None => Ok(weights),
        }
    }

    fn through(&self, lists: &Lists) -> Result<Shape, Fault> {
        const CLOSED: i64 = 1 | 2;
        let points: Vec<[f64; 2]> = lists.through.iter().map(|point| [point[0], point[1]]).collect();
        if points.len() < 2 {
            return Err(self.bad(format!(
                "it has no control points and {} points to go through, and a curve takes two",
                points.len()
            )));
        }
        let directions = [self.direction(12)?, self.direction(13)?];
        Ok(Shape::Through { points, directions, closed: self.flags(70)? & CLOSED != 0 })
    }

    /// A direction of an end; none where it is absent or has no length in the plane.
    fn direction(&self, x: i16) -> Result<Option<[f64; 2]>, Fault> {
        let at = [self.optional(x)?.unwrap_or(0.0), self.optional(x + 10)?.unwrap_or(0.0)];
        Ok((at != [0.0, 0.0]).then_some(at))
    }

    fn bad(&self, message: String) -> Fault {
        let cure = "draw the curve again, or draw it as lines and arcs";
        Fault::new("spline-bad", self.line, format!("{}: {message}", self.kind), cure)
    }
}

/// Whether the points do not all lie at one height, as a share of their extent.
fn tilted(points: &[[f64; 3]]) -> bool {
    let extent = |axis: usize| {
        let (low, high) = points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), point| {
            (low.min(point[axis]), high.max(point[axis]))
        });
        high - low
    };
    extent(2) > FLAT * extent(0).max(extent(1))
}

/// A knot between the ends that is repeated more often than the degree, if there is one.
fn torn(knots: &[f64], degree: usize) -> Option<f64> {
    let (first, last) = (knots[degree], knots[knots.len() - 1 - degree]);
    let runs = knots.windows(degree + 1).filter(|run| run[0] == run[degree]);
    runs.map(|run| run[0]).find(|knot| first < *knot && *knot < last)
}
