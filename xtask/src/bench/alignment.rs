//! How far openings come to lie off centre: all draws of one way, made and looked at.

use super::Row;
use super::clock::text;
use std::time::Instant;

/// The table's lines.
pub fn rows() -> Result<Vec<Row>, String> {
    let ask = || {
        let began = Instant::now();
        let share = plan::off_centre_share(0.001, 0.0005, 0.002);
        (began.elapsed().as_secs_f64(), share)
    };
    let ((first, share), (again, same)) = (ask(), ask());
    if share != same {
        return Err(format!("the same draws gave {share} and {same}"));
    }
    let what = "off centre, 100 000 draws";
    Ok(vec![
        Row::new(format!("{what} made and looked at"), text(first), "aim 50 ms"),
        Row::new(format!("{what} looked at again"), text(again), "each further way"),
    ])
}
