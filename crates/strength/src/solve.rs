//! Where the nodes go: the equations of what is free, factored once, and the answer checked against them.

use crate::Refusal;
use crate::element::Block;
use crate::hold::Joint;
use crate::plate::Plate;
use outline::Vector;
use sparse_ldlt::SparseLdlt;

/// Share of the forces that an answer may leave over. What is left over is a load that was not reckoned with: a millionth changes
/// stresses by about a millionth. Sound plates leave 1e-12, a wall as slender as 200 : 1 leaves 1e-8.
const LEFT_OVER: f64 = 1e-6;

/// Displacement of each node, mm.
///
/// # Errors
/// Equations that were not solved to the accuracy of f64.
pub(crate) fn displacements(plate: &Plate, joints: &[Joint]) -> Result<Vec<Vector>, Refusal> {
    let turned = Turned::new(plate, joints);
    let moved = turned.solved()?;
    let place = |node: usize| {
        let [first, second] = joints[node].axes();
        let own = moved[plate.rank[node]];
        first * own[0] + second * own[1]
    };
    Ok((0..joints.len()).map(place).collect())
}

/// The plate's equations along the nodes' own axes.
struct Turned<'a> {
    plate: &'a Plate,
    blocks: Vec<Block>,
    forces: Vec<[f64; 2]>,
    /// For each rank and axis, its number among the unknowns.
    unknowns: Vec<[Option<usize>; 2]>,
    count: usize,
}

impl<'a> Turned<'a> {
    fn new(plate: &'a Plate, joints: &[Joint]) -> Self {
        let mut by_rank = vec![joints[0]; joints.len()];
        for (node, joint) in joints.iter().enumerate() {
            by_rank[plate.rank[node]] = *joint;
        }
        let mut blocks = plate.blocks.clone();
        let columns = plate.starts.windows(2).zip(&by_rank);
        for (ends, column) in columns {
            for at in ends[0]..ends[1] {
                blocks[at] = seen_from(&blocks[at], by_rank[plate.others[at]].axes(), column.axes());
            }
        }
        let along = |(force, joint): (&Vector, &Joint)| joint.axes().map(|axis| axis.dot(*force));
        let forces = plate.forces.iter().zip(&by_rank).map(along).collect();
        let mut count = 0;
        let mut number = |fixed: bool| {
            (!fixed).then(|| {
                count += 1;
                count - 1
            })
        };
        let unknowns: Vec<[Option<usize>; 2]> =
            by_rank.iter().map(|joint| [number(joint.fixed[0]), number(joint.fixed[1])]).collect();
        Self { plate, blocks, forces, unknowns, count }
    }

    fn solved(&self) -> Result<Vec<[f64; 2]>, Refusal> {
        let (starts, rows, values) = self.columns();
        let unsolved = |_| Refusal::Unsolved { left: 1.0 };
        let factored = SparseLdlt::factor(self.count, &starts, &rows, &values).map_err(unsolved)?;
        let mut right = vec![0.0; self.count];
        for (force, unknowns) in self.forces.iter().zip(&self.unknowns) {
            for (part, unknown) in force.iter().zip(unknowns) {
                if let Some(at) = unknown {
                    right[*at] = *part;
                }
            }
        }
        let answer = factored.solve(&right).map_err(unsolved)?;
        let left = left_over(&starts, &rows, &values, &answer, &right);
        // A NaN must not pass either.
        if left.is_nan() || left > LEFT_OVER {
            return Err(Refusal::Unsolved { left });
        }
        Ok(self.unknowns.iter().map(|pair| pair.map(|at| at.map_or(0.0, |at| answer[at]))).collect())
    }

    /// The upper triangle of the free equations, column after column.
    fn columns(&self) -> (Vec<usize>, Vec<usize>, Vec<f64>) {
        let (mut starts, mut rows, mut values) = (vec![0], Vec::new(), Vec::new());
        for (rank, ends) in self.plate.starts.windows(2).enumerate() {
            for axis in 0..2 {
                let Some(column) = self.unknowns[rank][axis] else { continue };
                for at in ends[0]..ends[1] {
                    for (other, row) in self.unknowns[self.plate.others[at]].iter().enumerate() {
                        if let Some(row) = row.filter(|row| *row <= column) {
                            rows.push(row);
                            values.push(self.blocks[at][2 * other + axis]);
                        }
                    }
                }
                starts.push(rows.len());
            }
        }
        (starts, rows, values)
    }
}

/// A block along the axes of its row and column.
fn seen_from(block: &Block, row: [Vector; 2], column: [Vector; 2]) -> Block {
    let along = |axis: Vector| {
        Vector::new(block[0] * axis.x + block[1] * axis.y, block[2] * axis.x + block[3] * axis.y)
    };
    let [first, second] = column.map(along);
    [row[0].dot(first), row[0].dot(second), row[1].dot(first), row[1].dot(second)]
}

/// What an answer leaves over of the right-hand side, as a share of it.
fn left_over(starts: &[usize], rows: &[usize], values: &[f64], answer: &[f64], right: &[f64]) -> f64 {
    let mut rest = right.to_vec();
    for (column, ends) in starts.windows(2).enumerate() {
        for at in ends[0]..ends[1] {
            rest[rows[at]] -= values[at] * answer[column];
            if rows[at] != column {
                rest[column] -= values[at] * answer[rows[at]];
            }
        }
    }
    let size = |parts: &[f64]| parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    let all = size(right);
    if all == 0.0 { size(&rest) } else { size(&rest) / all }
}
