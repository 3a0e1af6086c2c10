//! A punch on one line of the answer: the clearance left, and what it bears.

use package::{Punch, PunchStrength};

/// The line of a punch.
pub fn line(name: &str, punch: &Punch) -> String {
    let mark = if punch.holds { "" } else { "! " };
    let bears = punch.strength.as_ref().map_or(String::new(), strength);
    format!(
        "{mark}punch {name}: clearance {:.4} to {:.4}, {:.4} asked for{bears}\n",
        punch.clearance_least.value_mm, punch.clearance_most.value_mm, punch.clearance_mm
    )
}

fn strength(strength: &PunchStrength) -> String {
    format!(
        "; {:.0} of {:.0} N/mm2, buckles at {:.2} times its load{}",
        strength.stress_mpa,
        strength.stress_limit_mpa,
        strength.buckling.reserve,
        if strength.backing_needed { "; hardened backing" } else { "" }
    )
}
